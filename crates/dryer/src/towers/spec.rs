//! What towers are made of, how they are switched, and what they are given.

use crate::sorption::{Adsorbed, AirState, Beads, Cell, Contact, Row, Slice, Way};
use crate::{DryerError, Stream};
use air::{caloric, mixture};
use quantity::constants::ZERO_CELSIUS;
use std::f64::consts::PI;

/// Heat capacity of steel, J/(kg K), from memory of handbooks.
const STEEL: f64 = 480.0;
/// Temperatures of entering air, K.
const AIR_TEMPERATURE: (f64, f64) = (ZERO_CELSIUS - 40.0, ZERO_CELSIUS + 280.0);
/// Humidity ratios of entering air, kg/kg.
const AIR_HUMIDITY: (f64, f64) = (1e-9, 0.2);
/// Times that a clock may be set to, s.
const TIMES: (f64, f64) = (1.0, 1e6);

/// When the towers swap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Swap {
    /// After a time, s.
    Clock(f64),
    /// When the dried air has a dew point and the other tower is ready.
    DewPoint {
        /// That dew point, K.
        limit: f64,
        /// Not before, s: the air after a swap is wet and hot for a while.
        earliest: f64,
        /// At the latest after, s.
        latest: f64,
    },
}

/// When a stage of the tower off-line ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ending {
    /// After a time, s; none leaves the stage out.
    After(f64),
    /// When the air leaving has a temperature.
    Outlet {
        /// That temperature, K.
        temperature: f64,
        /// At the latest after, s.
        latest: f64,
    },
}

/// How the towers are switched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cycle {
    /// When they swap.
    pub swap: Swap,
    /// When regeneration ends: when its air leaves so hot.
    pub regeneration: Ending,
    /// When cooling ends: when its air leaves so cold.
    pub cooling: Ending,
    /// Whether cooling air flows as the process air or against it.
    pub cooling_way: Way,
    /// A tower whose valve is stuck: it dries for ever.
    pub stuck: Option<usize>,
}

/// How finely a bed is resolved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TowersMesh {
    /// Slices along the depth.
    pub slices: usize,
    /// Growth of the steps: a step is this share of the time since swap or stage began.
    pub growth: f64,
    /// Longest step, in slices that a front of heat passes meanwhile.
    pub longest: f64,
}

impl TowersMesh {
    /// For a steady answer within 0.2 K of dew point.
    ///
    /// So many slices spread a front of heat as much as the dispersion between beads does, where half a
    /// metre of 2.5 mm is passed by some 250 transfer units: `2/N + N/(6 n^2) = 2/N + d/L`.
    pub const FINE: Self = Self {
        slices: 80,
        growth: 0.25,
        longest: 4.0,
    };
    /// For days in a fraction of a second.
    pub const COARSE: Self = Self {
        slices: 24,
        growth: 0.5,
        longest: 2.0,
    };
}

/// Two equal towers as a user would state them; all numbers SI.
#[derive(Clone, Debug)]
pub struct TowersSpec {
    /// Inner diameter of a vessel, m.
    pub diameter: f64,
    /// Depth of its bed, m.
    pub depth: f64,
    /// The beads.
    pub beads: Beads,
    /// Dry mass per volume of bed, kg/m3.
    pub bulk_density: f64,
    /// What the sorbent still takes up, of what it did when new.
    pub capacity_left: f64,
    /// Heat capacity of the dry beads, J/(kg K).
    pub bead_heat: f64,
    /// Steel of one vessel that warms with its bed, kg.
    pub vessel_steel: f64,
    /// Pore diffusivity in the beads, m2/s, counted in gas; none leaves their resistance out.
    pub pore_diffusivity: Option<f64>,
    /// How they are switched.
    pub cycle: Cycle,
    /// Share of the process air that a valve lets by while the first and while the second tower dries.
    pub bypass: [f64; 2],
    /// Total pressure, Pa.
    pub pressure: f64,
    /// The sorbent.
    pub sorbent: Adsorbed,
    /// How finely they are resolved.
    pub mesh: TowersMesh,
}

/// Checked towers.
#[derive(Clone, Debug)]
pub struct Towers {
    /// What they were made from.
    pub spec: TowersSpec,
    /// Face of a bed, m2.
    pub face: f64,
    /// One slice of a bed.
    pub(crate) slice: Slice,
}

