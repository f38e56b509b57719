//! Vacuum vessel: the gas about a charge of pellets that is pumped down, purged, shut off and let out again.
//!
//! # Equations
//! With partial pressures of air p_a and vapour p_v, p their sum, in the free volume V:
//! 1. A pump of speed S takes gas as it is in the vessel, and nothing below its end pressure p_u:
//!    `dp/dt = (Q - S (p - p_u))/V`, `Q = Q_a + Q_v` what flows in of air and vapour, `q = n R T`.
//! 2. The share y of vapour follows `dy/dt = (Q_v - y Q)/(V p)`. With Q held over a step both have closed
//!    forms: p falls as an exponential to `p_u + Q/S`, and y nears `Q_v/Q` as `exp(-Q/V int dt/p)`.
//! 3. Below p_u, or shut off, `dp/dt = Q/V`.
//! 4. In steady state `p = p_u + Q/S`, and the vapour's share of the pressure is its share of what flows in: without
//!    purge and leak the pellets stand in pure vapour of p_u at least.
//! 5. The leak is constant up to the pressure of the hall, where it stops.
//! 6. Let out: air of a stated humidity comes in until the pressure is that of the hall.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! S, p_u | `pump_speed`, `end_pressure` | m3/s, Pa
//! V | `free_volume` | m3
//!
//! # Holds for
//! A pump of constant speed whose end pressure is set by itself or by its control; perfect gases; a
//! leak that does not depend on the pressure inside (sonic below half the pressure outside). What the
//! pellets give off is handed in, since they are not known here. Vapour that condenses in the pump or on
//! cold walls is not followed. Vacuum itself dries no better than its vapour pressure says: 50 mbar of vapour alone have
//! a dew point of 33 degC, 1 mbar a frost point of -20 degC; what helps is that no air is in the way, and
//! the purge.
//!
//! # Sources
//! Balances of gas; no measured record of a vacuum dryer was found.
//!
//! # Checked by
//! Closed forms in `crates/dryer/src/vacuum/tests.rs`; `tests/src/peers/vacuum_dryer.rs`.

use crate::DryerError;
use crate::asked::Asked;
use air::mixture;
use quantity::constants::{DRY_AIR_MOLAR_MASS, MOLAR_GAS, WATER_MOLAR_MASS};
use quantity::{
    AbsolutePressure, ActualVolumeFlow, Faults, Ledger, Power, Quantity, Range, Volume,
};

/// Free volume of gas: vessel and pipes, less pellets.
pub const FREE_VOLUME_HOLDS: Range = Range::new("free volume", 1e-4, 100.0, "m3");
/// Speeds of a pump.
pub const PUMP_SPEED_HOLDS: Range = Range::new("speed of the pump", 1e-5, 10.0, "m3/s");
/// End pressures of a pump.
pub const END_PRESSURE_HOLDS: Range = Range::new("end pressure of the pump", 0.01, 5e4, "Pa");
/// Powers of a pump.
pub const PUMP_POWER_HOLDS: Range = Range::new("power of the pump", 0.0, 1e6, "W");
/// Leaks.
pub const VACUUM_LEAK_HOLDS: Range = Range::new("leak", 0.0, 1e4, "Pa m3/s");
/// Temperatures in the vessel.
pub const VESSEL_HOLDS: Range = Range::new("temperature in the vessel", 233.15, 523.15, "K");
/// Flows of purge gas.
pub const PURGE_HOLDS: Range = Range::new("purge of dry air", 0.0, 1.0, "kg/s");
/// Water that the pellets give off.
pub const WATER_GIVEN_HOLDS: Range = Range::new("water given off", -1.0, 1.0, "kg/s");

/// A vessel with its pump.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VesselSpec {
    /// Free volume.
    pub free_volume: Volume,
    /// Speed of the pump.
    pub pump_speed: ActualVolumeFlow,
    /// Pressure below which the pump takes nothing: its own, or that at which its control stops it.
    pub end_pressure: AbsolutePressure,
    /// Power of the pump while it runs.
    pub pump_power: Power,
    /// Leak of hall air, Pa m3/s: volume times rise of pressure when shut off.
    pub leak: f64,
}

/// A checked vessel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vessel {
    volume: f64,
    speed: f64,
    end_pressure: f64,
    power: f64,
    leak: f64,
}

/// Air outside the vessel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outside {
    /// Pressure, Pa.
    pub pressure: f64,
    /// Temperature, K.
    pub temperature: f64,
    /// Humidity ratio, kg/kg.
    pub humidity: f64,
}

/// Gas in the vessel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gas {
    /// Partial pressure of air, Pa.
    pub air: f64,
    /// Partial pressure of vapour, Pa.
    pub vapour: f64,
}

