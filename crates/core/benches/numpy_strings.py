"""The strings of a layout with NumPy, as the formulas stand, each over whole arrays.

Reads one JSON object from standard input: u (frets from the nut), crowns, nut_v, slope and
crest_u per string, tension, stretch (E A) and bending (E I) per string, place (of the pluck),
scale. Prints nanoseconds per run (median of many rounds) and the sum of all headrooms and of
all compensations, so that both sides are known to have done the same work.
"""

import json
import sys
import time

import numpy as np


def work(given):
    u = given["u"]
    crowns, nut_v = given["crowns"], given["nut_v"][:, None]
    slope, crest_u = given["slope"][:, None], given["crest_u"][:, None]
    tension, place = given["tension"][:, None], given["place"]
    strings, frets = crowns.shape
    crest_v = nut_v + slope * crest_u

    # headroom: stops 0..N-1 by frets 1..N
    stop_u = np.concatenate([[0.0], u[:-1]])
    stop_v = np.concatenate([nut_v, crowns[:, :-1]], axis=1)
    length = crest_u - stop_u
    rise = (crest_v - stop_v) / length
    x = u[None, :] - stop_u[:, None]
    clearance = stop_v[:, :, None] + rise[:, :, None] * x - crowns[:, None, :]
    later = np.triu(np.ones((frets, frets), dtype=bool))
    long = length[:, :, None]
    with np.errstate(divide="ignore", invalid="ignore"):
        away = np.minimum(x / place, (long - x) / (long - place))
        toward = np.minimum(x / (long - place), (long - x) / place)
        most = np.where(later, clearance / np.maximum(away, toward), np.inf)
    first = most.argmin(axis=2)
    headroom = np.maximum(most.min(axis=2), 0.0)
    force = headroom * tension * length / (place * (length - place))
    worst = headroom.min(axis=1), force.min(axis=1)

    # intonation: cents of each stopped note, and the crest for a true octave
    stretch, bending = given["stretch"][:, None], given["bending"][:, None]

    def cents(crest, n):
        at, crown = u[n][None, :], crowns[:, n]
        height = nut_v + slope * crest
        opened = np.hypot(crest, height - nut_v)
        behind = np.hypot(at, crown - nut_v)
        sounding = np.hypot(crest - at, height - crown)
        stopped = tension + stretch * (behind + sounding - opened) / opened
        def stiff(long, pull):
            e = np.sqrt(bending / pull) / long
            return 1.0 + e + (1.0 + np.pi**2 / 2.0) * e * e
        ratio = opened / sounding * np.sqrt(stopped / tension)
        ratio = ratio * stiff(sounding, stopped) / stiff(opened, tension)
        return 1200.0 * np.log2(ratio) - 100.0 * (n[None, :] + 1.0)

    octave = np.array([min(11, frets - 1)])
    crest = crest_u
    for _ in range(4):
        fall = 1200.0 / np.log(2.0) * (1.0 / (crest - u[octave]) - 1.0 / crest)
        crest = crest + cents(crest, octave) / fall
    every = np.arange(frets)
    errors = cents(crest_u, every), cents(crest, every)
    return headroom, first, worst, errors, crest - given["scale"]


def main():
    given = {
        key: np.array(value) if isinstance(value, list) else value
        for key, value in json.load(sys.stdin).items()
    }
    for _ in range(20):
        work(given)
    times = []
    for _ in range(60):
        start = time.perf_counter_ns()
        for _ in range(20):
            work(given)
        times.append((time.perf_counter_ns() - start) / 20)
    headroom, _, _, _, compensation = work(given)
    print(sorted(times)[len(times) // 2], headroom.sum(), compensation.sum())


main()
