//! What a plan may say, and what of it is left out.

use super::*;
use crate::mutations::Mutations;
use crate::sheet::separated;
use job::ChangeWay;
use plan::Around;
use rust_xlsxwriter::{ExcelDateTime, Format, Workbook};

/// The invented plan of the demo.
const PLAN: &str = include_str!("../../../../../demo/shifts/pc-plan.csv");

/// A schedule of the demo's week beside these files, in a folder of its own.
fn beside(name: &str, files: &[(&str, &[u8])], below: &str) -> Result<ScheduleRead, Faults> {
    let root = demo_folder().join("..");
    let text = week(&[], below).replace("../", &format!("{}/", root.display()));
    in_a_folder(&format!("plan-{name}"), files, &text)
}

/// The demo's week with a plan that says this.
fn planned(name: &str, csv: &str, below: &str) -> Result<ScheduleRead, Faults> {
    let root = format!("{}/", demo_folder().join("..").display());
    let csv = csv.replace("../", &root);
    let below = format!("{below}\n[plan]\nfile = \"plan.csv\"\n");
    beside(name, &[("plan.csv", csv.as_bytes())], &below)
}

fn made(read: &ScheduleRead, name: &str) -> f64 {
    let all = read.schedule.demand.iter().filter(|s| s.name == name);
    all.map(|s| s.rate.kg_per_s() * (s.to - s.from)).sum()
}

fn runs(read: &ScheduleRead) -> Vec<(f64, f64, &str)> {
    let all = stretches(read).into_iter();
    all.filter(|(_, _, kind, _)| *kind == StretchKind::Runs)
        .map(|(from, to, _, name)| (from, to, name))
        .collect()
}

#[test]
fn exact_the_plan_of_the_demo() {
    let library = Library::shipped().unwrap();
    let path = demo_folder().join("pc-plan.toml");
    let read = open_schedule(&path, &library, &Desiccants::shipped().unwrap()).unwrap();
    // 1500 shots of 28 s from Tuesday 11:30 are over after ten hours and a half and 40 min on Wednesday.
    let lenses = 48.0 + 1500.0 * 28.0 / 3600.0 - 10.5;
    let close = |a: f64, b: f64| (a - b).abs() < 1e-9;
    let found = runs(&read);
    assert_eq!(found.len(), 6, "{found:?}");
    let ends = [12.0, 16.0, 28.0, 40.0, lenses, 54.8];
    for (found, to) in found.iter().zip(ends) {
        assert!(close(found.1, to), "{found:?} {to}");
    }
    assert!(close(made(&read, "light guides 4711"), 300.0));
    assert!(close(made(&read, "lenses 815"), 72.0));
    let changes = &read.schedule.changeovers;
    let at: Vec<(f64, &str)> = changes
        .iter()
        .map(|change| (change.at / 3600.0, change.name.as_str()))
        .collect();
    assert_eq!(
        at,
        [
            (29.5, "PC lenses, press 4"),
            (50.0, "PC light guides, which dryer")
        ]
    );
    assert!(changes.iter().all(|change| change.way == ChangeWay::Drain));
    let lens = read.schedule.demand.iter().find(|s| s.name == "lenses 815");
    assert!(close(lens.unwrap().shot.unwrap().kilograms(), 0.048));
    let notes = read.notes.join("\n");
    for told in [
        "pc-plan.csv line 7, column \"order\": \"lenses 815\" stands twice at Tue 24 Mar 11:30; left out",
        "line 8, column \"from\": it has no beginning",
        "line 10, column \"from\": it lies outside the days from Mon 23 Mar 06:00",
    ] {
        assert!(notes.contains(told), "{told}\n{notes}");
    }
    assert_eq!(read.notes.len(), 3, "{notes}");
    assert!(covers(&read));
}

