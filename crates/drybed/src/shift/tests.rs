//! What holds of days that were followed.

#![expect(
    clippy::expect_used,
    reason = "a trial that cannot be built has failed"
)]

use super::*;

fn demo(name: &str) -> ShiftAnswer {
    let library = Library::shipped().expect("the library reads");
    let path = format!("{}/../../demo/shifts/{name}", env!("CARGO_MANIFEST_DIR"));
    shift_file(Path::new(&path), &library).expect("the days are followed")
}

#[test]
fn holds_the_week_of_the_demo_is_told_whole() {
    let answer = demo("pc-week.toml");
    let shift = &answer.shift;
    assert!(
        (shift.hours - 167.0).abs() < 1e-9,
        "clocks go forward: {}",
        shift.hours
    );
    assert!(shift.water.imbalance() < 1e-8 && shift.energy.imbalance() < 1e-8);
    let masses = &shift.masses;
    let parts = masses.wet_kg + masses.overstayed_kg + masses.too_dry_kg + masses.in_window_kg;
    assert!((parts / masses.all_kg - 1.0).abs() < 1e-9);
    // The press waits for the first hopper, and what it could not make is told.
    assert!(
        shift.waited_h > 1.0 && shift.not_made_kg > 10.0,
        "{}",
        shift.waited_h
    );
    assert!(masses.wet_kg < 1e-3 * masses.all_kg, "{masses:?}");
    let document = answer.document(quantity::Units::Metric);
    assert_eq!(document.check(), Ok(()));
    let told = document.full_text().expect("it is told");
    assert!(told.contains("Mon 23 Mar"));
}
