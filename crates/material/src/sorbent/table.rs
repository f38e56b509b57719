//! A desiccant tabulated once, for kernels that ask millions of times.
//!
//! # Equations
//! ln p is a bicubic Hermite surface over loading q and temperature T: in each cell of the grid the
//! cubic that takes the law's value, both slopes and the mixed slope at the corners. It is C1
//! everywhere, and the slopes handed out are those of the very surface, so that heat and equilibrium
//! agree and Newton's method converges.
//!
//! Cells of q are equal inside an octave (from one power of two to the next), 8 to 1024 of them,
//! doubled until cubics are close to the law; the cell is found from the bits of the
//! number, without a logarithm. Cells of T are equal, 29 to 116 of them.
//!
//! Below the lowest loading ln p goes on as a straight line in ln q with the slope there (1 is Henry's
//! law), above the highest, up to twice that, as a straight line in q.

use super::exponential::exponential;
use super::{DRIEST, LOG_PRESSURES, Over, Sorbent, SorbentError, held};
use air::saturation;
use quantity::Range;

/// Temperatures a table serves unless told otherwise.
pub const TABLE_HOLDS: Range = Range::new("desiccant temperature", 243.15, 533.15, "K");
/// Largest difference of ln p between surface and law that is aimed at, half of it for each direction.
const WANTED: f64 = 2e-5;
/// Lowest loading of the grid over the highest.
const SPAN: f64 = 1e-5;
/// Elasticity d ln p / d ln q above which the desiccant counts as full.
const FULL: f64 = 20.0;
/// Bits of the mantissa of an `f64`.
const MANTISSA: u32 = 52;
/// Exponent of 1, and twice that: a power of two and its inverse have it in sum.
const BIAS: u64 = 1023;
const TWICE_BIAS: u64 = 2 * BIAS;
/// Fewest and most cells of an octave, as powers of two.
const SPLITS: (u32, u32) = (3, 10);

/// Most cells over temperature.
const MOST_CELLS: usize = 116;
/// One corner: ln p, its slope with q, and the slopes of both with T in heights of a cell.
type Corner = [f64; 4];

/// An octave of loading: where its cells start, and how many bits of the mantissa count them.
#[derive(Clone, Copy, Debug)]
struct Octave {
    first: usize,
    bits: u32,
}

/// ln p over loading and temperature as a smooth surface; see the top of this file.
#[derive(Clone, Debug)]
pub struct SorbentTable {
    /// Corners, temperature running fastest.
    corners: Vec<Corner>,
    octaves: Vec<Octave>,
    /// Biased exponent of the first octave.
    first_exponent: u64,
    lowest: f64,
    highest: f64,
    start: f64,
    width: f64,
    per_kelvin: f64,
    rows: usize,
    worst: f64,
}

/// A cell and the place in it.
struct Cell {
    corner: usize,
    width: f64,
    per_width: f64,
    u: f64,
    v: f64,
}

impl SorbentTable {
    /// Tabulates over [`TABLE_HOLDS`].
    ///
    /// # Errors
    /// As [`SorbentTable::between`].
    pub fn new(sorbent: &Sorbent) -> Result<Self, SorbentError> {
        Self::between(sorbent, TABLE_HOLDS.low, TABLE_HOLDS.high)
    }

    /// Tabulates where both [`TABLE_HOLDS`] and the limit of the desiccant allow. A temperature beyond
    /// counts as the end: the caller compares what it is going to ask with
    /// [`SorbentTable::temperatures`] and refuses the rest.
    ///
    /// # Errors
    /// As [`SorbentTable::between`], when less than a kelvin is left.
    pub fn within_limit(sorbent: &Sorbent) -> Result<Self, SorbentError> {
        let (low, high) = sorbent.limit();
        Self::between(
            sorbent,
            low.max(TABLE_HOLDS.low),
            high.min(TABLE_HOLDS.high),
        )
    }

