//! Dew point sensor: what it shows of the truth, how late, and how far it may be believed.
//!
//! # Equations
//! 1. Truth: the frost point of the air (its dew point above 0.01 degC) at the pressure of the sensor; in a
//!    line under pressure that is the pressure dew point. Temperature alone changes neither.
//! 2. Lag: `dx/dt = (x_true - x)/tau` in what it senses, tau for drying and for wetting.
//! 3. Shown: `x + bias + drift age + noise z`, z a standard normal number that is handed in.
//! 4. A cell of relative humidity senses `RH(T_cell)` and shows the point of that; a mirror under supercooled
//!    liquid shows the dew point instead of the frost point, 0.5 K to 4 K lower.
//! 5. Standard uncertainty: accuracy (two standard deviations) halved, drift over age as a rectangle, and
//!    noise, added as squares; for a cell of relative humidity carried to kelvin at the upper side.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! tau | `wetting`, `drying` | s
//! x | temperature of the point, or relative humidity | K,
//!
//! # Holds for
//! -80 degC frost point to 60 degC dew point, pressures of [`air::PRESSURE_HOLDS`]. That one number stands
//! for the lag is an assumption; a fouled sensor is biased and slow, a dead one stuck.
//!
//! # Sources
//! As marked at [`typical`].
//!
//! # Checked by
//! Closed forms in `crates/dryer/src/dew_point_sensor/tests.rs`; the points themselves in
//! `tests/src/peers/line_air.rs`.

mod kinds;

pub use kinds::{SensorKind, Typical, figure, typical};

use crate::DryerError;
use crate::asked::Asked;
use crate::condensation::point_of_share;
use air::{equilibrium, mixture, saturation};
use quantity::constants::ZERO_CELSIUS;
use quantity::{
    Duration, Faults, Quantity, Range, RelativeHumidity, Temperature, TemperatureDifference,
};

/// Points a sensor may be asked for.
pub const SENSED_HOLDS: Range = Range::new("end of the sensor's range", -100.0, 60.0, "degC");
/// Errors of a sensor of the condensation point.
pub const POINT_ERROR_HOLDS: Range = Range::new("error in the point", 0.0, 40.0, "K");
/// Biases and drifts of it.
pub const POINT_BIAS_HOLDS: Range = Range::new("bias of the point", -40.0, 40.0, "K");
/// Errors of a cell of relative humidity.
pub const SHARE_ERROR_HOLDS: Range = Range::new("error in relative humidity", 0.0, 0.3, "");
/// Biases and drifts of it.
pub const SHARE_BIAS_HOLDS: Range = Range::new("bias of relative humidity", -0.3, 0.3, "");
/// Temperatures of such a cell.
pub const CELL_HOLDS: Range = Range::new("temperature of the cell", -20.0, 95.0, "degC");
/// Lags.
pub const SENSOR_LAG_HOLDS: Range = Range::new("lag of the sensor", 0.1, 1e5, "s");
/// Age since calibration.
pub const AGE_HOLDS: Range = Range::new("age since calibration", 0.0, 50.0, "years");
/// Lowest point the tables of air reach, K.
const COLDEST: f64 = 193.15;

/// What a sensor senses and how well. Accuracies are two standard deviations; drifts are for each year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Element {
    /// The condensation point itself, on a mirror or by a cell calibrated in it.
    Point {
        /// Accuracy at 0 degC and above.
        accuracy_wet: TemperatureDifference,
        /// Accuracy at -60 degC and below; straight between.
        accuracy_dry: TemperatureDifference,
        /// What it shows too much.
        bias: TemperatureDifference,
        /// How much more each year.
        drift: TemperatureDifference,
        /// Standard deviation from reading to reading.
        noise: TemperatureDifference,
        /// Liquid stays on it below 0 degC: it shows the dew point.
        supercooled: bool,
    },
    /// Relative humidity at the temperature of its cell.
    Share {
        /// Temperature of the cell.
        cell: Temperature,
        /// Accuracy.
        accuracy: RelativeHumidity,
        /// What it shows too much.
        bias: RelativeHumidity,
        /// How much more each year.
        drift: RelativeHumidity,
        /// Standard deviation from reading to reading.
        noise: RelativeHumidity,
    },
}

/// A sensor as it is bought or found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SensorSpec {
    /// What it senses.
    pub element: Element,
    /// Time to 63 % of a step to wetter air.
    pub wetting: Duration,
    /// Time to 63 % of a step to drier air; usually longer.
    pub drying: Duration,
    /// Lowest it shows.
    pub low: Temperature,
    /// Highest it shows.
    pub high: Temperature,
}

