//! The way between dryer and hopper, there and back: hoses that lose heat and pressure, where the heater
//! stands, and what leaks.
//!
//! # Equations
//! 1. There: dryer -> heater, if it stands there -> hose -> leak outward -> heater, if it stands here -> bed.
//! 2. Back: bed -> leak at hopper, lid and loader -> hose -> dryer.
//! 3. A heater at the dryer gives its set point to the air that leaves it, or as much more as lets the air
//!    come to the hopper with it, by where its sensor is.
//! 4. An opening sees the pressure that is left to be lost: on the way there that of hopper and way back
//!    above the hall's, on the way back that of the hose below it.
//! 5. Pulses: at rest their mean over time; in a run the share of each step in which they are open.
//!
//! # Symbols
//! as in the parts.
//!
//! # Holds for
//! Hoses and duct without a store of heat of their own; the dryer draws at the pressure of the hall. What
//! leaks out is made up by the dryer from the hall on its suction side; what leaks in is lost there again.
//!
//! # Sources
//! Balances alone; [`dryer::duct`] and [`dryer::leak`] name theirs.
//!
//! # Checked by
//! `crates/line/src/tests/way.rs`: ledgers, limits, and closed forms.

use crate::{Account, Carrier, LineError, Room};
use dryer::Stream;
use dryer::duct::{Carried, Duct};
use dryer::heater::{Heated, Heater};
use dryer::leak::{Around, Leak};

/// Where the heater of a hopper stands, and its sensor.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum HeaterPlace {
    /// At the hopper.
    #[default]
    Hopper,
    /// At the dryer with its sensor behind it: the hopper gets what the hose leaves.
    Dryer,
    /// At the dryer with its sensor at the hopper.
    DryerByHopper,
}

/// What lies between a dryer and a hopper; by default nothing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Way {
    /// Hose to the hopper.
    pub there: Option<Duct>,
    /// Hose from it.
    pub back: Option<Duct>,
    /// Where its heater stands.
    pub heater: HeaterPlace,
    /// Process air that leaks out before the hopper.
    pub leak_there: Option<Leak>,
    /// Air that leaks at hopper, lid or loader.
    pub leak_back: Option<Leak>,
}

/// When leaks are asked.
#[derive(Clone, Copy, Debug)]
pub(crate) enum When {
    /// In the mean.
    Mean,
    /// From a time (s) on for so long (s).
    During(f64, f64),
}

/// Air that has come to a hopper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sent {
    /// Air at the inlet of the hopper.
    pub inlet: Stream,
    /// What the heater did.
    pub heated: Heated,
    /// The hose.
    pub carried: Option<Carried>,
    /// Air that leaked: in, and out.
    pub leaked: [Stream; 2],
}

/// Air that has come back from a hopper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Back {
    /// Air as it comes to the dryer.
    pub returned: Stream,
    /// The hose.
    pub carried: Option<Carried>,
    /// Air that leaked: in, and out.
    pub leaked: [Stream; 2],
}

/// Rounds and change, K, of the air that a heater at the dryer must give.
const ROUNDS: (usize, f64) = (60, 1e-10);

impl Way {
    /// Air sent to a hopper whose set point is given; `gauge` Pa are left to be lost at its inlet.
    pub(crate) fn send(
        &self,
        air: &Stream,
        heater: (&Heater, f64),
        gauge: f64,
        room: &Room,
        when: When,
    ) -> Result<Sent, LineError> {
        let (heater, set_point) = heater;
        let carry = |air: &Stream| carry(self.there.as_ref(), air, room);
        let nothing = [air.of(0.0); 2];
        if self.heater == HeaterPlace::Hopper {
            let (air, carried) = carry(air)?;
            let (air, leaked) = pass(self.leak_there.as_ref(), &air, gauge, room, when)?;
            let heated = heater.heat(&air, set_point)?;
            return Ok(Sent {
                inlet: heated.outlet,
                heated,
                carried,
                leaked: leaked.unwrap_or(nothing),
            });
        }
        let mut wanted = set_point;
        let mut heated = heater.heat(air, wanted)?;
        let (mut out, mut carried) = carry(&heated.outlet)?;
        if self.heater == HeaterPlace::DryerByHopper {
            for _ in 0..ROUNDS.0 {
                let missing = set_point - out.temperature;
                let limited = heated.short_by > 0.0 && missing > 0.0;
                if missing.abs() < ROUNDS.1 || limited {
                    break;
                }
                wanted += missing;
                heated = heater.heat(air, wanted)?;
                (out, carried) = carry(&heated.outlet)?;
            }
        }
        let (inlet, leaked) = pass(self.leak_there.as_ref(), &out, gauge, room, when)?;
        Ok(Sent {
            inlet,
            heated,
            carried,
            leaked: leaked.unwrap_or(nothing),
        })
    }

