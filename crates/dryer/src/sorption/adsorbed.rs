//! What a sorbent holds, tabulated: equilibrium pressure and heat given off, with their slopes.
//!
//! # Equations
//! 1. `p(q, T)` is the equilibrium of the sorbent's law.
//! 2. `q_st = (R/M) T^2 d(ln p)/dT` at constant loading (Clausius and Clapeyron, ideal vapour).
//! 3. `I(q, T) = integral of q_st from 0 to q`: the heat that vapour at `T` gave off on its way in.
//!    With it the heat of the loaded sorbent is a function of state, so that a cycle closes.
//! 4. Shift: `ln p = ln p_law - D (1/T - 1/T_0)` and with it `I = I_law + (R/M) D q`.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! q | `loading` | kg/kg dry sorbent
//! p | `ln_pressure` | Pa
//! I | `released` | J/kg dry sorbent
//! D | `shift` | K
//! T_0 | [`ANCHOR`] | K
//!
//! [`material::sorbent::SorbentTable`] tabulates the pressure alone; here the heat comes along, from the same
//! polynomials that Newton differentiates.
//!
//! # Holds for
//! 220 K to 560 K and loadings of 1e-7 of the capacity and above; `ln p` is carried on as a straight
//! line beyond. The law behind it has its own, narrower range.
//!
//! # Sources
//! Clapeyron's equation: any thermodynamics; the rest follows.
//!
//! # Checked by
//! `tests/src/peers/wheel.rs`

use air::saturation;
use material::sorbent::Sorbent;
use quantity::constants::{MOLAR_GAS, WATER_MOLAR_MASS};
use std::sync::Arc;

/// Gas constant of water vapour, J/(kg K).
pub const VAPOUR_GAS: f64 = MOLAR_GAS / WATER_MOLAR_MASS;
/// Temperature at which a shift changes nothing, K: the middle of the 0 to 100 degC in which
/// water isotherms of zeolite are measured.
pub const ANCHOR: f64 = 323.15;
/// Temperatures that are tabulated, K.
pub const TABULATED: (f64, f64) = (220.0, 560.0);

/// Knots along the loading, and along the inverse temperature.
const KNOTS: (usize, usize) = (129, 33);
/// Least loading tabulated, share of the greatest.
const LEAST: f64 = 1e-7;
/// How much closer knots stand near the greatest loading than a logarithm would have them.
const CROWDING: f64 = 3.0;

/// Equilibrium of a loaded sorbent, and its slopes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// Natural logarithm of the equilibrium vapour pressure in Pa.
    pub ln_pressure: f64,
    /// Its slope along the loading, kg/kg.
    pub by_loading: f64,
    /// Its slope along the temperature, 1/K.
    pub by_temperature: f64,
    /// Heat given off since dry, J/kg dry sorbent.
    pub released: f64,
    /// Its slope along the loading: the isosteric heat, J/kg water.
    pub isosteric_heat: f64,
    /// Its slope along the temperature, J/(kg K).
    pub released_by_temperature: f64,
}

/// What a law says at a loading and temperature: `ln p` and its slopes along both.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LawPoint {
    /// Natural logarithm of the equilibrium vapour pressure in Pa.
    pub ln_pressure: f64,
    /// Its slope along the loading, kg/kg.
    pub by_loading: f64,
    /// Its slope along the temperature, 1/K.
    pub by_temperature: f64,
}

/// The pair (logarithm of pressure, mean heat given off), one polynomial a table cell.
type Pair = [f64; 2];

/// A sorption law tabulated once: a piecewise bicubic in (a stretched logarithm of) loading and
/// in the inverse temperature, smooth to the first derivative.
#[derive(Clone, Debug, PartialEq)]
pub struct Adsorbed {
    /// Shared: a dryer is cloned for every draw of doubt, its table never changes.
    cells: Arc<[[[Pair; 4]; 4]]>,
    start: (f64, f64),
    per_unit: (f64, f64),
    greatest: f64,
    shift: f64,
    limit: (f64, f64),
}

