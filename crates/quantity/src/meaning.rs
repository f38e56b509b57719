//! What a number can mean: every kind of quantity as data, for readers driven by descriptions.

use crate::units::{self, Dimension, Unit, Units};
use crate::{Quantity, kinds, misread::Misread};
use std::str::FromStr;

/// A kind of quantity that has a meaning a person can write: the bridge from a type to its data.
pub trait Written: Quantity {
    /// The meaning of this type.
    const MEANING: Meaning;
}

macro_rules! meanings {
    ($($name:ident $words:literal $dimension:ident $metric:expr, $us:expr, $example:literal $(, $typed:ident)?;)*) => {
        /// What a number means: a kind of quantity, or a stated one whose basis the user chooses.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
        pub enum Meaning {
            $(#[doc = concat!("A ", $words, ".")] $name,)*
        }

        impl Meaning {
            /// Every meaning there is.
            pub const ALL: &'static [Self] = &[$(Self::$name),*];

            /// In words, without an article.
            pub const fn words(self) -> &'static str {
                match self { $(Self::$name => $words,)* }
            }

            /// The table of units it is first looked up in.
            pub fn dimension(self) -> &'static Dimension {
                match self { $(Self::$name => &units::$dimension,)* }
            }

            /// Something a user could write.
            pub const fn example(self) -> &'static str {
                match self { $(Self::$name => $example,)* }
            }

            /// Symbols of the units it is printed in, from small to large.
            const fn ladder(self, system: Units) -> &'static [&'static str] {
                match (self, system) {
                    $((Self::$name, Units::Metric) => &$metric,
                      (Self::$name, Units::UsCustomary) => &$us,)*
                }
            }
        }

        $($(
            impl Written for kinds::$typed { const MEANING: Meaning = Meaning::$name; }
            impl FromStr for kinds::$typed {
                type Err = Misread;
                fn from_str(text: &str) -> Result<Self, Misread> {
                    crate::parse::si(text, Meaning::$name).map(Self::from_si)
                }
            }
        )?)*
    };
}

