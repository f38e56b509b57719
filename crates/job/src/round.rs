//! A round with hand instruments: what was read on a dryer that has no data connection.

use crate::Job;
use quantity::{AirFlow, Meaning, TemperatureDifference, Value};
use serde::{Deserialize, Serialize};

/// A round.
#[derive(Clone, Debug, PartialEq)]
pub struct Round {
    /// What the user calls it.
    pub title: String,
    /// The job that the dryer runs.
    pub job: Job,
    /// The dryer.
    pub dryer: RoundDryer,
    /// What was read.
    pub readings: Vec<Reading>,
    /// What was read on a good day with the same instruments, where that is known.
    pub good: Option<Vec<Reading>>,
}

/// The dryer of a round as far as a person at the press knows it; the rest stands in its record, or is usual.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundDryer {
    /// What makes its air.
    pub kind: DryerKind,
    /// Air it is rated for, where no record says so; that of the job when not known.
    pub rated_flow: Option<AirFlow>,
    /// Where its temperature is controlled.
    pub controlled_at: ControlledAt,
    /// Whether it has a return-air cooler with water.
    pub cooler: bool,
    /// How well the dew point that it gives in good order is known, one standard deviation.
    pub dew_point_doubt: Option<TemperatureDifference>,
}

/// What makes the air.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DryerKind {
    /// A desiccant wheel.
    Wheel,
    /// Twin desiccant towers.
    Towers,
    /// Compressed air let down.
    CompressedAir,
    /// Hall air, heated.
    HotAir,
}

impl DryerKind {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Wheel, Self::Towers, Self::CompressedAir, Self::HotAir];
    /// Their words, in the same order.
    pub const WORDS: &'static [&'static str] = &[
        Self::Wheel.words(),
        Self::Towers.words(),
        Self::CompressedAir.words(),
        Self::HotAir.words(),
    ];

    /// What a person writes for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Wheel => "desiccant wheel",
            Self::Towers => "twin towers",
            Self::CompressedAir => "compressed air",
            Self::HotAir => "hot air",
        }
    }

    /// The one that is written so.
    pub fn of_words(words: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.words() == words)
    }
}

/// Where the sensor of the temperature control sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ControlledAt {
    /// At the inlet of the hopper.
    Hopper,
    /// In the dryer.
    Dryer,
}

/// One reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Of what.
    pub of: ReadingKind,
    /// What was read, in the meaning of its kind.
    pub value: Value,
    /// Error of the instrument, one standard deviation: K for temperatures and dew points, otherwise a share;
    /// that of common practice where it is not stated.
    pub error: Option<f64>,
}

macro_rules! kinds {
    ($($(#[$doc:meta])* $name:ident $words:literal $meaning:ident $error:ident;)*) => {
        /// What can be read on a round.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
        #[serde(rename_all = "kebab-case")]
        pub enum ReadingKind {
            $($(#[$doc])* $name,)*
        }

        impl ReadingKind {
            /// All of them, in the order of a walk round the dryer.
            pub const ALL: &'static [Self] = &[$(Self::$name),*];
            /// Their words, in the same order.
            pub const WORDS: &'static [&'static str] = &[$($words),*];

            /// Its words.
            pub const fn words(self) -> &'static str {
                match self { $(Self::$name => $words,)* }
            }

            /// What its number means.
            pub const fn meaning(self) -> Meaning {
                match self { $(Self::$name => Meaning::$meaning,)* }
            }

            /// What the number of its error means.
            pub const fn error_meaning(self) -> Meaning {
                match self { $(Self::$name => Meaning::$error,)* }
            }
        }
    };
}

kinds! {
    /// Of the hall about the dryer.
    HallTemperature "hall temperature" Temperature TemperatureDifference;
    /// Of the hall about the dryer.
    HallHumidity "hall humidity" Humidity TemperatureDifference;
    /// Behind the process heater, as the dryer shows it.
    DryerOutletTemperature "dryer outlet temperature" Temperature TemperatureDifference;
    /// Where the air enters the hopper.
    HopperInletTemperature "hopper inlet temperature" Temperature TemperatureDifference;
    /// On top of the hopper.
    ReturnTemperature "return temperature" Temperature TemperatureDifference;
    /// Before wheel or towers, behind the cooler.
    DesiccantInletTemperature "desiccant inlet temperature" Temperature TemperatureDifference;
    /// Dew or frost point of the air to the hopper.
    SupplyDewPoint "supply dew point" Humidity TemperatureDifference;
    /// Humidity of the air from the hopper.
    ReturnDewPoint "return dew point" Humidity TemperatureDifference;
    /// Air to the hopper.
    ProcessFlow "process flow" AirFlow Fraction;
    /// Over the process filter.
    FilterDrop "filter pressure drop" PressureDifference Fraction;
    /// Behind the regeneration heater.
    RegenerationInletTemperature "regeneration inlet temperature" Temperature TemperatureDifference;
    /// Behind the desiccant.
    RegenerationOutletTemperature "regeneration outlet temperature" Temperature TemperatureDifference;
    /// Current while it is on, of that on the name plate, mean over the phases.
    RegenerationHeaterCurrent "regeneration heater current" Fraction Fraction;
    /// Mean share of its power that it is asked for.
    RegenerationHeaterOutput "regeneration heater output" Fraction Fraction;
    /// Current while it is on, of that on the name plate, mean over the phases.
    ProcessHeaterCurrent "process heater current" Fraction Fraction;
    /// Mean share of its power that it is asked for.
    ProcessHeaterOutput "process heater output" Fraction Fraction;
    /// To the return-air cooler.
    CoolingWaterIn "cooling water in" Temperature TemperatureDifference;
    /// From the return-air cooler.
    CoolingWaterOut "cooling water out" Temperature TemperatureDifference;
    /// Turns of the wheel, zero where it stands.
    WheelSpeed "wheel speed" Frequency Fraction;
    /// Level, of the full hopper.
    HopperLevel "hopper level" Fraction Fraction;
    /// Resin drawn, by shots or by weighing.
    Rate "rate" MassFlow Fraction;
    /// Pellets at the throat.
    ThroatTemperature "throat temperature" Temperature TemperatureDifference;
    /// Of what is loaded, tested.
    LotMoisture "lot moisture" Moisture Fraction;
    /// Of pellets taken right at the outlet of the hopper, tested.
    OutletMoisture "hopper outlet moisture" Moisture Fraction;
    /// Of pellets at the throat of the machine, tested.
    ThroatMoisture "throat moisture" Moisture Fraction;
}

impl ReadingKind {
    /// The kind of these words.
    pub fn of_words(words: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|kind| kind.words() == words)
    }
}