#[test]
fn exact_a_quantity_is_made_in_hours_of_work_past_planned_stops() {
    let stops = "[[stop]]\nfrom = \"2026-03-23 21:00\"\nfor = \"1 h\"\n\
                 [[stop]]\nfrom = \"2026-03-24 06:30\"\nfor = \"30 min\"\nplanned = false\n";
    let csv =
        "order,from,quantity (kg),rate (kg/h)\na,2026-03-23 20:00,20,10\nb,2026-03-24 10:00,25,\n";
    let read = planned("open", csv, stops).unwrap();
    assert_eq!(
        runs(&read),
        [(14.0, 15.0, "a"), (24.0, 24.5, "a"), (28.0, 29.0, "b"),]
    );
    // What nobody planned takes from what is made.
    assert!((made(&read, "a") - 15.0).abs() < 1e-9);
    assert!((made(&read, "b") - 25.0).abs() < 1e-9 && read.notes.is_empty());
}

#[test]
fn holds_rows_that_cannot_be_used_are_left_out_with_line_and_column() {
    let csv = "order,start,end,amount,rate (kg/h),cycle (s),resin\n\
               a,2026-03-23 06:00,2026-03-23 10:00,200 kg,,,\n\
               b,2026-03-23 09:00,2026-03-23 11:00,,,,\n\
               ,2026-03-23 12:00,2026-03-23 13:00,,,,\n\
               c,soon,2026-03-23 13:00,,,,\n\
               d,2026-03-23 12:00,,,,,\n\
               e,2026-03-23 12:00,,400,,,\n\
               f,2026-03-23 12:00,,\"4,000 kg\",,,\n\
               g,2026-03-23 12:00,,400 pieces,,,\n\
               h,2026-03-23 12:00,2026-03-23 11:00,,,,\n\
               i,2026-03-23 12:00,2026-03-23 13:00,,0,,\n\
               j,2026-03-23 12:00,2026-03-23 13:00,,,30,\n\
               k,2026-03-24 23:00,2026-03-25 01:00,,,,\n\
               l,2026-03-22 12:00,,30 kg,,,\n\
               m,2026-03-27 20:00,,30 t,,,\n\
               n,2026-03-20 12:00,2026-03-21 12:00,,,,\n";
    let read = planned("slips", csv, "").unwrap();
    let notes = read.notes.join("\n");
    for told in [
        "line 3, column \"start\": it overlaps \"a\" of line 2, which lasts until Mon 23 Mar 10:00",
        "line 4, column \"order\": it has no name",
        "line 5, column \"start\": \"soon\" is no date and time",
        "line 6, column \"end\": it has neither end nor quantity",
        "line 7, column \"amount\": \"400\" has no unit; write kg or pieces",
        "line 8, column \"amount\": the comma of \"4,000 kg\"",
        "line 9, column \"amount\": nothing says the mass of a shot",
        "line 10, column \"end\": it ends before it begins",
        "line 11, column \"rate (kg/h)\": ",
        "line 12, column \"cycle (s)\": nothing says the mass of a shot of this cycle",
        "line 13, column \"start\": \"k\" lies wholly outside the hours of work",
        "line 14, column \"start\": it begins before the days",
        "line 16, column \"end\": it lies outside the days",
        "line 2, column \"amount\": \"a\" draws 100 kg until its end, not 200 kg; the end counts",
        "line 15, column \"amount\": \"m\" is cut to the days, in which 50 kg of 30000 kg are drawn",
    ] {
        assert!(notes.contains(told), "{told}\n{notes}");
    }
    assert_eq!(read.notes.len(), 15, "{notes}");
    assert_eq!(runs(&read), [(0.0, 4.0, "a"), (110.0, 112.0, "m")]);
}

#[test]
fn exact_what_goes_beyond_the_days_is_cut_to_them() {
    let csv =
        "order,from,to\na,2026-03-22 06:00,2026-03-23 08:00\nb,2026-03-27 20:00,2026-04-01 08:00\n";
    let read = planned("cut", csv, "").unwrap();
    assert_eq!(runs(&read), [(0.0, 2.0, "a"), (110.0, 112.0, "b")]);
    assert!(read.notes[0].contains("line 2, column \"from\": \"a\" goes beyond the days"));
    assert!(read.notes[1].contains("line 3, column \"to\": \"b\" goes beyond the days"));
}

