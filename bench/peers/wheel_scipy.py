"""One channel of a desiccant wheel for SciPy's solve_ivp, and an explicit scheme beside it.

The equations are those of `crates/dryer/src/sorption/cell.rs` in the limit of fine slices, written
down independently: method of lines over the depth at nodes, gas quasi-steady, integrated along the
depth by the trapezoidal rule; heat as a rate with the isosteric heat of the Toth law. Turned until it
repeats. What a real coefficient is called here follows the case in `bench/ours/src/wheel.rs`.
"""

import time

import numpy as np
from scipy.integrate import solve_ivp
from scipy.signal import lfilter

RATIO = 0.018015268 / 0.028966
GAS = 8.31446261815324 / 0.018015268
PRESSURE = 101325.0
CA, CV, R0, ZERO = 1006.0, 1860.0, 2.501e6, 273.15

# Toth: capacity, affinity, energy, exponent, slope of the exponent.
X13 = (0.271875, 2.408e-10, 6852.0, 0.3974, -4.199)
A5 = (0.422675, 4.714e-13, 9955.0, 0.3548, -51.14)


def toth(q, t, law):
    """Pressure (Pa) and isosteric heat (J/kg) of a loading and temperature."""
    qs, b0, e, n0, c = law
    theta = np.clip(q / qs, 1e-12, 1.0 - 1e-9)
    n = n0 + c / t
    power = theta**n
    rest = 1.0 - power
    p = theta / rest ** (1.0 / n) / (b0 * np.exp(e / t))
    by_n = np.log(rest) / n**2 + power * np.log(theta) / (n * rest)
    return p, GAS * (e - c * by_n)


def ice(t):
    """Pressure over ice, Pa: IAPWS R14-08."""
    th = t / 273.16
    a, b = (-21.2144006, 27.3203819, -6.10598130), (0.00333333333, 1.20666667, 1.70333333)
    return 611.657 * np.exp(sum(x * th**y for x, y in zip(a, b)) / th)


def frost_point(y):
    """Frost point, degC, of a humidity ratio; over ice with a fixed enhancement of 1.006."""
    p = PRESSURE * y / (RATIO + y) / 1.006
    low, high = 180.0, 273.16
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if ice(middle) < p else (low, middle)
    return low - ZERO


class Case:
    """What is asked: sectors of (share, flow, temperature degC, humidity, along, Ka, ha)."""

    def __init__(self, sectors, rph=5.0, law=X13, depth=0.2, dry=213.0 * 950.0, active=213.0 * 0.7):
        self.sectors, self.rph, self.law = sectors, rph, law
        self.depth, self.dry, self.active = depth, dry, active


def coefficients(celsius, humidity, coolest):
    """Transfer of water, kg/(m3 s), and heat, W/(m3 K), as `wheel_speed --transfer` prints them, carried
    to the mean of an air's and the coolest temperature by powers: diffusivity by Marrero and Mason
    (1972), conductivity by the two values printed."""
    t = (0.5 * (celsius + coolest) + ZERO) / 308.15
    dry = (1.0 + 0.002 / RATIO) / (1.0 + humidity / RATIO)
    return 1.350982101e2 * t**1.072 * dry, 1.188771179e5 * t**0.8142


def base(t_reg=180.0, y_reg=0.010, t_in=35.0, y_in=0.002, shares=(0.7, 0.2, 0.1), **more):
    """The reference case, one thing changed."""
    cool, warm = coefficients(t_in, y_in, t_in), coefficients(t_reg, y_reg, t_in)
    sectors = [
        (shares[0], 1.8, t_in, y_in, True, *cool),
        (shares[1], 1.8, t_reg, y_reg, False, *warm),
        (shares[2], 1.8, t_in, y_in, True, *cool),
    ]
    return Case([s for s in sectors if s[0] > 0.0], **more)


def gas(solid, inlet, units):
    """Gas at nodes along a solid: trapezoidal rule for dg/dx = units (solid - g), x from 0 to 1."""
    half = 0.5 * units / (len(solid) - 1)
    keep, take = (1.0 - half) / (1.0 + half), half / (1.0 + half)
    drive = take * (solid[1:] + solid[:-1])
    out = np.empty_like(solid)
    out[0] = inlet
    out[1:] = lfilter([1.0], [1.0, -keep], drive, zi=[keep * inlet])[0]
    return out


def humid(p):
    """Humidity ratio of a vapour pressure; straight on past 0.8 of the total."""
    edge = 0.8 * PRESSURE
    held = np.minimum(p, edge)
    return RATIO * held / (PRESSURE - held) + RATIO * 20.0 * np.maximum(np.log(p / edge), 0.0)


