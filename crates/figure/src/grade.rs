//! What stands behind a number, in one word.

use serde::{Deserialize, Serialize};

/// What stands behind a number.
///
/// The last three are estimates: they are drawn dashed or hatched and written with a "≈".
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Grade {
    /// Read from an instrument.
    Measured,
    /// Fitted to measurements of the thing itself.
    Fitted,
    /// Computed by a model from inputs that are themselves measured or fitted.
    Computed,
    /// Taken over from something similar.
    Analogy,
    /// What the trade usually does, without a source.
    CommonPractice,
    /// Assumed for want of anything better.
    Assumed,
}

impl Grade {
    /// Whether it has to look like an estimate.
    pub fn is_estimate(self) -> bool {
        matches!(self, Self::Analogy | Self::CommonPractice | Self::Assumed)
    }

    /// The grade as a word beside the number.
    pub fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Fitted => "fitted",
            Self::Computed => "computed",
            Self::Analogy => "analogy",
            Self::CommonPractice => "common practice",
            Self::Assumed => "assumed",
        }
    }
}
