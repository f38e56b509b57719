//! What a cell is called in words.

use crate::speech::{Measure, Speech, capital};
use decide::compare::{Comparison, HopperAsked, RunAsked};
use decide::size::Measured;
use decide::smallest::BelowUsual;
use document::{Cell, Note};
use quantity::digits;

/// What is asked, as a question.
pub(crate) fn question(compared: &Comparison, speech: Speech) -> String {
    let hoppers: Vec<&HopperAsked> = compared.runs.iter().flat_map(|run| &run.hoppers).collect();
    if let [one] = hoppers[..] {
        return format!(
            "Which dryer for {} at {}, {} of dry air at {} in a hopper of {} h?",
            one.resin,
            speech.say(Measure::Rate, one.rate_kg_h),
            speech.say(Measure::Rate, one.air_flow_kg_h),
            speech.say(Measure::Temperature, one.air_temperature_c),
            digits(one.residence_h, 2),
        );
    }
    format!("Which dryer for {}?", jobs(&compared.runs, speech))
}

/// What is dried, run after run.
pub(crate) fn jobs(runs: &[RunAsked], speech: Speech) -> String {
    if let [run] = runs {
        return hoppers(run, speech);
    }
    let each = runs.iter().map(|run| {
        let share = digits(100.0 * run.share, 2);
        format!("{} for {share} % of the time", hoppers(run, speech))
    });
    each.collect::<Vec<_>>().join("; then ")
}

/// The hoppers of a run.
fn hoppers(run: &RunAsked, speech: Speech) -> String {
    let each = run.hoppers.iter().map(|hopper| {
        let rate = speech.say(Measure::Rate, hopper.rate_kg_h);
        format!("{} at {rate}", hopper.resin)
    });
    each.collect::<Vec<_>>().join(" with ")
}

/// A reason as a sentence.
pub(crate) fn sentence(reason: &str) -> String {
    format!("{}.", capital(reason))
}

/// The title without what is said of all that are sized by custom.
pub(crate) fn short(title: &str) -> &str {
    title.strip_suffix(", sized by custom").unwrap_or(title)
}

/// An estimate to two figures.
pub(super) fn about(value: f64) -> Cell {
    Cell::text(format!("≈\u{a0}{}", digits(value, 2)))
}

/// Where the stays of hoppers are not what practice gives.
pub(crate) fn against_practice(runs: &[RunAsked]) -> Vec<Note> {
    let hoppers = runs.iter().flat_map(|run| &run.hoppers);
    let told = hoppers.filter_map(HopperAsked::against_practice);
    told.map(|text| Note::doubt(sentence(&text))).collect()
}

/// What custom makes smaller than it is usually built.
pub(crate) fn below_usual(all: &[BelowUsual], speech: Speech) -> Vec<Note> {
    let told = |one: &BelowUsual| {
        let part = match one.part {
            "hopper" => format!("The hopper for {}", one.of),
            part => format!("The {part} of the {}", short(&one.of)),
        };
        let size = |measured: &Measured| {
            let measure = if measured.unit == "l" {
                Measure::Volume
            } else {
                Measure::Width
            };
            speech.say(measure, measured.value)
        };
        Note::caution(format!(
            "{part} comes to a {} of {}; below some {} hardly any is made (common practice, no source): take the \
             smallest that is sold, and compare it as one of your own.",
            one.measured.what,
            size(&one.measured),
            size(&one.smallest),
        ))
    };
    all.iter().map(told).collect()
}

/// Whether one hopper in one run is all.
pub(crate) fn is_one_job(compared: &Comparison) -> bool {
    compared
        .runs
        .iter()
        .map(|run| run.hoppers.len())
        .sum::<usize>()
        == 1
}
