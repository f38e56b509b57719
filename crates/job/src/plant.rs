//! The plant about a job: the days of its year and what things cost there.

use crate::{DryerKind, Ownership};
use quantity::{
    EnergyPrice, Fraction, Humidity, MassPerEnergy, MassPrice, Quantity, Temperature, TimePrice,
    VolumePrice,
};
use serde::{Deserialize, Serialize};

/// What is known of the plant beside the site of the hopper.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Plant {
    /// Days that stand for the year; the usual three when empty.
    pub days: Vec<Day>,
    /// What things cost, where money is asked for.
    pub prices: Option<Prices>,
}

impl Plant {
    /// The days of the first plant that states any, and the prices of the first that does.
    pub fn of_first(plants: &[&Self]) -> Self {
        let days = plants.iter().find(|plant| !plant.days.is_empty());
        Self {
            days: days.map(|plant| plant.days.clone()).unwrap_or_default(),
            prices: plants.iter().find_map(|plant| plant.prices.clone()),
        }
    }
}

/// A day that stands for a part of the year.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Day {
    /// What it is called.
    pub name: String,
    /// Temperature of the hall.
    pub temperature: Temperature,
    /// Humidity of the hall.
    pub humidity: Humidity,
    /// Share of the year it stands for.
    pub share: Fraction,
}

/// What things cost, all in one currency.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Prices {
    /// What the currency is called.
    pub currency: String,
    /// Current, where no hour says otherwise.
    pub electricity: EnergyPrice,
    /// Hours with another price of current.
    pub tariff: Vec<TariffHours>,
    /// Carbon dioxide given off for the current.
    pub carbon: Option<MassPerEnergy>,
    /// Cooling water.
    pub cooling_water: Option<VolumePrice>,
    /// Compressed air, per m3 at 20 degC and 1 atm; counted from its current where it is not given.
    pub compressed_air: Option<VolumePrice>,
    /// An hour in which the press stands.
    pub press_hour: Option<TimePrice>,
    /// Resin that is thrown away.
    pub resin: Option<MassPrice>,
    /// Hours run in a year, h.
    pub hours_per_year: f64,
    /// Years over which a dryer is counted.
    pub years: f64,
    /// Interest a year.
    pub interest: Fraction,
    /// Cold starts in a year, where waiting for them is to be counted.
    pub starts_per_year: Option<f64>,
    /// Doubt of all prices together, one standard deviation, where it is stated.
    pub doubt: Option<Fraction>,
    /// Dryers by their kind: what owning one comes to.
    pub dryers: Vec<DryerPrice>,
}

impl Plant {
    /// The days that stand for the year: those stated, or the usual three.
    pub fn days_of_the_year(&self) -> Vec<Day> {
        if self.days.is_empty() {
            usual_days()
        } else {
            self.days.clone()
        }
    }
}

/// The kinds of dryer that are priced.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OwnedKind {
    /// One that makes air.
    Air(DryerKind),
    /// One that dries batches under vacuum.
    Vacuum,
}

impl OwnedKind {
    /// Vacuum, as a person writes it.
    pub const VACUUM: &'static str = "vacuum";
    /// The words of all of them.
    pub const WORDS: &'static [&'static str] = &[
        DryerKind::Wheel.words(),
        DryerKind::Towers.words(),
        DryerKind::CompressedAir.words(),
        DryerKind::HotAir.words(),
        Self::VACUUM,
    ];

    /// The one that is written so.
    pub fn of_words(words: &str) -> Option<Self> {
        if words == Self::VACUUM {
            Some(Self::Vacuum)
        } else {
            DryerKind::of_words(words).map(Self::Air)
        }
    }
}

/// What owning a dryer of a kind comes to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct DryerPrice {
    /// Which kind.
    pub kind: OwnedKind,
    /// Whether it is the one that stands there today.
    pub mine: bool,
    /// What owning it comes to.
    pub ownership: Ownership,
}

/// Hours of the day with a price of their own: from one full hour up to another, over midnight where
/// the second is the smaller.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct TariffHours {
    /// First hour, 0 to 23.
    pub from: u32,
    /// The hour at which it ends, 1 to 24.
    pub to: u32,
    /// The price.
    pub electricity: EnergyPrice,
}

impl TariffHours {
    /// Whether an hour of the day (0 to 23) is among them.
    pub fn holds(&self, hour: u32) -> bool {
        if self.from < self.to {
            (self.from..self.to).contains(&hour)
        } else {
            hour >= self.from || hour < self.to
        }
    }
}

impl Prices {
    /// Price of current in an hour of the day (0 to 23): that of the first hours that hold it.
    pub fn electricity_at(&self, hour: u32) -> EnergyPrice {
        self.tariff
            .iter()
            .find(|hours| hours.holds(hour))
            .map_or(self.electricity, |hours| hours.electricity)
    }

    /// What was stated of dryers of a kind.
    pub fn dryer(&self, kind: OwnedKind) -> Option<&DryerPrice> {
        self.dryers.iter().find(|priced| priced.kind == kind)
    }

    /// Price of current, mean over the day.
    pub fn mean_electricity(&self) -> EnergyPrice {
        let sum: f64 = (0..24).map(|hour| self.electricity_at(hour).si()).sum();
        EnergyPrice::from_si(sum / 24.0)
    }
}

/// Days that stand for a year where none are given: an average day, a humid summer's and a cold dry
/// one in a heated hall (common practice, no source).
pub fn usual_days() -> Vec<Day> {
    let day = |name: &str, celsius, percent, share| Day {
        name: name.to_owned(),
        temperature: Temperature::from_celsius(celsius),
        humidity: Humidity::Relative(quantity::RelativeHumidity::from_percent(percent), None),
        share: Fraction::from_percent(share),
    };
    vec![
        day("average", 22.0, 50.0, 50.0),
        day("humid summer", 30.0, 60.0, 25.0),
        day("cold and dry", 18.0, 20.0, 25.0),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn prices() -> Prices {
        Prices {
            currency: "EUR".to_owned(),
            electricity: EnergyPrice::from_per_kwh(0.20),
            tariff: vec![TariffHours {
                from: 22,
                to: 6,
                electricity: EnergyPrice::from_per_kwh(0.14),
            }],
            carbon: None,
            cooling_water: None,
            compressed_air: None,
            press_hour: None,
            resin: None,
            hours_per_year: 6000.0,
            years: 10.0,
            interest: Fraction::from_percent(5.0),
            starts_per_year: None,
            doubt: None,
            dryers: Vec::new(),
        }
    }

    #[test]
    fn exact_tariff_over_midnight() {
        let prices = prices();
        let at = |hour| prices.electricity_at(hour).per_kwh();
        assert!((at(23) - 0.14).abs() < 1e-12 && (at(0) - 0.14).abs() < 1e-12);
        assert!((at(6) - 0.20).abs() < 1e-12 && (at(21) - 0.20).abs() < 1e-12);
        let mean = prices.mean_electricity().per_kwh();
        assert!((mean - (16.0 * 0.20 + 8.0 * 0.14) / 24.0).abs() < 1e-12);
    }

    #[test]
    fn exact_the_usual_days_are_a_whole_year() {
        let sum: f64 = usual_days().iter().map(|day| day.share.si()).sum();
        assert!((sum - 1.0).abs() < 1e-12);
    }
}
