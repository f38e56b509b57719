//! The scales on which readings are compared: kelvin for temperatures and dew points, the logarithm
//! for amounts, the
//! share itself for shares.

use super::installed::Installed;
use crate::DecideError;
use crate::case::celsius;
use crate::humidity;
use job::{Reading, ReadingKind};
use quantity::constants::ZERO_CELSIUS;
use quantity::{AbsolutePressure, HumidityRatio, Quantity, Temperature, Value};
use serde::Serialize;

/// In what a reading is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Told {
    /// degC.
    Celsius,
    /// Dew or frost point, degC.
    Point,
    /// Dry air, kg/h.
    Air,
    /// Resin, kg/h.
    Resin,
    /// Pa.
    Pascal,
    /// %.
    Percent,
    /// ppm, wet basis.
    Moisture,
}

/// How a kind is told, compared, and how well it is usually read (common practice, no source): one
/// standard deviation
/// in kelvin, relative, or of the share itself.
pub(super) const fn scale(kind: ReadingKind) -> (Told, f64) {
    use ReadingKind as R;
    match kind {
        R::HallTemperature | R::CoolingWaterIn | R::CoolingWaterOut => (Told::Celsius, 1.0),
        R::DryerOutletTemperature | R::HopperInletTemperature | R::DesiccantInletTemperature => {
            (Told::Celsius, 1.5)
        }
        R::ReturnTemperature | R::ThroatTemperature => (Told::Celsius, 2.0),
        R::RegenerationInletTemperature | R::RegenerationOutletTemperature => (Told::Celsius, 3.0),
        R::SupplyDewPoint => (Told::Point, 2.0),
        R::HallHumidity | R::ReturnDewPoint => (Told::Point, 1.5),
        R::ProcessFlow => (Told::Air, 0.08),
        R::FilterDrop => (Told::Pascal, 0.05),
        R::RegenerationHeaterCurrent
        | R::RegenerationHeaterOutput
        | R::ProcessHeaterCurrent
        | R::ProcessHeaterOutput => (Told::Percent, 0.03),
        R::WheelSpeed | R::HopperLevel => (Told::Percent, 0.05),
        R::Rate => (Told::Resin, 0.03),
        R::LotMoisture | R::OutletMoisture | R::ThroatMoisture => (Told::Moisture, 0.1),
    }
}

/// In what a kind is told.
pub const fn told_in(kind: ReadingKind) -> Told {
    scale(kind).0
}

/// What the model may be off by in a kind whatever the inputs, one standard deviation (estimate; the
/// dew point of a
/// desiccant: published isotherms of one zeolite part by 17 K at one state, two deviations to each side).
pub(super) const fn off(kind: ReadingKind) -> f64 {
    use ReadingKind as R;
    match kind {
        R::DryerOutletTemperature | R::HopperInletTemperature | R::ReturnDewPoint => 1.5,
        R::ReturnTemperature | R::ThroatTemperature | R::RegenerationInletTemperature => 3.0,
        R::DesiccantInletTemperature => 2.0,
        R::SupplyDewPoint => 4.0,
        R::FilterDrop => 0.35,
        R::RegenerationOutletTemperature => 10.0,
        R::RegenerationHeaterOutput | R::ProcessHeaterOutput => 0.07,
        R::CoolingWaterOut => 1.0,
        // The instrument and what is stated of the job make the rest.
        _ => 0.0,
    }
}

/// How far a reading can lie from everything expected when it is wrong: the width over which it then may lie.
pub(super) const fn wide(kind: ReadingKind) -> f64 {
    match scale(kind).0 {
        Told::Celsius | Told::Point => 60.0,
        Told::Percent => 1.0,
        Told::Air | Told::Resin | Told::Pascal | Told::Moisture => 2.5,
    }
}

/// A number of the scale in the unit it is told in.
pub(super) fn told(kind: ReadingKind, on_scale: f64) -> f64 {
    match scale(kind).0 {
        Told::Celsius | Told::Point => on_scale,
        Told::Percent => 100.0 * on_scale,
        Told::Air | Told::Resin => 3600.0 * libm::exp(on_scale),
        Told::Pascal | Told::Moisture => libm::exp(on_scale),
    }
}

