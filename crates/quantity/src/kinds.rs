//! The kinds of quantity, each a newtype over `f64` in SI units.

use crate::Quantity;
use crate::constants::ZERO_CELSIUS;
use serde::{Deserialize, Serialize};

macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl Quantity for $name {
            fn from_si(value: f64) -> Self { Self(value) }
            fn si(self) -> f64 { self.0 }
        }
    )*};
}

quantities! {
    /// A point on the temperature scale, K.
    Temperature,
    /// A difference between two temperatures, K.
    TemperatureDifference,
    /// Temperature at which vapour would condense as liquid water, K; supercooled below 0 degC.
    DewPoint,
    /// Temperature at which vapour would deposit as ice, K; defined up to the triple point.
    FrostPoint,
    /// Pressure above vacuum, Pa.
    AbsolutePressure,
    /// Pressure above the local atmosphere, Pa.
    GaugePressure,
    /// A pressure drop or rise, Pa.
    PressureDifference,
    /// Partial pressure of water vapour, Pa.
    VapourPressure,
    /// Water vapour carried by dry air, kg per kg dry air.
    HumidityRatio,
    /// Vapour over saturation over liquid water at the same temperature, as a fraction.
    RelativeHumidity,
    /// Water molecules among all molecules of the gas, as a fraction (ppm by volume = 1e6 times).
    VapourMoleFraction,
    /// Mass of vapour in a volume of moist air, kg/m3.
    AbsoluteHumidity,
    /// Water activity: vapour pressure over that of pure water at the same temperature.
    WaterActivity,
    /// Moisture, kg water per kg dry resin.
    MoistureDryBasis,
    /// Moisture, kg water per kg wet resin.
    MoistureWetBasis,
    /// A span of time, s.
    Duration,
    /// Mass, kg.
    Mass,
    /// Mass flow, kg/s.
    MassFlow,
    /// Volume flow counted at a stated reference state, m3/s at that state.
    NormalVolumeFlow,
    /// Volume flow as it is at the temperature and pressure on the spot, m3/s.
    ActualVolumeFlow,
    /// Length, m.
    Length,
    /// Height above sea level, m.
    Altitude,
    /// Area, m2.
    Area,
    /// Volume, m3.
    Volume,
    /// Density of the matter itself, kg/m3.
    Density,
    /// Density of a poured bed, voids included, kg/m3.
    BulkDensity,
    /// Velocity, m/s.
    Velocity,
    /// Heat capacity at constant pressure, J/(kg K).
    SpecificHeatCapacity,
    /// Energy per mass, J/kg.
    SpecificEnergy,
    /// Energy per amount of substance, J/mol.
    MolarEnergy,
    /// Energy, J.
    Energy,
    /// Power, W.
    Power,
    /// Thermal conductivity, W/(m K).
    ThermalConductivity,
    /// Heat transfer coefficient, W/(m2 K).
    HeatTransferCoefficient,
    /// Heat over a temperature difference: area times heat transfer coefficient, W/K.
    ThermalConductance,
    /// What a layer of dirt adds to the resistance to heat, m2 K/W.
    FoulingResistance,
    /// Mass transfer coefficient on a concentration difference, m/s.
    MassTransferCoefficient,
    /// Diffusivity, m2/s.
    Diffusivity,
    /// Dynamic viscosity, Pa s.
    DynamicViscosity,
    /// A share of a whole, as a fraction.
    Fraction,
    /// Rise of a heat capacity with temperature, J/(kg K2).
    HeatCapacitySlope,
    /// Fall of a glass transition with moisture, K per kg/kg dry resin.
    GlassTransitionDrop,
    /// Events per time, or the constant of a first-order rate, 1/s.
    Frequency,
    /// A sound pressure level, A-weighted, dB above 20 uPa.
    SoundLevel,
    /// An angle, rad.
    Angle,
    /// Money for energy, per J, in the currency of whoever states it.
    EnergyPrice,
    /// Money for mass, per kg.
    MassPrice,
    /// Money for volume, per m3.
    VolumePrice,
    /// Money for time, per s.
    TimePrice,
    /// Mass given off for energy taken, kg/J.
    MassPerEnergy,
    /// Energy taken for a volume, J/m3.
    EnergyPerVolume,
}

