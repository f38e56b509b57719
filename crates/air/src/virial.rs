//! Second and third virial coefficients of air, water and their pairs, divided by (RT) and (RT)^2.
//!
//! # Equations
//! With the density written as `eta = rho R T` (a pressure), the virial equation
//! `p = rho R T (1 + B rho + C rho^2)` becomes `p = eta (1 + b eta + c eta^2)`,
//! `b = B / (RT)`, `c = C / (RT)^2`.
//!
//! 1. Air with air: the limits at zero density of the equation of state of Lemmon, Jacobsen,
//!    Penoncello and Friend (2000), J. Phys. Chem. Ref. Data 29, 331.
//! 2. Water with water: the same limits of IAPWS R6-95(2018), table 2.
//! 3. Air with water, second: Harvey and Huang (2007), Int. J. Thermophys. 28, 556.
//! 4. Air with water, third: Hyland and Wexler (1983), ASHRAE Trans. 89(2A), 520, as kept in IAPWS
//!    G9-12(2012).
//!
//! For an equation of state `alpha(delta, tau) = sum n delta^d tau^t exp(-delta^l)`, the limits are
//! `B rho_r = sum over d = 1` and `C rho_r^2 / 2 = sum over d = 2 less sum over d = 1, l = 1`.
//!
//! # Holds for
//! 193 K to 473 K by the third coefficients of the pair (IAPWS G9-12); 173 K to 193 K and 473 K to
//! 523 K are carried on, where the pair's third coefficient is worth under 1e-4 of the density.

use crate::saturation::CRITICAL_TEMPERATURE;
use crate::table::Table;
use quantity::constants::MOLAR_GAS;
use std::sync::OnceLock;

/// Reducing temperature of air, K, and its molar density, mol/m3. Lemmon et al. (2000).
pub(crate) const AIR_REDUCING: (f64, f64) = (132.6312, 10_447.7);
/// Molar density of water at its critical point, mol/m3: 322 kg/m3 over 0.018015268 kg/mol.
/// IAPWS R6-95(2018), section 1.
const WATER_REDUCING_DENSITY: f64 = 17_873.727_995_609_06;

/// `b` of the three pairs (1/Pa) and `c` of the four triples (1/Pa^2).
#[derive(Clone, Copy)]
pub(crate) struct Virials {
    pub(crate) b_aa: f64,
    pub(crate) b_aw: f64,
    pub(crate) b_ww: f64,
    pub(crate) c_aaa: f64,
    pub(crate) c_aaw: f64,
    pub(crate) c_aww: f64,
    pub(crate) c_www: f64,
}

impl Virials {
    fn from_row([b_aa, b_aw, b_ww, c_aaa, c_aaw, c_aww, c_www]: [f64; 7]) -> Self {
        Self {
            b_aa,
            b_aw,
            b_ww,
            c_aaa,
            c_aaw,
            c_aww,
            c_www,
        }
    }

    /// At `t` kelvin, from the table.
    #[inline]
    pub(crate) fn at(t: f64) -> Self {
        Self::from_row(table().at(t))
    }

    /// At `t` kelvin with first and second derivative in temperature.
    #[inline]
    pub(crate) fn with_curvature(t: f64) -> (Self, Self, Self) {
        let (value, slope, curvature) = table().with_curvature(t);
        (
            Self::from_row(value),
            Self::from_row(slope),
            Self::from_row(curvature),
        )
    }

    /// At `t` kelvin with the derivative in temperature.
    #[inline]
    pub(crate) fn with_slope(t: f64) -> (Self, Self) {
        let (value, slope) = table().with_slope(t);
        (Self::from_row(value), Self::from_row(slope))
    }

    /// `b` of the mixture with vapour mole fraction `y`.
    #[inline]
    pub(crate) fn b(&self, y: f64) -> f64 {
        let x = 1.0 - y;
        x * x * self.b_aa + y * (2.0 * x * self.b_aw + y * self.b_ww)
    }

    /// `c` of the mixture with vapour mole fraction `y`.
    #[inline]
    pub(crate) fn c(&self, y: f64) -> f64 {
        let x = 1.0 - y;
        x * x * (x * self.c_aaa + 3.0 * y * self.c_aaw)
            + y * y * (3.0 * x * self.c_aww + y * self.c_www)
    }
}

/// The table, filled at first use: 2 K cells from 173.15 K to 523.15 K.
fn table() -> &'static Table<7> {
    static TABLE: OnceLock<Table<7>> = OnceLock::new();
    TABLE.get_or_init(|| Table::new(173.15, 2.0, 175, reduced))
}

/// The seven coefficients over (RT) or (RT)^2 at `t` kelvin, from the formulas.
fn reduced(t: f64) -> [f64; 7] {
    let rt = MOLAR_GAS * t;
    let (b_aa, c_aaa) = air(t);
    let (b_ww, c_www) = water(t);
    let (c_aaw, c_aww) = third_of_pair(t);
    let square = rt * rt;
    [
        b_aa / rt,
        second_of_pair(t) / rt,
        b_ww / rt,
        c_aaa / square,
        c_aaw / square,
        c_aww / square,
        c_www / square,
    ]
}

/// `tau^t`, for the sums below.
fn power_sum(terms: &[(f64, f64)], ln_tau: f64) -> f64 {
    terms.iter().map(|&(n, t)| n * libm::exp(t * ln_tau)).sum()
}

