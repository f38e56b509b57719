"""The stated benchmark case of the hopper (docs/benchmark.md) for SciPy's solve_ivp.

Equations, per kg of dry resin; s = dry resin between the air inlet and here, 0..MASS kg:
  sphere   dC/dt - m dC/ds = D(T) (1/r2) d/dr (r2 dC/dr); X is the mean of C over the sphere
  surface  C(R) = capacity(T) a, and (3/R) D (-dC/dr) at R = n = k (a psat(T) - p(Y))
  pellets  (c + X cw)(dT/dt - m dT/ds) = h (Tg - T) - n (hv(T) - cw (T - T0) + q), q = -H/Mw
  air      G dY/ds = n;  G (ca + Y cv) dTg/ds = -(h + n cv)(Tg - T) - u (Tg - Ta)

Method of lines: nodal discontinuous Galerkin with upwind flux in height, orthogonal collocation in the
radius, the air with a store worth LAG seconds of passage; the same choices as hopper_cvode.c, written
separately in NumPy, so that each checks the other. The Jacobian is given: along the height in closed
form, within a node by differences of all nodes at once.
"""

import time

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import csc_matrix
from scipy.special import roots_jacobi

GAS, WATER, AIR, ZERO = 8.31446261815324, 0.018015268, 0.028966, 273.15
RATE, FLOW, MASS, RADIUS = 10 / 3600, 20 / 3600, 35.0, 1.5e-3
T_AIR, Y_AIR, T_FEED, X_FEED, AMBIENT, PRESSURE = 393.15, 7.9e-5, 298.15, 2e-3, 298.15, 101325.0
CAPACITY, CAPACITY_AT, MIXING = 0.006, 373.15, 6300.0
D_REF, D_AT = 5e-11, 393.15
C_RESIN, C_AIR, C_VAPOUR, C_WATER, EVAPORATION = 1400.0, 1006.0, 1860.0, 4186.0, 2.501e6
HEAT, FILM, WALL = 100.0, 5.5e-7, 1.0


def saturation(t):
    """Pa; Wagner and Pruss (1993), constants as in IAPWS SR1-86(1992), eq. 1."""
    v = 1.0 - t / 647.096
    r = np.sqrt(v)
    total = v * (-7.85951783 + 1.84408259 * r + v * v * (-11.7866497 + 22.6807411 * r)
                 - 15.9618719 * v**3 + 1.80122502 * v**6 * r)
    return 22.064e6 * np.exp(647.096 / t * total)


def differentiation(x):
    """Matrix that differentiates the interpolant through values at x."""
    gap = x[:, None] - x[None, :] + np.eye(len(x))
    weight = 1.0 / np.prod(gap, axis=1)
    matrix = weight[None, :] / weight[:, None] / gap
    np.fill_diagonal(matrix, 0.0)
    np.fill_diagonal(matrix, -matrix.sum(axis=1))
    return matrix


class Nodes:
    """What happens at one height: elements of a degree in height, points in the radius."""

    def __init__(self, energy, degree, points, lag=0.01):
        self.energy, self.degree, self.lag = energy, degree, lag
        self.nr, self.nv = points, points + 3
        x, weight = roots_jacobi(points, 0.0, 0.5)
        u = np.append(0.5 * (1.0 + x), 1.0)  # r2/R2
        d = differentiation(u)
        self.laplacian = (4.0 * u[:, None] * (d @ d) + 6.0 * d)[:-1]
        self.slope = 2.0 * d[-1]
        self.mean = weight / weight.sum()
        inner = np.polynomial.legendre.Legendre.basis(degree).deriv().roots()
        self.place = np.concatenate([[-1.0], np.sort(inner.real), [1.0]])
        self.diff = differentiation(self.place)
        self.end = 2.0 / (degree * (degree + 1))

    def local(self, y):
        """Rates without transport; y is (..., nv)."""
        c, t, tg, humid = y[..., :-3], y[..., -3], y[..., -2], y[..., -1]
        d = D_REF / RADIUS**2 * np.exp(-self.energy / GAS * (1.0 / t - 1.0 / D_AT))
        capacity = CAPACITY * np.exp(-MIXING / GAS * (1.0 / t - 1.0 / CAPACITY_AT))
        pressure = FILM * PRESSURE * humid / (WATER / AIR + humid)
        pull = FILM * saturation(t) / capacity
        surface = (pressure - 3.0 * d * (c @ self.slope[:-1])) / (pull + 3.0 * d * self.slope[-1])
        n = pull * surface - pressure
        f = np.empty_like(y)
        f[..., :-3] = d[..., None] * (c @ self.laplacian[:, :-1].T
                                      + surface[..., None] * self.laplacian[:, -1])
        needed = EVAPORATION + (C_VAPOUR - C_WATER) * (t - ZERO) - MIXING / WATER
        f[..., -3] = (HEAT * (tg - t) - n * needed) / (C_RESIN + (c @ self.mean) * C_WATER)
        f[..., -2] = -MASS / FLOW / self.lag * (
            (HEAT + n * C_VAPOUR) * (tg - t) + WALL / MASS * (tg - AMBIENT)) / (C_AIR + humid * C_VAPOUR)
        f[..., -1] = MASS / FLOW / self.lag * n
        return f


