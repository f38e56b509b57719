//! A round file: what was read on a dryer with hand instruments, beside the job it runs.

mod dryer;
mod fields;
mod readings;

pub use fields::ROUND;

use crate::bag::{Bag, Entry};
use crate::desiccant::Desiccants;
use crate::equipment::StatedDryer;
use crate::job_file::open_job;
use crate::library::Library;
use crate::order::in_order;
use crate::text::{Text, too_long};
use crate::walk::read_whole;
use job::{Reading, Round, RoundDryer};
use quantity::{FaultKind, Faults};
use std::path::Path;

/// A round as it was read.
#[derive(Clone, Debug)]
pub struct RoundRead {
    /// The round.
    pub round: Round,
    /// The dryer it was taken on, where the round names its record.
    pub record: Option<StatedDryer>,
}

/// Reads a round whose text did not come from a file; what it names is looked for from the present folder.
///
/// # Errors
/// Every mistake in the text, and in the job, the record and the good round it names.
pub fn read_round(
    text: &str,
    file: &str,
    library: &Library,
    desiccants: &Desiccants,
) -> Result<RoundRead, Faults> {
    read_in(Path::new(""), &Text::new(file, text), library, desiccants)
}

/// Reads a round from a file, see [`read_round`]; what it names is looked for beside it.
///
/// # Errors
/// As [`read_round`], and a file that is missing, cannot be opened, is too long or is not text.
pub fn open_round(
    path: &Path,
    library: &Library,
    desiccants: &Desiccants,
) -> Result<RoundRead, Faults> {
    let text = Text::open(path)?;
    let folder = path.parent().unwrap_or_else(|| Path::new(""));
    read_in(folder, &text, library, desiccants)
}

fn read_in(
    folder: &Path,
    text: &Text,
    library: &Library,
    desiccants: &Desiccants,
) -> Result<RoundRead, Faults> {
    let (bag, mut faults) = whole(text)?;
    let mut kept = Kept(&mut faults);
    // Where a name is missing the reader has told of it.
    let name = bag.get("job", Entry::text);
    let job = name.and_then(|name| kept.of(open_job(&folder.join(name), library)));
    let table = bag.get("dryer", Entry::table);
    let dryer = table.and_then(|table| kept.of(dryer::of(&table, folder, desiccants)));
    let known = dryer.as_ref().map(|(dryer, _)| dryer);
    let readings = kept.of(readings::of(&bag, known)).unwrap_or_default();
    let named = bag.get("good_round", Entry::text);
    let good = named.and_then(|name| kept.of(good(&folder.join(name), known)));
    match (job, dryer) {
        (Some(job), Some((dryer, record))) if faults.is_empty() => Ok(RoundRead {
            round: Round {
                title: title(&bag, &text.name),
                job,
                dryer,
                readings,
                good,
            },
            record,
        }),
        _ => Err(in_order(faults)),
    }
}

/// Mistakes so far.
struct Kept<'a>(&'a mut Faults);

impl Kept<'_> {
    /// What was read; what is wrong with it is kept.
    fn of<T>(&mut self, read: Result<T, Faults>) -> Option<T> {
        read.map_err(|mistakes| self.0.extend(mistakes)).ok()
    }
}

/// The readings of a good round.
fn good(path: &Path, dryer: Option<&RoundDryer>) -> Result<Vec<Reading>, Faults> {
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

#[cfg(test)]
mod tests;
