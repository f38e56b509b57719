//! A table that a schedule names, a log or a plan: its columns by their headings, its cells as quantities, and what
//! of it was left out.

use crate::bag::{Bag, Entry};
use crate::sheet::{self, Cell, Comma, Sheet, Size, cut, folded, lead};
use crate::text::Text;
use quantity::{FaultKind, Faults, Meaning, did_you_mean, parse};
use std::path::Path;

/// Rows left out that are told one by one; the others are counted.
const TOLD: usize = 20;

/// The columns of a table.
pub(super) struct Columns<'a> {
    table: &'a Bag,
    file: &'a str,
    /// Headings as they are shown.
    shown: Vec<String>,
    /// Headings without their units, in one form.
    names: Vec<String>,
}

/// The table that `file` names beside a schedule.
///
/// # Errors
/// A file that cannot be read, or whose ending is that of no table.
pub(super) fn open(table: &Bag, path: &Path, size: &Size) -> Result<Sheet, Faults> {
    match sheet::ending(path).as_str() {
        "xlsx" => sheet::open_spreadsheet(path, size),
        "csv" | "txt" | "tsv" => sheet::separated(&Text::open(path)?, size),
        _ => {
            let cause = format!(
                "{} is a table of comma-separated values or a spreadsheet",
                size.of
            );
            let mend = "name a .csv or .xlsx file";
            Err(table
                .fault("file", FaultKind::Unreadable, cause, mend)
                .into())
        }
    }
}

impl<'a> Columns<'a> {
    /// The columns of a sheet.
    ///
    /// # Errors
    /// A sheet that is empty.
    pub(super) fn of(table: &'a Bag, sheet: &'a Sheet) -> Result<Self, Faults> {
        let Some(head) = sheet.rows.first() else {
            let cause = format!("{} is empty", sheet.file);
            let mend = "give a table with a heading for each column and rows below";
            return Err(table
                .fault("file", FaultKind::MissingField, cause, mend)
                .into());
        };
        let shown: Vec<String> = head.cells.iter().map(Cell::shown).collect();
        let names = shown.iter().map(|cell| folded(cut(cell).0)).collect();
        Ok(Self {
            table,
            file: &sheet.file,
            shown,
            names,
        })
    }

    /// A column by the heading that a field states, whole or without its unit, or else by a usual one.
    ///
    /// # Errors
    /// A heading that is stated and not there.
    pub(super) fn find(&self, field: &str, usual: &[&str]) -> Result<Option<usize>, Faults> {
        let Some(wanted) = self.table.get(field, Entry::text) else {
            return Ok(self.among(usual));
        };
        let name = folded(&wanted);
        let whole = self.shown.iter().position(|cell| folded(cell) == name);
        let found = whole.or_else(|| self.names.iter().position(|known| *known == name));
        found.map(Some).ok_or_else(|| {
            let cause = format!("no column of {} is headed so", self.file);
            let known: Vec<&str> = self.shown.iter().map(String::as_str).collect();
            let mend = did_you_mean(&wanted, &known);
            self.table
                .fault(field, FaultKind::UnknownName, cause, mend)
                .into()
        })
    }

    /// As [`Columns::find`], of a column that must be there.
    ///
    /// # Errors
    /// A column that is not there.
    pub(super) fn need(&self, field: &str, usual: &[&str]) -> Result<usize, Faults> {
        self.find(field, usual)?
            .ok_or_else(|| self.lacks(field, usual))
    }

    /// The first column that is headed by one of these.
    pub(super) fn among(&self, list: &[&str]) -> Option<usize> {
        self.names
            .iter()
            .position(|name| list.contains(&name.as_str()))
    }

    /// The fault of a column that is not there.
    pub(super) fn lacks(&self, field: &str, usual: &[&str]) -> Faults {
        let cause = format!("no column of {} is headed {}", self.file, usual.join(", "));
        let mend = format!(
            "name its heading in {field} = \"...\"; there are {}",
            self.shown.join(", ")
        );
        self.table
            .fault(field, FaultKind::MissingField, cause, mend)
            .into()
    }

    /// A heading as it is shown.
    pub(super) fn heading(&self, at: usize) -> &str {
        self.shown.get(at).map_or("", String::as_str)
    }

    /// The unit in the brackets behind a heading; empty where there is none.
    ///
    /// # Errors
    /// A unit that is none of this meaning.
    pub(super) fn unit(&self, at: usize, meaning: Meaning) -> Result<String, Faults> {
        let unit = cut(self.heading(at)).1;
        if !unit.is_empty() {
            parse::si(&format!("1 {unit}"), meaning).map_err(|misread| {
                let place = self.table.place_of("file");
                Faults::from(misread.at(place, self.heading(at)))
            })?;
        }
        Ok(unit.to_owned())
    }
}

/// What a cell says in SI units, with the unit of its heading where it has none of its own; none where it is blank.
///
/// # Errors
/// Why it is no such value.
pub(super) fn si(cell: &Cell, unit: &str, meaning: Meaning) -> Result<Option<f64>, String> {
    let Some(whole) = written(cell, unit) else {
        return Ok(None);
    };
    let si = parse::si(&whole, meaning).map_err(|misread| misread.to_string())?;
    Ok(Some(si))
}

/// A cell as a number with a unit, a comma in its number as a point; none where it is blank.
pub(super) fn written(cell: &Cell, unit: &str) -> Option<String> {
    let written = match cell {
        Cell::Blank => return None,
        Cell::Text(text) if Comma::of(text) == Comma::None => text.clone(),
        Cell::Text(text) => {
            let (number, rest) = lead(text);
            format!("{}{rest}", number.replacen(',', ".", 1))
        }
        other => other.shown(),
    };
    let bare = lead(&written).1.trim().is_empty();
    let whole = if bare {
        format!("{written} {unit}")
    } else {
        written
    };
    Some(whole.trim().to_owned())
}

/// Notes what was left out of a file: the first rows one by one, then how many more.
pub(super) fn note(notes: &mut Vec<String>, file: &str, left_out: &[String]) {
    let told = left_out.iter().take(TOLD);
    notes.extend(told.map(|told| format!("{file} {told}; left out")));
    match left_out.len().saturating_sub(TOLD) {
        0 => {}
        1 => notes.push(format!("{file}: 1 more row is left out")),
        more => notes.push(format!("{file}: {more} more rows are left out")),
    }
}

/// The fault of a table of which nothing can be used.
pub(super) fn no_row(table: &Bag, file: &str, left_out: &[String]) -> Faults {
    let why = left_out
        .first()
        .map_or_else(String::new, |told| format!("; {told}"));
    let cause = format!("no row of {file} can be used in these days{why}");
    let mend = "look at its times, at from and to, and at the zone";
    table
        .fault("file", FaultKind::MissingField, cause, mend)
        .into()
}

/// Headings as the reference page shows them.
pub(super) fn quoted(words: &[&str]) -> String {
    let all: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    all.join(", ")
}
