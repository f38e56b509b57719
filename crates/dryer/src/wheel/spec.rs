//! What a wheel is made of, and what it is given.

use crate::sorption::{Adsorbed, Contact, Passages, Slice, Way};
use crate::{DryerError, Stream};
use air::{caloric, mixture};
use quantity::constants::ZERO_CELSIUS;
use std::f64::consts::PI;

/// What the air of a sector is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Duty {
    /// It is dried.
    Process,
    /// It takes the water away.
    Regeneration,
    /// It cools the matrix before the process air comes.
    Cooling,
}

/// A part of the face with one air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sector {
    /// What its air is for.
    pub duty: Duty,
    /// Its angle, degrees.
    pub angle: f64,
    /// Whether its air flows as the process air or against it.
    pub way: Way,
}

/// The end of a sector.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// Where its air comes in.
    Inlet,
    /// Where its air goes out.
    Outlet,
}

/// Air that slips through a seal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leak {
    /// From which sector (its place in the list) and end.
    pub from: (usize, End),
    /// Into which.
    pub into: (usize, End),
    /// How much, as a share of the air given to the sector it comes into.
    pub share: f64,
}

/// How finely a wheel is resolved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mesh {
    /// Slices along the depth.
    pub slices: usize,
    /// Slots of the angle.
    pub slots: usize,
    /// Growth of the steps: a step is this share of the time since its sector began.
    pub growth: f64,
}

impl Mesh {
    /// For a steady answer: within 0.1 K of dew point of a mesh five times as fine, at the cliff too.
    pub const FINE: Self = Self {
        slices: 20,
        slots: 16,
        growth: 0.4,
    };
    /// For days in a fraction of a second: within 0.5 K, and 0.1 K away from the cliff.
    pub const COARSE: Self = Self {
        slices: 8,
        slots: 10,
        growth: 1.0,
    };
}

/// A wheel as a user would state it; all numbers SI but angles.
#[derive(Clone, Debug)]
pub struct WheelSpec {
    /// Outer diameter, m.
    pub diameter: f64,
    /// Share of the disc that air passes (without hub, rim and spokes).
    pub face_used: f64,
    /// Depth, m.
    pub depth: f64,
    /// Its channels.
    pub passages: Passages,
    /// Dry mass per volume of matrix, kg/m3.
    pub matrix_density: f64,
    /// Share of sorbent in the dry mass.
    pub sorbent_share: f64,
    /// What the sorbent still takes up, of what it did when new.
    pub capacity_left: f64,
    /// Heat capacity of the dry matrix, J/(kg K).
    pub matrix_heat: f64,
    /// Pore diffusivity in the sheet, m2/s, counted in gas; none leaves the sheet's resistance out.
    pub pore_diffusivity: Option<f64>,
    /// Sectors in the order in which a channel meets them; what they leave of the turn is sealed.
    pub sectors: Vec<Sector>,
    /// Seals that let air through.
    pub leaks: Vec<Leak>,
    /// Whether air left in the channels goes with them into the next sector.
    pub channels_carry_air: bool,
    /// Total pressure, Pa.
    pub pressure: f64,
    /// The sorbent.
    pub sorbent: Adsorbed,
    /// How finely it is resolved.
    pub mesh: Mesh,
}

/// A checked wheel.
#[derive(Clone, Debug)]
pub struct Wheel {
    /// What it was made from.
    pub spec: WheelSpec,
    /// Face that air passes, m2.
    pub face: f64,
    /// One slice of a channel.
    pub(crate) slice: Slice,
    /// Dry air that the channels hold, kg per m2 of face; the same everywhere, as at [`CHANNEL_AIR`].
    pub(crate) void_air: f64,
}

/// What a wheel is given from outside.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelDrive {
    /// Air coming to each sector.
    pub air: Vec<Stream>,
    /// Turns per hour; none stands still.
    pub turns_per_hour: f64,
}

/// Temperatures of entering air, K.
const AIR_TEMPERATURE: (f64, f64) = (ZERO_CELSIUS - 40.0, ZERO_CELSIUS + 280.0);
/// Temperature at which the air in the channels is counted, K: between the airs of a wheel.
const CHANNEL_AIR: f64 = ZERO_CELSIUS + 100.0;
/// Time from which steps grow, over the time in which the air brings the heat capacity of the matrix.
const FIRST_STEP: f64 = 0.15;
/// Humidity ratios of entering air, kg/kg.
const AIR_HUMIDITY: (f64, f64) = (1e-9, 0.2);

