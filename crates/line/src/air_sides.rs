//! What dryers with a desiccant have in common, as a user states it: the process side and the
//! regeneration side.

use crate::Room;
use crate::equipment::{Blowing, EquipmentError, ReturnCooler};
use crate::process_side::ProcessSide;
use dryer::heater::HeaterSpec;
use quantity::{Fraction, MassFlow, Quantity, Temperature};

/// The process side of a dryer with a desiccant.
#[derive(Clone, Debug, PartialEq)]
pub struct ProcessAir {
    /// Dry process air it is rated for.
    pub rated_flow: MassFlow,
    /// Its blower.
    pub blowing: Blowing,
    /// Return-air cooler.
    pub cooler: Option<ReturnCooler>,
    /// Whether the blower stands before the cooler.
    pub blower_first: bool,
    /// Hall air leaking in on the suction side, as a share of the process air.
    pub leak: Fraction,
}

/// The regeneration side of a dryer with a desiccant.
#[derive(Clone, Debug, PartialEq)]
pub struct RegenerationAir {
    /// Regeneration air while it flows, as a share of the rated process air.
    pub share: Fraction,
    /// Temperature wanted.
    pub temperature: Temperature,
    /// Its heater.
    pub heater: HeaterSpec,
    /// Its blower.
    pub blowing: Blowing,
}

impl ProcessAir {
    /// The process side for so much air, kg/s of dry air.
    pub(crate) fn side(&self, air_flow: f64, room: &Room) -> Result<ProcessSide, EquipmentError> {
        let cooler = match &self.cooler {
            Some(cooler) => Some((cooler.cooler.check()?, cooler.by())),
            None => None,
        };
        Ok(ProcessSide {
            resistance: self.blowing.resistance(self.rated_flow.si(), room),
            cooler,
            blower_first: self.blower_first,
            fan: self.blowing.fan("process blower")?,
            leak: self.leak.si() * air_flow,
        })
    }
}

impl RegenerationAir {
    /// Regeneration air of a dryer whose process side is stated, kg/s of dry air.
    pub(crate) fn flow(&self, process: &ProcessAir) -> f64 {
        process.rated_flow.si() * self.share.si()
    }
}
