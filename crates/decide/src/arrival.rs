//! Moisture of the resin as it arrives: stated, computed from its storage, or the record's.

use crate::{DecideError, storage};
use job::Job;
use pellet::Outline;
use quantity::Quantity;

/// Arriving moisture, kg/kg dry.
///
/// # Errors
/// From the pellet.
pub(crate) fn moisture(job: &Job, outline: &Outline) -> Result<f64, DecideError> {
    if let Some(stated) = job.arrival.moisture {
        return Ok(stated.dry_basis().si());
    }
    match &job.arrival.storage {
        Some(stored) => storage::moisture(&job.resin, stored, outline),
        None => Ok(job.resin.received.opened.value.si()),
    }
}
