"""Several kinds of pellet in one bed, for SciPy: the numbers frozen in tests/src/peers/blend.rs.

Run: python3 bench/peers/blend.py [one | two | three]     (half an hour for all; not timed)
Needs: numpy and SciPy from the Python package index.

The bed is that of docs/benchmark.md but for its pellets: K kinds of sphere, well mixed, of which kind k
is the share s_k of the dry resin. They have one temperature T and meet one air (Tg, Y); each has its
own size, diffusivity, isotherm, heat capacity, films and moisture fed. Per kg of dry resin of the blend:
  sphere   dC_k/dt - m dC_k/ds = D_k(T) (1/r2) d/dr (r2 dC_k/dr); X_k is the mean of C_k
  surface  C_k(R_k) = isotherm_k(T, a_k), and n_k = -(3/R_k) D_k dC_k/dr = k_k (a_k psat(T) - p(Y))
  pellets  sum s_k dH_k/dt = h (Tg - T) - n hv(T), d/dt along the pellets, h = sum s_k h_k, n = sum s_k n_k,
           H_k = c_k t + X_k cw t - Q_k(T, X_k), t = T - 273.15,
           Q_k = integral of q_k from 0 to X_k, q_k = (R T2/Mw) (d ln a_k/dT) at constant moisture
  air      G dY/ds = n;  G (ca + Y cv) dTg/ds = -(h + n cv)(Tg - T) - u (Tg - Ta)
Isotherms: Henry X = c_sat(T) a; GAB X = x1 c k a/((1 - k a)(1 - k a + c k a)), c and k van 't Hoff.

In time: nodal discontinuous Galerkin with upwind flux in height, orthogonal collocation in the radius,
the air with a store worth LAG seconds of passage, LSODA; two meshes, and half the store.
Steady: solve_bvp (Lobatto IIIA of order 4, its own mesh) on the same equations without time and without
the store of air; nothing of the height is shared with the run in time, whose end it must meet.
Case "one" is the stated hopper with its single kind, which hopper_table.py solves with CVODE as well.
Heat of GAB's sorption: the slope of its closed inverse by a complex step, summed by twelve Gauss points.
"""

import sys
from dataclasses import dataclass
from importlib.metadata import version

import numpy as np
from scipy.integrate import solve_bvp, solve_ivp
from scipy.special import roots_jacobi

from hopper_scipy import (AIR, AMBIENT, C_AIR, C_VAPOUR, C_WATER, D_AT, EVAPORATION, FLOW, GAS, MASS,
                          PRESSURE, RATE, T_AIR, T_FEED, WALL, WATER, Y_AIR, ZERO, differentiation,
                          saturation)

HOURS = (4, 8, 12, 16, 80)


def vant_hoff(at, reference, heat, t):
    return at * np.exp(-heat / GAS * (1.0 / t - 1.0 / reference))


@dataclass
class Henry:
    """X = capacity(T) a."""

    capacity: float
    reference: float
    heat: float

    def moisture(self, t, a):
        slope = vant_hoff(self.capacity, self.reference, self.heat, t)
        return slope * a, slope

    def sorption(self, t, x):
        """q and dQ/dT."""
        return -self.heat / WATER + 0.0 * x, 0.0 * x


