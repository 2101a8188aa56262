"""Trials of the worked example with NumPy, every check's number and state, over whole arrays.

Six strings and 24 frets on a flat board, without notes. Reads one JSON object from standard
input: the ± of the errors by key with their spread, trials in a batch, and rounds. Prints seconds of processor
time for a million trials (median of some rounds, counted up from fewer), the mean and standard
deviation of the crest height, and the part of the trials in which no check failed, so that
both sides are known to have done the same sum.
"""

import json
import sys
import time

import numpy as np

FRETS, SCALE, JOINT, P = 24, 628.0, 16, 110.0
RATIO = 1.0 - 2.0 ** (-np.arange(FRETS + 1) / 12.0)
STRINGS = 6
PLACE = np.array([1.0, 0.6, 0.2, -0.2, -0.6, -1.0])
POSTS = np.array([60.0, 90.0, 120.0, 120.0, 90.0, 60.0])


def sagged(first):
    """Slot's height over the board for the wanted clearance of 0.4 when nothing misses."""
    u = SCALE * RATIO
    kappa = 8 * 0.2 / (u[JOINT] - u[1]) ** 2
    lift = lambda x: kappa * np.maximum(u[JOINT] - x, 0) ** 2 / 2
    v1, v12 = 1.1 + lift(u[1]) + first, 1.1 + lift(u[12]) + 1.8
    return v1 - (v12 - v1) / (u[12] - u[1]) * u[1] - lift(0.0)


SLOT = sagged(0.4)


def state(value, low_fails, low_thin, high_thin=None, high_fails=None):
    """0 fails, 1 thin, 2 good."""
    margin = (value - low_fails) / (low_thin - low_fails)
    if high_thin is not None:
        margin = np.minimum(margin, (high_fails - value) / (high_fails - high_thin))
    return np.where(margin >= 1 - 1e-9, 2, np.where(margin > 1e-9, 1, 0))


def worst(values, *limits):
    return state(values, *limits).min(axis=1)


def draw(rng, errors, n):
    drawn = {}
    for key, (half, spread) in errors.items():
        if spread == "rectangular":
            drawn[key] = rng.uniform(-half, half, n)
        elif spread == "triangular":
            drawn[key] = half * (rng.random(n) + rng.random(n) - 1.0)
        else:
            drawn[key] = rng.normal(0.0, half / 2.0, n)
    return drawn


