//! The doubt of a curve: the pellet followed again with diffusivity and capacity moved.

use super::CurveQuestion;
use crate::Trouble;
use libm::{exp, log, sqrt};
use material::{Documented, Resin};
use pellet::history::{Curve, HistorySpec, PelletSpec};
use quantity::Quantity;

/// Standard deviations to each end of the range that holds nine in ten.
const NINE_IN_TEN: f64 = 1.645;
/// No parameter is moved by more than this factor.
const MOST: f64 = 50.0;
/// Moisture below which a ratio of two means says nothing, kg/kg.
const LEAST: f64 = 1e-9;

/// Factors to the low and the high end of the range of the mean, at each instant of the curve;
/// nothing where the evidence leaves nothing open or the resin takes up no water.
pub(super) fn factors(
    question: &CurveQuestion,
    spec: &HistorySpec,
    followed: &Curve,
) -> Result<Vec<(f64, f64)>, Trouble> {
    if !spec.pellet.isotherm.takes_up_water() {
        return Ok(Vec::new());
    }
    let resin = &question.resin;
    let mut squares = vec![(0.0_f64, 0.0_f64); followed.instants.len()];
    let mut moved_any = false;
    for deviations in [-NINE_IN_TEN, NINE_IN_TEN] {
        for pellet in variants(resin, &spec.pellet, deviations) {
            moved_any = true;
            let variant = HistorySpec {
                pellet,
                ..spec.clone()
            };
            let curve = variant.check()?.follow()?;
            for (instant, square) in followed.instants.iter().zip(&mut squares) {
                let mean = instant.mean.si();
                let there = curve.at(instant.time, |i| i.mean.si()).unwrap_or(mean);
                let apart = log(there.max(LEAST) / mean.max(LEAST));
                if apart < 0.0 {
                    square.0 += apart * apart;
                } else {
                    square.1 += apart * apart;
                }
            }
        }
    }
    if !moved_any {
        return Ok(Vec::new());
    }
    Ok(squares
        .into_iter()
        .map(|(low, high)| (exp(-sqrt(low)), exp(sqrt(high))))
        .collect())
}

/// The pellet with one thing moved, for each thing that is in doubt.
fn variants(resin: &Resin, pellet: &PelletSpec, deviations: f64) -> Vec<PelletSpec> {
    let mut found = Vec::new();
    let speed = factor(&resin.diffusivity, &["reference"], deviations);
    if (speed - 1.0).abs() > 1e-9 {
        let mut one = pellet.clone();
        one.diffusivity = one.diffusivity.scaled(speed);
        found.push(one);
    }
    let names = ["capacity", "monolayer", "amorphous_share"];
    let capacity = factor(&resin.isotherm, &names, deviations);
    if (capacity - 1.0).abs() > 1e-9 {
        let mut one = pellet.clone();
        one.isotherm = one.isotherm.scaled(capacity);
        found.push(one);
    }
    found
}

/// Factor by which the first parameter found moves.
fn factor<L>(law: &Documented<L>, names: &[&str], deviations: f64) -> f64 {
    let found = names.iter().find_map(|name| law.value(name));
    found.map_or(1.0, |evidence| {
        let moved = evidence.spread.shift(evidence.value, deviations) / evidence.value;
        moved.clamp(1.0 / MOST, MOST)
    })
}
