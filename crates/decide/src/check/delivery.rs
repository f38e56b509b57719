//! The way from the dryer to its hopper as the loop takes it: a hose that loses heat, and what leaks out of it.
//!
//! # Equations
//! 1. Length of the hose: as many metres as lose the transfer units stated of it at the air of the job.
//! 2. Everything else is [`line::Way`].
//!
//! # Holds for
//! A hose whose pressure is small beside that of the dryer: what clean hoses cost stands in the drop of the
//! dryer, and the little that this one adds is taken from the damper.
//!
//! # Sources
//! Velocity and coefficients: common practice, no source.

use super::installed::Installed;
use crate::DecideError;
use dryer::duct::{Duct, DuctSpec, Outside};
use dryer::leak::{Amount, LeakSpec, Way as Outward};
use job::ControlledAt;
use line::equipment::EquipmentError;
use line::{HeaterPlace, LineError, Way};
use quantity::{Faults, Fraction, HeatTransferCoefficient, Length, Quantity};
use std::f64::consts::PI;

/// Velocity of the hot air in a hose, m/s.
const VELOCITY: f64 = 12.0;
/// Heat to the hall from a hose under wool, W/(m2 K).
pub(super) const UNDER_WOOL: f64 = 2.0;
/// Heat to the hall from a bare hose, W/(m2 K).
pub(super) const BARE: f64 = 9.0;
/// Roughness of a hose, m.
const ROUGHNESS: f64 = 1e-4;

/// The way of an installation, its heater at the dryer.
///
/// # Errors
/// For a hose that cannot be.
pub(super) fn way(installed: &Installed) -> Result<Way, DecideError> {
    let cannot = |faults: Faults| DecideError::Equipment {
        title: installed.equipment.title.clone(),
        cause: Box::new(EquipmentError::Stated(faults)),
    };
    let leak_there = if installed.lost > 0.0 {
        let spec = LeakSpec {
            amount: Amount::Share(Fraction::from_si(installed.lost)),
            way: Outward::Out,
            pulse: None,
        };
        Some(spec.check().map_err(cannot)?)
    } else {
        None
    };
    Ok(Way {
        there: Some(hose(installed).map_err(|cause| DecideError::Equipment {
            title: installed.equipment.title.clone(),
            cause: Box::new(cause),
        })?),
        heater: match installed.controlled_at {
            ControlledAt::Hopper => HeaterPlace::DryerByHopper,
            ControlledAt::Dryer => HeaterPlace::Dryer,
        },
        leak_there,
        ..Way::default()
    })
}

/// The hose, its bore and its length for the air of the job.
fn hose(installed: &Installed) -> Result<Duct, EquipmentError> {
    let (case, room) = (&installed.case, &installed.room);
    let air = room.air(case.air_flow).at(case.air_temperature);
    let bore = libm::sqrt(4.0 * air.volume_flow(room.pressure) / (PI * VELOCITY));
    let outside = installed.hose_outside;
    let of_length = |length: f64| {
        let spec = DuctSpec {
            inner_diameter: Length::from_si(bore),
            length: Length::from_si(length),
            layers: Vec::new(),
            outside: Outside::Coefficient(HeatTransferCoefficient::from_si(outside)),
            roughness: Length::from_si(ROUGHNESS),
            fittings: 0.0,
            open: Fraction::from_si(1.0),
        };
        spec.check()
    };
    let metre = of_length(1.0)?
        .carry(&air, room.pressure, room.temperature)
        .map_err(LineError::from)?;
    let units = metre.coefficient * PI * bore / air.heat_capacity();
    Ok(of_length(installed.hose / units)?)
}