/// Equation 1: B (m3/mol) and C (m6/mol2) of dry air.
pub(crate) fn air(t: f64) -> (f64, f64) {
    /// Terms with d = 1: coefficient and exponent of tau. Lemmon et al. (2000).
    const FIRST: [(f64, f64); 6] = [
        (0.118_160_747_229, 0.0),
        (0.713_116_392_079, 0.33),
        (-1.618_241_920_67, 1.01),
        (-0.101_365_037_912, 1.6),
        (-0.146_629_609_713, 3.6),
        (0.014_828_789_197_8, 3.5),
    ];
    /// The term with d = 2, then minus the one with d = 1, l = 1. Lemmon et al. (2000).
    const SECOND: [(f64, f64); 2] = [(0.071_414_017_897_1, 0.0), (0.101_365_037_912, 1.6)];
    let ln_tau = libm::log(AIR_REDUCING.0 / t);
    (
        power_sum(&FIRST, ln_tau) / AIR_REDUCING.1,
        2.0 * power_sum(&SECOND, ln_tau) / (AIR_REDUCING.1 * AIR_REDUCING.1),
    )
}

/// Equation 2: B (m3/mol) and C (m6/mol2) of water vapour. The two non-analytic terms of R6-95 add
/// under 1e-11 of B in this range and are left out.
pub(crate) fn water(t: f64) -> (f64, f64) {
    /// Terms with d = 1. IAPWS R6-95(2018), table 2, rows 1-3, 8-10 and 23.
    const FIRST: [(f64, f64); 7] = [
        (0.012_533_547_935_523, -0.5),
        (7.895_763_472_282_8, 0.875),
        (-8.780_320_330_356_1, 1.0),
        (-0.668_565_723_079_65, 4.0),
        (0.204_338_109_509_65, 6.0),
        (-6.621_260_503_968_7e-5, 12.0),
        (-0.107_936_009_089_32, 7.0),
    ];
    /// Terms with d = 2 (rows 4, 5, 11, 12, 24-26), then minus those with d = 1, l = 1 (rows 8-10).
    const SECOND: [(f64, f64); 10] = [
        (0.318_025_093_454_18, 0.5),
        (-0.261_455_338_593_58, 0.75),
        (-0.192_327_211_560_02, 1.0),
        (-0.257_090_430_034_38, 5.0),
        (0.017_611_491_008_752, 1.0),
        (0.221_322_951_675_46, 9.0),
        (-0.402_476_697_635_28, 10.0),
        (0.668_565_723_079_65, 4.0),
        (-0.204_338_109_509_65, 6.0),
        (6.621_260_503_968_7e-5, 12.0),
    ];
    let ln_tau = libm::log(CRITICAL_TEMPERATURE / t);
    (
        power_sum(&FIRST, ln_tau) / WATER_REDUCING_DENSITY,
        2.0 * power_sum(&SECOND, ln_tau) / (WATER_REDUCING_DENSITY * WATER_REDUCING_DENSITY),
    )
}

/// Equation 3: B of one air with one water molecule, m3/mol.
pub(crate) fn second_of_pair(t: f64) -> f64 {
    /// Harvey and Huang (2007): cm3/mol and exponent of T / 100 K.
    const TERMS: [(f64, f64); 3] = [(66.5687, -0.237), (-238.834, -1.048), (-176.755, -3.183)];
    1e-6 * power_sum(&TERMS, libm::log(t / 100.0))
}

/// Equation 4: C of two air with one water, and of one air with two water, m6/mol2.
pub(crate) fn third_of_pair(t: f64) -> (f64, f64) {
    let r = 1.0 / t;
    // Hyland and Wexler (1983), cm6/mol2 in powers of 1/T.
    let aaw = 482.737 + r * (1.056_78e5 + r * (-6.563_94e7 + r * (2.944_42e10 - r * 3.193_17e12)));
    // Hyland and Wexler (1983), natural logarithm of -C over 1e6 cm6/mol2.
    let ln_aww = -10.728_87 + r * (3478.04 + r * (-3.833_83e5 + r * 3.340_60e7));
    (1e-12 * aaw, -1e-6 * libm::exp(ln_aww))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_second_virial_of_air() {
        // IAPWS G9-12(2012) for air at 200 K: -3.92722567e-5 m3/mol.
        assert!((air(200.0).0 / -3.927_225_67e-5 - 1.0).abs() < 2e-9);
    }

    #[test]
    fn holds_table_reproduces_the_formulas() {
        let mut worst: f64 = 0.0;
        let mut t = 173.2;
        while t < 523.1 {
            let (table, exact) = (table().at(t), reduced(t));
            for k in 0..7 {
                // What counts is the share of the compressibility at 1.2 MPa.
                let weight = if k < 3 { 1.2e6 } else { 1.44e12 };
                // Pure water coefficients only act at vapour pressures up to 1.3 MPa; 0.1 MPa
                // suffices under 100 degC, but the full weight is kept.
                let share = (table[k] - exact[k]).abs() * weight / (1.0 + exact[k].abs() * weight);
                worst = worst.max(share);
            }
            t += 0.137;
        }
        assert!(worst < 1e-9, "worst {worst}");
    }
}
