//! The head of a table of dryers: which column says which field of a record, and in which unit.
//!
//! A heading is the path of a field with blanks for points and underscores, and the unit in brackets
//! behind it: `heater power (kW)`, `regeneration temperature (degC)`. The fields of owning stand without
//! the name of their table: `price`, `noise (dB(A))`. `key` names the row.

use super::fields::EQUIPMENT_FIELDS;
use crate::bag::join;
use crate::schema::meaning;
use crate::sheet::{Cell, Row, Sheet, cut, folded, letter};
use quantity::{
    Fault, FaultKind, Faults, Field, FieldKind, Meaning, Misread, Place, Section, did_you_mean,
    nearest, parse,
};

/// Heading of the column that names a row.
pub(super) const KEY: &str = "key";
/// Table whose fields stand without its name.
const BARE: &str = "ownership.";
/// What a table must have a column for; a table of vacuum dryers alone has the second in place of `rated_flow`.
const REQUIRED: [&str; 3] = [KEY, "kind", "rated_flow"];
const OF_VACUUM: (&str, &str) = ("rated_flow", "vacuum.charge");

/// A column that is read.
#[derive(Clone, Debug)]
pub(super) struct Column {
    /// Its place, from 0.
    pub(super) at: usize,
    /// Its heading as written.
    pub(super) heading: String,
    /// Path of its field; [`KEY`] for the key.
    pub(super) path: String,
    /// The field; none for the key.
    pub(super) field: Option<&'static Field>,
    /// Unit of its numbers; empty where the cells say it.
    pub(super) unit: String,
}

/// The columns of a table, and every mistake in its head.
pub(super) struct Head {
    /// Those that are read.
    pub(super) columns: Vec<Column>,
    /// Mistakes in others, which are passed over.
    pub(super) faults: Faults,
}

impl Column {
    /// The place of its cell in a row.
    pub(super) fn place(&self, file: &str, row: usize) -> Place {
        place(file, row, self.at, &self.heading)
    }
}

/// The place of a cell.
pub(super) fn place(file: &str, row: usize, column: usize, heading: &str) -> Place {
    Place {
        file: file.to_owned(),
        line: row,
        column: column + 1,
        path: format!("column {}, {heading}", letter(column)),
    }
}

/// Every field that a column can say, with its path.
pub(super) fn fields() -> Vec<(String, &'static Field)> {
    fn walk(section: &'static Section, path: &str, found: &mut Vec<(String, &'static Field)>) {
        for field in section.fields {
            let here = join(path, field.name);
            match field.kind {
                FieldKind::Table(inner) => walk(inner, &here, found),
                FieldKind::Tables(_) | FieldKind::Partial(_) => {}
                _ => found.push((here, field)),
            }
        }
    }
    let mut found = Vec::new();
    walk(&EQUIPMENT_FIELDS, "", &mut found);
    found.retain(|(path, _)| path != "format");
    found
}

/// The heading of a path.
pub(super) fn heading(path: &str) -> String {
    let bare = path.strip_prefix(BARE).unwrap_or(path);
    bare.replace(['.', '_'], " ")
}

impl Head {
    /// Of the first row of a sheet.
    ///
    /// # Errors
    /// A table without a head, or without a column that must be there; with every other mistake.
    pub(super) fn of(sheet: &Sheet) -> Result<Self, Faults> {
        let Some(row) = sheet.rows.first() else {
            let place = Place::of(sheet.file.clone(), "");
            let mend = "write a head like \"key, kind, rated flow (m3/h at 20 degC and 1 atm)\"";
            let kind = FaultKind::MissingField;
            return Err(Fault::new(kind, place, "", "the table is empty", mend).into());
        };
        let mut head = Self {
            columns: Vec::new(),
            faults: Faults::none(),
        };
        let known = fields();
        for at in 0..sheet
            .rows
            .iter()
            .map(|row| row.cells.len())
            .max()
            .unwrap_or(0)
        {
            head.column(sheet, row, at, &known);
        }
        let has = |path: &str| head.columns.iter().any(|column| column.path == path);
        let lacks = |path: &&str| !(has(path) || (*path == OF_VACUUM.0 && has(OF_VACUUM.1)));
        let lacking: Vec<&str> = REQUIRED.into_iter().filter(lacks).collect();
        for path in &lacking {
            let example = example(path, &known);
            head.faults.push(Fault::new(
                FaultKind::MissingField,
                Place {
                    line: row.number,
                    ..Place::of(sheet.file.clone(), "")
                },
                "",
                format!("no column is headed {:?}", heading(path)),
                format!("add a column headed {example}"),
            ));
        }
        let whole = lacking.is_empty();
        if whole { Ok(head) } else { Err(head.faults) }
    }

