//! Tables of dryers, comma-separated and as spreadsheets, and every way to fill them wrongly.

use super::*;
use crate::sheet::{letter, spreadsheet};
use rust_xlsxwriter::{Format, Workbook};

/// The invented table of the demo.
const DEMO: &str = include_str!("../../../../../demo/equipment/dryers.csv");
const HEAD: &str = "key,kind,rated flow (kg/h dry air),heater power (kW)\n";

fn table(text: &str) -> Result<StatedDryers, Faults> {
    read_table(&Text::new("dryers.csv", text), &DESICCANTS)
}

/// Places and causes of what is wrong in a table, beside the dryers that are left.
fn wrong(text: &str) -> (usize, Vec<(String, String)>) {
    let all = table(text).unwrap();
    let told = all.faults.iter().map(|fault| {
        assert!(!fault.mend.is_empty(), "{fault}");
        (fault.place.to_string(), fault.cause.clone())
    });
    assert_eq!(all.left_out.is_empty(), all.faults.is_empty());
    (all.dryers.len(), told.collect())
}

fn only(text: &str, left: usize, place: &str, cause: &str) {
    let (dryers, told) = wrong(text);
    assert_eq!(told.len(), 1, "{told:#?}");
    assert_eq!(told[0].0, place);
    assert!(told[0].1.contains(cause), "{told:?}");
    assert_eq!(dryers, left, "{told:?}");
}

#[test]
fn holds_the_demo_reads_and_is_invented() {
    assert!(DEMO.starts_with("# Invented"));
    let all = table(DEMO).unwrap();
    assert!(all.faults.is_empty(), "{}", all.faults);
    assert!(all.dryers.len() >= 4);
    assert!(all.dryers.iter().all(|dryer| dryer.invented));
    assert!(
        all.dryers
            .iter()
            .all(|dryer| dryer.ownership.price.is_some())
    );
}

#[test]
fn exact_a_row_is_the_record_it_stands_for() {
    let text = format!("{HEAD}one,hot air,80,4.5\n");
    let row = &table(&text).unwrap().dryers[0];
    let record = sound(&format!("{HOT}[heater]\npower = \"4.5 kW\"\n"));
    assert_eq!(row.key, "one");
    assert_eq!(air(row).1, air(&record).1);
    assert_eq!(air(row).0.heater, air(&record).0.heater);
    assert_eq!(row.counts(), record.counts());
    // A unit in the cell, semicolons and decimal commas say the same.
    let other = "key;kind;heater_power;rated flow\none;hot air;4,5 kW;80 kg/h dry air\n";
    let all = table(other).unwrap();
    assert_eq!(air(&all.dryers[0]).0.heater, air(&record).0.heater);
    assert_eq!(all.notes.len(), 2, "{:?}", all.notes);
}

#[test]
fn holds_mistakes_are_told_by_row_and_column_and_the_rest_stays() {
    let good = "one,hot air,80,4.5\n";
    let with = |rows: &str| format!("{HEAD}{good}{rows}");
    only(
        &with("two,hot air,,4\n"),
        1,
        "dryers.csv:3:3  column C, rated flow (kg/h dry air)",
        "rated_flow is missing",
    );
    only(
        &with("ONE,hot air,90,4\n"),
        1,
        "dryers.csv:3:1  column A, key",
        "row 2 has the same key",
    );
    only(
        &with(",hot air,90,4\n"),
        1,
        "dryers.csv:3:1  column A, key",
        "no key",
    );
    only(
        &with("two,steam,90,4\n"),
        1,
        "dryers.csv:3:2  column B, kind",
        "is none of",
    );
    only(
        &with("two,hot air,90,many\n"),
        1,
        "dryers.csv:3:4  column D, heater power (kW)",
        "",
    );
    only(
        &with("two,hot air,-90,4\n"),
        1,
        "dryers.csv:3:3  column C, rated flow (kg/h dry air)",
        "above zero",
    );
    only(
        &with("two,hot air,90,\"1,250\"\n"),
        1,
        "dryers.csv:3:4  column D, heater power (kW)",
        "may be a decimal sign",
    );
    only(
        &with("two,hot air,90,4,5\n"),
        2,
        "dryers.csv:1:5  column E",
        "no heading",
    );
    let unknown = format!(
        "{}\n{}",
        HEAD.trim_end().to_owned() + ",colour",
        "one,hot air,80,4,red\n"
    );
    only(&unknown, 1, "dryers.csv:1:5  column E", "called \"colour\"");
    let twice = format!(
        "{}\n{}",
        HEAD.trim_end().to_owned() + ",Heater.Power (W)",
        "one,hot air,80,4,3\n"
    );
    only(
        &twice,
        1,
        "dryers.csv:1:5  column E",
        "column D says the same",
    );
    let unit = format!(
        "{}\n{}",
        HEAD.trim_end().to_owned() + ",leak (kg)",
        "one,hot air,80,4,\n"
    );
    only(&unit, 1, "dryers.csv:1:5  column E", "");
}

