//! Which dryer: each that could serve a job, run closed round its hopper on the days of the year.
//!
//! The hopper, the temperature and the air flow are those of the plan; what differs from dryer to
//! dryer is the air it makes and what that costs. Doubt is carried by quasi-random samples, the same
//! ones for every dryer and day, so that dryers differ by what they are and not by luck.

mod money;
pub(crate) mod sampled;
mod verdict;

pub use money::{Costs, Money};
pub use verdict::{Choice, ENOUGH};

use crate::case::{Case, celsius};
use crate::closed::{line_of, on_the_day, settle};
use crate::plan::{ppm_wet, settled};
use crate::{DecideError, compare::sampled::Asked};
use job::{Day, Job, usual_days};
use line::equipment::Equipment;
use line::{Account, Crossing, Room, Shortfall};
use serde::Serialize;

/// Makes a dryer for an air flow (kg/s of dry air) and a set point (K).
pub type Maker<'a> = dyn Fn(f64, f64) -> Equipment + Sync + 'a;

/// What is compared, and how closely.
pub struct Question<'a> {
    /// The job.
    pub job: &'a Job,
    /// The dryers, each made for the air flow (kg/s of dry air) and the set point (K) it is given.
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
    /// Each day.
    pub days: Vec<DayRun>,
    /// Over the year.
    pub year: Costs,
    /// Share of draws that meet the limit, over the year.
    pub probability: f64,
    /// The day on which fewest draws meet it.
    pub worst_day: String,
}

/// One dryer on one day.
#[derive(Clone, Debug, Serialize)]
pub struct DayRun {
    /// Which day.
    pub day: String,
    /// Temperature of the hall, degC, and its humidity ratio, kg/kg.
    pub hall: (f64, f64),
    /// Dew or frost point of the supply at the pressure of the hall, degC.
    pub supply_point_c: f64,
    /// Return air, degC.
    pub return_c: f64,
    /// Moisture of the resin leaving, mean over pellets and streams, ppm wet basis.
    pub outlet_ppm_wet: f64,
    /// Five and ninety-five percent of the draws, ppm wet basis.
    pub range_ppm_wet: (f64, f64),
    /// Share of draws that meet the limit.
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
}

/// All dryers of a job.
#[derive(Clone, Debug, Serialize)]
pub struct Comparison {
    /// What the user calls the job.
    pub title: String,
    /// The resin.
    pub resin: String,
    /// Wet resin drawn, kg/h.
    pub rate_kg_h: f64,
    /// Air temperature at the inlet of the hopper, degC.
    pub air_temperature_c: f64,
    /// Dry air, kg/h.
    pub air_flow_kg_h: f64,
    /// Residence, h.
    pub residence_h: f64,
    /// Limit of what leaves the hopper, ppm wet basis.
    pub limit_ppm_wet: f64,
    /// The days.
    pub days: Vec<Day>,
    /// The dryers.
    pub dryers: Vec<Compared>,
    /// Which of them, and why.
    pub choice: Choice,
    /// What the prices count in, where there are any.
    pub currency: Option<String>,
    /// Samples for each dryer and day, and their seed.
    pub samples: (u32, u32),
}

/// Compares dryers; `told` hears the share that is done, from any thread.
///
/// # Errors
/// When the job cannot be planned or no dryer is given; [`DecideError::Equipment`] and
/// [`DecideError::Line`] for a dryer that cannot be or does not settle.
pub fn compare(
    question: &Question<'_>,
    told: &(dyn Fn(f64) + Sync),
) -> Result<Comparison, DecideError> {
    if question.dryers.is_empty() {
        return Err(DecideError::NoDryer);
    }
    let (case, given) = settled(question.job)?;
    let days = if question.job.plant.days.is_empty() {
        usual_days()
    } else {
        question.job.plant.days.clone()
    };
    let prices = question.job.plant.prices.as_ref();
    let head = Comparison {
        title: question.job.title.clone(),
        resin: case.lead.resin.name.clone(),
        rate_kg_h: case.wet_rate() * 3600.0,
        air_temperature_c: celsius(case.air_temperature),
        air_flow_kg_h: case.air_flow * 3600.0,
        residence_h: case.residence() / 3600.0,
        limit_ppm_wet: ppm_wet(case.limit),
        choice: Choice::refused(&case),
        dryers: Vec::new(),
        days: days.clone(),
        currency: prices.map(|prices| prices.currency.clone()),
        samples: (question.samples, question.seed),
    };
    if case.crystallise_first() || case.air_temperature > case.hottest() {
        return Ok(head);
    }
    let parts = (question.dryers.len() * days.len()) as f64;
    let mut dryers = Vec::with_capacity(question.dryers.len());
    let mut done = 0.0;
    for make in &question.dryers {
        let equipment = make(case.air_flow, case.air_temperature);
        let mut runs = Vec::with_capacity(days.len());
        for day in &days {
            let on_day = on_the_day(&case, day)?;
            let asked = Asked {
                equipment: &equipment,
                given: &given,
                samples: question.samples,
                seed: question.seed,
            };
            let sofar = done;
            runs.push(run(&asked, &on_day, day, &|share| {
                told((sofar + share) / parts);
            })?);
            done += 1.0;
        }
        dryers.push(Compared::of(equipment.title, runs, &days, &case, prices));
    }
    Ok(Comparison {
        choice: verdict::choose(&dryers, head.currency.as_deref()),
        dryers,
        ..head
    })
}

/// One dryer on one day.
fn run(
    asked: &Asked<'_>,
    (case, room): &(Case, Room),
    day: &Day,
    told: &(dyn Fn(f64) + Sync),
) -> Result<DayRun, DecideError> {
    let title = &asked.equipment.title;
    let line = line_of(asked.equipment, case, *room)?;
    let steady = settle(&line, title)?;
    let sampled = asked.draws(&line, &steady, case, told)?;
    Ok(DayRun {
        day: day.name.clone(),
        hall: (celsius(room.temperature), room.humidity),
        supply_point_c: celsius(dryer::condensation_temperature(
            steady.delivered.humidity,
            room.pressure,
        )),
        return_c: celsius(steady.returned.temperature),
        outlet_ppm_wet: ppm_wet(sampled.mean),
        range_ppm_wet: (ppm_wet(sampled.low), ppm_wet(sampled.high)),
        probability: sampled.probability,
        energy_kwh_kg: per_kg(&steady.account, case),
        heat_to_hall_w: steady.account.heat_to_hall(),
        compressed_air_m3_kg: steady.account.compressed_air / case.wet_rate(),
        cooling_water_kg_kg: money::cooling_water(&steady.account) / case.wet_rate(),
        imbalance: (
            steady.account.water().imbalance(),
            steady.account.energy().imbalance(),
        ),
        shortfalls: steady.shortfalls,
        crossings: steady.account.crossings,
    })
}

/// Current, kWh per kg of resin as weighed.
fn per_kg(account: &Account, case: &Case) -> f64 {
    account.electric_power() / case.wet_rate() / 3.6e6
}