    fn column(&mut self, sheet: &Sheet, row: &Row, at: usize, known: &[(String, &'static Field)]) {
        let index = u32::try_from(row.number - 1).unwrap_or(0);
        let column = u32::try_from(at).unwrap_or(0);
        let merged = sheet.merged.iter().find(|(from, to)| {
            (from.0..=to.0).contains(&index) && (from.1..=to.1).contains(&column)
        });
        let written = row.cells.get(at).map_or_else(String::new, Cell::shown);
        let mut told = |kind, cause: String, mend: String| {
            let value = if written.is_empty() {
                String::new()
            } else {
                format!("{written:?}")
            };
            let path = format!("column {}", letter(at));
            let place = Place {
                path,
                ..place(&sheet.file, row.number, at, "")
            };
            self.faults
                .push(Fault::new(kind, place, value, cause, mend));
        };
        if let Some((from, to)) = merged {
            if *from == (index, column) {
                let cells = format!(
                    "{}{}:{}{}",
                    letter(from.1 as usize),
                    from.0 + 1,
                    letter(to.1 as usize),
                    to.0 + 1
                );
                told(
                    FaultKind::Unreadable,
                    format!(
                        "the cells {cells} of the head are merged, so no column has its own heading"
                    ),
                    "unmerge them and head each column in one row".to_owned(),
                );
            }
            return;
        }
        if written.is_empty() {
            told(
                FaultKind::MissingField,
                "the column has no heading".to_owned(),
                "head it, or empty it".to_owned(),
            );
            return;
        }
        let (name, unit) = cut(&written);
        let name = folded(name);
        let found = known
            .iter()
            .find(|(path, _)| name == heading(path) || name == folded(path));
        let path = match found {
            Some((path, _)) => path.clone(),
            None if name == KEY => KEY.to_owned(),
            None => {
                let names: Vec<String> = known.iter().map(|(path, _)| heading(path)).collect();
                let names: Vec<&str> = names.iter().map(String::as_str).collect();
                told(
                    FaultKind::UnknownField,
                    format!("no field of a dryer is called {name:?}"),
                    if nearest(&name, names.iter().copied()).is_empty() {
                        "take a heading that `drybed equipment fields` lists, or remove the column"
                            .to_owned()
                    } else {
                        did_you_mean(&name, &names)
                    },
                );
                return;
            }
        };
        if let Some(before) = self.columns.iter().find(|column| column.path == path) {
            told(
                FaultKind::RepeatedField,
                format!("column {} says the same", letter(before.at)),
                "keep one of them".to_owned(),
            );
            return;
        }
        let field = found.map(|(_, field)| *field);
        if let Some(misread) = wrong_unit(field, unit) {
            told(
                misread.kind(),
                misread.to_string(),
                "write a unit that fits in the brackets".to_owned(),
            );
            return;
        }
        self.columns.push(Column {
            at,
            heading: written.clone(),
            path,
            field,
            unit: unit.to_owned(),
        });
    }
}

/// What is wrong with a unit for a field, if anything.
fn wrong_unit(field: Option<&'static Field>, unit: &str) -> Option<Misread> {
    let meaning = field.and_then(|field| meaning(&field.kind))?;
    if unit.is_empty() {
        return None;
    }
    // A number that every scale has.
    let number = if meaning == Meaning::Humidity { -40 } else { 1 };
    parse::value(&format!("{number} {unit}"), meaning).err()
}

fn example(path: &str, known: &[(String, &'static Field)]) -> String {
    let field = known.iter().find(|(known, _)| known == path);
    field.map_or_else(
        || "\"key\", a name of its own for each dryer".to_owned(),
        |(path, field)| format!("{:?}, with cells like {:?}", heading(path), field.example),
    )
}
