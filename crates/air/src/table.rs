//! Functions of one variable kept as piecewise polynomials, several side by side.

/// Coefficients in a cell: degree five.
const TERMS: usize = 6;

/// `N` smooth functions on equal cells from `start`; each cell holds the polynomial of degree five
/// through the six Chebyshev-Lobatto points, so neighbours meet at the knots.
pub(crate) struct Table<const N: usize> {
    start: f64,
    per_unit: f64,
    cells: Vec<[[f64; N]; TERMS]>,
}

impl<const N: usize> Table<N> {
    /// Tabulates `functions` on `count` cells of width `width` (at least one cell).
    pub(crate) fn new(
        start: f64,
        width: f64,
        count: usize,
        functions: impl Fn(f64) -> [f64; N],
    ) -> Self {
        let nodes = lobatto_nodes::<TERMS>();
        let cells = (0..count.max(1))
            .map(|cell| {
                let centre = start + (cell as f64 + 0.5) * width;
                let values = nodes.map(|node| functions(centre + 0.5 * width * node));
                through(&nodes, values)
            })
            .collect();
        Self {
            start,
            per_unit: 1.0 / width,
            cells,
        }
    }

    /// The cell of `x` and the place in it, -1 to 1; beyond the ends the end cell carries on.
    #[inline]
    fn place(&self, x: f64) -> (&[[f64; N]; TERMS], f64) {
        let along = (x - self.start) * self.per_unit;
        // A negative or not-a-number place becomes cell 0, a large one the last.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "the cast saturates, which is what the ends need"
        )]
        let cell = (along as usize).min(self.cells.len() - 1);
        (&self.cells[cell], 2.0 * (along - cell as f64) - 1.0)
    }

    /// All functions at `x`.
    #[inline]
    pub(crate) fn at(&self, x: f64) -> [f64; N] {
        let (cell, u) = self.place(x);
        let mut sum = cell[TERMS - 1];
        for term in (0..TERMS - 1).rev() {
            for k in 0..N {
                sum[k] = sum[k] * u + cell[term][k];
            }
        }
        sum
    }

    /// All functions at `x` with their slopes.
    #[inline]
    pub(crate) fn with_slope(&self, x: f64) -> ([f64; N], [f64; N]) {
        let (cell, u) = self.place(x);
        let mut sum = cell[TERMS - 1];
        let mut slope = [0.0; N];
        for term in (0..TERMS - 1).rev() {
            for k in 0..N {
                slope[k] = slope[k] * u + sum[k];
                sum[k] = sum[k] * u + cell[term][k];
            }
        }
        let scale = 2.0 * self.per_unit;
        (sum, slope.map(|s| s * scale))
    }

    /// All functions at `x` with slopes and second derivatives.
    #[inline]
    pub(crate) fn with_curvature(&self, x: f64) -> ([f64; N], [f64; N], [f64; N]) {
        let (cell, u) = self.place(x);
        let mut sum = cell[TERMS - 1];
        let mut slope = [0.0; N];
        let mut half = [0.0; N];
        for term in (0..TERMS - 1).rev() {
            for k in 0..N {
                half[k] = half[k] * u + slope[k];
                slope[k] = slope[k] * u + sum[k];
                sum[k] = sum[k] * u + cell[term][k];
            }
        }
        let scale = 2.0 * self.per_unit;
        let square = 2.0 * scale * scale;
        (sum, slope.map(|s| s * scale), half.map(|h| h * square))
    }
}

/// The points `-cos(pi k / (M - 1))`, from -1 to 1.
pub(crate) fn lobatto_nodes<const M: usize>() -> [f64; M] {
    std::array::from_fn(|k| -libm::cos(std::f64::consts::PI * k as f64 / (M - 1) as f64))
}

/// The polynomials through the values at the nodes, by Newton's divided differences; coefficients of
/// rising powers.
pub(crate) fn through<const M: usize, const N: usize>(
    nodes: &[f64; M],
    mut values: [[f64; N]; M],
) -> [[f64; N]; M] {
    for order in 1..M {
        for i in (order..M).rev() {
            let before = values[i - 1];
            for (value, before) in values[i].iter_mut().zip(before) {
                *value = (*value - before) / (nodes[i] - nodes[i - order]);
            }
        }
    }
    let mut out = [[0.0; N]; M];
    for (row, node) in values.iter().zip(nodes).rev() {
        // out = out (u - node) + row
        for term in (0..M).rev() {
            for k in 0..N {
                let below = if term == 0 { row[k] } else { out[term - 1][k] };
                out[term][k] = below - node * out[term][k];
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_for_degree_five() {
        let poly = |x: f64| 1.0 + x * (2.0 + x * (-3.0 + x * (0.5 + x * (0.25 - 0.1 * x))));
        let table = Table::new(-1.0, 0.5, 6, |x| [poly(x), x]);
        for x in [-1.0, -0.3, 0.0, 0.77, 1.9, 2.0] {
            let (value, slope, curvature) = table.with_curvature(x);
            let d = 2.0 + x * (-6.0 + x * (1.5 + x * (1.0 - 0.5 * x)));
            let d2 = -6.0 + x * (3.0 + x * (3.0 - 2.0 * x));
            assert!((value[0] - poly(x)).abs() < 1e-13, "{x}");
            assert!((slope[0] - d).abs() < 1e-12, "{x}");
            assert!((curvature[0] - d2).abs() < 1e-10, "{x}");
            assert!((value[1] - x).abs() < 1e-14 && (slope[1] - 1.0).abs() < 1e-13);
            assert!((table.at(x)[0] - value[0]).abs() < 1e-15);
            assert!((table.with_slope(x).1[0] - slope[0]).abs() < 1e-15);
        }
    }

    #[test]
    fn holds_without_panic_anywhere() {
        let table = Table::new(0.0, 1.0, 3, |x| [x]);
        for x in [f64::NEG_INFINITY, -1e9, 1e9, f64::INFINITY, f64::NAN] {
            let _ = table.at(x);
        }
        assert!((table.at(4.0)[0] - 4.0).abs() < 1e-12);
    }
}
