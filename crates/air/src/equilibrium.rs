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
//! Thermodynamics of Fluid-Phase Equilibria, section 5.4). The factor `f = y p / e` is the enhancement
//! factor of Hyland and Wexler (1983), ASHRAE Trans. 89(2A), 520, whose long equation is the same
//! balance expanded to second order in pressure.
//!
//! # Symbols
//! `t` K, `p` Pa, `y` mole fraction.
//!
//! # Holds for
//! -80 to 100 degC and 50 kPa to 1.2 MPa, and as the saturation behind relative humidity up to the
//! boiling point at 1.2 MPa (188 degC). The kernels do not check: the caller does. They never answer
//! not-a-number for finite arguments; temperatures under 189.16 K count as that.
//!
//! # Speed
//! Up to 100 degC `ln f` is read from a piecewise polynomial in both arguments, made from the balance
//! at first use (some milliseconds) and within 6e-8 of it (tested).

use crate::condensed;
use crate::saturation::{self, TRIPLE_POINT};
use crate::surface::Surface;
use crate::table::Table;
use crate::virial::Virials;
use quantity::constants::MOLAR_GAS;
use std::sync::OnceLock;

/// Above this vapour mole fraction there is no air left to speak of. Our own bound: it is reached
/// 0.00003 K under the boiling point.
pub const MOST_VAPOUR: f64 = 1.0 - 1e-6;
/// Temperatures between which `ln f` is tabulated, K, a whole number of 4 K cells from the triple
/// point.
const LOWEST: f64 = TRIPLE_POINT - 84.0;
const HIGHEST: f64 = TRIPLE_POINT + 100.0;

/// Vapour mole fraction of air saturated over liquid (supercooled below 273.16 K) at `t` K and `p`
/// Pa; one, which is steam without air, where pure water would boil (`e >= p`).
pub fn saturated_over_liquid(t: f64, p: f64) -> f64 {
    let t = held(t, f64::MAX);
    let ideal = saturation::over_liquid(t) / p;
    if ideal >= 1.0 || ideal.is_nan() {
        return 1.0;
    }
    let ln_factor = if t < HIGHEST {
        liquid().at(t, p)
    } else {
        ln_enhancement(&Condensed::liquid(t), p)
    };
    (ideal * exp_small(ln_factor)).min(1.0)
}

/// Vapour mole fraction of air saturated over ice at `t` K (up to 273.16 K) and `p` Pa.
pub fn saturated_over_ice(t: f64, p: f64) -> f64 {
    let t = held(t, TRIPLE_POINT);
    (saturation::over_ice(t) / p * exp_small(ice().at(t, p))).min(1.0)
}

/// Enhancement factor over liquid: what air at `p` Pa adds to the vapour pressure of pure water.
pub fn enhancement_over_liquid(t: f64, p: f64) -> f64 {
    saturated_over_liquid(t, p) * p / saturation::over_liquid(t)
}

/// Enhancement factor over ice.
pub fn enhancement_over_ice(t: f64, p: f64) -> f64 {
    saturated_over_ice(t, p) * p / saturation::over_ice(t)
}

/// Temperature, K, at which air of vapour mole fraction `y` at `p` Pa is saturated over liquid; at
/// most 373.16 K.
pub fn dew_temperature(y: f64, p: f64) -> f64 {
    temperature(y * p, p, &LIQUID)
}

/// Temperature, K, at which air of vapour mole fraction `y` at `p` Pa is saturated over ice; at most
/// 273.16 K.
pub fn frost_temperature(y: f64, p: f64) -> f64 {
    temperature(y * p, p, &ICE)
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
    let ideal = saturation::over_liquid(t) / p;
    if ideal < 1.0 {
        saturated_over_liquid(t, p)
    } else {
        ideal
    }
}

#[inline]
fn held(t: f64, highest: f64) -> f64 {
    if t > LOWEST { t.min(highest) } else { LOWEST }
}

/// `exp(z)` for `|z| < 0.2`, the range of `ln f`; within 2e-12.
#[inline]
fn exp_small(z: f64) -> f64 {
    let z2 = z * z;
    let low = 1.0 + z + z2 * (1.0 / 2.0 + z / 6.0);
    let high = 1.0 / 24.0 + z / 120.0 + z2 * (1.0 / 720.0 + z / 5040.0 + z2 / 40_320.0);
    low + z2 * z2 * high
}

