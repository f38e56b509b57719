//! The job file: from what a user wrote to a job, or to every mistake in it at once.
//!
//! [`JOB`] describes the file, [`read_job`] reads it against a library of resins, and [`job_notes`]
//! says what is allowed and still worth a look.

mod assemble;
mod contradictions;
mod damp;
mod fields;
mod notes;
mod plant_fields;
mod resin_table;

pub use fields::JOB_FIELDS;
pub use notes::job_notes;

use crate::bag::Entry;
use crate::library::Library;
use crate::text::Text;
use crate::walk::{FileKind, read_whole};
use job::Job;
use quantity::{Fault, FaultKind, Faults, Place};
use std::path::Path;

/// Job files.
pub const JOB: FileKind = FileKind {
    name: "a job file",
    format: 1,
    section: &JOB_FIELDS,
};

/// Longest job file that is read, in bytes and in lines: ten times the longest a person writes.
const LONGEST: usize = 64 << 10;
const MOST_LINES: usize = 4000;

/// Reads a job: `text` is what the file says, `file` its name as the user knows it.
///
/// # Errors
/// Every mistake in the file: of syntax, of names, of units and basis, of range, of fields that are
/// missing or contradict each other, and of a resin the library does not know.
pub fn read_job(text: &str, file: &str, library: &Library) -> Result<Job, Faults> {
    if text.len() > LONGEST || text.lines().nth(MOST_LINES).is_some() {
        return Err(too_long(file, text).into());
    }
    let text = Text::new(file, text);
    let (bag, mut faults) = read_whole(&text, &JOB);
    if faults.iter().any(|fault| unsound(fault.kind)) {
        // What follows from a line that could not be read is no mistake of the user.
        return Err(in_order(faults));
    }
    let resin = match bag.get("resin", Entry::table) {
        Some(given) => match resin_table::resin(&given, library) {
            Ok(resin) => Some(resin),
            Err(mistakes) => {
                faults.extend(mistakes);
                None
            }
        },
        None => None,
    };
    faults.extend(contradictions::check(&bag, resin.as_ref()));
    match resin {
        Some(resin) if faults.is_empty() => assemble::job(&bag, resin, &stem(file)),
        _ => Err(in_order(faults)),
    }
}

/// Reads a job from a file, see [`read_job`].
///
/// # Errors
/// As [`read_job`], and a file that is missing, cannot be opened, is too long or is not text.
pub fn open_job(path: &Path, library: &Library) -> Result<Job, Faults> {
    let text = Text::open(path)?;
    read_job(&text.content, &text.name, library)
}

/// The mistakes in the order of their places, a table to be added named by its whole path.
fn in_order(mut faults: Faults) -> Faults {
    let adds = [
        FaultKind::MissingField,
        FaultKind::Alternatives,
        FaultKind::WrongSort,
    ];
    for fault in faults.0.iter_mut().filter(|f| adds.contains(&f.kind)) {
        let path = &fault.place.path;
        let lines = fault.mend.lines().map(|line| match heading(line) {
            Some((before, name)) if path.ends_with(&format!(".{name}")) => {
                format!("{before}[{path}]")
            }
            Some((before, name)) if path != name && !path.is_empty() => {
                format!("{before}[{path}.{name}]")
            }
            _ => line.to_owned(),
        });
        fault.mend = lines.collect::<Vec<_>>().join("\n");
    }
    match faults.or(()) {
        Ok(()) => Faults::none(),
        Err(ordered) => ordered,
    }
}

/// What stands before a heading at the end of a line, and its name.
fn heading(line: &str) -> Option<(&str, &str)> {
    let (before, name) = line.strip_suffix(']')?.rsplit_once('[')?;
    let bare = before.is_empty() || before.ends_with(' ');
    let plain = name.chars().all(|c| c.is_ascii_lowercase() || c == '_');
    (bare && plain && !name.is_empty()).then_some((before, name))
}

/// Whether a mistake leaves it open what the rest of the file says.
fn unsound(kind: FaultKind) -> bool {
    matches!(
        kind,
        FaultKind::Unreadable | FaultKind::RepeatedField | FaultKind::Format
    )
}

fn too_long(file: &str, text: &str) -> Fault {
    let cause = format!(
        "the file has {} bytes in {} lines, more than the {LONGEST} bytes and {MOST_LINES} lines \
         that a job is read from",
        text.len(),
        text.lines().count()
    );
    let mend = "give a file that describes one job";
    let place = Place::of(file, "");
    Fault::new(FaultKind::Unreadable, place, "", cause, mend)
}

/// The name of a file without folder and ending.
fn stem(file: &str) -> String {
    let stem = Path::new(file).file_stem();
    stem.map_or_else(|| "job".to_owned(), |s| s.to_string_lossy().into_owned())
}

#[cfg(test)]
mod tests;
