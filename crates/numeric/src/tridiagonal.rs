//! Block tridiagonal systems with 2 by 2 blocks, by block elimination (Thomas).
//!
//! Golub and Van Loan (2013), Matrix Computations, 4th edition, section 4.5.1.

use crate::NumericError;

/// A 2 by 2 block, row by row.
pub type Block = [f64; 4];

/// One block row: `below x_(k-1) + on x_k + above x_(k+1) = right`.
#[derive(Clone, Copy, Debug, Default)]
pub struct BlockRow {
    /// Coefficients of the unknowns one row before.
    pub below: Block,
    /// Coefficients of the unknowns of this row.
    pub on: Block,
    /// Coefficients of the unknowns one row after.
    pub above: Block,
    /// Right-hand side.
    pub right: [f64; 2],
}

fn times(a: &Block, b: &Block) -> Block {
    [
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
    ]
}

fn apply(a: &Block, x: [f64; 2]) -> [f64; 2] {
    [a[0] * x[0] + a[1] * x[1], a[2] * x[0] + a[3] * x[1]]
}

/// Solves the system; `rows` is used up as work space and `solution` receives the unknowns.
///
/// # Errors
/// [`NumericError::Singular`] when a pivot block has no inverse.
pub fn solve_blocks(
    rows: &mut [BlockRow],
    solution: &mut Vec<[f64; 2]>,
) -> Result<(), NumericError> {
    let n = rows.len();
    for k in 0..n {
        if k > 0 {
            let (before, now) = rows.split_at_mut(k);
            let (last, row) = (&before[k - 1], &mut now[0]);
            let product = times(&row.below, &last.above);
            let shift = apply(&row.below, last.right);
            for (entry, part) in row.on.iter_mut().zip(product) {
                *entry -= part;
            }
            for (entry, part) in row.right.iter_mut().zip(shift) {
                *entry -= part;
            }
        }
        let row = &mut rows[k];
        let determinant = row.on[0] * row.on[3] - row.on[1] * row.on[2];
        if !(determinant.abs() > 0.0) {
            return Err(NumericError::Singular { row: k });
        }
        let d = 1.0 / determinant;
        let inverse = [row.on[3] * d, -row.on[1] * d, -row.on[2] * d, row.on[0] * d];
        row.above = times(&inverse, &row.above);
        row.right = apply(&inverse, row.right);
    }
    solution.clear();
    solution.resize(n, [0.0; 2]);
    for k in (0..n).rev() {
        let mut x = rows[k].right;
        if k + 1 < n {
            let shift = apply(&rows[k].above, solution[k + 1]);
            x = [x[0] - shift[0], x[1] - shift[1]];
        }
        solution[k] = x;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{BlockRow, apply, solve_blocks};

    #[test]
    fn exact_solution_is_recovered() -> Result<(), crate::NumericError> {
        let n = 7;
        let wanted: Vec<[f64; 2]> = (0..n)
            .map(|k| [1.0 + f64::from(k), 0.5 - f64::from(k * k)])
            .collect();
        let mut rows = Vec::new();
        for k in 0..wanted.len() {
            let x = k as f64;
            let mut row = BlockRow {
                below: [0.3, -0.2 * x, 0.1, 0.4],
                on: [4.0 + x, 0.5, -0.3, 5.0],
                above: [-0.6, 0.2, 0.1 * x, -0.7],
                right: [0.0; 2],
            };
            row.right = apply(&row.on, wanted[k]);
            if k > 0 {
                let part = apply(&row.below, wanted[k - 1]);
                row.right = [row.right[0] + part[0], row.right[1] + part[1]];
            }
            if k + 1 < wanted.len() {
                let part = apply(&row.above, wanted[k + 1]);
                row.right = [row.right[0] + part[0], row.right[1] + part[1]];
            }
            rows.push(row);
        }
        let mut found = Vec::new();
        solve_blocks(&mut rows, &mut found)?;
        for (a, b) in found.iter().zip(&wanted) {
            assert!((a[0] - b[0]).abs() < 1e-12 && (a[1] - b[1]).abs() < 1e-12);
        }
        Ok(())
    }
}
