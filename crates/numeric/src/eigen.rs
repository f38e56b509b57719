//! All eigenvalues and eigenvectors of a symmetric matrix by cyclic Jacobi rotations.
//!
//! Golub and Van Loan (2013), Matrix Computations, 4th edition, section 8.5.

use crate::NumericError;
use crate::linear::Matrix;
use libm::sqrt;

/// Sweeps before giving up; six to ten are usual.
const MOST_SWEEPS: usize = 60;

/// Eigenvalues in rising order, and the eigenvector of each (`vectors[k]` belongs to `values[k]`).
#[derive(Clone, Debug)]
pub struct Decomposition {
    /// Eigenvalues, rising.
    pub values: Vec<f64>,
    /// Unit eigenvectors.
    pub vectors: Vec<Vec<f64>>,
}

/// Decomposes the symmetric part of a matrix.
///
/// # Errors
/// [`NumericError::NoConvergence`] when the off-diagonal part does not vanish (not a number).
pub fn symmetric(matrix: &Matrix) -> Result<Decomposition, NumericError> {
    let n = matrix.size();
    let mut a = Matrix::zeros(n);
    for i in 0..n {
        for j in 0..n {
            a.set(i, j, 0.5 * (matrix.at(i, j) + matrix.at(j, i)));
        }
    }
    let mut v = Matrix::zeros(n);
    for i in 0..n {
        v.set(i, i, 1.0);
    }
    let mut off = f64::INFINITY;
    for _ in 0..MOST_SWEEPS {
        off = 0.0;
        let mut diagonal = 0.0;
        for i in 0..n {
            diagonal += a.at(i, i) * a.at(i, i);
            for j in 0..i {
                off += 2.0 * a.at(i, j) * a.at(i, j);
            }
        }
        if off <= 1e-30 * diagonal {
            return Ok(sorted(&a, &v));
        }
        for p in 0..n {
            for q in p + 1..n {
                rotate(&mut a, &mut v, p, q);
            }
        }
    }
    Err(NumericError::NoConvergence {
        steps: MOST_SWEEPS,
        change: sqrt(off),
    })
}

fn rotate(a: &mut Matrix, v: &mut Matrix, p: usize, q: usize) {
    let n = a.size();
    let apq = a.at(p, q);
    if apq == 0.0 {
        return;
    }
    let theta = (a.at(q, q) - a.at(p, p)) / (2.0 * apq);
    let t = theta.signum() / (theta.abs() + sqrt(theta * theta + 1.0));
    let c = 1.0 / sqrt(t * t + 1.0);
    let s = t * c;
    for k in 0..n {
        let (akp, akq) = (a.at(k, p), a.at(k, q));
        a.set(k, p, c * akp - s * akq);
        a.set(k, q, s * akp + c * akq);
    }
    for k in 0..n {
        let (apk, aqk) = (a.at(p, k), a.at(q, k));
        a.set(p, k, c * apk - s * aqk);
        a.set(q, k, s * apk + c * aqk);
    }
    for k in 0..n {
        let (vkp, vkq) = (v.at(k, p), v.at(k, q));
        v.set(k, p, c * vkp - s * vkq);
        v.set(k, q, s * vkp + c * vkq);
    }
}

fn sorted(a: &Matrix, v: &Matrix) -> Decomposition {
    let n = a.size();
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|&i, &j| a.at(i, i).total_cmp(&a.at(j, j)));
    Decomposition {
        values: order.iter().map(|&k| a.at(k, k)).collect(),
        vectors: order
            .iter()
            .map(|&k| (0..n).map(|i| v.at(i, k)).collect())
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::symmetric;
    use crate::linear::Matrix;

    #[test]
    fn exact_eigenvalues_of_the_second_difference() -> Result<(), crate::NumericError> {
        let n = 12;
        let mut matrix = Matrix::zeros(n);
        for i in 0..n {
            matrix.set(i, i, 2.0);
            if i > 0 {
                matrix.set(i, i - 1, -1.0);
                matrix.set(i - 1, i, -1.0);
            }
        }
        let found = symmetric(&matrix)?;
        for (k, value) in found.values.iter().enumerate() {
            let angle = std::f64::consts::PI * (k + 1) as f64 / (2.0 * (n + 1) as f64);
            let wanted = 4.0 * angle.sin() * angle.sin();
            assert!((value - wanted).abs() < 1e-12, "{value} {wanted}");
        }
        for (value, vector) in found.values.iter().zip(&found.vectors) {
            for i in 0..n {
                let product: f64 = matrix.row(i).iter().zip(vector).map(|(a, x)| a * x).sum();
                assert!((product - value * vector[i]).abs() < 1e-12);
            }
        }
        Ok(())
    }
}
