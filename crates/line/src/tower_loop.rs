//! Twin desiccant towers in their loop: return air filtered, cooled, blown through the tower that dries,
//! and sent back; hall air through the other, heated to take the water away and cold to cool it.
//!
//! # Equations
//! 1. Process: [`ProcessSide`] -> tower -> supply. As much air as leaks in is lost again with the supply.
//! 2. The other tower: hall air -> blower -> heater -> tower -> out, while it is regenerated; the same with
//!    the heater off while it is cooled; none while it waits. What blower and heater draw counts for the
//!    share of the time in which they run.
//! 3. One function, [`TowerLoop::around`], follows the air; steady and in time differ only in what is
//!    asked of the towers: means over the cycle that repeats, or what they do in a step.
//!
//! # Symbols
//! as in the parts.
//!
//! # Holds for
//! Air without a store of its own; the towers with their steel are all that remembers. At rest means the
//! mean over a cycle, in which return air is taken as even. Cooling air is that of the hall: cooling by
//! process air, which the towers themselves can have, would come back warm and is left out here.
//!
//! # Sources
//! Balances alone; the parts name theirs.
//!
//! # Checked by
//! `crates/line/src/tests/towers.rs`: ledgers over the border, at rest and in time.

use crate::fan::Fan;
use crate::maker::Made;
use crate::process_side::{Joins, ProcessSide};
use crate::{Carrier, Given, LineError, Ripple, Shortfall};
use dryer::heater::Heater;
use dryer::towers::{Towers, TowersDrive};
use dryer::{Resistance, Stream};

/// The air for the tower that does not dry.
#[derive(Clone, Debug)]
pub struct OffLine {
    /// Dry air while it flows, kg/s.
    pub air_flow: f64,
    /// Temperature wanted in regeneration, K.
    pub set_point: f64,
    /// Its heater.
    pub heater: Heater,
    /// Its blower.
    pub fan: Fan,
    /// Resistance of its filter and hoses.
    pub resistance: Resistance,
}

/// A dryer with twin towers.
#[derive(Clone, Debug)]
pub struct TowerLoop {
    /// The towers.
    pub towers: Towers,
    /// What the return air passes before the towers.
    pub process: ProcessSide,
    /// Regeneration and cooling.
    pub off_line: OffLine,
}

/// What towers did, as means over a cycle or a step.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Dried {
    /// Dried air.
    pub(crate) dry: Stream,
    /// Air leaving regeneration, and cooling.
    pub(crate) out: [Stream; 2],
    /// Shares of the time of regeneration and of cooling.
    pub(crate) running: (f64, f64),
    /// How the dried air goes up and down.
    pub(crate) ripple: Option<Ripple>,
}

/// Towers that remember, asked as the air comes to them.
pub(crate) trait Dries {
    /// What they make of their airs.
    fn dry(&mut self, towers: &Towers, drive: &TowersDrive) -> Result<Dried, LineError>;
}

impl TowerLoop {
    /// Follows the air once round.
    ///
    /// # Errors
    /// From the components.
    pub(crate) fn around(&self, given: &Given, dries: &mut impl Dries) -> Result<Made, LineError> {
        let room = given.room;
        let mut made = Made::of(*given.returned);
        let joins = Joins {
            aside: 0.0,
            lost: 0.0,
            again: None,
        };
        let through =
            |air: &Stream, times: f64| self.towers.pressure_drop(&air.of(times * air.dry_air));
        let process = self.process.pass(given, &joins, through, &mut made)?;
        let off_line = &self.off_line;
        let fresh = room.air(off_line.air_flow * given.shares.regeneration);
        let own = off_line.resistance.seen(&fresh, room.pressure);
        let warm = fresh.at(0.5 * (fresh.temperature + off_line.set_point));
        let system =
            |flow: f64| own.drop(flow, 1.0, 1.0) + self.towers.pressure_drop(&warm.of(flow));
        let wanted = off_line.air_flow;
        let moved = off_line
            .fan
            .move_air(&fresh, wanted, system, room.pressure)?;
        made.moved.regeneration = moved.flow / wanted;
        let (blown, short) = (moved.blown, moved.short);
        let heated = off_line.heater.heat(&blown.outlet, off_line.set_point)?;
        let drive = TowersDrive {
            process,
            regeneration: heated.outlet,
            cooling: blown.outlet,
        };
        let dried = dries.dry(&self.towers, &drive)?;
        made.ripple = dried.ripple;
        let (hot, cold) = dried.running;
        let account = &mut made.account;
        account.air_in(
            "regeneration and cooling air from the hall",
            &fresh.of(fresh.dry_air * (hot + cold)),
        );
        let name = off_line.fan.name;
        account.electricity(name, blown.electric * (hot + cold));
        let lost = blown.heat_to_hall * (hot + cold);
        account.heat_out(format!("motor of the {name}"), Carrier::Wall, lost);
        account.electricity("regeneration heater", heated.power * hot);
        account.air_out("exhaust of the regeneration", &dried.out[0]);
        account.air_out("cooling air", &dried.out[1]);
        account.air_out(
            "dry air lost on the way",
            &dried.dry.of(dried.dry.dry_air - given.delivered),
        );
        if hot + cold > 0.0 {
            made.shortfalls.extend(short);
        }
        if hot > 0.0 {
            made.shortfalls.extend(Shortfall::of_heater(
                "regeneration heater",
                &heated,
                off_line.set_point,
            ));
        }
        made.state(
            "regeneration air at the tower",
            heated.outlet.of(fresh.dry_air * hot),
        );
        made.state("supply from the towers", dried.dry);
        made.state("from the tower in regeneration", dried.out[0]);
        made.state("from the tower in cooling", dried.out[1]);
        made.delivered = dried.dry.of(given.delivered);
        Ok(made)
    }
}
