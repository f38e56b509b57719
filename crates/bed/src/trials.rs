//! Trials of the whole column: balances, limits, and every kind of resin and weather.

use crate::BedError;
use crate::column::{Column, Drive, Feeding, Wall};
use crate::run::follow;
use material::{Diffusivity, Isotherm};
use pellet::Outline;
use pellet::contact::{Calorics, Contact, Exchange};
use pellet::interior::Interior;

pub(crate) const DRIVE: Drive = Drive {
    rate: 10.0 / 3600.0,
    air_flow: 20.0 / 3600.0,
    air_temperature: 393.15,
    air_humidity: 7.9e-5,
    feed_temperature: 298.15,
    feed_moisture: 2e-3,
    feed_free_water: 0.0,
    ambient: 298.15,
};

pub(crate) const HENRY: Isotherm = Isotherm::Henry {
    capacity: 0.006,
    reference_temperature: 373.15,
    mixing_heat: 6300.0,
};

/// Much water, strongly held, as a polyamide takes it.
pub(crate) const GAB: Isotherm = Isotherm::Gab {
    monolayer: 0.02,
    surface_constant: 6.0,
    multilayer_constant: 0.8,
    reference_temperature: 333.15,
    surface_heat: -5000.0,
    multilayer_heat: -500.0,
};

pub(crate) fn constant(activation_energy: f64) -> Diffusivity {
    Diffusivity::Arrhenius {
        reference: 5e-11,
        reference_temperature: 393.15,
        activation_energy,
    }
}

/// Plasticised: D rises with moisture.
pub(crate) const PLASTICISED: Diffusivity = Diffusivity::Exponential {
    reference: 6.5e-12,
    reference_temperature: 353.15,
    activation_energy: 58e3,
    moisture_exponent: 60.0,
};

