//! Days on one dryer: what every lot of resin goes through while the press runs, stands and changes over.

mod page;
#[cfg(test)]
mod tests;

use crate::Trouble;
use crate::check::dryer_of;
use crate::equipment::OwnDryer;
use decide::shift::{MAY_BE, Question, Shift, shift as followed};
use files::clock::{days, local};
use files::{Desiccants, Library, ScheduleRead, open_schedule, read_schedule};
use job::Clock;
use serde::Serialize;
use std::path::Path;

/// Version of the layout of days in JSON.
const SHIFT_SCHEMA: u32 = 1;

/// Days that were followed.
#[derive(Clone, Debug, Serialize)]
pub struct ShiftAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// When they begin.
    pub clock: Clock,
    /// The zone in which their times are told.
    pub zone: String,
    /// Each day: its name, and the hours since the beginning at which it begins and ends.
    pub days: Vec<(String, f64, f64)>,
    /// What was left out of what was read, and why.
    pub read: Vec<String>,
    /// The dryer of the record that the schedule names.
    pub record: Option<OwnDryer>,
    /// What was found.
    pub shift: Shift,
}

/// Follows the days of a schedule that a text describes.
///
/// # Errors
/// Every mistake in the text and in what it names, and days that cannot be followed.
pub fn shift(text: &str, file: &str, library: &Library) -> Result<ShiftAnswer, Trouble> {
    of(&read_schedule(
        text,
        file,
        library,
        &Desiccants::shipped()?,
    )?)
}

/// Follows the days of a schedule in a file.
///
/// # Errors
/// As [`shift`], and a file that cannot be read.
pub fn shift_file(path: &Path, library: &Library) -> Result<ShiftAnswer, Trouble> {
    of(&open_schedule(path, library, &Desiccants::shipped()?)?)
}

fn of(read: &ScheduleRead) -> Result<ShiftAnswer, Trouble> {
    let schedule = &read.schedule;
    let record = read.record.as_ref();
    let dryer = dryer_of(&schedule.dryer, record)?;
    let question = Question {
        schedule,
        dryer: &*dryer,
    };
    let clock = schedule.clock.clone();
    Ok(ShiftAnswer {
        schema_version: SHIFT_SCHEMA,
        zone: clock.zone.clone(),
        days: days(&clock, schedule.length),
        clock,
        read: read.notes.clone(),
        record: record.map(OwnDryer::of),
        shift: followed(&question)?,
    })
}

impl ShiftAnswer {
    /// Whether all of the resin came to the screw as it should be, and the press never waited.
    pub fn is_met(&self) -> bool {
        let masses = &self.shift.masses;
        masses.all_kg > 0.0 && masses.amiss() <= MAY_BE
    }

    /// A time of the days as a clock on the wall shows it.
    fn when(&self, hour: f64) -> String {
        local(&self.clock, 3600.0 * hour)
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When a number has no place in JSON.
    pub fn json(&self) -> Result<String, Trouble> {
        crate::json(self)
    }
}
