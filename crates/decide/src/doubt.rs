//! The doubt of the evidence, carried to the outlet by quasi-random samples.

use crate::DecideError;
use crate::case::{Case, Choice};
use crate::resolve::Given;
use material::{Diffusivity, Documented, Evidence, Isotherm, Resin};
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

/// Dimensions of the lead and the place, and of each kind beside it.
const LEAD_DIMENSIONS: u32 = 8;
const KIND_DIMENSIONS: u32 = 4;

/// A case with everything that is in doubt moved by the standard normal deviate of its dimension.
/// Kinds of one resin share the doubt of its laws.
fn shifted(case: &Case, given: &Given, deviate: &dyn Fn(u32) -> f64) -> Case {
    let resin = &case.resin;
    let mut now = case.clone();
    (now.diffusivity, now.isotherm) = laws(case.diffusivity, case.isotherm, resin, (0, 1), deviate);
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
    for (index, kind) in now.beside.iter_mut().enumerate() {
        let pellets = &mut kind.pellets;
        let own = LEAD_DIMENSIONS + KIND_DIMENSIONS * u32::try_from(index).unwrap_or(0);
        let at = if pellets.resin.key == resin.key {
            (0, 1)
        } else {
            (own, own + 1)
        };
        (pellets.diffusivity, pellets.isotherm) = laws(
            pellets.diffusivity,
            pellets.isotherm,
            &pellets.resin,
            at,
            deviate,
        );
        pellets.interior = pellets
            .interior
            .scaled(1.0 + SIZE_DOUBT * pellets.size_spread * deviate(own + 2));
        pellets.feed_moisture *= libm::exp(pellets.arrival_spread * deviate(own + 3));
    }
    now
}

/// The laws of a resin moved by the deviates of two dimensions.
fn laws(
    diffusivity: Diffusivity,
    isotherm: Isotherm,
    resin: &Resin,
    at: (u32, u32),
    deviate: &dyn Fn(u32) -> f64,
) -> (Diffusivity, Isotherm) {
    let capacity = ["capacity", "monolayer", "amorphous_share"];
    (
        diffusivity.scaled(relative(&resin.diffusivity, &["reference"], deviate(at.0))),
        isotherm.scaled(relative(&resin.isotherm, &capacity, deviate(at.1))),
    )
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

/// The case with the diffusivity of each kind `deviations` standard deviations away.
pub(crate) fn with_diffusivity(case: &Case, deviations: f64) -> Case {
    let factor = |resin: &Resin| relative(&resin.diffusivity, &["reference"], deviations);
    let mut now = case.clone();
    now.diffusivity = now.diffusivity.scaled(factor(&now.resin));
    for kind in &mut now.beside {
        let pellets = &mut kind.pellets;
        pellets.diffusivity = pellets.diffusivity.scaled(factor(&pellets.resin));
    }
    now
}
