//! A stop as a document.

use super::StopAnswer;
use crate::plan::imprint;
use crate::speech::{Measure, Speech, capital, hours, percent, ppm};
use decide::stop::{Action, Done, Stop};
use document::{Cell, Column, Document, Grade, Note, Row, State, Table};
use quantity::Units;

impl StopAnswer {
    /// The stop as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let stop = &self.stop;
        let mut document = Document::new(
            format!(
                "The press stands for {}: what becomes of {} at {} ({})?",
                hours(stop.length_h),
                stop.resin,
                speech.say(Measure::Temperature, stop.set_point_c),
                stop.title
            ),
            answer(stop, speech),
            table(stop, speech),
        );
        document.state = Some(state(stop));
        document.notes = notes(stop, speech);
        document.imprint = imprint();
        document
    }
}

fn state(stop: &Stop) -> State {
    if stop.best.is_some() {
        return State::InWindow;
    }
    let lost = |of: &dyn Fn(&Done) -> f64| {
        let each = stop.actions.iter().map(of);
        each.fold(f64::INFINITY, f64::min)
    };
    let wet = lost(&|done| done.masses.wet_kg);
    let stayed = lost(&|done| done.longest_stay);
    if stayed > 0.9 {
        State::Cooked
    } else if wet > 0.0 {
        State::Wet
    } else {
        State::TooDry
    }
}

fn answer(stop: &Stop, speech: Speech) -> String {
    let kept = stop.actions.first();
    let may = kept
        .and_then(|kept| kept.may_stand_h)
        .map_or_else(String::new, |may| {
            format!(" Left as it is, it may stand {} in all.", hours(may))
        });
    match stop.best.and_then(|index| stop.actions.get(index)) {
        Some(best) => {
            let what = capital(&words(best, speech));
            format!("{what}: nothing is lost.{may}")
        }
        None => format!(
            "Nothing that can be done with the dryer saves what is in the hopper: drain {} or let the press use it              before. Filled anew the first dry pellet comes after {}.{may}",
            speech.say(Measure::Mass, stop.holds_kg),
            hours(stop.refill_h)
        ),
    }
}

fn words(done: &Done, speech: Speech) -> String {
    let mut text = done.action.words().to_owned();
    if let Some(to) = done.setback_c {
        let to = speech.say(Measure::Temperature, to);
        text = text.replacen("set it back now", &format!("set it back to {to} now"), 1);
    }
    if let Some(before) = done.up_before_h {
        text = text.replacen(
            "before the press",
            &format!("{} before the press", hours(before)),
            1,
        );
    }
    text
}

fn table(stop: &Stop, speech: Speech) -> Table {
    let rows = stop.actions.iter().enumerate().map(|(index, done)| {
        let lost = lost(done);
        Row::new(vec![
            Cell::text(words(done, speech)),
            Cell::text(if stop.best == Some(index) {
                "best".to_owned()
            } else if done.is_safe {
                "safe".to_owned()
            } else {
                lost
            }),
            Cell::precise(100.0 * done.longest_stay, 2, Grade::Computed),
            Cell::precise(done.wettest_ppm_wet, 2, Grade::Computed),
            Cell::precise(done.energy_kwh, 3, Grade::Computed),
            done.may_stand_h
                .map_or(Cell::Blank, |may| Cell::precise(may, 2, Grade::Computed)),
        ])
    });
    Table {
        caption: "What can be done, followed through the stop and one stay after it".to_owned(),
        columns: vec![
            Column::new("what"),
            Column::new("comes to"),
            Column::with_unit("longest stay used", "%"),
            Column::with_unit("wetter end", "ppm"),
            Column::with_unit("current", "kWh"),
            Column::with_unit("may stand", "h"),
        ],
        rows: rows.collect(),
    }
}

/// What is lost, in words.
fn lost(done: &Done) -> String {
    let masses = &done.masses;
    let mut said = Vec::new();
    if masses.is_much(masses.wet_kg) {
        said.push(format!("{} wet", percent(masses.share(masses.wet_kg))));
    }
    if done.longest_stay > 0.9 {
        said.push("hot for too long".to_owned());
    }
    if masses.is_much(masses.too_dry_kg) {
        said.push(format!(
            "{} too dry",
            percent(masses.share(masses.too_dry_kg))
        ));
    }
    if said.is_empty() {
        said.push("near an edge".to_owned());
    }
    said.join(", ")
}

fn notes(stop: &Stop, speech: Speech) -> Vec<Note> {
    let mut notes = vec![
        Note::caution(
            "Pellets, air and surfaces of a hopper burn; drain into what stands heat, with gloves and a lid. Local              codes, the resin maker's data sheet and licensed practice decide.",
        ),
        Note::doubt(format!(
            "The longest customary stay is {} at {}; elsewhere it is carried over by the activation energy of the harm              that ends it, as the record says or by analogy.",
            hours(stop.hold_h),
            speech.say(Measure::Temperature, stop.set_point_c)
        )),
        Note::doubt(
            "Mixing back: half-dried pellets may go back on top of the hopper and be dried again; pellets that were hot              for too long gain nothing from it and only hide among the others.",
        ),
    ];
    let off = stop
        .actions
        .iter()
        .any(|done| done.action == Action::SwitchOff);
    if off {
        notes.push(Note::caution(
            "A dryer that was off stands humid air on its desiccant: watch the dew point before the press draws.",
        ));
    }
    if let Some(edge) = stop.lower_edge_ppm_wet {
        notes.push(Note::doubt(format!(
            "Below {} this resin is too dry: it grows stiff in the melt, and a long stop does that sooner than it cooks.",
            ppm(edge)
        )));
    }
    notes
}
