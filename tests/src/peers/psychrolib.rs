//! PsychroLib 2.5.0.
//!
//! What it is: the ASHRAE Handbook, Fundamentals (2017), chapter 1: ideal gas, the saturation pressures
//! of Hyland and Wexler (1983), no enhancement factor, constant heat capacities.
//! How read: frozen from `bench/peers/humid_air_table.py`, which prints the tables below.
//! Tolerance: each row says which of these simplifications it leaves room for. The humidity ratios are
//! shown twice: as they are, disputed, because without an enhancement factor they are 0.4 to 0.9 % low
//! at one atmosphere and 2 to 6 % low at 0.8 MPa; and with the factor of this crate put in, where
//! nothing but the saturation pressure and the molar mass is left to differ.
//! Errata and doubts: none beyond the simplifications.
//! Not compared: humidity ratios under 1e-7 kg/kg, its floor.

use crate::{Kind, Row};
use air::{HumidAir, equilibrium, mixture, saturation, standard_pressure};
use quantity::{AbsolutePressure, Altitude, HumidityRatio, Temperature};

/// Total pressure, Pa; dew (above 0 degC) or frost point, degC; saturation pressure, Pa; humidity ratio.
const HUMIDITY: &[(f64, f64, f64, f64)] = &[
    (101325.0, -80.0, 5.478377468e-02, 3.362695600e-07),
    (101325.0, -60.0, 1.081673166e+00, 6.639510479e-06),
    (101325.0, -40.0, 1.284524930e+01, 7.885567727e-05),
    (101325.0, -20.0, 1.032603786e+02, 6.344711758e-04),
    (101325.0, 1.0, 6.570717180e+02, 4.059510080e-03),
    (101325.0, 20.0, 2.338803700e+03, 1.469505165e-02),
    (101325.0, 60.0, 1.994376062e+04, 1.524174649e-01),
    (101325.0, 90.0, 7.018001308e+04, 1.401448918e+00),
    (800000.0, -60.0, 1.081673166e+00, 8.409276589e-07),
    (800000.0, -40.0, 1.284524930e+01, 9.986458571e-06),
    (800000.0, -20.0, 1.032603786e+02, 8.028820843e-05),
    (800000.0, 1.0, 6.570717180e+02, 5.112479953e-04),
    (800000.0, 20.0, 2.338803700e+03, 1.823590359e-03),
    (800000.0, 60.0, 1.994376062e+04, 1.590131785e-02),
    (800000.0, 90.0, 7.018001308e+04, 5.980667701e-02),
];

/// Air temperature, degC; humidity ratio, kg/kg; total pressure, Pa; volume m3/kg dry air; enthalpy
/// J/kg dry air.
const STATES: &[(f64, f64, f64, f64, f64)] = &[
    (20.0, 7.9e-05, 101325.0, 8.305655133e-01, 2.032051780e+04),
    (100.0, 7.9e-05, 101325.0, 1.057225043e+00, 1.008122730e+05),
    (25.0, 0.01, 101325.0, 8.582048108e-01, 5.062500000e+04),
    (180.0, 7.9e-05, 101325.0, 1.283884572e+00, 1.813040282e+05),
];

/// Altitude, m; pressure, Pa.
const ALTITUDES: &[(f64, f64)] = &[
    (-400.0, 1.062234506e+05),
    (500.0, 9.546081237e+04),
    (1600.0, 8.352346145e+04),
    (3000.0, 7.010842216e+04),
    (5000.0, 5.401975072e+04),
];

fn row(
    what: String,
    unit: &'static str,
    [expected, computed]: [f64; 2],
    tolerance: f64,
    why: &'static str,
) -> Row {
    Row {
        source: "PsychroLib 2.5.0",
        what,
        unit,
        expected,
        computed,
        tolerance,
        absolute: false,
        why,
        kind: Kind::Peer,
        disputed: None,
    }
}

fn humidity_rows(&(p, at, pressure, ratio): &(f64, f64, f64, f64)) -> [Row; 3] {
    /// Molar mass of water over that of dry air in PsychroLib.
    const THEIR_MASS_RATIO: f64 = 0.621_945;
    let t = at + 273.15;
    let (pure, fraction) = if at > 0.01 {
        (
            saturation::over_liquid(t),
            equilibrium::saturated_over_liquid(t, p),
        )
    } else {
        (
            saturation::over_ice(t),
            equilibrium::saturated_over_ice(t, p),
        )
    };
    let enhancement = fraction * p / pure;
    let with_factor = enhancement * pressure / p;
    let state = format!("{at} degC dew or frost point, {} kPa", p / 1e3);
    let here = mixture::humidity_ratio(fraction);
    [
        row(
            format!("saturation pressure of pure water at {at} degC"),
            "Pa",
            [pressure, pure],
            4e-4,
            "Hyland and Wexler (1983) lie 0.02 % under IAPWS over liquid, 0.03 % above over ice",
        ),
        Row {
            disputed: Some("it has no enhancement factor; the next row puts it in"),
            ..row(
                format!("humidity ratio at {state}"),
                "kg/kg",
                [ratio, here],
                1e-3,
                "what the crate promises",
            )
        },
        row(
            format!("the same with the enhancement factor {enhancement:.5}"),
            "kg/kg",
            [THEIR_MASS_RATIO * with_factor / (1.0 - with_factor), here],
            1e-3,
            "saturation pressure, more so as air runs out, and molar mass of dry air",
        ),
    ]
}

fn state_rows(&(t, ratio, p, volume, enthalpy): &(f64, f64, f64, f64, f64)) -> [Row; 2] {
    let air = HumidAir::new(
        Temperature::from_celsius(t),
        AbsolutePressure::from_pascal(p),
        HumidityRatio::from_kg_per_kg(ratio),
    );
    let number = |get: fn(&HumidAir) -> f64| air.as_ref().map_or(f64::NAN, get);
    let state = format!("{t} degC, {ratio} kg/kg, {} kPa", p / 1e3);
    [
        row(
            format!("volume per dry air at {state}"),
            "m3/kg",
            [volume, number(HumidAir::specific_volume_m3_per_kg_dry)],
            1e-3,
            "ideal gas: the compressibility of air is 0.9996 at 20 degC and 1.0002 at 180 degC; and \
             the molar mass of dry air",
        ),
        row(
            format!("enthalpy per dry air at {state}"),
            "J/kg",
            [enthalpy, number(|air| air.enthalpy().j_per_kg())],
            if t < 50.0 { 1e-3 } else { 6e-3 },
            "constant 1.006 and 1.86 kJ/(kg K): 0.2 % low at 100 degC, 0.5 % at 180 degC",
        ),
    ]
}

fn altitude_row(&(metres, expected): &(f64, f64)) -> Row {
    let pressure = standard_pressure(Altitude::from_metres(metres));
    row(
        format!("standard pressure at {metres} m"),
        "Pa",
        [
            expected,
            pressure.map_or(f64::NAN, AbsolutePressure::pascal),
        ],
        6e-4,
        "it takes the height for the geopotential height of the standard",
    )
}

/// Three rows for each humidity, two for each state, one for each altitude.
pub fn rows() -> Vec<Row> {
    let humidity = HUMIDITY.iter().flat_map(humidity_rows);
    let states = STATES.iter().flat_map(state_rows);
    humidity
        .chain(states)
        .chain(ALTITUDES.iter().map(altitude_row))
        .collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn peer_psychrolib() {
        crate::check(&super::rows());
    }
}
