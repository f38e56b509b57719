//! Searches over a case: residence that meets a limit, rates that a hopper allows, what limits.

use crate::DecideError;
use crate::answer::{Limit, LimitShare, RateEnd, RateWindow};
use crate::case::{Case, Choice};
use crate::doubt::{self, Drawing};
use crate::outlet;
use crate::resolve::Given;
use crate::stand::{SURE, SURE_DEVIATIONS};
use libm::{exp, log};
use material::{Behaviour, Isotherm};
use numeric::root::bracketed;
use quantity::Quantity;

/// Longest residence that is looked at, s (two days).
pub(crate) const LONGEST: f64 = 2.0 * 86_400.0;
/// What a bed that cannot be solved counts as, over the limit.
const VERY_WET: f64 = 1e3;
/// Shortest, s.
const SHORTEST: f64 = 120.0;
/// Lowest and highest rate that is looked at, over the rate of the job.
const LOWEST_RATE: f64 = 0.03;
const HIGHEST_RATE: f64 = 10.0;
/// Relative accuracy of a residence or a rate.
const CLOSE: f64 = 2e-3;

/// Least residence (s) at which the mean meets the limit of the case, rate and air kept; none when
/// even two days do not do. A bed too starved to be solved counts as wet.
pub(crate) fn residence(case: &Case) -> Option<f64> {
    let over = |seconds: f64| {
        let mean = outlet::mean(&case.with_bed_mass(case.rate * seconds));
        log(mean.unwrap_or(VERY_WET * case.limit).max(f64::MIN_POSITIVE) / case.limit)
    };
    // From the customary time outward, so that the far ends are asked for only when needed.
    let usual: f64 = Quantity::si(case.lead.resin.drying.time.value);
    let mut high = usual.clamp(SHORTEST, LONGEST);
    while over(high) > 0.0 {
        if high >= LONGEST {
            return None;
        }
        high = (2.0 * high).min(LONGEST);
    }
    let mut low = 0.5 * high;
    while over(low) <= 0.0 {
        if low <= SHORTEST {
            return Some(low);
        }
        (low, high) = (0.5 * low, low);
    }
    // In logarithms the curve is close to straight.
    bracketed(log(low), log(high), CLOSE, |x| over(exp(x)))
        .ok()
        .map(exp)
}

/// Share of draws of a residence that is surely long enough, and standard deviations to it: the normal
/// quantile of 0.95.
const NEARLY_ALL: f64 = 0.95;
const NEARLY_ALL_DEVIATIONS: f64 = 1.6449;
/// By how much a residence is lengthened that the draws do not bear out.
const LENGTHENED: f64 = 1.04;

/// Least residence (s) at which [`NEARLY_ALL`] of the draws meet the limit, rate and air kept; none where
/// two days do not do, or nothing is left of the limit. Begun with everything in doubt moved the unlucky
/// way, then held against the draws themselves.
///
/// # Errors
/// From the bed.
pub(crate) fn sure_residence(
    case: &Case,
    given: &Given,
    drawing: Drawing,
) -> Result<Option<f64>, DecideError> {
    if case.nothing_left() {
        return Ok(None);
    }
    // A bed that is to be filled so holds what it holds: its mass is not in doubt.
    let filled = Given {
        chosen: vec![Choice::Hopper],
        ..given.clone()
    };
    let unlucky = doubt::unlucky(case, &filled, NEARLY_ALL_DEVIATIONS)?;
    let deviate = |dimension: u32| unlucky.get(dimension as usize).copied().unwrap_or(0.0);
    let Some(mut seconds) = residence(&doubt::drawn(case, &filled, &deviate)?) else {
        return Ok(None);
    };
    while seconds < LONGEST {
        let longer = case.with_bed_mass(case.rate * seconds);
        let drawing = Drawing {
            ratio: outlet::Outlet::of(&longer)?.ratio(),
            ..drawing
        };
        let draws = doubt::samples(&longer, &filled, drawing);
        if doubt::within(&longer, &draws).is_none_or(|share| share >= NEARLY_ALL) {
            return Ok(Some(seconds));
        }
        seconds *= LENGTHENED;
    }
    Ok(None)
}

/// Hours of [`residence`], or the longest looked at.
pub(crate) fn residence_or_longest(case: &Case) -> f64 {
    residence(case).unwrap_or(LONGEST)
}

/// Rate by which a told end is cut back where the draws do not bear it out, and how often.
const CUT: f64 = 0.97;
const CUTS: usize = 12;
/// Rate over the told one at which the draws must still bear it out: what is told is rounded.
const ROUNDED: f64 = 1.005;

