//! What a pellet's history looks like: its drying curve, the profiles inside, and a cut.

use crate::history::{Curve, History, Instant};
use crate::inside::{Cut, Profile};
use ::figure::{Axis, Figure, Grade, Grid, Panel, Place, Point, Scale, Series, Tone, Weight};
use air::CondensationPoint;
use quantity::{Duration, MoistureDryBasis, Quantity, digits};

/// What a figure needs beside the numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Caption {
    /// What the pellet is ("PC, 2.5 x 3 mm").
    pub subject: String,
    /// The moisture to stay under.
    pub limit: Option<MoistureDryBasis>,
    /// What stands behind the computed lines.
    pub grade: Grade,
    /// Where the numbers come from.
    pub sources: Vec<String>,
}

/// Moisture that still has a place on a logarithmic axis, ppm.
const LEAST_SHOWN: f64 = 0.1;
/// Fall or rise of the mean from which moisture is drawn on a logarithmic axis.
const WIDE: f64 = 20.0;

/// The curve: moisture at surface, mean and heart with the limit, temperatures, and the frost or dew
/// point of the air.
pub fn curve(curve: &Curve, caption: &Caption) -> Figure {
    let time = TimeAxis::of(curve);
    let mut panels = vec![moisture_panel(curve, caption, &time)];
    let temperature = |name: &str, number: fn(&Instant) -> f64, weight| {
        styled(
            name,
            time.points(curve, number),
            caption.grade,
            Tone::Heat,
            weight,
        )
    };
    panels.push(Panel {
        share: 0.6,
        ..Panel::new(
            Axis::linear("temperature", "°C"),
            vec![
                temperature("air", |i| i.air_temperature.celsius(), Weight::Light),
                temperature("pellet", |i| i.pellet_temperature.celsius(), Weight::Plain),
            ],
        )
    });
    let air = time.points(curve, |i| match i.condensation_point {
        Some(CondensationPoint::Frost(frost)) => frost.celsius(),
        Some(CondensationPoint::Dew(dew)) => dew.celsius(),
        None => f64::NAN,
    });
    if !air.is_empty() {
        panels.push(Panel {
            share: 0.4,
            ..Panel::new(
                Axis::linear("air frost or dew point", "°C"),
                vec![styled(
                    "air",
                    air,
                    Grade::Computed,
                    Tone::Water,
                    Weight::Plain,
                )],
            )
        });
    }
    let mut figure = Figure::stacked(conclusion(curve, caption), time.axis(), panels);
    if curve.segments.len() > 1 {
        figure.places = curve
            .segments
            .iter()
            .map(|(name, from, to)| Place {
                name: name.clone(),
                from: time.number(*from),
                to: time.number(*to),
            })
            .collect();
    }
    figure.caption = format!(
        "{}: one pellet alone in this air; moisture per dry resin.",
        caption.subject
    );
    figure.sources.clone_from(&caption.sources);
    figure
}

/// Profiles along the depth, one line a moment.
pub fn profiles(profiles: &[Profile], caption: &Caption) -> Figure {
    let last = profiles.len().saturating_sub(1);
    let mut series: Vec<Series> = profiles
        .iter()
        .enumerate()
        .map(|(index, profile)| {
            let points = profile
                .depth
                .iter()
                .zip(&profile.moisture)
                .map(|(depth, x)| Point::new(depth.millimetres(), x.ppm()))
                .collect();
            let weight = if index == last {
                Weight::Leading
            } else {
                Weight::Light
            };
            let name = format!("after {}", span(profile.time));
            styled(&name, points, caption.grade, Tone::Water, weight)
        })
        .collect();
    series.extend(limit(caption));
    let title = profiles.last().map_or_else(
        || "No water inside this resin".to_owned(),
        |profile| {
            let heart = profile.moisture.last().map_or(0.0, |x| x.ppm());
            inside_title(profile.time, heart, profile.mean.ppm())
        },
    );
    let panel = Panel::new(Axis::linear("moisture", "ppm"), series);
    let mut figure = Figure::stacked(title, Axis::linear("depth", "mm"), vec![panel]);
    figure.caption = format!(
        "{}: depth below the surface, on the one-dimensional equivalent of the outline.",
        caption.subject
    );
    figure.sources.clone_from(&caption.sources);
    figure
}

