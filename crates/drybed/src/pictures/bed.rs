//! The bed: height against temperature, humidity and moisture, the hopper's outline beside it.

use super::journey::{warm_from, wet_ppm};
use super::{line, moisture_range, positive};
use crate::plan::PlanAnswer;
use crate::speech::{Measure, Speech, percent, ppm};
use bed::steady::Place as Station;
use figure::{Axis, Figure, Moment, Outline, Panel, Point, Series, Tone, Weight};
use quantity::constants::ZERO_CELSIUS;

/// The bed at steady state.
pub(crate) fn bed(answer: &PlanAnswer, speech: Speech) -> Figure {
    let (plan, path) = (&answer.plan, &answer.plan.path);
    let hopper = &answer.hopper;
    let height = |kg: f64| speech.number(Measure::Height, hopper.height_of(kg));
    let along = |value: &dyn Fn(&Station) -> f64| -> Vec<Point> {
        let of = |p: &Station| Point::new(height(p.height), value(p));
        path.iter().map(of).collect()
    };
    let degrees = |k: f64| speech.number(Measure::Temperature, k - ZERO_CELSIUS);
    let heat = Panel::new(
        Axis::linear("temperature", speech.unit(Measure::Temperature)),
        vec![
            line(
                "air",
                along(&|p| degrees(p.air_temperature)),
                Tone::Heat,
                Weight::Light,
            ),
            line(
                "pellets",
                along(&|p| degrees(p.temperature)),
                Tone::Heat,
                Weight::Leading,
            ),
        ],
    );
    let pressure = 1e3 * plan.coefficients.pressure_kpa;
    let frost: Vec<Point> = path
        .iter()
        .filter_map(|p| {
            let c = crate::air::mirror_c(p.air_temperature, pressure, p.air_humidity)?;
            Some(Point::new(
                height(p.height),
                speech.number(Measure::Temperature, c),
            ))
        })
        .collect();
    let mut panels = vec![heat];
    if frost.len() > 1 {
        panels.push(Panel::new(
            Axis::linear("frost point of air", speech.unit(Measure::Temperature)),
            vec![line("air", frost, Tone::Water, Weight::Plain)],
        ));
    }
    let heart: Vec<Point> = answer
        .heart
        .iter()
        .map(|p| Point::new(height(p.above_inlet_kg), p.heart_ppm_wet))
        .collect();
    let mean = along(&|p| wet_ppm(p.moisture + p.free_water));
    panels.push(water(answer, mean, heart));
    let mut figure = upright(answer, speech, title(answer, speech), panels);
    figure.caption = "Steady state. Pellets sink from the level to the air inlet, air rises the \
                      other way; below the inlet nothing changes."
        .into();
    figure
}

/// Panels side by side along the height of the hopper, its outline beside them.
pub(super) fn upright(
    answer: &PlanAnswer,
    speech: Speech,
    title: String,
    panels: Vec<Panel>,
) -> Figure {
    let hopper = &answer.hopper;
    let height = |m: f64| speech.number(Measure::Height, m);
    let mut figure = Figure::side_by_side(
        title,
        Axis::linear("height above the outlet", speech.unit(Measure::Height))
            .ranging(0.0, height(hopper.top_m())),
        panels,
    );
    figure.moments = vec![Moment {
        name: "air inlet".into(),
        at: height(hopper.height_of(0.0)),
    }];
    let profile = hopper.half_profile_m.iter();
    figure.outline = Some(Outline {
        half_profile: profile
            .map(|[z, r]| Point::new(height(*z), height(*r)))
            .collect(),
        filled_to: Some(height(hopper.height_of(answer.plan.settings.bed_mass_kg))),
    });
    figure
}

fn water(answer: &PlanAnswer, mean: Vec<Point>, heart: Vec<Point>) -> Panel {
    let limit = answer.plan.outlet.limit_ppm_wet;
    let range = moisture_range(mean.iter().chain(&heart).map(|p| p.value), limit);
    let mut series = Vec::new();
    for (name, points, weight) in [
        ("heart", heart, Weight::Light),
        ("mean", mean, Weight::Leading),
    ] {
        let points = positive(points);
        if points.len() > 1 {
            series.push(line(name, points, Tone::Water, weight));
        }
    }
    series.push(Series::limit(format!("limit {}", ppm(limit)), limit));
    Panel::new(
        Axis::log10("moisture, wet basis", "ppm").ranging(range.0, range.1),
        series,
    )
}

fn title(answer: &PlanAnswer, speech: Speech) -> String {
    let (plan, hopper) = (&answer.plan, &answer.hopper);
    let degrees = speech.say(Measure::Temperature, plan.front.warm_c);
    let whole = hopper.height_of(plan.settings.bed_mass_kg) - hopper.height_of(0.0);
    let above = |kg: f64| (hopper.height_of(kg) - hopper.height_of(0.0)) / whole.max(1e-9);
    let warm = match warm_from(answer) {
        Some(station) => format!(
            "The top {} of the bed bring the pellets to {degrees}",
            percent((1.0 - above(station.height)).clamp(0.0, 1.0))
        ),
        None => format!("Nowhere in the bed do the pellets reach {degrees}"),
    };
    let limit = plan.outlet.limit_ppm_wet;
    let dry = plan
        .path
        .iter()
        .find(|p| wet_ppm(p.moisture + p.free_water) <= limit);
    let rest = match dry {
        Some(station) if station.age > 0.0 => format!(
            "the lowest {} lie below the limit",
            percent(above(station.height).clamp(0.0, 1.0))
        ),
        Some(_) => "all of it lies below the limit".to_owned(),
        None => "none of it lies below the limit".to_owned(),
    };
    format!("{warm}; {rest}")
}