impl Adsorbed {
    /// Tabulates a sorbent up to what it holds in saturated air between 0 and 100 degC.
    pub fn of(sorbent: &Sorbent) -> Self {
        let greatest = (0..=10)
            .map(|k| {
                let t = saturation::TRIPLE_POINT + 10.0 * f64::from(k);
                sorbent.loading(saturation::over_liquid(t), t)
            })
            .fold(1e-3, f64::max);
        let law = |loading: f64, t: f64| {
            let over = sorbent.pressure(loading, t);
            LawPoint {
                ln_pressure: over.log_pressure,
                by_loading: over.by_loading,
                by_temperature: over.by_temperature,
            }
        };
        Self {
            limit: sorbent.limit(),
            ..Self::tabulated(greatest, law)
        }
    }

    /// Tabulates a law up to a greatest loading (kg/kg).
    pub fn tabulated(greatest: f64, law: impl Fn(f64, f64) -> LawPoint) -> Self {
        let (columns, rows) = KNOTS;
        let from = place(greatest * LEAST, greatest);
        let width = (place(greatest, greatest) - from) / (columns - 1) as f64;
        let low = 1.0 / TABULATED.1;
        let height = (1.0 / TABULATED.0 - low) / (rows - 1) as f64;
        let knots: Vec<Vec<Knot>> = (0..rows)
            .map(|row| {
                let inverse = low + height * row as f64;
                isotherm(from, width, greatest, inverse, &law)
            })
            .collect();
        let knots = with_slopes(knots, height);
        let mut cells = Vec::with_capacity((rows - 1) * (columns - 1));
        for row in 0..rows - 1 {
            for column in 0..columns - 1 {
                cells.push(cell(&knots, row, column));
            }
        }
        Self {
            cells: cells.into(),
            start: (from, low),
            per_unit: (1.0 / width, 1.0 / height),
            greatest,
            shift: 0.0,
            limit: TABULATED,
        }
    }

    /// Temperatures beyond which the law behind it is unphysical, K.
    pub fn limit(&self) -> (f64, f64) {
        self.limit
    }

    /// The same sorbent with its isosteric heat raised by `shift` (K times the gas constant of
    /// vapour) and its pressures turned about [`ANCHOR`] accordingly.
    #[must_use]
    pub fn shifted(&self, shift: f64) -> Self {
        Self {
            shift: self.shift + shift,
            ..self.clone()
        }
    }

    /// The shift in force, K.
    pub fn shift(&self) -> f64 {
        self.shift
    }

    /// Greatest loading tabulated, kg/kg.
    pub fn greatest(&self) -> f64 {
        self.greatest
    }

    /// Equilibrium at a loading (kg/kg, positive) and temperature (K).
    #[inline]
    pub fn at(&self, loading: f64, t: f64) -> Held {
        let inverse = 1.0 / t;
        let x = (place(loading, self.greatest) - self.start.0) * self.per_unit.0;
        let y = (inverse - self.start.1) * self.per_unit.1;
        let (columns, rows) = (KNOTS.0 - 1, KNOTS.1 - 1);
        let (xi, yi) = (x.clamp(0.0, columns as f64), y.clamp(0.0, rows as f64));
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "held between 0 and the number of cells"
        )]
        let (column, row) = ((xi as usize).min(columns - 1), (yi as usize).min(rows - 1));
        let (u, v) = (xi - column as f64, yi - row as f64);
        let [value, by_x, by_y] = polynomial(&self.cells[row * columns + column], u, v);
        // Beyond the table ln p goes on as a straight line and the mean heat stays.
        let (over_x, over_y) = (x - xi, y - yi);
        let ln_pressure = value[0] + by_x[0] * over_x + by_y[0] * over_y;
        let x_slope = (1.0 / loading + CROWDING / self.greatest) * self.per_unit.0;
        let y_slope = -inverse * inverse * self.per_unit.1;
        let (mean_by_x, mean_by_y) = (
            if over_x == 0.0 { by_x[1] } else { 0.0 },
            if over_y == 0.0 { by_y[1] } else { 0.0 },
        );
        let mean = value[1] + VAPOUR_GAS * self.shift;
        Held {
            ln_pressure: ln_pressure - self.shift * (inverse - 1.0 / ANCHOR),
            by_loading: by_x[0] * x_slope,
            by_temperature: by_y[0] * y_slope + self.shift * inverse * inverse,
            released: mean * loading,
            isosteric_heat: mean + loading * mean_by_x * x_slope,
            released_by_temperature: loading * mean_by_y * y_slope,
        }
    }

    /// Loading in equilibrium with a vapour pressure (Pa) at a temperature (K), kg/kg.
    pub fn loading(&self, pressure: f64, t: f64) -> f64 {
        let target = libm::log(pressure.max(f64::MIN_POSITIVE));
        let (mut low, mut high) = (LEAST * LEAST * self.greatest, 2.0 * self.greatest);
        let mut loading = 0.3 * self.greatest;
        for _ in 0..80 {
            let held = self.at(loading, t);
            let off = held.ln_pressure - target;
            if off > 0.0 {
                high = loading;
            } else {
                low = loading;
            }
            let newton = loading - off / held.by_loading;
            let next = if newton > low && newton < high {
                newton
            } else {
                libm::sqrt(low * high)
            };
            if (next - loading).abs() <= 1e-14 * loading {
                return next;
            }
            loading = next;
        }
        loading
    }
}

