//! Moisture of the resin as it arrives: stated, computed from its storage, or the record's.

use crate::DecideError;
use crate::storage::{Stored, stored};
use job::{Job, Package};
use pellet::Outline;
use quantity::Quantity;

/// Arriving moisture, kg/kg dry, and what a store made of it where one is stated.
///
/// # Errors
/// From the pellet.
pub(crate) fn moisture(job: &Job, outline: &Outline) -> Result<(f64, Option<Stored>), DecideError> {
    if let Some(stated) = job.arrival.moisture {
        return Ok((stated.dry_basis().si(), None));
    }
    let received = &job.resin.received;
    let Some(storage) = &job.arrival.storage else {
        return Ok((received.opened.value.si(), None));
    };
    let package = match storage.package {
        Package::Sealed => received.sealed.value.si(),
        Package::Opened => received.opened.value.si(),
    };
    let stored = stored(&job.resin, storage, outline)?;
    let moisture = stored.as_ref().map(|stored| stored.moisture_kg_kg);
    Ok((moisture.unwrap_or(package), stored))
}
