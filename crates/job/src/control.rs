//! How a dryer is run, as far as people state it; what is left out is usual.

use quantity::{Duration, Fraction, Humidity, Temperature, TemperatureDifference};
use serde::{Deserialize, Serialize};

/// What the control of a dryer takes the demand from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DemandSense {
    /// Temperature of the return air: cold pellets on top cool it.
    ReturnAir,
    /// Temperatures along the hopper: how far up it is hot.
    HopperTemperatures,
    /// Cycles of the loader that draws from it.
    LoaderCycles,
    /// The level, and with it what is filled in.
    Level,
    /// The schedule tells it.
    Told,
}

impl DemandSense {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::ReturnAir,
        Self::HopperTemperatures,
        Self::LoaderCycles,
        Self::Level,
        Self::Told,
    ];
    /// Their words, in the same order.
    pub const WORDS: &'static [&'static str] = &[
        Self::ReturnAir.words(),
        Self::HopperTemperatures.words(),
        Self::LoaderCycles.words(),
        Self::Level.words(),
        Self::Told.words(),
    ];

    /// What a person writes for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::ReturnAir => "return air",
            Self::HopperTemperatures => "hopper temperatures",
            Self::LoaderCycles => "loader cycles",
            Self::Level => "level",
            Self::Told => "schedule",
        }
    }

    /// The one that is written so.
    pub fn of_words(words: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|sense| sense.words() == words)
    }
}

/// How a dryer is run.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct ControlSettings {
    /// What demand is taken from.
    pub sense: Option<DemandSense>,
    /// Time over which what is sensed is smoothed.
    pub lag: Option<Duration>,
    /// Least air, of that at full demand; all of it always when absent and `air_follows` is not set.
    pub least_air: Option<Fraction>,
    /// Whether the air follows demand.
    pub air_follows: Option<bool>,
    /// Temperature to which the drying air is set back when demand is low.
    pub setback: Option<Temperature>,
    /// Demand, of the rate planned, below which it is set back.
    pub setback_below: Option<Fraction>,
    /// How long demand is low before.
    pub setback_after: Option<Duration>,
    /// Demand, of the rate planned, above which it recovers.
    pub recover_above: Option<Fraction>,
    /// Fastest change of the set point, K over a time of one hour.
    pub ramp_per_hour: Option<TemperatureDifference>,
    /// Whether it is switched off while nobody works.
    pub off_when_closed: Option<bool>,
    /// How long before work begins it is switched on again.
    pub on_before: Option<Duration>,
    /// Whether the press waits until the hopper has been dried.
    pub hold_until_dry: Option<bool>,
    /// Time between bake-outs of the desiccant.
    pub bake_out_every: Option<Duration>,
    /// Delivered humidity above which it is baked out, when the return is no more humid than usual.
    pub bake_out_above: Option<Humidity>,
    /// Temperature of the regeneration air while it is baked out.
    pub bake_out_temperature: Option<Temperature>,
    /// How long.
    pub bake_out_time: Option<Duration>,
    /// Delivered humidity above which it warns.
    pub warn_humidity: Option<Humidity>,
    /// Difference from the set point at which it warns.
    pub warn_temperature: Option<TemperatureDifference>,
}
