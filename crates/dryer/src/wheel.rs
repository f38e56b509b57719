//! Desiccant wheel: a matrix of channels that turns from the air it dries through the air that
//! regenerates it.
//!
//! # Equations
//! 1. A channel is a row of slices, each the kernel of [`crate::sorption`]; it turns through the
//!    sectors in order and meets in each the air of that sector, along or against its depth.
//! 2. Periodic: the channel ends a turn as it began it. With `F` the turn, `x = F(x)` is solved by
//!    Newton, `x + (1 - F')^-1 (F(x) - x)`, with the exact slopes `F'` carried through the sweep.
//! 3. In time: as many channels as slots of the angle, one at each; a step turns them on together.
//! 4. Steps within a sector grow with the time since it began, since fronts widen as they travel.
//! 5. Seals: a share of one sector's air joins another's, mixed without loss of water or heat.
//! 6. Air left in the channels, `V = open L rho` per face, is pushed out into the next sector ahead of
//!    its own air, meeting the slices on its way.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! L | `WheelSpec::depth` | m
//! n | `WheelDrive::turns_per_hour` | 1/h
//! x | `WheelGuess` | loading and heat of each slice
//!
//! # Holds for
//! Laminar channels; regeneration to 280 degC. Left out: conduction along the matrix (against
//! convection `k/(G c_p L)`, some 1e-4), across channels, and through the rim; hysteresis; other
//! vapours. The sorbent's law limits the result by far: laws of one zeolite part by 8 K of dew point.
//!
//! # Sources
//! Sphaier and Worek (2006), Int. J. Heat Mass Transfer 49, 1412, for when conduction along the matrix
//! matters (abstract).
//!
//! # Checked by
//! `tests/src/peers/wheel.rs`, `tests/src/peers/explicit_wheel.rs`,
//! `tests/src/published/silica_gel_wheel_map.rs`

mod calibrate;
mod in_time;
mod picture;
mod reserve;
mod secants;
mod spec;
mod steady;
mod turn;

pub use calibrate::{Calibration, SHIFT_HOLDS};
pub use in_time::{Channel, WheelPassed, WheelState};
pub use reserve::{CLIFF_RISE, Reserve};
pub use spec::{Duty, End, Leak, Mesh, Sector, Wheel, WheelDrive, WheelSpec};
pub use steady::{AnglePoint, Found, SectorOutlet, WheelGuess, WheelSteady};

#[cfg(test)]
mod effects;
#[cfg(test)]
mod tests;
