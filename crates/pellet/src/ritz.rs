//! Slowest decay of a spheroid or a lens by the Rayleigh-Ritz method.
//!
//! Trial functions on the upper half are `phi(r, z) T_i(r^2) T_j(z)` with phi zero on the surface and
//! T Chebyshev polynomials; symmetry about z = 0 is the natural condition, and the least eigenvalue
//! converges from above. Courant and Hilbert (1953), Methods of
//! Mathematical Physics I, ch. VI (from memory).

use crate::PelletError;
use numeric::eigen;
use numeric::linear::Matrix;
use numeric::quadrature::gauss_jacobi;

/// Slowest decay of a pellet whose surface is held dry: rate (1/m2, for D = 1) and its share in
/// the mean of a uniformly wet pellet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlowestMode {
    /// Decay rate over diffusivity, 1/m2.
    pub rate: f64,
    /// Share of the mean.
    pub share: f64,
}

/// Highest total degree of the trial polynomials in r2 and z.
const DEGREE: usize = 5;
/// Quadrature points each way; exact for the polynomials above on a spheroid.
const POINTS: usize = 18;

/// A surface function that is zero on the boundary and positive inside, with its slopes.
struct Body {
    /// Largest r2.
    rim: f64,
    /// Largest z.
    top: f64,
    /// Radius of curvature of a lens; none for a spheroid.
    cap: Option<f64>,
}

impl Body {
    /// Largest r2 at height z.
    fn edge(&self, z: f64) -> f64 {
        match self.cap {
            None => self.rim * (1.0 - z * z / (self.top * self.top)),
            Some(radius) => {
                let high = z + radius - self.top;
                radius * radius - high * high
            }
        }
    }

    /// Value, slope by u = r2, slope by z.
    fn surface(&self, u: f64, z: f64) -> [f64; 3] {
        match self.cap {
            None => {
                let top2 = self.top * self.top;
                [
                    1.0 - u / self.rim - z * z / top2,
                    -1.0 / self.rim,
                    -2.0 * z / top2,
                ]
            }
            Some(radius) => {
                let up = z + radius - self.top;
                let scale = 1.0 / (self.rim * self.rim);
                [
                    scale * (radius * radius - u - up * up),
                    -scale,
                    -2.0 * scale * up,
                ]
            }
        }
    }
}

/// Chebyshev polynomials of degree 0..=DEGREE at x, and their slopes.
fn chebyshev(x: f64) -> ([f64; DEGREE + 1], [f64; DEGREE + 1]) {
    let (mut value, mut slope) = ([1.0; DEGREE + 1], [0.0; DEGREE + 1]);
    value[1] = x;
    slope[1] = 1.0;
    for k in 2..=DEGREE {
        value[k] = 2.0 * x * value[k - 1] - value[k - 2];
        slope[k] = 2.0 * value[k - 1] + 2.0 * x * slope[k - 1] - slope[k - 2];
    }
    (value, slope)
}

/// Slowest mode of a spheroid with these half-axes (m).
///
/// # Errors
/// [`PelletError::Numeric`] from the factorisation or the eigenvalue iteration.
pub fn spheroid(radius: f64, half_length: f64) -> Result<SlowestMode, PelletError> {
    let ratio = half_length / radius;
    let found = slowest(&Body {
        rim: 1.0,
        top: ratio,
        cap: None,
    })?;
    Ok(SlowestMode {
        rate: found.rate / (radius * radius),
        share: found.share,
    })
}

/// Slowest mode of a lens with this rim radius and half thickness (m).
///
/// # Errors
/// As [`spheroid`].
pub fn lens(radius: f64, half_thickness: f64) -> Result<SlowestMode, PelletError> {
    let height = half_thickness / radius;
    let curvature = (1.0 + height * height) / (2.0 * height);
    let found = slowest(&Body {
        rim: 1.0,
        top: height,
        cap: Some(curvature),
    })?;
    Ok(SlowestMode {
        rate: found.rate / (radius * radius),
        share: found.share,
    })
}