/// A checked sensor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sensor {
    spec: SensorSpec,
    low: f64,
    high: f64,
}

/// What a sensor remembers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SensorState {
    /// What its element has come to: K, or relative humidity.
    pub sensed: f64,
    /// Years since calibration.
    pub age: f64,
    /// What it is stuck at, K, if it is.
    pub stuck: Option<f64>,
}

/// Whether a reading is inside the sensor's range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// Inside.
    Within,
    /// At the low end: the air may be drier than shown.
    AtLow,
    /// At the high end: the air may be wetter than shown.
    AtHigh,
}

/// What a sensor shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Frost point, or dew point above 0.01 degC, K.
    pub point: f64,
    /// Whether it is inside the range.
    pub reach: Reach,
    /// Standard uncertainty that belongs to it when the sensor is sound, K.
    pub uncertainty: f64,
}

impl SensorSpec {
    /// The sensor, or every mistake in it.
    ///
    /// # Errors
    /// A number outside its range, or a range that is none.
    pub fn check(&self) -> Result<Sensor, Faults> {
        let mut asked = Asked::new();
        match self.element {
            Element::Point {
                accuracy_wet,
                accuracy_dry,
                bias,
                drift,
                noise,
                ..
            } => {
                asked.number("accuracy_wet", accuracy_wet.si(), &POINT_ERROR_HOLDS);
                asked.number("accuracy_dry", accuracy_dry.si(), &POINT_ERROR_HOLDS);
                asked.number("bias", bias.si(), &POINT_BIAS_HOLDS);
                asked.number("drift", drift.si(), &POINT_BIAS_HOLDS);
                asked.number("noise", noise.si(), &POINT_ERROR_HOLDS);
            }
            Element::Share {
                cell,
                accuracy,
                bias,
                drift,
                noise,
            } => {
                asked.number("cell", cell.celsius(), &CELL_HOLDS);
                asked.number("accuracy", accuracy.si(), &SHARE_ERROR_HOLDS);
                asked.number("bias", bias.si(), &SHARE_BIAS_HOLDS);
                asked.number("drift", drift.si(), &SHARE_BIAS_HOLDS);
                asked.number("noise", noise.si(), &SHARE_ERROR_HOLDS);
            }
        }
        asked.number("wetting", self.wetting.si(), &SENSOR_LAG_HOLDS);
        asked.number("drying", self.drying.si(), &SENSOR_LAG_HOLDS);
        let low = asked.number("low", self.low.celsius(), &SENSED_HOLDS);
        let high = asked.number("high", self.high.celsius(), &SENSED_HOLDS);
        if low >= high {
            asked.contradiction(
                "low",
                low,
                "the range of the sensor ends before it begins",
                "give low below high",
            );
        }
        asked.give(Some(Sensor {
            spec: *self,
            low: low + ZERO_CELSIUS,
            high: high + ZERO_CELSIUS,
        }))
    }
}

/// Point, K, of a mole fraction of vapour; [`COLDEST`] stands for anything drier.
fn point(share: f64, pressure: f64) -> f64 {
    point_of_share(share, pressure).max(COLDEST)
}

impl Sensor {
    /// The sensor at rest in air of a humidity ratio at a pressure (Pa), just calibrated.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for a humidity or a pressure that cannot be.
    pub fn settled(&self, humidity: f64, pressure: f64) -> Result<SensorState, DryerError> {
        Ok(SensorState {
            sensed: self.target(humidity, pressure)?,
            age: 0.0,
            stuck: None,
        })
    }

    /// The state after `time` seconds in air of a humidity ratio at a pressure (Pa).
    ///
    /// # Errors
    /// As [`Sensor::settled`], and for a time below zero or a state that none is.
    pub fn advance(
        &self,
        state: &SensorState,
        humidity: f64,
        pressure: f64,
        time: f64,
    ) -> Result<SensorState, DryerError> {
        const YEAR: f64 = 365.25 * 86_400.0;
        let target = self.target(humidity, pressure)?;
        DryerError::unless_between("time", time, "s", (0.0, 1e10))?;
        DryerError::unless_between("state of the sensor", state.sensed, "", (0.0, 1e3))?;
        let lag = if target > state.sensed {
            self.spec.wetting.si()
        } else {
            self.spec.drying.si()
        };
        Ok(SensorState {
            sensed: target + (state.sensed - target) * libm::exp(-time / lag),
            age: state.age + time / YEAR,
            ..*state
        })
    }

