//! Twin desiccant towers: two beds of beads, one drying while the other is regenerated and cooled.
//!
//! # Equations
//! 1. A bed is a row of slices, each the kernel of [`crate::sorption`], with the vessel's steel at the
//!    temperature of its beads; [`crate::sorption::Beads`] gives transfer and friction.
//! 2. A tower dries; is regenerated, air against the drying; cooled, air along or against; and waits. A
//!    stage ends after a time or when the air leaving has a temperature; the towers swap after a time, or
//!    when the dried air has a dew point and the other tower is ready, at the latest after a time.
//! 3. Periodic by the clock: each tower ends two half-cycles as it began them, whatever the other does.
//!    With `F` both half-cycles, `x = F(x)` is solved by Newton, `x + (1 - F')^-1 (F(x) - x)`, with the
//!    exact slopes carried along; equal towers are each other's mirror and solved once.
//! 4. Where air ends a stage or swaps the towers, cycles are run until they repeat, and that is said.
//! 5. Steps grow with the time since swap or stage began, up to the time in which a front of heat passes
//!    some slices; one that crosses the end of a stage is cut to meet it.
//! 6. A valve that does not close lets a share of the process air by: `Y = (1 - s) Y_bed + s Y_in`, and
//!    likewise the enthalpy.
//! 7. Stoichiometric breakthrough: the water the bed still takes up until at rest with its air, over what
//!    the air brings less what it keeps: `t = L rho (q_in - q)/(G (Y_in - Y_out))`.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! L | `TowersSpec::depth` | m
//! rho | `TowersSpec::bulk_density` | kg/m3
//! s | `TowersSpec::bypass` | 1
//! x | loading and heat of each slice |
//!
//! # Holds for
//! Regeneration to 280 degC. Left out: loss through the wall, steel as another temperature than its beads,
//! dispersion (half a bead), air in the voids (some 0.3 s of flow at a swap), hysteresis, other vapours.
//! Pore diffusivity is the same at all temperatures. The sorbent's law limits the result by far: laws of
//! one zeolite part by 8 K of dew point.
//!
//! # Sources
//! The kernel and the beads name theirs.
//!
//! # Checked by
//! `tests/src/peers/towers.rs`, `tests/src/exact/schumann.rs`

mod breakthrough;
mod clock;
mod half;
mod in_time;
mod picture;
mod spec;
mod steady;

pub use breakthrough::Breakthrough;
pub use clock::{Clock, Stage};
pub use half::{Half, Moment, Outlet, Regenerated};
pub use in_time::{TowersPassed, TowersState};
pub use spec::{Cycle, Ending, Swap, Towers, TowersDrive, TowersMesh, TowersSpec};
pub use steady::{Repeats, TowersGuess, TowersSteady};

#[cfg(test)]
mod tests;
