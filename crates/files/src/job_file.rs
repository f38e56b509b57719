//! The job file: from what a user wrote to a job, or to every mistake in it at once.
//!
//! [`JOB`] describes the file, [`read_job`] reads it against a library of resins, and [`job_notes`]
//! says what is allowed and still worth a look.

mod assemble;
mod cell;
mod contradictions;
mod crystalliser;
mod damp;
mod fields;
mod lot_fields;
mod lot_table;
mod notes;
mod plant;
mod plant_fields;
mod resin_table;
mod sheet;
mod storage;
mod way;
mod way_fields;

pub(crate) use assemble::demand_of;
pub use cell::{CELL, open_cell};
pub use fields::JOB_FIELDS;
pub(crate) use fields::{COLDEST_PLACE, JOB_RESIN, SHOTS, WARMEST_PLACE, quantity};
pub use notes::job_notes;
pub(crate) use plant_fields::{DAMPEST_POINT, DRIEST_POINT};

use crate::bag::{Bag, Entry};
use crate::library::Library;
use crate::order::in_order;
use crate::text::Text;
use crate::walk::FileKind;
use crate::whole::{stem, whole};
use job::Job;
use quantity::{Faults, Temperature};
use std::path::Path;

/// Job files.
pub const JOB: FileKind = FileKind {
    name: "a job file",
    format: 1,
    section: &JOB_FIELDS,
};

/// Reads a job: `text` is what the file says, `file` its name as the user knows it.
///
/// # Errors
/// Every mistake in the file: of syntax, of names, of units and basis, of range, of fields that are
/// missing or contradict each other, and of a resin the library does not know. A weather file needs
/// the folder of the job: see [`open_job`].
pub fn read_job(text: &str, file: &str, library: &Library) -> Result<Job, Faults> {
    read_in(None, text, file, library)
}

/// Reads a job whose file stands in a folder: what it names is looked for there.
fn read_in(
    folder: Option<&Path>,
    text: &str,
    file: &str,
    library: &Library,
) -> Result<Job, Faults> {
    let text = Text::new(file, text);
    let mend = "give a file that describes one job";
    let (bag, mut faults) = whole(&text, &JOB, "a job", mend)?;
    let resin = match bag.get("resin", Entry::table) {
        Some(given) => match sheet::resin(&bag, &given, library) {
            Ok(resin) => Some(resin),
            Err(mistakes) => {
                faults.extend(mistakes);
                None
            }
        },
        None => None,
    };
    faults.extend(contradictions::check(&bag, resin.as_ref()));
    let lot = lot_table::components(&bag, resin.as_ref(), feed(&bag), library).unwrap_or_else(
        |mistakes| {
            faults.extend(mistakes);
            Vec::new()
        },
    );
    let weather = storage::of_job(&bag, folder).unwrap_or_else(|mistakes| {
        faults.extend(mistakes);
        None
    });
    match resin {
        Some(resin) if faults.is_empty() => {
            let mut job = assemble::job(&bag, resin, lot, &stem(file, "job"))?;
            storage::lay(&mut job, weather);
            let data_sheet = sheet::sheet(&bag, library);
            Ok(Job { data_sheet, ..job })
        }
        _ => Err(in_order(faults)),
    }
}

/// Temperature of what is fed: stated, or that of the hall.
fn feed(bag: &Bag) -> Option<Temperature> {
    let of = |table: &str, field: &str| {
        let table = bag.get(table, Entry::table)?;
        table.get(field, Entry::quantity)
    };
    of("arrival", "temperature").or_else(|| of("site", "ambient"))
}

/// Reads a job from a file, see [`read_job`].
///
/// # Errors
/// As [`read_job`], a file that is missing, cannot be opened, is too long or is not text, and every
/// mistake in the weather file it names.
pub fn open_job(path: &Path, library: &Library) -> Result<Job, Faults> {
    let text = Text::open(path)?;
    let folder = path.parent().unwrap_or_else(|| Path::new(""));
    read_in(Some(folder), &text.content, &text.name, library)
}

#[cfg(test)]
mod tests;
