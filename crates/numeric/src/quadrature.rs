//! Gauss quadrature on 0..1 with a power weight, with or without a point at 1.
//!
//! Golub and Welsch (1969), Math. Comput. 23, 221: nodes and weights from the eigenvalues of the
//! tridiagonal matrix of recurrence coefficients. Recurrence of the Jacobi polynomials from
//! NIST Digital Library of Mathematical Functions, table 18.9.1.

use crate::NumericError;
use crate::eigen;
use crate::linear::Matrix;
use libm::{sqrt, tgamma};

/// Nodes in rising order and their weights.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    /// Where the integrand is evaluated.
    pub nodes: Vec<f64>,
    /// Its weight in the sum.
    pub weights: Vec<f64>,
}

/// `count`-point Gauss rule for the integral over 0..1 of `(1-u)^alpha u^beta f(u)`.
/// Exact for polynomials of degree `2 count - 1`; alpha and beta above -1.
///
/// # Errors
/// From the eigenvalue iteration.
pub fn gauss_jacobi(count: usize, alpha: f64, beta: f64) -> Result<Rule, NumericError> {
    let mut matrix = Matrix::zeros(count);
    for k in 0..count {
        let n = k as f64;
        let sum = 2.0 * n + alpha + beta;
        let centre = if k == 0 {
            (beta - alpha) / (alpha + beta + 2.0)
        } else {
            (beta * beta - alpha * alpha) / (sum * (sum + 2.0))
        };
        matrix.set(k, k, 0.5 * (1.0 + centre));
        if k > 0 {
            let square = if k == 1 {
                4.0 * (1.0 + alpha) * (1.0 + beta)
                    / ((2.0 + alpha + beta) * (2.0 + alpha + beta) * (3.0 + alpha + beta))
            } else {
                4.0 * n * (n + alpha) * (n + beta) * (n + alpha + beta)
                    / (sum * sum * (sum + 1.0) * (sum - 1.0))
            };
            let off = 0.5 * sqrt(square);
            matrix.set(k, k - 1, off);
            matrix.set(k - 1, k, off);
        }
    }
    let total = tgamma(alpha + 1.0) * tgamma(beta + 1.0) / tgamma(alpha + beta + 2.0);
    let found = eigen::symmetric(&matrix)?;
    let weights = found.vectors.iter().map(|v| total * v[0] * v[0]).collect();
    Ok(Rule {
        nodes: found.values,
        weights,
    })
}

/// Gauss-Radau rule for the integral over 0..1 of `u^beta f(u)` with `interior` free nodes and one
/// at u = 1 (the last). Exact for polynomials of degree `2 interior`.
///
/// # Errors
/// From the eigenvalue iteration.
pub fn gauss_radau(interior: usize, beta: f64) -> Result<Rule, NumericError> {
    let inner = gauss_jacobi(interior, 1.0, beta)?;
    let mut weights: Vec<f64> = inner
        .nodes
        .iter()
        .zip(&inner.weights)
        .map(|(u, w)| w / (1.0 - u))
        .collect();
    let rest = 1.0 / (beta + 1.0) - weights.iter().sum::<f64>();
    weights.push(rest);
    let mut nodes = inner.nodes;
    nodes.push(1.0);
    Ok(Rule { nodes, weights })
}

/// Derivatives of the Lagrange polynomials through `nodes`: entry (i, j) is the slope at node i
/// of the polynomial that is 1 at node j. Berrut and Trefethen (2004), SIAM Rev. 46, 501, eq. 9.4.
pub fn lagrange_derivatives(nodes: &[f64]) -> Matrix {
    let n = nodes.len();
    let barycentric: Vec<f64> = (0..n)
        .map(|j| {
            let product: f64 = (0..n)
                .filter(|&k| k != j)
                .map(|k| 4.0 * (nodes[j] - nodes[k]))
                .product();
            1.0 / product
        })
        .collect();
    let mut derivatives = Matrix::zeros(n);
    for i in 0..n {
        let mut sum = 0.0;
        for j in 0..n {
            if i != j {
                let entry = barycentric[j] / barycentric[i] / (nodes[i] - nodes[j]);
                derivatives.set(i, j, entry);
                sum += entry;
            }
        }
        derivatives.set(i, i, -sum);
    }
    derivatives
}

#[cfg(test)]
mod tests {
    use super::{gauss_jacobi, gauss_radau, lagrange_derivatives};

    #[test]
    fn exact_integrals_of_powers() -> Result<(), crate::NumericError> {
        for beta in [-0.5, 0.0, 0.5, 0.97] {
            let rule = gauss_radau(6, beta)?;
            for power in 0..=12_i32 {
                let sum: f64 = rule
                    .nodes
                    .iter()
                    .zip(&rule.weights)
                    .map(|(u, w)| w * u.powi(power))
                    .sum();
                let wanted = 1.0 / (beta + 1.0 + f64::from(power));
                assert!(
                    (sum / wanted - 1.0).abs() < 1e-11,
                    "{beta} {power} {sum} {wanted}"
                );
            }
        }
        let plain = gauss_jacobi(5, 0.0, 0.0)?;
        assert!((plain.nodes[0] - 0.046_910_077_030_668).abs() < 1e-13);
        assert!((plain.weights[2] - 0.284_444_444_444_444_4).abs() < 1e-13);
        Ok(())
    }

    #[test]
    fn exact_derivative_of_a_polynomial() -> Result<(), crate::NumericError> {
        let nodes = gauss_radau(7, 0.5)?.nodes;
        let slopes = lagrange_derivatives(&nodes);
        let values: Vec<f64> = nodes.iter().map(|u| u.powi(5) - 2.0 * u * u).collect();
        for (i, u) in nodes.iter().enumerate() {
            let found: f64 = slopes.row(i).iter().zip(&values).map(|(d, x)| d * x).sum();
            assert!((found - (5.0 * u.powi(4) - 4.0 * u)).abs() < 1e-10);
        }
        Ok(())
    }
}
