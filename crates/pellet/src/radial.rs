//! A pellet reduced to one coordinate: depth from the surface to the heart.
//!
//! # Equations
//! 1. `dX/dt = (1/A) d/dr (A D dX/dr)` for 0 < r < L, with the area law
//!    `A(r) ~ (r/L)^(d-1) (1 + c (r/L)^2)`: a plate is d = 1, a rod d = 2, a sphere d = 3 with c = 0.
//! 2. In `u = (r/L)^2` the solution is analytic at the heart; it is carried on Gauss-Radau nodes
//!    (one on the surface) and tested against the Lagrange polynomials through them (Galerkin with
//!    the same quadrature), so that mass is conserved to rounding and the error falls
//!    exponentially with the number of nodes where D is smooth.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! d | `dimension` | 1
//! c | `bulge` | 1
//! u | `nodes` | 1
//!
//! # Holds for
//! d from 1 to 12, c above -0.9. Sharp fronts (a step in moisture) ring until they are as wide as
//! the spacing of the nodes next to them; the mean is not affected beyond its table of precision.
//!
//! # Sources
//! Villadsen and Michelsen (1978), Solution of Differential Equation Models by Polynomial
//! Approximation, ch. 3 and 4 (from memory).
//!
//! # Checked by
//! Unit tests against the eigenvalues of plate, rod, sphere and four-dimensional ball;
//! `tests/src/exact`.

use crate::PelletError;
use libm::sqrt;
use numeric::eigen;
use numeric::linear::Matrix;
use numeric::quadrature::{gauss_radau, lagrange_derivatives};

/// Nodes, masses and slopes of the reduced pellet; depth scaled to 1.
#[derive(Clone, Debug)]
pub struct RadialGrid {
    /// Dimension d of the area law.
    pub dimension: f64,
    /// Bulge c of the area law.
    pub bulge: f64,
    /// u = r^2 at each node, rising; the last is the surface.
    pub nodes: Vec<f64>,
    /// Share of the volume that each node stands for; they add up to 1.
    pub masses: Vec<f64>,
    /// Weight of the flux at each node, `4 u m`.
    pub flux_weights: Vec<f64>,
    /// Slopes d/du of the Lagrange polynomials.
    pub slopes: Matrix,
}

/// Decay of the reduced pellet with its surface held dry and D = 1: rates and shares.
#[derive(Clone, Debug)]
pub struct RadialModes {
    /// Decay rates, rising.
    pub rates: Vec<f64>,
    /// Share of each mode in the mean of a uniformly wet pellet.
    pub shares: Vec<f64>,
    /// Value of each mode at the heart when its share in the mean is 1.
    pub hearts: Vec<f64>,
}

impl RadialGrid {
    /// A grid with `interior` nodes below the surface.
    ///
    /// # Errors
    /// [`PelletError::Numeric`] when the quadrature cannot be made (dimension out of range).
    pub fn new(dimension: f64, bulge: f64, interior: usize) -> Result<Self, PelletError> {
        let rule = gauss_radau(interior, 0.5 * dimension - 1.0)?;
        let mut masses: Vec<f64> = rule
            .nodes
            .iter()
            .zip(&rule.weights)
            .map(|(u, w)| 0.5 * w * (1.0 + bulge * u))
            .collect();
        let volume: f64 = masses.iter().sum();
        for mass in &mut masses {
            *mass /= volume;
        }
        let flux_weights = rule
            .nodes
            .iter()
            .zip(&masses)
            .map(|(u, m)| 4.0 * u * m)
            .collect();
        let slopes = lagrange_derivatives(&rule.nodes);
        Ok(Self {
            dimension,
            bulge,
            nodes: rule.nodes,
            masses,
            flux_weights,
            slopes,
        })
    }

    /// Number of nodes, the surface included.
    pub fn len(&self) -> usize {
        self.nodes.len()
    }

    /// A grid always has nodes.
    pub fn is_empty(&self) -> bool {
        self.nodes.is_empty()
    }

    /// Surface over volume times the depth: `(1 + c) / (1/d + c/(d+2))`.
    pub fn surface_to_volume(dimension: f64, bulge: f64) -> f64 {
        (1.0 + bulge) / (1.0 / dimension + bulge / (dimension + 2.0))
    }

    /// Mean over the volume.
    pub fn mean(&self, values: &[f64]) -> f64 {
        self.masses.iter().zip(values).map(|(m, x)| m * x).sum()
    }