#[test]
fn holds_a_table_without_what_must_be_there_is_refused_with_all_that_is_missing() {
    let faults = table("name,heater power (kW)\none,4\n").unwrap_err();
    let causes: Vec<&str> = faults.iter().map(|f| f.cause.as_str()).collect();
    assert_eq!(faults.len(), 4, "{faults}");
    for heading in ["\"key\"", "\"kind\"", "\"rated flow\""] {
        assert!(
            causes.iter().any(|cause| cause.contains(heading)),
            "{faults}"
        );
    }
    assert_eq!(table("").unwrap_err().0[0].cause, "the table is empty");
    let folder = std::env::temp_dir().join(format!("drybed-table-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let path = folder.join("dryers.csv");
    std::fs::write(&path, HEAD).unwrap();
    let none = open_dryers(&path, &DESICCANTS);
    let other = open_dryers(&folder.join("dryers.ods"), &DESICCANTS);
    std::fs::remove_dir_all(&folder).unwrap();
    assert_eq!(none.unwrap_err().0[0].cause, "no dryer is in it");
    assert_eq!(
        other.unwrap_err().0[0].cause,
        "this form of table is not read"
    );
}

/// A spreadsheet of the demo's table, changed by `change`.
fn book(change: impl FnOnce(&mut rust_xlsxwriter::Worksheet)) -> Result<StatedDryers, Faults> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    let plain = DEMO.lines().filter(|line| !line.starts_with('#'));
    for (row, line) in plain.enumerate() {
        for (column, cell) in line.split(';').enumerate() {
            let (row, column) = (u32::try_from(row).unwrap(), u16::try_from(column).unwrap());
            match cell.replace(',', ".").parse::<f64>() {
                Ok(number) => sheet.write_number(row, column, number).unwrap(),
                Err(_) => sheet.write_string(row, column, cell).unwrap(),
            };
        }
    }
    change(sheet);
    let bytes = book.save_to_buffer().unwrap();
    table::dryers(&spreadsheet("dryers.xlsx", bytes, &DRYERS)?, &DESICCANTS)
}

#[test]
fn exact_a_spreadsheet_says_what_the_separated_table_says() {
    let (sheet, text) = (book(|_| {}).unwrap(), table(DEMO).unwrap());
    assert!(sheet.faults.is_empty(), "{}", sheet.faults);
    assert_eq!(sheet.dryers.len(), text.dryers.len());
    for (a, b) in sheet.dryers.iter().zip(&text.dryers) {
        assert_eq!(a.key, b.key);
        assert_eq!(air(a).0.heater, air(b).0.heater);
        assert_eq!(air(a).1, air(b).1);
        assert_eq!(a.ownership, b.ownership);
        assert_eq!(a.counts(), b.counts());
    }
}

#[test]
fn holds_what_only_a_spreadsheet_can_say_wrongly_is_told() {
    let column = |name: &str| {
        let head = DEMO.lines().find(|line| line.starts_with("key")).unwrap();
        let at = head
            .split(';')
            .position(|cell| cell.starts_with(name))
            .unwrap();
        u16::try_from(at).unwrap()
    };
    let (noise, leak) = (column("noise"), column("leak"));
    let merged = book(|sheet| {
        sheet
            .merge_range(0, noise - 1, 0, noise, "noise (dB(A))", &Format::new())
            .unwrap();
    })
    .unwrap();
    assert_eq!(merged.faults.len(), 1, "{}", merged.faults);
    assert!(merged.faults.0[0].cause.contains("of the head are merged"));
    assert!(merged.dryers[0].ownership.noise.is_none());
    let whole = merged.dryers.len();
    let percent = book(|sheet| {
        let format = Format::new().set_num_format("0.0 %");
        sheet
            .write_number_with_format(1, leak, 0.07, &format)
            .unwrap();
    })
    .unwrap();
    assert!(percent.faults.is_empty(), "{}", percent.faults);
    let stated = percent.dryers[0]
        .known
        .iter()
        .find(|k| k.path == "leak")
        .unwrap();
    assert_eq!(stated.value, KnownValue::Written("7 %".to_owned()));
    let dated = book(|sheet| {
        let format = Format::new().set_num_format("yyyy-mm-dd");
        sheet
            .write_number_with_format(1, noise, 45000.0, &format)
            .unwrap();
    })
    .unwrap();
    assert!(
        dated.faults.0[0].cause.contains("a date"),
        "{}",
        dated.faults
    );
    assert_eq!(dated.dryers.len(), whole - 1);
    let body = book(|sheet| {
        sheet
            .merge_range(1, noise, 2, noise, "70", &Format::new())
            .unwrap();
    })
    .unwrap();
    assert_eq!(body.dryers.len(), whole - 2, "{}", body.faults);
    let far = book(|sheet| {
        sheet.write_number(900_000, 3, 1.0).unwrap();
    });
    assert!(far.unwrap_err().0[0].cause.contains("beyond"));
    let text = spreadsheet("dryers.xlsx", b"key;kind".to_vec(), &DRYERS).unwrap_err();
    assert!(text.0[0].cause.contains("no spreadsheet"));
}

#[test]
fn exact_letters_of_columns() {
    let letters: Vec<String> = [0, 25, 26, 51, 52, 701, 702].map(letter).to_vec();
    assert_eq!(letters, ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
}
