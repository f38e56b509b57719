//! A dryer as a user states it, and the machine that makes of it.
//!
//! Everything that a name plate, a ruler and a data sheet tell, in stated quantities; what is usual is
//! filled in by [`crate::usual`].

use crate::air_sides::{ProcessAir, RegenerationAir};
use crate::casing::Casing;
use crate::fan::{Fan, FlowControl};
use crate::open_air::OpenAir;
use crate::process_side::CooledBy;
use crate::tower_dryer::TowerDryer;
use crate::wheel_loop::{CoolingTo, Regeneration, WheelLoop};
use crate::{LineError, Maker, Room};
use dryer::Resistance;
use dryer::blower::BlowerSpec;
use dryer::compressed_air::CompressedAirSpec;
use dryer::cooler::CoolerSpec;
use dryer::exchanger::ExchangerSpec;
use dryer::filter::{Filter, FilterState};
use dryer::heater::{Heater, HeaterSpec};
use dryer::sorption::{Adsorbed, Passages, Way};
use dryer::wheel::{Duty, End, Leak, Mesh, Sector, WheelSpec};
use quantity::{
    Angle, Density, Diffusivity, Faults, Fraction, Frequency, Length, Mass, MassFlow, Power,
    PressureDifference, Quantity, SpecificHeatCapacity, Temperature,
};

/// Heat capacity of steel, J/(kg K), from memory of handbooks.
const STEEL: f64 = 480.0;

/// A dryer.
#[derive(Clone, Debug)]
pub struct Equipment {
    /// What it is called.
    pub title: String,
    /// What makes the air.
    pub machine: Machine,
    /// The heater before each hopper.
    pub heater: HeaterSpec,
}

/// The kinds of machine.
#[derive(Clone, Debug)]
pub enum Machine {
    /// Hall air, heated.
    HotAir(Box<HotAirDryer>),
    /// Compressed air let down.
    Compressed(CompressedAirSpec),
    /// A desiccant wheel.
    Wheel(Box<WheelDryer>),
    /// Twin desiccant towers.
    Towers(Box<TowerDryer>),
}

/// A blower with what it works against outside the hoppers.
#[derive(Clone, Debug, PartialEq)]
pub struct Blowing {
    /// The blower.
    pub blower: BlowerSpec,
    /// How the flow is set.
    pub control: FlowControl,
    /// Pressure drop of clean filter, cooler and hoses at the rated flow.
    pub drop: PressureDifference,
    /// Share of the drop that goes with viscosity: most of a clean filter, little of a hose.
    pub laminar_share: Fraction,
    /// How many times the drop has grown by dust; 1 when clean.
    pub clogging: f64,
}

/// A hot-air dryer.
#[derive(Clone, Debug, PartialEq)]
pub struct HotAirDryer {
    /// Dry air it is rated for.
    pub rated_flow: MassFlow,
    /// Its blower.
    pub process: Blowing,
    /// Share of the return that is used again.
    pub recirculated: Fraction,
}

/// The matrix of a wheel.
#[derive(Clone, Debug)]
pub struct Matrix {
    /// Outer diameter.
    pub diameter: Length,
    /// Share of the disc that air passes.
    pub face_used: Fraction,
    /// Depth.
    pub depth: Length,
    /// Its channels.
    pub passages: Passages,
    /// Dry mass per volume.
    pub density: Density,
    /// Share of desiccant in it.
    pub desiccant_share: Fraction,
    /// The desiccant.
    pub desiccant: Adsorbed,
    /// What it still takes up, of what it did when new.
    pub capacity_left: Fraction,
    /// Heat capacity of the dry matrix.
    pub heat_capacity: SpecificHeatCapacity,
    /// Pore diffusivity in the sheet, counted in gas.
    pub pore_diffusivity: Option<Diffusivity>,
    /// Angle of the process sector.
    pub process: Angle,
    /// Angle of the regeneration sector.
    pub regeneration: Angle,
    /// Angle of the cooling sector.
    pub cooling: Angle,
    /// Air that slips from regeneration to process, as a share of the process air.
    pub seal_leak: Fraction,
    /// Turns.
    pub speed: Frequency,
    /// Power of its drive.
    pub drive: Power,
}

/// What cools the return air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReturnCooler {
    /// The cooler.
    pub cooler: CoolerSpec,
    /// With what.
    pub coolant: CoolantSpec,
}