macro_rules! scales {
    ($($name:ident { $($from:ident / $to:ident : $factor:expr, $unit:literal);* $(;)? })*) => {$(
        impl $name {$(
            #[doc = concat!("From a number in ", $unit, ".")]
            pub fn $from(value: f64) -> Self { Self(value * $factor) }
            #[doc = concat!("As a number in ", $unit, ".")]
            pub fn $to(self) -> f64 { self.0 / $factor }
        )*}
    )*};
}

scales! {
    TemperatureDifference { from_kelvin / kelvin: 1.0, "K" }
    AbsolutePressure { from_pascal / pascal: 1.0, "Pa"; from_bar / bar: 1e5, "bar" }
    GaugePressure { from_pascal / pascal: 1.0, "Pa"; from_bar / bar: 1e5, "bar" }
    PressureDifference { from_pascal / pascal: 1.0, "Pa" }
    VapourPressure { from_pascal / pascal: 1.0, "Pa" }
    HumidityRatio { from_kg_per_kg / kg_per_kg: 1.0, "kg/kg"; from_g_per_kg / g_per_kg: 1e-3, "g/kg" }
    RelativeHumidity { from_fraction / fraction: 1.0, "a fraction"; from_percent / percent: 1e-2, "%" }
    VapourMoleFraction { from_fraction / fraction: 1.0, "mol/mol"; from_ppm / ppm: 1e-6, "ppm by volume" }
    AbsoluteHumidity { from_kg_per_m3 / kg_per_m3: 1.0, "kg/m3"; from_g_per_m3 / g_per_m3: 1e-3, "g/m3" }
    WaterActivity { from_fraction / fraction: 1.0, "a fraction" }
    MoistureDryBasis { from_kg_per_kg / kg_per_kg: 1.0, "kg/kg dry"; from_ppm / ppm: 1e-6, "ppm dry basis"; from_percent / percent: 1e-2, "% dry basis" }
    MoistureWetBasis { from_kg_per_kg / kg_per_kg: 1.0, "kg/kg wet"; from_ppm / ppm: 1e-6, "ppm wet basis"; from_percent / percent: 1e-2, "% wet basis" }
    Duration { from_seconds / seconds: 1.0, "s"; from_minutes / minutes: 60.0, "min"; from_hours / hours: 3600.0, "h"; from_days / days: 86_400.0, "d" }
    Mass { from_kilograms / kilograms: 1.0, "kg" }
    MassFlow { from_kg_per_s / kg_per_s: 1.0, "kg/s"; from_kg_per_hour / kg_per_hour: 1.0 / 3600.0, "kg/h" }
    NormalVolumeFlow { from_m3_per_s / m3_per_s: 1.0, "m3/s"; from_m3_per_hour / m3_per_hour: 1.0 / 3600.0, "m3/h" }
    ActualVolumeFlow { from_m3_per_s / m3_per_s: 1.0, "m3/s"; from_m3_per_hour / m3_per_hour: 1.0 / 3600.0, "m3/h" }
    Length { from_metres / metres: 1.0, "m"; from_millimetres / millimetres: 1e-3, "mm" }
    Altitude { from_metres / metres: 1.0, "m" }
    Area { from_m2 / m2: 1.0, "m2" }
    Volume { from_m3 / m3: 1.0, "m3"; from_litres / litres: 1e-3, "l" }
    Density { from_kg_per_m3 / kg_per_m3: 1.0, "kg/m3" }
    BulkDensity { from_kg_per_m3 / kg_per_m3: 1.0, "kg/m3" }
    Velocity { from_m_per_s / m_per_s: 1.0, "m/s" }
    SpecificHeatCapacity { from_j_per_kg_k / j_per_kg_k: 1.0, "J/(kg K)" }
    SpecificEnergy { from_j_per_kg / j_per_kg: 1.0, "J/kg"; from_kwh_per_kg / kwh_per_kg: 3.6e6, "kWh/kg" }
    MolarEnergy { from_j_per_mol / j_per_mol: 1.0, "J/mol"; from_kj_per_mol / kj_per_mol: 1e3, "kJ/mol" }
    Energy { from_joules / joules: 1.0, "J"; from_kwh / kwh: 3.6e6, "kWh" }
    Power { from_watts / watts: 1.0, "W"; from_kilowatts / kilowatts: 1e3, "kW" }
    ThermalConductivity { from_w_per_m_k / w_per_m_k: 1.0, "W/(m K)" }
    HeatTransferCoefficient { from_w_per_m2_k / w_per_m2_k: 1.0, "W/(m2 K)" }
    ThermalConductance { from_w_per_k / w_per_k: 1.0, "W/K" }
    FoulingResistance { from_m2_k_per_w / m2_k_per_w: 1.0, "m2 K/W" }
    MassTransferCoefficient { from_m_per_s / m_per_s: 1.0, "m/s" }
    Diffusivity { from_m2_per_s / m2_per_s: 1.0, "m2/s" }
    DynamicViscosity { from_pascal_seconds / pascal_seconds: 1.0, "Pa s" }
    Fraction { from_fraction / fraction: 1.0, "a fraction"; from_percent / percent: 1e-2, "%" }
    Frequency { from_per_second / per_second: 1.0, "1/s"; from_per_hour / per_hour: 1.0 / 3600.0, "1/h" }
    EnergyPrice { from_per_kwh / per_kwh: 1.0 / 3.6e6, "money per kWh" }
    MassPrice { from_per_kg / per_kg: 1.0, "money per kg" }
    VolumePrice { from_per_m3 / per_m3: 1.0, "money per m3" }
    TimePrice { from_per_hour / per_hour: 1.0 / 3600.0, "money per h" }
    MassPerEnergy { from_kg_per_kwh / kg_per_kwh: 1.0 / 3.6e6, "kg/kWh" }
    EnergyPerVolume { from_kwh_per_m3 / kwh_per_m3: 3.6e6, "kWh/m3" }
    SoundLevel { from_decibels / decibels: 1.0, "dB(A)" }
    Angle { from_radians / radians: 1.0, "rad"; from_degrees / degrees: std::f64::consts::PI / 180.0, "degrees" }
}

