//! How well each cause fits what was read.
//!
//! # Equations
//! 1. With the deviates known to mean m and variance V, readings of a cause c of size s are normal
//!    about `f(c,s) + J m`
//!    with variance `S = J V J^T + R`.
//! 2. An instrument may be wrong: `L = (1 - sum e_i) N(y) + sum e_i N(y without i)/w_i`, e_i how
//!    often reading i is wrong,
//!    w_i the width over which it then lies. For the healthy dryer each of these is a cause of its own.
//! 3. Probability of a cause: how often it is met, times the mean of L over its sizes, of the sum
//!    over all causes.
//! 4. Something else: as healthy, every reading spread besides by a third of w_i.
//!
//! # Symbols
//! as above
//!
//! # Holds for
//! One cause at a time.
//!
//! # Sources
//! The theorem of Bayes; how often each cause is met is common practice, no source.

use super::cause::Cause;
use super::doubt::{Deviates, row};
use super::gauss::{Factor, between, dot, only};
use super::scale::{Read, wide};
use super::signature::Signature;
use job::ReadingKind;
use numeric::linear::Matrix;

/// Share of the width by which something else spreads a reading.
const ELSEWHERE: f64 = 0.33;

/// A cause held against the readings.
#[derive(Clone, Debug)]
pub(super) struct Weighed<'a> {
    pub(super) cause: Cause,
    pub(super) signature: &'a Signature,
    pub(super) probability: f64,
    /// Places over its sizes and their weights, which add up to 1.
    pub(super) places: Vec<(f64, f64)>,
    /// Readings that count for it.
    kept: Vec<usize>,
    /// Spread of each reading that counts besides.
    spread: bool,
}

/// All that is held against the readings.
pub(super) struct Evidence<'a> {
    pub(super) reads: &'a [Read],
    pub(super) deviates: &'a Deviates,
    /// Doubt of the dew point that the desiccant gives, K.
    pub(super) dew_point: f64,
}

/// What is expected of one number, given the readings.
#[derive(Clone, Copy, Debug)]
pub(super) struct Expected {
    pub(super) mean: f64,
    pub(super) variance: f64,
}

/// Readings of a cause, as far as they count, ready to be weighed.
struct Law {
    rows: Vec<Vec<f64>>,
    shift: Vec<f64>,
    factor: Factor,
    kept: Vec<usize>,
}

