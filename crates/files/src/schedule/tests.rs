//! What a schedule file may say, and how each mistake is told.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
#![expect(clippy::float_cmp, reason = "whole minutes are exact")]

mod logs;
mod plans;

use super::*;
use job::{DemandSense, StretchKind};
use std::fs;

/// The invented week of the demo.
const DEMO: &str = include_str!("../../../../demo/shifts/pc-week.toml");

fn demo_folder() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/shifts")
}

fn read_text(text: &str) -> Result<ScheduleRead, Faults> {
    let text = Text::new("week.toml", text);
    let library = Library::shipped()?;
    read_in(&demo_folder(), &text, &library, &Desiccants::shipped()?)
}

/// A schedule beside these files, in a folder of its own.
fn in_a_folder(name: &str, files: &[(&str, &[u8])], text: &str) -> Result<ScheduleRead, Faults> {
    let folder = std::env::temp_dir().join(format!("drybed-{}-{name}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    for (file, bytes) in files {
        fs::write(folder.join(file), bytes).unwrap();
    }
    let text = Text::new("week.toml", text);
    let (library, desiccants) = (Library::shipped()?, Desiccants::shipped()?);
    let read = read_in(&folder, &text, &library, &desiccants);
    fs::remove_dir_all(&folder).unwrap();
    read
}

/// The demo with what stands below its hours replaced, and what is above the tables changed.
fn week(changes: &[(&str, &str)], below: &str) -> String {
    let head = DEMO.split("[[stop]]").next().unwrap();
    let mut text = head.to_owned();
    for (old, new) in changes {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    format!("{text}{below}\n")
}

fn told(text: &str) -> Vec<String> {
    read_text(text).map_or_else(
        |faults| faults.iter().map(ToString::to_string).collect(),
        |_| Vec::new(),
    )
}

/// Each stretch: hours from and to, kind and name.
fn stretches(read: &ScheduleRead) -> Vec<(f64, f64, StretchKind, &str)> {
    let all = read.schedule.demand.iter();
    all.map(|s| (s.from / 3600.0, s.to / 3600.0, s.kind, s.name.as_str()))
        .collect()
}

/// Whether stretches cover a schedule from its beginning to its end.
fn covers(read: &ScheduleRead) -> bool {
    let all = &read.schedule.demand;
    all.windows(2).all(|pair| pair[0].to == pair[1].from)
        && all.iter().all(|stretch| stretch.to > stretch.from)
        && all[0].from == 0.0
        && all[all.len() - 1].to == read.schedule.length.seconds()
}

#[test]
fn holds_the_description_has_no_flaw() {
    assert_eq!(crate::flaws(&SCHEDULE).to_string(), "");
}

#[test]
fn exact_the_week_of_the_demo() {
    use StretchKind::{Closed, PlannedStop, Runs, Stop};
    let library = Library::shipped().unwrap();
    let desiccants = Desiccants::shipped().unwrap();
    let path = demo_folder().join("pc-week.toml");
    let read = open_schedule(&path, &library, &desiccants).unwrap();
    let title = "PC light guides, which dryer";
    let night = |at: f64| (at, at + 8.0, Closed, "closed");
    assert_eq!(
        stretches(&read),
        [
            (0.0, 16.0, Runs, title),
            night(16.0),
            (24.0, 28.0, Runs, title),
            (28.0, 29.5, PlannedStop, "change of tool"),
            (29.5, 40.0, Runs, title),
            night(40.0),
            (48.0, 64.0, Runs, title),
            night(64.0),
            (72.0, 74.0 + 2.0 / 3.0, Runs, title),
            (
                74.0 + 2.0 / 3.0,
                80.0 + 1.0 / 6.0,
                Stop,
                "hydraulic hose burst"
            ),
            (80.0 + 1.0 / 6.0, 88.0, Runs, title),
            night(88.0),
            (96.0, 112.0, Runs, title),
            // The weekend has an hour less.
            (112.0, 167.0, Closed, "closed"),
        ]
    );
    let schedule = &read.schedule;
    assert_eq!(schedule.title, "PC light guides, week 13");
    assert_eq!(schedule.length.hours(), 167.0);
    assert_eq!(
        crate::clock::local(&schedule.clock, 0.0),
        "Mon 23 Mar 06:00"
    );
    assert!((schedule.demand[0].rate.kg_per_hour() - 25.0).abs() < 1e-9);
    assert_eq!(schedule.loader.unwrap().batch.kilograms(), 3.0);
    assert!(covers(&read) && read.record.is_none());
}

#[test]
fn exact_night_shifts_have_an_hour_more_and_an_hour_less() {
    let night = [
        ("from = \"06:00\"", "from = \"22:00\""),
        ("to = \"22:00\"", "to = \"06:00\""),
        ("[\"Mon\", \"Tue\", \"Wed\", \"Thu\", \"Fri\"]", "[\"Sat\"]"),
    ];
    let spring = read_text(&week(&night, "")).unwrap();
    assert_eq!(
        spring.schedule.demand[1].to - spring.schedule.demand[1].from,
        7.0 * 3600.0
    );
    let mut autumn = night.to_vec();
    autumn.push(("2026-03-23", "2026-10-19"));
    autumn.push(("2026-03-30", "2026-10-26"));
    let autumn = read_text(&week(&autumn, "")).unwrap();
    assert_eq!(
        autumn.schedule.demand[1].to - autumn.schedule.demand[1].from,
        9.0 * 3600.0
    );
    assert_eq!(autumn.schedule.length.hours(), 169.0);
}

#[test]
fn exact_hours_that_began_the_day_before_and_all_days_when_none_are_named() {
    let round = [
        ("days = [\"Mon\", \"Tue\", \"Wed\", \"Thu\", \"Fri\"]\n", ""),
        ("from = \"06:00\"", "from = \"18:00\""),
        ("to = \"22:00\"", "to = \"08:00\""),
    ];
    let read = read_text(&week(&round, "")).unwrap();
    let found = stretches(&read);
    assert_eq!(
        (found[0].0, found[0].1, found[0].2),
        (0.0, 2.0, StretchKind::Runs)
    );
    assert_eq!(
        (found[1].0, found[1].1, found[1].2),
        (2.0, 12.0, StretchKind::Closed)
    );
    assert_eq!(found.len(), 15);
}

#[test]
fn exact_orders_run_within_the_hours_of_work_and_nothing_between_them() {
    let orders = r#"
[[order]]
name = "covers"
from = "2026-03-23 06:00"
to = "2026-03-24 08:00"
rate = "12 kg/h"
[[order]]
from = "2026-03-24 12:00"
for = "2 h"
[order.shots]
shot = "45 g"
runner = "5 g"
cycle = "30 s"
machines = 2
[[order]]
from = "2026-03-24 14:00"
for = "1 h"
"#;
    let read = read_text(&week(&[], orders)).unwrap();
    let found = stretches(&read);
    assert_eq!(found[0], (0.0, 16.0, StretchKind::Runs, "covers"));
    assert_eq!(found[2], (24.0, 26.0, StretchKind::Runs, "covers"));
    assert_eq!(found[3], (26.0, 30.0, StretchKind::PlannedStop, "no order"));
    assert_eq!(found[4], (30.0, 32.0, StretchKind::Runs, "order 2"));
    let demand = &read.schedule.demand;
    assert!((demand[0].rate.kg_per_hour() - 12.0).abs() < 1e-9 && demand[0].shot.is_none());
    assert!((demand[4].rate.kg_per_hour() - 12.0).abs() < 1e-9);
    assert!((demand[4].shot.unwrap().kilograms() - 0.05).abs() < 1e-12);
    // What states no rate runs at that of the job.
    assert!((demand[5].rate.kg_per_hour() - 25.0).abs() < 1e-9);
    assert!(covers(&read));
}

#[test]
fn exact_a_changeover_brings_the_demand_of_its_job() {
    let change = r#"
[[changeover]]
at = "2026-03-25 10:00"
job = "../pa66-housings.toml"
way = "run down"
"#;
    let read = read_text(&week(&[], change)).unwrap();
    let schedule = &read.schedule;
    let change = &schedule.changeovers[0];
    assert_eq!(
        (change.at / 3600.0, change.way),
        (52.0, job::ChangeWay::RunDown)
    );
    let at = schedule
        .demand
        .iter()
        .find(|s| s.from == change.at)
        .unwrap();
    assert_eq!(at.rate, change.job.demand.peak());
    assert_eq!(at.name, change.job.title);
}

#[test]
fn exact_events_stand_in_the_order_of_time() {
    let events = r#"
[[level]]
at = "2026-03-25 10:00"
level = "60 %"
[[level]]
at = "2026-03-24T10:00:00+01:00"
level = "80 %"
[[refill]]
at = "2026-03-24 10:00"
mass = "25 kg"
[[hall]]
at = "2026-03-23 06:00"
temperature = "18 degC"
humidity = "50 %RH"
[chances]
stops_per_hour = "0.05 1/h"
stop_length = "20 min"
[control]
sense = "loader cycles"
setback = "80 degC"
off_when_closed = true
"#;
    let schedule = read_text(&week(&[], events)).unwrap().schedule;
    let levels: Vec<f64> = schedule.levels.iter().map(|l| l.at / 3600.0).collect();
    assert_eq!(levels, [28.0, 52.0]);
    assert_eq!(schedule.refills[0].mass.unwrap().kilograms(), 25.0);
    assert_eq!(schedule.hall[0].at, 0.0);
    assert!((schedule.chances.stops_per_hour.unwrap() - 0.05).abs() < 1e-12);
    assert_eq!(schedule.control.sense, Some(DemandSense::LoaderCycles));
    assert_eq!(schedule.control.off_when_closed, Some(true));
}

#[test]
fn holds_every_mistake_is_told_with_its_mend() {
    let stop = |from: &str, to: &str| format!("[[stop]]\nfrom = \"{from}\"\n{to}\n");
    let event = |kind: &str, rest: &str| format!("[[{kind}]]\n{rest}\n");
    let cases = [
        (
            stop("2026-03-24 10:00", "to = \"2026-03-24 09:00\""),
            "it ends before it begins at Tue 24 Mar 10:00",
        ),
        (
            stop("2026-03-22 10:00", "for = \"1 h\""),
            "outside the days from Mon 23 Mar 06:00 to Mon 30 Mar 06:00",
        ),
        (
            stop("2026-03-27 10:00", "for = \"90 h\""),
            "outside the days",
        ),
        (
            stop("2026-03-29 02:30", "to = \"2026-03-29 05:00\""),
            "does not exist",
        ),
        (
            stop("2026-03-28 10:00", "for = \"1 h\""),
            "wholly outside the hours of work",
        ),
        (
            stop("2026-03-24 10:00", "for = \"2 h\"") + &stop("2026-03-24 11:00", "for = \"2 h\""),
            "overlaps \"stop\", which lasts from Tue 24 Mar 10:00 to Tue 24 Mar 12:00",
        ),
        (
            event(
                "order",
                "from = \"2026-03-24 06:00\"\nto = \"2026-03-24 10:00\"\nname = \"a\"",
            ) + &event(
                "order",
                "from = \"2026-03-24 09:00\"\nto = \"2026-03-24 11:00\"",
            ),
            "overlaps \"a\"",
        ),
        (stop("2026-03-24", "for = \"2 h\""), "is no date and time"),
        (
            event("level", "at = \"2026-03-30 06:00\"\nlevel = \"50 %\""),
            "outside the days",
        ),
        (
            event("refill", "at = \"2026-03-24 10:00\"")
                + &event("refill", "at = \"2026-03-24 10:00\""),
            "two refill tables stand at Tue 24 Mar 10:00",
        ),
        (
            event(
                "hall",
                "at = \"2026-03-24 10:00\"\ntemperature = \"20 degC\"\nhumidity = \"25 degC dew\"",
            ),
            "no air is wetter than saturated",
        ),
        (
            event("hours", "from = \"6 am\"\nto = \"14:00\""),
            "is no time of day",
        ),
        (
            event(
                "changeover",
                "at = \"2026-03-24 10:00\"\njob = \"none.toml\"",
            ),
            "it is not there",
        ),
        (
            "[control]\non_before = \"4 h\"".to_owned(),
            "switched off while nobody works",
        ),
        (
            "[control]\nsetback = \"80 degC\"\nsetback_below = \"50 %\"\nrecover_above = \"40 %\""
                .to_owned(),
            "recovers below",
        ),
        (
            "[control]\nsetback_after = \"1 h\"".to_owned(),
            "no temperature is given",
        ),
        (
            "[control]\nbake_out_time = \"1 h\"".to_owned(),
            "nothing says when",
        ),
        (
            "[control]\nair_follows = false\nleast_air = \"40 %\"".to_owned(),
            "not to follow",
        ),
    ];
    for (below, cause) in cases {
        let told = told(&week(&[], &below));
        assert!(
            told.len() == 1 && told[0].contains(cause),
            "{below}: {told:?}"
        );
        assert!(
            told[0].contains("week.toml") || cause == "it is not there",
            "{told:?}"
        );
    }
}

#[test]
fn holds_mistakes_of_the_frame_are_told() {
    for (old, new, cause) in [
        (
            "Europe/Berlin",
            "Europe/Berlim",
            "did you mean Europe/Berlin",
        ),
        (
            "2026-03-30 06:00",
            "2026-03-20 06:00",
            "end before they begin",
        ),
        (
            "2026-03-30 06:00",
            "2027-03-30 06:00",
            "longer than 366 days",
        ),
        (
            "2026-03-30 06:00",
            "2026-03-29 02:15",
            "from 02:00 to 03:00",
        ),
        (
            "2026-03-23 06:00",
            "2026-03-29 06:00",
            "the press never runs",
        ),
        ("\"Fri\"", "\"Fry\"", "did you mean"),
    ] {
        let told = told(&week(&[(old, new)], ""));
        assert!(
            told.len() == 1 && told[0].contains(cause),
            "{new}: {told:?}"
        );
    }
    let text = week(
        &[
            ("2026-03-23", "2026-10-19"),
            ("2026-03-30 06:00", "2026-10-25 02:30"),
        ],
        "",
    );
    let told = told(&text);
    assert!(
        told.len() == 1
            && told[0].contains("2026-10-25T02:30+02:00")
            && told[0].contains("week.toml:9"),
        "{told:?}"
    );
}

#[test]
fn holds_all_mistakes_come_at_once() {
    let below = "[[stop]]\nfrom = \"2026-03-22 10:00\"\nfor = \"1 h\"\n[[level]]\nat = \"soon\"\nlevel = \"50 %\"\n\
                 [control]\nlag = \"5\"\n";
    let told = told(&week(
        &[("../dryers/pc-light-guides.toml", "none.toml")],
        below,
    ));
    assert_eq!(told.len(), 4, "{told:?}");
}
