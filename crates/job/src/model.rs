//! What the physics is told to do or to leave out, so that another solver can be fed the same.

use quantity::{
    Duration, HeatTransferCoefficient, MassTransferCoefficient, Moisture, SpecificEnergy,
    SpecificHeatCapacity, Temperature,
};
use serde::{Deserialize, Serialize};

/// Film coefficients stated instead of computed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct FilmOverride {
    /// Heat, per pellet surface.
    pub heat: Option<HeatTransferCoefficient>,
    /// Vapour, per pellet surface, on a concentration difference.
    pub vapour: Option<MassTransferCoefficient>,
}

/// Heat capacities stated instead of those of humid air and water.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct HeatOverride {
    /// Dry air.
    pub dry_air: Option<SpecificHeatCapacity>,
    /// Water vapour.
    pub vapour: Option<SpecificHeatCapacity>,
    /// Liquid water.
    pub water: Option<SpecificHeatCapacity>,
    /// Heat of evaporation at 0 degC.
    pub evaporation: Option<SpecificEnergy>,
}

/// What the hopper holds when the air is switched on.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct InitialState {
    /// Temperature of the charge; that of the feed when absent.
    pub temperature: Option<Temperature>,
    /// Moisture of the charge; that of the feed when absent.
    pub moisture: Option<Moisture>,
}

/// Switches and fineness.
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a switch that a job file names"
)]
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ModelChoices {
    /// Spread of residence between streams.
    pub residence_spread: bool,
    /// Spread of pellet size.
    pub size_spread: bool,
    /// Loader batches.
    pub batches: bool,
    /// Cone (otherwise the bed is a cylinder of the same mass).
    pub cone: bool,
    /// Resistance to heat inside the pellets.
    pub heat_gradient: bool,
    /// Film coefficients.
    pub film: FilmOverride,
    /// Heat capacities.
    pub heat: HeatOverride,
    /// Initial charge.
    pub initial: InitialState,
    /// Time to follow after the air is switched on.
    pub duration: Option<Duration>,
    /// Parcels in a full bed; chosen when absent.
    pub parcels: Option<u32>,
    /// Modes or nodes inside a pellet; chosen when absent.
    pub fineness: Option<u32>,
    /// Samples for the range of the answer; 0 for none.
    pub samples: u32,
    /// Seed of the samples.
    pub seed: u32,
}
