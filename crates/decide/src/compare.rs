//! Which dryer: each that could serve a cell, run closed round its hoppers on the days of the year.
//!
//! Hoppers, temperatures and air flows are those of the plan; what differs from dryer to dryer is the
//! air it makes and what that costs. A dryer is sized once, for the hardest of all it will serve, and
//! then run for each run of the cell on each day. Doubt is carried by quasi-random samples, the same
//! ones for every dryer and day, so that dryers differ by what they are and not by luck.

mod cell;
mod kinds;
mod money;
pub(crate) mod sampled;
mod unlike;
mod verdict;

pub use cell::{HopperAsked, RunAsked};
pub use kinds::{Batches, Dried, Dryer, Duty, Hardest, Maker, Wanted};
pub use money::{Costs, Money};
pub use verdict::{Choice, ENOUGH};

use crate::DecideError;
use crate::case::{Case, celsius};
use crate::closed::{line_of, on_the_day, settle};
use crate::compare::cell::{Settled, SettledRun};
use crate::compare::sampled::{Asked, Sampled};
use crate::plan::ppm_wet;
use job::{Cell, Day, usual_days};
use line::equipment::Equipment;
use line::{Account, Crossing, Room, Shortfall};
use quantity::Quantity;
use serde::Serialize;

/// What is compared, and how closely.
pub struct Question<'a> {
    /// What is dried.
    pub cell: &'a Cell,
    /// The dryers, each made for what it will serve.
    pub dryers: Vec<Box<Maker<'a>>>,
    /// Samples of doubt for each dryer and day.
    pub samples: u32,
    /// Their seed.
    pub seed: u32,
}

/// One dryer among others.
#[derive(Clone, Debug, Serialize)]
pub struct Compared {
    /// What it is called.
    pub title: String,
    /// Each run on each day.
    pub days: Vec<DayRun>,
    /// Over the year.
    pub year: Costs,
    /// Share of the time in which the limits are met, over the draws and the year.
    pub probability: f64,
    /// The day on which fewest draws meet them.
    pub worst_day: String,
}

/// One dryer in one run on one day.
#[derive(Clone, Debug, Serialize)]
pub struct DayRun {
    /// Which run of the cell.
    pub run: usize,
    /// Which day.
    pub day: String,
    /// Part of the running time of the year.
    pub share: f64,
    /// Temperature of the hall, degC, and its humidity ratio, kg/kg.
    pub hall: (f64, f64),
    /// Dew or frost point of the supply at the pressure of the hall, degC; none where no air is made.
    pub supply_point_c: Option<f64>,
    /// Return air, degC.
    pub return_c: Option<f64>,
    /// Wet resin drawn from all hoppers, kg/h.
    pub rate_kg_h: f64,
    /// Each hopper.
    pub hoppers: Vec<HopperDay>,
    /// Share of draws that meet the limit of every hopper.
    pub probability: f64,
    /// Energy, kWh per kg of resin as weighed.
    pub energy_kwh_kg: f64,
    /// Heat given to the hall, W.
    pub heat_to_hall_w: f64,
    /// Compressed air, m3 per kg at the state it is counted at.
    pub compressed_air_m3_kg: f64,
    /// Cooling water, kg per kg, warmed by 10 K.
    pub cooling_water_kg_kg: f64,
    /// Limits that were met.
    pub shortfalls: Vec<Shortfall>,
    /// What crossed the border of the line.
    pub crossings: Vec<Crossing>,
    /// Water and energy not accounted for, relative.
    pub imbalance: (f64, f64),
    /// What else must be told.
    pub warnings: Vec<String>,
}

/// What leaves one hopper.
#[derive(Clone, Debug, Serialize)]
pub struct HopperDay {
    /// Moisture of the resin leaving, mean over pellets and streams, ppm wet basis.
    pub outlet_ppm_wet: f64,
    /// Five and ninety-five percent of the draws, ppm wet basis.
    pub range_ppm_wet: (f64, f64),
    /// Share of draws that meet the limit.
    pub probability: f64,
}

/// All dryers of a cell.
#[derive(Clone, Debug, Serialize)]
pub struct Comparison {
    /// What the user calls the cell.
    pub title: String,
    /// What is dried.
    pub runs: Vec<RunAsked>,
    /// The days.
    pub days: Vec<Day>,
    /// The dryers.
    pub dryers: Vec<Compared>,
    /// Which of them, and why.
    pub choice: Choice,
    /// What carries over from resin to resin.
    pub carried_over: Vec<String>,
    /// What the prices count in, where there are any.
    pub currency: Option<String>,
    /// Samples for each dryer and day, and their seed.
    pub samples: (u32, u32),
}