class Hopper(Nodes):
    """The case on a mesh of elements graded towards both ends."""

    def __init__(self, energy, degree, elements, points, grade, lag=0.01):
        super().__init__(energy, degree, points, lag)
        self.elements, self.nodes = elements, elements * (degree + 1)
        edge = np.linspace(0.0, 1.0, elements + 1)
        edge = (1.0 - grade) * edge + grade * 0.5 * (1.0 - np.cos(np.pi * edge))
        self.thick = MASS * np.diff(edge)
        self.pattern()

    def rates(self, _, y):
        y = y.reshape(self.nodes, self.nv)
        f = self.local(y)
        y = y.reshape(self.elements, self.degree + 1, self.nv)
        g = f.reshape(y.shape)
        slopes = np.einsum("ij,ejv->eiv", self.diff, y)
        k = self.nr + 1
        down, up = (2.0 * RATE / self.thick)[:, None, None], (2.0 * MASS / self.lag / self.thick)[:, None, None]
        g[..., :k] += down * slopes[..., :k]
        g[..., k:] -= up * slopes[..., k:]
        feed = np.full(k, X_FEED)
        feed[-1] = T_FEED
        above = np.vstack([y[1:, 0, :k], feed])
        g[:, -1, :k] += down[:, 0] / self.end * (above - y[:, -1, :k])
        below = np.vstack([[T_AIR, Y_AIR], y[:-1, -1, k:]])
        g[:, 0, k:] += up[:, 0] / self.end * (below - y[:, 0, k:])
        return f.ravel()

    def pattern(self):
        """Where the Jacobian has entries, and the constant ones along the height."""
        p, nv = self.degree + 1, self.nv
        node = np.arange(self.nodes)[:, None, None] * nv
        self.rows = (node + np.arange(nv)[None, None, :] + 0 * node.swapaxes(1, 2)).repeat(nv, axis=1)
        self.cols = self.rows.swapaxes(1, 2)
        row, col, val = [], [], []

        def put(r, c, v):
            row.append(r), col.append(c), val.append(v)

        for e in range(self.elements):
            for v in range(nv):
                pellets = v <= self.nr
                speed = 2.0 * (RATE if pellets else -MASS / self.lag) / self.thick[e]
                at = (e * p + np.arange(p)) * nv + v
                for i in range(p):
                    for j in range(p):
                        put(at[i], at[j], speed * self.diff[i, j])
                into = at[-1] if pellets else at[0]
                put(into, into, -abs(speed) / self.end)
                other = into + nv if pellets else into - nv
                if 0 <= other < self.nodes * nv:
                    put(into, other, abs(speed) / self.end)
        size = self.nodes * nv
        self.constant = csc_matrix((val, (row, col)), shape=(size, size))
        self.band = max(self.degree, 1) * nv
        self.packed = np.zeros((2 * self.band + 1, size))
        row, col, val = np.array(row), np.array(col), np.array(val)
        np.add.at(self.packed, (row - col + self.band, col), val)

    def blocks(self, y):
        """Slopes of the local rates, (node, unknown, rate)."""
        y = y.reshape(self.nodes, self.nv)
        step = np.full(self.nv, 1e-8)
        step[-3:-1] = 1e-4
        moved = self.local(y[:, None, :] + np.diag(step)[None])
        return (moved - self.local(y)[:, None, :]) / step[None, :, None]

    def jacobian(self, _, y):
        data = self.blocks(y)
        size = self.nodes * self.nv
        return self.constant + csc_matrix((data.ravel(), (self.rows.ravel(), self.cols.ravel())),
                                          shape=(size, size))

    def banded(self, _, y):
        out = self.packed.copy()
        out[(self.rows - self.cols + self.band).ravel(), self.cols.ravel()] += self.blocks(y).ravel()
        return out

    def start(self):
        y = np.full((self.nodes, self.nv), X_FEED)
        y[:, -3:] = [T_FEED, T_FEED, Y_AIR]
        return y.ravel()

    def floors(self, rtol):
        floor = np.full((self.nodes, self.nv), rtol * 1e-3)
        floor[:, -3:-1] = rtol * 100.0
        return floor.ravel()

    def outlet(self, y):
        return float(self.mean @ y[:self.nr])


def solve(energy, degree, elements, points, rtol, grade, method, hours, lag=0.01):
    """Moisture at the air inlet at each hour, and the seconds of processor time it took."""
    begin = time.process_time()
    hopper = Hopper(energy, degree, elements, points, grade, lag)
    at = np.array(hours) * 3600.0
    options = {"jac": hopper.jacobian}
    if method == "LSODA":
        options = {"jac": hopper.banded, "lband": hopper.band, "uband": hopper.band}
    found = solve_ivp(hopper.rates, (0.0, at[-1]), hopper.start(), method, t_eval=at, rtol=1e-12 if method == "LSODA" else 1e-13,
                      atol=hopper.floors(rtol), **options)
    if not found.success:
        raise RuntimeError(found.message)
    moisture = [hopper.outlet(y) for y in found.y.T]
    return moisture, time.process_time() - begin, found
