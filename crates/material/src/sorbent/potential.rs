//! Laws of one characteristic curve: the volume filled depends on the adsorption potential alone.
//!
//! The potential is `A = (R T/M) ln(p_s(T)/p)`, with p_s the saturation over LIQUID water at every
//! temperature, supercooled below 0 degC. Polanyi's theory, after Dubinin and Astakhov (1971), Adv. Chem.
//! Ser. 102, 69 (from memory).

use super::SorbentError;
use super::law::{Inverse, Loaded, refused_unless};
use air::saturation;
use libm::{exp, log};
use quantity::constants::{MOLAR_GAS, WATER_MOLAR_MASS};

/// Gas constant of water vapour, J/(kg K).
const VAPOUR_GAS: f64 = MOLAR_GAS / WATER_MOLAR_MASS;
/// Share of E below which the curve of Dubinin and Astakhov goes on as its tangent: 97 % of saturation at
/// 300 K. Our own; at saturation the loading is then up to 0.2 % high.
const NEARLY_FULL: f64 = 0.02;

/// Density of the sorbed water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SorbedDensity {
    /// The same at every temperature: the curve is one of mass, and the capacity kg/kg.
    Constant,
    /// `1/(1 + b (T - T_0))` of that at T_0: water that expands as it does at T_0.
    Expanding {
        /// Expansion b at T_0, 1/K.
        expansion: f64,
        /// T_0, K.
        reference_temperature: f64,
    },
    /// That of saturated liquid water over that at 20 degC: IAPWS SR1-86(1992), eq. 2; below the triple
    /// point held as there.
    Liquid,
}

impl SorbedDensity {
    /// Density over that at reference, and slope of its logarithm, 1/K.
    fn at(self, t: f64) -> (f64, f64) {
        match self {
            Self::Constant => (1.0, 0.0),
            Self::Expanding {
                expansion,
                reference_temperature,
            } => {
                let stretched = 1.0 + expansion * (t - reference_temperature);
                (1.0 / stretched, -expansion / stretched)
            }
            Self::Liquid => {
                let (density, slope) = liquid_density(t);
                (density / LIQUID_DENSITY_20, slope)
            }
        }
    }

    fn check(self) -> Result<(), SorbentError> {
        let Self::Expanding {
            expansion,
            reference_temperature,
        } = self
        else {
            return Ok(());
        };
        refused_unless("expansion of sorbed water", expansion, 0.0, 2e-3, "1/K")?;
        refused_unless("its temperature", reference_temperature, 250.0, 400.0, "K")
    }
}

/// `q = q_0 exp(-(A/E)^n)` times the density of sorbed water: Dubinin and Astakhov (1971).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DubininAstakhov {
    /// Loading q_0 at saturation and the reference of the density, kg/kg.
    pub capacity: f64,
    /// Energy E, J/kg water.
    pub energy: f64,
    /// Exponent n.
    pub exponent: f64,
    /// Density of sorbed water.
    pub density: SorbedDensity,
}

/// `q = rho W(A)`, `W = (a_0 + a_2 A + a_4 A^2 + a_6 A^3)/(1 + a_1 A + a_3 A^2 + a_5 A^3)`, A in kJ/kg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Characteristic {
    /// Numbers a_0 to a_6; W in cm3/g.
    pub coefficients: [f64; 7],
    /// Density of sorbed water at the reference, kg/m3.
    pub density_at_reference: f64,
    /// How it changes.
    pub density: SorbedDensity,
    /// Potential beyond which the curve goes on as an exponential of A (a straight line in ln q over
    /// ln p), J/kg: where the fit ends.
    pub highest_potential: f64,
}

/// ln of the loading at the reference density and its slope with A (kg/J).
type Curve = (f64, f64);

impl DubininAstakhov {
    pub(super) fn check(&self) -> Result<(), SorbentError> {
        refused_unless("Dubinin capacity", self.capacity, 1e-6, 2.0, "kg/kg")?;
        refused_unless("Dubinin energy", self.energy, 1e3, 5e6, "J/kg")?;
        refused_unless("Dubinin exponent", self.exponent, 0.5, 6.0, "")?;
        self.density.check()
    }

    fn curve(&self, potential: f64) -> Curve {
        let reduced = potential / self.energy;
        let at = reduced.max(NEARLY_FULL);
        let power = exp(self.exponent * log(at));
        let slope = -self.exponent * power / (at * self.energy);
        (
            log(self.capacity) - power + slope * (reduced - at) * self.energy,
            slope,
        )
    }

    pub(super) fn loaded(&self, ln_p: f64, t: f64) -> Loaded {
        loaded(|a| self.curve(a), self.density, ln_p, t)
    }

    /// Closed: the potential of a loading.
    pub(super) fn inverse(&self, loading: f64, t: f64) -> Inverse {
        let (density, _) = self.density.at(t);
        let filled = log(loading / density);
        let (full, slope) = self.curve(NEARLY_FULL * self.energy);
        let potential = if filled >= full {
            NEARLY_FULL * self.energy + (filled - full) / slope
        } else {
            self.energy * exp(log(log(self.capacity) - filled) / self.exponent)
        };
        inverse(potential, self.curve(potential).1, self.density, loading, t)
    }
}

