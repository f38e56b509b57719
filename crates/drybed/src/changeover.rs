//! Another resin into the same hopper: what it takes, and the checklist for it.

mod page;
#[cfg(test)]
mod tests;

use crate::Trouble;
use crate::asked_dryer::DryerAsked;
use crate::equipment::OwnDryer;
use decide::changeover::{Changeover, Question, changeover as followed};
use files::{Library, open_job};
use serde::Serialize;
use std::path::Path;

/// Version of the layout of a changeover in JSON.
const CHANGEOVER_SCHEMA: u32 = 1;

/// A changeover.
#[derive(Clone, Debug, Serialize)]
pub struct ChangeoverAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// The dryer of the record that was named.
    pub record: Option<OwnDryer>,
    /// What was found.
    pub changeover: Changeover,
}

/// What it takes to go from the job of one file to that of another on one dryer.
///
/// # Errors
/// Every mistake in the files, and a changeover that cannot be followed.
pub fn changeover_files(
    (from, to): (&Path, &Path),
    library: &Library,
    dryer: DryerAsked,
) -> Result<ChangeoverAnswer, Trouble> {
    let (from, to) = (open_job(from, library)?, open_job(to, library)?);
    let found = dryer.find()?;
    Ok(ChangeoverAnswer {
        schema_version: CHANGEOVER_SCHEMA,
        changeover: followed(&Question {
            from: &from,
            to: &to,
            stated: &found.stated,
            dryer: &*found.make,
        })?,
        record: found.record,
    })
}

impl ChangeoverAnswer {
    /// Whether it may be done.
    pub fn is_met(&self) -> bool {
        self.changeover.never.is_none() && self.changeover.next_dry_h.is_some()
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When a number has no place in JSON.
    pub fn json(&self) -> Result<String, Trouble> {
        crate::json(self)
    }
}
