//! Krongauz, Bennett and Ling (2016), Kinetics of water vapor diffusion in resins, Journal of Thermal
//! Analysis and Calorimetry 125(1), 231.
//!
//! What was measured: diffusivity of water in MABS from 30 to 75 degC: 43.5 kJ/mol, on the compensation
//! law `ln D0 = -23.9 + 0.49 E` of all resins of the paper, D0 in cm2/s (abstract, read).
//! How read: printed; the rounding of 0.49 alone is times or divided by 1.25.
//! Tolerance: half of the number, what separates two laboratories and two grades of one resin.
//! Errata and doubts: MABS holds methyl methacrylate and is slower than ABS, but not by ten: disputed.
//! Not compared: the activation energy, which the record takes from here; rubbers.

use super::{is_absent, resin};
use crate::{Kind, Row};
use quantity::constants::MOLAR_GAS;

const SOURCE: &str = "Krongauz et al. (2016), abstract";

/// One row, disputed.
pub fn rows() -> Vec<Row> {
    let Some(abs) = resin("abs") else {
        return vec![is_absent(SOURCE, "abs")];
    };
    let (t, energy) = (348.15, 43.5);
    let ln_reference = -23.9 + 0.49 * energy;
    vec![Row {
        source: SOURCE,
        what: "diffusivity in ABS, 75 degC (measured on MABS)".to_owned(),
        unit: "m2/s",
        expected: 1e-4 * (ln_reference - 1e3 * energy / (MOLAR_GAS * t)).exp(),
        computed: abs.diffusivity.law.at(t, 0.0),
        tolerance: 0.5,
        absolute: false,
        why: "two laboratories, two grades of a resin",
        kind: Kind::Published,
        disputed: Some(
            "ten times slower than customary drying times, usual film permeability and the water \
             that dried pieces regain in a day allow for ABS; fit your own drying curve",
        ),
    }]
}

#[cfg(test)]
mod tests {
    #[test]
    fn published_krongauz() {
        crate::check(&super::rows());
    }
}
