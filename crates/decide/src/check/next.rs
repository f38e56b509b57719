//! Which reading to take next: the one whose number, on average over what it may turn out to be,
//! tells the causes apart best.
//!
//! # Equations
//! `I = sum_c p_c integral q_c(y) ln(q_c(y)/q(y)) dy`, `q = sum_c p_c q_c`: p_c the probability of a
//! cause, q_c what it
//! expects of the number, given all that was read. Told in bits.
//!
//! # Symbols
//! as above
//!
//! # Holds for
//! One further reading with an instrument of the usual error.
//!
//! # Sources
//! Shannon's mutual information, from memory of textbooks.

use super::cause::Cause;
use super::scale::{expected, scale};
use super::weigh::{Evidence, Expected, Weighed};
use job::ReadingKind;
use serde::Serialize;

/// Causes less likely than this are passed over.
const LEAST: f64 = 0.003;
/// Probability from which a reading is suspected enough to be taken again.
const SUSPECT: f64 = 0.03;
/// Points over what a number may turn out to be.
const POINTS: usize = 240;
/// Readings told.
const TOLD: usize = 3;
/// Least worth telling, bits.
const WORTH: f64 = 0.1;

/// A reading to take.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NextReading {
    /// Of what.
    pub of: ReadingKind,
    /// Whether it was read, and should be read again with another instrument.
    pub again: bool,
    /// What it is expected to tell, bits.
    pub bits: f64,
    /// What each of the likeliest causes expects, in the unit of the reading.
    pub outcomes: Vec<Outcome>,
}

/// What a cause expects of a reading.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Outcome {
    /// The cause.
    pub cause: Cause,
    /// What it expects, and one deviation to each side, in the unit of the reading.
    pub value: f64,
    /// Low end.
    pub low: f64,
    /// High end.
    pub high: f64,
}

/// What a cause expects, over its sizes.
struct Law {
    cause: Cause,
    probability: f64,
    parts: Vec<(f64, Expected)>,
}

/// The readings that tell most, the best first.
pub(super) fn next(evidence: &Evidence<'_>, weighed: &[Weighed<'_>]) -> Vec<NextReading> {
    let mut all: Vec<NextReading> = ReadingKind::ALL
        .iter()
        .filter_map(|kind| of(*kind, evidence, weighed))
        .filter(|next| next.bits >= WORTH)
        .collect();
    all.sort_by(|a, b| b.bits.total_cmp(&a.bits));
    all.truncate(TOLD);
    all
}

fn of(kind: ReadingKind, evidence: &Evidence<'_>, weighed: &[Weighed<'_>]) -> Option<NextReading> {
    if matches!(
        kind,
        ReadingKind::HallTemperature | ReadingKind::HallHumidity
    ) {
        return None;
    }
    let again = evidence.reads.iter().any(|read| read.kind == kind);
    let suspected = weighed
        .iter()
        .any(|one| one.cause == Cause::WrongReading(kind) && one.probability > SUSPECT);
    if again && !suspected || !weighed.iter().all(|one| one.signature.has(kind)) {
        return None;
    }
    let error = scale(kind).1;
    let laws: Vec<Law> = weighed
        .iter()
        .filter(|one| one.probability > LEAST)
        .map(|one| Law {
            cause: one.cause,
            probability: one.probability,
            parts: evidence.foresee(one, kind, error),
        })
        .filter(|law| !law.parts.is_empty())
        .collect();
    Some(NextReading {
        of: kind,
        again,
        bits: information(&laws)?,
        outcomes: laws
            .iter()
            .filter(|law| law.cause != Cause::SomethingElse)
            .take(3)
            .map(|law| law.outcome(kind))
            .collect(),
    })
}

/// What a number is expected to tell of the causes, bits.
fn information(laws: &[Law]) -> Option<f64> {
    let ends = laws.iter().flat_map(|law| &law.parts).map(|(_, part)| {
        let reach = 4.0 * libm::sqrt(part.variance);
        (part.mean - reach, part.mean + reach)
    });
    let (low, high) = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), end| {
        (low.min(end.0), high.max(end.1))
    });
    let step = (high - low) / POINTS as f64;
    if !(step > 0.0 && step.is_finite()) {
        return None;
    }
    let total: f64 = laws.iter().map(|law| law.probability).sum();
    let mut sum = 0.0;
    for index in 0..POINTS {
        let at = low + (index as f64 + 0.5) * step;
        let each: Vec<f64> = laws.iter().map(|law| law.density(at)).collect();
        let mixed: f64 = laws
            .iter()
            .zip(&each)
            .map(|(law, density)| law.probability / total * density)
            .sum();
        for (law, density) in laws.iter().zip(&each) {
            if *density > 0.0 && mixed > 0.0 {
                let share = law.probability / total;
                sum += step * share * density * libm::log2(density / mixed);
            }
        }
    }
    Some(sum.max(0.0))
}

impl Law {
    fn density(&self, at: f64) -> f64 {
        let turn = 2.0 * std::f64::consts::PI;
        self.parts
            .iter()
            .map(|(weight, part)| {
                let square = (at - part.mean) * (at - part.mean) / part.variance;
                weight * libm::exp(-0.5 * square) / libm::sqrt(turn * part.variance)
            })
            .sum()
    }

    fn outcome(&self, kind: ReadingKind) -> Outcome {
        let mean: f64 = self.parts.iter().map(|(w, part)| w * part.mean).sum();
        let square: f64 = self
            .parts
            .iter()
            .map(|(w, part)| w * (part.variance + (part.mean - mean) * (part.mean - mean)))
            .sum();
        let deviation = libm::sqrt(square);
        Outcome {
            cause: self.cause,
            value: expected(kind, mean),
            low: expected(kind, mean - deviation),
            high: expected(kind, mean + deviation),
        }
    }
}
