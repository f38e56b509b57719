//! Plain hot air: the air of the hall filtered, blown and heated; once through, or with a share of
//! the return.
//!
//! # Equations
//! `m = (1 - r) m_hall + r m_return`; the rest of the return goes to the hall. The water it brings is
//! that of the day: no component takes any out.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! r | `recirculated` |
//!
//! # Holds for
//! Any day; the heaters stand before the hoppers, see [`crate::Station`]. Hot air never becomes drier than
//! the hall: at 10 g/kg its dew point stays at 14 degC whatever it is heated to.
//!
//! # Sources
//! Balances alone.
//!
//! # Checked by
//! `crates/line/src/tests.rs`: ledgers, and a closed form for the humidity that settles.

use crate::fan::Fan;
use crate::maker::Made;
use crate::{Given, LineError};
use dryer::Resistance;

/// A hot-air dryer.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenAir {
    /// Share of the return that is used again.
    pub recirculated: f64,
    /// Resistance of filter and hoses before the hoppers.
    pub resistance: Resistance,
    /// The blower.
    pub fan: Fan,
}

impl OpenAir {
    /// What it makes of the air that comes back.
    ///
    /// # Errors
    /// From the blower.
    pub fn make(&self, given: &Given) -> Result<Made, LineError> {
        let (returned, room) = (given.returned, given.room);
        let mut made = Made::of(*returned);
        let again = (self.recirculated * given.delivered).min(returned.dry_air);
        let fresh = room.air(given.delivered - again);
        let again = returned.of(again);
        made.account.air_in("air of the hall", &fresh);
        made.account.air_out(
            "return air let out",
            &returned.of(returned.dry_air - again.dry_air),
        );
        let drawn = if again.dry_air > 0.0 {
            fresh.joined(again)
        } else {
            fresh
        };
        let law = self.resistance.seen(&drawn, room.pressure);
        let law = law.then(given.beyond);
        let system = |flow: f64| law.drop(flow, 1.0, 1.0);
        let wanted = drawn.dry_air / given.shares.process;
        let moved = self.fan.move_air(&drawn, wanted, system, room.pressure)?;
        made.moved.process = moved.flow / wanted;
        made.state("return of the hoppers", *returned);
        made.state("drawn by the blower", drawn);
        let blown = made.blown(self.fan.name, moved);
        made.state("after the blower", blown);
        made.delivered = blown;
        Ok(made)
    }
}
