//! One implicit stage of a nodal pellet, by Newton on a convex problem.
//!
//! # Equations
//! 1. `m_i (X_i - base_i) + h sum_j K_ij (F(X_j) - F(X_s)) = 0`, F the potential of the flux, which
//!    rises with X at the rate D.
//! 2. Newton in F: `(diag(m/D) + h K) dF = - miss`, `dX = dF / D`. The matrix is symmetric and
//!    positive definite, so it is factorised without pivots.
//!    Where D grows by more than a half, the step is taken as it would be in F for an exponential
//!    law: `dX = ln(1 + g dF / D) / g`, g the slope `d ln D/dX`.
//! 3. The misses are the gradient, with F, of a convex function. Along a Newton step that function
//!    falls at first; a step that ends where it rises as steeply as a tenth of that is halved.
//! 4. After a step dX what is left is at most `max(|d ln D/dX| dX^2) / 2`, the slope taken at both
//!    ends, so that no further pass is made to see it.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! m | `masses` | 1
//! h | `part` | s
//! K | `stiffness` | 1/m2
//! F | `potential` | m2/s
//!
//! # Holds for
//! Any law with D above 0.
//!
//! # Sources
//! Kirchhoff (1894), Vorlesungen ueber die Theorie der Waerme, for the potential (from memory).
//!
//! # Checked by
//! `crates/pellet/src/nodal/tests.rs`; `tests/src/peers/nonlinear_pellet.rs`

use crate::PelletError;
use libm::log1p;
use material::DiffusivityAt;
use numeric::NumericError;

/// Newton steps, halvings included, before a stage is refused.
const MOST_PASSES: usize = 200;
/// Passes that are kept within the bounds of moisture.
const GUARDED_PASSES: usize = 8;
/// Change of `ln D` within the bounds up to which no guess is bounded.
const GENTLE: f64 = 1.0;
/// Largest error of a converged stage, relative to the moisture.
const CLOSE: f64 = 1e-10;
/// Growth of D over a step, by its slope, from which the step is taken in F and not in X.
const STRAIGHT: f64 = 0.5;
/// A change of moisture that is nothing.
const LEAST_CHANGE: f64 = 1e-16;
/// Rise at the end of a step, over the fall at its start, from which a step is halved.
const OVERSHOT: f64 = 0.1;
/// Below this diffusivity (m2/s) nothing moves in the age of the universe; kept from 0, by which the
/// equations are divided.
const LEAST_DIFFUSIVITY: f64 = 1e-100;

/// One stage: everything but the nodes sought.
#[derive(Clone, Copy)]
pub(super) struct Stage<'a> {
    pub(super) stiffness: &'a [f64],
    /// Its row sums: the pull of the surface.
    pub(super) rim: &'a [f64],
    pub(super) masses: &'a [f64],
    pub(super) law: DiffusivityAt,
    pub(super) part: f64,
    pub(super) base: &'a [f64],
    pub(super) surface: f64,
}

/// Work space of a stage.
#[derive(Clone, Debug)]
pub(super) struct StageWork {
    /// `diag(m/D) + h K`: the upper factor, rows one after the other.
    factor: Vec<f64>,
    /// Inverses of its pivots.
    pivots: Vec<f64>,
    /// Potential less that of the surface, and D.
    potential: Vec<f64>,
    diffusivity: Vec<f64>,
    /// Miss of each equation, then step of each potential.
    right: Vec<f64>,
    /// Nodes before the last step, the step, and d ln D/dX there.
    before: Vec<f64>,
    step: Vec<f64>,
    bend: Vec<f64>,
}

impl StageWork {
    pub(super) fn new(n: usize) -> Self {
        Self {
            factor: vec![0.0; n * n],
            pivots: vec![0.0; n],
            potential: vec![0.0; n],
            diffusivity: vec![0.0; n],
            right: vec![0.0; n],
            before: vec![0.0; n],
            step: vec![0.0; n],
            bend: vec![0.0; n],
        }
    }

