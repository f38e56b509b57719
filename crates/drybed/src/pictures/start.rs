//! The start: outlet moisture against the time since the air was switched on.

use super::journey::wet_ppm;
use super::{line, moisture_range, positive};
use crate::plan::{PlanAnswer, only, soon};
use crate::speech::{Measure, Speech, hours, ppm};
use figure::{Axis, Figure, Moment, Panel, Point, Series, Tone, Weight};
use quantity::constants::ZERO_CELSIUS;

/// Moisture at the air inlet and at the outlet, and the return air, since the air was switched on;
/// nothing where no start was followed.
pub(crate) fn start(answer: &PlanAnswer, speech: Speech) -> Option<Figure> {
    let plan = &answer.plan;
    let moments = &plan.transient.moments;
    if moments.len() < 3 {
        return None;
    }
    let limit = plan.outlet.limit_ppm_wet;
    let water = |value: fn(&bed::run::Moment) -> f64| {
        let point = |m: &bed::run::Moment| Point::new(m.time / 3600.0, wet_ppm(value(m)));
        positive(moments.iter().map(point).collect())
    };
    let (dried, outlet) = (water(|m| m.dried), water(|m| m.outlet));
    let range = moisture_range(dried.iter().chain(&outlet).map(|p| p.value), limit);
    let mut series = Vec::new();
    if plan.settings.below_inlet_kg > 0.0 && outlet.len() > 1 {
        series.push(line("at the outlet", outlet, Tone::Water, Weight::Plain));
    }
    series.push(line(
        "at the air inlet",
        dried,
        Tone::Water,
        Weight::Leading,
    ));
    series.push(Series::limit(format!("limit {}", ppm(limit)), limit));
    let mut moisture = Panel::new(
        Axis::log10("moisture, wet basis", "ppm").ranging(range.0, range.1),
        series,
    );
    moisture.share = 1.6;
    let back = moments
        .iter()
        .map(|m| {
            let c = m.return_temperature - ZERO_CELSIUS;
            Point::new(m.time / 3600.0, speech.number(Measure::Temperature, c))
        })
        .collect();
    let heat = Panel::new(
        Axis::linear("return air", speech.unit(Measure::Temperature)),
        vec![line("return air", back, Tone::Heat, Weight::Plain)],
    );
    let mut figure = Figure::stacked(
        title(answer, speech),
        Axis::linear("time since air on", "h"),
        vec![moisture, heat],
    );
    if let Some(first) = plan.start.first_dry_h {
        figure.moments.push(Moment {
            name: "first dry pellet".into(),
            at: first,
        });
    }
    figure.caption = "From a hopper full of resin as it arrives, drawn at the full rate from the \
                      first minute, pellets in plug flow. The first dry pellet is judged on the \
                      fastest stream."
        .into();
    Some(figure)
}

/// When the first shot may be made.
pub(crate) fn title(answer: &PlanAnswer, speech: Speech) -> String {
    let start = &answer.plan.start;
    let back = if start.put_back_kg > 0.0 {
        format!(
            "; draw {} from below the air inlet and put it back on top",
            speech.say(Measure::Mass, start.put_back_kg)
        )
    } else {
        String::new()
    };
    match (start.hold_before_drawing_h, start.first_dry_h) {
        (Some(hold), _) if start.fastest_stays_wet => format!(
            "The fastest stream stays above the limit: hold the outlet for {} with the air on, and by the \
             middle estimate the mean of a shot is dry from then{}{back}",
            hours(hold),
            too_long(answer, hold)
        ),
        (_, Some(first)) if only(answer) => {
            format!("The first dry pellet comes {}{back}", soon(answer, first))
        }
        (Some(hold), _) => format!(
            "Hold the outlet for {} with the air on before the first shot{}{back}",
            hours(hold),
            too_long(answer, hold)
        ),
        (None, Some(first)) => {
            format!("The first dry pellet comes {}{back}", soon(answer, first))
        }
        (None, None) => format!("No start makes it dry{back}"),
    }
}

/// What a hold makes of the pellets on top, where they would stay longer than they bear.
fn too_long(answer: &PlanAnswer, hold: f64) -> String {
    let plan = &answer.plan;
    let whole = hold + plan.settings.residence_h;
    if whole <= plan.map.hold_h {
        return String::new();
    }
    format!(
        "; what lies on top would stay {} where {} is borne: start with a lower level",
        hours(whole),
        hours(plan.map.hold_h)
    )
}