    /// What it shows at a pressure (Pa); `normal` is a standard normal number, zero for no noise.
    ///
    /// # Errors
    /// As [`Sensor::settled`], for an age outside [`AGE_HOLDS`] or a number beyond ten deviations.
    pub fn reading(
        &self,
        state: &SensorState,
        pressure: f64,
        normal: f64,
    ) -> Result<Reading, DryerError> {
        DryerError::unless_within(&crate::STREAM_PRESSURE_HOLDS, pressure)?;
        DryerError::unless_within(&AGE_HOLDS, state.age)?;
        DryerError::unless_between("normal number", normal, "", (-10.0, 10.0))?;
        DryerError::unless_between("state of the sensor", state.sensed, "", (0.0, 1e3))?;
        let shown = match (state.stuck, self.spec.element) {
            (Some(stuck), _) => {
                DryerError::unless_between("reading it is stuck at", stuck, "K", (100.0, 400.0))?
            }
            (
                None,
                Element::Point {
                    bias, drift, noise, ..
                },
            ) => state.sensed + bias.si() + drift.si() * state.age + noise.si() * normal,
            (
                None,
                Element::Share {
                    cell,
                    bias,
                    drift,
                    noise,
                    ..
                },
            ) => {
                let share = state.sensed + bias.si() + drift.si() * state.age + noise.si() * normal;
                of_share(share, cell.kelvin(), pressure)
            }
        };
        // A hair above the end counts as the end: the tables of air end there as well.
        let (point, reach) = if shown <= self.low + 1e-6 {
            (self.low, Reach::AtLow)
        } else if shown >= self.high {
            (self.high, Reach::AtHigh)
        } else {
            (shown, Reach::Within)
        };
        Ok(Reading {
            point,
            reach,
            uncertainty: self.uncertainty(point, pressure, state.age),
        })
    }

    /// Standard uncertainty, K, of a reading of `point` (K) at a pressure (Pa) and age (years).
    fn uncertainty(&self, point: f64, pressure: f64, age: f64) -> f64 {
        let root = |accuracy: f64, drift: f64, noise: f64| {
            let drifted = drift * age;
            libm::sqrt(0.25 * accuracy * accuracy + drifted * drifted / 3.0 + noise * noise)
        };
        match self.spec.element {
            Element::Point {
                accuracy_wet,
                accuracy_dry,
                drift,
                noise,
                ..
            } => {
                let dry = ((ZERO_CELSIUS - point) / 60.0).clamp(0.0, 1.0);
                let accuracy = accuracy_wet.si() + (accuracy_dry.si() - accuracy_wet.si()) * dry;
                root(accuracy, drift.si(), noise.si())
            }
            Element::Share {
                cell,
                accuracy,
                drift,
                noise,
                ..
            } => {
                let share = root(accuracy.si(), drift.si(), noise.si());
                let cell = cell.kelvin();
                let at = share_of(point, cell, pressure);
                of_share(at + share, cell, pressure) - of_share(at, cell, pressure)
            }
        }
    }

    /// What the element would come to.
    fn target(&self, humidity: f64, pressure: f64) -> Result<f64, DryerError> {
        DryerError::unless_within(&crate::STREAM_HUMIDITY_HOLDS, humidity)?;
        DryerError::unless_within(&crate::STREAM_PRESSURE_HOLDS, pressure)?;
        let share = mixture::mole_fraction(humidity);
        let point = point(share, pressure);
        Ok(match self.spec.element {
            Element::Point {
                supercooled: true, ..
            } if point < saturation::TRIPLE_POINT => {
                let coldest = equilibrium::saturated_over_liquid(COLDEST, pressure);
                equilibrium::dew_temperature(share.max(coldest), pressure)
            }
            Element::Point { .. } => point,
            Element::Share { cell, .. } => {
                equilibrium::relative_humidity(cell.kelvin(), pressure, share)
            }
        })
    }
}

/// Point, K, of a relative humidity at the temperature (K) of its cell.
fn of_share(share: f64, cell: f64, pressure: f64) -> f64 {
    point(
        (share * equilibrium::saturated_over_liquid(cell, pressure)).clamp(0.0, 1.0),
        pressure,
    )
}

/// Relative humidity at the temperature (K) of a cell of a point (K).
fn share_of(point: f64, cell: f64, pressure: f64) -> f64 {
    let share = if point < saturation::TRIPLE_POINT {
        equilibrium::saturated_over_ice(point, pressure)
    } else {
        equilibrium::saturated_over_liquid(point, pressure)
    };
    share / equilibrium::saturated_over_liquid(cell, pressure)
}

#[cfg(test)]
mod tests;
