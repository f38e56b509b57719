//! The doubt of the evidence, carried to the outlet by quasi-random samples.

use crate::DecideError;
use crate::case::{Case, Choice};
use crate::pellets::Pellets;
use crate::resolve::Given;
use material::{Documented, Evidence};
use rayon::prelude::*;
use uncertainty::Design;

/// Doubt of the mean pellet size, as a share of the spread from pellet to pellet (common practice,
/// no source).
const SIZE_DOUBT: f64 = 0.5;
/// Doubt of the air temperature at the inlet, K, and of the rate, relative (common practice, no
/// source: industrial sensor, loader weight).
pub(crate) const TEMPERATURE_DOUBT: f64 = 1.5;
const RATE_DOUBT: f64 = 0.02;

/// What one draw of the doubt comes to, kg/kg dry.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Draw {
    /// Mean of what leaves the hopper.
    pub(crate) leaving: f64,
    /// What the screw draws: with what the pellets take up on their way, and with what joins undried.
    pub(crate) screw: f64,
}

/// How many draws are made, from which seed, and how the mean of each is carried over from the mean
/// pellet on the mean stream: scaled for pellets and streams, with what the way adds on top.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Drawing {
    pub(crate) count: u32,
    pub(crate) seed: u32,
    pub(crate) ratio: f64,
    pub(crate) added: f64,
}

/// Share of draws that meet the limit at the screw; none without draws.
pub(crate) fn within(case: &Case, draws: &[Draw]) -> Option<f64> {
    let met = draws.iter().filter(|draw| draw.screw <= case.screw_limit);
    (!draws.is_empty()).then(|| met.count() as f64 / draws.len() as f64)
}

/// Draws of a case; those that cannot be solved are left out.
pub(crate) fn samples(case: &Case, given: &Given, drawing: Drawing) -> Vec<Draw> {
    let Drawing {
        count,
        seed,
        ratio,
        added,
    } = drawing;
    let design = Design { seed };
    let coarse = case.coarse();
    (0..count)
        .into_par_iter()
        .filter_map(|index| {
            let deviate = |dimension| design.normal(index, dimension);
            let drawn = drawn(&coarse, given, &deviate).ok()?;
            let leaving = one(&drawn).ok()? * ratio;
            Some(Draw {
                leaving,
                screw: drawn.at_screw(leaving + added),
            })
        })
        .collect()
}

/// Dimensions of the lead and the place, and of each kind beside it.
const LEAD_DIMENSIONS: u32 = 8;
const KIND_DIMENSIONS: usize = 4;

/// A case with everything that is in doubt moved by the standard normal deviate of its dimension; what a
/// crystalliser ahead of the hopper leaves is found with all that moved.
///
/// # Errors
/// From that crystalliser.
pub(crate) fn drawn(
    case: &Case,
    given: &Given,
    deviate: &dyn Fn(u32) -> f64,
) -> Result<Case, DecideError> {
    case.changed(|now| shift(now, given, deviate))
}

/// The same of what enters the hopper, whatever stands ahead of it.
pub(crate) fn shifted(case: &Case, given: &Given, deviate: &dyn Fn(u32) -> f64) -> Case {
    let mut now = case.clone();
    shift(&mut now, given, deviate);
    now
}

/// Kinds of one resin share the doubt of its laws.
fn shift(now: &mut Case, given: &Given, deviate: &dyn Fn(u32) -> f64) {
    let resin = now.lead.resin.clone();
    vary(&mut now.lead, [0, 1, 3, 6], deviate);
    now.lead.calorics.resin *= moved(&resin.heat_capacity, deviate(2));
    now.air_temperature += TEMPERATURE_DOUBT * deviate(4);
    now.rate *= (1.0 + RATE_DOUBT * deviate(5)).max(0.5);
    if given.has(Choice::Hopper) {
        now.bed_mass *= moved(&resin.bulk_density, deviate(7));
    }
    for (kind, first) in now
        .beside
        .iter_mut()
        .zip((LEAD_DIMENSIONS..).step_by(KIND_DIMENSIONS))
    {
        let laws = if kind.pellets.resin.key == resin.key {
            [0, 1]
        } else {
            [first, first + 1]
        };
        let dimensions = [laws[0], laws[1], first + 2, first + 3];
        vary(&mut kind.pellets, dimensions, deviate);
    }
    let after = (LEAD_DIMENSIONS..)
        .step_by(KIND_DIMENSIONS)
        .skip(now.beside.len());
    for (part, dimension) in now.undried.iter_mut().zip(after) {
        part.water *= libm::exp(part.spread * deviate(dimension));
    }
}

