//! A vacuum dryer as a user states it.

use crate::equipment::{Blowing, EquipmentError};
use crate::vacuum_batch::{DryAir, VacuumMachine};
use crate::{LineError, Room};
use dryer::compressed_air::{CompressedAirSpec, Pass};
use dryer::heater::Heater;
use dryer::vacuum::VesselSpec;
use quantity::{
    AbsolutePressure, ActualVolumeFlow, Duration, Mass, MassFlow, Power, Quantity,
    TemperatureDifference, Volume,
};

/// Where the air for purging and letting out comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PurgeAir {
    /// The hall, as humid as it is.
    Hall,
    /// Compressed air, dried.
    Line(CompressedAirSpec),
}

/// A dryer that heats a charge with hot air, evacuates it, and keeps it till it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct VacuumDryer {
    /// Dry resin of a batch.
    pub charge: Mass,
    /// Dry air through the charge while it is heated.
    pub heating_air: MassFlow,
    /// Its blower, against filter, hoses and the charge.
    pub heating: Blowing,
    /// The coldest pellets count as heated when they lack no more than this.
    pub lacking: TemperatureDifference,
    /// Gas in the vacuum vessel beside the pellets.
    pub free_volume: Volume,
    /// Speed of the pump.
    pub pump_speed: ActualVolumeFlow,
    /// Pressure below which it takes nothing.
    pub end_pressure: AbsolutePressure,
    /// Power of the pump while it runs.
    pub pump_power: Power,
    /// Leak of hall air into the vessel, Pa m3/s: volume times rise of pressure when shut off.
    pub leak: f64,
    /// How long the pump runs for a batch.
    pub vacuum_time: Duration,
    /// Filling, dropping and the valves, for each vessel and batch.
    pub handling: Duration,
    /// Air for purging and letting out.
    pub purge_air: PurgeAir,
    /// Of it into the vessel while the pump runs, dry air.
    pub purge: MassFlow,
    /// Of it into the retention hopper, dry air.
    pub retention_purge: MassFlow,
}

impl VacuumDryer {
    /// The machine on a day, with the heater of its hot air.
    ///
    /// # Errors
    /// Every mistake in what is stated; [`LineError::Dryer`] for a number that cannot be.
    pub fn machine(&self, heater: Heater, room: &Room) -> Result<VacuumMachine, EquipmentError> {
        let vessel = VesselSpec {
            free_volume: self.free_volume,
            pump_speed: self.pump_speed,
            end_pressure: self.end_pressure,
            pump_power: self.pump_power,
            leak: self.leak,
        };
        let heating_air = self.heating_air.si();
        let machine = VacuumMachine {
            charge: self.charge.si(),
            heating_air,
            fan: self.heating.fan("heating blower")?,
            resistance: self.heating.resistance(heating_air, room),
            heater,
            lacking: self.lacking.si(),
            vessel: vessel.check()?,
            pump_power: self.pump_power.si(),
            vacuum_time: self.vacuum_time.si(),
            handling: self.handling.si(),
            dry_air: match self.purge_air {
                PurgeAir::Hall => DryAir::Hall,
                PurgeAir::Line(spec) => {
                    let once = CompressedAirSpec {
                        pass: Pass::Single,
                        ..spec
                    };
                    DryAir::Line(once.check()?)
                }
            },
            purge: self.purge.si(),
            retention_purge: self.retention_purge.si(),
        };
        Ok(machine.checked().map_err(LineError::from)?)
    }
}