def rates(case, sector):
    """Right-hand side of one sector for nodes from the process inlet to its outlet."""
    _, flow, celsius, y_in, along, ka, ha = sector
    t_in, cp_in = celsius + ZERO, CA + CV * y_in
    units_water = ka * case.depth / flow
    units_heat = ha * case.depth / (flow * cp_in)
    step = 1 if along else -1

    def at(x):
        n = len(x) // 2
        q, t = x[:n][::step], x[n:][::step]
        p, heat = toth(q, t, case.law)
        wet = humid(p)
        y = gas(wet, y_in, units_water)
        tg = gas(t, t_in, units_heat)
        return q, t, heat, wet, y, tg

    def f(_, x):
        q, t, heat, wet, y, tg = at(x)
        water = ka * (y - wet)
        dq = water / case.active
        store = case.dry + case.active * q * CV
        warm = ha * (CA + CV * y) / cp_in * (tg - t) + water * (CV * (tg - t) + heat)
        return np.concatenate([dq[::step], (warm / store)[::step]])

    def outlet(x):
        _, _, _, _, y, tg = at(x)
        return tg[-1], y[-1]

    return f, outlet


def turn(case, x, method, rtol, atol):
    """One turn; the state after it and, for each sector, mean outlet humidity and temperature."""
    out = []
    for sector in case.sectors:
        duration = sector[0] * 3600.0 / case.rph
        f, outlet = rates(case, sector)
        n = len(x) // 2
        absolute = np.concatenate([np.full(n, atol), np.full(n, atol * 1e3)])
        found = solve_ivp(f, (0.0, duration), x, method=method, rtol=rtol, atol=absolute)
        x = found.y[:, -1]
        air = np.array([outlet(found.y[:, k]) for k in range(found.t.size)])
        # Means over time by the trapezoidal rule on the solver's own steps.
        h = CA * (air[:, 0] - ZERO) + air[:, 1] * (R0 + CV * (air[:, 0] - ZERO))
        y = np.trapezoid(air[:, 1], found.t) / duration
        h = np.trapezoid(h, found.t) / duration
        out.append((y, (h - y * R0) / (CA + y * CV)))
    return x, out


def start(case, nodes):
    """Dry: at rest with the regeneration air."""
    hot = max(case.sectors, key=lambda s: s[2])
    t = hot[2] + ZERO
    goal = PRESSURE * hot[3] / (RATIO + hot[3])
    low, high = 1e-9, case.law[0] * (1.0 - 1e-9) if case.law[0] < 1.0 else 0.5
    for _ in range(80):
        middle = 0.5 * (low + high)
        p = toth(np.array([middle]), np.array([t]), case.law)[0][0]
        low, high = (middle, high) if p < goal else (low, middle)
    return np.concatenate([np.full(nodes, low), np.full(nodes, t)])


def periodic(case, nodes, method="BDF", rtol=1e-6, atol=1e-9, settled=1e-5, most=200):
    """Turns until the outlet humidity changes by less than a share; state, outlets, turns."""
    x = start(case, nodes)
    last = None
    for turns in range(1, most + 1):
        x, out = turn(case, x, method, rtol, atol)
        if last is not None and abs(out[0][0] / last - 1.0) < settled:
            break
        last = out[0][0]
    return x, out, turns


def explicit(case, cells=50, dt=0.1, liquid=4180.0, settled=1e-5, most=60):
    """The plainest scheme: exponential gas along cells, solid by explicit steps, water on the solid
    with the heat capacity `liquid` and the isosteric heat added as it comes. Outlets and turns."""
    n = cells
    x = start(case, n)
    q, t = x[:n].copy(), x[n:].copy()
    dz = case.depth / n
    last = None
    for turns in range(1, most + 1):
        outs = []
        for share, flow, celsius, y_in, along, ka, ha in case.sectors:
            steps = int(np.ceil(share * 3600.0 / case.rph / dt))
            h = share * 3600.0 / case.rph / steps
            cp = CA + CV * y_in
            left_y, left_t = np.exp(-ka * dz / flow), np.exp(-ha * dz / (flow * cp))
            t_in = celsius + ZERO
            if not along:
                q, t = q[::-1].copy(), t[::-1].copy()
            sum_y = sum_t = 0.0
            for _ in range(steps):
                p, heat = toth(q, t, case.law)
                wet = humid(p)
                y = lfilter([1.0 - left_y], [1.0, -left_y], wet, zi=[left_y * y_in])[0]
                tg = lfilter([1.0 - left_t], [1.0, -left_t], t, zi=[left_t * t_in])[0]
                water = flow * (np.concatenate([[y_in], y[:-1]]) - y)
                warm = flow * cp * (np.concatenate([[t_in], tg[:-1]]) - tg)
                q = q + h * water / (case.active * dz)
                t = t + h * (warm + water * heat) / (dz * (case.dry + case.active * q * liquid))
                sum_y += y[-1]
                sum_t += tg[-1]
            if not along:
                q, t = q[::-1].copy(), t[::-1].copy()
            outs.append((sum_y / steps, sum_t / steps))
        if last is not None and abs(outs[0][0] / last - 1.0) < settled:
            break
        last = outs[0][0]
    return outs, turns
