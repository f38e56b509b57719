//! The choice: cost of each dryer against how dry it leaves the resin on its worst day.

use crate::dryers::words::{is_one_job, short};
use crate::speech::{Measure, Speech, ppm};
use decide::compare::{Compared, Comparison, CostKind};
use figure::{Axis, Cross, Extent, Figure, Grade, Panel, Point, Series, Tone, Weight};

/// Least moisture, or share of a limit, that is drawn.
const LEAST: f64 = 0.05;

/// Cost, or energy where there are no prices, against the moisture of the hopper that is least sure.
pub(crate) fn choice(comparison: &Comparison, speech: Speech) -> Figure {
    let marks: Vec<Mark> = comparison
        .dryers
        .iter()
        .filter_map(|dryer| Mark::of(comparison, dryer, speech))
        .collect();
    let mut series: Vec<Series> = marks
        .iter()
        .enumerate()
        .map(|(index, mark)| mark.cross(index, comparison.choice.dryer == Some(index)))
        .collect();
    let alone = is_one_job(comparison);
    let mut hoppers = comparison.runs.iter().flat_map(|run| &run.hoppers);
    let (limit, axis) = match hoppers.next() {
        Some(hopper) if alone => (
            Series::limit(
                format!("limit {}", ppm(hopper.limit_ppm_wet)),
                hopper.limit_ppm_wet,
            ),
            Axis::log10("moisture leaving, worst day", "ppm"),
        ),
        _ => (
            Series::limit("limit of each resin", 100.0),
            Axis::log10("moisture leaving, of its limit, worst day", "%"),
        ),
    };
    series.push(limit);
    if let Some(mark) = comparison.choice.dryer.and_then(|index| marks.get(index)) {
        series.push(Series::Recommended {
            name: "recommended".into(),
            at: Point::new(mark.cost, mark.value),
            ellipse: None,
        });
    }
    let most = marks.iter().map(|mark| mark.costs.1).fold(0.0, f64::max);
    let shared = match &comparison.currency {
        Some(currency) if comparison.counted.contains(&CostKind::Lost) => {
            Axis::linear("cost, without what is lost", format!("{currency}/kg"))
        }
        Some(currency) => Axis::linear("cost", format!("{currency}/kg")),
        None => Axis::linear("energy", speech.unit(Measure::Energy)),
    }
    .ranging(0.0, 1.1 * most);
    let mut figure = Figure::stacked(title(comparison), shared, vec![Panel::new(axis, series)]);
    figure.caption =
        "Each cross is a dryer: upright nine draws in ten of what leaves, across nine draws in \
                      ten of its energy. Below the limit and to the left is better. Dashed and ≈: \
                      common practice without a source stands behind much of a dryer."
            .into();
    figure
}

/// A dryer on the picture.
struct Mark {
    name: String,
    cost: f64,
    costs: (f64, f64),
    value: f64,
    values: (f64, f64),
}

impl Mark {
    fn of(comparison: &Comparison, dryer: &Compared, speech: Speech) -> Option<Self> {
        let worst = dryer
            .days
            .iter()
            .min_by(|a, b| a.probability.total_cmp(&b.probability))?;
        let asked = &comparison.runs.get(worst.run)?.hoppers;
        let (hopper, asked) = worst
            .hoppers
            .iter()
            .zip(asked)
            .min_by(|(a, _), (b, _)| a.probability.total_cmp(&b.probability))?;
        let scale = if is_one_job(comparison) {
            1.0
        } else {
            100.0 / asked.limit_ppm_wet
        };
        let value = |ppm: f64| (ppm * scale).max(LEAST);
        let year = &dryer.year;
        let (low, high) = year.energy_range_kwh_kg;
        let cost = |energy: f64| match year.money {
            // Only the current is in doubt by the draws; what is lost shows upright.
            Some(money) => {
                let kept = money.counted_without(&comparison.counted, Some(CostKind::Lost));
                money.per_kg * (kept / money.per_year + energy / year.energy_kwh_kg - 1.0)
            }
            None => speech.number(Measure::Energy, energy),
        };
        Some(Self {
            name: short(&dryer.title).to_owned(),
            cost: cost(year.energy_kwh_kg),
            costs: (cost(low), cost(high)),
            value: value(hopper.outlet_ppm_wet),
            values: (value(hopper.range_ppm_wet.0), value(hopper.range_ppm_wet.1)),
        })
    }

    /// The dryer as a cross; neighbours in turn in one tone and the other.
    fn cross(&self, index: usize, chosen: bool) -> Series {
        // The dryer as it stands is no draw, and may lie outside nine in ten of them.
        let around = |middle: f64, (low, high): (f64, f64)| Extent {
            low: low.min(middle),
            high: high.max(middle),
        };
        Series::Cross(Cross {
            name: self.name.clone(),
            at: Point::new(self.cost, self.value),
            along: around(self.cost, self.costs),
            value: around(self.value, self.values),
            grade: Grade::CommonPractice,
            tone: if index.is_multiple_of(2) {
                Tone::Water
            } else {
                Tone::Heat
            },
            weight: if chosen {
                Weight::Leading
            } else {
                Weight::Plain
            },
        })
    }
}

fn title(comparison: &Comparison) -> String {
    let index = comparison.choice.dryer;
    let Some(dryer) = index.and_then(|index| comparison.dryers.get(index)) else {
        return "No dryer is sure enough with this hopper".into();
    };
    let least = if comparison.currency.is_some() {
        "is the cheapest"
    } else {
        "takes least energy of those"
    };
    format!(
        "The {} {least} that is surely dry enough",
        short(&dryer.title)
    )
    .replace("those that is", "those that are")
}
