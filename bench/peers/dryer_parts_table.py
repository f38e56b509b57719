"""Prints what tests/src/peers freezes about the parts of a dryer: exchangers, friction, coolers, leaks.

Run: python3 bench/peers/dryer_parts_table.py
Needs: ht, fluids, CoolProp and SciPy from the Python package index.
Paste the blocks into tests/src/peers/heat_exchanger.rs, hose.rs, cooler.rs, line_air.rs, and the points of
the curve into crates/dryer/src/fan_curve.rs.
"""

from importlib.metadata import version

import numpy as np
from CoolProp.CoolProp import HAPropsSI, PropsSI
from fluids.friction import friction_factor
from ht.conv_free_immersed import Nu_horizontal_cylinder_Churchill_Chu
from ht.conv_internal import Nu_conv_internal
from ht.hx import effectiveness_from_NTU
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline, PchipInterpolator
from scipy.optimize import brentq

ZERO = 273.15
ATMOSPHERE = 101_325.0


def exchangers():
    print(f"// ht {version('ht')}: transfer units, ratio, counterflow, parallel, crossflow unmixed")
    for ratio in (0.2, 0.8, 1.0):
        for units in (0.5, 1.0, 2.0, 3.0, 5.0):
            numbers = [
                effectiveness_from_NTU(units, ratio, subtype=kind)
                for kind in ("counterflow", "parallel", "crossflow")
            ]
            print(f"    ({units}, {ratio}, [{', '.join(f'{float(x):.9}' for x in numbers)}]),")


def friction():
    print(f"// fluids {version('fluids')}: Reynolds, roughness over diameter, Darcy friction factor")
    for reynolds in (500.0, 2000.0, 4000.0, 2e4, 1e5, 1e6):
        for roughness in (0.0, 1e-3, 1e-2, 5e-2):
            method = "laminar" if reynolds < 2300 else "Clamond"
            if reynolds < 2300:
                value = friction_factor(Re=reynolds, eD=roughness)
            else:
                value = friction_factor(Re=reynolds, eD=roughness, Method=method)
            print(f"    ({reynolds}, {roughness}, {value:.10}),")
    print(f"// ht {version('ht')}: Reynolds, Prandtl, Nusselt inside a smooth pipe (Gnielinski)")
    for reynolds in (4000.0, 2e4, 1e5):
        value = Nu_conv_internal(Re=reynolds, Pr=0.7, fd=smooth(reynolds), Method="Gnielinski")
        print(f"    ({reynolds}, 0.7, {value:.10}),")
    print("// Prandtl, Grashof, Nusselt around a horizontal cylinder (Churchill and Chu)")
    for grashof in (1e4, 1e6, 1e8):
        print(f"    (0.71, {grashof}, {Nu_horizontal_cylinder_Churchill_Chu(0.71, grashof):.10}),")


def smooth(reynolds):
    return friction_factor(Re=reynolds, eD=0.0, Method="Clamond")


def coolers():
    print(f"// CoolProp {version('CoolProp')}: air degC, humidity ratio, outlet degC saturated,")
    print("// heat J/kg and water kg/kg taken from each kg of dry air; the water leaves at the outlet")
    for celsius, humidity, outlet in (
        (60.0, 0.02, 20.0),
        (70.0, 0.03, 15.0),
        (80.0, 0.05, 25.0),
        (40.0, 0.015, 10.0),
    ):
        before = HAPropsSI("H", "T", celsius + ZERO, "P", ATMOSPHERE, "W", humidity)
        held = HAPropsSI("W", "T", outlet + ZERO, "P", ATMOSPHERE, "R", 1.0)
        after = HAPropsSI("H", "T", outlet + ZERO, "P", ATMOSPHERE, "R", 1.0)
        water = humidity - held
        liquid = PropsSI("H", "T", outlet + ZERO, "P", ATMOSPHERE, "Water")
        print(f"    ({celsius}, {humidity}, {outlet}, {before - after - water * liquid:.8e}, {water:.8e}),")


