//! The data sheet of a job: laid over the record of its resin, and kept beside it.

use super::resin_table;
use crate::bag::{Bag, Entry};
use crate::data_sheet::{self, contradictions, in_record};
use crate::library::Library;
use crate::rules::overlay;
use job::DataSheet;
use material::Resin;
use quantity::Faults;

/// The resin of a job with what its data sheet says anew.
///
/// # Errors
/// As of the resin, and a data sheet that contradicts itself or the resin.
pub(super) fn resin(job: &Bag, given: &Bag, library: &Library) -> Result<Resin, Faults> {
    let table = job.get("data_sheet", Entry::table);
    let mut faults = table.as_ref().map_or_else(Faults::none, contradictions);
    let read = match resin_table::resin(given, library) {
        Ok(resin) => resin,
        Err(mistakes) => {
            faults.extend(mistakes);
            return Err(faults);
        }
    };
    let read = faults.or(read)?;
    let Some(table) = table else {
        return Ok(read);
    };
    let over = in_record(&table, &read, given, "data sheet of the grade");
    if over.entries().next().is_none() {
        return Ok(read);
    }
    resin_table::resin(&overlay(given, &over), library)
}

/// What the data sheet says: the job's own, and below it that of a grade by the user's own name.
pub(super) fn sheet(job: &Bag, library: &Library) -> Option<DataSheet> {
    let own = job.get("data_sheet", Entry::table);
    let own = own.map(|table| data_sheet::sheet(&table, None));
    let name = job.get("resin", Entry::table)?.get("name", Entry::text);
    let below = name.and_then(|name| library.sheet(&name)).cloned();
    match (own, below) {
        (Some(own), Some(below)) => Some(own.over(below)),
        (own, below) => own.or(below),
    }
}
