"""Pellets under vacuum, for SciPy's solve_ivp: the numbers frozen in tests/src/peers/vacuum_dryer.rs.

Run: python3 bench/peers/vacuum_dryer.py [shells]        (a minute; NumPy and SciPy)

The equations are those of `crates/line/src/vacuum_batch.rs` under vacuum, written down independently: a
sphere of equal shells, Henry's law, D by Arrhenius at the pellet's temperature, one temperature, no heat but
that of the vapour and of the purge; gas of a volume with a pump that takes it as it is down to its end
pressure, a purge and a leak; all as one system of ordinary differential equations, for LSODA. Saturation is
Wagner and Pruss (2002), not ours. Printed are water, temperature, pressure and vapour pressure at stated
times.
"""

import sys

import numpy as np
from scipy.integrate import solve_ivp

R, WATER, AIR, ZERO = 8.314_462_618, 0.018_015_268, 0.028_966, 273.15
HALL = (101_325.0, ZERO + 23.0, 0.009)
HOT, RADIUS, CHARGE = ZERO + 120.0, 1.5e-3, 16.0
RESIN, LIQUID, VAPOUR, DRY, LATENT = 1400.0, 4186.0, 1860.0, 1006.0, 2.501e6
STILL, MIXING = 1.7e-7, 6300.0
VOLUME, SPEED = 0.02, 0.005
# Name: capacity at 100 degC, moisture, end pressure (Pa), purge (kg/s), leak (Pa m3/s), moisture at which the
# vessel starts (kg/kg of air).
CASES = {
    "purged": (0.006, 2e-3, 2000.0, 1.5e-4, 0.02),
    "in its own vapour": (0.006, 2e-3, 5000.0, 0.0, 0.0),
    "very wet": (0.05, 2e-2, 2000.0, 3e-4, 0.02),
}
# Let down from 7 bar(g) with a frost point of -20 degC there: 103.2 Pa, and 3.7 % by its pressure.
PURGE = (ZERO + 25.0, 8.3058e-5)
TIMES = (60.0, 300.0, 900.0, 1800.0)


def saturation(t):
    tau = 1.0 - t / 647.096
    a = (-7.85951783, 1.84408259, -11.7866497, 22.6807411, -15.9618719, 1.80122502)
    powers = (1.0, 1.5, 3.0, 3.5, 4.0, 7.5)
    return 22.064e6 * np.exp(647.096 / t * sum(c * tau**n for c, n in zip(a, powers)))


def share(humidity):
    return humidity / (humidity + WATER / AIR)


def solve(case, shells):
    capacity, wet, end, purge, leak = CASES[case]
    edge = np.linspace(0.0, RADIUS, shells + 1)
    volume = np.diff(edge**3)
    distance = np.diff(0.5 * (edge[1:] + edge[:-1]))
    half = RADIUS - 0.5 * (edge[-1] + edge[-2])
    per_mass = 3.0 / RADIUS

    def rates(_, y):
        x, t, air, vapour = y[:shells], y[shells], y[shells + 1], y[shells + 2]
        gas = R * t / VOLUME
        p_air, p_vapour = air * gas, vapour * gas
        p = p_air + p_vapour
        d = 1.3e-10 * np.exp(-33.1e3 / R * (1.0 / t - 1.0 / HOT))
        henry = capacity * np.exp(-MIXING / R * (1.0 / t - 1.0 / 373.15))
        film = STILL * HALL[0] / p
        inside = per_mass * d / half
        pull = film * saturation(t) / henry
        surface = (inside * x[-1] + film * p_vapour) / (inside + pull)
        given = inside * (x[-1] - surface)
        flux = np.zeros(shells + 1)
        flux[1:-1] = d * (x[:-1] - x[1:]) / distance * 3.0 * edge[1:-1] ** 2
        flux[-1] = given * RADIUS**3
        dx = (flux[:-1] - flux[1:]) / volume
        water = np.dot(x, volume) / RADIUS**3
        c = t - ZERO
        heat = given * (LATENT + VAPOUR * c - LIQUID * c - MIXING / WATER)
        heat += purge * (DRY + VAPOUR * PURGE[1]) * (t - PURGE[0]) / CHARGE
        dt = -heat / (RESIN + water * LIQUID)
        out = SPEED * max(0.0, 1.0 - end / p) / VOLUME
        moles = leak / (R * HALL[1])
        humid = share(HALL[2])
        d_air = purge / AIR + moles * (1.0 - humid) - out * air
        d_vapour = purge * PURGE[1] / WATER + moles * humid + CHARGE * given / WATER - out * vapour
        return np.concatenate((dx, (dt, d_air, d_vapour)))

    humid = share(PURGE[1])
    all_moles = HALL[0] * VOLUME / (R * HOT)
    start = np.concatenate((np.full(shells, wet), (HOT, (1.0 - humid) * all_moles, humid * all_moles)))
    found = solve_ivp(
        rates, (0.0, TIMES[-1]), start, "LSODA", TIMES, rtol=1e-9, atol=1e-12,
    )
    for k, time in enumerate(TIMES):
        y = found.y[:, k]
        water = np.dot(y[:shells], volume) / RADIUS**3
        gas = R * y[shells] / VOLUME
        yield time, water, y[shells] - ZERO, (y[-1] + y[-2]) * gas, y[-1] * gas


if __name__ == "__main__":
    for shells in [int(argument) for argument in sys.argv[1:]] or [100, 200, 400]:
        for case in CASES:
            for row in solve(case, shells):
                print(f"{shells} {case}: " + "{:.0f} s {:.6e} kg/kg {:.4f} degC {:.3f} Pa {:.3f} Pa".format(*row))
