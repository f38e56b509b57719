//! Diffusivity of water in a resin as a function of temperature and moisture.

use libm::{exp, expm1};
use quantity::constants::MOLAR_GAS;
use serde::{Deserialize, Serialize};

/// A law for the diffusivity, all numbers in SI units (moisture in kg/kg dry resin).
///
/// Every law is Arrhenius in the dry limit:
/// `D(T, 0) = reference * exp(-(E/R) (1/T - 1/T_ref))`, except above the glass transition of
/// [`Diffusivity::FreeVolume`].
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "form", rename_all = "kebab-case")]
pub enum Diffusivity {
    /// Independent of moisture.
    Arrhenius {
        /// Diffusivity at the reference temperature, m2/s.
        reference: f64,
        /// Reference temperature, K.
        reference_temperature: f64,
        /// Activation energy, J/mol.
        activation_energy: f64,
    },
    /// `D = D(T) exp(g X)`: plasticised (g > 0) or clustering (g < 0).
    Exponential {
        /// Diffusivity of the dry resin at the reference temperature, m2/s.
        reference: f64,
        /// Reference temperature, K.
        reference_temperature: f64,
        /// Activation energy, J/mol.
        activation_energy: f64,
        /// Exponent per moisture, 1/(kg/kg).
        moisture_exponent: f64,
    },
    /// `D = D(T) max(1 + s X, 0.02)`: clustering resins whose D falls slowly with moisture.
    /// The floor of 2 % keeps a falling law positive beyond the range it was measured in.
    Linear {
        /// Diffusivity of the dry resin at the reference temperature, m2/s.
        reference: f64,
        /// Reference temperature, K.
        reference_temperature: f64,
        /// Activation energy, J/mol.
        activation_energy: f64,
        /// Slope per moisture, 1/(kg/kg).
        moisture_slope: f64,
    },
    /// Free volume above the wet glass transition, Arrhenius below it.
    ///
    /// `Tg(X) = Tg - k X`; above it `D = D_g exp(B/f_g - B/f)` with
    /// `f = f_g + alpha (T - Tg(X))`; below it `D = D_g exp(-(E/R)(1/T - 1/Tg(X)))`. Both branches
    /// meet at `D_g`, which is fixed by the reference value of the dry resin.
    /// Vrentas and Duda (1977), J. Polym. Sci. Polym. Phys. 15, 403 (form; from memory).
    FreeVolume {
        /// Diffusivity of the dry resin at the reference temperature, m2/s.
        reference: f64,
        /// Reference temperature, K.
        reference_temperature: f64,
        /// Activation energy below the glass transition, J/mol.
        activation_energy: f64,
        /// Overlap factor B.
        overlap: f64,
        /// Fractional free volume at the glass transition.
        fraction_at_glass: f64,
        /// Expansion of the free volume above the glass transition, 1/K.
        expansion: f64,
        /// Glass transition of the dry resin, K.
        glass_transition: f64,
        /// Fall of the glass transition per moisture, K/(kg/kg).
        glass_transition_drop: f64,
    },
}

/// Least factor a falling linear law may reach.
const LEAST_LINEAR_FACTOR: f64 = 0.02;

/// Ten-point Gauss-Legendre rule on -1..1, abscissas above 0 and weights: Abramowitz and Stegun
/// (1964), table 25.4.
const GAUSS: [(f64, f64); 5] = [
    (0.14887433898163122, 0.2955242247147528),
    (0.4333953941292472, 0.2692667193099965),
    (0.6794095682990244, 0.219086362515982),
    (0.8650633666889845, 0.1494513491505804),
    (0.9739065285171717, 0.06667134430868814),
];

fn arrhenius(reference: f64, at: f64, energy: f64, t: f64) -> f64 {
    reference * exp(-energy / MOLAR_GAS * (1.0 / t - 1.0 / at))
}

