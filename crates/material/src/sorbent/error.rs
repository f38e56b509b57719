//! What can be wrong with a desiccant.

use quantity::OutOfRange;
use thiserror::Error;

/// A desiccant that cannot be, or that is asked for more than is known of it.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum SorbentError {
    /// A number of a law that it cannot have.
    #[error("{0}")]
    Number(OutOfRange),
    /// No part at all.
    #[error("a desiccant needs at least one part that takes up water")]
    Empty,
    /// Shares of the parts that add up to more than the whole.
    #[error("the shares of the parts add up to {sum}, more than 1")]
    Shares {
        /// Their sum.
        sum: f64,
    },
    /// Temperatures in which the law is known to be wrong.
    #[error(
        "from {asked_low} to {asked_high} K is asked, and the law serves only {low} to {high} K: beyond, it is unphysical"
    )]
    BeyondLimit {
        /// Lowest temperature asked, K.
        asked_low: f64,
        /// Highest temperature asked, K.
        asked_high: f64,
        /// Lowest the law serves, K.
        low: f64,
        /// Highest the law serves, K.
        high: f64,
    },
    /// A loading that does not rise with the vapour pressure.
    #[error(
        "at {temperature} K the loading does not rise with vapour pressure near {loading} kg/kg"
    )]
    NotRising {
        /// Temperature, K.
        temperature: f64,
        /// Loading, kg/kg.
        loading: f64,
    },
}
