//! The nonlinear sorption laws at one temperature: each way round, slope and heat.

use crate::isotherm::{Isotherm, vant_hoff};
use libm::{exp, log, sqrt};
use quantity::constants::MOLAR_GAS;

/// Dual-mode sorption at one temperature.
#[derive(Clone, Debug, Default)]
pub struct DualMode {
    dissolved: f64,
    mixing_heat: f64,
    holes: f64,
    affinity: f64,
    hole_heat: f64,
}

impl DualMode {
    pub(crate) fn at(law: &Isotherm, t: f64) -> Self {
        let Isotherm::DualMode {
            capacity,
            reference_temperature,
            mixing_heat,
            hole_capacity,
            hole_affinity,
            hole_heat,
        } = *law
        else {
            return Self::default();
        };
        Self {
            dissolved: vant_hoff(capacity, reference_temperature, mixing_heat, t),
            mixing_heat,
            holes: hole_capacity,
            affinity: vant_hoff(hole_affinity, reference_temperature, hole_heat, t),
            hole_heat,
        }
    }

    pub(crate) fn moisture(&self, a: f64) -> f64 {
        self.dissolved * a + self.holes * self.affinity * a / (1.0 + self.affinity * a)
    }

    pub(crate) fn slope(&self, a: f64) -> f64 {
        let free = 1.0 + self.affinity * a;
        self.dissolved + self.holes * self.affinity / (free * free)
    }

    /// Positive root of `k b a^2 + (k + C b - x b) a - x = 0`, in the form without cancellation.
    pub(crate) fn activity(&self, x: f64) -> f64 {
        let square = self.dissolved * self.affinity;
        let linear = self.dissolved + self.affinity * (self.holes - x);
        let root = sqrt(linear * linear + 4.0 * square * x);
        if linear >= 0.0 {
            2.0 * x / (linear + root)
        } else {
            (root - linear) / (2.0 * square)
        }
    }

    /// `R T^2 d ln a/dT` at constant X, from the implicit derivative of X(T, a).
    pub(crate) fn excess_heat(&self, x: f64) -> f64 {
        let a = self.activity(x);
        let free = 1.0 + self.affinity * a;
        let held = self.holes * self.affinity / (free * free);
        -(self.dissolved * self.mixing_heat + held * self.hole_heat) / (self.dissolved + held)
    }
}

/// Flory-Huggins sorption at one temperature.
#[derive(Clone, Debug, Default)]
pub struct FloryHuggins {
    t: f64,
    chi: f64,
    chi_slope: f64,
    /// Moisture per volume ratio f/(1-f).
    scale: f64,
}

impl FloryHuggins {
    pub(crate) fn at(law: &Isotherm, t: f64) -> Self {
        let Isotherm::FloryHuggins {
            interaction,
            interaction_slope,
            reference_temperature,
            amorphous_share,
            density_ratio,
        } = *law
        else {
            return Self::default();
        };
        Self {
            t,
            chi: interaction + interaction_slope * (t - reference_temperature),
            chi_slope: interaction_slope,
            scale: amorphous_share * density_ratio,
        }
    }

    fn log_activity(&self, f: f64) -> f64 {
        let rest = 1.0 - f;
        log(f) + rest + self.chi * rest * rest
    }

    fn log_activity_slope(&self, f: f64) -> f64 {
        1.0 / f - 1.0 - 2.0 * self.chi * (1.0 - f)
    }

    /// Volume fraction on the dilute branch for activity `a`, by Newton in ln f from below.
    fn fraction(&self, a: f64) -> f64 {
        if a <= 0.0 {
            return 0.0;
        }
        let target = log(a);
        let mut f = exp(target - 1.0 - self.chi).min(0.5);
        for _ in 0..60 {
            let miss = self.log_activity(f) - target;
            let slope = f * self.log_activity_slope(f);
            if slope <= 1e-6 {
                // At the spinodal the resin takes no more: the dilute branch ends here.
                return f;
            }
            let step = (miss / slope).clamp(-0.7, 0.7);
            f = (f * exp(-step)).min(1.0 - 1e-9);
            if step.abs() < 1e-15 {
                break;
            }
        }
        f
    }