impl Diffusivity {
    /// Diffusivity in m2/s at temperature `t` (K) and moisture `x` (kg/kg dry resin, taken as 0
    /// when negative).
    pub fn at(&self, t: f64, x: f64) -> f64 {
        let x = x.max(0.0);
        match *self {
            Self::Arrhenius {
                reference,
                reference_temperature,
                activation_energy,
            } => arrhenius(reference, reference_temperature, activation_energy, t),
            Self::Exponential {
                reference,
                reference_temperature,
                activation_energy,
                moisture_exponent,
            } => {
                arrhenius(reference, reference_temperature, activation_energy, t)
                    * exp(moisture_exponent * x)
            }
            Self::Linear {
                reference,
                reference_temperature,
                activation_energy,
                moisture_slope,
            } => {
                arrhenius(reference, reference_temperature, activation_energy, t)
                    * (1.0 + moisture_slope * x).max(LEAST_LINEAR_FACTOR)
            }
            Self::FreeVolume {
                reference,
                reference_temperature,
                activation_energy,
                overlap,
                fraction_at_glass,
                expansion,
                glass_transition,
                glass_transition_drop,
            } => {
                let free = |t: f64, glass: f64| fraction_at_glass + expansion * (t - glass);
                let at_glass = if reference_temperature >= glass_transition {
                    let above = free(reference_temperature, glass_transition);
                    reference * exp(overlap / above - overlap / fraction_at_glass)
                } else {
                    arrhenius(
                        reference,
                        reference_temperature,
                        activation_energy,
                        glass_transition,
                    )
                };
                let wet_glass = glass_transition - glass_transition_drop * x;
                if t >= wet_glass {
                    at_glass * exp(overlap / fraction_at_glass - overlap / free(t, wet_glass))
                } else {
                    arrhenius(at_glass, wet_glass, activation_energy, t)
                }
            }
        }
    }

    /// Relative slope `d ln D / dX` at temperature `t` and moisture `x`, per kg/kg.
    pub fn log_slope(&self, t: f64, x: f64) -> f64 {
        let x = x.max(0.0);
        match *self {
            Self::Arrhenius { .. } => 0.0,
            Self::Exponential {
                moisture_exponent, ..
            } => moisture_exponent,
            Self::Linear { moisture_slope, .. } => {
                let factor = 1.0 + moisture_slope * x;
                if factor > LEAST_LINEAR_FACTOR {
                    moisture_slope / factor
                } else {
                    0.0
                }
            }
            Self::FreeVolume {
                activation_energy,
                overlap,
                fraction_at_glass,
                expansion,
                glass_transition,
                glass_transition_drop,
                ..
            } => {
                let wet_glass = glass_transition - glass_transition_drop * x;
                if t >= wet_glass {
                    let free = fraction_at_glass + expansion * (t - wet_glass);
                    overlap * expansion * glass_transition_drop / (free * free)
                } else {
                    activation_energy / MOLAR_GAS * glass_transition_drop / (wet_glass * wet_glass)
                }
            }
        }
    }

    /// The law at one temperature, for repeated use.
    pub fn at_temperature(&self, t: f64) -> DiffusivityAt {
        let dry = self.at(t, 0.0);
        match *self {
            Self::Exponential {
                moisture_exponent, ..
            } if moisture_exponent != 0.0 => DiffusivityAt::Exponential(dry, moisture_exponent),
            Self::Arrhenius { .. } | Self::Exponential { .. } => DiffusivityAt::Constant(dry),
            Self::Linear { moisture_slope, .. } => DiffusivityAt::Linear(dry, moisture_slope),
            Self::FreeVolume { .. } => DiffusivityAt::Law(*self, t),
        }
    }

    /// Integral of D over moisture from 0 to `x` by quadrature, m2/s: ten points on either side of
    /// the wet glass transition, where D has a kink.
    fn integral(&self, t: f64, x: f64) -> f64 {
        if x <= 0.0 {
            return x * self.at(t, 0.0);
        }
        let kink = match *self {
            Self::FreeVolume {
                glass_transition,
                glass_transition_drop,
                ..
            } if glass_transition_drop > 0.0 => {
                ((glass_transition - t) / glass_transition_drop).clamp(0.0, x)
            }
            _ => x,
        };
        let piece = |from: f64, to: f64| {
            let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
            if half > 0.0 {
                let sum: f64 = GAUSS
                    .iter()
                    .map(|(u, w)| {
                        w * (self.at(t, middle - u * half) + self.at(t, middle + u * half))
                    })
                    .sum();
                half * sum
            } else {
                0.0
            }
        };
        piece(0.0, kink) + piece(kink, x)
    }

    /// Whether the diffusivity varies with moisture, so that a pellet must be solved point by
    /// point and not by its modes.
    pub fn depends_on_moisture(&self) -> bool {
        match *self {
            Self::Arrhenius { .. } => false,
            Self::Exponential {
                moisture_exponent, ..
            } => moisture_exponent != 0.0,
            Self::Linear { moisture_slope, .. } => moisture_slope != 0.0,
            Self::FreeVolume {
                glass_transition_drop,
                ..
            } => glass_transition_drop != 0.0,
        }
    }

