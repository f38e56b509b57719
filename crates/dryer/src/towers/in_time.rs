//! Towers in time, from any state.

use super::clock::{Clock, Stage};
use super::spec::{Ending, Meets, Met, Swap, Towers, TowersDrive};
use crate::condensation_temperature;
use crate::sorption::{AirState, Cell, mean};
use crate::{DryerError, Stream};
use air::caloric;
use numeric::NumericError;

/// Least share of a step to which one that crosses an end is cut.
const LEAST_CUT: f64 = 0.01;

/// What towers remember: their beds and where they are in the cycle.
#[derive(Clone, Debug, PartialEq)]
pub struct TowersState {
    pub(crate) beds: [Vec<Cell>; 2],
    pub(crate) clock: Clock,
    /// Air that left the drying and the other bed at the end of the last step.
    pub(crate) leaving: [Option<AirState>; 2],
}

/// What towers gave over some time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TowersPassed {
    /// Seconds.
    pub duration: f64,
    /// Mean dried air, bypass included.
    pub dry: Stream,
    /// Mean air leaving regeneration; its flow is the mean over all of the time.
    pub exhaust: Stream,
    /// Mean air leaving cooling; its flow is the mean over all of the time.
    pub cooling: Stream,
    /// Seconds of regeneration and of cooling.
    pub running: (f64, f64),
    /// Water and heat in less out, kg and J: what the beds took up.
    pub taken_up: (f64, f64),
    /// Swaps.
    pub swaps: usize,
    /// Temperature (K) of the hottest and humidity (kg/kg) of the wettest dried air.
    pub peaks: (f64, f64),
}

/// One step.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Step {
    pub(crate) duration: f64,
    /// Where the cycle was before it.
    pub(crate) before: Clock,
    /// Mean dried air, bypass included.
    pub(crate) dry: Stream,
    /// Mean air leaving the other bed.
    pub(crate) off_line: Option<Stream>,
    pub(crate) swapped: bool,
}

/// Air, water and heat that left over some time.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Gathered {
    pub(crate) air: f64,
    water: f64,
    heat: f64,
}

impl Gathered {
    pub(crate) fn add(&mut self, stream: &Stream, duration: f64) {
        self.air += stream.dry_air * duration;
        self.water += stream.water() * duration;
        self.heat += stream.heat() * duration;
    }

    /// The mean over `duration`; of nothing, nothing of a state.
    pub(crate) fn stream(&self, duration: f64, otherwise: &Stream) -> Stream {
        if self.air <= 0.0 || duration <= 0.0 {
            return otherwise.of(0.0);
        }
        let humidity = self.water / self.air;
        Stream {
            dry_air: self.air / duration,
            temperature: caloric::temperature(self.heat / self.air, humidity),
            humidity,
        }
    }
}

impl TowersState {
    /// Where they are in the cycle.
    pub fn clock(&self) -> Clock {
        self.clock
    }

    /// Loading (kg/kg) and temperature (K) of each slice of a tower, from the process inlet.
    pub fn slices(&self, tower: usize) -> Vec<(f64, f64)> {
        let cells = self.beds[tower].iter();
        cells.map(|cell| (cell.loading, cell.temperature)).collect()
    }
}

impl Towers {
    /// Towers at rest with air of one state, as after long in the hall; the first begins to dry.
    ///
    /// # Errors
    /// [`DryerError::Impossible`].
    pub fn at_rest(&self, temperature: f64, humidity: f64) -> Result<TowersState, DryerError> {
        let within = DryerError::unless_between;
        within(
            "temperature of towers at rest",
            temperature,
            "K",
            (230.0, 555.0),
        )?;
        within(
            "humidity around towers at rest",
            humidity,
            "kg/kg",
            (1e-9, 0.2),
        )?;
        let bed = self.resting(AirState {
            temperature,
            humidity,
        });
        Ok(TowersState {
            beds: [bed.clone(), bed],
            clock: Clock::swapped(self.spec.cycle.stuck.unwrap_or(0), self),
            leaving: [None; 2],
        })
    }

