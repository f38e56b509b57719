//! The exponential for kernels: a few nanoseconds, the same on every machine.

/// 1.5 times 2^52: adding and taking it away rounds to a whole number.
const ROUND: f64 = 6_755_399_441_055_744.0;
/// ln 2 in two parts, the first with 32 trailing zeros, so that its product with a small whole number is
/// exact. Cody and Waite (1980), Software manual for the elementary functions (method, from memory).
const LN_2_HIGH: f64 = 0.693_147_180_369_123_816_490;
const LN_2_LOW: f64 = 1.908_214_929_270_587_700_02e-10;
/// Furthest argument either way; beyond, the exponential at the end.
const FURTHEST: f64 = 700.0;

/// `e^x`, within 1e-15 of it; held at the ends of -700 to 700, and for not-a-number at the lower end.
///
/// `x = k ln 2 + r`, |r| <= 0.35, the series of `e^r` to the thirteenth power, split into even and odd.
#[inline]
pub(super) fn exponential(x: f64) -> f64 {
    let x = if x > -FURTHEST {
        x.min(FURTHEST)
    } else {
        -FURTHEST
    };
    let whole = (x * std::f64::consts::LOG2_E + ROUND) - ROUND;
    let r = (x - whole * LN_2_HIGH) - whole * LN_2_LOW;
    let s = r * r;
    let even = 1.0
        + s * (1.0 / 2.0
            + s * (1.0 / 24.0
                + s * (1.0 / 720.0
                    + s * (1.0 / 40_320.0 + s * (1.0 / 3_628_800.0 + s / 479_001_600.0)))));
    let odd = 1.0
        + s * (1.0 / 6.0
            + s * (1.0 / 120.0
                + s * (1.0 / 5_040.0
                    + s * (1.0 / 362_880.0 + s * (1.0 / 39_916_800.0 + s / 6_227_020_800.0)))));
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number between -1010 and 1010"
    )]
    let power = f64::from_bits(((whole as i64 + 1023) as u64) << 52);
    (even + r * odd) * power
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_against_the_library() {
        for i in -70_000..=70_000 {
            let x = f64::from(i) * 0.009_87;
            let (found, library) = (exponential(x), libm::exp(x));
            assert!(
                (found / library - 1.0).abs() < 1e-15,
                "{x}: {found} {library}"
            );
        }
        assert!(exponential(0.0).to_bits() == 1.0_f64.to_bits());
    }

    #[test]
    fn holds_ends_are_finite() {
        for x in [f64::NAN, f64::NEG_INFINITY, -1e9] {
            assert!(exponential(x) > 0.0 && exponential(x) < 1e-300);
        }
        assert!(exponential(f64::INFINITY).is_finite());
    }
}
