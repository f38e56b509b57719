//! Quantiles and intervals of samples.

use serde::{Deserialize, Serialize};

/// A median and the interval that holds a stated share of the samples.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Interval {
    /// Half the samples lie below.
    pub median: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Share of the samples inside, for example 0.9.
    pub level: f64,
}

impl Interval {
    /// The central interval of `samples` at `level`; none for no samples. Values that are not
    /// numbers are left out.
    pub fn of(samples: &[f64], level: f64) -> Option<Self> {
        let mut sorted: Vec<f64> = samples.iter().copied().filter(|x| x.is_finite()).collect();
        if sorted.is_empty() {
            return None;
        }
        sorted.sort_by(f64::total_cmp);
        let tail = 0.5 * (1.0 - level);
        Some(Self {
            median: quantile(&sorted, 0.5),
            low: quantile(&sorted, tail),
            high: quantile(&sorted, 1.0 - tail),
            level,
        })
    }
}

/// Quantile of sorted values by linear interpolation between order statistics.
/// Hyndman and Fan (1996), Am. Stat. 50, 361, definition 7. Zero for no values.
pub fn quantile(sorted: &[f64], probability: f64) -> f64 {
    let Some(last) = sorted.len().checked_sub(1) else {
        return 0.0;
    };
    let at = probability.clamp(0.0, 1.0) * last as f64;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "held between 0 and the last index"
    )]
    let index = (at as usize).min(last);
    let next = (index + 1).min(last);
    sorted[index] + (at - index as f64) * (sorted[next] - sorted[index])
}

#[cfg(test)]
mod tests {
    use super::{Interval, quantile};

    #[test]
    fn exact_quantiles_of_five() {
        let sorted = [1.0, 2.0, 3.0, 4.0, 5.0];
        assert!((quantile(&sorted, 0.5) - 3.0).abs() < 1e-15);
        assert!((quantile(&sorted, 0.1) - 1.4).abs() < 1e-12);
        assert!(quantile(&[], 0.5).abs() < 1e-15);
    }

    #[test]
    fn holds_no_samples_give_no_interval() {
        assert!(Interval::of(&[], 0.9).is_none());
        assert!(Interval::of(&[f64::NAN], 0.9).is_none());
        let found = Interval::of(&[2.0; 20], 0.9);
        assert!(found.is_some_and(|found| (found.high - 2.0).abs() < 1e-15));
    }
}
