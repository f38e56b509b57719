//! Days that differ from what was planned, as real ones do, and instruments with errors.
//!
//! # Equations
//! Stops come as a Poisson process over the hours run; their lengths are log-normal about the usual one. The rate of
//! each order is normal about the planned one, and its beginning moves by a normal lateness. Every deviate is that
//! of a place in a seeded design, so that every way of running a dryer meets the same days.
//!
//! # Symbols
//! none.
//!
//! # Holds for
//! What is stated, or what is usual besides (common practice, no source).
//!
//! # Sources
//! None.
//!
//! # Checked by
//! The tests below.

use job::Chances;
use line::control::Seen;
use quantity::Quantity;
use uncertainty::Design;

/// Stops per hour run, where nothing is stated.
const STOPS_PER_HOUR: f64 = 0.15;
/// Their usual length, s.
const STOP_LENGTH: f64 = 900.0;
/// Spread of the logarithm of their length.
const LENGTH_SPREAD: f64 = 1.0;
/// Spread of the rate.
const RATE_SPREAD: f64 = 0.05;
/// Lateness, s.
const LATENESS: f64 = 600.0;
/// Least and greatest rate, of that planned.
const RATES: (f64, f64) = (0.3, 1.1);
/// Error of a thermometer from one day to another, and from one reading to the next, K.
const OFFSET: f64 = 1.0;
const NOISE: f64 = 0.5;
/// First dimension of the design that days take; those before belong to the resin.
const FIRST: u32 = 100;
/// Dimensions of one stretch.
const STRETCH: u32 = 24;
/// Stops in one stretch at most.
const MOST_STOPS: u32 = 9;

/// One stretch: from, to (s), dry resin wanted (kg/s).
pub(crate) type Wanted = (f64, f64, f64);

/// The demand of one realisation of planned days.
pub(crate) fn realised(
    planned: &[Wanted],
    chances: &Chances,
    design: Design,
    index: u32,
) -> Vec<Wanted> {
    let lateness = chances.lateness.map_or(LATENESS, Quantity::si);
    let spread = chances.rate_spread.map_or(RATE_SPREAD, Quantity::si);
    let mut edges: Vec<f64> = planned.iter().map(|&(from, _, _)| from).collect();
    edges.extend(planned.last().map(|&(_, to, _)| to));
    for k in 1..planned.len() {
        // Where work begins or ends people are late or early.
        if (planned[k - 1].2 > 0.0) != (planned[k].2 > 0.0) {
            let late = lateness * design.normal(index, dimension(k, 0));
            let (before, after) = (edges[k - 1], edges[k + 1]);
            let room = 0.45 * (after - planned[k].0).min(planned[k].0 - before);
            edges[k] = planned[k].0 + late.clamp(-room, room);
        }
    }
    let mut found = Vec::new();
    for (k, &(_, _, rate)) in planned.iter().enumerate() {
        let (from, to) = (edges[k], edges[k + 1]);
        if rate <= 0.0 {
            found.push((from, to, 0.0));
            continue;
        }
        let share = 1.0 + spread * design.normal(index, dimension(k, 1));
        let rate = rate * share.clamp(RATES.0, RATES.1);
        let stops = stops(chances, (from, to), design, index, k);
        let mut at = from;
        for (begin, end) in stops {
            if begin > at {
                found.push((at, begin, rate));
            }
            found.push((begin.max(at), end, 0.0));
            at = end;
        }
        if to > at {
            found.push((at, to, rate));
        }
    }
    found
}

/// Stops within a stretch, in the order of time.
fn stops(
    chances: &Chances,
    (from, to): (f64, f64),
    design: Design,
    index: u32,
    k: usize,
) -> Vec<(f64, f64)> {
    let per_hour = chances.stops_per_hour.unwrap_or(STOPS_PER_HOUR);
    let usual = chances.stop_length.map_or(STOP_LENGTH, Quantity::si);
    let mut at = from;
    let mut found = Vec::new();
    for stop in 0..MOST_STOPS {
        let waits = -libm::log(design.uniform(index, dimension(k, 2 + 2 * stop)).max(1e-9))
            / per_hour.max(1e-9)
            * 3600.0;
        let deviate = design.normal(index, dimension(k, 3 + 2 * stop));
        let length = usual * libm::exp(LENGTH_SPREAD * deviate);
        at += waits;
        if at >= to {
            break;
        }
        let end = (at + length).min(to);
        found.push((at, end));
        at = end;
    }
    found
}

/// Dimension of a number of a stretch; stretches far on take those of the first again, with others of the index.
fn dimension(stretch: usize, number: u32) -> u32 {
    let stretch = u32::try_from(stretch).unwrap_or(0);
    FIRST + stretch.wrapping_mul(STRETCH) + number
}

/// Instruments with errors: an offset for all of a realisation and noise from reading to reading, K.
pub(crate) fn instruments(design: Design, index: u32) -> impl FnMut(Seen) -> Seen {
    let offset = OFFSET * design.normal(index, 90);
    let along = OFFSET * design.normal(index, 91);
    let mut reading = 0_u32;
    move |mut seen: Seen| {
        reading += 1;
        let noise = |dimension: u32| {
            let at = index.wrapping_mul(20_011).wrapping_add(reading);
            NOISE * design.normal(at, dimension)
        };
        seen.returned += offset + noise(92);
        seen.along += along + noise(93);
        seen
    }
}

#[cfg(test)]
mod tests {
    use super::realised;
    use job::Chances;
    use uncertainty::Design;

    #[test]
    fn holds_days_differ_and_stay_whole() {
        let hour = 3600.0;
        let planned = [
            (0.0, 6.0 * hour, 0.0),
            (6.0 * hour, 22.0 * hour, 0.007),
            (22.0 * hour, 30.0 * hour, 0.0),
            (30.0 * hour, 46.0 * hour, 0.006),
        ];
        let design = Design { seed: 5 };
        let (mut stood, mut ran) = (0.0, 0.0);
        for index in 0..40 {
            let found = realised(&planned, &Chances::default(), design, index);
            assert!(found[0].0.abs() < 1e-9);
            assert!((found[found.len() - 1].1 - 46.0 * hour).abs() < 1e-6);
            for pair in found.windows(2) {
                assert!((pair[0].1 - pair[1].0).abs() < 1e-6, "{pair:?}");
            }
            assert!(found.iter().all(|&(from, to, _)| to >= from - 1e-9));
            let again = realised(&planned, &Chances::default(), design, index);
            assert_eq!(found, again);
            let within = |rate: bool| -> f64 {
                let each = found.iter().filter(|w| (w.2 > 0.0) == rate);
                each.map(|w| w.1 - w.0).sum()
            };
            ran += within(true) / hour;
            stood += within(false) / hour - 14.0;
        }
        // A stop of 15 min exp(1/2) in the mean for each 1/0.15 h run.
        let exact = 0.15 * 0.25 * 0.5_f64.exp();
        let found = stood / ran;
        assert!((found / exact - 1.0).abs() < 0.35, "{found} {exact}");
    }
}
