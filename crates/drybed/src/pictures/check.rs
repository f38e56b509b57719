//! What fits: each cause with its probability, the dryer in good order among them.

use crate::speech::percent;
use decide::check::{Cause, Checked, Stand};
use figure::{Axis, Figure, MeasuredPoint, Panel, Series, Tone};

/// Causes that are drawn.
const DRAWN: usize = 6;

/// A bar for each of the likeliest causes.
pub(crate) fn check(checked: &Checked) -> Figure {
    let mut shown: Vec<_> = checked.causes.iter().take(DRAWN).collect();
    let healthy = checked
        .causes
        .iter()
        .find(|one| one.cause == Cause::Healthy);
    if let Some(healthy) = healthy
        && !shown.iter().any(|one| one.cause == Cause::Healthy)
    {
        shown.pop();
        shown.push(healthy);
    }
    let mut series = Vec::new();
    for (index, one) in shown.iter().enumerate() {
        let (rank, value) = (index as f64 + 1.0, 100.0 * one.probability);
        series.push(Series::Measured {
            name: format!("{}, {}", one.name, percent(one.probability)),
            points: vec![MeasuredPoint {
                along: rank,
                value,
                low: 0.0,
                high: value,
            }],
            tone: if one.cause == Cause::Healthy {
                Tone::Water
            } else {
                Tone::Heat
            },
        });
    }
    let mut rank = Axis::linear("rank of the cause", "1").ranging(0.4, shown.len() as f64 + 0.6);
    rank.reversed = true;
    let axis = Axis::linear("probability", "%").ranging(0.0, 105.0);
    let mut figure = Figure::side_by_side(title(checked), rank, vec![Panel::new(axis, series)]);
    figure.caption = "One cause at a time; how often each is met is common practice.".into();
    figure
}

fn title(checked: &Checked) -> String {
    let first = checked.causes.first().map_or("", |one| one.name.as_str());
    match checked.stand {
        Stand::Healthy => "The readings fit a dryer in good order".into(),
        Stand::Fault => format!("The readings fit best: {first}"),
        Stand::Several => "Several causes fit".into(),
        Stand::Open => "The readings leave it open".into(),
        Stand::PoorFit => format!("No cause fits well, the nearest is {first}"),
        Stand::NothingFits => "No known cause fits the readings".into(),
    }
}
