//! The rows of a log: its columns by their headings, its times in order, and what of it cannot be used.

use super::log_fields::OF;
use super::table::{self, Columns, quoted};
use super::times::Times;
use crate::bag::{Bag, Entry};
use crate::clock;
use crate::sheet::{Cell, Row, Sheet, Size};
use jiff::Timestamp;
use quantity::{Faults, Meaning};
use std::fmt::Write as _;
use std::path::Path;

/// The largest log.
pub(super) const LOGS: Size = Size {
    text: 16 << 20,
    book: 16 << 20,
    cells: (1 << 20, 500),
    of: "a log",
};
/// Headings of the column with the times.
const TIME: &[&str] = &["time", "time stamp", "timestamp", "date and time"];
/// Headings of the column with the values, by what a row is.
const VALUE: [&[&str]; 4] = [
    &["shot mass", "shot", "shot weight"],
    &["rate", "throughput"],
    &["batch", "batch mass", "loader mass"],
    &["level", "fill level"],
];

/// What a row is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Of {
    Shots,
    Rate,
    Loader,
    Level,
}

impl Of {
    const ALL: [Self; 4] = [Self::Shots, Self::Rate, Self::Loader, Self::Level];

    fn meaning(self) -> Meaning {
        match self {
            Self::Shots | Self::Loader => Meaning::Mass,
            Self::Rate => Meaning::MassFlow,
            Self::Level => Meaning::Fraction,
        }
    }
}

/// A row that can be used: its line, its time since the beginning, s, and its value in SI units.
#[derive(Clone, Copy, Debug)]
pub(super) struct Entered {
    pub(super) line: usize,
    pub(super) at: f64,
    pub(super) value: Option<f64>,
}

/// A log.
#[derive(Clone, Debug)]
pub(super) struct Rows {
    pub(super) of: Of,
    pub(super) file: String,
    pub(super) kept: Vec<Entered>,
}

/// Which columns hold what.
struct Found {
    of: Of,
    time: usize,
    value: Option<(usize, String)>,
}

/// How a log is written, as a section of the reference page.
pub(super) fn page() -> String {
    let mut page = format!(
        "\n## The table of a log\n\n\
         A log (`.csv`, `.xlsx`) has one heading a column and one row a shot, a rate, a cycle of the loader or a level.\n\
         The column with the times is headed {}; the others by what a row is:\n\n\
         | a row is | its column | what follows |\n| --- | --- | --- |\n",
        quoted(TIME)
    );
    let follows = [
        "a shot draws its mass since the shot before; after four usual cycles without one the press stands",
        "a rate holds until the next row, at most for four usual steps",
        "a cycle draws its batch, or that of `[loader]`; the press stands as for shots",
        "the hopper is filled to it from then on; what is drawn is that of the job through the hours of work",
    ];
    for ((of, headings), what) in OF.iter().zip(VALUE).zip(follows) {
        // Writing to a string cannot fail.
        let _ = writeln!(page, "| {of} | {} | {what} |", quoted(headings));
    }
    page += "\nA unit stands in brackets behind the heading, or in each cell.\n\
             A row whose time is missing, unreadable, the same as the one before or earlier, or outside the days is left out and \
             told with its line; an hour that comes twice is read in the order of the rows.\n\
             Where the press stands within the hours of work that is a stop that nobody planned.\n";
    page
}

/// The log that a table names; what is left out of it is noted.
///
/// # Errors
/// A file that cannot be read, has no such columns, or no row that can be used.
pub(super) fn rows(
    table: &Bag,
    folder: &Path,
    times: &Times,
    notes: &mut Vec<String>,
) -> Result<Rows, Faults> {
    let path = folder.join(table.need("file", Entry::text)?);
    let sheet = table::open(table, &path, &LOGS)?;
    of_sheet(table, &sheet, times, notes)
}

