//! The answer of a check: what fits, by how much, what to read next, and what the pellets get.

use super::cause::Cause;
use super::gauss::beyond;
use super::installed::Installed;
use super::next::{NextReading, next};
use super::scale::{Told, expected, scale, told};
use super::weigh::{Evidence, Expected, Weighed};
use super::{Prepared, Question};
use crate::case::celsius;
use crate::plan::ppm_wet;
use job::{Reading, ReadingKind};
use serde::Serialize;
use uncertainty::normal_probability;

/// Everything found.
#[derive(Clone, Debug, Serialize)]
pub struct Checked {
    /// What the user calls the job.
    pub job: String,
    /// The resin.
    pub resin: String,
    /// The dryer.
    pub dryer: String,
    /// Wet resin drawn, as it is stated, kg/h.
    pub rate_kg_h: f64,
    /// Air temperature set, degC.
    pub air_temperature_c: f64,
    /// Dry air of the job, kg/h.
    pub air_flow_kg_h: f64,
    /// Hall, degC, and its dew or frost point, degC.
    pub hall: (f64, f64),
    /// How it stands.
    pub stand: Stand,
    /// The causes, the likeliest first.
    pub causes: Vec<Belief>,
    /// The readings against what is expected.
    pub readings: Vec<Compared>,
    /// Chi-square of the dryer in good order, and how many readings it is counted over.
    pub chi_square_healthy: (f64, usize),
    /// The same of the likeliest cause, over the readings that count for it.
    pub chi_square_best: (f64, usize),
    /// Probability that readings of the likeliest cause miss it by as much.
    pub fit_best: f64,
    /// Which reading to take next, the best first.
    pub next: Vec<NextReading>,
    /// What the pellets get.
    pub pellets: Pellets,
    /// Causes for which the loop settles nowhere.
    pub unsolved: Vec<Cause>,
    /// Whether a good round was there to narrow the doubt of the model.
    pub good_round: bool,
    /// Doubt of the dew point in good order before any round, K.
    pub dew_point_doubt: f64,
}

/// How a dryer stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stand {
    /// Nothing speaks against it.
    Healthy,
    /// One cause is likelier than all others together.
    Fault,
    /// Something is wrong, and several causes fit.
    Several,
    /// Neither good order nor a fault is likely enough to say.
    Open,
    /// Even the likeliest cause misses the readings by more than chance does.
    PoorFit,
    /// None of the causes explains what was read.
    NothingFits,
}

/// A cause and how far it is believed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Belief {
    /// Which.
    pub cause: Cause,
    /// What it is called.
    pub name: String,
    /// Its probability.
    pub probability: f64,
    /// Its likeliest size in words, where it has one.
    pub size: Option<String>,
    /// The small and the large end of nine in ten of its sizes, in words.
    pub range: Option<(String, String)>,
}

/// A reading against what is expected.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Compared {
    /// Of what.
    pub of: ReadingKind,
    /// In what it is told.
    pub told: Told,
    /// What was read.
    pub read: f64,
    /// What a dryer in good order would show.
    pub healthy: f64,
    /// Read less that, in deviations of instrument and model together.
    pub healthy_off: f64,
    /// What each of the likeliest causes would show, in the order of the causes.
    pub causes: Vec<f64>,
    /// Read less what the likeliest cause would show, in deviations.
    pub best_off: f64,
}

/// What the pellets get.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pellets {
    /// Limit at the throat, ppm wet basis.
    pub limit_ppm_wet: f64,
    /// Moisture at the throat over all causes, ppm wet basis: middle, five and ninety-five percent.
    pub throat_ppm_wet: (f64, f64, f64),
    /// Probability that it lies above the limit.
    pub wet: f64,
    /// The likeliest causes: moisture and probability above the limit.
    pub causes: Vec<(Cause, f64, f64)>,
    /// What a dryer in good order would give.
    pub healthy: (f64, f64),
}

/// Causes shown beside the readings.
pub const SHOWN: usize = 3;
/// Probability from which a cause is shown in what the pellets get.
const WORTH: f64 = 0.03;
/// Probability from which a thing is said.
const SAID: f64 = 0.5;
/// Probability of a miss as large as that of the likeliest cause from which it is said to fit.
const FITS: f64 = 1e-3;

pub(super) fn answer(
    prepared: &Prepared,
    evidence: &Evidence<'_>,
    weighed: &[Weighed<'_>],
    question: &Question<'_>,
) -> Checked {
    let sound = &prepared.sound;
    let healthy = weighed.iter().find(|one| one.cause == Cause::Healthy);
    let chi = |one: Option<&Weighed<'_>>| {
        one.and_then(|one| evidence.chi_square(one))
            .unwrap_or((0.0, 0))
    };
    let best = chi(weighed.first());
    let fit_best = beyond(best.0, best.1);
    let room = &sound.room;
    Checked {
        job: question.job.title.clone(),
        resin: sound.case.lead.resin.name.clone(),
        dryer: sound.equipment.title.clone(),
        rate_kg_h: sound.case.wet_rate() * 3600.0,
        air_temperature_c: celsius(sound.case.air_temperature),
        air_flow_kg_h: sound.case.air_flow * 3600.0,
        hall: (
            celsius(room.temperature),
            celsius(dryer::condensation_temperature(
                room.humidity,
                room.pressure,
            )),
        ),
        stand: stand(weighed, fit_best),
        causes: weighed.iter().map(|one| belief(one, sound)).collect(),
        readings: compared(evidence, weighed, healthy),
        chi_square_healthy: chi(healthy),
        chi_square_best: best,
        fit_best,
        next: next(evidence, weighed),
        pellets: pellets(evidence, weighed, healthy, sound),
        unsolved: prepared.unsolved.clone(),
        good_round: question
            .good
            .is_some_and(|good: &[Reading]| !good.is_empty()),
        dew_point_doubt: prepared.dew_point,
    }
}

