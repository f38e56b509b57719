//! A pellet in its store: days against moisture, and the humidity of the air.

use super::{line, surface_and_mean};
use crate::plan::PlanAnswer;
use crate::speech::{Speech, hours, ppm};
use decide::storage::StoredPoint;
use figure::{Axis, Figure, Panel, Point, Tone, Weight};

/// The store; nothing where no climate is stated.
pub(crate) fn storage(answer: &PlanAnswer, _speech: Speech) -> Option<Figure> {
    let course = &answer.plan.stored.as_ref()?.course;
    let (first, last) = (course.first()?, course.last()?);
    // Hours where it lasts less than three days.
    let (unit, per_day) = if last.time_d < 3.0 {
        ("h", 24.0)
    } else {
        ("d", 1.0)
    };
    let along = |value: &dyn Fn(&StoredPoint) -> f64| -> Vec<Point> {
        let points = course.iter();
        points
            .map(|p| Point::new(per_day * p.time_d, value(p)))
            .collect()
    };
    let moisture = Panel::new(
        Axis::linear("moisture, wet basis", "ppm"),
        surface_and_mean(along(&|p| p.surface_ppm_wet), along(&|p| p.mean_ppm_wet)),
    );
    let mut air = Panel::new(
        Axis::linear("air of the store", "%RH"),
        vec![line(
            "humidity",
            along(&|p| p.relative_humidity_percent),
            Tone::Ink,
            Weight::Plain,
        )],
    );
    air.share = 0.6;
    let title = format!(
        "{} in the store took the pellets from {} to {}",
        hours(24.0 * last.time_d),
        ppm(first.mean_ppm_wet),
        ppm(last.mean_ppm_wet)
    );
    let mut figure = Figure::stacked(title, Axis::linear("time", unit), vec![moisture, air]);
    figure.caption = "A pellet on top, in balance with the air at its surface; deeper ones lag \
                      behind it."
        .into();
    Some(figure)
}
