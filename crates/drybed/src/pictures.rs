//! The pictures of the answers: one file a picture, each a figure as data.

mod bed;
pub(crate) mod books;
mod check;
mod choice;
mod curve;
mod dew_point;
mod front;
mod inside_pellet;
mod journey;
mod loop_path;
mod resin;
mod settings_map;
mod shift;
mod start;
mod storage;
mod switch_on;
mod way;

pub(crate) use bed::bed;
pub(crate) use check::check;
pub(crate) use choice::choice;
pub(crate) use curve::{curve, curve_inside};
pub(crate) use dew_point::dew_point;
pub(crate) use front::{front, warm_part};
pub(crate) use inside_pellet::{cut, inside_pellet};
pub(crate) use journey::journey;
pub(crate) use loop_path::loop_path;
pub(crate) use resin::{beside, diffusivity, isotherm};
pub(crate) use settings_map::settings_map;
pub(crate) use shift::{inside as hopper_in_time, journey as lot_journey, timeline};
pub(crate) use start::{start, title as start_title};
pub(crate) use storage::storage;
pub(crate) use switch_on::switch_on;
pub(crate) use way::way;

use figure::{Grade, Point, Series, Tone, Weight};

/// A computed line.
fn line(name: impl Into<String>, points: Vec<Point>, tone: Tone, weight: Weight) -> Series {
    Series::Line {
        name: name.into(),
        points,
        grade: Grade::Computed,
        tone,
        weight,
    }
}

/// Moisture at the surface of a pellet, and its mean.
fn surface_and_mean(surface: Vec<Point>, mean: Vec<Point>) -> Vec<Series> {
    vec![
        line("surface", surface, Tone::Water, Weight::Light),
        line("mean", mean, Tone::Water, Weight::Leading),
    ]
}

/// The points a logarithmic axis can show.
fn positive(points: Vec<Point>) -> Vec<Point> {
    let shown = |p: &Point| p.value > 0.0 && p.value.is_finite() && p.along.is_finite();
    points.into_iter().filter(shown).collect()
}

/// The range of a logarithmic axis of moisture in ppm that shows what matters about a limit:
/// never less than a hundredth of the limit, whole halves of decades at the ends.
fn moisture_range(values: impl Iterator<Item = f64>, limit: f64) -> (f64, f64) {
    let floor = (limit / 100.0).max(0.1);
    let (mut low, mut high) = (limit * 0.5, limit * 2.0);
    for value in values.filter(|v| v.is_finite() && *v > 0.0) {
        low = low.min(value.max(floor));
        high = high.max(value);
    }
    (nice_below(low), nice_above(high))
}

/// The next of 1, 2, 5 times a power of ten at or below.
fn nice_below(value: f64) -> f64 {
    let power = 10_f64.powf(value.log10().floor());
    let step = [5.0, 2.0, 1.0]
        .into_iter()
        .find(|s| s * power <= value * (1.0 + 1e-9));
    step.unwrap_or(1.0) * power
}

/// The next of 1, 2, 5 times a power of ten at or above.
fn nice_above(value: f64) -> f64 {
    let power = 10_f64.powf(value.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .find(|s| s * power >= value * (1.0 - 1e-9));
    step.unwrap_or(10.0) * power
}

/// Where a falling or rising curve passes a value: between neighbours along a straight line of
/// logarithms where both are positive.
fn crossing(points: &[Point], value: f64) -> Option<f64> {
    points.windows(2).find_map(|pair| {
        let (from, to) = (pair[0], pair[1]);
        let met = (from.value - value) * (to.value - value) <= 0.0;
        #[expect(
            clippy::float_cmp,
            reason = "a flat stretch has no place to pass a value"
        )]
        if !met || from.value == to.value {
            return None;
        }
        let share = if from.value > 0.0 && to.value > 0.0 && value > 0.0 {
            (value / from.value).ln() / (to.value / from.value).ln()
        } else {
            (value - from.value) / (to.value - from.value)
        };
        share
            .is_finite()
            .then_some(from.along + share * (to.along - from.along))
    })
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "these numbers are exact")]
mod tests {
    use super::*;

    #[test]
    fn exact_nice_ends() {
        assert_eq!(nice_below(93.0), 50.0);
        assert_eq!(nice_below(50.0), 50.0);
        assert_eq!(nice_above(1800.0), 2000.0);
        assert_eq!(nice_above(2000.0), 2000.0);
        assert_eq!(nice_above(6.0), 10.0);
    }

    #[test]
    fn exact_an_exponential_is_crossed_where_it_is() {
        let points = [Point::new(0.0, 1000.0), Point::new(3.0, 1.0)];
        assert!((crossing(&points, 100.0).unwrap_or(0.0) - 1.0).abs() < 1e-12);
        assert_eq!(crossing(&points, 0.5), None);
    }
}
