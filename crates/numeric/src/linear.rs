//! Dense linear algebra for the small matrices of one pellet: LU and Cholesky.

use crate::NumericError;
use libm::sqrt;

/// A square matrix, row by row.
#[derive(Clone, Debug, PartialEq)]
pub struct Matrix {
    size: usize,
    entries: Vec<f64>,
}

impl Matrix {
    /// All zeros.
    pub fn zeros(size: usize) -> Self {
        Self {
            size,
            entries: vec![0.0; size * size],
        }
    }

    /// Number of rows.
    pub fn size(&self) -> usize {
        self.size
    }

    /// Entry in a row and column.
    #[inline]
    pub fn at(&self, row: usize, column: usize) -> f64 {
        self.entries[row * self.size + column]
    }

    /// Sets an entry.
    #[inline]
    pub fn set(&mut self, row: usize, column: usize, value: f64) {
        self.entries[row * self.size + column] = value;
    }

    /// Adds to an entry.
    #[inline]
    pub fn add(&mut self, row: usize, column: usize, value: f64) {
        self.entries[row * self.size + column] += value;
    }

    /// One row.
    #[inline]
    pub fn row(&self, row: usize) -> &[f64] {
        &self.entries[row * self.size..(row + 1) * self.size]
    }

    /// One row, to be written.
    #[inline]
    pub fn row_mut(&mut self, row: usize) -> &mut [f64] {
        &mut self.entries[row * self.size..(row + 1) * self.size]
    }

    /// Replaces the matrix by its LU factors with partial pivoting; `pivots` receives the row
    /// exchanged at each stage.
    ///
    /// # Errors
    /// [`NumericError::Singular`].
    pub fn factorise(&mut self, pivots: &mut Vec<usize>) -> Result<(), NumericError> {
        let n = self.size;
        pivots.clear();
        for k in 0..n {
            let mut best = k;
            for i in k + 1..n {
                if self.at(i, k).abs() > self.at(best, k).abs() {
                    best = i;
                }
            }
            pivots.push(best);
            if best != k {
                for j in 0..n {
                    self.entries.swap(k * n + j, best * n + j);
                }
            }
            let pivot = self.at(k, k);
            if !(pivot.abs() > 0.0) {
                return Err(NumericError::Singular { row: k });
            }
            let inverse = 1.0 / pivot;
            let (upper, lower) = self.entries.split_at_mut((k + 1) * n);
            let pivot_row = &upper[k * n + k + 1..];
            for row in lower.chunks_exact_mut(n) {
                let factor = row[k] * inverse;
                row[k] = factor;
                if factor != 0.0 {
                    for (entry, above) in row[k + 1..].iter_mut().zip(pivot_row) {
                        *entry -= factor * above;
                    }
                }
            }
        }
        Ok(())
    }

    /// Solves with the factors made by [`Matrix::factorise`], in place.
    pub fn solve_factorised(&self, pivots: &[usize], right: &mut [f64]) {
        let n = self.size;
        for (k, &pivot) in pivots.iter().enumerate() {
            right.swap(k, pivot);
        }
        for i in 1..n {
            let (done, rest) = right.split_at_mut(i);
            let sum: f64 = self.row(i)[..i]
                .iter()
                .zip(done.iter())
                .map(|(l, x)| l * x)
                .sum();
            rest[0] -= sum;
        }
        for i in (0..n).rev() {
            let (rest, done) = right.split_at_mut(i + 1);
            let row = self.row(i);
            let sum: f64 = row[i + 1..]
                .iter()
                .zip(done.iter())
                .map(|(u, x)| u * x)
                .sum();
            rest[i] = (rest[i] - sum) / row[i];
        }
    }

    /// Lower Cholesky factor of a symmetric positive definite matrix.
    ///
    /// # Errors
    /// [`NumericError::NotPositiveDefinite`].
    pub fn cholesky(&self) -> Result<Self, NumericError> {
        let n = self.size;
        let mut lower = Self::zeros(n);
        for i in 0..n {
            for j in 0..=i {
                let mut sum = self.at(i, j);
                for k in 0..j {
                    sum -= lower.at(i, k) * lower.at(j, k);
                }
                if i == j {
                    if !(sum > 0.0) {
                        return Err(NumericError::NotPositiveDefinite { row: i });
                    }
                    lower.set(i, i, sqrt(sum));
                } else {
                    lower.set(i, j, sum / lower.at(j, j));
                }
            }
        }
        Ok(lower)
    }
}

#[cfg(test)]
mod tests {
    use super::Matrix;

    fn sample(n: usize) -> Matrix {
        let mut matrix = Matrix::zeros(n);
        for i in 0..n {
            for j in 0..n {
                let (x, y) = (i as f64, j as f64);
                matrix.set(
                    i,
                    j,
                    (1.3 * x + 0.7 * y).sin() + if i == j { 3.0 } else { 0.0 },
                );
            }
        }
        matrix
    }

    #[test]
    fn exact_solution_is_recovered_by_lu() -> Result<(), crate::NumericError> {
        let n = 9;
        let matrix = sample(n);
        let solution: Vec<f64> = (0..n).map(|i| 1.0 + i as f64).collect();
        let mut right: Vec<f64> = (0..n)
            .map(|i| {
                matrix
                    .row(i)
                    .iter()
                    .zip(&solution)
                    .map(|(a, x)| a * x)
                    .sum()
            })
            .collect();
        let (mut factors, mut pivots) = (matrix, Vec::new());
        factors.factorise(&mut pivots)?;
        factors.solve_factorised(&pivots, &mut right);
        for (found, wanted) in right.iter().zip(&solution) {
            assert!((found - wanted).abs() < 1e-10);
        }
        Ok(())
    }

    #[test]
    fn holds_a_singular_matrix_is_an_error() {
        let mut zero = Matrix::zeros(3);
        assert!(zero.factorise(&mut Vec::new()).is_err());
        assert!(zero.cholesky().is_err());
    }

    #[test]
    fn exact_cholesky_factor_multiplies_back() -> Result<(), crate::NumericError> {
        let (n, general) = (6, sample(6));
        let mut square = Matrix::zeros(n);
        for i in 0..n {
            for j in 0..n {
                square.set(
                    i,
                    j,
                    (0..n).map(|k| general.at(i, k) * general.at(j, k)).sum(),
                );
            }
        }
        let lower = square.cholesky()?;
        for i in 0..n {
            for j in 0..n {
                let product: f64 = (0..n).map(|k| lower.at(i, k) * lower.at(j, k)).sum();
                assert!((product - square.at(i, j)).abs() < 1e-10);
            }
        }
        Ok(())
    }
}
