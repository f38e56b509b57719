//! A dryer checked as a document.

use super::CheckedDryer;
use super::words::{CANNOT, first_of, mend};
use crate::equipment::of_own;
use crate::pictures;
use crate::plan::imprint;
use crate::speech::{Measure, Speech, capital, localised, percent, ppm};
use decide::check::{Belief, Cause, Checked, Compared, NextReading, SHOWN, Stand, Told, told_in};
use document::{Block, Cell, Column, Document, Grade, Note, Row, Section, State, Table};
use job::ReadingKind;
use quantity::{Units, digits};

/// Probability from which a cause has a row.
const SHOWN_FROM: f64 = 0.01;
/// Probability below which a dryer is said not to explain wet pellets, and above which it is said to.
const UNLIKELY: f64 = 0.2;
/// Probability below which splay is looked for elsewhere.
const ELSEWHERE: f64 = 0.02;
const LIKELY: f64 = 0.8;

impl CheckedDryer {
    /// The check as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let checked = &self.checked;
        let mut document = Document::new(
            format!(
                "What is wrong with the dryer ({}) of {}, {} at {}?",
                self.title,
                checked.resin,
                speech.say(Measure::Rate, checked.rate_kg_h),
                speech.say(Measure::Temperature, checked.air_temperature_c),
            ),
            answer(checked, speech),
            causes(checked, speech),
        );
        document.state = Some(state(checked));
        document.picture = Some(pictures::check(checked));
        document.notes = notes(self, speech);
        document.sections = vec![
            next(checked, speech),
            readings(self, speech),
            pellets(checked),
            cannot(checked),
        ];
        let record = self.record.iter();
        document
            .sections
            .extend(record.map(|record| of_own(record, units)));
        document.imprint = imprint();
        document
    }
}

/// How the dryer stands, and what it makes of the pellets: nothing is within its window while a fault is named.
fn state(checked: &Checked) -> State {
    match (checked.stand, checked.pellets.wet) {
        (Stand::NothingFits | Stand::PoorFit, _) => State::Unknown,
        (_, wet) if wet > LIKELY => State::Wet,
        (Stand::Healthy, wet) if wet < UNLIKELY => State::InWindow,
        _ => State::NotSure,
    }
}

fn answer(checked: &Checked, speech: Speech) -> String {
    let first = checked.causes.first();
    let named = |belief: &Belief| {
        let size = belief.size.as_ref();
        let size = size.map_or_else(String::new, |size| format!(": {}", localised(size, speech)));
        format!("{} ({}){size}", belief.name, sure(belief.probability))
    };
    let dryer = match (checked.stand, first) {
        (Stand::Healthy, _) => format!(
            "Nothing that was read speaks against the dryer ({} in good order)",
            sure(probability(checked, Cause::Healthy))
        ),
        (Stand::Fault, Some(first)) => {
            let most = capital(&format!("{}, most likely", named(first)));
            let mend = first_of(first.cause).trim_end_matches('.');
            let unit = unit_mixed_up(checked).unwrap_or_default();
            format!("{most}. {unit}{mend}")
        }
        (Stand::Several, Some(first)) => {
            let second = checked.causes.get(1);
            let second =
                second.map_or_else(String::new, |second| format!(", or {}", named(second)));
            format!("Something is wrong: {}{second}", named(first))
        }
        (Stand::PoorFit, Some(first)) => poor(checked, &named(first)),
        (Stand::NothingFits, _) | (_, None) => {
            "None of the known causes explains these readings; read again, the odd ones first"
                .into()
        }
        (Stand::Open, Some(_)) => format!(
            "These readings do not tell whether the dryer is in good order ({})",
            sure(probability(checked, Cause::Healthy))
        ),
    };
    match checked.stand {
        Stand::NothingFits => format!("{dryer}."),
        Stand::Fault | Stand::PoorFit => format!("{dryer}. {}.", capital(&throat(checked))),
        _ => format!("{dryer}; {}.", throat(checked)),
    }
}

/// What is said where the air is as hot as it would be if the number of the job were meant in the other unit.
fn unit_mixed_up(checked: &Checked) -> Option<String> {
    /// How near the two are, K.
    const NEAR: f64 = 4.0;
    let set = checked.air_temperature_c;
    let read = checked.readings.iter().find(|one| {
        matches!(
            one.of,
            ReadingKind::HopperInletTemperature | ReadingKind::DryerOutletTemperature
        )
    })?;
    let number = digits(set.round(), 6);
    ((set - 32.0) / 1.8 - read.read).abs().le(&NEAR).then(|| {
        format!(
            "The air is as hot as {number} °F, where the job says {number} °C: see which unit the controller counts \
             in. "
        )
    })
}

