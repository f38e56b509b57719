"""Humidity ratio from a dew or frost point, and the way back: CoolProp against this workspace.

Run: cargo build --release --package bench-ours --bin air_speed
     python3 bench/peers/humid_air.py [path of the binary]
Needs: CoolProp from the Python package index.

Both get the same states, drawn by the same generator, one after the other in one run on one core.

What is not the same:
- CoolProp is called through its Python binding, a call at a time, which is part of its time.
- CoolProp parses the names of its inputs on each call and solves the enhancement factor anew; here the
  types say what is what and the enhancement factor is read from a table. Filling it once takes the
  first call some milliseconds (printed), which are not in the nanoseconds.
- CoolProp remembers the virial coefficients of the last temperature, which helps only when the same
  state comes again: the second pair of rows shows that case, the first of the 2000.
- CoolProp knows more: humid air from -143 to 350 degC and 10 Pa to 10 MPa. Here: -40 to 250 degC, points
  -80 to 100 degC, 50 kPa to 1.2 MPa, and anything outside is refused.
- The molar mass of dry air (28.966 against 28.9586 g/mol) puts 2.6e-4 between the humidity ratios.
- CoolProp's way back stops when the vapour pressure is within 1e-5 Pa; here at 1e-8 K.
- Fewer states go through CoolProp (2000 against 1000000), for time; a mean is a mean.
"""

import os
import statistics
import subprocess
import sys
import time

import CoolProp
from CoolProp.CoolProp import HAPropsSI

STATES = 2000
BATCHES = 3
ZERO = 273.15


def states(count):
    """The generator of bench/ours/src/bin/air_speed.rs: dew or frost point, temperature, pressure."""
    seed = 1

    def draw(low, high):
        nonlocal seed
        seed = (seed * 6364136223846793005 + 1442695040888963407) % 2**64
        return low + (high - low) * ((seed >> 11) / 2**53)

    for _ in range(count):
        at = draw(-60.0, 90.0)
        t = draw(max(at, 0.0) + 1.0, 180.0)
        yield at + ZERO, t + ZERO, draw(101_325.0, 800_000.0)


def best(call, inputs):
    """Nanoseconds a call takes, and the answers."""
    times = []
    for _ in range(BATCHES):
        start = time.perf_counter()
        answers = [call(*one) for one in inputs]
        times.append((time.perf_counter() - start) / len(inputs) * 1e9)
    return min(times), answers


def main():
    target = os.environ.get("CARGO_TARGET_DIR", "target")
    binary = sys.argv[1] if len(sys.argv) > 1 else os.path.join(target, "release", "air_speed")
    inputs = list(states(STATES))
    ratio_ns, ratios = best(lambda d, t, p: HAPropsSI("W", "T", t, "D", d, "P", p), inputs)
    pairs = [(w, t, p) for w, (_, t, p) in zip(ratios, inputs)]
    back_ns, _ = best(lambda w, t, p: HAPropsSI("D", "T", t, "W", w, "P", p), pairs)
    same_ns, _ = best(lambda d, t, p: HAPropsSI("W", "T", t, "D", d, "P", p), inputs[:1] * STATES)
    same_back_ns, _ = best(lambda w, t, p: HAPropsSI("D", "T", t, "W", w, "P", p),
                           pairs[:1] * STATES)

    run = lambda *arguments: subprocess.run([binary, *arguments], check=True, text=True,
                                            capture_output=True).stdout.split()
    ours = run()
    ours = dict(zip(ours[0::2], map(float, ours[1::2])))
    values = [float(word) for word in run(str(STATES))]
    apart = [abs(here / there - 1.0) for here, there in zip(values, ratios)]

    print(f"CoolProp {CoolProp.__version__}, {STATES} states; this workspace, 1000000 states")
    print(f"{'':34}{'CoolProp':>12}{'here':>12}{'ratio':>9}")
    for name, theirs, key in (
        ("humidity ratio from dew point, ns", ratio_ns, "humidity_ratio_from_point_ns"),
        ("dew point from humidity ratio, ns", back_ns, "point_from_humidity_ratio_ns"),
        ("same state, humidity ratio, ns", same_ns, "humidity_ratio_same_state_ns"),
        ("same state, dew point, ns", same_back_ns, "point_same_state_ns"),
    ):
        print(f"{name:34}{theirs:12.0f}{ours[key]:12.1f}{theirs / ours[key]:9.0f}")
    print(f"humidity ratios apart by: mean {statistics.mean(apart):.1e}, most {max(apart):.1e}")
    print(f"first call here: {ours['first_call_ms']:.1f} ms")
    print(__doc__[__doc__.index("What is not the same"):].rstrip())


if __name__ == "__main__":
    main()