/// Air that comes to the towers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TowersDrive {
    /// Air to be dried.
    pub process: Stream,
    /// Regeneration air, hot, while it flows.
    pub regeneration: Stream,
    /// Cooling air, while it flows.
    pub cooling: Stream,
}

/// How air meets a bed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Met {
    pub(crate) air: AirState,
    /// Dry air through the bed, kg/s.
    pub(crate) flow: f64,
    pub(crate) way: Way,
    pub(crate) contact: Contact,
    /// Time in which a front of heat passes a slice, s.
    pub(crate) slice_time: f64,
}

/// All airs of a drive, as they meet the beds.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Meets {
    /// While each tower dries.
    pub(crate) process: [Met; 2],
    pub(crate) regeneration: Met,
    pub(crate) cooling: Met,
}

impl TowersSpec {
    /// Checks the numbers and works out a slice.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] naming the number.
    pub fn check(self) -> Result<Towers, DryerError> {
        let within = DryerError::unless_between;
        within("tower diameter", self.diameter, "m", (0.02, 10.0))?;
        within("depth of the bed", self.depth, "m", (0.02, 5.0))?;
        let beads = &self.beads;
        within("bead diameter", beads.diameter, "m", (1e-4, 0.02))?;
        within(
            "share of the bed between beads",
            beads.voidage,
            "1",
            (0.2, 0.8),
        )?;
        within(
            "bulk density of the bed",
            self.bulk_density,
            "kg/m3",
            (100.0, 2000.0),
        )?;
        within("capacity left", self.capacity_left, "1", (0.001, 2.0))?;
        within(
            "heat capacity of the beads",
            self.bead_heat,
            "J/(kg K)",
            (200.0, 5000.0),
        )?;
        within("steel of a vessel", self.vessel_steel, "kg", (0.0, 1e5))?;
        within("total pressure", self.pressure, "Pa", (5e4, 1.2e6))?;
        if let Some(pore) = self.pore_diffusivity {
            within("pore diffusivity", pore, "m2/s", (1e-12, 1e-3))?;
        }
        for share in self.bypass {
            within("share of air a valve lets by", share, "1", (0.0, 1.0))?;
        }
        let mesh = &self.mesh;
        within("number of slices", mesh.slices as f64, "1", (2.0, 1000.0))?;
        within("growth of steps", mesh.growth, "1", (1e-3, 2.0))?;
        within("longest step", mesh.longest, "slices", (1e-3, 100.0))?;
        self.cycle.check()?;
        let face = 0.25 * PI * self.diameter * self.diameter;
        let mass = self.bulk_density * self.depth / mesh.slices as f64;
        let steel = self.vessel_steel / face / mesh.slices as f64;
        Ok(Towers {
            slice: Slice {
                active: mass * self.capacity_left,
                dry_heat: mass * self.bead_heat + steel * STEEL,
            },
            face,
            spec: self,
        })
    }
}

impl Cycle {
    fn check(&self) -> Result<(), DryerError> {
        let within = DryerError::unless_between;
        match self.swap {
            Swap::Clock(after) => {
                within("time between swaps", after, "s", TIMES)?;
            }
            Swap::DewPoint {
                limit,
                earliest,
                latest,
            } => {
                within("dew point of the swap", limit, "K", (173.15, 323.15))?;
                within("latest swap", latest, "s", TIMES)?;
                within("earliest swap", earliest, "s", (0.0, latest))?;
            }
        }
        let stages = [
            (
                "time of regeneration",
                "end of regeneration",
                self.regeneration,
            ),
            ("time of cooling", "end of cooling", self.cooling),
        ];
        for (time, end, ending) in stages {
            match ending {
                Ending::After(after) => within(time, after, "s", (0.0, TIMES.1))?,
                Ending::Outlet {
                    temperature,
                    latest,
                } => {
                    within(end, temperature, "K", AIR_TEMPERATURE)?;
                    within(time, latest, "s", TIMES)?
                }
            };
        }
        if let Some(tower) = self.stuck {
            within("tower that is stuck", tower as f64, "", (0.0, 1.0))?;
        }
        Ok(())
    }

    /// Whether nothing but the clock switches.
    pub(crate) fn is_by_clock(&self) -> bool {
        let timed = |ending| matches!(ending, Ending::After(_));
        matches!(self.swap, Swap::Clock(_)) && timed(self.regeneration) && timed(self.cooling)
    }
}