    /// The law of a compound of which `polymer_share` (above 0, up to 1) by mass is the polymer of
    /// this law, its moisture counted on the compound: `D(X) = D_polymer(X / polymer_share)`.
    ///
    /// What a filler does to the way the water takes is left out.
    pub fn in_compound(mut self, polymer_share: f64) -> Self {
        match &mut self {
            Self::Arrhenius { .. } => {}
            Self::Exponential {
                moisture_exponent, ..
            } => *moisture_exponent /= polymer_share,
            Self::Linear { moisture_slope, .. } => *moisture_slope /= polymer_share,
            Self::FreeVolume {
                glass_transition_drop,
                ..
            } => *glass_transition_drop /= polymer_share,
        }
        self
    }

    /// The same law with every diffusivity multiplied by `factor`.
    pub fn scaled(mut self, factor: f64) -> Self {
        match &mut self {
            Self::Arrhenius { reference, .. }
            | Self::Exponential { reference, .. }
            | Self::Linear { reference, .. }
            | Self::FreeVolume { reference, .. } => *reference *= factor,
        }
        self
    }
}

/// A diffusion law at one temperature.
#[derive(Clone, Copy, Debug)]
pub enum DiffusivityAt {
    /// The same at any moisture, m2/s.
    Constant(f64),
    /// Dry value and exponent per moisture.
    Exponential(f64, f64),
    /// Dry value and slope per moisture.
    Linear(f64, f64),
    /// Any law at a temperature, K.
    Law(Diffusivity, f64),
}

impl DiffusivityAt {
    /// Potential of the flux, the integral of D over moisture from 0 to `x` (Kirchhoff (1894),
    /// Vorlesungen ueber die Theorie der Waerme; from memory), and D at `x`, both m2/s.
    #[inline]
    pub fn potential(&self, x: f64) -> (f64, f64) {
        match *self {
            Self::Exponential(dry, exponent) if x > 0.0 => {
                let grown = expm1(exponent * x);
                (dry / exponent * grown, dry * (1.0 + grown))
            }
            Self::Linear(dry, slope) if x > 0.0 => {
                let factor = 1.0 + slope * x;
                if factor >= LEAST_LINEAR_FACTOR {
                    (dry * x * (1.0 + 0.5 * slope * x), dry * factor)
                } else {
                    let end = (LEAST_LINEAR_FACTOR - 1.0) / slope;
                    let until = end * (1.0 + 0.5 * slope * end);
                    let least = dry * LEAST_LINEAR_FACTOR;
                    (dry * until + least * (x - end), least)
                }
            }
            Self::Constant(dry) | Self::Exponential(dry, _) | Self::Linear(dry, _) => {
                (dry * x, dry)
            }
            Self::Law(law, t) => (law.integral(t, x), law.at(t, x)),
        }
    }

