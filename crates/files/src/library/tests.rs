//! Checks of the shipped records, and of records that users write.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod standing;

use super::*;
use crate::resin_fields::CAUTIONS;
use crate::walk::read_whole;
use crate::{FileKind, RESIN, RESIN_RECORD, flaws};
use material::{Caution, Diffusivity, Grade, Isotherm, Spread};
use quantity::{Field, FieldKind, Section};

fn shipped() -> Library {
    match Library::shipped() {
        Ok(library) => library,
        Err(faults) => panic!("{faults}"),
    }
}

/// A shipped record with one piece of its text replaced.
fn altered(key: &str, from: &str, to: &str) -> Text {
    let name = format!("materials/{key}.toml");
    let (_, content) = RECORDS.iter().find(|(known, _)| *known == name).unwrap();
    assert!(content.contains(from), "{from}");
    Text::new(name, content.replacen(from, to, 1))
}

fn told(text: &Text) -> Vec<Fault> {
    Record::read(text).unwrap_err().0
}

#[test]
fn holds_the_description_has_no_flaw() {
    assert_eq!(flaws(&RESIN_RECORD).to_string(), "");
    let words: Vec<&str> = Caution::ALL.iter().map(|c| c.key()).collect();
    assert_eq!(words, CAUTIONS);
}

#[test]
fn holds_every_shipped_value_has_its_parents() {
    fn orphans(bag: &Bag, found: &mut Vec<String>) {
        for (_, entry) in bag.entries() {
            match &entry.held {
                crate::Held::Table(inner) => orphans(inner, found),
                crate::Held::Sourced(_, parents) if parents.entry("source").is_none() => {
                    found.push(entry.place.to_string());
                }
                _ => {}
            }
        }
    }
    let library = shipped();
    let mut found = Vec::new();
    for record in &library.records {
        orphans(&record.bag, &mut found);
    }
    assert!(found.is_empty(), "{found:?}");
    for name in ["PC", "PA66", "PA6", "PET", "PMMA", "PLA", "PEI", "ABS"] {
        assert!(library.find(name, &Place::default()).is_ok(), "{name}");
    }
}

#[test]
fn exact_a_record_becomes_a_resin() {
    let library = shipped();
    let resin = &library
        .find("polycarbonate", &Place::default())
        .unwrap()
        .resin;
    assert_eq!(resin.key, "pc");
    let temperature = &resin.drying.temperature;
    assert!((temperature.value.celsius() - 120.0).abs() < 1e-9);
    assert!(matches!(temperature.spread, Spread::Absolute(_)));
    assert_eq!(temperature.grade, Grade::CommonPractice);
    assert!(matches!(resin.isotherm.law, Isotherm::Henry { .. }));
    let Diffusivity::Arrhenius { reference, .. } = resin.diffusivity.law else {
        panic!("{:?}", resin.diffusivity.law);
    };
    let evidence = resin.diffusivity.value("reference").unwrap();
    assert!((evidence.value - reference).abs() <= 0.0);
    assert!(evidence.written.ends_with("m2/s"));
    assert!(library.bibliography.get(&evidence.source).is_some());
}

#[test]
fn holds_an_unknown_resin_gets_the_nearest_names() {
    let library = shipped();
    let place = Place::of("job.toml", "resin.name");
    let fault = library.find("PA67", &place).unwrap_err().0.remove(0);
    assert_eq!(fault.kind, FaultKind::UnknownName);
    let first = fault.mend.lines().next().unwrap();
    assert!(
        first.starts_with("did you mean") && first.contains("PA66"),
        "{first}"
    );
    let fault = library.find("granite", &place).unwrap_err().0.remove(0);
    assert!(fault.mend.starts_with("the library has "), "{}", fault.mend);
    assert!(library.find("nylon-66", &place).is_ok());
}

