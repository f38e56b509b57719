//! Ticks a reader would have chosen: 1-2-5 steps, decades, hours, and quarters of a turn.

use crate::number;
use crate::text;
use figure::{Axis, Extent, Scale};

/// One tick; a minor one has no label.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Tick {
    pub(crate) value: f64,
    pub(crate) label: Option<String>,
}

/// Which way an axis runs, which decides how close its labels may stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Run {
    Across,
    Up,
}

/// Ticks of an axis over an extent that takes `length` px.
pub(crate) fn ticks(axis: &Axis, extent: Extent, length: f64, run: Run) -> Vec<Tick> {
    match axis.scale {
        Scale::Linear => linear(&axis.unit, extent, length, run),
        Scale::Log10 => logarithmic(extent, length, run),
    }
}

/// The extent an axis shows: the stated range, or the data with air around it, out to a round end.
pub(crate) fn fitted(axis: &Axis, data: Option<Extent>, air: bool) -> Extent {
    if let Some(stated) = axis.range {
        return stated;
    }
    let usual = match axis.scale {
        Scale::Linear => Extent {
            low: 0.0,
            high: 1.0,
        },
        Scale::Log10 => Extent {
            low: 1.0,
            high: 10.0,
        },
    };
    let Extent { low, high } = data.unwrap_or(usual);
    let fitted = match axis.scale {
        Scale::Linear => fitted_linear(&axis.unit, low, high, air),
        Scale::Log10 => fitted_logarithmic(low, high, air),
    };
    // Next to the largest f64 there is no air to give.
    if fitted.low.is_finite() && fitted.high.is_finite() {
        fitted
    } else {
        Extent { low, high }
    }
}

fn fitted_linear(unit: &str, low: f64, high: f64, air: bool) -> Extent {
    let span = high - low;
    if span <= 0.0 {
        let half = (low.abs() * 0.1).max(0.5);
        return Extent {
            low: low - half,
            high: high + half,
        };
    }
    if !air {
        return Extent { low, high };
    }
    let step = step_from(unit, span / 5.0) / 2.0;
    let slack = 0.02 * span;
    let floor = ((low - slack) / step).floor() * step;
    let low = if low >= 0.0 { floor.max(0.0) } else { floor };
    Extent {
        low,
        high: ((high + slack) / step).ceil() * step,
    }
}

fn fitted_logarithmic(low: f64, high: f64, air: bool) -> Extent {
    if low >= high {
        return Extent {
            low: low / 2.0,
            high: high * 2.0,
        };
    }
    if !air {
        return Extent { low, high };
    }
    let round = |value: f64, up: bool| {
        let decade = libm::pow(10.0, libm::floor(libm::log10(value) + 1e-9));
        let choices = [1.0, 2.0, 5.0, 10.0].map(|factor| factor * decade);
        let found = if up {
            choices.into_iter().find(|c| *c >= value * 0.999)
        } else {
            choices.into_iter().rev().find(|c| *c <= value * 1.001)
        };
        found.unwrap_or(value)
    };
    Extent {
        low: round(low / 1.05, false),
        high: round(high * 1.05, true),
    }
}

/// The smallest agreeable step that is at least `least`.
fn step_from(unit: &str, least: f64) -> f64 {
    let customary: &[f64] = match unit {
        "h" => &[
            1.0 / 60.0,
            1.0 / 30.0,
            1.0 / 12.0,
            0.25,
            0.5,
            1.0,
            2.0,
            3.0,
            4.0,
            6.0,
            12.0,
            24.0,
            48.0,
            96.0,
        ],
        "min" => &[1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 180.0, 240.0],
        "°" => &[1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 45.0, 90.0],
        _ => &[],
    };
    if let Some(step) = customary.iter().find(|step| **step >= least * 0.999) {
        return *step;
    }
    let decade = libm::pow(10.0, libm::floor(libm::log10(least)));
    let factors = [1.0, 2.0, 5.0, 10.0].map(|factor| factor * decade);
    let found = factors.into_iter().find(|step| *step >= least * 0.999);
    found.unwrap_or(10.0 * decade)
}

fn linear(unit: &str, extent: Extent, length: f64, run: Run) -> Vec<Tick> {
    let span = extent.high - extent.low;
    if !span.is_finite() {
        return Vec::new();
    }
    let apart = |labels: &[Tick]| match run {
        Run::Up => 30.0,
        Run::Across => widest(labels) + 14.0,
    };
    let mut least = span * 24.0 / length.max(1.0);
    for _ in 0..20 {
        let step = step_from(unit, least);
        let chosen = stepped(extent, step);
        if step / span * length >= apart(&chosen) {
            return chosen;
        }
        least = step * 1.01;
    }
    Vec::new()
}

fn stepped(extent: Extent, step: f64) -> Vec<Tick> {
    if !step.is_finite() {
        return Vec::new();
    }
    let first = (extent.low / step - 1e-6).ceil();
    let last = (extent.high / step + 1e-6).floor();
    let steps = number::count((last - first).max(-1.0) + 1.0);
    let tick = |index: usize| {
        let value = (first + index as f64) * step;
        Tick {
            value,
            label: Some(number::tick(value, step)),
        }
    };
    (0..steps).map(tick).collect()
}

