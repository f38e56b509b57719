//! The library of resins: which there are, and what is known of one.

use crate::Trouble;
use crate::plan::{
    Citation, EvidenceRow, cautions_of, citations, evidence_rows, evidence_table, imprint,
};
use crate::speech::{Measure, Speech, hours, ppm};
use document::{Block, Cell, Column, Document, Grade, Note, Row, Section, Table};
use files::Library;
use material::{Behaviour, Resin};
use quantity::{Faults, Place, Units, digits};
use serde::Serialize;
use std::path::Path;

/// Version of the layout of resins in JSON.
const RESIN_SCHEMA: u32 = 1;

/// The library shipped with the program, with the records of a folder laid over it.
///
/// # Errors
/// Every mistake in the records.
pub fn library(folder: Option<&Path>) -> Result<Library, Faults> {
    let shipped = Library::shipped()?;
    match folder {
        None => Ok(shipped),
        Some(path) => shipped.with_folder(path)?.sound(),
    }
}

/// One resin of the library in a line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ResinLine {
    /// Its key.
    pub key: String,
    /// The name people use.
    pub name: String,
    /// What it is.
    pub title: String,
    /// Other names.
    pub aliases: Vec<String>,
    /// Whether water enters it.
    pub behaviour: Behaviour,
    /// Customary temperature.
    pub temperature_c: f64,
    /// Customary time.
    pub time_h: f64,
    /// Customary frost point.
    pub frost_point_c: f64,
    /// Limit for moulding.
    pub limit_ppm_wet: f64,
    /// Moisture from an opened package.
    pub opened_ppm_wet: f64,
    /// Share of its numbers that are estimates.
    pub estimates: f64,
}

/// Every resin of a library in a line.
pub fn resins(library: &Library) -> Vec<ResinLine> {
    library.records.iter().map(|r| line(&r.resin)).collect()
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
        ])
    };
    let table = Table {
        caption: "The library of resins, with what the trade does".into(),
        columns: vec![
            Column::new("key"),
            Column::new("resin"),
            Column::with_unit("dried at", degree),
            Column::with_unit("for", "h"),
            Column::with_unit("limit", "ppm"),
            Column::with_unit("estimates", "%"),
        ],
        rows: lines.iter().map(row).collect(),
    };
    let mut document = Document::new(
        "Which resins are known?",
        format!(
            "{} resins, each number with its source, grade and spread.",
            lines.len()
        ),
        table,
    );
    document.notes = vec![
        Note::caution("The data sheet of your grade outranks every number here."),
        Note::source("Temperatures, times and limits are common practice, no source."),
    ];
    document.imprint = imprint();
    document
}

/// Everything known of a resin.
#[derive(Clone, Debug, Serialize)]
pub struct ResinAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// The resin in a line.
    pub line: ResinLine,
    /// Every number with what stands behind it.
    pub evidence: Vec<EvidenceRow>,
    /// The sources they name.
    pub sources: Vec<Citation>,
    /// The record, numbers in SI units.
    pub resin: Resin,
}

/// What is known of a resin, by key, name or other name.
///
/// # Errors
/// No such resin, with the nearest names offered.
pub fn resin(name: &str, library: &Library) -> Result<ResinAnswer, Faults> {
    let record = library.find(name, &Place::of("", "resin"))?;
    let resin = record.resin.clone();
    let evidence = evidence_rows(&resin);
    Ok(ResinAnswer {
        schema_version: RESIN_SCHEMA,
        line: line(&resin),
        sources: citations(&evidence, library),
        evidence,
        resin,
    })
}

impl ResinAnswer {
    /// The resin as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let resin = &self.resin;
        let estimates = self.evidence.iter().filter(|row| row.estimate).count();
        let drying = &resin.drying;
        let answer = format!(
            "{}: the trade dries it at {} for {} to {}, and {estimates} of its {} numbers are \
             estimates.",
            resin.title,
            speech.say(Measure::Temperature, drying.temperature.value.celsius()),
            hours(drying.time.value.hours()),
            ppm(self.line.limit_ppm_wet),
            self.evidence.len()
        );
        let mut document = Document::new(
            format!("What is known of {}?", resin.name),
            answer,
            evidence_table("Every number, as it was written", &self.evidence),
        );
        document.notes = resin
            .cautions
            .iter()
            .map(|caution| Note::caution(cautions_of(*caution, &resin.name)))
            .collect();
        document.notes.push(Note::caution(
            "The data sheet of your grade outranks every number here.",
        ));
        document.notes.push(Note::doubt(format!(
            "Too long or too dry: {}",
            resin.over_drying
        )));
        for source in &self.sources {
            document
                .notes
                .push(Note::source(format!("[{}] {}", source.key, source.text)));
        }
        let remarks: Vec<Block> = self
            .evidence
            .iter()
            .filter_map(|row| {
                let note = row.note.as_ref()?;
                Some(Block::text(format!("{}: {note}.", row.what)))
            })
            .collect();
        if !remarks.is_empty() {
            document.sections.push(Section {
                title: "Remarks".into(),
                summary: format!(
                    "Conditions, extrapolations and errata of {} numbers.",
                    remarks.len()
                ),
                blocks: remarks,
            });
        }
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
}

fn line(resin: &Resin) -> ResinLine {
    let evidence = evidence_rows(resin);
    let estimates = evidence.iter().filter(|row| row.estimate).count();
    let wet = |moisture: quantity::MoistureDryBasis| moisture.wet_basis().ppm();
    ResinLine {
        key: resin.key.clone(),
        name: resin.name.clone(),
        title: resin.title.clone(),
        aliases: resin.aliases.clone(),
        behaviour: resin.behaviour,
        temperature_c: resin.drying.temperature.value.celsius(),
        time_h: resin.drying.time.value.hours(),
        frost_point_c: resin.drying.frost_point.value.celsius(),
        limit_ppm_wet: wet(resin.limit.moulding.value),
        opened_ppm_wet: wet(resin.received.opened.value),
        estimates: estimates as f64 / evidence.len().max(1) as f64,
    }
}