meanings! {
    Temperature "temperature" TEMPERATURE ["degC"], ["degF"], "120 degC", Temperature;
    TemperatureDifference "temperature difference" DIFFERENCE ["K"], ["degF difference"], "10 K", TemperatureDifference;
    DewPoint "dew point" TEMPERATURE ["degC"], ["degF"], "12 degC dew", DewPoint;
    FrostPoint "frost point" TEMPERATURE ["degC"], ["degF"], "-40 degC frost", FrostPoint;
    AbsolutePressure "absolute pressure" PRESSURE ["Pa", "kPa", "bar"], ["psi"], "1.013 bar(a)", AbsolutePressure;
    GaugePressure "gauge pressure" PRESSURE ["Pa", "kPa", "bar"], ["psi"], "7 bar(g)", GaugePressure;
    PressureDifference "pressure difference" PRESSURE ["Pa", "kPa", "bar"], ["inH2O", "psi"], "2.5 kPa", PressureDifference;
    VapourPressure "vapour pressure" PRESSURE ["Pa", "kPa"], ["inHg"], "1.2 kPa", VapourPressure;
    HumidityRatio "humidity ratio" HUMIDITY_RATIO ["mg/kg", "g/kg"], ["gr/lb"], "8 g/kg", HumidityRatio;
    RelativeHumidity "relative humidity" RELATIVE_HUMIDITY ["%RH"], ["%RH"], "65 %RH", RelativeHumidity;
    VapourMoleFraction "share of vapour by volume" VAPOUR_SHARE ["ppm by volume", "% by volume"], ["ppm by volume", "% by volume"], "130 ppm by volume", VapourMoleFraction;
    AbsoluteHumidity "absolute humidity" VAPOUR_DENSITY ["mg/m3", "g/m3"], ["gr/ft3"], "9 g/m3", AbsoluteHumidity;
    WaterActivity "water activity" FRACTION ["%"], ["%"], "30 %", WaterActivity;
    MoistureDryBasis "moisture on dry basis" MOISTURE ["ppm", "%"], ["ppm", "%"], "0.2 % dry", MoistureDryBasis;
    MoistureWetBasis "moisture on wet basis" MOISTURE ["ppm", "%"], ["ppm", "%"], "0.2 % wet", MoistureWetBasis;
    Duration "time" TIME ["s", "min", "h"], ["s", "min", "h"], "4 h", Duration;
    Mass "mass" MASS ["mg", "g", "kg"], ["oz", "lb"], "45 g", Mass;
    MassFlow "mass flow" MASS_FLOW ["g/h", "kg/h"], ["lb/h"], "12 kg/h", MassFlow;
    NormalVolumeFlow "volume flow at a reference state" VOLUME_FLOW ["l/h", "m3/h"], ["cfm"], "28 m3/h", NormalVolumeFlow;
    ActualVolumeFlow "volume flow" VOLUME_FLOW ["l/h", "m3/h"], ["cfm"], "28 m3/h", ActualVolumeFlow;
    Length "length" LENGTH ["um", "mm", "m"], ["mil", "in", "ft"], "2.5 mm", Length;
    Altitude "altitude" LENGTH ["m"], ["ft"], "500 m", Altitude;
    Area "area" AREA ["mm2", "cm2", "m2"], ["in2", "ft2"], "0.8 m2", Area;
    Volume "volume" VOLUME ["mm3", "cm3", "l", "m3"], ["in3", "ft3"], "60 l", Volume;
    Density "density" DENSITY ["kg/m3"], ["lb/ft3"], "1200 kg/m3", Density;
    BulkDensity "bulk density" DENSITY ["kg/m3"], ["lb/ft3"], "700 kg/m3", BulkDensity;
    Velocity "velocity" VELOCITY ["mm/s", "m/s"], ["ft/min"], "0.2 m/s", Velocity;
    SpecificHeatCapacity "heat capacity" HEAT_CAPACITY ["J/(kg K)", "kJ/(kg K)"], ["Btu/(lb degF)"], "1.36 kJ/(kg K)", SpecificHeatCapacity;
    HeatCapacitySlope "slope of heat capacity with temperature" HEAT_CAPACITY_SLOPE ["J/(kg K2)"], ["Btu/(lb degF2)"], "3.3 J/(kg K2)", HeatCapacitySlope;
    SpecificEnergy "energy per mass" ENERGY_PER_MASS ["J/kg", "kJ/kg"], ["Btu/lb"], "2300 kJ/kg", SpecificEnergy;
    MolarEnergy "energy per amount of substance" ENERGY_PER_AMOUNT ["J/mol", "kJ/mol"], ["Btu/lbmol"], "33.1 kJ/mol", MolarEnergy;
    Energy "energy" ENERGY ["J", "kJ", "kWh"], ["Btu", "kWh"], "12 kWh", Energy;
    Power "power" POWER ["W", "kW"], ["Btu/h"], "4.5 kW", Power;
    ThermalConductivity "thermal conductivity" CONDUCTIVITY ["mW/(m K)", "W/(m K)"], ["Btu/(h ft degF)"], "0.2 W/(m K)", ThermalConductivity;
    HeatTransferCoefficient "heat transfer coefficient" HEAT_TRANSFER ["W/(m2 K)"], ["Btu/(h ft2 degF)"], "8 W/(m2 K)", HeatTransferCoefficient;
    ThermalConductance "heat per temperature difference" CONDUCTANCE ["W/K"], ["Btu/(h degF)"], "400 W/K", ThermalConductance;
    FoulingResistance "resistance of dirt to heat" FOULING ["m2 K/W"], ["h ft2 degF/Btu"], "0.0002 m2 K/W", FoulingResistance;
    MassTransferCoefficient "mass transfer coefficient" VELOCITY ["mm/s", "m/s"], ["ft/h"], "0.05 m/s", MassTransferCoefficient;
    Diffusivity "diffusivity" DIFFUSIVITY ["m2/s"], ["ft2/h"], "1.5e-10 m2/s", Diffusivity;
    DynamicViscosity "dynamic viscosity" VISCOSITY ["uPa s", "mPa s", "Pa s"], ["lb/(ft h)"], "22 uPa s", DynamicViscosity;
    Fraction "share" FRACTION ["%"], ["%"], "50 %", Fraction;
    Angle "angle" ANGLE ["deg"], ["deg"], "60 deg", Angle;
    SoundLevel "sound level" SOUND_LEVEL ["dB(A)"], ["dB(A)"], "72 dB(A)", SoundLevel;
    Number "plain number" NUMBER [""], [""], "0.65";
    PerTemperature "change per degree" PER_TEMPERATURE ["1/K"], ["1/degF"], "4.8e-4 1/K";
    PerMoisture "change per moisture" PER_MOISTURE ["1/%"], ["1/%"], "40 1/%";
    GlassTransitionDrop "fall of temperature per moisture" TEMPERATURE_PER_MOISTURE ["K/%"], ["degF/%"], "10 K/%", GlassTransitionDrop;
    Frequency "frequency" PER_TIME ["1/h", "1/min", "1/s"], ["1/h", "1/min", "1/s"], "6 1/h", Frequency;
    EnergyPrice "price of energy" PRICE_OF_ENERGY ["per kWh"], ["per kWh"], "0.18 per kWh", EnergyPrice;
    MassPrice "price of mass" PRICE_OF_MASS ["per kg"], ["per lb"], "3.20 per kg", MassPrice;
    VolumePrice "price of volume" PRICE_OF_VOLUME ["per m3"], ["per gal"], "2.50 per m3", VolumePrice;
    TimePrice "price of time" PRICE_OF_TIME ["per h"], ["per h"], "60 per h", TimePrice;
    MassPerEnergy "mass per energy" MASS_PER_ENERGY ["g/kWh", "kg/kWh"], ["lb/kWh"], "0.35 kg/kWh", MassPerEnergy;
    EnergyPerVolume "energy per volume" ENERGY_PER_VOLUME ["Wh/m3", "kWh/m3"], ["kWh/ft3"], "0.12 kWh/m3", EnergyPerVolume;
    Pressure "pressure, absolute or gauge" PRESSURE ["Pa", "kPa", "bar"], ["psi"], "7 bar(g)";
    Moisture "moisture, wet or dry basis" MOISTURE ["ppm", "%"], ["ppm", "%"], "0.2 % wet";
    Humidity "humidity of air" TEMPERATURE ["degC"], ["degF"], "-40 degC frost";
    AirFlow "flow of air" MASS_FLOW ["g/h", "kg/h"], ["lb/h"], "30 kg/h dry air";
}

