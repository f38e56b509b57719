//! The one-dimensional equivalent of a cylinder against the cylinder in two dimensions.
//!
//! What is compared: the moisture left in a pellet whose surface is dry, for a diffusivity
//! `D0 exp(g X/X0)`, at the worst moment between 80 % and 1 % left. The section itself is checked
//! against the product solution (`crank.rs`) and finite volumes (`peers/nonlinear_pellet.rs`).
//! Tolerance: 2 % of what is left, the promise of `EQUIVALENT_HOLDS`, at whose ends and between.
//! Errata and doubts: above 80 % left nine nodes each way see the front no better than a percent.
//! Not compared: spheroids and lenses in two dimensions; their slowest decay is in
//! `slowest_decay.rs`.

use crate::{Kind, Row};
use material::Diffusivity;
use pellet::equivalent::{EQUIVALENT_HOLDS, Equivalent};
use pellet::nodal::NodalGrid;
use pellet::radial::RadialGrid;
use pellet::{Outline, PelletError};

const RADIUS: f64 = 1.25e-3;
const LINE_NODES: usize = 20;
const SECTION_NODES: usize = 9;
const STEPS: u32 = 200;

/// What is left of 1 after each of equally many steps to `last` (D0 t, m2), growing with the square of
/// their number, until less than 1 % is.
fn drying(grid: &NodalGrid, exponent: f64, last: f64) -> Result<Vec<f64>, PelletError> {
    let law = Diffusivity::Exponential {
        reference: 1.0,
        reference_temperature: 300.0,
        activation_energy: 0.0,
        moisture_exponent: exponent,
    };
    let (mut state, mut work) = (vec![1.0; grid.len()], grid.work());
    let mut end = state.clone();
    let (mut left, mut now) = (Vec::new(), 0.0);
    for step in 1..=STEPS {
        let goal = last * (f64::from(step) / f64::from(STEPS)).powi(2);
        let duration = goal - now;
        grid.step(&law, 300.0, duration, &state, 0.0, 0.0, &mut end, &mut work)?;
        state.copy_from_slice(&end);
        now = goal;
        left.push(grid.mean(&state));
        if grid.mean(&state) < 0.01 {
            break;
        }
    }
    Ok(left)
}

/// The worst pair (equivalent, section) between 80 % and 1 % left.
fn worst(aspect: f64, exponent: f64) -> Result<(f64, f64), PelletError> {
    let half = RADIUS * aspect;
    let equivalent = Equivalent::of(&Outline::Cylinder {
        diameter: 2.0 * RADIUS,
        length: 2.0 * half,
    })?;
    let radial = RadialGrid::new(equivalent.dimension, equivalent.bulge, LINE_NODES)?;
    let line = NodalGrid::line(&radial, equivalent.depth);
    let section = NodalGrid::section(RADIUS, half, SECTION_NODES)?;
    // Slowest decay (j_0,1 = 2.404826) times five to seven.
    let rate = (2.404_826 / RADIUS).powi(2) + (std::f64::consts::FRAC_PI_2 / half).powi(2);
    let last = if exponent < 0.0 { 7.0 } else { 5.0 } / rate;
    let (reduced, full) = (
        drying(&line, exponent, last)?,
        drying(&section, exponent, last)?,
    );
    let mut found = (f64::NAN, f64::NAN);
    let mut most = -1.0;
    for (reduced, full) in reduced.into_iter().zip(full) {
        let off = (reduced / full - 1.0).abs();
        if (0.01..=0.8).contains(&full) && off > most {
            most = off;
            found = (reduced, full);
        }
    }
    Ok(found)
}

/// One row for each length over diameter and exponent.
pub fn rows() -> Vec<Row> {
    let (shortest, longest) = EQUIVALENT_HOLDS;
    let mut rows = Vec::new();
    for aspect in [shortest, 0.8, 1.0, 1.2, 1.35, longest] {
        for exponent in [-1.0, 0.0, 1.0, 2.0, 4.0] {
            let (computed, expected) = worst(aspect, exponent).unwrap_or((f64::NAN, f64::NAN));
            rows.push(Row {
                source: "Finite cylinder in two dimensions",
                what: format!(
                    "left at the worst moment, length over diameter {aspect}, \
                     D = D0 exp({exponent} X/X0)"
                ),
                unit: "",
                expected,
                computed,
                tolerance: 0.02,
                absolute: false,
                why: "what the equivalent promises down to 1 % left",
                kind: Kind::Exact,
                disputed: None,
            });
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    #[test]
    fn exact_equivalent_pellet() {
        crate::check(&super::rows());
    }
}
