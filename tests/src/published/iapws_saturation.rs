//! IAPWS, saturation pressure of water: SR1-86(1992), R7-97(2012) and R14-08(2011).
//!
//! What was measured: the vapour pressure of water over its liquid (SR1-86, table 1; R7-97, table 35)
//! and over ice (R14-08, table 3), as the check values these documents print for programs.
//! How read: check values, no reading error.
//! Tolerance: the printed digits for the equations used here (SR1-86, R14-08). R7-97 is another
//! equation for the same curve; the two agree within 2e-4 (SR1-86 states 2.5e-4 of uncertainty up to
//! 373 K), and the difference is shown as such.
//! Errata and doubts: none known.
//! Not compared: liquid below 273.16 K, for which IAPWS has no equation; it is Murphy and Koop (2005),
//! whose own check values over liquid and over ice (appendix C, read from memory of the paper: 240 K,
//! 37.667 Pa and 27.272 Pa) stand in here.

use crate::{Kind, Row};
use air::saturation;

const DIGITS: &str = "the printed digits";
const OTHER_LIQUID: &str = "another equation for the same curve, both uncertain by 1e-4 to 2.5e-4";
const OTHER_ICE: &str = "another equation for ice, uncertain by 2.5e-4 here";

/// Source, temperature K, check value Pa, relative tolerance and its reason.
type CheckValue = (&'static str, f64, f64, f64, &'static str);

const OVER_LIQUID: [CheckValue; 7] = [
    ("IAPWS SR1-86(1992), table 1", 273.16, 611.657, 1e-6, DIGITS),
    (
        "IAPWS SR1-86(1992), table 1",
        373.1243,
        101_325.0,
        1e-6,
        DIGITS,
    ),
    (
        "IAPWS SR1-86(1992), table 1",
        647.096,
        22.064e6,
        1e-9,
        DIGITS,
    ),
    (
        "IAPWS R7-97(2012), table 35",
        300.0,
        3_536.589_41,
        2e-4,
        OTHER_LIQUID,
    ),
    (
        "IAPWS R7-97(2012), table 35",
        500.0,
        2_638_897.76,
        2e-4,
        OTHER_LIQUID,
    ),
    (
        "IAPWS R7-97(2012), table 35",
        600.0,
        12_344_314.6,
        2e-4,
        OTHER_LIQUID,
    ),
    (
        "Murphy and Koop (2005), appendix C",
        240.0,
        37.667,
        2e-5,
        DIGITS,
    ),
];

const OVER_ICE: [CheckValue; 2] = [
    ("IAPWS R14-08(2011), table 3", 230.0, 8.947_35, 6e-7, DIGITS),
    (
        "Murphy and Koop (2005), appendix C",
        240.0,
        27.272,
        3e-4,
        OTHER_ICE,
    ),
];

/// One row for each check value.
pub fn rows() -> Vec<Row> {
    let of = |phase: &'static str, curve: fn(f64) -> f64| {
        move |(source, t, expected, tolerance, why): CheckValue| Row {
            source,
            what: format!("vapour pressure over {phase} at {t} K"),
            unit: "Pa",
            expected,
            computed: curve(t),
            tolerance,
            absolute: false,
            why,
            kind: Kind::Published,
            disputed: None,
        }
    };
    let liquid = OVER_LIQUID
        .into_iter()
        .map(of("liquid", saturation::over_liquid));
    let ice = OVER_ICE.into_iter().map(of("ice", saturation::over_ice));
    liquid.chain(ice).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn published_iapws_saturation() {
        crate::check(&super::rows());
    }
}