    /// Tabulates from `low` to `high` (K).
    ///
    /// # Errors
    /// [`SorbentError::BeyondLimit`] outside the limit of the desiccant; [`SorbentError::NotRising`] when
    /// the law is not one of a loading that rises with pressure.
    pub fn between(sorbent: &Sorbent, low: f64, high: f64) -> Result<Self, SorbentError> {
        let limit = sorbent.limit();
        if !(low >= limit.0 && high <= limit.1 && high - low >= 1.0) {
            return Err(SorbentError::BeyondLimit {
                asked_low: low,
                asked_high: high,
                low: limit.0,
                high: limit.1,
            });
        }
        let full = full_loading(sorbent, low, high);
        let rows = heights(sorbent, low, high, full);
        let width = (high - low) / (rows - 1) as f64;
        let first_exponent = (SPAN * full).to_bits() >> MANTISSA;
        let last_exponent = full.to_bits() >> MANTISSA;
        let mut table = Self {
            corners: Vec::new(),
            octaves: Vec::new(),
            first_exponent,
            lowest: f64::from_bits(first_exponent << MANTISSA),
            highest: full,
            start: low,
            width,
            per_kelvin: 1.0 / width,
            rows,
            worst: 0.0,
        };
        for exponent in first_exponent..=last_exponent {
            let bits = table.splits(sorbent, exponent);
            let mut corners = table.octave(sorbent, exponent, bits)?;
            let worst = table.difference(sorbent, exponent, bits, &corners);
            table.worst = table.worst.max(worst);
            table.octaves.push(Octave {
                first: table.corners.len(),
                bits,
            });
            if exponent < last_exponent {
                // The last column is the first of the next octave.
                corners.truncate(corners.len() - table.rows);
            }
            table.corners.extend(corners);
        }
        Ok(table)
    }

    /// ln p and its slope with q at `t`, beyond a full desiccant along a straight line.
    fn edge(&self, sorbent: &Sorbent, q: f64, t: f64) -> [f64; 2] {
        let within = q.min(self.highest);
        let at = sorbent.inverse(within, t);
        [
            at.log_pressure + (q - within) * at.by_loading,
            at.by_loading,
        ]
    }

    /// How often an octave is halved until cubics in q are close enough at a few temperatures.
    fn splits(&self, sorbent: &Sorbent, exponent: u64) -> u32 {
        let start = f64::from_bits(exponent << MANTISSA);
        for bits in SPLITS.0..SPLITS.1 {
            let step = start / f64::from(1_u32 << bits);
            let close = (0..self.rows).step_by(4).all(|row| {
                let t = self.start + row as f64 * self.width;
                let column = |c: u32| start + f64::from(c) * step;
                let mut near = self.edge(sorbent, start, t);
                (1..=1_u32 << bits)
                    .take_while(|&c| column(c) - step < self.highest)
                    .all(|c| {
                        let far = self.edge(sorbent, column(c), t);
                        let found = 0.5 * (near[0] + far[0]) + 0.125 * step * (near[1] - far[1]);
                        near = far;
                        let middle = column(c) - 0.5 * step;
                        (found - self.edge(sorbent, middle, t)[0]).abs() <= 0.5 * WANTED
                    })
            });
            if close {
                return bits;
            }
        }
        SPLITS.1
    }

    /// The corners of one octave, its far end included, as far as the loading can go.
    fn octave(
        &self,
        sorbent: &Sorbent,
        exponent: u64,
        bits: u32,
    ) -> Result<Vec<Corner>, SorbentError> {
        let start = f64::from_bits(exponent << MANTISSA);
        let step = start / f64::from(1_u32 << bits);
        let mut corners = Vec::new();
        for column in 0..=(1_u32 << bits) {
            let q = start + f64::from(column) * step;
            for row in 0..self.rows {
                corners.push(self.corner(sorbent, q, row)?);
            }
            if q >= self.highest {
                break;
            }
        }
        Ok(corners)
    }

