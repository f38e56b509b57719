//! A root of one function of one variable, bracketed.

use crate::NumericError;

/// Most steps taken before giving up; bisection alone needs fewer for any pair of `f64`.
const MOST_STEPS: usize = 200;

/// Root of `f` between `low` and `high` to within `tolerance` in x, by the Illinois variant of
/// regula falsi guarded by bisection. Dowell and Jarratt (1971), BIT 11, 168.
///
/// # Errors
/// [`NumericError::NoSignChange`] when `f` has one sign at both ends (or is not a number there).
pub fn bracketed(
    low: f64,
    high: f64,
    tolerance: f64,
    mut f: impl FnMut(f64) -> f64,
) -> Result<f64, NumericError> {
    let (mut a, mut b) = (low, high);
    let (mut fa, mut fb) = (f(a), f(b));
    if fa == 0.0 {
        return Ok(a);
    }
    if fb == 0.0 {
        return Ok(b);
    }
    if !(fa * fb < 0.0) {
        return Err(NumericError::NoSignChange {
            low,
            at_low: fa,
            high,
            at_high: fb,
        });
    }
    let mut last_width = (b - a).abs();
    for _ in 0..MOST_STEPS {
        let mut x = b - fb * (b - a) / (fb - fa);
        let inside = (x - a) * (x - b) < 0.0;
        let width = (b - a).abs();
        if !inside || width > 0.5 * last_width {
            x = 0.5 * (a + b);
        }
        last_width = width;
        let fx = f(x);
        if fx == 0.0 || width <= tolerance {
            return Ok(x);
        }
        if fx * fb < 0.0 {
            (a, fa) = (b, fb);
        } else {
            fa *= 0.5;
        }
        (b, fb) = (x, fx);
    }
    Err(NumericError::NoConvergence {
        steps: MOST_STEPS,
        change: (b - a).abs(),
    })
}

#[cfg(test)]
mod tests {
    use super::bracketed;

    #[test]
    fn exact_roots_of_known_functions() -> Result<(), crate::NumericError> {
        let root = bracketed(0.0, 2.0, 1e-14, |x| x * x - 2.0)?;
        assert!((root - 2.0_f64.sqrt()).abs() < 1e-13);
        let steep = bracketed(-1.0, 3.0, 1e-14, |x| (20.0 * (x - 0.3)).tanh())?;
        assert!((steep - 0.3).abs() < 1e-12);
        Ok(())
    }

    #[test]
    fn holds_no_sign_change_is_an_error() {
        assert!(bracketed(0.0, 1.0, 1e-12, |x| x + 1.0).is_err());
        assert!(bracketed(0.0, 1.0, 1e-12, |_| f64::NAN).is_err());
    }
}