/// A coolant as stated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CoolantSpec {
    /// Cooling water.
    Water {
        /// Its flow.
        flow: MassFlow,
        /// Its temperature as it comes.
        temperature: Temperature,
    },
    /// Air of the hall, moved by a fan.
    HallAir {
        /// Its flow.
        flow: MassFlow,
        /// Power of the fan.
        fan: Power,
    },
}

/// A dryer with a desiccant wheel.
#[derive(Clone, Debug)]
pub struct WheelDryer {
    /// The wheel.
    pub wheel: Matrix,
    /// Process side.
    pub process: ProcessAir,
    /// Air through the cooling sector, as a share of the process air.
    pub cooling_share: Fraction,
    /// Where it goes.
    pub cooling_to: CoolingTo,
    /// Regeneration side.
    pub regeneration: RegenerationAir,
    /// What takes heat from the exhaust.
    pub recovery: Option<ExchangerSpec>,
    /// Steel between the regeneration heater and the wheel, heater box and hood included.
    pub regeneration_steel: Mass,
}

impl Machine {
    /// The process side of one with a desiccant.
    pub fn process(&self) -> Option<&ProcessAir> {
        match self {
            Self::Wheel(dryer) => Some(&dryer.process),
            Self::Towers(dryer) => Some(&dryer.process),
            Self::HotAir(_) | Self::Compressed(_) => None,
        }
    }

    /// The same, to be changed.
    pub fn process_mut(&mut self) -> Option<&mut ProcessAir> {
        match self {
            Self::Wheel(dryer) => Some(&mut dryer.process),
            Self::Towers(dryer) => Some(&mut dryer.process),
            Self::HotAir(_) | Self::Compressed(_) => None,
        }
    }

    /// The regeneration side of one with a desiccant.
    pub fn regeneration(&self) -> Option<&RegenerationAir> {
        match self {
            Self::Wheel(dryer) => Some(&dryer.regeneration),
            Self::Towers(dryer) => Some(&dryer.regeneration),
            Self::HotAir(_) | Self::Compressed(_) => None,
        }
    }

    /// The same, to be changed.
    pub fn regeneration_mut(&mut self) -> Option<&mut RegenerationAir> {
        match self {
            Self::Wheel(dryer) => Some(&mut dryer.regeneration),
            Self::Towers(dryer) => Some(&mut dryer.regeneration),
            Self::HotAir(_) | Self::Compressed(_) => None,
        }
    }

    /// What blows the process air, where a blower does.
    pub fn blowing(&self) -> Option<&Blowing> {
        match self {
            Self::HotAir(dryer) => Some(&dryer.process),
            other => other.process().map(|process| &process.blowing),
        }
    }

    /// The same, to be changed.
    pub fn blowing_mut(&mut self) -> Option<&mut Blowing> {
        match self {
            Self::HotAir(dryer) => Some(&mut dryer.process),
            other => other.process_mut().map(|process| &mut process.blowing),
        }
    }

    /// Dry air that its blower side is rated for; compressed air has none.
    pub fn rated_flow(&self) -> Option<MassFlow> {
        match self {
            Self::HotAir(dryer) => Some(dryer.rated_flow),
            other => other.process().map(|process| process.rated_flow),
        }
    }
}

impl Equipment {
    /// The machine for so much process air (kg/s of dry air) on a day.
    ///
    /// # Errors
    /// Every mistake in what is stated; [`LineError::Dryer`] for a wheel that cannot be.
    pub fn maker(&self, air_flow: f64, room: &Room) -> Result<Maker, EquipmentError> {
        match &self.machine {
            Machine::HotAir(dryer) => Ok(Maker::OpenAir(OpenAir {
                recirculated: dryer.recirculated.si(),
                resistance: dryer.process.resistance(dryer.rated_flow.si(), room),
                fan: dryer.process.fan("blower")?,
            })),
            Machine::Compressed(spec) => Ok(Maker::Compressed(spec.check()?)),
            Machine::Wheel(dryer) => Ok(Maker::Wheel(Box::new(dryer.machine(air_flow, room)?))),
            Machine::Towers(dryer) => Ok(Maker::Towers(Box::new(dryer.machine(air_flow, room)?))),
        }
    }

    /// The heater before a hopper.
    ///
    /// # Errors
    /// Every mistake in it.
    pub fn heater(&self) -> Result<Heater, Faults> {
        self.heater.check()
    }
}

