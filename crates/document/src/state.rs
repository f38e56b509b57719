//! How a pellet, a lot or a plan stands: a word and a shape first, a colour second.

use serde::{Deserialize, Serialize};

/// How something stands against its limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum State {
    /// Within all limits.
    InWindow,
    /// Moisture above the limit.
    Wet,
    /// Moisture below the lower edge, for resins that have one.
    TooDry,
    /// Too hot or hot for too long.
    Cooked,
    /// Not enough is known to say.
    Unknown,
}

impl State {
    /// The state as a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::InWindow => "in window",
            Self::Wet => "wet",
            Self::TooDry => "too dry",
            Self::Cooked => "cooked",
            Self::Unknown => "unknown",
        }
    }

    /// The state as one character of text: within, above, below, burnt through, open.
    pub fn mark(self) -> char {
        match self {
            Self::InWindow => '●',
            Self::Wet => '▲',
            Self::TooDry => '▼',
            Self::Cooked => '◆',
            Self::Unknown => '○',
        }
    }
}
