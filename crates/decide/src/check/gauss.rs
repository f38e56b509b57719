//! Normal laws of several numbers: what a factored variance is asked for.

use numeric::linear::Matrix;

/// The lower factor of a variance.
#[derive(Clone, Debug)]
pub(super) struct Factor(Matrix);

/// The unit matrix.
pub(super) fn identity(size: usize) -> Matrix {
    let mut one = Matrix::zeros(size);
    for place in 0..size {
        one.set(place, place, 1.0);
    }
    one
}

/// `a^T M b`.
pub(super) fn between(matrix: &Matrix, a: &[f64], b: &[f64]) -> f64 {
    a.iter()
        .enumerate()
        .map(|(row, a)| a * dot(matrix.row(row), b))
        .sum()
}

/// A matrix with only some of its rows and columns.
pub(super) fn only(matrix: &Matrix, kept: &[usize]) -> Matrix {
    let mut less = Matrix::zeros(kept.len());
    for (i, row) in kept.iter().enumerate() {
        for (j, column) in kept.iter().enumerate() {
            less.set(i, j, matrix.at(*row, *column));
        }
    }
    less
}

pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

impl Factor {
    /// Of a variance; none where it is not positive.
    pub(super) fn of(variance: &Matrix) -> Option<Self> {
        variance.cholesky().ok().map(Self)
    }

    fn forward(&self, right: &[f64]) -> Vec<f64> {
        let mut found: Vec<f64> = Vec::with_capacity(right.len());
        for (row, value) in right.iter().enumerate() {
            let known = dot(&self.0.row(row)[..row], &found);
            found.push((value - known) / self.0.at(row, row));
        }
        found
    }

    /// `M^-1 b`.
    pub(super) fn solve(&self, right: &[f64]) -> Vec<f64> {
        let mut found = self.forward(right);
        for row in (0..found.len()).rev() {
            let known: f64 = (row + 1..found.len())
                .map(|below| self.0.at(below, row) * found[below])
                .sum();
            found[row] = (found[row] - known) / self.0.at(row, row);
        }
        found
    }

    /// `r^T M^-1 r`.
    pub(super) fn square(&self, missed: &[f64]) -> f64 {
        self.forward(missed).iter().map(|x| x * x).sum()
    }

    /// Logarithm of the density at a distance from the mean.
    pub(super) fn log_density(&self, missed: &[f64]) -> f64 {
        let spread: f64 = (0..missed.len())
            .map(|place| libm::log(self.0.at(place, place)))
            .sum();
        let turn = libm::log(2.0 * std::f64::consts::PI);
        -0.5 * self.square(missed) - spread - 0.5 * missed.len() as f64 * turn
    }
}