    /// Weights that extend nodal values to any u (barycentric Lagrange interpolation).
    pub fn interpolation(&self, u: f64) -> Vec<f64> {
        let n = self.len();
        if let Some(hit) = self.nodes.iter().position(|node| (*node - u).abs() < 1e-15) {
            let mut weights = vec![0.0; n];
            weights[hit] = 1.0;
            return weights;
        }
        let raw: Vec<f64> = (0..n)
            .map(|j| {
                let product: f64 = (0..n)
                    .filter(|&k| k != j)
                    .map(|k| 4.0 * (self.nodes[j] - self.nodes[k]))
                    .product();
                1.0 / product / (u - self.nodes[j])
            })
            .collect();
        let total: f64 = raw.iter().sum();
        raw.iter().map(|w| w / total).collect()
    }

    /// Stiffness for D = 1: entry (i, j) is the coupling of nodes i and j.
    pub fn stiffness(&self) -> Matrix {
        let n = self.len();
        let mut stiffness = Matrix::zeros(n);
        for k in 0..n {
            let row = self.slopes.row(k);
            for i in 0..n {
                for j in 0..n {
                    stiffness.add(i, j, self.flux_weights[k] * row[i] * row[j]);
                }
            }
        }
        stiffness
    }

    /// Decay modes with the surface held dry.
    ///
    /// # Errors
    /// [`PelletError::Numeric`] from the eigenvalue iteration.
    pub fn modes(&self) -> Result<RadialModes, PelletError> {
        let inner = self.len() - 1;
        let stiffness = self.stiffness();
        let mut scaled = Matrix::zeros(inner);
        for i in 0..inner {
            for j in 0..inner {
                let mass = sqrt(self.masses[i] * self.masses[j]);
                scaled.set(i, j, stiffness.at(i, j) / mass);
            }
        }
        let found = eigen::symmetric(&scaled)?;
        let heart = self.interpolation(0.0);
        let mut modes = RadialModes {
            rates: found.values,
            shares: Vec::new(),
            hearts: Vec::new(),
        };
        for vector in &found.vectors {
            let mean: f64 = vector
                .iter()
                .zip(&self.masses)
                .map(|(v, m)| v * sqrt(*m))
                .sum();
            let at_heart: f64 = (0..inner)
                .map(|i| heart[i] * vector[i] / sqrt(self.masses[i]))
                .sum();
            modes.shares.push(mean * mean);
            modes
                .hearts
                .push(if mean == 0.0 { 0.0 } else { at_heart / mean });
        }
        Ok(modes)
    }
}

#[cfg(test)]
mod tests {
    use super::RadialGrid;
    use crate::PelletError;

    #[test]
    fn published_slowest_rates_of_plate_rod_sphere_and_ball() -> Result<(), PelletError> {
        // Abramowitz and Stegun (1964), table 9.5: j_0,1 = 2.4048255577, j_1,1 = 3.8317059702;
        // plate (pi/2)^2, sphere pi^2.
        let wanted = [
            (1.0, std::f64::consts::FRAC_PI_2.powi(2), 2),
            (2.0, 2.404_825_557_7_f64.powi(2), 4),
            (3.0, std::f64::consts::PI.powi(2), 6),
            (4.0, 3.831_705_970_2_f64.powi(2), 8),
        ];
        for (dimension, rate, factor) in wanted {
            let modes = RadialGrid::new(dimension, 0.0, 10)?.modes()?;
            assert!((modes.rates[0] / rate - 1.0).abs() < 1e-9, "{dimension}");
            let share = f64::from(factor) / rate;
            assert!((modes.shares[0] / share - 1.0).abs() < 1e-9, "{dimension}");
        }
        Ok(())
    }

    #[test]
    fn holds_shares_and_surface_mass_add_up() -> Result<(), PelletError> {
        let grid = RadialGrid::new(3.4, 0.3, 12)?;
        let shares: f64 = grid.modes()?.shares.iter().sum();
        let surface = grid.masses[grid.len() - 1];
        assert!((shares + surface - 1.0).abs() < 1e-12);
        Ok(())
    }

    #[test]
    fn exact_heart_of_a_sphere_mode() -> Result<(), PelletError> {
        // sin(pi r)/(pi r): heart 1, mean 3/pi^2.
        let modes = RadialGrid::new(3.0, 0.0, 12)?.modes()?;
        assert!((modes.hearts[0] - std::f64::consts::PI.powi(2) / 3.0).abs() < 1e-8);
        Ok(())
    }
}
