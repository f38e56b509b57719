//! How large a dryer is for a job or a cell, without running it.

mod page;

use crate::Trouble;
use crate::dryers::Customary;
use decide::size::{Sizes, size};
use files::{Library, open_cell, read_job};
use job::Cell;
use serde::Serialize;
use std::path::PathBuf;

/// Version of the layout of sizes in JSON.
const SIZE_SCHEMA: u32 = 1;

/// Dryers sized by custom.
#[derive(Clone, Debug, Serialize)]
pub struct SizeAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// The sizes.
    pub sizes: Sizes,
    /// What the desiccant is.
    pub desiccant: String,
}

/// Sizes the dryers for the job that a text describes.
///
/// # Errors
/// Every mistake in the text, and a dryer that cannot be.
pub fn sizes(text: &str, file: &str, library: &Library) -> Result<SizeAnswer, Trouble> {
    of(&read_job(text, file, library)?.into())
}

/// Sizes the dryers for the jobs of some files, or for a cell.
///
/// # Errors
/// As [`sizes`], and a file that cannot be read.
pub fn sizes_files(paths: &[PathBuf], library: &Library) -> Result<SizeAnswer, Trouble> {
    of(&open_cell(paths, library)?)
}

fn of(cell: &Cell) -> Result<SizeAnswer, Trouble> {
    let customary = Customary::shipped()?;
    Ok(SizeAnswer {
        schema_version: SIZE_SCHEMA,
        sizes: size(cell, &customary.offered(&cell.plant))?,
        desiccant: customary.desiccant.clone(),
    })
}

impl SizeAnswer {
    /// Whether a dryer may serve at all.
    pub fn is_met(&self) -> bool {
        self.sizes.refused.is_none()
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When a number has no place in JSON.
    pub fn json(&self) -> Result<String, Trouble> {
        crate::json(self)
    }
}
