//! A dryer with twin towers as a user states it.

use crate::equipment::{Blowing, EquipmentError, ReturnCooler};
use crate::tower_loop::{OffLine, TowerLoop};
use crate::{LineError, Room};
use dryer::heater::HeaterSpec;
use dryer::sorption::{Adsorbed, Beads};
use dryer::towers::{Cycle, Towers, TowersMesh, TowersSpec};
use quantity::{
    Density, Diffusivity, Fraction, Length, Mass, MassFlow, Quantity, SpecificHeatCapacity,
    Temperature,
};

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
    /// Dry process air it is rated for.
    pub rated_flow: MassFlow,
    /// Each vessel.
    pub bed: BeadBed,
    /// Process blower.
    pub process: Blowing,
    /// Return-air cooler.
    pub cooler: Option<ReturnCooler>,
    /// Whether the blower stands before the cooler.
    pub blower_first: bool,
    /// Hall air leaking in on the suction side, as a share of the process air.
    pub leak: Fraction,
    /// Regeneration and cooling air while it flows, as a share of the rated process air.
    pub regeneration_share: Fraction,
    /// Temperature of the regeneration.
    pub regeneration_temperature: Temperature,
    /// Regeneration heater.
    pub regeneration_heater: HeaterSpec,
    /// Regeneration blower.
    pub regeneration: Blowing,
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
        let cooler = match &self.cooler {
            Some(cooler) => Some((cooler.cooler.check()?, cooler.by())),
            None => None,
        };
        let rated = self.rated_flow.si();
        let regeneration = rated * self.regeneration_share.si();
        Ok(TowerLoop {
            towers: self.bed.towers(room.pressure)?,
            resistance: self.process.resistance(rated, room),
            cooler,
            blower_first: self.blower_first,
            fan: self.process.fan("process blower")?,
            leak: self.leak.si() * air_flow,
            off_line: OffLine {
                air_flow: regeneration,
                set_point: self.regeneration_temperature.si(),
                heater: self.regeneration_heater.check()?,
                fan: self.regeneration.fan("regeneration blower")?,
                resistance: self.regeneration.resistance(regeneration, room),
            },
        })
    }
}
