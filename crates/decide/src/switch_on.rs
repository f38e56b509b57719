//! When to switch on, and in what order, to be dry in time: several dryers under a limit of their power together.
//!
//! # Equations
//! 1. Each dryer is followed from cold, see `cold_start`.
//! 2. Each is switched on as late as the limit permits, see `order`.
//! 3. Where no order keeps the limit, the least that one was found to keep is told, and what no order can mend:
//!    one that passes it alone, or all at work.
//!
//! # Symbols
//! as in the parts.
//!
//! # Holds for
//! Dryers that share nothing but the limit. Power is the mean of each minute; what a motor or a heater draws for
//! moments as it is switched is not in it.
//!
//! # Sources
//! As the parts.
//!
//! # Checked by
//! `crates/decide/src/switch_on/tests.rs`, `crates/drybed/tests/switch_on.rs`

mod cold_start;
mod order;
#[cfg(test)]
mod tests;

pub use order::{ALL_TRIED, LONGEST_WAIT, Tried};

use crate::DecideError;
use cold_start::{ColdStart, cold_start};
use job::{ControlSettings, Job};
use line::equipment::Equipment;
use order::{Hall, Load, Placed};
use quantity::{Duration, Power};
use rayon::prelude::*;
use serde::Serialize;

/// A dryer that has to be ready.
pub struct Starter<'a> {
    /// What people call it.
    pub name: &'a str,
    /// What it dries.
    pub job: &'a Job,
    /// What makes it, for the air flow (kg/s of dry air) and the set point (K) of the job.
    pub dryer: &'a (dyn Fn(f64, f64) -> Equipment + Sync),
    /// How it is run.
    pub settings: &'a ControlSettings,
    /// When the first dry pellet is wanted, from a moment that is the same for all.
    pub wanted: Duration,
}

/// What is asked.
pub struct Question<'a> {
    /// The dryers.
    pub dryers: Vec<Starter<'a>>,
    /// What all together may take, where there is a limit.
    pub limit: Option<Power>,
    /// What else is on all the time and counts.
    pub base: Power,
}

/// When to switch on.
#[derive(Clone, Debug, Serialize)]
pub struct SwitchOn {
    /// Each dryer, in the order of switching on.
    pub dryers: Vec<Started>,
    /// What all together may take, kW.
    pub limit_kw: Option<f64>,
    /// What else is on, kW.
    pub base_kw: f64,
    /// How the orders were tried.
    pub tried: Tried,
    /// Why the limit is not kept; none where it is, or where there is none.
    pub missed: Option<Missed>,
    /// Highest power of all as they are switched on here, kW.
    pub peak_kw: f64,
    /// When that is, hours.
    pub peak_at_h: f64,
    /// Highest power if each were switched on as late as it alone can, kW.
    pub peak_unordered_kw: f64,
    /// All at work, kW.
    pub at_work_kw: f64,
    /// Energy until the last is wanted, without what else is on, kWh.
    pub energy_kwh: f64,
    /// Energy of it that goes into waiting, kWh.
    pub waiting_kwh: f64,
    /// Power minute by minute from the first that is switched on.
    pub power: Vec<Minute>,
    /// The same if each were switched on as late as it alone can.
    pub unordered: Vec<Minute>,
}

/// One dryer.
#[derive(Clone, Debug, Serialize)]
pub struct Started {
    /// What people call it.
    pub name: String,
    /// Where it stands among those that were asked about, from 0.
    pub asked: usize,
    /// What it dries.
    pub resin: String,
    /// Set point, degC.
    pub set_point_c: f64,
    /// When it is switched on, when it is ready, and when it is wanted, hours.
    pub on_h: f64,
    /// When it is ready.
    pub ready_h: f64,
    /// When it is wanted.
    pub wanted_h: f64,
    /// From switching on to the first dry pellet, h.
    pub to_ready_h: f64,
    /// How long of that the air is at its set point, h.
    pub hold_h: f64,
    /// How long it is hot and waits, h.
    pub waiting_h: f64,
    /// Longest that resin is hot then: hold, wait and a planned stay, h.
    pub hot_h: f64,
    /// What the resin bears at the set point, h.
    pub bears_h: f64,
    /// What lies at the outlet when it is ready, and its limit, ppm wet.
    pub outlet_ppm_wet: f64,
    /// The limit of the resin, ppm wet.
    pub limit_ppm_wet: f64,
    /// Energy until it is wanted, kWh.
    pub energy_kwh: f64,
    /// Energy of it that goes into waiting, kWh.
    pub waiting_kwh: f64,
    /// Highest power until then, kW.
    pub peak_kw: f64,
    /// Mean power while it waits hot, kW.
    pub waiting_kw: f64,
    /// Power at work, kW.
    pub working_kw: f64,
}

