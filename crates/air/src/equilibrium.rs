//! How much vapour air holds over liquid water or ice at a total pressure, and back, in plain SI.
//!
//! # Equations
//! Vapour in the gas and the condensed phase have one fugacity:
//! `y p phi(T, p, y) = e(T) phi(T, e, 1) exp(v (p - e) / RT) (1 - beta (1 - y) p)`
//! with `y` the vapour mole fraction, `e` the saturation pressure of pure water ([`crate::saturation`]),
//! `v` the molar volume of the condensed phase and `beta` the air dissolved in it (liquid only).
//! The fugacity coefficient of the vapour in the mixture follows from the virial equation in density,
//! `ln phi = 2 eta (x b_aw + y b_ww) + 3/2 eta^2 (x^2 c_aaw + 2 x y c_aww + y^2 c_www) - ln Z`,
//! `x = 1 - y`, `Z = p / eta` (Prausnitz, Lichtenthaler and de Azevedo (1999), Molecular
//! Thermodynamics of Fluid-Phase Equilibria, eq. 5-33, for the Leiden form). The factor
//! `f = y p / e` is the enhancement factor of Hyland and Wexler (1983), ASHRAE Trans. 89(2A), 520,
//! whose long equation is the same balance expanded to second order in pressure; with the same
//! coefficients the two agree within 2e-5 in `y` down to -60 degC at 1.2 MPa.
//!
//! # Symbols
//! `t` K, `p` Pa, `y` mole fraction.
//!
//! # Holds for
//! -80 to 100 degC and 50 kPa to 1.2 MPa, and as the saturation behind relative humidity up to the
//! boiling point at 1.2 MPa (188 degC). The kernels do not check: the caller does. They never answer
//! not-a-number for finite arguments; temperatures outside 173.15 K to 463.15 K count as the end.

use crate::condensed;
use crate::mixture::density_pressure;
use crate::saturation::{self, LOWEST, TRIPLE_POINT};
use crate::table::Table;
use crate::virial::{self, Virials};
use quantity::constants::MOLAR_GAS;
use std::sync::OnceLock;

/// Above this vapour mole fraction there is no air left to speak of. Our own bound: it is reached
/// 0.0001 K under the boiling point.
pub const MOST_VAPOUR: f64 = 1.0 - 1e-6;
/// Highest temperature of the liquid line, K: above the boiling point at 1.2 MPa, 461.1 K.
const HIGHEST: f64 = 463.15;

/// Vapour mole fraction of air saturated over liquid (supercooled below 273.16 K) at `t` K and `p`
/// Pa; one, which is steam without air, where pure water would boil (`e >= p`).
pub fn saturated_over_liquid(t: f64, p: f64) -> f64 {
    let t = held(t, HIGHEST);
    saturated(t, p, &liquid().at(t))
}

/// Vapour mole fraction of air saturated over ice at `t` K (up to 273.16 K) and `p` Pa.
pub fn saturated_over_ice(t: f64, p: f64) -> f64 {
    let t = held(t, TRIPLE_POINT);
    saturated(t, p, &ice().at(t))
}

/// Temperature, K, at which air of vapour mole fraction `y` at `p` Pa is saturated over liquid.
pub fn dew_temperature(y: f64, p: f64) -> f64 {
    temperature(y, p, liquid(), over_liquid_inverse(), HIGHEST)
}

/// Temperature, K, at which air of vapour mole fraction `y` at `p` Pa is saturated over ice; at most
/// 273.16 K.
pub fn frost_temperature(y: f64, p: f64) -> f64 {
    temperature(y, p, ice(), over_ice_inverse(), TRIPLE_POINT)
}

/// Vapour over saturation over liquid at `t` K and `p` Pa, as a fraction. Where pure water would
/// boil there is no saturated air; the vapour pressure is then counted against that of pure water,
/// which the ratio reaches continuously at the boiling point.
pub fn relative_humidity(t: f64, p: f64, y: f64) -> f64 {
    y / saturation_limit(t, p)
}

/// What relative humidity is counted against: the saturated mole fraction, or `e / p` past boiling.
#[inline]
pub(crate) fn saturation_limit(t: f64, p: f64) -> f64 {
    let pure = saturation::over_liquid(t);
    if pure < p && t < HIGHEST {
        saturated_over_liquid(t, p)
    } else {
        pure / p
    }
}

#[inline]
fn held(t: f64, highest: f64) -> f64 {
    if t > LOWEST { t.min(highest) } else { LOWEST }
}

/// One condensed phase at one temperature: `[e, v / RT, beta, ln phi(T, e, 1)]`.
type Line = [f64; 4];

/// The liquid line: 1 K cells from 172.16 K, a knot at the triple point.
fn liquid() -> &'static Table<4> {
    static TABLE: OnceLock<Table<4>> = OnceLock::new();
    TABLE.get_or_init(|| {
        Table::new(TRIPLE_POINT - 101.0, 1.0, 292, |t| {
            let e = libm::exp(saturation::ln_over_liquid(t).0);
            let volume = condensed::volume_of_liquid(t) / (MOLAR_GAS * t);
            [e, volume, condensed::dissolved_air(t), ln_phi_pure(t, e)]
        })
    })
}

