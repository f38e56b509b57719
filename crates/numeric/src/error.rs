//! What can go wrong in a numerical method, with its numbers.

use thiserror::Error;

/// A named failure of a numerical method.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum NumericError {
    /// A root was asked for where the function does not change sign.
    #[error("no sign change between {low} ({at_low}) and {high} ({at_high})")]
    NoSignChange {
        /// Lower end of the bracket.
        low: f64,
        /// Value there.
        at_low: f64,
        /// Upper end of the bracket.
        high: f64,
        /// Value there.
        at_high: f64,
    },
    /// An iteration did not settle.
    #[error("no convergence after {steps} steps; the last change was {change}")]
    NoConvergence {
        /// Steps taken.
        steps: usize,
        /// Size of the last change.
        change: f64,
    },
    /// A matrix has no inverse.
    #[error("the matrix is singular at row {row}")]
    Singular {
        /// Row where elimination broke down.
        row: usize,
    },
    /// A matrix that must be positive definite is not.
    #[error("the matrix is not positive definite at row {row}")]
    NotPositiveDefinite {
        /// Row where the factorisation broke down.
        row: usize,
    },
}
