//! Vacuum drying in batches: heated by hot air, evacuated without heating, kept till drawn.
//!
//! # Equations
//! 1. Heating: hall air, blown and heated to the set point, rises through the charge as through a
//!    hopper at rest ([`bed::column`]) and goes to the hall; it lasts till the coldest pellets lack a stated difference.
//! 2. Vacuum: the charge falls through a valve into the vessel. All pellets share its gas
//!    ([`dryer::vacuum`]); each group of them gives off `n = k (a_s p_sat(T) - p_v)` as in
//!    [`pellet::contact`], no air brings heat, and
//!    `H0 - H1 = n h_v(T) + u (T - T_hall) + G c (T - T_purge)`: they cool as their water leaves, and by wall and
//!    purge. Over each step p_v is the root of `p_v = gas(sum m n(p_v))`, which is one
//!    monotone equation.
//! 3. Let out: purge air (or that of the hall) comes in up to the pressure of the hall.
//! 4. Retention: first in, first out. As pellets are drawn their room is filled by purge, or by hall air where the
//!    purge is less; the pellets that wait share that air, `Y = Y_in + sum m n / G`.
//! 5. Heating vessel and vacuum vessel work at once: a batch takes the longest of heating, vacuum and
//!    what the draw leaves, `charge/rate`.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! G | `purge`, `retention_purge` | kg/s
//! u | `Charge::column`'s wall, scaled by mass to the power of two thirds | W/(K kg)
//! k | `Charge::still`, divided by the pressure in halls | kg/(s Pa kg)
//!
//! # Holds for
//! A heating vessel that waits cold, so that its charge is hot when the valve opens. The film under
//! vacuum is that of still air with the diffusivity of the pressure, without drift: the resistance that counts is
//! inside the pellets. Gas holds no heat. What vacuum cannot do follows: water inside a pellet moves as it does in perfectly
//! dry air of the same temperature, and the pellets are colder.
//!
//! # Sources
//! Balances; the parts name theirs. No measured record of a vacuum dryer was found.
//!
//! # Checked by
//! `crates/line/src/tests/vacuum.rs`: Crank's series, the exponential of pumping, limits, ledgers;
//! `tests/src/peers/vacuum_dryer.rs`.

mod books;
mod evacuated;
mod heated;
mod retained;
mod together;

use crate::{Account, Fan, Feed, LineError, Room, Shortfall};
use bed::column::{Column, Drive, Wall};
use books::Books;
use dryer::compressed_air::CompressedAir;
use dryer::heater::Heater;
use dryer::vacuum::{Outside, Vessel};
use dryer::{DryerError, Resistance, Stream};
use quantity::constants::ZERO_CELSIUS;
use quantity::{Ledger, Range};
use serde::Serialize;
use together::Together;

/// Dry resin of a batch.
pub const CHARGE_HOLDS: Range = Range::new("charge", 0.1, 1e4, "kg");
/// How long the pump runs for a batch.
pub const VACUUM_TIME_HOLDS: Range = Range::new("time under vacuum", 1.0, 1e6, "s");
/// Filling, dropping and valves.
pub const HANDLING_HOLDS: Range = Range::new("handling", 0.0, 3600.0, "s");
/// What the coldest pellets may lack.
pub const LACKING_HOLDS: Range = Range::new("lack of the coldest pellets", 0.1, 50.0, "K");
/// Longest heating that is waited for, s.
pub const LONGEST_HEATING: f64 = 6.0 * 3600.0;

/// A vacuum dryer as it runs, all numbers SI.
#[derive(Clone, Debug)]
pub struct VacuumMachine {
    /// Dry resin of a batch, kg.
    pub charge: f64,
    /// Dry air through it while it is heated, kg/s.
    pub heating_air: f64,
    /// Heating blower.
    pub fan: Fan,
    /// What it works against.
    pub resistance: Resistance,
    /// Heater of that air.
    pub heater: Heater,
    /// What the coldest pellets may lack of the set point, K.
    pub lacking: f64,
    /// The vacuum vessel with its pump.
    pub vessel: Vessel,
    /// Power of the pump, W.
    pub pump_power: f64,
    /// How long it runs for a batch, s.
    pub vacuum_time: f64,
    /// Filling, dropping and valves, s.
    pub handling: f64,
    /// Air for purging and letting out.
    pub dry_air: DryAir,
    /// Of it into the vessel while the pump runs, kg/s.
    pub purge: f64,
    /// Of it into the retention hopper, kg/s.
    pub retention_purge: f64,
}

/// Where purge air comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DryAir {
    /// The hall.
    Hall,
    /// Compressed air, dried.
    Line(CompressedAir),
}

/// What is dried.
#[derive(Clone, Debug)]
pub struct Charge {
    /// What it is called.
    pub name: String,
    /// How its pellets meet hot air, in a hopper of its own mass.
    pub column: Column,
    /// As they are fed, and at what rate they are drawn.
    pub feed: Feed,
    /// Temperature of the heating air, K.
    pub set_point: f64,
    /// Dry resin per volume of poured bed, kg/m3.
    pub bulk_density: f64,
    /// Film to vapour in still air of the hall's pressure, each kind, the lead first, kg/(s Pa kg).
    pub still: Vec<f64>,
}

/// Pellets as they are at some point of a batch: kg/kg dry and K.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Pellets {
    /// Mean water, sorbed and free.
    pub water: f64,
    /// That of each kind, the lead first.
    pub kinds: Vec<f64>,
    /// Of the wettest kind and group.
    pub wettest: f64,
    /// Mean temperature.
    pub temperature: f64,
    /// Of the coldest group.
    pub coldest: f64,
}

