//! How air and desiccant meet in a bed of beads: transfer coefficients and friction.
//!
//! # Equations
//! 1. Outside of the beads per volume of bed: `a = 6 (1 - e)/d`.
//! 2. `Nu = 2 + 1.1 Pr^(1/3) Re^0.6` (Wakao and Kaguei), `Re` with the bead and the velocity of the empty
//!    vessel; the Sherwood number likewise with `Sc`. `h = Nu k/d`, `k_g = Sh D rho/d` in kg of dry air
//!    per m2 and second.
//! 3. Into the bead: `k_s = 10 D_e rho/d`, the linear driving force `15 D_e/r^2` of a sphere over its
//!    outside (Glueckauf 1955), `D_e` counted in gas; in series, `1/K = 1/k_g + 1/k_s`.
//! 4. `dp/L = 150 mu (1 - e)^2 v/(e^3 d^2) + 1.75 rho v^2 (1 - e)/(e^3 d)` (Ergun).
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! d | `diameter` | m
//! e | `voidage` | m3/m3
//! D_e | `pore` | m2/s
//! v | from the flow | m/s, empty vessel
//!
//! # Holds for
//! Spheres of one size; Re of 3 to 3000. Dispersion along the bed is left out: in spheres it is some
//! half a bead (Peclet number 2), against some 20 beads of the front that pores make.
//!
//! # Sources
//! Wakao and Kaguei (1982), Heat and mass transfer in packed beds. Ergun (1952), Chem. Eng. Prog. 48, 89
//! (both from memory). Glueckauf (1955), Theory of chromatography, part 10, Trans. Faraday Soc. 51, 1540
//! (from memory).
//!
//! # Checked by
//! `tests/src/peers/towers.rs`

use super::passages::Transfer;
use air::{caloric, mixture, transport};

/// Beads in a bed, as air sees them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beads {
    /// Diameter of a bead, m.
    pub diameter: f64,
    /// Share of the bed between the beads.
    pub voidage: f64,
}

/// Air as it passes a bed.
#[derive(Clone, Copy, Debug)]
struct Passing {
    dry_density: f64,
    density: f64,
    viscosity: f64,
    velocity: f64,
    vapour: f64,
}

impl Passing {
    /// A flow (kg of dry air per second and m2 of the empty vessel) at a state.
    fn of(flow: f64, t: f64, p: f64, humidity: f64) -> Self {
        let vapour = mixture::mole_fraction(humidity);
        let dry_density = mixture::dry_air_density(t, p, vapour);
        Self {
            dry_density,
            density: mixture::density(t, p, vapour),
            viscosity: transport::viscosity(t, p, vapour),
            velocity: flow / dry_density,
            vapour,
        }
    }
}

impl Beads {
    /// Outside of the beads per volume of bed, m2/m3.
    pub fn area(&self) -> f64 {
        6.0 * (1.0 - self.voidage) / self.diameter
    }

    /// Transfer per volume of bed at a flow (kg of dry air per second and m2 of the empty vessel),
    /// temperature (K), pressure (Pa) and humidity ratio; into the bead with a pore diffusivity (m2/s,
    /// counted in gas), or of the air alone.
    pub fn transfer(
        &self,
        flow: f64,
        t: f64,
        p: f64,
        humidity: f64,
        pore: Option<f64>,
    ) -> Transfer {
        let air = Passing::of(flow, t, p, humidity);
        let conductivity = transport::thermal_conductivity(t, p, air.vapour);
        let diffusivity = transport::vapour_diffusivity(t, p);
        let reynolds = air.density * air.velocity * self.diameter / air.viscosity;
        let capacity = caloric::heat_capacity(humidity) / (1.0 + humidity);
        let prandtl = capacity * air.viscosity / conductivity;
        let schmidt = air.viscosity / (air.density * diffusivity);
        let film = |group: f64| 2.0 + 1.1 * libm::cbrt(group) * libm::pow(reynolds, 0.6);
        let gas = film(schmidt) * diffusivity / self.diameter;
        let solid = pore.map_or(f64::INFINITY, |pore| 10.0 * pore / self.diameter);
        Transfer {
            water: self.area() * air.dry_density / (1.0 / gas + 1.0 / solid),
            heat: self.area() * film(prandtl) * conductivity / self.diameter,
        }
    }

    /// Pressure drop of a flow (kg of dry air per second and m2 of the empty vessel) over a depth (m), Pa.
    pub fn pressure_drop(&self, flow: f64, depth: f64, t: f64, p: f64, humidity: f64) -> f64 {
        let air = Passing::of(flow, t, p, humidity);
        let (solid, void) = (1.0 - self.voidage, self.voidage);
        let cubed = void * void * void;
        let viscous = 150.0 * air.viscosity * solid * solid * air.velocity
            / (cubed * self.diameter * self.diameter);
        let inertial =
            1.75 * air.density * air.velocity * air.velocity * solid / (cubed * self.diameter);
        depth * (viscous + inertial)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// fluids 1.3.1 (Ergun) and ht 1.2.0 (Wakao and Kaguei) with the air of CoolProp 8.0.0 at a frost point
    /// of -40 degC: velocity, degC, Pa/m and W/(m2 K), in a bed of 3 mm of voidage 0.40; the second as
    /// `bench/peers/packed_bed_table.py` prints it.
    #[test]
    fn peer_beads_as_ergun_and_wakao() {
        let beads = Beads {
            diameter: 3e-3,
            voidage: 0.40,
        };
        let (p, humidity) = (101_325.0, 7.93e-5);
        for (velocity, celsius, gradient, heat) in [
            (0.05, 80.0, 112.1, 52.171),
            (0.1, 100.0, 257.0, 68.964),
            (0.2, 120.0, 623.2, 93.653),
            (0.4, 180.0, 1628.2, 129.585),
        ] {
            let t = 273.15 + celsius;
            let flow = velocity * mixture::dry_air_density(t, p, mixture::mole_fraction(humidity));
            let drop = beads.pressure_drop(flow, 1.0, t, p, humidity);
            // Their air and ours, and the four digits noted.
            assert!((drop / gradient - 1.0).abs() < 1e-3, "{drop} {gradient}");
            let film = beads.transfer(flow, t, p, humidity, None).heat / beads.area();
            // Heat capacity of air: 1.6 % at 180 degC, in a third power.
            assert!((film / heat - 1.0).abs() < 5e-3, "{film} {heat}");
        }
    }

    #[test]
    fn holds_resistances_in_series_and_pressure_grows_with_the_flow() {
        let beads = Beads {
            diameter: 2.5e-3,
            voidage: 0.37,
        };
        let of = |pore| beads.transfer(0.39, 318.15, 101_325.0, 0.004, pore).water;
        let (film, both) = (of(None), of(Some(3e-6)));
        let density = mixture::dry_air_density(318.15, 101_325.0, mixture::mole_fraction(0.004));
        let pores = beads.area() * density * 10.0 * 3e-6 / 2.5e-3;
        assert!((1.0 / both - 1.0 / film - 1.0 / pores).abs() < 1e-12 / both);
        let drop = |flow| beads.pressure_drop(flow, 0.5, 318.15, 101_325.0, 0.004);
        let (one, two) = (drop(0.3), drop(0.6));
        assert!(two > 2.0 * one && two < 4.0 * one, "{one} {two}");
    }
}
