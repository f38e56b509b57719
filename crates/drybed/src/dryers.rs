//! Which dryer: those that could serve a job, side by side.

mod page;

use crate::Trouble;
use decide::compare::{Comparison, Question, compare};
use dryer::sorption::Adsorbed;
use files::{Desiccants, Library, open_job, read_job};
use job::Job;
use line::usual;
use quantity::Place;
use serde::Serialize;
use std::path::Path;

/// Version of the layout of a choice of dryers in JSON.
const CHOICE_SCHEMA: u32 = 1;
/// Samples of doubt where none are asked for.
pub const USUAL_SAMPLES: u32 = 200;
/// The desiccant of a wheel where none is stated.
const USUAL_DESICCANT: &str = "molecular-sieve-13x";

/// Dryers side by side.
#[derive(Clone, Debug, Serialize)]
pub struct DryersAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// The comparison.
    pub comparison: Comparison,
    /// What the desiccant of the wheel is.
    pub desiccant: String,
}

/// Compares the dryers for the job that a text describes; `told` hears the share that is done.
///
/// # Errors
/// Every mistake in the text, and a comparison that cannot be computed.
pub fn dryers(
    text: &str,
    file: &str,
    library: &Library,
    samples: u32,
    told: &(dyn Fn(f64) + Sync),
) -> Result<DryersAnswer, Trouble> {
    of(&read_job(text, file, library)?, samples, told)
}

/// Compares the dryers for the job of a file.
///
/// # Errors
/// As [`dryers`], and a file that cannot be read.
pub fn dryers_file(
    path: &Path,
    library: &Library,
    samples: u32,
    told: &(dyn Fn(f64) + Sync),
) -> Result<DryersAnswer, Trouble> {
    of(&open_job(path, library)?, samples, told)
}

fn of(job: &Job, samples: u32, told: &(dyn Fn(f64) + Sync)) -> Result<DryersAnswer, Trouble> {
    let all = Desiccants::shipped()?;
    let desiccant = all.find(USUAL_DESICCANT, &Place::of("", "desiccant"))?;
    let adsorbed = Adsorbed::of(&desiccant.sorbent);
    let question = Question {
        job,
        dryers: vec![
            Box::new(|flow, hot| usual::wheel_dryer(flow, hot, adsorbed.clone())),
            Box::new(|flow, hot| usual::tower_dryer(flow, hot, adsorbed.clone())),
            Box::new(usual::compressed_air_dryer),
            Box::new(usual::hot_air_dryer),
        ],
        samples,
        seed: job.model.seed,
    };
    Ok(DryersAnswer {
        schema_version: CHOICE_SCHEMA,
        comparison: compare(&question, told)?,
        desiccant: desiccant.title.clone(),
    })
}

impl DryersAnswer {
    /// Whether a dryer is recommended.
    pub fn is_met(&self) -> bool {
        self.comparison.choice.dryer.is_some()
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When a number has no place in JSON.
    pub fn json(&self) -> Result<String, Trouble> {
        crate::json(self)
    }
}