pub(crate) fn column(
    isotherm: Isotherm,
    law: Diffusivity,
    parcels: usize,
) -> Result<Column, BedError> {
    let outline = Outline::Cylinder {
        diameter: 2.5e-3,
        length: 3e-3,
    };
    Ok(Column {
        contact: Contact {
            interior: Interior::of(&outline, &isotherm, &law, 8)?,
            isotherm,
            diffusivity: law,
            calorics: Calorics {
                resin: 1400.0,
                resin_slope: 3.0,
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
        wall: Wall::of_slices(&[0.01; 40]),
        wall_on_pellets: false,
        feeding: Feeding::Continuous,
        parcels,
        steps_per_parcel: 1,
    })
}

pub(crate) fn steadily(drive: Drive) -> impl Fn(f64) -> (Drive, f64) {
    move |_| (drive, f64::INFINITY)
}

#[test]
fn holds_the_transient_ends_in_the_steady_state() -> Result<(), BedError> {
    for (isotherm, law, drive) in [
        (HENRY, constant(33.1e3), DRIVE),
        (
            GAB,
            constant(50e3),
            Drive {
                feed_moisture: 8e-3,
                air_temperature: 353.15,
                ..DRIVE
            },
        ),
        (
            GAB,
            PLASTICISED,
            Drive {
                feed_moisture: 8e-3,
                air_temperature: 353.15,
                ..DRIVE
            },
        ),
    ] {
        let column = column(isotherm, law, 24)?;
        let steady = column.steady(&drive)?;
        let state = column.filled(drive.feed_temperature, drive.feed_moisture, 0.0);
        let run = follow(&column, state, 60.0 * 3600.0, 0.0, 0.0, steadily(drive))?;
        let last = run.moments[run.moments.len() - 1];
        assert!(
            (last.dried / steady.outlet_moisture - 1.0).abs() < 1e-4,
            "{law:?}: {} against {}",
            last.dried,
            steady.outlet_moisture
        );
        let apart = (last.return_temperature - steady.return_temperature).abs();
        assert!(apart < 1e-3, "{isotherm:?} {law:?}: {apart} K");
        assert!(steady.energy_imbalance.abs() < 1e-9 && steady.water_imbalance.abs() < 1e-9);
    }
    Ok(())
}

#[test]
fn holds_pieces_that_follow_their_surface_at_once_dry_to_the_balance() -> Result<(), BedError> {
    let mut column = column(HENRY, constant(33.1e3), 40)?;
    let outline = Outline::Plate { thickness: 1e-4 };
    column.contact.interior = Interior::of(&outline, &HENRY, &constant(33.1e3), 6)?;
    column.contact.diffusivity = column.contact.diffusivity.scaled(100.0);
    column.contact.exchange.vapour = 2e-5;
    column.contact.exchange.heat = 4e3;
    for rate in [5.0, 40.0, 400.0] {
        let drive = Drive {
            rate: rate / 3600.0,
            air_flow: 2.0 * rate / 3600.0,
            ..DRIVE
        };
        let state = column.filled(drive.feed_temperature, drive.feed_moisture, 0.0);
        let run = follow(&column, state, 3600.0, 0.0, 0.0, steadily(drive))?;
        assert!(run.water.imbalance() < 1e-9 && run.energy.imbalance() < 1e-9);
        let dried = run.moments.last().map_or(1.0, |moment| moment.dried);
        assert!(
            dried.is_finite() && dried.abs() < 1e-4,
            "{rate} kg/h: {dried}"
        );
    }
    Ok(())
}

#[test]
fn holds_water_and_energy_close_in_every_weather() -> Result<(), BedError> {
    let humid = Drive {
        air_humidity: 0.02,
        air_temperature: 333.15,
        ..DRIVE
    };
    let wet = Drive {
        feed_free_water: 5e-3,
        feed_temperature: 278.15,
        ..DRIVE
    };
    let hot = Drive {
        feed_temperature: 393.15,
        air_temperature: 313.15,
        ..DRIVE
    };
    let slow = Drive {
        rate: DRIVE.rate / 50.0,
        ..DRIVE
    };
    let fast = Drive {
        rate: DRIVE.rate * 8.0,
        ..DRIVE
    };
    for isotherm in [HENRY, GAB, Isotherm::SurfaceOnly] {
        for law in [constant(33.1e3), PLASTICISED] {
            for (name, drive) in [
                ("plain", DRIVE),
                ("humid", humid),
                ("wet", wet),
                ("hot", hot),
                ("slow", slow),
                ("fast", fast),
            ] {
                for feeding in [Feeding::Continuous, Feeding::Batches(4.0)] {
                    let column = Column {
                        feeding,
                        ..column(isotherm, law, 16)?
                    };
                    let state = column.filled(
                        drive.feed_temperature,
                        drive.feed_moisture,
                        drive.feed_free_water,
                    );
                    let run = follow(&column, state, 5.0 * 3600.0, 0.0, 0.0, steadily(drive))?;
                    let (water, energy) = (run.water.imbalance(), run.energy.imbalance());
                    assert!(
                        water < 1e-9,
                        "{name} {isotherm:?} {feeding:?}: water {water}"
                    );
                    assert!(
                        energy < 1e-9,
                        "{name} {isotherm:?} {feeding:?}: energy {energy}"
                    );
                    assert!(
                        run.moments.iter().all(|moment| moment.dried >= 0.0
                            && moment.temperature.is_finite()
                            && moment.return_humidity >= 0.0),
                        "{name} {isotherm:?} {feeding:?} {:?}",
                        run.moments
                            .iter()
                            .find(|m| m.dried < 0.0 || m.return_humidity < 0.0)
                    );
                }
            }
        }
    }
    Ok(())
}

#[test]
fn holds_longer_hotter_drier_and_slower_dry_better() -> Result<(), BedError> {
    let outlet = |change: fn(&mut Column, &mut Drive)| -> Result<f64, BedError> {
        let (mut column, mut drive) = (column(HENRY, constant(33.1e3), 30)?, DRIVE);
        change(&mut column, &mut drive);
        Ok(column.steady(&drive)?.outlet_moisture)
    };
    let plain = outlet(|_, _| {})?;
    assert!(outlet(|column, _| column.mass *= 1.2)? < plain);
    assert!(outlet(|_, drive| drive.air_temperature += 5.0)? < plain);
    assert!(outlet(|_, drive| drive.air_humidity *= 0.2)? < plain);
    assert!(outlet(|_, drive| drive.rate *= 0.9)? < plain);
    assert!(outlet(|column, _| column.wall = Wall::of_slices(&[0.04; 40]))? > plain);
    Ok(())
}

#[test]
fn exact_dry_isothermal_bed_is_a_pellet_in_an_oven() -> Result<(), BedError> {
    // No heat of evaporation, no wall loss, feed at air temperature, next to no equilibrium
    // moisture: what leaves has been in dry air for the mean residence.
    let mut column = column(
        Isotherm::Henry {
            capacity: 60.0,
            reference_temperature: 373.15,
            mixing_heat: 0.0,
        },
        constant(0.0),
        200,
    )?;
    column.contact.calorics.evaporation = 1.0;
    column.contact.calorics.sorption = Some(0.0);
    column.contact.exchange.vapour = 1.0;
    column.wall = Wall::of_slices(&[0.0]);
    let drive = Drive {
        feed_temperature: 393.15,
        air_humidity: 0.0,
        air_flow: 200.0,
        ..DRIVE
    };
    let steady = column.steady(&drive)?;
    let modes = pellet::modes::Modes::of(
        &Outline::Cylinder {
            diameter: 2.5e-3,
            length: 3e-3,
        },
        60,
    )?;
    let wanted = 2e-3 * modes.remaining(5e-11 * 3.5 * 3600.0);
    assert!(
        (steady.outlet_moisture / wanted - 1.0).abs() < 2e-3,
        "{} {wanted}",
        steady.outlet_moisture
    );
    Ok(())
}

#[test]
fn holds_cold_wet_feed_condenses_and_is_still_in_balance() -> Result<(), BedError> {
    // Warm moist return air meets pellets from a cold store.
    let drive = Drive {
        feed_temperature: 268.15,
        feed_moisture: 1.5e-2,
        air_temperature: 353.15,
        air_humidity: 0.03,
        ..DRIVE
    };
    let column = column(GAB, constant(50e3), 40)?;
    let state = column.filled(drive.feed_temperature, drive.feed_moisture, 0.0);
    let run = follow(&column, state, 6.0 * 3600.0, 0.0, 0.0, steadily(drive))?;
    assert!(run.water.imbalance() < 1e-9 && run.energy.imbalance() < 1e-9);
    let steady = column.steady(&drive)?;
    let most = steady
        .lead
        .path
        .iter()
        .fold(0.0_f64, |most, place| most.max(place.free_water));
    assert!(most > 1e-5, "free water at most {most}");
    Ok(())
}
