//! Siparsky et al. (1997), Water transport in polylactic acid (PLA), PLA/polycaprolactone copolymers, and
//! PLA/polyethylene glycol blends (author, year and journal from memory).
//!
//! What was measured: solubility in PLA, its copolymers and blends, 4e-4 to 1e-3 cm3(STP)/(cm3 Pa) at
//! 50 degC and 90 %RH (abstract, read).
//! How read: printed with one digit; compared at the upper end of the span.
//! Tolerance: 10 %: the record must lie in the span, and half a digit of its end is 5 %.
//! Errata and doubts: the record stands on Du et al. (2012), 0.65 % at 80 %RH in another PLA: disputed.
//! Not compared: the diffusivity, for which the record stands on this abstract.

use super::{is_absent, resin};
use crate::{Kind, Row};
use air::saturation;
use quantity::constants::WATER_MOLAR_MASS;

const SOURCE: &str = "Siparsky et al. (1997), abstract";
/// Upper end of the printed span, m3(STP)/(m3 Pa).
const SOLUBILITY: f64 = 1e-3;
/// Molar volume of an ideal gas at 0 degC and one atmosphere, m3/mol.
const STANDARD_VOLUME: f64 = 0.022_414;

/// One row, disputed.
pub fn rows() -> Vec<Row> {
    let Some(pla) = resin("pla") else {
        return vec![is_absent(SOURCE, "pla")];
    };
    let t = 323.15;
    let pressure = 0.9 * saturation::over_liquid(t);
    let held = SOLUBILITY * pressure / STANDARD_VOLUME * WATER_MOLAR_MASS;
    vec![Row {
        source: SOURCE,
        what: "moisture of PLA at 50 degC and 90 %RH, upper end of the span".to_owned(),
        unit: "kg/kg",
        expected: held / pla.density.value.kg_per_m3(),
        computed: pla.isotherm.law.moisture(t, 0.9),
        tolerance: 0.1,
        absolute: false,
        why: "half a digit of the printed end, and as much for the density",
        kind: Kind::Published,
        disputed: Some("0.65 % at 80 %RH in Du et al. (2012), on which the record stands"),
    }]
}

#[cfg(test)]
mod tests {
    #[test]
    fn published_siparsky() {
        crate::check(&super::rows());
    }
}
