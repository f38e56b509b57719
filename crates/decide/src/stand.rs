//! How a plan stands: the verdict, what the draws say of it, and why a stay is short.

use crate::DecideError;
use crate::answer::{LargerHopper, ShortStay, StayBound, Verdict};
use crate::case::{Case, Choice};
use crate::doubt::{self, Draw, Drawing};
use crate::resolve::Given;
use uncertainty::Interval;

/// Share of draws from which on a limit that the best value meets counts as met: one in five is about
/// the risk at which a shift would rather measure than rely (common practice, no source).
pub const SURE: f64 = 0.8;
/// Standard deviations from the best value to where [`SURE`] of the draws lie: the normal quantile of
/// 0.8.
pub(crate) const SURE_DEVIATIONS: f64 = 0.8416;

/// Share of the longest stay that a recommended residence may take.
pub(crate) const HOLD_SHARE: f64 = 0.9;
/// Share of the longest stay up to which the margin may bring it (common practice, no source).
pub(crate) const MARGIN_SHARE: f64 = 0.5;
/// Needed over planned residence up to which the two count as one.
const NEARLY: f64 = 1.05;

/// How a case stands whose resin reaches the screw with `mean` kg/kg dry, where a share of the draws
/// meets the limit; none where nothing was drawn.
pub(crate) fn verdict(case: &Case, mean: f64, within: Option<f64>) -> Verdict {
    if case.crystallise_first() {
        Verdict::CrystalliseFirst
    } else if case.air_temperature > case.hottest() {
        Verdict::Sticks
    } else if case.at_screw(mean) > case.screw_limit * (1.0 + 1e-6) {
        Verdict::Wet
    } else if case.residence() > case.hold() * (1.0 + 1e-9) {
        Verdict::Cooked
    } else if case.lower_edge.is_some_and(|edge| mean < edge) {
        Verdict::TooDry
    } else if within.is_some_and(|share| share < SURE) {
        Verdict::NotSure
    } else {
        Verdict::InWindow
    }
}

/// Range (kg/kg dry) of the blend at the screw, nine draws in ten; `mean` of what is dried where
/// nothing was drawn.
pub(crate) fn blend_range(case: &Case, mean: f64, draws: &[Draw]) -> (f64, f64) {
    let screw: Vec<f64> = draws.iter().map(|draw| draw.screw).collect();
    let alone = case.at_screw(mean);
    Interval::of(&screw, 0.9).map_or((alone, alone), |found| (found.low, found.high))
}

/// Why the stay of a plan that meets its limit is shorter than the `needed` seconds of limit and
/// margin, and what a larger hopper would give; none where it is not.
///
/// # Errors
/// From the hopper.
pub(crate) fn short_stay(
    case: &Case,
    given: &Given,
    verdict: Verdict,
    needed: f64,
    drawing: Drawing,
) -> Result<Option<ShortStay>, DecideError> {
    if !verdict.is_met() || needed <= NEARLY * case.residence() {
        return Ok(None);
    }
    let hold = case.hold();
    let most = HOLD_SHARE * hold;
    let stay = needed.min(most);
    let bound_by = if case.residence() >= most * (1.0 - 1e-6) {
        StayBound::LongestStay
    } else if given.has(Choice::Hopper) {
        StayBound::GivenHopper
    } else if case.residence() > MARGIN_SHARE * hold * (1.0 + 1e-6) {
        StayBound::LimitAlone
    } else {
        StayBound::MarginToHalf
    };
    let larger = if stay > NEARLY * case.residence() {
        let mut longer = case.with_bed_mass(case.rate * stay);
        if !given.has(Choice::AirFlow) {
            longer.air_flow = longer.usual_air_flow(given.largest_flow)?;
        }
        let draws = doubt::samples(&longer, given, drawing);
        doubt::within(&longer, &draws).map(|probability_within| LargerHopper {
            residence_h: stay / 3600.0,
            hopper_volume_l: longer.hopper_volume() * 1e3,
            probability_within,
        })
    } else {
        None
    };
    Ok(Some(ShortStay {
        bound_by,
        needed_h: needed / 3600.0,
        borne_h: hold / 3600.0,
        larger,
    }))
}
