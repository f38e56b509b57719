//! Weather as it is written down, and every way to write it wrongly.
#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use super::clock::day_number;
use super::*;
use quantity::constants::STANDARD_ATMOSPHERE;

const HEAD: &str = "time, temperature (degC), relative humidity (%RH)\n";

fn at_sea(content: &str, wanted: Option<f64>) -> Result<Weather, Faults> {
    read(
        &Text::new("hall.csv", content),
        wanted.map(Duration::from_hours),
        AbsolutePressure::from_si(STANDARD_ATMOSPHERE),
    )
}

fn whole(content: &str) -> Weather {
    match at_sea(content, None) {
        Ok(weather) => weather,
        Err(faults) => panic!("{faults}"),
    }
}

/// Lines and kinds of the mistakes of a file.
fn told(content: &str) -> Vec<(usize, FaultKind)> {
    let faults = at_sea(content, None).unwrap_err();
    for fault in &faults {
        assert_eq!(fault.place.file, "hall.csv");
        assert!(!fault.cause.is_empty() && !fault.mend.is_empty(), "{fault}");
    }
    faults.iter().map(|f| (f.place.line, f.kind)).collect()
}

/// Hours of one day in hall air.
fn hours(range: std::ops::Range<u32>) -> String {
    let rows = range.map(|hour| format!("2025-07-01T{hour:02}:00:00, 21.5, 55\n"));
    rows.collect::<Vec<_>>().concat()
}

fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-9, "{found} {wanted}");
}

#[test]
fn exact_rows_are_read_as_they_stand() {
    let weather = whole(&format!(
        "# invented\n{HEAD}2025-02-28T23:00:00, 21.5, 55\n\n2025-03-01T00:00:00, \u{2212}3, 100\n"
    ));
    assert_eq!(weather.rows.len(), 2);
    near(weather.rows[1].time.hours(), 1.0);
    near(weather.rows[0].temperature.celsius(), 21.5);
    near(weather.rows[1].temperature.celsius(), -3.0);
    near(weather.rows[1].relative_humidity.percent(), 100.0);
    assert_eq!(weather.span.0, "2025-02-28T23:00:00");
    assert_eq!(weather.notes, Vec::<String>::new());
}

#[test]
fn exact_columns_and_marks_may_stand_otherwise() {
    let metric = whole(&format!("{HEAD}{}", hours(0..3)));
    let us = whole(
        "Relative_Humidity [%];note;Temperature [degF];\"Time\"\n55;a;70.7;2025-07-01 00:00\n\
         55;b;70.7;2025-07-01 01:00:00.0\n55;;70.7;2025-07-01T02:00\n",
    );
    for (one, other) in metric.rows.iter().zip(&us.rows) {
        near(one.time.si(), other.time.si());
        near(one.temperature.si(), other.temperature.si());
        near(one.relative_humidity.si(), other.relative_humidity.si());
    }
    assert_eq!(us.rows.len(), 3);
}

#[test]
fn exact_a_dew_point_at_the_temperature_is_saturation() {
    let weather = whole(
        "time\ttemperature (degC)\tdew point (degC)\n2025-07-01T00:00:00\t20\t20\n\
         2025-07-01T01:00:00\t20\t9.27\n",
    );
    near(weather.rows[0].relative_humidity.percent(), 100.0);
    // 9.27 degC is the dew point of half saturated air of 20 degC (steam tables, from memory).
    assert!((weather.rows[1].relative_humidity.percent() - 50.0).abs() < 0.2);
}

#[test]
fn exact_the_calendar_has_its_leap_days() {
    let day = |year, month, day| day_number(year, month, day);
    assert_eq!(day(2024, 3, 1) - day(2024, 2, 28), 2);
    assert_eq!(day(2025, 3, 1) - day(2025, 2, 28), 1);
    assert_eq!(day(1900, 3, 1) - day(1900, 2, 28), 1);
    assert_eq!(day(2000, 3, 1) - day(2000, 2, 28), 2);
    assert_eq!(day(2026, 1, 1) - day(2025, 1, 1), 365);
    assert_eq!(day(2025, 1, 1) - day(2024, 12, 31), 1);
    assert!(seconds("2025-02-29T00:00:00").is_err());
    assert!(seconds("2024-02-29T00:00:00").is_ok());
}

#[test]
fn holds_every_mistake_is_told_with_its_line() {
    use FaultKind::{Inconsistent, MissingField, NotANumber, OutOfRange};
    let text = format!(
        "{HEAD}2025-07-01T00:00:00, 21, 55\n2025-07-01T01:00:00, 21, 130\n\
         2025-07-01T02:00:00, 2l, 55\n2025-07-01T02:00:00, 21, 55\n2025-07-01T01:30:00, 21, 55\n\
         2025-07-01T03:00:00, 21\n2025-07-01T03:30:00, 20,8, 57\n1 July, 210, -3\n2025-07-01T04:00:00Z, 21, 55\n"
    );
    assert_eq!(
        told(&text),
        [
            (3, OutOfRange),
            (4, NotANumber),
            (5, Inconsistent),
            (6, Inconsistent),
            (7, MissingField),
            (8, Inconsistent),
            (9, NotANumber),
            (9, OutOfRange),
            (9, OutOfRange),
            (10, NotANumber),
        ]
    );
}