    fn corner(&self, sorbent: &Sorbent, q: f64, row: usize) -> Result<Corner, SorbentError> {
        let t = self.start + row as f64 * self.width;
        let within = q.min(self.highest);
        let at = sorbent.inverse(within, t);
        let h = 1e-5 * within;
        let mixed = (sorbent.inverse(within + h, t).by_temperature
            - sorbent.inverse(within - h, t).by_temperature)
            / (2.0 * h);
        let numbers = [at.log_pressure, at.by_loading, at.by_temperature, mixed];
        if numbers.iter().any(|x| !x.is_finite()) || at.by_loading <= 0.0 {
            return Err(SorbentError::NotRising {
                temperature: t,
                loading: within,
            });
        }
        // Beyond a full desiccant the surface goes on as a straight line in q.
        let beyond = q - within;
        Ok([
            at.log_pressure + beyond * at.by_loading,
            at.by_loading,
            (at.by_temperature + beyond * mixed) * self.width,
            mixed * self.width,
        ])
    }

    /// Largest difference from the law in the middle of the cells of an octave.
    fn difference(&self, sorbent: &Sorbent, exponent: u64, bits: u32, corners: &[Corner]) -> f64 {
        let start = f64::from_bits(exponent << MANTISSA);
        let width = start / f64::from(1_u32 << bits);
        let mut worst = 0.0_f64;
        for column in 0..corners.len() / self.rows - 1 {
            let q = start + (column as f64 + 0.5) * width;
            if q >= self.highest {
                break;
            }
            for row in 0..self.rows - 1 {
                let corner = column * self.rows + row;
                let t = self.start + (row as f64 + 0.5) * self.width;
                let law = sorbent.inverse(q, t).log_pressure;
                let cell = Cell {
                    corner,
                    width,
                    per_width: 1.0 / width,
                    u: 0.5,
                    v: 0.5,
                };
                let [found, ..] = surface(corners, self.rows, self.per_kelvin, &cell);
                worst = worst.max((found - law).abs());
            }
        }
        worst
    }

    /// Largest difference of ln p from the law met in the middle of the cells; 1e-4 is 0.001 K of frost
    /// point at -40 degC.
    pub fn worst(&self) -> f64 {
        self.worst
    }

    /// Lowest and highest loading of the grid, kg/kg; beyond them the surface is carried on.
    pub fn loadings(&self) -> (f64, f64) {
        (self.lowest, self.highest)
    }

    /// Lowest and highest temperature, K; a temperature beyond them counts as the end.
    pub fn temperatures(&self) -> (f64, f64) {
        (self.start, self.start + self.width * (self.rows - 1) as f64)
    }

    /// Vapour over a loading (kg/kg) at `t` (K). A loading below [`DRIEST`] counts as that.
    #[inline]
    pub fn pressure(&self, loading: f64, t: f64) -> Over {
        let [log_pressure, by_loading, by_temperature] = self.log_pressure(loading, t);
        Over {
            pressure: exponential(log_pressure),
            log_pressure,
            by_loading,
            by_temperature,
        }
    }

    /// ln p (p in Pa) over a loading (kg/kg) at `t` (K), its slope with loading and its slope with
    /// temperature (1/K): [`SorbentTable::pressure`] without the exponential.
    #[inline]
    pub fn log_pressure(&self, loading: f64, t: f64) -> [f64; 3] {
        if loading >= self.lowest && loading <= self.highest {
            let cell = self.cell(loading, t);
            surface(&self.corners, self.rows, self.per_kelvin, &cell)
        } else if loading > self.highest {
            self.beyond(loading, t)
        } else {
            self.below(loading, t)
        }
    }

    /// Above the highest loading: a straight line in q.
    fn beyond(&self, loading: f64, t: f64) -> [f64; 3] {
        let cell = self.cell(self.highest, t);
        let [at, slope, warm] = surface(&self.corners, self.rows, self.per_kelvin, &cell);
        let mixed = mixed(&self.corners, self.rows, self.per_kelvin, &cell);
        // Twice the highest is as full as anything that is not a fault of the caller.
        let off = loading.min(2.0 * self.highest) - self.highest;
        [
            (at + slope * off).min(LOG_PRESSURES.1),
            slope,
            warm + mixed * off,
        ]
    }

