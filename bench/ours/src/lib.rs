//! The stated benchmark case of the hopper, in plain SI numbers that any solver can be fed.

pub mod shift;
pub mod towers;
pub mod wheel;

use bed::BedError;
use bed::column::{Column, Drive, Feeding, Wall};
use bed::run::{Run, follow};
use material::{Diffusivity, Isotherm};
use pellet::contact::{Calorics, Contact, Exchange};
use pellet::interior::Interior;
use pellet::{Outline, PelletError};

/// Sphere of one size, 10 kg/h through a bed of 35 kg, invented resin; see `docs/benchmark.md`.
pub const DRIVE: Drive = Drive {
    rate: 10.0 / 3600.0,
    air_flow: 20.0 / 3600.0,
    air_temperature: 393.15,
    air_humidity: 7.9e-5,
    feed_temperature: 298.15,
    feed_moisture: 2e-3,
    feed_free_water: 0.0,
    ambient: 298.15,
};

/// Pellet diameter, m.
pub const DIAMETER: f64 = 3e-3;

/// Diffusivity 5e-11 m2/s at 120 degC; constant for energy 0.
pub fn diffusivity(activation_energy: f64) -> Diffusivity {
    Diffusivity::Arrhenius {
        reference: 5e-11,
        reference_temperature: 393.15,
        activation_energy,
    }
}

/// The column of the benchmark with this many parcels and modes.
///
/// # Errors
/// From the pellet.
pub fn column(
    diffusivity: Diffusivity,
    parcels: usize,
    fineness: usize,
) -> Result<Column, PelletError> {
    let isotherm = Isotherm::Henry {
        capacity: 0.006,
        reference_temperature: 373.15,
        mixing_heat: 6300.0,
    };
    let outline = Outline::Sphere { diameter: DIAMETER };
    Ok(Column {
        contact: Contact {
            interior: Interior::of(&outline, &isotherm, &diffusivity, fineness)?,
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

/// Hours at which the outlet is asked for.
pub const HOURS: [f64; 4] = [4.0, 8.0, 12.0, 16.0];

/// One of the two diffusivities of the case, with the limit our own answers converge to.
#[derive(Clone, Copy, Debug)]
pub struct Case {
    /// Activation energy of the diffusivity, J/mol.
    pub energy: f64,
    /// Outlet moisture at [`HOURS`], kg/kg: 640 and 1280 parcels carried to no parcel size at all at
    /// second order, as `hopper_precision` prints them.
    pub limit: [f64; 4],
    /// Outlet moisture at steady state, kg/kg, from 1280 and 2560 parcels.
    pub steady: f64,
}

/// Constant diffusivity, which is the benchmark, and one that follows the temperature.
pub const CASES: [Case; 2] = [
    Case {
        energy: 0.0,
        limit: [94.976_2e-6, 82.672_45e-6, 78.043_6e-6, 77.972_67e-6],
        steady: 77.972_3e-6,
    },
    Case {
        energy: 33.1e3,
        limit: [587.790_4e-6, 377.512_2e-6, 289.800_4e-6, 279.823_7e-6],
        steady: 278.710_4e-6,
    },
];

/// Follows a column from the start to the last of these hours.
///
/// # Errors
/// From the column.
pub fn run_to(column: &Column, hours: f64) -> Result<Run, BedError> {
    let start = column.filled(DRIVE.feed_temperature, DRIVE.feed_moisture, 0.0);
    // Two parcels more, so that the hour lies between moments.
    let duration = 3600.0 * hours + 2.0 * column.parcel_mass() / DRIVE.rate;
    follow(column, start, duration, 0.0, 0.0, |_| {
        (DRIVE, f64::INFINITY)
    })
}

/// Outlet moisture of a run at [`HOURS`]; not a number where the run did not reach.
pub fn outlet(run: &Run) -> [f64; 4] {
    HOURS.map(|hour| run.dried_at(3600.0 * hour).unwrap_or(f64::NAN))
}

/// Processor time of this thread so far, ms; Linux.
///
/// # Errors
/// Where the system does not tell it.
pub fn processor_ms() -> std::io::Result<f64> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat")?;
    let nanoseconds = text
        .split(' ')
        .next()
        .and_then(|word| word.parse::<f64>().ok());
    nanoseconds
        .map(|nanoseconds| 1e-6 * nanoseconds)
        .ok_or_else(|| std::io::Error::other("no processor time is told here"))
}
