//! Whether air can hold the water that is stated of it.

use air::{AirError, HumidAir, at_dew_point, at_frost_point};
use quantity::{
    AbsolutePressure, HumidityRatio, Meaning, Quantity, RelativeHumidity, Temperature, Units,
    VapourMoleFraction, show, show_si,
};

/// How humidity is best stated.
const AS_DELIVERED: &str = "write the humidity as the air has it in the hopper, for example \
                            \"-40 degC frost\"";

/// The air that is stated: where it is, and the atmosphere that gauge pressures are counted from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Surroundings {
    /// Temperature of the air.
    pub(super) temperature: Temperature,
    /// Its pressure.
    pub(super) pressure: AbsolutePressure,
    /// Atmosphere of the site.
    pub(super) atmosphere: AbsolutePressure,
}

/// Air of a stated humidity.
///
/// # Errors
/// The air could not hold the water, or a number leaves the range in which air is known.
pub(super) fn air_of(
    humidity: quantity::Humidity,
    around: Surroundings,
) -> Result<HumidAir, AirError> {
    use quantity::Humidity as Stated;
    let Surroundings {
        temperature,
        pressure,
        atmosphere,
    } = around;
    let said: air::Humidity = match humidity {
        Stated::Dew(point, None) => point.into(),
        Stated::Dew(point, Some(at)) => at_dew_point(point, at.absolute(atmosphere))?.into(),
        Stated::Frost(point, None) => point.into(),
        Stated::Frost(point, Some(at)) => at_frost_point(point, at.absolute(atmosphere))?.into(),
        Stated::Ratio(ratio) => ratio.into(),
        Stated::Relative(relative, None) => relative.into(),
        Stated::Relative(relative, Some(at)) => HumidAir::new(at, pressure, relative)?
            .vapour_mole_fraction()
            .into(),
        Stated::Share(share) => share.into(),
        Stated::Density(density) => density.into(),
        Stated::Pressure(vapour) => vapour.into(),
    };
    HumidAir::new(temperature, pressure, said)
}

/// Cause and mend of air that cannot be.
pub(super) fn why_not(error: &AirError, around: Surroundings, system: Units) -> (String, String) {
    let warm = show(around.temperature, system);
    match error {
        AirError::DewPointAboveTemperature { dew_point_c, .. } => {
            let dew = show(Temperature::from_celsius(*dew_point_c), system);
            (
                format!(
                    "the dew point {dew} lies above the air temperature {warm}: such air is \
                     supersaturated, and water would fall out of it"
                ),
                format!("write a dew point below {warm}, or state warmer air"),
            )
        }
        AirError::Supersaturated { .. } => (
            format!("this is more vapour than air at {warm} holds: such air is supersaturated"),
            match most(around) {
                Some((ratio, share)) => format!(
                    "write at most {} or {}, or state warmer air",
                    show_si(ratio.si(), Meaning::HumidityRatio, system, 3),
                    show(share, system)
                ),
                None => "write less vapour, or state warmer air".to_owned(),
            },
        ),
        AirError::NoAirLeft { .. } | AirError::DewPointTooHigh { .. } => (
            format!("at {warm} this is steam rather than air with vapour in it"),
            AS_DELIVERED.to_owned(),
        ),
        other => (other.to_string(), AS_DELIVERED.to_owned()),
    }
}

/// What saturated air holds.
fn most(around: Surroundings) -> Option<(HumidityRatio, VapourMoleFraction)> {
    let all = RelativeHumidity::from_fraction(1.0);
    let air = HumidAir::new(around.temperature, around.pressure, all).ok()?;
    Some((air.humidity_ratio(), air.vapour_mole_fraction()))
}