/// The ice line: 1 K cells from 172.16 K to the triple point.
fn ice() -> &'static Table<4> {
    static TABLE: OnceLock<Table<4>> = OnceLock::new();
    TABLE.get_or_init(|| {
        Table::new(TRIPLE_POINT - 101.0, 1.0, 101, |t| {
            let e = libm::exp(saturation::ln_over_ice(t).0);
            let volume = condensed::volume_of_ice(t) / (MOLAR_GAS * t);
            [e, volume, 0.0, ln_phi_pure(t, e)]
        })
    })
}

/// Logarithm of the fugacity coefficient of pure vapour, from the formulas.
fn ln_phi_pure(t: f64, e: f64) -> f64 {
    let [_, _, b, _, _, _, c] = virial::reduced(t);
    let eta = density_pressure(b, c, e);
    eta * (2.0 * b + 1.5 * c * eta) - ln_1p(eta * (b + c * eta))
}

/// Logarithm of the fugacity coefficient of vapour in the mixture and its slope in `y` (to the
/// second virial coefficients, which is what Newton needs).
#[inline]
pub(crate) fn ln_phi(virials: &Virials, p: f64, y: f64) -> (f64, f64) {
    let x = 1.0 - y;
    let cross = x * virials.b_aw + y * virials.b_ww;
    let b = x * x * virials.b_aa + y * (x * virials.b_aw + cross);
    let third = x * (x * virials.c_aaw + 2.0 * y * virials.c_aww) + y * y * virials.c_www;
    let c = virials.c(y);
    let eta = density_pressure(b, c, p);
    let value = eta * (2.0 * cross + 1.5 * third * eta) - ln_1p(eta * (b + c * eta));
    let d_b = 2.0 * (cross - x * virials.b_aa - y * virials.b_aw);
    (value, eta * (2.0 * (virials.b_ww - virials.b_aw) - d_b))
}

/// `ln(1 + z)` for `|z| < 0.1`: the area-tangent series, whose next term is below 1e-15.
#[inline]
fn ln_1p(z: f64) -> f64 {
    let s = z / (2.0 + z);
    let s2 = s * s;
    2.0 * s * (1.0 + s2 * (1.0 / 3.0 + s2 * (0.2 + s2 * (1.0 / 7.0 + s2 / 9.0))))
}

/// Logarithm of the enhancement factor at `y`, and its slope in `y`.
#[inline]
fn ln_enhancement(virials: &Virials, [e, volume, beta, pure]: &Line, p: f64, y: f64) -> (f64, f64) {
    let (phi, d_phi) = ln_phi(virials, p, y);
    let dissolved = beta * p;
    let value = volume * (p - e) + ln_1p(-dissolved * (1.0 - y)) + pure - phi;
    (value, dissolved - d_phi)
}

/// The saturated mole fraction, by Newton on `ln y - ln(e / p) - ln f(y) = 0`.
fn saturated(t: f64, p: f64, line: &Line) -> f64 {
    let pure = line[0] / p;
    if pure >= 1.0 || pure.is_nan() {
        return 1.0;
    }
    let virials = Virials::at(t);
    let mut y = pure;
    let mut ln_factor = 0.0;
    for _ in 0..8 {
        let (value, slope) = ln_enhancement(&virials, line, p, y);
        // In u = ln(y p / e): u - value = 0, d(value)/du = y slope.
        let gain = y * slope;
        let step = (value - ln_factor) / (1.0 - gain);
        ln_factor += step;
        y = pure * libm::exp(ln_factor);
        // What the next step would still change, with a margin of ten on the slope.
        if (step * gain).abs() < 1e-10 && (step * step * y).abs() < 1e-10 {
            break;
        }
    }
    y.min(1.0)
}

/// The temperature at which `y` is the saturated mole fraction, by Newton on the logarithm of the
/// fugacity balance; the composition, and so all of the gas side, is known.
fn temperature(y: f64, p: f64, line: &Table<4>, inverse: &Table<1>, highest: f64) -> f64 {
    let vapour = y * p;
    if vapour.is_nan() || vapour <= 0.0 {
        return LOWEST;
    }
    let ln_vapour = libm::log(vapour);
    let mut t = held(inverse.at(ln_vapour)[0], highest);
    for _ in 0..12 {
        let (row, slopes) = line.with_slope(t);
        let virials = Virials::at(t);
        let (ln_f, _) = ln_enhancement(&virials, &row, p, y);
        let step = (libm::log(row[0]) + ln_f - ln_vapour) * row[0] / slopes[0];
        t = held(t - step, highest);
        if step.abs() < 1e-7 {
            break;
        }
    }
    t
}

/// First guess of a dew temperature from the logarithm of the vapour pressure (Pa).
fn over_liquid_inverse() -> &'static Table<1> {
    static TABLE: OnceLock<Table<1>> = OnceLock::new();
    TABLE.get_or_init(|| inverse_of(saturation::ln_over_liquid, HIGHEST))
}

