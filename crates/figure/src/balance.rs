//! What enters and what leaves, part by part: the two sides are equal, or it is no balance.

use crate::{FigureFault, Grade, Tone};
use serde::{Deserialize, Serialize};

/// How far the two sides may differ, as a share of the larger one.
const CLOSED: f64 = 1e-3;

/// A picture of what enters and what leaves, as two columns of equal height.
///
/// ```
/// use figure::{Balance, Grade, Part, Tone};
/// let mut water = Balance::new("Half of the water comes with the resin", "kg/h", Tone::Water);
/// water.entering = vec![Part::new("resin", 0.1, Grade::Computed), Part::new("leaks", 0.1, Grade::Assumed)];
/// water.leaving = vec![Part::new("exhaust", 0.2, Grade::Computed)];
/// assert!(water.check().is_ok());
/// water.leaving[0].amount = 0.3;
/// assert!(water.check().is_err());
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Balance {
    /// What the picture shows, as a sentence that concludes.
    pub title: String,
    /// The unit of every amount as printed ("kg/h").
    pub unit: String,
    /// What it is about.
    pub tone: Tone,
    /// What enters, from the top down.
    pub entering: Vec<Part>,
    /// What leaves, from the top down.
    pub leaving: Vec<Part>,
    /// What one has to know to read the picture; may be empty.
    #[serde(default)]
    pub caption: String,
    /// Where the numbers come from, one entry each.
    #[serde(default)]
    pub sources: Vec<String>,
}

/// One part of a side of a balance.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Part {
    /// Written beside it.
    pub name: String,
    /// How much, in the unit of the balance; not below zero.
    pub amount: f64,
    /// What stands behind it.
    pub grade: Grade,
}

impl Part {
    /// A part with its name and amount.
    pub fn new(name: impl Into<String>, amount: f64, grade: Grade) -> Self {
        Self {
            name: name.into(),
            amount,
            grade,
        }
    }
}

impl Balance {
    /// A balance without parts.
    pub fn new(title: impl Into<String>, unit: impl Into<String>, tone: Tone) -> Self {
        Self {
            title: title.into(),
            unit: unit.into(),
            tone,
            entering: Vec::new(),
            leaving: Vec::new(),
            caption: String::new(),
            sources: Vec::new(),
        }
    }

    /// The two sides with their names, entering first.
    pub fn sides(&self) -> [(&'static str, &[Part]); 2] {
        [("in", &self.entering), ("out", &self.leaving)]
    }

    /// The height of both columns: the larger side, in the unit of the balance.
    pub fn whole(&self) -> f64 {
        let sum = |parts: &[Part]| parts.iter().map(|part| part.amount).sum::<f64>();
        sum(&self.entering).max(sum(&self.leaving))
    }

    /// Whether the balance can be drawn and read, and closes to a thousandth.
    ///
    /// # Errors
    /// Every mistake at once: see [`FigureFault`].
    pub fn check(&self) -> Result<(), Vec<FigureFault>> {
        let mut found = Vec::new();
        if self.title.trim().is_empty() {
            found.push(FigureFault::NoTitle);
        }
        if self.unit.trim().is_empty() {
            let place = "balance".to_owned();
            found.push(FigureFault::WithoutUnit { place });
        }
        for (side, parts) in self.sides() {
            faults_of_side(side, parts, &mut found);
        }
        let [entering, leaving] = self
            .sides()
            .map(|(_, parts)| parts.iter().map(|part| part.amount).sum::<f64>());
        if found.is_empty() && (entering - leaving).abs() > CLOSED * entering.max(leaving) {
            found.push(FigureFault::NotClosed { entering, leaving });
        }
        if found.is_empty() { Ok(()) } else { Err(found) }
    }
}

fn faults_of_side(side: &str, parts: &[Part], found: &mut Vec<FigureFault>) {
    if !parts.iter().any(|part| part.amount > 0.0) {
        found.push(FigureFault::EmptySeries {
            place: format!("what goes {side}"),
        });
    }
    for (index, part) in parts.iter().enumerate() {
        let place = format!("{side}, part {} \"{}\"", index + 1, part.name.trim());
        if part.name.trim().is_empty() {
            found.push(FigureFault::SeriesWithoutName {
                place: place.clone(),
            });
        }
        if !part.amount.is_finite() {
            found.push(FigureFault::NotFinite {
                place,
                entry: 1,
                value: part.amount,
            });
        } else if part.amount < 0.0 {
            found.push(FigureFault::BelowZero {
                place,
                amount: part.amount,
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sound() -> Balance {
        let mut balance = Balance::new("Half stays", "kW", Tone::Heat);
        balance.entering = vec![Part::new("heater", 2.0, Grade::Computed)];
        balance.leaving = vec![
            Part::new("resin", 1.0, Grade::Computed),
            Part::new("wall", 1.0, Grade::CommonPractice),
            Part::new("nothing", 0.0, Grade::Computed),
        ];
        balance
    }

    fn faults(change: fn(&mut Balance)) -> Vec<FigureFault> {
        let mut balance = sound();
        change(&mut balance);
        balance.check().err().unwrap_or_default()
    }

    #[test]
    fn holds_a_balance_that_does_not_close_is_refused() {
        assert_eq!(faults(|_| ()), []);
        assert_eq!(faults(|b| b.leaving[0].amount = 1.0019), []);
        let found = faults(|b| b.leaving[0].amount = 1.0021);
        assert!(matches!(found[..], [FigureFault::NotClosed { .. }]));
    }

    #[test]
    fn holds_parts_without_name_or_place_are_refused() {
        for (found, whole) in [
            (faults(|b| b.title.clear()), "title"),
            (faults(|b| b.unit.clear()), "unit"),
            (faults(|b| b.leaving[2].name = " ".into()), "name"),
            (faults(|b| b.leaving[2].amount = f64::NAN), "finite"),
            (faults(|b| b.leaving[2].amount = -1e-9), "below zero"),
            (faults(|b| b.entering.clear()), "empty"),
        ] {
            let said: Vec<String> = found.iter().map(ToString::to_string).collect();
            assert!(
                said.len() == 1 && said[0].contains(whole),
                "{whole}: {said:?}"
            );
        }
    }
}
