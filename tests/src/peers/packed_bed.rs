//! ht 1.2.0 and polykin 0.8.0, with the air of CoolProp 8.0.0.
//!
//! What it is: Nusselt and Sherwood numbers of Wakao and Kaguei (1982) in a bed (`ht`) and of Ranz and
//! Marshall (1952) around one body (`polykin`), at pellets of 3 mm in air of -40 degC frost point.
//! How read: frozen from `bench/peers/packed_bed_table.py`, which prints the table below.
//! Tolerance: 1e-4, what lies between CoolProp's air and that of this workspace.
//! Errata and doubts: the diffusivity of vapour is Marrero and Mason (1972) on both sides; at 180 degC
//! their fit for higher temperatures is used here and the other there, 0.3 % apart.
//! Not compared: Gunn (1978), which neither library has.

use crate::{Kind, Row};
use air::HumidAir;
use pellet::{Outline, PelletError, film};
use quantity::constants::STANDARD_ATMOSPHERE;
use quantity::{AbsolutePressure, FrostPoint, Quantity, Temperature, Velocity};

/// Velocity, m/s; air, degC; Reynolds number, heat W/(m2 K) and vapour m/s in a bed, the same around
/// one pellet.
const STATES: &[(f64, f64, [f64; 5])] = &[
    (
        0.05,
        80.0,
        [
            7.136564e+00,
            5.217083e+01,
            5.931419e-02,
            3.449954e+01,
            3.967125e-02,
        ],
    ),
    (
        0.1,
        100.0,
        [
            1.295963e+01,
            6.896434e+01,
            8.332451e-02,
            4.129550e+01,
            5.054137e-02,
        ],
    ),
    (
        0.2,
        120.0,
        [
            2.366272e+01,
            9.365270e+01,
            1.198352e-01,
            5.047828e+01,
            6.548547e-02,
        ],
    ),
    (
        0.3,
        160.0,
        [
            3.000468e+01,
            1.130443e+02,
            1.619820e-01,
            5.842654e+01,
            8.503476e-02,
        ],
    ),
    (
        0.4,
        180.0,
        [
            3.701046e+01,
            1.295851e+02,
            1.955757e-01,
            6.453318e+01,
            9.899152e-02,
        ],
    ),
    (
        1.0,
        25.0,
        [
            1.925949e+02,
            2.188725e+02,
            2.008351e-01,
            8.240596e+01,
            7.605299e-02,
        ],
    ),
];

const PELLET: Outline = Outline::Sphere { diameter: 3e-3 };

fn films(velocity: f64, celsius: f64) -> Result<[f64; 5], PelletError> {
    let air = HumidAir::new(
        Temperature::from_celsius(celsius),
        AbsolutePressure::from_pascal(STANDARD_ATMOSPHERE),
        FrostPoint::from_celsius(-40.0),
    )?;
    let velocity = Velocity::from_m_per_s(velocity);
    let bed = film::in_bed(&PELLET, &air, velocity, film::BedFilm::WakaoKaguei)?;
    let alone = film::in_stream(&PELLET, &air, velocity)?;
    Ok([
        bed.reynolds,
        bed.heat.si(),
        bed.vapour.si(),
        alone.heat.si(),
        alone.vapour.si(),
    ])
}

/// Five rows for each state.
pub fn rows() -> Vec<Row> {
    const NUMBERS: [(&str, &str, &str); 5] = [
        ("Reynolds number", "", "ht 1.2.0 with CoolProp 8.0.0"),
        ("heat in a bed", "W/(m2 K)", "ht 1.2.0 with CoolProp 8.0.0"),
        ("vapour in a bed", "m/s", "ht 1.2.0 with CoolProp 8.0.0"),
        (
            "heat around one pellet",
            "W/(m2 K)",
            "polykin 0.8.0 with CoolProp 8.0.0",
        ),
        (
            "vapour around one pellet",
            "m/s",
            "polykin 0.8.0 with CoolProp 8.0.0",
        ),
    ];
    let of_state = |&(velocity, celsius, expected): &(f64, f64, [f64; 5])| {
        // Above 450 K.
        let other_fit = celsius > 176.85;
        let computed = films(velocity, celsius).unwrap_or([f64::NAN; 5]);
        NUMBERS
            .into_iter()
            .zip(expected.into_iter().zip(computed))
            .map(move |((what, unit, source), (expected, computed))| Row {
                source,
                what: format!("{what}, 3 mm pellets, {velocity} m/s, {celsius} degC"),
                unit,
                expected,
                computed,
                tolerance: if other_fit && unit == "m/s" {
                    3e-3
                } else {
                    1e-4
                },
                absolute: false,
                why: if other_fit && unit == "m/s" {
                    "two fits of the diffusivity of vapour meet near this temperature"
                } else {
                    "two accounts of humid air"
                },
                kind: Kind::Peer,
                disputed: None,
            })
    };
    STATES.iter().flat_map(of_state).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn peer_packed_bed() {
        crate::check(&super::rows());
    }
}
