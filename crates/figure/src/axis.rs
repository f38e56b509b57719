//! One axis: its name, unit, scale, range and direction.

use serde::{Deserialize, Serialize};

/// One axis of a figure.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Axis {
    /// What is measured along it, in words ("air frost point").
    pub name: String,
    /// The unit as printed ("h", "°C", "ppm"); `"1"` for a number without unit.
    pub unit: String,
    /// Linear or logarithmic.
    pub scale: Scale,
    /// The stated range; `None` fits the data.
    #[serde(default)]
    pub range: Option<Extent>,
    /// Larger values to the left or below.
    #[serde(default)]
    pub reversed: bool,
}

impl Axis {
    /// A linear axis that fits its data.
    pub fn linear(name: impl Into<String>, unit: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            unit: unit.into(),
            scale: Scale::Linear,
            range: None,
            reversed: false,
        }
    }

    /// A decadic logarithmic axis that fits its data.
    pub fn log10(name: impl Into<String>, unit: impl Into<String>) -> Self {
        Self {
            scale: Scale::Log10,
            ..Self::linear(name, unit)
        }
    }

    /// The same axis from `low` to `high`.
    #[must_use]
    pub fn ranging(self, low: f64, high: f64) -> Self {
        Self {
            range: Some(Extent { low, high }),
            ..self
        }
    }

    /// The name with its unit, as written beside the axis: `moisture / ppm` in the notation of
    /// ISO 80000-1 (a quantity divided by its unit is the number on the scale).
    pub fn label(&self) -> String {
        if self.unit == "1" {
            self.name.clone()
        } else {
            format!("{} / {}", self.name, self.unit)
        }
    }
}

/// How numbers are laid out along an axis or a colour map.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Scale {
    /// Equal differences are equally long.
    Linear,
    /// Equal ratios are equally long; values must be positive.
    Log10,
}

/// From a low to a high number.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Extent {
    /// The low end.
    pub low: f64,
    /// The high end.
    pub high: f64,
}

impl Extent {
    /// The smallest extent that holds all finite values; `None` when there are none.
    pub fn around(values: Vec<f64>) -> Option<Self> {
        let finite = values.into_iter().filter(|value| value.is_finite());
        finite.fold(None, |found: Option<Self>, value| {
            Some(found.map_or(
                Self {
                    low: value,
                    high: value,
                },
                |extent| Self {
                    low: extent.low.min(value),
                    high: extent.high.max(value),
                },
            ))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_label_is_quantity_over_unit() {
        assert_eq!(Axis::linear("moisture", "ppm").label(), "moisture / ppm");
        assert_eq!(Axis::linear("share", "1").label(), "share");
    }

    #[test]
    fn exact_extent_passes_over_what_is_not_finite() {
        let extent = Extent::around(vec![f64::NAN, 3.0, -1.0, f64::INFINITY]);
        assert_eq!(
            extent,
            Some(Extent {
                low: -1.0,
                high: 3.0
            })
        );
        assert_eq!(Extent::around(vec![f64::NAN]), None);
    }
}