impl Meaning {
    /// The unit in which a value of this size is printed: the largest of which there is at least
    /// one, or the smallest there is.
    pub fn unit(self, system: Units, si: f64) -> &'static Unit {
        let all = self.dimension().units;
        let mut chosen = &all[0];
        for (step, symbol) in self.ladder(system).iter().enumerate() {
            let Some(unit) = all.iter().find(|u| u.symbol == *symbol) else {
                continue;
            };
            // A hair below one still counts as one, so that 3600 s reads 1 h on every machine.
            // Nothing of it is printed in the unit people think in, the last of the ladder.
            if step == 0 || si == 0.0 || unit.number(si).abs() >= 1.0 - 1e-12 {
                chosen = unit;
            }
        }
        chosen
    }

    /// In words, with an article: "a mass flow", "an energy".
    pub fn with_article(self) -> String {
        let words = self.words();
        let article = if words.starts_with(['a', 'e', 'i', 'o']) {
            "an"
        } else {
            "a"
        };
        format!("{article} {words}")
    }

    /// The unit of this meaning with exactly this symbol.
    pub fn unit_named(self, symbol: &str) -> Option<&'static Unit> {
        crate::parse::lookup(symbol, self.dimension())
    }

    /// Words that follow the unit when it is printed, for meanings whose basis is fixed.
    pub(crate) const fn suffix(self) -> &'static str {
        match self {
            Self::DewPoint => " dew point",
            Self::FrostPoint => " frost point",
            Self::AbsolutePressure => "(a)",
            Self::GaugePressure => "(g)",
            Self::MoistureDryBasis => " dry basis",
            Self::MoistureWetBasis => " wet basis",
            _ => "",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_every_ladder_is_in_its_table() {
        for &meaning in Meaning::ALL {
            for system in [Units::Metric, Units::UsCustomary] {
                for symbol in meaning.ladder(system) {
                    assert!(
                        meaning
                            .dimension()
                            .units
                            .iter()
                            .any(|u| u.symbol == *symbol),
                        "{meaning:?} prints {symbol:?}, which its table lacks"
                    );
                }
            }
        }
    }

    #[test]
    fn holds_every_example_is_read() {
        for &meaning in Meaning::ALL {
            let read = crate::parse::value(meaning.example(), meaning);
            // A flow without its state is refused even where only the number is wanted.
            assert!(read.is_ok(), "{meaning:?}: {read:?}");
        }
    }
}
