//! The resins of a library that are looked for, each in a line.

use super::line::{ResinLine, line};
use crate::plan::imprint;
use crate::speech::{Measure, Speech, counted};
use document::{Cell, Column, Document, Grade, Note, Row, Table};
use files::Library;
use quantity::{Fault, FaultKind, Faults, Place, Units, digits};

/// What stands for a family over the user's own grades.
const OWN_GRADES: &str = "your own grades";

/// Every resin of a library in a line, family by family, and the user's own grades.
pub fn resins(library: &Library) -> Vec<ResinLine> {
    let records = library.records.iter();
    let mut lines: Vec<ResinLine> = records.map(|r| line(&r.resin, library)).collect();
    lines.extend(library.grades.iter().map(|grade| ResinLine {
        key: grade.name.clone(),
        family: Some(OWN_GRADES.to_owned()),
        ..line(&grade.record.resin, library)
    }));
    // Those without a family come last.
    lines.sort_by_cached_key(|l| (l.family.is_none(), l.family.clone(), l.key.clone()));
    lines
}

/// Which resins are looked for; nothing asked finds all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ResinSearch {
    /// A part of the key, the title, the family or one of the names.
    pub word: Option<String>,
    /// A part of the family they are listed under.
    pub family: Option<String>,
}

/// The resins that are looked for.
///
/// # Errors
/// None is found.
pub fn find_resins(library: &Library, search: &ResinSearch) -> Result<Vec<ResinLine>, Faults> {
    let mut lines = resins(library);
    let mut faults = Faults::none();
    if let Some(word) = &search.word {
        lines.retain(|line| line.says(word));
        if lines.is_empty() {
            faults.push(nothing("word", word, "see them all with drybed resin list"));
        }
    }
    if let Some(family) = &search.family {
        let wanted = family.to_lowercase();
        let inside = |line: &ResinLine| {
            let family = line.family.as_ref();
            family.is_some_and(|f| f.to_lowercase().contains(&wanted))
        };
        if !resins(library).iter().any(inside) {
            let listed = families(library).join(", ");
            let mend = format!("the families are {listed}");
            faults.push(nothing("family", family, &mend));
        } else if faults.is_empty() {
            lines.retain(inside);
            if lines.is_empty() {
                let mend = "ask for the word or for the family alone";
                faults.push(nothing("family", family, mend));
            }
        }
    }
    faults.or(lines)
}

/// The families of the resins of a library.
fn families(library: &Library) -> Vec<String> {
    let named = library
        .records
        .iter()
        .filter_map(|r| r.resin.family.clone());
    let mut all: Vec<String> = named.collect();
    all.sort();
    all.dedup();
    all
}

fn nothing(what: &str, asked: &str, mend: &str) -> Fault {
    Fault::new(
        FaultKind::UnknownName,
        Place::of("", what),
        format!("{asked:?}"),
        "no resin of the library answers to it",
        mend,
    )
}

/// The lines as a document.
pub fn resin_table(lines: &[ResinLine], units: Units) -> Document {
    let speech = Speech(units);
    let degree = speech.unit(Measure::Temperature);
    // One note says for all of them that they are practice; the word beside each would drown them.
    let number = |estimate: bool, value: f64| {
        let sign = if estimate { "≈\u{a0}" } else { "" };
        Cell::text(format!("{sign}{}", digits(value, 3)))
    };
    let row = |line: &ResinLine| {
        let [heat, time, limit] = line.estimated;
        Row::new(vec![
            Cell::text(&line.key),
            Cell::text(&line.title),
            number(
                heat,
                speech.number(Measure::Temperature, line.temperature_c),
            ),
            number(time, line.time_h),
            number(limit, line.limit_ppm_wet),
            Cell::precise(100.0 * line.estimates, 2, Grade::Computed),
            Cell::precise(
                line.read as f64,
                1 + u8::from(line.read > 9),
                Grade::Computed,
            ),
        ])
    };
    let mut rows = Vec::new();
    let mut before: Option<&Option<String>> = None;
    for line in lines {
        if before != Some(&line.family) {
            let name = line.family.as_deref().unwrap_or("no family");
            if before.is_some() || line.family.is_some() {
                let mut head = vec![Cell::text(""), Cell::text(format!("{name}:"))];
                head.extend((0..5).map(|_| Cell::text("")));
                rows.push(Row::new(head));
            }
            before = Some(&line.family);
        }
        rows.push(row(line));
    }
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
        rows,
    };
    let read = lines.iter().filter(|line| line.read > 0).count();
    let mut document = Document::new(
        "Which resins are known?",
        format!(
            "{}, each number with its source, grade and spread; in {} of them some numbers were \
             read in the source they cite.",
            counted(lines.len(), "resin", "resins"),
            match read {
                0 => "none".to_owned(),
                some => some.to_string(),
            }
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
        Note::source("Temperatures, times and limits with ≈ are common practice, no source."),
    ];
    document.imprint = imprint();
    document
}
