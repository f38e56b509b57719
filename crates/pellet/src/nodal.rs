//! A pellet point by point, for a diffusivity that varies with moisture.
//!
//! # Equations
//! 1. Galerkin form on a tensor of Gauss-Radau lines:
//!    `m_i dX_i/dt = - sum over lines, k of slope_ki w_k D(T, X_k) (sum_j slope_kj X_j)`.
//! 2. Surface nodes are held at X_s(t). What leaves is what the nodes lose: the sum of `m_i X_i`.
//! 3. In time, the two-stage singly diagonally implicit Runge-Kutta method with
//!    `gamma = 1 - 1/sqrt(2)` (second order, L-stable): Alexander (1977), SIAM J. Numer. Anal. 14,
//!    1006. Each stage is solved by Newton with the full Jacobian.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! m | `masses` | 1
//! w | `Direction::weights` | 1/m2
//!
//! # Holds for
//! One line (the one-dimensional equivalent) or two crossing families of lines (the finite
//! cylinder, quarter section).
//!
//! # Sources
//! As above; Villadsen and Michelsen (1978) for the collocation form.
//!
//! # Checked by
//! `tests/src/exact` (plate, rod, sphere, finite cylinder with constant D) and the values of a
//! plate with `D = D0 exp(3c)` in `tests/src/peers`.

use crate::equivalent::{EQUIVALENT_HOLDS, Equivalent};
use crate::radial::RadialGrid;
use crate::{Outline, PelletError};
use material::{Diffusivity, DiffusivityAt};
use numeric::linear::Matrix;

/// `1 - 1/sqrt(2)`.
const GAMMA: f64 = 0.292_893_218_813_452_4;
/// Newton steps per stage before the step is refused.
const MOST_NEWTON_STEPS: usize = 120;
/// Newton steps made at full length; later ones are made only as long as they help.
const PLAIN_STEPS: usize = 8;
/// Largest last change of a converged stage, relative to the moisture.
const CLOSE: f64 = 1e-10;
/// Factors are made anew when a Newton step shrinks the change by less than this.
const KEEP: f64 = 0.2;
/// Share of a substitution step that is taken.
const SUBSTITUTION: f64 = 0.7;
/// Newton steps that are kept within the bounds of moisture.
const GUARDED_STEPS: usize = 8;

/// A family of parallel lines of nodes with the same slopes along each.
#[derive(Clone, Debug)]
struct Direction {
    slopes: Matrix,
    /// Node numbers along each line.
    lines: Vec<Vec<usize>>,
    /// Flux weight of each node along each line, 1/m2.
    weights: Vec<Vec<f64>>,
}

/// The nodes of a pellet: interior nodes first, surface nodes last.
#[derive(Clone, Debug)]
pub struct NodalGrid {
    /// Share of the volume that each node stands for.
    pub masses: Vec<f64>,
    /// Number of interior nodes.
    pub interior: usize,
    /// Weights that give the value at the heart.
    pub heart: Vec<f64>,
    directions: Vec<Direction>,
}

/// Work space of one step, reused between steps.
#[derive(Clone, Debug)]
pub struct NodalWork {
    jacobian: Matrix,
    pivots: Vec<usize>,
    rates: Vec<f64>,
    diffusivities: Vec<f64>,
    gradient: Vec<f64>,
    stage: Vec<f64>,
    by_surface: Vec<f64>,
    /// Whether the factors in `jacobian` belong to this step.
    factored: bool,
    /// Whether the change of D with moisture is left out of them (successive substitution).
    substituting: bool,
    scratch: Vec<f64>,
}

/// What a pellet does over a step with its surface at a given moisture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Response {
    /// Mean moisture at the end.
    pub mean: f64,
    /// Its slope with the surface moisture.
    pub slope: f64,
}

