//! The window of rates that a hopper with its air carries.

use super::surface::only;
use super::{PlanAnswer, surface};
use crate::speech::{Measure, Speech, hours, percent};
use decide::answer::{RateEnd, Verdict};
use document::{Block, Cell, Column, Grade, Row, Section, Table};

/// The window of rates; nothing where no rate mends or spoils the drying.
pub(super) fn rates(answer: &PlanAnswer, speech: Speech) -> Option<Section> {
    if only(answer) || super::lot::nothing_left(answer) {
        return None;
    }
    let plan = &answer.plan;
    let window = &plan.rate_window;
    let say = |end: &RateEnd| speech.say(Measure::Rate, end.rate_kg_h);
    let summary = match (&window.least, &window.most) {
        (Some(least), Some(most)) if least.rate_kg_h > most.rate_kg_h => format!(
            "No rate does: up to {} it is dry, from {} on it does not stay too long.",
            say(most),
            say(least)
        ),
        (Some(least), Some(most)) => {
            format!("This hopper and air carry {} to {}.", say(least), say(most))
        }
        (None, Some(most)) => format!("This hopper and air carry up to {}.", say(most)),
        (Some(_) | None, None) => {
            "No rate surely meets the limit in this hopper and air.".to_owned()
        }
    };
    let below = window
        .most
        .is_none_or(|most| most.rate_kg_h < plan.rate_kg_h);
    let summary = if below && plan.verdict == Verdict::InWindow {
        format!(
            "{summary} As planned the limit is met in {}; here the draws also doubt what the hopper holds, and \
             a standard error is kept.",
            percent(plan.outlet.probability_within)
        )
    } else {
        summary
    };
    let end = |name: &str, end: &Option<RateEnd>, none: &str| match end {
        Some(end) => Row::new(vec![
            Cell::text(name),
            Cell::precise(
                speech.number(Measure::Rate, end.rate_kg_h),
                3,
                Grade::Computed,
            ),
            Cell::text(surface::limit(answer, end.bound_by)),
        ]),
        None => Row::new(vec![Cell::text(name), Cell::Blank, Cell::text(none)]),
    };
    let now = Row::new(vec![
        Cell::text("as planned"),
        Cell::precise(
            speech.number(Measure::Rate, plan.rate_kg_h),
            3,
            Grade::Computed,
        ),
        Cell::Blank,
    ]);
    Some(Section {
        title: "The window of rates".into(),
        summary,
        blocks: vec![
            Block::table(Table {
                caption: "Rates that hopper and air allow".into(),
                columns: vec![
                    Column::new("end"),
                    Column::with_unit("rate", speech.unit(Measure::Rate)),
                    Column::new("bound by"),
                ],
                rows: vec![
                    end("most", &window.most, "no rate meets the limit"),
                    now,
                    end("least", &window.least, "nothing"),
                ],
            }),
            Block::text(
                "Hopper, fill, air flow, temperature and humidity are kept. Up to the most the \
                 limit is met in four of five draws of the doubt or more. Below the least rate \
                 the pellets stay longer, or become drier, than they bear: lower the level or the \
                 temperature then, or draw and put back.",
            ),
            Block::text(borne(answer, speech)),
        ],
    })
}

/// How long a stay is borne, and how that is known.
fn borne(answer: &PlanAnswer, speech: Speech) -> String {
    let plan = &answer.plan;
    let by = if answer.job.resin.drying.hold_energy.is_some() {
        "the activation energy of its record"
    } else {
        "100 kJ/mol, by analogy with the oxidation of polyamide and of rubber in styrenics, since its \
         record names no activation energy; over 20 degrees that is in doubt by a factor of 1.5"
    };
    format!(
        "Air of {} is borne for {}: the figure of practice at {} is carried over by {by}.",
        speech.say(Measure::Temperature, plan.settings.air_temperature_c),
        hours(plan.map.hold_h),
        speech.say(Measure::Temperature, plan.customary_temperature_c),
    )
}
