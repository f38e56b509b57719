"""Prints the drying of bodies with D = D0 exp(g X) that tests/src/peers/nonlinear_pellet.rs freezes.

Run: python3 bench/peers/nonlinear_pellet_table.py      (a minute on one core)
Needs: numpy and scipy from the Python package index.
Paste the blocks into tests/src/peers/nonlinear_pellet.rs.

Finite volumes of equal width, fluxes from the Kirchhoff transform of D (exact for D of the cell
values), half a cell to the surface, integrated in time by BDF of variable order with a relative
tolerance of 1e-8. The error of the cells is of second order and is taken out by Richardson
extrapolation from two grids; what is left is below 2e-5 in a plate and 1e-4 in a cylinder.
"""

from importlib.metadata import version

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import diags, kron, identity

PLATE_FO = (0.01, 0.05, 0.1, 0.2, 0.5, 1.0)
CYLINDER_FO = (0.02, 0.05, 0.1, 0.2, 0.4)
# half length over radius, exponent times the moisture at the start
CYLINDERS = ((1.2, -1.0), (1.2, 2.0), (1.2, 4.0), (0.4, 2.0), (2.5, 4.0))


def coupling(cells, dimension):
    """Rates of the cells from their Kirchhoff values, the last column that of the surface."""
    edges = np.linspace(0.0, 1.0, cells + 1)
    volumes = (edges[1:] ** dimension - edges[:-1] ** dimension) / dimension
    width = 1.0 / cells
    inner = edges[1:-1] ** (dimension - 1) / width
    outer = 1.0 / (0.5 * width)
    main = np.zeros(cells)
    main[:-1] -= inner
    main[1:] -= inner
    main[-1] -= outer
    matrix = diags([inner, main, inner], [-1, 0, 1], format="csr")
    surface = np.zeros(cells)
    surface[-1] = outer
    scale = diags(1.0 / volumes)
    return scale @ matrix, surface / volumes, volumes * dimension


def means(matrix, surface, weights, exponent, start, held, times):
    """Mean at each time of a body that starts at `start` with its surface held at `held`."""
    transform = (lambda x: np.exp(exponent * x) / exponent) if exponent else (lambda x: x)
    slope = lambda x: np.exp(exponent * x)
    edge = transform(held)
    answer = solve_ivp(
        lambda _, x: matrix @ transform(x) + surface * edge,
        (0.0, times[-1]),
        np.full(matrix.shape[0], start),
        method="BDF",
        t_eval=times,
        jac=lambda _, x: matrix @ diags(slope(x)),
        rtol=1e-8,
        atol=1e-11,
    )
    return weights @ answer.y


def extrapolated(solve, cells):
    coarse, fine = solve(cells), solve(2 * cells)
    return fine + (fine - coarse) / 3.0


def plate(start, held):
    def solve(cells):
        matrix, surface, weights = coupling(cells, 1)
        return means(matrix, surface, weights, 3.0, start, held, PLATE_FO)

    return extrapolated(solve, 400)


def cylinder(aspect, exponent):
    def solve(cells):
        across, across_surface, across_weights = coupling(cells, 2)
        along, along_surface, along_weights = coupling(cells, 1)
        along, along_surface = along / aspect**2, along_surface / aspect**2
        eye = identity(cells)
        matrix = (kron(across, eye) + kron(eye, along)).tocsc()
        surface = np.kron(across_surface, np.ones(cells)) + np.kron(np.ones(cells), along_surface)
        weights = np.kron(across_weights, along_weights)
        return means(matrix, surface, weights, exponent, 1.0, 0.0, CYLINDER_FO)

    return extrapolated(solve, 40)


def main():
    print(f"// scipy {version('scipy')}, numpy {version('numpy')}")
    print("// plate, D = D0 exp(3 X): D0 t/L2, what is left of 1 with a dry surface, what a dry plate has")
    print("// taken up with its surface at 1")
    for fo, left, taken in zip(PLATE_FO, plate(1.0, 0.0), plate(0.0, 1.0)):
        print(f"    ({fo}, {left:.6f}, {taken:.6f}),")
    print("// cylinder, D = D0 exp(g X) from 1 with a dry surface: H/R, g, then what is left at D0 t/R2 of")
    print(f"// {', '.join(str(fo) for fo in CYLINDER_FO)}")
    for aspect, exponent in CYLINDERS:
        left = ", ".join(f"{x:.6f}" for x in cylinder(aspect, exponent))
        print(f"    ({aspect}, {exponent}, [{left}]),")


if __name__ == "__main__":
    main()
