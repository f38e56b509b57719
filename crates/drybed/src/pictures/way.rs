//! The way after the dryer: minutes against the moisture of mean and surface, and the temperature.

use super::{line, surface_and_mean};
use crate::plan::PlanAnswer;
use crate::speech::{Measure, Speech, hours, ppm};
use decide::way::{WayFound, WayPoint};
use figure::{Axis, Figure, Panel, Place, Point, Series, Tone, Weight};

/// Share of the whole way below which a stretch is too short to carry its name.
const NAMED: f64 = 0.08;

/// The way; nothing for a resin that takes up no water.
pub(crate) fn way(answer: &PlanAnswer, speech: Speech) -> Option<Figure> {
    let way = answer.plan.way.as_ref()?;
    let last = way.course.last()?;
    let limit = answer.plan.outlet.limit_ppm_wet;
    let (unit, minutes) = if last.minutes > 120.0 {
        ("h", 60.0)
    } else {
        ("min", 1.0)
    };
    let along = |value: &dyn Fn(&WayPoint) -> f64| -> Vec<Point> {
        let points = way.course.iter();
        points
            .map(|p| Point::new(p.minutes / minutes, value(p)))
            .collect()
    };
    let mut lines = surface_and_mean(along(&|p| p.surface_ppm_wet), along(&|p| p.mean_ppm_wet));
    lines.push(Series::limit(format!("limit {}", ppm(limit)), limit));
    let mut moisture = Panel::new(Axis::linear("moisture, wet basis", "ppm"), lines);
    moisture.share = 1.6;
    let mut panels = vec![moisture];
    // Where no way is stated the pellets are as cold as the hall all along.
    if way.at_screw().is_some() {
        panels.push(Panel::new(
            Axis::linear("temperature", speech.unit(Measure::Temperature)),
            vec![line(
                "pellet",
                along(&|p| speech.number(Measure::Temperature, p.temperature_c)),
                Tone::Heat,
                Weight::Leading,
            )],
        ));
    }
    let axis = Axis::linear("time since the dryer", unit);
    let mut figure = Figure::stacked(title(answer, way), axis, panels);
    figure.places = places(way, minutes);
    figure.caption =
        "The mean pellet, begun as it leaves the dryer; pellets inside a heap take up \
                      less."
            .into();
    Some(figure)
}

fn title(answer: &PlanAnswer, way: &WayFound) -> String {
    let limit = answer.plan.outlet.limit_ppm_wet;
    if let Some(screw) = way.at_screw() {
        let against = if screw.mean_ppm_wet > limit {
            "above"
        } else {
            "below"
        };
        return format!(
            "The way takes the pellets from {} to {} at the screw, {against} the limit of {}",
            ppm(way.leaving_ppm_wet),
            ppm(screw.mean_ppm_wet),
            ppm(limit)
        );
    }
    match way.open_cold.to_limit_min {
        Some(minutes) if minutes > 0.0 => format!(
            "Open and cold in the hall the pellets come to the limit after {}",
            hours(minutes / 60.0)
        ),
        Some(_) => "The pellets leave above the limit, and only grow wetter in the hall".to_owned(),
        None => "A day open in the hall does not bring the pellets to the limit".to_owned(),
    }
}

/// The stretches between stations that are long enough to be named.
fn places(way: &WayFound, minutes: f64) -> Vec<Place> {
    let whole = way.course.last().map_or(0.0, |point| point.minutes);
    let pairs = way.stations.windows(2);
    pairs
        .filter(|pair| pair[1].minutes - pair[0].minutes > NAMED * whole)
        .map(|pair| Place {
            name: match pair[1].name {
                "conveyed" => "conveying".to_owned(),
                "leaving the machine hopper" => "machine hopper".to_owned(),
                _ => "throat".to_owned(),
            },
            from: pair[0].minutes / minutes,
            to: pair[1].minutes / minutes,
        })
        .collect()
}
