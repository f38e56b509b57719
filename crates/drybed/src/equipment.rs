//! Dryers that a user owns or is offered: what is known of each, and what cannot be used.

mod page;

pub(crate) use page::{notes_of_reading, of_dryer as of_own};

use crate::Trouble;
use files::{Desiccants, Known, KnownValue, Standing, StatedDryer, StatedDryers, StatedMachine};
use job::Ownership;
use quantity::{Faults, Meaning, Quantity};
use serde::Serialize;
use std::path::Path;

/// Version of the layout of equipment in JSON.
const EQUIPMENT_SCHEMA: u32 = 1;

/// The dryers of a folder, of a record or of a table.
///
/// # Errors
/// A path that cannot be read, and every mistake where no dryer is left.
pub fn open_equipment(path: &Path) -> Result<StatedDryers, Faults> {
    files::open_dryers(path, &Desiccants::shipped()?)
}

/// The reference page of records and tables of dryers, in Markdown.
pub fn equipment_fields() -> String {
    files::equipment_page()
}

/// The JSON schema that a record of a dryer satisfies.
///
/// # Errors
/// When it cannot be written.
pub fn equipment_schema() -> Result<String, Trouble> {
    crate::json(&files::schema::schema(&files::EQUIPMENT))
}

/// A dryer as it is stated.
#[derive(Clone, Debug, Serialize)]
pub struct OwnDryer {
    /// Its key.
    pub key: String,
    /// What it is called.
    pub title: String,
    /// Whether it is an example.
    pub invented: bool,
    /// Dry air it is rated for, kg/h; none where it dries batches.
    pub rated_flow_kg_h: Option<f64>,
    /// Dry resin of a batch, kg; none where it makes air.
    pub charge_kg: Option<f64>,
    /// Hottest air it is made for, degC.
    pub hottest_c: f64,
    /// The desiccant in it.
    pub desiccant: Option<String>,
    /// What owning it comes to.
    pub ownership: Ownership,
    /// Every number and word, in the order of its reading.
    pub known: Vec<KnownRow>,
}

/// One number or word of a dryer.
#[derive(Clone, Debug, Serialize)]
pub struct KnownRow {
    /// Path of its field.
    pub path: String,
    /// What it is.
    pub what: &'static str,
    /// What it says, as written or as usual.
    pub written: Option<String>,
    /// A plain number in SI units with its meaning, where it is estimated.
    pub estimated: Option<(f64, Meaning)>,
    /// Where it is from; none for an estimate.
    pub source: Option<String>,
    /// How it came to be known.
    pub grade: &'static str,
    /// What else is said of it.
    pub note: Option<String>,
}

/// The dryers of a user, and what had to be left out.
#[derive(Clone, Debug, Serialize)]
pub struct EquipmentAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// Where they stand.
    pub path: String,
    /// The dryers that can be used.
    pub dryers: Vec<OwnDryer>,
    /// What is left out, by file, column or row.
    pub left_out: Vec<String>,
    /// What is worth knowing of how they were read.
    pub notes: Vec<String>,
    /// Every mistake.
    pub faults: Faults,
}

/// What is known of the dryers of a folder, a record or a table.
///
/// # Errors
/// As [`open_equipment`].
pub fn equipment(path: &Path) -> Result<EquipmentAnswer, Faults> {
    Ok(EquipmentAnswer::of(
        &path.display().to_string(),
        &open_equipment(path)?,
    ))
}

impl OwnDryer {
    /// What is shown of a dryer.
    pub(crate) fn of(dryer: &StatedDryer) -> Self {
        let (rated, charge) = match &dryer.machine {
            StatedMachine::Air { rated_flow, .. } => (Some(rated_flow.kg_per_hour()), None),
            StatedMachine::Vacuum { dryer, .. } => (None, Some(dryer.charge.si())),
        };
        Self {
            key: dryer.key.clone(),
            title: dryer.title.clone(),
            invented: dryer.invented,
            rated_flow_kg_h: rated,
            charge_kg: charge,
            hottest_c: dryer.hottest.celsius(),
            desiccant: dryer.desiccant.clone(),
            ownership: dryer.ownership.clone(),
            known: dryer.known.iter().map(row).collect(),
        }
    }

    /// How many of its numbers are stated.
    pub fn stated(&self) -> usize {
        let stated = self.known.iter().filter(|row| row.source.is_some());
        stated.count()
    }
}

fn row(known: &Known) -> KnownRow {
    let (source, grade, note) = match &known.standing {
        Standing::Stated {
            source,
            grade,
            note,
        } => (Some(source.clone()), grade.word(), note.clone()),
        Standing::Estimate => (None, "estimate", None),
    };
    let (written, estimated) = match &known.value {
        KnownValue::Written(text) => (Some(text.clone()), None),
        KnownValue::Counted(si, meaning) => (None, Some((*si, *meaning))),
    };
    KnownRow {
        path: known.path.clone(),
        what: known.what,
        written,
        estimated,
        source,
        grade,
        note,
    }
}

impl EquipmentAnswer {
    pub(crate) fn of(path: &str, found: &StatedDryers) -> Self {
        Self {
            schema_version: EQUIPMENT_SCHEMA,
            path: path.to_owned(),
            dryers: found.dryers.iter().map(OwnDryer::of).collect(),
            left_out: found.left_out.clone(),
            notes: found.notes.clone(),
            faults: found.faults.clone(),
        }
    }

    /// Whether nothing is wrong.
    pub fn is_sound(&self) -> bool {
        self.faults.is_empty()
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn json(&self) -> Result<String, Trouble> {
        crate::json(self)
    }
}