impl WheelSpec {
    /// Checks the numbers and works out a slice.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] naming the number.
    pub fn check(self) -> Result<Wheel, DryerError> {
        let within = DryerError::unless_between;
        within("wheel diameter", self.diameter, "m", (0.02, 10.0))?;
        within("share of the face used", self.face_used, "1", (0.05, 1.0))?;
        within("wheel depth", self.depth, "m", (0.01, 2.0))?;
        within(
            "matrix density",
            self.matrix_density,
            "kg/m3",
            (10.0, 2000.0),
        )?;
        within("share of sorbent", self.sorbent_share, "1", (0.01, 1.0))?;
        within("capacity left", self.capacity_left, "1", (0.001, 2.0))?;
        within(
            "heat capacity of the matrix",
            self.matrix_heat,
            "J/(kg K)",
            (200.0, 5000.0),
        )?;
        within("total pressure", self.pressure, "Pa", (2e4, 2e6))?;
        if let Some(pore) = self.pore_diffusivity {
            within("pore diffusivity", pore, "m2/s", (1e-12, 1e-3))?;
        }
        let passages = &self.passages;
        within("wall area per volume", passages.area, "m2/m3", (50.0, 1e5))?;
        within("open share of the face", passages.open, "1", (0.05, 0.99))?;
        within(
            "hydraulic diameter",
            passages.hydraulic_diameter,
            "m",
            (1e-5, 0.05),
        )?;
        within("Nusselt number", passages.nusselt, "1", (0.1, 1000.0))?;
        within(
            "friction of the channels",
            passages.friction,
            "1",
            (0.0, 1000.0),
        )?;
        within("thickness of the sheet", passages.sheet, "m", (1e-6, 0.02))?;
        let mesh = &self.mesh;
        within("number of slices", mesh.slices as f64, "1", (2.0, 1000.0))?;
        within("number of slots", mesh.slots as f64, "1", (2.0, 10_000.0))?;
        within("growth of steps", mesh.growth, "1", (1e-4, 2.0))?;
        within(
            "number of sectors",
            self.sectors.len() as f64,
            "1",
            (1.0, 12.0),
        )?;
        for sector in &self.sectors {
            within("angle of a sector", sector.angle, "degrees", (0.0, 360.0))?;
        }
        let sum: f64 = self.sectors.iter().map(|sector| sector.angle).sum();
        within("angle of all sectors", sum, "degrees", (1.0, 360.0 + 1e-9))?;
        for leak in &self.leaks {
            let last = (self.sectors.len() - 1) as f64;
            within("share of a leak", leak.share, "1", (0.0, 0.5))?;
            within(
                "sector a leak comes from",
                leak.from.0 as f64,
                "1",
                (0.0, last),
            )?;
            within(
                "sector a leak goes into",
                leak.into.0 as f64,
                "1",
                (0.0, last),
            )?;
            if leak.from.1 == End::Outlet && leak.into.1 == End::Inlet {
                return Err(DryerError::LeaksBack {
                    from: leak.from.0,
                    into: leak.into.0,
                });
            }
        }
        let face = 0.25 * PI * self.diameter * self.diameter * self.face_used;
        let mass = self.matrix_density * self.depth / mesh.slices as f64;
        Ok(Wheel {
            slice: Slice {
                active: mass * self.sorbent_share * self.capacity_left,
                dry_heat: mass * self.matrix_heat,
            },
            void_air: self.passages.open
                * self.depth
                * mixture::dry_air_density(CHANNEL_AIR, self.pressure, 0.0),
            face,
            spec: self,
        })
    }
}

impl Wheel {
    /// The first sector of a duty, by its place in the list.
    pub fn sector(&self, duty: Duty) -> Option<usize> {
        self.spec
            .sectors
            .iter()
            .position(|sector| sector.duty == duty)
    }

    /// Air for each sector by its duty.
    pub fn drive(
        &self,
        process: Stream,
        regeneration: Stream,
        cooling: Stream,
        turns_per_hour: f64,
    ) -> WheelDrive {
        let air = self.spec.sectors.iter().map(|sector| match sector.duty {
            Duty::Process => process,
            Duty::Regeneration => regeneration,
            Duty::Cooling => cooling,
        });
        WheelDrive {
            air: air.collect(),
            turns_per_hour,
        }
    }

    /// The same wheel, resolved otherwise.
    ///
    /// # Errors
    /// As [`WheelSpec::check`].
    pub fn resolved(&self, mesh: Mesh) -> Result<Self, DryerError> {
        WheelSpec {
            mesh,
            ..self.spec.clone()
        }
        .check()
    }

    /// The same wheel with another capacity left.
    ///
    /// # Errors
    /// As [`WheelSpec::check`].
    pub fn aged(&self, capacity_left: f64) -> Result<Self, DryerError> {
        WheelSpec {
            capacity_left,
            ..self.spec.clone()
        }
        .check()
    }

    /// Dry sorbent that still takes up water, kg.
    pub fn active_sorbent(&self) -> f64 {
        self.slice.active * self.spec.mesh.slices as f64 * self.face
    }

