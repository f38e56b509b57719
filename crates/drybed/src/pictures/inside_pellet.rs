//! Inside the pellet: moisture from surface to surface at a few moments, and a cut to scale.

use super::journey::wet_ppm;
use super::line;
use crate::plan::{InsideCut, InsideProfile, PlanAnswer};
use crate::speech::{Measure, Speech, hours, ppm};
use figure::{Axis, Figure, Grid, Panel, Point, Scale, Series, Tone, Weight};

/// Moisture through the mean pellet at a few moments of its way; nothing for a resin that carries
/// water on its surface only.
pub(crate) fn inside_pellet(answer: &PlanAnswer, speech: Speech) -> Option<Figure> {
    let last = answer.plan.path.last()?;
    let title = title(
        [last.heart, last.moisture, last.surface].map(wet_ppm),
        "at the air inlet",
    );
    let limit = Some(answer.plan.outlet.limit_ppm_wet);
    profiles(&answer.inside, limit, title, speech)
}

/// Moisture through a pellet at a few moments.
pub(super) fn profiles(
    inside: &[InsideProfile],
    limit: Option<f64>,
    title: String,
    speech: Speech,
) -> Option<Figure> {
    let last = inside.last()?;
    let depth = last.depth_mm.last().copied()?;
    let radius = speech.number(Measure::Width, depth);
    let mut series: Vec<Series> = inside
        .iter()
        .enumerate()
        .map(|(index, profile)| {
            let weight = if index + 1 == inside.len() {
                Weight::Leading
            } else {
                Weight::Plain
            };
            let name = hours(profile.time_h);
            line(name, through(profile, speech), Tone::Water, weight)
        })
        .collect();
    if let Some(limit) = limit {
        series.push(Series::limit(format!("limit {}", ppm(limit)), limit));
    }
    let values = inside.iter().flat_map(|p| &p.moisture_ppm_wet);
    let most = values.fold(limit.unwrap_or(0.0), |most, v| most.max(*v));
    let mut figure = Figure::stacked(
        title,
        Axis::linear("from the heart", speech.unit(Measure::Width)).ranging(-radius, radius),
        vec![Panel::new(
            Axis::linear("moisture, wet basis", "ppm").ranging(0.0, (1.05 * most).max(1e-3)),
            series,
        )],
    );
    figure.caption = "A cut through the mean pellet, drawn as the round body that has its surface \
                      and dries as fast."
        .into();
    Some(figure)
}

/// A cut through the mean pellet to scale, its axis upright; nothing where it is no cylinder.
pub(crate) fn cut(answer: &PlanAnswer, speech: Speech) -> Option<Figure> {
    let cut = answer.cut.as_ref()?;
    let field = Series::Field {
        name: "moisture".into(),
        unit: "ppm".into(),
        grid: grid(cut, speech),
        scale: Scale::Linear,
        tone: Tone::Water,
    };
    let unit = speech.unit(Measure::Width);
    let mut panel = Panel::new(Axis::linear("along the axis", unit), vec![field]);
    panel.to_scale = true;
    let heart = most(cut);
    let mut figure = Figure::stacked(
        format!(
            "After {} the mean is {}, and the middle still holds {}",
            hours(cut.time_h),
            ppm(cut.mean_ppm_wet),
            ppm(heart)
        ),
        Axis::linear("across the axis", unit),
        vec![panel],
    );
    figure.caption = "The cut through the axis of the mean pellet, to scale.".into();
    Some(figure)
}

fn grid(cut: &InsideCut, speech: Speech) -> Grid {
    let wide = |places: &[f64]| {
        let number = |mm: &f64| speech.number(Measure::Width, *mm);
        places.iter().map(number).collect()
    };
    Grid {
        along: wide(&cut.across_mm),
        across: wide(&cut.along_mm),
        values: cut.moisture_ppm_wet.clone(),
    }
}

fn most(cut: &InsideCut) -> f64 {
    let values = cut.moisture_ppm_wet.iter().flatten();
    values.fold(0.0, |most, v| most.max(*v))
}

/// From surface to surface through the heart.
fn through(profile: &InsideProfile, speech: Speech) -> Vec<Point> {
    let depth = profile.depth_mm.last().copied().unwrap_or(0.0);
    let half: Vec<(f64, f64)> = profile
        .depth_mm
        .iter()
        .zip(&profile.moisture_ppm_wet)
        .map(|(below, value)| (speech.number(Measure::Width, depth - below), *value))
        .collect();
    let left = half.iter().map(|(s, v)| Point::new(-s, *v));
    let right = half.iter().rev().skip(1).map(|(s, v)| Point::new(*s, *v));
    left.chain(right).collect()
}

/// What heart, mean and surface say together; `end` says where or when.
pub(super) fn title([heart, mean, surface]: [f64; 3], end: &str) -> String {
    if heart > 1.3 * mean && heart > 0.1 {
        format!(
            "The heart still holds {} {end}, the surface {}, the mean {}",
            ppm(heart),
            ppm(surface),
            ppm(mean)
        )
    } else {
        format!(
            "The pellet is even {end}: {} at the heart, {} at the surface",
            ppm(heart),
            ppm(surface)
        )
    }
}
