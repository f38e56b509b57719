//! Pressure of the standard atmosphere at an altitude.

use crate::AirError;
use quantity::constants::{STANDARD_ATMOSPHERE, STANDARD_GRAVITY};
use quantity::{AbsolutePressure, Altitude, Range};

/// Altitudes [`standard_pressure`] holds for: the lowest layer of ISO 2533:1975.
pub const ALTITUDE_HOLDS: Range = Range::new("altitude", -2000.0, 11_000.0, "m");

/// Pressure of the standard atmosphere at an altitude above sea level.
///
/// `p = 101 325 Pa (1 - 0.0065 K/m H / 288.15 K)^(g / (0.0065 K/m R))` with the geopotential altitude
/// `H = r h / (r + h)`. ISO 2533:1975, the same as the ICAO standard atmosphere, Doc 7488
/// (1993). The weather moves the true pressure by some 3 % either way.
///
/// # Errors
/// [`AirError::OutOfRange`] outside [`ALTITUDE_HOLDS`].
pub fn standard_pressure(altitude: Altitude) -> Result<AbsolutePressure, AirError> {
    /// Nominal radius of the earth, m. ISO 2533:1975.
    const EARTH_RADIUS: f64 = 6_356_766.0;
    /// Temperature at sea level, K, and its fall, K/m. ISO 2533:1975.
    const SEA_LEVEL_TEMPERATURE: f64 = 288.15;
    const LAPSE: f64 = 0.0065;
    /// Specific gas constant of dry air, J/(kg K). ISO 2533:1975.
    const GAS_CONSTANT: f64 = 287.052_87;
    let height = ALTITUDE_HOLDS.check(altitude.metres())?;
    let geopotential = EARTH_RADIUS * height / (EARTH_RADIUS + height);
    let exponent = STANDARD_GRAVITY / (LAPSE * GAS_CONSTANT);
    let ln_ratio = exponent * libm::log1p(-LAPSE * geopotential / SEA_LEVEL_TEMPERATURE);
    Ok(AbsolutePressure::from_pascal(
        STANDARD_ATMOSPHERE * libm::exp(ln_ratio),
    ))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    fn pascal(metres: f64) -> f64 {
        standard_pressure(Altitude::from_metres(metres))
            .unwrap()
            .pascal()
    }

    #[test]
    fn published_standard_atmosphere() {
        // U.S. Standard Atmosphere 1976 (identical to ISO 2533 here), table I, geometric altitude.
        assert!((pascal(0.0) - 101_325.0).abs() < 1e-9);
        assert!((pascal(1000.0) - 89_876.0).abs() < 1.0);
        assert!((pascal(5000.0) - 54_048.0).abs() < 1.0);
    }

    #[test]
    fn holds_just_inside_and_not_just_outside() {
        assert!(pascal(ALTITUDE_HOLDS.low) > pascal(ALTITUDE_HOLDS.high));
        for outside in [-2000.1, 11_000.1, f64::NAN] {
            let error = standard_pressure(Altitude::from_metres(outside)).unwrap_err();
            assert!(matches!(error, AirError::OutOfRange(_)), "{outside}");
        }
    }
}
