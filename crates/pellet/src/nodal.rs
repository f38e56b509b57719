//! A pellet point by point, for a diffusivity that varies with moisture.
//!
//! # Equations
//! 1. With the potential `F(X)`, the integral of D(T, X) over X, the flux is the gradient of F. F is
//!    carried as a polynomial through the nodes of one line, or of two crossing families of lines, and
//!    tested against the Lagrange polynomials (Galerkin with the same quadrature):
//!    `m_i dX_i/dt = - sum over j of K_ij F(X_j)`, K the stiffness for D = 1.
//! 2. Surface nodes are held at X_s(t). What leaves is what the nodes lose: the sum of `m_i X_i`.
//! 3. In time, the two-stage singly diagonally implicit Runge-Kutta method with
//!    `gamma = 1 - 1/sqrt(2)` (second order, L-stable): Alexander (1977), SIAM J. Numer. Anal. 14,
//!    1006. Each stage is a nonlinear system, solved by Newton's method.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! m | `masses` | 1
//! K | `stiffness` | 1/m2
//!
//! # Holds for
//! One line (the one-dimensional equivalent) or two crossing families of lines (the finite
//! cylinder, quarter section).
//!
//! # Sources
//! As above; Kirchhoff (1894), Vorlesungen ueber die Theorie der Waerme, for the potential;
//! Villadsen and Michelsen (1978) for the collocation form (both from memory).
//!
//! # Checked by
//! `tests/src/exact` (plate, rod, sphere, finite cylinder with constant D) and the values of a
//! plate with `D = D0 exp(3c)` in `tests/src/peers`.

mod stage;

use crate::equivalent::{EQUIVALENT_HOLDS, Equivalent};
use crate::radial::RadialGrid;
use crate::{Outline, PelletError};
use material::{Diffusivity, DiffusivityAt};
use stage::{Stage, StageWork};

/// `1 - 1/sqrt(2)`: where in a step its first stage stands.
pub const GAMMA: f64 = 0.292_893_218_813_452_4;

/// The nodes of a pellet: interior nodes first, surface nodes last.
#[derive(Clone, Debug)]
pub struct NodalGrid {
    /// Share of the volume that each node stands for.
    pub masses: Vec<f64>,
    /// Number of interior nodes.
    pub interior: usize,
    /// Weights that give the value at the heart.
    pub heart: Vec<f64>,
    /// Couplings of the interior nodes for D = 1, 1/m2, row by row.
    stiffness: Vec<f64>,
    /// Their row sums, which the couplings with the surface bring to 0.
    rim: Vec<f64>,
}

/// Work space of one step, and the last step solved: the start of the next solution.
#[derive(Clone, Debug)]
pub struct NodalWork {
    law: Option<(Diffusivity, f64, DiffusivityAt)>,
    solver: StageWork,
    /// Interior nodes in the two stages and what the second starts from.
    stage: Vec<f64>,
    end: Vec<f64>,
    base: Vec<f64>,
    /// Slopes of the two stages with the surface moisture.
    stage_slope: Vec<f64>,
    end_slope: Vec<f64>,
    last: Option<Solved>,
    /// Interior nodes that the last step started from.
    start: Vec<f64>,
}

/// The step that the nodes in a work space belong to.
#[derive(Clone, Copy, Debug)]
struct Solved {
    duration: f64,
    surface: Surface,
}

/// The surface over a step: its moisture in the two stages, and how each moves with the number that
/// is sought.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surface {
    /// Moisture in the first stage and at the end.
    pub moisture: (f64, f64),
    /// Their slopes with the number sought.
    pub slope: (f64, f64),
}

