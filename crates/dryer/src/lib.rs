//! What makes the drying air: each component a model of what it does to a [`Stream`].
//!
//! Components speak plain SI inside: K, Pa, kg of dry air a second, kg of water per kg of dry air.
//! All count heat with [`air::caloric`], so that what leaves one enters the next to the digit.

mod asked;
pub mod blower;
pub mod channel;
pub mod compressed_air;
mod condensation;
pub mod cooler;
pub mod crystalliser;
pub mod dew_point_sensor;
pub mod duct;
mod error;
pub mod exchanger;
pub mod fan_curve;
pub mod filter;
pub mod heater;
pub mod leak;
pub mod operating_point;
pub mod resistance;
pub mod sorption;
mod stream;
pub mod towers;
pub mod trap;
pub mod vacuum;
pub mod wheel;

pub use condensation::condensation_temperature;
pub use error::DryerError;
pub use resistance::Resistance;
pub use stream::{
    STREAM_FLOW_HOLDS, STREAM_HUMIDITY_HOLDS, STREAM_PRESSURE_HOLDS, STREAM_TEMPERATURE_HOLDS,
    Stream,
};
