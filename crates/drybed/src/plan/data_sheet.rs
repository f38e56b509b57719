//! What the data sheet says beside what is computed here, and why the two differ.

use super::PlanAnswer;
use crate::speech::{Measure, Speech, hours, ppm};
use decide::data_sheet::{SheetBeside, SheetRun};
use document::{Block, Cell, Column, Grade, Note, Row, Section, Table};
use quantity::digits;

/// Hours, and share of the whole, below which a part of the time is not worth naming.
const LEAST: f64 = 0.05;

/// The margin's word on the data sheet; none where the job has none.
pub(super) fn note(answer: &PlanAnswer, speech: Speech) -> Option<Note> {
    let sheet = answer.plan.data_sheet.as_ref()?;
    let run = sheet.run.as_ref()?;
    Some(Note::doubt(sentence(answer, sheet, run, speech)))
}

/// The section on the data sheet; none where the job has none.
pub(super) fn section(answer: &PlanAnswer, speech: Speech) -> Option<Section> {
    let sheet = answer.plan.data_sheet.as_ref()?;
    let mut blocks = vec![Block::table(side_by_side(answer, sheet, speech))];
    let summary = match &sheet.run {
        Some(run) => {
            blocks.push(Block::table(made_of(run, speech)));
            sentence(answer, sheet, run, speech)
        }
        None => "It states no time, so there is no setting of it to run.".into(),
    };
    blocks.extend(remarks(answer, sheet, speech).into_iter().map(Block::text));
    Some(Section {
        title: "Beside the data sheet".into(),
        summary,
        blocks,
    })
}

/// Whose data sheet, at the beginning of a sentence.
fn head(sheet: &SheetBeside) -> String {
    match &sheet.grade {
        Some(grade) => format!("The data sheet of {grade}"),
        None => "The data sheet".to_owned(),
    }
}

/// What its setting would do here, and why.
fn sentence(answer: &PlanAnswer, sheet: &SheetBeside, run: &SheetRun, speech: Speech) -> String {
    let limit = ppm(answer.plan.outlet.limit_ppm_wet);
    let at = speech.say(Measure::Temperature, run.air_temperature_c);
    let heat = match sheet.range_c {
        Some((low, high)) if high > low => format!(
            "{} to {}",
            digits(speech.number(Measure::Temperature, low).round(), 6),
            speech.say(Measure::Temperature, high)
        ),
        _ if sheet.temperature_c.is_none() => format!("no temperature, here {at},"),
        _ => at,
    };
    let setting = format!(
        "{} says {heat} for {}; run here that leaves {}",
        head(sheet),
        hours(run.residence_h),
        ppm(run.mean_ppm_wet)
    );
    if run.sticks {
        return format!("{setting}, but the pellets, as wet as they enter, would stick.");
    }
    if run.too_dry {
        return format!("{setting}, too dry: its time is for wetter resin.");
    }
    let missing = and(&names(run, false));
    let short = run.needed_h - run.residence_h;
    if !run.meets_limit {
        return format!(
            "{setting}, above the limit of {limit}: {} are needed, and its time does not cover \
             {missing}.",
            hours(run.needed_h)
        );
    }
    if short > LEAST * run.needed_h && !missing.is_empty() {
        return format!(
            "{setting}, within the limit of {limit} on the mean, but {} are needed with everything: \
             its time does not cover {missing}.",
            hours(run.needed_h)
        );
    }
    let spare = run.residence_h - run.needed_h;
    let wetter = run.dries_from_ppm_wet.map_or_else(String::new, |from| {
        format!(": it would do for resin arriving at {}", ppm(from))
    });
    if spare > LEAST * run.needed_h {
        format!(
            "{setting}, within the limit of {limit}, with {} more than this job needs{wetter}.",
            hours(spare)
        )
    } else {
        format!("{setting}, within the limit of {limit}, and agrees with what is computed.")
    }
}

/// The parts of the time that the data sheet covers whole, or does not.
fn names(run: &SheetRun, covered: bool) -> Vec<&'static str> {
    let worth = LEAST * run.needed_h;
    run.parts
        .iter()
        .filter(|part| part.hours > worth)
        .filter(|part| (part.hours - part.covered_h <= worth) == covered)
        .map(|part| words(part.name))
        .collect()
}

