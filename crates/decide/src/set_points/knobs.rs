//! What can be set on a dryer, and between which ends.

use crate::DecideError;
use crate::case::Case;
use crate::set_points::{Bound, Tuning};
use line::equipment::{Equipment, Machine};
use numeric::constrained::Tried;
use quantity::constants::ZERO_CELSIUS;
use quantity::{Frequency, Quantity, Temperature};

/// Air flows looked at, over that of the case.
const FLOWS: (f64, f64) = (0.4, 1.6);
/// Regeneration temperatures looked at, degC: below, a sieve gives little back; above, seals and what
/// resins leave on the desiccant suffer (common practice, no source).
const REGENERATION_C: (f64, f64) = (130.0, 230.0);
/// Speeds looked at, over the one that is set.
const SPEEDS: (f64, f64) = (0.25, 4.0);
/// Kelvin kept below the fusing temperature's guard, as a plan does.
const BELOW_FUSING: f64 = 3.0;
/// A room that counts as used up.
const USED_UP: f64 = 5e-3;

/// One thing that is set, between its ends: a temperature in K, a flow or a speed by its logarithm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Knob {
    pub(super) what: Bound,
    pub(super) now: f64,
    pub(super) ends: (f64, f64),
}

impl Tuning<'_> {
    /// What can be set, and between which ends.
    pub(super) fn knobs(&self) -> Result<Vec<Knob>, DecideError> {
        let case = self.case;
        let drying = &case.lead.resin.drying;
        let made_for = self.hottest.unwrap_or(f64::INFINITY);
        let hottest = (case.hottest() - BELOW_FUSING).min(made_for);
        let low: f64 = drying.temperature_low.value.si();
        let high: f64 = drying.temperature_high.value.si();
        let mut knobs = Vec::new();
        let (low, high) = (
            low.min(case.air_temperature),
            high.max(case.air_temperature).min(hottest),
        );
        if high - low > 0.5 {
            knobs.push(Knob {
                what: Bound::Temperature,
                now: case.air_temperature,
                ends: (low, high),
            });
        }
        let most = (FLOWS.1 * case.air_flow).min(self.calmest()?);
        knobs.push(Knob {
            what: Bound::AirFlow,
            now: libm::log(case.air_flow),
            ends: (libm::log(FLOWS.0 * case.air_flow), libm::log(most)),
        });
        let regeneration = match &self.equipment.machine {
            Machine::Wheel(dryer) => Some(dryer.regeneration.temperature),
            Machine::Towers(dryer) => Some(dryer.regeneration.temperature),
            Machine::HotAir(_) | Machine::Compressed(_) => None,
        };
        if let Some(set) = regeneration {
            let set: f64 = set.si();
            let (low, high) = (
                REGENERATION_C.0 + ZERO_CELSIUS,
                REGENERATION_C.1 + ZERO_CELSIUS,
            );
            knobs.push(Knob {
                what: Bound::Regeneration,
                now: set,
                ends: (low.min(set), high.max(set)),
            });
        }
        if let Machine::Wheel(dryer) = &self.equipment.machine {
            let set = dryer.wheel.speed.si();
            if set > 0.0 {
                knobs.push(Knob {
                    what: Bound::Speed,
                    now: libm::log(set),
                    ends: (libm::log(SPEEDS.0 * set), libm::log(SPEEDS.1 * set)),
                });
            }
        }
        Ok(knobs)
    }

    /// The most air that leaves the bed calm and that there is, never less than now.
    fn calmest(&self) -> Result<f64, DecideError> {
        let case = self.case;
        let lifting = case.flow_through(&case.hopper()?).fluidisation;
        let calm = case.air_flow * (0.5 / lifting.max(0.05)).max(1.0 + 1e-3);
        Ok(match self.given.largest_flow {
            Some(most) => calm.min(most.max(case.air_flow * (1.0 + 1e-3))),
            None => calm,
        })
    }

    /// Case and dryer as they are with everything set.
    pub(super) fn set(&self, knobs: &[Knob], x: &[f64]) -> (Case, Equipment) {
        let mut case = self.case.clone();
        let mut equipment = self.equipment.clone();
        for (knob, x) in knobs.iter().zip(x) {
            match (knob.what, &mut equipment.machine) {
                (Bound::Temperature, _) => case.air_temperature = *x,
                (Bound::AirFlow, _) => case.air_flow = libm::exp(*x),
                (Bound::Regeneration, Machine::Wheel(dryer)) => {
                    dryer.regeneration.temperature = Temperature::from_si(*x);
                }
                (Bound::Regeneration, Machine::Towers(dryer)) => {
                    dryer.regeneration.temperature = Temperature::from_si(*x);
                }
                (Bound::Speed, Machine::Wheel(dryer)) => {
                    dryer.wheel.speed = Frequency::from_si(libm::exp(*x));
                }
                _ => {}
            }
        }
        (case, equipment)
    }
}

/// What a least rests on: rooms that are used up, and ends that are reached.
pub(super) fn bounds_of(knobs: &[Knob], x: &[f64], tried: &Tried, days: usize) -> Vec<Bound> {
    let mut bounds = Vec::new();
    let named = |index: usize| match index {
        index if index < days => Bound::Moisture,
        index if index < 2 * days => Bound::Component,
        index if index == 2 * days => Bound::Stay,
        _ => Bound::TooDry,
    };
    for (index, room) in tried.room.iter().enumerate() {
        let bound = named(index);
        // A component that lacks nothing has a room of zero without being a bound.
        let used_up = *room < USED_UP && (bound != Bound::Component || *room < 0.0);
        if used_up && !bounds.contains(&bound) {
            bounds.push(bound);
        }
    }
    for (knob, x) in knobs.iter().zip(x) {
        let (low, high) = knob.ends;
        let near = 0.01 * (high - low);
        if *x < low + near || *x > high - near {
            bounds.push(knob.what);
        }
    }
    bounds
}
