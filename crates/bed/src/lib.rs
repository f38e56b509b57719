//! Pellets and air meeting: the hopper, in time and at steady state.

pub mod column;
mod error;
pub mod hopper;
pub mod lived;
pub mod profile;
pub mod run;
pub mod steady;

#[cfg(test)]
mod blend_trials;
#[cfg(test)]
mod trials;

pub use error::BedError;
