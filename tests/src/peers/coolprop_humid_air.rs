//! CoolProp 8.0.0, humid air (`HAPropsSI`).
//!
//! What it is: Herrmann, Kretzschmar and Gatley (2009), ASHRAE research project RP-1485, a virial
//! mixture of the air of Lemmon et al. (2000) with IAPWS-95 water, over IAPWS R14-08 ice.
//! How read: frozen from `bench/peers/humid_air_table.py`, which prints the tables below.
//! Tolerance: 1e-3 on humidity ratio, which is what the crate promises; where less is left, the reason
//! stands with the row. Both count dry air with its carbon dioxide, 28.966 g/mol; the equation of
//! state of air itself is that of air without it.
//! Errata and doubts: its viscosity and conductivity of vapour are those of saturated steam at the total
//! pressure, whatever the temperature; here they are those of thin vapour at the air's temperature. In
//! very humid air the two part by a few per cent, and rows past a tenth of vapour are marked disputed.
//! Its own round trip from a frost point of -80 degC is off by 0.0004 K.
//! Not compared: relative humidity below 0 degC, which it counts over ice and this crate over liquid;
//! supercooled dew points, which it does not have.

use crate::{Kind, Row};
use air::{CondensationPoint, HumidAir, Humidity};
use quantity::{AbsolutePressure, DewPoint, FrostPoint, HumidityRatio, Temperature};

const SOURCE: &str = "CoolProp 8.0.0, humid air";

/// Molar mass of water over that of dry air, as CoolProp takes it.
const THEIR_MASS_RATIO: f64 = 0.621_945;

