//! Shares of draws beyond a bound, where too few lie there to be counted.

use crate::{normal_probability, quantile};
use libm::log;

/// As many draws beyond a bound tell their share to a third, and are counted.
pub const ENOUGH_BEYOND: usize = 10;

/// Deviations of the normal law from its median to 95 of 100.
const TO_EDGE: f64 = 1.644_853_626_951_472_7;

/// Share of what `draws` stand for that lies above `bound`: counted where [`ENOUGH_BEYOND`] of them do,
/// otherwise the tail of the log-normal law through their median and the value that 95 of 100 lie below.
///
/// # Holds for
/// Positive quantities that spread over factors. The tail of draws that are all alike is none.
///
/// # Source
/// Quantile matching, from memory of textbooks; the log-normal tail is an estimate.
pub fn share_above(draws: &[f64], bound: f64) -> f64 {
    tail(draws, bound, 0.95)
}

/// Share of what `draws` stand for that lies below `bound`, see [`share_above`].
pub fn share_below(draws: &[f64], bound: f64) -> f64 {
    tail(draws, bound, 0.05)
}

/// The tail on the side of a bound that `edge` is on.
fn tail(draws: &[f64], bound: f64, edge: f64) -> f64 {
    let mut sorted: Vec<f64> = draws.iter().copied().filter(|x| x.is_finite()).collect();
    sorted.sort_by(f64::total_cmp);
    let upper = edge > 0.5;
    let beyond = |draw: &&f64| {
        if upper {
            **draw > bound
        } else {
            **draw < bound
        }
    };
    let count = sorted.iter().filter(beyond).count();
    let counted = count as f64 / sorted.len().max(1) as f64;
    let (median, end) = (quantile(&sorted, 0.5), quantile(&sorted, edge));
    let apart = if upper { end > median } else { end < median };
    let spreads = median > 0.0 && end > 0.0 && apart;
    if count >= ENOUGH_BEYOND || !spreads || bound <= 0.0 {
        return counted;
    }
    let deviations = log(bound / median) / log(end / median) * TO_EDGE;
    normal_probability(-deviations)
}

#[cfg(test)]
mod tests {
    use super::{share_above, share_below};
    use crate::{normal_probability, normal_quantile};

    /// Draws of a log-normal law, evenly over its probabilities.
    fn even(count: u32, spread: f64) -> Vec<f64> {
        let place = |index| (f64::from(index) + 0.5) / f64::from(count);
        (0..count)
            .map(|index| 20.0 * libm::exp(spread * normal_quantile(place(index))))
            .collect()
    }

    #[test]
    fn exact_tails_of_a_log_normal_law_are_found_from_few_draws() {
        let draws = even(200, 0.8);
        for bound in [100.0, 150.0, 300.0] {
            let beyond = normal_probability(-libm::log(bound / 20.0) / 0.8);
            // The quantile of 200 draws is known to half a place among them, a fifth of the farthest tail.
            assert!(
                (share_above(&draws, bound) / beyond - 1.0).abs() < 0.2,
                "{bound}"
            );
            let mirrored = 400.0 / bound;
            assert!(
                (share_below(&draws, mirrored) / beyond - 1.0).abs() < 0.2,
                "{bound}"
            );
        }
    }

    #[test]
    fn holds_many_beyond_are_counted() {
        let draws = even(200, 0.8);
        assert!((share_above(&draws, 20.0) - 0.5).abs() < 1e-12);
        assert!((share_below(&draws, 20.0) - 0.5).abs() < 1e-12);
        let bound = 0.5 * (draws[189] + draws[190]);
        assert!((share_above(&draws, bound) - 0.05).abs() < 1e-12);
    }

    #[test]
    fn holds_draws_that_tell_no_spread_are_counted() {
        assert!(share_above(&[], 1.0).abs() < 1e-12 && share_below(&[], 1.0).abs() < 1e-12);
        assert!(share_above(&[3.0; 40], 4.0).abs() < 1e-12);
        assert!((share_above(&[3.0; 4], 2.0) - 1.0).abs() < 1e-12);
        assert!(share_above(&[0.0, 0.0, 0.0, 2.0], 5.0).abs() < 1e-12);
        assert!((share_above(&[f64::NAN, 1.0, 7.0], 5.0)) < 0.9);
    }
}
