//! The stated benchmark case of the hopper, in plain SI numbers that any solver can be fed.

use bed::column::{Column, Drive, Feeding, Wall};
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
        mass: 35.0,
        wall: Wall::of_slices(&[0.01; 100]),
        wall_on_pellets: false,
        feeding: Feeding::Continuous,
        parcels,
        steps_per_parcel: 1,
    })
}
