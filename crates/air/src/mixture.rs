//! Density, enthalpy and heat capacity of moist air as a real gas, in plain SI for hot loops.
//!
//! # Equations
//! With `eta = rho R T` and the mixture's `b`, `c` (see `virial`), all at vapour mole fraction `y`:
//! 1. `p = eta (1 + b eta + c eta^2)`, solved for `eta`;
//! 2. `h = (1 - y) h_air + y h_vapour - R T^2 (b' eta + c' eta^2 / 2)` per mole, the primes being
//!    derivatives in temperature. This is `R T ((B - T B') rho + (C - T C' / 2) rho^2)` of Herrmann,
//!    Kretzschmar and Gatley (2009), HVAC&R Research 15, 961, in these variables;
//! 3. heat capacity at constant pressure: the derivative of 2 in temperature, with
//!    `d(eta)/dT = -(b' eta^2 + c' eta^3) / (1 + 2 b eta + 3 c eta^2)` from 1.
//!
//! # Holds for
//! The ranges of [`crate::HumidAir`]. The kernels do not check: the caller does.

use crate::ideal;
use crate::virial::Virials;
use quantity::constants::ZERO_CELSIUS;
use quantity::constants::{DRY_AIR_MOLAR_MASS, MOLAR_GAS, STANDARD_ATMOSPHERE, WATER_MOLAR_MASS};
use std::sync::OnceLock;

/// Molar mass of water over that of dry air.
pub const MASS_RATIO: f64 = WATER_MOLAR_MASS / DRY_AIR_MOLAR_MASS;

/// Humidity ratio, kg/kg dry air, of a vapour mole fraction below one.
#[inline]
pub fn humidity_ratio(mole_fraction: f64) -> f64 {
    MASS_RATIO * mole_fraction / (1.0 - mole_fraction)
}

/// Vapour mole fraction of a humidity ratio, kg/kg dry air.
#[inline]
pub fn mole_fraction(humidity_ratio: f64) -> f64 {
    humidity_ratio / (MASS_RATIO + humidity_ratio)
}

/// Kilograms of dry air in a mole of moist air.
#[inline]
fn dry_mass(y: f64) -> f64 {
    (1.0 - y) * DRY_AIR_MOLAR_MASS
}

/// Kilograms in a mole of moist air.
#[inline]
fn mass(y: f64) -> f64 {
    dry_mass(y) + y * WATER_MOLAR_MASS
}

/// Density of moist air, kg/m3, at `t` K, `p` Pa and vapour mole fraction `y`.
pub fn density(t: f64, p: f64, y: f64) -> f64 {
    mass(y) * molar_density(t, p, y)
}

/// Kilograms of dry air in a cubic metre of moist air at `t` K, `p` Pa and mole fraction `y`.
pub fn dry_air_density(t: f64, p: f64, y: f64) -> f64 {
    dry_mass(y) * molar_density(t, p, y)
}

/// Moles in a cubic metre, mol/m3.
pub(crate) fn molar_density(t: f64, p: f64, y: f64) -> f64 {
    let virials = Virials::at(t);
    density_pressure(virials.b(y), virials.c(y), p) / (MOLAR_GAS * t)
}

/// Enthalpy of moist air, J per kg of dry air, at `t` K, `p` Pa and vapour mole fraction `y` below
/// one; zero for dry air at 0 degC and 101 325 Pa and for liquid water at the triple point.
pub fn enthalpy(t: f64, p: f64, y: f64) -> f64 {
    (molar_enthalpy(t, p, y) - (1.0 - y) * zero_of_air()) / dry_mass(y)
}

/// Heat capacity at constant pressure, J/(kg K), per kg of moist air.
pub fn heat_capacity(t: f64, p: f64, y: f64) -> f64 {
    molar_heat_capacity(t, p, y) / mass(y)
}

/// Heat capacity at constant pressure, J/(kg K), per kg of dry air.
pub fn heat_capacity_per_dry_air(t: f64, p: f64, y: f64) -> f64 {
    molar_heat_capacity(t, p, y) / dry_mass(y)
}

/// `eta` of equation 1: `b` in 1/Pa, `c` in 1/Pa^2, `p` in Pa. One Newton step from the series to
/// third order leaves a relative error under 1e-9 at 1.2 MPa, 1e-15 at one atmosphere.
#[inline]
pub(crate) fn density_pressure(b: f64, c: f64, p: f64) -> f64 {
    let bp = b * p;
    let cp = c * p * p;
    let start = p * (1.0 - bp + 2.0 * bp * bp - cp + 5.0 * bp * (cp - bp * bp));
    let excess = start * (1.0 + start * (b + start * c)) - p;
    start - excess / (1.0 + start * (2.0 * b + 3.0 * c * start))
}

