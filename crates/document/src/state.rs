//! How a pellet, a lot or a plan stands: a word and a shape first, a colour second.

use serde::{Deserialize, Serialize};

/// How something stands against its limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum State {
    /// Within all limits.
    InWindow,
    /// Within all limits by the best value, but in too few of the draws to rely on.
    NotSure,
    /// Moisture above the limit.
    Wet,
    /// Moisture below the lower edge, for resins that have one.
    TooDry,
    /// Hot for too long.
    Cooked,
    /// Too hot to rest: the pellets would fuse to a block.
    Fuses,
    /// Not enough is known to say.
    Unknown,
}

impl State {
    /// The state as a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::InWindow => "in window",
            Self::NotSure => "not sure",
            Self::Wet => "wet",
            Self::TooDry => "too dry",
            Self::Cooked => "cooked",
            Self::Fuses => "would fuse",
            Self::Unknown => "unknown",
        }
    }

    /// The state as one character of text: within, half within, above, below, burnt
    /// through, a block, open.
    pub fn mark(self) -> char {
        match self {
            Self::InWindow => '●',
            Self::NotSure => '◐',
            Self::Wet => '▲',
            Self::TooDry => '▼',
            Self::Cooked => '◆',
            Self::Fuses => '■',
            Self::Unknown => '○',
        }
    }
}
