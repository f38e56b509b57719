//! Which dryer is recommended, and the reason in a sentence.

use crate::compare::{Compared, HopperAsked, RunAsked};
use crate::stand::MARGIN_SHARE;
use quantity::digits;
use serde::Serialize;

/// Share of draws that must meet the limit for a dryer to be counted as meeting it.
pub use crate::stand::SURE as ENOUGH;

/// Which dryer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Choice {
    /// The dryer, by its place; none where none meets the limit.
    pub dryer: Option<usize>,
    /// The reason.
    pub reason: String,
}

impl Choice {
    /// None, for a reason.
    pub(super) fn none(reason: String) -> Self {
        Self {
            dryer: None,
            reason,
        }
    }
}

/// The cheapest that is sure enough; where none is, the surest is named and not recommended.
pub(super) fn choose(dryers: &[Compared], runs: &[RunAsked], currency: Option<&str>) -> Choice {
    let cost = |dryer: &Compared| {
        dryer
            .year
            .money
            .map_or(dryer.year.energy_kwh_kg, |money| money.counted_per_kg)
    };
    let told = |dryer: &Compared| match (dryer.year.money, currency) {
        (Some(money), Some(currency)) => {
            format!("{} {currency} per kg", digits(money.counted_per_kg, 2))
        }
        _ => format!("{} kWh per kg", digits(dryer.year.energy_kwh_kg, 2)),
    };
    let sure: Vec<usize> = (0..dryers.len())
        .filter(|index| dryers[*index].unfit.is_none() && least(&dryers[*index]) >= ENOUGH)
        .collect();
    let cheapest = sure
        .iter()
        .copied()
        .min_by(|a, b| cost(&dryers[*a]).total_cmp(&cost(&dryers[*b])));
    let Some(index) = cheapest else {
        return none_of(dryers, runs);
    };
    let chosen = &dryers[index];
    let others = if sure.len() == 1 {
        "the only one that does"
    } else {
        "the least of those that do"
    };
    Choice {
        dryer: Some(index),
        reason: format!(
            "{}: it meets the limit in {} draws on every day, at {}, {others}",
            chosen.title,
            draws(least(chosen)),
            told(chosen),
        ),
    }
}

/// How many of the draws that is, in words.
fn draws(share: f64) -> String {
    if share < 1.0 {
        format!("at least {} of the", percent(share))
    } else {
        "all".to_owned()
    }
}

/// Share of the draws on the worst day.
fn least(dryer: &Compared) -> f64 {
    let days = dryer.days.iter().map(|day| day.probability);
    days.fold(1.0, f64::min)
}

/// Of which resin a limit is missed most often, where there are several hoppers.
fn tightest(dryer: &Compared) -> String {
    let hoppers = || dryer.days.iter().flat_map(|day| &day.hoppers);
    let first = hoppers().next().map(|hopper| &hopper.resin);
    let worst = hoppers().min_by(|a, b| a.probability.total_cmp(&b.probability));
    match worst {
        Some(worst) if hoppers().any(|hopper| Some(&hopper.resin) != first) => {
            format!(" of {}", worst.resin)
        }
        _ => String::new(),
    }
}

fn percent(share: f64) -> String {
    format!("{} %", digits(100.0 * share, 2))
}

/// No dryer is sure enough: which comes nearest.
fn none_of(dryers: &[Compared], runs: &[RunAsked]) -> Choice {
    let hoppers = || runs.iter().flat_map(|run| &run.hoppers);
    // A hopper that is already as long as its resin bears is no cure, nor is one for a doubtful record.
    let longest = hoppers().any(|hopper| hopper.residence_h > MARGIN_SHARE * hopper.hold_h);
    let doubtful = hoppers().any(HopperAsked::is_far_slower);
    let mend = if doubtful {
        "a resin better known comes first: measure one sample after the customary time"
    } else if longest {
        "the stay is already about as long as the resin bears, so it takes a resin better known or a drier lot"
    } else {
        "it takes more time in the hopper, not another dryer, or a resin better known"
    };
    let fit = || dryers.iter().filter(|dryer| dryer.unfit.is_none());
    if fit().next().is_none() {
        return Choice::none(
            "none: each gives hotter air than was asked, cooks the resin, or is made for cooler air".to_owned(),
        );
    }
    let surest = fit().max_by(|a, b| least(a).total_cmp(&least(b)));
    let reason = surest.map_or_else(
        || "there is no dryer to choose from".to_owned(),
        |dryer| {
            format!(
                "none: {} comes nearest and meets the limit{} in {} of the draws on its worst day ({}); {mend}",
                dryer.title,
                tightest(dryer),
                percent(least(dryer)),
                dryer.worst_day
            )
        },
    );
    Choice::none(reason)
}
