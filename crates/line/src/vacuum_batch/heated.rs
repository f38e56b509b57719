//! The charge while hot air passes it.

use super::books::Books;
use super::{Charge, LONGEST_HEATING, VacuumMachine, at_rest, celsius};
use crate::{LineError, Room, Shortfall};
use bed::column::Column;
use pellet::blend::Mixed;

/// A heated charge.
pub(super) struct Heated {
    /// The lowest pellets first, with their dry resin, kg.
    pub(super) pellets: Vec<(f64, Mixed)>,
    /// How long it took, s.
    pub(super) time: f64,
    pub(super) shortfalls: Vec<Shortfall>,
}

impl VacuumMachine {
    /// Heats a charge till its coldest pellets are hot.
    pub(super) fn heat(
        &self,
        charge: &Charge,
        column: &Column,
        room: &Room,
        books: &mut Books,
    ) -> Result<Heated, LineError> {
        let drawn = room.air(self.heating_air);
        let (blown, short) = self
            .fan
            .move_air(&drawn, self.resistance, 0.0, room.pressure)?;
        let heated = self.heater.heat(&blown.outlet, charge.set_point)?;
        let mut shortfalls: Vec<Shortfall> = short.into_iter().collect();
        shortfalls.extend(Shortfall::of_heater(
            "heater of the heating air",
            &heated,
            charge.set_point,
        ));
        let wanted = charge.set_point.min(heated.outlet.temperature) - self.lacking;
        let feed = &charge.feed;
        let mut state = column.filled(feed.temperature, feed.moisture, feed.free_water);
        let held = column.held(&state);
        books.resin(format!("resin to {}", charge.name), true, held[1], held[2]);
        let drive = at_rest(&heated.outlet, charge, room);
        let (mut time, mut out, mut wall) = (0.0, [0.0; 3], 0.0);
        while column.coldest(&state) < wanted && time < LONGEST_HEATING {
            let passed = column
                .step(&mut state, &drive, f64::INFINITY)
                .map_err(|cause| LineError::Hopper {
                    station: charge.name.clone(),
                    cause,
                })?;
            time += passed.duration;
            out[0] += passed.air;
            out[1] += passed.air_water_out;
            out[2] += passed.air_heat_out;
            wall += passed.wall_heat;
        }
        let coldest = column.coldest(&state);
        if coldest < wanted {
            shortfalls.push(Shortfall {
                component: "heating of the charge".to_owned(),
                what: "temperature of the coldest pellets",
                asked: celsius(wanted),
                given: celsius(coldest),
                unit: "degC",
            });
        }
        books.stream("air of the hall", true, &drawn, time);
        books.electricity(self.fan.name, blown.electric * time);
        books.wall("motor of the heating blower", blown.heat_to_hall * time);
        books.electricity("heater of the heating air", heated.power * time);
        books.air("heating air let out", false, out);
        books.wall("wall of the heating vessel", wall);
        Ok(Heated {
            pellets: column.emptied(state),
            time,
            shortfalls,
        })
    }
}
