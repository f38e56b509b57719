//! What must be told of a user's own dryers beside how they compare.

use crate::StatedDryers;
use crate::equipment::{EquipmentAnswer, OwnDryer, notes_of_reading};
use crate::speech::{Measure, Speech};
use decide::compare::{Comparison, Dryer, Duty, Offered, VacuumBatches};
use document::Note;
use files::{StatedDryer, StatedMachine};
use job::{Ownership, Plant};

/// The dryers of a user, as they are whatever is asked of them; prices in another currency than that of
/// the plant are no prices there.
pub(crate) fn offered<'a>(own: &StatedDryers, plant: &Plant) -> Vec<Offered<'a>> {
    let counts = plant.prices.as_ref().map(|prices| &prices.currency);
    let dryers = own.dryers.iter();
    dryers
        .map(|dryer| {
            let own = dryer.clone();
            let ownership = dryer.ownership.clone();
            Offered {
                ownership: if ownership.currency.as_ref() == counts {
                    ownership
                } else {
                    Ownership {
                        price: None,
                        desiccant_change: None,
                        filters_per_year: None,
                        ..ownership
                    }
                },
                mine: dryer.mine,
                is_stated: true,
                hottest: Some(dryer.hottest.kelvin()),
                make: Box::new(move |duty| made(&own, duty)),
            }
        })
        .collect()
}

/// A dryer as it is, for what it has to serve.
fn made(own: &StatedDryer, duty: &Duty) -> Dryer {
    match &own.machine {
        StatedMachine::Air { equipment, .. } => Dryer::Air(equipment.clone()),
        StatedMachine::Vacuum {
            dryer,
            heater,
            time_is_set,
        } => Dryer::Batches(Box::new(VacuumBatches::stated(
            &own.title,
            dryer,
            *heater,
            *time_is_set,
            duty,
        ))),
    }
}

/// What is an estimate, what is left out, and which dryer is rated for less than is asked.
pub(super) fn notes(own: &EquipmentAnswer, compared: &Comparison, speech: Speech) -> Vec<Note> {
    let stated: usize = own.dryers.iter().map(OwnDryer::stated).sum();
    let known: usize = own.dryers.iter().map(|dryer| dryer.known.len()).sum();
    let mut notes = vec![Note::doubt(format!(
        "Of {known} numbers and words of these dryers {stated} are stated and the others usual for the rated \
         flow, so that every energy and cost here is an estimate."
    ))];
    let runs = compared.runs.iter();
    let asked = runs
        .map(|run| run.hoppers.iter().map(|hopper| hopper.air_flow_kg_h).sum())
        .fold(0.0, f64::max);
    for dryer in &own.dryers {
        if let Some(rated) = dryer.rated_flow_kg_h.filter(|rated| *rated < 0.995 * asked) {
            notes.push(Note::caution(format!(
                "The {} is rated for {} of dry air, and the plan asks {}.",
                dryer.title,
                speech.say(Measure::Rate, rated),
                speech.say(Measure::Rate, asked)
            )));
        }
    }
    if let Some(currency) = &compared.currency {
        let stated = own.dryers.iter();
        let others: Vec<&str> = stated
            .filter(|dryer| {
                dryer
                    .ownership
                    .currency
                    .as_ref()
                    .is_some_and(|of| of != currency)
            })
            .map(|dryer| dryer.title.as_str())
            .collect();
        if !others.is_empty() {
            notes.push(Note::caution(format!(
                "The job counts in {currency}, and these do not, so their prices are left out: {}.",
                others.join("; ")
            )));
        }
    }
    if !own.left_out.is_empty() {
        notes.push(Note::caution(format!(
            "Left out for mistakes in them: {}.",
            own.left_out.join(", ")
        )));
    }
    let mut desiccants: Vec<&str> = own
        .dryers
        .iter()
        .filter_map(|dryer| dryer.desiccant.as_deref())
        .collect();
    desiccants.sort_unstable();
    desiccants.dedup();
    if !desiccants.is_empty() {
        notes.push(Note::source(format!(
            "Desiccant: {}; the evidence stands in docs/desiccants.md.",
            desiccants.join("; ")
        )));
    }
    notes.extend(notes_of_reading(&own.notes));
    notes
}
