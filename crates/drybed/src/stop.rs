//! The press has just stopped: how long may the hopper stand, and what is to be done now?

mod page;
#[cfg(test)]
mod tests;

use crate::Trouble;
use crate::air::field;
use crate::asked_dryer::DryerAsked;
use crate::equipment::OwnDryer;
use decide::stop::{Question, Stop, stop as followed};
use files::{Library, open_job, read_job};
use job::Job;
use quantity::{Duration, Fault, FaultKind, Faults, Place};
use serde::Serialize;
use std::path::Path;

/// Version of the layout of a stop in JSON.
const STOP_SCHEMA: u32 = 1;
/// Stops that are followed, s.
const LENGTHS: std::ops::RangeInclusive<f64> = 60.0..=30.0 * 86_400.0;

/// What to do about a stop.
#[derive(Clone, Debug, Serialize)]
pub struct StopAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// The dryer of the record that was named.
    pub record: Option<OwnDryer>,
    /// What was found.
    pub stop: Stop,
}

/// What to do when the press of a job that a text describes stands for a time such as `5 h`.
///
/// # Errors
/// Every mistake in the text and in the time, and a stop that cannot be followed.
pub fn stop(
    text: &str,
    file: &str,
    library: &Library,
    (dryer, length): (DryerAsked, &str),
) -> Result<StopAnswer, Trouble> {
    of(&read_job(text, file, library)?, dryer, length)
}

/// The same for a job in a file.
///
/// # Errors
/// As [`stop`], and a file that cannot be read.
pub fn stop_file(
    path: &Path,
    library: &Library,
    (dryer, length): (DryerAsked, &str),
) -> Result<StopAnswer, Trouble> {
    of(&open_job(path, library)?, dryer, length)
}

fn of(job: &Job, dryer: DryerAsked, length: &str) -> Result<StopAnswer, Trouble> {
    let mut faults = Faults::none();
    let read: Option<Duration> = field("for", length, &mut faults);
    let length = match read {
        Some(length) if LENGTHS.contains(&length.seconds()) => length,
        Some(_) => {
            let cause = "a stop lasts from a minute to thirty days here";
            let mend = "write a time between 1 min and 30 d";
            let place = Place::of("", "for");
            faults.push(Fault::new(
                FaultKind::OutOfRange,
                place,
                length,
                cause,
                mend,
            ));
            return Err(faults.into());
        }
        None => return Err(faults.into()),
    };
    let found = dryer.find()?;
    Ok(StopAnswer {
        schema_version: STOP_SCHEMA,
        stop: followed(&Question {
            job,
            stated: &found.stated,
            dryer: &*found.make,
            length,
        })?,
        record: found.record,
    })
}

impl StopAnswer {
    /// Whether something that can be done loses nothing.
    pub fn is_met(&self) -> bool {
        self.stop.best.is_some()
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When a number has no place in JSON.
    pub fn json(&self) -> Result<String, Trouble> {
        crate::json(self)
    }
}
