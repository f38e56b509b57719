//! Quantities whose basis the user chooses: they keep what was said until someone can resolve it.
//!
//! A dew point needs a pressure to become a humidity ratio, a gauge pressure the atmosphere of the
//! site, a volume flow the state it was counted at. Whoever knows those resolves the value; until
//! then the basis stays with it.

mod flow;
mod read;

pub use flow::air_flow;

use crate::Quantity;
use crate::constants::{DRY_AIR_MOLAR_MASS, MOLAR_GAS, WATER_MOLAR_MASS};
use crate::kinds::{
    AbsoluteHumidity, AbsolutePressure, ActualVolumeFlow, DewPoint, FrostPoint, GaugePressure,
    HumidityRatio, MassFlow, MoistureDryBasis, MoistureWetBasis, RelativeHumidity, Temperature,
    VapourMoleFraction, VapourPressure,
};
use crate::print::Show;
use crate::units::Units;
use serde::{Deserialize, Serialize};

/// A pressure and what it is counted from.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StatedPressure {
    /// Above vacuum.
    Absolute(AbsolutePressure),
    /// Above the atmosphere of the site.
    Gauge(GaugePressure),
    /// The atmosphere of the site itself.
    Site,
}

/// A moisture and its basis.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Moisture {
    /// Water over wet resin.
    Wet(MoistureWetBasis),
    /// Water over dry resin.
    Dry(MoistureDryBasis),
}

/// The humidity of air in one of the forms people use.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Humidity {
    /// Dew point over (supercooled) water, and the pressure it is stated at; where none is said,
    /// that of the air where it is used.
    Dew(DewPoint, Option<StatedPressure>),
    /// Frost point over ice, and the pressure it is stated at; where none is said, that of the air
    /// where it is used.
    Frost(FrostPoint, Option<StatedPressure>),
    /// Vapour per dry air.
    Ratio(HumidityRatio),
    /// Relative humidity over liquid water, and the temperature it is stated at; where none is
    /// said, that of the air.
    Relative(RelativeHumidity, Option<Temperature>),
    /// Share of the molecules.
    Share(VapourMoleFraction),
    /// Mass of vapour in a volume of the air as it is.
    Density(AbsoluteHumidity),
    /// Partial pressure of the vapour.
    Pressure(VapourPressure),
}

/// A flow of air and how it is counted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum AirFlow {
    /// Mass of the dry part.
    DryAir(MassFlow),
    /// Mass with its vapour.
    MoistAir(MassFlow),
    /// Volume counted at a stated temperature and pressure.
    Volume {
        /// Volume flow at that state.
        flow: ActualVolumeFlow,
        /// Temperature of the state.
        temperature: Temperature,
        /// Pressure of the state.
        pressure: StatedPressure,
    },
}

impl StatedPressure {
    /// Above vacuum, on a site whose atmosphere is `site`.
    pub fn absolute(self, site: AbsolutePressure) -> AbsolutePressure {
        match self {
            Self::Absolute(pressure) => pressure,
            Self::Gauge(pressure) => AbsolutePressure::from_si(pressure.si() + site.si()),
            Self::Site => site,
        }
    }
}

impl Moisture {
    /// Counted per dry resin.
    pub fn dry_basis(self) -> MoistureDryBasis {
        match self {
            Self::Wet(wet) => wet.dry_basis(),
            Self::Dry(dry) => dry,
        }
    }

    /// Counted per wet resin.
    pub fn wet_basis(self) -> MoistureWetBasis {
        match self {
            Self::Wet(wet) => wet,
            Self::Dry(dry) => dry.wet_basis(),
        }
    }
}

impl AirFlow {
    /// Mass flow of the dry part, taking air as an ideal gas mixture.
    ///
    /// `V p / (R T) * M_air / (1 + w M_air / M_water)` for a volume, `m / (1 + w)` for moist mass;
    /// `w` is the humidity ratio of the air that flows, `site` the atmosphere that gauge pressures
    /// are counted from. Real air departs from it by less than 0.1 % at 1 atm above 0 degC and by
    /// less than 0.5 % up to 1.2 MPa.
    pub fn dry_air(self, site: AbsolutePressure, humidity: HumidityRatio) -> MassFlow {
        let ratio = humidity.si();
        match self {
            Self::DryAir(flow) => flow,
            Self::MoistAir(flow) => MassFlow::from_si(flow.si() / (1.0 + ratio)),
            Self::Volume {
                flow,
                temperature,
                pressure,
            } => {
                let moles =
                    pressure.absolute(site).si() * flow.si() / (MOLAR_GAS * temperature.si());
                let vapour = ratio * DRY_AIR_MOLAR_MASS / WATER_MOLAR_MASS;
                MassFlow::from_si(moles * DRY_AIR_MOLAR_MASS / (1.0 + vapour))
            }
        }
    }
}

impl Show for StatedPressure {
    fn show(&self, system: Units, digits: usize) -> String {
        match self {
            Self::Absolute(pressure) => pressure.show(system, digits),
            Self::Gauge(pressure) => pressure.show(system, digits),
            Self::Site => "site pressure".to_owned(),
        }
    }
}

impl Show for Moisture {
    fn show(&self, system: Units, digits: usize) -> String {
        match self {
            Self::Wet(wet) => wet.show(system, digits),
            Self::Dry(dry) => dry.show(system, digits),
        }
    }
}

impl Show for Humidity {
    fn show(&self, system: Units, digits: usize) -> String {
        let at = |what: String, pressure: &Option<StatedPressure>| match pressure {
            Some(pressure) => format!("{what} at {}", pressure.show(system, digits)),
            None => what,
        };
        match self {
            Self::Dew(point, pressure) => at(point.show(system, digits), pressure),
            Self::Frost(point, pressure) => at(point.show(system, digits), pressure),
            Self::Ratio(ratio) => ratio.show(system, digits),
            Self::Relative(relative, Some(temperature)) => {
                let relative = relative.show(system, digits);
                format!("{relative} at {}", temperature.show(system, digits))
            }
            Self::Relative(relative, None) => relative.show(system, digits),
            Self::Share(share) => share.show(system, digits),
            Self::Density(density) => density.show(system, digits),
            Self::Pressure(pressure) => pressure.show(system, digits) + " vapour",
        }
    }
}

impl Show for AirFlow {
    fn show(&self, system: Units, digits: usize) -> String {
        match self {
            Self::DryAir(flow) => flow.show(system, digits) + " dry air",
            Self::MoistAir(flow) => flow.show(system, digits) + " moist air",
            Self::Volume {
                flow,
                temperature,
                pressure,
            } => format!(
                "{} at {} and {}",
                flow.show(system, digits),
                temperature.show(system, digits),
                pressure.show(system, digits)
            ),
        }
    }
}