/// A curve of saturation: everything the way back needs.
struct Curve {
    highest: f64,
    /// Saturation pressure and its logarithm.
    pure: fn() -> &'static Table<2>,
    /// Temperature against the logarithm of the saturation pressure, as a first guess.
    inverse: fn() -> &'static Table<1>,
    /// `ln f`.
    enhancement: fn() -> &'static Surface,
}

static LIQUID: Curve = Curve {
    highest: HIGHEST,
    pure: saturation::liquid,
    inverse: over_liquid_inverse,
    enhancement: liquid,
};

static ICE: Curve = Curve {
    highest: TRIPLE_POINT,
    pure: saturation::ice,
    inverse: over_ice_inverse,
    enhancement: ice,
};

/// The temperature at which saturated air has this vapour pressure, by Newton on
/// `ln e(T) + ln f(T, p) - ln vapour`.
#[inline]
fn temperature(vapour: f64, p: f64, curve: &Curve) -> f64 {
    if vapour.is_nan() || vapour <= 0.0 {
        return LOWEST;
    }
    let (pure, enhancement) = ((curve.pure)(), (curve.enhancement)());
    let ln_vapour = libm::log(vapour);
    let mut t = held((curve.inverse)().at(ln_vapour)[0], curve.highest);
    for _ in 0..10 {
        let ([_, ln_e], [_, e_slope]) = pure.with_slope(t);
        let (ln_f, f_slope) = enhancement.with_slope(t, p);
        let step = (ln_e + ln_f - ln_vapour) / (e_slope + f_slope);
        t = held(t - step, curve.highest);
        // Newton's next step would be the square of this one over 100 K.
        if step.abs() < 1e-4 {
            break;
        }
    }
    t
}

/// `ln f` over liquid.
fn liquid() -> &'static Surface {
    static SURFACE: OnceLock<Surface> = OnceLock::new();
    SURFACE.get_or_init(|| {
        Surface::new(LOWEST, 4.0, 46, |t| {
            let liquid = Condensed::liquid(t);
            move |p| ln_enhancement(&liquid, p)
        })
    })
}

/// `ln f` over ice.
fn ice() -> &'static Surface {
    static SURFACE: OnceLock<Surface> = OnceLock::new();
    SURFACE.get_or_init(|| {
        Surface::new(LOWEST, 4.0, 21, |t| {
            let ice = Condensed::ice(t);
            move |p| ln_enhancement(&ice, p)
        })
    })
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
        for _ in 0..8 {
            let (value, slope) = ln_pressure(t);
            // In 1/T the curve is nearly straight.
            t = held(1.0 / (1.0 / t + (value - ln_p) / (slope * t * t)), highest);
        }
        [t]
    })
}

/// What a condensed phase brings to the balance at one temperature.
struct Condensed {
    /// Saturation pressure, Pa.
    pressure: f64,
    /// Molar volume over `RT`, 1/Pa.
    volume: f64,
    /// Air dissolved, mole fraction per pascal.
    dissolved: f64,
    /// Logarithm of the fugacity coefficient of pure vapour over it.
    ln_phi: f64,
    /// The gas above.
    virials: Virials,
}

impl Condensed {
    fn liquid(t: f64) -> Self {
        let ln_pressure = saturation::ln_over_liquid(t).0;
        Self::new(
            t,
            ln_pressure,
            condensed::volume_of_liquid(t),
            condensed::dissolved_air(t),
        )
    }

    fn ice(t: f64) -> Self {
        Self::new(
            t,
            saturation::ln_over_ice(t).0,
            condensed::volume_of_ice(t),
            0.0,
        )
    }

    fn new(t: f64, ln_pressure: f64, volume: f64, dissolved: f64) -> Self {
        let pressure = libm::exp(ln_pressure);
        let virials = Virials::at(t);
        Self {
            pressure,
            volume: volume / (MOLAR_GAS * t),
            dissolved,
            ln_phi: ln_phi(&virials, pressure, 1.0).0,
            virials,
        }
    }
}

