//! The data sheet beside the plan, and a grade by the user's own name.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use drybed::{PlanAnswer, Units, library, open_library, plan, resin};
use std::fs;
use std::path::Path;

/// An invented job, quick to plan.
fn asked(lines: &str) -> PlanAnswer {
    let text = format!(
        "format = 1\ntitle = \"housings (invented)\"\nresin.name = \"PC\"\n\
         demand.rate = \"20 kg/h\"\nmodel.samples = 0\n{lines}"
    );
    plan(&text, "job.toml", &library(None).unwrap()).unwrap()
}

fn shown(answer: &PlanAnswer) -> String {
    let document = answer.document(Units::Metric);
    assert!(document.html().is_ok());
    assert!(answer.document(Units::UsCustomary).html().is_ok());
    let text = document.full_text().unwrap();
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{line:?}");
    }
    text
}

#[test]
fn holds_a_short_time_is_explained_by_what_it_does_not_cover() {
    let answer = asked(
        "arrival.moisture = \"0.2 % wet\"\n[data_sheet]\ntemperature = \"110 degC\"\ntime = \"30 min\"\n",
    );
    let sheet = answer.plan.data_sheet.clone().unwrap();
    let run = sheet.run.unwrap();
    assert!(!run.meets_limit && run.needed_h > run.residence_h);
    assert!(!sheet.outside, "the plan keeps to the data sheet");
    assert!((answer.plan.settings.air_temperature_c - 110.0).abs() < 0.6);
    let covered: f64 = run.parts.iter().map(|part| part.covered_h).sum();
    assert!((covered - 0.5).abs() < 1e-9, "{covered}");
    let needed: f64 = run.parts.iter().map(|part| part.hours).sum();
    assert!((needed - run.needed_h).abs() < 1e-9);
    let wetter = run
        .parts
        .iter()
        .find(|p| p.name.starts_with("arriving wetter"));
    assert!(wetter.is_some_and(|part| part.hours > 0.0));
    let from = run.dries_from_ppm_wet.unwrap_or(200.0);
    assert!(from < 2000.0, "{from}");
    let text = shown(&answer);
    assert!(
        text.contains("Beside the data sheet") && text.contains("does not cover"),
        "{text}"
    );
}

#[test]
fn holds_a_long_time_is_for_wetter_resin() {
    let answer = asked("arrival.moisture = \"0.05 % wet\"\n[data_sheet]\ntime = \"8 h\"\n");
    let run = answer.plan.data_sheet.clone().unwrap().run.unwrap();
    assert!(run.meets_limit && run.residence_h > run.needed_h);
    assert!(run.dries_from_ppm_wet.unwrap() > 500.0);
    assert_eq!(run.taken_from_plan, ["air temperature", "frost point"]);
    assert!(shown(&answer).contains("it would do for resin"));
}

#[test]
fn holds_nothing_outside_the_sheet_is_recommended_unasked() {
    let lines = "hopper.bed_mass = \"20 kg\"\narrival.moisture = \"0.2 % wet\"\n\
         air.temperature = \"85 degC\"\n";
    let sheet = "[data_sheet]\ntemperature_low = \"80 degC\"\ntemperature_high = \"90 degC\"\n\
         hold = \"40 h\"\n";
    let kept = asked(&format!("{lines}{sheet}"));
    assert!(!kept.is_met());
    let safe = kept.plan.nearest_safe;
    assert!(safe.is_none_or(|s| s.air_temperature_c < 90.6), "{safe:?}");
    let free = asked(&format!("{lines}target.outside_window = true\n{sheet}"));
    let safe = free.plan.nearest_safe.unwrap();
    assert!(safe.air_temperature_c > 100.0, "{}", safe.air_temperature_c);
    let text = shown(&free);
    assert!(text.contains("outside"), "{text}");
}

#[test]
fn holds_a_grade_of_the_folder_is_planned_and_shown() {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join("own-grades");
    let _ = fs::remove_dir_all(&path);
    fs::create_dir_all(&path).unwrap();
    fs::write(
        path.join("grades.toml"),
        "format = 1\n[[grade]]\nname = \"lens clear 7\"\nresin = \"PC\"\ntime = \"4 h\"\n\
         temperature = \"118 degC\"\n",
    )
    .unwrap();
    let loaded = open_library(Some(&path), None).unwrap();
    assert!(loaded.faults.is_empty(), "{}", loaded.faults);
    let known = resin("lens clear 7", &loaded.library).unwrap();
    let text = known.document(Units::Metric).text().unwrap();
    assert!(text.contains("data sheet of"), "{text}");
    let both = ["PC".to_owned(), "lens clear 7".to_owned()];
    let beside = drybed::compare(&both, &loaded.library).unwrap();
    let text = beside.document(Units::Metric).text().unwrap();
    assert!(
        text.contains("PC is dried") || text.contains("is dried at 118"),
        "{text}"
    );
    let lines = drybed::resins(&loaded.library);
    assert!(lines.iter().any(|line| line.key == "lens clear 7"));
    let job = "format = 1\nresin.name = \"lens clear 7\"\ndemand.rate = \"20 kg/h\"\n\
         model.samples = 0\n";
    let answer = plan(job, "job.toml", &loaded.library).unwrap();
    let sheet = answer.plan.data_sheet.unwrap();
    assert_eq!(sheet.grade.as_deref(), Some("lens clear 7"));
    assert_eq!(answer.plan.resin, "lens clear 7 (PC)");
}