/// First guess of a frost temperature from the logarithm of the vapour pressure (Pa).
fn over_ice_inverse() -> &'static Table<1> {
    static TABLE: OnceLock<Table<1>> = OnceLock::new();
    TABLE.get_or_init(|| inverse_of(saturation::ln_over_ice, TRIPLE_POINT))
}

/// Temperature as a function of the logarithm of the saturation pressure, in 96 cells.
fn inverse_of(ln_pressure: fn(f64) -> (f64, f64), highest: f64) -> Table<1> {
    const CELLS: usize = 96;
    let low = ln_pressure(LOWEST).0;
    let width = (ln_pressure(highest).0 - low) / CELLS as f64;
    Table::new(low, width, CELLS, |ln_p| {
        let mut t = 270.0;
        for _ in 0..30 {
            let (value, slope) = ln_pressure(t);
            // In 1/T the curve is nearly straight.
            t = held(1.0 / (1.0 / t + (value - ln_p) / (slope * t * t)), highest);
        }
        [t]
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_fugacity_of_vapour_in_air() {
        // IAPWS G9-12(2012), check value: 0.0884061686 MPa at 300 K, 1 MPa and mole fraction 0.1.
        // The state is far supersaturated (28 times), and the guideline cuts its series at second
        // order in pressure: the third order is (b p)^3 = 0.12^3, some 1e-3 before its factor.
        let (value, _) = ln_phi(&Virials::at(300.0), 1e6, 0.1);
        let ratio = 0.1 * libm::exp(value) / 0.088_406_168_6;
        assert!((ratio - 1.0).abs() < 5e-4, "{ratio}");
    }

    #[test]
    fn holds_dew_and_frost_undo_saturation() {
        for p in [5e4, 101_325.0, 3e5, 8e5, 1.2e6] {
            for step in 0..=540 {
                let t = 193.15 + f64::from(step) / 3.0;
                if saturation::over_liquid(t) < 0.999 * p {
                    let back = dew_temperature(saturated_over_liquid(t, p), p);
                    assert!((back - t).abs() < 1e-7, "dew {t} {p}: {back}");
                }
                if t <= TRIPLE_POINT {
                    let back = frost_temperature(saturated_over_ice(t, p), p);
                    assert!((back - t).abs() < 1e-7, "frost {t} {p}: {back}");
                }
            }
        }
    }

    #[test]
    fn holds_saturation_rises_with_temperature_up_to_boiling() {
        for p in [5e4, 101_325.0, 1.2e6] {
            let mut last = 0.0;
            let mut t = 193.15;
            while saturation::over_liquid(t) < p {
                let y = saturated_over_liquid(t, p);
                assert!(y > last && y <= 1.0, "{t} {p}: {y}");
                last = y;
                t += 0.05;
            }
            assert!(last > 0.99, "{p}: {last}");
            assert!(saturated_over_liquid(t, p) >= 1.0);
        }
    }

    #[test]
    fn holds_relative_humidity_is_continuous_at_boiling() {
        let p = 101_325.0;
        let below = relative_humidity(373.124, p, 0.5);
        let above = relative_humidity(373.125, p, 0.5);
        assert!((below / above - 1.0).abs() < 1e-4, "{below} {above}");
    }

    #[test]
    fn holds_table_reproduces_the_formulas() {
        for step in 0..2890 {
            let t = 173.2 + 0.1 * f64::from(step);
            let e = libm::exp(saturation::ln_over_liquid(t).0);
            let row = liquid().at(t);
            assert!((row[0] / e - 1.0).abs() < 1e-9, "{t}");
            let volume = condensed::volume_of_liquid(t) / (MOLAR_GAS * t);
            assert!((row[1] / volume - 1.0).abs() < 1e-9, "{t}");
            assert!(
                (row[2] / condensed::dissolved_air(t) - 1.0).abs() < 1e-9,
                "{t}"
            );
            assert!((row[3] - ln_phi_pure(t, e)).abs() < 1e-10, "{t}");
            if t < TRIPLE_POINT {
                let e = libm::exp(saturation::ln_over_ice(t).0);
                assert!((ice().at(t)[0] / e - 1.0).abs() < 1e-9, "{t}");
            }
        }
    }

    #[test]
    fn holds_finite_for_any_argument() {
        for t in [
            f64::NEG_INFINITY,
            -1.0,
            0.0,
            200.0,
            300.0,
            1e4,
            f64::INFINITY,
            f64::NAN,
        ] {
            assert!(saturated_over_ice(t, 1e5).is_finite());
            assert!(saturated_over_liquid(t, 1e5) <= 1.0);
        }
        for y in [f64::NAN, -1.0, 0.0, 1e-30, 0.5, 1.0, 2.0] {
            assert!(dew_temperature(y, 1e5).is_finite());
            assert!(frost_temperature(y, 1e5).is_finite());
        }
    }
}
