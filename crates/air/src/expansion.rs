//! Compressed air let down: what a dew point at line pressure becomes after expansion.
//!
//! # Equations
//! Expansion changes neither the vapour nor the air, so the vapour mole fraction stays; it is the
//! saturated one of [`crate::equilibrium`] at the dew point and line pressure, and the dew point after
//! expansion is where it is the saturated one at the lower pressure. The enhancement factors of the
//! two pressures differ by 3 to 6 %, which is 0.2 to 0.3 K at 0.8 MPa; the ideal rule
//! `e2 = e1 p2 / p1` misses them.

use crate::AirError;
use crate::point::{self, CondensationPoint};
use quantity::{AbsolutePressure, VapourMoleFraction};

/// Vapour mole fraction of compressed air with a pressure dew (or frost) point at line pressure; it is
/// the same at every other pressure.
///
/// # Errors
/// As [`crate::at_condensation_point`].
pub fn vapour_in_line(
    pressure_dew_point: impl Into<CondensationPoint>,
    line: AbsolutePressure,
) -> Result<VapourMoleFraction, AirError> {
    point::at_condensation_point(pressure_dew_point.into(), line)
}

/// Dew or frost point after expansion (or compression) from one pressure to another.
///
/// # Errors
/// [`AirError::OutOfRange`] when a pressure, the given point or the resulting one leaves its range;
/// [`AirError::NoAirLeft`] when the point given is at or above boiling.
///
/// # Example
/// ```
/// use air::{CondensationPoint, expansion};
/// use quantity::{AbsolutePressure, DewPoint};
///
/// let line = AbsolutePressure::from_pascal(801_325.0);
/// let open = AbsolutePressure::from_pascal(101_325.0);
/// let after = expansion::condensation_point(DewPoint::from_celsius(3.0), line, open)?;
/// let CondensationPoint::Frost(frost) = after else { panic!("3 degC at 7 bar(g) freezes") };
/// assert!((frost.celsius() + 20.5).abs() < 0.1);
/// # Ok::<(), air::AirError>(())
/// ```
pub fn condensation_point(
    before: impl Into<CondensationPoint>,
    from: AbsolutePressure,
    to: AbsolutePressure,
) -> Result<CondensationPoint, AirError> {
    point::condensation_point(vapour_in_line(before, from)?, to)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;
    use quantity::{DewPoint, FrostPoint};

    fn frost_after(before: impl Into<CondensationPoint>, from: f64, to: f64) -> f64 {
        let [from, to] = [from, to].map(AbsolutePressure::from_pascal);
        match condensation_point(before, from, to).unwrap() {
            CondensationPoint::Frost(frost) => frost.celsius(),
            CondensationPoint::Dew(dew) => dew.celsius(),
        }
    }

    #[test]
    fn holds_expansion_dries_and_compression_wets() {
        let line = 801_325.0;
        let after = frost_after(FrostPoint::from_celsius(-40.0), line, 101_325.0);
        assert!((after + 56.7).abs() < 0.1, "{after}");
        let before = frost_after(FrostPoint::from_celsius(after), 101_325.0, line);
        assert!((before + 40.0).abs() < 1e-6, "{before}");
        let dew = frost_after(DewPoint::from_celsius(20.0), 101_325.0, line);
        assert!(dew > 50.0, "{dew}");
    }

    #[test]
    fn holds_the_real_gas_share() {
        // Without enhancement factors the vapour pressure would fall as the total pressure does.
        let ideal = crate::saturation::over_liquid(276.15) * 101_325.0 / 801_325.0;
        let real = frost_after(DewPoint::from_celsius(3.0), 801_325.0, 101_325.0) + 273.15;
        let ratio = crate::saturation::over_ice(real) / ideal;
        assert!((1.02..1.03).contains(&ratio), "{ratio}");
    }

    #[test]
    fn holds_steam_and_ranges_refused() {
        let [open, line] = [101_325.0, 801_325.0].map(AbsolutePressure::from_pascal);
        let steam = condensation_point(DewPoint::from_celsius(99.99), open, line);
        assert!(matches!(steam, Err(AirError::NoAirLeft { .. })));
        let too_dry = condensation_point(FrostPoint::from_celsius(-75.0), line, open);
        assert!(matches!(too_dry, Err(AirError::OutOfRange(_))));
        let vacuum = AbsolutePressure::from_pascal(1e4);
        assert!(condensation_point(FrostPoint::from_celsius(-40.0), line, vacuum).is_err());
    }
}