fn slowest(body: &Body) -> Result<SlowestMode, PelletError> {
    let pairs: Vec<(usize, usize)> = (0..=DEGREE)
        .flat_map(|i| (0..=DEGREE - i).map(move |j| (i, j)))
        .collect();
    let n = pairs.len();
    let (mut mass, mut stiffness) = (Matrix::zeros(n), Matrix::zeros(n));
    let (mut integrals, mut volume) = (vec![0.0; n], 0.0);
    let rule = gauss_jacobi(POINTS, 0.0, 0.0)?;
    let (mut value, mut by_u, mut by_z) = (vec![0.0; n], vec![0.0; n], vec![0.0; n]);
    for (z_at, z_weight) in rule.nodes.iter().zip(&rule.weights) {
        let z = z_at * body.top;
        let edge = body.edge(z);
        let (tz, dz) = chebyshev(2.0 * z / body.top - 1.0);
        for (u_at, u_weight) in rule.nodes.iter().zip(&rule.weights) {
            let u = u_at * edge;
            let weight = z_weight * body.top * u_weight * edge;
            let (tu, du) = chebyshev(2.0 * u / body.rim - 1.0);
            let [phi, phi_u, phi_z] = body.surface(u, z);
            for (k, &(i, j)) in pairs.iter().enumerate() {
                value[k] = phi * tu[i] * tz[j];
                by_u[k] = (phi_u * tu[i] + phi * du[i] * 2.0 / body.rim) * tz[j];
                by_z[k] = (phi_z * tz[j] + phi * dz[j] * 2.0 / body.top) * tu[i];
            }
            volume += weight;
            for i in 0..n {
                integrals[i] += weight * value[i];
                for j in 0..=i {
                    mass.add(i, j, weight * value[i] * value[j]);
                    let slope = 4.0 * u * by_u[i] * by_u[j] + by_z[i] * by_z[j];
                    stiffness.add(i, j, weight * slope);
                }
            }
        }
    }
    // Reduce to a standard problem with the Cholesky factor of the mass matrix.
    let lower = mass.cholesky()?;
    let forward = |right: &[f64]| {
        let mut x = right.to_vec();
        for i in 0..n {
            for j in 0..i {
                x[i] -= lower.at(i, j) * x[j];
            }
            x[i] /= lower.at(i, i);
        }
        x
    };
    let mut half = Matrix::zeros(n);
    for j in 0..n {
        let column: Vec<f64> = (0..n)
            .map(|i| {
                if j <= i {
                    stiffness.at(i, j)
                } else {
                    stiffness.at(j, i)
                }
            })
            .collect();
        half.row_mut(j).copy_from_slice(&forward(&column));
    }
    let mut reduced = Matrix::zeros(n);
    for i in 0..n {
        let column: Vec<f64> = (0..n).map(|j| half.at(j, i)).collect();
        for (j, entry) in forward(&column).into_iter().enumerate() {
            reduced.set(j, i, entry);
        }
    }
    let found = eigen::symmetric(&reduced)?;
    let mean: f64 = found.vectors[0]
        .iter()
        .zip(forward(&integrals))
        .map(|(v, b)| v * b)
        .sum();
    Ok(SlowestMode {
        rate: found.values[0],
        share: mean * mean / volume,
    })
}

#[cfg(test)]
mod tests {
    use super::{lens, spheroid};
    use crate::PelletError;

    #[test]
    fn exact_sphere_from_both_families() -> Result<(), PelletError> {
        let (rate, share) = (
            std::f64::consts::PI.powi(2) / 2.25,
            6.0 / std::f64::consts::PI.powi(2),
        );
        for found in [spheroid(1.5, 1.5)?, lens(1.5, 1.5)?] {
            assert!((found.rate / rate - 1.0).abs() < 1e-6, "{found:?}");
            assert!((found.share / share - 1.0).abs() < 1e-5, "{found:?}");
        }
        Ok(())
    }

    #[test]
    fn holds_between_inscribed_and_circumscribed_bodies() -> Result<(), PelletError> {
        // A body inside another decays faster (domain monotonicity of the Dirichlet problem).
        let (flat, ball) = (spheroid(1.5, 1.0)?, spheroid(1.5, 1.5)?);
        let small = spheroid(1.0, 1.0)?;
        assert!(flat.rate > ball.rate && flat.rate < small.rate);
        assert!(
            lens(1.5, 1.0)?.rate > flat.rate,
            "a lens lies inside the spheroid of its axes"
        );
        Ok(())
    }
}
