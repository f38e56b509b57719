//! What makes the drying air: each component a model of what it does to a [`Stream`].
//!
//! Components speak plain SI inside: K, Pa, kg of dry air a second, kg of water per kg of dry air.
//! All count heat with [`air::caloric`], so that what leaves one enters the next to the digit.

pub mod channel;
mod error;
pub mod sorption;
mod stream;
pub mod wheel;

pub use error::DryerError;
pub use stream::Stream;
