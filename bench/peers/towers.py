"""One desiccant bed drying, for SciPy's solve_ivp: the numbers frozen in tests/src/peers/towers.rs.

Run: python3 bench/peers/towers.py [speed]        (minutes; NumPy and SciPy)

The equations are those of `crates/dryer/src/sorption/cell.rs` in the limit of fine slices, written down
independently in `wheel_scipy.py` and used here for a bed of beads: method of lines at nodes, gas
quasi-steady, integrated along the depth by the trapezoidal rule, BDF. Two starts: cold and dry (45 degC, at
rest with 6e-6 kg/kg), and hot as it comes from regeneration (230 degC, at rest with 10 g/kg). Printed are
humidity and temperature of the air leaving at stated hours, and the hour at which half of the humidity
comes through. Transfer coefficients are those `tower_speed --transfer` prints, checked here against
Wakao and Kaguei with pores in series.

`speed` compares processor times at equal error of the hour of half breakthrough, cold start. Not the same:
SciPy is Python over compiled linear algebra; its Jacobian is by differences; both are single runs in one
thread, ours the least of five times twenty.
"""

import os
import subprocess
import sys
import time

import numpy as np
from scipy.integrate import solve_ivp

from wheel_scipy import PRESSURE, RATIO, X13, ZERO, Case, rates, toth

HERE = os.path.dirname(os.path.abspath(__file__))
TARGET = os.environ.get("CARGO_TARGET_DIR", os.path.join(HERE, "..", "..", "target"))
FLOW, CELSIUS, HUMIDITY, DEPTH, BULK, HEAT = 0.42, 45.0, 0.004, 0.5, 680.0, 950.0
TRANSFER = (float("nan"), float("nan"))
STARTS = {"cold": (45.0, 6e-6), "hot": (230.0, 0.010)}
HOURS = {
    "cold": (2.0, 5.0, 6.0, 7.0, 8.0, 8.5, 9.0, 9.5, 10.0),
    "hot": (0.1, 0.2, 0.3, 0.5, 2.0, 6.0, 7.0, 8.0, 9.0),
}


def wakao():
    """Transfer by the correlations with properties of dry air at 45 degC, to check those frozen."""
    d, voidage, pore = 2.5e-3, 0.37, 3e-6
    t = CELSIUS + ZERO
    rho = PRESSURE / (287.05 * t) / (1.0 + HUMIDITY / RATIO)
    mu, k, diffusivity = 1.94e-5, 0.0276, 1.87e-10 * t**2.072
    area = 6.0 * (1.0 - voidage) / d
    re = FLOW * (1.0 + HUMIDITY) * d / mu
    nu = 2.0 + 1.1 * (1013.0 * mu / k) ** (1 / 3) * re**0.6
    sh = 2.0 + 1.1 * (mu / rho / diffusivity) ** (1 / 3) * re**0.6
    film, inside = sh * diffusivity / d, 10.0 * pore / d
    return area * rho / (1.0 / film + 1.0 / inside), area * nu * k / d


def at_rest(celsius, humidity):
    """Loading at rest with air, by bisection on the law."""
    goal = PRESSURE * humidity / (RATIO + humidity)
    low, high = 1e-9, X13[0] * (1.0 - 1e-9)
    t = np.array([celsius + ZERO])
    for _ in range(90):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if toth(np.array([middle]), t, X13)[0][0] < goal else (low, middle)
    return low


def breakthrough(start, nodes, rtol, hours=12.0):
    """Times (h), outlet temperatures (degC) and humidities, dense."""
    case = Case([], depth=DEPTH, dry=BULK * HEAT, active=BULK)
    f, outlet = rates(case, (1.0, FLOW, CELSIUS, HUMIDITY, True, *TRANSFER))
    celsius, humidity = STARTS[start]
    x = np.concatenate([np.full(nodes, at_rest(celsius, humidity)), np.full(nodes, celsius + ZERO)])
    atol = np.concatenate([np.full(nodes, 1e-3 * rtol), np.full(nodes, rtol)])
    found = solve_ivp(f, (0.0, hours * 3600.0), x, method="BDF", rtol=rtol, atol=atol, dense_output=True, first_step=0.1)
    return lambda hour: (lambda t, y: (t - ZERO, y))(*outlet(found.sol(hour * 3600.0)))


def half(out, level=0.5 * HUMIDITY):
    """Hour at which a level comes through."""
    low, high = 4.0, 12.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if out(middle)[1] < level else (low, middle)
    return low


def table():
    for start, hours in HOURS.items():
        for nodes, rtol in ((401, 1e-6), (801, 1e-7)):
            out = breakthrough(start, nodes, rtol)
            rows = ", ".join("({}, {:.5e}, {:.3f})".format(h, out(h)[1], out(h)[0]) for h in hours)
            print(f"{start} {nodes} nodes, half through at {half(out):.5f} h: {rows}", flush=True)


def speed():
    best = half(breakthrough("cold", 801, 1e-7))
    print(f"converged {best:.5f} h")
    ours, theirs = [], []
    for slices in (24, 48, 96):
        call = [os.path.join(TARGET, "release", "tower_speed"), "--breakthrough", str(slices)]
        lines = dict(line.split() for line in subprocess.run(call, check=True, capture_output=True, text=True).stdout.splitlines())
        ours.append((abs(float(lines["half_h"]) - best), float(lines["time_ms"])))
        print(f"drybed {slices} slices: off {ours[-1][0]:.5f} h, {ours[-1][1]:.2f} ms", flush=True)
    for nodes, rtol in ((101, 1e-3), (201, 1e-4), (201, 1e-5), (401, 1e-5)):
        start = time.process_time()
        out = breakthrough("cold", nodes, rtol)
        took = 1e3 * (time.process_time() - start)
        theirs.append((abs(half(out) - best), took))
        print(f"SciPy {nodes} nodes, {rtol:g}: off {theirs[-1][0]:.5f} h, {took:.0f} ms", flush=True)
    for error, ms in ours:
        equal = [took for off, took in theirs if off <= error] or [theirs[-1][1]]
        print(f"at {error:.5f} h: SciPy takes {min(equal) / ms:.0f} times as long")


if __name__ == "__main__":
    call = [os.path.join(TARGET, "release", "tower_speed"), "--transfer"]
    text = subprocess.run(call, check=True, capture_output=True, text=True).stdout
    numbers = [word for word in text.replace(":", " ").split() if "e" in word]
    TRANSFER = (float(numbers[0]), float(numbers[1]))
    for given, checked in zip(TRANSFER, wakao()):
        assert abs(given / checked - 1.0) < 0.02, (given, checked)
    speed() if sys.argv[1:] == ["speed"] else table()