/// The window of rates of a hopper with its air. The most is what is met in [`SURE`] of the draws, not
/// by the best value: a rate that is set must be in window. Nothing where no rate mends or spoils
/// the drying: what joins undried leaves nothing of the limit, or surface water alone is dried.
///
/// # Errors
/// From the bed.
pub(crate) fn rate_window(
    case: &Case,
    given: &Given,
    drawing: Drawing,
) -> Result<RateWindow, DecideError> {
    if case.nothing_left() || case.lead.resin.behaviour == Behaviour::SurfaceWaterOnly {
        return Ok(RateWindow {
            least: None,
            most: None,
        });
    }
    let per_hour = 3600.0 * case.wet_rate() / case.rate;
    // The hopper stands there: how much it holds is in doubt.
    let standing = Given {
        chosen: Vec::new(),
        ..given.clone()
    };
    let most = match surely_most(case, &standing, drawing)? {
        None => None,
        Some(rate) => {
            let bound_by = limits(&at_rate(case, rate))?
                .first()
                .map_or(Limit::Diffusion, |share| share.limit);
            Some(RateEnd {
                rate_kg_h: rate * per_hour,
                bound_by,
            })
        }
    };
    let by_hold = case.bed_mass / case.hold();
    let by_edge = match case.lower_edge {
        None => None,
        Some(edge) => crossing(case, |case| Some(outlet::mean(case).ok()? / edge))
            .filter(|rate| *rate < case.rate * HIGHEST_RATE),
    };
    let least = by_edge.map_or(by_hold, |rate| rate.max(by_hold));
    Ok(RateWindow {
        // What is borne for days binds no rate that is run.
        least: (least > LOWEST_RATE * case.rate).then_some(RateEnd {
            rate_kg_h: least * per_hour,
            bound_by: Limit::OverDrying,
        }),
        most,
    })
}

fn at_rate(case: &Case, rate: f64) -> Case {
    Case {
        rate,
        ..case.clone()
    }
}

/// Rate (kg/s dry) at which a wetness over its limit, which rises with the rate, passes one; none where
/// it never falls below.
fn crossing(case: &Case, wetness: impl Fn(&Case) -> Option<f64>) -> Option<f64> {
    let over = |rate: f64| {
        let found = wetness(&at_rate(case, rate)).unwrap_or(VERY_WET);
        log(found.max(f64::MIN_POSITIVE))
    };
    let (mut low, mut high) = (case.rate, case.rate);
    while over(high) <= 0.0 {
        if high >= case.rate * HIGHEST_RATE {
            return Some(high);
        }
        (low, high) = (high, 1.6 * high);
    }
    while low >= high || over(low) > 0.0 {
        if low <= case.rate * LOWEST_RATE {
            return None;
        }
        low *= 0.6;
    }
    bracketed(log(low), log(high), CLOSE, |x| over(exp(x)))
        .ok()
        .map(exp)
}

/// Most rate (kg/s dry) at which [`SURE`] of the draws meet the limit; none where none does. Found with
/// everything in doubt moved the unlucky way, then held against the draws themselves.
fn surely_most(case: &Case, given: &Given, drawing: Drawing) -> Result<Option<f64>, DecideError> {
    let allowed = case.at_screw(case.limit);
    let unlucky = doubt::unlucky(case, given, SURE_DEVIATIONS)?;
    let deviate = |dimension: u32| unlucky.get(dimension as usize).copied().unwrap_or(0.0);
    let found = crossing(case, |case| {
        let moved = doubt::drawn(case, given, &deviate).ok()?;
        Some(moved.at_screw(outlet::mean(&moved).ok()?) / allowed)
    });
    let Some(mut rate) = found else {
        return Ok(None);
    };
    for _ in 0..CUTS {
        let faster = at_rate(case, ROUNDED * rate);
        let drawing = Drawing {
            ratio: outlet::Outlet::of(&faster)?.ratio(),
            ..drawing
        };
        let draws = doubt::samples(&faster, given, drawing);
        // By one standard error more, so that other draws do not turn the verdict.
        let error = (SURE * (1.0 - SURE) / draws.len().max(1) as f64).sqrt();
        if doubt::within(&faster, &draws).is_none_or(|share| share >= SURE + error) {
            return Ok(Some(rate));
        }
        rate *= CUT;
    }
    Ok(None)
}

/// How far the outlet would fall without each thing that holds the drying up, strongest first.
///
/// # Errors
/// From the bed.
pub(crate) fn limits(case: &Case) -> Result<Vec<LimitShare>, DecideError> {
    /// A thing is taken away by making it this many times better.
    const MUCH: f64 = 100.0;
    let plain = Case {
        residence_spread: 0.0,
        ..case.of_one_size()
    };
    let base = outlet::mean(&plain)?;
    let mut shares = Vec::new();
    let mut ask = |limit: Limit, without: Case| -> Result<(), DecideError> {
        let share = if base > 0.0 {
            1.0 - outlet::mean(&without)? / base
        } else {
            0.0
        };
        shares.push(LimitShare {
            limit,
            share: share.clamp(0.0, 1.0),
        });
        Ok(())
    };
    let diffuses = |isotherm: &Isotherm| isotherm.takes_up_water();
    let others = || case.beside.iter().map(|kind| &kind.pellets.isotherm);
    if diffuses(&case.lead.isotherm) || others().any(diffuses) {
        ask(Limit::Diffusion, plain.diffusing(MUCH))?;
    }
    // Air without end carries heat without end, and also keeps its dryness; the film is kept.
    let (column, _) = plain.column()?;
    let film = (
        Some(
            plain
                .film
                .0
                .unwrap_or(column.contact.exchange.heat / plain.lead.skin.area),
        ),
        plain.film.1,
    );
    ask(
        Limit::AirHeat,
        Case {
            air_flow: 5.0 * plain.air_flow,
            film,
            ..plain.clone()
        },
    )?;
    ask(
        Limit::DewPoint,
        Case {
            air_humidity: plain.air_humidity / MUCH,
            ..plain.clone()
        },
    )?;
    ask(
        Limit::HeatLoss,
        Case {
            wall_coefficient: 0.0,
            ..plain.clone()
        },
    )?;
    shares.sort_by(|a, b| b.share.total_cmp(&a.share));
    Ok(shares)
}
