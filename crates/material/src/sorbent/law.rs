//! One sorption law of a desiccant: loading over the logarithm of vapour pressure, and back.

use super::SorbentError;
use super::toth::Toth;
use quantity::Range;

/// A law of one desiccant, all numbers in SI units: loading q in kg water per kg dry desiccant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SorbentLaw {
    /// Toth (1971): zeolites and regular-density silica gel.
    Toth(Toth),
}

/// Loading and its slopes with the logarithm of pressure and, at one pressure, with temperature.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Loaded {
    pub(super) loading: f64,
    pub(super) by_log_pressure: f64,
    pub(super) by_temperature: f64,
}

/// Logarithm of pressure (Pa) over a loading and its slopes with loading and temperature.
#[derive(Clone, Copy, Debug)]
pub(super) struct Inverse {
    pub(super) log_pressure: f64,
    pub(super) by_loading: f64,
    pub(super) by_temperature: f64,
}

impl SorbentLaw {
    /// Whether the numbers can be those of a desiccant.
    ///
    /// # Errors
    /// [`SorbentError::Number`].
    pub fn check(&self) -> Result<(), SorbentError> {
        match self {
            Self::Toth(law) => law.check(),
        }
    }

    /// At `ln_p` (logarithm of Pa) and `t` (K).
    pub(super) fn loaded(&self, ln_p: f64, t: f64) -> Loaded {
        match self {
            Self::Toth(law) => law.loaded(ln_p, t),
        }
    }

    /// The closed inverse, where there is one.
    #[expect(
        clippy::unnecessary_wraps,
        reason = "laws of several sites have no closed inverse"
    )]
    pub(super) fn inverse(&self, loading: f64, t: f64) -> Option<Inverse> {
        match self {
            Self::Toth(law) => Some(law.inverse(loading, t)),
        }
    }
}

/// Refuses a number of a law outside `low..=high`, and one that is no number.
pub(super) fn refused_unless(
    name: &'static str,
    value: f64,
    low: f64,
    high: f64,
    unit: &'static str,
) -> Result<(), SorbentError> {
    Range::new(name, low, high, unit)
        .check(value)
        .map(|_| ())
        .map_err(SorbentError::Number)
}
