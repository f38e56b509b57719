//! Why a question could not be answered.

use air::AirError;
use bed::BedError;
use pellet::PelletError;
use thiserror::Error;

/// A named failure; a plan that cannot be met is an answer, not an error.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum DecideError {
    /// The air of the job cannot be.
    #[error("the air of {place} cannot be: {cause}")]
    Air {
        /// Which air.
        place: &'static str,
        /// Why.
        cause: AirError,
    },
    /// The pellet cannot be solved.
    #[error("the pellet cannot be solved: {0}")]
    Pellet(#[from] PelletError),
    /// What a pellet goes through on its way cannot be.
    #[error("the way of a pellet cannot be: {0}")]
    History(quantity::Faults),
    /// The bed cannot be solved.
    #[error("the hopper cannot be solved: {0}")]
    Bed(#[from] BedError),
}
