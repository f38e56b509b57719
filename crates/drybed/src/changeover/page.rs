//! A changeover as a document, with a checklist that prints.

use super::ChangeoverAnswer;
use crate::plan::imprint;
use crate::speech::{Measure, Speech, hours, localised, percent, ppm};
use decide::changeover::{Changeover, Part};
use document::{Block, Cell, Column, Document, Grade, Note, Row, Section, State, Table};
use quantity::{Units, digits};

impl ChangeoverAnswer {
    /// The changeover as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let found = &self.changeover;
        let (old, new) = &found.resins;
        let mut document = Document::new(
            format!("From {old} to {new} in one hopper: what does it take?"),
            answer(found, speech),
            ways(found, speech),
        );
        document.state = Some(if found.never.is_some() {
            State::Unknown
        } else {
            State::InWindow
        });
        document.notes = notes(found);
        document.sections = vec![checklist(found, speech), drained(found, speech)];
        document.imprint = imprint();
        document
    }
}

fn answer(found: &Changeover, speech: Speech) -> String {
    if let Some(never) = &found.never {
        return format!("Never: {never}.");
    }
    let next = found.next_dry_h.map_or_else(
        || "no dry pellet comes in the time it was followed for".to_owned(),
        |next| {
            format!(
                "the first dry pellet of {} comes {} after it is filled in",
                found.resins.1,
                hours(next)
            )
        },
    );
    let half = found.half_dried.map_or_else(String::new, |half| {
        format!(
            " and {} half dried",
            speech.say(Measure::Mass, half.mass_kg)
        )
    });
    format!(
        "Draining takes out {} dry{half}; running it down takes {}; {next}, with {} kWh.",
        speech.say(Measure::Mass, found.dry.mass_kg),
        hours(found.run_down.takes_h),
        digits(found.next_dry_kwh, 2)
    )
}

fn ways(found: &Changeover, speech: Speech) -> Table {
    let row = |name: &str, way: &decide::changeover::Emptied| {
        Row::new(vec![
            Cell::text(name),
            Cell::precise(way.takes_h, 2, Grade::Computed),
            Cell::precise(
                speech.number(Measure::Mass, way.made_kg),
                3,
                Grade::Computed,
            ),
            Cell::precise(
                speech.number(Measure::Mass, way.drained_kg),
                3,
                Grade::Computed,
            ),
            Cell::text(percent(way.wet_share)),
        ])
    };
    let mass = speech.unit(Measure::Mass);
    Table {
        caption: format!("Two ways to empty the hopper of {}", found.resins.0),
        columns: vec![
            Column::new("way"),
            Column::with_unit("takes", "h"),
            Column::with_unit("made into parts", mass),
            Column::with_unit("taken out", mass),
            Column::new("wet of what is used"),
        ],
        rows: vec![
            row("drain at once", &found.drain),
            row("run down", &found.run_down),
        ],
    }
}

fn checklist(found: &Changeover, speech: Speech) -> Section {
    let rows = (1..).zip(&found.checklist).map(|(number, step)| {
        Row::new(vec![
            Cell::text(format!("{number}")),
            Cell::text(localised(step, speech)),
            Cell::text("[   ]"),
        ])
    });
    Section {
        title: "Checklist".to_owned(),
        summary: format!(
            "{} steps, to be signed off one by one.",
            found.checklist.len()
        ),
        blocks: vec![Block::table(Table {
            caption: format!("{} to {}", found.titles.0, found.titles.1),
            columns: ["number", "step", "done, by"].map(Column::new).to_vec(),
            rows: rows.collect(),
        })],
    }
}

fn drained(found: &Changeover, speech: Speech) -> Section {
    let row = |name: &str, part: &Part, what: String| {
        Row::new(vec![
            Cell::text(name),
            Cell::precise(
                speech.number(Measure::Mass, part.mass_kg),
                3,
                Grade::Computed,
            ),
            Cell::precise(part.mean_ppm_wet, 2, Grade::Computed),
            Cell::text(format!(
                "{} to {}",
                ppm(part.between_ppm_wet.0),
                ppm(part.between_ppm_wet.1)
            )),
            Cell::precise(
                speech.number(Measure::Temperature, part.temperature_c),
                3,
                Grade::Computed,
            ),
            Cell::text(what),
        ])
    };
    let minutes = |stated: Option<f64>| {
        stated.map_or("a day and more".to_owned(), |minutes| hours(minutes / 60.0))
    };
    let (cold, hot) = found.open_min;
    let mut rows = vec![row(
        "dry",
        &found.dry,
        format!(
            "seal at once; open it reaches {} after {} hot, {} cold",
            ppm(found.limit_ppm_wet),
            minutes(hot),
            minutes(cold)
        ),
    )];
    rows.extend(found.half_dried.as_ref().map(|half| {
        row(
            "half dried",
            half,
            "seal, keep apart, dry again before use".to_owned(),
        )
    }));
    Section {
        title: "What was drained, and what to do with it".to_owned(),
        summary: format!(
            "Label: {}, moisture, temperature, time, usable until.",
            found.resins.0
        ),
        blocks: vec![Block::table(Table {
            caption: "As the hopper at rest holds it; moisture on a wet basis".to_owned(),
            columns: vec![
                Column::new("what"),
                Column::with_unit("mass", speech.unit(Measure::Mass)),
                Column::with_unit("mean moisture", "ppm"),
                Column::new("between"),
                Column::with_unit("temperature", speech.unit(Measure::Temperature)),
                Column::new("what to do"),
            ],
            rows,
        })],
    }
}

fn notes(found: &Changeover) -> Vec<Note> {
    let mut notes = vec![Note::caution(
        "Hot pellets burn and may stick in a heap; drain into what stands heat, with gloves and a lid, and never under          a running blower. Local codes, the resin maker's data sheet and licensed practice decide.",
    )];
    if found.unlike {
        notes.push(Note::caution(
            "The two resins are of no common family: what is left in corners spoils parts, and may harm. How clean is              clean no calculation tells.",
        ));
    }
    if found.never.is_none() {
        notes.push(Note::doubt(
            "The first dry pellet is told after one full stay at the set point, as for a start. A seal is taken to keep              the pellets as they are; a bag that breathes does not.",
        ));
    }
    notes
}
