//! Sizes as a document.

use super::SizeAnswer;
use crate::dryers::words::{self, sentence, short};
use crate::plan::imprint;
use crate::speech::{Measure, Speech};
use decide::compare::HopperAsked;
use decide::size::{Measured, Sizes};
use document::{Cell, Column, Document, Note, Row, State, Table};
use quantity::{Units, digits};

impl SizeAnswer {
    /// The sizes as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let sizes = &self.sizes;
        let mut document = Document::new(
            format!(
                "How large is a dryer for {}?",
                words::jobs(&sizes.runs, speech)
            ),
            answer(sizes, self.own, speech),
            table(sizes, self.own, speech),
        );
        if sizes.refused.is_some() {
            document.state = Some(State::Unknown);
        }
        document.notes = notes(self, speech);
        document.imprint = imprint();
        document
    }
}

/// What decides the size, in a sentence.
fn answer(sizes: &Sizes, own: bool, speech: Speech) -> String {
    if let Some(refused) = &sizes.refused {
        return sentence(refused);
    }
    let several = several(sizes);
    let needs: Vec<String> = sizes
        .needs
        .iter()
        .map(|need| {
            let by = if several {
                format!(" ({})", need.decided_by)
            } else {
                String::new()
            };
            format!("{} {}{by}", need.what, said(&need.measured, speech))
        })
        .collect();
    let dryers = if own { "Your own" } else { "By custom" };
    format!("{dryers}, for {}.", needs.join(", "))
}

fn several(sizes: &Sizes) -> bool {
    sizes
        .runs
        .iter()
        .map(|run| run.hoppers.len())
        .sum::<usize>()
        > 1
}

/// Every part of every dryer, the hoppers first.
fn table(sizes: &Sizes, own: bool, speech: Speech) -> Table {
    let several = several(sizes);
    let hoppers = sizes.runs.iter().flat_map(|run| &run.hoppers);
    let mut rows: Vec<Row> = hoppers
        .map(|hopper| {
            row(
                "hopper",
                &hopper.resin,
                hopper_size(hopper, speech),
                &hopper.title,
                several,
            )
        })
        .collect();
    for dryer in &sizes.dryers {
        for (index, part) in dryer.parts.iter().enumerate() {
            let measures: Vec<String> = part.measures.iter().map(|m| said(m, speech)).collect();
            let name = if index == 0 { short(&dryer.title) } else { "" };
            rows.push(row(
                name,
                part.name,
                measures.join(", "),
                &part.decided_by,
                several,
            ));
        }
    }
    let mut columns = ["for", "part", "size"].map(Column::new).to_vec();
    if several {
        columns.push(Column::new("decided by"));
    }
    Table {
        caption: if own {
            "Your dryers as they are stated, and usual where they are not; power is that installed, \
             blowers at their rated flow"
        } else {
            "Sized by custom, not by any maker; power is that installed, blowers at their rated flow"
        }
        .into(),
        columns,
        rows,
    }
}

fn row(name: &str, part: &str, size: String, decided_by: &str, several: bool) -> Row {
    let mut cells = vec![Cell::text(name), Cell::text(part), Cell::text(size)];
    if several {
        cells.push(Cell::text(decided_by));
    }
    Row::new(cells)
}

fn hopper_size(hopper: &HopperAsked, speech: Speech) -> String {
    format!(
        "{}, diameter {}, {} h, {} of air at {}",
        speech.say(Measure::Volume, hopper.volume_l),
        speech.say(Measure::Width, hopper.diameter_mm),
        digits(hopper.residence_h, 3),
        speech.say(Measure::Rate, hopper.air_flow_kg_h),
        speech.say(Measure::Temperature, hopper.air_temperature_c),
    )
}

/// A number with what it measures and its unit, as a person reads it.
fn said(measured: &Measured, speech: Speech) -> String {
    let measure = match measured.unit {
        "mm" => Some(Measure::Width),
        "kg" => Some(Measure::Mass),
        "kg/h" => Some(Measure::Rate),
        "m3/h" => Some(Measure::Stream),
        "Pa" => Some(Measure::Drop),
        "l" => Some(Measure::Volume),
        "degC" => Some(Measure::Temperature),
        "W/K" => Some(Measure::Conductance),
        "mbar" => Some(Measure::Vacuum),
        _ => None,
    };
    let value = match (measure, measured.unit) {
        (Some(measure), _) => speech.say(measure, measured.value),
        // What resin brings is known no better.
        (None, "g/kg") => {
            let water = speech.number(Measure::Humidity, measured.value);
            format!("{} {}", digits(water, 2), speech.unit(Measure::Humidity))
        }
        (None, unit) => format!("{} {unit}", digits(measured.value, 3)),
    };
    if measured.what.is_empty() {
        value
    } else {
        format!("{} {value}", measured.what)
    }
}

fn notes(answer: &SizeAnswer, speech: Speech) -> Vec<Note> {
    let mut notes = vec![
        Note::caution(
            "Heaters, blowers and vessels of these sizes burn, store energy and carry what the resin \
             gives off. Local codes, the resin maker's data sheet and licensed practice decide.",
        ),
        Note::doubt(if answer.own {
            "What is not stated is usual for the rated flow or the charge. The loop is not run here: drybed \
             compare says what dew point settles and how sure the limit is met."
        } else {
            "Custom makes these sizes; a maker's differ. The loop is not run here: drybed compare says \
             what dew point settles and how sure the limit is met."
        }),
        Note::doubt(
            "Water a turn, and water till the towers swap, is what the resin brings, over the desiccant; \
             leaks and the hall bring more.",
        ),
    ];
    if !answer.own {
        notes.push(Note::source(format!(
            "Desiccant: {}; the evidence stands in docs/desiccants.md.",
            answer.desiccant
        )));
    }
    let carried = answer.sizes.carried_over.iter();
    notes.extend(words::against_practice(&answer.sizes.runs));
    notes.extend(words::below_usual(&answer.sizes.below_usual, speech));
    notes.extend(carried.map(|text| Note::caution(sentence(text))));
    notes
}