impl Characteristic {
    pub(super) fn check(&self) -> Result<(), SorbentError> {
        let (low, high) = (100.0, 2000.0);
        refused_unless("density", self.density_at_reference, low, high, "kg/m3")?;
        refused_unless("potential", self.highest_potential, 1e5, 1e7, "J/kg")?;
        self.density.check()?;
        // Up to where it is used the curve must be there and fall.
        for i in 0..=200 {
            let potential = self.highest_potential * f64::from(i) / 200.0;
            let (ln_q, slope) = self.curve(potential);
            refused_unless("logarithm of the filling", ln_q, -20.0, 2.0, "")?;
            refused_unless("slope of the filling", slope, -1.0, -1e-12, "kg/J")?;
        }
        Ok(())
    }

    fn curve(&self, potential: f64) -> Curve {
        let within = potential.clamp(0.0, self.highest_potential);
        let x = within * 1e-3;
        let [a0, a1, a2, a3, a4, a5, a6] = self.coefficients;
        let above = a0 + x * (a2 + x * (a4 + x * a6));
        let below = 1.0 + x * (a1 + x * (a3 + x * a5));
        let d_above = a2 + x * (2.0 * a4 + x * 3.0 * a6);
        let d_below = a1 + x * (2.0 * a3 + x * 3.0 * a5);
        let slope = 1e-3 * (d_above / above - d_below / below);
        let ln_q = log((above / below).max(1e-300) * 1e-3 * self.density_at_reference);
        (ln_q + slope * (potential - within), slope)
    }

    pub(super) fn loaded(&self, ln_p: f64, t: f64) -> Loaded {
        loaded(|a| self.curve(a), self.density, ln_p, t)
    }

    /// The potential by Newton inside a bracket; the curve falls everywhere ([`Characteristic::check`]).
    pub(super) fn inverse(&self, loading: f64, t: f64) -> Inverse {
        let (density, _) = self.density.at(t);
        let goal = log(loading / density);
        let (mut low, mut high) = (-5e7, 5e7);
        let mut at = 0.2 * self.highest_potential;
        for _ in 0..100 {
            let (ln_q, slope) = self.curve(at);
            if ln_q > goal {
                low = at;
            } else {
                high = at;
            }
            let newton = at - (ln_q - goal) / slope;
            let next = if newton > low && newton < high {
                newton
            } else {
                0.5 * (low + high)
            };
            let change = (next - at).abs();
            at = next;
            if change < 1e-9 * self.highest_potential * 1e-3 {
                break;
            }
        }
        inverse(at, self.curve(at).1, self.density, loading, t)
    }
}

/// Density of saturated liquid water at 20 degC, kg/m3, by [`liquid_density`].
pub(super) const LIQUID_DENSITY_20: f64 = 998.158_052;

/// Density of saturated liquid water, kg/m3, and the slope of its logarithm, 1/K.
/// IAPWS SR1-86(1992), eq. 2 (Wagner and Pruss, 2002, J. Phys. Chem. Ref. Data 31, 387, eq. 2.6).
pub(super) fn liquid_density(t: f64) -> (f64, f64) {
    /// Coefficient and exponent of tau, in thirds.
    const B: [(f64, f64); 6] = [
        (1.992_740_64, 1.0),
        (1.099_653_42, 2.0),
        (-0.510_839_303, 5.0),
        (-1.754_934_79, 16.0),
        (-45.517_035_2, 43.0),
        (-6.746_944_50e5, 110.0),
    ];
    const CRITICAL_DENSITY: f64 = 322.0;
    let warm = t > saturation::TRIPLE_POINT;
    let tau = 1.0 - t.max(saturation::TRIPLE_POINT) / saturation::CRITICAL_TEMPERATURE;
    let ln_third = log(tau) / 3.0;
    let (mut sum, mut rise) = (1.0, 0.0);
    for (b, n) in B {
        let term = b * exp(n * ln_third);
        sum += term;
        rise -= n / 3.0 * term / (tau * saturation::CRITICAL_TEMPERATURE);
    }
    let slope = if warm { rise / sum } else { 0.0 };
    (CRITICAL_DENSITY * sum, slope)
}

/// ln p_s over liquid and its slope, 1/K.
fn ln_saturation(t: f64) -> (f64, f64) {
    let p = saturation::over_liquid(t);
    (log(p), saturation::over_liquid_slope(t) / p)
}

fn loaded(curve: impl Fn(f64) -> Curve, density: SorbedDensity, ln_p: f64, t: f64) -> Loaded {
    let (ln_ps, d_ln_ps) = ln_saturation(t);
    let rt = VAPOUR_GAS * t;
    let potential = rt * (ln_ps - ln_p);
    let (ln_q, slope) = curve(potential);
    let (density, d_ln_density) = density.at(t);
    let loading = exp(ln_q) * density;
    Loaded {
        loading,
        by_log_pressure: -loading * slope * rt,
        by_temperature: loading * (slope * (potential / t + rt * d_ln_ps) + d_ln_density),
    }
}

fn inverse(potential: f64, slope: f64, density: SorbedDensity, loading: f64, t: f64) -> Inverse {
    let (ln_ps, d_ln_ps) = ln_saturation(t);
    let rt = VAPOUR_GAS * t;
    let (_, d_ln_density) = density.at(t);
    Inverse {
        log_pressure: ln_ps - potential / rt,
        by_loading: -1.0 / (slope * rt * loading),
        // At one loading the potential moves against the density: dA/dT = -(d ln rho/dT)/slope.
        by_temperature: d_ln_ps + potential / (rt * t) + d_ln_density / (slope * rt),
    }
}
