//! The way of the resin after the dryer: conveying, machine hopper, throat, and the sample taken there.

use quantity::{Duration, Fraction, Humidity, Mass, Temperature};
use serde::{Deserialize, Serialize};

/// What lies between the dryer and the screw; what is absent is not there.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Way {
    /// Conveying.
    pub conveying: Option<Conveying>,
    /// Hopper on the machine.
    pub hopper: Option<MachineHopper>,
    /// Throat of the machine.
    pub throat: Option<Throat>,
    /// Sample taken at the throat.
    pub sample: Option<Sample>,
}

/// The air that pellets meet on their way.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WayAir {
    /// Air of the hall.
    Hall,
    /// Dried air of a humidity; that of the dryer when absent.
    Dry(Option<Humidity>),
}

/// Conveying from the dryer to the machine.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Conveying {
    /// The air that carries the pellets.
    pub air: WayAir,
    /// Time of one flight.
    pub flight: Duration,
    /// Time that pellets lie in the line until the next flight.
    pub waiting: Duration,
    /// How often a pellet is carried.
    pub times: u32,
    /// Resin carried per air, kg/kg.
    pub loading: f64,
}

/// How much a machine hopper holds.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Holding {
    /// So much resin, with its water.
    Mass(Mass),
    /// So long at the rate of the job.
    Time(Duration),
}

/// What stands over the pellets in a machine hopper.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Lid {
    /// Nothing: the air of the hall.
    Open,
    /// A tight lid: hall air enters only as the pellets leave.
    Closed,
    /// Dried air of a humidity that flows through; that of the dryer when absent.
    Purged(Option<Humidity>),
}

/// The hopper on the machine.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct MachineHopper {
    /// How much it holds.
    pub holding: Holding,
    /// What stands over the pellets.
    pub lid: Lid,
    /// Time in which the pellets come nearer the hall by a factor of e; computed when absent.
    pub cooling: Option<Duration>,
}

/// The throat of the machine.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Throat {
    /// Its temperature.
    pub temperature: Temperature,
    /// How long pellets are in it.
    pub time: Duration,
}

/// What a sample is carried in.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Vessel {
    /// An open dish.
    Open,
    /// A tight vessel filled to this share, the rest of it hall air.
    Closed {
        /// Share of the vessel that the pellets fill.
        fill: Fraction,
    },
}

/// A sample taken at the throat and carried to the laboratory.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Sample {
    /// From the throat until it is measured.
    pub time: Duration,
    /// What it is carried in.
    pub vessel: Vessel,
}
