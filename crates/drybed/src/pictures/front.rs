//! The front that moves: the bed from the moment the air is switched on to the steady state.

use super::bed::upright;
use super::journey::wet_ppm;
use super::{line, moisture_range, positive};
use crate::plan::{PlanAnswer, soon};
use crate::speech::{Measure, Speech, hours, percent, ppm};
use figure::{Axis, Figure, Panel, Point, Series, Tone, Weight};
use quantity::constants::ZERO_CELSIUS;

/// A curve over the height of the hopper.
struct Curve {
    name: String,
    weight: Weight,
    /// Height (kg above the inlet), temperature (K) and moisture (kg/kg dry).
    points: Vec<[f64; 3]>,
}

/// Pellet temperature and moisture over the height at a few moments of the start; nothing where no
/// start was followed.
pub(crate) fn front(answer: &PlanAnswer, speech: Speech) -> Option<Figure> {
    let curves = curves(answer);
    if curves.len() < 3 {
        return None;
    }
    let height = |kg: f64| speech.number(Measure::Height, answer.hopper.height_of(kg));
    let drawn = |tone: Tone, value: &dyn Fn(&[f64; 3]) -> f64| -> Vec<Series> {
        let each = |curve: &Curve| {
            let points = curve.points.iter();
            let points = points.map(|p| Point::new(height(p[0]), value(p)));
            line(curve.name.clone(), points.collect(), tone, curve.weight)
        };
        curves.iter().map(each).collect()
    };
    let degrees = |p: &[f64; 3]| speech.number(Measure::Temperature, p[1] - ZERO_CELSIUS);
    let heat = Panel::new(
        Axis::linear("pellets", speech.unit(Measure::Temperature)),
        drawn(Tone::Heat, &degrees),
    );
    let limit = answer.plan.outlet.limit_ppm_wet;
    let all = curves.iter().flat_map(|curve| &curve.points);
    let range = moisture_range(all.map(|p| wet_ppm(p[2])), limit);
    let mut wet: Vec<Series> = drawn(Tone::Water, &|p| wet_ppm(p[2]))
        .into_iter()
        .map(shown)
        .collect();
    wet.push(Series::limit(format!("limit {}", ppm(limit)), limit));
    let water = Panel::new(
        Axis::log10("moisture, wet basis", "ppm").ranging(range.0, range.1),
        wet,
    );
    let mut figure = upright(answer, speech, title(answer), vec![heat, water]);
    figure.caption = "From a hopper full of resin as it arrives, drawn at the full rate from the \
                      first minute. Each curve is the bed at a time since the air was switched \
                      on; the heavy one is where it ends."
        .into();
    if in_batches(answer) {
        figure
            .caption
            .push_str(" Between two batches of the loader the level is lower.");
    }
    Some(figure)
}

/// A line without the points a logarithmic axis cannot show.
fn shown(series: Series) -> Series {
    match series {
        Series::Line {
            name,
            points,
            grade,
            tone,
            weight,
        } => Series::Line {
            name,
            points: positive(points),
            grade,
            tone,
            weight,
        },
        other => other,
    }
}

/// The moments; in place of the last stands the steady state, unless the bed is fed in batches.
fn curves(answer: &PlanAnswer) -> Vec<Curve> {
    let moments = &answer.plan.front.moments;
    let batches = in_batches(answer);
    let kept = moments.len().saturating_sub(usize::from(!batches));
    let mut found: Vec<Curve> = moments[..kept]
        .iter()
        .enumerate()
        .map(|(index, moment)| Curve {
            name: hours(moment.time_h),
            weight: if index + 1 == moments.len() {
                Weight::Leading
            } else {
                Weight::Light
            },
            points: moment
                .levels
                .iter()
                .map(|level| {
                    [
                        level.height,
                        level.temperature,
                        level.moisture + level.free_water,
                    ]
                })
                .collect(),
        })
        .collect();
    if batches {
        return found;
    }
    found.push(Curve {
        name: "steady".into(),
        weight: Weight::Leading,
        points: answer
            .plan
            .path
            .iter()
            .map(|place| {
                [
                    place.height,
                    place.temperature,
                    place.moisture + place.free_water,
                ]
            })
            .collect(),
    });
    found
}

/// Whether the loader feeds the bed in batches, so that it never stands quite still.
fn in_batches(answer: &PlanAnswer) -> bool {
    answer.job.hopper.batch.is_some() && answer.job.model.batches
}

/// How long the heat climbs, how much of the bed works then, and when the moisture is settled.
fn title(answer: &PlanAnswer) -> String {
    let front = &answer.plan.front;
    let part = warm_part(answer, front.warm_up_to_kg.unwrap_or(0.0));
    let heat = match front.up_h {
        _ if part < 0.01 => "The heat does not climb into the bed".to_owned(),
        Some(time) if time <= 0.0 => "The bed is warm from the start".to_owned(),
        Some(time) if part < 0.5 => format!(
            "The heat climbs no higher than the lowest {} of the bed, in {}",
            percent(part),
            hours(time)
        ),
        Some(time) => format!(
            "The heat takes {} to climb through the {} of the bed that then work",
            hours(time),
            percent(part)
        ),
        None => format!(
            "The heat has not climbed through {} of the bed when the start ends",
            percent(part)
        ),
    };
    let moisture = match front.settled_h {
        Some(time) => format!("the moisture settles {}", soon(answer, time)),
        None => "the moisture does not settle in the time followed".to_owned(),
    };
    format!("{heat}; {moisture}")
}

/// Share of the height of the bed, from the air inlet up, that so much dry resin fills.
pub(crate) fn warm_part(answer: &PlanAnswer, kg: f64) -> f64 {
    let hopper = &answer.hopper;
    let above = |kg: f64| hopper.height_of(kg) - hopper.height_of(0.0);
    (above(kg) / above(answer.plan.settings.bed_mass_kg).max(1e-9)).clamp(0.0, 1.0)
}