impl Towers {
    /// The same towers, resolved otherwise.
    ///
    /// # Errors
    /// As [`TowersSpec::check`].
    pub fn resolved(&self, mesh: TowersMesh) -> Result<Self, DryerError> {
        TowersSpec {
            mesh,
            ..self.spec.clone()
        }
        .check()
    }

    /// The same towers with another capacity left.
    ///
    /// # Errors
    /// As [`TowersSpec::check`].
    pub fn aged(&self, capacity_left: f64) -> Result<Self, DryerError> {
        TowersSpec {
            capacity_left,
            ..self.spec.clone()
        }
        .check()
    }

    /// The same towers switched otherwise.
    ///
    /// # Errors
    /// As [`TowersSpec::check`].
    pub fn switched(&self, cycle: Cycle) -> Result<Self, DryerError> {
        TowersSpec {
            cycle,
            ..self.spec.clone()
        }
        .check()
    }

    /// Pressure drop of a bed under a stream, Pa.
    pub fn pressure_drop(&self, air: &Stream) -> f64 {
        let (t, p, y) = (air.temperature, self.spec.pressure, air.humidity);
        let flow = air.dry_air / self.face;
        self.spec
            .beads
            .pressure_drop(flow, self.spec.depth, t, p, y)
    }

    /// Dry sorbent in one tower that still takes up water, kg.
    pub fn active_sorbent(&self) -> f64 {
        self.slice.active * self.spec.mesh.slices as f64 * self.face
    }

    pub(crate) fn row(&self) -> Row<'_> {
        Row {
            sorbent: &self.spec.sorbent,
            slice: self.slice,
        }
    }

    /// A bed at rest with air.
    pub(crate) fn resting(&self, air: AirState) -> Vec<Cell> {
        let vapour = mixture::mole_fraction(air.humidity) * self.spec.pressure;
        let sorbent = &self.spec.sorbent;
        let cell = self.slice.at_rest(sorbent, air.temperature, vapour);
        vec![cell; self.spec.mesh.slices]
    }

    /// Refuses air that towers cannot have.
    pub(crate) fn check_drive(&self, drive: &TowersDrive) -> Result<(), DryerError> {
        let within = DryerError::unless_between;
        let served = self.spec.sorbent.limit();
        let range = (AIR_TEMPERATURE.0, AIR_TEMPERATURE.1.min(served.1));
        for air in [&drive.process, &drive.regeneration, &drive.cooling] {
            within("dry air to a tower", air.dry_air, "kg/s", (0.0, 100.0))?;
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

    /// How the airs meet the beds: transfer at the temperature of the process air, and in a bed that is
    /// warmed or cooled half-way between its two temperatures.
    pub(crate) fn meets(&self, drive: &TowersDrive) -> Meets {
        let (dries, hot) = (drive.process.temperature, drive.regeneration.temperature);
        let process = |tower: usize| {
            let through = drive.process.dry_air * (1.0 - self.spec.bypass[tower]);
            self.met(&drive.process.of(through), Way::Along, dries)
        };
        Meets {
            process: [process(0), process(1)],
            regeneration: self.met(&drive.regeneration, Way::Against, dries),
            cooling: self.met(&drive.cooling, self.spec.cycle.cooling_way, hot),
        }
    }

    fn met(&self, air: &Stream, way: Way, other: f64) -> Met {
        let flow = air.dry_air / self.face;
        let (t, p) = (0.5 * (air.temperature + other), self.spec.pressure);
        let slices = self.spec.mesh.slices as f64;
        let pore = self.spec.pore_diffusivity;
        let (mut water, mut heat) = (0.0, 0.0);
        if flow > 0.0 {
            let transfer = self.spec.beads.transfer(flow, t, p, air.humidity, pore);
            (water, heat) = transfer.units(flow, self.spec.depth, air.humidity);
        }
        Met {
            air: AirState {
                temperature: air.temperature,
                humidity: air.humidity,
            },
            flow: air.dry_air,
            way,
            contact: Contact {
                flow,
                humidity_left: libm::exp(-water / slices),
                warmth_left: libm::exp(-heat / slices),
                ln_total: libm::log(p),
            },
            slice_time: self.slice.dry_heat
                / (flow * caloric::heat_capacity(air.humidity)).max(1e-9),
        }
    }
}
