//! Operating point: where blowers, wherever they stand, and the system balance.
//!
//! # Equations
//! The flow of dry air m at which `sum rise_i(V_i) = drop(m)`, `V_i = m v_i`, each blower at the volume
//! and density of its own inlet; of several such flows the highest, where the system is stable.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! m | the answer, dry air | kg/s
//! v_i | moist air of each kg of dry air at blower i | m3/kg
//!
//! # Holds for
//! Steady flow in one loop or line; blowers in parallel are one blower of their added curve.
//!
//! # Sources
//! None needed: a balance of pressures.
//!
//! # Checked by
//! Closed forms below; the curve in `crates/dryer/src/fan_curve.rs`.

use crate::blower::Blower;
use crate::{DryerError, Stream};
use figure::{Axis, Figure, Panel, Point, Series, Weight};
use numeric::{NumericError, root};
use quantity::digits;

/// Steps in which the operating point is looked for before it is closed in on.
const SCAN: u32 = 64;

/// A blower at its place in the system.
#[derive(Clone, Copy, Debug)]
pub struct Placed<'a> {
    /// The blower.
    pub blower: &'a Blower,
    /// The air that comes to it, whatever its amount.
    pub inlet: Stream,
    /// Pressure there, Pa.
    pub pressure: f64,
}

/// Dry air, kg/s, at which blowers one after the other, wherever they stand, balance the pressure
/// drop (Pa) that `drop` gives for a flow of dry air (kg/s).
///
/// # Errors
/// [`DryerError::Impossible`] for air a blower cannot take; [`DryerError::Unsolved`] when the drop at
/// no flow is above what the blowers can make, or is no number.
pub fn operating_point(blowers: &[Placed], drop: impl Fn(f64) -> f64) -> Result<f64, DryerError> {
    let mut at = Vec::with_capacity(blowers.len());
    for placed in blowers {
        let air = placed.inlet.of(1.0).checked_at(placed.pressure)?;
        // A volume of each kg/s of dry air, m3/kg, and density.
        at.push((
            placed.blower,
            air.volume_flow(placed.pressure),
            air.density(placed.pressure),
        ));
    }
    let balance = |dry_air: f64| {
        let rise: f64 = at
            .iter()
            .map(|(blower, volume, density)| blower.rise(dry_air * volume, *density))
            .sum();
        rise - drop(dry_air)
    };
    let most = at
        .iter()
        .map(|(blower, volume, _)| blower.free_flow() / volume)
        .fold(0.0, f64::max);
    let unsolved = |cause| DryerError::Unsolved {
        component: "blower",
        cause,
    };
    // A hair past free flow, so that a system without resistance is met as well.
    let most = most * (1.0 + 1e-9);
    let mut high = (most, balance(most));
    for step in 1..=SCAN {
        let low = most * f64::from(SCAN - step) / f64::from(SCAN);
        let value = balance(low);
        if value > 0.0 && high.1 <= 0.0 {
            return root::bracketed(low, high.0, 1e-13 * most, balance).map_err(unsolved);
        }
        high = (low, value);
    }
    Err(unsolved(NumericError::NoSignChange {
        low: 0.0,
        at_low: high.1,
        high: most,
        at_high: balance(most),
    }))
}

/// The curve of a placed blower and that of the system, with the point where they meet.
///
/// # Errors
/// As [`operating_point`].
pub fn figure(placed: &Placed, drop: impl Fn(f64) -> f64) -> Result<Figure, DryerError> {
    const POINTS: u32 = 60;
    let dry_air = operating_point(std::slice::from_ref(placed), &drop)?;
    let air = placed.inlet.of(1.0);
    let (volume, density) = (
        air.volume_flow(placed.pressure),
        air.density(placed.pressure),
    );
    let most = placed.blower.free_flow();
    let line = |name: &str, rise: &dyn Fn(f64) -> f64| {
        let points = (0..=POINTS)
            .map(|step| most * f64::from(step) / f64::from(POINTS))
            .map(|flow| Point::new(flow * 3600.0, rise(flow) / 1e3))
            .filter(|point| point.value >= 0.0);
        Series::line(name, points.collect())
    };
    let highest = placed.blower.rise(0.0, density) / 1e3;
    let system = line("system", &|flow| drop(flow / volume));
    let met = Point::new(
        dry_air * volume * 3600.0,
        placed.blower.rise(dry_air * volume, density) / 1e3,
    );
    Ok(Figure::stacked(
        format!(
            "The blower moves {} m³/h against {} kPa",
            digits(met.along, 3),
            digits(met.value, 3)
        ),
        Axis::linear("flow at the blower's inlet", "m³/h"),
        vec![Panel::new(
            Axis::linear("pressure", "kPa").ranging(0.0, 1.1 * highest),
            vec![
                line("blower", &|flow| placed.blower.rise(flow, density)),
                within(system, 1.1 * highest),
                Series::Recommended {
                    name: "operating point".to_owned(),
                    at: met,
                    ellipse: None,
                },
            ],
        )],
    ))
}