impl Evidence<'_> {
    fn rows(&self, signature: &Signature) -> Vec<Vec<f64>> {
        let of = |read: &Read| row(&signature.slopes, read.kind, self.dew_point);
        self.reads.iter().map(of).collect()
    }

    /// Variance of the readings of a cause.
    fn variance(&self, rows: &[Vec<f64>], spread: bool) -> Matrix {
        let mut sum = Matrix::zeros(rows.len());
        for (i, first) in rows.iter().enumerate() {
            for (j, second) in rows.iter().enumerate() {
                sum.set(i, j, between(&self.deviates.variance, first, second));
            }
            let read = self.reads[i];
            sum.add(i, i, read.error * read.error);
            if spread {
                let wide = ELSEWHERE * wide(read.kind);
                sum.add(i, i, wide * wide);
            }
        }
        sum
    }

    fn law(&self, signature: &Signature, kept: &[usize], spread: bool) -> Option<Law> {
        let rows = self.rows(signature);
        let variance = self.variance(&rows, spread);
        self.part(&rows, &variance, kept)
    }

    /// The law of some of the readings, of rows and variance of all.
    fn part(&self, rows: &[Vec<f64>], variance: &Matrix, kept: &[usize]) -> Option<Law> {
        let variance = only(variance, kept);
        let rows: Vec<Vec<f64>> = kept.iter().map(|place| rows[*place].clone()).collect();
        Some(Law {
            shift: rows
                .iter()
                .map(|row| dot(row, &self.deviates.mean))
                .collect(),
            factor: Factor::of(&variance)?,
            kept: kept.to_vec(),
            rows,
        })
    }

    fn missed(&self, law: &Law, signature: &Signature, place: f64) -> Option<Vec<f64>> {
        law.kept
            .iter()
            .zip(&law.shift)
            .map(|(index, shift)| {
                let read = self.reads[*index];
                Some(read.value - signature.reading(place, read.kind)? - shift)
            })
            .collect()
    }

    fn log_likelihood(&self, law: &Law, signature: &Signature, place: f64) -> f64 {
        self.missed(law, signature, place)
            .map_or(f64::NEG_INFINITY, |missed| law.factor.log_density(&missed))
    }

    /// Every cause with its probability, the likeliest first.
    pub(super) fn weigh<'a>(&self, signatures: &'a [Signature]) -> Vec<Weighed<'a>> {
        let all: Vec<usize> = (0..self.reads.len()).collect();
        let mut found: Vec<(f64, Weighed<'a>)> = Vec::new();
        for signature in signatures {
            if let Some(one) = self.fault(signature, &all) {
                found.push(one);
            }
        }
        if let Some(healthy) = signatures.first() {
            for index in &all {
                let kept: Vec<usize> = all.iter().copied().filter(|one| one != index).collect();
                let cause = Cause::WrongReading(self.reads[*index].kind);
                found.extend(self.single(cause, healthy, &kept, false, self.log_wide(*index)));
            }
            found.extend(self.single(Cause::SomethingElse, healthy, &all, true, 0.0));
        }
        let most = found
            .iter()
            .map(|(log, _)| *log)
            .fold(f64::NEG_INFINITY, f64::max);
        let sum: f64 = found.iter().map(|(log, _)| libm::exp(log - most)).sum();
        let mut weighed: Vec<Weighed<'a>> = found
            .into_iter()
            .map(|(log, one)| Weighed {
                probability: libm::exp(log - most) / sum,
                ..one
            })
            .collect();
        weighed.sort_by(|a, b| b.probability.total_cmp(&a.probability));
        weighed
    }

    fn log_wide(&self, index: usize) -> f64 {
        libm::log(wide(self.reads[index].kind))
    }

    /// A cause without a size, of which some readings count.
    fn single<'a>(
        &self,
        cause: Cause,
        signature: &'a Signature,
        kept: &[usize],
        spread: bool,
        log_wide: f64,
    ) -> Option<(f64, Weighed<'a>)> {
        let law = self.law(signature, kept, spread)?;
        let log = self.log_likelihood(&law, signature, 0.0) - log_wide;
        Some((
            log + libm::log(cause.often()),
            Weighed {
                cause,
                signature,
                probability: 0.0,
                places: vec![(0.0, 1.0)],
                kept: kept.to_vec(),
                spread,
            },
        ))
    }

    /// A cause over its sizes, an instrument perhaps wrong besides.
    fn fault<'a>(&self, signature: &'a Signature, all: &[usize]) -> Option<(f64, Weighed<'a>)> {
        let cause = signature.cause;
        if cause == Cause::Healthy {
            return self.single(cause, signature, all, false, 0.0);
        }
        let rows = self.rows(signature);
        let variance = self.variance(&rows, false);
        let whole = self.part(&rows, &variance, all)?;
        let often = |kind: ReadingKind| Cause::WrongReading(kind).often() / Cause::Healthy.often();
        let without: Vec<(f64, Law)> = all
            .iter()
            .filter_map(|index| {
                let kept: Vec<usize> = all.iter().copied().filter(|one| one != index).collect();
                let law = self.part(&rows, &variance, &kept)?;
                let log = libm::log(often(self.reads[*index].kind)) - self.log_wide(*index);
                Some((log, law))
            })
            .collect();
        let right: f64 = 1.0 - self.reads.iter().map(|read| often(read.kind)).sum::<f64>();
        let right = libm::log(right.max(0.1));
        let logs: Vec<(f64, f64)> = signature
            .places()
            .into_iter()
            .map(|place| {
                let mut terms = vec![right + self.log_likelihood(&whole, signature, place)];
                terms.extend(
                    without
                        .iter()
                        .map(|(log, law)| log + self.log_likelihood(law, signature, place)),
                );
                (place, log_sum(&terms))
            })
            .collect();
        let terms: Vec<f64> = logs.iter().map(|(_, log)| *log).collect();
        let sum = log_sum(&terms);
        if !sum.is_finite() {
            return None;
        }
        let weigh = |(place, log): (f64, f64)| (place, libm::exp(log - sum));
        Some((
            sum - libm::log(logs.len() as f64) + libm::log(cause.often()),
            Weighed {
                cause,
                signature,
                probability: 0.0,
                places: logs.into_iter().map(weigh).collect(),
                kept: all.to_vec(),
                spread: false,
            },
        ))
    }

    /// What another number is expected to be at each place of a cause; `error` is that of the
    /// instrument it is read with.
    pub(super) fn foresee(
        &self,
        weighed: &Weighed<'_>,
        kind: ReadingKind,
        error: f64,
    ) -> Vec<(f64, Expected)> {
        let signature = weighed.signature;
        let Some(law) = self.law(signature, &weighed.kept, weighed.spread) else {
            return Vec::new();
        };
        let own = row(&signature.slopes, kind, self.dew_point);
        let variance = &self.deviates.variance;
        let together: Vec<f64> = law
            .rows
            .iter()
            .map(|row| between(variance, &own, row))
            .collect();
        let known = law.factor.solve(&together);
        let mut left = between(variance, &own, &own) - dot(&together, &known);
        left = left.max(1e-9) + error * error;
        if weighed.spread {
            let wide = ELSEWHERE * wide(kind);
            left += wide * wide;
        }
        let shift = dot(&own, &self.deviates.mean);
        weighed
            .places
            .iter()
            .filter(|(_, weight)| *weight > 1e-4)
            .filter_map(|(place, weight)| {
                let missed = self.missed(&law, signature, *place)?;
                let mean = signature.reading(*place, kind)? + shift + dot(&known, &missed);
                let variance = left;
                Some((*weight, Expected { mean, variance }))
            })
            .collect()
    }

    /// What a cause would show at its first size, whatever was read.
    pub(super) fn beforehand(&self, signature: &Signature, kind: ReadingKind) -> Option<Expected> {
        let own = row(&signature.slopes, kind, self.dew_point);
        let mean = signature.reading(0.0, kind)? + dot(&own, &self.deviates.mean);
        let variance = between(&self.deviates.variance, &own, &own);
        Some(Expected { mean, variance })
    }

    /// What a cause expects of each reading at its likeliest size, and by how many deviations each is off.
    pub(super) fn beside(&self, weighed: &Weighed<'_>) -> Vec<(f64, f64)> {
        let signature = weighed.signature;
        let place = weighed.likeliest();
        let rows = self.rows(signature);
        let variance = self.variance(&rows, false);
        self.reads
            .iter()
            .enumerate()
            .map(|(index, read)| {
                let model = signature.reading(place, read.kind).unwrap_or(read.value);
                let expected = model + dot(&rows[index], &self.deviates.mean);
                let deviation = libm::sqrt(variance.at(index, index));
                (expected, (read.value - expected) / deviation)
            })
            .collect()
    }

    /// Chi-square of a cause at its likeliest size over the readings that count, and how many those are.
    pub(super) fn chi_square(&self, weighed: &Weighed<'_>) -> Option<(f64, usize)> {
        let law = self.law(weighed.signature, &weighed.kept, false)?;
        let missed = self.missed(&law, weighed.signature, weighed.likeliest())?;
        Some((law.factor.square(&missed), missed.len()))
    }
}

impl Weighed<'_> {
    /// The likeliest place over its sizes.
    pub(super) fn likeliest(&self) -> f64 {
        let places = self.places.iter();
        places
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map_or(0.0, |(place, _)| *place)
    }

    /// Place that a share of the weight lies below.
    pub(super) fn below(&self, share: f64) -> f64 {
        let mut passed = 0.0;
        for (place, weight) in &self.places {
            passed += weight;
            if passed >= share {
                return *place;
            }
        }
        self.places.last().map_or(0.0, |(place, _)| *place)
    }
}

fn log_sum(logs: &[f64]) -> f64 {
    let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if !most.is_finite() {
        return most;
    }
    most + libm::log(logs.iter().map(|log| libm::exp(log - most)).sum())
}
