//! Times on both nights on which clocks change.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
#![expect(clippy::float_cmp, reason = "whole minutes are exact")]

use super::*;

/// The beginning of a schedule in a zone.
fn clock(zone: &str, begins: &str) -> Clock {
    let begins = moment(&self::zone(zone).unwrap(), begins).unwrap();
    Clock {
        zone: zone.to_owned(),
        begins: begins.as_second(),
    }
}

fn hours(clock: &Clock, written: &str) -> f64 {
    seconds(clock, written).unwrap() / 3600.0
}

#[test]
fn exact_a_night_in_which_clocks_are_put_forward_has_an_hour_less() {
    let clock = clock("Europe/Berlin", "2026-03-28 22:00");
    assert_eq!(hours(&clock, "2026-03-29 01:59") * 60.0, 239.0);
    assert_eq!(hours(&clock, "2026-03-29 03:00"), 4.0);
    assert_eq!(hours(&clock, "2026-03-29 06:00"), 7.0);
    assert_eq!(local(&clock, 4.0 * 3600.0), "Sun 29 Mar 03:00");
    assert_eq!(local(&clock, 4.0 * 3600.0 - 1.0), "Sun 29 Mar 01:59");
}

#[test]
fn exact_a_night_in_which_clocks_are_put_back_has_an_hour_more() {
    let clock = clock("Europe/Berlin", "2026-10-24 22:00");
    assert_eq!(hours(&clock, "2026-10-25 06:00"), 9.0);
    assert_eq!(hours(&clock, "2026-10-25T02:30+02:00"), 4.5);
    assert_eq!(hours(&clock, "2026-10-25T02:30+01:00"), 5.5);
    assert_eq!(local(&clock, 4.5 * 3600.0), "Sun 25 Oct 02:30");
    assert_eq!(local(&clock, 5.5 * 3600.0), "Sun 25 Oct 02:30");
}

#[test]
fn holds_an_hour_that_comes_twice_is_refused_with_both_moments() {
    let clock = clock("Europe/Berlin", "2026-10-24 22:00");
    let why = seconds(&clock, "2026-10-25 02:30").unwrap_err();
    for moment in ["2026-10-25T02:30+02:00", "2026-10-25T02:30+01:00"] {
        assert!(why.cause.contains(moment), "{why:?}");
        assert!(why.mend.contains(&format!("{moment:?}")), "{why:?}");
        // What is offered can be written.
        assert!(seconds(&clock, moment).is_ok());
    }
}

#[test]
fn holds_an_hour_that_does_not_exist_is_refused_with_the_gap() {
    let clock = clock("Europe/Berlin", "2026-03-28 22:00");
    for written in ["2026-03-29 02:00", "2026-03-29 02:59"] {
        let why = seconds(&clock, written).unwrap_err();
        assert!(why.cause.contains("from 02:00 to 03:00"), "{why:?}");
    }
}

#[test]
fn holds_an_unknown_zone_is_told_with_the_nearest() {
    for (written, meant) in [
        ("Europe/Belin", "Europe/Berlin"),
        ("europe/berlin ", "Europe/Berlin"),
        ("New York", "America/New_York"),
    ] {
        let why = zone(written).unwrap_err();
        assert!(why.mend.contains(meant), "{why:?}");
    }
    assert!(zone("xq").unwrap_err().mend.contains("Europe/Berlin"));
}

#[test]
fn holds_what_is_no_time_is_refused() {
    let clock = clock("Europe/Berlin", "2026-03-23 06:00");
    for written in [
        "",
        "06:00",
        "2026-03-24",
        "2026-02-30 06:00",
        "24.3.2026 06:00",
        "2026-03-24 25:00",
        "2026-03-24 06:00 Europe/Berlin",
        "0026-03-24 06:00",
        "9026-03-24 06:00",
        "ä:",
    ] {
        assert!(seconds(&clock, written).is_err(), "{written}");
    }
}

#[test]
fn exact_the_days_of_a_week_cover_it_and_one_has_23_hours() {
    let clock = clock("Europe/Berlin", "2026-03-23 06:00");
    let days = days(&clock, Duration::from_hours(167.0));
    let names: Vec<&str> = days.iter().map(|day| day.0.as_str()).collect();
    assert_eq!(names[0], "Mon 23 Mar");
    assert_eq!(names[7], "Mon 30 Mar");
    assert_eq!(days.len(), 8);
    assert_eq!((days[0].1, days[0].2), (0.0, 18.0));
    assert_eq!(days[6].2 - days[6].1, 23.0);
    assert_eq!((days[7].1, days[7].2), (161.0, 167.0));
    assert!(days.windows(2).all(|pair| pair[0].2 == pair[1].1));
}

#[test]
fn exact_a_zone_without_changes_counts_as_it_shows() {
    let clock = clock("UTC", "2026-01-01 00:00");
    assert_eq!(clock.begins, 1_767_225_600);
    assert_eq!(local(&clock, 90_061.0), "Fri 2 Jan 01:01");
    assert!(days(&clock, Duration::from_seconds(0.0)).is_empty());
}
