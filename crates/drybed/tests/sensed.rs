//! Demand sensed from the return air, with noise and lag, on random days: no pellet wet because of late recovery.

#![expect(
    clippy::expect_used,
    reason = "a trial that cannot be built has failed"
)]

use drybed::{Library, sensed_file};
use std::path::Path;

/// Days; two hundred are asked with `DRYBED_TRIALS=200`, as the numbers in docs/shift.md were.
fn days() -> u32 {
    let asked = std::env::var("DRYBED_TRIALS").ok();
    asked.and_then(|asked| asked.parse().ok()).unwrap_or(6)
}

#[test]
fn holds_a_setback_of_twenty_kelvin_recovers_in_time_on_random_days() {
    let library = Library::shipped().expect("the library reads");
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../demo/shifts/pc-week.toml"
    );
    let found = sensed_file(Path::new(path), &library, (days(), 7), 20.0).expect("days");
    // Shown by the long run, which writes them down.
    assert_eq!(found.late, 0, "{found:#?}");
    assert!(found.setbacks > 0 && found.energy_ratio < 1.0, "{found:#?}");
    assert!(
        f64::from(found.false_setbacks + found.false_recoveries)
            <= 0.2 * f64::from(found.setbacks) + 1.0,
        "{found:#?}"
    );
    if std::env::var_os("DRYBED_SHOW").is_some() {
        let at = std::env::temp_dir().join("drybed-sensed.txt");
        std::fs::write(at, format!("{found:#?}")).expect("it is written");
    }
}
