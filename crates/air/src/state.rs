//! A state of moist air: temperature, pressure and any one humidity in, everything else out.

use crate::point::{self, CondensationPoint, SLACK};
use crate::{AirError, equilibrium, mixture, saturation, transport};
use quantity::constants::{MOLAR_GAS, WATER_MOLAR_MASS, ZERO_CELSIUS};
use quantity::{
    AbsoluteHumidity, AbsolutePressure, Density, DewPoint, Diffusivity, DynamicViscosity,
    FrostPoint, HumidityRatio, Range, RelativeHumidity, SpecificEnergy, SpecificHeatCapacity,
    Temperature, ThermalConductivity, VapourMoleFraction, VapourPressure,
};
use serde::{Deserialize, Serialize};

/// Air temperatures the crate holds for.
pub const TEMPERATURE_HOLDS: Range = Range::new("air temperature", -40.0, 250.0, "degC");
/// Total pressures the crate holds for.
pub const PRESSURE_HOLDS: Range = Range::new("air pressure", 5e4, 1.2e6, "Pa");
/// Dew points the crate holds for; below 0.01 degC over supercooled liquid.
pub const DEW_POINT_HOLDS: Range = Range::new("dew point", -80.0, 100.0, "degC");
/// Frost points the crate holds for; the upper end is the triple point of water.
pub const FROST_POINT_HOLDS: Range = Range::new("frost point", -80.0, 0.01, "degC");

/// How humid air is, said in any of the ways people say it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Humidity {
    /// Temperature at which the vapour would condense as liquid.
    DewPoint(DewPoint),
    /// Temperature at which the vapour would deposit as ice.
    FrostPoint(FrostPoint),
    /// Vapour per dry air, by mass.
    HumidityRatio(HumidityRatio),
    /// Vapour over saturation over liquid.
    RelativeHumidity(RelativeHumidity),
    /// Vapour among all molecules (ppm by volume).
    VapourMoleFraction(VapourMoleFraction),
    /// Mass of vapour in a volume of air as it is.
    AbsoluteHumidity(AbsoluteHumidity),
    /// Partial pressure of the vapour: mole fraction times total pressure.
    VapourPressure(VapourPressure),
}

macro_rules! said_as {
    ($($name:ident),*) => {$(
        impl From<$name> for Humidity {
            fn from(value: $name) -> Self { Self::$name(value) }
        }
    )*};
}

said_as!(
    DewPoint,
    FrostPoint,
    HumidityRatio,
    RelativeHumidity,
    VapourMoleFraction,
    AbsoluteHumidity,
    VapourPressure
);

impl From<CondensationPoint> for Humidity {
    fn from(value: CondensationPoint) -> Self {
        match value {
            CondensationPoint::Dew(dew) => Self::DewPoint(dew),
            CondensationPoint::Frost(frost) => Self::FrostPoint(frost),
        }
    }
}

/// A state of moist air that exists: inside the ranges, not supersaturated over liquid, some air left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HumidAir {
    temperature: f64,
    pressure: f64,
    mole_fraction: f64,
}

impl HumidAir {
    /// Air at a temperature and total pressure, as humid as said.
    ///
    /// # Errors
    /// [`AirError::OutOfRange`] when a value leaves the range named in its `HOLDS` constant, is
    /// or is negative where it cannot be; [`AirError::DewPointTooHigh`] when the vapour would condense
    /// above the range of dew points;
    /// [`AirError::DewPointAboveTemperature`] and [`AirError::Supersaturated`] when the air could not
    /// hold the vapour; [`AirError::NoAirLeft`] when the vapour would fill the whole pressure.
    pub fn new(
        temperature: Temperature,
        pressure: AbsolutePressure,
        humidity: impl Into<Humidity>,
    ) -> Result<Self, AirError> {
        TEMPERATURE_HOLDS.check(temperature.celsius())?;
        let p = PRESSURE_HOLDS.check(pressure.pascal())?;
        let t = temperature.kelvin();
        let y = match humidity.into() {
            Humidity::DewPoint(dew) => {
                let y = point::at_dew_point(dew, pressure)?.fraction();
                if dew.kelvin() > t + SLACK {
                    return Err(AirError::DewPointAboveTemperature {
                        dew_point_c: dew.celsius(),
                        temperature_c: temperature.celsius(),
                    });
                }
                y
            }
            Humidity::FrostPoint(frost) => point::at_frost_point(frost, pressure)?.fraction(),
            Humidity::HumidityRatio(ratio) => {
                mixture::mole_fraction(RATIO_HOLDS.check(ratio.kg_per_kg())?)
            }
            Humidity::RelativeHumidity(relative) => {
                let relative = RELATIVE_HOLDS.check(relative.fraction())?;
                relative * equilibrium::saturation_limit(t, p)
            }
            Humidity::VapourMoleFraction(y) => FRACTION_HOLDS.check(y.fraction())?,
            Humidity::AbsoluteHumidity(mass) => {
                let mass = ABSOLUTE_HOLDS.check(mass.kg_per_m3())?;
                fraction_of_mass(t, p, mass)
            }
            Humidity::VapourPressure(e) => VAPOUR_HOLDS.check(e.pascal())? / p,
        };
        Self::with_mole_fraction(t, p, y)
    }

