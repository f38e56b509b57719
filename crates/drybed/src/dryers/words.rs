//! What a cell is called in words.

use crate::speech::{Measure, Speech};
use decide::compare::{Comparison, HopperAsked, RunAsked};
use quantity::digits;

/// What is asked, as a question.
pub(super) fn question(compared: &Comparison, speech: Speech) -> String {
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
    let runs: Vec<String> = compared
        .runs
        .iter()
        .map(|run| of_run(run, speech))
        .collect();
    format!("Which dryer for {}?", runs.join("; then "))
}

/// The hoppers of a run and its part of the time.
fn of_run(run: &RunAsked, speech: Speech) -> String {
    let hoppers: Vec<String> = run
        .hoppers
        .iter()
        .map(|hopper| {
            format!(
                "{} at {}",
                hopper.resin,
                speech.say(Measure::Rate, hopper.rate_kg_h)
            )
        })
        .collect();
    let share = digits(100.0 * run.share, 2);
    format!("{} for {share} % of the time", hoppers.join(" with "))
}

/// What a hopper of a run is called in a table.
pub(super) fn hopper(compared: &Comparison, run: usize, hopper: usize) -> String {
    let asked = compared
        .runs
        .get(run)
        .and_then(|run| run.hoppers.get(hopper));
    asked.map_or_else(String::new, |asked| asked.resin.clone())
}

/// Whether one hopper in one run is all.
pub(super) fn is_one_job(compared: &Comparison) -> bool {
    compared
        .runs
        .iter()
        .map(|run| run.hoppers.len())
        .sum::<usize>()
        == 1
}
