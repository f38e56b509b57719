//! What is told of days that were followed.

use super::Lot;
use crate::control::{Mode, Orders};
use crate::{Account, Shortfall};
use quantity::Ledger;

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Its end, s.
    pub time: f64,
    /// Its length, s.
    pub duration: f64,
    /// What the control ordered.
    pub orders: Orders,
    /// What the press wanted, and what it drew, kg/s dry.
    pub press: (f64, f64),
    /// Dry resin that left the bed, kg/s.
    pub drawn: f64,
    /// Dry resin in the bed above the air inlet, kg.
    pub held: f64,
    /// Air into the hopper: K, kg/kg.
    pub inlet: (f64, f64),
    /// Air from it.
    pub returned: (f64, f64),
    /// Humidity of what the machine delivers, kg/kg.
    pub delivered: f64,
    /// Current drawn, W.
    pub power: f64,
    /// Capacity left to the desiccant.
    pub capacity_left: Option<f64>,
}

/// What drove the hopper over a step, for another stream through it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trace {
    /// Its length, s.
    pub duration: f64,
    /// Whether air flowed.
    pub on: bool,
    /// What drove it.
    pub drive: bed::column::Drive,
    /// Dry resin that was tipped in before, kg.
    pub tipped: f64,
    /// Whether it was kept at its level.
    pub kept: bool,
    /// Which of the stations it was: 0, and one more at each change.
    pub station: usize,
}

/// The inside of the hopper at a moment: up from the air inlet, dry resin below (kg), temperature (K), water
/// (kg/kg dry).
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// When, s.
    pub time: f64,
    /// Layer by layer.
    pub layers: Vec<(f64, f64, f64)>,
}

/// Something that happened.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// When, s.
    pub time: f64,
    /// What.
    pub what: Happened,
}

/// What happened.
#[derive(Clone, Debug, PartialEq)]
pub enum Happened {
    /// The dryer does something else.
    Mode(Mode),
    /// A bake-out began, or ended.
    BakeOut(bool),
    /// It began, or ceased, to warn of humidity.
    HumidityWarning(bool),
    /// It began, or ceased, to warn of temperature.
    TemperatureWarning(bool),
    /// The press began, or ceased, to wait.
    PressWaits(bool),
    /// Nothing is left above the air inlet.
    RanEmpty,
    /// Another resin came; what was drained.
    Changed(Drained),
    /// A limit was met for the first time.
    Limit(Shortfall),
}

/// What was drained.
#[derive(Clone, Debug, PartialEq)]
pub struct Drained {
    /// Dry resin, kg.
    pub mass: f64,
    /// Its mean water, kg/kg dry.
    pub water: f64,
    /// The driest and the wettest of it, kg/kg dry.
    pub between: (f64, f64),
    /// Its mean temperature, K.
    pub temperature: f64,
    /// What was on the press and below the air inlet, kg dry.
    pub beyond: f64,
}

/// What became of it.
#[derive(Clone, Debug)]
pub struct Followed {
    /// Step by step.
    pub steps: Vec<Step>,
    /// Resin at the screw, lot after lot, of each resin that was in the hopper.
    pub used: Vec<Vec<Lot>>,
    /// What happened.
    pub events: Vec<Event>,
    /// Pictures of the inside.
    pub pictures: Vec<Picture>,
    /// What drove the hopper, where asked.
    pub trace: Vec<Trace>,
    /// Time that the press waited, s.
    pub waited: f64,
    /// What crossed the border in all: water in kg, heat in J.
    pub account: Account,
    /// What was held at the start and at the end: water (kg) and heat (J).
    pub held: [(f64, f64); 2],
}

impl Followed {
    /// Current drawn over the course, J.
    pub fn electricity(&self) -> f64 {
        self.steps.iter().map(|s| s.power * s.duration).sum()
    }

    /// Water over the course, kg.
    pub fn water(&self) -> Ledger {
        crate::in_time::in_all(self.account.water(), "kg", self.held[1].0 - self.held[0].0)
    }

    /// Energy over the course, J.
    pub fn energy(&self) -> Ledger {
        crate::in_time::in_all(self.account.energy(), "J", self.held[1].1 - self.held[0].1)
    }
}
