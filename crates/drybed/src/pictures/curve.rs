//! The curve of one pellet: time against moisture, temperature and the air's humidity.

use super::inside_pellet::{profiles, title};
use super::{line, moisture_range, positive};
use crate::curve::{CurveAnswer, CurveInstant};
use crate::speech::{Measure, Speech, hours, ppm};
use figure::{Axis, BandPoint, Figure, Grade, Panel, Place, Point, Series, Tone, Weight};

/// Fall or rise of the mean from which moisture is drawn on a logarithmic axis.
const WIDE: f64 = 10.0;

/// The curve.
pub(crate) fn curve(answer: &CurveAnswer, says: String, speech: Speech) -> Figure {
    let time = Time::of(answer);
    let along = |value: &dyn Fn(&CurveInstant) -> f64| -> Vec<Point> {
        let instants = answer.instants.iter();
        instants
            .map(|i| Point::new(time.number(i.time_h), value(i)))
            .collect()
    };
    let degrees = |c: f64| speech.number(Measure::Temperature, c);
    let unit = speech.unit(Measure::Temperature);
    let heat = Panel::new(
        Axis::linear("temperature", unit),
        vec![
            line(
                "air",
                along(&|i| degrees(i.air_c)),
                Tone::Heat,
                Weight::Light,
            ),
            line(
                "pellet",
                along(&|i| degrees(i.pellet_c)),
                Tone::Heat,
                Weight::Leading,
            ),
        ],
    );
    let frost: Vec<Point> = answer
        .instants
        .iter()
        .filter_map(|i| {
            Some(Point::new(
                time.number(i.time_h),
                degrees(i.air_frost_point_c?),
            ))
        })
        .collect();
    let mut panels = vec![moisture(answer, &time, &along), heat];
    if frost.len() > 1 {
        let mut panel = Panel::new(
            Axis::linear("frost point of air", unit),
            vec![line("air", frost, Tone::Water, Weight::Plain)],
        );
        panel.share = 0.7;
        panels.push(panel);
    }
    let mut figure = Figure::stacked(says, Axis::linear("time", time.unit), panels);
    if answer.segments.len() > 1 {
        figure.places = answer
            .segments
            .iter()
            .map(|s| Place {
                name: s.name.clone(),
                from: time.number(s.from_h),
                to: time.number(s.to_h),
            })
            .collect();
    }
    figure.caption =
        "One pellet alone in this air. Pellets in a heap see air that their neighbours \
                      have wetted or dried, and lag behind it."
            .into();
    if answer.end_range_ppm_wet.is_some() {
        figure
            .caption
            .push_str(" The tint holds nine in ten of what the evidence leaves open.");
    }
    figure
}

/// Moisture inside at a few moments.
pub(crate) fn curve_inside(answer: &CurveAnswer, speech: Speech) -> Option<Figure> {
    let last = answer.instants.last()?;
    let title = title(
        [last.heart_ppm_wet, last.mean_ppm_wet, last.surface_ppm_wet],
        &format!("after {}", hours(last.time_h)),
    );
    profiles(&answer.inside, answer.limit_ppm_wet, title, speech)
}

type Along<'a> = dyn Fn(&dyn Fn(&CurveInstant) -> f64) -> Vec<Point> + 'a;

fn moisture(answer: &CurveAnswer, time: &Time, along: &Along<'_>) -> Panel {
    let instants = &answer.instants;
    let total = |i: &CurveInstant| i.mean_ppm_wet + i.surface_water_ppm_dry;
    let (low, high) = instants
        .iter()
        .map(total)
        .fold((f64::INFINITY, 0.0_f64), |(low, high), v| {
            (low.min(v), high.max(v))
        });
    let logarithmic = high > WIDE * low && high > 1.0;
    let inside = instants.iter().any(|i| i.mean_ppm_wet > 0.01);
    let mut series = Vec::new();
    if inside && answer.end_range_ppm_wet.is_some() {
        let points = instants
            .iter()
            .filter(|i| i.mean_low_ppm_wet > 0.0)
            .map(|i| BandPoint {
                along: time.number(i.time_h),
                low: i.mean_low_ppm_wet,
                high: i.mean_high_ppm_wet.max(i.mean_low_ppm_wet),
            })
            .collect();
        series.push(Series::Band {
            name: "9 in 10".into(),
            points,
            grade: Grade::Computed,
            tone: Tone::Water,
        });
    }
    let shown = |points: Vec<Point>| {
        if logarithmic {
            positive(points)
        } else {
            points
        }
    };
    let mut put = |name: &str, points: Vec<Point>, tone, weight| {
        let points = shown(points);
        if points.len() > 1 {
            series.push(line(name, points, tone, weight));
        }
    };
    if inside {
        put(
            "heart",
            along(&|i| i.heart_ppm_wet),
            Tone::Water,
            Weight::Light,
        );
        put(
            "mean",
            along(&|i| i.mean_ppm_wet),
            Tone::Water,
            Weight::Leading,
        );
        put(
            "surface",
            along(&|i| i.surface_ppm_wet),
            Tone::Water,
            Weight::Light,
        );
    }
    if instants.iter().any(|i| i.surface_water_ppm_dry > 0.0) {
        let weight = if inside {
            Weight::Plain
        } else {
            Weight::Leading
        };
        put(
            "water on the surface",
            along(&|i| i.surface_water_ppm_dry),
            Tone::Ink,
            weight,
        );
    }
    if series.is_empty() {
        series.push(line(
            "mean",
            along(&|i| i.mean_ppm_wet),
            Tone::Water,
            Weight::Leading,
        ));
    }
    if let Some(limit) = answer.limit_ppm_wet {
        series.push(Series::limit(format!("limit {}", ppm(limit)), limit));
    }
    let axis = if logarithmic {
        let limit = answer.limit_ppm_wet.unwrap_or(high);
        let (from, to) = moisture_range(instants.iter().map(total), limit);
        Axis::log10("moisture, wet basis", "ppm").ranging(from, to)
    } else {
        Axis::linear("moisture, wet basis", "ppm")
    };
    let mut panel = Panel::new(axis, series);
    panel.share = 1.6;
    panel
}

/// The unit of time that suits a curve.
struct Time {
    unit: &'static str,
    hours: f64,
}

impl Time {
    fn of(answer: &CurveAnswer) -> Self {
        let whole = answer.instants.last().map_or(0.0, |i| i.time_h);
        let (unit, hours) = match whole {
            h if h < 0.05 => ("s", 1.0 / 3600.0),
            h if h < 2.0 => ("min", 1.0 / 60.0),
            h if h < 96.0 => ("h", 1.0),
            _ => ("d", 24.0),
        };
        Self { unit, hours }
    }

    fn number(&self, time_h: f64) -> f64 {
        time_h / self.hours
    }
}
