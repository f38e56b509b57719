//! Cages that each hold up to four molecules, one after the other: 3A molecular sieve.

use super::SorbentError;
use super::law::{Loaded, refused_unless};
use libm::exp;
use quantity::constants::MOLAR_GAS;

/// Reference pressure of the equilibrium constants, Pa.
const REFERENCE_PRESSURE: f64 = 1e5;
/// Sites of a cage.
const SITES: usize = 4;

/// The numbers of `q = (q_m/4) sum(i K_i x^i) / (1 + sum(K_i x^i))`, i = 1 to 4, `x = p / 100 kPa`,
/// `K_i = exp(-H_i/(R T) + S_i/R)`: generalised statistical thermodynamic adsorption of Llano-Restrepo
/// and Mosquera (2009), Fluid Phase Equilib. 283, 73.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sites {
    /// Loading q_m with every site taken, kg/kg.
    pub capacity: f64,
    /// Enthalpies of the first to fourth molecule together with those before it, J/mol.
    pub enthalpies: [f64; SITES],
    /// Entropies likewise, J/(mol K).
    pub entropies: [f64; SITES],
}

impl Sites {
    pub(super) fn check(&self) -> Result<(), SorbentError> {
        refused_unless("capacity of the sites", self.capacity, 1e-6, 2.0, "kg/kg")?;
        for (h, s) in self.enthalpies.into_iter().zip(self.entropies) {
            refused_unless("enthalpy of a site", h, -1e6, 0.0, "J/mol")?;
            refused_unless("entropy of a site", s, -5e3, 0.0, "J/(mol K)")?;
        }
        Ok(())
    }

    /// The mean number of molecules is the mean of i over weights K_i x^i, its slope with ln p the
    /// variance, and its slope with temperature the covariance with H_i/(R T^2).
    pub(super) fn loaded(&self, ln_p: f64, t: f64) -> Loaded {
        let ln_x = ln_p - libm::log(REFERENCE_PRESSURE);
        let mut exponents = [0.0; SITES + 1];
        let mut rises = [0.0; SITES + 1];
        for i in 0..SITES {
            let (h, s) = (
                self.enthalpies[i] / MOLAR_GAS,
                self.entropies[i] / MOLAR_GAS,
            );
            exponents[i + 1] = (i + 1) as f64 * ln_x - h / t + s;
            rises[i + 1] = h / (t * t);
        }
        let highest = exponents.into_iter().fold(0.0, f64::max);
        let weights = exponents.map(|e| exp(e - highest));
        let sum: f64 = weights.iter().sum();
        let mean = |of: &dyn Fn(usize) -> f64| -> f64 {
            let weighted = weights.iter().enumerate().map(|(i, w)| w * of(i));
            weighted.sum::<f64>() / sum
        };
        let held = mean(&|i| i as f64);
        let rise = mean(&|i| rises[i]);
        let scale = self.capacity / SITES as f64;
        Loaded {
            loading: scale * held,
            // Means of products of deviations keep their sign where the weights differ by many powers.
            by_log_pressure: scale * mean(&|i| (i as f64 - held) * (i as f64 - held)),
            by_temperature: scale * mean(&|i| (i as f64 - held) * (rises[i] - rise)),
        }
    }
}