/// Total pressure, Pa; dew (above 0 degC) or frost point, degC; humidity ratio, kg/kg; the dew or frost
/// point it finds back, degC.
const HUMIDITY: &[(f64, f64, f64, f64)] = &[
    (50000.0, -80.0, 6.844185936e-07, -7.999957003e+01),
    (50000.0, -60.0, 1.349796705e-05, -5.999999978e+01),
    (50000.0, -50.0, 4.913615851e-05, -4.999999879e+01),
    (50000.0, -40.0, 1.602147830e-04, -4.000000000e+01),
    (50000.0, -30.0, 4.742997510e-04, -2.999999978e+01),
    (50000.0, -20.0, 1.289881283e-03, -2.000000000e+01),
    (50000.0, -10.0, 3.256889081e-03, -9.999999993e+00),
    (50000.0, -1.0, 7.095134057e-03, -1.000000002e+00),
    (50000.0, 1.0, 8.301439334e-03, 1.000000003e+00),
    (50000.0, 10.0, 1.570034497e-02, 1.000000001e+01),
    (50000.0, 20.0, 3.060914747e-02, 2.000000005e+01),
    (50000.0, 30.0, 5.791293258e-02, 3.000000000e+01),
    (50000.0, 40.0, 1.081921943e-01, 4.000000000e+01),
    (50000.0, 50.0, 2.050319727e-01, 5.000000000e+01),
    (50000.0, 60.0, 4.152917530e-01, 6.000000000e+01),
    (50000.0, 70.0, 1.040231034e+00, 7.000000001e+01),
    (101325.0, -80.0, 3.393159883e-07, -7.999957785e+01),
    (101325.0, -60.0, 6.684489816e-06, -5.999999978e+01),
    (101325.0, -50.0, 2.432255077e-05, -4.999999881e+01),
    (101325.0, -40.0, 7.927215359e-05, -4.000000000e+01),
    (101325.0, -30.0, 2.345484516e-04, -2.999999978e+01),
    (101325.0, -20.0, 6.372839015e-04, -2.000000000e+01),
    (101325.0, -10.0, 1.606200913e-03, -9.999999993e+00),
    (101325.0, -1.0, 3.487673388e-03, -1.000000002e+00),
    (101325.0, 1.0, 4.076332089e-03, 1.000000002e+00),
    (101325.0, 10.0, 7.662649153e-03, 1.000000001e+01),
    (101325.0, 20.0, 1.476049526e-02, 2.000000003e+01),
    (101325.0, 30.0, 2.733286348e-02, 3.000000000e+01),
    (101325.0, 40.0, 4.914449307e-02, 4.000000000e+01),
    (101325.0, 50.0, 8.686288517e-02, 5.000000000e+01),
    (101325.0, 60.0, 1.535446243e-01, 6.000000000e+01),
    (101325.0, 70.0, 2.791667862e-01, 7.000000000e+01),
    (101325.0, 80.0, 5.529259271e-01, 8.000000000e+01),
    (101325.0, 90.0, 1.420235111e+00, 9.000000000e+01),
    (800000.0, -80.0, 4.584767769e-08, -7.999967421e+01),
    (800000.0, -60.0, 8.893283804e-07, -5.999999983e+01),
    (800000.0, -50.0, 3.217281304e-06, -4.999999900e+01),
    (800000.0, -40.0, 1.043451150e-05, -4.000000000e+01),
    (800000.0, -30.0, 3.074116770e-05, -2.999999980e+01),
    (800000.0, -20.0, 8.318986991e-05, -2.000000000e+01),
    (800000.0, -10.0, 2.087662141e-04, -9.999999994e+00),
    (800000.0, -1.0, 4.510780235e-04, -1.000000002e+00),
    (800000.0, 1.0, 5.261843380e-04, 1.000000000e+00),
    (800000.0, 10.0, 9.822955914e-04, 1.000000000e+01),
    (800000.0, 20.0, 1.870250351e-03, 2.000000000e+01),
    (800000.0, 30.0, 3.399051806e-03, 3.000000000e+01),
    (800000.0, 40.0, 5.928851512e-03, 4.000000000e+01),
    (800000.0, 50.0, 9.975260695e-03, 5.000000000e+01),
    (800000.0, 60.0, 1.626706081e-02, 6.000000000e+01),
    (800000.0, 70.0, 2.583399727e-02, 7.000000000e+01),
    (800000.0, 80.0, 4.015088580e-02, 8.000000000e+01),
    (800000.0, 90.0, 6.139081444e-02, 9.000000000e+01),
    (800000.0, 99.0, 8.915410992e-02, 9.900000000e+01),
    (1200000.0, -80.0, 3.174627774e-08, -7.999972134e+01),
    (1200000.0, -60.0, 6.101256459e-07, -5.999999986e+01),
    (1200000.0, -50.0, 2.199689712e-06, -4.999999911e+01),
    (1200000.0, -40.0, 7.113877414e-06, -4.000000000e+01),
    (1200000.0, -30.0, 2.090786973e-05, -2.999999981e+01),
    (1200000.0, -20.0, 5.646321772e-05, -2.000000000e+01),
    (1200000.0, -10.0, 1.414403929e-04, -9.999999994e+00),
    (1200000.0, -1.0, 3.051572374e-04, -1.000000002e+00),
    (1200000.0, 1.0, 3.557207578e-04, 1.000000005e+00),
    (1200000.0, 10.0, 6.631602169e-04, 1.000000002e+01),
    (1200000.0, 20.0, 1.260657343e-03, 2.000000000e+01),
    (1200000.0, 30.0, 2.287139768e-03, 3.000000000e+01),
    (1200000.0, 40.0, 3.980792191e-03, 4.000000000e+01),
    (1200000.0, 50.0, 6.678682091e-03, 5.000000001e+01),
    (1200000.0, 60.0, 1.084874276e-02, 6.000000000e+01),
    (1200000.0, 70.0, 1.713456592e-02, 7.000000000e+01),
    (1200000.0, 80.0, 2.642277198e-02, 8.000000000e+01),
    (1200000.0, 90.0, 3.995119748e-02, 9.000000000e+01),
    (1200000.0, 99.0, 5.720178600e-02, 9.900000000e+01),
];

/// Volume m3/kg dry air, enthalpy J/kg dry air, heat capacity J/(kg K) dry air, viscosity Pa s,
/// conductivity W/(m K), relative humidity.
type State = [f64; 6];

