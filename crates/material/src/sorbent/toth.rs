//! The Toth law: a Langmuir law broadened to low loadings, with a closed inverse.

use super::SorbentError;
use super::law::{Inverse, Loaded, refused_unless};
use libm::{exp, log, log1p};

/// The numbers of `q = q_s b p / (1 + (b p)^n)^(1/n)`, `b = b_0 exp(E/T)`, `n = n_0 + c/T`.
/// Toth (1971), Acta Chim. Acad. Sci. Hung. 69, 311 (form; from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Toth {
    /// Loading at saturation q_s, kg/kg.
    pub capacity: f64,
    /// Affinity b_0, 1/Pa.
    pub affinity: f64,
    /// Energy E, K.
    pub energy: f64,
    /// Exponent n_0.
    pub exponent: f64,
    /// Change of the exponent with 1/T, c, K.
    pub exponent_slope: f64,
}

impl Toth {
    pub(super) fn check(&self) -> Result<(), SorbentError> {
        refused_unless("Toth capacity", self.capacity, 1e-6, 1e9, "kg/kg")?;
        refused_unless("Toth affinity", self.affinity, 1e-30, 1e6, "1/Pa")?;
        refused_unless("Toth energy", self.energy, 0.0, 30_000.0, "K")?;
        for t in [super::LOWEST, super::HIGHEST] {
            let n = self.exponent + self.exponent_slope / t;
            refused_unless("Toth exponent", n, 0.01, 50.0, "")?;
        }
        Ok(())
    }

    /// `n`, its slope with temperature, `ln b` and its slope.
    fn at(&self, t: f64) -> [f64; 4] {
        let inverse = 1.0 / t;
        [
            self.exponent + self.exponent_slope * inverse,
            -self.exponent_slope * inverse * inverse,
            log(self.affinity) + self.energy * inverse,
            -self.energy * inverse * inverse,
        ]
    }

    pub(super) fn loaded(&self, ln_p: f64, t: f64) -> Loaded {
        let [n, dn, ln_b, d_ln_b] = self.at(t);
        let y = ln_b + ln_p;
        let z = n * y;
        // 1/(1 + (b p)^n) and ln(1 + (b p)^n), whichever way the exponential stays small.
        let small = exp(-z.abs());
        let (free, held, log_sum) = if z > 0.0 {
            (small / (1.0 + small), 1.0 / (1.0 + small), z + log1p(small))
        } else {
            (1.0 / (1.0 + small), small / (1.0 + small), log1p(small))
        };
        let loading = self.capacity * exp(y - log_sum / n);
        Loaded {
            loading,
            by_log_pressure: loading * free,
            by_temperature: loading * (d_ln_b * free + dn * (log_sum / n - y * held) / n),
        }
    }

    pub(super) fn inverse(&self, loading: f64, t: f64) -> Inverse {
        let [n, dn, ln_b, d_ln_b] = self.at(t);
        let ln_theta = log(loading / self.capacity).min(-1e-12 / n);
        let power = exp(n * ln_theta);
        let free = -libm::expm1(n * ln_theta);
        let log_free = log(free);
        Inverse {
            log_pressure: ln_theta - log_free / n - ln_b,
            by_loading: 1.0 / (loading * free),
            by_temperature: -d_ln_b + dn * (log_free / n + power * ln_theta / free) / n,
        }
    }
}
