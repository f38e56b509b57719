//! Water and heat inside one pellet, and its history in any air.

pub mod blend;
mod calorics;
mod closing;
pub mod contact;
pub mod equivalent;
mod error;
pub mod figure;
pub mod film;
pub mod history;
pub mod inside;
pub mod interior;
pub mod modes;
pub mod nodal;
mod outline;
mod parcel;
pub mod radial;
pub mod ritz;

pub use error::PelletError;
pub use outline::{ASPECT_HOLDS, Outline, SIZE_HOLDS};