/// The likeliest cause does not fit: what speaks against it.
fn poor(checked: &Checked, first: &str) -> String {
    let against = checked
        .readings
        .iter()
        .max_by(|a, b| a.best_off.abs().total_cmp(&b.best_off.abs()));
    let against = against.map_or_else(String::new, |one| {
        format!(
            ". The {} speaks against it, by {} deviations: read that again first",
            one.of.words(),
            digits(one.best_off.abs(), 2)
        )
    });
    format!("No cause fits well; the nearest is {first}{against}")
}

/// What reaches the throat, and whether that explains splay.
fn throat(checked: &Checked) -> String {
    let pellets = &checked.pellets;
    let (middle, low, high) = pellets.throat_ppm_wet;
    let word = match (checked.stand, pellets.wet) {
        (_, wet) if wet > LIKELY => "which explains splay",
        (_, wet) if wet >= UNLIKELY => "which may explain splay",
        (Stand::Healthy, wet) if wet < ELSEWHERE => "so look elsewhere for splay",
        (Stand::Healthy | Stand::Open, _) => "so the dryer cannot be ruled out for splay",
        _ => "but until this is mended the dryer cannot be ruled out for splay",
    };
    let range = match (low < LEAST, high < LEAST) {
        (_, true) => String::new(),
        (true, false) => format!(" (up to {})", ppm(high)),
        (false, false) => format!(" ({} to {})", ppm(low), ppm(high)),
    };
    let at = if middle < LEAST { "" } else { "at " };
    format!(
        "the pellets reach the throat {at}{}{range}, limit {}, too wet with {}, {word}",
        small(middle),
        ppm(pellets.limit_ppm_wet),
        sure(pellets.wet)
    )
}

/// Moisture from which a number is told, ppm: below it nobody measures.
const LEAST: f64 = 1.0;

/// A moisture.
fn small(moisture: f64) -> String {
    if moisture < LEAST {
        "below 1 ppm".to_owned()
    } else {
        ppm(moisture)
    }
}

/// The same in a column of ppm.
fn small_cell(moisture: f64) -> Cell {
    if moisture < LEAST {
        Cell::text("below 1")
    } else {
        Cell::precise(moisture, 2, Grade::Computed)
    }
}

/// How far the readings lie from good order and from the first cause.
fn missed(checked: &Checked) -> String {
    let over = |(square, count): (f64, usize)| match count {
        0 => "by nothing that counts".to_owned(),
        1 => format!("by chi-square {} over 1 reading", digits(square, 2)),
        _ => format!("by chi-square {} over {count} readings", digits(square, 2)),
    };
    let (sound, best) = (checked.chi_square_healthy, checked.chi_square_best);
    format!(
        "the readings miss a dryer in good order {}, and the first cause {}",
        over(sound),
        over(best)
    )
}

fn probability(checked: &Checked, cause: Cause) -> f64 {
    let found = checked.causes.iter().find(|belief| belief.cause == cause);
    found.map_or(0.0, |belief| belief.probability)
}

fn causes(checked: &Checked, speech: Speech) -> Table {
    let rows = checked
        .causes
        .iter()
        .filter(|belief| belief.probability >= SHOWN_FROM)
        .take(8)
        .map(|belief| {
            let pellets = checked.pellets.causes.iter();
            let throat = pellets
                .clone()
                .find(|(cause, _, _)| *cause == belief.cause)
                .map(|(_, moisture, _)| *moisture);
            Row::new(vec![
                Cell::text(&belief.name),
                Cell::text(sure(belief.probability)),
                match &belief.size {
                    Some(size) => Cell::text(localised(size, speech)),
                    None => Cell::Blank,
                },
                throat.map_or(Cell::Blank, small_cell),
            ])
        });
    Table {
        caption: format!("What fits, one cause at a time; {}", missed(checked)),
        columns: vec![
            Column::new("cause"),
            Column::new("probability"),
            Column::new("how much"),
            Column::with_unit("throat", "ppm"),
        ],
        rows: rows.collect(),
    }
}

fn next(checked: &Checked, speech: Speech) -> Section {
    let first = checked.causes.first();
    let mut blocks = Vec::new();
    if let Some(first) = first.filter(|first| first.cause != Cause::Healthy) {
        blocks.push(Block::text(format!(
            "{}: {}",
            capital(&first.name),
            mend(first.cause)
        )));
    }
    blocks.extend(
        checked
            .next
            .iter()
            .map(|one| Block::text(outcomes(one, checked, speech))),
    );
    let summary = match checked.next.first() {
        Some(one) => format!("{}.", asked(one)),
        None => "No further reading would tell much more.".into(),
    };
    Section {
        title: "What to do, and what to read next".into(),
        summary,
        blocks,
    }
}

