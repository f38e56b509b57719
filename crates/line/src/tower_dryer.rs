//! A dryer with twin towers as a user states it.

use crate::air_sides::{ProcessAir, RegenerationAir};
use crate::equipment::EquipmentError;
use crate::tower_loop::{OffLine, TowerLoop};
use crate::{LineError, Room};
use dryer::sorption::{Adsorbed, Beads};
use dryer::towers::{Cycle, Towers, TowersMesh, TowersSpec};
use quantity::{Density, Diffusivity, Fraction, Length, Mass, Quantity, SpecificHeatCapacity};

/// One of two equal vessels with its bed.
#[derive(Clone, Debug)]
pub struct BeadBed {
    /// Inner diameter.
    pub diameter: Length,
    /// Depth of the bed.
    pub depth: Length,
    /// Diameter of a bead.
    pub bead: Length,
    /// Share of the bed between the beads.
    pub voidage: Fraction,
    /// Dry mass per volume of bed.
    pub density: Density,
    /// The desiccant.
    pub desiccant: Adsorbed,
    /// What it still takes up, of what it did when new.
    pub capacity_left: Fraction,
    /// Heat capacity of the dry beads.
    pub heat_capacity: SpecificHeatCapacity,
    /// Steel that warms with the bed.
    pub steel: Mass,
    /// Pore diffusivity in the beads, counted in gas.
    pub pore_diffusivity: Option<Diffusivity>,
    /// How the towers are switched.
    pub cycle: Cycle,
    /// Share of the process air that a valve lets by while the first and while the second tower dries.
    pub bypass: [Fraction; 2],
}

/// A dryer with twin towers.
#[derive(Clone, Debug)]
pub struct TowerDryer {
    /// Each vessel.
    pub bed: BeadBed,
    /// Process side.
    pub process: ProcessAir,
    /// Air that regenerates a tower, and cools it.
    pub regeneration: RegenerationAir,
}

impl BeadBed {
    /// The towers at a pressure (Pa).
    fn towers(&self, pressure: f64) -> Result<Towers, LineError> {
        let spec = TowersSpec {
            diameter: self.diameter.si(),
            depth: self.depth.si(),
            beads: Beads {
                diameter: self.bead.si(),
                voidage: self.voidage.si(),
            },
            bulk_density: self.density.si(),
            capacity_left: self.capacity_left.si(),
            bead_heat: self.heat_capacity.si(),
            vessel_steel: self.steel.si(),
            pore_diffusivity: self.pore_diffusivity.map(Quantity::si),
            cycle: self.cycle,
            bypass: self.bypass.map(Quantity::si),
            pressure,
            sorbent: self.desiccant.clone(),
            mesh: TowersMesh::COARSE,
        };
        Ok(spec.check()?)
    }
}

impl TowerDryer {
    /// The loop for so much process air, kg/s of dry air.
    ///
    /// # Errors
    /// Every mistake in what is stated, or towers that cannot be.
    pub fn machine(&self, air_flow: f64, room: &Room) -> Result<TowerLoop, EquipmentError> {
        let regeneration = &self.regeneration;
        let flow = regeneration.flow(&self.process);
        Ok(TowerLoop {
            towers: self.bed.towers(room.pressure)?,
            process: self.process.side(air_flow, room)?,
            off_line: OffLine {
                air_flow: flow,
                set_point: regeneration.temperature.si(),
                heater: regeneration.heater.check()?,
                fan: regeneration.blowing.fan("regeneration blower")?,
                resistance: regeneration.blowing.resistance(flow, room),
            },
        })
    }
}
