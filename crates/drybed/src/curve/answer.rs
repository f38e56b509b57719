//! The answer of a curve, as plain data.

use super::CurveQuestion;
use crate::air::celsius;
use crate::plan::{Citation, EvidenceRow, InsideProfile};
use pellet::history::{Curve, Instant};
use quantity::Quantity;
use serde::Serialize;

/// Version of the layout of a curve in JSON.
const CURVE_SCHEMA: u32 = 1;
/// Instants kept between those asked for: every so many of the steps taken.
const LEAST_APART: f64 = 1.0 / 400.0;

/// The curve of one pellet.
#[derive(Clone, Debug, Serialize)]
pub struct CurveAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// What the user calls it.
    pub title: String,
    /// Name of the resin.
    pub resin: String,
    /// Sizes of the pellet across and along its axis.
    pub pellet_mm: Vec<f64>,
    /// Moisture it is held against.
    pub limit_ppm_wet: Option<f64>,
    /// Total pressure.
    pub pressure_kpa: f64,
    /// Water at the beginning, inside and on the surface.
    pub start_ppm_wet: f64,
    /// Water at the end, inside and on the surface.
    pub end_ppm_wet: f64,
    /// Range of the water at the end that holds nine in ten of what the evidence leaves open.
    pub end_range_ppm_wet: Option<[f64; 2]>,
    /// When the limit is passed for good, if it is.
    pub limit_passed_h: Option<f64>,
    /// When the water on the surface is gone, where there was some.
    pub surface_dry_h: Option<f64>,
    /// The stretches of air.
    pub segments: Vec<CurveSegment>,
    /// The curve.
    pub instants: Vec<CurveInstant>,
    /// Moisture inside at a few moments.
    pub inside: Vec<InsideProfile>,
    /// The evidence for every number of the resin.
    pub evidence: Vec<EvidenceRow>,
    /// The sources it names.
    pub sources: Vec<Citation>,
    /// The question, everything in it resolved to numbers in SI units.
    pub question: CurveQuestion,
}

/// A stretch of air.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CurveSegment {
    /// Its name.
    pub name: String,
    /// Its beginning.
    pub from_h: f64,
    /// Its end.
    pub to_h: f64,
    /// Water at its end, inside and on the surface.
    pub end_ppm_wet: f64,
}

/// The pellet and its air at one time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CurveInstant {
    /// Since the beginning.
    pub time_h: f64,
    /// Temperature of the pellet.
    pub pellet_c: f64,
    /// Temperature of the air.
    pub air_c: f64,
    /// Frost point of the air, dew point above freezing; none in air drier than -80 degC.
    pub air_frost_point_c: Option<f64>,
    /// Mean moisture.
    pub mean_ppm_wet: f64,
    /// Low end of its range.
    pub mean_low_ppm_wet: f64,
    /// High end of its range.
    pub mean_high_ppm_wet: f64,
    /// Moisture at the surface.
    pub surface_ppm_wet: f64,
    /// Moisture at the heart.
    pub heart_ppm_wet: f64,
    /// Water on the surface, per dry resin.
    pub surface_water_ppm_dry: f64,
    /// Water given off, in the step that ends here.
    pub drying_rate_ppm_h: f64,
}