/// One moment under vacuum.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct VacuumMoment {
    /// Since the pump was started, s.
    pub time: f64,
    /// Pressure, Pa.
    pub pressure: f64,
    /// That of the vapour, Pa.
    pub vapour: f64,
    /// Mean water of the pellets, kg/kg dry.
    pub water: f64,
    /// Their mean temperature, K.
    pub temperature: f64,
}

/// One batch of many that follow each other alike.
#[derive(Clone, Debug)]
pub struct VacuumCycle {
    /// Seconds till the coldest pellets are hot.
    pub heating_time: f64,
    /// From one batch to the next, s.
    pub cycle_time: f64,
    /// Dry resin dried in the mean, kg/s.
    pub rate: f64,
    /// Pellets when the valve opens.
    pub heated: Pellets,
    /// When the vessel is let out.
    pub evacuated: Pellets,
    /// As they are drawn.
    pub drawn: Pellets,
    /// Under vacuum.
    pub moments: Vec<VacuumMoment>,
    /// What crosses the border, means over the batch: kg/s and W.
    pub account: Account,
    /// Limits that were met.
    pub shortfalls: Vec<Shortfall>,
}

/// Parcels in which a charge is heated, and how many of them make a group under vacuum.
const PARCELS: usize = 10;
const JOINED: usize = 2;

impl VacuumCycle {
    /// Water over a batch, kg/s.
    pub fn water(&self) -> Ledger {
        self.account.water()
    }

    /// Energy over a batch, W.
    pub fn energy(&self) -> Ledger {
        self.account.energy()
    }
}

impl DryAir {
    /// So much of it (kg/s of dry air).
    fn stream(&self, dry_air: f64, room: &Room) -> Result<Stream, LineError> {
        Ok(match self {
            Self::Hall => room.air(dry_air),
            Self::Line(air) => {
                let nothing = room.air(0.0);
                air.deliver(dry_air, &nothing, room.pressure)?.outlet
            }
        })
    }
}

impl VacuumMachine {
    pub(crate) fn checked(self) -> Result<Self, DryerError> {
        DryerError::unless_within(&CHARGE_HOLDS, self.charge)?;
        DryerError::unless_within(&VACUUM_TIME_HOLDS, self.vacuum_time)?;
        DryerError::unless_within(&HANDLING_HOLDS, self.handling)?;
        DryerError::unless_within(&LACKING_HOLDS, self.lacking)?;
        DryerError::unless_between("heating air", self.heating_air, "kg/s", (1e-6, 100.0))?;
        for purge in [self.purge, self.retention_purge] {
            DryerError::unless_within(&dryer::vacuum::PURGE_HOLDS, purge)?;
        }
        Ok(self)
    }

    /// One batch of a row of equal ones.
    ///
    /// # Errors
    /// [`LineError::NoDraw`] for a charge that is not drawn; from heater, blower, bed, gas or pellets.
    pub fn cycle(&self, charge: &Charge, room: &Room) -> Result<VacuumCycle, LineError> {
        if !(charge.feed.rate > 0.0 && charge.feed.rate.is_finite()) {
            return Err(LineError::NoDraw {
                rate: charge.feed.rate,
            });
        }
        let mut books = Books::default();
        let column = self.column(charge);
        let wall = column.wall.total() / self.charge;
        let heated = self.heat(charge, &column, room, &mut books)?;
        let mut together = Together::of(charge, heated.pellets, JOINED)?;
        let hot = together.pellets();
        let moments = self.evacuate(&mut together, room, wall, &mut books)?;
        let evacuated = together.pellets();
        let needed = [
            heated.time + self.handling,
            self.vacuum_time + self.handling,
        ];
        let drawn_in = self.charge / charge.feed.rate;
        let cycle_time = needed.into_iter().fold(drawn_in, f64::max);
        let drawn = self.keep(charge, &mut together, room, (wall, cycle_time), &mut books)?;
        let mut shortfalls = heated.shortfalls;
        if cycle_time > drawn_in * (1.0 + 1e-9) {
            shortfalls.push(Shortfall {
                component: if needed[0] > needed[1] {
                    "heating of the charge".to_owned()
                } else {
                    "vacuum vessel".to_owned()
                },
                what: "resin dried",
                asked: charge.feed.rate * 3600.0,
                given: self.charge / cycle_time * 3600.0,
                unit: "kg/h",
            });
        }
        Ok(VacuumCycle {
            heating_time: heated.time,
            cycle_time,
            rate: self.charge / cycle_time,
            heated: hot,
            evacuated,
            drawn,
            moments,
            account: books.over(cycle_time),
            shortfalls,
        })
    }

    /// A hopper of the charge.
    fn column(&self, charge: &Charge) -> Column {
        const SLICES: usize = 2 * PARCELS;
        let share = self.charge / charge.column.mass;
        let wall = charge.column.wall.total() * libm::cbrt(share * share);
        Column {
            mass: self.charge,
            wall: Wall::of_slices(&[wall / SLICES as f64; SLICES]),
            parcels: PARCELS,
            steps_per_parcel: 1,
            ..charge.column.clone()
        }
    }
}

/// The air outside the vessel.
fn outside(room: &Room) -> Outside {
    Outside {
        pressure: room.pressure,
        temperature: room.temperature,
        humidity: room.humidity,
    }
}

/// What drives a charge at rest in heating air.
fn at_rest(air: &Stream, charge: &Charge, room: &Room) -> Drive {
    Drive {
        rate: 0.0,
        air_flow: air.dry_air,
        air_temperature: air.temperature,
        air_humidity: air.humidity,
        feed_temperature: charge.feed.temperature,
        feed_moisture: charge.feed.moisture,
        feed_free_water: charge.feed.free_water,
        ambient: room.temperature,
    }
}

/// A temperature as it is shown.
fn celsius(t: f64) -> f64 {
    t - ZERO_CELSIUS
}
