//! Saturation pressure of pure water over its liquid and over ice, in plain SI for hot loops.
//!
//! # Equations
//! 1. Over liquid from the triple point to the critical point: Wagner, Saul and Pruss (1993),
//!    J. Phys. Chem. Ref. Data 22, 783, as kept in IAPWS SR1-86(1992), eq. 1, and in Wagner and
//!    Pruss (2002), J. Phys. Chem. Ref. Data 31, 387, eq. 2.5.
//! 2. Over supercooled liquid: Murphy and Koop (2005), Q. J. R. Meteorol. Soc. 131, 1539, eq. 10,
//!    times `1 + 4.3e-8` so that both branches meet at the triple point. Equation 1 carried below
//!    the triple point would be 0.08 % high at -20 degC and 0.7 % high at -40 degC.
//! 3. Over ice: IAPWS R14-08(2011), eq. 6, which is Wagner, Riethmann, Feistel and Harvey (2011),
//!    J. Phys. Chem. Ref. Data 40, 043103.
//!
//! # Holds for
//! Liquid 173.15 K to 647.096 K, ice 173.15 K to 273.16 K. Outside, and for a temperature that is
//! not a number, the functions answer for the nearer end (the lower end for not-a-number), so they
//! are monotone and finite everywhere; typed callers refuse such temperatures before they get here.
//!
//! # Speed
//! Up to 573.16 K the curves are read from piecewise polynomials, made from the formulas at first use
//! and within 1e-9 of them (tested): no exponential, a few nanoseconds.

use crate::table::Table;
use std::sync::OnceLock;

/// Lowest temperature either kernel answers for, K. Our own bound, 20 K under the lowest frost point
/// the crate serves; the sources reach 123 K (liquid) and 50 K (ice).
pub const LOWEST: f64 = 173.15;
/// Triple point of water, K. IAPWS R6-95(2018), section 1, by definition of ITS-90.
pub const TRIPLE_POINT: f64 = 273.16;
/// Critical temperature of water, K. IAPWS R6-95(2018), table 1.
pub const CRITICAL_TEMPERATURE: f64 = 647.096;
/// Critical pressure of water, Pa. IAPWS R6-95(2018), section 1.
const CRITICAL_PRESSURE: f64 = 22.064e6;
/// Pressure at the triple point, Pa. IAPWS R14-08(2011), table 1.
const TRIPLE_PRESSURE: f64 = 611.657;

/// Vapour pressure of pure liquid water at `t_k` kelvin, Pa; supercooled below 273.16 K.
#[inline]
pub fn over_liquid(t_k: f64) -> f64 {
    let t = held(t_k, CRITICAL_TEMPERATURE);
    if t < TABLE_END {
        liquid().at(t)[0]
    } else {
        libm::exp(ln_over_liquid(t).0)
    }
}

/// Slope of [`over_liquid`] with temperature, Pa/K; beyond the ends, the slope at the end.
#[inline]
pub fn over_liquid_slope(t_k: f64) -> f64 {
    let t = held(t_k, CRITICAL_TEMPERATURE);
    if t < TABLE_END {
        liquid().with_slope(t).1[0]
    } else {
        let (ln_p, slope) = ln_over_liquid(t);
        libm::exp(ln_p) * slope
    }
}

/// Vapour pressure of pure ice at `t_k` kelvin, Pa.
#[inline]
pub fn over_ice(t_k: f64) -> f64 {
    ice().at(held(t_k, TRIPLE_POINT))[0]
}

/// Slope of [`over_ice`] with temperature, Pa/K; beyond the ends, the slope at the end.
#[inline]
pub fn over_ice_slope(t_k: f64) -> f64 {
    ice().with_slope(held(t_k, TRIPLE_POINT)).1[0]
}

/// Where the table over liquid ends, K: 400 K above the start, with a knot at the triple point.
const TABLE_END: f64 = TRIPLE_POINT + 300.0;

/// Pressure over liquid and its logarithm.
pub(crate) fn liquid() -> &'static Table<2> {
    static TABLE: OnceLock<Table<2>> = OnceLock::new();
    TABLE.get_or_init(|| {
        Table::new(TRIPLE_POINT - 101.0, 1.0, 401, |t| {
            let (ln_p, _) = ln_over_liquid(t);
            [libm::exp(ln_p), ln_p]
        })
    })
}

/// Pressure over ice and its logarithm.
pub(crate) fn ice() -> &'static Table<2> {
    static TABLE: OnceLock<Table<2>> = OnceLock::new();
    TABLE.get_or_init(|| {
        Table::new(TRIPLE_POINT - 101.0, 1.0, 101, |t| {
            let (ln_p, _) = ln_over_ice(t);
            [libm::exp(ln_p), ln_p]
        })
    })
}

/// The temperature brought inside `LOWEST..highest`; not-a-number becomes the lower end.
fn held(t_k: f64, highest: f64) -> f64 {
    if t_k > LOWEST {
        t_k.min(highest)
    } else {
        LOWEST
    }
}

/// Logarithm of the pressure over liquid (Pa) and its slope (1/K), equations 1 and 2.
pub(crate) fn ln_over_liquid(t: f64) -> (f64, f64) {
    if t < TRIPLE_POINT {
        ln_over_supercooled(t)
    } else {
        ln_over_stable(t)
    }
}

