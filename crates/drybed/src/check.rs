//! What is wrong with a dryer: a round with hand instruments held against the closed loop.

mod page;
mod words;

use crate::Trouble;
use crate::dryers::Customary;
use crate::equipment::OwnDryer;
use decide::check::{Checked, Question, Stand, check as held_against};
use files::{Desiccants, Library, RoundRead, StatedDryer, open_round, read_round};
use job::{ReadingKind, RoundDryer};
use line::FlowControl;
use line::equipment::{Equipment, Machine};
use quantity::constants::STANDARD_ATMOSPHERE;
use quantity::{AbsolutePressure, HumidityRatio, Quantity};
use serde::Serialize;
use std::path::Path;

/// Version of the layout of a check in JSON.
const CHECK_SCHEMA: u32 = 1;

/// A dryer checked.
#[derive(Clone, Debug, Serialize)]
pub struct CheckedDryer {
    /// Version of this layout.
    pub schema_version: u32,
    /// What the user calls the round.
    pub title: String,
    /// The dryer of the record that the round names.
    pub record: Option<OwnDryer>,
    /// Each reading as the user wrote it, with what it is of.
    pub written: Vec<(ReadingKind, String)>,
    /// What was found.
    pub checked: Checked,
}

/// Checks the dryer of a round that a text describes.
///
/// # Errors
/// Every mistake in the text and in what it names, and a check that cannot be computed.
pub fn check(text: &str, file: &str, library: &Library) -> Result<CheckedDryer, Trouble> {
    of(&read_round(text, file, library, &Desiccants::shipped()?)?)
}

/// Checks the dryer of a round in a file.
///
/// # Errors
/// As [`check`], and a file that cannot be read.
pub fn check_file(path: &Path, library: &Library) -> Result<CheckedDryer, Trouble> {
    of(&open_round(path, library, &Desiccants::shipped()?)?)
}

fn of(read: &RoundRead) -> Result<CheckedDryer, Trouble> {
    let (round, record) = (&read.round, read.record.as_ref());
    let dryer = dryer_of(&round.dryer, record)?;
    let question = Question {
        job: &round.job,
        dryer: &dryer,
        controlled_at: round.dryer.controlled_at,
        dew_point_doubt: round.dryer.dew_point_doubt.map(Quantity::si),
        readings: &round.readings,
        good: round.good.as_deref(),
    };
    Ok(CheckedDryer {
        schema_version: CHECK_SCHEMA,
        title: round.title.clone(),
        record: record.map(OwnDryer::of),
        written: (round.readings.iter().map(|reading| reading.of))
            .zip(read.written.iter().cloned())
            .collect(),
        checked: held_against(&question)?,
    })
}

/// What makes the dryer of a round, for the air flow (kg/s of dry air) and the set point (K) of its job.
pub type DryerMaker = Box<dyn Fn(f64, f64) -> Equipment + Send + Sync>;

/// Makes the dryer of a round: that of its record, or one of a usual size.
///
/// # Errors
/// When the desiccant cannot be read.
pub fn dryer_of(stated: &RoundDryer, record: Option<&StatedDryer>) -> Result<DryerMaker, Trouble> {
    if let Some((equipment, _)) = record.and_then(StatedDryer::air) {
        let mut own = equipment.clone();
        at_one_speed(&mut own.machine);
        return Ok(Box::new(move |_, _| own.clone()));
    }
    let customary = Customary::shipped()?;
    let (kind, cooler) = (stated.kind, stated.cooler);
    let rated = stated.rated_flow.map(|flow| {
        let site = AbsolutePressure::from_pascal(STANDARD_ATMOSPHERE);
        flow.dry_air(site, HumidityRatio::from_si(0.0)).si()
    });
    Ok(Box::new(move |flow, hot| {
        let mut made = customary.air_dryer(kind, rated.unwrap_or(flow), hot);
        at_one_speed(&mut made.machine);
        if let Some(process) = made.machine.process_mut() {
            process.cooler = process.cooler.filter(|_| cooler);
        }
        made
    }))
}

/// A blower that turns as it does, behind a damper that was set once.
fn at_one_speed(machine: &mut Machine) {
    if let Some(blowing) = machine.blowing_mut() {
        blowing.control = FlowControl::Damper;
    }
}

impl CheckedDryer {
    /// Whether the dryer is in good order as far as the round tells.
    pub fn is_healthy(&self) -> bool {
        matches!(self.checked.stand, Stand::Healthy | Stand::Open)
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When a number has no place in JSON.
    pub fn json(&self) -> Result<String, Trouble> {
        crate::json(self)
    }
}
