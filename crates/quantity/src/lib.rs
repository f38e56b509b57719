//! Quantities named by meaning and basis, their text forms, and the faults a reader can make.
//!
//! Every type here wraps one `f64` in SI units; two types may share a dimension (a dew point and a
//! frost point are both kelvin) and still refuse to be mixed, because the classic slips of the
//! drying trade are slips of basis, not of dimension.
//!
//! Text goes in through `"12 kg/h".parse::<MassFlow>()` and comes out through [`show`].

pub mod constants;
mod fault;
mod field;
mod kinds;
mod ledger;
mod meaning;
mod misread;
mod nearest;
pub mod parse;
mod print;
mod range;
mod stated;
pub mod units;

pub use fault::{Fault, FaultKind, Faults, Place};
pub use field::{Field, FieldKind, Rule, Section};
pub use kinds::*;
pub use ledger::{Entry, Ledger};
pub use meaning::{Meaning, Written};
pub use misread::{Candidate, Misread};
pub use nearest::{did_you_mean, nearest};
pub use parse::Value;
pub use print::{Show, digits, show, show_si, show_to};
pub use range::{OutOfRange, Range};
pub use stated::{AirFlow, Humidity, Moisture, StatedPressure, air_flow};
pub use units::{Dimension, Unit, Units};

/// A number with a meaning: one `f64` in the SI unit named by the type.
pub trait Quantity: Copy {
    /// Wraps a plain number in SI units.
    fn from_si(value: f64) -> Self;
    /// The plain number in SI units.
    fn si(self) -> f64;
}
