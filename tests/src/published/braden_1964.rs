//! Braden (1964), The absorption of water by acrylic resins and other materials, Journal of Prosthetic
//! Dentistry 14, 307 (volume and pages from memory).
//!
//! What was measured: uptake of water by dental acrylics (PMMA) at 22.5 and 37.4 degC: the diffusivity
//! grows "by a factor of two to three", the equilibrium does not change (abstract, read).
//! How read: printed; the band is its own reading error.
//! Tolerance: the printed band about 2.5 for the diffusivity; 5 % for the equilibrium, for what "does
//! not change" leaves open.
//! Errata and doubts: none known. The record's rise with temperature stands on Unemori et al. (2003);
//! its size at 37 degC is remembered from this paper, so that the size is no check.
//! Not compared: other resins of the paper.

use super::{is_absent, resin};
use crate::{Kind, Row};

const SOURCE: &str = "Braden (1964), abstract";

/// Two rows.
pub fn rows() -> Vec<Row> {
    let Some(pmma) = resin("pmma") else {
        return vec![is_absent(SOURCE, "pmma")];
    };
    let (cold, warm) = (22.5 + 273.15, 37.4 + 273.15);
    let diffusivity = |t| pmma.diffusivity.law.at(t, 0.0);
    let saturated = |t| pmma.isotherm.law.moisture(t, 1.0);
    let row = |what: &str, expected, computed, tolerance, why| Row {
        source: SOURCE,
        what: what.to_owned(),
        unit: "",
        expected,
        computed,
        tolerance,
        absolute: true,
        why,
        kind: Kind::Published,
        disputed: None,
    };
    vec![
        row(
            "rise of diffusivity in PMMA, 22.5 to 37.4 degC",
            2.5,
            diffusivity(warm) / diffusivity(cold),
            0.5,
            "printed as two to three",
        ),
        row(
            "rise of the equilibrium of PMMA, 22.5 to 37.4 degC",
            1.0,
            saturated(warm) / saturated(cold),
            0.05,
            "printed as unchanged",
        ),
    ]
}

#[cfg(test)]
mod tests {
    #[test]
    fn published_braden() {
        crate::check(&super::rows());
    }
}