macro_rules! points_on_the_temperature_scale {
    ($($name:ident),*) => {$(
        impl $name {
            /// From degrees Celsius.
            pub fn from_celsius(value: f64) -> Self { Self(value + ZERO_CELSIUS) }
            /// As degrees Celsius.
            pub fn celsius(self) -> f64 { self.0 - ZERO_CELSIUS }
            /// From kelvin.
            pub fn from_kelvin(value: f64) -> Self { Self(value) }
            /// As kelvin.
            pub fn kelvin(self) -> f64 { self.0 }
            /// From degrees Fahrenheit.
            pub fn from_fahrenheit(value: f64) -> Self { Self((value + 459.67) / 1.8) }
            /// As degrees Fahrenheit.
            pub fn fahrenheit(self) -> f64 { self.0 * 1.8 - 459.67 }
        }
    )*};
}

points_on_the_temperature_scale!(Temperature, DewPoint, FrostPoint);

impl MoistureDryBasis {
    /// The same moisture counted per kg of wet resin: `w / (1 + w)`.
    pub fn wet_basis(self) -> MoistureWetBasis {
        MoistureWetBasis(self.0 / (1.0 + self.0))
    }
}

impl MoistureWetBasis {
    /// The same moisture counted per kg of dry resin: `w / (1 - w)`.
    pub fn dry_basis(self) -> MoistureDryBasis {
        MoistureDryBasis(self.0 / (1.0 - self.0))
    }
}
