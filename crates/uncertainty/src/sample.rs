//! Quasi-random samples, the same for the same seed on every machine and any number of threads.

use crate::normal_quantile;

/// A plan of samples: Owen-scrambled Sobol' points. Burley (2020), Practical hash-based Owen
/// scrambling, J. Comput. Graph. Tech. 9(4).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Design {
    /// Seed.
    pub seed: u32,
}

impl Design {
    /// Coordinate `dimension` (below 256) of sample `index` (below 65 536) in the unit cube, never
    /// 0 or 1.
    pub fn uniform(&self, index: u32, dimension: u32) -> f64 {
        let point = sobol_burley::sample(index % (1 << 16), dimension % 256, self.seed);
        // Single precision gives 24 bits; the middle of its cell keeps off both ends.
        (f64::from(point) + 0.5 / f64::from(1_u32 << 24)).min(1.0 - 1e-9)
    }

    /// The same coordinate as a standard normal deviate.
    pub fn normal(&self, index: u32, dimension: u32) -> f64 {
        normal_quantile(self.uniform(index, dimension))
    }
}

/// `count` equally likely values of a normal variable: the medians of equal shares of probability,
/// scaled so that they have the mean and the standard deviation asked for.
pub fn classes(mean: f64, deviation: f64, count: usize) -> Vec<f64> {
    let raw: Vec<f64> = (0..count)
        .map(|k| normal_quantile((k as f64 + 0.5) / count as f64))
        .collect();
    let square: f64 = raw.iter().map(|x| x * x).sum::<f64>() / count as f64;
    let scale = if square > 0.0 {
        deviation / libm::sqrt(square)
    } else {
        0.0
    };
    raw.iter().map(|x| mean + scale * x).collect()
}

#[cfg(test)]
mod tests {
    use super::{Design, classes};

    #[test]
    fn holds_samples_depend_on_seed_and_index_only() {
        let (one, two) = (Design { seed: 7 }, Design { seed: 8 });
        assert!((one.uniform(5, 3) - one.uniform(5, 3)).abs() < 1e-300);
        assert!((one.uniform(5, 3) - two.uniform(5, 3)).abs() > 0.0);
    }

    #[test]
    fn exact_moments_of_classes_and_near_moments_of_samples() {
        let values = classes(2.0, 0.3, 9);
        let mean: f64 = values.iter().sum::<f64>() / 9.0;
        let square: f64 = values.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / 9.0;
        assert!((mean - 2.0).abs() < 1e-12 && (square.sqrt() - 0.3).abs() < 1e-12);
        let design = Design { seed: 1 };
        let sum: f64 = (0..1024).map(|k| design.normal(k, 2)).sum();
        assert!((sum / 1024.0).abs() < 5e-3, "{}", sum / 1024.0);
    }
}