/// Equation 2 before the zero of air is set, J/mol.
fn molar_enthalpy(t: f64, p: f64, y: f64) -> f64 {
    let ([air, vapour], _) = ideal::enthalpies(t);
    let (virials, slopes) = Virials::with_slope(t);
    let eta = density_pressure(virials.b(y), virials.c(y), p);
    let departure = eta * (slopes.b(y) + 0.5 * eta * slopes.c(y));
    (1.0 - y) * air + y * vapour - MOLAR_GAS * t * t * departure
}

/// Enthalpy of dry air at 0 degC and one atmosphere before the zero is set, J/mol.
fn zero_of_air() -> f64 {
    static ZERO: OnceLock<f64> = OnceLock::new();
    *ZERO.get_or_init(|| molar_enthalpy(ZERO_CELSIUS, STANDARD_ATMOSPHERE, 0.0))
}

/// Equation 3, J/(mol K).
fn molar_heat_capacity(t: f64, p: f64, y: f64) -> f64 {
    let (_, [air, vapour]) = ideal::enthalpies(t);
    let (virials, slopes, curvatures) = Virials::with_curvature(t);
    let (b, c) = (virials.b(y), virials.c(y));
    let (b1, c1) = (slopes.b(y), slopes.c(y));
    let eta = density_pressure(b, c, p);
    let d_eta = -eta * eta * (b1 + c1 * eta) / (1.0 + eta * (2.0 * b + 3.0 * c * eta));
    let departure = eta * (b1 + 0.5 * c1 * eta);
    let d_departure =
        eta * (curvatures.b(y) + 0.5 * curvatures.c(y) * eta) + (b1 + c1 * eta) * d_eta;
    (1.0 - y) * air + y * vapour - MOLAR_GAS * t * (2.0 * departure + t * d_departure)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_density_solves_the_virial_equation() {
        for t in [193.15, 233.15, 300.0, 373.15, 523.15] {
            for p in [5e4, 101_325.0, 8e5, 1.2e6] {
                // Vapour as it can be there: 5 % from 300 K up.
                for y in [0.0, 1e-6, if t < 300.0 { 1e-4 } else { 0.05 }] {
                    let v = Virials::at(t);
                    let (b, c) = (v.b(y), v.c(y));
                    let eta = density_pressure(b, c, p);
                    let back = eta * (1.0 + eta * (b + eta * c));
                    assert!((back / p - 1.0).abs() < 2e-9, "{t} {p} {y}: {back}");
                }
            }
        }
    }

    #[test]
    fn exact_zero_of_enthalpy() {
        assert!(enthalpy(ZERO_CELSIUS, STANDARD_ATMOSPHERE, 0.0).abs() < 1e-9);
    }

    #[test]
    fn holds_heat_capacity_is_the_slope_of_enthalpy() {
        for (t, p, y) in [
            (240.0, 101_325.0, 1e-4),
            (300.0, 8e5, 1e-3),
            (373.15, 101_325.0, 0.3),
            (500.0, 1.2e6, 0.05),
        ] {
            let d = 0.05;
            let slope = (enthalpy(t + d, p, y) - enthalpy(t - d, p, y)) / (2.0 * d);
            let ratio = heat_capacity_per_dry_air(t, p, y) / slope;
            assert!((ratio - 1.0).abs() < 1e-7, "{t} {p} {y}: {ratio}");
        }
    }

    #[test]
    fn published_enthalpy_of_saturated_vapour_at_the_triple_point() {
        // Wagner and Pruss (2002), table 13.1: 2500.92 kJ/kg at 273.16 K and 611.657 Pa. The terms
        // past the third virial coefficient, which are cut here, take 69 J/kg off cold vapour.
        let h = molar_enthalpy(273.16, 611.657, 1.0) / WATER_MOLAR_MASS;
        assert!((h / 2_500_920.0 - 1.0).abs() < 3e-5, "{h}");
    }

    #[test]
    fn exact_mole_fraction_and_humidity_ratio_undo_each_other() {
        for y in [0.0, 1e-8, 1e-3, 0.5, 0.9] {
            assert!((mole_fraction(humidity_ratio(y)) - y).abs() <= 1e-15 * (1.0 + y));
        }
    }
}
