//! A table as it is saved, comma-separated or as a spreadsheet (Office Open XML, ISO/IEC 29500): its
//! rows and cells, before it is known what they are about.

use crate::text::{LONGEST_WRITTEN, Text};
use calamine::{DataRef, Reader, Xlsx};
use quantity::{Fault, FaultKind, Faults, Place};
use std::io::Cursor;
use std::path::Path;

/// How large a table may be, and what it is one of.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Size {
    /// Longest text of separated values, in bytes.
    pub(crate) text: usize,
    /// Longest spreadsheet, in bytes: it is packed.
    pub(crate) book: u64,
    /// Most rows and columns of a spreadsheet.
    pub(crate) cells: (u32, u32),
    /// "dryers".
    pub(crate) of: &'static str,
}

impl Size {
    /// Of a table that a person filled in.
    pub(crate) const fn written(of: &'static str) -> Self {
        Self {
            text: LONGEST_WRITTEN * 4,
            book: 1 << 20,
            cells: (1000, 500),
            of,
        }
    }
}

/// A table of cells.
#[derive(Debug)]
pub(crate) struct Sheet {
    /// Its file.
    pub(crate) file: String,
    /// Rows that hold something, the head first.
    pub(crate) rows: Vec<Row>,
    /// Cells that were joined, each with its first and last row and column from 0.
    pub(crate) merged: Vec<((u32, u32), (u32, u32))>,
    /// What is worth knowing of how it was read.
    pub(crate) notes: Vec<String>,
}

/// A row that holds something.
#[derive(Debug)]
pub(crate) struct Row {
    /// Its number as shown, from 1.
    pub(crate) number: usize,
    /// Its cells by column.
    pub(crate) cells: Vec<Cell>,
}

/// What a cell holds.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Cell {
    /// Nothing, or blanks alone.
    Blank,
    /// Text.
    Text(String),
    /// A number of the spreadsheet.
    Number(f64),
    /// A number that the spreadsheet shows as so many percent.
    Percent(f64),
    /// Yes or no.
    Flag(bool),
    /// A moment as a clock shows it.
    Moment(String),
    /// Something that is no value, in words with their article.
    Broken(String),
}

impl Cell {
    fn text(text: &str) -> Self {
        match text.trim() {
            "" => Self::Blank,
            text => Self::Text(text.to_owned()),
        }
    }

    /// As it is shown.
    pub(crate) fn shown(&self) -> String {
        match self {
            Self::Blank => String::new(),
            Self::Text(text) | Self::Broken(text) | Self::Moment(text) => text.clone(),
            Self::Number(number) => number.to_string(),
            Self::Percent(number) => format!("{number} %"),
            Self::Flag(flag) => flag.to_string(),
        }
    }
}

/// The letter of a column counted from 0: A to Z, then AA.
pub(crate) fn letter(column: usize) -> String {
    let last = char::from(b'A' + u8::try_from(column % 26).unwrap_or(0));
    match column / 26 {
        0 => last.to_string(),
        more => format!("{}{last}", letter(more - 1)),
    }
}

/// Whether a file is a table by its ending, and of which kind.
pub(crate) fn ending(path: &Path) -> String {
    let end = path.extension().map(|end| end.to_string_lossy());
    end.map_or_else(String::new, |end| end.to_ascii_lowercase())
}

fn unreadable(file: &str, cause: impl Into<String>, mend: &str) -> Faults {
    let place = Place::of(file, "");
    Fault::new(FaultKind::Unreadable, place, "", cause, mend).into()
}

