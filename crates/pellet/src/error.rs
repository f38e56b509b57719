//! What can be wrong with a pellet or its history.

use air::AirError;
use numeric::NumericError;
use quantity::OutOfRange;
use thiserror::Error;

/// A named failure, with its numbers.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PelletError {
    /// A size no pellet has.
    #[error("a pellet size of {:.4} mm is outside 0.05 to 50 mm", size * 1e3)]
    Size {
        /// The size, m.
        size: f64,
    },
    /// Too flat or too long.
    #[error("length over diameter of {aspect:.3} is outside 0.1 to 10")]
    Aspect {
        /// Length over diameter.
        aspect: f64,
    },
    /// A lens thicker than its rim is wide.
    #[error("a lens {:.3} mm thick cannot have a rim of {:.3} mm", thickness * 1e3, diameter * 1e3)]
    LensTooThick {
        /// Rim diameter, m.
        diameter: f64,
        /// Thickness, m.
        thickness: f64,
    },
    /// A shape that needs a length has none.
    #[error("this shape needs a length as well as a diameter")]
    MissingLength,
    /// A number in the history that cannot be.
    #[error("{what} of {value} {unit} at {hours:.3} h is outside {low} to {high} {unit}")]
    History {
        /// Which number.
        what: &'static str,
        /// Its value.
        value: f64,
        /// Its unit.
        unit: &'static str,
        /// When.
        hours: f64,
        /// Least allowed.
        low: f64,
        /// Most allowed.
        high: f64,
    },
    /// An inside carried with other modes or nodes.
    #[error("an inside of {found} numbers cannot go on as one of {wanted}")]
    OtherInside {
        /// Numbers it has.
        found: usize,
        /// Numbers it needs.
        wanted: usize,
    },
    /// A number outside the range that something holds for.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Air that cannot be.
    #[error(transparent)]
    Air(#[from] AirError),
    /// A numerical method failed.
    #[error("the pellet could not be solved: {0}")]
    Numeric(#[from] NumericError),
}