impl NodalGrid {
    /// The grid of an outline with `count` interior nodes along each coordinate: the
    /// one-dimensional equivalent where that holds, the quarter section of the cylinder otherwise.
    ///
    /// # Errors
    /// From the outline or its equivalent.
    pub fn of(outline: &Outline, count: usize) -> Result<Self, PelletError> {
        match *outline {
            Outline::Cylinder { diameter, length }
                if !(length / diameter >= EQUIVALENT_HOLDS.0
                    && length / diameter <= EQUIVALENT_HOLDS.1) =>
            {
                Self::section(0.5 * diameter, 0.5 * length, count)
            }
            _ => {
                let equivalent = Equivalent::of(outline)?;
                let grid = RadialGrid::new(equivalent.dimension, equivalent.bulge, count)?;
                Ok(Self::line(&grid, equivalent.depth))
            }
        }
    }

    /// One line of nodes.
    pub fn line(grid: &RadialGrid, depth: f64) -> Self {
        let n = grid.len();
        Self {
            masses: grid.masses.clone(),
            interior: n - 1,
            heart: grid.interpolation(0.0),
            directions: vec![Direction {
                slopes: grid.slopes.clone(),
                lines: vec![(0..n).collect()],
                weights: vec![
                    grid.flux_weights
                        .iter()
                        .map(|w| w / (depth * depth))
                        .collect(),
                ],
            }],
        }
    }

    /// The quarter section of a finite cylinder: lines across times lines along.
    ///
    /// # Errors
    /// [`PelletError::Numeric`] from the quadrature.
    pub fn section(radius: f64, half_length: f64, count: usize) -> Result<Self, PelletError> {
        let across = RadialGrid::new(2.0, 0.0, count)?;
        let along = RadialGrid::new(1.0, 0.0, count)?;
        let n = count + 1;
        let interior = count * count;
        let mut surface = interior;
        let mut number = vec![vec![0; n]; n];
        for (i, row) in number.iter_mut().enumerate() {
            for (j, node) in row.iter_mut().enumerate() {
                if i < count && j < count {
                    *node = i * count + j;
                } else {
                    *node = surface;
                    surface += 1;
                }
            }
        }
        let (heart_across, heart_along) = (across.interpolation(0.0), along.interpolation(0.0));
        let (mut masses, mut heart) = (vec![0.0; surface], vec![0.0; surface]);
        for i in 0..n {
            for j in 0..n {
                masses[number[i][j]] = across.masses[i] * along.masses[j];
                heart[number[i][j]] = heart_across[i] * heart_along[j];
            }
        }
        let r2 = radius * radius;
        let h2 = half_length * half_length;
        let directions = vec![
            Direction {
                slopes: across.slopes.clone(),
                lines: (0..n)
                    .map(|j| (0..n).map(|i| number[i][j]).collect())
                    .collect(),
                weights: (0..n)
                    .map(|j| {
                        (0..n)
                            .map(|i| across.flux_weights[i] * along.masses[j] / r2)
                            .collect()
                    })
                    .collect(),
            },
            Direction {
                slopes: along.slopes.clone(),
                lines: number.clone(),
                weights: (0..n)
                    .map(|i| {
                        (0..n)
                            .map(|j| across.masses[i] * along.flux_weights[j] / h2)
                            .collect()
                    })
                    .collect(),
            },
        ];
        Ok(Self {
            masses,
            interior,
            heart,
            directions,
        })
    }

    /// The same pellet with every length multiplied by `factor`.
    pub fn scaled(&self, factor: f64) -> Self {
        let mut grid = self.clone();
        for weight in grid
            .directions
            .iter_mut()
            .flat_map(|d| &mut d.weights)
            .flatten()
        {
            *weight /= factor * factor;
        }
        grid
    }

    /// Number of nodes.
    pub fn len(&self) -> usize {
        self.masses.len()
    }

    /// A grid always has nodes.
    pub fn is_empty(&self) -> bool {
        self.masses.is_empty()
    }

