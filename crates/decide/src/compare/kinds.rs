//! What is compared: dryers that make air for hoppers, and dryers that do without.

use crate::DecideError;
use crate::case::Case;
use crate::compare::cell::{Settled, water};
use crate::compare::vacuum;
use crate::size::Part;
use job::Ownership;
use line::equipment::Equipment;
use line::{Account, Room, Shortfall};

/// Makes a dryer for what it has to serve.
pub type Maker<'a> = dyn Fn(&Duty) -> Dryer + Sync + 'a;

/// A dryer that is offered, and what owning it comes to.
pub struct Offered<'a> {
    /// Makes it.
    pub make: Box<Maker<'a>>,
    /// What owning it comes to, as far as it is stated.
    pub ownership: Ownership,
    /// Whether it is the one that stands there today.
    pub mine: bool,
    /// Whether it is as it is, and no job decides how large its parts are.
    pub is_stated: bool,
    /// Hottest air it is made for, K, where that is stated.
    pub hottest: Option<f64>,
}

impl<'a> Offered<'a> {
    /// A dryer of which nothing is known but how it is made.
    pub fn of(make: Box<Maker<'a>>) -> Self {
        Self {
            make,
            ownership: Ownership::default(),
            mine: false,
            is_stated: false,
            hottest: None,
        }
    }
}

/// A dryer.
pub enum Dryer {
    /// One that makes air and is closed round the hoppers.
    Air(Box<Equipment>),
    /// One that dries in chambers of its own.
    Batches(Box<dyn Batches>),
}

/// A dryer that is no loop of air round hoppers: it dries in chambers of its own, batch by batch.
pub trait Batches: Send + Sync {
    /// What it is called; up to the first comma in pictures and tables.
    fn title(&self) -> &str;

    /// What it makes of the jobs that run at once, in this hall; `deviation` is the standard normal
    /// deviate of the dryer's own doubt, 0 for its best value.
    ///
    /// # Errors
    /// When it cannot be solved.
    fn dry(&self, cases: &[Case], room: &Room, deviation: f64) -> Result<Dried, DecideError>;

    /// Its parts and how large they are for a duty.
    fn parts(&self, duty: &Duty) -> Vec<Part>;
}

/// What such a dryer makes of its jobs.
pub struct Dried {
    /// Water left in the resin of each job, mean over its pellets, kg/kg dry.
    pub outlets: Vec<f64>,
    /// How long the resin of each job is hot, mean over its pellets, s.
    pub stays: Vec<f64>,
    /// What crosses its border: current, air, coolant, resin, walls; the mean over its batches.
    pub account: Account,
    /// Limits of components that were met.
    pub shortfalls: Vec<Shortfall>,
    /// What else must be told.
    pub warnings: Vec<String>,
}

/// What a dryer is sized for: all the hoppers of all the runs it will serve.
#[derive(Clone, Debug, PartialEq)]
pub struct Duty {
    /// Every hopper.
    pub hoppers: Vec<Wanted>,
}

/// One hopper that a dryer will serve.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// The run it belongs to; those of one run are served at once.
    pub run: usize,
    /// What the user calls its job.
    pub title: String,
    /// Dry air, kg/s.
    pub air_flow: f64,
    /// Temperature at its inlet, K.
    pub set_point: f64,
    /// Water that the resin brings in beyond its limit, kg/s.
    pub water: f64,
    /// Wet resin drawn, kg/s.
    pub rate: f64,
    /// How long a dryer that evacuates it needs for a batch, s.
    pub vacuum_time: f64,
}

/// The hardest of what is asked, and who asks it.
#[derive(Clone, Debug, PartialEq)]
pub struct Hardest {
    /// How much.
    pub value: f64,
    /// The job, or the jobs that run at once.
    pub decided_by: String,
}

impl Duty {
    pub(super) fn of(cell: &Settled) -> Self {
        let hoppers = cell.hoppers().map(|(run, title, case)| Wanted {
            run,
            title: title.to_owned(),
            air_flow: case.air_flow,
            set_point: case.air_temperature,
            water: water(case),
            rate: case.wet_rate(),
            vacuum_time: vacuum::time_wanted(case),
        });
        Self {
            hoppers: hoppers.collect(),
        }
    }

    /// The largest process air of any run, kg/s of dry air.
    pub fn air_flow(&self) -> Hardest {
        self.of_runs(|wanted| wanted.air_flow)
    }

    /// The heaviest load of water of any run, kg/s.
    pub fn water(&self) -> Hardest {
        self.of_runs(|wanted| wanted.water)
    }

    /// The most resin of any run, kg/s as weighed.
    pub fn rate(&self) -> Hardest {
        self.of_runs(|wanted| wanted.rate)
    }

    /// The hottest set point, K.
    pub fn set_point(&self) -> Hardest {
        self.of_hoppers(|wanted| wanted.set_point)
    }

    /// The largest air of any one hopper, kg/s of dry air.
    pub fn hopper_air_flow(&self) -> Hardest {
        self.of_hoppers(|wanted| wanted.air_flow)
    }

    fn of_hoppers(&self, value: impl Fn(&Wanted) -> f64) -> Hardest {
        let each = self.hoppers.iter();
        largest(each.map(|wanted| Hardest {
            value: value(wanted),
            decided_by: wanted.title.clone(),
        }))
    }

    fn of_runs(&self, value: impl Fn(&Wanted) -> f64) -> Hardest {
        let runs = self.hoppers.iter().map(|wanted| wanted.run + 1).max();
        largest((0..runs.unwrap_or(0)).map(|run| {
            let at_once = || self.hoppers.iter().filter(move |wanted| wanted.run == run);
            let titles: Vec<&str> = at_once().map(|wanted| wanted.title.as_str()).collect();
            Hardest {
                value: at_once().map(&value).sum(),
                decided_by: titles.join(" with "),
            }
        }))
    }
}

/// The first of the largest.
fn largest(all: impl Iterator<Item = Hardest>) -> Hardest {
    let none = Hardest {
        value: 0.0,
        decided_by: String::new(),
    };
    all.fold(
        none,
        |most, next| {
            if next.value > most.value { next } else { most }
        },
    )
}