    /// Water in both beds, kg.
    pub fn water(&self, state: &TowersState) -> f64 {
        let row = self.row();
        let beds = state.beds.iter();
        self.face * beds.map(|bed| row.water(bed)).sum::<f64>()
    }

    /// Heat of both beds and vessels, J.
    pub fn heat(&self, state: &TowersState) -> f64 {
        let cells = state.beds.iter().flatten();
        self.face * cells.map(|cell| cell.heat).sum::<f64>()
    }

    /// Lets them stand closed for `duration` seconds, as [`crate::wheel::Wheel::cool`]; their cycle stands too.
    pub fn cool(
        &self,
        state: &mut TowersState,
        hall: f64,
        time_constant: f64,
        duration: f64,
    ) -> f64 {
        let before = self.heat(state);
        let left = libm::exp(-duration / time_constant);
        for bed in &mut state.beds {
            self.row().cool(bed, hall, left);
        }
        before - self.heat(state)
    }

    /// The state of other towers of the same mesh taken over, as [`crate::wheel::Wheel::take_over`].
    pub fn take_over(&self, state: &mut TowersState, other: &Self) {
        for bed in &mut state.beds {
            self.row().take_over(bed, other.slice.active);
        }
    }

    /// Lets `duration` seconds pass with the same airs.
    ///
    /// # Errors
    /// Airs that cannot be; a state that is no longer finite.
    pub fn advance(
        &self,
        state: &mut TowersState,
        drive: &TowersDrive,
        duration: f64,
    ) -> Result<TowersPassed, DryerError> {
        self.check_drive(drive)?;
        DryerError::unless_between("time to pass", duration, "s", (0.0, 1e9))?;
        let meets = self.meets(drive);
        let before = (self.water(state), self.heat(state));
        let mut gathered = [Gathered::default(); 3];
        let mut running = (0.0, 0.0);
        let (mut swaps, mut peaks) = (0, (0.0_f64, 0.0_f64));
        let mut rest = duration;
        while rest > 1e-9 * duration {
            let step = self.step(state, drive, &meets, rest);
            gathered[0].add(&step.dry, step.duration);
            if let Some(out) = step.off_line {
                let regenerating = step.before.stage == Stage::Regenerating;
                let (place, seconds) = if regenerating {
                    (1, &mut running.0)
                } else {
                    (2, &mut running.1)
                };
                gathered[place].add(&out, step.duration);
                *seconds += step.duration;
            }
            swaps += usize::from(step.swapped);
            peaks = (
                peaks.0.max(step.dry.temperature),
                peaks.1.max(step.dry.humidity),
            );
            rest -= step.duration;
        }
        let after = (self.water(state), self.heat(state));
        if !(after.0.is_finite() && after.1.is_finite()) {
            return Err(lost(1, f64::INFINITY));
        }
        let dry = if duration > 0.0 {
            gathered[0].stream(duration, &drive.process)
        } else {
            drive.process
        };
        Ok(TowersPassed {
            duration,
            dry,
            exhaust: gathered[1].stream(duration, &drive.regeneration),
            cooling: gathered[2].stream(duration, &drive.cooling),
            running,
            taken_up: (after.0 - before.0, after.1 - before.1),
            swaps,
            peaks,
        })
    }

