//! What one choice of set-points comes to: the loop on every day, and its room to each bound.

use crate::case::{Case, celsius};
use crate::closed::{line_of, on_the_day, settle};
use crate::compare::sampled::{Asked, HopperSampled, humidity_doubt, with_air};
use crate::outlet::Outlet;
use crate::plan::ppm_wet;
use crate::set_points::knobs::Knob;
use crate::set_points::{Bound, Outcome, SetPoints, Tuning};
use crate::stand::{HOLD_SHARE, SURE, SURE_DEVIATIONS};
use crate::{DecideError, doubt};
use job::Day;
use line::equipment::Equipment;
use line::{LineGuess, LineSteady, Room};
use numeric::constrained::Tried;
use quantity::Quantity;
use rayon::prelude::*;
use std::slice::from_ref;

/// The unlucky draw that is held against the limit: deviates of the resin, change of the logarithm of the
/// dryer's humidity, and pellets and streams over the mean one.
pub(super) struct Unlucky {
    deviates: Vec<f64>,
    dryer: f64,
    ratio: f64,
}

/// One day of one trial.
struct DayOf {
    steady: LineSteady,
    energy: f64,
    mean: f64,
    unlucky: f64,
}

/// What set-points come to, and what the search has to know of it.
pub(super) struct Found {
    pub(super) outcome: Outcome,
    /// By how much (logarithm) [`SURE`] of the draws lie above the limit on the worst day.
    pub(super) missing: f64,
    /// What components lack on each day, see [`lacking`].
    pub(super) lacking: Vec<f64>,
}

/// What components lack of what is asked of them, each as a share, all together.
fn lacking(steady: &LineSteady) -> f64 {
    let each = steady.shortfalls.iter();
    each.map(|short| (short.by() / short.asked.abs().max(1.0)).abs())
        .sum()
}

