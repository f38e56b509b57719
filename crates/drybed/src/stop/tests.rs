//! What holds of a stop.

#![expect(
    clippy::expect_used,
    reason = "a trial that cannot be built has failed"
)]

use super::*;
use crate::DryerAsked;

fn asked(demo: &str, length: &str) -> Stop {
    let library = Library::shipped().expect("the library reads");
    let path = format!("{}/../../demo/{demo}", env!("CARGO_MANIFEST_DIR"));
    let found = stop_file(Path::new(&path), &library, (DryerAsked::default(), length));
    found.expect("the stop is followed").stop
}

#[test]
fn holds_a_short_stop_changes_nothing_and_a_long_one_wants_a_setback() {
    let short = asked("pc-lenses.toml", "20 min");
    let kept = short.actions[0];
    assert!(kept.is_safe, "{kept:?}");
    let long = asked("pc-lenses.toml", "40 h");
    let kept = long.actions[0];
    assert!(!kept.is_safe && kept.longest_stay > 1.0, "{kept:?}");
    let best = long.best.map(|index| long.actions[index]);
    let best = best.expect("something saves it");
    assert!(best.action != decide::stop::Action::Keep);
    assert!(best.longest_stay < kept.longest_stay && best.energy_kwh < kept.energy_kwh);
}

#[test]
fn holds_it_may_stand_as_long_as_its_stay_lasts() {
    let found = asked("pc-lenses.toml", "5 h");
    let kept = found.actions[0];
    let may = kept.may_stand_h.unwrap_or(0.0);
    let at = asked("pc-lenses.toml", &format!("{may:.2} h"));
    let stay = at.actions[0].longest_stay;
    assert!((stay - 1.0).abs() < 0.06, "{may} {stay}");
}