    /// Below the lowest loading: a straight line in ln q.
    fn below(&self, loading: f64, t: f64) -> [f64; 3] {
        let q = if loading > DRIEST { loading } else { DRIEST };
        let cell = self.cell(self.lowest, t);
        let [at, slope, warm] = surface(&self.corners, self.rows, self.per_kelvin, &cell);
        let mixed = mixed(&self.corners, self.rows, self.per_kelvin, &cell);
        let off = libm::log(q / self.lowest);
        let elasticity = slope * self.lowest;
        [
            at + elasticity * off,
            elasticity / q,
            warm + mixed * self.lowest * off,
        ]
    }

    #[inline]
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "cells are few, and a negative place saturates to the first"
    )]
    fn cell(&self, loading: f64, t: f64) -> Cell {
        let bits = loading.to_bits();
        let exponent = ((bits >> MANTISSA) - self.first_exponent) as usize;
        let octave = self.octaves[exponent.min(self.octaves.len() - 1)];
        let mantissa = bits & ((1 << MANTISSA) - 1);
        let shift = MANTISSA - octave.bits;
        let column = (mantissa >> shift) as usize;
        let fraction = (mantissa & ((1 << shift) - 1)) as f64
            * f64::from_bits((BIAS - u64::from(shift)) << MANTISSA);
        let width = f64::from_bits(((bits >> MANTISSA) - u64::from(octave.bits)) << MANTISSA);
        let along = (t - self.start) * self.per_kelvin;
        let row = (along as usize).min(self.rows - 2);
        let v = along - row as f64;
        // A temperature beyond the ends, or one that is no number, counts as the end.
        let v = if v > 0.0 { v.min(1.0) } else { 0.0 };
        Cell {
            corner: octave.first + column * self.rows + row,
            width,
            per_width: f64::from_bits((TWICE_BIAS << MANTISSA) - width.to_bits()),
            u: fraction,
            v,
        }
    }

    /// Loading (kg/kg) at which the surface has a vapour pressure (Pa) at `t` (K): the inverse of
    /// [`SorbentTable::pressure`], by bisection over corners and Newton inside.
    pub fn loading(&self, vapour_pressure: f64, t: f64) -> f64 {
        if !(vapour_pressure > 0.0) {
            return 0.0;
        }
        let goal = libm::log(vapour_pressure).clamp(LOG_PRESSURES.0, LOG_PRESSURES.1);
        let t = held(t);
        let (mut low, mut high) = (libm::log(DRIEST), libm::log(self.highest * 2.0));
        let mut at = libm::log(0.3 * self.highest);
        for _ in 0..100 {
            let q = libm::exp(at);
            let [found, slope, _] = self.log_pressure(q, t);
            let off = found - goal;
            if off.abs() < 1e-12 * (1.0 + goal.abs()) {
                break;
            }
            if off > 0.0 {
                high = at;
            } else {
                low = at;
            }
            let newton = at - off / (slope * q);
            at = if newton > low && newton < high {
                newton
            } else {
                0.5 * (low + high)
            };
            if high - low < 1e-14 {
                break;
            }
        }
        libm::exp(at)
    }
}

/// Value, slope with q and slope with T of the cell.
#[inline]
fn surface(corners: &[Corner], rows: usize, per_kelvin: f64, cell: &Cell) -> [f64; 3] {
    let (near, far) = (cell.corner, cell.corner + rows);
    let [a00, a01] = [corners[near], corners[near + 1]];
    let [a10, a11] = [corners[far], corners[far + 1]];
    let (w, dw) = hermite(cell.v);
    let across = |w: &[f64; 4], x: &Corner, y: &Corner| {
        (
            w[0] * x[0] + w[1] * x[2] + w[2] * y[0] + w[3] * y[2],
            w[0] * x[1] + w[1] * x[3] + w[2] * y[1] + w[3] * y[3],
        )
    };
    // Value and q-slope at both sides of the cell, and how they change over its height.
    let ((f0, s0), (f1, s1)) = (across(&w, &a00, &a01), across(&w, &a10, &a11));
    let ((g0, r0), (g1, r1)) = (across(&dw, &a00, &a01), across(&dw, &a10, &a11));
    let (w, dw) = hermite(cell.u);
    let h = cell.width;
    [
        w[0] * f0 + w[2] * f1 + h * (w[1] * s0 + w[3] * s1),
        (dw[0] * f0 + dw[2] * f1) * cell.per_width + dw[1] * s0 + dw[3] * s1,
        (w[0] * g0 + w[2] * g1 + h * (w[1] * r0 + w[3] * r1)) * per_kelvin,
    ]
}

