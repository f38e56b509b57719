//! A function of temperature and pressure kept as a piecewise polynomial in both.

use crate::table::{lobatto_nodes, through};

/// Coefficients along the temperature (degree four) and along the pressure (degree five).
const T_TERMS: usize = 5;
const P_TERMS: usize = 6;
/// Pressure cells end at these multiples of [`P_UNIT`]: 50 kPa to 1.2 MPa, each some 1.5 times the last.
const P_EDGES: [u8; 9] = [2, 3, 4, 6, 9, 14, 20, 32, 48];
const P_UNIT: f64 = 25_000.0;
const P_CELLS: usize = P_EDGES.len() - 1;

/// One cell: for each power of the place in pressure, a polynomial in the place in temperature.
type Cell = [[f64; T_TERMS]; P_TERMS];

/// A smooth function on equal temperature cells and the pressure cells above.
pub(crate) struct Surface {
    start: f64,
    per_kelvin: f64,
    last: usize,
    cells: Vec<Cell>,
}

impl Surface {
    /// Tabulates `function(t)(p)` on `count` temperature cells of `width` kelvin from `start`.
    pub(crate) fn new<F: Fn(f64) -> f64>(
        start: f64,
        width: f64,
        count: usize,
        function: impl Fn(f64) -> F,
    ) -> Self {
        let t_nodes = lobatto_nodes::<T_TERMS>();
        let p_nodes = lobatto_nodes::<P_TERMS>();
        let mut cells = Vec::with_capacity(count * P_CELLS);
        for t_cell in 0..count {
            let t_centre = start + (t_cell as f64 + 0.5) * width;
            let columns = t_nodes.map(|t_node| function(t_centre + 0.5 * width * t_node));
            for edges in P_EDGES.windows(2) {
                let [low, high] = [edges[0], edges[1]].map(|edge| P_UNIT * f64::from(edge));
                let rows = p_nodes.map(|p_node| {
                    let p = 0.5 * (low + high + (high - low) * p_node);
                    let values = columns.each_ref().map(|column| [column(p)]);
                    through(&t_nodes, values).map(|[coefficient]| coefficient)
                });
                cells.push(through(&p_nodes, rows));
            }
        }
        Self {
            start,
            per_kelvin: 1.0 / width,
            last: count - 1,
            cells,
        }
    }

    /// The function and its slope in temperature; beyond the ends the end cell carries on.
    #[inline]
    pub(crate) fn with_slope(&self, t: f64, p: f64) -> (f64, f64) {
        let along = (t - self.start) * self.per_kelvin;
        let t_cell = whole(along).min(self.last);
        let u = 2.0 * (along - t_cell as f64) - 1.0;
        let (p_cell, w) = pressure_cell(p);
        let cell = &self.cells[t_cell * P_CELLS + p_cell];
        let mut row = cell[P_TERMS - 1];
        for term in (0..P_TERMS - 1).rev() {
            for (sum, coefficient) in row.iter_mut().zip(cell[term]) {
                *sum = *sum * w + coefficient;
            }
        }
        let [a, b, c, d, e] = row;
        let value = a + u * (b + u * (c + u * (d + u * e)));
        let slope = b + u * (2.0 * c + u * (3.0 * d + u * 4.0 * e));
        (value, 2.0 * self.per_kelvin * slope)
    }

    /// The function.
    #[inline]
    pub(crate) fn at(&self, t: f64, p: f64) -> f64 {
        self.with_slope(t, p).0
    }
}

/// The pressure cell and the place in it, -1 to 1.
#[inline]
fn pressure_cell(p: f64) -> (usize, f64) {
    /// Cell, centre and inverse half-width for each whole number of units.
    const PLACES: [(u8, f64, f64); P_EDGES[P_CELLS] as usize] = places();
    let (cell, centre, inverse) = PLACES[whole(p / P_UNIT).min(PLACES.len() - 1)];
    (cell as usize, (p - centre) * inverse)
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "there are eight cells, and From is not const"
)]
const fn places() -> [(u8, f64, f64); P_EDGES[P_CELLS] as usize] {
    let mut places = [(0, 0.0, 0.0); P_EDGES[P_CELLS] as usize];
    let mut unit = 0;
    let mut cell = 0;
    while unit < places.len() {
        if unit >= P_EDGES[cell + 1] as usize {
            cell += 1;
        }
        let (low, high) = (
            P_EDGES[cell] as f64 * P_UNIT,
            P_EDGES[cell + 1] as f64 * P_UNIT,
        );
        places[unit] = (cell as u8, 0.5 * (low + high), 2.0 / (high - low));
        unit += 1;
    }
    places
}

/// The whole part; negative and not-a-number become zero.
#[inline]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the cast saturates, which is what the ends need"
)]
fn whole(along: f64) -> usize {
    along as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_for_its_own_degree() {
        let function = |t: f64, p: f64| {
            let (t, p) = (t / 100.0, p / 1e6);
            1.0 + t * (1.0 - t * (0.3 - 0.01 * t * t)) * (p - 0.4 * p * p * p * p * p)
        };
        let surface = Surface::new(200.0, 4.0, 20, |t| move |p| function(t, p));
        for t in [200.0, 213.7, 240.0, 279.9] {
            for p in [5e4, 74_999.0, 75_001.0, 3e5, 799_999.0, 1.2e6] {
                let (value, slope) = surface.with_slope(t, p);
                assert!((value - function(t, p)).abs() < 1e-12, "{t} {p}");
                let d = (function(t + 0.01, p) - function(t - 0.01, p)) / 0.02;
                assert!((slope - d).abs() < 1e-9, "{t} {p}: {slope} {d}");
            }
        }
    }

    #[test]
    fn holds_without_panic_anywhere() {
        let surface = Surface::new(200.0, 4.0, 2, |t| move |p| t + p);
        for odd in [f64::NEG_INFINITY, -1.0, 0.0, 1e9, f64::INFINITY, f64::NAN] {
            let _ = (surface.at(odd, 1e5), surface.at(204.0, odd));
        }
    }
}
