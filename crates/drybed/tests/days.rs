//! Days on one dryer, a stop and a changeover, as shown.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

mod committed;

use committed::stands;
use drybed::{DryerAsked, Units, changeover_files, library, shift_file, stop_file};
use std::path::PathBuf;

fn demo(name: &str) -> PathBuf {
    PathBuf::from(format!("{}/../../demo/{name}", env!("CARGO_MANIFEST_DIR")))
}

#[test]
fn pinned_a_week_as_shown() {
    let library = library(None).unwrap();
    let week = shift_file(&demo("shifts/pc-week.toml"), &library).unwrap();
    stands("week", &week.document(Units::Metric).text().unwrap());
    let us = week.document(Units::UsCustomary).full_text().unwrap();
    assert!(!us.contains("°C") && us.contains(" lb"), "{us}");
    assert!(week.document(Units::Metric).html().is_ok());
}

#[test]
fn pinned_a_stop_as_shown() {
    let library = library(None).unwrap();
    let about = (DryerAsked::default(), "5 h");
    let stop = stop_file(&demo("pc-lenses.toml"), &library, about).unwrap();
    stands("stop", &stop.document(Units::Metric).full_text().unwrap());
}

#[test]
fn pinned_a_changeover_as_shown() {
    let library = library(None).unwrap();
    let (from, to) = (demo("pc-lenses.toml"), demo("abs-small.toml"));
    let found = changeover_files((&from, &to), &library, DryerAsked::default()).unwrap();
    let told = found.document(Units::Metric).full_text().unwrap();
    stands("changeover", &told);
}

#[test]
fn holds_what_is_asked_wrongly_is_said_with_its_mend() {
    let library = library(None).unwrap();
    let job = demo("pc-lenses.toml");
    let about = |kind| DryerAsked { kind, record: None };
    let wrong = stop_file(&job, &library, (about(None), "5 kg")).unwrap_err();
    assert!(wrong.to_string().contains("for"), "{wrong}");
    for length in ["-5 h", "0 h", "1e9 h"] {
        let wrong = stop_file(&job, &library, (about(None), length)).unwrap_err();
        assert!(wrong.to_string().contains("30 d"), "{wrong}");
    }
    let wrong = stop_file(&job, &library, (about(Some("tower")), "5 h")).unwrap_err();
    assert!(wrong.to_string().contains("twin towers"), "{wrong}");
}
