//! The resins of a library that are looked for, each in a line.

use super::line::{ResinLine, line};
use crate::plan::imprint;
use crate::speech::{Measure, Speech, counted};
use document::{Cell, Column, Document, Grade, Note, Row, Table};
use files::Library;
use quantity::{Fault, FaultKind, Faults, Place, Units, digits};

/// Every resin of a library in a line.
pub fn resins(library: &Library) -> Vec<ResinLine> {
    let records = library.records.iter();
    records.map(|r| line(&r.resin, library)).collect()
}

/// Which resins are looked for; nothing asked finds all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ResinSearch {
    /// A part of the key, the title or one of the names.
    pub word: Option<String>,
}

/// The resins that are looked for.
///
/// # Errors
/// None is found.
pub fn find_resins(library: &Library, search: &ResinSearch) -> Result<Vec<ResinLine>, Faults> {
    let mut lines = resins(library);
    if let Some(word) = &search.word {
        lines.retain(|line| line.says(word));
        if lines.is_empty() {
            return Err(nothing("a word of its name", word, "drybed resin list").into());
        }
    }
    Ok(lines)
}

fn nothing(what: &str, asked: &str, mend: &str) -> Fault {
    Fault::new(
        FaultKind::UnknownName,
        Place::of("", what),
        format!("{asked:?}"),
        "no resin of the library answers to it",
        format!("see them all with {mend}"),
    )
}

/// The lines as a document.
pub fn resin_table(lines: &[ResinLine], units: Units) -> Document {
    let speech = Speech(units);
    let degree = speech.unit(Measure::Temperature);
    // One note says for all of them that they are practice; beside each it would drown the table.
    let estimate = |value: f64| Cell::text(format!("≈ {}", digits(value, 3)));
    let row = |line: &ResinLine| {
        Row::new(vec![
            Cell::text(&line.key),
            Cell::text(&line.title),
            estimate(speech.number(Measure::Temperature, line.temperature_c)),
            estimate(line.time_h),
            estimate(line.limit_ppm_wet),
            Cell::precise(100.0 * line.estimates, 2, Grade::Computed),
            Cell::number(line.read as f64, Grade::Computed),
        ])
    };
    let table = Table {
        caption: "Resins, with what the trade does and what stands behind their numbers".into(),
        columns: vec![
            Column::new("key"),
            Column::new("resin"),
            Column::with_unit("dried at", degree),
            Column::with_unit("for", "h"),
            Column::with_unit("limit", "ppm"),
            Column::with_unit("estimates", "%"),
            Column::new("read"),
        ],
        rows: lines.iter().map(row).collect(),
    };
    let read = lines.iter().filter(|line| line.read > 0).count();
    let mut document = Document::new(
        "Which resins are known?",
        format!(
            "{}, each number with its source, grade and spread; in {} of them some numbers were \
             read in the source they cite.",
            counted(lines.len(), "resin", "resins"),
            read
        ),
        table,
    );
    document.notes = vec![
        Note::caution("The data sheet of your grade outranks every number here."),
        Note::doubt(
            "Estimates are the share of the numbers that are carried over from something similar \
             or are common practice; read counts those that are measured or fitted in a source \
             whose abstract or full text was read.",
        ),
        Note::source("Temperatures, times and limits are common practice, no source."),
    ];
    document.imprint = imprint();
    document
}