fn stand(weighed: &[Weighed<'_>], fit_best: f64) -> Stand {
    let of = |cause: Cause| {
        let found = weighed.iter().find(|one| one.cause == cause);
        found.map_or(0.0, |one| one.probability)
    };
    let Some(first) = weighed.first() else {
        return Stand::Open;
    };
    let healthy = of(Cause::Healthy);
    if first.cause == Cause::SomethingElse {
        Stand::NothingFits
    } else if fit_best < FITS {
        Stand::PoorFit
    } else if healthy >= SAID {
        Stand::Healthy
    } else if first.cause != Cause::Healthy && first.probability >= SAID {
        Stand::Fault
    } else if healthy < 0.1 {
        Stand::Several
    } else {
        Stand::Open
    }
}

fn belief(one: &Weighed<'_>, sound: &Installed) -> Belief {
    let words = |place: f64| {
        one.cause
            .size_in_words(one.signature.sizes.at(place), sound)
    };
    let own = one.cause == one.signature.cause;
    Belief {
        cause: one.cause,
        name: one.cause.name_at(one.signature.sizes.at(one.likeliest())),
        probability: one.probability,
        size: own.then(|| words(one.likeliest())).flatten(),
        range: own
            .then(|| Some((words(one.below(0.05))?, words(one.below(0.95))?)))
            .flatten(),
    }
}

fn compared(
    evidence: &Evidence<'_>,
    weighed: &[Weighed<'_>],
    healthy: Option<&Weighed<'_>>,
) -> Vec<Compared> {
    let shown: Vec<Vec<(f64, f64)>> = weighed
        .iter()
        .take(SHOWN)
        .map(|one| evidence.beside(one))
        .collect();
    let healthy = healthy.map(|one| evidence.beside(one)).unwrap_or_default();
    evidence
        .reads
        .iter()
        .zip(healthy)
        .enumerate()
        .map(|(index, (read, (sound, off)))| Compared {
            of: read.kind,
            told: scale(read.kind).0,
            read: told(read.kind, read.value),
            healthy: expected(read.kind, sound),
            healthy_off: off,
            causes: shown
                .iter()
                .map(|all| expected(read.kind, all[index].0))
                .collect(),
            best_off: shown.first().map_or(off, |all| all[index].1),
        })
        .collect()
}

/// Moisture at the throat as a mixture of normal laws of its logarithm.
struct Mixture(Vec<(f64, Expected)>);

impl Mixture {
    fn above(&self, log_limit: f64) -> f64 {
        let total: f64 = self.0.iter().map(|(weight, _)| weight).sum();
        let above: f64 = self
            .0
            .iter()
            .map(|(weight, part)| {
                weight * normal_probability((part.mean - log_limit) / libm::sqrt(part.variance))
            })
            .sum();
        above / total.max(f64::MIN_POSITIVE)
    }

    /// The number that a share lies below, ppm.
    fn below(&self, share: f64) -> f64 {
        let (mut low, mut high) = (-20.0, 14.0);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if 1.0 - self.above(middle) < share {
                low = middle;
            } else {
                high = middle;
            }
        }
        libm::exp(0.5 * (low + high))
    }
}

fn pellets(
    evidence: &Evidence<'_>,
    weighed: &[Weighed<'_>],
    healthy: Option<&Weighed<'_>>,
    sound: &Installed,
) -> Pellets {
    let kind = ReadingKind::ThroatMoisture;
    let limit = ppm_wet(sound.case.limit);
    let log_limit = libm::log(limit);
    let of = |one: &Weighed<'_>| Mixture(evidence.foresee(one, kind, 0.0));
    let single = |one: &Weighed<'_>| {
        let found = of(one);
        (found.below(0.5), found.above(log_limit))
    };
    let mut all = Vec::new();
    for one in weighed.iter().filter(|one| one.probability > 1e-3) {
        // What is not on the list says nothing of the pellets.
        if one.cause == Cause::SomethingElse {
            continue;
        }
        let parts = of(one).0.into_iter();
        all.extend(parts.map(|(weight, part)| (weight * one.probability, part)));
    }
    let all = Mixture(all);
    // Nothing leaves wetter than it was fed.
    let most = ppm_wet(sound.case.lead.fed_water() + sound.regain) * 1.5;
    let most = most.max(limit);
    let below = |share: f64| all.below(share).min(most);
    Pellets {
        limit_ppm_wet: limit,
        throat_ppm_wet: (below(0.5), below(0.05), below(0.95)),
        wet: all.above(log_limit),
        causes: weighed
            .iter()
            .filter(|one| one.probability >= WORTH && one.cause != Cause::SomethingElse)
            .map(|one| {
                let (moisture, wet) = single(one);
                (one.cause, moisture, wet)
            })
            .collect(),
        // Were it mended: what was read of the fault does not count.
        healthy: healthy
            .and_then(|one| evidence.beforehand(one.signature, kind))
            .map_or((0.0, 0.0), |mended| {
                let mended = Mixture(vec![(1.0, mended)]);
                (mended.below(0.5), mended.above(log_limit))
            }),
    }
}
