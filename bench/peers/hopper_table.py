"""Converged outlet moisture of the benchmark hopper, for tests/src/peers/hopper.rs.

Run: python3 bench/peers/hopper_table.py        (minutes; not part of the comparison of speeds)
Needs: numpy and SciPy, a C compiler and SUNDIALS (Debian: libsundials-dev).

Each number comes from three runs: CVODE twice, on different meshes and tolerances, and SciPy. The
first is printed, with the largest relative distance of the two others as its uncertainty.
"""

import hopper
import hopper_scipy

HOURS = (4, 8, 12, 16, 80)


def main():
    binary = hopper.build()
    for energy in (0.0, 33100.0):
        runs = [hopper.cvode(binary, energy, *mesh, hours=HOURS)[0]
                for mesh in (("dg3", 80, "c8", 3e-8, 0.5), ("dg4", 40, "c10", 1e-7, 0.6))]
        runs.append(hopper_scipy.solve(energy, 3, 60, 7, 1e-7, 0.6, "LSODA", HOURS)[0])
        for k, hour in enumerate(HOURS):
            apart = max(abs(run[k] / runs[0][k] - 1.0) for run in runs[1:])
            print(f"    ({energy:.1f}, {hour}.0, {runs[0][k]:.7e}), // within {apart:.0e}")


if __name__ == "__main__":
    main()
