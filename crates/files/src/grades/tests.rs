//! Checks of grades by the user's own names, and of data sheets in a job.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use super::*;
use crate::{flaws, read_job};
use quantity::FaultKind;

const SOUND: &str = "format = 1\n[[grade]]\nname = \"lens clear 7\"\nresin = \"pc\"\n\
    temperature_low = \"110 degC\"\ntemperature_high = \"115 degC\"\ntime = \"4 h\"\n\
    limit = \"0.03 % wet\"\nrecord.pellet.diameter = \"3.1 mm\"\n\
    [[grade]]\nname = \"housing black\"\nresin = \"PA66\"\ntime = \"6 h\"\n";

const JOB: &str = "format = 1\n[resin]\nname = \"Lens Clear 7\"\n[demand]\nrate = \"12 kg/h\"\n";

fn with(text: &str) -> (Library, Faults) {
    let text = Text::new("grades.toml", text);
    Library::shipped().unwrap().with_grades(&text)
}

fn job(text: &str, library: &Library) -> Result<job::Job, Faults> {
    read_job(text, "job.toml", library)
}

#[test]
fn holds_the_description_has_no_flaw() {
    assert_eq!(flaws(&GRADES).to_string(), "");
}

#[test]
fn exact_a_job_by_the_name_of_a_grade_has_its_resin_and_its_sheet() {
    let (library, faults) = with(SOUND);
    assert!(faults.is_empty(), "{faults}");
    let job = job(JOB, &library).unwrap();
    assert_eq!(job.resin.key, "pc");
    assert_eq!(job.resin.name, "lens clear 7 (PC)");
    let drying = &job.resin.drying;
    // The record's 120 degC lies above the range of the sheet, so its upper end is taken.
    assert!((drying.temperature.value.celsius() - 115.0).abs() < 1e-9);
    assert!((drying.temperature_low.value.celsius() - 110.0).abs() < 1e-9);
    assert_eq!(drying.temperature_high.source, "data-sheet");
    assert!((job.resin.limit.moulding.value.wet_basis().ppm() - 300.0).abs() < 1e-6);
    // The extrusion limit of the record is tighter than the sheet's and stays.
    let extrusion = job.resin.limit.extrusion.unwrap();
    assert!((extrusion.value.wet_basis().ppm() - 100.0).abs() < 1e-6);
    let diameter = &job.resin.pellet.diameter;
    assert!((diameter.value.metres() - 3.1e-3).abs() < 1e-9);
    let sheet = job.data_sheet.unwrap();
    assert_eq!(sheet.grade.as_deref(), Some("lens clear 7"));
    assert!((sheet.time.unwrap().hours() - 4.0).abs() < 1e-9);
}

#[test]
fn holds_the_job_outranks_the_grade() {
    let (library, _) = with(SOUND);
    let text = format!(
        "{JOB}[data_sheet]\ntemperature = \"112 degC\"\n[target]\nlimit = \"150 ppm wet\"\n"
    );
    let job = job(&text, &library).unwrap();
    let drying = &job.resin.drying;
    for end in [
        &drying.temperature,
        &drying.temperature_low,
        &drying.temperature_high,
    ] {
        assert!((end.value.celsius() - 112.0).abs() < 1e-9, "{end:?}");
    }
    let sheet = job.data_sheet.unwrap();
    assert!(sheet.temperature_high.is_none() && sheet.time.is_some());
    let stated = text.replace(
        "name = \"Lens Clear 7\"",
        "name = \"Lens Clear 7\"\ndrying.temperature_high = \"130 degC\"",
    );
    let job = super::tests::job(&stated, &library).unwrap();
    let high = &job.resin.drying.temperature_high;
    assert!((high.value.celsius() - 130.0).abs() < 1e-9 && high.source == "stated");
}

#[test]
fn holds_a_data_sheet_needs_no_grade() {
    let library = Library::shipped().unwrap();
    let text = "format = 1\nresin.name = \"PA66\"\ndemand.rate = \"12 kg/h\"\n\
        [data_sheet]\ntemperature = \"75 degC\"\ntime = \"2 h\"\n";
    let job = job(text, &library).unwrap();
    assert!((job.resin.drying.temperature_high.value.celsius() - 75.0).abs() < 1e-9);
    assert!(job.data_sheet.unwrap().grade.is_none());
}

