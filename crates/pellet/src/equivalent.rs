//! The one-dimensional equivalent of a pellet: same surface to volume, same slowest decay, same
//! share of that decay.
//!
//! A pellet is replaced by the area law of [`crate::radial`], whose three numbers (depth L,
//! dimension d, bulge c) are chosen so that it takes up water at the same speed at first (surface
//! to volume) and in the end (rate and share of the slowest mode). Sphere, plate and rod are their
//! own equivalents. What the reduction costs is tabulated in `docs/validation.md` against the
//! finite cylinder in two dimensions, for constant and for moisture-dependent diffusivity.

use crate::radial::RadialGrid;
use crate::ritz::{self, SlowestMode};
use crate::{Outline, PelletError};
use numeric::NumericError;

/// Area law of the reduced pellet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Equivalent {
    /// Depth from surface to heart, m.
    pub depth: f64,
    /// Dimension d.
    pub dimension: f64,
    /// Bulge c.
    pub bulge: f64,
}

/// Length over diameter within which the equivalent of a cylinder is within 2 % of the remaining
/// moisture down to 1 % remaining.
pub const EQUIVALENT_HOLDS: (f64, f64) = (0.58, 1.45);

/// Nodes while fitting; the slowest mode is exact to ten digits with them.
const NODES: usize = 9;
/// Range the fit may walk in.
const DIMENSION_HOLDS: (f64, f64) = (1.0, 12.0);
const BULGE_HOLDS: (f64, f64) = (-0.85, 30.0);

impl Equivalent {
    /// The equivalent of an outline.
    ///
    /// # Errors
    /// A size or aspect outside the ranges of [`Outline::check`]; no convergence.
    pub fn of(outline: &Outline) -> Result<Self, PelletError> {
        outline.check()?;
        let plain = |dimension, depth| Self {
            depth,
            dimension,
            bulge: 0.0,
        };
        match *outline {
            Outline::Plate { thickness } => Ok(plain(1.0, 0.5 * thickness)),
            Outline::Rod { diameter } => Ok(plain(2.0, 0.5 * diameter)),
            Outline::Sphere { diameter } => Ok(plain(3.0, 0.5 * diameter)),
            Outline::Cylinder { .. } | Outline::Spheroid { .. } | Outline::Lens { .. } => {
                fit(outline.surface_to_volume(), slowest(outline)?)
            }
        }
    }
}

/// Slowest mode of an outline: closed form for a cylinder, Rayleigh-Ritz otherwise.
///
/// # Errors
/// From the eigenvalue iteration.
pub fn slowest(outline: &Outline) -> Result<SlowestMode, PelletError> {
    let radial = |dimension: f64, depth: f64| -> Result<SlowestMode, PelletError> {
        let modes = RadialGrid::new(dimension, 0.0, NODES)?.modes()?;
        Ok(SlowestMode {
            rate: modes.rates[0] / (depth * depth),
            share: modes.shares[0],
        })
    };
    match *outline {
        Outline::Cylinder { diameter, length } => {
            let (rod, plate) = (radial(2.0, 0.5 * diameter)?, radial(1.0, 0.5 * length)?);
            Ok(SlowestMode {
                rate: rod.rate + plate.rate,
                share: rod.share * plate.share,
            })
        }
        Outline::Spheroid { diameter, length } => ritz::spheroid(0.5 * diameter, 0.5 * length),
        Outline::Lens {
            diameter,
            thickness,
        } => ritz::lens(0.5 * diameter, 0.5 * thickness),
        Outline::Sphere { diameter } => radial(3.0, 0.5 * diameter),
        Outline::Rod { diameter } => radial(2.0, 0.5 * diameter),
        Outline::Plate { thickness } => radial(1.0, 0.5 * thickness),
    }
}