    /// Air that leaves a hopper, as it comes to the dryer.
    pub(crate) fn back(&self, air: &Stream, room: &Room, when: When) -> Result<Back, LineError> {
        let gauge = match self.back {
            Some(hose) => -hose.carry(air, room.pressure, room.temperature)?.drop,
            None => 0.0,
        };
        let (air, leaked) = pass(self.leak_back.as_ref(), air, gauge, room, when)?;
        let (returned, carried) = carry(self.back.as_ref(), &air, room)?;
        Ok(Back {
            returned,
            carried,
            leaked: leaked.unwrap_or([air.of(0.0); 2]),
        })
    }

    /// Pressure, Pa, that the hoses take of so much air (kg/s), there and back, at temperatures (K).
    pub(crate) fn drop(&self, air: &Stream, back: f64, room: &Room) -> Result<[f64; 2], LineError> {
        let of = |hose: &Option<Duct>, air: &Stream| match hose {
            Some(hose) => Ok(hose.carry(air, room.pressure, room.temperature)?.drop),
            None => Ok::<_, LineError>(0.0),
        };
        Ok([of(&self.there, air)?, of(&self.back, &air.at(back))?])
    }
}

impl Sent {
    /// What of it crosses the border.
    pub(crate) fn account(&self, name: &str, account: &mut Account) {
        account.electricity(format!("heater of {name}"), self.heated.power);
        let hose = format!("hose to {name}");
        crossings(account, &hose, self.carried.as_ref(), &self.leaked);
    }
}

impl Back {
    /// What of it crosses the border.
    pub(crate) fn account(&self, name: &str, account: &mut Account) {
        let hose = format!("hose from {name}");
        crossings(account, &hose, self.carried.as_ref(), &self.leaked);
    }
}

fn crossings(account: &mut Account, hose: &str, carried: Option<&Carried>, leaked: &[Stream; 2]) {
    if let Some(carried) = carried {
        account.heat_out(hose, Carrier::Wall, carried.loss);
    }
    account.air_in(format!("hall air into the {hose}"), &leaked[0]);
    account.air_out(format!("air out of the {hose}"), &leaked[1]);
}

fn carry(
    hose: Option<&Duct>,
    air: &Stream,
    room: &Room,
) -> Result<(Stream, Option<Carried>), LineError> {
    let carried = match hose {
        Some(hose) => Some(hose.carry(air, room.pressure, room.temperature)?),
        None => None,
    };
    Ok((carried.map_or(*air, |carried| carried.outlet), carried))
}

fn pass(
    leak: Option<&Leak>,
    air: &Stream,
    gauge: f64,
    room: &Room,
    when: When,
) -> Result<(Stream, Option<[Stream; 2]>), LineError> {
    let Some(leak) = leak else {
        return Ok((*air, None));
    };
    let around = Around {
        room: room.air(0.0),
        pressure: room.pressure,
        gauge,
    };
    let leaked = match when {
        When::Mean => leak.pass(air, &around, None)?,
        When::During(from, duration) => leak.pass_during(air, &around, from, duration)?,
    };
    Ok((leaked.after, Some([leaked.inward, leaked.outward])))
}