    /// Relative slope `d ln D / dX` at moisture `x`, per kg/kg.
    #[inline]
    pub fn log_slope(&self, x: f64) -> f64 {
        match *self {
            Self::Constant(_) => 0.0,
            Self::Exponential(_, exponent) => exponent,
            Self::Linear(_, slope) => {
                let factor = 1.0 + slope * x.max(0.0);
                if factor > LEAST_LINEAR_FACTOR {
                    slope / factor
                } else {
                    0.0
                }
            }
            Self::Law(law, t) => law.log_slope(t, x),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Diffusivity;

    const FREE_VOLUME: Diffusivity = Diffusivity::FreeVolume {
        reference: 6.6e-12,
        reference_temperature: 353.15,
        activation_energy: 58e3,
        overlap: 1.0,
        fraction_at_glass: 0.025,
        expansion: 4.8e-4,
        glass_transition: 330.0,
        glass_transition_drop: 1200.0,
    };

    #[test]
    fn exact_reference_value_is_returned_at_the_reference_state() {
        assert!((FREE_VOLUME.at(353.15, 0.0) / 6.6e-12 - 1.0).abs() < 1e-12);
        let glassy = Diffusivity::Arrhenius {
            reference: 8.7e-11,
            reference_temperature: 373.15,
            activation_energy: 33.1e3,
        };
        // Ratio between 100 and 120 degC from the Arrhenius law by hand: exp(33100/8.31446 *
        // (1/373.15 - 1/393.15)) = 1.72064.
        assert!((glassy.at(393.15, 0.0) / 8.7e-11 - 1.72064).abs() < 1e-4);
    }

    #[test]
    fn holds_free_volume_is_continuous_at_the_wet_glass_transition() {
        for x in [0.0, 0.005, 0.01, 0.02] {
            let glass = 330.0 - 1200.0 * x;
            let below = FREE_VOLUME.at(glass - 1e-7, x);
            let above = FREE_VOLUME.at(glass + 1e-7, x);
            assert!((above / below - 1.0).abs() < 1e-6, "{x}: {below} {above}");
        }
    }

    #[test]
    fn exact_the_law_at_one_temperature_is_the_law() {
        let exponential = Diffusivity::Exponential {
            reference: 6.5e-12,
            reference_temperature: 353.15,
            activation_energy: 58e3,
            moisture_exponent: 60.0,
        };
        for law in [FREE_VOLUME, exponential] {
            let there = law.at_temperature(345.0);
            for x in [-1e-3, 0.0, 0.01] {
                assert!((there.potential(x).1 / law.at(345.0, x) - 1.0).abs() < 1e-14);
                assert!((there.log_slope(x) - law.log_slope(345.0, x)).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn exact_a_compound_diffuses_as_its_polymer_does() {
        let with = |moisture_exponent| Diffusivity::Exponential {
            reference: 6.5e-12,
            reference_temperature: 353.15,
            activation_energy: 58e3,
            moisture_exponent,
        };
        let linear = Diffusivity::Linear {
            reference: 6.5e-12,
            reference_temperature: 353.15,
            activation_energy: 58e3,
            moisture_slope: -20.0,
        };
        for law in [FREE_VOLUME, with(60.0), with(0.0), linear] {
            let compound = law.in_compound(0.7);
            for (t, x) in [(353.15, 0.01), (310.0, 0.02)] {
                let ratio = compound.at(t, 0.7 * x) / law.at(t, x);
                assert!((ratio - 1.0).abs() < 1e-12, "{law:?} {ratio}");
            }
        }
    }

    #[test]
    fn exact_diffusivity_is_the_slope_of_the_potential() {
        let exponential = |moisture_exponent| Diffusivity::Exponential {
            reference: 6.5e-12,
            reference_temperature: 353.15,
            activation_energy: 58e3,
            moisture_exponent,
        };
        let falling = Diffusivity::Linear {
            reference: 6.5e-12,
            reference_temperature: 353.15,
            activation_energy: 46e3,
            moisture_slope: -50.0,
        };
        let laws = [
            exponential(60.0),
            exponential(-200.0),
            exponential(1e-9),
            falling,
            FREE_VOLUME,
        ];
        for law in laws {
            // FREE_VOLUME passes its wet glass transition at X = 0.0154 when at 311.5 K.
            let there = law.at_temperature(311.5);
            for x in [-0.01, 1e-4, 0.004, 0.0154, 0.019, 0.022, 0.035] {
                let h = 2e-6;
                let slope = (there.potential(x + h).0 - there.potential(x - h).0) / (2.0 * h);
                let wanted = there.potential(x).1;
                assert!((slope / wanted - 1.0).abs() < 1e-6, "{law:?} {x}");
            }
            assert!(there.potential(0.0).0.abs() < 1e-300);
        }
    }

    #[test]
    fn exact_quadrature_of_a_free_volume_law_has_ten_digits() {
        let there = FREE_VOLUME.at_temperature(311.5);
        let mut sum = 0.0;
        // Midpoint rule on cells that end at the kink, extrapolated.
        let rule = |from: f64, to: f64, count: i32| -> f64 {
            let h = (to - from) / f64::from(count);
            (0..count)
                .map(|k| h * there.potential(from + (f64::from(k) + 0.5) * h).1)
                .sum()
        };
        let kink = (330.0 - 311.5) / 1200.0;
        for (from, to) in [(0.0, kink), (kink, 0.04)] {
            sum += (4.0 * rule(from, to, 8000) - rule(from, to, 4000)) / 3.0;
        }
        assert!((there.potential(0.04).0 / sum - 1.0).abs() < 1e-10);
    }

    #[test]
    fn holds_log_slope_is_the_derivative() {
        for (t, x) in [(353.15, 0.004), (300.0, 0.002), (300.0, 0.03)] {
            let h = 1e-7;
            let difference =
                (FREE_VOLUME.at(t, x + h).ln() - FREE_VOLUME.at(t, x - h).ln()) / (2.0 * h);
            assert!(
                (FREE_VOLUME.log_slope(t, x) / difference - 1.0).abs() < 1e-5,
                "{t} {x}"
            );
        }
    }

    #[test]
    fn holds_a_plasticised_law_rises_with_moisture_and_temperature() {
        let mut last = 0.0;
        for step in 0..40 {
            let now = FREE_VOLUME.at(353.15, f64::from(step) * 1e-3);
            assert!(now > last);
            last = now;
        }
        assert!(FREE_VOLUME.at(360.0, 0.0) > FREE_VOLUME.at(350.0, 0.0));
    }
}
