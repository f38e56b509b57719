//! The shipped demonstrations read without a fault and say what they are said to.

use super::*;
use job::{Demand, Process};
use material::{Diffusivity, Isotherm};
use quantity::{AirFlow, Humidity, Moisture, Quantity};
use std::path::PathBuf;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo")
}

fn demonstration(name: &str) -> Job {
    match open_job(&folder().join(name), &LIBRARY) {
        Ok(job) => job,
        Err(faults) => panic!("{faults}"),
    }
}

#[test]
fn holds_every_demonstration_reads_and_says_it_is_invented() {
    let texts = crate::folder(&folder()).unwrap();
    assert_eq!(texts.len(), 7);
    for text in &texts {
        let job = demonstration(Path::new(&text.name).file_name().unwrap().to_str().unwrap());
        assert!(text.content.starts_with("# Invented: "), "{}", text.name);
        assert_eq!(
            job_notes(&job, quantity::Units::Metric),
            Vec::<String>::new(),
            "{}",
            text.name
        );
    }
}

#[test]
fn exact_demonstrations_ask_what_they_are_for() {
    let lenses = demonstration("pc-lenses.toml");
    assert_eq!(lenses.title, "PC lenses, press 4");
    assert!(matches!(lenses.air.flow, Some(AirFlow::Volume { .. })));
    let housings = demonstration("pa66-housings.toml");
    assert!(housings.hopper.volume.is_none() && housings.hopper.bed_mass.is_none());
    assert!(matches!(housings.demand, Demand::Shots { machines: 2, .. }));
    assert!((housings.demand.peak().kg_per_hour() - 32.4).abs() < 1e-9);
    assert!((housings.arrival.temperature.celsius() - 15.0).abs() < 1e-9);
    assert!(housings.resin.limit.lower_edge.is_some());
    let preforms = demonstration("pet-preforms.toml");
    assert_eq!(preforms.target.process, Process::Extrusion);
    assert!((preforms.target.limit.unwrap().wet_basis().ppm() - 50.0).abs() < 1e-9);
    let small = demonstration("abs-small.toml");
    assert!(small.hopper.wall_coefficient.unwrap().w_per_m2_k() > 5.0);
    let open = demonstration("pla-open-bag.toml");
    let storage = open.arrival.storage.unwrap();
    assert!((storage.climate.unwrap().time().days() - 5.0).abs() < 1e-12);
    assert!(open.arrival.moisture.is_none());
    let winter = demonstration("pp-condensation.toml");
    assert!((winter.arrival.surface_water.ppm() - 1500.0).abs() < 1e-9);
}

/// The numbers of the benchmark case, as any solver is fed them.
#[test]
fn exact_the_benchmark_is_written_out_whole() {
    let job = demonstration("benchmark.toml");
    let near = |found: f64, wanted: f64| {
        assert!(
            (found - wanted).abs() <= 1e-12 * wanted.abs(),
            "{found} {wanted}"
        );
    };
    let Some(Moisture::Dry(moisture)) = job.arrival.moisture else {
        panic!("{:?}", job.arrival.moisture);
    };
    let weighed = job.demand.peak().si();
    near(weighed / (1.0 + moisture.si()), 10.0 / 3600.0);
    near(moisture.si(), 2e-3);
    near(job.arrival.temperature.si(), 298.15);
    near(job.site.ambient.si(), 298.15);
    near(job.air.temperature.unwrap().si(), 393.15);
    let Some(Humidity::Ratio(ratio)) = job.air.humidity else {
        panic!("{:?}", job.air.humidity);
    };
    near(ratio.si(), 7.9e-5);
    let Some(AirFlow::DryAir(flow)) = job.air.flow else {
        panic!("{:?}", job.air.flow);
    };
    near(flow.si(), 20.0 / 3600.0);
    let resin = &job.resin;
    let Isotherm::Henry {
        capacity,
        reference_temperature,
        mixing_heat,
    } = resin.isotherm.law
    else {
        panic!("{:?}", resin.isotherm.law);
    };
    near(capacity, 0.006);
    near(reference_temperature, 373.15);
    near(mixing_heat, 6300.0);
    let Diffusivity::Arrhenius {
        reference,
        reference_temperature,
        activation_energy,
    } = resin.diffusivity.law
    else {
        panic!("{:?}", resin.diffusivity.law);
    };
    near(reference, 5e-11);
    near(reference_temperature, 393.15);
    near(activation_energy, 0.0);
    near(resin.heat_capacity.value.si(), 1400.0);
    near(resin.heat_capacity_slope.value.si(), 0.0);
    assert!(resin.sorption_heat.is_none());
    // Transfer per kg of dry resin follows from the films and the surface of a sphere.
    let diameter = resin.pellet.diameter.value.si();
    near(diameter, 3e-3);
    let surface = 6.0 / (diameter * resin.density.value.si());
    let film = &job.model.film;
    near(film.heat.unwrap().si() * surface, 100.0);
    let concentration = quantity::constants::WATER_MOLAR_MASS
        / (quantity::constants::MOLAR_GAS * job.air.temperature.unwrap().si());
    near(film.vapour.unwrap().si() * surface * concentration, 5.5e-7);
    // Conductance of the wall of a cylinder of this bed.
    let hopper = &job.hopper;
    let bed = hopper.bed_mass.unwrap().si() / resin.bulk_density.value.si();
    let wall = 4.0 * bed / hopper.diameter.unwrap().si();
    near(wall * hopper.wall_coefficient.unwrap().si(), 1.0);
    let heat = &job.model.heat;
    near(heat.dry_air.unwrap().si(), 1006.0);
    near(heat.vapour.unwrap().si(), 1860.0);
    near(heat.water.unwrap().si(), 4186.0);
    near(heat.evaporation.unwrap().si(), 2.501e6);
    let model = &job.model;
    assert!(!model.residence_spread && !model.size_spread && !model.batches);
    assert!(!model.cone && !model.heat_gradient && model.samples == 0);
    near(model.duration.unwrap().hours(), 16.0);
}