/// A table of comma-separated values; semicolons and tabulators may separate as well.
///
/// # Errors
/// A text too long to be such a table, or one that cannot be cut into cells.
pub(crate) fn separated(text: &Text, size: &Size) -> Result<Sheet, Faults> {
    if text.content.len() > size.text {
        let cause = format!("the table has {} bytes", text.content.len());
        let mend = format!(
            "give a table of {} of at most {} KiB",
            size.of,
            size.text >> 10
        );
        return Err(unreadable(&text.name, cause, &mend));
    }
    let content = text
        .content
        .strip_prefix('\u{feff}')
        .unwrap_or(&text.content);
    let head = content
        .lines()
        .find(|line| !line.trim().is_empty() && !line.starts_with('#'))
        .unwrap_or_default();
    let between = [';', '\t', ',']
        .into_iter()
        .find(|mark| head.contains(*mark))
        .unwrap_or(',');
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .delimiter(u8::try_from(between).unwrap_or(b','))
        .from_reader(content.as_bytes());
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| {
            let mend = "save the table anew as comma-separated values in UTF-8";
            unreadable(&text.name, error.to_string(), mend)
        })?;
        let number = record.position().map_or(0, csv::Position::line);
        let cells: Vec<Cell> = record.iter().map(Cell::text).collect();
        push(&mut rows, usize::try_from(number).unwrap_or(0), cells);
    }
    let notes = match between {
        ';' => vec![format!(
            "{}: columns are separated by semicolons",
            text.name
        )],
        '\t' => vec![format!(
            "{}: columns are separated by tabulators",
            text.name
        )],
        _ => Vec::new(),
    };
    Ok(Sheet {
        file: text.name.clone(),
        rows,
        merged: Vec::new(),
        notes,
    })
}

/// Keeps a row that holds something, without what is blank at its end.
fn push(rows: &mut Vec<Row>, number: usize, mut cells: Vec<Cell>) {
    while cells.last() == Some(&Cell::Blank) {
        cells.pop();
    }
    if !cells.is_empty() {
        rows.push(Row { number, cells });
    }
}

/// A spreadsheet from a disk.
///
/// # Errors
/// A file that cannot be opened or is too long, and what [`spreadsheet`] refuses.
pub(crate) fn open_spreadsheet(path: &Path, size: &Size) -> Result<Sheet, Faults> {
    let file = path.display().to_string();
    let failed = |error: std::io::Error| {
        unreadable(
            &file,
            format!("it cannot be read ({error})"),
            "check the name of the file",
        )
    };
    let long = std::fs::metadata(path).map_err(failed)?.len();
    if long > size.book {
        let cause = format!(
            "the spreadsheet has {long} bytes, more than the {} MiB read",
            size.book >> 20
        );
        return Err(unreadable(&file, cause, &one_table(size)));
    }
    spreadsheet(&file, std::fs::read(path).map_err(failed)?, size)
}

fn one_table(size: &Size) -> String {
    format!("keep one table of {} in it", size.of)
}

/// The first sheet of a spreadsheet.
///
/// # Errors
/// Bytes that are no such spreadsheet, and a sheet larger than a table of dryers is.
pub(crate) fn spreadsheet(file: &str, bytes: Vec<u8>, size: &Size) -> Result<Sheet, Faults> {
    let broken = |error: calamine::XlsxError| {
        let cause = format!("this is no spreadsheet that can be read: {error}");
        unreadable(file, cause, "save it anew as .xlsx, or as .csv")
    };
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(broken)?;
    let names = book.sheet_names();
    let Some(name) = names.first().cloned() else {
        let cause = "the spreadsheet has no sheet";
        return Err(unreadable(
            file,
            cause,
            &format!("give one with a table of {}", size.of),
        ));
    };
    let mut notes = Vec::new();
    if names.len() > 1 {
        notes.push(format!(
            "{file}: of {} sheets the first, {name:?}, is read",
            names.len()
        ));
    }
    let merged = book.merge_cells_by_sheet_name(&name).map_err(broken)?;
    let mut rows: Vec<(u32, Vec<Cell>)> = Vec::new();
    let mut reader = book.worksheet_cells_reader(&name).map_err(broken)?;
    while let Some((cell, style)) = reader.next_cell_with_style_id().map_err(broken)? {
        let percent = reader.styles().get(style).is_some_and(|style| {
            let format = style.number_format.as_ref();
            format.is_some_and(|format| format.format_code.contains('%'))
        });
        let (row, column) = cell.get_position();
        let value = value(cell.get_value(), percent);
        if value == Cell::Blank {
            continue;
        }
        if row >= size.cells.0 || column >= size.cells.1 {
            let cause = format!(
                "a cell stands in row {}, column {}, beyond the {} rows and {} columns read",
                row + 1,
                letter(column as usize),
                size.cells.0,
                size.cells.1
            );
            return Err(unreadable(file, cause, &one_table(size)));
        }
        let at = rows.partition_point(|(known, _)| *known < row);
        if rows.get(at).is_none_or(|(known, _)| *known != row) {
            rows.insert(at, (row, Vec::new()));
        }
        let cells = &mut rows[at].1;
        let column = column as usize;
        if cells.len() <= column {
            cells.resize(column + 1, Cell::Blank);
        }
        cells[column] = value;
    }
    let mut kept = Vec::new();
    for (row, cells) in rows {
        push(&mut kept, row as usize + 1, cells);
    }
    Ok(Sheet {
        file: file.to_owned(),
        rows: kept,
        merged: merged.iter().map(|at| (at.start, at.end)).collect(),
        notes,
    })
}

