//! How large a dryer is for a job or a cell, without running it.

mod page;

use crate::dryers::{Customary, own};
use crate::{StatedDryers, Trouble};
use decide::size::{Sizes, size};
use files::{Library, open_cell, read_job};
use job::Cell;
use serde::Serialize;
use std::path::PathBuf;

/// Version of the layout of sizes in JSON.
const SIZE_SCHEMA: u32 = 1;

/// Dryers sized by custom, or the user's own as they are.
#[derive(Clone, Debug, Serialize)]
pub struct SizeAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// The sizes.
    pub sizes: Sizes,
    /// What the desiccant is.
    pub desiccant: String,
    /// Whether the dryers are the user's own.
    pub own: bool,
}

/// Sizes the dryers for the job that a text describes.
///
/// # Errors
/// Every mistake in the text, and a dryer that cannot be.
pub fn sizes(
    text: &str,
    file: &str,
    library: &Library,
    own: Option<&StatedDryers>,
) -> Result<SizeAnswer, Trouble> {
    of(&read_job(text, file, library)?.into(), own)
}

/// Sizes the dryers for the jobs of some files, or for a cell.
///
/// # Errors
/// As [`sizes`], and a file that cannot be read.
pub fn sizes_files(
    paths: &[PathBuf],
    library: &Library,
    own: Option<&StatedDryers>,
) -> Result<SizeAnswer, Trouble> {
    of(&open_cell(paths, library)?, own)
}

fn of(cell: &Cell, own: Option<&StatedDryers>) -> Result<SizeAnswer, Trouble> {
    let customary = Customary::shipped()?;
    let dryers = match own {
        Some(own) => own::offered(own, &cell.plant),
        None => customary.offered(&cell.plant),
    };
    Ok(SizeAnswer {
        schema_version: SIZE_SCHEMA,
        sizes: size(cell, &dryers)?,
        desiccant: customary.desiccant.clone(),
        own: own.is_some(),
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