/// Equation 1.
fn ln_over_stable(t: f64) -> (f64, f64) {
    /// IAPWS SR1-86(1992), eq. 1.
    const A: [f64; 6] = [
        -7.859_517_83,
        1.844_082_59,
        -11.786_649_7,
        22.680_741_1,
        -15.961_871_9,
        1.801_225_02,
    ];
    let tau = 1.0 - t / CRITICAL_TEMPERATURE;
    let root = libm::sqrt(tau);
    let tau2 = tau * tau;
    let tau3 = tau2 * tau;
    let sum = A[0] * tau
        + root * (A[1] * tau + A[3] * tau3 + A[5] * tau3 * tau3 * tau)
        + A[2] * tau3
        + A[4] * tau2 * tau2;
    let d_sum = A[0]
        + root * (1.5 * A[1] + 3.5 * A[3] * tau2 + 7.5 * A[5] * tau3 * tau3)
        + 3.0 * A[2] * tau2
        + 4.0 * A[4] * tau3;
    let ln_p = libm::log(CRITICAL_PRESSURE) + CRITICAL_TEMPERATURE / t * sum;
    (ln_p, -(CRITICAL_TEMPERATURE / t * sum + d_sum) / t)
}

/// Equation 2.
fn ln_over_supercooled(t: f64) -> (f64, f64) {
    /// Equation 1 over equation 2 at 273.16 K, less one.
    const JOIN: f64 = 4.266_472_9e-8;
    let log_t = libm::log(t);
    let bend = libm::tanh(0.0415 * (t - 218.8));
    let d_bend = 0.0415 * (1.0 - bend * bend);
    let low = 53.878 - 1331.22 / t - 9.445_23 * log_t + 0.014_025 * t;
    let ln_p = 54.842_763 - 6763.22 / t - 4.210 * log_t + 0.000_367 * t + bend * low + JOIN;
    let slope = 6763.22 / (t * t) - 4.210 / t
        + 0.000_367
        + d_bend * low
        + bend * (1331.22 / (t * t) - 9.445_23 / t + 0.014_025);
    (ln_p, slope)
}

/// Logarithm of the pressure over ice (Pa) and its slope (1/K), equation 3.
pub(crate) fn ln_over_ice(t: f64) -> (f64, f64) {
    /// IAPWS R14-08(2011), table 2: coefficient and exponent.
    const A: [f64; 3] = [-21.214_400_6, 27.320_381_9, -6.105_981_30];
    const B: [f64; 3] = [0.003_333_333_33, 1.206_666_67, 1.703_333_33];
    let theta = t / TRIPLE_POINT;
    let log_theta = libm::log(theta);
    let mut sum = 0.0;
    let mut d_sum = 0.0;
    for (a, b) in A.into_iter().zip(B) {
        let term = a * libm::exp((b - 1.0) * log_theta);
        sum += term;
        d_sum += (b - 1.0) * term;
    }
    (libm::log(TRIPLE_PRESSURE) + sum, d_sum / t)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(computed: f64, expected: f64, relative: f64) {
        assert!(
            (computed / expected - 1.0).abs() <= relative,
            "computed {computed}, expected {expected}, ratio {}",
            computed / expected
        );
    }

    #[test]
    fn published_iapws_ice_check_value() {
        // IAPWS R14-08(2011), table 3: 8.94735 Pa at 230 K.
        near(over_ice(230.0), 8.947_35, 6e-7);
    }

    #[test]
    fn published_iapws_liquid_check_values() {
        // IAPWS SR1-86(1992), table 1.
        near(over_liquid(273.16), 611.657, 1e-6);
        near(over_liquid(373.1243), 0.101_325e6, 1e-6);
        near(over_liquid(647.096), 22.064e6, 1e-12);
    }

    #[test]
    fn holds_monotone_and_finite_everywhere() {
        let mut last = (0.0, 0.0);
        for step in 0..6000 {
            let t = 100.0 + 0.1 * f64::from(step);
            let now = (over_liquid(t), over_ice(t));
            assert!(now.0 >= last.0 && now.1 >= last.1, "falls at {t} K");
            assert!(over_liquid_slope(t) > 0.0 && over_ice_slope(t) > 0.0);
            last = now;
        }
        for odd in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -5.0] {
            assert!(over_liquid(odd).is_finite() && over_ice(odd).is_finite());
            assert!(over_liquid_slope(odd).is_finite() && over_ice_slope(odd).is_finite());
        }
    }

    #[test]
    fn holds_table_reproduces_the_formulas() {
        for step in 0..3999 {
            let t = 173.2 + 0.1 * f64::from(step);
            let (ln_p, slope) = ln_over_liquid(t);
            near(over_liquid(t), libm::exp(ln_p), 1e-9);
            near(over_liquid_slope(t), libm::exp(ln_p) * slope, 1e-8);
            if t < TRIPLE_POINT {
                let (ln_p, slope) = ln_over_ice(t);
                near(over_ice(t), libm::exp(ln_p), 1e-9);
                near(over_ice_slope(t), libm::exp(ln_p) * slope, 1e-8);
            }
        }
    }

    #[test]
    fn holds_slope_is_the_derivative() {
        for t in [180.0, 233.15, 260.0, 273.0, 273.5, 350.0, 523.15, 640.0] {
            let h = 1e-3;
            near(
                (over_liquid(t + h) - over_liquid(t - h)) / (2.0 * h),
                over_liquid_slope(t),
                1e-7,
            );
        }
        for t in [180.0, 200.0, 240.0, 273.0] {
            let h = 1e-3;
            near(
                (over_ice(t + h) - over_ice(t - h)) / (2.0 * h),
                over_ice_slope(t),
                1e-7,
            );
        }
    }

    #[test]
    fn holds_branches_meet_at_the_triple_point() {
        near(
            over_liquid(TRIPLE_POINT - 1e-9),
            over_liquid(TRIPLE_POINT),
            1e-9,
        );
        near(over_ice(TRIPLE_POINT), over_liquid(TRIPLE_POINT), 2e-7);
    }
}
