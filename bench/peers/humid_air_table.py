"""Prints the humid-air numbers of CoolProp and PsychroLib that tests/src/peers freezes as data.

Run: python3 bench/peers/humid_air_table.py
Needs: CoolProp and psychrolib from the Python package index.
Paste the blocks into tests/src/peers/coolprop_humid_air.rs and tests/src/peers/psychrolib.rs.
"""

import CoolProp
import psychrolib
from CoolProp.CoolProp import HAPropsSI
from importlib.metadata import version

ZERO = 273.15
PRESSURES = (50_000.0, 101_325.0, 800_000.0, 1_200_000.0)
POINTS = (-80.0, -60.0, -50.0, -40.0, -30.0, -20.0, -10.0, -1.0, 1.0, 10.0, 20.0, 30.0, 40.0, 50.0,
          60.0, 70.0, 80.0, 90.0, 99.0)
STATES = (
    # air temperature degC, dew or frost point degC, pressure Pa
    (-40.0, -50.0, 101_325.0),
    (20.0, -40.0, 101_325.0),
    (80.0, -40.0, 101_325.0),
    (120.0, -20.0, 101_325.0),
    (180.0, -40.0, 101_325.0),
    (250.0, 0.005, 101_325.0),
    (25.0, 15.0, 101_325.0),
    (80.0, 60.0, 101_325.0),
    (95.0, 85.0, 101_325.0),
    (30.0, 3.0, 800_000.0),
    (100.0, -40.0, 800_000.0),
    (150.0, 90.0, 800_000.0),
    (-40.0, -60.0, 1_200_000.0),
    (250.0, 20.0, 1_200_000.0),
    (60.0, 20.0, 50_000.0),
)


def number(value):
    return f"{value:.9e}"


def coolprop():
    print(f"// CoolProp {CoolProp.__version__}")
    print("// pressure Pa, dew or frost point degC, humidity ratio kg/kg, its dew or frost point degC")
    for p in PRESSURES:
        for point in POINTS:
            t = max(point, 25.0) + ZERO
            try:
                ratio = HAPropsSI("W", "T", t, "D", point + ZERO, "P", p)
            except ValueError:  # its own bound: mole fraction 0.94145
                continue
            back = HAPropsSI("D", "T", t, "W", ratio, "P", p) - ZERO
            print(f"    ({p:.0f}.0, {point}, {number(ratio)}, {number(back)}),")
    print("// air degC, point degC, pressure Pa, volume m3/kg dry, enthalpy J/kg dry, heat capacity "
          "J/(kg K) dry,")
    print("// viscosity Pa s, conductivity W/(m K), relative humidity")
    for t, point, p in STATES:
        inputs = ("T", t + ZERO, "D", point + ZERO, "P", p)
        out = [HAPropsSI(key, *inputs) for key in ("Vda", "Hda", "C", "mu", "K", "R")]
        print(f"    ({t}, {point}, {p:.0f}.0, [" + ", ".join(number(x) for x in out) + "]),")


def psychro():
    psychrolib.SetUnitSystem(psychrolib.SI)
    print(f"// PsychroLib {version('psychrolib')}")
    print("// pressure Pa, dew or frost point degC, saturation pressure Pa, humidity ratio kg/kg")
    for p in (101_325.0, 800_000.0):
        for point in (-80.0, -60.0, -40.0, -20.0, 1.0, 20.0, 60.0, 90.0):
            e = psychrolib.GetSatVapPres(point)
            print(f"    ({p:.0f}.0, {point}, {number(e)}, "
                  f"{number(psychrolib.GetHumRatioFromVapPres(e, p))}),")
    print("// air degC, humidity ratio kg/kg, pressure Pa, volume m3/kg dry, enthalpy J/kg dry")
    for t, ratio, p in ((20.0, 7.9e-5, 101_325.0), (100.0, 7.9e-5, 101_325.0),
                        (25.0, 0.01, 101_325.0), (180.0, 7.9e-5, 101_325.0)):
        print(f"    ({t}, {ratio}, {p:.0f}.0, {number(psychrolib.GetMoistAirVolume(t, ratio, p))}, "
              f"{number(psychrolib.GetMoistAirEnthalpy(t, ratio))}),")
    print("// altitude m, pressure Pa")
    for z in (-400.0, 500.0, 1600.0, 3000.0, 5000.0):
        print(f"    ({z}, {number(psychrolib.GetStandardAtmPressure(z))}),")


if __name__ == "__main__":
    coolprop()
    psychro()
