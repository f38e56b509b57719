//! Resins side by side: what differs between them, and how one pellet of each dries.

mod lines;

use super::line::{ResinLine, line};
use super::numbers::{PelletTime, ResinNumbers, drying, numbers};
use crate::plan::imprint;
use crate::speech::{Measure, Speech, hours};
use crate::{Trouble, pictures};
use document::{Cell, Column, Document, Note, Row, Table};
use files::Library;
use lines::lines;
use material::Resin;
use quantity::{Fault, FaultKind, Faults, Place, Quantity, Units};
use serde::Serialize;

/// Version of the layout of comparisons in JSON.
const COMPARISON_SCHEMA: u32 = 1;
/// Fewest and most resins side by side: more have no room in 80 columns.
const FEWEST: usize = 2;
const MOST: usize = 5;
/// Share by which a number has to differ to be named in the answer.
const APART: f64 = 0.02;

/// One of several resins.
#[derive(Clone, Debug, Serialize)]
pub struct Compared {
    /// It in a line.
    pub line: ResinLine,
    /// What its record comes to at its customary temperature.
    pub numbers: ResinNumbers,
    /// The way of the mean of one pellet: hours, and kg water per kg dry resin.
    pub way: Vec<(f64, f64)>,
    /// The record, numbers in SI units.
    pub resin: Resin,
}

/// Resins side by side.
#[derive(Clone, Debug, Serialize)]
pub struct ComparisonAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// The resins, in the order asked for.
    pub resins: Vec<Compared>,
}

/// Compares resins by their names.
///
/// # Errors
/// Every name that is not known, fewer than two or more than five, one named twice; a pellet that
/// cannot be followed.
pub fn compare(names: &[String], library: &Library) -> Result<ComparisonAnswer, Trouble> {
    let mut faults = Faults::none();
    let mut found: Vec<&Resin> = Vec::new();
    for name in names {
        match library.find(name, &Place::of("", "resin")) {
            Ok(record) if found.iter().any(|r| r.name == record.resin.name) => {
                faults.push(refused(
                    format!("{name:?}"),
                    format!("{} stands there already", record.resin.name),
                    "name each resin once",
                ));
            }
            Ok(record) => found.push(&record.resin),
            Err(unknown) => faults.extend(unknown),
        }
    }
    if !(FEWEST..=MOST).contains(&names.len()) {
        faults.push(refused(
            String::new(),
            format!(
                "{} cannot stand side by side",
                match names.len() {
                    1 => "one resin alone".to_owned(),
                    count => format!("{count} resins"),
                }
            ),
            "name two to five",
        ));
    }
    let found = faults.or(found)?;
    let resins: Result<Vec<Compared>, Trouble> =
        found.iter().map(|resin| compared(resin, library)).collect();
    Ok(ComparisonAnswer {
        schema_version: COMPARISON_SCHEMA,
        resins: resins?,
    })
}

fn refused(value: String, cause: String, mend: &str) -> Fault {
    let place = Place::of("", "resin");
    Fault::new(FaultKind::Alternatives, place, value, cause, mend)
}

fn compared(resin: &Resin, library: &Library) -> Result<Compared, Trouble> {
    let curve = drying(resin, resin.diffusivity.law)?;
    let way = curve.map_or_else(Vec::new, |curve| {
        let instants = curve.instants.iter();
        instants
            .map(|i| (i.time.hours(), Quantity::si(i.mean)))
            .collect()
    });
    Ok(Compared {
        line: line(resin, library),
        numbers: numbers(resin)?,
        way,
        resin: resin.clone(),
    })
}

impl ComparisonAnswer {
    /// The comparison as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let names: Vec<&str> = self.resins.iter().map(|r| r.line.name.as_str()).collect();
        let mut document = Document::new(
            format!("How do {} differ?", and(&names)),
            self.sentence(speech),
            self.table(speech),
        );
        document.picture = pictures::beside(&self.resins);
        document.notes = vec![
            Note::caution(
                "A dryer set for one of them may fuse, yellow or leave wet another: never change the \
                 resin without changing the setting, and clean out before. The data sheet of your \
                 grade outranks every number here.",
            ),
            Note::doubt(
                "A number with ≈ is an estimate. The time is that of one usual pellet in the \
                 customary air, warm from the beginning; in a hopper heating, streams, big pellets \
                 and the margin come on top.",
            ),
        ];
        document.notes.push(Note::source(
            "Every number with its source: drybed resin show and the name of one.",
        ));
        document.imprint = imprint();
        document
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When a number has no place in JSON.
    pub fn json(&self) -> Result<String, Trouble> {
        crate::json(self)
    }

    /// What differs most for whoever dries them.
    fn sentence(&self, speech: Speech) -> String {
        let mut by_heat: Vec<&Compared> = self.resins.iter().collect();
        by_heat.sort_by(|a, b| a.line.temperature_c.total_cmp(&b.line.temperature_c));
        let mut parts = Vec::new();
        if let (Some(cool), Some(hot)) = (by_heat.first(), by_heat.last()) {
            let say = |c: &Compared| speech.say(Measure::Temperature, c.line.temperature_c);
            parts.push(if hot.line.temperature_c - cool.line.temperature_c > 0.5 {
                format!(
                    "{} is dried at {} and {} at {}",
                    cool.line.name,
                    say(cool),
                    hot.line.name,
                    say(hot)
                )
            } else {
                format!("all are dried at {}", say(hot))
            });
        }
        let mut by_time: Vec<(&Compared, f64)> = self
            .resins
            .iter()
            .filter_map(|c| match c.numbers.pellet_time {
                PelletTime::Reaches(time) => Some((c, time.value)),
                _ => None,
            })
            .collect();
        by_time.sort_by(|a, b| a.1.total_cmp(&b.1));
        if let [first, .., last] = by_time.as_slice() {
            parts.push(if last.1 > first.1 * (1.0 + APART) {
                format!(
                    "one pellet from an opened package is at its limit after {} with {} and after \
                     {} with {}",
                    hours(first.1),
                    first.0.line.name,
                    hours(last.1),
                    last.0.line.name
                )
            } else {
                format!("one pellet of either takes {}", hours(first.1))
            });
        }
        let mut sentence = parts.join("; ");
        sentence.push('.');
        let mut letters = sentence.chars();
        letters.next().map_or_else(String::new, |first| {
            first.to_uppercase().chain(letters).collect()
        })
    }

    fn table(&self, speech: Speech) -> Table {
        let mut columns = vec![Column::new("what")];
        columns.extend(self.resins.iter().map(|r| Column::new(&r.line.name)));
        let rows = lines(speech)
            .into_iter()
            .filter_map(|(what, write)| {
                let cells: Vec<Option<String>> = self.resins.iter().map(&write).collect();
                if cells.iter().all(Option::is_none) {
                    return None;
                }
                let mut row = vec![Cell::text(what)];
                row.extend(cells.into_iter().map(|cell| match cell {
                    Some(text) => Cell::text(text),
                    None => Cell::Blank,
                }));
                Some(Row::new(row))
            })
            .collect();
        Table {
            caption: "Side by side; moisture on wet basis unless said".into(),
            columns,
            rows,
        }
    }
}

fn and(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
