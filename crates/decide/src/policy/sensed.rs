//! How well demand is sensed: random days with noise on the instruments, set back and recovered by what is seen.
//!
//! # Equations
//! A day fails by late recovery where more of its resin is wet than of the same day run constantly, by more than one
//! part in a thousand. False alarms are recoveries while the press stands and nothing is wanted within the time that
//! the lag needs, and setbacks while it draws half of the planned rate and more.
//!
//! # Symbols
//! none.
//!
//! # Holds for
//! Days drawn as by `super::chance`.
//!
//! # Sources
//! None.
//!
//! # Checked by
//! `crates/drybed/tests/sensed.rs`

use super::chance::{instruments, realised};
use super::search::{Way, run};
use super::{Question, long_at_work, windows};
use crate::DecideError;
use crate::shift::MAY_BE;
use line::control::{Control, Mode};
use line::follow::{Followed, Happened};
use rayon::prelude::*;
use serde::Serialize;
use uncertainty::Design;

/// What many days came to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Sensed {
    /// Days.
    pub days: u32,
    /// Days on which resin came wet that did not when the dryer ran constantly.
    pub late: u32,
    /// The most that came wet beyond that of running constantly, share of a day's resin.
    pub most_wet: f64,
    /// Times that it was set back.
    pub setbacks: u32,
    /// Times that it was set back while the press drew.
    pub false_setbacks: u32,
    /// Times that it recovered while the press stood.
    pub false_recoveries: u32,
    /// Warnings of humidity and of temperature.
    pub warnings: u32,
    /// Energy over that of running constantly.
    pub energy_ratio: f64,
}

/// Demand of the planned rate above which a setback is false.
const DRAWS: f64 = 0.5;
/// First place of the design that these days take.
const FIRST: u32 = 50_000;

/// Runs so many random days of a schedule a way, and constantly beside it.
///
/// # Errors
/// From the line.
pub fn sensed(question: &Question, way: &Way, count: u32) -> Result<Sensed, DecideError> {
    let chances = &question.schedule.chances;
    let whole = long_at_work(question)?.coarse();
    let windows = windows::windows(whole.demand());
    let design = Design {
        seed: question.seed,
    };
    let each: Vec<Sensed> = (0..count)
        .into_par_iter()
        .map(|day| {
            let index = FIRST + day;
            let window = &windows[day as usize % windows.len()];
            let demand = realised(window, chances, design, index);
            let length = window.last().map_or(0.0, |last| last.1);
            let days = whole.with_demand(demand, length);
            let (_, constant) = run(&days, &Way::CONSTANT, &mut instruments(design, index))?;
            let (followed, found) = run(&days, way, &mut instruments(design, index))?;
            let wet = found.masses.share(found.masses.wet_kg)
                - constant.masses.share(constant.masses.wet_kg);
            Ok(Sensed {
                days: 1,
                late: u32::from(wet > MAY_BE),
                most_wet: wet.max(0.0),
                energy_ratio: found.energy / constant.energy,
                ..alarms(&followed, days.control(), way)
            })
        })
        .collect::<Result<_, DecideError>>()?;
    Ok(summed(&each))
}

/// Setbacks, recoveries and warnings of a day.
fn alarms(followed: &Followed, control: &Control, way: &Way) -> Sensed {
    let mut found = Sensed::default();
    let drawn = |from: f64, to: f64| {
        let within = followed
            .steps
            .iter()
            .filter(|step| step.time > from && step.time <= to);
        within.fold(0.0_f64, |most, step| most.max(step.press.0)) / control.rate
    };
    let mut mode = Mode::Drying;
    for event in &followed.events {
        match event.what {
            Happened::Mode(Mode::SetBack) => {
                found.setbacks += 1;
                found.false_setbacks +=
                    u32::from(drawn(event.time - way.after_s, event.time) > DRAWS);
                mode = Mode::SetBack;
            }
            Happened::Mode(next) => {
                let before = event.time - 3.0 * way.lag_s - 600.0;
                let idle = drawn(before, event.time) <= 0.0;
                found.false_recoveries += u32::from(mode == Mode::SetBack && idle);
                mode = next;
            }
            Happened::HumidityWarning(true) | Happened::TemperatureWarning(true) => {
                found.warnings += 1;
            }
            _ => {}
        }
    }
    found
}

fn summed(each: &[Sensed]) -> Sensed {
    let mut sum = Sensed::default();
    for day in each {
        sum.days += day.days;
        sum.late += day.late;
        sum.most_wet = sum.most_wet.max(day.most_wet);
        sum.setbacks += day.setbacks;
        sum.false_setbacks += day.false_setbacks;
        sum.false_recoveries += day.false_recoveries;
        sum.warnings += day.warnings;
        sum.energy_ratio += day.energy_ratio / each.len() as f64;
    }
    sum
}