impl Started {
    /// Whether what lies at the outlet when it is ready is above the limit.
    pub fn is_wet(&self) -> bool {
        self.outlet_ppm_wet > self.limit_ppm_wet
    }

    /// Whether resin would be hot for longer than it bears.
    pub fn is_hot_too_long(&self) -> bool {
        self.hot_h > self.bears_h
    }
}

/// Power in a minute.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Minute {
    /// When it begins, hours.
    pub hour: f64,
    /// All, with what else is on, kW.
    pub all_kw: f64,
    /// Each dryer in the order of the answer, kW.
    pub each_kw: Vec<f64>,
}

/// A limit that is not kept.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Missed {
    /// By how much it is missed at least, kW.
    pub by_kw: f64,
    /// The least limit that was found to be kept, with the order told, kW.
    pub least_kw: f64,
    /// Dryers that pass the limit alone beside what else is on, with that power, kW.
    pub alone: Vec<(String, f64)>,
    /// Power of all at work where that passes it, kW.
    pub at_work_kw: Option<f64>,
}

/// Finds when to switch on.
///
/// # Errors
/// When there is no dryer, a job cannot be planned, a dryer cannot be, or one never comes to its set point.
pub fn switch_on(question: &Question) -> Result<SwitchOn, DecideError> {
    if question.dryers.is_empty() {
        return Err(DecideError::NoDryer);
    }
    let found: Vec<ColdStart> = question
        .dryers
        .par_iter()
        .map(cold_start)
        .collect::<Result<_, _>>()?;
    let names: Vec<(&str, f64)> = question
        .dryers
        .iter()
        .map(|starter| (starter.name, starter.wanted.seconds()))
        .collect();
    let limit = question.limit.map(Power::kilowatts);
    Ok(told(&names, found, limit, question.base.kilowatts()))
}

/// The answer from the cold starts, with the name of each dryer and when it is wanted (s).
fn told(
    names: &[(&str, f64)],
    mut found: Vec<ColdStart>,
    limit: Option<f64>,
    base: f64,
) -> SwitchOn {
    // The first minute that is looked at, so that each may wait for as long as is tried.
    let begin = names
        .iter()
        .zip(&found)
        .map(|((_, wanted), start)| {
            whole(*wanted) - i64::try_from(start.load.warming.len() + LONGEST_WAIT).unwrap_or(0)
        })
        .min()
        .unwrap_or(0);
    for (start, (_, wanted)) in found.iter_mut().zip(names) {
        start.load.wanted = usize::try_from(whole(*wanted) - begin).unwrap_or(0);
    }
    let loads: Vec<Load> = found.iter().map(|start| start.load.clone()).collect();
    let hall = Hall {
        loads: &loads,
        base,
    };
    let (placed, tried, missed) = place(&hall, names, limit);
    let late = vec![0; loads.len()];
    let mut sorted: Vec<usize> = (0..loads.len()).collect();
    sorted.sort_by_key(|&index| loads[index].on(placed.waits[index]));
    let minutes = |waits: &[usize]| power(&hall, &sorted, waits, begin);
    let (power, unordered) = (minutes(&placed.waits), minutes(&late));
    let peak = power.iter().max_by(|a, b| a.all_kw.total_cmp(&b.all_kw));
    let dryers: Vec<Started> = sorted
        .iter()
        .map(|&index| {
            started(
                index,
                names[index].0,
                &found[index],
                placed.waits[index],
                begin,
            )
        })
        .collect();
    let energy = power
        .iter()
        .take(power.len().saturating_sub(1))
        .map(|minute| minute.all_kw - base);
    SwitchOn {
        limit_kw: limit,
        base_kw: base,
        tried,
        missed,
        peak_kw: peak.map_or(base, |minute| minute.all_kw),
        peak_at_h: peak.map_or(0.0, |minute| minute.hour),
        peak_unordered_kw: unordered
            .iter()
            .map(|minute| minute.all_kw)
            .fold(base, f64::max),
        at_work_kw: hall.at_work(),
        energy_kwh: energy.sum::<f64>() / 60.0,
        waiting_kwh: placed.cost,
        dryers,
        power,
        unordered,
    }
}