#[test]
fn holds_the_parents_of_a_value_are_checked() {
    let cause = |from: &str, to: &str| {
        let faults = told(&altered("pa66", from, to));
        assert_eq!(faults.len(), 1, "{faults:#?}");
        (faults[0].kind, faults[0].cause.clone())
    };
    let density = "value = \"1140 kg/m3\"\nspread = \"± 10 kg/m3\"\nsource = \"common-practice\"\n\
                   where = \"usual data-sheet range\"\ngrade = \"common practice\"";
    let with = |from: &str, to: &str| density.replacen(from, to, 1);
    assert_eq!(
        cause(density, &with("± 10 kg/m3", "10 kg/m3")),
        (
            FaultKind::NotANumber,
            "a spread begins with ± or with x/÷".to_owned()
        )
    );
    assert_eq!(
        cause(density, &with("± 10 kg/m3", "± 10 K")),
        (
            FaultKind::WrongDimension,
            "this is a temperature, and a density is wanted".to_owned()
        )
    );
    assert_eq!(
        cause(density, &with("± 10 kg/m3", "± -10 kg/m3")),
        (FaultKind::OutOfRange, "a spread is not negative".to_owned())
    );
    assert_eq!(
        cause(density, &with("± 10 kg/m3", "x/÷ 0.9")),
        (
            FaultKind::OutOfRange,
            "the factor of a spread is 1 or above".to_owned()
        )
    );
    assert_eq!(
        cause(
            density,
            &with("grade = \"common practice\"", "grade = \"measured\"")
        )
        .0,
        FaultKind::Inconsistent
    );
    assert_eq!(
        cause(density, &with("\ngrade = \"common practice\"", "")),
        (
            FaultKind::MissingField,
            "grade is missing: How the value came to be known".to_owned()
        )
    );
    assert_eq!(
        cause(
            density,
            &with("grade = \"common practice\"", "grade = \"guessed\"")
        )
        .0,
        FaultKind::UnknownName
    );
    assert_eq!(
        cause(
            "value = \"262 degC\"\nspread = \"± 2 K\"",
            "value = \"262 degC\"\nspread = \"x/÷ 1.1\""
        ),
        (
            FaultKind::WrongDimension,
            "a factor of a point on the temperature scale means nothing".to_owned()
        )
    );
    assert_eq!(
        cause(
            "holds = \"23 degC .. 80 degC\"",
            "holds = \"23 degC to 80 degC\""
        )
        .1,
        "this is no range: a range is written with two points between its ends"
    );
    assert_eq!(
        cause(
            "value = \"cylinder\"",
            "value = \"cylinder\"\nspread = \"± 1 mm\""
        )
        .1,
        "a word has no spread"
    );
    assert_eq!(
        cause("value = \"1140 kg/m3\"\n", ""),
        (
            FaultKind::MissingField,
            "value is missing: Density of the dry resin".to_owned()
        )
    );
}

#[test]
fn holds_contradictions_are_told() {
    let cause = |from: &str, to: &str| {
        let faults = told(&altered("pa66", from, to));
        faults[0].cause.clone()
    };
    assert_eq!(
        cause("value = \"75 degC\"", "value = \"81 degC\""),
        "the set point lies outside its own window"
    );
    assert_eq!(
        cause("value = \"680 kg/m3\"", "value = \"1680 kg/m3\""),
        "poured pellets cannot be denser than the resin itself"
    );
    assert_eq!(
        cause(
            "[limit.lower_edge]\nvalue = \"0.02 % wet\"",
            "[limit.lower_edge]\nvalue = \"0.3 % wet\""
        ),
        "the lower edge is not below the limit for moulding"
    );
    assert_eq!(
        cause("value = \"1.0 % wet\"", "value = \"0.1 % wet\""),
        "a sealed bag would be wetter than an opened one"
    );
}

#[test]
fn holds_sources_are_checked_both_ways() {
    let bib = Text::new(
        "sources.bib",
        "@article{krongauz2016, year = {2016}}\n@book{idle, year = {1}}\n",
    );
    let record = altered("pc", "", "");
    let faults = Library::of(&[record], Some(&bib)).unwrap_err();
    assert!(
        faults.iter().all(|f| f.kind == FaultKind::Source),
        "{faults}"
    );
    let idle = faults.iter().find(|f| f.place.path == "idle").unwrap();
    assert_eq!(idle.place.line, 2);
    assert_eq!(idle.cause, "no value cites this source");
    let missing = faults
        .iter()
        .find(|f| f.place.file == "materials/pc.toml")
        .unwrap();
    assert_eq!(missing.cause, "this source is not in the bibliography");
    assert!(missing.place.line > 1 && missing.place.path.ends_with(".source"));
}

static JOB: Section = Section {
    fields: &[
        Field::required("format", FieldKind::Count, "1", "Version of the format"),
        Field::required("resin", FieldKind::Partial(&RESIN), "", "Resin"),
    ],
    rules: &[],
};

const KIND: FileKind = FileKind {
    name: "a test job",
    format: 1,
    section: &JOB,
};

fn resolve(resin: &str) -> Result<Resin, Faults> {
    let content = format!("format = 1\n[resin]\n{resin}");
    let (bag, faults) = read_whole(&Text::new("job.toml", content), &KIND);
    let bag = faults.or(bag)?;
    shipped().resolve(&bag.need("resin", Entry::table)?)
}