/// Place of a loading along the table, before scaling.
#[inline]
fn place(loading: f64, greatest: f64) -> f64 {
    libm::log(loading) + CROWDING * loading / greatest
}

/// Loading at a place.
fn loading_at(place_wanted: f64, greatest: f64) -> f64 {
    // Newton in the logarithm of the loading: convex, from above.
    let mut ln = place_wanted.min(libm::log(greatest));
    for _ in 0..60 {
        let part = CROWDING * libm::exp(ln) / greatest;
        let step = (ln + part - place_wanted) / (1.0 + part);
        ln -= step;
        if step.abs() < 1e-15 {
            break;
        }
    }
    libm::exp(ln)
}

/// Value and slopes of both functions at a knot, in knot spacings.
#[derive(Clone, Copy, Debug, Default)]
struct Knot {
    value: Pair,
    by_x: Pair,
    by_y: Pair,
    by_both: Pair,
}

/// One row of knots: what the law says, and the heat given off by quadrature along it.
fn isotherm(
    from: f64,
    width: f64,
    greatest: f64,
    inverse: f64,
    law: &impl Fn(f64, f64) -> LawPoint,
) -> Vec<Knot> {
    let t = 1.0 / inverse;
    let points: Vec<(f64, f64, LawPoint)> = (0..KNOTS.0)
        .map(|column| {
            let loading = loading_at(from + width * column as f64, greatest);
            let stretch = width / (1.0 / loading + CROWDING / greatest);
            (loading, stretch, law(loading, t))
        })
        .collect();
    let heat = |point: &LawPoint| VAPOUR_GAS * t * t * point.by_temperature;
    let rate: Vec<f64> = points.iter().map(|(_, s, p)| heat(p) * s).collect();
    let bend: Vec<f64> = (0..rate.len()).map(|k| slope(&rate, k)).collect();
    let mut released = 0.0;
    let mut knots = Vec::with_capacity(points.len());
    for (k, (loading, stretch, point)) in points.iter().enumerate() {
        released = if k == 0 {
            heat(point) * loading
        } else {
            released + 0.5 * (rate[k - 1] + rate[k]) + (bend[k - 1] - bend[k]) / 12.0
        };
        let mean = released / loading;
        knots.push(Knot {
            value: [point.ln_pressure, mean],
            by_x: [
                point.by_loading * stretch,
                (heat(point) - mean) / loading * stretch,
            ],
            by_y: [-t * t * point.by_temperature, 0.0],
            by_both: [0.0; 2],
        });
    }
    knots
}

