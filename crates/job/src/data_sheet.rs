//! What the data sheet of the user's grade says about drying it.

use quantity::{Duration, FrostPoint, MoistureDryBasis, Temperature};
use serde::{Deserialize, Serialize};

/// The drying setting of a data sheet, as far as it states one.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct DataSheet {
    /// What the user calls the grade, where it was named.
    pub grade: Option<String>,
    /// Temperature.
    pub temperature: Option<Temperature>,
    /// Lower end of its range.
    pub temperature_low: Option<Temperature>,
    /// Upper end of its range.
    pub temperature_high: Option<Temperature>,
    /// Time.
    pub time: Option<Duration>,
    /// Frost point of the air.
    pub frost_point: Option<FrostPoint>,
    /// Highest moisture for processing.
    pub limit: Option<MoistureDryBasis>,
    /// Longest time at the temperature.
    pub hold: Option<Duration>,
}

impl DataSheet {
    /// The one temperature it comes to: that stated, or the middle of its range.
    pub fn set_point(&self) -> Option<Temperature> {
        use quantity::Quantity;
        let middle = |low: Temperature, high: Temperature| {
            Temperature::from_si(0.5 * (Quantity::si(low) + Quantity::si(high)))
        };
        self.temperature
            .or_else(|| match (self.temperature_low, self.temperature_high) {
                (Some(low), Some(high)) => Some(middle(low, high)),
                (low, high) => low.or(high),
            })
    }

    /// This one, with what it leaves open taken from another.
    #[must_use]
    pub fn over(self, below: Self) -> Self {
        // A temperature of its own says what the other's range would contradict.
        let heat = self.set_point().is_some();
        let kept = |own: Option<Temperature>, other: Option<Temperature>| {
            if heat { own } else { other }
        };
        Self {
            grade: self.grade.or(below.grade),
            temperature: kept(self.temperature, below.temperature),
            temperature_low: kept(self.temperature_low, below.temperature_low),
            temperature_high: kept(self.temperature_high, below.temperature_high),
            time: self.time.or(below.time),
            frost_point: self.frost_point.or(below.frost_point),
            limit: self.limit.or(below.limit),
            hold: self.hold.or(below.hold),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::DataSheet;
    use quantity::{Duration, Temperature};

    fn sheet(low: f64, high: f64) -> DataSheet {
        DataSheet {
            temperature_low: Some(Temperature::from_celsius(low)),
            temperature_high: Some(Temperature::from_celsius(high)),
            ..DataSheet::default()
        }
    }

    #[test]
    fn exact_the_set_point_is_the_middle_of_a_range() {
        let middle = sheet(80.0, 90.0).set_point().map(Temperature::celsius);
        assert!(middle.is_some_and(|c| (c - 85.0).abs() < 1e-9));
        assert!(DataSheet::default().set_point().is_none());
    }

    #[test]
    fn holds_a_temperature_of_its_own_replaces_the_range_below() {
        let own = DataSheet {
            temperature: Some(Temperature::from_celsius(75.0)),
            ..DataSheet::default()
        };
        let below = DataSheet {
            time: Some(Duration::from_hours(4.0)),
            ..sheet(80.0, 90.0)
        };
        let both = own.over(below.clone());
        assert!(both.temperature_high.is_none() && both.time == below.time);
        let kept = DataSheet::default().over(below.clone());
        assert_eq!(kept, below);
    }
}
