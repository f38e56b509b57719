//! Sorption equilibrium between a resin and water vapour, as a function of temperature.

use crate::isotherm_forms as forms;
use libm::exp;
use quantity::constants::{MOLAR_GAS, WATER_MOLAR_MASS};
use serde::{Deserialize, Serialize};

/// A sorption law, all numbers in SI units: moisture X in kg/kg dry resin, activity a = p/p_sat(T).
///
/// Each temperature-dependent constant follows van 't Hoff:
/// `k(T) = k_ref exp(-(H/R)(1/T - 1/T_ref))`, H in J/mol.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "form", rename_all = "kebab-case")]
pub enum Isotherm {
    /// Takes up nothing inside; water sits on the surface only.
    SurfaceOnly,
    /// `X = capacity(T) a`.
    Henry {
        /// Moisture at activity 1 and the reference temperature, kg/kg.
        capacity: f64,
        /// Reference temperature, K.
        reference_temperature: f64,
        /// Heat of mixing of sorbed water (heat of sorption less condensation), J/mol.
        mixing_heat: f64,
    },
    /// `X = capacity(T) a + hole_capacity b a / (1 + b a)`, b = hole_affinity(T).
    DualMode {
        /// Dissolved moisture at activity 1 and the reference temperature, kg/kg.
        capacity: f64,
        /// Reference temperature, K.
        reference_temperature: f64,
        /// Heat of mixing of dissolved water, J/mol.
        mixing_heat: f64,
        /// Moisture held in holes when they are full, kg/kg.
        hole_capacity: f64,
        /// Affinity of the holes at the reference temperature.
        hole_affinity: f64,
        /// Heat of the holes relative to condensation, J/mol.
        hole_heat: f64,
    },
    /// `ln a = ln f + (1 - f) + chi(T) (1 - f)^2` in the amorphous share of the resin, f the volume
    /// fraction of water there. Flory (1953), Principles of Polymer Chemistry, ch. XII (from memory).
    FloryHuggins {
        /// Interaction parameter chi at the reference temperature.
        interaction: f64,
        /// Change of chi with temperature, 1/K.
        interaction_slope: f64,
        /// Reference temperature, K.
        reference_temperature: f64,
        /// Share of the dry resin that takes up water.
        amorphous_share: f64,
        /// Density of water over that of the dry resin.
        density_ratio: f64,
    },
    /// `X = monolayer c k a / ((1 - k a)(1 - k a + c k a))`.
    /// Anderson (1946), J. Am. Chem. Soc. 68, 686 (form; from memory).
    Gab {
        /// Moisture of the first layer, kg/kg.
        monolayer: f64,
        /// Constant c at the reference temperature.
        surface_constant: f64,
        /// Constant k at the reference temperature, below 1.
        multilayer_constant: f64,
        /// Reference temperature, K.
        reference_temperature: f64,
        /// Heat belonging to c, J/mol.
        surface_heat: f64,
        /// Heat belonging to k, J/mol.
        multilayer_heat: f64,
    },
}

/// A sorption law at one temperature.
#[derive(Clone, Debug)]
pub enum IsothermAt {
    /// `X = capacity a`.
    Line(f64),
    /// Dual-mode.
    DualMode(forms::DualMode),
    /// Flory-Huggins.
    FloryHuggins(forms::FloryHuggins),
    /// GAB.
    Gab(forms::Gab),
}

impl IsothermAt {
    /// Moisture and its slope with activity; `a` is held in 0..=1.
    #[inline]
    pub fn moisture(&self, a: f64) -> (f64, f64) {
        let a = a.clamp(0.0, 1.0);
        match self {
            Self::Line(capacity) => (capacity * a, *capacity),
            Self::DualMode(law) => (law.moisture(a), law.slope(a)),
            Self::FloryHuggins(law) => (law.moisture(a), law.slope(a)),
            Self::Gab(law) => (law.moisture(a), law.slope(a)),
        }
    }
}

/// `k_ref exp(-(H/R)(1/T - 1/T_ref))`.
pub(crate) fn vant_hoff(reference: f64, at: f64, heat: f64, t: f64) -> f64 {
    if heat == 0.0 {
        reference
    } else {
        reference * exp(-heat / MOLAR_GAS * (1.0 / t - 1.0 / at))
    }
}

