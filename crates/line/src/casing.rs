//! Metal that must be warmed first: heater box, duct and hood between a heater and what it serves.
//!
//! # Equations
//! Air gives `Q = m c (T_in - T_metal)(1 - e^-N)`; the metal takes it, `C dT/dt = Q`, solved exactly over
//! a step with even air: `T_metal -> T_in` with the rate `m c (1 - e^-N)/C`.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! C | `heat_capacity` | J/K
//! N | 2 (estimate) |
//!
//! # Holds for
//! One lump; no loss to the hall. At rest it changes nothing.
//!
//! # Sources
//! A lumped balance.
//!
//! # Checked by
//! The closed form below.

use dryer::Stream;

/// Transfer units between air and metal (estimate): most of the heat passes over.
const UNITS: f64 = 2.0;

/// Metal on the way of air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Casing {
    /// Heat that warms it by 1 K, J/K.
    pub heat_capacity: f64,
}

impl Casing {
    /// The mean air that leaves over `duration` seconds; `metal` is its temperature (K), moved on.
    pub fn pass(self, air: &Stream, metal: &mut f64, duration: f64) -> Stream {
        let flow = air.heat_capacity() * -libm::expm1(-UNITS);
        if !(self.heat_capacity > 0.0 && flow > 0.0 && duration > 0.0) {
            return *air;
        }
        let before = *metal;
        let closer = -libm::expm1(-flow * duration / self.heat_capacity);
        *metal += (air.temperature - before) * closer;
        let given = self.heat_capacity * (*metal - before) / duration;
        air.heated(-given)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_metal_follows_the_air_and_keeps_the_heat() {
        let casing = Casing {
            heat_capacity: 5000.0,
        };
        let air = Stream {
            dry_air: 0.005,
            temperature: 460.0,
            humidity: 0.01,
        };
        let (mut metal, mut heat) = (295.0, 0.0);
        for _ in 0..40 {
            let out = casing.pass(&air, &mut metal, 30.0);
            heat += 30.0 * (air.heat() - out.heat());
        }
        assert!((heat / (5000.0 * (metal - 295.0)) - 1.0).abs() < 1e-10);
        let rate = air.heat_capacity() * (1.0 - libm::exp(-UNITS)) / 5000.0;
        let exact = 460.0 - 165.0 * libm::exp(-rate * 1200.0);
        assert!((metal - exact).abs() < 1e-9);
        let mut warm = 460.0;
        assert_eq!(casing.pass(&air, &mut warm, 60.0), air);
    }
}
