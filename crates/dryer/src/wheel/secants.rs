//! What the steps taken tell of slopes that are a little old.
//!
//! # Equations
//! 1. With the factors of an old `B` and steps `s_0 ... s_n` taken, the next is
//!    `z = B^-1 r`, `z <- z + s_(j+1) (s_j . z)/(s_j . s_j)` for `j < n`, and
//!    `s_(n+1) = z / (1 - (s_n . z)/(s_n . s_n))`.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! s | `steps` | loading and kelvin, in turn
//!
//! # Holds for
//! Steps that were taken whole, from factors that have not changed since [`Secants::forget`].
//!
//! # Sources
//! Broyden (1965), Math. Comp. 19, 577, in the form of Kelley (1995), Iterative Methods for Linear and
//! Nonlinear Equations, SIAM, chapter 7; both from memory.

/// Steps taken since the slopes were found.
#[derive(Default)]
pub(super) struct Secants {
    steps: Vec<Vec<f64>>,
}

/// Kelvin for which a loading of 1 counts: the heat of sorption of so much warms the wheel by some.
const LOADING: f64 = 1000.0;

impl Secants {
    pub(super) fn forget(&mut self) {
        self.steps.clear();
    }

    /// The step that the factors give, made that of the slopes as they have become.
    pub(super) fn correct(&mut self, step: &mut [f64]) {
        if let Some((last, before)) = self.steps.split_last() {
            for (now, next) in before.iter().zip(self.steps.iter().skip(1)) {
                let part = dot(now, step) / dot(now, now);
                for (value, moved) in step.iter_mut().zip(next) {
                    *value += part * moved;
                }
            }
            let stretch = 1.0 / (1.0 - dot(last, step) / dot(last, last));
            // A secant that would turn the step round or stretch it out of sight tells nothing.
            if (LEAST..=MOST).contains(&stretch) {
                for value in step.iter_mut() {
                    *value *= stretch;
                }
            } else {
                self.forget();
            }
        }
        self.steps.push(step.to_vec());
    }
}

/// Bounds of how much longer a step may become.
const LEAST: f64 = 0.1;
const MOST: f64 = 10.0;

/// Loadings weighed against kelvin.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let pairs = a.iter().zip(b).enumerate();
    pairs
        .map(|(k, (a, b))| {
            a * b
                * if k.is_multiple_of(2) {
                    LOADING * LOADING
                } else {
                    1.0
                }
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::Secants;

    /// Gay (1979), SIAM J. Numer. Anal. 16, 623: at most twice as many steps as unknowns (from memory).
    #[test]
    fn exact_a_linear_system_is_solved_in_twice_its_size() {
        let slopes = [[1.3, 2e-4], [-150.0, 0.8]];
        let wanted = [0.02, 15.0];
        let mut at = [0.0, 0.0];
        let mut secants = Secants::default();
        for _ in 0..4 {
            // The factors are those of 1, which is far from the slopes.
            let mut step: Vec<f64> = (0..2)
                .map(|row| wanted[row] - slopes[row][0] * at[0] - slopes[row][1] * at[1])
                .collect();
            secants.correct(&mut step);
            at = [at[0] + step[0], at[1] + step[1]];
        }
        for row in 0..2 {
            let missed = wanted[row] - slopes[row][0] * at[0] - slopes[row][1] * at[1];
            assert!((missed / wanted[row]).abs() < 1e-10, "{missed} {at:?}");
        }
    }
}