/// `ln f` from the balance, by Newton with the leading part of its slope in `y`. Some way past boiling
/// it carries on with `y` above one, so that the surface is smooth up to the boiling curve; farther on
/// it is nothing.
fn ln_enhancement(condensed: &Condensed, p: f64) -> f64 {
    /// How far past boiling, `e / p`: more than the size of a cell.
    const CARRIED_ON: f64 = 2.0;
    let e = condensed.pressure;
    let ideal = e / p;
    if ideal > CARRIED_ON {
        return 0.0;
    }
    let virials = &condensed.virials;
    let fixed = condensed.volume * (p - e) + condensed.ln_phi;
    let mut ln_factor = 0.0;
    for _ in 0..20 {
        let y = ideal * libm::exp(ln_factor);
        let (phi, slope) = ln_phi(virials, p, y);
        let air = condensed.dissolved * p;
        let value = fixed + libm::log1p(-air * (1.0 - y)) - phi;
        let step = (value - ln_factor) / (1.0 - y * (air - slope));
        ln_factor += step;
        if step.abs() < 1e-11 {
            break;
        }
    }
    ln_factor
}

/// Logarithm of the fugacity coefficient of vapour in the mixture, and its slope in `y` to the second
/// virial coefficients.
fn ln_phi(v: &Virials, p: f64, y: f64) -> (f64, f64) {
    let x = 1.0 - y;
    let (b, c) = (v.b(y), v.c(y));
    let water = x * v.b_aw + y * v.b_ww;
    let third = x * (x * v.c_aaw + 2.0 * y * v.c_aww) + y * y * v.c_www;
    let mut eta = p;
    for _ in 0..4 {
        eta -= (eta * (1.0 + eta * (b + eta * c)) - p) / (1.0 + eta * (2.0 * b + 3.0 * c * eta));
    }
    let value = eta * (2.0 * water + 1.5 * third * eta) - libm::log1p(eta * (b + c * eta));
    let d_b = 2.0 * (water - x * v.b_aa - y * v.b_aw);
    (value, eta * (2.0 * (v.b_ww - v.b_aw) - d_b))
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
    fn exact_second_order_of_the_fugacity() {
        // A third of the pressure takes the difference to the guideline down nine times or more:
        // what is left after its own second order is third order.
        let v = Virials::at(300.0);
        let y = 0.1;
        let x = 1.0 - y;
        let water = x * v.b_aw + y * v.b_ww;
        let third = x * (x * v.c_aaw + 2.0 * y * v.c_aww) + y * y * v.c_www;
        let (b, c) = (v.b(y), v.c(y));
        let cut = |p: f64| {
            let second = 1.5 * third - c + b * (1.5 * b - 2.0 * water);
            ln_phi(&v, p, y).0 - p * (2.0 * water - b + p * second)
        };
        let ratio = cut(9e5) / cut(3e5);
        assert!((25.0..31.0).contains(&ratio), "{ratio}");
        let guideline = libm::log(0.884_061_686) - (ln_phi(&v, 1e6, y).0 - cut(1e6));
        assert!(guideline.abs() < 2e-5, "{guideline}");
    }

    #[test]
    fn exact_small_exponential() {
        for step in -20..=20 {
            let z = 0.01 * f64::from(step);
            assert!((exp_small(z) / libm::exp(z) - 1.0).abs() < 2e-12, "{z}");
        }
    }

    #[test]
    fn holds_surfaces_reproduce_the_balance() {
        let mut worst: f64 = 0.0;
        for t_step in 0..180 {
            let t = 193.15 + f64::from(t_step) * 1.003;
            for p_step in 0..47 {
                let p = 5e4 + f64::from(p_step) * 24_987.0;
                if saturation::over_liquid(t) < p {
                    let exact = ln_enhancement(&Condensed::liquid(t), p);
                    worst = worst.max((liquid().at(t, p) - exact).abs());
                }
                if t < TRIPLE_POINT {
                    let exact = ln_enhancement(&Condensed::ice(t), p);
                    worst = worst.max((ice().at(t, p) - exact).abs());
                }
            }
        }
        assert!(worst < 6e-8, "{worst}");
    }

    #[test]
    fn holds_dew_and_frost_undo_saturation() {
        for p in [5e4, 101_325.0, 3e5, 8e5, 1.2e6] {
            for step in 0..=540 {
                let t = 193.15 + f64::from(step) / 3.0;
                if saturation::over_liquid(t) < 0.999 * p {
                    let back = dew_temperature(saturated_over_liquid(t, p), p);
                    assert!((back - t).abs() < 1e-8, "dew {t} {p}: {back}");
                }
                if t <= TRIPLE_POINT {
                    let back = frost_temperature(saturated_over_ice(t, p), p);
                    assert!((back - t).abs() < 1e-8, "frost {t} {p}: {back}");
                }
            }
        }
    }

    #[test]
    fn holds_saturation_rises_with_temperature_up_to_boiling() {
        for p in [5e4, 101_325.0, 3e5, 1.2e6] {
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