/// The answer from the curve followed.
pub(super) fn of(
    question: &CurveQuestion,
    followed: &Curve,
    factors: &[(f64, f64)],
    inside: Vec<InsideProfile>,
    sources: Vec<Citation>,
    evidence: Vec<EvidenceRow>,
) -> CurveAnswer {
    let all: Vec<CurveInstant> = followed
        .instants
        .iter()
        .enumerate()
        .map(|(index, instant)| at(instant, factors.get(index).copied()))
        .collect();
    let total = |i: &Instant| i.mean.si() + i.free_water.si();
    let first = followed.instants.first().map_or(0.0, total);
    let last = followed.last().map_or(0.0, total);
    let hours = |time: quantity::Duration| time.hours();
    let range = factors
        .last()
        .map(|(low, high)| [wet(last * low), wet(last * high)]);
    let free = question.surface_water.si();
    let spans: Vec<(f64, f64)> = followed
        .segments
        .iter()
        .map(|(_, from, to)| (from.hours(), to.hours()))
        .collect();
    let pellet = &question.resin.pellet;
    let mut sizes = vec![pellet.diameter.value.millimetres()];
    sizes.extend(pellet.length.as_ref().map(|l| l.value.millimetres()));
    CurveAnswer {
        schema_version: CURVE_SCHEMA,
        title: question.title.clone(),
        resin: question.resin.name.clone(),
        pellet_mm: sizes,
        limit_ppm_wet: question.limit.map(|limit| wet(limit.si())),
        pressure_kpa: 1e-3 * question.pressure.pascal(),
        start_ppm_wet: wet(first),
        end_ppm_wet: wet(last),
        end_range_ppm_wet: range,
        limit_passed_h: question
            .limit
            .and_then(|limit| last_crossing(&followed.instants, limit.si(), total)),
        surface_dry_h: (free > 0.0)
            .then(|| followed.crossing(1e-3 * free, |i| i.free_water.si()))
            .flatten()
            .map(hours),
        segments: followed
            .segments
            .iter()
            .map(|(name, from, to)| CurveSegment {
                name: name.clone(),
                from_h: from.hours(),
                to_h: to.hours(),
                end_ppm_wet: wet(followed.at(*to, total).unwrap_or(0.0)),
            })
            .collect(),
        instants: thinned(all, &spans),
        inside,
        evidence,
        sources,
        question: question.clone(),
    }
}

fn at(instant: &Instant, factors: Option<(f64, f64)>) -> CurveInstant {
    let (low, high) = factors.unwrap_or((1.0, 1.0));
    let mean = instant.mean.si();
    CurveInstant {
        time_h: instant.time.hours(),
        pellet_c: instant.pellet_temperature.celsius(),
        air_c: instant.air_temperature.celsius(),
        air_frost_point_c: instant.condensation_point.map(celsius),
        mean_ppm_wet: wet(mean),
        mean_low_ppm_wet: wet(mean * low),
        mean_high_ppm_wet: wet(mean * high),
        surface_ppm_wet: wet(instant.surface.si()),
        heart_ppm_wet: wet(instant.heart.si()),
        surface_water_ppm_dry: instant.free_water.ppm(),
        drying_rate_ppm_h: 3.6e9 * instant.drying_rate_per_s,
    }
}

/// When a number of the instants comes to a positive value for the last time, h.
fn last_crossing(
    instants: &[Instant],
    value: f64,
    number: impl Fn(&Instant) -> f64,
) -> Option<f64> {
    instants.windows(2).rev().find_map(|pair| {
        let (from, to) = (number(&pair[0]), number(&pair[1]));
        if (from > value) == (to > value) {
            return None;
        }
        let share = if from > 0.0 && to > 0.0 {
            libm::log(value / from) / libm::log(to / from)
        } else {
            (value - from) / (to - from)
        };
        let (begin, end) = (pair[0].time.hours(), pair[1].time.hours());
        share.is_finite().then_some(begin + share * (end - begin))
    })
}

/// The first and last instant of each stretch and those between that are not too near the one
/// before; early ones lie closer together, because the curve is steep there.
fn thinned(all: Vec<CurveInstant>, segments: &[(f64, f64)]) -> Vec<CurveInstant> {
    let mut kept: Vec<CurveInstant> = Vec::new();
    let mut segments = segments.iter().copied();
    let mut now = segments.next().unwrap_or((0.0, f64::INFINITY));
    for instant in all {
        let time = instant.time_h;
        let ends = time >= now.1;
        let apart = kept.last().map_or(f64::INFINITY, |before| {
            let wanted = (LEAST_APART * (now.1 - now.0)).min(0.2 * (time - now.0));
            (time - before.time_h) / wanted
        });
        if apart >= 1.0 || ends {
            kept.push(instant);
        }
        if ends {
            now = segments.next().unwrap_or((now.1, f64::INFINITY));
        }
    }
    kept
}

/// kg/kg dry to ppm on the wet basis.
fn wet(dry: f64) -> f64 {
    1e6 * dry / (1.0 + dry)
}