/// Fills in the slopes that the law does not give, by differences of fourth order.
fn with_slopes(mut knots: Vec<Vec<Knot>>, height: f64) -> Vec<Vec<Knot>> {
    for row in &mut knots {
        for knot in row.iter_mut() {
            knot.by_y[0] *= height;
        }
        let across: Vec<f64> = row.iter().map(|knot| knot.by_y[0]).collect();
        for (k, knot) in row.iter_mut().enumerate() {
            knot.by_both[0] = slope(&across, k);
        }
    }
    for column in 0..KNOTS.0 {
        let mean: Vec<f64> = knots.iter().map(|row| row[column].value[1]).collect();
        let mean_by_x: Vec<f64> = knots.iter().map(|row| row[column].by_x[1]).collect();
        for (k, row) in knots.iter_mut().enumerate() {
            row[column].by_y[1] = slope(&mean, k);
            row[column].by_both[1] = slope(&mean_by_x, k);
        }
    }
    knots
}

/// Slope at entry `k` of equally spaced values, in spacings: fourth order, one-sided at the ends.
fn slope(values: &[f64], k: usize) -> f64 {
    const ENDS: [[f64; 5]; 2] = [
        [-25.0, 48.0, -36.0, 16.0, -3.0],
        [-3.0, -10.0, 18.0, -6.0, 1.0],
    ];
    let last = values.len() - 1;
    let sum = if k < 2 {
        (0..5).map(|j| ENDS[k][j] * values[j]).sum::<f64>()
    } else if k + 2 > last {
        -(0..5)
            .map(|j| ENDS[last - k][j] * values[last - j])
            .sum::<f64>()
    } else {
        values[k - 2] - 8.0 * values[k - 1] + 8.0 * values[k + 1] - values[k + 2]
    };
    sum / 12.0
}

/// The bicubic through four knots, as coefficients of powers of both places.
fn cell(knots: &[Vec<Knot>], row: usize, column: usize) -> [[Pair; 4]; 4] {
    let [pressure, heat] = [0, 1].map(|part| bicubic(knots, row, column, part));
    let mut coefficients = [[[0.0; 2]; 4]; 4];
    for j in 0..4 {
        for i in 0..4 {
            coefficients[j][i] = [pressure[j][i], heat[j][i]];
        }
    }
    coefficients
}

/// The same for one of both functions.
fn bicubic(knots: &[Vec<Knot>], row: usize, column: usize, part: usize) -> [[f64; 4]; 4] {
    // Lines: value and slope along y at each end; columns: the same along x.
    let mut given = [[0.0; 4]; 4];
    for (j, line) in [row, row + 1].into_iter().enumerate() {
        for (i, stand) in [column, column + 1].into_iter().enumerate() {
            let knot = &knots[line][stand];
            given[2 * j][2 * i] = knot.value[part];
            given[2 * j][2 * i + 1] = knot.by_x[part];
            given[2 * j + 1][2 * i] = knot.by_y[part];
            given[2 * j + 1][2 * i + 1] = knot.by_both[part];
        }
    }
    let along = given.map(powers);
    let mut coefficients = [[0.0; 4]; 4];
    for i in 0..4 {
        let column = powers([along[0][i], along[1][i], along[2][i], along[3][i]]);
        for (line, value) in coefficients.iter_mut().zip(column) {
            line[i] = value;
        }
    }
    coefficients
}

/// Powers of the cubic with value and slope at 0 and at 1.
fn powers([start, start_slope, end, end_slope]: [f64; 4]) -> [f64; 4] {
    let rise = end - start;
    [
        start,
        start_slope,
        3.0 * rise - 2.0 * start_slope - end_slope,
        -2.0 * rise + start_slope + end_slope,
    ]
}

/// Value and both slopes of a cell's polynomials.
#[inline]
fn polynomial(cell: &[[Pair; 4]; 4], u: f64, v: f64) -> [Pair; 3] {
    let mut value = [0.0; 2];
    let mut by_x = [0.0; 2];
    let mut by_y = [0.0; 2];
    for row in cell.iter().rev() {
        for part in 0..2 {
            let [a, b, c, d] = [row[0][part], row[1][part], row[2][part], row[3][part]];
            let line = a + u * (b + u * (c + u * d));
            let line_slope = b + u * (2.0 * c + 3.0 * u * d);
            by_y[part] = by_y[part] * v + value[part];
            value[part] = value[part] * v + line;
            by_x[part] = by_x[part] * v + line_slope;
        }
    }
    [value, by_x, by_y]
}
