//! What can be wrong with a component or stop its solution.

use numeric::NumericError;
use quantity::Range;
use thiserror::Error;

/// A named failure, with its numbers.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum DryerError {
    /// The balances of a component could not be closed.
    #[error("{component} could not be solved: {cause}")]
    Unsolved {
        /// Which component.
        component: &'static str,
        /// Why.
        cause: NumericError,
    },
    /// A seal that gives dried air back to an inlet: a loop of its own.
    #[error(
        "the leak from the outlet of sector {from} into the inlet of sector {into} would feed the wheel its own air; count it into the outlet of sector {into}"
    )]
    LeaksBack {
        /// Place of the sector it comes from.
        from: usize,
        /// Place of the sector it goes into.
        into: usize,
    },
    /// A number that the component cannot have.
    #[error("{what} of {value} {unit} must lie between {low} and {high} {unit}")]
    Impossible {
        /// Which number.
        what: &'static str,
        /// Its value.
        value: f64,
        /// Its unit.
        unit: &'static str,
        /// Least.
        low: f64,
        /// Most.
        high: f64,
    },
}

impl DryerError {
    /// Refuses a number outside a range, and one that is no number.
    ///
    /// # Errors
    /// [`DryerError::Impossible`].
    pub fn unless_within(range: &Range, value: f64) -> Result<f64, Self> {
        Self::unless_between(range.name, value, range.unit, (range.low, range.high))
    }

    /// Refuses a number outside `low..=high`, and one that is no number.
    ///
    /// # Errors
    /// [`DryerError::Impossible`].
    pub fn unless_between(
        what: &'static str,
        value: f64,
        unit: &'static str,
        (low, high): (f64, f64),
    ) -> Result<f64, Self> {
        if (low..=high).contains(&value) {
            return Ok(value);
        }
        Err(Self::Impossible {
            what,
            value,
            unit,
            low,
            high,
        })
    }
}
