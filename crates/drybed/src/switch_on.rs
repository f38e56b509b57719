//! When to switch on the dryers of a hall, and in what order, to be dry in time.

mod page;
mod read;

pub use read::SwitchOnWords;

use crate::Trouble;
use crate::check::dryer_of;
use crate::equipment::OwnDryer;
use decide::switch_on::{Question, Starter, SwitchOn, switch_on as found};
use files::{Library, StatedDryer};
use job::{Clock, ControlSettings, Job, RoundDryer};
use quantity::{Duration, Power};
use serde::Serialize;
use std::path::PathBuf;

/// Version of the layout of switching on in JSON.
const SWITCH_ON_SCHEMA: u32 = 1;

/// When to switch on.
#[derive(Clone, Debug, Serialize)]
pub struct SwitchOnAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// From when hours are counted, and the zone in which times are told: those of the first schedule.
    pub clock: Clock,
    /// The dryers of records, with what each is called here.
    pub records: Vec<(String, OwnDryer)>,
    /// What was left out of what was read, and why.
    pub read: Vec<String>,
    /// What was found.
    pub switch_on: SwitchOn,
}

/// A dryer of the hall, as it was read.
pub(crate) struct Asked {
    name: String,
    job: Job,
    dryer: RoundDryer,
    record: Option<StatedDryer>,
    control: ControlSettings,
    wanted: Duration,
}

/// A hall, as it was read.
pub(crate) struct AskedHall {
    clock: Clock,
    read: Vec<String>,
    dryers: Vec<Asked>,
    limit: Option<Power>,
    base: Power,
}

/// Finds when to switch on the dryers of the schedules of some files.
///
/// # Errors
/// Every mistake in the words and the files, and a dryer that cannot be or is never ready.
pub fn switch_on_files(
    paths: &[PathBuf],
    library: &Library,
    words: &SwitchOnWords,
) -> Result<SwitchOnAnswer, Trouble> {
    of(&read::files(paths, library, words)?)
}

fn of(hall: &AskedHall) -> Result<SwitchOnAnswer, Trouble> {
    let dryers = hall.dryers.iter();
    let made = dryers
        .map(|asked| dryer_of(&asked.dryer, asked.record.as_ref()))
        .collect::<Result<Vec<_>, _>>()?;
    let starters = hall.dryers.iter().zip(&made).map(|(asked, made)| Starter {
        name: &asked.name,
        job: &asked.job,
        dryer: &**made,
        settings: &asked.control,
        wanted: asked.wanted,
    });
    let records = hall.dryers.iter().filter_map(|asked| {
        let record = asked.record.as_ref()?;
        Some((asked.name.clone(), OwnDryer::of(record)))
    });
    let question = Question {
        dryers: starters.collect(),
        limit: hall.limit,
        base: hall.base,
    };
    Ok(SwitchOnAnswer {
        schema_version: SWITCH_ON_SCHEMA,
        clock: hall.clock.clone(),
        records: records.collect(),
        read: hall.read.clone(),
        switch_on: found(&question)?,
    })
}

impl SwitchOnAnswer {
    /// Whether the limit is kept and every dryer gives dry resin.
    pub fn is_met(&self) -> bool {
        let mut dryers = self.switch_on.dryers.iter();
        self.switch_on.missed.is_none() && dryers.all(|dryer| !dryer.is_wet())
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When a number has no place in JSON.
    pub fn json(&self) -> Result<String, Trouble> {
        crate::json(self)
    }
}
