//! The settings judged, who chose them, and the nearest safe ones.

use super::PlanAnswer;
use super::outlet::safe_words;
use super::sentence::{and, condensation};
use crate::speech::{Measure, Speech, hours};
use decide::answer::Settings;
use document::{Block, Cell, Column, Grade, Row, Section, Table};
use quantity::Units;

/// The section on settings.
pub(super) fn section(answer: &PlanAnswer, speech: Speech) -> Section {
    let plan = &answer.plan;
    let mut blocks = vec![Block::table(table(answer, speech))];
    let choice = if plan.chosen.is_empty() {
        "Everything was given and is judged as it is.".to_owned()
    } else {
        format!(
            "The job left the {} open; {} chosen here.",
            and(&plan.chosen),
            if plan.chosen.len() == 1 {
                "it was"
            } else {
                "they were"
            }
        )
    };
    blocks.push(Block::text(format!(
        "{} {choice}",
        super::lot::sound_but_undried(answer)
            .unwrap_or_else(|| safe_words(plan.verdict).to_owned())
    )));
    if plan.nearest_safe.is_some() {
        blocks.push(Block::text(
            "The nearest safe settings keep the rate; they keep the vessel where its level can fall, \
             and want another hopper only where a longer stay is needed.",
        ));
    }
    let holds = answer.crystallised_only();
    let only = match holds {
        Some(_) => " For crystallised pellets only.",
        None => "",
    };
    blocks.splice(0..0, holds.map(Block::text));
    let chosen = &plan.settings;
    Section {
        title: "Settings".into(),
        summary: format!(
            "{} for {}, {} of air (counted at {} and 1 atm) at {}, {} of hopper filled to {} %.{only}",
            speech.say(Measure::Temperature, chosen.air_temperature_c),
            hours(chosen.residence_h),
            speech.say(Measure::Stream, chosen.air_flow_m3_h_at_20_c),
            speech.say(Measure::Temperature, 20.0),
            condensation(chosen.frost_point_c, speech),
            speech.say(Measure::Volume, chosen.hopper_volume_l),
            quantity::digits(100.0 * chosen.fill, 3)
        ),
        blocks,
    }
}

/// One line of the table: name, unit, digits, number, and the choice it belongs to.
struct Line {
    what: String,
    unit: &'static str,
    number: fn(&Settings) -> f64,
    measure: Option<Measure>,
    choice: Option<&'static str>,
}

fn table(answer: &PlanAnswer, speech: Speech) -> Table {
    let plan = &answer.plan;
    let cell = |line: &Line, settings: &Settings| {
        let value = (line.number)(settings);
        let value = line.measure.map_or(value, |m| speech.number(m, value));
        Cell::precise(value, 3, Grade::Computed)
    };
    let rows = lines(speech).into_iter().map(|line| {
        let from = match line.choice {
            Some(name) if plan.chosen.contains(&name) => "chosen here",
            Some(_) => "given",
            None => "follows",
        };
        let mut cells = vec![Cell::text(&line.what), cell(&line, &plan.settings)];
        cells.extend(plan.nearest_safe.iter().map(|safe| cell(&line, safe)));
        cells.push(Cell::text(line.unit));
        cells.push(Cell::text(from));
        Row::new(cells)
    });
    let mut columns = vec![Column::new("setting"), Column::new("judged")];
    columns.extend(
        plan.nearest_safe
            .iter()
            .map(|_| Column::new("nearest safe")),
    );
    columns.push(Column::new("unit"));
    columns.push(Column::new("from"));
    Table {
        caption: "What to set".into(),
        columns,
        rows: rows.collect(),
    }
}

fn lines(speech: Speech) -> Vec<Line> {
    let line = |what: &str, measure: Measure, choice, number| Line {
        what: what.into(),
        unit: speech.unit(measure),
        number,
        measure: Some(measure),
        choice,
    };
    let plain = |what: &str, unit, choice, number| Line {
        what: what.into(),
        unit,
        number,
        measure: None,
        choice,
    };
    let counted = match speech.0 {
        Units::Metric => "air flow, counted at 20 °C and 1 atm",
        Units::UsCustomary => "air flow, counted at 68 °F and 1 atm",
    };
    let per = match speech.0 {
        Units::Metric => "kg/kg",
        Units::UsCustomary => "lb/lb",
    };
    let (hopper, flow) = (Some("hopper"), Some("air flow"));
    vec![
        line(
            "air temperature at the inlet",
            Measure::Temperature,
            Some("air temperature"),
            |s| s.air_temperature_c,
        ),
        plain("residence above the inlet", "h", hopper, |s| s.residence_h),
        line("air flow, dry air", Measure::Rate, flow, |s| {
            s.air_flow_kg_h
        }),
        line(counted, Measure::Stream, flow, |s| s.air_flow_m3_h_at_20_c),
        plain("air per resin", per, None, |s| s.air_per_resin_kg_kg),
        line(
            "frost point, dew point above freezing",
            Measure::Temperature,
            Some("frost point"),
            |s| s.frost_point_c,
        ),
        line("humidity ratio", Measure::Humidity, None, |s| {
            s.humidity_g_kg
        }),
        line("resin above the inlet, dry", Measure::Mass, hopper, |s| {
            s.bed_mass_kg
        }),
        line("resin below the inlet, dry", Measure::Mass, None, |s| {
            s.below_inlet_kg
        }),
        line("hopper volume", Measure::Volume, hopper, |s| {
            s.hopper_volume_l
        }),
        plain("level, share of the volume", "%", None, |s| 100.0 * s.fill),
        line("inner diameter", Measure::Width, None, |s| s.diameter_mm),
        line("bed above the inlet", Measure::Height, None, |s| {
            1e-3 * s.bed_height_mm
        }),
    ]
}
