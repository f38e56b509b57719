//! What can be wrong with a hopper or stop its solution.

use numeric::NumericError;
use pellet::PelletError;
use thiserror::Error;

/// A named failure, with its numbers.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum BedError {
    /// The pellets could not be solved.
    #[error("in the bed, {0}")]
    Pellet(#[from] PelletError),
    /// The balances of the whole bed could not be closed.
    #[error("the bed could not be solved: {0}")]
    Numeric(#[from] NumericError),
    /// A number that no hopper can have.
    #[error("{what} of {value} {unit} must lie between {low} and {high} {unit}")]
    Impossible {
        /// Which number.
        what: &'static str,
        /// Its value.
        value: f64,
        /// Its unit.
        unit: &'static str,
        /// Least.
        low: f64,
        /// Most.
        high: f64,
    },
}
