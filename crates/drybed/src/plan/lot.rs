//! The lot: what each component brings to the screw, and which of them decides.

use super::PlanAnswer;
use crate::speech::{percent, ppm};
use decide::answer::{LotAnswer, Verdict};
use document::{Block, Cell, Column, Grade, Row, Section, State, Table};
use quantity::digits;

/// The section on the lot; none for a resin alone.
pub(super) fn section(answer: &PlanAnswer) -> Option<Section> {
    let lot = answer.plan.lot.as_ref()?;
    let computed = |value: f64| Cell::precise(value, 2, Grade::Computed);
    let rows = lot.parts.iter().map(|part| {
        let joins = if part.dried {
            part.entry.word().to_owned()
        } else {
            format!("{}, not dried", part.entry.word())
        };
        Row::new(vec![
            Cell::text(format!("{} ({})", part.name, part.resin)),
            Cell::precise(part.share_percent, 3, Grade::Computed),
            Cell::text(joins),
            computed(part.arriving_ppm_wet),
            computed(part.leaving_ppm_wet),
            computed(part.brings_ppm),
        ])
    });
    let table = Table {
        caption: "What each component brings to the blend at the screw".into(),
        columns: vec![
            Column::new("component"),
            Column::with_unit("share", "%"),
            Column::new("joins at"),
            Column::with_unit("comes", "ppm"),
            Column::with_unit("throat", "ppm"),
            Column::with_unit("brings", "ppm"),
        ],
        rows: rows.collect(),
    };
    let most = lot
        .parts
        .iter()
        .max_by(|a, b| a.brings_ppm.total_cmp(&b.brings_ppm));
    let all: f64 = lot.parts.iter().map(|part| part.brings_ppm).sum();
    let share = most.map_or(0.0, |part| part.brings_ppm / all.max(f64::MIN_POSITIVE));
    let most = most.map_or("", |part| part.name.as_str());
    let summary = format!(
        "The blend reaches the screw at {}; {} of it comes with {most}.",
        ppm(lot.screw_ppm_wet),
        percent(share)
    );
    let mut blocks = vec![
        Block::table(table),
        Block::text(
            "Components that go through the hopper share its air and its temperature; each keeps its \
             own water, sizes and way. Shares are by mass of what the screw draws. What a component \
             brings is counted per dry blend, so that the sum is the moisture of the blend.",
        ),
    ];
    if let Some(undried) = undried(lot) {
        blocks.push(Block::text(undried));
    }
    Some(Section {
        title: "The lot".into(),
        summary,
        blocks,
    })
}

/// What the undried part leaves of the limit.
fn undried(lot: &LotAnswer) -> Option<String> {
    let names: Vec<&str> = lot
        .parts
        .iter()
        .filter(|part| !part.dried)
        .map(|part| part.name.as_str())
        .collect();
    if names.is_empty() {
        return None;
    }
    let names = super::sentence::and(&names);
    Some(if lot.nothing_left {
        format!(
            "{names} alone brings as much water as the limit of {} allows: no drying of the rest can \
             make up for it.",
            ppm(lot.screw_limit_ppm_wet)
        )
    } else {
        format!(
            "{names} joins at the throat as it comes, so the rest must leave the hopper at {} for \
             the blend to meet {}.",
            ppm(lot.hopper_limit_ppm_wet),
            ppm(lot.screw_limit_ppm_wet)
        )
    })
}

/// What the answer says of the blend, where part of it joins undried.
pub(super) fn sentence(answer: &PlanAnswer) -> Option<String> {
    let lot = part_undried(answer)?;
    Some(format!(
        "the blend at the screw has {} of {} allowed",
        ppm(lot.screw_ppm_wet),
        ppm(lot.screw_limit_ppm_wet)
    ))
}

/// What an undried component that decides does, and how much of it the blend bears.
pub(super) fn decided_undried(answer: &PlanAnswer) -> Option<String> {
    if answer.plan.verdict != Verdict::Wet {
        return None;
    }
    let lot = part_undried(answer)?;
    let name = lot.decides.as_ref()?;
    let part = lot
        .parts
        .iter()
        .find(|part| !part.dried && part.name == *name)?;
    let mend = match lot.largest_share_percent {
        Some(most) if most > 0.0 => format!(
            "dry it first, or dose {} % instead of {} %",
            digits(most, 2),
            digits(part.share_percent, 3)
        ),
        _ => "dry it first".to_owned(),
    };
    Some(format!(
        "{name}, which is not dried, brings the blend at the screw to {} of {} allowed: {mend}",
        ppm(lot.screw_ppm_wet),
        ppm(lot.screw_limit_ppm_wet)
    ))
}

/// Which components come with a moisture that was not measured.
pub(super) fn unmeasured(answer: &PlanAnswer) -> Option<String> {
    let job = &answer.job;
    if job.arrival.moisture.is_some() || job.arrival.storage.is_some() {
        return None;
    }
    let names: Vec<&str> = job
        .lot
        .iter()
        .filter(|component| component.moisture.is_none())
        .map(|component| component.name.as_str())
        .collect();
    (!names.is_empty()).then(|| {
        format!(
            "The moisture of {} is the usual one of an opened package, not measured on this lot.",
            super::sentence::and(&names)
        )
    })
}

/// What the limit of the moisture table is a limit of.
pub(super) fn limit_words(answer: &PlanAnswer) -> &'static str {
    match part_undried(answer) {
        Some(_) => "limit of what leaves the hopper",
        None => "limit at the throat",
    }
}

/// Whether what joins undried leaves nothing of the limit to what is dried.
pub(crate) fn nothing_left(answer: &PlanAnswer) -> bool {
    answer.plan.lot.as_ref().is_some_and(|lot| lot.nothing_left)
}

/// The lot, where part of it joins undried.
fn part_undried(answer: &PlanAnswer) -> Option<&LotAnswer> {
    let lot = answer.plan.lot.as_ref()?;
    lot.parts.iter().any(|part| !part.dried).then_some(lot)
}

/// Rows of the moisture table for the blend, where part of it joins undried.
pub(super) fn rows(answer: &PlanAnswer) -> Vec<Row> {
    let Some(lot) = part_undried(answer) else {
        return Vec::new();
    };
    let stands = if lot.screw_ppm_wet > lot.screw_limit_ppm_wet {
        State::Wet
    } else {
        State::InWindow
    };
    vec![
        Row::new(vec![
            Cell::text("limit of the blend at the screw"),
            Cell::precise(lot.screw_limit_ppm_wet, 3, Grade::Computed),
            Cell::Blank,
        ]),
        Row::new(vec![
            Cell::text("blend at the screw"),
            Cell::precise(lot.screw_ppm_wet, 2, Grade::Computed),
            Cell::state(stands),
        ]),
    ]
}