    /// The last checks, common to every way of saying how humid.
    fn with_mole_fraction(t: f64, p: f64, y: f64) -> Result<Self, AirError> {
        /// Saturation pressure of pure water at the highest dew point, Pa, rounded down (IAPWS
        /// SR1-86(1992)): with less vapour the dew point is surely in range.
        const SURELY_IN_RANGE: f64 = 1.014e5;
        let e = y * p;
        if y > equilibrium::MOST_VAPOUR {
            return Err(AirError::NoAirLeft {
                vapour_pressure_pa: e,
                pressure_pa: p,
            });
        }
        if e > SURELY_IN_RANGE {
            let highest = ZERO_CELSIUS + DEW_POINT_HOLDS.high + SLACK;
            if y > equilibrium::saturated_over_liquid(highest, p) {
                return Err(AirError::DewPointTooHigh {
                    vapour_pressure_pa: e,
                    highest_c: DEW_POINT_HOLDS.high,
                });
            }
        }
        // The enhancement factor is at least one, so only air past the pure pressure needs it.
        if e > saturation::over_liquid(t) {
            let most = equilibrium::saturation_limit(t, p);
            if y > most * (1.0 + 1e-9) {
                return Err(AirError::Supersaturated {
                    vapour_pressure_pa: e,
                    saturated_pa: most * p,
                    temperature_c: Temperature::from_kelvin(t).celsius(),
                    pressure_pa: p,
                });
            }
        }
        Ok(Self {
            temperature: t,
            pressure: p,
            mole_fraction: y,
        })
    }

    /// The same air, none of it lost or gained, at another temperature.
    ///
    /// # Errors
    /// As [`HumidAir::new`].
    pub fn at_temperature(self, temperature: Temperature) -> Result<Self, AirError> {
        Self::new(temperature, self.pressure(), self.vapour_mole_fraction())
    }

    /// The same air, none of it lost or gained, at the same temperature and another pressure.
    ///
    /// # Errors
    /// As [`HumidAir::new`].
    pub fn at_pressure(self, pressure: AbsolutePressure) -> Result<Self, AirError> {
        Self::new(self.temperature(), pressure, self.vapour_mole_fraction())
    }

    /// Temperature.
    pub fn temperature(&self) -> Temperature {
        Temperature::from_kelvin(self.temperature)
    }

    /// Total pressure.
    pub fn pressure(&self) -> AbsolutePressure {
        AbsolutePressure::from_pascal(self.pressure)
    }

    /// Vapour among all molecules.
    pub fn vapour_mole_fraction(&self) -> VapourMoleFraction {
        VapourMoleFraction::from_fraction(self.mole_fraction)
    }

    /// Partial pressure of the vapour: mole fraction times total pressure. Over saturated air this is
    /// the saturation pressure of pure water times the enhancement factor.
    pub fn vapour_pressure(&self) -> VapourPressure {
        VapourPressure::from_pascal(self.mole_fraction * self.pressure)
    }

    /// Vapour per dry air, by mass.
    pub fn humidity_ratio(&self) -> HumidityRatio {
        HumidityRatio::from_kg_per_kg(mixture::humidity_ratio(self.mole_fraction))
    }

    /// Mass of vapour in a volume of this air.
    pub fn absolute_humidity(&self) -> AbsoluteHumidity {
        let moles = mixture::molar_density(self.temperature, self.pressure, self.mole_fraction);
        AbsoluteHumidity::from_kg_per_m3(WATER_MOLAR_MASS * self.mole_fraction * moles)
    }

    /// Vapour over saturation over liquid; see [`equilibrium::relative_humidity`].
    pub fn relative_humidity(&self) -> RelativeHumidity {
        let (t, p, y) = self.plain();
        RelativeHumidity::from_fraction(equilibrium::relative_humidity(t, p, y))
    }

    /// Dew point; over supercooled liquid below 0.01 degC.
    ///
    /// # Errors
    /// [`AirError::NoVapour`] in perfectly dry air, [`AirError::OutOfRange`] below -80 degC.
    pub fn dew_point(&self) -> Result<DewPoint, AirError> {
        point::dew_point(self.vapour_mole_fraction(), self.pressure())
    }

    /// Frost point.
    ///
    /// # Errors
    /// [`AirError::NoFrostPoint`] when the vapour condenses as liquid, [`AirError::NoVapour`] in
    /// perfectly dry air, [`AirError::OutOfRange`] below -80 degC.
    pub fn frost_point(&self) -> Result<FrostPoint, AirError> {
        point::frost_point(self.vapour_mole_fraction(), self.pressure())
    }

