//! The doubt of the evidence, carried to the outlet by quasi-random samples.

use crate::DecideError;
use crate::case::{Case, Choice};
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

/// Means (kg/kg dry) of `count` samples of a case, each scaled by `ratio` for pellets and streams;
/// samples that cannot be solved are left out.
pub(crate) fn samples(case: &Case, given: &Given, ratio: f64, count: u32, seed: u32) -> Vec<f64> {
    let design = Design { seed };
    let coarse = case.coarse();
    (0..count)
        .into_par_iter()
        .filter_map(|index| {
            let deviate = |dimension| design.normal(index, dimension);
            one(&shifted(&coarse, given, &deviate)).ok()
        })
        .map(|mean| mean * ratio)
        .collect()
}

/// A case with everything that is in doubt moved by the standard normal deviate of its dimension.
fn shifted(case: &Case, given: &Given, deviate: &dyn Fn(u32) -> f64) -> Case {
    let resin = &case.resin;
    let mut now = case.clone();
    now.diffusivity =
        case.diffusivity
            .scaled(relative(&resin.diffusivity, &["reference"], deviate(0)));
    now.isotherm = case.isotherm.scaled(relative(
        &resin.isotherm,
        &["capacity", "monolayer", "amorphous_share"],
        deviate(1),
    ));
    let heat = &resin.heat_capacity;
    now.calorics.resin *= moved(heat, deviate(2));
    now.interior = case
        .interior
        .scaled(1.0 + SIZE_DOUBT * case.size_spread * deviate(3));
    now.air_temperature += TEMPERATURE_DOUBT * deviate(4);
    now.rate *= (1.0 + RATE_DOUBT * deviate(5)).max(0.5);
    now.feed_moisture *= libm::exp(case.arrival_spread * deviate(6));
    if given.has(Choice::Hopper) {
        let bulk = &resin.bulk_density;
        now.bed_mass *= moved(bulk, deviate(7));
    }
    now
}

fn one(case: &Case) -> Result<f64, DecideError> {
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

/// A value moved by `deviations` over the value stated, kept positive.
fn moved<T: quantity::Quantity>(evidence: &Evidence<T>, deviations: f64) -> f64 {
    (evidence.shifted(deviations).si() / evidence.value.si()).clamp(0.3, 3.0)
}

/// The case with the diffusivity `deviations` standard deviations away.
pub(crate) fn with_diffusivity(case: &Case, deviations: f64) -> Case {
    let factor = relative(&case.resin.diffusivity, &["reference"], deviations);
    Case {
        diffusivity: case.diffusivity.scaled(factor),
        ..case.clone()
    }
}
