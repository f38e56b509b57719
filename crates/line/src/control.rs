//! How a dryer is run: what it sees of its hopper, and what it does about it.
//!
//! # Equations
//! 1. Demand is a share of the rate the hopper was planned for, from what the control can see:
//!    of the return air `d = (m c (T_in - T_ret) - U (T_in - T_hall))/(R c_p (T_in - T_feed))`, the heat that
//!    the air leaves behind less that of the wall, over what the planned rate takes; of temperatures along the
//!    hopper the mean shortfall below the air, over that at the planned rate; of loader cycles, of what is
//!    filled in or of the schedule the mass itself. It is held between 0 and 2 and smoothed by a lag.
//! 2. Below a share for a while the set point is set back, above another it recovers; it moves at
//!    most by a ramp.
//! 3. Air follows demand between a least share and all: up with what is seen at once, down with what is
//!    smoothed. All of it flows until the hopper is ready, and while a set point recovers.
//! 4. After it was off, or another resin came, nothing is given out until the inlet has been within
//!    [`NEAR`] of the set point for as long as is asked.
//! 5. Bake-out: hotter regeneration for a while, by the clock, or when the air delivered is more humid than it
//!    should be although the return is no more humid than usual.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! R c_p | `Control::demand_heat` | W/K
//! U | `Control::wall` | W/K
//! m c | `Seen::air_heat` | W/K
//!
//! # Holds for
//! Any hopper that is blown from below. The lag, shares and waits are settings; what is usual stands with
//! `decide`. The heater's own band is that of [`dryer::heater`].
//!
//! # Sources
//! Balances; the ways of control are common practice, no source.
//!
//! # Checked by
//! `crates/line/src/control/tests.rs`

#[cfg(test)]
mod tests;

use serde::Serialize;

/// How near the set point an inlet counts as there, K.
pub const NEAR: f64 = 3.0;
/// Demand that is believed at most.
const MOST: f64 = 2.0;

/// What demand is taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sense {
    /// Temperature of the return air.
    ReturnAir,
    /// Temperatures along the hopper.
    HopperTemperatures,
    /// Mass that the loader took.
    LoaderCycles,
    /// Mass that was filled in.
    Level,
    /// The rate of the schedule.
    Told,
}

/// When and how far the set point is set back.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Setback {
    /// To this temperature, K.
    pub temperature: f64,
    /// Below this share of the planned rate.
    pub below: f64,
    /// For so long, s.
    pub after: f64,
    /// Until demand is above this share.
    pub above: f64,
}

/// When the desiccant is baked out.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BakeOut {
    /// Time between two, s; none by the clock.
    pub every: Option<f64>,
    /// Humidity delivered above which one is called for, kg/kg; none by that.
    pub above: Option<f64>,
    /// Temperature of the regeneration air meanwhile, K.
    pub temperature: f64,
    /// How long, s.
    pub time: f64,
}

/// When it warns.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Warn {
    /// Humidity delivered, kg/kg.
    pub humidity: f64,
    /// Difference of the inlet from the set point, K.
    pub difference: f64,
    /// For how long before it does, s.
    pub after: f64,
}

/// How a dryer is run.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Control {
    /// Temperature of the drying air, K.
    pub set_point: f64,
    /// Dry air at full demand, kg/s.
    pub air_flow: f64,
    /// Dry resin drawn at full demand, kg/s.
    pub rate: f64,
    /// Heat that full demand takes, over the difference of inlet and feed, W/K.
    pub demand_heat: f64,
    /// Heat through the wall of the hopper over the difference of inlet and hall, W/K.
    pub wall: f64,
    /// Mean shortfall of the temperatures along the hopper below the inlet at full demand, over the difference
    /// of inlet and feed.
    pub shortfall: f64,
    /// What demand is taken from.
    pub sense: Sense,
    /// Lag of what is sensed, s.
    pub lag: f64,
    /// Least share of the air; none where all of it flows always.
    pub least_air: Option<f64>,
    /// Setback, if any.
    pub setback: Option<Setback>,
    /// Fastest change of the set point, K/s.
    pub ramp: f64,
    /// Times at which it is off, from and to, s, in their order.
    pub off: Vec<(f64, f64)>,
    /// How long the inlet is at the set point before anything is given out, s; none where nothing is held.
    pub hold: Option<f64>,
    /// Temperature of the regeneration air, K.
    pub regeneration: f64,
    /// Bake-out of the desiccant, if any.
    pub bake_out: Option<BakeOut>,
    /// Humidity of the return above which wet air delivered says nothing of the desiccant, kg/kg.
    pub usual_return: f64,
    /// Warnings.
    pub warn: Warn,
}

