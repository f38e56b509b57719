//! Tables as data: columns with units, cells that know their range and grade.

use crate::State;
use figure::{Extent, Grade};
use serde::{Deserialize, Serialize};

/// A table.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Table {
    /// What the table holds.
    pub caption: String,
    /// Its columns; the first one names the rows.
    pub columns: Vec<Column>,
    /// Its rows, each with one cell for each column.
    pub rows: Vec<Row>,
}

/// A column.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Column {
    /// What stands in it.
    pub name: String,
    /// The unit of its numbers, written in the head; `None` for words and numbers without unit.
    pub unit: Option<String>,
}

impl Column {
    /// A column of words, or of numbers without unit.
    pub fn new(name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            unit: None,
        }
    }

    /// A column of numbers in one unit.
    pub fn with_unit(name: impl Into<String>, unit: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            unit: Some(unit.into()),
        }
    }
}

/// A row.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Row {
    /// One cell for each column.
    pub cells: Vec<Cell>,
    /// Notes of the document this row leans on, by their place in `Document::notes`.
    #[serde(default)]
    pub notes: Vec<usize>,
}

impl Row {
    /// A row without notes.
    pub fn new(cells: Vec<Cell>) -> Self {
        Self {
            cells,
            notes: Vec::new(),
        }
    }

    /// The same row, leaning on notes.
    #[must_use]
    pub fn leaning_on(self, notes: &[usize]) -> Self {
        Self {
            notes: notes.to_vec(),
            ..self
        }
    }
}

/// A cell.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Cell {
    /// Nothing applies here.
    Blank,
    /// Words.
    Text {
        /// The words.
        text: String,
    },
    /// A number.
    Value(Value),
    /// A state, as its shape and word.
    State {
        /// The state.
        state: State,
    },
}

impl Cell {
    /// Words.
    pub fn text(text: impl Into<String>) -> Self {
        Self::Text { text: text.into() }
    }

    /// A number without range; the plain numbers of a column share their decimals.
    pub fn number(value: f64, grade: Grade) -> Self {
        Self::Value(Value {
            value,
            range: None,
            digits: None,
            grade,
        })
    }

    /// A number with so many digits.
    pub fn precise(value: f64, digits: u8, grade: Grade) -> Self {
        Self::Value(Value {
            value,
            range: None,
            digits: Some(digits),
            grade,
        })
    }

    /// A number with its range, and the digits the range deserves.
    pub fn ranged(value: f64, low: f64, high: f64, grade: Grade) -> Self {
        Self::Value(Value {
            value,
            range: Some(Extent { low, high }),
            digits: None,
            grade,
        })
    }

    /// A state.
    pub fn state(state: State) -> Self {
        Self::State { state }
    }
}

/// A number with what stands behind it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Value {
    /// The number, in the unit of its column.
    pub value: f64,
    /// Its range, in the same unit.
    #[serde(default)]
    pub range: Option<Extent>,
    /// Significant digits when there is no range; `None` fits the column.
    #[serde(default)]
    pub digits: Option<u8>,
    /// What stands behind it.
    pub grade: Grade,
}

impl Table {
    /// The numbers of a column as printed, one for each row; empty where there is none.
    ///
    /// A number with a range has the digits its range deserves, one with stated digits has those;
    /// the others share their decimals, so that they can be compared down the column.
    pub fn written(&self, column: usize) -> Vec<String> {
        let values: Vec<Option<&Value>> = self
            .rows
            .iter()
            .map(|row| match row.cells.get(column) {
                Some(Cell::Value(value)) => Some(value),
                _ => None,
            })
            .collect();
        let plain = |value: &&Value| value.range.is_none() && value.digits.is_none();
        let plain: Vec<f64> = values
            .iter()
            .flatten()
            .copied()
            .filter(plain)
            .map(|v| v.value)
            .collect();
        let mut aligned = chart::aligned(&plain).into_iter();
        let write = |value: Option<&Value>| match value {
            None => String::new(),
            Some(value) => match (value.range, value.digits) {
                (None, None) => value.marked(&aligned.next().unwrap_or_default()),
                _ => value.written(),
            },
        };
        values.into_iter().map(write).collect()
    }
}

impl Value {
    /// The number as printed alone: no more digits than its range deserves, `≈` before an estimate.
    pub fn written(&self) -> String {
        let number = match (self.range, self.digits) {
            (Some(range), _) => chart::rounded(self.value, range.low, range.high),
            (None, Some(digits)) => chart::significant(self.value, digits),
            (None, None) => chart::significant(self.value, 3),
        };
        self.marked(&number)
    }

    fn marked(&self, number: &str) -> String {
        if self.grade.is_estimate() {
            format!("≈\u{a0}{number}")
        } else {
            number.to_owned()
        }
    }

    /// What stands beside the number: its range, and the grade of an estimate; may be empty.
    pub fn beside(&self) -> String {
        let range = self.range.map(|Extent { low, high }| {
            let end = |value| chart::rounded(value, low, high);
            format!("{} to {}", end(low), end(high))
        });
        let grade = self
            .grade
            .is_estimate()
            .then(|| self.grade.word().to_owned());
        let words: Vec<String> = range.into_iter().chain(grade).collect();
        words.join(", ")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_numbers_carry_what_they_deserve() {
        let value = |cell: Cell| match cell {
            Cell::Value(value) => (value.written(), value.beside()),
            other => unreachable!("{other:?} is no number"),
        };
        let pair = |a: &str, b: &str| (a.to_owned(), b.to_owned());
        let computed = value(Cell::ranged(93.4, 51.0, 168.0, Grade::Computed));
        assert_eq!(computed, pair("90", "50 to 170"));
        let estimate = value(Cell::ranged(0.31, 0.2, 0.9, Grade::Analogy));
        assert_eq!(estimate, pair("≈\u{a0}0.3", "0.2 to 0.9, analogy"));
        let exact = value(Cell::precise(1013.25, 6, Grade::Measured));
        assert_eq!(exact, pair("1013.25", ""));
        assert_eq!(
            value(Cell::number(0.012345, Grade::Fitted)),
            pair("0.0123", "")
        );
    }
}
