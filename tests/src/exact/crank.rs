//! Crank (1975), The Mathematics of Diffusion, second edition: plate, cylinder and sphere.
//!
//! What is compared: the mean moisture left in a body that starts uniform, its surface in balance
//! with dry air at once (eqs. 4.18, 5.23, 6.20) or through a film (eqs. 4.53, 5.49, 6.43), and in a
//! cylinder of finite length, which is the product of a rod and a plate (Carslaw and Jaeger (1959),
//! section 1.15). The series are summed here, their roots found here.
//! Tolerance: 1e-4 of what is left, the promise of a curve, by modes and by nodes alike.
//! Errata and doubts: equation numbers from memory.

use crate::isothermal::Body;
use crate::{Kind, Row};
use numeric::root::bracketed;
use pellet::Outline;
use std::f64::consts::PI;

const FOURIER: [f64; 4] = [0.01, 0.1, 0.5, 1.0];
const BIOT: [f64; 4] = [0.1, 1.0, 10.0, 100.0];
/// A film that is as good as none: its resistance delays the surface by 1e-7 of the whole.
const NO_FILM: f64 = 1e7;
/// An exponent that makes a body be solved by nodes, and moves its diffusivity by nothing.
const NODAL: f64 = 1e-9;

/// Half thickness or radius of the plate, rod and sphere, m.
const DEPTH: f64 = 1.5e-3;

/// Bodies of one coordinate.
#[derive(Clone, Copy)]
enum Shape {
    Plate,
    Rod,
    Sphere,
}

/// Sum of the terms (root, share) of a series at a Fourier number, until the next are below rounding.
fn series(fourier: f64, term: impl Fn(u32) -> (f64, f64)) -> f64 {
    let mut sum = 0.0;
    for n in 1.. {
        let (root, share) = term(n);
        let exponent = root * root * fourier;
        sum += share * (-exponent).exp();
        // A root that is not a number ends the sum as well.
        if !(exponent < 40.0) {
            break;
        }
    }
    sum
}

/// Bessel function of the first kind: the mean of `cos(n u - x sin u)` over a half turn, by the
/// trapezoidal rule, which is exact to rounding for x below its number of points.
fn bessel(order: f64, x: f64) -> f64 {
    let points = 160;
    let value = |i: u32| {
        let u = PI * f64::from(i) / f64::from(points);
        (order * u - x * u.sin()).cos()
    };
    let inner: f64 = (1..points).map(value).sum();
    (inner + 0.5 * (value(0) + value(points))) / f64::from(points)
}

impl Shape {
    fn outline(self) -> Outline {
        match self {
            Self::Plate => Outline::Plate {
                thickness: 2.0 * DEPTH,
            },
            Self::Rod => Outline::Rod {
                diameter: 2.0 * DEPTH,
            },
            Self::Sphere => Outline::Sphere {
                diameter: 2.0 * DEPTH,
            },
        }
    }

    fn name(self) -> &'static str {
        match self {
            Self::Plate => "plate",
            Self::Rod => "rod",
            Self::Sphere => "sphere",
        }
    }

    /// What is left without a film.
    fn without_film(self, fourier: f64) -> f64 {
        series(fourier, |n| {
            let (b, factor) = match self {
                Self::Plate => ((f64::from(n) - 0.5) * PI, 2.0),
                Self::Rod => (rod_root(n, f64::INFINITY), 4.0),
                Self::Sphere => (f64::from(n) * PI, 6.0),
            };
            (b, factor / (b * b))
        })
    }

    /// What is left with a film.
    fn with_film(self, biot: f64, fourier: f64) -> f64 {
        series(fourier, |n| {
            let b = self.root(n, biot);
            let (factor, rest) = match self {
                Self::Plate => (2.0, biot),
                Self::Rod => (4.0, 0.0),
                Self::Sphere => (6.0, -biot),
            };
            let share = factor * biot * biot / (b * b * (b * b + biot * biot + rest));
            (b, share)
        })
    }

    /// The nth root of the condition at the surface.
    fn root(self, n: u32, biot: f64) -> f64 {
        let first = f64::from(n - 1) * PI;
        let inside = |low: f64, high: f64, f: &dyn Fn(f64) -> f64| {
            bracketed(low, high, 1e-15 * high, f).unwrap_or(f64::NAN)
        };
        match self {
            // b sin b = Bi cos b, one root in each half turn.
            Self::Plate => inside(first, first + 0.5 * PI, &|b| b * b.sin() - biot * b.cos()),
            Self::Rod => rod_root(n, biot),
            // b cos b + (Bi - 1) sin b = 0; the trivial root 0 is left out.
            Self::Sphere => inside(first.max(1e-3), first + PI * (1.0 - 1e-12), &|b| {
                b * b.cos() + (biot - 1.0) * b.sin()
            }),
        }
    }
}