impl Tuning<'_> {
    /// The loop on each day, warm from the last.
    fn days_of(
        &self,
        case: &Case,
        equipment: &Equipment,
        unlucky: Option<&Unlucky>,
        guesses: &[Option<LineGuess>],
    ) -> Result<Vec<DayOf>, DecideError> {
        let coarse = case.coarse();
        self.days
            .par_iter()
            .zip(guesses)
            .map(|(day, guess)| {
                let (case, room) = on_the_day(&coarse, day)?;
                self.day_of(&case, equipment, room, unlucky, guess.as_ref())
            })
            .collect()
    }

    fn day_of(
        &self,
        case: &Case,
        equipment: &Equipment,
        room: Room,
        unlucky: Option<&Unlucky>,
        guess: Option<&LineGuess>,
    ) -> Result<DayOf, DecideError> {
        let line = line_of(equipment, from_ref(case), room)?;
        let steady = settle(&line, guess, &equipment.title)?;
        let served = steady.stations.first().ok_or(DecideError::NoDryer)?;
        let mean = served.steady.outlet_moisture + served.steady.outlet_free_water;
        let dampest = match unlucky {
            None => mean,
            Some(unlucky) => {
                let at = |dimension: u32| {
                    let place = dimension as usize;
                    unlucky.deviates.get(place).copied().unwrap_or(0.0)
                };
                let mut air = served.inlet;
                air.humidity *= libm::exp(unlucky.dryer);
                let aired = with_air(case, &air);
                unlucky.ratio * doubt::one(&doubt::drawn(&aired, self.given, &at)?)?
            }
        };
        Ok(DayOf {
            energy: steady.account.electric_power() / case.wet_rate() / 3.6e6,
            mean,
            unlucky: dampest,
            steady,
        })
    }

    /// One trial: its energy, and its room to each bound; `below` is by how much (logarithm) it aims below
    /// the limit of moisture, `lacking_now` what components lack on each day as it stands.
    pub(super) fn trial(
        &self,
        knobs: &[Knob],
        x: &[f64],
        (unlucky, below): (&Unlucky, f64),
        lacking_now: &[f64],
        guesses: &mut [Option<LineGuess>],
    ) -> Result<Tried, DecideError> {
        let (case, equipment) = self.set(knobs, x);
        let days = match self.days_of(&case, &equipment, Some(unlucky), guesses) {
            Ok(days) => days,
            Err(DecideError::Line { .. }) => return Ok(self.unsettled()),
            Err(cause) => return Err(cause),
        };
        let mut room = Vec::with_capacity(2 + 3 * days.len());
        for day in &days {
            room.push(libm::log(case.limit / day.unlucky.max(f64::MIN_POSITIVE)) - below);
        }
        // A component that lacks something as it stands is no reason to look nowhere: it may not lack more.
        for (day, now) in days.iter().zip(lacking_now) {
            room.push(now - lacking(&day.steady));
        }
        let longest = HOLD_SHARE * case.hold();
        let stay = libm::log(longest / case.residence());
        // A stay that is too long as it stands is no reason to look nowhere: it may not get longer.
        let borne = libm::log(HOLD_SHARE * self.case.hold() / case.residence());
        room.push(stay - borne.min(0.0));
        if let Some(edge) = case.lower_edge {
            let driest = days
                .iter()
                .map(|day| day.mean)
                .fold(f64::INFINITY, f64::min);
            room.push(libm::log(
                driest.max(f64::MIN_POSITIVE) * unlucky.ratio / edge,
            ));
        }
        let energy = self.over_the_year(&days);
        for (guess, day) in guesses.iter_mut().zip(days) {
            *guess = Some(day.steady.guess);
        }
        Ok(Tried { cost: energy, room })
    }

    /// What a trial counts as whose air does not settle: nothing is kept.
    fn unsettled(&self) -> Tried {
        let edge = usize::from(self.case.lower_edge.is_some());
        Tried {
            cost: 1.0,
            room: vec![-1.0; 2 * self.days.len() + 1 + edge],
        }
    }

    /// Energy, mean over the days.
    fn over_the_year(&self, days: &[DayOf]) -> f64 {
        let share = |day: &Day| -> f64 { day.share.si() };
        let all: f64 = self.days.iter().map(share).sum();
        let sum: f64 = self
            .days
            .iter()
            .zip(days)
            .map(|(day, run)| share(day) * run.energy)
            .sum();
        sum / all
    }

    /// What set-points come to, with draws through the whole loop.
    pub(super) fn outcome(
        &self,
        knobs: &[Knob],
        x: &[f64],
        guesses: &[Option<LineGuess>],
    ) -> Result<Found, DecideError> {
        let (case, equipment) = self.set(knobs, x);
        let days = self.days_of(&case, &equipment, None, guesses)?;
        let mut worst: Option<HopperSampled> = None;
        for (day, run) in self.days.iter().zip(&days) {
            let (case, room) = on_the_day(&case, day)?;
            let cases = from_ref(&case);
            let line = line_of(&equipment, cases, room)?;
            let asked = Asked {
                cases,
                given: from_ref(self.given),
                samples: self.samples,
                seed: self.seed,
            };
            let drawn = asked.closed(&equipment, &line, &run.steady, &|_| {})?;
            let sampled = drawn
                .hoppers
                .into_iter()
                .next()
                .ok_or(DecideError::NoDryer)?;
            if worst.as_ref().is_none_or(|worst| {
                (sampled.probability, -sampled.mean) < (worst.probability, -worst.mean)
            }) {
                worst = Some(sampled);
            }
        }
        let worst = worst.ok_or(DecideError::NoDryer)?;
        let (mut regeneration_c, mut turns_per_hour) = (None, None);
        for (knob, x) in knobs.iter().zip(x) {
            match knob.what {
                Bound::Regeneration => regeneration_c = Some(celsius(*x)),
                Bound::Speed => turns_per_hour = Some(3600.0 * libm::exp(*x)),
                _ => {}
            }
        }
        let outcome = Outcome {
            set: SetPoints {
                air_temperature_c: celsius(case.air_temperature),
                air_flow_kg_h: 3600.0 * case.air_flow,
                regeneration_c,
                turns_per_hour,
            },
            energy_kwh_kg: self.over_the_year(&days),
            outlet_ppm_wet: ppm_wet(worst.mean),
            probability: worst.probability,
        };
        Ok(Found {
            outcome,
            missing: libm::log(worst.quantile(SURE).max(f64::MIN_POSITIVE) / case.limit),
            lacking: days.iter().map(|day| lacking(&day.steady)).collect(),
        })
    }

    /// The draw, [`SURE_DEVIATIONS`] away with everything together, that wets the resin soonest; the
    /// dryer's humidity among what is in doubt.
    pub(super) fn unlucky(&self) -> Result<Unlucky, DecideError> {
        let (case, deviations) = (self.case, SURE_DEVIATIONS);
        let coarse = case.coarse();
        let deviates = doubt::unlucky(case, self.given, deviations)?;
        let at = |dimension: u32| deviates.get(dimension as usize).copied().unwrap_or(0.0);
        let wetness =
            |case: &Case| Ok::<_, DecideError>(libm::log(doubt::one(case)?.max(f64::MIN_POSITIVE)));
        let plain = wetness(&coarse)?;
        let resin = (wetness(&doubt::drawn(&coarse, self.given, &at)?)? - plain) / deviations;
        let doubt = humidity_doubt(self.equipment);
        let damper = Case {
            air_humidity: coarse.air_humidity * libm::exp(doubt),
            ..coarse.clone()
        };
        let dryer = wetness(&damper)? - plain;
        let length = (resin * resin + dryer * dryer)
            .sqrt()
            .max(f64::MIN_POSITIVE);
        Ok(Unlucky {
            deviates: deviates
                .iter()
                .map(|one| one * resin.abs() / length)
                .collect(),
            dryer: doubt * deviations * dryer / length,
            ratio: Outlet::of(case)?.ratio(),
        })
    }
}