/// What is expected of a kind in the unit it is told in, never less or more than there can be.
pub(super) fn expected(kind: ReadingKind, on_scale: f64) -> f64 {
    use ReadingKind as R;
    let most = match kind {
        R::RegenerationHeaterCurrent
        | R::RegenerationHeaterOutput
        | R::ProcessHeaterCurrent
        | R::ProcessHeaterOutput
        | R::HopperLevel => 1.0,
        _ => f64::INFINITY,
    };
    let can_be = match scale(kind).0 {
        Told::Percent => on_scale.clamp(0.0, most),
        _ => on_scale,
    };
    told(kind, can_be)
}

/// A reading on its scale, with its error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Read {
    pub(super) kind: ReadingKind,
    pub(super) value: f64,
    pub(super) error: f64,
}

/// Readings on their scales.
///
/// # Errors
/// For air that cannot be.
pub(super) fn on_scale(
    readings: &[Reading],
    installed: &Installed,
) -> Result<Vec<Read>, DecideError> {
    let temperature = |kind: ReadingKind| {
        let found = readings.iter().find(|reading| reading.of == kind);
        found.and_then(|reading| match reading.value {
            Value::Si(kelvin) => Some(kelvin),
            _ => None,
        })
    };
    let mut all = Vec::with_capacity(readings.len());
    for reading in readings {
        let kind = reading.of;
        let pressure = installed.room.pressure;
        let value = match reading.value {
            Value::Si(si) => match scale(kind).0 {
                Told::Celsius | Told::Point => celsius(si),
                Told::Percent if kind == ReadingKind::WheelSpeed => {
                    si / installed.wheel_speed().unwrap_or(f64::INFINITY)
                }
                Told::Percent => si,
                _ => libm::log(si.max(f64::MIN_POSITIVE)),
            },
            Value::Moisture(moisture) => {
                libm::log(moisture.wet_basis().ppm().max(f64::MIN_POSITIVE))
            }
            Value::AirFlow(flow) => {
                let site = AbsolutePressure::from_si(pressure);
                let humidity = HumidityRatio::from_si(installed.case.air_humidity);
                libm::log(flow.dry_air(site, humidity).si())
            }
            Value::Humidity(stated) => {
                let at = match kind {
                    ReadingKind::HallHumidity => temperature(ReadingKind::HallTemperature),
                    ReadingKind::ReturnDewPoint => temperature(ReadingKind::ReturnTemperature),
                    _ => temperature(ReadingKind::HopperInletTemperature),
                };
                let at = at.unwrap_or(match kind {
                    ReadingKind::HallHumidity => installed.room.temperature,
                    _ => installed.case.air_temperature,
                });
                let site = AbsolutePressure::from_si(pressure);
                let at = Temperature::from_si(at);
                let ratio = humidity::ratio(stated, at, site, site, kind.words())?;
                humidity::frost_point_c(ratio.si(), at.si().max(ZERO_CELSIUS), pressure)
            }
            Value::Pressure(pressure) => {
                let site = AbsolutePressure::from_si(installed.room.pressure);
                libm::log(pressure.absolute(site).si())
            }
        };
        all.push(Read {
            kind,
            value,
            error: reading.error.unwrap_or(scale(kind).1),
        });
    }
    Ok(all)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_what_is_expected_can_be() {
        use ReadingKind as R;
        assert!(expected(R::ProcessHeaterOutput, -0.2).abs() < 1e-12);
        assert!((expected(R::RegenerationHeaterOutput, 1.3) - 100.0).abs() < 1e-9);
        assert!(expected(R::WheelSpeed, -0.1).abs() < 1e-12);
        assert!((expected(R::WheelSpeed, 1.5) - 150.0).abs() < 1e-9);
        assert!((expected(R::SupplyDewPoint, -45.0) + 45.0).abs() < 1e-12);
    }
}
