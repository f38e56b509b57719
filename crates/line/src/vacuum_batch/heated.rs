//! The charge while hot air passes it.

use super::books::Books;
use super::{Charge, LONGEST_HEATING, VacuumMachine, at_rest, celsius};
use crate::fan::Moved;
use crate::{LineError, Room, Shortfall};
use bed::column::Column;
use dryer::Stream;
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
    /// The heating air, or as much of it as the blower moves.
    fn blow(&self, room: &Room) -> Result<(Stream, Moved), LineError> {
        let wanted = room.air(self.heating_air);
        let law = self.resistance.seen(&wanted, room.pressure);
        let system = |flow: f64| law.drop(flow, 1.0, 1.0);
        let moves = |air: &Stream| {
            self.fan
                .move_air(air, wanted.dry_air, system, room.pressure)
        };
        let drawn = wanted.of(moves(&wanted)?.flow);
        Ok((drawn, moves(&drawn)?))
    }

    /// Heats a charge till its coldest pellets are hot.
    pub(super) fn heat(
        &self,
        charge: &Charge,
        column: &Column,
        room: &Room,
        books: &mut Books,
    ) -> Result<Heated, LineError> {
        let (drawn, Moved { blown, short, .. }) = self.blow(room)?;
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
