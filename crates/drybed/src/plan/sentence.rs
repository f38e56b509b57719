//! The question of a plan in the user's words, and its answer in one sentence.

use super::{PlanAnswer, surface, way};
use crate::speech::{Measure, Speech, hours, percent, ppm};
use chart::rounded;
use decide::answer::{Limit, Ranged, Settings, ShortStay, StayBound, Verdict};
use document::State;

/// Share of the outlet moisture below which a thing is not worth naming as what limits.
const WORTH_NAMING: f64 = 0.05;

/// Residence at which the search for one ends, h.
pub(super) const LONGEST_LOOKED_AT_H: f64 = 47.9;

/// What was asked.
pub(super) fn question(answer: &PlanAnswer, speech: Speech) -> String {
    let plan = &answer.plan;
    let rate = speech.say(Measure::Rate, plan.rate_kg_h);
    let arriving = ppm(plan.outlet.arriving_ppm_wet);
    let given = |name: &str| !plan.chosen.contains(&name);
    let mut parts = vec![format!("arriving at {arriving}")];
    if given("hopper") {
        let volume = speech.say(Measure::Volume, plan.settings.hopper_volume_l);
        parts.push(format!("through a hopper of {volume}"));
    }
    let mut air = Vec::new();
    if given("air temperature") {
        air.push(speech.say(Measure::Temperature, plan.settings.air_temperature_c));
    }
    if given("frost point") {
        air.push(condensation(plan.settings.frost_point_c, speech));
    }
    if !air.is_empty() {
        parts.push(format!("with air at {}", air.join(" and ")));
    }
    let asked = if plan.chosen.is_empty() {
        "is it dry, and not cooked, when it leaves?".to_owned()
    } else {
        format!("which {} does it need?", and(&plan.chosen))
    };
    let title = if plan.title.trim().is_empty() {
        String::new()
    } else {
        format!("{}: ", plan.title.trim())
    };
    format!(
        "{title}{} at {rate}, {}: {asked}",
        plan.resin,
        parts.join(", ")
    )
}

/// The answer: moisture with its range, the wettest pellets, the limit, the verdict and what limits.
pub(super) fn answer(answer: &PlanAnswer, speech: Speech) -> String {
    if let Some(decided) = super::lot::decided_undried(answer) {
        return decided;
    }
    let plan = &answer.plan;
    let out = &plan.outlet;
    let leaves = format!(
        "{} at {} leaves at {}, wettest 1 % of pellets above {}{}",
        plan.resin,
        speech.say(Measure::Rate, plan.rate_kg_h),
        ranged(out.mean_ppm_wet, plan.samples),
        number(out.wettest_percent_ppm_wet),
        way::reaching(answer),
    );
    let limit = number(out.limit_ppm_wet);
    let mut sentence = format!("{leaves}, limit {limit}: {}", verdict(answer, speech));
    if let Some(blend) = super::lot::sentence(answer) {
        sentence = format!("{sentence}; {blend}");
    }
    if let Some(short) = &plan.short_stay {
        sentence = format!("{sentence}; {}", short_words(answer, short, speech));
    }
    if !answer.is_met() {
        let safe = plan
            .nearest_safe
            .as_ref()
            .map_or_else(nothing_safe, |s| nearest(answer, s, speech));
        sentence = format!("{sentence}; {safe}");
    }
    sentence.push('.');
    sentence
}

/// How the plan stands, as the house's sign; none where there is no plan.
pub(crate) fn state(verdict: Verdict) -> Option<State> {
    match verdict {
        Verdict::InWindow => Some(State::InWindow),
        Verdict::NotSure => Some(State::NotSure),
        Verdict::TooDry => Some(State::TooDry),
        Verdict::Wet => Some(State::Wet),
        Verdict::Cooked => Some(State::Cooked),
        Verdict::Sticks => Some(State::Fuses),
        Verdict::CrystalliseFirst => None,
    }
}

