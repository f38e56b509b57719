//! A stretch of days on one dryer: when the press draws, how fast, and what happens beside it.
//!
//! Times are seconds since the schedule begins, counted as they pass and not as clocks show them, so that
//! a night in which clocks are put back has an hour more. [`Clock`] says which moment that was and in which
//! zone people read it.

use crate::{ControlSettings, Job, RoundDryer};
use quantity::{Duration, Fraction, Humidity, Mass, MassFlow, Temperature};
use serde::{Deserialize, Serialize};

/// When a schedule begins, and how its times are read.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Clock {
    /// Name of the time zone, as the zone database has it.
    pub zone: String,
    /// Seconds of the beginning since 1970-01-01 00:00 UTC.
    pub begins: i64,
}

/// A stretch of days on one dryer and its hopper.
#[derive(Clone, Debug, PartialEq)]
pub struct Schedule {
    /// What the user calls it.
    pub title: String,
    /// When it begins.
    pub clock: Clock,
    /// How long it lasts.
    pub length: Duration,
    /// The resin, the hopper and the air at its beginning.
    pub job: Job,
    /// The dryer, as far as it is known.
    pub dryer: RoundDryer,
    /// What the press draws, stretch after stretch, without gap or overlap from the beginning to the end.
    pub demand: Vec<Stretch>,
    /// Other resins or colours that come into the hopper, in the order of time.
    pub changeovers: Vec<Changeover>,
    /// Levels to which the hopper is filled from then on, in the order of time.
    pub levels: Vec<LevelChange>,
    /// Rounds in which people fill the hopper, where no loader does; none where it is kept full.
    pub refills: Vec<Refill>,
    /// What carries the resin on to the press.
    pub loader: Option<Loader>,
    /// The hall, moment after moment, straight between them; that of the site when empty.
    pub hall: Vec<HallMoment>,
    /// How the hopper stands at the beginning.
    pub begins_as: Beginning,
    /// How the dryer is run, as far as it is stated.
    pub control: ControlSettings,
    /// How far real days differ from this one, where that is stated.
    pub chances: Chances,
}

impl Schedule {
    /// One dryer that runs a job at one rate for a time and has long done so; nothing else happens.
    pub fn of_job(job: &Job, dryer: RoundDryer, length: Duration) -> Self {
        Self {
            title: job.title.clone(),
            clock: Clock {
                zone: "UTC".to_owned(),
                begins: 0,
            },
            length,
            job: job.clone(),
            dryer,
            demand: vec![Stretch::run(0.0, length.seconds(), job.demand.peak())],
            changeovers: Vec::new(),
            levels: Vec::new(),
            refills: Vec::new(),
            loader: None,
            hall: Vec::new(),
            begins_as: Beginning::Running,
            control: ControlSettings::default(),
            chances: Chances::default(),
        }
    }
}

impl Stretch {
    /// The press runs from a time to another (s) at a rate.
    pub fn run(from: f64, to: f64, rate: MassFlow) -> Self {
        Self {
            from,
            to,
            rate,
            shot: None,
            kind: StretchKind::Runs,
            name: String::new(),
        }
    }
}

/// What the press draws for a while.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Stretch {
    /// Its beginning, s.
    pub from: f64,
    /// Its end, s.
    pub to: f64,
    /// Resin drawn as it is weighed; zero where the press stands.
    pub rate: MassFlow,
    /// Mass of one shot, where it is known.
    pub shot: Option<Mass>,
    /// What it is.
    pub kind: StretchKind,
    /// What people call it: an order, a reason for a stop.
    pub name: String,
}

/// What a stretch is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StretchKind {
    /// The press runs.
    Runs,
    /// It stands within the hours of work, as planned.
    PlannedStop,
    /// It stands, and nobody knew before: only the log tells of it.
    Stop,
    /// Nobody works.
    Closed,
}

/// Another resin or colour from a moment on.
#[derive(Clone, Debug, PartialEq)]
pub struct Changeover {
    /// When, s.
    pub at: f64,
    /// What comes, with its hopper and air.
    pub job: Job,
    /// What becomes of what is in the hopper.
    pub way: ChangeWay,
    /// What people call it.
    pub name: String,
}

/// How a hopper is emptied for what comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ChangeWay {
    /// Drained at once.
    Drain,
    /// No longer filled, so that the press runs it down; what is left at the moment is drained.
    RunDown,
}

/// A level from a moment on.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct LevelChange {
    /// When, s.
    pub at: f64,
    /// Share of the full hopper to which it is filled.
    pub level: Fraction,
}

/// A round in which people fill the hopper.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Refill {
    /// When, s.
    pub at: f64,
    /// How much, as it is weighed; up to full when absent.
    pub mass: Option<Mass>,
}

/// What carries resin from the dryer on to the press.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Loader {
    /// Resin of one cycle, as it is weighed.
    pub batch: Mass,
}

/// The hall at a moment.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct HallMoment {
    /// When, s.
    pub at: f64,
    /// Its temperature.
    pub temperature: Temperature,
    /// Its humidity.
    pub humidity: Humidity,
}

/// How the hopper stands when a schedule begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Beginning {
    /// Freshly filled, everything as cold as the hall and the desiccant as damp.
    Cold,
    /// After long at the first rate drawn.
    Running,
}

/// How far real days differ from what is planned.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Chances {
    /// Stops that nobody planned, per hour run.
    pub stops_per_hour: Option<f64>,
    /// Their usual length: half of them are longer.
    pub stop_length: Option<Duration>,
    /// Spread of the rate from order to order, one standard deviation.
    pub rate_spread: Option<Fraction>,
    /// Time by which people begin late or early, one standard deviation.
    pub lateness: Option<Duration>,
}
