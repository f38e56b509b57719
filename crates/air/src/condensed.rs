//! What liquid water and ice bring to the balance with air: molar volume and dissolved air.
//!
//! # Equations
//! 1. Volume of saturated liquid: IAPWS SR1-86(1992), eq. 2 (Wagner and Pruss, 2002, eq. 2.6).
//!    Below the triple point the value there is held: within 2.5 % of supercooled water down to -34
//!    degC (Hare and Sorensen (1987), J. Chem. Phys. 87, 4840, from memory), which moves the vapour
//!    in air by under 3e-4 at 1.2 MPa.
//! 2. Volume of ice: Hyland and Wexler (1983), ASHRAE Trans. 89(2A), 500, eq. 2.
//! 3. Henry constants of nitrogen, oxygen and argon in water: IAPWS G7-04, summed
//!    for air of 78.12, 20.96 and 0.92 mol % (Lemmon et al., 2000). Carried on below 273 K.
//!
//! The compressibility of both phases is left out: at 1.2 MPa it moves the vapour by under 4e-6.

use crate::saturation::{CRITICAL_TEMPERATURE, TRIPLE_POINT, ln_over_liquid};
use quantity::constants::WATER_MOLAR_MASS;

/// Molar volume of liquid water at saturation, m3/mol.
pub(crate) fn volume_of_liquid(t: f64) -> f64 {
    /// IAPWS SR1-86(1992), eq. 2: coefficient and exponent of tau times three.
    const B: [(f64, f64); 6] = [
        (1.992_740_64, 1.0),
        (1.099_653_42, 2.0),
        (-0.510_839_303, 5.0),
        (-1.754_934_79, 16.0),
        (-45.517_035_2, 43.0),
        (-6.746_944_50e5, 110.0),
    ];
    /// Critical density, kg/m3. IAPWS R6-95(2018), section 1.
    const CRITICAL_DENSITY: f64 = 322.0;
    let third = libm::cbrt(1.0 - t.max(TRIPLE_POINT) / CRITICAL_TEMPERATURE);
    let ln_third = libm::log(third);
    let sum: f64 = B.iter().map(|&(b, n)| b * libm::exp(n * ln_third)).sum();
    WATER_MOLAR_MASS / (CRITICAL_DENSITY * (1.0 + sum))
}

/// Molar volume of ice, m3/mol.
pub(crate) fn volume_of_ice(t: f64) -> f64 {
    // Hyland and Wexler (1983), eq. 2, m3/kg.
    WATER_MOLAR_MASS * (1.070_003e-3 + t * (-2.499_36e-8 + t * 3.716_11e-10))
}

/// Mole fraction of air dissolved in water per pascal of air above it, 1/Pa.
pub(crate) fn dissolved_air(t: f64) -> f64 {
    /// Mole fraction in air; A, B, C of IAPWS G7-04 for solutes in H2O.
    const GASES: [(f64, [f64; 3]); 3] = [
        (0.7812, [-9.675_78, 4.721_62, 11.705_85]),
        (0.2096, [-9.448_33, 4.438_22, 11.420_05]),
        (0.0092, [-8.409_54, 4.295_87, 10.527_79]),
    ];
    let reduced = t / CRITICAL_TEMPERATURE;
    let tau = 1.0 - reduced;
    let bend = libm::exp(0.355 * libm::log(tau)) / reduced;
    let rise = libm::exp(-0.41 * libm::log(reduced) + tau);
    let ln_water = ln_over_liquid(t).0;
    GASES
        .iter()
        .map(|(share, [a, b, c])| {
            share * libm::exp(-(ln_water + a / reduced + b * bend + c * rise))
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_density_of_saturated_liquid() {
        // IAPWS SR1-86(1992), table 1: 999.789 kg/m3 at 273.16 K, 958.365 kg/m3 at 373.1243 K.
        for (t, density) in [(273.16, 999.789), (373.1243, 958.365)] {
            assert!((WATER_MOLAR_MASS / volume_of_liquid(t) / density - 1.0).abs() < 2e-6);
        }
    }

    #[test]
    fn published_volume_of_ice() {
        // Hyland and Wexler (1983), appendix, first table: m3/kg at three temperatures.
        for (t, volume) in [
            (173.15, 1.0768e-3),
            (223.15, 1.0829e-3),
            (273.16, 1.0909e-3),
        ] {
            assert!((volume_of_ice(t) / WATER_MOLAR_MASS - volume).abs() < 0.6e-7);
        }
    }

    #[test]
    fn published_henry_constants() {
        // IAPWS G7-04, check values: ln(kH / GPa) at 300 K is 2.1716 (N2), 1.5024 (O2), 1.4061 (Ar).
        let expected =
            0.7812 / libm::exp(2.1716) + 0.2096 / libm::exp(1.5024) + 0.0092 / libm::exp(1.4061);
        assert!((dissolved_air(300.0) * 1e9 / expected - 1.0).abs() < 2e-4);
    }
}