/// A light line, its points above `highest` left out.
fn within(series: Series, highest: f64) -> Series {
    match series {
        Series::Line {
            name,
            points,
            grade,
            tone,
            ..
        } => Series::Line {
            points: points.into_iter().filter(|p| p.value <= highest).collect(),
            weight: Weight::Light,
            name,
            grade,
            tone,
        },
        other => other,
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;
    use crate::blower::tests::spec;
    use crate::blower::{BlowerSpec, Turning};
    use crate::resistance::Resistance;
    use quantity::{Fraction, Quantity};

    const ATMOSPHERE: f64 = 101_325.0;
    const AIR: Stream = Stream {
        dry_air: 0.05,
        temperature: 313.15,
        humidity: 0.005,
    };

    fn placed(blower: &Blower, pressure: f64) -> Placed<'_> {
        Placed {
            blower,
            inlet: AIR,
            pressure,
        }
    }

    /// Drop of a plain quadratic resistance at the state of [`AIR`].
    fn drop_of(resistance: Resistance, pressure: f64) -> impl Fn(f64) -> f64 {
        let (volume, density) = (AIR.of(1.0).volume_flow(pressure), AIR.density(pressure));
        move |dry_air| resistance.drop(dry_air * volume, density, 1.9e-5)
    }

    const SYSTEM: Resistance = Resistance {
        laminar: 0.0,
        quadratic: 1.5e6,
    };

    #[test]
    fn exact_operating_point_of_two_parabolas() {
        // p0 (rho/rho0)(1 - V^2/V0^2) = k rho V^2 at V = V0 / sqrt(1 + k rho0 V0^2 / p0).
        let blower = spec().check().unwrap();
        let dry_air =
            operating_point(&[placed(&blower, ATMOSPHERE)], drop_of(SYSTEM, ATMOSPHERE)).unwrap();
        let volume = dry_air * AIR.of(1.0).volume_flow(ATMOSPHERE);
        let expected = 0.1 / (1.0_f64 + 1.5e6 * 1.2 * 0.01 / 6000.0).sqrt();
        assert!((volume / expected - 1.0).abs() < 1e-11);
    }

    #[test]
    fn exact_half_the_speed_is_half_the_flow_and_an_eighth_of_the_power() {
        let full = spec().check().unwrap();
        let half = full.at_speed(0.5).unwrap();
        let flow = |blower: &Blower| {
            operating_point(&[placed(blower, ATMOSPHERE)], drop_of(SYSTEM, ATMOSPHERE)).unwrap()
        };
        let (at_full, at_half) = (flow(&full), flow(&half));
        assert!((at_half / at_full - 0.5).abs() < 1e-11);
        let power = |blower: &Blower, flow: f64| blower.run(&AIR.of(flow), ATMOSPHERE).unwrap();
        let (one, other) = (power(&full, at_full), power(&half, at_half));
        assert!((other.rise / one.rise - 0.25).abs() < 1e-10);
        // An eighth, but for what compression adds: half of rise/(k p), here 1 %.
        assert!((other.shaft / one.shaft * 8.0 - 1.0).abs() < 0.02);
    }

    #[test]
    fn holds_altitude_moves_the_same_volume_and_less_air() {
        let blower = spec().check().unwrap();
        let high = 79_501.0; // 2000 m
        let flow = |pressure| {
            operating_point(&[placed(&blower, pressure)], drop_of(SYSTEM, pressure)).unwrap()
        };
        let ratio = flow(high) / flow(ATMOSPHERE);
        assert!((ratio / (high / ATMOSPHERE) - 1.0).abs() < 2e-3, "{ratio}");
    }

    #[test]
    fn holds_two_blowers_move_more_than_one_and_their_rises_add_up() {
        let blower = spec().check().unwrap();
        let hot = Placed {
            inlet: AIR.at(423.15),
            ..placed(&blower, ATMOSPHERE)
        };
        let drop = drop_of(SYSTEM, ATMOSPHERE);
        let one = operating_point(&[placed(&blower, ATMOSPHERE)], &drop).unwrap();
        let two = [placed(&blower, ATMOSPHERE), hot];
        let both = operating_point(&two, &drop).unwrap();
        assert!(both > 1.05 * one && both < 2.0 * one);
        let rise: f64 = two
            .iter()
            .map(|at| at.blower.run(&at.inlet.of(both), at.pressure).unwrap().rise)
            .sum();
        assert!((rise / drop(both) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn exact_turned_backwards_the_flow_falls_to_its_share() {
        let backwards = BlowerSpec {
            turning: Turning::Backwards(Fraction::from_si(0.45)),
            ..spec()
        };
        let flow = |spec: &BlowerSpec| {
            let blower = spec.check().unwrap();
            let drop = drop_of(SYSTEM, ATMOSPHERE);
            let dry_air = operating_point(&[placed(&blower, ATMOSPHERE)], drop).unwrap();
            let blown = blower.run(&AIR.of(dry_air), ATMOSPHERE).unwrap();
            (dry_air, blown.shaft)
        };
        let ((right, power), (wrong, drawn)) = (flow(&spec()), flow(&backwards));
        assert!((wrong / right - 0.45).abs() < 1e-11);
        assert!((drawn / power - 1.0).abs() < 1e-9);
    }

    #[test]
    fn holds_no_operating_point_is_said() {
        let blower = spec().check().unwrap();
        let at = [placed(&blower, ATMOSPHERE)];
        assert!(operating_point(&at, |_| 1e5).is_err());
        assert!(operating_point(&at, |_| f64::NAN).is_err());
        assert!(operating_point(&[], |flow| flow).is_err());
        let none = Stream {
            temperature: f64::NAN,
            ..AIR
        };
        assert!(blower.run(&none, ATMOSPHERE).is_err());
    }

    #[test]
    fn holds_a_figure_that_can_be_drawn() {
        let blower = spec().check().unwrap();
        let figure = figure(&placed(&blower, ATMOSPHERE), drop_of(SYSTEM, ATMOSPHERE)).unwrap();
        assert!(figure.check().is_ok());
        assert!(figure.title.contains("180 m³/h"), "{}", figure.title);
    }
}
