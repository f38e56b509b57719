//! The drying air and the place, as far as they are given.

use quantity::{AirFlow, Altitude, Humidity, StatedPressure, Temperature};
use serde::{Deserialize, Serialize};

/// The air that the dryer delivers to the hopper.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct AirSupply {
    /// Temperature at the inlet of the hopper.
    pub temperature: Option<Temperature>,
    /// Humidity as delivered.
    pub humidity: Option<Humidity>,
    /// Flow.
    pub flow: Option<AirFlow>,
    /// Highest flow the blower gives, for the search of settings.
    pub largest_flow: Option<AirFlow>,
    /// Driest air the dryer gives, for the search of settings.
    pub driest: Option<Humidity>,
    /// Pressure in the hopper; that of the site when absent.
    pub pressure: Option<StatedPressure>,
}

/// Where the hopper stands.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Site {
    /// Height above the sea.
    pub altitude: Option<Altitude>,
    /// Pressure of the atmosphere, where it is stated instead.
    pub pressure: Option<StatedPressure>,
    /// Temperature of the hall.
    pub ambient: Temperature,
    /// Humidity of the hall.
    pub humidity: Option<Humidity>,
}
