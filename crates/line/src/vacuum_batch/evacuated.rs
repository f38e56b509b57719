//! The charge in the vacuum vessel: pumped, purged and let out.

use super::books::Books;
use super::together::{Given, Guess, Losses, Together};
use super::{DryAir, VacuumMachine, VacuumMoment, outside};
use crate::{LineError, Room};
use dryer::Stream;
use dryer::vacuum::{Doing, Gas, Passed};

/// First step, growth from step to step, and steps in the time under vacuum that none exceeds.
const STEPS: (f64, f64, f64) = (1.0, 1.3, 32.0);
/// Shortest step that is tried, s.
const SHORTEST: f64 = 1e-4;

/// What passed through the vessel over the time of the pump, kg and J.
#[derive(Default)]
struct Sums {
    leak: (f64, f64),
    purge: (f64, f64),
    pumped: (f64, f64),
    pump: f64,
    given: Given,
}

impl Sums {
    fn add(&mut self, passed: &Passed, given: Given) {
        self.leak.0 += passed.air_in.0;
        self.leak.1 += passed.water_in.0;
        self.purge.0 += passed.air_in.1;
        self.purge.1 += passed.water_in.1;
        self.pumped.0 += passed.air_out;
        self.pumped.1 += passed.water_out;
        self.pump += passed.pump;
        self.given = self.given.and(given);
    }
}

impl VacuumMachine {
    /// Evacuates the charge and lets it out.
    pub(super) fn evacuate(
        &self,
        together: &mut Together<'_>,
        room: &Room,
        wall: f64,
        books: &mut Books,
    ) -> Result<Vec<VacuumMoment>, LineError> {
        let purge = self.dry_air.stream(self.purge, room)?;
        let lets_out = self.dry_air.stream(1.0, room)?;
        let losses = Losses {
            wall: (wall, room.temperature),
            gas: (purge.heat_capacity() / self.charge, purge.temperature),
        };
        let hall = outside(room);
        // The vessel stands full of what it was let out with, warmed by the charge that falls in.
        let mut gas = Gas::of_air(lets_out.humidity, room.pressure);
        let mut temperature = together.temperature();
        let first = self.vessel.held(&gas, temperature);
        let mut moments = vec![moment(0.0, &gas, together)];
        let (mut sums, mut time, mut guess) = (Sums::default(), 0.0, Guess::at(gas.vapour));
        let mut step = STEPS.0;
        together.jolt();
        while time < self.vacuum_time * (1.0 - 1e-9) {
            let now = step.min(self.vacuum_time - time);
            let before = (together.groups.clone(), guess);
            together.film(room.pressure / gas.pressure());
            let doing = |water: f64| Doing {
                pumping: true,
                purge: purge.dry_air,
                purge_humidity: purge.humidity,
                temperature,
                water,
            };
            let made = |water: f64| {
                self.vessel
                    .advance(&gas, &hall, &doing(water), now)
                    .map_or(0.0, |passed| passed.mean_vapour)
            };
            let given = together.live(now, &losses, &mut guess, made)?;
            let passed = self
                .vessel
                .advance(&gas, &hall, &doing(given.water / now), now);
            let passed = match passed {
                Ok(passed) => passed,
                // More was taken up than there was: a shorter step.
                Err(_) if now > SHORTEST => {
                    (together.groups, guess) = before;
                    step = 0.5 * now;
                    continue;
                }
                Err(cause) => return Err(cause.into()),
            };
            sums.add(&passed, given);
            time += now;
            // The gas takes the temperature of the pellets, at constant volume.
            let scale = together.temperature() / temperature;
            temperature *= scale;
            gas = Gas {
                air: passed.gas.air * scale,
                vapour: passed.gas.vapour * scale,
            };
            moments.push(moment(time, &gas, together));
            step = (step * STEPS.1).min(self.vacuum_time / STEPS.2);
        }
        let (full, come) = self
            .vessel
            .let_out(&gas, lets_out.humidity, room.pressure, temperature);
        let last = self.vessel.held(&full, temperature);
        self.write(
            &sums,
            (first, last),
            (&purge, lets_out.of(come)),
            room,
            books,
        )?;
        Ok(moments)
    }

    /// Writes down what crossed; `held` is the gas at the start and at the end, dry air and water.
    fn write(
        &self,
        sums: &Sums,
        (first, last): ((f64, f64), (f64, f64)),
        (purge, come): (&Stream, Stream),
        room: &Room,
        books: &mut Books,
    ) -> Result<(), LineError> {
        let at_hall = |dry_air: f64| room.air(dry_air).heat();
        let stood = come.of(first.0);
        let purged = purge.of(sums.purge.0);
        books.air("gas in the vessel", true, [first.0, first.1, stood.heat()]);
        books.air(
            "leak of the vessel",
            true,
            [sums.leak.0, sums.leak.1, at_hall(sums.leak.0)],
        );
        books.air(
            "purge under vacuum",
            true,
            [sums.purge.0, sums.purge.1, purged.heat()],
        );
        books.stream("air that lets the vessel out", true, &come, 1.0);
        let given = &sums.given;
        let heat = stood.heat()
            + at_hall(sums.leak.0)
            + purged.heat()
            + come.heat()
            + given.with_vapour
            + given.to_gas;
        books.air(
            "gas of the vessel, pumped and let out",
            false,
            [sums.pumped.0 + last.0, sums.pumped.1 + last.1, heat],
        );
        books.wall("wall of the vacuum vessel", given.to_wall);
        books.electricity("vacuum pump", sums.pump);
        books.wall("vacuum pump", sums.pump);
        self.take_dry_air(sums.purge.0 + come.dry_air, room, books)
    }

    /// Counts compressed air, kg of dry air.
    pub(super) fn take_dry_air(
        &self,
        dry_air: f64,
        room: &Room,
        books: &mut Books,
    ) -> Result<(), LineError> {
        if let DryAir::Line(air) = &self.dry_air {
            let taken = air.deliver(dry_air, &room.air(0.0), room.pressure)?;
            books.compressed(taken.volume, taken.power);
        }
        Ok(())
    }
}

fn moment(time: f64, gas: &Gas, together: &Together<'_>) -> VacuumMoment {
    VacuumMoment {
        time,
        pressure: gas.pressure(),
        vapour: gas.vapour,
        water: together.water(),
        temperature: together.temperature(),
    }
}
