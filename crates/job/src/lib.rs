//! What must be dried: the question of a plan, in typed and stated quantities.
//!
//! A [`Job`] says what the user said and nothing else: what was left out stays `None`, and whoever
//! plans fills it from the resin record, from the trade's rules or by computing it, and says so.

mod air_supply;
mod cell;
mod control;
mod crystalliser;
mod data_sheet;
mod demand;
mod hopper;
mod lot;
mod model;
mod ownership;
mod plant;
mod round;
mod schedule;
mod storage;
mod way;

pub use air_supply::{AirSupply, Site};
pub use cell::{Cell, Run};
pub use control::{ControlSettings, DemandSense};
pub use crystalliser::{Crystalliser, CrystalliserHeating};
pub use data_sheet::DataSheet;
pub use demand::{Arrival, Demand, Process, Target};
pub use hopper::{HopperOutline, WallSide};
pub use lot::{Component, Entry, Pieces};
pub use model::{FilmOverride, HeatOverride, InitialState, ModelChoices};
pub use ownership::{Change, Contaminant, Ownership};
pub use plant::{Day, DryerPrice, OwnedKind, Plant, Prices, TariffHours, usual_days};
pub use round::{ControlledAt, DryerKind, Reading, ReadingKind, Round, RoundDryer};
pub use schedule::{
    Beginning, Chances, ChangeWay, Changeover, Clock, HallMoment, LevelChange, Loader, Refill,
    Schedule, Stretch, StretchKind,
};
pub use storage::{Climate, ColdBag, DailyClimate, Package, Storage, Weather, WeatherRow};
pub use way::{Conveying, Holding, Lid, MachineHopper, Sample, Throat, Vessel, Way, WayAir};

use material::Resin;
use serde::{Deserialize, Serialize};

/// A job: one resin through one hopper.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Job {
    /// What the user calls it.
    pub title: String,
    /// The resin, from the library with the user's overrides laid over it, or written inline.
    pub resin: Resin,
    /// How much is drawn.
    pub demand: Demand,
    /// What the lot is made of; the resin alone when empty.
    pub lot: Vec<Component>,
    /// How it arrives.
    pub arrival: Arrival,
    /// How dry it must be.
    pub target: Target,
    /// A crystalliser ahead of the hopper, where there is one.
    #[serde(default)]
    pub crystalliser: Option<Crystalliser>,
    /// The hopper, as far as it is given.
    pub hopper: HopperOutline,
    /// The air, as far as it is given.
    pub air: AirSupply,
    /// Where it stands.
    pub site: Site,
    /// What lies between the dryer and the screw, where it is stated.
    pub way: Option<Way>,
    /// What the physics is told to do or to leave out.
    pub model: ModelChoices,
    /// What the data sheet of the grade says.
    #[serde(default)]
    pub data_sheet: Option<DataSheet>,
    /// The plant about it.
    #[serde(default)]
    pub plant: Plant,
}