    pub(crate) fn moisture(&self, a: f64) -> f64 {
        let f = self.fraction(a);
        self.scale * f / (1.0 - f)
    }

    pub(crate) fn slope(&self, a: f64) -> f64 {
        if a <= 0.0 {
            return self.scale * exp(-1.0 - self.chi);
        }
        let f = self.fraction(a);
        self.scale / ((1.0 - f) * (1.0 - f)) / (a * self.log_activity_slope(f).max(1e-6))
    }

    pub(crate) fn activity(&self, x: f64) -> f64 {
        if x <= 0.0 {
            return 0.0;
        }
        exp(self.log_activity(x / (self.scale + x)))
    }

    pub(crate) fn excess_heat(&self, x: f64) -> f64 {
        let rest = self.scale / (self.scale + x);
        MOLAR_GAS * self.t * self.t * self.chi_slope * rest * rest
    }

    /// With `X = scale f/(1-f)`, `dX = scale df/(1-f)^2`, so the integral is `scale f`.
    pub(crate) fn excess_heat_integral(&self, x: f64) -> f64 {
        let f = x / (self.scale + x);
        MOLAR_GAS * self.t * self.t * self.chi_slope * self.scale * f
    }
}

/// GAB sorption at one temperature.
#[derive(Clone, Debug, Default)]
pub struct Gab {
    monolayer: f64,
    c: f64,
    k: f64,
    surface_heat: f64,
    multilayer_heat: f64,
}

impl Gab {
    pub(crate) fn at(law: &Isotherm, t: f64) -> Self {
        let Isotherm::Gab {
            monolayer,
            surface_constant,
            multilayer_constant,
            reference_temperature,
            surface_heat,
            multilayer_heat,
        } = *law
        else {
            return Self::default();
        };
        Self {
            monolayer,
            c: vant_hoff(surface_constant, reference_temperature, surface_heat, t),
            k: vant_hoff(
                multilayer_constant,
                reference_temperature,
                multilayer_heat,
                t,
            )
            .min(LARGEST_MULTILAYER_CONSTANT),
            surface_heat,
            multilayer_heat,
        }
    }

    pub(crate) fn moisture(&self, a: f64) -> f64 {
        let y = self.k * a;
        self.monolayer * self.c * y / ((1.0 - y) * (1.0 - y + self.c * y))
    }

    pub(crate) fn slope(&self, a: f64) -> f64 {
        let y = self.k * a;
        let (first, second) = (1.0 - y, 1.0 - y + self.c * y);
        let denominator = first * second;
        let change = -second + first * (self.c - 1.0);
        self.monolayer * self.c * self.k * (denominator - y * change) / (denominator * denominator)
    }

    /// Root below 1 of `(c-1) y^2 + (2 - c + q c) ... = 0` for y = k a, without cancellation.
    pub(crate) fn activity(&self, x: f64) -> f64 {
        if x <= 0.0 {
            return 0.0;
        }
        // x (1-y)(1 + (c-1) y) = m c y  =>  x (c-1) y^2 + (m c - x (c-2)) y - x = 0.
        let square = x * (self.c - 1.0);
        let linear = self.monolayer * self.c - x * (self.c - 2.0);
        let root = sqrt((linear * linear + 4.0 * square * x).max(0.0));
        2.0 * x / (linear + root).max(f64::MIN_POSITIVE) / self.k
    }

    /// Implicit derivative of X(a k(T), c(T)) at constant X.
    pub(crate) fn excess_heat(&self, x: f64) -> f64 {
        let y = self.k * self.activity(x);
        let (first, second) = (1.0 - y, 1.0 - y + self.c * y);
        // d ln X / d ln y and d ln X / d ln c.
        let by_y = 1.0 + y / first - y * (self.c - 1.0) / second;
        let by_c = 1.0 - self.c * y / second;
        -self.multilayer_heat - by_c / by_y * self.surface_heat
    }
}

/// Keeps a van 't Hoff multilayer constant below the pole of the law at activity 1.
const LARGEST_MULTILAYER_CONSTANT: f64 = 0.98;
