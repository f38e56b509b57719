//! Dryers of a user as a document: each with what is stated and what is estimated.

use super::{EquipmentAnswer, KnownRow, OwnDryer};
use crate::plan::imprint;
use crate::speech::{Measure, Speech, counted};
use document::{Block, Cell, Column, Document, Grade, Note, Row, Section, Table};
use job::{Contaminant, Ownership};
use quantity::{Meaning, Quantity, Units, digits, show, show_si};

impl EquipmentAnswer {
    /// What is known of the dryers as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let mut document = Document::new(
            format!("What is known of the dryers of {}?", self.path),
            format!(
                "{} can be compared{}; {}.",
                counted(self.dryers.len(), "dryer", "dryers"),
                if self.left_out.is_empty() {
                    String::new()
                } else {
                    format!(", without {}", self.left_out.join(", "))
                },
                counted(self.faults.len(), "mistake", "mistakes")
            ),
            self.table(speech),
        );
        document.notes = notes_of_reading(&self.notes);
        document.notes.push(Note::doubt(
            "What is not stated is usual for the rated flow, and shown with ≈; a measured dew point and a \
             meter on site narrow it.",
        ));
        document.sections = self
            .dryers
            .iter()
            .map(|dryer| of_dryer(dryer, units))
            .collect();
        document.imprint = imprint();
        document
    }

    fn table(&self, speech: Speech) -> Table {
        let rows = self.dryers.iter().map(|dryer| {
            let owned = &dryer.ownership;
            Row::new(vec![
                Cell::text(&dryer.title),
                match (dryer.rated_flow_kg_h, dryer.charge_kg) {
                    (Some(rated), _) => {
                        Cell::precise(speech.number(Measure::Rate, rated), 3, Grade::Computed)
                    }
                    (None, Some(charge)) => Cell::text(format!(
                        "batch {}",
                        show_si(charge, Meaning::Mass, speech.0, 3)
                    )),
                    (None, None) => Cell::Blank,
                },
                Cell::precise(
                    speech.number(Measure::Temperature, dryer.hottest_c),
                    3,
                    Grade::Computed,
                ),
                owned.price.map_or(Cell::Blank, |price| {
                    let currency = owned.currency.as_deref().unwrap_or_default();
                    Cell::text(format!("{} {currency}", digits(price, 6)))
                }),
                Cell::text(format!("{} of {}", dryer.stated(), dryer.known.len())),
            ])
        });
        Table {
            caption: "Rated for so much dry air, or the resin of a batch; stated: how many of its \
                      numbers"
                .into(),
            columns: vec![
                Column::new("dryer"),
                Column::with_unit("rated", speech.unit(Measure::Rate)),
                Column::with_unit("hottest", speech.unit(Measure::Temperature)),
                Column::new("price"),
                Column::new("stated"),
            ],
            rows: rows.collect(),
        }
    }
}

/// What is worth knowing of how dryers were read.
pub(crate) fn notes_of_reading(notes: &[String]) -> Vec<Note> {
    notes
        .iter()
        .map(|note| Note::source(format!("{note}.")))
        .collect()
}

/// One dryer with every value, those that are stated first.
pub(crate) fn of_dryer(dryer: &OwnDryer, units: Units) -> Section {
    let (stated, estimated): (Vec<&KnownRow>, Vec<&KnownRow>) =
        dryer.known.iter().partition(|row| row.source.is_some());
    let mut blocks = Vec::new();
    let words = owning(&dryer.ownership, units);
    if !words.is_empty() {
        blocks.push(Block::text(words));
    }
    let from = |row: &&KnownRow| {
        let source = row.source.as_deref().unwrap_or_default();
        Row::new(vec![
            Cell::text(row.path.replace(['.', '_'], " ")),
            Cell::text(value(row, units)),
            Cell::text(if source == row.grade {
                source.to_owned()
            } else {
                format!("{source}, {}", row.grade)
            }),
        ])
    };
    blocks.push(Block::table(Table {
        caption: "Stated".into(),
        columns: ["what", "value", "source"].map(Column::new).to_vec(),
        rows: stated.iter().map(from).collect(),
    }));
    if !estimated.is_empty() {
        blocks.push(Block::table(Table {
            caption: "Not stated, so usual for the rated flow".into(),
            columns: ["what", "estimate"].map(Column::new).to_vec(),
            rows: estimated
                .iter()
                .map(|row| {
                    Row::new(vec![
                        Cell::text(row.path.replace(['.', '_'], " ")),
                        Cell::text(format!("≈\u{a0}{}", value(row, units))),
                    ])
                })
                .collect(),
        }));
    }
    Section {
        title: format!("What is known of {}", dryer.title),
        summary: format!(
            "{} stated, {} estimated{}.",
            stated.len(),
            estimated.len(),
            if dryer.invented {
                "; an invented example"
            } else {
                ""
            }
        ),
        blocks,
    }
}

fn value(row: &KnownRow, units: Units) -> String {
    match (&row.written, row.estimated) {
        (Some(written), _) => written.clone(),
        (None, Some((si, meaning))) => show_si(si, meaning, units, 2),
        (None, None) => String::new(),
    }
}

/// What owning it comes to beside money, in sentences.
fn owning(owned: &Ownership, units: Units) -> String {
    let mut said = Vec::new();
    if let Some(area) = owned.footprint {
        let height = owned
            .height
            .map_or_else(String::new, |h| format!(", {} high", show(h, units)));
        let floor = match units {
            Units::Metric => format!("{} m²", digits(area.si(), 2)),
            Units::UsCustomary => show(area, units),
        };
        said.push(format!("It takes {floor} of floor{height}."));
    }
    if let Some(noise) = owned.noise {
        said.push(format!("1 m away it is heard at {}.", show(noise, units)));
    }
    if let Some(carries) = &owned.air_carries {
        let words: Vec<&str> = carries
            .iter()
            .map(|what| match what {
                Contaminant::Oil => "oil",
                Contaminant::BeadDust => "dust of beads",
            })
            .collect();
        said.push(if words.is_empty() {
            "Its air brings nothing to the resin.".to_owned()
        } else {
            format!(
                "Its air may bring {} to the resin: filter it, and look at parts that are seen through.",
                words.join(" and ")
            )
        });
    }
    if !owned.used_with.is_empty() {
        said.push(format!("It was used with {}.", owned.used_with.join("; ")));
    }
    if let Some(change) = owned.desiccant_change {
        said.push(format!(
            "Its desiccant is changed every {} h for {} {}.",
            digits(change.every.si() / 3600.0, 5),
            digits(change.price, 5),
            owned.currency.as_deref().unwrap_or_default()
        ));
    }
    said.join(" ")
}