/// As [`rows`], of a sheet.
///
/// # Errors
/// As [`rows`].
pub(super) fn of_sheet(
    table: &Bag,
    sheet: &Sheet,
    times: &Times,
    notes: &mut Vec<String>,
) -> Result<Rows, Faults> {
    let columns = found(table, sheet)?;
    let mut kept: Vec<(Timestamp, Entered)> = Vec::new();
    let mut left_out: Vec<String> = Vec::new();
    let mut outside = 0;
    for row in sheet.rows.iter().skip(1) {
        match entered(row, &columns, times, kept.last().map(|(at, _)| *at)) {
            Ok((moment, row)) => {
                if times
                    .length
                    .is_some_and(|length| row.at < 0.0 || row.at > length)
                {
                    outside += 1;
                    continue;
                }
                if let Some(told) = put(&mut kept, moment, row) {
                    left_out.push(told);
                }
            }
            Err(cause) => left_out.push(format!("line {}: {cause}", row.number)),
        }
    }
    let file = &sheet.file;
    table::note(notes, file, &left_out);
    match outside {
        0 => {}
        1 => notes.push(format!(
            "{file}: 1 row before or after these days is left out"
        )),
        _ => notes.push(format!(
            "{file}: {outside} rows before or after these days are left out"
        )),
    }
    if kept.is_empty() {
        return Err(table::no_row(table, file, &left_out));
    }
    Ok(Rows {
        of: columns.of,
        file: file.clone(),
        kept: kept.into_iter().map(|(_, row)| row).collect(),
    })
}

/// Puts a row behind the others, or tells which row is left out because its time is not after the one before.
fn put(kept: &mut Vec<(Timestamp, Entered)>, moment: Timestamp, row: Entered) -> Option<String> {
    let line = row.line;
    let Some((last, before)) = kept.last().map(|(at, row)| (*at, row.line)) else {
        kept.push((moment, row));
        return None;
    };
    if moment > last {
        kept.push((moment, row));
        return None;
    }
    if moment == last {
        return Some(format!("line {line}: the same time as line {before}"));
    }
    let fits = kept.len() < 2 || kept[kept.len() - 2].0 < moment;
    if fits {
        // One that is ahead of what follows is the odd one.
        kept.pop();
        kept.push((moment, row));
        return Some(format!(
            "line {before}: its time is later than that of line {line}"
        ));
    }
    Some(format!(
        "line {line}: its time is earlier than that of line {before}"
    ))
}

/// The columns of a log by what they hold.
///
/// # Errors
/// A column that is not there, and a unit that is none of its meaning.
fn found(table: &Bag, sheet: &Sheet) -> Result<Found, Faults> {
    let columns = Columns::of(table, sheet)?;
    let time = columns.need("time", TIME)?;
    let chosen = table.get("of", Entry::choice);
    let chosen = chosen.and_then(|word| OF.iter().position(|known| *known == word));
    let which = chosen.or_else(|| VALUE.iter().position(|list| columns.among(list).is_some()));
    let which = which.unwrap_or(0);
    let of = Of::ALL[which];
    let value = match of {
        Of::Rate | Of::Level => Some(columns.need("value", VALUE[which])?),
        Of::Shots | Of::Loader => columns.find("value", VALUE[which])?,
    };
    let value = match value {
        Some(at) => Some((at, columns.unit(at, of.meaning())?)),
        None => None,
    };
    Ok(Found { of, time, value })
}

/// What a row says, or why it cannot be used.
fn entered(
    row: &Row,
    columns: &Found,
    times: &Times,
    after: Option<Timestamp>,
) -> Result<(Timestamp, Entered), String> {
    let cell = |at: usize| row.cells.get(at).unwrap_or(&Cell::Blank);
    let moment = match cell(columns.time) {
        Cell::Blank => return Err("it has no time".to_owned()),
        Cell::Text(written) | Cell::Moment(written) => {
            clock::moment_after(&times.zone, written, after).map_err(|why| why.cause)?
        }
        other => return Err(format!("{:?} is no date and time", other.shown())),
    };
    let value = match &columns.value {
        None => None,
        Some((at, unit)) => value(cell(*at), unit, columns.of)?,
    };
    Ok((
        moment,
        Entered {
            line: row.number,
            at: clock::since(&times.clock, moment),
            value,
        },
    ))
}

/// The value of a cell in SI units; none where it is blank and a usual one can stand for it.
fn value(cell: &Cell, unit: &str, of: Of) -> Result<Option<f64>, String> {
    let Some(si) = table::si(cell, unit, of.meaning())? else {
        return match of {
            Of::Shots | Of::Loader => Ok(None),
            Of::Rate | Of::Level => Err("it has no value".to_owned()),
        };
    };
    let most = match of {
        Of::Level => 1.2,
        Of::Rate => 1e5 / 3600.0,
        Of::Shots => 1e3,
        Of::Loader => 1e4,
    };
    if (0.0..=most).contains(&si) {
        Ok(Some(si))
    } else {
        let whole = table::written(cell, unit).unwrap_or_default();
        Err(format!("{whole:?} cannot be"))
    }
}
