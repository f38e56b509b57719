//! A closed range in which a correlation or a field holds, and the error of leaving it.

use serde::Serialize;

/// A closed range of one named number, in the unit given by `unit` (the SI unit unless it says
/// otherwise).
///
/// `pub const HOLDS: Range = Range::new("air temperature", 233.15, 523.15, "K");`
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Range {
    /// What is ranged over, in words of the field.
    pub name: &'static str,
    /// Lowest value that holds.
    pub low: f64,
    /// Highest value that holds.
    pub high: f64,
    /// Unit of both ends.
    pub unit: &'static str,
}

/// A value outside the range in which something holds.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, thiserror::Error)]
#[error("{} {} {} is outside {} to {} {}",
    .range.name, crate::print::digits(*.value, 6), .range.unit,
    crate::print::digits(.range.low, 6), crate::print::digits(.range.high, 6), .range.unit)]
pub struct OutOfRange {
    /// The value met; not a number counts as outside every range.
    pub value: f64,
    /// The range it left.
    pub range: Range,
}

impl Range {
    /// A closed range from `low` to `high`.
    pub const fn new(name: &'static str, low: f64, high: f64, unit: &'static str) -> Self {
        Self {
            name,
            low,
            high,
            unit,
        }
    }

    /// Whether `value` lies in the range, ends included; not a number never does.
    pub const fn contains(&self, value: f64) -> bool {
        value >= self.low && value <= self.high
    }

    /// The value itself when it lies in the range.
    pub const fn check(&self, value: f64) -> Result<f64, OutOfRange> {
        if self.contains(value) {
            Ok(value)
        } else {
            Err(OutOfRange {
                value,
                range: *self,
            })
        }
    }

    /// The value moved to the nearer end when it lies outside; not a number goes to the low end.
    pub const fn clamp(&self, value: f64) -> f64 {
        if value > self.high {
            self.high
        } else if value >= self.low {
            value
        } else {
            self.low
        }
    }
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "these numbers are exact in binary")]
mod tests {
    use super::*;

    const HOLDS: Range = Range::new("air temperature", 233.15, 523.15, "K");

    #[test]
    fn holds_at_both_ends_and_not_beyond() {
        assert!(HOLDS.contains(233.15) && HOLDS.contains(523.15));
        assert!(!HOLDS.contains(233.14) && !HOLDS.contains(523.16));
        assert!(!HOLDS.contains(f64::NAN));
        assert_eq!(HOLDS.clamp(f64::NAN), 233.15);
        assert_eq!(HOLDS.clamp(600.0), 523.15);
    }

    #[test]
    fn holds_the_error_names_value_and_range() {
        let error = HOLDS.check(600.0).map_err(|e| e.to_string());
        assert_eq!(
            error,
            Err("air temperature 600 K is outside 233.15 to 523.15 K".to_owned())
        );
    }
}
