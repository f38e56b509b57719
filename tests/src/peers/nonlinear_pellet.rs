//! SciPy 1.17.1: bodies whose diffusivity grows with moisture, `D = D0 exp(g X)`.
//!
//! What it is: finite volumes integrated by BDF, extrapolated from two grids; a plate that dries and
//! one that is wetted (g 3), and finite cylinders in two dimensions.
//! How read: frozen from `bench/peers/nonlinear_pellet_table.py`, which prints the tables below.
//! Tolerance: 1e-4 of what is left or taken up, the promise of a curve, and 2e-5 for what the finite
//! volumes are off; in cylinders 2e-3 of what is left and 1e-4: nine nodes each way see the edge, where
//! the front is steep from two sides, no better, and the finite volumes are coarser there too.
//! Errata and doubts: none known.
//! Not compared: other laws, whose slope is smaller.

use crate::isothermal::Body;
use crate::{Kind, Row};
use material::Diffusivity;
use pellet::nodal::NodalGrid;
use pellet::{Outline, PelletError};

const SOURCE: &str = "SciPy 1.17.1, finite volumes";

/// D0 t/L2; left of 1 with a dry surface; taken up from 0 with the surface at 1. Exponent 3.
const PLATE: &[(f64, f64, f64)] = &[
    (0.01, 0.779248, 0.326129),
    (0.05, 0.525128, 0.729072),
    (0.1, 0.380253, 0.957613),
    (0.2, 0.237207, 0.999672),
    (0.5, 0.085809, 1.000000),
    (1.0, 0.021915, 1.000000),
];

/// D0 t/R2 of the cylinders.
const FOURIER: [f64; 5] = [0.02, 0.05, 0.1, 0.2, 0.4];
/// H/R, exponent times the moisture at the start, what is left.
const CYLINDERS: &[(f64, f64, [f64; 5])] = &[
    (
        1.2,
        -1.0,
        [0.659541, 0.498178, 0.346546, 0.183534, 0.049553],
    ),
    (1.2, 2.0, [0.469683, 0.284399, 0.153911, 0.058641, 0.011500]),
    (1.2, 4.0, [0.321527, 0.176869, 0.090762, 0.033433, 0.006451]),
    (0.4, 2.0, [0.267824, 0.103603, 0.029806, 0.003280, 0.000047]),
    (2.5, 4.0, [0.366607, 0.213417, 0.117249, 0.048458, 0.011693]),
];

fn row(what: String, expected: f64, computed: f64, tolerance: f64, why: &'static str) -> Row {
    Row {
        source: SOURCE,
        what,
        unit: "",
        expected,
        computed,
        tolerance,
        absolute: true,
        why,
        kind: Kind::Peer,
        disputed: None,
    }
}

fn plate_rows() -> Vec<Row> {
    let body = |start, held| Body {
        outline: Outline::Plate { thickness: 3e-3 },
        depth: 1.5e-3,
        exponent: 3.0,
        biot: 1e7,
        start,
        held,
        fineness: None,
    };
    let fourier: Vec<f64> = PLATE.iter().map(|(fo, _, _)| *fo).collect();
    let means = |start, held| {
        let found = body(start, held).means(&fourier);
        found.unwrap_or_else(|_| vec![f64::NAN; fourier.len()])
    };
    let (drying, wetting) = (means(1.0, 0.0), means(0.0, 1.0));
    let mut rows = Vec::new();
    for (index, (fo, left, taken)) in PLATE.iter().enumerate() {
        for (what, expected, computed) in [
            ("left", left, drying[index]),
            ("taken up", taken, wetting[index]),
        ] {
            rows.push(row(
                format!("{what} in a plate, D = D0 exp(3 X), D0 t/L2 {fo}"),
                *expected,
                computed,
                2e-5 + 1e-4 * expected,
                "the promise of a curve, and what the finite volumes are off",
            ));
        }
    }
    rows
}

/// What is left in a cylinder of radius 1 with its surface dry, at each of [`FOURIER`].
fn cylinder(half_length: f64, exponent: f64) -> Result<[f64; 5], PelletError> {
    /// Nodes in each coordinate.
    const NODES: usize = 9;
    /// Steps up to the last time, growing with the square of their number.
    const STEPS: u32 = 240;
    let law = Diffusivity::Exponential {
        reference: 1.0,
        reference_temperature: 300.0,
        activation_energy: 0.0,
        moisture_exponent: exponent,
    };
    let grid = NodalGrid::section(1.0, half_length, NODES)?;
    let (mut state, mut work) = (vec![1.0; grid.len()], grid.work());
    let mut end = state.clone();
    let mut found = [f64::NAN; 5];
    let mut now = 0.0;
    let last = FOURIER[FOURIER.len() - 1];
    for step in 1..=STEPS {
        let goal = last * (f64::from(step) / f64::from(STEPS)).powi(2);
        // Stop on the way at each time asked for.
        while now < goal {
            let next = FOURIER.iter().copied().find(|fo| *fo > now * (1.0 + 1e-12));
            let until = next.map_or(goal, |fo| fo.min(goal));
            grid.step(
                &law,
                300.0,
                until - now,
                &state,
                0.0,
                0.0,
                &mut end,
                &mut work,
            )?;
            state.copy_from_slice(&end);
            now = until;
            for (fo, mean) in FOURIER.iter().zip(&mut found) {
                if (fo / now - 1.0).abs() < 1e-12 {
                    *mean = grid.mean(&state);
                }
            }
        }
    }
    Ok(found)
}

/// Two rows for each time of the plate, one for each cylinder and time.
pub fn rows() -> Vec<Row> {
    let mut rows = plate_rows();
    for &(aspect, exponent, expected) in CYLINDERS {
        let computed = cylinder(aspect, exponent).unwrap_or([f64::NAN; 5]);
        for ((fo, expected), computed) in FOURIER.iter().zip(expected).zip(computed) {
            rows.push(row(
                format!("left in a cylinder H/R {aspect}, D = D0 exp({exponent} X), D0 t/R2 {fo}"),
                expected,
                computed,
                1e-4 + 2e-3 * expected,
                "nine nodes each way at the edge, a tenth of what an equivalent may be off",
            ));
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    #[test]
    fn peer_nonlinear_pellet() {
        crate::check(&super::rows());
    }
}
