//! A desiccant as a record: its law, what is known of each number, and what is not known.

use super::Sorbent;
use crate::Evidence;

/// A desiccant with the evidence for its numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Desiccant {
    /// File name.
    pub key: String,
    /// What it is, in a few words.
    pub title: String,
    /// Which form its law has, or of which desiccants it is mixed.
    pub form: String,
    /// Whether a number of it is invented, so that it only stands in for one that is known.
    pub invented: bool,
    /// The law the kernels evaluate.
    pub sorbent: Sorbent,
    /// Temperatures (K) at which its source measured, where known.
    pub measured_temperatures: Option<(f64, f64)>,
    /// Vapour pressures (Pa) at which its source measured, where known.
    pub measured_pressures: Option<(f64, f64)>,
    /// Name of each number and the evidence for it.
    pub values: Vec<(String, Evidence<f64>)>,
    /// What is not known, one sentence each.
    pub gaps: Vec<String>,
}

impl Desiccant {
    /// Whether a state (Pa, K) lies where the source measured; never where that is not known.
    pub fn is_measured_at(&self, vapour_pressure: f64, t: f64) -> bool {
        let within = |range: Option<(f64, f64)>, x: f64| {
            range.is_some_and(|(low, high)| x >= low && x <= high)
        };
        within(self.measured_pressures, vapour_pressure) && within(self.measured_temperatures, t)
    }

    /// The evidence for a number by name.
    pub fn value(&self, name: &str) -> Option<&Evidence<f64>> {
        let found = self.values.iter().find(|(key, _)| key == name);
        found.map(|(_, evidence)| evidence)
    }
}
