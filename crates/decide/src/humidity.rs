//! From a humidity as it was stated to the humidity ratio of the air where it is used.

use crate::DecideError;
use air::{AirError, HumidAir};
use quantity::constants::ZERO_CELSIUS;
use quantity::{AbsolutePressure, Humidity, HumidityRatio, Quantity, StatedPressure, Temperature};

/// Humidity ratio of air at `temperature` and `pressure`, as humid as stated; `site` is the
/// atmosphere that gauge pressures count from. Vapour keeps its share of the molecules when air is
/// expanded, so a dew point stated at a line pressure counts there.
///
/// # Errors
/// [`DecideError::Air`] when such air cannot be.
pub(crate) fn ratio(
    stated: Humidity,
    temperature: Temperature,
    pressure: AbsolutePressure,
    site: AbsolutePressure,
    place: &'static str,
) -> Result<HumidityRatio, DecideError> {
    let at = |stated: Option<StatedPressure>| stated.map_or(pressure, |p| p.absolute(site));
    let found = match stated {
        Humidity::Dew(dew, where_stated) => air::at_dew_point(dew, at(where_stated))
            .and_then(|share| HumidAir::new(temperature, pressure, share)),
        Humidity::Frost(frost, where_stated) => air::at_frost_point(frost, at(where_stated))
            .and_then(|share| HumidAir::new(temperature, pressure, share)),
        Humidity::Ratio(ratio) => HumidAir::new(temperature, pressure, ratio),
        Humidity::Relative(relative, where_stated) => {
            HumidAir::new(where_stated.unwrap_or(temperature), pressure, relative)
                .and_then(|air| air.at_temperature(temperature))
        }
        Humidity::Share(share) => HumidAir::new(temperature, pressure, share),
        Humidity::Density(density) => HumidAir::new(temperature, pressure, density),
        Humidity::Pressure(vapour) => HumidAir::new(temperature, pressure, vapour),
    };
    found
        .map(|air| air.humidity_ratio())
        .map_err(|cause| DecideError::Air { place, cause })
}

/// Frost point (dew point above 0 degC) of air of this humidity ratio, degC; the lowest that the
/// air crate answers for where it is drier.
pub(crate) fn frost_point_c(humidity: f64, temperature: f64, pressure: f64) -> f64 {
    let air = HumidAir::new(
        Temperature::from_si(temperature),
        AbsolutePressure::from_si(pressure),
        HumidityRatio::from_si(humidity),
    );
    match air.and_then(|air| air.condensation_point()) {
        Ok(air::CondensationPoint::Frost(frost)) => frost.celsius(),
        Ok(air::CondensationPoint::Dew(dew)) => dew.celsius(),
        Err(AirError::NoVapour | AirError::OutOfRange { .. }) => DRIEST_FROST_POINT_C,
        Err(_) => temperature - ZERO_CELSIUS,
    }
}

/// Lowest frost point of the air crate, degC.
const DRIEST_FROST_POINT_C: f64 = -80.0;

/// Humidity ratio at a frost point (dew point above 0 degC), degC, and a pressure.
pub(crate) fn at_frost_point(point_c: f64, pressure: f64) -> f64 {
    let p = AbsolutePressure::from_si(pressure);
    let share = if point_c <= 0.0 {
        air::at_frost_point(quantity::FrostPoint::from_celsius(point_c), p)
    } else {
        air::at_dew_point(quantity::DewPoint::from_celsius(point_c), p)
    };
    share.map_or(0.0, |share| air::mixture::humidity_ratio(share.fraction()))
}