fn asked(next: &NextReading) -> String {
    if next.again {
        format!(
            "Read the {} again, with another instrument",
            next.of.words()
        )
    } else {
        format!("Read the {}", next.of.words())
    }
}

/// A reading to take, and what each cause expects of it.
fn outcomes(next: &NextReading, checked: &Checked, speech: Speech) -> String {
    let told = told_in(next.of);
    let name = |cause: Cause| {
        let found = checked.causes.iter().find(|belief| belief.cause == cause);
        found.map_or_else(|| cause.name(), |belief| belief.name.clone())
    };
    let each: Vec<String> = next
        .outcomes
        .iter()
        .map(|outcome| {
            format!(
                "{} ({} to {}): {}",
                said(told, outcome.value, speech),
                said(told, outcome.low, speech),
                said(told, outcome.high, speech),
                name(outcome.cause)
            )
        })
        .collect();
    format!(
        "{}. It would show {}. Worth {} bit.",
        asked(next),
        each.join("; "),
        digits(next.bits, 2)
    )
}

/// A number of a reading with its unit.
fn said(told: Told, value: f64, speech: Speech) -> String {
    match measure(told) {
        Some(measure) => speech.say(measure, value),
        None if told == Told::Moisture => small(value),
        None => format!("{} %", digits(value, 2)),
    }
}

fn measure(told: Told) -> Option<Measure> {
    match told {
        Told::Celsius | Told::Point => Some(Measure::Temperature),
        Told::Air | Told::Resin => Some(Measure::Rate),
        Told::Pascal => Some(Measure::Drop),
        Told::Percent | Told::Moisture => None,
    }
}

/// A reading as the user wrote it, so that it is found again on the sheet.
fn as_written(answer: &CheckedDryer, one: &Compared, speech: Speech) -> String {
    let written = answer.written.iter().find(|(of, _)| *of == one.of);
    written.map_or_else(
        || said(one.told, one.read, speech),
        |(_, text)| text.replace("deg", "°"),
    )
}

fn readings(answer: &CheckedDryer, speech: Speech) -> Section {
    let checked = &answer.checked;
    let first = checked.causes.first();
    let odd = checked
        .readings
        .iter()
        .max_by(|a, b| a.healthy_off.abs().total_cmp(&b.healthy_off.abs()));
    let summary = odd.map_or_else(String::new, |odd| {
        format!(
            "Furthest from good order: the {}, by {} deviations.",
            odd.of.words(),
            digits(odd.healthy_off, 2)
        )
    });
    let mut columns = vec![
        Column::new("reading"),
        Column::new("read"),
        Column::new("good order"),
    ];
    let others: Vec<&Belief> = checked
        .causes
        .iter()
        .take(SHOWN)
        .filter(|belief| belief.cause != Cause::Healthy)
        .collect();
    columns.extend(others.iter().map(|belief| Column::new(&belief.name)));
    columns.push(Column::new("off good order"));
    columns.push(Column::new("off the first"));
    let shown = |one: &Compared, value: f64| {
        let frost = if one.told == Told::Point && value < 0.0 {
            " frost"
        } else {
            ""
        };
        Cell::text(format!("{}{frost}", said(one.told, value, speech)))
    };
    let row = |one: &Compared| {
        let mut cells = vec![
            Cell::text(one.of.words()),
            Cell::text(as_written(answer, one, speech)),
            shown(one, one.healthy),
        ];
        for (belief, value) in checked.causes.iter().zip(&one.causes) {
            if belief.cause != Cause::Healthy {
                cells.push(shown(one, *value));
            }
        }
        cells.push(Cell::text(deviations(one.healthy_off)));
        cells.push(Cell::text(deviations(one.best_off)));
        Row::new(cells)
    };
    let mut blocks = vec![Block::table(Table {
        caption: "What was read, and what each of the likeliest causes would show; off by, in deviations of instrument \
                  and model together: beyond 2 is rare, beyond 3 is no chance"
            .into(),
        columns,
        rows: checked.readings.iter().map(row).collect(),
    })];
    if let Some((low, high)) = first.and_then(|first| first.range.as_ref()) {
        blocks.push(Block::text(format!(
            "Size of the first cause, nine in ten: {} … {}.",
            localised(low, speech),
            localised(high, speech)
        )));
    }
    Section {
        title: "The readings against what is expected".into(),
        summary,
        blocks,
    }
}

