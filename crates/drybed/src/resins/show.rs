//! Everything known of one resin.

use super::groups::grouped;
use super::line::{ResinLine, line};
use super::numbers::{PelletTime, ResinNumbers, numbers};
use crate::plan::{
    Citation, EvidenceRow, cautions_of, citations, evidence_rows, evidence_table, imprint,
};
use crate::speech::{Measure, Speech, counted, hours, ppm};
use crate::{Trouble, pictures};
use decide::answer::Ranged;
use document::{Block, Cell, Column, Document, Grade, Note, Row, Section, Table};
use files::Library;
use material::Resin;
use quantity::{Place, Units};
use serde::Serialize;

/// Version of the layout of resins in JSON.
pub(crate) const RESIN_SCHEMA: u32 = 2;

/// Everything known of a resin.
#[derive(Clone, Debug, Serialize)]
pub struct ResinAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// The resin in a line.
    pub line: ResinLine,
    /// What its record comes to at its customary temperature.
    pub numbers: ResinNumbers,
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
/// No such resin, with the nearest names offered; a pellet that cannot be followed.
pub fn resin(name: &str, library: &Library) -> Result<ResinAnswer, Trouble> {
    let record = library.find(name, &Place::of("", "resin"))?;
    of(&record.resin, library)
}

/// What is known of a resin that need not be in the library.
///
/// # Errors
/// A pellet that cannot be followed.
pub(crate) fn of(resin: &Resin, library: &Library) -> Result<ResinAnswer, Trouble> {
    let evidence = evidence_rows(resin);
    Ok(ResinAnswer {
        schema_version: RESIN_SCHEMA,
        line: line(resin, library),
        numbers: numbers(resin)?,
        sources: citations(&evidence, library),
        evidence,
        resin: resin.clone(),
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
            "{}: the trade dries it at {} for {} to {}; {estimates} of its {} numbers are \
             estimates, and {} in the source named.",
            resin.title,
            speech.say(Measure::Temperature, drying.temperature.value.celsius()),
            hours(drying.time.value.hours()),
            ppm(self.line.limit_ppm_wet),
            self.evidence.len(),
            match self.line.read {
                0 => "none was read".to_owned(),
                1 => "one was read".to_owned(),
                several => format!("{several} were read"),
            }
        );
        let mut document = Document::new(
            format!("What is known of {}?", resin.name),
            answer,
            table(&self.evidence, units),
        );
        document.picture = pictures::isotherm(resin, speech);
        document.notes = self.notes();
        document.sections = self.sections(speech);
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

    fn notes(&self) -> Vec<Note> {
        let resin = &self.resin;
        let mut notes: Vec<Note> = resin
            .cautions
            .iter()
            .map(|caution| Note::caution(cautions_of(*caution, &resin.name)))
            .collect();
        notes.push(Note::caution(
            "The data sheet of your grade outranks every number here.",
        ));
        notes.push(Note::doubt(format!(
            "Too long or too dry: {}",
            resin.over_drying
        )));
        for source in &self.sources {
            notes.push(Note::source(format!("[{}] {}", source.key, source.text)));
        }
        notes
    }

    fn sections(&self, speech: Speech) -> Vec<Section> {
        let mut sections = vec![self.at_drying(speech)];
        if let Some(figure) = pictures::diffusivity(&self.resin, speech) {
            sections.push(Section {
                title: "Diffusion".into(),
                summary: format!("{}.", figure.title),
                blocks: vec![Block::picture(figure)],
            });
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
            sections.push(Section {
                title: "Remarks".into(),
                summary: format!(
                    "Conditions, extrapolations and errata of {}.",
                    counted(remarks.len(), "number", "numbers")
                ),
                blocks: remarks,
            });
        }
        sections
    }

    /// What follows from the record at the customary temperature.
    fn at_drying(&self, speech: Speech) -> Section {
        let numbers = &self.numbers;
        let time = numbers.pellet_time;
        let words = |what: &str, cell: Cell, unit: &str| {
            Row::new(vec![Cell::text(what), cell, Cell::text(unit)])
        };
        let plain = |value: f64| Cell::precise(value, 2, Grade::Computed);
        let duration = match time {
            PelletTime::Reaches(Ranged { value, low, high }) => {
                Cell::ranged(value, low, high, Grade::Computed)
            }
            other => Cell::text(other.words()),
        };
        Section {
            title: "At its customary temperature".into(),
            summary: match time {
                PelletTime::TakesUpNoWater => {
                    "Water sits on its surface only, and leaves with the heat.".into()
                }
                PelletTime::AlreadyInside => "As it usually arrives it is inside its limit.".into(),
                PelletTime::Never => {
                    "One pellet from an opened package does not reach its limit in two days.".into()
                }
                PelletTime::Reaches(time) => format!(
                    "One pellet from an opened package is at its limit after {} ({} to {}); the \
                     trade gives a hopper {}.",
                    hours(time.value),
                    hours(time.low),
                    hours(time.high),
                    hours(self.line.time_h)
                ),
            },
            blocks: vec![Block::table(Table {
                caption: format!(
                    "Computed from the record at {}",
                    speech.say(Measure::Temperature, self.line.temperature_c)
                ),
                columns: vec![
                    Column::new("what"),
                    Column::new("number"),
                    Column::new("unit"),
                ],
                rows: vec![
                    words(
                        "one pellet, from opened to the limit for moulding",
                        duration,
                        "h",
                    ),
                    words(
                        "diffusivity, dry",
                        plain(speech.number(Measure::Diffusivity, numbers.diffusivity_m2_s.value)),
                        speech.unit(Measure::Diffusivity),
                    ),
                    words(
                        "moisture in saturated air",
                        plain(numbers.capacity_percent_dry),
                        "% dry basis",
                    ),
                    words(
                        "moisture in equilibrium with the customary air",
                        plain(numbers.floor_ppm_wet),
                        "ppm",
                    ),
                    words(
                        "moisture in a room of 23 °C and 50 %RH",
                        plain(numbers.in_a_room_ppm_wet),
                        "ppm",
                    ),
                ],
            })],
        }
    }
}

/// The evidence group by group.
fn table(evidence: &[EvidenceRow], units: Units) -> Table {
    let mut rows = Vec::new();
    for (name, own) in grouped(evidence) {
        let mut head = vec![Cell::text(format!("{name}:"))];
        head.extend((0..4).map(|_| Cell::text("")));
        rows.push(Row::new(head));
        rows.extend(evidence_table("Every number", &own, units).rows);
    }
    Table {
        rows,
        ..evidence_table("Every number", &[], units)
    }
}
