//! What a log may say, and what of it is left out.

use super::*;
use crate::mutations::Mutations;
use crate::sheet::separated;

/// A schedule whose log says this, in a folder of its own.
fn logged(name: &str, csv: &str, table: &str) -> Result<ScheduleRead, Faults> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/pa66-housings.toml");
    let text = format!(
        "format = 1\nzone = \"Europe/Berlin\"\nfrom = \"2026-03-23 06:00\"\nto = \"2026-03-23 14:00\"\njob = {:?}\n\
         [dryer]\nkind = \"hot air\"\n[log]\nfile = \"log.csv\"\n{table}",
        root.display().to_string()
    );
    in_a_folder(
        &format!("log-{name}"),
        &[("log.csv", csv.as_bytes())],
        &text,
    )
}

/// Shots every minute from a time on.
fn shots(from: u32, count: u32, mass: &str) -> String {
    let shot = |at: u32| format!("2026-03-23 {:02}:{:02}{mass}\n", at / 60, at % 60);
    (from..from + count).map(shot).collect()
}

fn drawn(read: &ScheduleRead) -> f64 {
    let all = read.schedule.demand.iter();
    all.map(|s| s.rate.kg_per_s() * (s.to - s.from)).sum()
}

#[test]
fn exact_the_night_of_the_demo_keeps_its_mass_through_the_hour_that_comes_twice() {
    let library = Library::shipped().unwrap();
    let path = demo_folder().join("pa66-log.toml");
    let read = open_schedule(&path, &library, &Desiccants::shipped().unwrap()).unwrap();
    let csv = include_str!("../../../../../demo/shifts/pa66-shots.csv");
    let (mut sum, mut before) = (0.0, "");
    for line in csv.lines().skip(3) {
        let (time, mass) = line.split_once(',').unwrap();
        if !time.is_empty() && time != before {
            sum += mass.parse().unwrap_or(0.0) / 1000.0;
        }
        before = time;
    }
    assert!(
        (drawn(&read) / sum - 1.0).abs() < 1e-9,
        "{} {sum}",
        drawn(&read)
    );
    assert_eq!(read.schedule.length.hours(), 9.0);
    assert!(covers(&read));
    let stops: Vec<&job::Stretch> = read
        .schedule
        .demand
        .iter()
        .filter(|s| s.kind == StretchKind::Stop)
        .collect();
    // Before the first shot, while the press stood, and nothing at the end.
    assert!(
        stops
            .iter()
            .any(|stop| (stop.to - stop.from - 42.0 * 60.0).abs() < 120.0),
        "{stops:?}"
    );
    let notes = read.notes.join("\n");
    for told in ["the same time as line", "it has no time", "line 104"] {
        assert!(notes.contains(told), "{notes}");
    }
    assert_eq!(read.notes.len(), 3, "{notes}");
}

#[test]
fn exact_shots_pause_and_go_on() {
    use StretchKind::{Runs, Stop};
    let csv = format!("time\n{}{}", shots(360, 121, ""), shots(600, 60, ""));
    let read = logged("pause", &csv, "shot = \"100 g\"\n").unwrap();
    let kinds: Vec<StretchKind> = read.schedule.demand.iter().map(|s| s.kind).collect();
    assert_eq!(kinds, [Runs, Runs, Stop, Runs, Stop]);
    assert!((drawn(&read) - 18.1).abs() < 1e-9, "{}", drawn(&read));
    assert!((read.schedule.demand[1].rate.kg_per_hour() - 6.0).abs() < 1e-9);
    assert!(covers(&read) && read.notes.is_empty());
}

#[test]
fn exact_rates_hold_until_the_next_row_and_a_gap_is_told() {
    let csv = "stamp;flow (kg/h)\n2026-03-23 06:00;12,5\n2026-03-23 07:00;12,5\n2026-03-23 08:00;0\n2026-03-23 09:00;6\n\
               2026-03-23 13:30;6\n";
    let table = "of = \"rate\"\ntime = \"stamp\"\nvalue = \"flow\"\n";
    let read = logged("rate", csv, table).unwrap();
    let found: Vec<(f64, f64, f64)> = read
        .schedule
        .demand
        .iter()
        .map(|s| (s.from / 3600.0, s.to / 3600.0, s.rate.kg_per_hour()))
        .collect();
    assert_eq!(found.len(), 5, "{found:?}");
    assert!(
        (found[0].1 - 2.0).abs() < 1e-9 && (found[0].2 - 12.5).abs() < 1e-9,
        "{found:?}"
    );
    assert_eq!((found[2].0, found[2].1), (3.0, 4.0));
    assert!(
        read.notes[0].contains("between lines 5 and 6"),
        "{:?}",
        read.notes
    );
}

