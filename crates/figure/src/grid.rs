//! Values on a rectangular grid, for contours and colour fields.

use serde::{Deserialize, Serialize};

/// Values at the crossings of two rising lists of coordinates.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Grid {
    /// Coordinates on the shared axis, rising.
    pub along: Vec<f64>,
    /// Coordinates on the panel's own axis, rising.
    pub across: Vec<f64>,
    /// One row for each entry of `across`, each with one value for each entry of `along`.
    pub values: Vec<Vec<f64>>,
}

impl Grid {
    /// Fills a grid from a function of `(along, across)`.
    pub fn from_function(
        along: Vec<f64>,
        across: Vec<f64>,
        value: impl Fn(f64, f64) -> f64,
    ) -> Self {
        let row = |y: &f64| along.iter().map(|x| value(*x, *y)).collect();
        let values = across.iter().map(row).collect();
        Self {
            along,
            across,
            values,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_rows_follow_across() {
        let grid = Grid::from_function(vec![0.0, 1.0, 2.0], vec![0.0, 10.0], |x, y| x + y);
        assert_eq!(
            grid.values,
            vec![vec![0.0, 1.0, 2.0], vec![10.0, 11.0, 12.0]]
        );
    }
}
