//! A round file: what was read on a dryer with hand instruments, beside the job it runs.

pub(crate) mod dryer;
mod fields;
mod readings;

pub(crate) use fields::DRYER;
pub use fields::ROUND;

use crate::bag::{Bag, Entry};
use crate::desiccant::Desiccants;
use crate::equipment::StatedDryer;
use crate::job_file::open_job;
use crate::library::Library;
use crate::order::in_order;
use crate::text::Text;
use crate::whole::{Kept, stem, whole};
use job::{Reading, Round, RoundDryer};
use quantity::Faults;
use std::path::Path;

/// A round as it was read.
#[derive(Clone, Debug)]
pub struct RoundRead {
    /// The round.
    pub round: Round,
    /// Each reading as it is written, in the order of those of the round.
    pub written: Vec<String>,
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
    let (bag, mut faults) = round_in(text)?;
    let mut kept = Kept(&mut faults);
    // Where a name is missing the reader has told of it.
    let name = bag.get("job", Entry::text);
    let job = name.and_then(|name| kept.of(open_job(&folder.join(name), library)));
    let table = bag.get("dryer", Entry::table);
    let dryer = table.and_then(|table| kept.of(dryer::of(&table, folder, desiccants)));
    let known = dryer.as_ref().map(|(dryer, _)| dryer);
    let written = kept.of(readings::of(&bag, known)).unwrap_or_default();
    let named = bag.get("good_round", Entry::text);
    let good = named.and_then(|name| kept.of(good(&folder.join(name), known)));
    match (job, dryer) {
        (Some(job), Some((dryer, record))) if faults.is_empty() => Ok(RoundRead {
            round: Round {
                title: bag
                    .get("title", Entry::text)
                    .unwrap_or_else(|| stem(&text.name, "round")),
                job,
                dryer,
                readings: written.readings,
                good,
            },
            written: written.texts,
            record,
        }),
        _ => Err(in_order(faults)),
    }
}

/// The readings of a good round.
fn good(path: &Path, dryer: Option<&RoundDryer>) -> Result<Vec<Reading>, Faults> {
    let (bag, mut faults) = round_in(&Text::open(path)?)?;
    match readings::of(&bag, dryer) {
        Ok(written) if faults.is_empty() => Ok(written.readings),
        Ok(_) => Err(in_order(faults)),
        Err(mistakes) => {
            faults.extend(mistakes);
            Err(in_order(faults))
        }
    }
}

/// What stands in a text, and what is wrong in it where the rest can still be understood.
fn round_in(text: &Text) -> Result<(Bag, Faults), Faults> {
    let mend = "give a file with the readings of one round";
    whole(text, &ROUND, "a round", mend)
}

#[cfg(test)]
mod tests;
