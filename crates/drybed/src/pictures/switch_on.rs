//! The power of a hall as its dryers are switched on.

use super::line;
use decide::switch_on::{Minute, SwitchOn};
use figure::{Axis, Figure, Moment, Panel, Point, Series, Tone, Weight};
use quantity::digits;

/// The power of all with its limit, and of each dryer under it; `wanted` says when the last is wanted.
pub(crate) fn switch_on(found: &SwitchOn, title: String, wanted: &str) -> Figure {
    let last = found.power.last().map_or(0.0, |minute| minute.hour);
    let over = |minutes: &[Minute], value: &dyn Fn(&Minute) -> f64| -> Vec<Point> {
        let points = minutes.iter();
        points
            .map(|minute| Point::new(minute.hour - last, value(minute)))
            .collect()
    };
    let mut together = Vec::new();
    if found.waiting_kwh > 0.0 {
        let late = over(&found.unordered, &|minute| minute.all_kw);
        together.push(line(
            "each as late as it can",
            late,
            Tone::Ink,
            Weight::Light,
        ));
    }
    let all = over(&found.power, &|minute| minute.all_kw);
    together.push(line(
        "all, in this order",
        all,
        Tone::Energy,
        Weight::Leading,
    ));
    if let Some(limit) = found.limit_kw {
        together.push(Series::limit(
            format!("limit {} kW", digits(limit, 3)),
            limit,
        ));
    }
    let mut all = Panel::new(Axis::linear("power of all", "kW"), together);
    all.share = 1.4;
    let each = found.dryers.iter().enumerate().map(|(index, dryer)| {
        let points = over(&found.power, &|minute| minute.each_kw[index]);
        line(dryer.name.clone(), points, Tone::Energy, Weight::Plain)
    });
    let each = Panel::new(Axis::linear("power of each", "kW"), each.collect());
    let axis = Axis::linear(format!("time before {wanted}"), "h");
    let mut figure = Figure::stacked(title, axis, vec![all, each]);
    let times = found.dryers.iter().enumerate();
    figure.moments = times
        .map(|(index, dryer)| Moment {
            name: format!("{} on", index + 1),
            at: dryer.on_h - last,
        })
        .collect();
    figure.caption =
        "Mean power of each minute, until all are at work; the marks say in which order they are \
                      switched on."
            .into();
    figure
}
