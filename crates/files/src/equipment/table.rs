//! A table of dryers, one row a dryer: each row is read as the record it stands for.
//!
//! A cell says its value with unit, or the number alone where the heading has the unit. Decimal commas
//! are read where they cannot be thousands. A row with a mistake is left out and told, the others stay.

use super::columns::{Column, Head, KEY, fields, heading, place};
use super::{StatedDryers, of_text};
use crate::Desiccants;
use crate::sheet::{Cell, Comma, Row, Sheet, folded, lead, letter};
use crate::text::Text;
use quantity::{Fault, FaultKind, Faults, FieldKind, Place};
use std::fmt::Write as _;

/// The dryers of a table.
///
/// # Errors
/// A head that lacks what must be there, with every mistake in it.
pub(super) fn dryers(sheet: &Sheet, desiccants: &Desiccants) -> Result<StatedDryers, Faults> {
    let head = Head::of(sheet)?;
    let mut all = StatedDryers {
        notes: sheet.notes.clone(),
        left_out: head
            .faults
            .iter()
            .map(|fault| fault.place.path.clone())
            .collect(),
        faults: head.faults,
        ..StatedDryers::default()
    };
    let commas = Commas::of(sheet);
    let mut keys: Vec<(String, usize)> = Vec::new();
    for row in &sheet.rows[1..] {
        let read = Reading {
            sheet,
            columns: &head.columns,
            row,
            commas: &commas,
        };
        match read.dryer(&mut keys, desiccants) {
            Ok(dryer) => all.dryers.push(dryer),
            Err(faults) => {
                all.left_out.push(read.called());
                all.faults.extend(faults);
            }
        }
    }
    if commas.clear {
        all.notes.push(format!(
            "{}: commas in numbers are read as decimal signs",
            sheet.file
        ));
    }
    Ok(all)
}

/// The headings that a table can have, as a section of the reference page.
pub(super) fn page() -> String {
    let mut page = String::from(
        "\n## As a table\n\n\
         A table (`.csv`, `.xlsx`) has one row a dryer and one column a field.\n\
         A heading is the path of the field with blanks for points and underscores; the fields of `ownership` \
         stand without that word.\n\
         The unit stands in brackets behind the heading, or in each cell.\n\
         `key`, `kind` and `rated flow` must be there, for vacuum dryers `vacuum charge` in place of the last; an empty cell is a value left out.\n\
         Points of a blower's curve and sources of values have no column.\n\
         In `.csv` a comma, a semicolon or a tabulator separates columns, a line that begins with `#` says \
         nothing, and decimal commas are read where they cannot be thousands.\n\
         Of an `.xlsx` the first sheet is read; its head is one row without merged cells, and a cell shown in \
         percent is read as shown.\n\
         A row with a mistake is left out and told, and the others are compared.\n\n\
         | heading | cell |\n| --- | --- |\n| `key` | a name of its own for each dryer |\n",
    );
    for (path, field) in fields() {
        // Writing to a string cannot fail.
        let _ = writeln!(page, "| `{}` | `{}` |", heading(&path), field.example);
    }
    page
}

/// How commas in numbers are meant.
struct Commas {
    /// Whether a number of the table has one that can only be a decimal sign.
    clear: bool,
}

impl Commas {
    fn of(sheet: &Sheet) -> Self {
        let cells = sheet.rows[1..].iter().flat_map(|row| &row.cells);
        let clear = cells.into_iter().any(|cell| match cell {
            Cell::Text(text) => matches!(Comma::of(text), Comma::Decimal),
            _ => false,
        });
        Self { clear }
    }
}

/// One row on its way to a dryer.
struct Reading<'a> {
    sheet: &'a Sheet,
    columns: &'a [Column],
    row: &'a Row,
    commas: &'a Commas,
}