impl Isotherm {
    /// Moisture X (kg/kg dry) in equilibrium with activity `a` at `t` (K); `a` is held in 0..=1.
    pub fn moisture(&self, t: f64, a: f64) -> f64 {
        self.at(t).moisture(a).0
    }

    /// Slope dX/da (kg/kg) at activity `a` and `t` (K); `a` is held in 0..=1.
    pub fn slope(&self, t: f64, a: f64) -> f64 {
        self.at(t).moisture(a).1
    }

    /// The law at one temperature, for repeated use.
    pub fn at(&self, t: f64) -> IsothermAt {
        match *self {
            Self::SurfaceOnly => IsothermAt::Line(0.0),
            Self::Henry {
                capacity,
                reference_temperature,
                mixing_heat,
            } => IsothermAt::Line(vant_hoff(capacity, reference_temperature, mixing_heat, t)),
            Self::DualMode { .. } => IsothermAt::DualMode(forms::DualMode::at(self, t)),
            Self::FloryHuggins { .. } => IsothermAt::FloryHuggins(forms::FloryHuggins::at(self, t)),
            Self::Gab { .. } => IsothermAt::Gab(forms::Gab::at(self, t)),
        }
    }

    /// Activity in equilibrium with moisture `x` (kg/kg dry) at `t` (K), from 0 up to 1; a resin
    /// wetter than its equilibrium at activity 1 counts as saturated.
    pub fn activity(&self, t: f64, x: f64) -> f64 {
        let x = x.max(0.0);
        let a = match *self {
            Self::SurfaceOnly => {
                if x > 0.0 {
                    1.0
                } else {
                    0.0
                }
            }
            Self::Henry {
                capacity,
                reference_temperature,
                mixing_heat,
            } => x / vant_hoff(capacity, reference_temperature, mixing_heat, t),
            Self::DualMode { .. } => forms::DualMode::at(self, t).activity(x),
            Self::FloryHuggins { .. } => forms::FloryHuggins::at(self, t).activity(x),
            Self::Gab { .. } => forms::Gab::at(self, t).activity(x),
        };
        a.clamp(0.0, 1.0)
    }

    /// Heat of sorption beyond that of condensation, J/kg water, at moisture `x` and `t`:
    /// `(R T^2 / M) d ln a / dT` at constant X (Clausius-Clapeyron). Negative when sorbed water
    /// leaves more easily than liquid water.
    pub fn excess_heat(&self, t: f64, x: f64) -> f64 {
        let per_mole = match *self {
            Self::SurfaceOnly => 0.0,
            Self::Henry { mixing_heat, .. } => -mixing_heat,
            Self::DualMode { .. } => forms::DualMode::at(self, t).excess_heat(x),
            Self::FloryHuggins { .. } => forms::FloryHuggins::at(self, t).excess_heat(x),
            Self::Gab { .. } => forms::Gab::at(self, t).excess_heat(x),
        };
        per_mole / WATER_MOLAR_MASS
    }

    /// Excess heat taken up on drying from moisture `x` to zero, J per kg dry resin:
    /// the integral of [`Isotherm::excess_heat`] from 0 to `x`.
    pub fn excess_heat_integral(&self, t: f64, x: f64) -> f64 {
        match *self {
            Self::SurfaceOnly => 0.0,
            Self::Henry { mixing_heat, .. } => -mixing_heat / WATER_MOLAR_MASS * x,
            Self::FloryHuggins { .. } => {
                forms::FloryHuggins::at(self, t).excess_heat_integral(x) / WATER_MOLAR_MASS
            }
            Self::DualMode { .. } | Self::Gab { .. } => {
                // Five Gauss-Legendre points; the excess heat is smooth and bounded in x.
                const POINTS: [(f64, f64); 5] = [
                    (0.046_910_077_030_668, 0.118_463_442_528_094_5),
                    (0.230_765_344_947_158_5, 0.239_314_335_249_683_2),
                    (0.5, 0.284_444_444_444_444_4),
                    (0.769_234_655_052_841_5, 0.239_314_335_249_683_2),
                    (0.953_089_922_969_332, 0.118_463_442_528_094_5),
                ];
                POINTS
                    .iter()
                    .map(|(at, weight)| weight * x * self.excess_heat(t, at * x))
                    .sum()
            }
        }
    }

