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
use crate::{LineError, Room};
use dryer::{Resistance, Stream};

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
    pub fn make(
        &self,
        returned: &Stream,
        beyond: Resistance,
        room: &Room,
    ) -> Result<Made, LineError> {
        let mut made = Made::of(*returned);
        let wanted = returned.dry_air;
        let fresh = room.air((1.0 - self.recirculated) * wanted);
        let again = returned.of(self.recirculated * wanted);
        made.account.air_in("air of the hall", &fresh);
        made.account
            .air_out("return air let out", &returned.of(fresh.dry_air));
        let drawn = if again.dry_air > 0.0 {
            fresh.joined(again)
        } else {
            fresh
        };
        let against = self.resistance.then(beyond);
        let (blown, short) = self.fan.move_air(&drawn, against, 0.0, room.pressure)?;
        made.state("return of the hoppers", *returned);
        made.state("drawn by the blower", drawn);
        made.blown(self.fan.name, &blown, short);
        made.state("after the blower", blown.outlet);
        made.delivered = blown.outlet;
        Ok(made)
    }
}
