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

/// Probability that the sum of so many squares of standard deviates is larger.
///
/// `Q(a + 1, y) = Q(a, y) + y^a e^-y / gamma(a + 1)` from `Q(1/2, y) = erfc(sqrt y)` or `Q(1, y) = e^-y`,
/// y half the square, a half the count (from memory of textbooks); 1 over nothing.
pub(super) fn beyond(square: f64, count: usize) -> f64 {
    if count == 0 {
        return 1.0;
    }
    let half = 0.5 * square.max(0.0);
    let (mut order, mut sum) = if count % 2 == 1 {
        (0.5, libm::erfc(libm::sqrt(half)))
    } else {
        (1.0, libm::exp(-half))
    };
    while order + 0.25 < 0.5 * count as f64 {
        let log = order * libm::log(half.max(f64::MIN_POSITIVE)) - half;
        sum += libm::exp(log - libm::lgamma(order + 1.0));
        order += 1.0;
    }
    sum.min(1.0)
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_squares_beyond_a_sum() {
        // The quantiles of every table of chi-square: 3.841 and 15.086 leave 5 and 1 %, 13.816 leaves 0.1 %.
        for (square, count, left) in [
            (3.841_459, 1, 0.05),
            (15.086_27, 5, 0.01),
            (13.815_51, 2, 1e-3),
        ] {
            assert!((beyond(square, count) / left - 1.0).abs() < 1e-4, "{count}");
        }
        assert!((beyond(0.0, 3) - 1.0).abs() < 1e-12 && (beyond(9.0, 0) - 1.0).abs() < 1e-12);
        assert!(beyond(1e4, 7) < 1e-300);
    }
}