/// What is done over a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doing {
    /// Whether the pump runs; if not the vessel is shut off.
    pub pumping: bool,
    /// Dry air let in, kg/s.
    pub purge: f64,
    /// Its humidity ratio, kg/kg.
    pub purge_humidity: f64,
    /// Temperature of the gas in the vessel, K.
    pub temperature: f64,
    /// Water that the pellets give off, kg/s.
    pub water: f64,
}

/// What became of the gas over a step: kg, J and Pa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Passed {
    /// The gas at the end.
    pub gas: Gas,
    /// Mean partial pressure of vapour over the step, Pa.
    pub mean_vapour: f64,
    /// Water that the pellets gave off.
    pub given: f64,
    /// Dry air of leak and of purge.
    pub air_in: (f64, f64),
    /// Water that came with leak and with purge.
    pub water_in: (f64, f64),
    /// Dry air that the pump took.
    pub air_out: f64,
    /// Water that the pump took.
    pub water_out: f64,
    /// Growth of the vapour in the vessel.
    pub stayed: f64,
    /// Energy of the pump.
    pub pump: f64,
}

impl VesselSpec {
    /// The vessel, or every mistake in it.
    ///
    /// # Errors
    /// A number outside its range.
    pub fn check(&self) -> Result<Vessel, Faults> {
        let mut asked = Asked::new();
        let vessel = Vessel {
            volume: asked.number("free_volume", self.free_volume.si(), &FREE_VOLUME_HOLDS),
            speed: asked.number("pump_speed", self.pump_speed.si(), &PUMP_SPEED_HOLDS),
            end_pressure: asked.number("end_pressure", self.end_pressure.si(), &END_PRESSURE_HOLDS),
            power: asked.number("pump_power", self.pump_power.si(), &PUMP_POWER_HOLDS),
            leak: asked.number("leak", self.leak, &VACUUM_LEAK_HOLDS),
        };
        asked.give(Some(vessel))
    }
}

impl Gas {
    /// Air of a humidity ratio at a pressure (Pa).
    pub fn of_air(humidity: f64, pressure: f64) -> Self {
        let share = mixture::mole_fraction(humidity);
        Self {
            air: (1.0 - share) * pressure,
            vapour: share * pressure,
        }
    }

    /// Pressure, Pa.
    pub fn pressure(&self) -> f64 {
        self.air + self.vapour
    }
}

/// Gas that flows in over a step, Pa m3/s.
#[derive(Clone, Copy)]
struct Inflow {
    air: f64,
    vapour: f64,
}

impl Inflow {
    fn all(self) -> f64 {
        self.air + self.vapour
    }
}

impl Vessel {
    /// Dry air and vapour that a gas in the vessel is at a temperature (K), kg.
    pub fn held(&self, gas: &Gas, temperature: f64) -> (f64, f64) {
        let moles = self.volume / (MOLAR_GAS * temperature);
        (
            moles * gas.air * DRY_AIR_MOLAR_MASS,
            moles * gas.vapour * WATER_MOLAR_MASS,
        )
    }

    /// The gas when air of a humidity ratio has been let in up to the pressure outside, and the dry air that
    /// came (kg) at a temperature of the gas (K).
    pub fn let_out(&self, gas: &Gas, humidity: f64, pressure: f64, temperature: f64) -> (Gas, f64) {
        let come = Gas::of_air(humidity, (pressure - gas.pressure()).max(0.0));
        let now = Gas {
            air: gas.air + come.air,
            vapour: gas.vapour + come.vapour,
        };
        (now, self.held(&come, temperature).0)
    }