/// How many dimensions the doubt of a case has.
fn dimensions(case: &Case) -> u32 {
    let kinds = KIND_DIMENSIONS * (case.beside.len() + case.undried.len());
    LEAD_DIMENSIONS + u32::try_from(kinds).unwrap_or(0)
}

/// Deviate of each dimension, `deviations` away from the best value all together, in the direction in
/// which the blend at the screw becomes wetter soonest: to first order as many draws are drier than
/// that as the normal law says.
///
/// # Errors
/// From the bed.
pub(crate) fn unlucky(
    case: &Case,
    given: &Given,
    deviations: f64,
) -> Result<Vec<f64>, DecideError> {
    let coarse = case.coarse();
    let wetness = |dimension: u32, deviate: f64| -> Result<f64, DecideError> {
        let moved = drawn(&coarse, given, &|one| {
            if one == dimension { deviate } else { 0.0 }
        })?;
        let screw = moved.at_screw(one(&moved)?);
        Ok(libm::log(screw.max(f64::MIN_POSITIVE)))
    };
    let slopes: Vec<f64> = (0..dimensions(case))
        .into_par_iter()
        .map(|dimension| Ok(wetness(dimension, deviations)? - wetness(dimension, -deviations)?))
        .collect::<Result<_, DecideError>>()?;
    let length = slopes.iter().map(|slope| slope * slope).sum::<f64>().sqrt();
    Ok(slopes
        .iter()
        .map(|slope| deviations * slope / length.max(f64::MIN_POSITIVE))
        .collect())
}

/// Moves diffusivity, isotherm, size and arriving moisture by the deviates of four dimensions.
fn vary(pellets: &mut Pellets, dimensions: [u32; 4], deviate: &dyn Fn(u32) -> f64) {
    let [diffusivity, isotherm, size, moisture] = dimensions.map(deviate);
    let resin = &pellets.resin;
    let capacity = ["capacity", "monolayer", "amorphous_share"];
    let faster = relative(&resin.diffusivity, &["reference"], diffusivity);
    let fuller = relative(&resin.isotherm, &capacity, isotherm);
    pellets.diffusivity = pellets.diffusivity.scaled(faster);
    pellets.isotherm = pellets.isotherm.scaled(fuller);
    let bigger = 1.0 + SIZE_DOUBT * pellets.size_spread * size;
    pellets.interior = pellets.interior.scaled(bigger);
    pellets.feed_moisture *= libm::exp(pellets.arrival_spread * moisture);
}

pub(crate) fn one(case: &Case) -> Result<f64, DecideError> {
    let (column, _) = case.column()?;
    let steady = column.steady(&case.drive())?;
    Ok(steady.outlet_moisture + steady.outlet_free_water)
}

/// Factor by which the first parameter found among `names` moves at `deviations`.
fn relative<L>(law: &Documented<L>, names: &[&str], deviations: f64) -> f64 {
    names
        .iter()
        .find_map(|name| law.value(name))
        .map_or(1.0, |evidence| {
            let moved = evidence.spread.shift(evidence.value, deviations);
            (moved / evidence.value).clamp(LEAST_FACTOR, 1.0 / LEAST_FACTOR)
        })
}

/// No sample moves a parameter by more than this factor.
const LEAST_FACTOR: f64 = 0.02;

/// The longest stay of the resin of a case moved by `deviations` over that stated.
pub(crate) fn of_the_hold(case: &Case, deviations: f64) -> f64 {
    moved(&case.lead.resin.drying.hold, deviations)
}

/// A value moved by `deviations` over the value stated, kept positive.
fn moved<T: quantity::Quantity>(evidence: &Evidence<T>, deviations: f64) -> f64 {
    (evidence.shifted(deviations).si() / evidence.value.si()).clamp(0.3, 3.0)
}

/// The case with the diffusivity of each kind `deviations` standard deviations away, before a crystalliser as
/// well.
///
/// # Errors
/// From a crystalliser ahead of the hopper.
pub(crate) fn with_diffusivity(case: &Case, deviations: f64) -> Result<Case, DecideError> {
    case.changed(|now| {
        *now = now.with_each(|pellets| {
            let factor = relative(&pellets.resin.diffusivity, &["reference"], deviations);
            pellets.diffusivity = pellets.diffusivity.scaled(factor);
        });
    })
}