/// The cut through a cylinder as a colour field, to scale; the axis of the pellet is vertical.
pub fn cut(cut: &Cut, caption: &Caption) -> Figure {
    let millimetres =
        |places: &[quantity::Length]| places.iter().map(|x| x.millimetres()).collect();
    let values: Vec<Vec<f64>> = cut
        .moisture
        .iter()
        .map(|row| row.iter().map(|x| x.ppm()).collect())
        .collect();
    let heart = values
        .iter()
        .flatten()
        .fold(0.0_f64, |most, x| most.max(*x));
    let field = Series::Field {
        name: "moisture".to_owned(),
        unit: "ppm".to_owned(),
        grid: Grid {
            along: millimetres(&cut.across),
            across: millimetres(&cut.along),
            values,
        },
        scale: Scale::Linear,
        tone: Tone::Water,
    };
    let panel = Panel {
        to_scale: true,
        ..Panel::new(Axis::linear("along the axis", "mm"), vec![field])
    };
    let title = inside_title(cut.time, heart, cut.mean.ppm());
    let mut figure = Figure::stacked(title, Axis::linear("across the axis", "mm"), vec![panel]);
    figure.caption = format!("{}: cut through the axis of the pellet.", caption.subject);
    figure.sources.clone_from(&caption.sources);
    figure
}

fn moisture_panel(curve: &Curve, caption: &Caption, time: &TimeAxis) -> Panel {
    let range = |number: fn(&Instant) -> f64| {
        curve
            .instants
            .iter()
            .map(number)
            .fold((f64::INFINITY, 0.0_f64), |(low, high), x| {
                (low.min(x), high.max(x))
            })
    };
    let (driest, wettest) = range(|i| i.mean.ppm());
    let logarithmic = driest > 0.0 && wettest > WIDE * driest;
    let shown = |number: fn(&Instant) -> f64| {
        let mut points = time.points(curve, number);
        if logarithmic {
            for point in &mut points {
                point.value = point.value.max(LEAST_SHOWN);
            }
        }
        points
    };
    let line = |name: &str, number: fn(&Instant) -> f64, weight| {
        styled(name, shown(number), caption.grade, Tone::Water, weight)
    };
    let mut series = Vec::new();
    if wettest > 0.0 {
        series.push(line("surface", |i| i.surface.ppm(), Weight::Light));
        series.push(line("heart", |i| i.heart.ppm(), Weight::Light));
        series.push(line("mean", |i| i.mean.ppm(), Weight::Leading));
    }
    if range(|i| i.free_water.ppm()).1 > 0.0 {
        let weight = if wettest > 0.0 {
            Weight::Plain
        } else {
            Weight::Leading
        };
        let mut points = time.points(curve, |i| i.free_water.ppm());
        if logarithmic {
            points.retain(|point| point.value >= LEAST_SHOWN);
        }
        series.push(styled(
            "free water",
            points,
            caption.grade,
            Tone::Water,
            weight,
        ));
    }
    if series.is_empty() {
        series.push(line("mean", |i| i.mean.ppm(), Weight::Leading));
    }
    series.extend(limit(caption));
    let axis = if logarithmic {
        Axis::log10("moisture", "ppm")
    } else {
        Axis::linear("moisture", "ppm")
    };
    Panel {
        share: 1.5,
        ..Panel::new(axis, series)
    }
}

fn limit(caption: &Caption) -> Option<Series> {
    let limit = caption.limit?.ppm();
    Some(Series::limit(
        format!("limit {} ppm", digits(limit, 3)),
        limit,
    ))
}

/// All water on and in the pellet, ppm.
fn water(instant: &Instant) -> f64 {
    instant.mean.ppm() + instant.free_water.ppm()
}

/// What the curve says, in a sentence.
fn conclusion(curve: &Curve, caption: &Caption) -> String {
    let (Some(first), Some(last)) = (curve.instants.first(), curve.last()) else {
        return "Nothing happened".to_owned();
    };
    let ppm = |x: f64| format!("{} ppm", digits(x, 2));
    let (start, end) = (water(first), water(last));
    let whole = span(last.time);
    if let Some(limit) = caption.limit.map(MoistureDryBasis::ppm) {
        return against(curve, limit, start, end);
    }
    if first.free_water.si() > 0.0
        && last.mean.si() <= 0.0
        && let Some(when) = curve.crossing(1e-9, |i| i.free_water.si())
    {
        return format!("The water on the surface is gone after {}", span(when));
    }
    format!("From {} to {} in {whole}", ppm(start), ppm(end))
}

/// Where total water (ppm) stands against a limit, with the first and the last time it crossed.
fn against(curve: &Curve, limit: f64, start: f64, end: f64) -> String {
    let name = format!("{} ppm", digits(limit, 3));
    let backward = Curve {
        instants: curve.instants.iter().rev().copied().collect(),
        segments: Vec::new(),
        rejected: 0,
    };
    let first = curve.crossing(limit, water).map(span);
    let last = backward.crossing(limit, water).map(span);
    let whole = span(
        curve
            .last()
            .map_or(Duration::from_si(0.0), |last| last.time),
    );
    match (start > limit, end > limit, first, last) {
        (true, false, Some(when), _) => format!("{name} is reached after {when}"),
        (true, true, Some(first), Some(last)) => {
            format!("{name} is reached after {first} and passed again after {last}")
        }
        (false, true, _, Some(when)) => format!("{name} is passed after {when}"),
        (false, false, Some(first), Some(last)) if first != last => {
            format!("{name} is passed after {first} and reached again after {last}")
        }
        (_, above, _, _) => {
            let side = if above { "above" } else { "under" };
            let end = digits(end, 2);
            format!("At {end} ppm after {whole}, {side} the {name} asked for")
        }
    }
}

