//! The set-points of the recommended dryer that take the least energy, as a section.

use super::words::short;
use crate::speech::{Measure, Speech};
use decide::set_points::{Bound, LeastEnergy, Outcome};
use document::{Block, Cell, Column, Grade, Row, Section, Table};
use quantity::digits;

/// The section for a dryer of a title.
pub(super) fn section(found: &LeastEnergy, title: &str, speech: Speech) -> Section {
    let name = short(title);
    let Some(least) = &found.least else {
        return Section {
            title: "Set-points at least energy".into(),
            summary: format!(
                "None of the set-points looked at lets {name} meet the limit in four of five draws on every \
                 day."
            ),
            blocks: vec![Block::table(table(&[("as planned", &found.now)], speech))],
        };
    };
    let saved = 100.0 * (1.0 - least.energy_kwh_kg / found.now.energy_kwh_kg);
    let summary = if saved >= 1.0 {
        format!(
            "{name} dries with {} % less energy at other set-points: {} instead of {}.",
            digits(saved, 2),
            speech.say(Measure::Energy, least.energy_kwh_kg),
            speech.say(Measure::Energy, found.now.energy_kwh_kg),
        )
    } else {
        format!("{name} is set about right: no other set-points looked at save energy.")
    };
    Section {
        title: "Set-points at least energy".into(),
        summary,
        blocks: vec![
            Block::table(table(
                &[("as planned", &found.now), ("at least energy", least)],
                speech,
            )),
            Block::text(format!(
                "{} Air temperature within the usual window, air flow between 0.4 and 1.6 of the planned, \
                 regeneration temperature and speed of a wheel were varied together; {} settings were run \
                 round the loop on every day, and draws through the whole loop confirm the last. The hopper \
                 stays as it is. Change one thing at a time, and measure the moisture after each.",
                rests_on(&found.bound_by),
                found.tried
            )),
        ],
    }
}

/// Where the search could not go on.
pub(super) fn not_searched(reason: &str) -> Section {
    Section {
        title: "Set-points at least energy".into(),
        summary: format!("They were not searched: {reason}."),
        blocks: Vec::new(),
    }
}

/// What keeps the energy from being less.
fn rests_on(bounds: &[Bound]) -> String {
    let words: Vec<&str> = bounds
        .iter()
        .map(|bound| match bound {
            Bound::Moisture => "the limit of moisture",
            Bound::Stay => "the longest stay",
            Bound::TooDry => "the lower edge of the window",
            Bound::Component => "a component that gives no more",
            Bound::Temperature => "an end of the usual air temperatures",
            Bound::AirFlow => "an end of the air flows looked at",
            Bound::Regeneration => "an end of the regeneration temperatures looked at",
            Bound::Speed => "an end of the wheel speeds looked at",
        })
        .collect();
    match words.split_last() {
        None => "Nothing in particular keeps it from less.".into(),
        Some((last, [])) => format!("What keeps it from less is {last}."),
        Some((last, rest)) => format!("What keeps it from less: {} and {last}.", rest.join(", ")),
    }
}

fn table(rows: &[(&str, &Outcome)], speech: Speech) -> Table {
    let optional = |value: Option<f64>, digits: u8| {
        value.map_or(Cell::Blank, |value| {
            Cell::precise(value, digits, Grade::Computed)
        })
    };
    let rows = rows.iter().map(|(name, outcome)| {
        let set = &outcome.set;
        Row::new(vec![
            Cell::text(*name),
            Cell::precise(
                speech.number(Measure::Temperature, set.air_temperature_c),
                3,
                Grade::Computed,
            ),
            Cell::precise(
                speech.number(Measure::Rate, set.air_flow_kg_h),
                3,
                Grade::Computed,
            ),
            optional(
                set.regeneration_c
                    .map(|celsius| speech.number(Measure::Temperature, celsius)),
                3,
            ),
            optional(set.turns_per_hour, 2),
            Cell::precise(outcome.outlet_ppm_wet, 2, Grade::Computed),
            Cell::precise(100.0 * outcome.probability, 3, Grade::Computed),
            Cell::precise(
                speech.number(Measure::Energy, outcome.energy_kwh_kg),
                2,
                Grade::Computed,
            ),
        ])
    });
    Table {
        caption: "Outlet, and draws that met the limit, on the worst day".into(),
        columns: vec![
            Column::new("set-points"),
            Column::with_unit("air", speech.unit(Measure::Temperature)),
            Column::with_unit("dry air", speech.unit(Measure::Rate)),
            Column::with_unit("regeneration", speech.unit(Measure::Temperature)),
            Column::with_unit("wheel", "1/h"),
            Column::with_unit("outlet", "ppm"),
            Column::with_unit("met", "%"),
            Column::with_unit("energy", speech.unit(Measure::Energy)),
        ],
        rows: rows.collect(),
    }
}
