//! What is known of a resin: its isotherm at three temperatures, its diffusivity against
//! temperature, and how pellets of several resins dry beside each other.

use super::{line, nice_above, positive};
use crate::resins::{Compared, diffusivity_at, wet_ppm};
use crate::speech::{Measure, Speech};
use figure::{Axis, BandPoint, Figure, Grade, Moment, Panel, Point, Series, Tone, Weight};
use material::{Behaviour, Resin};
use quantity::constants::ZERO_CELSIUS;
use quantity::{Quantity, digits};

/// Points of a curve.
const POINTS: usize = 41;
/// Room temperature, K (ISO 291 standard atmosphere).
const ROOM: f64 = 23.0 + ZERO_CELSIUS;
/// How far beyond the drying window the diffusivity is drawn, K.
const BEYOND: f64 = 10.0;
/// Where the axis of time begins, h.
const SOONEST: f64 = 0.02;
/// Moisture, over its limit, below which a pellet counts as dry in the picture.
const DRY: f64 = 0.03;

/// Moisture in equilibrium with humid air at room temperature, at the customary temperature and
/// between; nothing for a resin that takes up no water.
pub(crate) fn isotherm(resin: &Resin, speech: Speech) -> Option<Figure> {
    let law = &resin.isotherm.law;
    if !law.takes_up_water() {
        return None;
    }
    let drying: f64 = resin.drying.temperature.value.si();
    let grade = evidence_grade(resin.isotherm.values.first().map(|(_, e)| e.grade));
    let degrees = |t: f64| speech.say(Measure::Temperature, t - ZERO_CELSIUS);
    let at = |t: f64, weight: Weight, tone: Tone| {
        let points = (0..POINTS).map(|step| {
            let activity = step as f64 / (POINTS - 1) as f64;
            Point::new(100.0 * activity, 100.0 * law.moisture(t, activity))
        });
        Series::Line {
            name: degrees(t),
            points: points.collect(),
            grade,
            tone,
            weight,
        }
    };
    let room = law.moisture(ROOM, 0.5);
    let most = law.moisture(drying, 1.0);
    let mut figure = Figure::stacked(
        format!(
            "{} holds {} % in a room of {} and 50 %RH, and {} % in saturated air of {}",
            resin.name,
            digits(100.0 * room, 2),
            degrees(ROOM),
            digits(100.0 * most, 2),
            degrees(drying)
        ),
        Axis::linear("relative humidity", "%"),
        vec![Panel::new(
            Axis::linear("moisture, dry basis", "%"),
            vec![
                at(ROOM, Weight::Plain, Tone::Water),
                at(0.5 * (ROOM + drying), Weight::Light, Tone::Heat),
                at(drying, Weight::Leading, Tone::Heat),
            ],
        )],
    );
    figure.caption =
        "Where a resin was measured at some temperatures only, the others are carried \
                      there by its heat of sorption."
            .into();
    Some(figure)
}