/// Temperature, degC; dew or frost point, degC; total pressure, Pa; the state.
const STATES: &[(f64, f64, f64, State)] = &[
    (
        -40.0,
        -50.0,
        101325.0,
        [
            6.596455471e-01,
            -4.016383113e+04,
            1.005733993e+03,
            1.515164054e-05,
            2.122501101e-02,
            3.068504956e-01,
        ],
    ),
    (
        20.0,
        -40.0,
        101325.0,
        [
            8.302545399e-01,
            2.031855905e+04,
            1.006273454e+03,
            1.820498866e-05,
            2.587374457e-02,
            5.497319691e-03,
        ],
    ),
    (
        80.0,
        -40.0,
        101325.0,
        [
            1.000588942e+00,
            8.077961564e+04,
            1.009589766e+03,
            2.100781309e-05,
            3.022462418e-02,
            2.707924349e-04,
        ],
    ),
    (
        120.0,
        -20.0,
        101325.0,
        [
            1.115077083e+00,
            1.227575970e+05,
            1.014537168e+03,
            2.275172909e-05,
            3.298056677e-02,
            5.220721983e-04,
        ],
    ),
    (
        180.0,
        -40.0,
        101325.0,
        [
            1.284251858e+00,
            1.822791690e+05,
            1.021749326e+03,
            2.524881618e-05,
            3.696230757e-02,
            1.287915184e-05,
        ],
    ),
    (
        250.0,
        0.005,
        101325.0,
        [
            1.491570466e+00,
            2.652862003e+05,
            1.041878229e+03,
            2.785397057e-05,
            4.125745933e-02,
            1.544217333e-04,
        ],
    ),
    (
        25.0,
        15.0,
        101325.0,
        [
            8.588273654e-01,
            5.237861192e+04,
            1.026461086e+03,
            1.835221352e-05,
            2.622931633e-02,
            5.380347181e-01,
        ],
    ),
    (
        80.0,
        60.0,
        101325.0,
        [
            1.246238003e+00,
            4.870300764e+05,
            1.306371954e+03,
            1.926866094e-05,
            2.914801651e-02,
            4.207090232e-01,
        ],
    ),
    (
        95.0,
        85.0,
        101325.0,
        [
            2.434710210e+00,
            2.334456145e+06,
            2.685229622e+03,
            1.620006591e-05,
            2.743916874e-02,
            6.857878050e-01,
        ],
    ),
    (
        30.0,
        3.0,
        800000.0,
        [
            1.086476483e-01,
            3.019141576e+04,
            1.018413533e+03,
            1.878835285e-05,
            2.685156767e-02,
            1.793367396e-01,
        ],
    ),
    (
        100.0,
        -40.0,
        800000.0,
        [
            1.340142230e-01,
            9.985597922e+04,
            1.017796096e+03,
            2.198412107e-05,
            3.179836004e-02,
            1.290952572e-04,
        ],
    ),
    (
        150.0,
        90.0,
        800000.0,
        [
            1.669460682e-01,
            3.211762771e+05,
            1.143602670e+03,
            2.327983468e-05,
            3.504032295e-02,
            1.479075606e-01,
        ],
    ),
    (
        -40.0,
        -60.0,
        1200000.0,
        [
            5.493134400e-02,
            -4.428683873e+04,
            1.038937747e+03,
            1.535297697e-05,
            2.173482673e-02,
            8.576645205e-02,
        ],
    ),
    (
        250.0,
        20.0,
        1200000.0,
        [
            1.259147296e-01,
            2.573101495e+05,
            1.041593698e+03,
            2.804749435e-05,
            4.156513798e-02,
            6.105302634e-04,
        ],
    ),
    (
        60.0,
        20.0,
        50000.0,
        [
            2.006495687e+00,
            1.404566350e+05,
            1.065082594e+03,
            1.968999477e-05,
            2.851881451e-02,
            1.171545795e-01,
        ],
    ),
];

fn point(celsius: f64) -> Humidity {
    if celsius > 0.01 {
        DewPoint::from_celsius(celsius).into()
    } else {
        FrostPoint::from_celsius(celsius).into()
    }
}

fn air(t: f64, humidity: impl Into<Humidity>, p: f64) -> Option<HumidAir> {
    let p = AbsolutePressure::from_pascal(p);
    HumidAir::new(Temperature::from_celsius(t), p, humidity).ok()
}

fn row(what: String, unit: &'static str, expected: f64, computed: Option<f64>) -> Row {
    Row {
        source: SOURCE,
        what,
        unit,
        expected,
        computed: computed.unwrap_or(f64::NAN),
        tolerance: 1e-3,
        absolute: false,
        why: "what the crate promises",
        kind: Kind::Peer,
        disputed: None,
    }
}