/// What the instruments of a dryer show over a step, with whatever error they have.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// End of the step, s.
    pub time: f64,
    /// Its length, s.
    pub duration: f64,
    /// Air into the hopper, K.
    pub inlet: f64,
    /// Air from the hopper, K.
    pub returned: f64,
    /// Hall, K.
    pub hall: f64,
    /// Resin fed, K.
    pub feed: f64,
    /// Heat capacity flow of the air, W/K.
    pub air_heat: f64,
    /// Mean of the temperatures along the hopper, K.
    pub along: f64,
    /// Mass taken by the loader, kg dry.
    pub taken: f64,
    /// Mass filled in, kg dry.
    pub filled: f64,
    /// Rate of the schedule, kg/s dry.
    pub told: f64,
    /// Humidity of the air delivered, kg/kg.
    pub delivered: f64,
    /// Humidity of the air that comes back, kg/kg.
    pub return_humidity: f64,
    /// Whether the air flowed.
    pub on: bool,
}

/// What is done in the next step.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Orders {
    /// Whether the dryer runs.
    pub on: bool,
    /// Set point of the drying air, K.
    pub set_point: f64,
    /// Dry air, kg/s.
    pub air_flow: f64,
    /// Set point of the regeneration air, K.
    pub regeneration: f64,
    /// Whether resin is given out.
    pub released: bool,
    /// What it is doing.
    pub mode: Mode,
    /// Demand as it is seen, of the planned rate.
    pub demand: f64,
    /// Whether it warns: of humidity, of temperature.
    pub warns: (bool, bool),
}

/// What a dryer is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mode {
    /// It is off.
    Off,
    /// It makes the hopper ready; nothing is given out.
    GettingReady,
    /// It dries.
    Drying,
    /// Its set point is set back.
    SetBack,
}

/// What a control remembers.
#[derive(Clone, Debug, PartialEq)]
pub struct ControlState {
    mode: Mode,
    demand: f64,
    /// Seconds that demand has been low.
    low: f64,
    /// Seconds that the inlet has been near the set point since it was switched on.
    ready: f64,
    /// Set point as asked now, K.
    asked: f64,
    /// Since the last bake-out, and what is left of one, s.
    baked: (f64, f64),
    /// Seconds that each warning has had its cause.
    uneasy: (f64, f64),
}

impl ControlState {
    /// One that begins with a hopper to be made ready, or with one that has long been.
    pub fn begin(control: &Control, ready: bool) -> Self {
        Self {
            mode: if ready || control.hold.is_none() {
                Mode::Drying
            } else {
                Mode::GettingReady
            },
            demand: 1.0,
            low: 0.0,
            ready: if ready { f64::MAX } else { 0.0 },
            asked: control.set_point,
            baked: (0.0, 0.0),
            uneasy: (0.0, 0.0),
        }
    }

    /// Begins anew with another resin in the hopper.
    pub fn refilled(&mut self, control: &Control) {
        self.ready = 0.0;
        self.demand = 1.0;
        self.low = 0.0;
        if self.mode != Mode::Off && control.hold.is_some() {
            self.mode = Mode::GettingReady;
        }
        self.asked = control.set_point;
    }

    /// Whether it is baking out.
    pub fn bakes(&self) -> bool {
        self.baked.1 > 0.0
    }
}

impl Control {
    /// Demand as one step shows it, of the planned rate.
    pub fn sensed(&self, seen: &Seen) -> f64 {
        let lift = seen.inlet - seen.feed;
        let by_mass = |mass: f64| mass / seen.duration / self.rate;
        let share = match self.sense {
            Sense::ReturnAir => {
                let left = seen.air_heat * (seen.inlet - seen.returned);
                let wall = self.wall * (seen.inlet - seen.hall);
                (left - wall) / (self.demand_heat * lift)
            }
            Sense::HopperTemperatures => (seen.inlet - seen.along) / (self.shortfall * lift),
            Sense::LoaderCycles => by_mass(seen.taken),
            Sense::Level => by_mass(seen.filled),
            Sense::Told => seen.told / self.rate,
        };
        let by_heat = matches!(self.sense, Sense::ReturnAir | Sense::HopperTemperatures);
        if by_heat && !(seen.on && lift > 1.0) {
            // Nothing is seen without warm air.
            return 1.0;
        }
        share.clamp(0.0, MOST)
    }

