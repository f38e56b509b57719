//! Spheroids and lenses at their limits: spheres, and flat or long bodies.
//!
//! What is compared: the mean left in a spheroid or lens that is a sphere, against the series of the
//! sphere; and the slowest decay of flat and long bodies, against the oscillator in which they end:
//! across the thin side a plate or rod of the local thickness, `(pi/2h)2` or `(j_0,1/a)2`, which
//! grows away from the middle as `1 + s (r/R)2`, s = 1 for an ellipse and 2 for a parabola (flat lens),
//! so that to the next order the rate is `(pi/2H)2 + sqrt(s) pi/(H R)` for a flat body and
//! `(j_0,1/R)2 + j_0,1/(R H)` for a long one (after Borisov and Freitas (2009), Ann. Inst. H. Poincare
//! C 26, 547; form derived here).
//! Tolerance: 1e-4 for what is left in spheres; what the next term of the expansion is, one over the
//! square of the long side, for the limits.
//! Errata and doubts: none known.

use crate::isothermal::Body;
use crate::{Kind, Row};
use pellet::Outline;
use pellet::equivalent::slowest;
use std::f64::consts::PI;

/// First zero of the Bessel function J0: Abramowitz and Stegun (1964), table 9.5.
const FIRST_ZERO: f64 = 2.404_825_557_695_773;
const DIAMETER: f64 = 3e-3;

fn row(what: String, unit: &'static str, [expected, computed]: [f64; 2], tolerance: f64) -> Row {
    Row {
        source: "Limits of spheroids and lenses",
        what,
        unit,
        expected,
        computed,
        tolerance,
        absolute: false,
        why: if unit.is_empty() {
            "the promise of a curve"
        } else {
            "the next term of the expansion"
        },
        kind: Kind::Exact,
        disputed: None,
    }
}

/// What is left in a sphere: Crank (1975), eq. 6.20.
fn sphere(fourier: f64) -> f64 {
    (1..200)
        .map(|n| {
            let b = f64::from(n) * PI;
            6.0 / (b * b) * (-b * b * fourier).exp()
        })
        .sum()
}

/// Rows of bodies that are spheres, and of flat and long ones.
pub fn rows() -> Vec<Row> {
    let mut rows = Vec::new();
    let (diameter, radius) = (DIAMETER, 0.5 * DIAMETER);
    let fourier = [0.01, 0.1, 0.5];
    for (name, outline) in [
        (
            "spheroid",
            Outline::Spheroid {
                diameter,
                length: diameter,
            },
        ),
        (
            "lens",
            Outline::Lens {
                diameter,
                thickness: diameter,
            },
        ),
    ] {
        let body = Body {
            outline,
            depth: radius,
            exponent: 0.0,
            biot: 1e7,
            start: 1.0,
            held: 0.0,
            fineness: None,
        };
        let found = body.means(&fourier);
        for (index, &fo) in fourier.iter().enumerate() {
            let computed = found.as_ref().map_or(f64::NAN, |means| means[index]);
            let what = format!("left in a {name} that is a sphere, Fo {fo}");
            rows.push(row(what, "", [sphere(fo), computed], 1e-4));
        }
    }
    let half = 0.1 * radius;
    for (name, sharpness, outline) in [
        (
            "flat spheroid",
            1.0_f64,
            Outline::Spheroid {
                diameter,
                length: 2.0 * half,
            },
        ),
        (
            "flat lens",
            2.0,
            Outline::Lens {
                diameter,
                thickness: 2.0 * half,
            },
        ),
    ] {
        let expected = (0.5 * PI / half).powi(2) + sharpness.sqrt() * PI / (half * radius);
        let computed = slowest(&outline).map_or(f64::NAN, |mode| mode.rate);
        let what = format!("slowest decay of a {name}, thickness over diameter 0.1");
        rows.push(row(what, "1/m2", [expected, computed], 0.015));
    }
    let (thin, long) = (radius, 10.0 * radius);
    let expected = (FIRST_ZERO / thin).powi(2) + FIRST_ZERO / (thin * long);
    let outline = Outline::Spheroid {
        diameter,
        length: 2.0 * long,
    };
    let computed = slowest(&outline).map_or(f64::NAN, |mode| mode.rate);
    let what = "slowest decay of a long spheroid, length over diameter 10".to_owned();
    rows.push(row(what, "1/m2", [expected, computed], 0.005));
    rows
}

#[cfg(test)]
mod tests {
    #[test]
    fn exact_slowest_decay() {
        crate::check(&super::rows());
    }
}
