//! The process side of a dryer with a desiccant: return air joined by what leaks in, cooled, and blown
//! at the desiccant.
//!
//! # Equations
//! Return + leak of hall air (+ what comes back from inside) -> filter -> cooler and blower, in the order
//! stated. What is missing of the air to be sent is drawn from the hall with the leak. The blower works against filter, cooler, hoses and hoppers, and the desiccant besides.
//!
//! # Symbols
//! as in the parts.
//!
//! # Holds for
//! Air without a store of its own. Ducts in the dryer lose nothing.
//!
//! # Sources
//! Balances alone; the parts name theirs.
//!
//! # Checked by
//! `crates/line/src/tests.rs`: ledgers over the border of both dryers that have it.

use crate::fan::Fan;
use crate::maker::Made;
use crate::{Carrier, Given, LineError, Room};
use dryer::cooler::{Coolant, Cooler};
use dryer::{Resistance, Stream};

/// What the return air passes before it comes to the desiccant.
#[derive(Clone, Debug)]
pub struct ProcessSide {
    /// Resistance of filter, cooler and hoses.
    pub resistance: Resistance,
    /// The cooler of the return air, and what cools it.
    pub cooler: Option<(Cooler, CooledBy)>,
    /// Whether the blower stands before the cooler.
    pub blower_first: bool,
    /// The blower of the process air.
    pub fan: Fan,
    /// Hall air that leaks in on the suction side, kg/s of dry air.
    pub leak: f64,
}

/// What takes the heat of the return air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CooledBy {
    /// Cooling water: kg/s, and its temperature, K.
    Water(f64, f64),
    /// Air of the hall, kg/s, and the power of its fan, W.
    HallAir(f64, f64),
}

/// Air that comes to the process side besides that of the hoppers.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Joins {
    /// Air that goes another way than to the hoppers, kg/s.
    pub(crate) aside: f64,
    /// Air lost through seals, kg/s.
    pub(crate) lost: f64,
    /// What comes back from inside.
    pub(crate) again: Option<Stream>,
}

impl ProcessSide {
    /// The air as it comes to the desiccant, which costs `desiccant` Pa for so many times the air drawn.
    ///
    /// # Errors
    /// From the components.
    pub(crate) fn pass(
        &self,
        given: &Given,
        joins: &Joins,
        desiccant: impl Fn(&Stream, f64) -> f64,
        made: &mut Made,
    ) -> Result<Stream, LineError> {
        let (returned, room) = (*given.returned, given.room);
        let share = given.shares.process;
        made.state("return of the hoppers", returned);
        let again = joins.again.map_or(0.0, |air| air.dry_air);
        let missing = given.delivered + joins.aside - returned.dry_air - again;
        let leak = room.air(self.leak * share + joins.lost + missing.max(0.0));
        made.account.air_in("hall air leaking in", &leak);
        let mut air = returned.joined(leak);
        if let Some(again) = joins.again {
            air = air.joined(again);
        }
        made.state("before the cooler", air);
        let drawn = air;
        if !self.blower_first {
            air = self.cool(air, room, made)?;
        }
        let own = self.resistance.seen(&air, room.pressure);
        let system = |flow: f64| {
            let times = flow / air.dry_air;
            own.drop(flow, 1.0, 1.0)
                + given.beyond.drop(times * given.delivered, 1.0, 1.0)
                + desiccant(&drawn, times)
        };
        let wanted = air.dry_air / share;
        let moved = self.fan.move_air(&air, wanted, system, room.pressure)?;
        made.moved.process = moved.flow / wanted;
        air = made.blown(self.fan.name, moved);
        if self.blower_first {
            air = self.cool(air, room, made)?;
        }
        made.state("at the desiccant", air);
        Ok(air)
    }

    /// The return air cooled, and where its heat and its water went.
    fn cool(&self, air: Stream, room: &Room, made: &mut Made) -> Result<Stream, LineError> {
        let Some((cooler, by)) = &self.cooler else {
            return Ok(air);
        };
        let (coolant, carrier) = match *by {
            CooledBy::Water(flow, temperature) => {
                (Coolant::water(flow, temperature), Carrier::Coolant)
            }
            CooledBy::HallAir(flow, power) => {
                made.account.electricity("fan of the cooler", power);
                made.account
                    .heat_out("fan of the cooler", Carrier::Wall, power);
                (Coolant::air(&room.air(flow)), Carrier::Wall)
            }
        };
        let cooled = cooler.cool(&air, &coolant, room.pressure)?;
        made.account
            .heat_out("cooler of the return air", carrier, cooled.heat);
        made.account
            .condensate("drain of the cooler", cooled.drain, cooled.drain_heat);
        made.state("after the cooler", cooled.outlet);
        Ok(cooled.outlet)
    }
}
