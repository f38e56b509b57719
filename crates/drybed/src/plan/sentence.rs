//! The question of a plan in the user's words, and its answer in one sentence.

use super::{PlanAnswer, surface, way};
use crate::speech::{Measure, Speech, hours, percent, ppm};
use chart::rounded;
use decide::answer::{Limit, Ranged, Settings, Verdict};
use document::State;

/// Share of the outlet moisture below which a thing is not worth naming as what limits.
const WORTH_NAMING: f64 = 0.05;

/// Share of draws from which on a plan that meets its limit needs no remark.
const SURE: f64 = 0.9;
/// Needed over planned residence up to which the two count as one.
const NEARLY: f64 = 1.05;

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
    if let Some(decided) = super::lot::decided_undried(answer) {
        return format!("{leaves}: wet; {decided}.");
    }
    let limit = number(out.limit_ppm_wet);
    let mut sentence = format!("{leaves}, limit {limit}: {}", verdict(answer, speech));
    if let Some(blend) = super::lot::sentence(answer) {
        sentence = format!("{sentence}; {blend}");
    }
    if !answer.is_met() {
        let safe = plan
            .nearest_safe
            .as_ref()
            .map_or_else(nothing_safe, |s| nearest(s, speech));
        sentence = format!("{sentence}; {safe}");
    }
    sentence.push('.');
    sentence
}

/// How the plan stands, as the house's sign; none where there is no plan.
pub(crate) fn state(verdict: Verdict) -> Option<State> {
    match verdict {
        Verdict::InWindow => Some(State::InWindow),
        Verdict::TooDry => Some(State::TooDry),
        Verdict::Wet => Some(State::Wet),
        Verdict::Sticks | Verdict::Cooked => Some(State::Cooked),
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
fn ranged(value: Ranged, samples: usize) -> String {
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
pub(super) fn condensation(c: f64, speech: Speech) -> String {
    let kind = if c > 0.0 { "dew" } else { "frost" };
    format!("a {kind} point of {}", speech.say(Measure::Temperature, c))
}

fn verdict(answer: &PlanAnswer, speech: Speech) -> String {
    let plan = &answer.plan;
    let strongest = plan.limits.first().filter(|l| l.share >= WORTH_NAMING);
    let limits = match strongest {
        _ if surface::only(answer) => surface::DECIDES.to_owned(),
        Some(share) => format!("{} decides", limit_words(share.limit)),
        None => "nothing holds the drying up for long".to_owned(),
    };
    match plan.verdict {
        Verdict::InWindow => format!("in window{}; {limits}", short(answer)),
        Verdict::Wet if way::decides(answer) => {
            "wet at the screw; what the pellets take up on their way decides".to_owned()
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
            "cooked: they stay {} where {} are borne",
            hours(plan.settings.residence_h),
            hours(plan.map.hold_h)
        ),
        // Told on a page of its own.
        Verdict::CrystalliseFirst => "to be crystallised first".to_owned(),
    }
}

/// What stands between a plan that is met and one that is sure: draws that miss, and a stay cut short.
fn short(answer: &PlanAnswer) -> String {
    let plan = &answer.plan;
    let mut said = String::new();
    let sure = plan.outlet.probability_within;
    if plan.samples > 0 && sure < SURE {
        said = format!(" in {} of the draws", percent(sure));
    }
    let needed: f64 = plan.time_parts.iter().map(|part| part.hours).sum();
    if needed > plan.settings.residence_h * NEARLY && !plan.chosen.is_empty() {
        said = format!("{said}, with less than the margin wants, since so long a stay would harm");
    }
    said
}

fn nothing_safe() -> String {
    "no safe setting was found within the customary window".to_owned()
}

/// The nearest safe settings in words.
fn nearest(safe: &Settings, speech: Speech) -> String {
    format!(
        "nearest safe is {} for {} with {} and {} of air",
        speech.say(Measure::Temperature, safe.air_temperature_c),
        hours(safe.residence_h),
        condensation(safe.frost_point_c, speech),
        speech.say(Measure::Rate, safe.air_flow_kg_h)
    )
}

/// A moisture without its unit.
fn number(value: f64) -> String {
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
