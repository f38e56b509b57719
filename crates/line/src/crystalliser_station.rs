//! A crystalliser ahead of a hopper: what it takes out of the resin, and how hot and dry that then comes.
//!
//! # Equations
//! 1. The resin is at the temperature of the crystalliser at once ([`dryer::crystalliser`]); a pellet that stays a
//!    time t gives off what [`pellet::contact`] says in air of that temperature, and what leaves is its mean
//!    over the residence of equal stirred stages.
//! 2. The air is stirred as the resin is: `Y = Y_in + rate (X_0 - X)/G`, one equation with one root.
//! 3. Heat to the resin `H_1 - H_0 + (X_0 - X) h_v(T)`; power as in [`dryer::crystalliser`].
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! G | `Heating`'s air | kg/s
//! X_0, X | `Feed`, `Crystalline::feed` | kg/kg
//!
//! # Holds for
//! The laws of the resin as it comes: that water leaves crystalline resin more slowly is in its record or not
//! at all. No heat is lost on the way to the hopper. Whether the pellets no longer stick is for the
//! resin maker and a trial to say, never for a residence alone.
//!
//! # Sources
//! Balances; the parts name theirs.
//!
//! # Checked by
//! `crates/line/src/tests/crystalliser.rs`: a closed form of one stirred stage, ledgers.

use crate::{Account, Carrier, Feed, LineError, Room};
use bed::BedError;
use dryer::crystalliser::{Crystallised, Crystalliser, Feed as Fed};
use numeric::root;
use pellet::blend::Blend;
use pellet::contact::AirIn;

/// What is to be crystallised.
#[derive(Clone, Copy, Debug)]
pub struct Amorphous<'a> {
    /// Its pellets.
    pub blend: Blend<'a>,
    /// As it comes.
    pub feed: Feed,
    /// Heat given off when all that can crystallise does, J/kg.
    pub heat: f64,
}

/// What leaves, and what it took.
#[derive(Clone, Debug)]
pub struct Crystalline {
    /// The lead as it enters the hopper: hot, and with its water all inside.
    pub feed: Feed,
    /// Water of the kinds beside it, kg/kg dry.
    pub beside: Vec<f64>,
    /// Mean water over all kinds before and after, kg/kg dry.
    pub water: (f64, f64),
    /// What the crystalliser did.
    pub crystallised: Crystallised,
    /// What crosses the border.
    pub account: Account,
}

/// Times at which a pellet is looked at, in mean residences: the first, and the factor from one to the next.
const FIRST: f64 = 0.01;
const FACTOR: f64 = 1.2;
/// Longest of them; e^-12 of one stage stays longer.
const LAST: f64 = 12.0;

/// Water of each kind at times of a stay.
struct Stay {
    times: Vec<f64>,
    kinds: Vec<Vec<f64>>,
}

impl Stay {
    /// Water of a kind after a time, between the times looked at.
    fn at(&self, kind: usize, time: f64) -> f64 {
        let values = &self.kinds[kind];
        let after = self.times.partition_point(|t| *t < time);
        let (Some(from), Some(to)) = (after.checked_sub(1), self.times.get(after)) else {
            return values[after.min(values.len() - 1)];
        };
        let share = (time - self.times[from]) / (to - self.times[from]);
        values[from] + share * (values[after] - values[from])
    }
}

/// Puts resin through a crystalliser.
///
/// # Errors
/// [`LineError::NoAir`] for one without air; from pellets and crystalliser.
pub fn crystallise(
    name: &str,
    crystalliser: &Crystalliser,
    resin: &Amorphous<'_>,
    room: &Room,
) -> Result<Crystalline, LineError> {
    let air = crystalliser.air();
    if !(air.dry_air > 0.0) {
        return Err(LineError::NoAir {
            station: name.to_owned(),
            air_flow: air.dry_air,
        });
    }
    let (feed, blend) = (&resin.feed, resin.blend);
    let fresh = blend.parcel(feed.temperature, feed.moisture, feed.free_water);
    let before = blend.water(&fresh);
    let shares: Vec<f64> = blend.kinds().map(|(share, _)| share).collect();
    let left = |humidity: f64| -> Result<Vec<f64>, LineError> {
        let stay = stay(name, crystalliser, resin, humidity)?;
        let kinds = 0..shares.len();
        Ok(kinds
            .map(|kind| crystalliser.mean_over_residence(|time| stay.at(kind, time)))
            .collect())
    };
    let mean = |kinds: &[f64]| -> f64 { shares.iter().zip(kinds).map(|(s, x)| s * x).sum() };
    let carried = feed.rate / air.dry_air;
    // The wetter the air the less leaves, so that the root is one.
    let mut failed = None;
    let miss = |humidity: f64| match left(humidity) {
        Ok(kinds) => humidity - room.humidity - carried * (before - mean(&kinds)),
        Err(cause) => {
            failed.get_or_insert(cause);
            f64::NAN
        }
    };
    let most = room.humidity + carried * before + 1e-9;
    let found = root::bracketed(0.0, most, 1e-7, miss);
    if let Some(cause) = failed {
        return Err(cause);
    }
    let kinds = left(found?)?;
    balanced(
        name,
        crystalliser,
        resin,
        &kinds,
        (before, mean(&kinds)),
        room,
    )
}