/// Diffusivity of the dry resin from a room to beyond its drying window, with its range.
pub(crate) fn diffusivity(resin: &Resin, speech: Speech) -> Option<Figure> {
    if resin.behaviour == Behaviour::SurfaceWaterOnly {
        return None;
    }
    let window = &resin.drying;
    let set: f64 = window.temperature.value.si();
    let high: f64 = window.temperature_high.value.si();
    let grade = evidence_grade(resin.diffusivity.value("reference").map(|e| e.grade));
    let end = high.max(set) + BEYOND;
    let degrees = |t: f64| speech.number(Measure::Temperature, t - ZERO_CELSIUS);
    let number = |value: f64| speech.number(Measure::Diffusivity, value);
    let places = (0..POINTS).map(|step| ROOM + (end - ROOM) * step as f64 / (POINTS - 1) as f64);
    let (mut band, mut middle) = (Vec::new(), Vec::new());
    for t in places {
        let range = diffusivity_at(resin, t);
        middle.push(Point::new(degrees(t), number(range.value)));
        band.push(BandPoint {
            along: degrees(t),
            low: number(range.low),
            high: number(range.high),
        });
    }
    let there = diffusivity_at(resin, set);
    let unit = speech.unit(Measure::Diffusivity);
    let write = |value: f64| digits(number(value), 2);
    let mut series = Vec::new();
    if there.high > there.low {
        series.push(Series::Band {
            name: "9 in 10".into(),
            points: band,
            grade,
            tone: Tone::Water,
        });
    }
    series.push(Series::Line {
        name: "dry".into(),
        points: middle,
        grade,
        tone: Tone::Water,
        weight: Weight::Leading,
    });
    let mut figure = Figure::stacked(
        format!(
            "Water moves in {} at {} with {} {unit} ({} to {})",
            resin.name,
            speech.say(Measure::Temperature, set - ZERO_CELSIUS),
            write(there.value),
            write(there.low),
            write(there.high)
        ),
        Axis::linear("temperature", speech.unit(Measure::Temperature)),
        vec![Panel::new(Axis::log10("diffusivity", unit), series)],
    );
    figure.moments = vec![Moment {
        name: "customary".into(),
        at: degrees(set),
    }];
    figure.caption =
        "Of the dry resin; the tint holds nine in ten of what the evidence leaves open \
                      of its size and its temperature law."
            .into();
    Some(figure)
}

/// One pellet of each resin from an opened package in its customary air: moisture over its limit.
pub(crate) fn beside(compared: &[Compared]) -> Option<Figure> {
    let followed: Vec<&Compared> = compared.iter().filter(|c| c.way.len() > 1).collect();
    let longest = followed.iter().map(|c| shown_hours(c)).fold(0.0, f64::max);
    if followed.is_empty() || longest <= SOONEST {
        return None;
    }
    let longest = nice_above(longest);
    let series = followed.iter().map(|c| {
        let points = c
            .way
            .iter()
            .filter(|(h, _)| (SOONEST..=longest).contains(h));
        let points = points
            .map(|(h, x)| Point::new(*h, wet_ppm(*x) / c.line.limit_ppm_wet))
            .filter(|p| p.value >= DRY);
        line(
            &c.line.name,
            positive(points.collect()),
            Tone::Water,
            Weight::Plain,
        )
    });
    let mut series: Vec<Series> = series.collect();
    series.push(Series::limit("limit", 1.0));
    let most = followed
        .iter()
        .map(|c| c.line.opened_ppm_wet / c.line.limit_ppm_wet)
        .fold(2.0, f64::max);
    let words: Vec<String> = compared
        .iter()
        .map(|c| format!("{} {}", c.line.name, c.numbers.pellet_time.words()))
        .collect();
    let mut figure = Figure::stacked(
        format!(
            "One pellet from an opened package to its limit: {}",
            words.join(", ")
        ),
        Axis::log10("time in its air", "h").ranging(SOONEST, longest),
        vec![Panel::new(
            Axis::log10("moisture over its limit", "1").ranging(DRY, 1.2 * most),
            series,
        )],
    );
    figure.caption =
        "Each at its own customary temperature and frost point, from the moisture of an \
                      opened package. No bed, no spread of sizes or streams and no margin: in a \
                      hopper it takes longer."
            .into();
    Some(figure)
}

/// Until a pellet is well dry.
fn shown_hours(compared: &Compared) -> f64 {
    let limit = compared.line.limit_ppm_wet;
    let dry = compared
        .way
        .iter()
        .find(|(_, x)| wet_ppm(*x) < 0.5 * limit)
        .or(compared.way.last());
    dry.map_or(0.0, |(h, _)| 1.2 * *h)
}

/// The grade of a picture from that of its evidence.
fn evidence_grade(grade: Option<material::Grade>) -> Grade {
    match grade {
        Some(material::Grade::Analogy) => Grade::Analogy,
        Some(material::Grade::CommonPractice) => Grade::CommonPractice,
        _ => Grade::Computed,
    }
}