/// Compares dryers; `told` hears the share that is done, from any thread.
///
/// # Errors
/// When a job cannot be planned or no dryer is given; [`DecideError::NoJob`] and
/// [`DecideError::TwoPlaces`] for a cell that is none; [`DecideError::Equipment`] and
/// [`DecideError::Line`] for a dryer that cannot be or does not settle.
pub fn compare(
    question: &Question<'_>,
    told: &(dyn Fn(f64) + Sync),
) -> Result<Comparison, DecideError> {
    if question.dryers.is_empty() {
        return Err(DecideError::NoDryer);
    }
    let plant = &question.cell.plant;
    let cell = Settled::of(question.cell)?;
    let days = if plant.days.is_empty() {
        usual_days()
    } else {
        plant.days.clone()
    };
    let refused = cell.refused();
    let head = Comparison {
        title: question.cell.title.clone(),
        runs: cell.asked()?,
        choice: Choice::none(refused.clone().unwrap_or_default()),
        dryers: Vec::new(),
        days: days.clone(),
        carried_over: unlike::carried_over(&cell),
        currency: plant.prices.as_ref().map(|prices| prices.currency.clone()),
        samples: (question.samples, question.seed),
    };
    if refused.is_some() {
        return Ok(head);
    }
    let duty = Duty::of(&cell);
    let parts = (question.dryers.len() * cell.runs.len() * days.len()) as f64;
    let mut dryers = Vec::with_capacity(question.dryers.len());
    let mut done = 0.0;
    for make in &question.dryers {
        let dryer = make(&duty);
        let mut found = Vec::with_capacity(cell.runs.len() * days.len());
        for (index, run) in cell.runs.iter().enumerate() {
            for day in &days {
                let sofar = done;
                let now = Now::of(index, run, day, &days)?;
                let draws = (question.samples, question.seed);
                found.push(now.of_dryer(&dryer, draws, &|share| {
                    told((sofar + share) / parts);
                })?);
                done += 1.0;
            }
        }
        dryers.push(Compared::of(dryer.title().to_owned(), found, plant));
    }
    Ok(Comparison {
        choice: verdict::choose(&dryers, head.currency.as_deref()),
        dryers,
        ..head
    })
}

/// One run of a cell on one day.
struct Now<'a> {
    index: usize,
    run: &'a SettledRun,
    day: &'a Day,
    /// Part of the running time of the year.
    share: f64,
    room: Room,
    cases: Vec<Case>,
}

impl<'a> Now<'a> {
    fn of(
        index: usize,
        run: &'a SettledRun,
        day: &'a Day,
        days: &[Day],
    ) -> Result<Self, DecideError> {
        let (mut cases, mut room) = (Vec::with_capacity(run.cases.len()), None);
        for case in &run.cases {
            let (case, hall) = on_the_day(case, day)?;
            cases.push(case);
            room.get_or_insert(hall);
        }
        let year: f64 = days.iter().map(|day| day.share.si()).sum();
        Ok(Self {
            index,
            run,
            day,
            share: run.share * day.share.si() / year,
            room: room.ok_or(DecideError::NoJob)?,
            cases,
        })
    }

    /// Wet resin drawn, kg/s.
    fn rate(&self) -> f64 {
        self.cases.iter().map(Case::wet_rate).sum()
    }

    fn of_dryer(
        &self,
        dryer: &Dryer,
        draws: (u32, u32),
        told: &(dyn Fn(f64) + Sync),
    ) -> Result<DayRun, DecideError> {
        match dryer {
            Dryer::Air(equipment) => self.in_loop(equipment, draws, told),
            Dryer::Batches(dryer) => self.in_batches(dryer.as_ref(), draws, told),
        }
    }

    /// A dryer closed round the hoppers.
    fn in_loop(
        &self,
        equipment: &Equipment,
        draws: (u32, u32),
        told: &(dyn Fn(f64) + Sync),
    ) -> Result<DayRun, DecideError> {
        let line = line_of(equipment, &self.cases, self.room)?;
        let steady = settle(&line, &equipment.title)?;
        let asked = Asked::of(self, draws);
        let sampled = asked.closed(equipment, &line, &steady, told)?;
        let supply = dryer::condensation_temperature(steady.delivered.humidity, self.room.pressure);
        Ok(DayRun {
            supply_point_c: Some(celsius(supply)),
            return_c: Some(celsius(steady.returned.temperature)),
            shortfalls: steady.shortfalls,
            ..self.told(&sampled, steady.account)
        })
    }

    /// A dryer with chambers of its own.
    fn in_batches(
        &self,
        dryer: &dyn Batches,
        draws: (u32, u32),
        told: &(dyn Fn(f64) + Sync),
    ) -> Result<DayRun, DecideError> {
        let dried = dryer.dry(&self.cases, &self.room, 0.0)?;
        let asked = Asked::of(self, draws);
        let sampled = asked.in_batches(dryer, &self.room, &dried.outlets, told);
        Ok(DayRun {
            shortfalls: dried.shortfalls,
            warnings: dried.warnings,
            ..self.told(&sampled, dried.account)
        })
    }

    /// What an account and the draws tell.
    fn told(&self, sampled: &Sampled, account: Account) -> DayRun {
        let rate = self.rate();
        DayRun {
            run: self.index,
            day: self.day.name.clone(),
            share: self.share,
            hall: (celsius(self.room.temperature), self.room.humidity),
            supply_point_c: None,
            return_c: None,
            rate_kg_h: rate * 3600.0,
            hoppers: sampled
                .hoppers
                .iter()
                .map(|hopper| HopperDay {
                    outlet_ppm_wet: ppm_wet(hopper.mean),
                    range_ppm_wet: (ppm_wet(hopper.low), ppm_wet(hopper.high)),
                    probability: hopper.probability,
                })
                .collect(),
            probability: sampled.probability,
            energy_kwh_kg: account.electric_power() / rate / 3.6e6,
            heat_to_hall_w: account.heat_to_hall(),
            compressed_air_m3_kg: account.compressed_air / rate,
            cooling_water_kg_kg: money::cooling_water(&account) / rate,
            imbalance: (account.water().imbalance(), account.energy().imbalance()),
            shortfalls: Vec::new(),
            crossings: account.crossings,
            warnings: Vec::new(),
        }
    }
}

impl Dryer {
    /// What it is called.
    pub fn title(&self) -> &str {
        match self {
            Self::Air(equipment) => &equipment.title,
            Self::Batches(dryer) => dryer.title(),
        }
    }
}
