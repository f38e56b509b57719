//! Heat kept by resin, water and air: constant heat capacities and one latent heat.

use material::Isotherm;
use quantity::constants::ZERO_CELSIUS;
use serde::{Deserialize, Serialize};

/// Constant heat capacities and latent heat, SI; enthalpies are zero at 0 degC for dry resin, dry
/// air and liquid water.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Calorics {
    /// Dry resin at 0 degC, J/(kg K).
    pub resin: f64,
    /// Its rise per kelvin, J/(kg K2).
    pub resin_slope: f64,
    /// Dry air, J/(kg K).
    pub dry_air: f64,
    /// Water vapour, J/(kg K).
    pub vapour: f64,
    /// Liquid water, J/(kg K).
    pub water: f64,
    /// Heat of evaporation at 0 degC, J/kg.
    pub evaporation: f64,
    /// Stated heat of sorption, J/kg water; follows from the isotherm when absent.
    pub sorption: Option<f64>,
}

impl Calorics {
    /// Enthalpy of vapour, J/kg.
    #[inline]
    pub fn vapour_enthalpy(&self, t: f64) -> f64 {
        self.evaporation + self.vapour * (t - ZERO_CELSIUS)
    }

    /// Enthalpy of moist air, J/kg dry air.
    #[inline]
    pub fn air_enthalpy(&self, t: f64, y: f64) -> f64 {
        self.dry_air * (t - ZERO_CELSIUS) + y * self.vapour_enthalpy(t)
    }

    /// Enthalpy of resin with sorbed water `x` and free water `w`, J/kg dry resin.
    pub fn resin_enthalpy(&self, isotherm: &Isotherm, t: f64, x: f64, w: f64) -> f64 {
        let c = t - ZERO_CELSIUS;
        let excess = match self.sorption {
            None => isotherm.excess_heat_integral(t, x),
            Some(heat) => (heat - (self.evaporation + (self.vapour - self.water) * c)) * x,
        };
        (self.resin + 0.5 * self.resin_slope * c) * c + (x + w) * self.water * c - excess
    }

    /// Slope of [`Calorics::resin_enthalpy`] with temperature but for that of the excess heat,
    /// J/(kg K).
    pub fn resin_capacity(&self, t: f64, x: f64, w: f64) -> f64 {
        self.resin + self.resin_slope * (t - ZERO_CELSIUS) + (x + w) * self.water
    }
}
