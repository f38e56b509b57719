//! A value with its parents: where it came from and how sure we are.

use quantity::Quantity;
use serde::{Deserialize, Serialize};

/// How a value came to be known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Grade {
    /// Measured on this resin and read in the source named.
    Measured,
    /// Fitted to a measurement, or computed from measured numbers, read in the source named.
    Fitted,
    /// Stated by the user for this job.
    Stated,
    /// Carried over from a similar resin, a handbook range, or memory of a source.
    Analogy,
    /// What the trade does; no source.
    CommonPractice,
}

impl Grade {
    /// The word shown to people.
    pub fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Fitted => "fitted",
            Self::Stated => "stated",
            Self::Analogy => "analogy",
            Self::CommonPractice => "common practice",
        }
    }

    /// Whether the value must look like an estimate wherever it is shown.
    pub fn is_estimate(self) -> bool {
        matches!(self, Self::Analogy | Self::CommonPractice)
    }
}

/// One standard deviation of what is not known about a value.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Spread {
    /// Plus or minus, in the SI unit of the value.
    Absolute(f64),
    /// Times or divided by: one geometric standard deviation.
    Factor(f64),
    /// Taken as exact.
    Exact,
}

impl Spread {
    /// The value `deviations` standard deviations away from `centre`: `centre + k s`, or
    /// `centre f^k` for a factor.
    pub fn shift(self, centre: f64, deviations: f64) -> f64 {
        match self {
            Self::Absolute(sigma) => centre + deviations * sigma,
            Self::Factor(factor) => centre * libm::exp(deviations * libm::log(factor)),
            Self::Exact => centre,
        }
    }
}

/// A value, its spread, and where both come from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Evidence<T> {
    /// The value.
    pub value: T,
    /// How far it may be off.
    pub spread: Spread,
    /// Key of the bibliography, or `common-practice`, or `stated`.
    pub source: String,
    /// Where in the source.
    pub place: String,
    /// How it came to be known.
    pub grade: Grade,
    /// The value as it was written, with its unit and basis.
    pub written: String,
    /// Conditions, what was extrapolated, errata.
    pub note: Option<String>,
    /// The record or family it was carried over from, when it is not the resin's own.
    #[serde(default)]
    pub inherited_from: Option<String>,
}

impl<T: Quantity> Evidence<T> {
    /// A value the user states for this job, taken as exact.
    pub fn stated(value: T, written: impl Into<String>) -> Self {
        Self {
            value,
            spread: Spread::Exact,
            source: "stated".to_owned(),
            place: "job file".to_owned(),
            grade: Grade::Stated,
            written: written.into(),
            note: None,
            inherited_from: None,
        }
    }

    /// The value `deviations` standard deviations away from the one stated.
    pub fn shifted(&self, deviations: f64) -> T {
        T::from_si(self.spread.shift(self.value.si(), deviations))
    }

    /// The same evidence with its value counted in another way.
    pub fn map<U>(self, change: impl Fn(T) -> U) -> Evidence<U> {
        Evidence {
            value: change(self.value),
            spread: self.spread,
            source: self.source,
            place: self.place,
            grade: self.grade,
            written: self.written,
            note: self.note,
            inherited_from: self.inherited_from,
        }
    }
}

/// A law together with the evidence for each of its parameters (numbers in SI units).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Documented<L> {
    /// The law that the kernels evaluate.
    pub law: L,
    /// Name of each parameter and the evidence for it.
    pub values: Vec<(String, Evidence<f64>)>,
}

impl<L> Documented<L> {
    /// The evidence for a parameter by name.
    pub fn value(&self, name: &str) -> Option<&Evidence<f64>> {
        self.values
            .iter()
            .find(|(key, _)| key == name)
            .map(|(_, evidence)| evidence)
    }
}