fn inside_title(time: Duration, heart: f64, mean: f64) -> String {
    let when = span(time);
    if mean > 0.0 && heart > 1.05 * mean {
        let times = digits(heart / mean, 2);
        format!("After {when} the heart holds {times} times the mean")
    } else {
        format!(
            "After {when} the heart is at {} ppm, the mean at {}",
            digits(heart, 2),
            digits(mean, 2)
        )
    }
}

fn styled(name: &str, points: Vec<Point>, grade: Grade, tone: Tone, weight: Weight) -> Series {
    Series::Line {
        name: name.to_owned(),
        points,
        grade,
        tone,
        weight,
    }
}

/// A span of time in the unit that suits it.
fn span(time: Duration) -> String {
    let axis = TimeAxis::long(time);
    format!("{} {}", digits(axis.number(time), 2), axis.unit)
}

/// The unit of time that suits a curve.
struct TimeAxis {
    unit: &'static str,
    seconds: f64,
}

impl TimeAxis {
    fn of(curve: &Curve) -> Self {
        Self::long(
            curve
                .last()
                .map_or(Duration::from_si(0.0), |last| last.time),
        )
    }

    fn long(time: Duration) -> Self {
        let (unit, seconds) = match time.seconds() {
            s if s < 180.0 => ("s", 1.0),
            s if s < 2.0 * 3600.0 => ("min", 60.0),
            s if s < 4.0 * 86_400.0 => ("h", 3600.0),
            _ => ("d", 86_400.0),
        };
        Self { unit, seconds }
    }

    fn number(&self, time: Duration) -> f64 {
        time.seconds() / self.seconds
    }

    fn axis(&self) -> Axis {
        Axis::linear("time", self.unit)
    }

    /// Points of a number of the curve, those that are numbers.
    fn points(&self, curve: &Curve, number: impl Fn(&Instant) -> f64) -> Vec<Point> {
        let point = |i: &Instant| Point::new(self.number(i.time), number(i));
        curve
            .instants
            .iter()
            .map(point)
            .filter(|point| point.value.is_finite())
            .collect()
    }
}

/// The usual caption of a history: no limit, numbers computed from what was given.
pub fn plain_caption(history: &History) -> Caption {
    let outline = history.spec().pellet.outline;
    let size = 1e3 * outline.sauter_diameter();
    Caption {
        subject: format!("Pellet as a sphere of {} mm", digits(size, 2)),
        limit: None,
        grade: Grade::Computed,
        sources: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::tests::{Outcome, follow, oven, wet_outside};
    use crate::inside;

    fn caption(limit: Option<f64>) -> Caption {
        Caption {
            subject: "PC, 2.5 x 3 mm (invented lot)".to_owned(),
            limit: limit.map(MoistureDryBasis::from_ppm),
            grade: Grade::Computed,
            sources: Vec::new(),
        }
    }

    #[test]
    fn holds_curves_can_be_drawn_and_conclude() -> Outcome {
        for (spec, limit, title) in [
            (oven(), Some(200.0), "200 ppm is reached after 40 min"),
            (
                oven(),
                Some(0.3),
                "At 0.47 ppm after 4 h, above the 0.3 ppm asked for",
            ),
            (
                oven(),
                Some(3000.0),
                "At 0.47 ppm after 4 h, under the 3000 ppm asked for",
            ),
            (oven(), None, "From 2000 ppm to 0.47 ppm in 4 h"),
            (
                wet_outside(4000.0),
                None,
                "The water on the surface is gone after 1.2 s",
            ),
        ] {
            let figure = curve(&follow(&spec)?, &caption(limit));
            assert_eq!(figure.check(), Ok(()));
            assert_eq!(figure.title, title);
            assert_eq!(figure.panels.len(), 3);
        }
        Ok(())
    }

    #[test]
    fn holds_inside_can_be_drawn() -> Outcome {
        let spec = oven();
        let (history, followed) = (spec.check()?, follow(&spec)?);
        let moments = [10.0, 60.0].map(Duration::from_minutes);
        let along = inside::profiles(&history, &followed, &moments, 31)?;
        let figure = profiles(&along, &caption(Some(200.0)));
        assert_eq!(figure.check(), Ok(()));
        assert!(figure.title.starts_with("After 60 min the heart holds 3."));
        let across = inside::cut(&history, &followed, moments[1], 25)?.ok_or("a cylinder")?;
        let figure = cut(&across, &plain_caption(&history));
        assert_eq!(figure.check(), Ok(()));
        assert!(figure.title.starts_with("After 60 min"), "{}", figure.title);
        Ok(())
    }
}
