//! The normal distribution and its inverse.

use libm::{erfc, exp, log, sqrt};
use std::f64::consts::{PI, SQRT_2};

/// Probability that a standard normal variable lies below `x`.
pub fn normal_probability(x: f64) -> f64 {
    0.5 * erfc(-x / SQRT_2)
}

/// The standard normal quantile of `probability`, held between 1e-15 and 1 - 1e-15.
///
/// Starts from the rational approximation 26.2.23 of Abramowitz and Stegun (1964), good to 4.5e-4,
/// and polishes it by Newton steps on [`normal_probability`] to rounding.
pub fn normal_quantile(probability: f64) -> f64 {
    let p = probability.clamp(1e-15, 1.0 - 1e-15);
    let tail = p.min(1.0 - p);
    let t = sqrt(-2.0 * log(tail));
    let numerator = 2.515517 + t * (0.802853 + t * 0.010328);
    let denominator = 1.0 + t * (1.432788 + t * (0.189269 + t * 0.001308));
    let mut x = -(t - numerator / denominator);
    for _ in 0..4 {
        let density = exp(-0.5 * x * x) / sqrt(2.0 * PI);
        x -= (normal_probability(x) - tail) / density;
    }
    if p <= 0.5 { x } else { -x }
}

#[cfg(test)]
mod tests {
    use super::{normal_probability, normal_quantile};

    #[test]
    fn published_quantiles_of_the_normal_distribution() {
        // Abramowitz and Stegun (1964), table 26.5 and common tables: 1.6448536, 1.9599640,
        // 2.3263479, 3.0902323.
        for (p, x) in [
            (0.5, 0.0),
            (0.95, 1.644_853_626_951),
            (0.975, 1.959_963_984_540),
            (0.99, 2.326_347_874_041),
            (0.001, -3.090_232_306_168),
        ] {
            assert!(
                (normal_quantile(p) - x).abs() < 1e-10,
                "{p} {}",
                normal_quantile(p)
            );
        }
    }

    #[test]
    fn holds_quantile_inverts_probability() {
        for step in 1..100 {
            let p = f64::from(step) / 100.0;
            assert!((normal_probability(normal_quantile(p)) - p).abs() < 1e-14);
        }
        assert!(normal_quantile(0.0).is_finite() && normal_quantile(1.0).is_finite());
    }
}
