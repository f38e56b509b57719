//! How a dryer is best run through days like these.

mod page;

use crate::Trouble;
use crate::check::dryer_of;
use crate::equipment::OwnDryer;
use decide::policy::{Policy, Question, Sensed, Way, policy as found, sensed};
use files::{Desiccants, Library, open_schedule};
use serde::Serialize;
use std::path::Path;

/// Version of the layout of a policy in JSON.
const POLICY_SCHEMA: u32 = 1;
/// Fresh weeks on which the way that was found is run: the least that can show 95 % with 95 % confidence.
pub const USUAL_WEEKS: u32 = 59;

/// How a dryer is best run.
#[derive(Clone, Debug, Serialize)]
pub struct PolicyAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// Seed of all that was drawn.
    pub seed: u32,
    /// What was left out of what was read, and why.
    pub read: Vec<String>,
    /// The dryer of the record that the schedule names.
    pub record: Option<OwnDryer>,
    /// What was found.
    pub policy: Policy,
}

/// Finds the way for the schedule of a file, and runs it through so many fresh weeks; `progress` is told what is done,
/// and how much of it, 0 to 1.
///
/// # Errors
/// Every mistake in the file and in what it names, and days that cannot be followed.
pub fn policy_file(
    path: &Path,
    library: &Library,
    (weeks, seed): (u32, u32),
    progress: &(dyn Fn(&'static str, f64) + Sync),
) -> Result<PolicyAnswer, Trouble> {
    let read = open_schedule(path, library, &Desiccants::shipped()?)?;
    let record = read.record.as_ref();
    let dryer = dryer_of(&read.schedule.dryer, record)?;
    Ok(PolicyAnswer {
        schema_version: POLICY_SCHEMA,
        seed,
        read: read.notes.clone(),
        record: record.map(OwnDryer::of),
        policy: found(&Question {
            schedule: &read.schedule,
            dryer: &*dryer,
            seed,
            weeks,
            progress,
        })?,
    })
}

/// How well demand is sensed on so many random days of the schedule of a file, drawn from a seed, when the dryer is
/// set back by so many K as is usual besides.
///
/// # Errors
/// As [`policy_file`].
pub fn sensed_file(
    path: &Path,
    library: &Library,
    (days, seed): (u32, u32),
    back: f64,
) -> Result<Sensed, Trouble> {
    let read = open_schedule(path, library, &Desiccants::shipped()?)?;
    let dryer = dryer_of(&read.schedule.dryer, read.record.as_ref())?;
    let question = Question {
        schedule: &read.schedule,
        dryer: &*dryer,
        seed,
        weeks: 0,
        progress: &|_, _| {},
    };
    let way = Way {
        back_k: back,
        ..Way::CONSTANT
    };
    Ok(sensed(&question, &way, days)?)
}

impl PolicyAnswer {
    /// Whether the way held on the fresh weeks.
    pub fn is_met(&self) -> bool {
        self.policy.verified.failed_by_the_way == 0
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When a number has no place in JSON.
    pub fn json(&self) -> Result<String, Trouble> {
        crate::json(self)
    }
}
