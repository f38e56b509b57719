//! Enthalpy of air and of water vapour as ideal gases, with the zeros the crate counts from.
//!
//! # Equations
//! `h = R T (1 + tau d(alpha0)/d(tau))` with
//! 1. for air: Lemmon, Jacobsen, Penoncello and Friend (2000), J. Phys. Chem. Ref. Data 29, 331;
//!    its additive constant is replaced by one that makes real dry air zero at 0 degC and
//!    101 325 Pa;
//! 2. for vapour: IAPWS R6-95(2018), eq. 5 and table 1, whose own constants make saturated liquid
//!    water at the triple point the zero of internal energy (its enthalpy there is 0.6 J/kg).

use crate::saturation::CRITICAL_TEMPERATURE;
use crate::table::Table;
use crate::virial::AIR_REDUCING;
use quantity::constants::WATER_MOLAR_MASS;
use std::sync::OnceLock;

/// Molar gas constant the air formulation was fitted with, J/(mol K). Lemmon et al. (2000).
const AIR_GAS_CONSTANT: f64 = 8.314_510;
/// Specific gas constant of water, J/(kg K). IAPWS R6-95(2018), eq. 3.
const WATER_GAS_CONSTANT: f64 = 461.518_05;

/// Molar ideal-gas enthalpies of air (zero not yet set) and vapour, J/mol, and their slopes,
/// J/(mol K), from the table: 4 K cells from 173.15 K to 525.15 K.
#[inline]
pub(crate) fn enthalpies(t: f64) -> ([f64; 2], [f64; 2]) {
    static TABLE: OnceLock<Table<2>> = OnceLock::new();
    TABLE
        .get_or_init(|| Table::new(173.15, 4.0, 88, |t| [air(t), vapour(t)]))
        .with_slope(t)
}

/// Equation 1, J/mol.
fn air(t: f64) -> f64 {
    /// Coefficient and exponent of tau. Lemmon et al. (2000), N1 to N3, N5 and N8; N4
    /// and the constant part of N5 fall out of a difference of enthalpies.
    const POWERS: [(f64, f64); 5] = [
        (6.057_194e-8, -3.0),
        (-2.102_747_69e-5, -2.0),
        (-1.588_607_16e-4, -1.0),
        (17.275_266_575, 1.0),
        (-1.953_634_2e-4, 1.5),
    ];
    /// Coefficient of ln(tau), N7.
    const LOGARITHM: f64 = 2.490_888_032;
    /// N9 with N11 and N10 with N12: oscillators.
    const OSCILLATORS: [(f64, f64); 2] = [(0.791_309_509, 25.363_65), (0.212_236_768, 16.907_41)];
    /// N13 and N14, in `N13 ln(2/3 + exp(N14 tau))`.
    const LAST: (f64, f64) = (-0.197_938_904, 87.312_79);
    let tau = AIR_REDUCING.0 / t;
    let ln_tau = libm::log(tau);
    let mut sum = LOGARITHM;
    for (n, k) in POWERS {
        sum += n * k * libm::exp(k * ln_tau);
    }
    for (n, theta) in OSCILLATORS {
        sum += n * theta * tau / libm::expm1(theta * tau);
    }
    sum += LAST.0 * LAST.1 * tau / (1.0 + 2.0 / 3.0 * libm::exp(-LAST.1 * tau));
    AIR_GAS_CONSTANT * t * (1.0 + sum)
}

/// Equation 2, J/mol.
fn vapour(t: f64) -> f64 {
    /// n2 and n3. IAPWS R6-95(2018), table 1.
    const LINEAR: f64 = 6.683_210_527_593_2;
    const LOGARITHM: f64 = 3.006_32;
    /// n4 to n8 with their gamma. IAPWS R6-95(2018), table 1.
    const OSCILLATORS: [(f64, f64); 5] = [
        (0.012_436, 1.287_289_67),
        (0.973_15, 3.537_342_22),
        (1.279_50, 7.740_737_08),
        (0.969_56, 9.244_377_96),
        (0.248_73, 27.507_510_5),
    ];
    let tau = CRITICAL_TEMPERATURE / t;
    let mut sum = LINEAR * tau + LOGARITHM;
    for (n, gamma) in OSCILLATORS {
        sum += n * gamma * tau / libm::expm1(gamma * tau);
    }
    WATER_GAS_CONSTANT * WATER_MOLAR_MASS * t * (1.0 + sum)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_table_reproduces_the_formulas() {
        let mut t = 173.2;
        while t < 523.1 {
            let ([a, w], _) = enthalpies(t);
            assert!((a / air(t) - 1.0).abs() < 1e-11, "{t}");
            assert!((w / vapour(t) - 1.0).abs() < 1e-11, "{t}");
            t += 0.37;
        }
    }

    #[test]
    fn published_heat_capacity_of_ideal_vapour() {
        // Chase (1998), NIST-JANAF Thermochemical Tables, 4th edition, H2O(g), J/(mol K).
        for (t, capacity) in [(298.15, 33.590), (500.0, 35.226)] {
            let (_, [_, slope]) = enthalpies(t);
            assert!((slope - capacity).abs() < 0.012, "{t}: {slope}");
        }
    }
}
