//! Resins that take up no water: what is dried is water on the surface, and seconds are no answer.

use super::PlanAnswer;
use super::sentence::limit_words;
use crate::speech::hours;
use decide::answer::Limit;
use material::Behaviour;

/// What decides, in place of what limits drying from the inside.
pub(super) const DECIDES: &str = "only surface water is dried, a matter of minutes: how soon the \
    pellets are warm and the air carries the water off decides";

/// What is not known of it.
pub(super) const DOUBT: &str = "Surface water is computed as an even film that all the air passes: \
    drops, wet clumps and cold pellets on which more condenses take longer, so keep to the stay that \
    practice takes.";

/// Time up to which surface water is said to take minutes, h.
const MINUTES: f64 = 1.0 / 6.0;

/// Whether the resin of a plan carries water on its surface only.
pub(crate) fn only(answer: &PlanAnswer) -> bool {
    answer.job.resin.behaviour == Behaviour::SurfaceWaterOnly
}

/// When something comes that waits for drying: after a time, or within minutes where surface water
/// leaves no way to say it closer.
pub(crate) fn soon(answer: &PlanAnswer, time_h: f64) -> String {
    if only(answer) && time_h < MINUTES {
        "within minutes".to_owned()
    } else {
        format!("after {}", hours(time_h))
    }
}

/// What limits, in words.
pub(super) fn limit(answer: &PlanAnswer, limit: Limit) -> &'static str {
    match limit {
        Limit::Diffusion if only(answer) => "carrying the surface water off",
        other => limit_words(other),
    }
}

/// What a part of the time is called.
pub(super) fn part_name(answer: &PlanAnswer, name: &'static str) -> &'static str {
    match name {
        "diffusion in the mean pellet" if only(answer) => "water on the mean pellet",
        other => other,
    }
}
