//! Where the resin lay before the dryer: its package, and the climate that an opened one met.

use quantity::{
    Area, Duration, Mass, Moisture, Quantity, RelativeHumidity, Temperature, TemperatureDifference,
};
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;

/// Seconds in a day.
const DAY: f64 = 86_400.0;

/// How the resin was packed when it was taken from the store.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Package {
    /// Sealed until it is used: the moisture of the record's sealed package.
    Sealed,
    /// Opened: the pellets see the climate of the store.
    Opened,
}

/// Storage from which the arriving moisture is computed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Storage {
    /// How it was packed.
    pub package: Package,
    /// Air in which the pellets lay open; the record's value of the package when absent.
    pub climate: Option<Climate>,
    /// Moisture when they were laid there; the record's sealed value when absent.
    pub from: Option<Moisture>,
}

/// A closed bag that is brought from the cold into the hall, and opened there.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ColdBag {
    /// Its temperature as it is brought in.
    pub temperature: Temperature,
    /// How long it stands closed in the hall.
    pub standing: Duration,
    /// How long its pellets lie open in the hall before they are fed.
    pub open: Duration,
    /// Resin in it.
    pub mass: Mass,
    /// Its surface.
    pub area: Area,
}

/// The air of a store.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Climate {
    /// The same day again and again.
    Daily(DailyClimate),
    /// As it was written down hour by hour.
    Weather(Weather),
}

/// A day that repeats itself: means and swings.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct DailyClimate {
    /// Mean temperature.
    pub temperature: Temperature,
    /// From the mean to the warmest of the day.
    pub temperature_swing: TemperatureDifference,
    /// Mean humidity.
    pub relative_humidity: RelativeHumidity,
    /// From the mean to the dampest of the day, which is the coldest.
    pub humidity_swing: RelativeHumidity,
    /// How long the pellets lay in it.
    pub time: Duration,
}

/// A series of weather.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Weather {
    /// The file it was read from.
    pub file: String,
    /// Its first and last time as written there.
    pub span: (String, String),
    /// The air, in rising order of time; the first stands at zero.
    pub rows: Vec<WeatherRow>,
    /// What was bridged or left out in reading, in words.
    pub notes: Vec<String>,
}

/// The air at one time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct WeatherRow {
    /// Time since the first row.
    pub time: Duration,
    /// Temperature.
    pub temperature: Temperature,
    /// Humidity, over liquid water.
    pub relative_humidity: RelativeHumidity,
}

impl Climate {
    /// How long it lasts.
    pub fn time(&self) -> Duration {
        match self {
            Self::Daily(day) => day.time,
            Self::Weather(weather) => weather
                .rows
                .last()
                .map_or(Duration::from_si(0.0), |row| row.time),
        }
    }

    /// Whether it stays as it is all the time.
    pub fn is_steady(&self) -> bool {
        match self {
            Self::Daily(day) => day.temperature_swing.si() == 0.0 && day.humidity_swing.si() == 0.0,
            Self::Weather(weather) => weather.rows.len() < 2,
        }
    }

    /// The air at a time since the beginning: along a sine of the day, which begins at its means
    /// and grows warmer and drier first, or between two rows along a straight line.
    pub fn at(&self, time: Duration) -> (Temperature, RelativeHumidity) {
        match self {
            Self::Daily(day) => {
                let wave = libm::sin(2.0 * PI * time.si() / DAY);
                let warm = day.temperature.si() + wave * day.temperature_swing.si();
                let damp = day.relative_humidity.si() - wave * day.humidity_swing.si();
                (
                    Temperature::from_si(warm),
                    RelativeHumidity::from_si(damp.clamp(0.0, 1.0)),
                )
            }
            Self::Weather(weather) => weather.at(time.si()),
        }
    }
}

impl Weather {
    /// The air at so many seconds, held before the first row and after the last.
    fn at(&self, time: f64) -> (Temperature, RelativeHumidity) {
        let after = self.rows.partition_point(|row| row.time.si() <= time);
        let before = self.rows.get(after.saturating_sub(1));
        let (Some(low), Some(high)) = (before, self.rows.get(after).or(before)) else {
            return (
                Temperature::from_celsius(23.0),
                RelativeHumidity::from_si(0.0),
            );
        };
        let span = high.time.si() - low.time.si();
        let share = if span > 0.0 {
            ((time - low.time.si()) / span).clamp(0.0, 1.0)
        } else {
            0.0
        };
        let along = |a: f64, b: f64| a + share * (b - a);
        (
            Temperature::from_si(along(low.temperature.si(), high.temperature.si())),
            RelativeHumidity::from_si(along(
                low.relative_humidity.si(),
                high.relative_humidity.si(),
            )),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(found: f64, wanted: f64) {
        assert!((found - wanted).abs() < 1e-9, "{found} {wanted}");
    }

    #[test]
    fn exact_a_day_swings_about_its_means() {
        let climate = Climate::Daily(DailyClimate {
            temperature: Temperature::from_celsius(20.0),
            temperature_swing: TemperatureDifference::from_kelvin(5.0),
            relative_humidity: RelativeHumidity::from_percent(60.0),
            humidity_swing: RelativeHumidity::from_percent(15.0),
            time: Duration::from_days(3.0),
        });
        for (hours, warm, damp) in [
            (0.0, 20.0, 60.0),
            (6.0, 25.0, 45.0),
            (18.0, 15.0, 75.0),
            (54.0, 25.0, 45.0),
        ] {
            let (temperature, humidity) = climate.at(Duration::from_hours(hours));
            near(temperature.celsius(), warm);
            near(humidity.percent(), damp);
        }
    }

    #[test]
    fn exact_weather_is_straight_between_its_rows() {
        let row = |hours, celsius, percent| WeatherRow {
            time: Duration::from_hours(hours),
            temperature: Temperature::from_celsius(celsius),
            relative_humidity: RelativeHumidity::from_percent(percent),
        };
        let climate = Climate::Weather(Weather {
            file: String::new(),
            span: (String::new(), String::new()),
            rows: vec![
                row(0.0, 10.0, 80.0),
                row(1.0, 14.0, 60.0),
                row(3.0, 20.0, 40.0),
            ],
            notes: Vec::new(),
        });
        near(climate.time().hours(), 3.0);
        for (hours, warm, damp) in [
            (0.0, 10.0, 80.0),
            (0.5, 12.0, 70.0),
            (1.0, 14.0, 60.0),
            (2.0, 17.0, 50.0),
            (9.0, 20.0, 40.0),
        ] {
            let (temperature, humidity) = climate.at(Duration::from_hours(hours));
            near(temperature.celsius(), warm);
            near(humidity.percent(), damp);
        }
    }
}