/// What keeps a stated dryer from being one.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum EquipmentError {
    /// Mistakes in what is stated.
    #[error(transparent)]
    Stated(#[from] Faults),
    /// Numbers that do not go together.
    #[error(transparent)]
    Line(#[from] LineError),
}

impl Blowing {
    pub(crate) fn fan(&self, name: &'static str) -> Result<Fan, Faults> {
        Ok(Fan {
            name,
            blower: self.blower.check()?,
            control: self.control,
        })
    }

    /// What the drop stated for a rated flow (kg/s of dry hall air) says of any flow.
    pub(crate) fn resistance(&self, rated: f64, room: &Room) -> Resistance {
        let air = room.air(rated);
        let pressure = room.pressure;
        Resistance::of_rating(
            self.drop.si() * self.clogging,
            air.volume_flow(pressure),
            air.density(pressure),
            air.viscosity(pressure),
            self.laminar_share.si(),
        )
    }
}

impl Blowing {
    /// Its `clogging` by the dust on its filter: how many times the stated drop has grown for a rated flow (kg/s
    /// of dry hall air). The cake goes with viscosity alone; it is spread over both parts of the drop here.
    ///
    /// # Errors
    /// [`LineError::Dryer`] for a load that no filter has.
    pub fn clogged_by(
        &self,
        filter: &Filter,
        state: &FilterState,
        rated: f64,
        room: &Room,
    ) -> Result<f64, LineError> {
        let air = room.air(rated);
        let loaded = filter.drop(state, &air, room.pressure)?;
        let clean = filter.drop(&FilterState::default(), &air, room.pressure)?;
        Ok(1.0 + (loaded - clean) / self.drop.si())
    }
}

impl Matrix {
    /// The wheel at a pressure (Pa).
    fn wheel(&self, pressure: f64) -> Result<dryer::wheel::Wheel, LineError> {
        let sector = |duty, angle: Angle, way| Sector {
            duty,
            angle: angle.degrees(),
            way,
        };
        let mut sectors = vec![
            sector(Duty::Process, self.process, Way::Along),
            sector(Duty::Regeneration, self.regeneration, Way::Against),
        ];
        if self.cooling.si() > 0.0 {
            sectors.push(sector(Duty::Cooling, self.cooling, Way::Along));
        }
        let leaks = if self.seal_leak.si() > 0.0 {
            vec![Leak {
                from: (1, End::Inlet),
                into: (0, End::Outlet),
                share: self.seal_leak.si(),
            }]
        } else {
            Vec::new()
        };
        let spec = WheelSpec {
            diameter: self.diameter.si(),
            face_used: self.face_used.si(),
            depth: self.depth.si(),
            passages: self.passages,
            matrix_density: self.density.si(),
            sorbent_share: self.desiccant_share.si(),
            capacity_left: self.capacity_left.si(),
            matrix_heat: self.heat_capacity.si(),
            pore_diffusivity: self.pore_diffusivity.map(Quantity::si),
            sectors,
            leaks,
            channels_carry_air: true,
            pressure,
            sorbent: self.desiccant.clone(),
            mesh: Mesh::FINE,
        };
        Ok(spec.check()?)
    }
}

impl ReturnCooler {
    pub(crate) fn by(&self) -> CooledBy {
        match self.coolant {
            CoolantSpec::Water { flow, temperature } => {
                CooledBy::Water(flow.si(), temperature.si())
            }
            CoolantSpec::HallAir { flow, fan } => CooledBy::HallAir(flow.si(), fan.si()),
        }
    }
}

impl WheelDryer {
    /// The loop for so much process air, kg/s of dry air.
    ///
    /// # Errors
    /// Every mistake in what is stated, or a wheel that cannot be.
    pub fn machine(&self, air_flow: f64, room: &Room) -> Result<WheelLoop, EquipmentError> {
        let recovery = self.recovery.map(|spec| spec.check()).transpose()?;
        let regeneration = &self.regeneration;
        let flow = regeneration.flow(&self.process);
        let has_cooling = self.wheel.cooling.si() > 0.0;
        Ok(WheelLoop {
            wheel: self.wheel.wheel(room.pressure)?,
            turns_per_hour: self.wheel.speed.si() * 3600.0,
            drive_power: self.wheel.drive.si(),
            process: self.process.side(air_flow, room)?,
            cooling_flow: if has_cooling {
                self.cooling_share.si() * air_flow
            } else {
                0.0
            },
            cooling_to: self.cooling_to,
            regeneration: Regeneration {
                air_flow: flow,
                set_point: regeneration.temperature.si(),
                heater: regeneration.heater.check()?,
                fan: regeneration.blowing.fan("regeneration blower")?,
                resistance: regeneration.blowing.resistance(flow, room),
                recovery,
                casing: Casing {
                    heat_capacity: self.regeneration_steel.si() * STEEL,
                },
            },
        })
    }
}
