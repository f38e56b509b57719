//! The curve of one pellet through any history of air: an oven, a sample on a bench, a bag.

mod answer;
mod doubt;
mod fields;
mod page;
mod read;
mod words;

pub use answer::{CurveAnswer, CurveInstant, CurveSegment};
pub(crate) use fields::CURVE;
pub use read::{read_curve, read_curve_file};
pub use words::CurveWords;

use crate::Trouble;
use crate::plan::{InsideProfile, citations, evidence_rows};
use files::Library;
use material::Resin;
use pellet::history::{Curve, HistorySpec, PelletSpec, Segment, Start};
use pellet::inside;
use quantity::{AbsolutePressure, Duration, MoistureDryBasis, Quantity, Temperature};
use serde::Serialize;

/// Points of the answer between beginning and end of each segment.
const POINTS: usize = 60;
/// Points along the depth.
const DEPTH_POINTS: usize = 41;

/// A pellet and what it goes through.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CurveQuestion {
    /// What the user calls it.
    pub title: String,
    /// The resin.
    pub resin: Resin,
    /// Moisture inside at the beginning.
    pub moisture: MoistureDryBasis,
    /// Water on the surface at the beginning, per dry resin.
    pub surface_water: MoistureDryBasis,
    /// Temperature at the beginning.
    pub temperature: Temperature,
    /// Moisture it is held against; none where nothing is asked.
    pub limit: Option<MoistureDryBasis>,
    /// Total pressure.
    pub pressure: AbsolutePressure,
    /// The air, stretch by stretch.
    pub segments: Vec<Segment>,
}

/// Follows a pellet through its history.
///
/// # Errors
/// Every mistake in the history, and a pellet that cannot be followed.
pub fn curve(question: &CurveQuestion, library: &Library) -> Result<CurveAnswer, Trouble> {
    let pellet = PelletSpec::of(&question.resin)?;
    let spec = HistorySpec {
        pellet,
        start: Start {
            temperature: question.temperature,
            moisture: question.moisture,
            free_water: question.surface_water,
        },
        pressure: question.pressure,
        segments: question.segments.clone(),
        moments: moments(&question.segments),
        fineness: None,
        precision: None,
    };
    let history = spec.check().map_err(placed)?;
    let followed = history.follow()?;
    let factors = doubt::factors(question, &spec, &followed)?;
    let shown = inside_moments(&followed);
    let profiles = inside::profiles(&history, &followed, &shown, DEPTH_POINTS)?;
    let evidence = evidence_rows(&question.resin);
    Ok(answer::of(
        question,
        &followed,
        &factors,
        profiles.iter().map(InsideProfile::of).collect(),
        citations(&evidence, library),
        evidence,
    ))
}

/// Moments the answer is given at: closer together after each change of the air.
fn moments(segments: &[Segment]) -> Vec<Duration> {
    let mut begin = 0.0;
    let mut all = Vec::new();
    for segment in segments {
        let span: f64 = segment.duration.si();
        all.extend((1..=POINTS).map(|step| {
            let share = step as f64 / POINTS as f64;
            Duration::from_si(begin + span * share * share)
        }));
        begin += span;
    }
    all
}

/// The ends of the stretches, or, where there is one alone, when a tenth, half and four fifths of
/// the change of the mean are done, and the end.
fn inside_moments(curve: &Curve) -> Vec<Duration> {
    if curve.segments.len() > 1 {
        return curve.segments.iter().map(|(_, _, end)| *end).collect();
    }
    let (Some(first), Some(last)) = (curve.instants.first(), curve.last()) else {
        return Vec::new();
    };
    let (from, to) = (first.mean.si(), last.mean.si());
    let mut found: Vec<Duration> = Vec::new();
    for done in [0.1, 0.5, 0.8] {
        let level = from + done * (to - from);
        if let Some(time) = curve.crossing(level, |i| i.mean.si())
            && found.last().is_none_or(|before| before.si() < time.si())
            && time.si() < 0.97 * last.time.si()
        {
            found.push(time);
        }
    }
    found.push(last.time);
    found
}

/// Faults of a history at the fields of a curve file, whose stretches count from one.
fn placed(mut faults: quantity::Faults) -> quantity::Faults {
    for fault in &mut faults.0 {
        fault.place.path = renamed(&fault.place.path);
    }
    faults
}

fn renamed(path: &str) -> String {
    let Some(rest) = path.strip_prefix("segments[") else {
        return path.replace("start.free_water", "start.surface_water");
    };
    let Some((index, field)) = rest.split_once("].") else {
        return path.to_owned();
    };
    let number = index
        .parse::<usize>()
        .map_or_else(|_| index.to_owned(), |n| (n + 1).to_string());
    let field = match field {
        "from" => "humidity",
        "to" => "to_humidity",
        "surround" => "velocity",
        "cover" => "bag",
        other => other,
    };
    format!("air[{number}].{field}")
}

#[cfg(test)]
mod tests {
    use super::renamed;

    #[test]
    fn exact_fields_of_a_history_have_their_name_in_the_file() {
        assert_eq!(renamed("segments[0].from"), "air[1].humidity");
        assert_eq!(renamed("segments[11].duration"), "air[12].duration");
        assert_eq!(renamed("start.free_water"), "start.surface_water");
        assert_eq!(renamed("segments"), "segments");
    }
}
