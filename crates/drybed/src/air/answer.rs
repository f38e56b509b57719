//! Every measure of a state of air, as plain data.

use super::AirQuestion;
use air::{CondensationPoint, HumidAir};
use serde::{Deserialize, Serialize};

/// Every measure of some air.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct AirAnswer {
    /// What was asked.
    pub question: AirQuestion,
    /// Atmosphere of the place, from its height.
    pub site_pressure_pa: f64,
    /// The air as asked for.
    pub state: AirState,
    /// The same air at the other pressure.
    pub expanded: Option<AirState>,
}

/// A state of air in every measure people use.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct AirState {
    /// Temperature.
    pub temperature_c: f64,
    /// Pressure above vacuum.
    pub pressure_pa: f64,
    /// Dew point, over liquid (supercooled below 0 degC); none for perfectly dry air and below
    /// -80 degC.
    pub dew_point_c: Option<f64>,
    /// Frost point, over ice; none above 0.01 degC, for perfectly dry air and below -80 degC.
    pub frost_point_c: Option<f64>,
    /// What a cold mirror shows first: the frost point up to 0.01 degC, the dew point above.
    pub condensation_point_c: Option<f64>,
    /// Vapour per dry air.
    pub humidity_ratio_g_kg: f64,
    /// Relative humidity over liquid water.
    pub relative_humidity_percent: f64,
    /// Share of the molecules.
    pub vapour_ppm_volume: f64,
    /// Vapour in a volume of this air.
    pub absolute_humidity_g_m3: f64,
    /// Partial pressure of the vapour.
    pub vapour_pressure_pa: f64,
    /// Enthalpy per dry air: zero for dry air at 0 degC and 1 atm and for liquid water at the
    /// triple point.
    pub enthalpy_kj_kg_dry: f64,
    /// Density.
    pub density_kg_m3: f64,
    /// Volume of this air that holds a kilogram of dry air.
    pub specific_volume_m3_kg_dry: f64,
    /// Dynamic viscosity.
    pub viscosity_upa_s: f64,
    /// Thermal conductivity.
    pub conductivity_w_m_k: f64,
    /// Diffusivity of vapour in it.
    pub vapour_diffusivity_m2_s: f64,
    /// Heat capacity per moist air.
    pub heat_capacity_j_kg_k: f64,
    /// Heat capacity per dry air.
    pub heat_capacity_j_kg_dry_k: f64,
    /// Prandtl number.
    pub prandtl: f64,
    /// Schmidt number of the vapour.
    pub schmidt: f64,
}

impl AirState {
    /// All measures of air that exists.
    pub(crate) fn of(air: &HumidAir) -> Self {
        let mirror = air.condensation_point().ok();
        Self {
            temperature_c: air.temperature().celsius(),
            pressure_pa: air.pressure().pascal(),
            dew_point_c: air.dew_point().ok().map(quantity::DewPoint::celsius),
            frost_point_c: air.frost_point().ok().map(quantity::FrostPoint::celsius),
            condensation_point_c: mirror.map(celsius),
            humidity_ratio_g_kg: air.humidity_ratio().g_per_kg(),
            relative_humidity_percent: air.relative_humidity().percent(),
            vapour_ppm_volume: air.vapour_mole_fraction().ppm(),
            absolute_humidity_g_m3: air.absolute_humidity().g_per_m3(),
            vapour_pressure_pa: air.vapour_pressure().pascal(),
            enthalpy_kj_kg_dry: 1e-3 * air.enthalpy().j_per_kg(),
            density_kg_m3: air.density().kg_per_m3(),
            specific_volume_m3_kg_dry: air.specific_volume_m3_per_kg_dry(),
            viscosity_upa_s: 1e6 * air.viscosity().pascal_seconds(),
            conductivity_w_m_k: air.thermal_conductivity().w_per_m_k(),
            vapour_diffusivity_m2_s: air.vapour_diffusivity().m2_per_s(),
            heat_capacity_j_kg_k: air.heat_capacity().j_per_kg_k(),
            heat_capacity_j_kg_dry_k: air.heat_capacity_per_dry_air().j_per_kg_k(),
            prandtl: air.prandtl(),
            schmidt: air.schmidt(),
        }
    }
}

/// A dew or frost point, degC.
pub(crate) fn celsius(point: CondensationPoint) -> f64 {
    match point {
        CondensationPoint::Dew(dew) => dew.celsius(),
        CondensationPoint::Frost(frost) => frost.celsius(),
    }
}
