//! Desiccant and air: what a slice of it does while air passes; shared by wheel and towers.
//!
//! 1. [`Adsorbed`]: equilibrium and heat of a sorbent, tabulated.
//! 2. [`Slice`], [`Contact`]: one slice and one step of time.
//! 3. [`Row`]: slices behind each other, as a channel of a wheel or a bed of beads.
//! 4. [`Passages`]: how air and matrix meet in a channel; [`Beads`]: in a bed of beads.

mod adsorbed;
mod beads;
mod cell;
mod pass;
mod passages;

pub use adsorbed::{ANCHOR, Adsorbed, Held, LawPoint, TABULATED, VAPOUR_GAS};
pub use beads::Beads;
pub use cell::{AirState, Cell, Contact, STAGE, Slice, Small, Tangent, mean};
pub use pass::{Row, RowSlopes, Way};
pub use passages::{Passages, Transfer};

#[cfg(test)]
pub(crate) mod tests;
