//! CoolProp 8.0.0: frost points after a leak of room air.
//!
//! What it is: dry air of a frost point mixed with a share of room air of 10 g/kg, and the frost point after.
//! How read: frozen from `bench/peers/dryer_parts_table.py`, which prints the table below.
//! Tolerance: 0.02 K, what lies between two accounts of saturation over ice (0.1 % in its factor).

use crate::{Kind, Row};
use dryer::Stream;
use dryer::dew_point_sensor::condensation_temperature;
use dryer::leak::{Amount, Around, LeakSpec, Way};
use quantity::constants::{STANDARD_ATMOSPHERE, ZERO_CELSIUS};
use quantity::{AbsolutePressure, Fraction, FrostPoint, Quantity};

/// Frost point degC, share let in, frost point after degC.
const LEAKS: &[(f64, f64, f64)] = &[
    (-57.5, 0.0001, -56.727531),
    (-57.5, 0.001, -51.847811),
    (-57.5, 0.005, -42.540198),
    (-57.5, 0.01, -37.130071),
    (-40.0, 0.0001, -39.889990),
    (-40.0, 0.001, -38.952835),
    (-40.0, 0.005, -35.623264),
    (-40.0, 0.01, -32.597938),
];

fn after(frost: f64, share: f64) -> Option<f64> {
    let pressure = AbsolutePressure::from_pascal(STANDARD_ATMOSPHERE);
    let vapour = air::at_frost_point(FrostPoint::from_celsius(frost), pressure).ok()?;
    let dry = Stream {
        dry_air: 0.05,
        temperature: 298.15,
        humidity: air::mixture::humidity_ratio(vapour.fraction()),
    };
    let around = Around {
        room: Stream {
            humidity: 0.01,
            ..dry
        },
        pressure: STANDARD_ATMOSPHERE,
        gauge: 0.0,
    };
    let leak = LeakSpec {
        amount: Amount::Share(Fraction::from_si(share)),
        way: Way::Swap,
        pulse: None,
    };
    let leaked = leak.check().ok()?.pass(&dry, &around, None).ok()?;
    let point = condensation_temperature(leaked.after.humidity, STANDARD_ATMOSPHERE).ok()?;
    Some(point - ZERO_CELSIUS)
}

/// One row for each leak.
pub fn rows() -> Vec<Row> {
    LEAKS
        .iter()
        .map(|&(frost, share, expected)| Row {
            source: "CoolProp 8.0.0",
            what: format!("frost point of air of {frost} degC with {share} of room air"),
            unit: "degC",
            expected,
            computed: after(frost, share).unwrap_or(f64::NAN),
            tolerance: 0.02,
            absolute: true,
            why: "two accounts of saturation over ice",
            kind: Kind::Peer,
            disputed: None,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn peer_line_air() {
        crate::check(&super::rows());
    }
}