#[test]
fn holds_every_mistake_of_a_file_of_grades_is_told_at_once() {
    let (library, faults) = with(
        "format = 1\n[[grade]]\nname = \"PMMA\"\nresin = \"PC\"\n\
         [[grade]]\nname = \"a\"\nresin = \"PX\"\ntime = \"4 kg\"\n\
         [[grade]]\nname = \"b\"\nresin = \"PC\"\n\
         [[grade]]\nname = \"B\"\nresin = \"PA66\"\n\
         [[grade]]\nname = \"c\"\nresin = \"PC\"\ntemperature_low = \"120 degC\"\n\
         temperature_high = \"100 degC\"\nrecord.name = \"x\"\n\
         [[grade]]\nname = \"d\"\nresin = \"b\"\n\
         [[grade]]\nresin = \"PC\"\nspeed = 3\n[[grade]]\nname = \"e\"\nresin = \"PC\"\n",
    );
    let told: Vec<(FaultKind, &str)> = faults
        .iter()
        .map(|f| (f.kind, f.place.path.as_str()))
        .collect();
    for wanted in [
        (FaultKind::Inconsistent, "grade[1].name"),
        (FaultKind::UnknownName, "grade[2].resin"),
        (FaultKind::WrongDimension, "grade[2].time"),
        (FaultKind::Inconsistent, "grade[4].name"),
        (FaultKind::Inconsistent, "grade[5].temperature_low"),
        (FaultKind::Inconsistent, "grade[5].record.name"),
        (FaultKind::Inconsistent, "grade[6].resin"),
        (FaultKind::MissingField, "grade[7].name"),
        (FaultKind::UnknownField, "grade[7].speed"),
    ] {
        assert!(told.contains(&wanted), "{wanted:?} in {told:#?}");
    }
    assert_eq!(told.len(), 9, "{faults}");
    // The rest is used, and whoever asks for a broken one is told its mistakes.
    let place = Place::of("job.toml", "resin.name");
    assert!(library.find("e", &place).is_ok());
    assert_eq!(library.find("PMMA", &place).unwrap().resin.key, "pmma");
    assert!(
        library.find("b", &place).is_err(),
        "nobody knows which of the two"
    );
    let asked = library.find("c", &place).unwrap_err();
    assert!(
        asked
            .iter()
            .any(|f| f.place.path == "grade[5].temperature_low"),
        "{asked}"
    );
}

#[test]
fn holds_what_stands_wrongly_in_a_grade_is_not_missing_as_well() {
    let (_, faults) =
        with("format = 1\n[[grade]]\nname = \"a\"\nresin = \"PC\"\ntime = \"4 kg\"\n");
    let kinds: Vec<FaultKind> = faults.iter().map(|f| f.kind).collect();
    assert_eq!(kinds, [FaultKind::WrongDimension], "{faults}");
}

#[test]
fn holds_a_data_sheet_that_contradicts_itself_or_its_resin_is_told() {
    let library = Library::shipped().unwrap();
    let of = |lines: &str| {
        let text = format!(
            "format = 1\nresin.name = \"PA66\"\ndemand.rate = \"12 kg/h\"\n[data_sheet]\n{lines}"
        );
        job(&text, &library).unwrap_err()
    };
    let faults = of("temperature = \"95 degC\"\ntemperature_high = \"90 degC\"\ntime = \"4 K\"\n");
    let paths: Vec<&str> = faults.iter().map(|f| f.place.path.as_str()).collect();
    assert_eq!(
        paths,
        ["data_sheet.temperature", "data_sheet.time"],
        "{faults}"
    );
    // Tighter than the lower edge of the polyamide.
    let faults = of("limit = \"0.01 % wet\"\n");
    assert_eq!(faults.len(), 1, "{faults}");
    assert!(faults.0[0].cause.contains("lower edge"), "{faults}");
}

#[test]
fn holds_an_open_end_of_a_range_is_that_of_the_record() {
    let library = Library::shipped().unwrap();
    let of = |lines: &str| {
        let text = format!(
            "format = 1\nresin.name = \"PC\"\ndemand.rate = \"12 kg/h\"\n[data_sheet]\n{lines}"
        );
        let drying = job(&text, &library).unwrap().resin.drying;
        [
            drying.temperature_low,
            drying.temperature,
            drying.temperature_high,
        ]
        .map(|e| format!("{:.0}", e.value.celsius()))
    };
    assert_eq!(
        of("temperature_high = \"118 degC\"\n"),
        ["115", "118", "118"]
    );
    assert_eq!(
        of("temperature_high = \"100 degC\"\n"),
        ["100", "100", "100"]
    );
    assert_eq!(
        of("temperature_low = \"130 degC\"\n"),
        ["130", "130", "130"]
    );
    assert_eq!(of("time = \"3 h\"\n"), ["115", "120", "125"]);
}