@dataclass
class Gab:
    """Guggenheim, Anderson, de Boer."""

    monolayer: float
    surface: float
    multilayer: float
    reference: float
    surface_heat: float
    multilayer_heat: float

    def constants(self, t):
        return (vant_hoff(self.surface, self.reference, self.surface_heat, t),
                vant_hoff(self.multilayer, self.reference, self.multilayer_heat, t))

    def moisture(self, t, a):
        c, k = self.constants(t)
        below = (1.0 - k * a) * (1.0 - k * a + c * k * a)
        fall = k * ((c - 2.0) - 2.0 * (c - 1.0) * k * a)  # d below / d a
        return self.monolayer * c * k * a / below, self.monolayer * c * k * (below - a * fall) / below**2

    def by_temperature(self, t, x):
        """q: what is above condensation when x is taken up at constant moisture, J/kg water."""
        c, k = self.constants(t + 1e-20j)
        ratio = self.monolayer * c / x - (c - 2.0)
        y = 2.0 / (ratio + np.sqrt(ratio**2 + 4.0 * (c - 1.0)))
        return GAS * t * t / WATER * np.log(y / k).imag / 1e-20

    def sorption(self, t, x):
        u, weight = np.polynomial.legendre.leggauss(12)
        u, weight = 0.5 * (1.0 + u), 0.5 * weight
        inner = np.asarray(x)[..., None] * u
        warm = np.asarray(t)[..., None]
        rise = (self.by_temperature(warm + 0.02, inner) - self.by_temperature(warm - 0.02, inner)) / 0.04
        return self.by_temperature(t, x), x * (rise @ weight)


@dataclass
class Kind:
    share: float
    diameter: float
    diffusivity: float
    isotherm: object
    heat_capacity: float
    heat: float
    film: float
    fed: float


RESIN = Henry(0.006, 373.15, 6300.0)
CASES = {
    "one": [Kind(1.0, 3e-3, 5e-11, RESIN, 1400.0, 100.0, 5.5e-7, 2e-3)],
    # One resin in two sizes, the films as those of spheres of one Sherwood and one Nusselt number.
    "two": [
        Kind(0.75, 3e-3, 5e-11, RESIN, 1400.0, 100.0, 5.5e-7, 2e-4),
        Kind(0.25, 4.8e-3, 5e-11, RESIN, 1400.0, 100.0 / 2.56, 5.5e-7 / 2.56, 3e-3),
    ],
    # A polyester with something that takes up little and lets it go fast, and something that takes up much.
    "three": [
        Kind(0.5, 3e-3, 5e-11, RESIN, 1400.0, 100.0, 5.5e-7, 2e-3),
        Kind(0.3, 2.4e-3, 7e-11, Henry(0.0025, 373.15, 2000.0), 1900.0, 140.0, 8e-7, 4e-4),
        Kind(0.2, 3.6e-3, 3e-11, Gab(0.02, 6.0, 0.8, 333.15, -5000.0, -500.0), 1700.0, 70.0, 4e-7, 8e-3),
    ],
}