fn widest(ticks: &[Tick]) -> f64 {
    let labels = ticks.iter().filter_map(|tick| tick.label.as_deref());
    labels
        .map(|l| text::width(l, text::SIZE))
        .fold(0.0, f64::max)
}

/// Decades with labels, and their multiples as minor ticks; where decades are long, 2 and 5 (or at
/// last every multiple) are labelled too; where they are short, only every second or third is.
fn logarithmic(extent: Extent, length: f64, run: Run) -> Vec<Tick> {
    let (low, high) = (libm::log10(extent.low), libm::log10(extent.high));
    let decade_px = length / (high - low).max(1e-9);
    let label_px = match run {
        Run::Up => 18.0,
        Run::Across => text::width("1000", text::SIZE) + 12.0,
    };
    let every = number::count((label_px / decade_px).ceil().max(1.0));
    let labelled: &[usize] = if decade_px >= 12.0 * label_px {
        &[1, 2, 3, 4, 5, 6, 7, 8, 9]
    } else if decade_px >= 4.6 * label_px {
        &[1, 2, 5]
    } else {
        &[1]
    };
    let first = libm::floor(low + 1e-9);
    let decades = number::count(libm::ceil(high - 1e-9) - first + 1.0);
    let mut ticks = Vec::new();
    for index in 0..decades {
        let power = first + index as f64;
        let base = libm::pow(10.0, power);
        for factor in 1..10 {
            let value = base * factor as f64;
            if value < extent.low * (1.0 - 1e-9) || value > extent.high * (1.0 + 1e-9) {
                continue;
            }
            let turn = (power.rem_euclid(every as f64)).abs() < 0.5 || every == 1;
            let label = (labelled.contains(&factor) && turn).then(|| number::decade(value));
            let room = if factor > 1 { 36.0 } else { 4.0 };
            let crowded = label.is_none() && decade_px < room;
            if !crowded {
                ticks.push(Tick { value, label });
            }
        }
    }
    ticks
}

#[cfg(test)]
mod tests {
    use super::*;

    fn labels(axis: &Axis, low: f64, high: f64, length: f64, run: Run) -> Vec<String> {
        let all = ticks(axis, Extent { low, high }, length, run);
        all.into_iter().filter_map(|tick| tick.label).collect()
    }

    #[test]
    fn exact_hours_and_turns_use_their_own_steps() {
        let hours = labels(&Axis::linear("t", "h"), 0.0, 24.0, 300.0, Run::Across);
        assert_eq!(hours, ["0", "3", "6", "9", "12", "15", "18", "21", "24"]);
        let turn = labels(&Axis::linear("angle", "°"), 0.0, 360.0, 300.0, Run::Across);
        assert_eq!(
            turn,
            ["0", "45", "90", "135", "180", "225", "270", "315", "360"]
        );
    }

    #[test]
    fn exact_decades_have_minor_ticks() {
        let axis = Axis::log10("w", "ppm");
        let all = ticks(
            &axis,
            Extent {
                low: 10.0,
                high: 1000.0,
            },
            100.0,
            Run::Up,
        );
        assert_eq!(all.len(), 19);
        assert_eq!(
            labels(&axis, 10.0, 1000.0, 100.0, Run::Up),
            ["10", "100", "1000"]
        );
        assert_eq!(
            labels(&axis, 10.0, 100.0, 200.0, Run::Up),
            ["10", "20", "50", "100"]
        );
        assert_eq!(labels(&axis, 1e-6, 1e6, 100.0, Run::Up).len(), 5);
    }

    #[test]
    fn holds_labels_never_touch() {
        for length in [60.0, 110.0, 230.0, 520.0, 900.0] {
            for high in [0.013, 0.7, 9.0, 37.0, 4100.0, 250_000.0] {
                let axis = Axis::linear("x", "m");
                let all = ticks(&axis, Extent { low: 0.0, high }, length, Run::Across);
                let wide: f64 = all
                    .iter()
                    .filter_map(|tick| tick.label.as_deref())
                    .map(|label| text::width(label, text::SIZE) + 4.0)
                    .sum();
                assert!(wide <= length + 60.0, "{length} {high} {wide}");
                assert!(!all.is_empty());
            }
        }
    }

    #[test]
    fn holds_fitted_extents_keep_the_data_inside() {
        for (low, high) in [
            (3.0, 97.0),
            (-61.0, 4.0),
            (0.0, 0.0),
            (5.0, 5.0),
            (1e-7, 2e-3),
        ] {
            let linear = fitted(&Axis::linear("x", "m"), Some(Extent { low, high }), true);
            assert!(linear.low <= low && linear.high >= high && linear.low < linear.high);
        }
        for (low, high) in [(3.0, 97.0), (10.0, 1000.0), (5.0, 5.0), (1e-7, 2e-3)] {
            let log = fitted(&Axis::log10("x", "m"), Some(Extent { low, high }), true);
            assert!(log.low > 0.0 && log.low <= low && log.high >= high && log.low < log.high);
        }
    }
}