    /// Goes a share of the last step from where it began, within bounds; whether they did not bind.
    fn walk(&self, length: f64, (low, high): (f64, f64), x: &mut [f64]) -> bool {
        let mut free = true;
        for (i, x) in x.iter_mut().enumerate() {
            let step = length * self.step[i];
            let growth = self.bend[i] * step;
            let moved = if growth > STRAIGHT {
                log1p(growth) / self.bend[i]
            } else {
                step
            };
            let goal = self.before[i] + moved;
            free &= goal >= low && goal <= high;
            *x = goal.max(low).min(high);
        }
        free
    }

    /// Rise of the convex function at the end of a share of the last step, per step.
    fn rise(&self, n: usize, length: f64) -> f64 {
        let mut rise = 0.0;
        for i in 0..n {
            let growth = length * self.bend[i] * self.step[i];
            let pace = if growth > STRAIGHT {
                self.step[i] / (1.0 + growth)
            } else {
                self.step[i]
            };
            rise += self.right[i] * self.diffusivity[i] * pace;
        }
        rise
    }
}

impl Stage<'_> {
    /// Solves for the nodes `x`, which hold a first guess; leaves the factors in `work`.
    pub(super) fn solve(&self, x: &mut [f64], work: &mut StageWork) -> Result<(), PelletError> {
        // The usual numbers of nodes are compiled for themselves.
        let solved = self.run(x, work);
        if solved.is_err() {
            // A guess too far off: start from what the stage starts from.
            x.copy_from_slice(self.base);
            return self.run(x, work);
        }
        solved
    }

    fn run(&self, x: &mut [f64], work: &mut StageWork) -> Result<(), PelletError> {
        match x.len() {
            5 => self.newton(5, x, work),
            7 => self.newton(7, x, work),
            n => self.newton(n, x, work),
        }
    }

    /// Turns the slope of the base with a number that is sought into that of the solution, the
    /// surface moving by `by_surface`; with the factors left by [`Self::solve`].
    pub(super) fn slope(&self, by_surface: f64, slope: &mut [f64], work: &mut StageWork) {
        match slope.len() {
            5 => self.moved(5, by_surface, slope, work),
            7 => self.moved(7, by_surface, slope, work),
            n => self.moved(n, by_surface, slope, work),
        }
    }

    #[expect(
        clippy::inline_always,
        reason = "to be compiled for each number of nodes"
    )]
    #[inline(always)]
    fn newton(&self, n: usize, x: &mut [f64], work: &mut StageWork) -> Result<(), PelletError> {
        let x = &mut x[..n];
        let scale = self.base[..n]
            .iter()
            .fold(self.surface.abs(), |most, v| most.max(v.abs()));
        let outside = self.law.potential(self.surface).0;
        let mut bounds = self.bounds(x);
        let (mut length, mut fall) = (1.0, 0.0);
        for pass in 0..MOST_PASSES {
            self.misses(n, outside, x, work);
            if pass > 0 && !(work.rise(n, length) <= OVERSHOT * fall) {
                length *= 0.5;
                work.walk(length, bounds, x);
                continue;
            }
            self.factorise(n, work);
            fall = solve_factorised(n, &work.factor, &work.pivots, &mut work.right);
            if !(fall >= 0.0) {
                break;
            }
            length = 1.0;
            if pass >= GUARDED_PASSES {
                bounds = (f64::NEG_INFINITY, f64::INFINITY);
            }
            let (mut change, mut left) = (0.0_f64, 0.0_f64);
            for (i, x) in x.iter().enumerate() {
                let step = -work.right[i] / work.diffusivity[i];
                let bend = self.law.log_slope(*x);
                (work.before[i], work.step[i], work.bend[i]) = (*x, step, bend);
                change = step.abs().max(change);
                left = (bend.abs() * step * step).max(left);
            }
            let free = work.walk(length, bounds, x);
            for (x, step) in x.iter().zip(&work.step) {
                left = (self.law.log_slope(*x).abs() * step * step).max(left);
            }
            if free && (left <= CLOSE * scale || change <= LEAST_CHANGE) {
                return Ok(());
            }
        }
        Err(NumericError::NoConvergence {
            steps: MOST_PASSES,
            change: fall,
        }
        .into())
    }

    /// Bounds that early guesses are kept within: between what was and what the surface has, but for
    /// the overshoot of polynomials. Beyond, D may be as good as nothing or grow without end.
    fn bounds(&self, x: &[f64]) -> (f64, f64) {
        let (mut low, mut high) = (self.surface, self.surface);
        for value in self.base.iter().chain(x) {
            (low, high) = (value.min(low), value.max(high));
        }
        let range = high - low;
        let bend = f64::max(
            self.law.log_slope(low).abs(),
            self.law.log_slope(high).abs(),
        );
        if bend * range < GENTLE {
            (f64::NEG_INFINITY, f64::INFINITY)
        } else {
            (low - 0.1 * range, high + 0.1 * range)
        }
    }

    /// Misses of the equations into `work.right`; potentials and diffusivities at `x`.
    #[expect(
        clippy::inline_always,
        reason = "to be compiled for each number of nodes"
    )]
    #[inline(always)]
    fn misses(&self, n: usize, outside: f64, x: &[f64], work: &mut StageWork) {
        let (masses, base) = (&self.masses[..n], &self.base[..n]);
        let right = &mut work.right[..n];
        for i in 0..n {
            let (potential, diffusivity) = self.law.potential(x[i]);
            work.potential[i] = self.part * (potential - outside);
            work.diffusivity[i] = diffusivity.max(LEAST_DIFFUSIVITY);
            right[i] = masses[i] * (x[i] - base[i]);
        }
        // The stiffness is symmetric: a row is a column.
        for (row, potential) in self.stiffness.chunks_exact(n).zip(&work.potential) {
            for (right, coupling) in right.iter_mut().zip(row) {
                *right += coupling * potential;
            }
        }
    }

    /// `diag(m/D) + h K` into its factors: the rows of the upper triangle, and the inverse pivots.
    #[expect(
        clippy::inline_always,
        reason = "to be compiled for each number of nodes"
    )]
    #[inline(always)]
    fn factorise(&self, n: usize, work: &mut StageWork) {
        let factor = &mut work.factor[..n * n];
        for (entry, coupling) in factor.iter_mut().zip(self.stiffness) {
            *entry = self.part * coupling;
        }
        for i in 0..n {
            factor[i * n + i] += self.masses[i] / work.diffusivity[i];
        }
        for k in 0..n {
            let (upper, lower) = factor.split_at_mut((k + 1) * n);
            let row = &upper[k * n..];
            let inverse = 1.0 / row[k];
            work.pivots[k] = inverse;
            for (i, below) in (k + 1..n).zip(lower.chunks_exact_mut(n)) {
                let share = row[i] * inverse;
                for j in i..n {
                    below[j] -= share * row[j];
                }
            }
        }
    }

    #[expect(
        clippy::inline_always,
        reason = "to be compiled for each number of nodes"
    )]
    #[inline(always)]
    fn moved(&self, n: usize, by_surface: f64, slope: &mut [f64], work: &mut StageWork) {
        let slope = &mut slope[..n];
        let pull = self.part * by_surface * self.law.potential(self.surface).1;
        for ((slope, mass), rim) in slope.iter_mut().zip(self.masses).zip(self.rim) {
            *slope = mass * *slope + pull * rim;
        }
        solve_factorised(n, &work.factor, &work.pivots, slope);
        for (slope, diffusivity) in slope.iter_mut().zip(&work.diffusivity) {
            *slope /= diffusivity;
        }
    }
}

/// Solves with the factors, in place; returns the product of right side and solution.
#[expect(
    clippy::inline_always,
    reason = "to be compiled for each number of nodes"
)]
#[inline(always)]
fn solve_factorised(n: usize, factor: &[f64], pivots: &[f64], right: &mut [f64]) -> f64 {
    let (factor, pivots, right) = (&factor[..n * n], &pivots[..n], &mut right[..n]);
    let mut product = 0.0;
    for k in 0..n {
        let share = right[k] * pivots[k];
        product += share * right[k];
        for j in k + 1..n {
            right[j] -= share * factor[k * n + j];
        }
        right[k] = share;
    }
    for k in (0..n).rev() {
        let mut sum = 0.0;
        for j in k + 1..n {
            sum += factor[k * n + j] * right[j];
        }
        right[k] -= pivots[k] * sum;
    }
    product
}