    /// What is done in the next step, after what the last one showed.
    pub fn step(&self, state: &mut ControlState, seen: &Seen) -> Orders {
        let raw = self.sensed(seen);
        let closer = if self.lag > 0.0 {
            -libm::expm1(-seen.duration / self.lag)
        } else {
            1.0
        };
        state.demand += (raw - state.demand) * closer;
        let off = self
            .off
            .iter()
            .any(|&(from, to)| seen.time >= from && seen.time < to);
        self.change_mode(state, seen, off);
        let wanted = match (state.mode, &self.setback) {
            (Mode::SetBack, Some(setback)) => setback.temperature,
            _ => self.set_point,
        };
        let most = self.ramp * seen.duration;
        state.asked += (wanted - state.asked).clamp(-most, most);
        let bakes = self.bake(state, seen);
        let recovers = state.asked < wanted - NEAR || seen.inlet < wanted - 2.0 * NEAR;
        let share = match self.least_air {
            Some(least) if state.mode != Mode::GettingReady && !recovers => {
                raw.max(state.demand).clamp(least, 1.0)
            }
            _ => 1.0,
        };
        Orders {
            on: state.mode != Mode::Off,
            set_point: state.asked,
            air_flow: share * self.air_flow,
            regeneration: match &self.bake_out {
                Some(bake_out) if bakes => bake_out.temperature,
                _ => self.regeneration,
            },
            released: matches!(state.mode, Mode::Drying | Mode::SetBack),
            mode: state.mode,
            demand: state.demand,
            warns: self.warns(state, seen),
        }
    }

    fn change_mode(&self, state: &mut ControlState, seen: &Seen, off: bool) {
        if off {
            state.mode = Mode::Off;
            state.ready = 0.0;
            state.low = 0.0;
            return;
        }
        if state.mode == Mode::Off {
            state.mode = if self.hold.is_some() {
                Mode::GettingReady
            } else {
                Mode::Drying
            };
            state.asked = self.set_point;
            state.demand = 1.0;
        }
        if seen.on && seen.inlet > self.set_point - NEAR {
            state.ready += seen.duration;
        }
        if state.mode == Mode::GettingReady && self.hold.is_none_or(|hold| state.ready >= hold) {
            state.mode = Mode::Drying;
            state.low = 0.0;
        }
        let Some(setback) = &self.setback else {
            return;
        };
        if state.demand < setback.below {
            state.low += seen.duration;
        } else {
            state.low = 0.0;
        }
        match state.mode {
            Mode::Drying if state.demand < setback.below && state.low >= setback.after => {
                state.mode = Mode::SetBack;
            }
            Mode::SetBack if state.demand > setback.above => {
                state.mode = Mode::Drying;
                state.low = 0.0;
            }
            _ => {}
        }
    }

    /// Whether the desiccant is baked out in the next step.
    fn bake(&self, state: &mut ControlState, seen: &Seen) -> bool {
        let Some(bake_out) = &self.bake_out else {
            return false;
        };
        if state.mode == Mode::Off {
            return false;
        }
        let (since, left) = &mut state.baked;
        if *left > 0.0 {
            *left -= seen.duration;
            if *left <= 0.0 {
                *since = 0.0;
            }
            return *left > 0.0;
        }
        *since += seen.duration;
        let by_clock = bake_out.every.is_some_and(|every| *since >= every);
        let weak = bake_out.above.is_some_and(|above| seen.delivered > above)
            && seen.return_humidity <= self.usual_return;
        // A wheel just switched on, or just baked out, is given its time.
        if by_clock || weak && *since >= 4.0 * bake_out.time {
            *left = bake_out.time;
        }
        *left > 0.0
    }

    fn warns(&self, state: &mut ControlState, seen: &Seen) -> (bool, bool) {
        let count = |seconds: &mut f64, cause: bool| {
            *seconds = if cause { *seconds + seen.duration } else { 0.0 };
            *seconds >= self.warn.after && cause
        };
        let at_work = seen.on && state.mode != Mode::GettingReady;
        let away = (seen.inlet - state.asked).abs() > self.warn.difference;
        (
            count(
                &mut state.uneasy.0,
                at_work && seen.delivered > self.warn.humidity,
            ),
            count(&mut state.uneasy.1, at_work && away),
        )
    }
}
