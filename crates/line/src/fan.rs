//! A blower told how much air to move: at what speed it does so, or how much less it moves.

use crate::{LineError, Shortfall};
use dryer::Stream;
use dryer::blower::{Blower, Blown, SPEED_HOLDS};
use dryer::operating_point::{Placed, operating_point};
use numeric::root;

/// How the wanted flow is brought about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FlowControl {
    /// The blower turns as fast as it must.
    Speed,
    /// It turns at its own speed, and a damper takes what is too much.
    Damper,
    /// It turns at its own speed, and nothing holds it back: what flows is where its curve meets the
    /// resistance, above or below what is wanted.
    Fixed,
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

/// Air moved by a fan.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// What the blower did to the air given to it.
    pub blown: Blown,
    /// What it lacks, if anything.
    pub short: Option<Shortfall>,
    /// What it can move of this air: what is wanted or, where it cannot, less; a fixed one its own, kg/s of
    /// dry air.
    pub flow: f64,
}

/// Flow below that wanted by no more than this share counts as that wanted.
const SAME_FLOW: f64 = 1e-6;

impl Fan {
    /// Moves a stream that comes at a pressure (Pa) through a system, whose drop (Pa) is a function of the dry
    /// air (kg/s) through the blower; `wanted` of it (kg/s) is asked for.
    ///
    /// A blower that cannot is run at the highest speed it may have. Where the stream is all that is wanted,
    /// what it lacks in pressure is told as a shortfall; where it is less, that.
    ///
    /// # Errors
    /// For air it cannot take.
    pub fn move_air(
        &self,
        inlet: &Stream,
        wanted: f64,
        system: impl Fn(f64) -> f64,
        pressure: f64,
    ) -> Result<Moved, LineError> {
        let (volume, density) = (inlet.of(1.0).volume_flow(pressure), inlet.density(pressure));
        let spare = |blower: &Blower, flow: f64| blower.rise(flow * volume, density) - system(flow);
        let strongest = match self.control {
            FlowControl::Speed => self.blower.at_speed(SPEED_HOLDS.high)?,
            FlowControl::Damper | FlowControl::Fixed => self.blower.clone(),
        };
        let most = || {
            let placed = Placed {
                blower: &strongest,
                inlet: *inlet,
                pressure,
            };
            operating_point(&[placed], &system)
        };
        let flow = match self.control {
            FlowControl::Fixed => most()?,
            _ if spare(&strongest, wanted) >= 0.0 => wanted,
            _ => most()?.min(wanted),
        };
        let now = inlet.dry_air;
        let lacks = -spare(&strongest, now);
        let blower = if self.control == FlowControl::Speed && lacks < 0.0 {
            self.blower
                .at_speed(self.speed_for(|blower| spare(blower, now))?)?
        } else {
            strongest
        };
        let blown = blower.run(inlet, pressure)?;
        let component = self.name.to_owned();
        let short = if now < wanted * (1.0 - SAME_FLOW) {
            Some(Shortfall {
                component,
                what: "flow of dry air",
                asked: 3600.0 * wanted,
                given: 3600.0 * now,
                unit: "kg/h",
            })
        } else {
            (now <= wanted && lacks > 0.0).then(|| Shortfall {
                component,
                what: "pressure rise",
                asked: system(now),
                given: blown.rise,
                unit: "Pa",
            })
        };
        Ok(Moved { blown, short, flow })
    }

    /// The speed at which nothing is spare, the lowest if there something still is.
    fn speed_for(&self, spare: impl Fn(&Blower) -> f64) -> Result<f64, LineError> {
        let at = |speed: f64| match self.blower.at_speed(speed) {
            Ok(blower) => spare(&blower),
            Err(_) => f64::NAN,
        };
        if at(SPEED_HOLDS.low) < 0.0 {
            Ok(root::bracketed(
                SPEED_HOLDS.low,
                SPEED_HOLDS.high,
                1e-12,
                at,
            )?)
        } else {
            Ok(SPEED_HOLDS.low)
        }
    }
}
