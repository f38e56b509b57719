//! The way that was found, on fresh weeks.

use super::chance::{instruments, realised};
use super::search::{Tried, Way, run};
use crate::DecideError;
use crate::shift::{Days, MAY_BE, Masses};
use job::Chances;
use rayon::prelude::*;
use serde::Serialize;
use std::sync::atomic::{AtomicU32, Ordering};
use uncertainty::Design;

/// Confidence of what is claimed.
pub(crate) const CONFIDENCE: f64 = 0.95;
/// Weeks on which running constantly is set beside it.
const BESIDE: u32 = 6;
/// First place of the design that fresh weeks take: none of those tried before.
const FRESH: u32 = 1000;

/// The way on fresh weeks.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Verified {
    /// How many weeks.
    pub weeks: u32,
    /// In how many of them something came wet, was hot for too long, or was too dry.
    pub failed: u32,
    /// In how many of those running constantly did not fail.
    pub failed_by_the_way: u32,
    /// Least share of such weeks that do not fail by the way, with the confidence.
    pub least_share: f64,
    /// That confidence.
    pub confidence: f64,
    /// What became of the resin in all weeks together.
    pub masses: Masses,
    /// The most of the longest customary stay.
    pub longest_stay: f64,
    /// Energy, kWh/kg, mean and the least and most of the weeks.
    pub energy_kwh_kg: (f64, f64, f64),
    /// Energy of running constantly on the first of these weeks over that of the way on them.
    pub constant_over: f64,
}

/// Runs the way through fresh weeks.
///
/// # Errors
/// From the line.
pub(crate) fn verify(
    whole: &Days,
    (way, weeks): (&Way, u32),
    chances: &Chances,
    design: Design,
    told: &(dyn Fn(f64) + Sync),
) -> Result<Verified, DecideError> {
    let done = AtomicU32::new(0);
    let planned = whole.demand();
    let length = planned.last().map_or(0.0, |last| last.1);
    let each: Vec<(Tried, Option<Tried>)> = (0..weeks)
        .into_par_iter()
        .map(|week| {
            let index = FRESH + week;
            let demand = realised(planned, chances, design, index);
            let deviate = |dimension: u32| design.normal(index, dimension);
            let days = whole.with_demand(demand, length).with_doubt(&deviate)?;
            let (_, found) = run(&days, way, &mut instruments(design, index))?;
            let beside = if week < BESIDE || fails(&found, None) {
                Some(run(&days, &Way::CONSTANT, &mut instruments(design, index))?.1)
            } else {
                None
            };
            let done = done.fetch_add(1, Ordering::Relaxed) + 1;
            told(f64::from(done) / f64::from(weeks));
            Ok((found, beside))
        })
        .collect::<Result<_, DecideError>>()?;
    Ok(summed(&each))
}

fn summed(each: &[(Tried, Option<Tried>)]) -> Verified {
    let weeks = u32::try_from(each.len()).unwrap_or(u32::MAX);
    let failed = each.iter().filter(|(found, _)| fails(found, None));
    let failed = u32::try_from(failed.count()).unwrap_or(u32::MAX);
    let by_the_way = each
        .iter()
        .filter(|(found, beside)| fails(found, beside.as_ref()));
    let failed_by_the_way = u32::try_from(by_the_way.count()).unwrap_or(u32::MAX);
    let per_kg = |tried: &Tried| tried.energy / tried.masses.all_kg.max(1e-9) / 3.6e6;
    let energies: Vec<f64> = each.iter().map(|(found, _)| per_kg(found)).collect();
    let mean = energies.iter().sum::<f64>() / energies.len().max(1) as f64;
    let low = energies.iter().copied().fold(f64::INFINITY, f64::min);
    let high = energies.iter().copied().fold(0.0, f64::max);
    let beside: Vec<(f64, f64)> = each
        .iter()
        .take(BESIDE as usize)
        .filter_map(|(found, beside)| beside.as_ref().map(|beside| (beside.energy, found.energy)))
        .collect();
    let constant: f64 = beside.iter().map(|pair| pair.0).sum();
    let way: f64 = beside.iter().map(|pair| pair.1).sum();
    Verified {
        weeks,
        failed,
        failed_by_the_way,
        least_share: least_share(weeks, failed_by_the_way),
        confidence: CONFIDENCE,
        masses: each
            .iter()
            .fold(Masses::default(), |sum, (found, _)| sum.and(found.masses)),
        longest_stay: each
            .iter()
            .map(|(found, _)| found.longest)
            .fold(0.0, f64::max),
        energy_kwh_kg: (mean, low, high),
        constant_over: if way > 0.0 { constant / way } else { 1.0 },
    }
}

/// Whether something of a week was lost, beyond what running constantly loses as well.
fn fails(found: &Tried, beside: Option<&Tried>) -> bool {
    let share = |tried: &Tried, kg: f64| tried.masses.share(kg);
    let more = |pick: fn(&Masses) -> f64| {
        let own = share(found, pick(&found.masses));
        let other = beside.map_or(0.0, |other| share(other, pick(&other.masses)));
        own > MAY_BE + other
    };
    more(|masses| masses.wet_kg)
        || more(|masses| masses.overstayed_kg)
        || more(|masses| masses.too_dry_kg)
}

/// Least share of weeks that do not fail, of which `failed` of `weeks` did, with the confidence: Clopper and
/// Pearson (1934), Biometrika 26, 404, found by halving.
fn least_share(weeks: u32, failed: u32) -> f64 {
    if weeks == 0 || failed >= weeks {
        return 0.0;
    }
    // Chance of so few failures or fewer when each week fails with `p`.
    let chance = |p: f64| -> f64 {
        let mut term = libm::pow(1.0 - p, f64::from(weeks));
        let mut sum = term;
        for k in 1..=failed {
            let (k, n) = (f64::from(k), f64::from(weeks));
            term *= (n - k + 1.0) / k * p / (1.0 - p);
            sum += term;
        }
        sum
    };
    let (mut low, mut high) = (0.0, 1.0 - 1e-12);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if chance(middle) > 1.0 - CONFIDENCE {
            low = middle;
        } else {
            high = middle;
        }
    }
    1.0 - high
}

#[cfg(test)]
mod tests {
    use super::least_share;

    #[test]
    fn published_fifty_nine_without_a_failure_show_ninety_five_percent() {
        // Wilks (1941): 59 is the least number; one fewer does not do.
        assert!(least_share(59, 0) > 0.95 && least_share(58, 0) < 0.95);
        assert!((least_share(59, 0) - 0.05_f64.powf(1.0 / 59.0)).abs() < 1e-9);
        // 93 with one failure, the next of the series 59, 93, 124 (order statistics at 95/95).
        assert!(least_share(93, 1) > 0.95 && least_share(92, 1) < 0.95);
        assert!(least_share(124, 2) > 0.95 && least_share(123, 2) < 0.95);
        assert!(least_share(3, 3).abs() < 1e-12);
    }
}
