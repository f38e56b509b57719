//! Towers over one cycle: temperature and dew point of what leaves them.

use super::half::Half;
use super::spec::Towers;
use super::steady::TowersSteady;
use crate::Stream;
use crate::condensation_temperature;
use figure::{Axis, Figure, Grade, Panel, Place, Point, Series, Tone, Weight};
use quantity::constants::ZERO_CELSIUS;

impl Towers {
    /// Time against temperature and dew point of the dried air and of the air leaving the other tower.
    pub fn over_a_cycle(&self, steady: &TowersSteady) -> Figure {
        let whole: f64 = steady.halves.iter().map(|half| half.duration).sum();
        let mut figure = Figure::stacked(
            conclusion(steady),
            Axis::linear("time", "h").ranging(0.0, whole / 3600.0),
            vec![
                panel(steady, "temperature", Tone::Heat, |air| {
                    air.temperature - ZERO_CELSIUS
                }),
                panel(steady, "dew point", Tone::Water, |air| {
                    condensation_temperature(air.humidity, self.spec.pressure) - ZERO_CELSIUS
                }),
            ],
        );
        let mut from = 0.0;
        for half in &steady.halves {
            let to = from + half.duration / 3600.0;
            figure.places.push(Place {
                name: ["first tower dries", "second tower dries"][half.drying].to_owned(),
                from,
                to,
            });
            from = to;
        }
        figure
    }
}

fn conclusion(steady: &TowersSteady) -> String {
    let worst = |of: fn(&Half) -> f64| of(&steady.halves[0]).max(of(&steady.halves[1]));
    let settled = steady.halves[0].outlet.settled;
    format!(
        "The air settles at {:.0} °C and a dew point of {:.0} °C; at the swap it reaches {:.0} °C and {:.0} °C",
        settled.0 - ZERO_CELSIUS,
        settled.1 - ZERO_CELSIUS,
        worst(|half| half.outlet.hottest) - ZERO_CELSIUS,
        worst(|half| half.outlet.wettest_dew_point) - ZERO_CELSIUS,
    )
}

/// One line of the dried air, one of the air leaving the other tower in each half.
fn panel(steady: &TowersSteady, name: &str, tone: Tone, value: impl Fn(&Stream) -> f64) -> Panel {
    let mut dry = Vec::new();
    let mut series = Vec::new();
    let mut from = 0.0;
    for half in &steady.halves {
        let at = |time: f64| (from + time) / 3600.0;
        let mut other = Vec::new();
        for moment in &half.moments {
            let middle = at(moment.time - 0.5 * moment.duration);
            dry.push(Point::new(middle, value(&moment.dry)));
            if let Some(air) = &moment.off_line {
                other.push(Point::new(middle, value(air)));
            }
        }
        if !other.is_empty() {
            series.push(Series::Line {
                name: "regeneration and cooling".to_owned(),
                points: other,
                grade: Grade::Computed,
                tone,
                weight: Weight::Plain,
            });
        }
        from += half.duration;
    }
    series.insert(
        0,
        Series::Line {
            name: "dried air".to_owned(),
            points: dry,
            grade: Grade::Computed,
            tone,
            weight: Weight::Leading,
        },
    );
    Panel::new(Axis::linear(name, "°C"), series)
}
