//! A limit of a component that was met, and by how much.

use dryer::heater::Heated;
use quantity::constants::ZERO_CELSIUS;
use serde::Serialize;

/// Kelvin below which a heater lacks nothing.
const NOTHING: f64 = 0.05;

/// What could not be delivered.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Shortfall {
    /// Which component.
    pub component: String,
    /// What of it, for example "outlet temperature".
    pub what: &'static str,
    /// What the line asks of it.
    pub asked: f64,
    /// What it gives.
    pub given: f64,
    /// Unit of both.
    pub unit: &'static str,
}

impl Shortfall {
    /// What a heater lacks of the temperature (K) wanted of it, if anything.
    pub(crate) fn of_heater(
        component: impl Into<String>,
        heated: &Heated,
        wanted: f64,
    ) -> Option<Self> {
        (heated.short_by > NOTHING).then(|| Self {
            component: component.into(),
            what: "outlet temperature",
            asked: wanted - ZERO_CELSIUS,
            given: heated.outlet.temperature - ZERO_CELSIUS,
            unit: "degC",
        })
    }

    /// By how much it falls short, in the unit.
    pub fn by(&self) -> f64 {
        self.asked - self.given
    }
}
