//! One sorption law of a desiccant: loading over the logarithm of vapour pressure, and back.

use super::SorbentError;
use super::potential::{Characteristic, DubininAstakhov};
use super::sites::Sites;
use super::toth::Toth;
use quantity::Range;

/// A law of one desiccant, all numbers in SI units: loading q in kg water per kg dry desiccant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SorbentLaw {
    /// Toth (1971): zeolites and regular-density silica gel.
    Toth(Toth),
    /// Four molecules to a cage: 3A.
    Sites(Sites),
    /// A characteristic curve as a quotient of polynomials: binderless 13X.
    Characteristic(Characteristic),
    /// Dubinin and Astakhov (1971): silica gel.
    DubininAstakhov(DubininAstakhov),
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
            Self::Sites(law) => law.check(),
            Self::Characteristic(law) => law.check(),
            Self::DubininAstakhov(law) => law.check(),
        }
    }

    /// At `ln_p` (logarithm of Pa) and `t` (K).
    pub(super) fn loaded(&self, ln_p: f64, t: f64) -> Loaded {
        match self {
            Self::Toth(law) => law.loaded(ln_p, t),
            Self::Sites(law) => law.loaded(ln_p, t),
            Self::Characteristic(law) => law.loaded(ln_p, t),
            Self::DubininAstakhov(law) => law.loaded(ln_p, t),
        }
    }

    /// The inverse of the law alone, where it has one of its own.
    pub(super) fn inverse(&self, loading: f64, t: f64) -> Option<Inverse> {
        match self {
            Self::Toth(law) => Some(law.inverse(loading, t)),
            Self::Sites(_) => None,
            Self::Characteristic(law) => Some(law.inverse(loading, t)),
            Self::DubininAstakhov(law) => Some(law.inverse(loading, t)),
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
