//! A blower told how much air to move: at what speed it does so, or by how much it fails.

use crate::{LineError, Shortfall};
use dryer::blower::{Blower, Blown, SPEED_HOLDS};
use dryer::{Resistance, Stream};
use numeric::root;

/// How the wanted flow is brought about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FlowControl {
    /// The blower turns as fast as it must.
    Speed,
    /// It turns at its rated speed, and a damper takes what is too much.
    Damper,
}

/// A blower and how its flow is set.
#[derive(Clone, Debug, PartialEq)]
pub struct Fan {
    /// What it is called.
    pub name: &'static str,
    /// The blower.
    pub blower: Blower,
    /// How its flow is set.
    pub control: FlowControl,
}

impl Fan {
    /// Moves a stream that comes at a pressure (Pa) against a resistance and so many Pa besides.
    ///
    /// A blower that cannot is run at the highest speed it may have; the flow is kept, and what it
    /// lacks in pressure is told as a shortfall.
    ///
    /// # Errors
    /// For air it cannot take.
    pub fn move_air(
        &self,
        inlet: &Stream,
        against: Resistance,
        besides: f64,
        pressure: f64,
    ) -> Result<(Blown, Option<Shortfall>), LineError> {
        let (volume, density) = (inlet.volume_flow(pressure), inlet.density(pressure));
        let asked = besides + against.drop(volume, density, inlet.viscosity(pressure));
        let spare = |speed: f64| match self.blower.at_speed(speed) {
            Ok(blower) => blower.rise(volume, density) - asked,
            Err(_) => f64::NAN,
        };
        let top = match self.control {
            FlowControl::Speed => SPEED_HOLDS.high,
            FlowControl::Damper => 1.0,
        };
        let speed = match self.control {
            FlowControl::Speed if spare(top) > 0.0 && spare(SPEED_HOLDS.low) < 0.0 => {
                root::bracketed(SPEED_HOLDS.low, top, 1e-12, spare)?
            }
            FlowControl::Speed if spare(top) > 0.0 => SPEED_HOLDS.low,
            _ => top,
        };
        let blown = self.blower.at_speed(speed)?.run(inlet, pressure)?;
        let short = (spare(top) < 0.0).then(|| Shortfall {
            component: self.name.to_owned(),
            what: "pressure rise",
            asked,
            given: blown.rise,
            unit: "Pa",
        });
        Ok((blown, short))
    }
}
