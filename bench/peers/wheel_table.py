"""The desiccant wheel of `bench/ours/src/wheel.rs` in SciPy: the numbers frozen in tests/src/peers.

Run: python3 bench/peers/wheel_table.py [explicit]        (some minutes; NumPy and SciPy)

Without a word, the converged periodic state by the method of lines (`wheel_scipy.py`, 81 nodes, BDF at
1e-7) for `tests/src/peers/wheel.rs`. With `explicit`, the plainest scheme, with the water on the solid
counted as liquid, for `tests/src/peers/explicit_wheel.rs`.
"""

import sys

from wheel_scipy import A5, base, explicit, periodic

CASES = [("base", {})]
CASES += [(f"t_reg {t}", {"t_reg": float(t)}) for t in (120, 140, 160, 200, 230)]
CASES += [(f"y_reg {y}", {"y_reg": 1e-3 * y}) for y in (2, 5, 15, 20)]
CASES += [(f"t_in {t}", {"t_in": float(t)}) for t in (20, 45, 55, 65)]
CASES += [(f"y_in {y}", {"y_in": 1e-3 * y}) for y in (0.5, 1, 3, 4, 6)]
CASES += [(f"rph {n}", {"rph": float(n)}) for n in (3, 8, 12, 16, 24)]
CASES += [
    (f"cooling {c}", {"shares": (0.8 - 0.01 * c, 0.2, 0.01 * c)}) for c in (0, 2, 5, 15)
]
CASES += [
    (f"capacity {c}", {"y_in": 0.003, "active": 213.0 * 0.7 * 0.01 * c}) for c in (100, 80, 60, 50, 40)
]

if __name__ == "__main__":
    if sys.argv[1:] == ["explicit"]:
        for name, change in CASES + [("5A t_reg 180", {"law": A5})]:
            found, turns = explicit(base(**change))
            print(f'    ("{name}", {found[0][0]:.6e}, {found[0][1]:.3f}), // {turns} turns', flush=True)
    else:
        for name, change in CASES:
            _, found, turns = periodic(base(**change), 81, "BDF", 1e-7, 1e-10)
            numbers = ", ".join(f"({y:.6e}, {t:.3f})" for y, t in found)
            print(f'    ("{name}", &[{numbers}]), // {turns} turns', flush=True)
