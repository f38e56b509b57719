//! Vacuum dryer: what a charge of pellets meets as it is heated, evacuated, purged and let out again.
//!
//! # Equations
//! With partial pressures of air p_a and vapour p_v in the free volume V, and a pump of speed S:
//! 1. `V dp_a/dt = -S p_a + q_leak (1 - y) + q_purge (1 - y_p) + S p_u`, `V dp_v/dt = -S p_v + q_leak y +
//!    q_purge y_p + q_water`, with `q = n R T`; both solved exactly over a step in which nothing else changes.
//! 2. In steady state `p = p_u + q/S`, and the vapour's share of the pressure is its share of what flows in.
//! 3. The pellets' surface meets p_v; what they give off is handed in, since they are not known here.
//! 4. Heating: hot air passes at the pressure of the hall, and its vapour pressure is met at once.
//! 5. Heat of heating `m (h(T) - h(T_hall))`, energy of the pump its power times its time.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! S, p_u | `pump_speed`, `ultimate` | m3/s, Pa
//! q_leak | `leak` | Pa m3/s
//! y, y_p | vapour's share in hall air and purge |
//!
//! # Holds for
//! A pump of constant speed down to its ultimate pressure, which is counted as air; perfect gases; a leak that does not
//! depend on the pressure inside (sonic below half the pressure outside), and stops when the hall's pressure
//! is reached. Under vacuum nothing heats the pellets: they cool as their water leaves, which is the pellets' part.
//! Vapour that condenses in the pump or on cold walls is not followed. Vacuum itself dries no
//! better than its vapour pressure says: 50 mbar of vapour alone have a dew point of 33 degC, 1 mbar a frost
//! point of -20 degC; what helps is that no air is in the way, and the purge.
//!
//! # Sources
//! Balances of gas; no measured record of a vacuum dryer was found.
//!
//! # Checked by
//! Closed forms in `crates/dryer/src/vacuum/tests.rs`.

use crate::asked::Asked;
use crate::{DryerError, Stream};
use air::mixture;
use quantity::constants::DRY_AIR_MOLAR_MASS;
use quantity::constants::{MOLAR_GAS, STANDARD_ATMOSPHERE, WATER_MOLAR_MASS, ZERO_CELSIUS};
use quantity::{
    AbsolutePressure, ActualVolumeFlow, Duration, Faults, Ledger, MassFlow, Power, Quantity, Range,
    Temperature, Volume,
};

/// Free volume of gas: vessel and pipes, less pellets.
pub const FREE_VOLUME_HOLDS: Range = Range::new("free volume", 1e-4, 100.0, "m3");
/// Speeds of a pump.
pub const PUMP_SPEED_HOLDS: Range = Range::new("speed of the pump", 1e-5, 10.0, "m3/s");
/// Ultimate pressures of a pump.
pub const ULTIMATE_HOLDS: Range = Range::new("ultimate pressure", 0.01, 5e4, "Pa");
/// Powers of a pump.
pub const PUMP_POWER_HOLDS: Range = Range::new("power of the pump", 0.0, 1e6, "W");
/// Leaks.
pub const VACUUM_LEAK_HOLDS: Range = Range::new("leak", 0.0, 1e4, "Pa m3/s");
/// Length of a phase.
pub const PHASE_HOLDS: Range = Range::new("duration of the phase", 1.0, 1e6, "s");
/// Temperatures in the vessel.
pub const VESSEL_HOLDS: Range = Range::new("temperature in the vessel", 0.0, 250.0, "degC");
/// Flows of purge gas.
pub const PURGE_HOLDS: Range = Range::new("purge of dry air", 0.0, 0.1, "kg/s");
/// Water that the pellets give off.
pub const WATER_GIVEN_HOLDS: Range = Range::new("water given off", -0.1, 0.1, "kg/s");

/// What is done over a phase.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doing {
    /// Hot air passes at the pressure of the hall.
    Heat {
        /// Its flow, temperature and humidity.
        air: Stream,
    },
    /// The pump runs; dry air may be let in.
    Pump {
        /// Temperature of the gas in the vessel.
        temperature: Temperature,
        /// Dry air let in.
        purge: MassFlow,
        /// Humidity ratio of the purge, kg/kg.
        purge_humidity: f64,
    },
    /// Valves shut.
    Hold {
        /// Temperature of the gas in the vessel.
        temperature: Temperature,
    },
    /// Let out to the pressure of the hall, under air of a humidity ratio, kg/kg.
    Vented {
        /// Temperature of the gas in the vessel.
        temperature: Temperature,
        /// Humidity ratio of what is let in.
        humidity: f64,
    },
}