/// What a pellet does over a step with its surface at a given moisture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Response {
    /// Mean moisture at the end.
    pub mean: f64,
    /// Its slope with the number sought.
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
            Outline::Cylinder { diameter, length } if Self::wants_section(outline) => {
                Self::section(0.5 * diameter, 0.5 * length, count)
            }
            _ => Self::equivalent(outline, count),
        }
    }

    /// Whether an outline is too flat or too long for its one-dimensional equivalent.
    pub fn wants_section(outline: &Outline) -> bool {
        let (least, most) = EQUIVALENT_HOLDS;
        match *outline {
            Outline::Cylinder { diameter, length } => {
                !(length / diameter >= least && length / diameter <= most)
            }
            _ => false,
        }
    }

    /// The grid of the one-dimensional equivalent, whether it holds to its 2 % or not: for searches.
    ///
    /// # Errors
    /// From the outline or its equivalent.
    pub fn equivalent(outline: &Outline, count: usize) -> Result<Self, PelletError> {
        let equivalent = Equivalent::of(outline)?;
        let grid = RadialGrid::new(equivalent.dimension, equivalent.bulge, count)?;
        Ok(Self::line(&grid, equivalent.depth))
    }

    /// One line of nodes.
    pub fn line(grid: &RadialGrid, depth: f64) -> Self {
        let inner = grid.len() - 1;
        let whole = grid.stiffness();
        let stiffness: Vec<f64> = (0..inner)
            .flat_map(|i| whole.row(i)[..inner].iter().map(|k| k / (depth * depth)))
            .collect();
        Self {
            masses: grid.masses.clone(),
            interior: inner,
            heart: grid.interpolation(0.0),
            rim: row_sums(&stiffness, inner),
            stiffness,
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
        let (heart_across, heart_along) = (across.interpolation(0.0), along.interpolation(0.0));
        let (mut masses, mut heart) = (vec![0.0; n * n], vec![0.0; n * n]);
        let mut surface = interior;
        for (i, (mass, at_heart)) in across.masses.iter().zip(&heart_across).enumerate() {
            for (j, (share, along_heart)) in along.masses.iter().zip(&heart_along).enumerate() {
                let node = if i < count && j < count {
                    i * count + j
                } else {
                    surface += 1;
                    surface - 1
                };
                masses[node] = mass * share;
                heart[node] = at_heart * along_heart;
            }
        }
        // Along each line of one family the stiffness is that of the line times the share of the line.
        let (by_radius, by_height) = (across.stiffness(), along.stiffness());
        let mut stiffness = vec![0.0; interior * interior];
        for i in 0..count {
            for j in 0..count {
                let row = (i * count + j) * interior;
                for k in 0..count {
                    let radial = by_radius.at(i, k) * along.masses[j] / (radius * radius);
                    stiffness[row + k * count + j] += radial;
                    let axial = by_height.at(j, k) * across.masses[i] / (half_length * half_length);
                    stiffness[row + i * count + k] += axial;
                }
            }
        }
        Ok(Self {
            masses,
            interior,
            heart,
            rim: row_sums(&stiffness, interior),
            stiffness,
        })
    }

    /// The same pellet with every length multiplied by `factor`.
    pub fn scaled(&self, factor: f64) -> Self {
        let mut grid = self.clone();
        for entry in grid.stiffness.iter_mut().chain(&mut grid.rim) {
            *entry /= factor * factor;
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
        let n = self.interior;
        NodalWork {
            law: None,
            solver: StageWork::new(n),
            stage: vec![0.0; n],
            end: vec![0.0; n],
            base: vec![0.0; n],
            stage_slope: vec![0.0; n],
            end_slope: vec![0.0; n],
            last: None,
            start: vec![0.0; n],
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
        let surface = Surface {
            moisture: (at_stage, at_end),
            slope: (1.0, 1.0),
        };
        self.follow(law, t, duration, state, surface, end, work)
    }

    /// The same for any way in which the surface moves with a number that is sought.
    /// Where the last step of `work` began with the same state, its nodes are the first guess.
    ///
    /// # Errors
    /// [`PelletError::Numeric`] when Newton does not settle.
    #[expect(
        clippy::too_many_arguments,
        reason = "one kernel, each argument a different quantity"
    )]
    pub fn follow(
        &self,
        law: &Diffusivity,
        t: f64,
        duration: f64,
        state: &[f64],
        surface: Surface,
        end: &mut [f64],
        work: &mut NodalWork,
    ) -> Result<Response, PelletError> {
        let n = self.interior;
        let law = work.law_at(law, t);
        work.guess(&state[..n], duration, surface);
        let mut stage = Stage {
            stiffness: &self.stiffness,
            rim: &self.rim,
            masses: &self.masses[..n],
            law,
            part: GAMMA * duration,
            base: &state[..n],
            surface: surface.moisture.0,
        };
        stage.solve(&mut work.stage, &mut work.solver)?;
        work.stage_slope.fill(0.0);
        stage.slope(surface.slope.0, &mut work.stage_slope, &mut work.solver);
        // Second stage: base = state + (1 - gamma)/gamma (stage - state).
        let ratio = (1.0 - GAMMA) / GAMMA;
        for (i, start) in state[..n].iter().enumerate() {
            work.base[i] = start + ratio * (work.stage[i] - start);
            work.end_slope[i] = ratio * work.stage_slope[i];
        }
        stage.base = &work.base;
        stage.surface = surface.moisture.1;
        stage.solve(&mut work.end, &mut work.solver)?;
        stage.slope(surface.slope.1, &mut work.end_slope, &mut work.solver);
        work.last = Some(Solved { duration, surface });
        end[..n].copy_from_slice(&work.end);
        end[n..].fill(surface.moisture.1);
        let outside: f64 = self.masses[n..].iter().sum();
        let inside = self.masses.iter().zip(&work.end_slope);
        Ok(Response {
            mean: self.mean(end),
            slope: outside * surface.slope.1 + inside.map(|(m, s)| m * s).sum::<f64>(),
        })
    }
}

fn row_sums(matrix: &[f64], rows: usize) -> Vec<f64> {
    matrix
        .chunks_exact(rows)
        .map(|row| row.iter().sum())
        .collect()
}

impl NodalWork {
    /// The law at a temperature, kept from the step before where it is the same.
    fn law_at(&mut self, law: &Diffusivity, t: f64) -> DiffusivityAt {
        match &self.law {
            Some((known, at, found)) if at.to_bits() == t.to_bits() && known == law => *found,
            _ => {
                let found = law.at_temperature(t);
                self.law = Some((*law, t, found));
                found
            }
        }
    }

    /// First guess of both stages: the last solution of the same step, moved along its slopes to the
    /// surface now asked for; otherwise the state at the start.
    fn guess(&mut self, state: &[f64], duration: f64, surface: Surface) {
        let known = self.last.take();
        match known {
            Some(last) if last.duration.to_bits() == duration.to_bits() && self.start == state => {
                let moves = |now: f64, then: f64, slope: f64| {
                    if slope == 0.0 {
                        0.0
                    } else {
                        (now - then) / slope
                    }
                };
                let before = last.surface;
                let first = moves(surface.moisture.0, before.moisture.0, before.slope.0);
                let second = moves(surface.moisture.1, before.moisture.1, before.slope.1);
                for (x, slope) in self.stage.iter_mut().zip(&self.stage_slope) {
                    *x += first * slope;
                }
                for (x, slope) in self.end.iter_mut().zip(&self.end_slope) {
                    *x += second * slope;
                }
            }
            _ => {
                self.start.copy_from_slice(state);
                self.stage.copy_from_slice(state);
                self.end.copy_from_slice(state);
            }
        }
    }
}

#[cfg(test)]
mod tests;