/// What limits the drying, in words.
pub(super) fn limit_words(limit: Limit) -> &'static str {
    match limit {
        Limit::Diffusion => "diffusion inside the pellets",
        Limit::AirHeat => "the heat that the air brings",
        Limit::DewPoint => "the humidity of the air",
        Limit::HeatLoss => "the heat lost through the wall",
        Limit::Sticking => "the temperature the pellets bear without sticking",
        Limit::OverDrying => "the time and dryness the pellets bear",
    }
}

/// A mean with its range, where one was sampled.
pub(super) fn ranged(value: Ranged, samples: usize) -> String {
    if samples == 0 || !(value.high > value.low) {
        return ppm(value.value);
    }
    let write = |number: f64| rounded(number, value.low, value.high);
    format!(
        "{} ppm ({} to {})",
        write(value.value),
        write(value.low),
        write(value.high)
    )
}

/// A frost point, or a dew point above freezing.
pub(crate) fn condensation(c: f64, speech: Speech) -> String {
    let kind = if c > 0.0 { "dew" } else { "frost" };
    format!("a {kind} point of {}", speech.say(Measure::Temperature, c))
}

fn verdict(answer: &PlanAnswer, speech: Speech) -> String {
    let plan = &answer.plan;
    let strongest = plan.limits.first().filter(|l| l.share >= WORTH_NAMING);
    let undried = super::lot::undried_decides(answer);
    let limits = match strongest {
        _ if undried.is_some() && surface::only(answer) => format!(
            "only surface water is dried, a matter of minutes, and {} decides",
            undried.unwrap_or_default()
        ),
        _ if undried.is_some() => format!("{} decides", undried.unwrap_or_default()),
        _ if surface::only(answer) => surface::DECIDES.to_owned(),
        Some(share) => format!(
            "{} decides{}",
            limit_words(share.limit),
            super::lot::most_of_all(answer).unwrap_or_default()
        ),
        None => "nothing holds the drying up for long".to_owned(),
    };
    match plan.verdict {
        Verdict::InWindow => format!("in window{}; {limits}", in_draws(answer)),
        Verdict::NotSure => format!("not sure: met{} only; {limits}", in_draws(answer)),
        Verdict::Wet if way::decides(answer) => {
            "wet at the screw; what the pellets take up on their way decides".to_owned()
        }
        Verdict::Wet if plan.samples > 0 => {
            format!("wet, the limit met{}; {limits}", in_draws(answer))
        }
        Verdict::Wet => format!("wet; {limits}"),
        Verdict::TooDry => {
            let edge = plan.outlet.lower_edge_ppm_wet.unwrap_or(0.0);
            format!("too dry, below the lower edge of {}", ppm(edge))
        }
        Verdict::Sticks => format!(
            "the pellets would stick: as wet as they enter they fuse from {}, and the air is {}",
            speech.say(Measure::Temperature, plan.map.sticking_c),
            speech.say(Measure::Temperature, plan.settings.air_temperature_c)
        ),
        Verdict::Cooked => format!(
            "cooked: they stay {} in air of {} where {} {} {}",
            hours(plan.settings.residence_h),
            speech.say(Measure::Temperature, plan.settings.air_temperature_c),
            plan.bears_least.as_deref().unwrap_or("they"),
            plan.bears_least.as_ref().map_or("bear", |_| "bears"),
            hours(plan.map.hold_h)
        ),
        // Told on a page of its own.
        Verdict::CrystalliseFirst => "to be crystallised first".to_owned(),
    }
}

/// In how many of the draws the limit is met; nothing where none were made.
pub(super) fn in_draws(answer: &PlanAnswer) -> String {
    if answer.plan.samples == 0 {
        return String::new();
    }
    format!(
        " in {} of the draws",
        percent(answer.plan.outlet.probability_within)
    )
}