/// A part of the time as a reason.
fn words(name: &'static str) -> &'static str {
    match name {
        "diffusion in the mean pellet" => "the diffusion in pellets of this size",
        "diffusion, as from a sealed bag" => "even the diffusion in pellets from a sealed bag",
        "arriving wetter than from a sealed bag" => "resin that arrives wetter than a sealed bag",
        "heating the bed" => "the heating of the bed",
        "heat lost through the wall" => "the heat lost through the wall",
        "fast streams" => "the fast streams of a hopper",
        "big pellets" => "the big pellets",
        "wettest lot" => "the wettest usual lot",
        "margin" => "the margin for what is not known",
        other => other,
    }
}

fn side_by_side(answer: &PlanAnswer, sheet: &SheetBeside, speech: Speech) -> Table {
    let plan = &answer.plan;
    let degrees = |c: f64| speech.number(Measure::Temperature, c);
    let degree = speech.unit(Measure::Temperature);
    let drying = &answer.job.resin.drying;
    let hold = drying.hold.value.hours();
    let row = |what: &str, stated: Option<f64>, here: f64, count: u8, unit: &str| {
        Row::new(vec![
            Cell::text(what),
            stated.map_or(Cell::Blank, |value| {
                Cell::precise(value, count, Grade::Computed)
            }),
            Cell::precise(here, count, Grade::Computed),
            Cell::text(unit),
        ])
    };
    let settings = &plan.settings;
    Table {
        caption: "What the data sheet says, and what is planned here".into(),
        columns: ["what", "data sheet", "planned", "unit"]
            .map(Column::new)
            .to_vec(),
        rows: vec![
            row(
                "air temperature",
                sheet.temperature_c.map(degrees),
                degrees(settings.air_temperature_c),
                3,
                degree,
            ),
            row("time", sheet.time_h, settings.residence_h, 2, "h"),
            row(
                "frost point",
                sheet.frost_point_c.map(degrees),
                degrees(settings.frost_point_c),
                2,
                degree,
            ),
            row(
                "limit",
                sheet.limit_ppm_wet,
                plan.outlet.limit_ppm_wet,
                3,
                "ppm",
            ),
            row("longest stay", sheet.hold_h, hold, 2, "h"),
            row(
                "moisture that leaves",
                sheet.run.as_ref().map(|run| run.mean_ppm_wet),
                plan.outlet.mean_ppm_wet.value,
                2,
                "ppm",
            ),
        ],
    }
}

fn made_of(run: &SheetRun, speech: Speech) -> Table {
    let number = |value: f64| {
        let value = (100.0 * value).round() / 100.0;
        Cell::number(value, Grade::Computed)
    };
    let mut rows: Vec<Row> = run
        .parts
        .iter()
        .map(|part| {
            Row::new(vec![
                Cell::text(part.name),
                number(part.hours),
                number(part.covered_h),
            ])
        })
        .collect();
    rows.push(Row::new(vec![
        Cell::text("all together"),
        number(run.needed_h),
        number(run.residence_h),
    ]));
    Table {
        caption: format!(
            "What this job needs at the data sheet's {}, and how far its {} reach",
            speech.say(Measure::Temperature, run.air_temperature_c),
            hours(run.residence_h)
        ),
        columns: vec![
            Column::new("for"),
            Column::with_unit("needed", "h"),
            Column::with_unit("covered", "h"),
        ],
        rows,
    }
}

fn remarks(answer: &PlanAnswer, sheet: &SheetBeside, speech: Speech) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(run) = &sheet.run {
        let covered = names(run, true);
        if !covered.is_empty() {
            said.push(format!("Its time covers {}.", and(&covered)));
        }
        if let Some(from) = run.dries_from_ppm_wet {
            said.push(format!(
                "Run here its setting just meets the limit for resin arriving at {}; this lot arrives \
                 at {}.",
                ppm(from),
                ppm(answer.plan.outlet.arriving_ppm_wet)
            ));
        }
        if !run.taken_from_plan.is_empty() {
            said.push(format!(
                "It does not state the {}: taken as planned here.",
                and(&run.taken_from_plan)
            ));
        }
    }
    let window = |c: f64| digits(speech.number(Measure::Temperature, c).round(), 6);
    let range = if sheet.window_high_c - sheet.window_low_c < 0.5 {
        format!(
            "{} {}",
            window(sheet.window_high_c),
            speech.unit(Measure::Temperature)
        )
    } else {
        format!(
            "{} to {} {}",
            window(sheet.window_low_c),
            window(sheet.window_high_c),
            speech.unit(Measure::Temperature)
        )
    };
    said.push(if sheet.outside {
        format!("The air temperature planned lies outside the window of {range}.")
    } else if answer.job.target.outside_window {
        format!(
            "The window is {range}; the job allows to recommend a temperature outside it, and the \
             one planned lies inside."
        )
    } else {
        format!(
            "Nothing outside the window of {range} is recommended; the job does not ask for it."
        )
    });
    said.push(
        "A data sheet usually states a time for its own pellets from a sealed bag, or for a plain \
         oven, without heating of a bed, streams or margin; it outranks every number here that it \
         states. Common practice, no source."
            .to_owned(),
    );
    said
}

fn and(words: &[&str]) -> String {
    super::sentence::and(words)
}