def wet_walls():
    """The film equations of the wet cooler in temperature, humidity and coolant, by LSODA and shooting."""
    print(f"// SciPy {version('scipy')} with CoolProp {version('CoolProp')}: conductances of air and coolant W/K, coolant W/K")
    print("// and degC, air degC, humidity ratio; outlet degC, humidity ratio, heat to the coolant W")
    celsius = np.linspace(0.02, 90.0, 400)
    saturated = CubicSpline(
        celsius, [HAPropsSI("W", "T", c + ZERO, "P", ATMOSPHERE, "R", 1.0) for c in celsius]
    )
    flow = 0.05
    for air, wall, coolant, inlet, t_in, y_in in (
        (150.0, 600.0, 400.0, 15.0, 70.0, 0.03),
        (100.0, 150.0, 80.0, 20.0, 60.0, 0.06),
        (200.0, 300.0, 1000.0, 10.0, 45.0, 0.012),
    ):

        def film(t, y, w):
            def surplus(s):
                water = max(0.0, air / (1006.0 + 1860.0 * y) * (y - saturated(s)))
                latent = 2.501e6 + 1860.0 * t - 4186.0 * s
                return air * (t - s) + water * latent - wall * (s - w)

            s = brentq(surplus, min(t, w) - 1e-9, max(t, w) + 60.0, xtol=1e-12)
            return s, max(0.0, air / (1006.0 + 1860.0 * y) * (y - saturated(s)))

        def slopes(_, state):
            t, y, w = state
            s, water = film(t, y, w)
            return [
                -air * (t - s) / (flow * (1006.0 + 1860.0 * y)),
                -water / flow,
                -wall * (s - w) / coolant,
            ]

        def passed(outlet):
            return solve_ivp(
                slopes, (0.0, 1.0), (t_in, y_in, outlet), method="LSODA", rtol=1e-9, atol=1e-12
            ).y[:, -1]

        outlet = brentq(lambda w: passed(w)[2] - inlet, inlet, t_in, xtol=1e-10)
        t, y, _ = passed(outlet)
        heat = coolant * (outlet - inlet)
        print(
            f"    ([{air}, {wall}, {coolant}, {inlet}, {t_in}, {y_in}], "
            f"[{t:.8f}, {y:.8e}, {heat:.6f}]),"
        )


def leaks():
    print(f"// CoolProp {version('CoolProp')}: frost point degC, share of air of 10 g/kg let in, frost point after")
    for frost in (-57.5, -40.0):
        dry = HAPropsSI("W", "T", 298.15, "P", ATMOSPHERE, "D", frost + ZERO)
        for share in (1e-4, 1e-3, 5e-3, 1e-2):
            mixed = (1.0 - share) * dry + share * 0.01
            after = HAPropsSI("D", "T", 298.15, "P", ATMOSPHERE, "W", mixed) - ZERO
            print(f"    ({frost}, {share}, {after:.6f}),")
    print("// line bar(g), pressure dew or frost point degC, humidity ratio, frost point at one atmosphere")
    for line, point in ((7, 10), (7, 7), (7, 3), (7, 0), (7, -20), (7, -40), (6, 3), (7, 20)):
        pressure = ATMOSPHERE + line * 1e5
        share = HAPropsSI("psi_w", "T", point + ZERO, "P", pressure, "R", 1.0)
        ratio = HAPropsSI("W", "T", 298.15, "P", ATMOSPHERE, "psi_w", share)
        after = HAPropsSI("D", "T", 298.15, "P", ATMOSPHERE, "psi_w", share) - ZERO
        print(f"    ({line}.0, {point}.0, {ratio:.8e}, {after:.6f}),")


def curve():
    print(f"// SciPy {version('scipy')}: flow m3/s, rise Pa")
    points = PchipInterpolator([0, 0.02, 0.05, 0.08, 0.09], [4000, 3900, 3200, 1500, 600])
    for flow in (0.01, 0.035, 0.07, 0.085):
        print(f"    ({flow}, {float(points(flow))!r}),")


if __name__ == "__main__":
    exchangers()
    friction()
    coolers()
    wet_walls()
    leaks()
    curve()