/// The mixed slope of the cell at its near side.
fn mixed(corners: &[Corner], rows: usize, per_kelvin: f64, cell: &Cell) -> f64 {
    let h = 1e-6;
    let at = |u: f64| {
        let place = Cell {
            corner: cell.corner,
            width: cell.width,
            per_width: cell.per_width,
            u,
            v: cell.v,
        };
        surface(corners, rows, per_kelvin, &place)[2]
    };
    let (low, high) = ((cell.u - h).max(0.0), (cell.u + h).min(1.0));
    (at(high) - at(low)) / ((high - low) * cell.width)
}

/// Weights of value and slope at 0, value and slope at 1, and their slopes.
#[inline]
fn hermite(u: f64) -> ([f64; 4], [f64; 4]) {
    let (r, u2) = (1.0 - u, u * u);
    let step = u2 * (3.0 - 2.0 * u);
    let d_step = 6.0 * u * r;
    (
        [1.0 - step, u * r * r, step, -u2 * r],
        [-d_step, r * (1.0 - 3.0 * u), d_step, u * (3.0 * u - 2.0)],
    )
}

/// Corners over temperature from `low` to `high` so that cubics in T are close enough at a few loadings.
fn heights(sorbent: &Sorbent, low: f64, high: f64, full: f64) -> usize {
    let loadings: Vec<f64> = (0..24)
        .map(|i| full * libm::exp(libm::log(SPAN) * f64::from(i) / 23.0))
        .collect();
    for cells in [29_usize, 42, 58, 84] {
        let width = (high - low) / cells as f64;
        let close = loadings.iter().all(|&q| {
            let mut near = sorbent.inverse(q, low);
            (1..=cells).all(|row| {
                let t = low + row as f64 * width;
                let far = sorbent.inverse(q, t);
                let found = 0.5 * (near.log_pressure + far.log_pressure)
                    + 0.125 * width * (near.by_temperature - far.by_temperature);
                near = far;
                let law = sorbent.inverse(q, t - 0.5 * width);
                (found - law.log_pressure).abs() <= 0.5 * WANTED
            })
        });
        if close {
            return cells + 1;
        }
    }
    MOST_CELLS + 1
}

/// Loading above which the desiccant counts as full: that over saturated vapour, or, if lower, that at
/// which ln p rises [`FULL`] times faster than ln q, at any temperature asked.
fn full_loading(sorbent: &Sorbent, low: f64, high: f64) -> f64 {
    let steps = 16;
    let temperature = |i: u32| low + (high - low) * f64::from(i) / f64::from(steps);
    let mut full = (0..=steps)
        .map(|i| {
            let t = temperature(i);
            sorbent.loading(saturation::over_liquid(t), t)
        })
        .fold(0.0, f64::max);
    for i in 0..=steps {
        let t = temperature(i);
        let steep = |q: f64| sorbent.inverse(q, t).by_loading * q > FULL;
        if steep(full) {
            let (mut below, mut above) = (0.1 * full, full);
            if steep(below) {
                continue;
            }
            for _ in 0..60 {
                let middle = 0.5 * (below + above);
                if steep(middle) {
                    above = middle;
                } else {
                    below = middle;
                }
            }
            full = below;
        }
    }
    full
}

#[cfg(test)]
mod tests;
