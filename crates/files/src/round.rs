//! A round file: what was read on a dryer with hand instruments, beside the job it runs.

mod fields;
mod readings;

pub use fields::ROUND;

use crate::bag::{Bag, Entry};
use crate::job_file::open_job;
use crate::library::Library;
use crate::order::in_order;
use crate::text::{Text, too_long};
use crate::walk::read_whole;
use job::{ControlledAt, DryerKind, Reading, Round, StatedDryer};
use quantity::{FaultKind, Faults};
use std::path::Path;

/// Reads a round whose text did not come from a file; what it names is looked for from the present folder.
///
/// # Errors
/// Every mistake in the text, and in the job and the good round it names.
pub fn read_round(text: &str, file: &str, library: &Library) -> Result<Round, Faults> {
    read_in(Path::new(""), &Text::new(file, text), library)
}

/// Reads a round from a file, see [`read_round`]; what it names is looked for beside it.
///
/// # Errors
/// As [`read_round`], and a file that is missing, cannot be opened, is too long or is not text.
pub fn open_round(path: &Path, library: &Library) -> Result<Round, Faults> {
    let text = Text::open(path)?;
    let folder = path.parent().unwrap_or_else(|| Path::new(""));
    read_in(folder, &text, library)
}

fn read_in(folder: &Path, text: &Text, library: &Library) -> Result<Round, Faults> {
    let (bag, mut faults) = whole(text)?;
    let job = match bag.need("job", Entry::text) {
        Ok(name) => match open_job(&folder.join(name), library) {
            Ok(job) => Some(job),
            Err(mistakes) => {
                faults.extend(mistakes);
                None
            }
        },
        // The reader has told of it.
        Err(_) => None,
    };
    let dryer = bag.get("dryer", Entry::table).map(|table| dryer(&table));
    let readings = match &dryer {
        Some(dryer) => readings::of(&bag, dryer).unwrap_or_else(|mistakes| {
            faults.extend(mistakes);
            Vec::new()
        }),
        None => Vec::new(),
    };
    let good = match (bag.get("good_round", Entry::text), &dryer) {
        (Some(name), Some(dryer)) => match good(&folder.join(name), dryer) {
            Ok(readings) => Some(readings),
            Err(mistakes) => {
                faults.extend(mistakes);
                None
            }
        },
        _ => None,
    };
    match (job, dryer) {
        (Some(job), Some(dryer)) if faults.is_empty() => Ok(Round {
            title: title(&bag, &text.name),
            job,
            dryer,
            readings,
            good,
        }),
        _ => Err(in_order(faults)),
    }
}

/// The readings of a good round.
fn good(path: &Path, dryer: &StatedDryer) -> Result<Vec<Reading>, Faults> {
    let (bag, mut faults) = whole(&Text::open(path)?)?;
    match readings::of(&bag, dryer) {
        Ok(readings) if faults.is_empty() => Ok(readings),
        Ok(_) => Err(in_order(faults)),
        Err(mistakes) => {
            faults.extend(mistakes);
            Err(in_order(faults))
        }
    }
}

/// What stands in a text, and what is wrong in it where the rest can still be understood.
fn whole(text: &Text) -> Result<(Bag, Faults), Faults> {
    let mend = "give a file with the readings of one round";
    if let Some(fault) = too_long(&text.name, &text.content, "a round", mend) {
        return Err(fault.into());
    }
    let (bag, faults) = read_whole(text, &ROUND);
    let unsound = |kind: FaultKind| {
        matches!(
            kind,
            FaultKind::Unreadable | FaultKind::RepeatedField | FaultKind::Format
        )
    };
    if faults.iter().any(|fault| unsound(fault.kind)) {
        return Err(in_order(faults));
    }
    Ok((bag, faults))
}

fn title(bag: &Bag, file: &str) -> String {
    bag.get("title", Entry::text).unwrap_or_else(|| {
        let stem = Path::new(file).file_stem();
        stem.map_or_else(|| "round".to_owned(), |s| s.to_string_lossy().into_owned())
    })
}

fn dryer(table: &Bag) -> StatedDryer {
    let kind = table.get("kind", Entry::choice);
    StatedDryer {
        kind: kind
            .and_then(DryerKind::of_words)
            .unwrap_or(DryerKind::Wheel),
        rated_flow: table.get("rated_flow", Entry::air_flow),
        controlled_at: match table.get("controlled_at", Entry::choice) {
            Some("dryer outlet") => ControlledAt::Dryer,
            _ => ControlledAt::Hopper,
        },
        cooler: table.get("water_cooler", Entry::flag).unwrap_or(true),
        dew_point_doubt: table.get("dew_point_doubt", Entry::quantity),
    }
}

#[cfg(test)]
mod tests;
