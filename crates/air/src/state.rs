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

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;
    use quantity::Quantity;

    const ATMOSPHERE: f64 = 101_325.0;

    fn air(t: f64, p: f64, humidity: impl Into<Humidity>) -> Result<HumidAir, AirError> {
        HumidAir::new(
            Temperature::from_celsius(t),
            AbsolutePressure::from_pascal(p),
            humidity,
        )
    }

    fn dry(t: f64, p: f64) -> Result<HumidAir, AirError> {
        air(t, p, VapourMoleFraction::from_fraction(0.0))
    }

    /// The name of the range left, or the error itself as text.
    fn refusal<T: std::fmt::Debug>(result: Result<T, AirError>) -> String {
        match result.unwrap_err() {
            AirError::OutOfRange(out) => out.range.name.to_owned(),
            other => other.to_string(),
        }
    }

    #[test]
    fn holds_just_inside_and_just_outside_of_temperature_and_pressure() {
        let holds = &super::TEMPERATURE_HOLDS;
        assert!((holds.low + 40.0).abs() + (holds.high - 250.0).abs() < 1e-9);
        let holds = &super::PRESSURE_HOLDS;
        assert!((holds.low - 5e4).abs() + (holds.high - 1.2e6).abs() < 1e-6);
        for t in [-40.0, 250.0] {
            assert!(dry(t, ATMOSPHERE).is_ok(), "{t}");
        }
        for t in [-40.001, 250.001, f64::NAN, f64::INFINITY] {
            assert_eq!(refusal(dry(t, ATMOSPHERE)), "air temperature", "{t}");
        }
        for p in [5e4, 1.2e6] {
            assert!(dry(20.0, p).is_ok(), "{p}");
        }
        for p in [49_999.9, 1_200_000.1, f64::NAN, -1.0] {
            assert_eq!(refusal(dry(20.0, p)), "air pressure", "{p}");
        }
    }

    #[test]
    fn holds_just_inside_and_just_outside_of_points() {
        assert!((super::FROST_POINT_HOLDS.low + 80.0).abs() < 1e-9);
        assert!((super::DEW_POINT_HOLDS.high - 100.0).abs() < 1e-9);
        for at in [-80.0, 0.01] {
            let air = air(150.0, ATMOSPHERE, FrostPoint::from_celsius(at)).unwrap();
            assert!((air.frost_point().unwrap().celsius() - at).abs() < 2e-6);
        }
        for at in [-80.001, 0.011, f64::NAN] {
            let refused = refusal(air(150.0, ATMOSPHERE, FrostPoint::from_celsius(at)));
            assert_eq!(refused, "frost point", "{at}");
        }
        for at in [-80.0, 100.0] {
            let air = air(150.0, 2e5, DewPoint::from_celsius(at)).unwrap();
            assert!((air.dew_point().unwrap().celsius() - at).abs() < 2e-6);
        }
        for at in [-80.001, 100.001, f64::NAN] {
            let refused = refusal(air(150.0, 2e5, DewPoint::from_celsius(at)));
            assert_eq!(refused, "dew point", "{at}");
        }
        let above = air(200.0, 8e5, VapourPressure::from_pascal(1.1e5)).unwrap_err();
        assert!(matches!(above, AirError::DewPointTooHigh { .. }), "{above}");
    }

    #[test]
    fn holds_no_state_past_saturation() {
        let saturated = air(40.0, ATMOSPHERE, DewPoint::from_celsius(40.0)).unwrap();
        assert!((saturated.relative_humidity().fraction() - 1.0).abs() < 1e-9);
        let above = air(40.0, ATMOSPHERE, DewPoint::from_celsius(40.01)).unwrap_err();
        assert!(matches!(above, AirError::DewPointAboveTemperature { .. }));
        let ratio = saturated.humidity_ratio().kg_per_kg();
        assert!(air(40.0, ATMOSPHERE, HumidityRatio::from_kg_per_kg(ratio)).is_ok());
        for humidity in [
            Humidity::from(HumidityRatio::from_kg_per_kg(1.001 * ratio)),
            VapourPressure::from_pascal(1.001 * saturated.vapour_pressure().pascal()).into(),
            VapourMoleFraction::from_fraction(1.001 * saturated.vapour_mole_fraction().si()).into(),
            AbsoluteHumidity::from_si(1.001 * saturated.absolute_humidity().si()).into(),
        ] {
            let refused = air(40.0, ATMOSPHERE, humidity).unwrap_err();
            assert!(
                matches!(refused, AirError::Supersaturated { .. }),
                "{refused}"
            );
        }
        let wet = air(40.0, ATMOSPHERE, RelativeHumidity::from_percent(100.1));
        assert_eq!(refusal(wet), "relative humidity");
        // Cooled below its dew point, it is refused too.
        let cooled = saturated.at_temperature(Temperature::from_celsius(39.0));
        assert!(matches!(cooled, Err(AirError::Supersaturated { .. })));
    }

    #[test]
    fn holds_steam_is_an_error_and_never_not_a_number() {
        let boiling = air(120.0, ATMOSPHERE, DewPoint::from_celsius(99.98)).unwrap_err();
        assert!(matches!(boiling, AirError::NoAirLeft { .. }), "{boiling}");
        for humidity in [
            Humidity::from(VapourMoleFraction::from_fraction(1.0)),
            VapourPressure::from_pascal(1e5).into(),
            AbsoluteHumidity::from_kg_per_m3(5.0).into(),
            HumidityRatio::from_kg_per_kg(999_999.0).into(),
            RelativeHumidity::from_percent(100.0).into(),
        ] {
            let steam = air(120.0, 1e5, humidity).unwrap_err();
            assert!(
                matches!(steam, AirError::NoAirLeft { .. }),
                "{humidity:?}: {steam}"
            );
        }
        // A breath under boiling there is an answer, large and finite.
        let nearly = air(120.0, ATMOSPHERE, DewPoint::from_celsius(99.9)).unwrap();
        assert!(nearly.humidity_ratio().kg_per_kg() > 100.0);
        for number in every_number(&nearly) {
            assert!(number.is_finite());
        }
    }

    #[test]
    fn holds_negative_and_not_a_number_are_named() {
        for bad in [-1e-9, f64::NAN] {
            let names = [
                refusal(air(20.0, 1e5, HumidityRatio::from_si(bad))),
                refusal(air(20.0, 1e5, RelativeHumidity::from_si(bad))),
                refusal(air(20.0, 1e5, VapourMoleFraction::from_si(bad))),
                refusal(air(20.0, 1e5, AbsoluteHumidity::from_si(bad))),
                refusal(air(20.0, 1e5, VapourPressure::from_si(bad))),
            ];
            assert_eq!(
                names,
                [
                    "humidity ratio",
                    "relative humidity",
                    "vapour mole fraction",
                    "absolute humidity",
                    "vapour pressure"
                ]
            );
        }
    }

    #[test]
    fn holds_dry_air_has_no_point() {
        let dry = dry(20.0, ATMOSPHERE).unwrap();
        assert_eq!(dry.dew_point(), Err(AirError::NoVapour));
        assert_eq!(dry.frost_point(), Err(AirError::NoVapour));
        assert_eq!(dry.condensation_point(), Err(AirError::NoVapour));
        let nearly = air(20.0, ATMOSPHERE, VapourMoleFraction::from_ppm(0.3)).unwrap();
        assert_eq!(refusal(nearly.frost_point()), "frost point");
        for number in every_number(&dry) {
            assert!(number.is_finite());
        }
    }

    #[test]
    fn holds_frost_ends_where_dew_begins() {
        let frost = air(20.0, ATMOSPHERE, FrostPoint::from_celsius(0.009)).unwrap();
        assert!(matches!(
            frost.condensation_point().unwrap(),
            CondensationPoint::Frost(_)
        ));
        let dew = air(20.0, ATMOSPHERE, DewPoint::from_celsius(0.02)).unwrap();
        assert!(matches!(
            dew.condensation_point().unwrap(),
            CondensationPoint::Dew(_)
        ));
        let refused = dew.frost_point().unwrap_err();
        assert!(
            matches!(refused, AirError::NoFrostPoint { .. }),
            "{refused}"
        );
        // The same vapour has its frost point above its dew point.
        let cold = air(20.0, ATMOSPHERE, FrostPoint::from_celsius(-20.0)).unwrap();
        let dew = cold.dew_point().unwrap().celsius();
        assert!((-22.3..-22.1).contains(&dew), "{dew}");
    }

    #[test]
    fn holds_a_cloud_is_a_state() {
        let cloud = air(-20.0, ATMOSPHERE, DewPoint::from_celsius(-20.5)).unwrap();
        assert!(cloud.relative_humidity().fraction() < 1.0);
        assert!(cloud.frost_point().unwrap().celsius() > -20.0);
    }

    #[test]
    fn holds_density_and_enthalpy_rise_and_fall_as_they_must() {
        let mut last = f64::NEG_INFINITY;
        for step in 0..=290 {
            let air = dry(-40.0 + f64::from(step), ATMOSPHERE).unwrap();
            let enthalpy = air.enthalpy().j_per_kg();
            assert!(enthalpy > last);
            last = enthalpy;
        }
        let [dry, humid] = [0.0, 0.01]
            .map(|y| air(50.0, ATMOSPHERE, VapourMoleFraction::from_fraction(y)).unwrap());
        assert!(humid.density().kg_per_m3() < dry.density().kg_per_m3());
        assert!(humid.enthalpy().j_per_kg() > dry.enthalpy().j_per_kg());
        assert!((0.55..0.65).contains(&dry.schmidt()), "{}", dry.schmidt());
        assert!((0.69..0.72).contains(&dry.prandtl()), "{}", dry.prandtl());
    }

    fn every_number(air: &HumidAir) -> [f64; 15] {
        [
            air.vapour_pressure().si(),
            air.humidity_ratio().si(),
            air.absolute_humidity().si(),
            air.relative_humidity().si(),
            air.density().si(),
            air.dry_air_density().si(),
            air.specific_volume_m3_per_kg_dry(),
            air.enthalpy().si(),
            air.heat_capacity().si(),
            air.heat_capacity_per_dry_air().si(),
            air.viscosity().si(),
            air.thermal_conductivity().si(),
            air.vapour_diffusivity().si(),
            air.prandtl(),
            air.schmidt(),
        ]
    }

    #[test]
    fn holds_finite_over_the_whole_range() {
        for t in [-40.0, -10.0, 0.01, 25.0, 80.0, 99.9, 120.0, 187.0, 250.0] {
            for p in [5e4, ATMOSPHERE, 3e5, 8e5, 1.2e6] {
                for percent in [0.0, 1e-4, 1.0, 50.0, 100.0] {
                    if let Ok(air) = air(t, p, RelativeHumidity::from_percent(percent)) {
                        for (k, number) in every_number(&air).into_iter().enumerate() {
                            assert!(number.is_finite(), "{t} {p} {percent}: number {k}");
                        }
                        let back = air.relative_humidity().percent();
                        assert!((back - percent).abs() < 1e-9, "{t} {p} {percent}: {back}");
                    }
                }
            }
        }
    }
}