class Bed:
    """A case on a mesh: elements of a degree in height, points in the radius."""

    def __init__(self, kinds, energy, degree, elements, points, grade, lag):
        self.kinds, self.energy, self.lag, self.nr = kinds, energy, lag, points
        self.degree, self.elements, self.nodes = degree, elements, elements * (degree + 1)
        self.nw = len(kinds) * points  # unknowns of water in the pellets; then T, Tg, Y
        self.nv = self.nw + 3
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
        edge = np.linspace(0.0, 1.0, elements + 1)
        self.edge = MASS * ((1.0 - grade) * edge + grade * 0.5 * (1.0 - np.cos(np.pi * edge)))
        self.thick = np.diff(self.edge)
        self.feed = np.array([kind.fed for kind in kinds for _ in range(points)] + [T_FEED])

    def surface(self, kind, t, d, c, pressure):
        """Activity at the surface: what comes out of the sphere is what the film carries away."""
        inside = 3.0 * d * (c @ self.slope[:-1])
        pull, hold = kind.film * saturation(t), 3.0 * d * self.slope[-1]
        a = pressure / saturation(t)
        for _ in range(60):
            x, by_a = kind.isotherm.moisture(t, a)
            move = (pull * a - kind.film * pressure + inside + hold * x) / (pull + hold * by_a)
            a = a - move
            if np.all(np.abs(move) <= 1e-14 + 1e-13 * np.abs(a)):
                return a
        raise RuntimeError("the surface is not closed")

    def local(self, y):
        """Rates of pellets per second, and slopes of the air per kg; y is (..., nv)."""
        t, tg, humid = y[..., -3], y[..., -2], y[..., -1]
        f = np.empty_like(y)
        pressure = PRESSURE * humid / (WATER / AIR + humid)
        heat = capacity = water = released = 0.0
        for index, kind in enumerate(self.kinds):
            part = slice(index * self.nr, (index + 1) * self.nr)
            c = y[..., part]
            d = vant_hoff(kind.diffusivity, D_AT, self.energy, t) / (0.5 * kind.diameter) ** 2
            a = self.surface(kind, t, d, c, pressure)
            rim = kind.isotherm.moisture(t, a)[0]
            n = kind.film * (a * saturation(t) - pressure)
            f[..., part] = d[..., None] * (c @ self.laplacian[:, :-1].T
                                           + rim[..., None] * self.laplacian[:, -1])
            mean = c @ self.mean
            q, by_t = kind.isotherm.sorption(t, mean)
            heat = heat + kind.share * kind.heat
            capacity = capacity + kind.share * (kind.heat_capacity + mean * C_WATER - by_t)
            water = water + kind.share * n
            # Enthalpy that the water leaving takes out of the pellets.
            released = released + kind.share * n * (C_WATER * (t - ZERO) - q)
        vapour = EVAPORATION + C_VAPOUR * (t - ZERO)
        f[..., -3] = (heat * (tg - t) - water * vapour + released) / capacity
        f[..., -2] = -((heat + water * C_VAPOUR) * (tg - t) + WALL / MASS * (tg - AMBIENT)) / (
            FLOW * (C_AIR + humid * C_VAPOUR))
        f[..., -1] = water / FLOW
        return f

    def slopes(self, y):
        """Slopes of the local rates, (..., unknown, rate), by differences."""
        step = np.full(self.nv, 1e-8)
        step[-3:-1] = 1e-4
        moved = self.local(y[..., None, :] + np.diag(step))
        back = self.local(y[..., None, :] - np.diag(step))
        return (moved - back) / (2.0 * step[:, None])

    # In time.

    def rates(self, _, y):
        y = y.reshape(self.nodes, self.nv)
        f = self.local(y)
        f[:, -2:] *= MASS / self.lag
        y, g, k = y.reshape(self.elements, -1, self.nv), f.reshape(self.elements, -1, self.nv), self.nw + 1
        along = np.einsum("ij,ejv->eiv", self.diff, y)
        down = (2.0 * RATE / self.thick)[:, None, None]
        up = (2.0 * MASS / self.lag / self.thick)[:, None, None]
        g[..., :k] += down * along[..., :k]
        g[..., k:] -= up * along[..., k:]
        above = np.vstack([y[1:, 0, :k], self.feed])
        g[:, -1, :k] += down[:, 0] / self.end * (above - y[:, -1, :k])
        below = np.vstack([[T_AIR, Y_AIR], y[:-1, -1, k:]])
        g[:, 0, k:] += up[:, 0] / self.end * (below - y[:, 0, k:])
        return f.ravel()

    def pattern(self):
        """The constant entries of the Jacobian along the height, packed by diagonals."""
        p, nv, size = self.degree + 1, self.nv, self.nodes * self.nv
        self.band = max(self.degree, 1) * nv
        packed = np.zeros((2 * self.band + 1, size))

        def put(row, col, value):
            packed[row - col + self.band, col] += value

        for e in range(self.elements):
            for v in range(nv):
                pellets = v <= self.nw
                speed = 2.0 * (RATE if pellets else -MASS / self.lag) / self.thick[e]
                at = (e * p + np.arange(p)) * nv + v
                for i in range(p):
                    for j in range(p):
                        put(at[i], at[j], speed * self.diff[i, j])
                into = at[-1] if pellets else at[0]
                put(into, into, -abs(speed) / self.end)
                other = into + nv if pellets else into - nv
                if 0 <= other < size:
                    put(into, other, abs(speed) / self.end)
        node = np.arange(self.nodes)[:, None, None] * nv
        cols = node + np.arange(nv)[None, :, None] + np.zeros((1, 1, nv), int)
        rows = cols.swapaxes(1, 2)
        return packed, (rows - cols + self.band, cols)

    def follow(self, hours, rtol):
        """States of the nodes at each hour."""
        packed, where = self.pattern()

        def banded(_, y):
            blocks = self.slopes(y.reshape(self.nodes, self.nv))
            blocks[..., -2:] *= MASS / self.lag
            out = packed.copy()
            out[where] += blocks
            return out

        start = np.tile(np.append(self.feed, [T_FEED, Y_AIR]), (self.nodes, 1))
        floor = np.full((self.nodes, self.nv), rtol * 1e-3)
        floor[:, -3:-1] = rtol * 100.0
        at = np.array(hours) * 3600.0
        found = solve_ivp(self.rates, (0.0, at[-1]), start.ravel(), "LSODA", t_eval=at, rtol=1e-12,
                          atol=floor.ravel(), jac=banded, lband=self.band, uband=self.band)
        if not found.success:
            raise RuntimeError(found.message)
        return [y.reshape(self.nodes, self.nv) for y in found.y.T]

    # At rest.

    def at_rest(self, guess, tolerance):
        """The steady bed, from a state of the nodes: states at the air inlet and at the level."""
        speed = np.full(self.nv, 1.0)
        speed[:self.nw + 1] = -1.0 / RATE
        k = self.nw + 1

        def fun(_, y):
            return (self.local(y.T) * speed).T

        def jac(_, y):
            return (self.slopes(y.T) * speed).transpose(2, 1, 0)

        def ends(low, high):
            return np.concatenate([high[:k] - self.feed, low[k:] - [T_AIR, Y_AIR]])

        height = (self.edge[:-1, None] + 0.5 * (1.0 + self.place) * self.thick[:, None]).ravel()
        keep = np.append(np.diff(height) > 1e-9, True)
        found = solve_bvp(fun, ends, height[keep], guess[keep].T, fun_jac=jac, tol=tolerance,
                          bc_tol=1e-10, max_nodes=20000)
        if found.status != 0:
            raise RuntimeError(found.message)
        print(f"//   solve_bvp: {len(found.x)} nodes, {found.niter} rounds", file=sys.stderr)
        return np.array([found.y[:, 0], found.y[:, -1]])

    def seen(self, y):
        """Moisture of each kind at the air inlet, mean, return air in degC and kg/kg."""
        each = [float(y[0, i * self.nr:(i + 1) * self.nr] @ self.mean) for i in range(len(self.kinds))]
        mean = sum(kind.share * x for kind, x in zip(self.kinds, each))
        return np.array([*each, mean, y[-1, -2] - ZERO, y[-1, -1]])