#[test]
fn exact_cycles_of_the_loader_and_levels() {
    let csv = format!("time\n{}", shots(360, 30, ""));
    let read = logged(
        "loader",
        &csv,
        "of = \"loader cycles\"\n[loader]\nbatch = \"2 kg\"\n",
    )
    .unwrap();
    assert!((drawn(&read) - 60.0).abs() < 1e-9);
    assert!(read.schedule.demand[0].shot.is_none());
    let csv = "time,level (%)\n2026-03-23 06:00,90\n2026-03-23 07:00,91\n2026-03-23 08:00,50\n";
    let read = logged("level", csv, "").unwrap();
    let levels: Vec<f64> = read
        .schedule
        .levels
        .iter()
        .map(|l| l.level.fraction())
        .collect();
    assert_eq!(levels, [0.9, 0.5]);
}

#[test]
fn holds_what_cannot_be_used_is_left_out_and_told_with_its_line() {
    let csv = format!(
        "time,shot mass (g)\n{}2026-03-23 06:10,100\n2026-03-23 06:10,100\n2026-03-23 06:02,100\nsoon,100\n,100\n\
         2026-03-23 06:11,heavy\n2026-03-22 06:11,100\n2026-03-23 12:00,100\n{}",
        shots(360, 10, ",100"),
        shots(372, 10, ",100")
    );
    let read = logged("slips", &csv, "").unwrap();
    let notes = read.notes.join("\n");
    for told in [
        "line 13: the same time as line 12",
        "line 14: its time is earlier than that of line 12",
        "line 15: \"soon\" is no date and time",
        "line 16: it has no time",
        "line 17: ",
        "1 row before or after these days is left out",
        "line 19: its time is later than that of line 20",
    ] {
        assert!(notes.contains(told), "{told}\n{notes}");
    }
    assert!((drawn(&read) - 2.1).abs() < 1e-9, "{}", drawn(&read));
}

#[test]
fn holds_a_log_that_cannot_be_used_is_told() {
    for (name, csv, table, cause) in [
        ("head", "when,mass\n", "", "is headed time"),
        ("empty", "", "", "is empty"),
        ("none", "time\nsoon\n", "", "no row of"),
        ("one", "time\n2026-03-23 07:00\n", "", "has one row"),
        (
            "unit",
            "time,rate (bar)\n2026-03-23 07:00,3\n",
            "",
            "mass flow",
        ),
        (
            "name",
            "time,rate (kg/h)\n2026-03-23 07:00,3\n",
            "value = \"rat\"\n",
            "is headed so",
        ),
        (
            "both",
            "time\n",
            "[[order]]\nfrom = \"2026-03-23 07:00\"\nfor = \"1 h\"\n",
            "only one may be",
        ),
        (
            "batch",
            "time\n2026-03-23 07:00\n2026-03-23 07:01\n",
            "of = \"loader cycles\"\n",
            "nothing says the mass",
        ),
    ] {
        let told = logged(name, csv, table).unwrap_err().to_string();
        assert!(
            told.contains(cause) && told.contains("week.toml"),
            "{name}: {told}"
        );
    }
}

#[test]
fn holds_a_mutated_log_is_read_or_told() {
    let masses = format!("time,shot mass (g)\n{}", shots(360, 40, ",100"));
    let rates = format!("time;rate (kg/h)\n{}", shots(370, 40, ";12,5"));
    let levels = format!("time;level\n{}", shots(370, 40, ";80 %"));
    let zone = crate::clock::zone("Europe/Berlin").unwrap();
    let begins = crate::clock::moment(&zone, "2026-03-23 06:00").unwrap();
    let times = Times {
        zone,
        clock: job::Clock {
            zone: "Europe/Berlin".to_owned(),
            begins: begins.as_second(),
        },
        length: Some(8.0 * 3600.0),
    };
    let text = DEMO.to_owned() + "[log]\nfile = \"log.csv\"\n";
    let (bag, _) = whole(&Text::new("week.toml", text), &SCHEDULE, "", "").unwrap();
    let table = bag.get("log", Entry::table).unwrap();
    let demand = job::Demand::Rate(quantity::MassFlow::from_kg_per_hour(12.0));
    let originals = [masses.as_str(), rates.as_str(), levels.as_str()];
    let (used, refused) = Mutations::of("log.csv", &originals).run(1500, |text| {
        let mut notes = Vec::new();
        let sheet = separated(&Text::new("log.csv", text), &log_rows::LOGS);
        let read = sheet.and_then(|sheet| log_rows::of_sheet(&table, &sheet, &times, &mut notes));
        let logged =
            read.and_then(|rows| log::of_rows(&table, &rows, &times, demand, None, &mut notes));
        let logged = logged.map_err(|mut faults| {
            for fault in &mut faults.0 {
                fault.place.file = "log.csv".to_owned();
            }
            faults
        })?;
        let drawn = logged
            .drawn
            .map(|drawn| drawn.resolved(&[Span::ALWAYS], 8.0 * 3600.0));
        for pair in drawn.iter().flat_map(|drawn| drawn.windows(2)) {
            assert!(
                pair[0].to == pair[1].from && pair[0].from < pair[0].to,
                "{text}"
            );
        }
        Ok(format!("{drawn:?} {:?}", logged.levels))
    });
    // Most slips cost a row, and no more.
    assert!(used > 800 && refused > 100, "{used} {refused}");
}
