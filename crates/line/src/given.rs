//! What a machine is given: the air that comes back, the way it must blow through, the day.

use crate::Room;
use dryer::{Resistance, Stream};

/// Air that flows, over what is wanted; see [`crate::Line::steady_as_blown`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shares {
    /// Process air: of every hopper, of what leaks in, of the cooling sector.
    pub process: f64,
    /// Regeneration air.
    pub regeneration: f64,
}

impl Shares {
    /// All that is wanted flows.
    pub const WANTED: Self = Self {
        process: 1.0,
        regeneration: 1.0,
    };
}

/// What a machine is given in a round, or for a step.
#[derive(Clone, Copy, Debug)]
pub struct Given<'a> {
    /// Air that comes back from the hoppers.
    pub returned: &'a Stream,
    /// Streams that run round inside the machine.
    pub inner: &'a [Stream],
    /// The way through the hoppers, as [`Resistance::seen`].
    pub beyond: Resistance,
    /// The day.
    pub room: &'a Room,
    /// What flows of what is wanted.
    pub shares: Shares,
    /// Dry air that the hoppers are given, kg/s; what leaks between makes that returned another.
    pub delivered: f64,
}
