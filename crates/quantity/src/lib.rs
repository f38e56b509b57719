//! Quantities named by meaning and basis, their text forms, and the faults a reader can make.
//!
//! Every type here wraps one `f64` in SI units; two types may share a dimension (a dew point and a
//! frost point are both kelvin) and still refuse to be mixed, because the classic slips of the
//! drying trade are slips of basis, not of dimension.

pub mod constants;
mod kinds;

pub use kinds::*;

/// A number with a meaning: one `f64` in the SI unit named by the type.
pub trait Quantity: Copy {
    /// Wraps a plain number in SI units.
    fn from_si(value: f64) -> Self;
    /// The plain number in SI units.
    fn si(self) -> f64;
}
