//! Fixed points by Anderson's mixing: for chains of components that end where they began.
//!
//! # Equations
//! Looked for is `x = g(x)`. With the residual `r = g(x) - x` and the differences of the last few
//! rounds, `dR` of residuals and `dG` of images, the next guess is
//! `g(x) - dG c`, where `c` makes `|r - dR c|` least; without differences that is plain
//! substitution. Anderson (1965), Iterative procedures for nonlinear integral equations,
//! J. ACM 12, 547 (from memory); Walker and Ni (2011), SIAM J. Numer. Anal. 49, 1715 (from memory).
//!
//! The least squares are solved by Gram and Schmidt, newest difference first; a difference that adds
//! nothing new is dropped, so that a chain whose rounds point all one way cannot blow up.

use crate::NumericError;

/// What is asked of the rounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rounds {
    /// Largest change of any unknown, in units of its scale, that counts as settled.
    pub settled: f64,
    /// Most rounds.
    pub most: usize,
    /// Differences kept; 0 is plain substitution.
    pub memory: usize,
    /// Largest change from which on rounds are mixed; before, each is taken as it came, since far from
    /// the end differences mislead.
    pub near: f64,
}

/// A fixed point that was found.
#[derive(Clone, Debug, PartialEq)]
pub struct FixedPoint {
    /// The unknowns: the image of the last round.
    pub at: Vec<f64>,
    /// Rounds taken.
    pub rounds: usize,
    /// Largest change in the last of them, in units of the scales.
    pub change: f64,
}

/// Share of a difference that must be new for it to be used.
const NEW_SHARE: f64 = 1e-7;

/// Finds `x` with `chain(x) = x`, from `start`. `scales` says for each unknown how large a change of
/// it matters; `chain` turns unknowns into their images.
///
/// # Errors
/// Those of `chain`; [`NumericError::NoConvergence`] when the rounds are used up or an image is not
/// a finite number.
pub fn fixed_point<E: From<NumericError>>(
    start: &[f64],
    scales: &[f64],
    rounds: Rounds,
    mut chain: impl FnMut(&[f64]) -> Result<Vec<f64>, E>,
) -> Result<FixedPoint, E> {
    let mut x = start.to_vec();
    let mut last: Option<(Vec<f64>, Vec<f64>)> = None;
    let mut kept: Vec<(Vec<f64>, Vec<f64>)> = Vec::new();
    let mut change = f64::INFINITY;
    for round in 1..=rounds.most {
        let image = chain(&x)?;
        let residual: Vec<f64> = image
            .iter()
            .zip(&x)
            .zip(scales)
            .map(|((g, x), scale)| (g - x) / scale)
            .collect();
        change = residual.iter().fold(0.0, |most: f64, r| most.max(r.abs()));
        // A NaN makes no maximum, so it is looked for.
        if residual.iter().any(|r| !r.is_finite()) {
            change = f64::INFINITY;
            break;
        }
        if change <= rounds.settled {
            return Ok(FixedPoint {
                at: image,
                rounds: round,
                change,
            });
        }
        if let Some((old_residual, old_image)) = &last {
            kept.insert(
                0,
                (
                    difference(&residual, old_residual),
                    difference(&image, old_image),
                ),
            );
            kept.truncate(rounds.memory);
        }
        if change > rounds.near {
            kept.clear();
            x.clone_from(&image);
        } else {
            x = mixed(&residual, &image, &kept);
        }
        last = Some((residual, image));
    }
    Err(NumericError::NoConvergence {
        steps: rounds.most,
        change,
    }
    .into())
}

fn difference(a: &[f64], b: &[f64]) -> Vec<f64> {
    a.iter().zip(b).map(|(a, b)| a - b).collect()
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn subtract(from: &mut [f64], share: f64, what: &[f64]) {
    for (a, b) in from.iter_mut().zip(what) {
        *a -= share * b;
    }
}

/// `image - dG c`: each difference is made perpendicular to the newer ones, and the same is done to
/// its image, so that the shares can be taken off one by one.
fn mixed(residual: &[f64], image: &[f64], kept: &[(Vec<f64>, Vec<f64>)]) -> Vec<f64> {
    let mut left = residual.to_vec();
    let mut next = image.to_vec();
    let mut basis: Vec<(Vec<f64>, Vec<f64>, f64)> = Vec::with_capacity(kept.len());
    for (of_residual, of_image) in kept {
        let whole = dot(of_residual, of_residual);
        let (mut own, mut own_image) = (of_residual.clone(), of_image.clone());
        for (other, other_image, square) in &basis {
            let share = dot(&own, other) / square;
            subtract(&mut own, share, other);
            subtract(&mut own_image, share, other_image);
        }
        let square = dot(&own, &own);
        if square <= NEW_SHARE * whole {
            continue;
        }
        let share = dot(&left, &own) / square;
        subtract(&mut left, share, &own);
        subtract(&mut next, share, &own_image);
        basis.push((own, own_image, square));
    }
    next
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROUNDS: Rounds = Rounds {
        settled: 1e-12,
        most: 60,
        memory: 4,
        near: f64::INFINITY,
    };

    #[test]
    fn exact_linear_chain_of_three_is_found_in_as_many_rounds_as_unknowns()
    -> Result<(), NumericError> {
        // x = A x + b with eigenvalues beyond one, where plain substitution runs away.
        let chain = |x: &[f64]| -> Result<Vec<f64>, NumericError> {
            Ok(vec![
                0.5 * x[0] - 1.4 * x[1] + 1.0,
                0.3 * x[0] + 0.2 * x[1] - 0.9 * x[2],
                -1.1 * x[1] + 0.4 * x[2] + 2.0,
            ])
        };
        let found = fixed_point(&[0.0; 3], &[1.0; 3], ROUNDS, chain)?;
        assert!(found.rounds <= 6, "{found:?}");
        let image = chain(&found.at)?;
        for (a, b) in image.iter().zip(&found.at) {
            assert!((a - b).abs() < 1e-10);
        }
        Ok(())
    }

    #[test]
    fn exact_cosine() -> Result<(), NumericError> {
        let found = fixed_point(&[0.2], &[1.0], ROUNDS, |x| {
            Ok::<_, NumericError>(vec![libm::cos(x[0])])
        })?;
        // Dottie's number, from memory.
        assert!((found.at[0] - 0.739_085_133_215_160_6).abs() < 1e-12);
        assert!(found.rounds < 10, "{}", found.rounds);
        Ok(())
    }

    #[test]
    fn holds_what_is_no_number_is_refused() {
        let found = fixed_point(&[1.0], &[1.0], ROUNDS, |_| {
            Ok::<_, NumericError>(vec![f64::NAN])
        });
        assert!(matches!(found, Err(NumericError::NoConvergence { .. })));
    }

    #[test]
    fn holds_unknowns_that_do_not_move_do_no_harm() -> Result<(), NumericError> {
        let found = fixed_point(&[0.0, 3.0], &[1.0, 1.0], ROUNDS, |x| {
            Ok::<_, NumericError>(vec![0.9 * x[0] + 0.1, 3.0])
        })?;
        assert!((found.at[0] - 1.0).abs() < 1e-10);
        Ok(())
    }
}
