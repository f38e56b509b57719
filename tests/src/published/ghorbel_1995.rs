//! Ghorbel et al. (1995), Journal of Applied Polymer Science 55, 163: water in polycarbonate.
//!
//! What was measured: moisture of plaques in balance with water, about 0.04 mol per mol of carbonate
//! from 40 to 90 degC (abstract, read).
//! How read: printed with one digit.
//! Tolerance: half of the number, what separates two laboratories and two grades of one resin.
//! Errata and doubts: half of what Golovoy and Zinbo (1989) print at 100 degC, on which the record
//! stands, and a third of what entry W018 of the PVDeg data file gives: disputed.
//! Not compared: the 10 to 40 h until balance, for want of the thickness.

use super::{is_absent, resin};
use crate::{Kind, Row};
use quantity::constants::WATER_MOLAR_MASS;

const SOURCE: &str = "Ghorbel et al. (1995), abstract";
/// Molar mass of the repeating unit of bisphenol-A polycarbonate, C16 H14 O3, kg/mol.
const CARBONATE: f64 = 0.254_28;

/// One row, disputed.
pub fn rows() -> Vec<Row> {
    let Some(pc) = resin("pc") else {
        return vec![is_absent(SOURCE, "pc")];
    };
    vec![Row {
        source: SOURCE,
        what: "moisture of saturated PC, 90 degC".to_owned(),
        unit: "kg/kg",
        expected: 0.04 * WATER_MOLAR_MASS / CARBONATE,
        computed: pc.isotherm.law.moisture(363.15, 1.0),
        tolerance: 0.5,
        absolute: false,
        why: "two laboratories, two grades of a resin",
        kind: Kind::Published,
        disputed: Some(
            "0.59 % at 100 degC in Golovoy and Zinbo (1989), on which the record stands",
        ),
    }]
}

#[cfg(test)]
mod tests {
    #[test]
    fn published_ghorbel() {
        crate::check(&super::rows());
    }
}
