"""Prints the films on pellets that tests/src/peers/packed_bed.rs freezes as data.

Run: python3 bench/peers/packed_bed_table.py
Needs: ht, polykin and CoolProp from the Python package index.
Paste the block into tests/src/peers/packed_bed.rs.

Air properties are those of CoolProp's humid air at a frost point of -40 degC and one atmosphere; the
diffusivity of vapour, which it does not give, is that of Marrero and Mason (1972) for 282 to 450 K.
"""

from importlib.metadata import version

from CoolProp.CoolProp import HAPropsSI
from ht.conv_packed_bed import Nu_Wakao_Kagei
from polykin.hmt.correlations import Nu_drop

ZERO = 273.15
PRESSURE = 101_325.0
DIAMETER = 3e-3
# superficial (bed) or free (stream) velocity m/s, air degC
STATES = ((0.05, 80.0), (0.1, 100.0), (0.2, 120.0), (0.3, 160.0), (0.4, 180.0), (1.0, 25.0))


def main():
    print(f"// ht {version('ht')}, polykin {version('polykin')}, CoolProp {version('CoolProp')}")
    print("// velocity m/s, air degC, Reynolds, heat W/(m2 K) and vapour m/s in a bed, the same around one")
    for v, celsius in STATES:
        t = celsius + ZERO
        inputs = ("T", t, "D", ZERO - 40.0, "P", PRESSURE)
        per_dry, ratio = HAPropsSI("Vda", *inputs), HAPropsSI("W", *inputs)
        density = (1.0 + ratio) / per_dry
        viscosity, conductivity = HAPropsSI("mu", *inputs), HAPropsSI("K", *inputs)
        capacity = HAPropsSI("cp_ha", *inputs)
        diffusivity = 1.87e-10 * t**2.072 / (PRESSURE / 101_325.0)
        reynolds = density * v * DIAMETER / viscosity
        prandtl = capacity * viscosity / conductivity
        schmidt = viscosity / density / diffusivity
        films = []
        for law in (Nu_Wakao_Kagei, Nu_drop):
            films.append(law(reynolds, prandtl) * conductivity / DIAMETER)
            films.append(law(reynolds, schmidt) * diffusivity / DIAMETER)
        numbers = ", ".join(f"{x:.6e}" for x in (reynolds, *films))
        print(f"    ({v}, {celsius}, [{numbers}]),")


if __name__ == "__main__":
    main()