impl Reading<'_> {
    /// The row as people name it.
    fn called(&self) -> String {
        match self.key() {
            Some(key) => format!("row {} ({key})", self.row.number),
            None => format!("row {}", self.row.number),
        }
    }

    fn cell(&self, column: &Column) -> &Cell {
        self.row.cells.get(column.at).unwrap_or(&Cell::Blank)
    }

    fn key(&self) -> Option<String> {
        let column = self.columns.iter().find(|column| column.path == KEY)?;
        Some(self.cell(column).shown()).filter(|key| !key.is_empty())
    }

    fn dryer(
        &self,
        keys: &mut Vec<(String, usize)>,
        desiccants: &Desiccants,
    ) -> Result<super::StatedDryer, Faults> {
        let mut faults = Faults::none();
        faults.extend(self.merged());
        let key = self.key().unwrap_or_default();
        if let Some(column) = self.columns.iter().find(|column| column.path == KEY) {
            let place = column.place(&self.sheet.file, self.row.number);
            let known = keys.iter().find(|(known, _)| *known == folded(&key));
            if key.is_empty() {
                let cause = "the row has no key";
                let mend = "give each dryer a name of its own";
                let kind = FaultKind::MissingField;
                faults.push(Fault::new(kind, place, "", cause, mend));
            } else if let Some((_, row)) = known {
                let cause = format!("row {row} has the same key");
                let mend = "keep one of them, or give this one another key";
                let kind = FaultKind::RepeatedField;
                let value = format!("{key:?}");
                faults.push(Fault::new(kind, place, value, cause, mend));
            } else {
                keys.push((folded(&key), self.row.number));
            }
        }
        let mut record = String::from("format = 1\n");
        let mut said = Vec::new();
        for column in self.columns.iter().filter(|column| column.path != KEY) {
            match self.value(column) {
                Ok(Some(value)) => {
                    // Writing to a string cannot fail.
                    let _ = writeln!(record, "{} = {value}", column.path);
                    said.push(column);
                }
                Ok(None) => {}
                Err(mistakes) => faults.extend(mistakes),
            }
        }
        let text = Text::new(self.sheet.file.clone(), record);
        let read = of_text(&text, &key, desiccants).map_err(|mistakes| {
            let placed = mistakes.into_iter().map(|fault| self.placed(fault));
            Faults(placed.collect())
        });
        let refused: Vec<usize> = faults.iter().map(|fault| fault.place.column).collect();
        match read {
            Ok(dryer) => faults.or(dryer),
            Err(mistakes) => {
                // What is missing because its cell was refused has been told.
                let more = mistakes.into_iter().filter(|fault| {
                    fault.place.column == 0 || !refused.contains(&fault.place.column)
                });
                faults.extend(more);
                faults.or(()).and_then(|()| Err(Faults::none()))
            }
        }
    }

    /// Cells of the row that are joined with others.
    fn merged(&self) -> Option<Fault> {
        let index = u32::try_from(self.row.number - 1).unwrap_or(0);
        let (from, to) = self
            .sheet
            .merged
            .iter()
            .find(|(from, to)| (from.0..=to.0).contains(&index))?;
        let cells = format!(
            "{}{}:{}{}",
            letter(from.1 as usize),
            from.0 + 1,
            letter(to.1 as usize),
            to.0 + 1
        );
        let place = Place {
            line: self.row.number,
            ..Place::of(self.sheet.file.clone(), "")
        };
        let cause = format!("the cells {cells} are merged, so it is open to which row they belong");
        let mend = "unmerge them and fill each cell";
        Some(Fault::new(FaultKind::Unreadable, place, "", cause, mend))
    }

    /// What a cell says, as a record would write it.
    fn value(&self, column: &Column) -> Result<Option<String>, Faults> {
        let cell = self.cell(column);
        let refuse = |kind, cause: String, mend: &str| {
            let place = column.place(&self.sheet.file, self.row.number);
            Err(Faults::from(Fault::new(
                kind,
                place,
                format!("{:?}", cell.shown()),
                cause,
                mend,
            )))
        };
        let Some(field) = column.field else {
            return Ok(None);
        };
        let quoted = |text: &str| Ok(Some(toml::Value::String(text.to_owned()).to_string()));
        let kind = match field.kind {
            FieldKind::Sourced(inner) => *inner,
            other => other,
        };
        let with_unit = |number: &str| format!("{number} {}", column.unit).trim().to_owned();
        match (kind, cell) {
            (_, Cell::Blank) => Ok(None),
            (_, Cell::Moment(_)) => refuse(
                FaultKind::NotANumber,
                "the cell holds a date".to_owned(),
                "write the value itself",
            ),
            (_, Cell::Broken(what)) => {
                let cause = format!("the cell holds {what}");
                refuse(FaultKind::NotANumber, cause, "write the value itself")
            }
            (FieldKind::Quantity(_), Cell::Number(number)) => {
                quoted(&with_unit(&number.to_string()))
            }
            (FieldKind::Quantity(_), Cell::Percent(number)) => quoted(&format!("{number} %")),
            (FieldKind::Quantity(_), Cell::Text(text)) => {
                let text = match (Comma::of(text), self.commas.clear) {
                    (Comma::None, _) => text.clone(),
                    (Comma::DecimalOrThousands, false) => {
                        let cause = "the comma may be a decimal sign or stand for thousands";
                        let mend = "write a decimal point, and thousands without a sign";
                        return refuse(FaultKind::NotANumber, cause.to_owned(), mend);
                    }
                    _ => {
                        let (number, rest) = lead(text);
                        format!("{}{rest}", number.replacen(',', ".", 1))
                    }
                };
                let (_, rest) = lead(&text);
                let bare = rest.trim().is_empty()
                    || rest
                        .trim()
                        .trim_start_matches(['e', 'E'])
                        .parse::<i32>()
                        .is_ok();
                quoted(&if bare { with_unit(&text) } else { text })
            }
            (FieldKind::Flag, Cell::Flag(flag)) => Ok(Some(flag.to_string())),
            (FieldKind::Flag, Cell::Text(text)) => match text.to_lowercase().as_str() {
                "yes" | "true" => Ok(Some("true".to_owned())),
                "no" | "false" => Ok(Some("false".to_owned())),
                _ => refuse(
                    FaultKind::WrongSort,
                    "yes or no is wanted".to_owned(),
                    "write yes or no",
                ),
            },
            (FieldKind::Count, Cell::Number(number)) if number.fract() == 0.0 && *number >= 0.0 => {
                Ok(Some(number.to_string()))
            }
            (FieldKind::Count, Cell::Text(text)) if text.bytes().all(|b| b.is_ascii_digit()) => {
                let plain = text.trim_start_matches('0');
                Ok(Some(if plain.is_empty() { "0" } else { plain }.to_owned()))
            }
            (FieldKind::Count, _) => refuse(
                FaultKind::WrongSort,
                "a whole number is wanted".to_owned(),
                "write for example 3",
            ),
            (FieldKind::List(_), cell) => {
                let text = cell.shown();
                let items: Vec<String> = text
                    .split([';', ','])
                    .map(str::trim)
                    .filter(|item| !item.is_empty() && *item != "none")
                    .map(|item| toml::Value::String(item.to_owned()).to_string())
                    .collect();
                Ok(Some(format!("[{}]", items.join(", "))))
            }
            (_, cell) => quoted(&cell.shown()),
        }
    }

    /// A mistake of the record, at the cell that it comes from.
    fn placed(&self, fault: Fault) -> Fault {
        let path = fault.place.path.clone();
        let of_path = |column: &&Column| {
            path == column.path
                || path
                    .strip_prefix(column.path.as_str())
                    .is_some_and(|rest| rest.starts_with(['.', '[']))
        };
        let column = self.columns.iter().find(of_path);
        let mut place = column.map_or_else(
            || Place {
                line: self.row.number,
                ..Place::of(self.sheet.file.clone(), heading(&path))
            },
            |column| column.place(&self.sheet.file, self.row.number),
        );
        let mut mend = fault.mend;
        if fault.kind == FaultKind::MissingField {
            let field = column.and_then(|column| column.field);
            mend = field.map_or_else(
                || format!("add a column headed {:?}", heading(&path)),
                |field| format!("fill the cell, for example {}", field.example),
            );
        }
        if path.is_empty() {
            place = self::place(&self.sheet.file, self.row.number, 0, "");
        }
        Fault {
            place,
            mend,
            ..fault
        }
    }
}
