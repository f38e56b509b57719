//! How a dryer is best run, as a document.

use super::PolicyAnswer;
use crate::plan::imprint;
use crate::speech::{Measure, Speech, hours, percent};
use decide::policy::{Policy, WayFound};
use document::{Block, Cell, Column, Document, Grade, Note, Row, Section, State, Table};
use quantity::{Units, digits};

impl PolicyAnswer {
    /// The policy as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let policy = &self.policy;
        let mut document = Document::new(
            format!(
                "How is the dryer of {} best run through days like these ({})?",
                policy.resin, policy.title
            ),
            answer(policy, speech),
            ways(policy, speech),
        );
        document.state = Some(if policy.verified.failed_by_the_way == 0 {
            State::InWindow
        } else {
            State::NotSure
        });
        document.notes = notes(self);
        document.sections = vec![settings(policy, speech), verified(policy, speech)];
        document.imprint = imprint();
        document
    }
}

fn answer(policy: &Policy, speech: Speech) -> String {
    let (best, constant) = (&policy.best, &policy.constant);
    let saved = 1.0 - best.energy_kwh_kg / constant.energy_kwh_kg;
    if best.way == constant.way {
        return "Run it constantly: no other way that was tried saves anything without loss."
            .to_owned();
    }
    let back = best.setback_c.map_or_else(
        || "Keep its set point".to_owned(),
        |back| {
            format!(
                "Set it back to {} when demand is below {} of the planned rate for {}, and up again above {}",
                speech.say(Measure::Temperature, back),
                percent(best.way.below),
                hours(best.way.after_s / 3600.0),
                percent(best.way.above)
            )
        },
    );
    let air = if best.way.least_air < 0.99 {
        format!(
            "; let the air follow demand down to {}",
            percent(best.way.least_air)
        )
    } else {
        String::new()
    };
    let held = &policy.verified;
    let proof = if held.failed_by_the_way == 0 {
        format!(
            "none of {} fresh weeks failed by it, so that with {} confidence at least {} of such weeks do not",
            held.weeks,
            percent(held.confidence),
            percent(held.least_share)
        )
    } else {
        format!(
            "{} of {} fresh weeks failed by it: do not use it as it is",
            held.failed_by_the_way, held.weeks
        )
    };
    format!(
        "{back}{air}. That takes {} less current than running constantly; {proof}.",
        percent(saved)
    )
}

fn ways(policy: &Policy, speech: Speech) -> Table {
    let mut rows = vec![row("constant", &policy.constant, speech)];
    rows.extend(
        policy
            .stated
            .as_ref()
            .map(|way| row("as stated", way, speech)),
    );
    rows.push(row("best found", &policy.best, speech));
    rows.push(row(
        "best found that knows the demand ahead",
        &policy.foresight,
        speech,
    ));
    Table {
        caption: format!(
            "On {} days that stand for all, with a resin at the wet end of its doubt; {} ways tried. The last row is no bound:              it is the best that was found",
            policy.days, policy.ways
        ),
        columns: vec![
            Column::new("way"),
            Column::with_unit("current", speech.unit(Measure::Energy)),
            Column::with_unit("wet", "%"),
            Column::with_unit("hot too long", "%"),
            Column::with_unit("too dry", "%"),
            Column::with_unit("longest stay used", "%"),
            Column::with_unit("press waits", "h"),
        ],
        rows,
    }
}

fn row(name: &str, found: &WayFound, speech: Speech) -> Row {
    let masses = &found.masses;
    let share = |kg: f64| Cell::precise(100.0 * kg / masses.all_kg.max(1e-9), 2, Grade::Computed);
    Row::new(vec![
        Cell::text(name),
        Cell::precise(
            speech.number(Measure::Energy, found.energy_kwh_kg),
            3,
            Grade::Computed,
        ),
        share(masses.wet_kg),
        share(masses.overstayed_kg),
        share(masses.too_dry_kg),
        Cell::precise(100.0 * found.longest_stay, 2, Grade::Computed),
        Cell::precise(found.waited_h, 2, Grade::Computed),
    ])
}

fn settings(policy: &Policy, speech: Speech) -> Section {
    let way = &policy.best.way;
    let row = |what: &str, value: String| Row::new(vec![Cell::text(what), Cell::text(value)]);
    let mut rows = vec![row(
        "set point",
        speech.say(Measure::Temperature, policy.set_point_c),
    )];
    if let Some(back) = policy.best.setback_c {
        rows.push(row("setback", speech.say(Measure::Temperature, back)));
        rows.push(row("setback_below", percent(way.below)));
        rows.push(row("setback_after", hours(way.after_s / 3600.0)));
        rows.push(row("recover_above", percent(way.above)));
    }
    rows.push(row("lag", hours(way.lag_s / 3600.0)));
    rows.push(row("least_air", percent(way.least_air)));
    Section {
        title: "The settings".to_owned(),
        summary: "As they stand in [control] of a schedule file.".to_owned(),
        blocks: vec![Block::table(Table {
            caption: "Of the best way that was found".to_owned(),
            columns: ["setting", "value"].map(Column::new).to_vec(),
            rows,
        })],
    }
}

fn verified(policy: &Policy, speech: Speech) -> Section {
    let held = &policy.verified;
    let energy = |value: f64| speech.say(Measure::Energy, value);
    let (mean, low, high) = held.energy_kwh_kg;
    Section {
        title: "On fresh weeks".to_owned(),
        summary: format!(
            "{} weeks, {} failed, {} of them by the way; {} ({} to {}).",
            held.weeks,
            held.failed,
            held.failed_by_the_way,
            energy(mean),
            energy(low),
            energy(high)
        ),
        blocks: vec![Block::text(format!(
            "Each week has stops, rates, lateness and instrument errors of its own, and a resin drawn from its doubt. A week              fails where more than one part in a thousand of the resin is wet, hot for too long or too dry; it fails by the              way where running constantly through the same week does not lose as much. Running constantly takes {} times the              current on the weeks where both were run. The most of the longest customary stay was {}.",
            digits(held.constant_over, 3),
            percent(held.longest_stay)
        ))],
    }
}

fn notes(answer: &PolicyAnswer) -> Vec<Note> {
    let mut notes = vec![
        Note::caution(
            "A set point that moves by itself heats hopper and pellets when nobody looks. Local codes, the resin maker's data              sheet and licensed practice decide.",
        ),
        Note::doubt(
            "Stops, spread of rates and lateness are those of [chances], or usual where it does not say (common practice, no              source). Other days want another way.",
        ),
        Note::source(format!(
            "Drawn from seed {}; the same seed gives the same answer.",
            answer.seed
        )),
    ];
    notes.extend(answer.read.iter().map(|note| Note::doubt(note.clone())));
    notes
}