/// A pellet followed through a stay in air of a humidity.
fn stay(
    name: &str,
    crystalliser: &Crystalliser,
    resin: &Amorphous<'_>,
    humidity: f64,
) -> Result<Stay, LineError> {
    let (blend, feed) = (resin.blend, &resin.feed);
    let hot = crystalliser.air().temperature;
    let mut pellets = blend.parcel(hot, feed.moisture, feed.free_water);
    let mut work = blend.work();
    let air = AirIn::endless(hot, humidity);
    let count = blend.kinds().count();
    let mut stay = Stay {
        times: vec![0.0],
        kinds: vec![Vec::new(); count],
    };
    let look = |stay: &mut Stay, pellets: &pellet::blend::Mixed| {
        for (kind, values) in stay.kinds.iter_mut().enumerate() {
            values.push(
                pellets
                    .of_kind(kind)
                    .map_or(0.0, pellet::contact::Parcel::water),
            );
        }
    };
    look(&mut stay, &pellets);
    let residence = crystalliser.residence();
    let mut time = 0.0;
    let mut next = FIRST * residence;
    while time < LAST * residence {
        blend
            .meet(&mut pellets, &air, next - time, &mut work)
            .map_err(|cause| LineError::Hopper {
                station: name.to_owned(),
                cause: BedError::from(cause),
            })?;
        time = next;
        next *= FACTOR;
        stay.times.push(time);
        look(&mut stay, &pellets);
    }
    Ok(stay)
}

/// What leaves, with the heat it took and the books.
fn balanced(
    name: &str,
    crystalliser: &Crystalliser,
    resin: &Amorphous<'_>,
    kinds: &[f64],
    (before, after): (f64, f64),
    room: &Room,
) -> Result<Crystalline, LineError> {
    let (blend, feed) = (resin.blend, &resin.feed);
    let hot = crystalliser.air().temperature;
    let enthalpy = |t: f64, water: &dyn Fn(usize) -> (f64, f64)| -> f64 {
        let all = blend.kinds().enumerate();
        all.map(|(kind, (share, contact))| {
            let (sorbed, free) = water(kind);
            share * contact.enthalpy_at(t, sorbed, free)
        })
        .sum()
    };
    let fed = |kind: usize| match kind.checked_sub(1) {
        None => (feed.moisture, feed.free_water),
        Some(index) => {
            let beside = &blend.beside[index];
            (beside.moisture, beside.free_water)
        }
    };
    let dry = |_: usize| (0.0, 0.0);
    let come = enthalpy(feed.temperature, &fed);
    let gone = enthalpy(hot, &|kind| (kinds[kind], 0.0));
    let rise = hot - feed.temperature;
    let warmed = enthalpy(hot, &dry) - enthalpy(feed.temperature, &dry);
    let vapour = (before - after) * blend.lead.calorics.vapour_enthalpy(hot);
    let crystallised = crystalliser.run(&Fed {
        rate: feed.rate,
        temperature: feed.temperature,
        heat_capacity: warmed / rise,
        heat: resin.heat,
        evaporation: (gone - come + vapour - warmed).max(0.0),
    })?;
    let mut account = Account::default();
    account.resin(
        format!("resin to {name}"),
        true,
        feed.rate * before,
        feed.rate * come,
    );
    account.electricity(name, crystallised.power);
    let air = crystalliser.air();
    let drawn = room.air(air.dry_air);
    account.air_in(format!("air to {name}"), &drawn);
    let water = feed.rate * (before - after);
    account.crossings.push(crate::Crossing {
        name: format!("air from {name}"),
        carrier: Carrier::Air,
        inward: false,
        dry_air: air.dry_air,
        water: drawn.water() + water,
        heat: drawn.heat() + feed.rate * vapour,
    });
    account.resin(
        format!("resin from {name}"),
        false,
        feed.rate * after,
        feed.rate * gone,
    );
    // What crystallising gives off is heat that the heater spares.
    let kept = crystallised.power - feed.rate * (gone - come + vapour);
    account.heat_out(format!("losses of {name}"), Carrier::Wall, kept);
    Ok(Crystalline {
        feed: Feed {
            temperature: hot,
            moisture: kinds[0],
            free_water: 0.0,
            ..*feed
        },
        beside: kinds[1..].to_vec(),
        water: (before, after),
        crystallised,
        account,
    })
}
