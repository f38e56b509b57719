//! Other streams through the hopper: pellets that pass sooner or later than the mean.
//!
//! # Equations
//! 1. A stream that passes `v` times as fast as the mean lives in the same air with rate and air times v; the
//!    spread s of the residence is normal, so that streams two deviations away have `v = 1 ± 2s`.
//! 2. Between them the logarithm of the water goes straight with the deviate z:
//!    `ln w(z) = ln w_0 + (z/2) ln(w_2/w_0)`, with that of the slow stream below the mean.
//!
//! # Holds for
//! As for the start of a plan: pellets of one size.

use bed::column::{Column, ColumnState, Feeding};
use line::follow::Trace;
use numeric::table::straight;
use uncertainty::{normal_probability, normal_quantile};

/// Streams are followed so many deviations away.
const AWAY: f64 = 2.0;
/// Deviates beyond which nothing is told.
const BEYOND: f64 = 4.0;
/// Water below which resin counts as dry, kg/kg: its logarithm is taken.
const DRIEST: f64 = 1e-9;
/// Slowest stream over the mean.
const SLOWEST: f64 = 0.2;

/// Water with which a stream left the air, over the time.
#[derive(Clone, Debug, Default)]
pub(crate) struct Stream {
    left: Vec<(f64, f64)>,
}

/// Longest step of an idle hopper, s.
const IDLE: f64 = 600.0;

/// Whether a step only goes on with what an idle one does.
fn goes_on(step: &Trace, next: &Trace) -> bool {
    let (now, then) = (&step.drive, &next.drive);
    let near = |a: f64, b: f64, share: f64| (a - b).abs() <= share * a.abs();
    let idle = now.rate <= 0.0 && then.rate <= 0.0 && next.tipped <= 0.0;
    idle && step.on == next.on
        && step.kept == next.kept
        && step.duration + next.duration <= IDLE
        && near(now.air_flow, then.air_flow, 0.01)
        && near(now.air_humidity, then.air_humidity, 0.02)
        && (now.air_temperature - then.air_temperature).abs() < 0.2
        && (now.ambient - then.ambient).abs() < 0.5
}

/// Water of the mean, a fast and a slow stream at the screw, kg/kg dry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Spread {
    pub(crate) mean: f64,
    pub(crate) fast: f64,
    pub(crate) slow: f64,
}

impl Stream {
    /// The stream `deviates` away through a hopper that a trace drove, from a state of that hopper at a time (s).
    ///
    /// # Errors
    /// From the bed.
    pub(crate) fn follow(
        column: &Column,
        state: &ColumnState,
        (trace, from): (&[Trace], f64),
        (spread, deviates): (f64, f64),
    ) -> Result<Self, bed::BedError> {
        let speed = (1.0 + deviates * spread).max(SLOWEST);
        let mut column = column.clone();
        let mut state = state.clone();
        let mut time = from;
        let mut left = Vec::new();
        let mut leaving = (0.0, 0.0);
        let mut steps = trace.iter().peekable();
        while let Some(step) = steps.next() {
            let mut drive = step.drive;
            let mut step = *step;
            // While nothing is drawn and the air stays as it is, several steps are taken as one.
            while let Some(next) = steps.next_if(|next| goes_on(&step, next)) {
                step.duration += next.duration;
            }
            drive.rate *= speed;
            drive.air_flow *= speed;
            column.feeding = if step.kept {
                Feeding::Continuous
            } else {
                Feeding::Shut
            };
            let mut rest = step.duration;
            let mut passed = bed::column::Passed::default();
            column.tip(&mut state, &drive, speed * step.tipped, &mut passed);
            if !step.on {
                column.stand(&mut state, drive.ambient, rest);
                rest = 0.0;
            }
            while rest > 1e-9 * step.duration {
                let passed = column.step(&mut state, &drive, rest)?;
                rest -= passed.duration;
                leaving.0 += passed.resin_out;
                leaving.1 += passed.water_out;
                if passed.parcel_ended && leaving.0 > 0.0 {
                    left.push((time + step.duration - rest, leaving.1 / leaving.0));
                    leaving = (0.0, 0.0);
                }
            }
            time += step.duration;
        }
        Ok(Self { left })
    }

    /// Water with which it left at a time (s); none where nothing left.
    pub(crate) fn at(&self, time: f64) -> Option<f64> {
        straight(&self.left, time)
    }
}

impl Spread {
    /// The fast and the slow streams are followed so far away.
    pub(crate) const AWAY: f64 = AWAY;

    /// Change of the logarithm of the water with the deviate, above and below the mean.
    fn slopes(&self) -> (f64, f64) {
        let ln = |water: f64| libm::log(water.max(DRIEST));
        let mean = ln(self.mean);
        (
            ((ln(self.fast) - mean) / AWAY).max(0.0),
            ((mean - ln(self.slow)) / AWAY).max(0.0),
        )
    }

    /// Share of the pellets that is wetter than a limit.
    pub(crate) fn above(&self, limit: f64) -> f64 {
        let (up, down) = self.slopes();
        let away = libm::log(limit.max(DRIEST)) - libm::log(self.mean.max(DRIEST));
        let slope = if away > 0.0 { up } else { down };
        if slope <= 0.0 {
            return if self.mean > limit { 1.0 } else { 0.0 };
        }
        let deviate = (away / slope).clamp(-BEYOND, BEYOND);
        let share = normal_probability(-deviate);
        // Beyond what a share of a lot can be.
        if deviate >= BEYOND { 0.0 } else { share }
    }

    /// Water that a share of the pellets lies below.
    pub(crate) fn quantile(&self, share: f64) -> f64 {
        let deviate = normal_quantile(share);
        let (up, down) = self.slopes();
        let slope = if deviate > 0.0 { up } else { down };
        self.mean * libm::exp(slope * deviate)
    }
}

#[cfg(test)]
mod tests {
    use super::Spread;

    #[test]
    fn exact_shares_and_quantiles_are_inverse() {
        let spread = Spread {
            mean: 1e-4,
            fast: 2e-4,
            slow: 7e-5,
        };
        assert!((spread.above(1e-4) - 0.5).abs() < 1e-9);
        for share in [0.03, 0.3, 0.5, 0.8, 0.99] {
            let found = spread.above(spread.quantile(share));
            assert!((found - (1.0 - share)).abs() < 1e-6, "{share} {found}");
        }
        // Two deviations away are 2.275 % of the pellets.
        assert!((spread.above(2e-4) - 0.02275).abs() < 1e-4);
        let same = Spread {
            fast: 1e-4,
            slow: 1e-4,
            ..spread
        };
        assert!((same.above(2e-4), same.above(5e-5)) == (0.0, 1.0));
    }
}