/// The nth root of `b J1(b) = Bi J0(b)`, or of `J0(b) = 0` for an endless Biot number.
fn rod_root(n: u32, biot: f64) -> f64 {
    // The nth root lies between the nth zeros of J1 (0 among them) and of J0.
    let zero = |order: f64, near: f64| {
        bracketed(near - 0.8, near + 0.8, 1e-15 * near, |b| bessel(order, b)).unwrap_or(f64::NAN)
    };
    let high = zero(0.0, (f64::from(n) - 0.25) * PI);
    if biot.is_infinite() {
        return high;
    }
    let low = if n == 1 {
        1e-6
    } else {
        zero(1.0, (f64::from(n) - 0.75) * PI)
    };
    let condition = |b: f64| b * bessel(1.0, b) - biot * bessel(0.0, b);
    bracketed(low, high, 1e-15 * high, condition).unwrap_or(f64::NAN)
}

fn row(what: String, expected: f64, computed: f64) -> Row {
    Row {
        source: "Crank (1975), series summed here",
        what,
        unit: "",
        expected,
        computed,
        tolerance: 1e-4,
        absolute: false,
        why: "the promise of a curve",
        kind: Kind::Exact,
        disputed: None,
    }
}

/// Rows of one body at several Fourier numbers.
fn rows_of(body: &Body, name: &str, fourier: &[f64], exact: impl Fn(f64) -> f64) -> Vec<Row> {
    let computed = body.means(fourier);
    let found = |index: usize| computed.as_ref().map_or(f64::NAN, |means| means[index]);
    fourier
        .iter()
        .enumerate()
        .map(|(index, &fo)| row(format!("{name}, Fo {fo}"), exact(fo), found(index)))
        .collect()
}

/// One row for each body, Biot and Fourier number, by modes; one for each body and Biot number by
/// nodes; and the finite cylinders.
pub fn rows() -> Vec<Row> {
    let mut rows = Vec::new();
    let dry = |outline, depth, biot, exponent| Body {
        outline,
        depth,
        exponent,
        biot,
        start: 1.0,
        held: 0.0,
        fineness: None,
    };
    for shape in [Shape::Plate, Shape::Rod, Shape::Sphere] {
        for (exponent, path, fourier) in [
            (0.0, "modes", &FOURIER[..]),
            (NODAL, "nodes", &FOURIER[..3]),
        ] {
            let left = |biot| format!("left in a {} by {path}, {biot}", shape.name());
            let body = dry(shape.outline(), DEPTH, NO_FILM, exponent);
            rows.extend(rows_of(&body, &left("no film".to_owned()), fourier, |fo| {
                shape.without_film(fo)
            }));
            for biot in BIOT {
                let body = dry(shape.outline(), DEPTH, biot, exponent);
                rows.extend(rows_of(&body, &left(format!("Bi {biot}")), fourier, |fo| {
                    shape.with_film(biot, fo)
                }));
            }
        }
    }
    for (diameter, length) in [(2.5e-3, 3e-3), (2e-3, 3e-3), (3e-3, 3e-3)] {
        let radius = 0.5 * diameter;
        let body = dry(Outline::Cylinder { diameter, length }, radius, NO_FILM, 0.0);
        let name = format!(
            "left in a cylinder {} x {} mm by modes, Fo on the radius",
            diameter * 1e3,
            length * 1e3
        );
        let fourier = [0.01, 0.05, 0.1, 0.2, 0.5, 1.0];
        rows.extend(rows_of(&body, &name, &fourier, |fo| {
            let along = fo * (diameter / length) * (diameter / length);
            Shape::Rod.without_film(fo) * Shape::Plate.without_film(along)
        }));
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_crank() {
        crate::check(&rows());
    }

    #[test]
    fn published_crank_series_have_their_tabulated_values() {
        // First roots of Crank (1975), tables 4.1, 5.1 and 6.1 for Bi 1, and what is left at Fo 0.1.
        for (shape, root, left) in [
            (Shape::Plate, 0.860_334, 0.919_597),
            (Shape::Rod, 1.255_784, 0.843_266),
            (Shape::Sphere, std::f64::consts::FRAC_PI_2, 0.771_365),
        ] {
            assert!((shape.root(1, 1.0) - root).abs() < 1e-6, "{}", shape.name());
            assert!((shape.with_film(1.0, 0.1) - left).abs() < 1e-6);
        }
        assert!((Shape::Rod.without_film(0.05) - 0.547_879).abs() < 1e-6);
    }
}