    /// Pressure drop of each sector, Pa, at the mean of its entering and the process air's
    /// temperature.
    pub fn pressure_drops(&self, drive: &WheelDrive) -> Vec<f64> {
        let cool = drive.coolest();
        let sectors = self.spec.sectors.iter().zip(&drive.air);
        sectors
            .map(|(sector, air)| {
                let flow = self.flow(sector, air.dry_air);
                let t = 0.5 * (air.temperature + cool);
                let (p, y) = (self.spec.pressure, air.humidity);
                self.spec
                    .passages
                    .pressure_drop(flow, self.spec.depth, t, p, y)
            })
            .collect()
    }

    /// Refuses air that a wheel cannot have.
    pub(crate) fn check_drive(&self, drive: &WheelDrive) -> Result<(), DryerError> {
        let within = DryerError::unless_between;
        let sectors = self.spec.sectors.len() as f64;
        within(
            "number of airs given to a wheel",
            drive.air.len() as f64,
            "1",
            (sectors, sectors),
        )?;
        within(
            "speed of the wheel",
            drive.turns_per_hour,
            "turns/h",
            (0.0, 2000.0),
        )?;
        for air in &drive.air {
            within("dry air of a sector", air.dry_air, "kg/s", (0.0, 1000.0))?;
            let served = self.spec.sorbent.limit();
            let range = (AIR_TEMPERATURE.0, AIR_TEMPERATURE.1.min(served.1));
            within("temperature of entering air", air.temperature, "K", range)?;
            within(
                "humidity of entering air",
                air.humidity,
                "kg/kg",
                AIR_HUMIDITY,
            )?;
        }
        Ok(())
    }

    /// Dry air per face of a sector, kg/(s m2).
    pub(crate) fn flow(&self, sector: &Sector, dry_air: f64) -> f64 {
        if sector.angle > 0.0 {
            dry_air / (self.face * sector.angle / 360.0)
        } else {
            0.0
        }
    }

    /// How the air of each sector meets the matrix, after what its seals took and gave.
    pub(crate) fn entering(&self, drive: &WheelDrive) -> Vec<Met> {
        let mut air = drive.air.clone();
        let leaks = self.leaking(drive);
        for (leak, amount) in self.spec.leaks.iter().zip(&leaks) {
            if leak.from.1 == End::Inlet {
                air[leak.from.0].dry_air -= amount;
            }
        }
        for (leak, amount) in self.spec.leaks.iter().zip(&leaks) {
            if leak.into.1 == End::Inlet {
                air[leak.into.0] = air[leak.into.0].joined(drive.air[leak.from.0].of(*amount));
            }
        }
        let cool = drive.coolest();
        let sectors = self.spec.sectors.iter().zip(air);
        sectors
            .map(|(sector, air)| self.met(sector, air, cool))
            .collect()
    }

    fn met(&self, sector: &Sector, air: Stream, cool: f64) -> Met {
        let flow = self.flow(sector, air.dry_air);
        let (t, p) = (0.5 * (air.temperature + cool), self.spec.pressure);
        let passages = &self.spec.passages;
        let transfer = passages.transfer(t, p, air.humidity, self.spec.pore_diffusivity);
        let (water, heat) = if flow > 0.0 {
            transfer.units(flow, self.spec.depth, air.humidity)
        } else {
            (0.0, 0.0)
        };
        let slices = self.spec.mesh.slices as f64;
        let warming = flow * caloric::heat_capacity(air.humidity);
        Met {
            air,
            way: sector.way,
            contact: Contact {
                flow,
                humidity_left: libm::exp(-water / slices),
                warmth_left: libm::exp(-heat / slices),
                ln_total: libm::log(p),
            },
            first_step: FIRST_STEP * self.slice.dry_heat * slices / warming.max(1e-9),
        }
    }

    /// Dry air that each leak carries, kg/s; never more than its sector has.
    pub(crate) fn leaking(&self, drive: &WheelDrive) -> Vec<f64> {
        let mut left: Vec<f64> = drive.air.iter().map(|air| air.dry_air).collect();
        let leaks = self.spec.leaks.iter();
        leaks
            .map(|leak| {
                let wanted = leak.share * drive.air[leak.into.0].dry_air;
                let amount = wanted.min(left[leak.from.0]);
                left[leak.from.0] -= amount;
                amount
            })
            .collect()
    }
}

impl WheelDrive {
    fn coolest(&self) -> f64 {
        let temperatures = self.air.iter().map(|air| air.temperature);
        temperatures.fold(f64::INFINITY, f64::min)
    }
}

/// How a sector's air meets the matrix.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Met {
    pub(crate) air: Stream,
    pub(crate) way: Way,
    pub(crate) contact: Contact,
    /// Time from which steps grow, s.
    pub(crate) first_step: f64,
}