def apart(one, other):
    """Largest relative distances: of the moistures, of the return air (degC, kg/kg)."""
    away = np.abs(np.array(other) / np.array(one) - 1.0)
    return f"{away[..., :-2].max():.0e} (moisture), {away[..., -2:].max():.0e} (air)"


def solve(kinds, energy):
    fine = Bed(kinds, energy, 3, 56, 12, 0.6, 0.01)
    runs = fine.follow(HOURS, 5e-8)
    first = [fine.seen(y) for y in runs]
    other = Bed(kinds, energy, 4, 32, 10, 0.5, 0.005)
    second = [other.seen(y) for y in other.follow(HOURS, 1e-7)]
    rest = fine.seen(fine.at_rest(runs[-1], 1e-6))
    print(f"// in time, two meshes and stores of air, apart by {apart(first, second)}; "
          f"80 h from rest {apart(first[-1], rest)}")
    for hour, row in zip(HOURS[:-1], first):
        print(f"    ({hour}.0, [{', '.join(f'{x:.7e}' for x in row)}]),")
    print(f"    rest: [{', '.join(f'{x:.7e}' for x in rest)}]", flush=True)


def main():
    print(f"// scipy {version('scipy')}, numpy {version('numpy')}")
    for name in sys.argv[1:] or CASES:
        for energy in (0.0, 33100.0):
            print(f"// {name}, {energy:.0f} J/mol: hour, [moisture of each kind, mean, return air degC, kg/kg]")
            solve(CASES[name], energy)


if __name__ == "__main__":
    main()
