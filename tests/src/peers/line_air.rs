//! CoolProp 8.0.0: frost points after a leak of room air, and of compressed air let down.
//!
//! What it is: dry air of a frost point mixed with a share of room air of 10 g/kg, and the frost point after;
//! air of a line with a pressure dew point, its humidity ratio, and the frost point at one atmosphere.
//! How read: frozen from `bench/peers/dryer_parts_table.py`, which prints the table below.
//! Tolerance: 1e-3 K after a leak, 2e-3 K and 2e-4 of the humidity after expansion, what lies between two accounts of saturation over ice.

use crate::{Kind, Row};
use air::CondensationPoint;
use dryer::Stream;
use dryer::compressed_air::{CompressedAirSpec, Delivered, Drying, Pass, Reference};
use dryer::condensation_temperature;
use dryer::leak::{Amount, Around, LeakSpec, Way};
use quantity::constants::{STANDARD_ATMOSPHERE, ZERO_CELSIUS};
use quantity::{
    AbsolutePressure, DewPoint, EnergyPerVolume, Fraction, FrostPoint, GaugePressure, Quantity,
    Temperature,
};

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

/// Line bar(g), pressure dew or frost point degC, humidity ratio, frost point at one atmosphere degC.
const LINES: &[(f64, f64, f64, f64)] = &[
    (7.0, 10.0, 9.80711310e-04, -15.431588),
    (7.0, 7.0, 8.00432944e-04, -17.604418),
    (7.0, 3.0, 6.05876647e-04, -20.525151),
    (7.0, 0.0, 4.89073965e-04, -22.726784),
    (7.0, -20.0, 8.30572234e-05, -39.586895),
    (7.0, -40.0, 1.04180270e-05, -56.666298),
    (6.0, 3.0, 6.89955284e-04, -19.170454),
    (7.0, 20.0, 1.86722288e-03, -8.297357),
];

fn let_down(bar: f64, celsius: f64) -> Option<Delivered> {
    let energy = EnergyPerVolume::from_kwh_per_m3;
    let supply = CompressedAirSpec {
        line_pressure: GaugePressure::from_bar(bar),
        pressure_dew_point: if celsius < 0.01 {
            CondensationPoint::Frost(FrostPoint::from_celsius(celsius))
        } else {
            CondensationPoint::Dew(DewPoint::from_celsius(celsius))
        },
        temperature: Temperature::from_celsius(25.0),
        specific_energy: energy(0.11),
        reference: Reference::Inlet,
        drying: Drying::Refrigerated {
            energy: energy(0.003),
        },
        pass: Pass::Single,
        most: None,
    };
    let nothing = Stream {
        dry_air: 0.0,
        temperature: 298.15,
        humidity: 0.0,
    };
    let supply = supply.check().ok()?;
    supply.deliver(0.01, &nothing, STANDARD_ATMOSPHERE).ok()
}

fn lines() -> Vec<Row> {
    let of_line = |&(bar, celsius, humidity, frost): &(f64, f64, f64, f64)| {
        let delivered = let_down(bar, celsius);
        let row = |what, unit, expected, computed: Option<f64>, tolerance, absolute| Row {
            source: "CoolProp 8.0.0",
            what: format!("{what} of air let down from {bar} bar(g) and {celsius} degC"),
            unit,
            expected,
            computed: computed.unwrap_or(f64::NAN),
            tolerance,
            absolute,
            why: "two accounts of saturation over ice and under pressure",
            kind: Kind::Peer,
            disputed: None,
        };
        [
            row(
                "humidity ratio",
                "kg/kg",
                humidity,
                delivered.map(|air| air.outlet.humidity),
                2e-4,
                false,
            ),
            row(
                "frost point",
                "degC",
                frost,
                delivered.map(|air| air.point - ZERO_CELSIUS),
                2e-3,
                true,
            ),
        ]
    };
    LINES.iter().flat_map(of_line).collect()
}

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
    let point = condensation_temperature(leaked.after.humidity, STANDARD_ATMOSPHERE);
    Some(point - ZERO_CELSIUS)
}

/// One row for each leak, two for each line.
pub fn rows() -> Vec<Row> {
    let leaks = LEAKS.iter().map(|&(frost, share, expected)| Row {
        source: "CoolProp 8.0.0",
        what: format!("frost point of air of {frost} degC with {share} of room air"),
        unit: "degC",
        expected,
        computed: after(frost, share).unwrap_or(f64::NAN),
        tolerance: 1e-3,
        absolute: true,
        why: "two accounts of saturation over ice",
        kind: Kind::Peer,
        disputed: None,
    });
    leaks.chain(lines()).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn peer_line_air() {
        crate::check(&super::rows());
    }
}