/// One phase of a batch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Phase {
    /// How long.
    pub duration: Duration,
    /// What is done.
    pub doing: Doing,
}

/// A vacuum dryer and its programme.
#[derive(Clone, Debug, PartialEq)]
pub struct VacuumSpec {
    /// Free volume.
    pub free_volume: Volume,
    /// Speed of the pump.
    pub pump_speed: ActualVolumeFlow,
    /// Ultimate pressure of the pump.
    pub ultimate: AbsolutePressure,
    /// Power of the pump while it runs.
    pub pump_power: Power,
    /// Leak of hall air, Pa m3/s: volume times rise of pressure when shut off.
    pub leak: f64,
    /// What is done, one after the other.
    pub phases: Vec<Phase>,
}

/// A checked vacuum dryer.
#[derive(Clone, Debug, PartialEq)]
pub struct Vacuum {
    volume: f64,
    speed: f64,
    ultimate: f64,
    power: f64,
    leak: f64,
    phases: Vec<Phase>,
}

/// The hall around it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hall {
    /// Pressure, Pa.
    pub pressure: f64,
    /// Temperature, K.
    pub temperature: f64,
    /// Humidity ratio, kg/kg.
    pub humidity: f64,
}

/// What a vacuum dryer remembers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VacuumState {
    /// Since the batch began, s.
    pub time: f64,
    /// Partial pressure of air, Pa.
    pub air: f64,
    /// Partial pressure of vapour, Pa.
    pub vapour: f64,
}

/// What a pellet meets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surroundings {
    /// Temperature of the gas, K.
    pub temperature: f64,
    /// Total pressure, Pa.
    pub pressure: f64,
    /// Pressure of vapour at the surface of a pellet that gives off little, Pa.
    pub vapour_pressure: f64,
    /// Index of the phase.
    pub phase: usize,
}

/// Water and energy of a step.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spent {
    /// Water that the pellets gave off, kg.
    pub given: f64,
    /// Water that came in with leak and purge, kg.
    pub entered: f64,
    /// Water that left, kg.
    pub left: f64,
    /// Growth of the vapour in the vessel, kg.
    pub stayed: f64,
    /// Energy of the pump, J.
    pub pump: f64,
    /// Heat of the hot air above the hall's, J.
    pub heat: f64,
}

impl VacuumSpec {
    /// The dryer, or every mistake in it and its programme.
    ///
    /// # Errors
    /// A number outside its range, or no phase at all.
    pub fn check(&self) -> Result<Vacuum, Faults> {
        let mut asked = Asked::new();
        if self.phases.is_empty() {
            asked.contradiction(
                "phases",
                0.0,
                "a batch without phases has nothing to do",
                "give at least heating and pumping",
            );
        }
        let humidities = crate::STREAM_HUMIDITY_HOLDS;
        for (index, phase) in self.phases.iter().enumerate() {
            let at = |what: &str| format!("phases[{index}].{what}");
            asked.number(&at("duration"), phase.duration.si(), &PHASE_HOLDS);
            let celsius = phase.doing.temperature() - ZERO_CELSIUS;
            asked.number(&at("temperature"), celsius, &VESSEL_HOLDS);
            match phase.doing {
                Doing::Heat { air } => {
                    asked.number(&at("air.dry_air"), air.dry_air, &crate::STREAM_FLOW_HOLDS);
                    asked.number(&at("air.humidity"), air.humidity, &humidities);
                }
                Doing::Pump {
                    purge,
                    purge_humidity,
                    ..
                } => {
                    asked.number(&at("purge"), purge.si(), &PURGE_HOLDS);
                    asked.number(&at("purge_humidity"), purge_humidity, &humidities);
                }
                Doing::Vented { humidity, .. } => {
                    asked.number(&at("humidity"), humidity, &humidities);
                }
                Doing::Hold { .. } => {}
            }
        }
        let vacuum = Vacuum {
            volume: asked.number("free_volume", self.free_volume.si(), &FREE_VOLUME_HOLDS),
            speed: asked.number("pump_speed", self.pump_speed.si(), &PUMP_SPEED_HOLDS),
            ultimate: asked.number("ultimate", self.ultimate.si(), &ULTIMATE_HOLDS),
            power: asked.number("pump_power", self.pump_power.si(), &PUMP_POWER_HOLDS),
            leak: asked.number("leak", self.leak, &VACUUM_LEAK_HOLDS),
            phases: self.phases.clone(),
        };
        asked.give(Some(vacuum))
    }
}

