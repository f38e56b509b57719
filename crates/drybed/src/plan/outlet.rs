//! The moisture that leaves: the one table that makes the answer checkable, and how sure it is.

use super::{PlanAnswer, lot, surface, way};
use crate::speech::percent;
use decide::answer::Verdict;
use document::{Block, Cell, Column, Grade, Row, Section, State, Table};
use std::ops::Range;

/// Notes of the page that rows of the table lean on.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Leaning {
    /// The note on diffusivity.
    pub(super) diffusivity: Option<usize>,
    /// The note on the isotherm.
    pub(super) isotherm: Option<usize>,
    /// The note on the limit.
    pub(super) limit: Option<usize>,
}

/// Rows of the table that tell heart and surface apart.
const HEART_AND_SURFACE: Range<usize> = 4..6;

/// Moisture of what leaves, against its limit.
pub(super) fn table(answer: &PlanAnswer, leaning: Leaning) -> Table {
    let plan = &answer.plan;
    let out = &plan.outlet;
    let stands = |value: f64| stands(answer, value);
    let computed = |value: f64| Cell::precise(value, 2, Grade::Computed);
    let given = |value: f64| Cell::precise(value, 3, Grade::Computed);
    let row = |what: &str, cell, stands, notes: &[Option<usize>]| {
        let notes: Vec<usize> = notes.iter().flatten().copied().collect();
        Row::new(vec![Cell::text(what), cell, stands]).leaning_on(&notes)
    };
    let mean = out.mean_ppm_wet;
    let mean_cell = if plan.samples > 0 && mean.high > mean.low {
        Cell::ranged(mean.value, mean.low, mean.high, Grade::Computed)
    } else {
        computed(mean.value)
    };
    let Leaning {
        diffusivity,
        isotherm,
        limit: on_limit,
    } = leaning;
    let mut rows = vec![
        row(
            lot::limit_words(answer),
            given(out.limit_ppm_wet),
            Cell::Blank,
            &[on_limit],
        ),
        row(
            "mean of a shot",
            mean_cell,
            stands(mean.value),
            &[diffusivity, isotherm],
        ),
        row(
            "wettest 1 % of pellets, above",
            computed(out.wettest_percent_ppm_wet),
            stands(out.wettest_percent_ppm_wet),
            &[],
        ),
        row(
            "driest 1 % of pellets, below",
            computed(out.driest_percent_ppm_wet),
            stands(out.driest_percent_ppm_wet),
            &[],
        ),
        row(
            "heart of the mean pellet",
            computed(out.heart_ppm_wet),
            Cell::Blank,
            &[diffusivity],
        ),
        row(
            "surface of the mean pellet",
            computed(out.surface_ppm_wet),
            Cell::Blank,
            &[isotherm],
        ),
        row(
            "in equilibrium with the air: no time dries below",
            computed(out.floor_ppm_wet),
            Cell::Blank,
            &[isotherm],
        ),
        row(
            "as it arrives",
            given(out.arriving_ppm_wet),
            Cell::Blank,
            &[],
        ),
    ];
    if surface::only(answer) {
        // Nothing is inside that would differ from the surface.
        rows.drain(HEART_AND_SURFACE);
    }
    if let Some(edge) = out.lower_edge_ppm_wet.filter(|edge| *edge > 0.0) {
        rows.insert(
            1,
            row("too dry below", given(edge), Cell::Blank, &[on_limit]),
        );
    }
    if let Some(at_screw) = way::row(answer, stands) {
        rows.insert(2, at_screw);
    }
    rows.splice(0..0, lot::rows(answer));
    Table {
        caption: "Moisture leaving the hopper, wet basis".into(),
        columns: vec![
            Column::new("what"),
            Column::with_unit("moisture", "ppm"),
            Column::new("stands"),
        ],
        rows,
    }
}

/// Where a moisture stands against limit and lower edge.
fn stands(answer: &PlanAnswer, value: f64) -> Cell {
    let out = &answer.plan.outlet;
    Cell::state(if value > out.limit_ppm_wet {
        State::Wet
    } else if out.lower_edge_ppm_wet.is_some_and(|edge| value < edge) {
        State::TooDry
    } else {
        State::InWindow
    })
}

/// How sure the answer is, and how much pellets differ: two different things.
pub(super) fn how_sure(answer: &PlanAnswer) -> Section {
    let plan = &answer.plan;
    let out = &plan.outlet;
    let doubt = if plan.samples == 0 {
        "No doubt was sampled for this job, so nothing is said of how sure the mean is.".to_owned()
    } else {
        format!(
            "The range of the mean holds nine in ten of {} draws of what the evidence leaves open \
             (seed {}); in {} of them the limit is met.",
            plan.samples,
            plan.seed,
            percent(out.probability_within)
        )
    };
    let spread = format!(
        "Apart from that doubt pellets differ by size and by their way through the hopper: {} of \
         them leave above the limit, the wettest 1 % above {}, the driest 1 % below {}.",
        percent(out.share_above_limit),
        crate::speech::ppm(out.wettest_percent_ppm_wet),
        crate::speech::ppm(out.driest_percent_ppm_wet),
    );
    let mean_pellet = "The limit is held against the mean of a shot; single pellets above it are told \
                       and not judged. The mean of a shot counts pellets of all sizes on all streams; the mean pellet \
                       of the pictures is the one of middle size on the mean stream.";
    let summary = if plan.samples == 0 {
        format!(
            "{} of the pellets leave above the limit.",
            percent(out.share_above_limit)
        )
    } else {
        format!(
            "The limit is met in {} of the draws; {} of the pellets are above it.",
            percent(out.probability_within),
            percent(out.share_above_limit)
        )
    };
    Section {
        title: "How sure, and how even".into(),
        summary,
        blocks: vec![
            Block::text(doubt),
            Block::text(spread),
            Block::text(mean_pellet),
        ],
    }
}

/// Whether nothing stands against carrying the plan out.
pub(super) fn safe_words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::InWindow => "These settings meet the limit.",
        Verdict::NotSure => {
            "These settings meet the limit by the best value, but not surely: measure the moisture at \
             the throat before relying on them."
        }
        _ => "These settings are not to be used as they stand.",
    }
}