#[test]
fn exact_a_job_left_out_is_that_of_the_order_before_and_the_first_may_change_it() {
    let csv = "order,from,to,quantity (kg),job\n\
               a,2026-03-23 06:00,2026-03-23 08:00,,../pc-lenses.toml\n\
               c,2026-03-23 10:00,2026-03-23 12:00,,../dryers/pc-light-guides.toml\n\
               b,2026-03-23 08:00,,24,\n";
    let read = planned("jobs", csv, "").unwrap();
    let changes = read.schedule.changeovers.iter();
    let at: Vec<f64> = changes.map(|change| change.at / 3600.0).collect();
    assert_eq!(at, [0.0, 4.0]);
    // The quantity is made at the rate of the job that came before.
    assert_eq!(runs(&read)[1], (2.0, 4.0, "b"));
    for (name, kilograms) in [("a", 24.0), ("b", 24.0), ("c", 50.0)] {
        assert!((made(&read, name) - kilograms).abs() < 1e-9, "{name}");
    }
}

#[test]
fn holds_a_plan_that_cannot_be_used_is_told() {
    let order = "[[order]]\nfrom = \"2026-03-23 07:00\"\nfor = \"1 h\"\n";
    let change = "[[changeover]]\nat = \"2026-03-24 10:00\"\njob = \"../pc-lenses.toml\"\n";
    let row = "order,from,to,job\na,2026-03-23 07:00,2026-03-23 09:00,../none.toml\n";
    for (name, csv, below, cause) in [
        ("empty", "", "", "is empty"),
        ("head", "order,when,to\n", "", "is headed from, begin"),
        (
            "ends",
            "order,from\n",
            "",
            "is headed to, end, ends, quantity",
        ),
        ("unit", "order,from,quantity (bar)\n", "", "mass"),
        (
            "none",
            "order,from,to\na,soon,\n",
            "",
            "can be used in these days; line 2",
        ),
        ("order", "order,from,to\n", order, "only one may be"),
        (
            "log",
            "order,from,to\n",
            "[log]\nfile = \"plan.csv\"\n",
            "only one may be",
        ),
        ("jobs", row, change, "[[changeover]] tables name others"),
        (
            "job",
            row,
            "",
            "the plan names it in line 2, column \"job\"",
        ),
    ] {
        let told = planned(name, csv, below).unwrap_err().to_string();
        let place = if name == "job" {
            "none.toml"
        } else {
            "week.toml"
        };
        assert!(
            told.contains(cause) && told.contains(place),
            "{name}: {told}"
        );
    }
}

/// A spreadsheet with a heading a column; times are dates with a clock, as a spreadsheet keeps them.
fn book(head: &[&str], rows: &[&[&str]]) -> Vec<u8> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    let format = Format::new().set_num_format("dd.mm.yyyy hh:mm");
    let cells = std::iter::once(head).chain(rows.iter().copied());
    for (row, cells) in (0..).zip(cells) {
        for (column, cell) in (0..).zip(cells) {
            if let Ok(number) = cell.parse::<f64>() {
                sheet.write_number(row, column, number).unwrap();
            } else if let Ok(at) = ExcelDateTime::parse_from_str(cell) {
                sheet
                    .write_datetime_with_format(row, column, &at, &format)
                    .unwrap();
            } else {
                sheet.write_string(row, column, *cell).unwrap();
            }
        }
    }
    book.save_to_buffer().unwrap()
}