    /// What a cold mirror would show first: frost up to 0.01 degC, dew above.
    ///
    /// # Errors
    /// [`AirError::NoVapour`] in perfectly dry air, [`AirError::OutOfRange`] below -80 degC.
    pub fn condensation_point(&self) -> Result<CondensationPoint, AirError> {
        point::condensation_point(self.vapour_mole_fraction(), self.pressure())
    }

    /// Density of the moist air.
    pub fn density(&self) -> Density {
        let (t, p, y) = self.plain();
        Density::from_kg_per_m3(mixture::density(t, p, y))
    }

    /// Dry air in a volume of the moist air; its inverse is the specific volume per kg of dry air.
    pub fn dry_air_density(&self) -> Density {
        let (t, p, y) = self.plain();
        Density::from_kg_per_m3(mixture::dry_air_density(t, p, y))
    }

    /// Volume of the moist air that holds one kilogram of dry air, m3/kg.
    pub fn specific_volume_m3_per_kg_dry(&self) -> f64 {
        1.0 / self.dry_air_density().kg_per_m3()
    }

    /// Enthalpy per kg of dry air; zero for dry air at 0 degC and 101 325 Pa and for liquid water at
    /// the triple point.
    pub fn enthalpy(&self) -> SpecificEnergy {
        let (t, p, y) = self.plain();
        SpecificEnergy::from_j_per_kg(mixture::enthalpy(t, p, y))
    }

    /// Heat capacity at constant pressure per kg of moist air.
    pub fn heat_capacity(&self) -> SpecificHeatCapacity {
        let (t, p, y) = self.plain();
        SpecificHeatCapacity::from_j_per_kg_k(mixture::heat_capacity(t, p, y))
    }

    /// Heat capacity at constant pressure per kg of dry air.
    pub fn heat_capacity_per_dry_air(&self) -> SpecificHeatCapacity {
        let (t, p, y) = self.plain();
        SpecificHeatCapacity::from_j_per_kg_k(mixture::heat_capacity_per_dry_air(t, p, y))
    }

    /// Dynamic viscosity.
    pub fn viscosity(&self) -> DynamicViscosity {
        let (t, p, y) = self.plain();
        DynamicViscosity::from_pascal_seconds(transport::viscosity(t, p, y))
    }

    /// Thermal conductivity.
    pub fn thermal_conductivity(&self) -> ThermalConductivity {
        let (t, p, y) = self.plain();
        ThermalConductivity::from_w_per_m_k(transport::thermal_conductivity(t, p, y))
    }

    /// Diffusivity of the vapour in the air.
    pub fn vapour_diffusivity(&self) -> Diffusivity {
        Diffusivity::from_m2_per_s(transport::vapour_diffusivity(
            self.temperature,
            self.pressure,
        ))
    }

    /// Prandtl number: heat capacity times viscosity over conductivity.
    pub fn prandtl(&self) -> f64 {
        let (t, p, y) = self.plain();
        mixture::heat_capacity(t, p, y) * transport::viscosity(t, p, y)
            / transport::thermal_conductivity(t, p, y)
    }

    /// Schmidt number of the vapour: viscosity over density and diffusivity.
    pub fn schmidt(&self) -> f64 {
        let (t, p, y) = self.plain();
        transport::viscosity(t, p, y)
            / (mixture::density(t, p, y) * transport::vapour_diffusivity(t, p))
    }

    fn plain(&self) -> (f64, f64, f64) {
        (self.temperature, self.pressure, self.mole_fraction)
    }
}

/// Humidity ratios that can be asked for; the upper end is far above saturation at 100 degC.
const RATIO_HOLDS: Range = Range::new("humidity ratio", 0.0, 1e6, "kg/kg");
/// Relative humidities that can be asked for.
const RELATIVE_HOLDS: Range = Range::new("relative humidity", 0.0, 1.0 + 1e-9, "");
/// Mole fractions that can be asked for.
const FRACTION_HOLDS: Range = Range::new("vapour mole fraction", 0.0, 1.0, "");
/// Absolute humidities that can be asked for; saturated steam at 100 degC has 0.6 kg/m3.
const ABSOLUTE_HOLDS: Range = Range::new("absolute humidity", 0.0, 10.0, "kg/m3");
/// Vapour pressures that can be asked for; above the total pressure there is no air left.
const VAPOUR_HOLDS: Range = Range::new("vapour pressure", 0.0, 1e8, "Pa");

/// Mole fraction of a mass of vapour in a volume, by substitution: the density of the mixture hardly
/// depends on its composition.
fn fraction_of_mass(t: f64, p: f64, mass: f64) -> f64 {
    let moles = mass / WATER_MOLAR_MASS;
    let mut y = (moles * MOLAR_GAS * t / p).min(1.0);
    for _ in 0..40 {
        let next = (moles / mixture::molar_density(t, p, y)).min(1.0);
        let change = (next - y).abs();
        y = next;
        if change <= 1e-15 * y {
            break;
        }
    }
    y
}
