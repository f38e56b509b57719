//! A plan that is refused: what has to be done to the resin first, and nothing to set.

use super::{PlanAnswer, cautions, page, sentence};
use crate::Trouble;
use crate::speech::{Measure, Speech, localised};
use document::{Block, Cell, Column, Document, Note, Row, Section, Table};
use material::Resin;
use quantity::MoistureDryBasis;
use serde_json::Value;

/// What of a refused plan is told as data; everything else would be a setting, or follow from one.
const TOLD: [&str; 8] = [
    "title",
    "resin",
    "rate_kg_h",
    "verdict",
    "warnings",
    "cautions",
    "over_drying",
    "evidence",
];
/// What of the answer shows a way through a hopper.
const SHOWN: [&str; 4] = ["hopper", "heart", "inside", "cut"];

/// What goes through the hopper: how it is called, its resin, and its moisture where it is stated.
struct Dried<'a> {
    name: &'a str,
    resin: &'a Resin,
    moisture: Option<MoistureDryBasis>,
}

impl Dried<'_> {
    /// Name, and resin where that is another word.
    fn words(&self) -> String {
        if self.name == self.resin.name {
            self.name.to_owned()
        } else {
            format!("{} ({})", self.name, self.resin.name)
        }
    }

    /// Temperature at which it fuses as it comes, degC.
    fn fuses_c(&self) -> f64 {
        let opened = self.resin.received.opened.value;
        self.resin
            .sticking_at(self.moisture.unwrap_or(opened))
            .celsius()
    }
}

/// What goes through the hopper.
fn dried(answer: &PlanAnswer) -> Vec<Dried<'_>> {
    let job = &answer.job;
    if job.lot.is_empty() {
        return vec![Dried {
            name: &answer.plan.resin,
            resin: &job.resin,
            moisture: job.arrival.moisture.map(quantity::Moisture::dry_basis),
        }];
    }
    let parts = job.lot.iter().filter(|part| part.entry.is_dried());
    parts
        .map(|part| Dried {
            name: &part.name,
            resin: &part.resin,
            moisture: part.moisture.map(quantity::Moisture::dry_basis),
        })
        .collect()
}

/// The page of a plan that is refused.
pub(super) fn document(answer: &PlanAnswer, speech: Speech) -> Document {
    let all = dried(answer);
    let first: Vec<&Dried> = all
        .iter()
        .filter(|part| part.resin.crystallise_first)
        .collect();
    let names: Vec<String> = first.iter().map(|part| part.words()).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let (who, fuses) = match names.as_slice() {
        [] => (answer.plan.resin.clone(), String::new()),
        some => {
            let lowest = first.iter().map(|part| part.fuses_c());
            let lowest = lowest.fold(f64::INFINITY, f64::min);
            let from = speech.say(Measure::Temperature, lowest);
            (
                sentence::and(some),
                format!(": as it comes it fuses from {from} on"),
            )
        }
    };
    let said = format!(
        "{} at {} has no plan yet: {who} must be crystallised with agitation before it may rest in a \
         hot hopper{fuses}, and no setting of a hopper at rest mends that.",
        answer.plan.resin,
        speech.say(Measure::Rate, answer.plan.rate_kg_h)
    );
    let mut document = Document::new(
        sentence::question(answer, speech),
        said,
        table(&all, speech),
    );
    document.notes = cautions::notes(answer, speech);
    document.notes.push(Note::doubt(
        "Nothing is told of settings, moisture or time: they would be those of a bed that fuses.",
    ));
    document.sections = vec![
        comes_first(&first, speech),
        page::evidence_section(answer, speech.0),
        cautions::section(answer, speech),
    ];
    document.imprint = page::imprint();
    document
}

/// What goes through the hopper, and which of it may not yet.
fn table(all: &[Dried<'_>], speech: Speech) -> Table {
    let rows = all.iter().map(|part| {
        let degrees = speech.number(Measure::Temperature, part.fuses_c());
        Row::new(vec![
            Cell::text(part.words()),
            Cell::text(quantity::digits(degrees.round(), 4)),
            Cell::text(if part.resin.crystallise_first {
                "crystallise it first"
            } else {
                "may be dried"
            }),
        ])
    });
    Table {
        caption: "What is to go through the hopper, as it comes".into(),
        columns: vec![
            Column::new("component"),
            Column::with_unit("fuses from", speech.unit(Measure::Temperature)),
            Column::new("before the hopper"),
        ],
        rows: rows.collect(),
    }
}

/// What has to be done, step by step.
fn comes_first(first: &[&Dried<'_>], speech: Speech) -> Section {
    let mut blocks: Vec<Block> = first
        .iter()
        .map(|part| {
            let text = format!("{}: {}", part.words(), part.resin.over_drying.trim());
            Block::text(localised(&text, speech))
        })
        .collect();
    blocks.push(Block::text(
        "Crystallise it in a vessel that stirs or fluidises it all the while, until the pellets no \
         longer stick when they are pressed together hot; or buy it crystallised. The data sheet of \
         your grade decides how hot and how long.",
    ));
    blocks.push(Block::text(
        "Then name in the job the resin that it has become, with the moisture it has then, and plan \
         again. What cannot be crystallised stays out of this hopper.",
    ));
    blocks.push(Block::text(
        "Where a crystalliser is to stand ahead of the hopper, state it in the job, under \
         `[crystalliser]`: the plan then goes on with what leaves it, and `drybed compare` shows what each \
         dryer behind it costs with it.",
    ));
    Section {
        title: "What comes first".into(),
        summary:
            "Crystallise it with agitation, then name the crystallised resin in the job and plan \
                  again."
                .into(),
        blocks,
    }
}

/// A refused plan as data: what is no setting, and null in place of the rest.
pub(super) fn json(answer: &PlanAnswer) -> Result<Value, Trouble> {
    let written = |error: serde_json::Error| Trouble::Json(error.to_string());
    let mut value = serde_json::to_value(answer).map_err(written)?;
    if let Value::Object(fields) = &mut value {
        for name in SHOWN {
            fields.insert(name.to_owned(), Value::Null);
        }
        if let Some(Value::Object(plan)) = fields.get_mut("plan") {
            for (_, field) in plan
                .iter_mut()
                .filter(|(name, _)| !TOLD.contains(&name.as_str()))
            {
                *field = Value::Null;
            }
        }
    }
    Ok(value)
}