impl Doing {
    fn temperature(&self) -> f64 {
        match self {
            Self::Heat { air } => air.temperature,
            Self::Pump { temperature, .. }
            | Self::Hold { temperature }
            | Self::Vented { temperature, .. } => temperature.kelvin(),
        }
    }

    /// Partial pressures of air and vapour that the phase imposes, if it does.
    fn imposed(&self, hall: &Hall) -> Option<(f64, f64)> {
        let humidity = match self {
            Self::Heat { air } => air.humidity,
            Self::Vented { humidity, .. } => *humidity,
            Self::Pump { .. } | Self::Hold { .. } => return None,
        };
        let share = mixture::mole_fraction(humidity);
        Some(((1.0 - share) * hall.pressure, share * hall.pressure))
    }
}

impl Hall {
    /// A hall at one atmosphere, 25 degC and 10 g/kg.
    pub const USUAL: Self = Self {
        pressure: STANDARD_ATMOSPHERE,
        temperature: 298.15,
        humidity: 0.01,
    };

    fn checked(&self) -> Result<(), DryerError> {
        DryerError::unless_between("pressure of the hall", self.pressure, "Pa", (5e4, 1.1e5))?;
        DryerError::unless_between(
            "temperature of the hall",
            self.temperature,
            "K",
            (233.15, 333.15),
        )?;
        DryerError::unless_within(&crate::STREAM_HUMIDITY_HOLDS, self.humidity).map(|_| ())
    }
}

impl Vacuum {
    /// How long the programme takes, s.
    pub fn duration(&self) -> f64 {
        self.phases.iter().map(|phase| phase.duration.si()).sum()
    }

    /// The beginning of a batch: the gas of its first phase, or hall air.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for a hall that is none.
    pub fn start(&self, hall: &Hall) -> Result<VacuumState, DryerError> {
        hall.checked()?;
        let share = mixture::mole_fraction(hall.humidity);
        let plain = ((1.0 - share) * hall.pressure, share * hall.pressure);
        let (air, vapour) = self.phases[0].doing.imposed(hall).unwrap_or(plain);
        Ok(VacuumState {
            time: 0.0,
            air,
            vapour,
        })
    }

    /// Phase at a time (s), and when it ends; the last one at and after its end.
    fn phase(&self, time: f64) -> (usize, f64) {
        let mut end = 0.0;
        for (index, phase) in self.phases.iter().enumerate() {
            end += phase.duration.si();
            if time < end * (1.0 - 1e-15) {
                return (index, end);
            }
        }
        (self.phases.len() - 1, end)
    }

    /// Vapour in the vessel, kg.
    pub fn vapour_held(&self, state: &VacuumState) -> f64 {
        let temperature = self.surroundings(state).temperature;
        self.volume * state.vapour * WATER_MOLAR_MASS / (MOLAR_GAS * temperature)
    }

    /// What a pellet meets now.
    pub fn surroundings(&self, state: &VacuumState) -> Surroundings {
        let phase = self.phase(state.time).0;
        Surroundings {
            temperature: self.phases[phase].doing.temperature(),
            pressure: state.air + state.vapour,
            vapour_pressure: state.vapour,
            phase,
        }
    }

    /// Advances by `step` seconds, or to the end of the phase, while the pellets give off `water` kg/s.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for a step, a hall or water that cannot be.
    pub fn advance(
        &self,
        state: &VacuumState,
        hall: &Hall,
        water: f64,
        step: f64,
    ) -> Result<(VacuumState, Spent), DryerError> {
        hall.checked()?;
        DryerError::unless_within(&WATER_GIVEN_HOLDS, water)?;
        DryerError::unless_between("time step", step, "s", (0.0, 1e9))?;
        DryerError::unless_between("time", state.time, "s", (0.0, 1e12))?;
        for pressure in [state.air, state.vapour] {
            DryerError::unless_between("partial pressure", pressure, "Pa", (0.0, 1e6))?;
        }
        let (index, end) = self.phase(state.time);
        let duration = if state.time < end {
            step.min(end - state.time)
        } else {
            step
        };
        let doing = &self.phases[index].doing;
        let temperature = doing.temperature();
        // Mass of vapour for each pascal in the vessel.
        let held = self.volume * WATER_MOLAR_MASS / (MOLAR_GAS * temperature);
        let mut spent = Spent {
            given: water * duration,
            ..Spent::default()
        };
        let (air, vapour) = if let Some(imposed) = doing.imposed(hall) {
            if let Doing::Heat { air } = doing {
                let cold = air.at(hall.temperature);
                spent.heat = (air.heat() - cold.heat()) * duration;
            }
            imposed
        } else {
            self.evacuated(state, hall, doing, water, duration, &mut spent)
        };
        spent.stayed = held * (vapour - state.vapour);
        // What neither stayed nor is pumped off has gone with the air that passes.
        spent.left = spent.given + spent.entered - spent.stayed;
        // The gas in the vessel takes the temperature of the next phase at constant volume.
        let time = state.time + duration;
        let scale = self.phases[self.phase(time).0].doing.temperature() / temperature;
        let after = VacuumState {
            time,
            air: air * scale,
            vapour: vapour * scale,
        };
        Ok((after, spent))
    }