    /// One step of at most `most` seconds: as long as clock, mesh and what air may end allow.
    pub(crate) fn step(
        &self,
        state: &mut TowersState,
        drive: &TowersDrive,
        meets: &Meets,
        most: f64,
    ) -> Step {
        let before = state.clock;
        let allowed = before.allowed(self, meets, most);
        let by_air = !self.spec.cycle.is_by_clock();
        let start = by_air.then(|| state.beds.clone());
        let mut duration = allowed.duration;
        let (mut ends_stage, mut swaps) = (allowed.ends_stage, allowed.swaps);
        let mut out = self.pass(state, meets, duration);
        if let Some(start) = start {
            let last = state.leaving;
            let off_line = out.1.map(|air| air[1]);
            let events = [
                self.stage_ends(&before, last[1], off_line),
                self.dew_point_swaps(&before, last[0], out.0[1], duration),
            ];
            let share = events.iter().flatten().copied().fold(1.0, f64::min);
            if share < 1.0 {
                state.beds = start;
                duration *= share;
                out = self.pass(state, meets, duration);
                (ends_stage, swaps) = (false, false);
            }
            ends_stage |= events[0].is_some_and(|at| at <= share);
            swaps |= events[1].is_some_and(|at| at <= share);
        }
        state.clock.tick(self, duration, ends_stage, swaps);
        state.leaving = if swaps {
            [None; 2]
        } else if ends_stage {
            [Some(out.0[1]), None]
        } else {
            [Some(out.0[1]), out.1.map(|air| air[1])]
        };
        let by = drive.process.dry_air * self.spec.bypass[before.drying];
        let through = stream(mean(&out.0), drive.process.dry_air - by);
        Step {
            duration,
            before,
            dry: through
                .joined(drive.process.of(by))
                .of(drive.process.dry_air),
            off_line: out
                .1
                .zip(before.off_line(meets))
                .map(|(air, met)| stream(mean(&air), met.flow)),
            swapped: swaps,
        }
    }

    /// Passes both beds' airs; what leaves each, in both stages of the step.
    fn pass(
        &self,
        state: &mut TowersState,
        meets: &Meets,
        duration: f64,
    ) -> ([AirState; 2], Option<[AirState; 2]>) {
        let clock = state.clock;
        let met = |met: &Met, bed: &mut Vec<Cell>| {
            if met.flow > 0.0 {
                self.row()
                    .pass(bed, &met.contact, met.way, met.air, duration)
            } else {
                [met.air; 2]
            }
        };
        let dry = met(&meets.process[clock.drying], &mut state.beds[clock.drying]);
        let other = clock.off_line(meets);
        (
            dry,
            other.map(|air| met(air, &mut state.beds[clock.other()])),
        )
    }

    /// Share of a step at which the air ends the stage, if it does.
    fn stage_ends(
        &self,
        clock: &Clock,
        last: Option<AirState>,
        now: Option<AirState>,
    ) -> Option<f64> {
        let (ending, sign) = match clock.stage {
            Stage::Regenerating => (self.spec.cycle.regeneration, 1.0),
            Stage::Cooling => (self.spec.cycle.cooling, -1.0),
            Stage::Waiting => return None,
        };
        let Ending::Outlet { temperature, .. } = ending else {
            return None;
        };
        let over = |air: AirState| sign * (air.temperature - temperature);
        crossing(last.map(over), over(now?))
    }

    /// Share of a step at which the dew point swaps the towers, if it does.
    fn dew_point_swaps(
        &self,
        clock: &Clock,
        last: Option<AirState>,
        now: AirState,
        duration: f64,
    ) -> Option<f64> {
        let cycle = &self.spec.cycle;
        let Swap::DewPoint {
            limit, earliest, ..
        } = cycle.swap
        else {
            return None;
        };
        let ready = clock.stage == Stage::Waiting && clock.since_swap + duration > earliest;
        if cycle.stuck.is_some() || !ready {
            return None;
        }
        let inlet = |air: AirState| condensation_temperature(air.humidity, self.spec.pressure);
        let over = |air: AirState| inlet(air) - limit;
        let at = crossing(last.map(over), over(now))?;
        Some(at.max(((earliest - clock.since_swap) / duration).min(1.0)))
    }
}

/// Share of a step after which a value that ends above zero passed it, a straight line assumed.
fn crossing(before: Option<f64>, after: f64) -> Option<f64> {
    if after < 0.0 {
        return None;
    }
    let share = match before {
        Some(before) if before < 0.0 => before / (before - after),
        _ => 1.0,
    };
    Some(share.clamp(LEAST_CUT, 1.0))
}

fn stream(air: AirState, dry_air: f64) -> Stream {
    Stream {
        dry_air,
        temperature: air.temperature,
        humidity: air.humidity,
    }
}

/// Towers whose balances could not be closed.
pub(crate) fn lost(steps: usize, change: f64) -> DryerError {
    DryerError::Unsolved {
        component: "desiccant towers",
        cause: NumericError::NoConvergence { steps, change },
    }
}
