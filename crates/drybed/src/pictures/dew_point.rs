//! What a dew point buys: delivered frost point against outlet moisture.

use super::{line, moisture_range, positive};
use crate::plan::{PlanAnswer, condensation};
use crate::speech::{Measure, Speech, ppm};
use figure::{Axis, Figure, Moment, Panel, Point, Series, Tone, Weight};

/// Outlet moisture against the delivered frost point; nothing where it was not asked.
pub(crate) fn dew_point(answer: &PlanAnswer, speech: Speech) -> Option<Figure> {
    let plan = &answer.plan;
    let limit = plan.outlet.limit_ppm_wet;
    let degrees = |c: f64| speech.number(Measure::Temperature, c);
    let mut rows = plan.dew_point_rows.clone();
    rows.sort_by(|a, b| a.frost_point_c.total_cmp(&b.frost_point_c));
    let points = positive(
        rows.iter()
            .map(|row| Point::new(degrees(row.frost_point_c), row.mean_ppm_wet))
            .collect(),
    );
    if points.len() < 2 {
        return None;
    }
    let range = moisture_range(points.iter().map(|p| p.value), limit);
    let mut axis = Axis::linear("delivered frost point", speech.unit(Measure::Temperature));
    axis.reversed = true;
    let mut figure = Figure::stacked(
        title(answer, speech),
        axis,
        vec![Panel::new(
            Axis::log10("outlet moisture, wet basis", "ppm").ranging(range.0, range.1),
            vec![
                line("mean of a shot", points, Tone::Water, Weight::Leading),
                Series::limit(format!("limit {}", ppm(limit)), limit),
            ],
        )],
    );
    let mark = |name: &str, c: f64| Moment {
        name: name.into(),
        at: degrees(c),
    };
    let needed = plan.needed_frost_point_c;
    let given = plan.settings.frost_point_c;
    let near = (needed - given).abs() < 2.0;
    figure.moments = if near {
        vec![mark("needed and delivered", needed)]
    } else {
        vec![mark("needed", needed), mark("delivered", given)]
    };
    figure.caption = "Everything else as planned; above freezing it is the dew point. Needed is the wettest air that keeps the mean \
                      within a twentieth of the limit of what the driest air gives."
        .into();
    Some(figure)
}

/// What chasing a better dew point would bring.
pub(crate) fn title(answer: &PlanAnswer, speech: Speech) -> String {
    let plan = &answer.plan;
    let needed = condensation(plan.needed_frost_point_c, speech);
    let begins = |needed: &str| needed.replacen("a ", "A ", 1);
    let rows = &plan.dew_point_rows;
    let best = rows
        .iter()
        .map(|r| r.mean_ppm_wet)
        .fold(f64::INFINITY, f64::min);
    let gain = at(answer, plan.settings.frost_point_c).map_or(0.0, |now| now - best);
    if !best.is_finite() {
        return format!("{} is enough", begins(&needed));
    }
    let spare = plan.needed_frost_point_c - plan.settings.frost_point_c;
    if spare > 1.0 {
        format!(
            "{} would do; drier air than delivered buys {} at most",
            begins(&needed),
            ppm(gain.max(0.0))
        )
    } else if spare < -1.0 {
        format!(
            "The air is not dry enough: {needed} would take {} off",
            ppm(gain.max(0.0))
        )
    } else {
        format!("The air delivered is just as dry as is needed: {needed}")
    }
}

/// Moisture at a frost point between those of the rows, along a straight line of logarithms.
fn at(answer: &PlanAnswer, frost_point_c: f64) -> Option<f64> {
    let mut rows = answer.plan.dew_point_rows.clone();
    rows.sort_by(|a, b| a.frost_point_c.total_cmp(&b.frost_point_c));
    let first = rows.first()?;
    if frost_point_c <= first.frost_point_c {
        return Some(first.mean_ppm_wet);
    }
    rows.windows(2).find_map(|pair| {
        let (from, to) = (pair[0], pair[1]);
        let share = (frost_point_c - from.frost_point_c) / (to.frost_point_c - from.frost_point_c);
        let rise = to.mean_ppm_wet / from.mean_ppm_wet;
        let found = from.mean_ppm_wet * rise.powf(share);
        ((0.0..=1.0).contains(&share) && found.is_finite()).then_some(found)
    })
}
