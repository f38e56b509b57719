//! The day about the dryer: what every leak, every regeneration and every wall sees.

use dryer::Stream;

/// Air of the hall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Temperature, K.
    pub temperature: f64,
    /// Humidity ratio, kg/kg.
    pub humidity: f64,
    /// Pressure, Pa.
    pub pressure: f64,
}

impl Room {
    /// So much of it, kg/s of dry air.
    pub fn air(&self, dry_air: f64) -> Stream {
        Stream {
            dry_air,
            temperature: self.temperature,
            humidity: self.humidity,
        }
    }
}