    /// What becomes of the gas over `step` seconds.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for a step, air outside, gas or water that cannot be; a vapour
    /// pressure below zero at the end says that the pellets cannot take up so much.
    pub fn advance(
        &self,
        gas: &Gas,
        outside: &Outside,
        doing: &Doing,
        step: f64,
    ) -> Result<Passed, DryerError> {
        outside.checked()?;
        DryerError::unless_within(&WATER_GIVEN_HOLDS, doing.water)?;
        DryerError::unless_within(&PURGE_HOLDS, doing.purge)?;
        DryerError::unless_within(&crate::STREAM_HUMIDITY_HOLDS, doing.purge_humidity)?;
        DryerError::unless_within(&VESSEL_HOLDS, doing.temperature)?;
        DryerError::unless_between("time step", step, "s", (0.0, 1e9))?;
        for pressure in [gas.air, gas.vapour] {
            DryerError::unless_between("partial pressure", pressure, "Pa", (0.0, 1e6))?;
        }
        let thermal = MOLAR_GAS * doing.temperature;
        let humid = mixture::mole_fraction(outside.humidity);
        // A leak is stated at the temperature of the hall and enters at that of the vessel.
        let leak = self.leak * doing.temperature / outside.temperature;
        let purge = (
            doing.purge / DRY_AIR_MOLAR_MASS * thermal,
            doing.purge * doing.purge_humidity / WATER_MOLAR_MASS * thermal,
        );
        let inflow = |share: f64| Inflow {
            air: share * leak * (1.0 - humid) + purge.0,
            vapour: share * leak * humid + purge.1 + doing.water / WATER_MOLAR_MASS * thermal,
        };
        let after = |share: f64, time: f64| self.after(gas, inflow(share), doing.pumping, time);
        let open = after(1.0, step).pressure();
        // The leak stops at the pressure of the hall.
        let share = if open > outside.pressure {
            let shut = after(0.0, step).pressure();
            ((outside.pressure - shut) / (open - shut).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0)
        } else {
            1.0
        };
        let end = after(share, step);
        let lowest = -1e-9 * (gas.vapour + 1.0);
        DryerError::unless_between("partial pressure", end.vapour, "Pa", (lowest, 1e6))?;
        let mass = |flow: f64, molar: f64| flow * step * molar / thermal;
        let air_in = (
            mass(share * leak * (1.0 - humid), DRY_AIR_MOLAR_MASS),
            doing.purge * step,
        );
        let water_in = (
            mass(share * leak * humid, WATER_MOLAR_MASS),
            doing.purge * doing.purge_humidity * step,
        );
        let (before, now) = (
            self.held(gas, doing.temperature),
            self.held(&end, doing.temperature),
        );
        let stayed = now.1 - before.1;
        Ok(Passed {
            gas: Gas {
                air: end.air.max(0.0),
                vapour: end.vapour.max(0.0),
            },
            mean_vapour: (gas.vapour + 4.0 * after(share, 0.5 * step).vapour + end.vapour) / 6.0,
            given: doing.water * step,
            air_in,
            water_in,
            air_out: air_in.0 + air_in.1 - (now.0 - before.0),
            water_out: doing.water * step + water_in.0 + water_in.1 - stayed,
            stayed,
            pump: if doing.pumping {
                self.power * step
            } else {
                0.0
            },
        })
    }

    /// Equations 1 to 3 over a time with a constant inflow, from one side of the end pressure to the
    /// other.
    fn after(&self, gas: &Gas, inflow: Inflow, pumping: bool, time: f64) -> Gas {
        let (pressure, all, end) = (gas.pressure(), inflow.all(), self.end_pressure);
        if !pumping {
            return self.shut(gas, inflow, time);
        }
        let rate = self.speed / self.volume;
        let last = end + all / self.speed;
        if pressure > end || (pressure >= end && all > 0.0) {
            if all < 0.0 {
                // Pellets that take up vapour draw the pressure below what the pump reaches.
                let crossing = libm::log((pressure - last) / (end - last)) / rate;
                if crossing < time {
                    let there = self.pumped(gas, inflow, crossing);
                    return self.shut(&there, inflow, time - crossing);
                }
            }
            return self.pumped(gas, inflow, time);
        }
        let crossing = if all > 0.0 {
            self.volume * (end - pressure) / all
        } else {
            f64::INFINITY
        };
        if crossing < time {
            let there = self.shut(gas, inflow, crossing);
            return self.pumped(&there, inflow, time - crossing);
        }
        self.shut(gas, inflow, time)
    }

    fn shut(&self, gas: &Gas, inflow: Inflow, time: f64) -> Gas {
        Gas {
            air: gas.air + inflow.air * time / self.volume,
            vapour: gas.vapour + inflow.vapour * time / self.volume,
        }
    }

    /// Equations 1 and 2 above the end pressure.
    fn pumped(&self, gas: &Gas, inflow: Inflow, time: f64) -> Gas {
        /// A pressure that has come to its end to rounding, in time constants.
        const SETTLED: f64 = 100.0;
        let rate = self.speed / self.volume;
        let (first, all) = (gas.pressure(), inflow.all());
        let last = self.end_pressure + all / self.speed;
        let pressure = last + (first - last) * libm::exp(-rate * time);
        // int dt/p.
        let integral = if rate * time > SETTLED {
            (time + libm::log(pressure / first) / rate) / last
        } else {
            let grown = libm::expm1(rate * time);
            let x = last / first * grown;
            let mean = if x.abs() < 1e-12 {
                1.0
            } else {
                libm::log1p(x) / x
            };
            grown / (rate * first) * mean
        };
        let turnover = all * integral / self.volume;
        let mean = if turnover.abs() < 1e-12 {
            1.0
        } else {
            -libm::expm1(-turnover) / turnover
        };
        let share = gas.vapour / first * libm::exp(-turnover)
            + inflow.vapour * integral / self.volume * mean;
        Gas {
            air: pressure * (1.0 - share),
            vapour: pressure * share,
        }
    }
}

impl Outside {
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

impl Passed {
    /// Water in and out, kg.
    pub fn water(&self) -> Ledger {
        Ledger::new("water of the vacuum vessel", "kg")
            .enter("pellets", self.given)
            .enter("leak", self.water_in.0)
            .enter("purge", self.water_in.1)
            .leave("pump", self.water_out)
            .stay("vessel", self.stayed)
    }
}

#[cfg(test)]
mod tests;
