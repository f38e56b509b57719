"""The desiccant wheel: this workspace against SciPy, same case, same accuracy, one run.

Run: cargo build --release --package bench-ours --bin wheel_speed
     python3 bench/peers/wheel.py [path of the binary]
Needs: numpy and SciPy from the Python package index.

The question: dew point of the process air of the repeating wheel (`bench/ours/src/wheel.rs`) within 0.1 K
of the converged limit. Each solver comes in the cheapest mesh and tolerance found by hand that
answers it, and its error is printed.

What is not the same:
- Peers turn until the outlet repeats to 1e-3; ours solves for the turn that repeats, to 1e-10.
- Peers are given a dry start, which suits this case: four turns are enough. Ours starts from the same.
- Peers are Python around NumPy; the solver's own work is compiled, the right-hand side is not. A tenth
  of their time would be a fair guess for the same in C.
- Ours carries heat as a function of state and closes water and heat to rounding; peers to tolerance.
- Both by processor time of one thread, the least of some.
"""

import os
import subprocess
import sys
import time

from wheel_scipy import base, frost_point, periodic

LIMIT = -57.373  # degC, 81 nodes at 1e-7: tests/src/peers/wheel.rs
HERE = os.path.dirname(os.path.abspath(__file__))
TARGET = os.environ.get("CARGO_TARGET_DIR", os.path.join(HERE, "..", "..", "target"))
PEERS = (("BDF", 15, 1e-3), ("LSODA", 15, 1e-3), ("Radau", 15, 1e-3), ("BDF", 41, 1e-5))

if __name__ == "__main__":
    binary = sys.argv[1] if len(sys.argv) > 1 else os.path.join(TARGET, "release", "wheel_speed")
    lines = subprocess.run([binary], check=True, capture_output=True, text=True).stdout.split("\n")
    ours = dict(line.split(" ") for line in lines if line)
    for name, value in ours.items():
        print(f"ours {name} {value}")
    cold = float(ours["fine_cold_ms"])
    for method, nodes, tolerance in PEERS:
        best = float("inf")
        for _ in range(3):
            began = time.process_time()
            _, found, turns = periodic(base(), nodes, method, tolerance, tolerance * 1e-3, settled=1e-3)
            best = min(best, 1e3 * (time.process_time() - began))
        off = frost_point(found[0][0]) - LIMIT
        print(f"SciPy {method} {nodes} nodes {tolerance:g}: {best:.0f} ms, {turns} turns, "
              f"off {off:+.3f} K, {best / cold:.0f} times ours")