/// The minute that has begun at a time, s.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a cast of a float saturates"
)]
fn whole(seconds: f64) -> i64 {
    (seconds / 60.0 + 1e-6).floor() as i64
}

/// The best order, or the one that keeps the least limit.
fn place(
    hall: &Hall,
    names: &[(&str, f64)],
    limit: Option<f64>,
) -> (Placed, Tried, Option<Missed>) {
    let late = Placed {
        waits: vec![0; hall.loads.len()],
        cost: 0.0,
    };
    let Some(limit) = limit else {
        return (late, Tried::None, None);
    };
    let (found, tried) = hall.best(limit);
    if let Some(found) = found {
        return (found, tried, None);
    }
    let (least, placed) = hall.least_kept();
    // Where the search for the least limit finds one below, it is the better search.
    if least <= limit {
        return (placed, Tried::Exchange, None);
    }
    let sure = hall.least();
    let missed = Missed {
        by_kw: if sure > limit {
            sure - limit
        } else {
            least - limit
        },
        least_kw: least,
        alone: hall
            .loads
            .iter()
            .zip(names)
            .map(|(load, (name, _))| ((*name).to_owned(), hall.base + load.peak()))
            .filter(|(_, power)| *power > limit)
            .collect(),
        at_work_kw: (hall.at_work() > limit).then(|| hall.at_work()),
    };
    (placed, tried, Some(missed))
}

/// Power from the first that is switched on to the first minute in which all are at work.
fn power(hall: &Hall, sorted: &[usize], waits: &[usize], begin: i64) -> Vec<Minute> {
    let all = hall.power(waits);
    let loads = hall.loads;
    let first = loads
        .iter()
        .zip(waits)
        .map(|(load, &wait)| load.on(wait))
        .min();
    let each = all.into_iter().enumerate().skip(first.unwrap_or(0));
    each.map(|(minute, all_kw)| Minute {
        hour: hour(minute, begin),
        all_kw,
        each_kw: sorted
            .iter()
            .map(|&index| loads[index].at(minute, waits[index]))
            .collect(),
    })
    .collect()
}

fn hour(minute: usize, begin: i64) -> f64 {
    begin as f64 / 60.0 + minute as f64 / 60.0
}

fn started(index: usize, name: &str, start: &ColdStart, wait: usize, begin: i64) -> Started {
    let load = &start.load;
    let on = load.on(wait);
    let powers: Vec<f64> = (on..load.wanted)
        .map(|minute| load.at(minute, wait))
        .collect();
    let hours = |seconds: f64| seconds / 3600.0;
    let wait_h = wait as f64 / 60.0;
    let waits: f64 = load.waiting.iter().sum();
    Started {
        name: name.to_owned(),
        asked: index,
        resin: start.resin.clone(),
        set_point_c: start.set_point_c,
        on_h: hour(on, begin),
        ready_h: hour(load.wanted - wait, begin),
        wanted_h: hour(load.wanted, begin),
        to_ready_h: hours(start.ready),
        hold_h: hours(start.hold),
        waiting_h: wait_h,
        hot_h: hours(start.hold + start.stay) + wait_h,
        bears_h: hours(start.bears),
        outlet_ppm_wet: start.outlet_ppm_wet,
        limit_ppm_wet: start.limit_ppm_wet,
        energy_kwh: powers.iter().fold(0.0, |sum, power| sum + power) / 60.0,
        waiting_kwh: load.energy_of(wait),
        peak_kw: powers.iter().copied().fold(0.0, f64::max),
        waiting_kw: if load.waiting.is_empty() {
            load.working
        } else {
            waits / load.waiting.len() as f64
        },
        working_kw: load.working,
    }
}
