"""Reference values of the worked example's crest height when what is made misses.

Written apart from the program, from the formulas of docs/relations.md: slopes by the complex
step, distributions by numerical integration (scipy) where the result is all but a straight
line of the errors, and by two million NumPy trials. `python3 risk_reference.py > ../data/risk.json`
"""

import json

import numpy as np
from scipy import signal, stats

L, FRET = 628.0, 16
RATIO = lambda n: 1.0 - 2.0 ** (-n / 12.0)

# source: (plus or minus, shape), mm; all else is taken as exact
ERRORS = {
    "joint.seat_mouth": (0.15, "triangular"),
    "joint.seat_inner": (0.15, "triangular"),
    "board.thickness": (0.1, "rectangular"),
    "board.crown": (0.04, "rectangular"),
    "wanted.relief": (0.05, "triangular"),
    "scale.length": (0.1, "rectangular"),
    "wanted.first_fret_bass": (0.05, "triangular"),
}
LOW, HIGH = 22.2, 23.4


def arctan(x):
    """Of a number all but on the real line, too."""
    return np.arctan(x.real) + 1j * x.imag / (1 + x.real**2) if np.iscomplexobj(x) else np.arctan(x)


def crest(e, slot=None):
    """Crest height on a flat board and top; e: errors. The slot's height over the board stays."""
    get = lambda key: e.get(key, 0.0)
    length = L + get("scale.length")
    thick, crown = 6.0 + get("board.thickness"), 1.1 + get("board.crown")
    relief = 0.2 + get("wanted.relief")
    u_j = length * RATIO(FRET)
    span = u_j - length * RATIO(1)
    kappa = 8 * relief / span**2
    lift = lambda u: kappa * (u_j - u) ** 2 / 2
    u_12 = length * RATIO(12)
    v_12 = crown + lift(u_12) + 1.8
    if slot is None:
        u_1 = length * RATIO(1)
        v_1 = crown + lift(u_1) + 0.4
        slope = (v_12 - v_1) / (u_12 - u_1)
        return v_1 - slope * u_1 - lift(0.0)
    # mean of bass and treble: half of the bass slot's error
    nut = slot + 0.5 * get("wanted.first_fret_bass") + lift(0.0)
    u_s = length + 2.0
    v_s = nut + (v_12 - nut) / u_12 * u_s
    # the seat: floor at 3 degrees, depth 20, tenon 70, overstand 0
    floor, depth, tenon = np.radians(3.0), 20.0, 70.0
    y_mouth = -depth + get("joint.seat_mouth")
    y_inner = -depth + tenon * np.tan(floor) + get("joint.seat_inner")
    turned = arctan((y_inner - y_mouth) / tenon)
    pitch = np.radians(3.0) + turned - floor
    over = y_mouth + depth * np.cos(floor) / np.cos(turned)
    return over + (u_s - u_j) * np.sin(pitch) + (v_s + thick) * np.cos(pitch)


SLOT = crest({})


def slope(key):
    return crest({key: 1e-30j}, SLOT).imag / 1e-30


def standard(plus_minus, shape):
    return plus_minus / np.sqrt(3.0 if shape == "rectangular" else 6.0)


def density(half, shape, x):
    dist = stats.uniform(-half, 2 * half) if shape == "rectangular" else stats.triang(0.5, -half, 2 * half)
    # mean density over each cell, so that the sums keep their mass
    step = x[1] - x[0]
    return (dist.cdf(x + step / 2) - dist.cdf(x - step / 2)) / step


def main():
    slopes = {key: slope(key) for key in ERRORS}
    nominal = crest({}, SLOT)
    parts = {key: abs(slopes[key]) * standard(*ERRORS[key]) for key in ERRORS}
    # the linear result by convolution
    step = 2e-4
    x = np.arange(-2**14, 2**14 + 1) * step
    total = None
    for key, (half, shape) in ERRORS.items():
        one = density(abs(slopes[key]) * half, shape, x)
        total = one if total is None else signal.fftconvolve(total, one, mode="same") * step
    cumulative = np.cumsum(total) * step
    quantile = lambda p: float(np.interp(p, cumulative, x + step / 2))
    within = float(np.interp(HIGH - nominal, x + step / 2, cumulative) - np.interp(LOW - nominal, x + step / 2, cumulative))
    rng = np.random.default_rng(7)
    n = 2_000_000
    draw = {
        key: rng.uniform(-half, half, n) if shape == "rectangular" else rng.triangular(-half, 0.0, half, n)
        for key, (half, shape) in ERRORS.items()
    }
    trials = crest(draw, SLOT)
    print(json.dumps({
        "errors": {key: {"plus_minus": half, "spread": shape} for key, (half, shape) in ERRORS.items()},
        "nominal": float(nominal),
        "slopes": {key: float(value) for key, value in slopes.items()},
        "standard": float(np.sqrt(sum(part**2 for part in parts.values()))),
        "worst_case": float(sum(abs(slopes[key]) * ERRORS[key][0] for key in ERRORS)),
        "low": LOW,
        "high": HIGH,
        "linear": {"low95": nominal + quantile(0.025), "high95": nominal + quantile(0.975), "within": within},
        "trials": {
            "count": n,
            "mean": float(trials.mean()),
            "standard": float(trials.std()),
            "low95": float(np.quantile(trials, 0.025)),
            "high95": float(np.quantile(trials, 0.975)),
            "within": float(np.mean((trials > LOW) & (trials < HIGH))),
        },
    }, indent=1))


main()