/// Newton on (d, c) for the two conditions left once L follows from surface to volume.
fn fit(surface_to_volume: f64, target: SlowestMode) -> Result<Equivalent, PelletError> {
    let depth = |d: f64, c: f64| RadialGrid::surface_to_volume(d, c) / surface_to_volume;
    let miss = |d: f64, c: f64| -> Result<[f64; 2], PelletError> {
        let modes = RadialGrid::new(d, c, NODES)?.modes()?;
        let l = depth(d, c);
        Ok([
            modes.rates[0] / (target.rate * l * l) - 1.0,
            modes.shares[0] / target.share - 1.0,
        ])
    };
    let (mut d, mut c) = (3.0, 0.0);
    let mut now = miss(d, c)?;
    let mut change = f64::INFINITY;
    for _ in 0..80 {
        let h = 1e-5;
        let (by_d, by_c) = (miss(d + h, c)?, miss(d, c + h)?);
        let jacobian = [
            (by_d[0] - now[0]) / h,
            (by_c[0] - now[0]) / h,
            (by_d[1] - now[1]) / h,
            (by_c[1] - now[1]) / h,
        ];
        let determinant = jacobian[0] * jacobian[3] - jacobian[1] * jacobian[2];
        if !(determinant.abs() > 0.0) {
            return Err(NumericError::Singular { row: 1 }.into());
        }
        let step_d = (jacobian[3] * now[0] - jacobian[1] * now[1]) / determinant;
        let step_c = (jacobian[0] * now[1] - jacobian[2] * now[0]) / determinant;
        // Keep each step short of the edges and of half the distance to c = -1.
        let shrink = (0.7 / step_d.abs().max(1e-300))
            .min(0.5 * (1.0 + c) / step_c.abs().max(1e-300))
            .min(1.0);
        d = (d - shrink * step_d).clamp(DIMENSION_HOLDS.0, DIMENSION_HOLDS.1);
        c = (c - shrink * step_c).clamp(BULGE_HOLDS.0, BULGE_HOLDS.1);
        now = miss(d, c)?;
        change = now[0].abs().max(now[1].abs());
        if change < 1e-10 {
            return Ok(Equivalent {
                depth: depth(d, c),
                dimension: d,
                bulge: c,
            });
        }
    }
    // At the end of its range the share cannot be met; the rate and the surface still must be. Of a
    // thin disc or a long rod the plain law of some dimension does that.
    let c = if change < 0.1 { c } else { 0.0 };
    let low = miss(DIMENSION_HOLDS.0, c)?[0];
    let high = miss(DIMENSION_HOLDS.1, c)?[0];
    if low * high < 0.0 {
        let d = numeric::root::bracketed(DIMENSION_HOLDS.0, DIMENSION_HOLDS.1, 1e-9, |d| {
            miss(d, c).map_or(f64::NAN, |pair| pair[0])
        })?;
        return Ok(Equivalent {
            depth: depth(d, c),
            dimension: d,
            bulge: c,
        });
    }
    Err(NumericError::NoConvergence { steps: 80, change }.into())
}

#[cfg(test)]
mod tests {
    use super::{EQUIVALENT_HOLDS, Equivalent, slowest};
    use crate::modes::Modes;
    use crate::radial::RadialGrid;
    use crate::{Outline, PelletError};

    #[test]
    fn holds_the_equivalent_matches_rate_and_surface() -> Result<(), PelletError> {
        for length in [
            0.3e-3, 0.5e-3, 1.0e-3, 1.5e-3, 2.0e-3, 3.0e-3, 4.0e-3, 20e-3,
        ] {
            let outline = Outline::Cylinder {
                diameter: 2.5e-3,
                length,
            };
            let found = Equivalent::of(&outline)?;
            let grid = RadialGrid::new(found.dimension, found.bulge, 12)?;
            let rate = grid.modes()?.rates[0] / found.depth.powi(2);
            assert!((rate / slowest(&outline)?.rate - 1.0).abs() < 1e-8);
            let surface = RadialGrid::surface_to_volume(found.dimension, found.bulge) / found.depth;
            assert!((surface / outline.surface_to_volume() - 1.0).abs() < 1e-8);
        }
        Ok(())
    }

    #[test]
    fn holds_constant_diffusivity_is_met_within_two_percent_down_to_one_percent()
    -> Result<(), PelletError> {
        for aspect in [EQUIVALENT_HOLDS.0, 0.8, 1.0, 1.2, 1.35, EQUIVALENT_HOLDS.1] {
            let outline = Outline::Cylinder {
                diameter: 2.5e-3,
                length: 2.5e-3 * aspect,
            };
            let exact = Modes::of(&outline, 200)?;
            let found = Equivalent::of(&outline)?;
            let modes = RadialGrid::new(found.dimension, found.bulge, 40)?.modes()?;
            let mut worst = 0.0_f64;
            for step in 1..400 {
                let fourier = 1e-8 * f64::from(step);
                let wanted = exact.remaining(fourier);
                if wanted < 0.01 {
                    break;
                }
                let reduced: f64 = modes
                    .rates
                    .iter()
                    .zip(&modes.shares)
                    .map(|(rate, share)| share * (-rate * fourier / found.depth.powi(2)).exp())
                    .sum();
                worst = worst.max((reduced / wanted - 1.0).abs());
            }
            assert!(worst < 0.02, "{aspect}: {worst}");
        }
        Ok(())
    }
}