fn humidity_rows(&(p, at, ratio, back): &(f64, f64, f64, f64)) -> Vec<Row> {
    let from_point = air(at.max(25.0), point(at), p);
    let from_ratio = air(at.max(25.0) + 0.1, HumidityRatio::from_kg_per_kg(ratio), p);
    let found = from_ratio.and_then(|air| air.condensation_point().ok());
    let found = found.map(|found| match found {
        CondensationPoint::Dew(dew) => dew.celsius(),
        CondensationPoint::Frost(frost) => frost.celsius(),
    });
    let kilopascal = p / 1e3;
    let mut rows = vec![
        row(
            format!("humidity ratio at {at} degC dew or frost point, {kilopascal} kPa"),
            "kg/kg",
            ratio,
            from_point.map(|air| air.humidity_ratio().kg_per_kg()),
        ),
        Row {
            tolerance: 2e-4,
            why: "free of the molar mass: its saturation pressure is that of IAPWS R7-97, and its \
                  enhancement factor is cut at second order in pressure",
            ..row(
                format!("vapour mole fraction at {at} degC dew or frost point, {kilopascal} kPa"),
                "",
                ratio / (THEIR_MASS_RATIO + ratio),
                from_point.map(|air| air.vapour_mole_fraction().fraction()),
            )
        },
    ];
    // The molar mass alone puts its -80 degC at -80.002 degC here, past the end of the range.
    if at > -80.0 {
        rows.push(Row {
            tolerance: 0.01,
            absolute: true,
            why: "1e-3 of the humidity ratio is 0.007 to 0.016 K",
            ..row(
                format!("dew or frost point at {ratio:.6e} kg/kg, {kilopascal} kPa"),
                "degC",
                back,
                found,
            )
        });
    }
    rows
}

fn state_rows(&(t, at, p, expected): &(f64, f64, f64, State)) -> Vec<Row> {
    let air = air(t, point(at), p);
    let state = format!("{t} degC, dew or frost point {at} degC, {} kPa", p / 1e3);
    let of = |name: &str, unit, expected, get: fn(&HumidAir) -> f64| {
        row(
            format!("{name} at {state}"),
            unit,
            expected,
            air.as_ref().map(get),
        )
    };
    let [
        volume,
        enthalpy,
        capacity,
        viscosity,
        conductivity,
        relative,
    ] = expected;
    let mut rows = vec![
        of(
            "volume per dry air",
            "m3/kg",
            volume,
            HumidAir::specific_volume_m3_per_kg_dry,
        ),
        of("enthalpy per dry air", "J/kg", enthalpy, |air| {
            air.enthalpy().j_per_kg()
        }),
        of("heat capacity per dry air", "J/(kg K)", capacity, |air| {
            air.heat_capacity_per_dry_air().j_per_kg_k()
        }),
    ];
    for row in &mut rows {
        row.tolerance = 4e-4;
        row.why = "the molar mass of dry air, 2.6e-4, and saturation pressure, 1e-4";
    }
    let steam = "it takes saturated steam at the total pressure for the vapour's share";
    for mut row in [
        of("viscosity", "Pa s", viscosity, |air| {
            air.viscosity().pascal_seconds()
        }),
        of("conductivity", "W/(m K)", conductivity, |air| {
            air.thermal_conductivity().w_per_m_k()
        }),
    ] {
        let vapour = air
            .as_ref()
            .map_or(0.0, |air| air.vapour_mole_fraction().fraction());
        // Measured: 0.002 off at 0.6 % vapour, 0.013 at 9 %; a pure gas under a wrong state.
        row.tolerance = 1e-3 + 0.4 * vapour;
        if vapour > 1e-3 {
            row.why = steam;
        }
        row.disputed = (vapour > 0.1).then_some(steam);
        rows.push(row);
    }
    if t > 0.0 {
        rows.push(of("relative humidity", "", relative, |air| {
            air.relative_humidity().fraction()
        }));
    }
    rows
}

/// Up to three rows for each humidity, up to six for each state.
pub fn rows() -> Vec<Row> {
    let humidity = HUMIDITY.iter().flat_map(humidity_rows);
    humidity.chain(STATES.iter().flat_map(state_rows)).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn peer_coolprop_humid_air() {
        crate::check(&super::rows());
    }
}