def trial(e, n):
    zero = np.zeros(n)
    get = lambda key: e.get(key, zero)
    each = lambda field: np.stack([get(f"strings[{i + 1}].{field}") for i in range(STRINGS)], axis=1)
    scale = SCALE + get("scale.length")
    u = scale[:, None] * RATIO[None, :]
    u_j = u[:, JOINT] + get("joint.offset")
    thick, crown = 6.0 + get("board.thickness"), 1.1 + get("board.crown")
    relief = 0.2 + get("wanted.relief")
    s, span, held = u_j - u[:, 1], u[:, JOINT] - u[:, 1], u[:, JOINT] - u_j
    half = s * s / (2 * span)
    kappa = np.where(held <= 0, 8 * relief / span**2, relief / (half * (held + half / 2)))
    crowns = crown[:, None] + kappa[:, None] * np.maximum(u_j[:, None] - u, 0) ** 2 / 2
    lift0 = kappa * u_j**2 / 2
    # seat
    tenon = 70.0 + get("joint.tenon_length")
    floor = np.radians(3.0)
    y_mouth = -20.0 + get("joint.seat_mouth")
    slope = np.tan(floor) + (get("joint.seat_inner") - get("joint.seat_mouth")) / tenon
    turned = np.arctan(slope)
    theta = np.radians(3.0) + turned - floor
    over = y_mouth + 20.0 * np.cos(floor) * np.sqrt(1 + slope**2)
    strung = theta - np.radians(get("body.pitch_lost"))
    sin, cos = np.sin(strung)[:, None], np.cos(strung)[:, None]
    # strings
    nut_place, crest_place = 17.5 * PLACE + each("nut_place"), 26.0 * PLACE + each("crest_place")
    part = (nut_place[:, :1] - nut_place) / (nut_place[:, :1] - nut_place[:, -1:])
    treble, bass = get("wanted.first_fret_treble")[:, None], get("wanted.first_fret_bass")[:, None]
    offset = each("crest_offset")
    u_s = (scale + 2.0 + get("bridge.compensation"))[:, None] + offset
    nut = SLOT + lift0[:, None] + treble + (bass - treble) * part
    action = np.full((n, STRINGS), 1.8)
    rise = (crowns[:, 12, None] + action - nut) / u[:, 12, None]
    v_s = nut + rise * u_s
    x = (u_s - u_j[:, None]) * cos - (v_s + thick[:, None]) * sin
    y = over[:, None] + (u_s - u_j[:, None]) * sin + (v_s + thick[:, None]) * cos
    crest = y - get("body.top_rise")[:, None]
    opened = nut[:, :, None] + rise[:, :, None] * u[:, None, 1:] - crowns[:, None, 1:]
    # fretted notes: the steepest line before each fret
    to_crest = (v_s[:, :, None] - crowns[:, None, 1:]) / (u_s[:, :, None] - u[:, None, 1:])
    steepest = np.maximum.accumulate(to_crest, axis=2)
    stopped = ((u_s[:, :, None] - u[:, None, 2:]) * (to_crest[:, :, 1:] - steepest[:, :, :-1])).min(axis=2)
    # headroom
    headroom = np.full((n, STRINGS), np.inf)
    for stop in range(FRETS):
        from_v = nut if stop == 0 else np.broadcast_to(crowns[:, stop, None], nut.shape)
        from_s = rise if stop == 0 else to_crest[:, :, stop - 1]
        long = (u_s - u[:, stop, None])[:, :, None]
        along = (u[:, stop + 1:] - u[:, stop, None])[:, None, :]
        clearance = from_v[:, :, None] + from_s[:, :, None] * along - crowns[:, None, stop + 1:]
        away = np.minimum(along / P, (long - along) / (long - P))
        toward = np.minimum(along / (long - P), (long - along) / P)
        most = (clearance / np.maximum(away, toward)).min(axis=2)
        np.minimum(headroom, np.where(long[:, :, 0] > P, most, np.inf), out=headroom)
    # breaks
    tail_x, tail_y = 300.0 + get("tail.station"), 16.0 + get("tail.height")
    bend = np.degrees(strung[:, None] + np.arctan(rise) + np.arctan2(y - tail_y[:, None], tail_x[:, None] - x))
    tilt = np.radians(13.0 + get("head.angle"))
    start, drop = 5.0 + get("head.start"), 1.5 + get("head.drop")
    post, height = POSTS + each("post"), 9.0 + each("post_height")
    hu = -start[:, None] - post * np.cos(tilt)[:, None] - height * np.sin(tilt)[:, None]
    hv = -drop[:, None] - post * np.sin(tilt)[:, None] + height * np.cos(tilt)[:, None]
    turn = np.arctan(-kappa * u_j)
    pu = hu * np.cos(turn)[:, None] - hv * np.sin(turn)[:, None]
    pv = hu * np.sin(turn)[:, None] + hv * np.cos(turn)[:, None] + lift0[:, None]
    nut_break = np.degrees(np.arctan2(nut - pv, -pu) - np.arctan(rise))
    # the rest of the body
    end = 480.0 + get("board.end")
    x_end = (end - u_j) * np.cos(theta)
    gap = np.minimum(over, over + x_end * np.tan(theta))
    length, head_thick = 170.0 + get("head.length"), 14.0 + get("head.thickness")
    tu = -start - length * np.cos(tilt) + head_thick * np.sin(tilt)
    tv = -drop - length * np.sin(tilt) - head_thick * np.cos(tilt)
    tx = (tu - u_j) * np.cos(theta) - (tv + thick) * np.sin(theta)
    ty = over + (tu - u_j) * np.sin(theta) + (tv + thick) * np.cos(theta)
    taper = np.radians(get("body.taper"))
    body = 44.0 + get("body.thickness")
    bench = (ty + body + tx * np.tan(taper)) * np.cos(taper)
    rake = np.radians(get("joint.wall_rake"))
    depth = -y_mouth
    mouth_x = -depth / (1 - np.tan(rake) * slope) * np.tan(rake)
    wood = lambda at: body + at * np.tan(taper) - (depth - at * slope)
    under = np.minimum(wood(mouth_x), wood(tenon + 10.0 + get("joint.spare_length")))
    edge_x = x.mean(axis=1) + (16.0 + get("bridge.base")) / 2
    edge = y + (tail_y[:, None] - y) * (edge_x[:, None] - x) / (tail_x[:, None] - x)
    edge = edge - (8.0 + get("bridge.edge_height"))[:, None]
    low, high = 19.0 + get("bridge.crest_low"), 27.0 + get("bridge.crest_high")
    travel = 10.0 + get("bridge.travel")
    mid_depth = over + depth
    along = tenon / np.cos(theta)
    rod = 9.0 + get("neck.rod_depth")
    heel = u_j - (40.0 + get("neck.heel_length"))
    back = lambda at: (20.0 + get("neck.depth_first")) + (2.0 + get("neck.depth_heel") - get("neck.depth_first")) * (at - u[:, 1]) / (heel - u[:, 1]) - thick
    in_neck = np.minimum(back(np.maximum(get("neck.rod_start"), 0)), back(np.minimum(400.0 + get("neck.rod_end"), heel))) - rod
    turn_k = theta - turned
    k = lambda at: mid_depth * np.cos(turned) / np.cos(turn_k) + at * np.tan(turn_k)
    rod_end = np.minimum(400.0 + get("neck.rod_end"), u_j + along)
    in_tenon = np.minimum(k(0.0), k(np.maximum(rod_end - u_j, 0))) - rod
    tail_low, tail_high = 14.0 + get("tail.low"), 24.0 + get("tail.high")
    needed = np.minimum(crest - low[:, None], high[:, None] - crest)
    states = [
        worst(needed, 0.0, 1.0),
        worst(opened.min(axis=2), 0.0, 0.15),
        worst(stopped, 0.0, 0.05),
        worst(opened[:, :, 0], 0.1, 0.25, 0.8, 1.1),
        worst(nut - lift0[:, None] - crown[:, None], 0.0, 0.03),
        worst(opened[:, :, -1], 0.5, 0.9, 6.0, 8.0),
        state(opened[:, 0, 11], 0.6, 0.9, 3.8, 4.5),
        state(opened[:, -1, 11], 0.8, 1.1, 4.8, 5.5),
        state(relief, -0.05, 0.0, 0.5, 0.8),
        state(gap, -0.15, -0.05),
        worst(bend, 5.0, 7.0, 25.0, 30.0),
        worst(nut_break, 2.5, 4.0, 20.0, 26.0),
        worst(edge, 0.0, 0.5),
        state(np.minimum(tail_y - tail_low, tail_high - tail_y), -0.05, 0.0),
        worst(travel[:, None] / 2 - np.abs(offset), 0.0, 0.5),
        state(bench, -80.0, -70.0),
        state(under, 4.0, 8.0),
        state(tenon - 700.0 / np.maximum(mid_depth, 1.0), -8.0, 0.0),
        state(np.minimum(in_neck, in_tenon), 2.0, 3.5),
        worst(np.maximum(headroom, 0) - 0.4, 0.0, 0.05),
    ]
    states = np.stack(states)
    counts = np.stack([(states == which).sum(axis=1) for which in range(3)])
    return crest.mean(axis=1), states.min(axis=0), counts


def main():
    given = json.load(sys.stdin)
    errors, batch = given["errors"], given["batch"]
    rng = np.random.default_rng(1)
    trial(draw(rng, errors, batch), batch)
    times, crests, plays = [], [], []
    for _ in range(given["rounds"]):
        start = time.process_time()
        crest, lowest, _ = trial(draw(rng, errors, batch), batch)
        times.append((time.process_time() - start) / batch * 1e6)
        crests.append(crest)
        plays.append(lowest > 0)
    crests = np.concatenate(crests)
    print(sorted(times)[len(times) // 2], crests.mean(), crests.std(), np.mean(np.concatenate(plays)))


main()