    /// Mean moisture.
    pub fn mean(&self, state: &[f64]) -> f64 {
        self.masses.iter().zip(state).map(|(m, x)| m * x).sum()
    }

    /// Work space for this grid.
    pub fn work(&self) -> NodalWork {
        let n = self.len();
        NodalWork {
            jacobian: Matrix::zeros(self.interior),
            pivots: Vec::with_capacity(self.interior),
            rates: vec![0.0; self.interior],
            diffusivities: vec![0.0; n],
            gradient: vec![0.0; n],
            stage: vec![0.0; n],
            by_surface: vec![0.0; self.interior],
            factored: false,
            substituting: false,
            scratch: vec![0.0; self.interior],
        }
    }

    /// Advances `state` by `duration` at temperature `t` with every surface node going to
    /// `at_stage` (first stage) and `at_end`; `end` receives the new state.
    /// The slope returned is that with both surface values moved together.
    ///
    /// # Errors
    /// [`PelletError::Numeric`] when Newton does not settle.
    #[expect(
        clippy::too_many_arguments,
        reason = "one kernel, each argument a different quantity"
    )]
    pub fn step(
        &self,
        law: &Diffusivity,
        t: f64,
        duration: f64,
        state: &[f64],
        at_stage: f64,
        at_end: f64,
        end: &mut [f64],
        work: &mut NodalWork,
    ) -> Result<Response, PelletError> {
        let n = self.interior;
        let part = GAMMA * duration;
        let law = &law.at_temperature(t);
        work.factored = false;
        // First stage, started from the old state.
        let mut stage = std::mem::take(&mut work.stage);
        stage.copy_from_slice(state);
        stage[n..].fill(at_stage);
        if let Err(failure) = self.reach_stage(law, part, &state[..n], state[n], &mut stage, work) {
            work.stage = stage;
            return Err(failure);
        }
        work.by_surface.fill(0.0);
        let mut slope = std::mem::take(&mut work.by_surface);
        self.surface_slope(law, part, &stage, &mut slope, work);
        // Second stage: base = state + (1 - gamma)/gamma (stage - state).
        let ratio = (1.0 - GAMMA) / GAMMA;
        let mut base = std::mem::take(&mut work.scratch);
        for i in 0..n {
            base[i] = state[i] + ratio * (stage[i] - state[i]);
            slope[i] *= ratio;
        }
        end.copy_from_slice(&stage);
        end[n..].fill(at_end);
        let outcome = self.reach_stage(law, part, &base, at_stage, end, work);
        self.surface_slope(law, part, end, &mut slope, work);
        let surface: f64 = self.masses[n..].iter().sum();
        let response = Response {
            mean: self.mean(end),
            slope: surface
                + self.masses[..n]
                    .iter()
                    .zip(&slope)
                    .map(|(m, s)| m * s)
                    .sum::<f64>(),
        };
        work.stage = stage;
        work.by_surface = slope;
        work.scratch = base;
        outcome.map(|()| response)
    }

    /// Rates of change of the interior nodes into `work.rates`, and `I - part * Jacobian` into
    /// `work.jacobian`.
    fn linearise(&self, law: &DiffusivityAt, part: f64, x: &[f64], work: &mut NodalWork) {
        let n = self.interior;
        work.rates.fill(0.0);
        for i in 0..n {
            work.jacobian.row_mut(i).fill(0.0);
        }
        for (d, value) in work.diffusivities.iter_mut().zip(x) {
            *d = law.value(*value);
        }
        for direction in &self.directions {
            let slopes = &direction.slopes;
            for (line, weights) in direction.lines.iter().zip(&direction.weights) {
                for (k, &node) in line.iter().enumerate() {
                    let row = slopes.row(k);
                    let gradient: f64 = row.iter().zip(line).map(|(s, &j)| s * x[j]).sum();
                    let conductance = weights[k] * work.diffusivities[node];
                    let by_value = if node < n && !work.substituting {
                        conductance * gradient * law.log_slope(x[node])
                    } else {
                        0.0
                    };
                    for (i, &to) in line.iter().enumerate() {
                        if to >= n {
                            continue;
                        }
                        let give = row[i];
                        work.rates[to] -= give * conductance * gradient;
                        let entries = work.jacobian.row_mut(to);
                        for (slope, &from) in row.iter().zip(line) {
                            if from < n {
                                entries[from] += give * conductance * slope;
                            }
                        }
                        if node < n {
                            entries[node] += give * by_value;
                        }
                    }
                }
            }
        }
        for i in 0..n {
            let inverse = 1.0 / self.masses[i];
            work.rates[i] *= inverse;
            for entry in work.jacobian.row_mut(i) {
                *entry *= part * inverse;
            }
            work.jacobian.add(i, i, 1.0);
        }
    }

    /// Rates of change of the interior nodes into `work.rates`.
    fn rates(&self, law: &DiffusivityAt, x: &[f64], work: &mut NodalWork) {
        let n = self.interior;
        work.rates.fill(0.0);
        for (d, value) in work.diffusivities.iter_mut().zip(x) {
            *d = law.value(*value);
        }
        for direction in &self.directions {
            for (line, weights) in direction.lines.iter().zip(&direction.weights) {
                for (k, &node) in line.iter().enumerate() {
                    let row = direction.slopes.row(k);
                    let gradient: f64 = row.iter().zip(line).map(|(s, &j)| s * x[j]).sum();
                    let flux = weights[k] * work.diffusivities[node] * gradient;
                    for (give, &to) in row.iter().zip(line) {
                        if to < n {
                            work.rates[to] -= give * flux;
                        }
                    }
                }
            }
        }
        for (rate, mass) in work.rates.iter_mut().zip(&self.masses) {
            *rate /= mass;
        }
    }

    /// Newton for `x = base + part * rates(x)`; leaves the factored Jacobian in `work`.
    fn solve_stage(
        &self,
        law: &DiffusivityAt,
        part: f64,
        base: &[f64],
        x: &mut [f64],
        work: &mut NodalWork,
    ) -> Result<(), PelletError> {
        let n = self.interior;
        let scale = x
            .iter()
            .chain(base)
            .fold(0.0_f64, |most, v| most.max(v.abs()));
        // Moisture stays between what was and what the surface has, but for the small overshoot of
        // polynomials; early guesses are kept there, since D may grow without bound beyond.
        let surface = x[n];
        let low = base.iter().fold(surface, |least, v| least.min(*v));
        let high = base.iter().fold(surface, |most, v| most.max(*v));
        let margin = 0.1 * (high - low);
        let mut change = f64::INFINITY;
        let mut pivots = std::mem::take(&mut work.pivots);
        let mut right = std::mem::take(&mut work.gradient);
        for round in 0..MOST_NEWTON_STEPS {
            if work.factored {
                self.rates(law, x, work);
            } else {
                self.linearise(law, part, x, work);
                if let Err(singular) = work.jacobian.factorise(&mut pivots) {
                    (work.pivots, work.gradient) = (pivots, right);
                    return Err(singular.into());
                }
                work.factored = true;
            }
            for i in 0..n {
                right[i] = base[i] + part * work.rates[i] - x[i];
            }
            work.jacobian.solve_factorised(&pivots, &mut right[..n]);
            let before = change;
            // A front that races in can throw the plain method; then each step is made from fresh
            // factors and only as long as it brings the stage nearer to balance.
            let length = if work.substituting {
                SUBSTITUTION
            } else if round < PLAIN_STEPS {
                1.0
            } else {
                self.downhill(law, part, base, x, &right, work)
            };
            change = 0.0;
            for i in 0..n {
                x[i] += length * right[i];
                if round < GUARDED_STEPS || work.substituting {
                    x[i] = x[i].clamp(low - margin, high + margin);
                }
                change = change.max(right[i].abs());
            }
            if change <= CLOSE * scale || change <= 1e-16 {
                (work.pivots, work.gradient) = (pivots, right);
                return Ok(());
            }
            // Factors are kept as long as they serve.
            work.factored = !work.substituting && round + 1 < PLAIN_STEPS && change < KEEP * before;
        }
        (work.pivots, work.gradient) = (pivots, right);
        Err(numeric::NumericError::NoConvergence {
            steps: MOST_NEWTON_STEPS,
            change,
        }
        .into())
    }

    /// Solves a stage; where that fails at once, the surface is brought to its value from `from` bit
    /// by bit, each solution the start of the next.
    fn reach_stage(
        &self,
        law: &DiffusivityAt,
        part: f64,
        base: &[f64],
        from: f64,
        x: &mut [f64],
        work: &mut NodalWork,
    ) -> Result<(), PelletError> {
        const BITS: u32 = 16;
        let n = self.interior;
        let target = x[n];
        if self.solve_stage(law, part, base, x, work).is_ok() {
            return Ok(());
        }
        x[..n].copy_from_slice(base);
        for bit in 1..=BITS {
            let share = f64::from(bit) / f64::from(BITS);
            x[n..].fill(from + share * (target - from));
            work.factored = false;
            if self.solve_stage(law, part, base, x, work).is_err() {
                break;
            }
            if bit == BITS {
                return Ok(());
            }
        }
        // Last, successive substitution: slow, but it cannot be thrown.
        x[..n].copy_from_slice(base);
        x[n..].fill(target);
        (work.factored, work.substituting) = (false, true);
        let outcome = self.solve_stage(law, part, base, x, work);
        work.substituting = false;
        outcome
    }

    /// Longest of 1, 1/2, 1/4 ... of a Newton step that lowers the imbalance of a stage.
    fn downhill(
        &self,
        law: &DiffusivityAt,
        part: f64,
        base: &[f64],
        x: &[f64],
        newton: &[f64],
        work: &mut NodalWork,
    ) -> f64 {
        let n = self.interior;
        let imbalance = |x: &[f64], work: &mut NodalWork| {
            self.rates(law, x, work);
            (0..n)
                .map(|i| {
                    let miss = base[i] + part * work.rates[i] - x[i];
                    self.masses[i] * miss * miss
                })
                .sum::<f64>()
        };
        let start = imbalance(x, work);
        let mut trial = x.to_vec();
        let mut length = 1.0;
        for _ in 0..10 {
            for i in 0..n {
                trial[i] = x[i] + length * newton[i];
            }
            if imbalance(&trial, work) < start {
                break;
            }
            length *= 0.5;
        }
        length
    }

    /// Turns the slope of the base with the surface moisture into that of the stage, with the
    /// factors left by [`Self::solve_stage`].
    fn surface_slope(
        &self,
        law: &DiffusivityAt,
        part: f64,
        x: &[f64],
        slope: &mut [f64],
        work: &NodalWork,
    ) {
        let n = self.interior;
        for direction in &self.directions {
            for (line, weights) in direction.lines.iter().zip(&direction.weights) {
                for (k, &node) in line.iter().enumerate() {
                    let row = direction.slopes.row(k);
                    let surface: f64 = row
                        .iter()
                        .zip(line)
                        .filter(|(_, j)| **j >= n)
                        .map(|(s, _)| s)
                        .sum();
                    let mut change = surface;
                    if node >= n {
                        let gradient: f64 = row.iter().zip(line).map(|(s, &j)| s * x[j]).sum();
                        change += gradient * law.log_slope(x[node]);
                    }
                    let conductance = part * weights[k] * work.diffusivities[node] * change;
                    for (i, &to) in line.iter().enumerate() {
                        if to < n {
                            slope[to] -= row[i] * conductance / self.masses[to];
                        }
                    }
                }
            }
        }
        work.jacobian
            .solve_factorised(&work.pivots, &mut slope[..n]);
    }
}

#[cfg(test)]
mod tests;