    /// Whether water enters the resin at all.
    pub fn takes_up_water(&self) -> bool {
        !matches!(self, Self::SurfaceOnly)
    }

    /// The same law taking up `factor` times as much water at each activity.
    pub fn scaled(mut self, factor: f64) -> Self {
        match &mut self {
            Self::SurfaceOnly => {}
            Self::Henry { capacity, .. } => *capacity *= factor,
            Self::DualMode {
                capacity,
                hole_capacity,
                ..
            } => {
                *capacity *= factor;
                *hole_capacity *= factor;
            }
            Self::FloryHuggins {
                amorphous_share, ..
            } => *amorphous_share *= factor,
            Self::Gab { monolayer, .. } => *monolayer *= factor,
        }
        self
    }
}

#[cfg(test)]
mod tests {
    use super::Isotherm;

    pub(super) fn every_form() -> [Isotherm; 4] {
        let reference_temperature = 333.15;
        [
            Isotherm::Henry {
                capacity: 0.0059,
                reference_temperature,
                mixing_heat: 6300.0,
            },
            Isotherm::DualMode {
                capacity: 0.01,
                reference_temperature,
                mixing_heat: 2000.0,
                hole_capacity: 0.004,
                hole_affinity: 5.0,
                hole_heat: -9000.0,
            },
            Isotherm::FloryHuggins {
                interaction: 1.6,
                interaction_slope: 0.002,
                reference_temperature,
                amorphous_share: 0.65,
                density_ratio: 0.87,
            },
            Isotherm::Gab {
                monolayer: 0.02,
                surface_constant: 6.0,
                multilayer_constant: 0.8,
                reference_temperature,
                surface_heat: -5000.0,
                multilayer_heat: -500.0,
            },
        ]
    }

    #[test]
    fn holds_activity_inverts_moisture_for_every_form() {
        for law in every_form() {
            for t in [298.15, 353.15, 393.15] {
                for a in [1e-6, 1e-3, 0.1, 0.5, 0.9, 0.999] {
                    let back = law.activity(t, law.moisture(t, a));
                    assert!((back / a - 1.0).abs() < 1e-9, "{law:?} {t} {a} {back}");
                }
            }
        }
    }

    #[test]
    fn holds_slope_is_the_derivative_of_moisture() {
        for law in every_form() {
            for a in [0.05, 0.3, 0.8] {
                let h = 1e-6;
                let difference =
                    (law.moisture(340.0, a + h) - law.moisture(340.0, a - h)) / (2.0 * h);
                assert!(
                    (law.slope(340.0, a) / difference - 1.0).abs() < 1e-6,
                    "{law:?} {a}"
                );
            }
        }
    }

    #[test]
    fn holds_excess_heat_is_the_clausius_clapeyron_slope() {
        use quantity::constants::{MOLAR_GAS, WATER_MOLAR_MASS};
        for law in every_form() {
            for x in [1e-4, 2e-3, 5e-3] {
                let (t, h) = (350.0, 1e-3);
                let slope = (law.activity(t + h, x) / law.activity(t - h, x)).ln() / (2.0 * h);
                let expected = MOLAR_GAS * t * t / WATER_MOLAR_MASS * slope;
                let found = law.excess_heat(t, x);
                assert!(
                    (found - expected).abs() <= 1e-5 * expected.abs() + 1.0,
                    "{law:?} {found} {expected}"
                );
            }
        }
    }

    #[test]
    fn holds_integral_is_the_sum_of_the_excess_heat() {
        for law in every_form() {
            let (t, x, n) = (350.0, 6e-3, 2000_u32);
            let step = x / f64::from(n);
            let sum: f64 = (0..n)
                .map(|i| law.excess_heat(t, (f64::from(i) + 0.5) * step) * step)
                .sum();
            let found = law.excess_heat_integral(t, x);
            assert!(
                (found - sum).abs() <= 1e-5 * sum.abs() + 1e-9,
                "{law:?} {found} {sum}"
            );
        }
    }
}