#[test]
fn exact_dates_in_cells_of_a_plan_and_of_a_log() {
    // Parts of a day that no binary number holds.
    let bytes = book(
        &["work order", "planned start", "to", "rate (kg/h)"],
        &[
            &["a", "2026-03-23 06:07:00", "2026-03-23 07:19:00", "12"],
            &["b", "2026-03-23 07:41:00", "2026-03-23 09:01:00", "12"],
        ],
    );
    let below = "[plan]\nfile = \"plan.xlsx\"\norder = \"work order\"\nfrom = \"planned start\"\n";
    let read = beside("book", &[("plan.xlsx", &bytes)], below).unwrap();
    let seconds = |from: f64, to: f64, name| (from * 60.0 / 3600.0, to * 60.0 / 3600.0, name);
    assert_eq!(
        runs(&read),
        [seconds(7.0, 79.0, "a"), seconds(101.0, 181.0, "b")]
    );
    assert!(read.notes.is_empty(), "{:?}", read.notes);
    let bytes = book(
        &["time", "rate (kg/h)"],
        &[
            &["2026-03-23 06:07:00", "12"],
            &["2026-03-23 07:19:00", "6"],
            &["2026-03-23 08:31:00", "0"],
        ],
    );
    let below = "[log]\nfile = \"log.xlsx\"\n";
    let read = beside("logbook", &[("log.xlsx", &bytes)], below).unwrap();
    assert_eq!(
        runs(&read),
        [
            seconds(7.0, 79.0, "as logged"),
            seconds(79.0, 151.0, "as logged")
        ]
    );
}

#[test]
fn holds_a_mutated_plan_is_read_or_told() {
    let kilograms = "order,from,to,quantity (kg),rate (kg/h)\na,2026-03-23 06:00,,30,12\n\
                     b,2026-03-23 11:00,2026-03-23 12:00,,\nc,2026-03-23 12:30,,5,\n";
    let pieces = "name;begin;pieces;shot (g);cycle (s);cavities\na;2026-03-23 06:00;400;45,5;30;2\n\
                  b;2026-03-23 10:00;100;45;25;1\n";
    let library = Library::shipped().unwrap();
    let begins_with = demo_folder().join("../dryers/pc-light-guides.toml");
    let job = open_job(&begins_with, &library).unwrap();
    let (bag, _) = whole(
        &Text::new("week.toml", week(&[], "[plan]\nfile = \"plan.csv\"\n")),
        &SCHEDULE,
        "",
        "",
    )
    .unwrap();
    let table = bag.get("plan", Entry::table).unwrap();
    let times = Times::of(&bag, &mut Faults::none()).unwrap();
    let length = times.length.unwrap();
    let work = hours::work(&bag, &times).unwrap();
    let around = Around {
        times: &times,
        length,
        library: &library,
        work: &work,
        open: &work,
        begins_with,
    };
    let originals = [PLAN, kilograms, pieces];
    // The demo names its column of cycles itself.
    let originals = originals.map(|text| text.replace("target cycle", "cycle"));
    let originals = originals.each_ref().map(String::as_str);
    let (used, refused) = Mutations::of("plan.csv", &originals).run(1500, |text| {
        let mut notes = Vec::new();
        let sheet = separated(&Text::new("plan.csv", text), &plan_rows::PLANS);
        let read = sheet.and_then(|sheet| {
            let usual = usual(&job, &[]);
            plan::of_sheet(&table, &sheet, &demo_folder(), &around, usual, &mut notes)
        });
        let plan = read.map_err(|mut faults| {
            for fault in &mut faults.0 {
                fault.place.file = "plan.csv".to_owned();
            }
            faults
        })?;
        let orders = &plan.orders;
        for order in orders {
            let span = order.span;
            assert!(
                0.0 <= span.from && span.from < span.to && span.to <= length,
                "{text}"
            );
        }
        for pair in orders.windows(2) {
            assert!(pair[0].span.to <= pair[1].span.from, "{text}");
        }
        for pair in plan.changeovers.windows(2) {
            assert!(pair[0].at < pair[1].at, "{text}");
        }
        assert!(plan.changeovers.len() <= orders.len(), "{text}");
        let stretches = Stretches::of(&bag, &times, work.clone())?.planned(plan.orders);
        let usual = usual(&job, &plan.changeovers);
        Ok(format!(
            "{:?} {notes:?}",
            stretches.resolved(&bag, &usual, length)
        ))
    });
    // Most slips cost a row, and no more.
    assert!(used > 700 && refused > 100, "{used} {refused}");
}
