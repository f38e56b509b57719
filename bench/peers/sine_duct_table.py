"""Prints the laminar flow in sine ducts that tests/src/peers/sine_duct.rs freezes as data.

Run: python3 bench/peers/sine_duct_table.py
Needs: NumPy and SciPy from the Python package index.
Paste the block into tests/src/peers/sine_duct.rs.

The duct lies between y = 0 and y = b (1 + cos(pi x / a)), |x| <= a, so that its height over its pitch is
2b/2a. Half of it is cut into linear triangles on a grid that follows the curve; each number is
extrapolated from two grids (second order). f Re is that of Fanning; Nu H1 is for equal heat flow along
and equal temperature around the duct, Nu T for one wall temperature; K is the excess pressure drop of
the developing flow over rho u^2/2, by the energy and momentum factors of the developed profile (Lundgren,
Sparrow and Starr 1964).
"""

from importlib.metadata import version

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import eigsh, splu

ASPECTS = (0.25, 0.3, 0.35, 0.5, 0.6, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0)


def mesh(aspect, n):
    """Half a duct of pitch 1, n columns and n rows; the last column shrinks to the corner."""
    x = 0.5 * (1.0 - (1.0 - np.linspace(0.0, 1.0, n + 1)) ** 1.5)
    top = 0.5 * aspect * (1.0 + np.cos(2.0 * np.pi * x))
    s = np.linspace(0.0, 1.0, n + 1)
    nodes, index = [], np.zeros((n + 1, n + 1), dtype=int)
    wall = []
    for i in range(n + 1):
        for j in range(n + 1):
            if i == n and j > 0:
                index[i, j] = index[i, 0]
                continue
            index[i, j] = len(nodes)
            nodes.append((x[i], s[j] * top[i]))
            wall.append(j in (0, n) or i == n)
    triangles = []
    for i in range(n):
        for j in range(n):
            a, b = index[i, j], index[i + 1, j]
            c, d = index[i + 1, j + 1], index[i, j + 1]
            for triangle in ((a, b, c), (a, c, d)):
                if len(set(triangle)) == 3:
                    triangles.append(triangle)
    return np.array(nodes), np.array(triangles), np.array(wall), x, top


def solved(aspect, n):
    nodes, triangles, wall, x, top = mesh(aspect, n)
    p = nodes[triangles]
    d = np.stack([p[:, 1] - p[:, 0], p[:, 2] - p[:, 0]], axis=1)
    area = 0.5 * (d[:, 0, 0] * d[:, 1, 1] - d[:, 0, 1] * d[:, 1, 0])
    b = np.stack([p[:, 1, 1] - p[:, 2, 1], p[:, 2, 1] - p[:, 0, 1], p[:, 0, 1] - p[:, 1, 1]], 1)
    c = np.stack([p[:, 2, 0] - p[:, 1, 0], p[:, 0, 0] - p[:, 2, 0], p[:, 1, 0] - p[:, 0, 0]], 1)
    stiff = (b[:, :, None] * b[:, None, :] + c[:, :, None] * c[:, None, :]) / (4 * area)[:, None, None]
    rows = np.repeat(triangles, 3, axis=1).ravel()
    columns = np.tile(triangles, (1, 3)).ravel()
    size = len(nodes)
    matrix = coo_matrix((stiff.ravel(), (rows, columns)), (size, size)).tocsc()
    free = np.flatnonzero(~wall)
    inner = matrix[free][:, free].tocsc()
    factor = splu(inner)

    # Three points in the middle of the edges integrate squares exactly; cubes take a finer rule.
    bary = np.array([[0.5, 0.5, 0], [0, 0.5, 0.5], [0.5, 0, 0.5]])
    whole = 2.0 * area.sum()

    def load(values):
        local = np.einsum("qk,tq,t->tk", bary, values, area / 3.0)
        return np.bincount(triangles.ravel(), local.ravel(), size)

    def solve(right):
        field = np.zeros(size)
        field[free] = factor.solve(right[free])
        return field

    def at_points(field):
        return field[triangles] @ bary.T

    def mean(values):
        return 2.0 * ((values.sum(1) / 3.0) @ area) / whole

    flow = solve(load(np.ones((len(triangles), 3))))
    mean_flow = mean(at_points(flow))
    arc = np.hypot(np.diff(x), np.diff(top)).sum()
    perimeter = 2.0 * (0.5 + arc)
    hydraulic = 4.0 * whole / perimeter
    u = at_points(flow) / mean_flow
    friction = hydraulic**2 / (2.0 * mean_flow)
    warm = solve(load(u))
    bulk = mean(at_points(warm) * u)
    h1 = hydraulic**2 / (4.0 * bulk)
    mass = np.einsum("qk,ql,tq,t->tkl", bary, bary, u, area / 3.0)
    heavy = coo_matrix((mass.ravel(), (rows, columns)), (size, size)).tocsc()[free][:, free]
    lowest = eigsh(inner, k=1, M=heavy, sigma=0.0, which="LM", return_eigenvectors=False)[0]
    excess = 2.0 * (mean(u**3) - mean(u**2))
    return np.array([friction, h1, lowest * hydraulic**2 / 4.0, excess, hydraulic])


def main():
    print(f"// NumPy {version('numpy')}, SciPy {version('scipy')}")
    print("// height/pitch, f Re (Fanning), Nu H1, Nu T, K, hydraulic diameter over pitch")
    for aspect in ASPECTS:
        coarse, fine = solved(aspect, 120), solved(aspect, 240)
        best = fine + (fine - coarse) / 3.0
        print(f"({aspect}, [{', '.join(f'{value:.4f}' for value in best)}]),")


if __name__ == "__main__":
    main()
