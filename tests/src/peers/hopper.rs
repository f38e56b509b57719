//! The hopper: SUNDIALS CVODE 6.4.1 and SciPy 1.17.1 on the benchmark case of `docs/benchmark.md`.
//!
//! What it is: the counter-current bed as a system of ordinary differential equations, discontinuous
//! Galerkin in height and orthogonal collocation in the radius, written from the equations.
//! How read: frozen from `bench/peers/hopper_table.py`, which prints the moistures; return air at 16 h
//! from `bench/peers/hopper_cvode.c` with `dg3 60 c8 1e-6 0.5`.
//! Doubt: two meshes of CVODE and SciPy lie within 1e-5 of each other.
//! Tolerance: 0.1 %; our own error at these 320 parcels is up to 0.06 % while the bed is warming up.
//! Not compared: condensation, free water, other isotherms than Henry's, heat loss by the pellets.

use crate::{Kind, Row};
use bed::BedError;
use bed::column::{Column, Drive, Feeding, Wall};
use bed::run::{Run, follow};
use material::{Diffusivity, Isotherm};
use pellet::Outline;
use pellet::contact::{Calorics, Contact, Exchange};
use pellet::interior::Interior;

/// What the peers found for one diffusivity.
struct Case {
    /// Activation energy of the diffusivity, J/mol.
    energy: f64,
    /// Hours; moisture at the air inlet, kg/kg.
    moisture: [(f64, f64); 4],
    /// Moisture at the air inlet after 80 h, kg/kg, where nothing changes any more.
    steady: f64,
    /// Return air at 16 h: degC, kg/kg.
    return_air: (f64, f64),
}

const CASES: [Case; 2] = [
    Case {
        energy: 0.0,
        moisture: [
            (4.0, 9.4976310e-05),
            (8.0, 8.2672862e-05),
            (12.0, 7.8043877e-05),
            (16.0, 7.7973882e-05),
        ],
        steady: 7.7972431e-05,
        return_air: (39.268835, 1.04001391e-03),
    },
    Case {
        energy: 33.1e3,
        moisture: [
            (4.0, 5.8779158e-04),
            (8.0, 3.7751210e-04),
            (12.0, 2.8980008e-04),
            (16.0, 2.7982208e-04),
        ],
        steady: 2.7870932e-04,
        return_air: (39.497637, 9.40225554e-04),
    },
];

pub(super) const DRIVE: Drive = Drive {
    rate: 10.0 / 3600.0,
    air_flow: 20.0 / 3600.0,
    air_temperature: 393.15,
    air_humidity: 7.9e-5,
    feed_temperature: 298.15,
    feed_moisture: 2e-3,
    feed_free_water: 0.0,
    ambient: 298.15,
};
const PARCELS: usize = 320;
const MODES: usize = 12;
const LAST_HOUR: f64 = 16.0;

/// The case as stated in so many parcels.
pub(super) fn column(activation_energy: f64, parcels: usize) -> Result<Column, BedError> {
    let isotherm = Isotherm::Henry {
        capacity: 0.006,
        reference_temperature: 373.15,
        mixing_heat: 6300.0,
    };
    let diffusivity = Diffusivity::Arrhenius {
        reference: 5e-11,
        reference_temperature: 393.15,
        activation_energy,
    };
    let outline = Outline::Sphere { diameter: 3e-3 };
    Ok(Column {
        contact: Contact {
            interior: Interior::of(&outline, &isotherm, &diffusivity, MODES)?,
            isotherm,
            diffusivity,
            calorics: Calorics {
                resin: 1400.0,
                resin_slope: 0.0,
                dry_air: 1006.0,
                vapour: 1860.0,
                water: 4186.0,
                evaporation: 2.501e6,
                sorption: None,
            },
            exchange: Exchange {
                heat: 100.0,
                vapour: 5.5e-7,
            },
            pressure: 101_325.0,
        },
        beside: Vec::new(),
        mass: 35.0,
        wall: Wall::of_slices(&[0.01; 100]),
        wall_on_pellets: false,
        feeding: Feeding::Continuous,
        parcels,
        steps_per_parcel: 1,
    })
}

fn run(column: &Column) -> Result<Run, BedError> {
    let start = column.filled(DRIVE.feed_temperature, DRIVE.feed_moisture, 0.0);
    let duration = 3600.0 * LAST_HOUR + 2.0 * column.parcel_mass() / DRIVE.rate;
    follow(column, start, duration, 0.0, 0.0, |_| {
        (DRIVE, f64::INFINITY)
    })
}

/// Return air at a time, linear between moments: degC, kg/kg.
fn return_air(run: &Run, time: f64) -> (f64, f64) {
    run.moments
        .windows(2)
        .find(|pair| pair[0].time <= time && time < pair[1].time)
        .map_or((f64::NAN, f64::NAN), |pair| {
            let share = (time - pair[0].time) / (pair[1].time - pair[0].time);
            let between = |from: f64, to: f64| from + share * (to - from);
            (
                between(pair[0].return_temperature, pair[1].return_temperature) - 273.15,
                between(pair[0].return_humidity, pair[1].return_humidity),
            )
        })
}

fn row(what: String, unit: &'static str, [expected, computed]: [f64; 2]) -> Row {
    Row {
        source: "SUNDIALS CVODE 6.4.1 and SciPy 1.17.1",
        what,
        unit,
        expected,
        computed,
        tolerance: 1e-3,
        absolute: false,
        why: "the promise of the benchmark; the peers lie within 0.001 % of each other",
        kind: Kind::Peer,
        disputed: None,
    }
}

/// Outlet moisture at four hours and at steady state, and the return air.
fn case_rows(case: &Case) -> Vec<Row> {
    let column = column(case.energy, PARCELS).ok();
    let run = column.as_ref().and_then(|column| run(column).ok());
    let steady = column
        .as_ref()
        .and_then(|column| column.steady(&DRIVE).ok())
        .map_or(f64::NAN, |steady| steady.outlet_moisture);
    let (celsius, humidity) = run.as_ref().map_or((f64::NAN, f64::NAN), |run| {
        return_air(run, 3600.0 * LAST_HOUR)
    });
    let law = format!("hopper, D with {:.1} kJ/mol", case.energy / 1e3);
    let mut rows: Vec<Row> = case
        .moisture
        .iter()
        .map(|(hour, moisture)| {
            let found = run.as_ref().and_then(|run| run.dried_at(3600.0 * hour));
            row(
                format!("{law}: outlet moisture at {hour} h"),
                "kg/kg",
                [*moisture, found.unwrap_or(f64::NAN)],
            )
        })
        .collect();
    let air = format!("{law}: return air at 16 h");
    rows.push(row(air.clone(), "degC", [case.return_air.0, celsius]));
    rows.push(row(air, "kg/kg", [case.return_air.1, humidity]));
    rows.push(row(
        format!("{law}: outlet moisture at steady state"),
        "kg/kg",
        [case.steady, steady],
    ));
    rows
}

/// Seven rows for each diffusivity.
pub fn rows() -> Vec<Row> {
    CASES.iter().flat_map(case_rows).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn peer_hopper() {
        crate::check(&super::rows());
    }
}
