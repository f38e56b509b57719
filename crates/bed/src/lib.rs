//! Pellets and air meeting: the hopper, in time and at steady state.

pub mod column;
mod error;

pub use error::BedError;