#[test]
fn holds_a_head_that_lacks_something_is_told() {
    use FaultKind::{Alternatives, MissingField, MissingUnit, RepeatedField, UnknownUnit};
    let rows = hours(0..2);
    for (head, wanted) in [
        (
            "time, temperature, relative humidity (%)",
            vec![MissingUnit],
        ),
        (
            "time, temperature (bar), dew point (%)",
            vec![UnknownUnit; 2],
        ),
        ("time, relative humidity (%RH)", vec![MissingField]),
        ("when, what", vec![MissingField; 3]),
        (
            "time, temperature (degC), temperature (degF), dew point (degC)",
            vec![RepeatedField],
        ),
        (
            "time, temperature (degC), relative humidity (%), dew point (degC)",
            vec![Alternatives],
        ),
    ] {
        let found: Vec<FaultKind> = told(&format!("{head}\n{rows}"))
            .iter()
            .map(|(line, kind)| {
                assert_eq!(*line, 1);
                *kind
            })
            .collect();
        assert_eq!(found, wanted, "{head}");
    }
    for nothing in ["", "# only words\n", HEAD] {
        assert_eq!(told(nothing), [(1, FaultKind::Unreadable)], "{nothing:?}");
    }
}

#[test]
fn holds_a_short_gap_is_bridged_and_a_long_one_told() {
    let short = format!("{HEAD}{}{}", hours(0..6), hours(8..12));
    let weather = whole(&short);
    assert_eq!(
        weather.notes,
        [
            "one gap of hall.csv is bridged along a straight line: from 2025-07-01T05:00:00 to \
             2025-07-01T08:00:00, 3 h (lines 7 and 8)"
        ]
    );
    let two = format!("{HEAD}{}{}{}", hours(0..6), hours(7..10), hours(12..18));
    assert_eq!(
        whole(&two).notes,
        [
            "2 gaps of hall.csv are bridged along a straight line, 5 h in all; the longest is from \
             2025-07-01T09:00:00 to 2025-07-01T12:00:00, 3 h (lines 10 and 11)"
        ]
    );
    let long = format!("{HEAD}{}{}", hours(0..6), hours(9..12));
    assert_eq!(told(&long), [(8, FaultKind::Inconsistent)]);
    let cause = at_sea(&long, None).unwrap_err().0[0].cause.clone();
    assert_eq!(
        cause,
        "nothing is known from 2025-07-01T05:00:00 to 2025-07-01T09:00:00, 4 h (lines 7 and 8)"
    );
}

#[test]
fn holds_mistakes_before_the_days_needed_harm_nothing() {
    let text = format!(
        "{HEAD}{}2025-07-01T04:00:00, 21, 130\n{}",
        hours(0..4),
        hours(5..12)
    );
    assert_eq!(told(&text), [(6, FaultKind::OutOfRange)]);
    let weather = at_sea(&text, Some(4.0)).unwrap();
    assert_eq!(weather.rows.len(), 5);
    near(weather.rows[4].time.hours(), 4.0);
    assert_eq!(
        weather.notes,
        ["one mistake stands before line 9 of hall.csv, in days that are not needed"]
    );
    // A row is needed from the last before the time on.
    let between = at_sea(&text, Some(3.5)).unwrap();
    near(between.rows.last().unwrap().time.hours(), 4.0);
}

#[test]
fn holds_a_file_shorter_than_the_storage_is_told() {
    let faults = at_sea(&format!("{HEAD}{}", hours(0..6)), Some(48.0)).unwrap_err();
    assert_eq!(faults.len(), 1, "{faults}");
    assert!(faults.0[0].cause.contains("5 h before its end"), "{faults}");
}

#[test]
fn holds_many_mistakes_are_counted() {
    let rows: Vec<String> = (0..20)
        .flat_map(|day| (0..24).map(move |hour| (day, hour)))
        .map(|(day, hour)| format!("2025-07-{:02}T{hour:02}:00:00, 21, 5500\n", day + 1))
        .collect();
    let rows = rows.concat();
    let faults = at_sea(&format!("{HEAD}{rows}"), None).unwrap_err();
    assert_eq!(faults.len(), TOLD + 1);
    assert_eq!(faults.0[TOLD].cause, "440 more mistakes follow");
}

#[test]
fn holds_no_text_stops_the_reader() {
    let sound = format!("{HEAD}{}", hours(0..5));
    for at in 0..sound.len() {
        for piece in [
            "", ",", "\n", "\u{0}", "9", "-", "\"", "(", "nan", "1e999", "°",
        ] {
            if let Ok(weather) = at_sea(&format!("{}{piece}{}", &sound[..at], &sound[at..]), None) {
                for row in &weather.rows {
                    let damp = row.relative_humidity.si();
                    assert!(row.temperature.si().is_finite() && (0.0..=1.0).contains(&damp));
                }
            }
        }
    }
}