    /// Equation 1 over a duration; energy of the pump and water entered are written down.
    fn evacuated(
        &self,
        state: &VacuumState,
        hall: &Hall,
        doing: &Doing,
        water: f64,
        duration: f64,
        spent: &mut Spent,
    ) -> (f64, f64) {
        let temperature = doing.temperature();
        let gas = MOLAR_GAS * temperature;
        let humid = mixture::mole_fraction(hall.humidity);
        let (mut speed, mut purge) = (0.0, (0.0, 0.0));
        if let Doing::Pump {
            purge: flow,
            purge_humidity,
            ..
        } = doing
        {
            speed = self.speed;
            let moles = flow.si() / DRY_AIR_MOLAR_MASS;
            purge = (
                moles * gas,
                flow.si() * purge_humidity / WATER_MOLAR_MASS * gas,
            );
            spent.pump = self.power * duration;
        }
        // A leak is stated at the temperature of the hall and enters at that of the vessel.
        let leak = self.leak * temperature / hall.temperature;
        let evaporated = water / WATER_MOLAR_MASS * gas;
        let rate = speed / self.volume;
        let follow = |from: f64, inflow: f64| {
            let x = rate * duration;
            // (1 - e^-x)/x, one for a short time or no pump.
            let mean = if x > 1e-12 { -libm::expm1(-x) / x } else { 1.0 };
            from * libm::exp(-x) + inflow / self.volume * duration * mean
        };
        let pumped = |share: f64| {
            let air = follow(
                state.air,
                share * leak * (1.0 - humid) + purge.0 + speed * self.ultimate,
            );
            let vapour = follow(state.vapour, share * leak * humid + purge.1 + evaporated);
            (air, vapour.max(0.0))
        };
        let open = pumped(1.0);
        // The leak stops at the pressure of the hall.
        let share = if open.0 + open.1 > hall.pressure {
            let shut = pumped(0.0);
            let (most, least) = (open.0 + open.1, shut.0 + shut.1);
            ((hall.pressure - least) / (most - least).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0)
        } else {
            1.0
        };
        spent.entered = (share * leak * humid + purge.1) * duration * WATER_MOLAR_MASS / gas;
        pumped(share)
    }

    /// What pellets meet over the whole programme, at steps of at most `step` seconds, where they give off
    /// `water(time, surroundings)` kg/s; with the sum of what was spent.
    ///
    /// # Errors
    /// As [`Vacuum::advance`].
    pub fn course(
        &self,
        hall: &Hall,
        step: f64,
        mut water: impl FnMut(f64, &Surroundings) -> f64,
    ) -> Result<(Vec<(f64, Surroundings)>, Spent), DryerError> {
        DryerError::unless_between("time step", step, "s", (0.1, 1e6))?;
        let mut state = self.start(hall)?;
        let end = self.duration();
        let (mut course, mut sum) = (Vec::new(), Spent::default());
        loop {
            let around = self.surroundings(&state);
            course.push((state.time, around));
            if state.time >= end * (1.0 - 1e-12) {
                return Ok((course, sum));
            }
            let (after, spent) = self.advance(&state, hall, water(state.time, &around), step)?;
            sum = sum.and(&spent);
            state = after;
        }
    }
}

impl Spent {
    fn and(self, more: &Self) -> Self {
        Self {
            given: self.given + more.given,
            entered: self.entered + more.entered,
            left: self.left + more.left,
            stayed: self.stayed + more.stayed,
            pump: self.pump + more.pump,
            heat: self.heat + more.heat,
        }
    }

    /// Water in and out, kg.
    pub fn water(&self) -> Ledger {
        Ledger::new("water of the vacuum dryer", "kg")
            .enter("pellets", self.given)
            .enter("leak and purge", self.entered)
            .leave("pump or air", self.left)
            .stay("vessel", self.stayed)
    }
}

#[cfg(test)]
mod tests;
