//! Dew and frost points at a total pressure, typed: to the vapour they stand for and back.

use crate::state::{DEW_POINT_HOLDS, FROST_POINT_HOLDS, PRESSURE_HOLDS};
use crate::{AirError, equilibrium, saturation};
use quantity::constants::ZERO_CELSIUS;
use quantity::{AbsolutePressure, DewPoint, FrostPoint, Range, VapourMoleFraction};
use serde::{Deserialize, Serialize};

/// What rounding may add to a temperature without leaving a range, K.
pub(crate) const SLACK: f64 = 1e-6;

/// What a cold mirror shows first: frost up to 0.01 degC, dew above.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CondensationPoint {
    /// Liquid, above 0.01 degC.
    Dew(DewPoint),
    /// Ice, up to 0.01 degC.
    Frost(FrostPoint),
}

impl From<DewPoint> for CondensationPoint {
    fn from(value: DewPoint) -> Self {
        Self::Dew(value)
    }
}

impl From<FrostPoint> for CondensationPoint {
    fn from(value: FrostPoint) -> Self {
        Self::Frost(value)
    }
}

/// Vapour in air of a dew point at a total pressure.
///
/// # Errors
/// [`AirError::OutOfRange`] outside the ranges, [`AirError::NoAirLeft`] when water of that
/// temperature would boil at that pressure.
pub fn at_dew_point(
    dew: DewPoint,
    pressure: AbsolutePressure,
) -> Result<VapourMoleFraction, AirError> {
    let p = PRESSURE_HOLDS.check(pressure.pascal())?;
    let t = inside(&DEW_POINT_HOLDS, dew.kelvin())?;
    let y = equilibrium::saturated_over_liquid(t, p);
    if y > equilibrium::MOST_VAPOUR {
        return Err(AirError::NoAirLeft {
            vapour_pressure_pa: saturation::over_liquid(t),
            pressure_pa: p,
        });
    }
    Ok(VapourMoleFraction::from_fraction(y))
}

/// Vapour in air of a frost point at a total pressure.
///
/// # Errors
/// [`AirError::OutOfRange`] outside the ranges.
pub fn at_frost_point(
    frost: FrostPoint,
    pressure: AbsolutePressure,
) -> Result<VapourMoleFraction, AirError> {
    let p = PRESSURE_HOLDS.check(pressure.pascal())?;
    let t = inside(&FROST_POINT_HOLDS, frost.kelvin())?;
    Ok(VapourMoleFraction::from_fraction(
        equilibrium::saturated_over_ice(t, p),
    ))
}

/// Vapour in air of a condensation point at a total pressure.
///
/// # Errors
/// As [`at_dew_point`] and [`at_frost_point`].
pub fn at_condensation_point(
    condensation: CondensationPoint,
    pressure: AbsolutePressure,
) -> Result<VapourMoleFraction, AirError> {
    match condensation {
        CondensationPoint::Dew(dew) => at_dew_point(dew, pressure),
        CondensationPoint::Frost(frost) => at_frost_point(frost, pressure),
    }
}

/// Dew point of vapour in air at a total pressure; over supercooled liquid below 0.01 degC.
///
/// # Errors
/// [`AirError::NoVapour`] without vapour, [`AirError::NoAirLeft`] without air,
/// [`AirError::OutOfRange`] outside [`DEW_POINT_HOLDS`] or the pressure range.
pub fn dew_point(
    vapour: VapourMoleFraction,
    pressure: AbsolutePressure,
) -> Result<DewPoint, AirError> {
    let (y, p) = mixture_of(vapour, pressure)?;
    let t = inside(&DEW_POINT_HOLDS, equilibrium::dew_temperature(y, p))?;
    Ok(DewPoint::from_kelvin(t))
}

/// Frost point of vapour in air at a total pressure.
///
/// # Errors
/// [`AirError::NoFrostPoint`] when the vapour condenses as liquid, above 0.01 degC; else as
/// [`dew_point`].
pub fn frost_point(
    vapour: VapourMoleFraction,
    pressure: AbsolutePressure,
) -> Result<FrostPoint, AirError> {
    let (y, p) = mixture_of(vapour, pressure)?;
    if freezes(y, p) {
        let t = inside(&FROST_POINT_HOLDS, equilibrium::frost_temperature(y, p))?;
        Ok(FrostPoint::from_kelvin(t))
    } else {
        Err(AirError::NoFrostPoint {
            vapour_pressure_pa: y * p,
        })
    }
}

/// What a cold mirror would show first in air at a total pressure: frost up to 0.01 degC, dew above.
///
/// # Errors
/// As [`dew_point`].
pub fn condensation_point(
    vapour: VapourMoleFraction,
    pressure: AbsolutePressure,
) -> Result<CondensationPoint, AirError> {
    match frost_point(vapour, pressure) {
        Ok(frost) => Ok(frost.into()),
        Err(AirError::NoFrostPoint { .. }) => Ok(dew_point(vapour, pressure)?.into()),
        Err(error) => Err(error),
    }
}

/// Whether the vapour can deposit as ice at or below the triple point.
fn freezes(y: f64, p: f64) -> bool {
    /// Vapour pressures, Pa, under which the answer is surely yes and above which it is surely no:
    /// 611.657 Pa at the triple point (IAPWS R14-08(2011)) times enhancement factors of 1 to 1.05.
    const SURELY: [f64; 2] = [611.0, 645.0];
    let vapour = y * p;
    vapour < SURELY[0]
        || vapour < SURELY[1]
            && y <= equilibrium::saturated_over_ice(saturation::TRIPLE_POINT, p) * (1.0 + 1e-9)
}

/// Plain mole fraction and pressure, when both vapour and air are there.
fn mixture_of(
    vapour: VapourMoleFraction,
    pressure: AbsolutePressure,
) -> Result<(f64, f64), AirError> {
    let p = PRESSURE_HOLDS.check(pressure.pascal())?;
    let y = Range::new("vapour mole fraction", 0.0, 1.0, "").check(vapour.fraction())?;
    if y <= 0.0 {
        return Err(AirError::NoVapour);
    }
    if y > equilibrium::MOST_VAPOUR {
        return Err(AirError::NoAirLeft {
            vapour_pressure_pa: y * p,
            pressure_pa: p,
        });
    }
    Ok((y, p))
}

/// A temperature in kelvin checked against a range in degC; what rounding added is taken off.
fn inside(holds: &Range, t: f64) -> Result<f64, AirError> {
    let (low, high) = (holds.low + ZERO_CELSIUS, holds.high + ZERO_CELSIUS);
    if t >= low - SLACK && t <= high + SLACK {
        Ok(t.clamp(low, high))
    } else {
        holds.check(t - ZERO_CELSIUS)?;
        Ok(t)
    }
}
