//! The choice: cost of each dryer against how sure it meets the limit, one mark for each day.

use crate::speech::{Measure, Speech};
use decide::compare::{Comparison, ENOUGH};
use figure::{Axis, Figure, Grade, Panel, Point, Series, Tone, Weight};

/// Cost, or energy where there are no prices, against the share of draws that meet the limit.
pub(crate) fn choice(comparison: &Comparison, speech: Speech) -> Figure {
    let money = comparison.currency.as_ref();
    let along = |energy: f64, per_kg: Option<f64>| match per_kg {
        Some(per_kg) => per_kg,
        None => speech.number(Measure::Energy, energy),
    };
    let mut series: Vec<Series> = comparison
        .dryers
        .iter()
        .enumerate()
        .map(|(index, dryer)| {
            let year = &dryer.year;
            let price = year.money.map(|money| money.per_kg / year.energy_kwh_kg);
            let mut points: Vec<Point> = dryer
                .days
                .iter()
                .map(|day| {
                    let cost = along(day.energy_kwh_kg, price.map(|p| p * day.energy_kwh_kg));
                    Point::new(cost, 100.0 * day.probability)
                })
                .collect();
            points.sort_by(|a, b| a.along.total_cmp(&b.along));
            Series::Line {
                name: short(&dryer.title),
                points,
                grade: Grade::CommonPractice,
                tone: if index % 2 == 0 {
                    Tone::Water
                } else {
                    Tone::Heat
                },
                weight: if comparison.choice.dryer == Some(index) {
                    Weight::Leading
                } else {
                    Weight::Plain
                },
            }
        })
        .collect();
    series.push(Series::limit("sure enough", 100.0 * ENOUGH));
    if let Some(dryer) = comparison
        .choice
        .dryer
        .and_then(|i| comparison.dryers.get(i))
    {
        let year = &dryer.year;
        series.push(Series::Recommended {
            name: "recommended".into(),
            at: Point::new(
                along(year.energy_kwh_kg, year.money.map(|money| money.per_kg)),
                100.0 * dryer.probability,
            ),
            ellipse: None,
        });
    }
    let axis = match money {
        Some(currency) => Axis::log10("running cost", format!("{currency}/kg")),
        None => Axis::log10("energy", speech.unit(Measure::Energy)),
    };
    let mut figure = Figure::stacked(
        title(comparison),
        axis,
        vec![Panel::new(
            Axis::linear("draws that meet the limit", "%").ranging(0.0, 105.0),
            series,
        )],
    );
    figure.caption =
        "Each line joins the days of one dryer; dashed, because the dryers are sized by \
                      custom."
            .into();
    figure
}

fn title(comparison: &Comparison) -> String {
    match comparison
        .choice
        .dryer
        .and_then(|i| comparison.dryers.get(i))
    {
        Some(dryer) => format!(
            "The {} is the cheapest that is sure enough",
            short(&dryer.title)
        ),
        None => "No dryer is sure enough with this hopper".into(),
    }
}

/// The title up to its first comma.
fn short(title: &str) -> String {
    title.split(',').next().unwrap_or(title).to_owned()
}
