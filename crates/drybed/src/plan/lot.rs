//! The lot: what each component brings to the screw, and which of them decides.

use super::PlanAnswer;
use super::sentence::{in_draws, number, ranged};
use crate::speech::{percent, ppm};
use decide::answer::{LotAnswer, LotPart, Ranged, Verdict};
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
            "{names} alone brings about as much water as the limit of {} allows: no drying of the \
             rest can make up for it, and the rest is held against the limit of the resin below.",
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
        blend(answer, lot),
        ppm(lot.screw_limit_ppm_wet)
    ))
}

/// Moisture of the blend with its range.
fn blend(answer: &PlanAnswer, lot: &LotAnswer) -> String {
    let range = Ranged {
        value: lot.screw_ppm_wet,
        low: lot.screw_low_ppm_wet,
        high: lot.screw_high_ppm_wet,
    };
    ranged(range, answer.plan.samples)
}

/// The whole answer where an undried component decides: what the blend has, what brings it, and how dry
/// or how little of it the blend bears with the usual margin.
pub(super) fn decided_undried(answer: &PlanAnswer) -> Option<String> {
    let verdict = answer.plan.verdict;
    if !matches!(verdict, Verdict::Wet | Verdict::NotSure) {
        return None;
    }
    // Where something of the limit is left, drying the rest longer may do as well.
    let lot = part_undried(answer).filter(|lot| lot.nothing_left)?;
    let name = lot.decides.as_ref()?;
    let part = lot
        .parts
        .iter()
        .find(|part| !part.dried && part.name == *name)?;
    let stands = match verdict {
        Verdict::Wet => "wet".to_owned(),
        _ => format!("not sure: met{} only", in_draws(answer)),
    };
    let mut mends = Vec::new();
    if let Some(below) = lot.dry_below_ppm_wet {
        mends.push(format!(
            "dry it below {} %",
            digits(rounded_down(1e-4 * below), 2)
        ));
    }
    if let Some(most) = lot.share_with_margin_percent.filter(|most| *most > 0.0) {
        mends.push(format!(
            "dose at most {} % instead of {} %",
            digits(rounded_down(most), 2),
            digits(part.share_percent, 3)
        ));
    }
    let mend = if mends.is_empty() {
        "other components must change first".to_owned()
    } else {
        format!(
            "{} (both keep the usual margin, and room for a wetter bag)",
            mends.join(" or ")
        )
    };
    let mend = if mends.len() == 1 {
        mend.replace("(both keep", "(which keeps")
    } else {
        mend
    };
    Some(format!(
        "The blend reaches the screw at {}, limit {}: {stands}; {name}, which is not dried, brings {} \
         of it: {mend}. {} leaves the hopper at {} and is dry.",
        blend(answer, lot),
        number(lot.screw_limit_ppm_wet),
        number(part.brings_ppm),
        answer.plan.resin,
        ranged(answer.plan.outlet.mean_ppm_wet, answer.plan.samples),
    ))
}

/// A number cut to two digits.
fn rounded_down(value: f64) -> f64 {
    let step = libm::pow(
        10.0,
        libm::floor(libm::log10(value.max(f64::MIN_POSITIVE))) - 1.0,
    );
    (value / step).floor() * step
}

/// The undried component that brings most of the water of the blend, in words; none where none does.
pub(super) fn undried_decides(answer: &PlanAnswer) -> Option<String> {
    let lot = answer.plan.lot.as_ref()?;
    let all: f64 = lot.parts.iter().map(|part| part.brings_ppm).sum();
    let mut undried = lot.parts.iter().filter(|part| !part.dried);
    let part = undried.find(|part| part.brings_ppm > MOST * all)?;
    Some(format!(
        "{}, which is not dried and brings {} of the water of the blend,",
        part.name,
        percent(part.brings_ppm / all)
    ))
}

/// That what is dried is sound, where only what joins undried must change.
pub(super) fn sound_but_undried(answer: &PlanAnswer) -> Option<String> {
    decided_undried(answer)?;
    let name = answer.plan.lot.as_ref()?.decides.as_ref()?;
    Some(format!(
        "The settings of {} are sound; only {name} must change.",
        answer.plan.resin
    ))
}

/// Share of the water of a lot from which on the component that brings it is named.
const MOST: f64 = 0.5;
/// Share of the water over the share of the lot from which on a component stands out.
const MORE: f64 = 1.2;

/// Which dried component holds the drying up most of all; nothing for a resin alone, or where none
/// stands out.
pub(super) fn most_of_all(answer: &PlanAnswer) -> Option<String> {
    let lot = answer.plan.lot.as_ref()?;
    let dried = || lot.parts.iter().filter(|part| part.dried);
    if dried().count() < 2 {
        return None;
    }
    let limit = answer.plan.outlet.limit_ppm_wet;
    let over = |part: &&LotPart| part.share_percent * (part.leaving_ppm_wet - limit);
    let worst = dried().max_by(|a, b| over(a).total_cmp(&over(b)))?;
    let all: f64 = dried().map(|part| part.brings_ppm).sum();
    let wettest = dried().max_by(|a, b| a.brings_ppm.total_cmp(&b.brings_ppm))?;
    let share = wettest.brings_ppm / all.max(f64::MIN_POSITIVE);
    if worst.leaving_ppm_wet > limit {
        let most = if wettest.name == worst.name {
            String::new()
        } else {
            format!(
                ", while {} of the water that is left comes with {}",
                percent(share),
                wettest.name
            )
        };
        return Some(format!(
            ", most of all in {}: {} as it leaves, over the limit{most}",
            worst.name,
            ppm(worst.leaving_ppm_wet)
        ));
    }
    // Named only where it brings more than its share of the lot.
    let weighed: f64 = dried().map(|part| part.share_percent).sum();
    let own = wettest.share_percent / weighed.max(f64::MIN_POSITIVE);
    (share > MOST && share > MORE * own).then(|| {
        format!(
            ", most of all in {}: {} of the water that is left",
            wettest.name,
            percent(share)
        )
    })
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
        Some(lot) if lot.nothing_left => "limit of the resin",
        Some(_) => "limit of what leaves the hopper",
        None => "limit at the throat",
    }
}

/// Whether what joins undried leaves nothing of the limit to what is dried.
pub(super) fn nothing_left(answer: &PlanAnswer) -> bool {
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
            if answer.plan.samples > 0 && lot.screw_high_ppm_wet > lot.screw_low_ppm_wet {
                Cell::ranged(
                    lot.screw_ppm_wet,
                    lot.screw_low_ppm_wet,
                    lot.screw_high_ppm_wet,
                    Grade::Computed,
                )
            } else {
                Cell::precise(lot.screw_ppm_wet, 2, Grade::Computed)
            },
            Cell::state(stands),
        ]),
    ]
}
