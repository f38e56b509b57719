//! The numbers of a specification asked one by one, so that every mistake is told at once.

use quantity::{Fault, FaultKind, Faults, Place, Range, digits};

/// A specification under examination.
pub(crate) struct Asked(Faults);

impl Asked {
    /// Nothing wrong yet.
    pub(crate) const fn new() -> Self {
        Self(Faults::none())
    }

    /// The number, which must lie in the range; `range` is in its own unit.
    pub(crate) fn number(&mut self, field: &str, value: f64, range: &Range) -> f64 {
        if range.contains(value) {
            return value;
        }
        let unit = range.unit;
        let shown = |number: f64| {
            format!("{} {unit}", digits(number, 6))
                .trim_end()
                .to_owned()
        };
        self.0.push(Fault::new(
            FaultKind::OutOfRange,
            Place::of("", field),
            shown(value),
            format!("the {} cannot be this", range.name),
            format!(
                "give a number from {} to {}",
                digits(range.low, 6),
                shown(range.high)
            ),
        ));
        range.low
    }

    /// Two or more fields that contradict each other.
    pub(crate) fn contradiction(&mut self, field: &str, value: f64, cause: &str, mend: &str) {
        self.0.push(Fault::new(
            FaultKind::Inconsistent,
            Place::of("", field),
            digits(value, 6),
            cause,
            mend,
        ));
    }

    /// A part with a check of its own; its mistakes stand under `field`.
    pub(crate) fn part<T>(&mut self, field: &str, checked: Result<T, Faults>) -> Option<T> {
        match checked {
            Ok(part) => Some(part),
            Err(faults) => {
                self.0.extend(faults.into_iter().map(|mut fault| {
                    fault.place.path = format!("{field}.{}", fault.place.path);
                    fault
                }));
                None
            }
        }
    }

    /// The checked value, or every mistake; `None` stands for a part that was refused.
    pub(crate) fn give<T>(self, value: Option<T>) -> Result<T, Faults> {
        match value {
            Some(value) => self.0.or(value),
            None => Err(self.0),
        }
    }
}

#[cfg(test)]
pub(crate) mod trials {
    use quantity::Range;

    /// Stops unless `accepts` takes both ends of a range and nothing beyond, nor what is no number.
    pub(crate) fn at_the_ends(range: &Range, accepts: impl Fn(f64) -> bool) {
        let step = 1e-4 * (range.high - range.low).min(range.high.abs().max(1.0));
        let inside = 1e-9 * step;
        for value in [range.low + inside, range.high - inside] {
            assert!(accepts(value), "{} refuses {value}", range.name);
        }
        for value in [range.low - step, range.high + step, f64::NAN] {
            assert!(!accepts(value), "{} takes {value}", range.name);
        }
    }
}
