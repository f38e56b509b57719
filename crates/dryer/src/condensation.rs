//! Where air begins to shed water.

use air::saturation::TRIPLE_POINT;
use air::{equilibrium, mixture};

/// Condensation point, K, of air of a humidity ratio (kg/kg) at a pressure (Pa): frost point up to the
/// triple point, dew point above. Drier air than that of -84 degC is told as that.
pub fn condensation_temperature(humidity: f64, pressure: f64) -> f64 {
    point_of_share(mixture::mole_fraction(humidity), pressure)
}

/// The same of a mole fraction of vapour.
pub(crate) fn point_of_share(share: f64, pressure: f64) -> f64 {
    let frost = equilibrium::frost_temperature(share, pressure);
    if frost < TRIPLE_POINT - 1e-6 {
        frost
    } else {
        equilibrium::dew_temperature(share, pressure)
    }
}