/// Why the stay is shorter than limit and margin need, and what a larger hopper would give.
fn short_words(answer: &PlanAnswer, short: &ShortStay, speech: Speech) -> String {
    let who = answer.plan.bears_least.as_deref().unwrap_or("the pellets");
    let bear = answer.plan.bears_least.as_ref().map_or("bear", |_| "bears");
    let needed = needed_words(short.needed_h);
    let borne = hours(short.borne_h);
    let reason = match short.bound_by {
        StayBound::MarginToHalf => format!(
            "the margin is kept to half of the {borne} that {who} {bear}, while limit and margin want \
             {needed}"
        ),
        StayBound::LimitAlone => format!(
            "no margin is added, since the limit alone takes more than half of the {borne} that {who} \
             {bear}, while limit and margin want {needed}"
        ),
        StayBound::LongestStay => format!(
            "limit and margin want {needed}, and no more than nine tenths of the {borne} that {who} \
             {bear} are planned"
        ),
        StayBound::GivenHopper => {
            format!("the hopper as given holds less than the {needed} that limit and margin want")
        }
    };
    let Some(larger) = &short.larger else {
        return reason;
    };
    let whole = if larger.residence_h > 0.99 * short.needed_h {
        String::new()
    } else {
        format!(", {} long,", hours(larger.residence_h))
    };
    format!(
        "{reason}; a hopper of {}{whole} would meet the limit in {} of the draws",
        speech.say(Measure::Volume, larger.hopper_volume_l),
        percent(larger.probability_within)
    )
}

/// Hours of limit and margin, or that they want more than was looked at.
pub(super) fn needed_words(needed_h: f64) -> String {
    if needed_h >= LONGEST_LOOKED_AT_H {
        "more than two days".to_owned()
    } else {
        hours(needed_h)
    }
}

fn nothing_safe() -> String {
    "no safe setting was found within the customary window".to_owned()
}

/// The nearest safe settings in words: what changes, and what leaves then.
fn nearest(answer: &PlanAnswer, safe: &Settings, speech: Speech) -> String {
    let plan = &answer.plan;
    let now = &plan.settings;
    let differs = |a: f64, b: f64| (a - b).abs() > 5e-3 * a.abs().max(b.abs());
    let mut changes = Vec::new();
    if (safe.air_temperature_c - now.air_temperature_c).abs() > 0.1 {
        changes.push(speech.say(Measure::Temperature, safe.air_temperature_c));
    }
    if differs(safe.hopper_volume_l, now.hopper_volume_l) {
        changes.push(format!(
            "a hopper of {} for a stay of {}",
            speech.say(Measure::Volume, safe.hopper_volume_l),
            hours(safe.residence_h)
        ));
    } else if differs(safe.fill, now.fill) {
        changes.push(format!(
            "this hopper filled to {} % of its volume for a stay of {}",
            quantity::digits(100.0 * safe.fill, 2),
            hours(safe.residence_h)
        ));
    } else if differs(safe.residence_h, now.residence_h) {
        changes.push(format!("a stay of {}", hours(safe.residence_h)));
    }
    if (safe.frost_point_c - now.frost_point_c).abs() > 0.5 {
        changes.push(condensation(safe.frost_point_c, speech));
    }
    if differs(safe.air_flow_m3_h_at_20_c, now.air_flow_m3_h_at_20_c) {
        let flow = speech.say(Measure::Stream, safe.air_flow_m3_h_at_20_c);
        changes.push(format!("{flow} of air"));
    }
    let changes: Vec<&str> = changes.iter().map(String::as_str).collect();
    let leaves = plan.nearest_safe_outlet.map_or_else(String::new, |out| {
        format!(
            ", which leaves {} and meets the limit in {} of the draws",
            ranged(out.mean_ppm_wet, plan.samples),
            percent(out.probability_within)
        )
    });
    format!("nearest safe is {}, all else kept{leaves}", and(&changes))
}

/// A moisture without its unit.
pub(super) fn number(value: f64) -> String {
    let words = ppm(value);
    words
        .strip_suffix(" ppm")
        .map(str::to_owned)
        .unwrap_or(words)
}

/// Words in a list.
pub(super) fn and(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