fn deviations(off: f64) -> String {
    let off = (10.0 * off).round() / 10.0;
    // Adding nothing makes a plain zero of a negative one.
    let number = digits(off + 0.0, 2);
    if off > 0.0 {
        format!("+{number}")
    } else {
        number
    }
}

fn pellets(checked: &Checked) -> Section {
    let pellets = &checked.pellets;
    let name = |cause: Cause| {
        let found = checked.causes.iter().find(|belief| belief.cause == cause);
        found.map_or_else(|| cause.name(), |belief| belief.name.clone())
    };
    let mut rows: Vec<Row> = pellets
        .causes
        .iter()
        .map(|(cause, moisture, wet)| row_of(name(*cause), *moisture, *wet))
        .collect();
    rows.push(row_of(
        "were it in good order".into(),
        pellets.healthy.0,
        pellets.healthy.1,
    ));
    let elsewhere = "Splay has other causes: moisture taken up after the hopper (conveying air, an open machine \
                     hopper, pauses), masterbatch dosed undried, shear and trapped air, a melt too hot, a wet lot that \
                     the job does not know of. Bubbles in the purge puddle speak for water; a clean puddle speaks \
                     against it.";
    Section {
        title: "What the pellets get".into(),
        summary: format!(
            "Above the limit of {} with {} over all causes.",
            ppm(pellets.limit_ppm_wet),
            sure(pellets.wet)
        ),
        blocks: vec![
            Block::table(Table {
                caption: "Moisture at the throat, and how likely it lies above the limit".into(),
                columns: vec![
                    Column::new("if"),
                    Column::with_unit("throat", "ppm"),
                    Column::new("too wet"),
                ],
                rows,
            }),
            Block::text(elsewhere),
        ],
    }
}

fn row_of(name: String, moisture: f64, wet: f64) -> Row {
    Row::new(vec![
        Cell::text(name),
        small_cell(moisture),
        Cell::text(sure(wet)),
    ])
}

fn cannot(checked: &Checked) -> Section {
    let rows = CANNOT
        .iter()
        .map(|(what, how)| Row::new(vec![Cell::text(*what), Cell::text(*how)]));
    let mut blocks = vec![Block::table(Table {
        caption: "Not to be seen in one round at rest".into(),
        columns: vec![Column::new("what"), Column::new("what would tell")],
        rows: rows.collect(),
    })];
    if !checked.unsolved.is_empty() {
        let names: Vec<String> = checked.unsolved.iter().map(|cause| cause.name()).collect();
        blocks.push(Block::text(format!(
            "The loop settles nowhere with: {}; these were left out.",
            names.join(", ")
        )));
    }
    Section {
        title: "What this round cannot tell".into(),
        summary: "Bridges, slugs, fines, exchanged hoses, two faults at once.".into(),
        blocks,
    }
}

fn notes(answer: &CheckedDryer, speech: Speech) -> Vec<Note> {
    let checked = &answer.checked;
    let dryer = match &answer.record {
        None => "The dryer is sized by custom, not by its maker".to_owned(),
        Some(record) => format!(
            "The dryer is that of its record ({}), its blower behind a damper that was set once; of its {} numbers and \
             words {} are stated and the others usual for the rated flow",
            record.title,
            record.known.len(),
            record.stated()
        ),
    };
    let doubt = speech.say(Measure::Step, checked.dew_point_doubt);
    let good = if checked.good_round {
        "a good round on the same dryer has narrowed that"
    } else {
        "a good round on the same dryer (good_round) narrows that"
    };
    vec![
        Note::caution(
            "Hot air, hot metal and hot pellets burn. Heaters, blowers and the drive of a wheel are switched off, \
             locked and tried before a cover comes off; current is measured by an electrician.",
        ),
        Note::caution(
            "Filters and hoppers hold dust that can burn or explode: no open flame, no blowing off with compressed air. \
             Regeneration exhaust is hot and carries what the resin gives off. Local codes, the resin maker's data \
             sheet and licensed practice decide.",
        ),
        Note::doubt(format!(
            "{dryer}; what its desiccant gives in good order is known within {doubt}, \
             one standard deviation, and {good}."
        )),
        Note::doubt(
            "One cause at a time is assumed. How often each is met is common practice, no source: the process filter \
             first. The probabilities hold for the causes on this list.",
        ),
        Note::source(
            "Every cause is solved as a closed loop of dryer and hopper; docs/check.md says how, and how often the true \
             cause is found.",
        ),
    ]
}

/// A probability, never surer than the list of causes is.
fn sure(probability: f64) -> String {
    if probability > 0.99 {
        "above 99 %".to_owned()
    } else if probability < 0.01 {
        "below 1 %".to_owned()
    } else {
        percent(probability)
    }
}