#[test]
fn exact_a_job_states_some_values_anew() {
    let plain = resolve("name = \"PC\"").unwrap();
    assert_eq!(
        plain,
        shipped().find("PC", &Place::default()).unwrap().resin
    );
    let resin = resolve(
        "name = \"polycarbonate\"\ndensity = \"1190 kg/m3\"\n[resin.diffusivity]\n\
         reference = \"2e-10 m2/s\"\n[resin.sticking]\nvalue = \"262 degF\"\nspread = \"± 4 K\"\n",
    )
    .unwrap();
    assert_eq!(resin.name, plain.name);
    assert!((resin.density.value.kg_per_m3() - 1190.0).abs() < 1e-9);
    assert_eq!(resin.density.grade, Grade::Stated);
    assert_eq!(resin.density.spread, Spread::Exact);
    assert_eq!(resin.density.place, "line 4");
    assert!((resin.sticking.value.fahrenheit() - 262.0).abs() < 1e-9);
    let diffusivity = |of: &Resin, name: &str| of.diffusivity.value(name).unwrap().value;
    assert!((diffusivity(&resin, "reference") - 2e-10).abs() < 1e-22);
    let energy = diffusivity(&plain, "activation_energy");
    assert!((diffusivity(&resin, "activation_energy") - energy).abs() <= 0.0);
}

#[test]
fn holds_mistakes_in_what_a_job_states_are_told() {
    let faults = resolve("name = \"PCC\"").unwrap_err();
    assert_eq!(faults.0[0].kind, FaultKind::UnknownName);
    assert_eq!(faults.0[0].place.line, 3);
    let faults = resolve("density = \"1190 kg/m3\"").unwrap_err();
    assert_eq!(faults.0[0].place.path, "resin.name");
    // A law chosen anew needs its own numbers, and the mistake stands in the job.
    let faults = resolve("name = \"PC\"\n[resin.isotherm]\nform = \"gab\"").unwrap_err();
    assert_eq!(faults.len(), 5, "{faults}");
    assert_eq!(faults.0[0].place.file, "job.toml");
    assert_eq!(faults.0[0].place.line, 4);
    // One written out whole is checked as a record is.
    let faults = resolve(
        "name = \"own\"\n[resin.isotherm]\nform = \"surface only\"\n[resin.diffusivity]\nform = \"linear\"\n",
    )
    .unwrap_err();
    let paths: Vec<&str> = faults.iter().map(|f| f.place.path.as_str()).collect();
    assert!(paths.contains(&"resin.density"), "{paths:?}");
    assert!(
        paths.contains(&"resin.diffusivity.moisture_slope"),
        "{paths:?}"
    );
    assert!(!paths.contains(&"resin.format"), "{paths:?}");
}

#[test]
fn exact_a_folder_extends_the_library() {
    let folder = std::env::temp_dir().join(format!("drybed-library-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let own = altered("pc", "name = \"PC\"", "name = \"PC own\"");
    let other_names = |line: &str| {
        if line.starts_with("aliases") {
            "aliases = [\"own\"]\n".to_owned()
        } else {
            format!("{line}\n")
        }
    };
    let own: String = own.content.lines().map(other_names).collect();
    std::fs::write(folder.join("pc-own.toml"), own).unwrap();
    std::fs::write(folder.join("notes.txt"), "no record").unwrap();
    let library = shipped().with_folder(&folder);
    std::fs::write(folder.join("bad.toml"), [0x66, 0x0a, 0xff]).unwrap();
    let bad = shipped().with_folder(&folder);
    std::fs::remove_dir_all(&folder).unwrap();
    let library = library.unwrap().sound().unwrap();
    assert_eq!(library.records.len(), shipped().records.len() + 1);
    assert!(library.find("own", &Place::default()).is_ok());
    let bad = bad.unwrap();
    assert_eq!(bad.faults.len(), 1);
    assert_eq!(bad.faults.0[0].kind, FaultKind::Unreadable);
    assert_eq!(bad.faults.0[0].place.line, 2);
    assert!(bad.library.find("own", &Place::default()).is_ok());
    let asked = bad.library.find("bad", &Place::default()).unwrap_err();
    assert_eq!(asked.0[1], bad.faults.0[0]);
    assert_eq!(
        shipped().with_folder(&folder).unwrap_err().0[0].cause,
        "it is not there"
    );
}

#[test]
fn holds_the_longest_stay_as_a_rate_is_one_over_it_for_every_resin() {
    let library = shipped();
    for record in &library.records {
        let resin = &record.resin;
        for celsius in [60.0, 120.0, 180.0] {
            let at = quantity::Temperature::from_celsius(celsius);
            let product = resin.stay_law().at(at.kelvin()) * resin.hold_at(at).seconds();
            assert!((product - 1.0).abs() < 1e-9, "{} {product}", resin.key);
        }
    }
}
