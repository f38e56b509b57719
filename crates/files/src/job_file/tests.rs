//! Checks of the job file: the shipped demonstrations, and every kind of mistake.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod cells;
mod demonstrations;
mod lots;
mod mistakes;
mod mutations;
mod plant;
mod storage;

use super::*;
use crate::flaws;
use crate::text::{LONGEST_WRITTEN as LONGEST, MOST_LINES};
use quantity::{Fault, FaultKind};
use std::sync::LazyLock;

static LIBRARY: LazyLock<Library> = LazyLock::new(|| match Library::shipped() {
    Ok(library) => library,
    Err(faults) => panic!("{faults}"),
});

/// A small job without a mistake.
const SOUND: &str = "format = 1\n[resin]\nname = \"PC\"\n[demand]\nrate = \"12 kg/h\"\n";

/// A job that gives a value of most fields.
const LONG: &str = include_str!("../../../../demo/pc-lenses.toml");

fn read(text: &str) -> Result<Job, Faults> {
    read_job(text, "job.toml", &LIBRARY)
}

fn sound(text: &str) -> Job {
    match read(text) {
        Ok(job) => job,
        Err(faults) => panic!("{faults}"),
    }
}

fn told(text: &str) -> Vec<Fault> {
    read(text).unwrap_err().0
}

/// The one fault of lines added to a small job without a mistake.
fn of(lines: &str) -> Fault {
    let faults = told(&format!("{SOUND}{lines}\n"));
    assert_eq!(faults.len(), 1, "{faults:#?}");
    faults.into_iter().next().unwrap()
}

#[test]
fn holds_the_description_has_no_flaw() {
    assert_eq!(flaws(&JOB).to_string(), "");
    assert_eq!(flaws(&CELL).to_string(), "");
}

#[test]
fn exact_the_resin_of_a_job_takes_the_place_of_the_format_of_a_record() {
    let job = JOB_FIELDS.field("resin").unwrap();
    let quantity::FieldKind::Partial(section) = job.kind else {
        panic!("{:?}", job.kind);
    };
    let names = |section: &quantity::Section| -> Vec<&str> {
        section.fields.iter().map(|f| f.name).collect()
    };
    let mut of_record = names(&crate::RESIN);
    assert_eq!(of_record[0], "format");
    of_record[0] = "inline";
    assert_eq!(names(section), of_record);
    assert!(section.fields.iter().all(|field| !field.required));
}

#[test]
fn exact_what_is_left_out_stays_absent_or_takes_its_default() {
    let job = sound(SOUND);
    assert_eq!(job.title, "job");
    assert_eq!(job.resin.name, "PC");
    assert!((job.demand.peak().kg_per_hour() - 12.0).abs() < 1e-12);
    assert!(job.arrival.moisture.is_none() && job.arrival.storage.is_none());
    assert_eq!(job.arrival.temperature, job.site.ambient);
    assert!((job.site.ambient.celsius() - 20.0).abs() < 1e-9);
    assert!((job.target.margin.percent() - 20.0).abs() < 1e-9);
    assert!((job.hopper.fill.percent() - 90.0).abs() < 1e-9);
    assert!(job.hopper.volume.is_none() && job.air.temperature.is_none());
    assert!(job.model.cone && job.model.heat_gradient && job.model.size_spread);
    assert_eq!((job.model.samples, job.model.seed), (256, 1));
    assert!(job.model.film.heat.is_none() && job.model.parcels.is_none());
}

#[test]
fn exact_a_resin_takes_values_stated_short_or_long() {
    let job = sound(
        "format = 1\n[resin]\nname = \"polycarbonate\"\nsorption_heat = \"2400 kJ/kg\"\n\
         [resin.pellet]\ndiameter = \"2.6 mm\"\n[resin.density]\nvalue = \"1190 kg/m3\"\n\
         spread = \"± 5 kg/m3\"\ngrade = \"stated\"\n[resin.diffusivity]\nform = \"linear\"\n\
         reference = \"9e-11 m2/s\"\nreference_temperature = \"100 degC\"\n\
         activation_energy = \"33 kJ/mol\"\nmoisture_slope = \"20 1/%\"\n[demand]\nrate = \"1 lb/h\"\n",
    );
    let pellet = &job.resin.pellet;
    assert!((pellet.diameter.value.millimetres() - 2.6).abs() < 1e-12);
    assert_eq!(pellet.diameter.grade, material::Grade::Stated);
    assert_eq!(pellet.diameter.spread, material::Spread::Exact);
    assert!(matches!(
        job.resin.density.spread,
        material::Spread::Absolute(_)
    ));
    assert!(matches!(
        job.resin.diffusivity.law,
        material::Diffusivity::Linear { .. }
    ));
    assert!(job.resin.sorption_heat.is_some());
    let own = sound(
        "format = 1\n[resin]\nlike = \"PC\"\nname = \"PC clear\"\n[demand]\nrate = \"1 kg/h\"\n",
    );
    assert_eq!(own.resin.name, "PC clear");
}

#[test]
fn holds_a_cooling_hopper_and_a_wet_measurement_are_noted() {
    let plain = sound(&format!(
        "{SOUND}[air]\ntemperature = \"120 degC\"\n[arrival]\nmoisture = \"0.2 % wet\"\n"
    ));
    assert!(job_notes(&plain, quantity::Units::Metric).is_empty());
    let odd = sound(&format!(
        "{SOUND}[air]\ntemperature = \"60 degC\"\n[arrival]\ntemperature = \"80 degC\"\n\
         moisture = \"1 % wet\"\n"
    ));
    let notes = job_notes(&odd, quantity::Units::UsCustomary);
    assert_eq!(
        notes[0],
        "the air of 140 °F is colder than the pellets fed at 176 °F: this hopper cools them"
    );
    assert!(notes[1].contains("1.01 % dry basis"), "{}", notes[1]);
    assert_eq!(notes.len(), 2);
}
