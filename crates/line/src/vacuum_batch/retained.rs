//! The dried charge in the retention hopper, till the last of it is drawn.

use super::books::Books;
use super::together::{Given, Group, Guess, Losses, Together};
use super::{Charge, Pellets, VacuumMachine};
use crate::{LineError, Room};
use air::mixture;
use dryer::Stream;
use pellet::contact::MASS_RATIO;

impl VacuumMachine {
    /// Keeps the charge till it is drawn, first in, first out, over a time (s), behind a wall of a conductance
    /// (W/(K kg)).
    pub(super) fn keep(
        &self,
        charge: &Charge,
        together: &mut Together<'_>,
        room: &Room,
        (wall, time): (f64, f64),
        books: &mut Books,
    ) -> Result<Pellets, LineError> {
        let air = self.retention_air(charge, room, time)?;
        together.film(1.0);
        together.jolt();
        let count = together.groups.len();
        let mut guess = Guess::at(vapour_of(air.humidity, room.pressure));
        let (mut drawn, mut given): (Vec<Group>, Given) =
            (Vec::with_capacity(count), Given::default());
        let mut waited = 0.0;
        while !together.groups.is_empty() {
            // A group is drawn at the middle of its turn.
            let turn = (drawn.len() as f64 + 0.5) / count as f64 * time;
            let losses = Losses {
                wall: (wall, room.temperature),
                gas: (air.heat_capacity() / together.mass(), air.temperature),
            };
            let made = |water: f64| {
                let humidity = (air.humidity + water / air.dry_air).max(0.0);
                vapour_of(humidity, room.pressure)
            };
            let now = together.live(turn - waited, &losses, &mut guess, made)?;
            given = given.and(now);
            waited = turn;
            drawn.push(together.groups.remove(0));
        }
        let through = air.of(air.dry_air * time);
        books.stream("air to the retention hopper", true, &through, 1.0);
        books.air(
            "air from the retention hopper",
            false,
            [
                through.dry_air,
                through.water() + given.water,
                through.heat() + given.with_vapour + given.to_gas,
            ],
        );
        books.wall("wall of the retention hopper", given.to_wall);
        self.take_dry_air(self.retention_purge * time, room, books)?;
        together.groups = drawn;
        let (mut water, mut heat) = (0.0, 0.0);
        for group in &together.groups {
            let held = together.held(group);
            water += held.0;
            heat += held.1;
        }
        books.resin(format!("resin from {}", charge.name), false, water, heat);
        Ok(together.pellets())
    }

    /// Air that the waiting pellets stand in, kg/s of dry air: the purge, and hall air where the pellets drawn leave
    /// more room than that.
    fn retention_air(&self, charge: &Charge, room: &Room, time: f64) -> Result<Stream, LineError> {
        let purge = self.dry_air.stream(self.retention_purge, room)?;
        let share = mixture::mole_fraction(room.humidity);
        let density = mixture::dry_air_density(room.temperature, room.pressure, share);
        let emptied = self.charge / time / charge.bulk_density * density;
        let hall = room.air((emptied - purge.dry_air).max(0.0));
        Ok(if purge.dry_air > 0.0 {
            purge.joined(hall)
        } else {
            hall
        })
    }
}

/// Vapour pressure of a humidity ratio, Pa.
fn vapour_of(humidity: f64, pressure: f64) -> f64 {
    pressure * humidity / (MASS_RATIO + humidity)
}