fn value(held: &DataRef<'_>, percent: bool) -> Cell {
    let number = |number: f64| match (number.is_finite(), percent) {
        (false, _) => Cell::Broken("a number that is none".to_owned()),
        (true, false) => Cell::Number(number),
        (true, true) => Cell::Percent(rounded(100.0 * number)),
    };
    match held {
        DataRef::Empty => Cell::Blank,
        DataRef::Int(whole) => number(*whole as f64),
        DataRef::Float(float) => number(*float),
        DataRef::String(text) => Cell::text(text),
        DataRef::SharedString(text) => Cell::text(text),
        DataRef::Bool(flag) => Cell::Flag(*flag),
        DataRef::Error(error) => Cell::Broken(format!("the error {error}")),
        DataRef::DateTime(moment) if moment.is_datetime() => {
            let (year, month, day, hour, minute, second, _) = moment.to_ymd_hms_milli();
            Cell::Moment(format!(
                "{year:04}-{month:02}-{day:02} {hour:02}:{minute:02}:{second:02}"
            ))
        }
        DataRef::DateTimeIso(moment) => Cell::Moment(moment.clone()),
        DataRef::DateTime(_) | DataRef::DurationIso(_) => Cell::Broken("a time of day".to_owned()),
    }
}

/// Without what a factor of a hundred leaves of rounding.
fn rounded(number: f64) -> f64 {
    format!("{number:.12e}").parse().unwrap_or(number)
}

/// What the comma of a number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Comma {
    /// There is none.
    None,
    /// A decimal sign.
    Decimal,
    /// Either.
    DecimalOrThousands,
}

impl Comma {
    /// Of the number a text begins with.
    pub(crate) fn of(text: &str) -> Self {
        let (number, _) = lead(text);
        let Some((whole, rest)) = number.split_once(',') else {
            return Self::None;
        };
        let whole = whole.trim_start_matches(['+', '-', '\u{2212}']);
        let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
        if !digits(whole) || !digits(rest) {
            return Self::None;
        }
        if rest.len() == 3 && whole.len() <= 3 && !whole.starts_with('0') {
            Self::DecimalOrThousands
        } else {
            Self::Decimal
        }
    }
}

/// The number a text begins with, and what follows.
pub(crate) fn lead(text: &str) -> (&str, &str) {
    let number = |letter: char| letter.is_ascii_digit() || "+-\u{2212}.,".contains(letter);
    let end = text.find(|letter| !number(letter)).unwrap_or(text.len());
    text.split_at(end)
}

/// Words and unit of a heading: `heater power (kW)`.
pub(crate) fn cut(heading: &str) -> (&str, &str) {
    let inside = heading
        .split_once(['(', '['])
        .and_then(|(name, rest)| Some((name, rest.trim().strip_suffix([')', ']'])?)));
    inside.map_or((heading, ""), |(name, unit)| (name.trim(), unit.trim()))
}

/// Words in one form: small letters, one blank between them.
pub(crate) fn folded(text: &str) -> String {
    let plain = text.to_lowercase().replace(['.', '_'], " ");
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}
