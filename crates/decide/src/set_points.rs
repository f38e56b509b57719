//! Set-points of a dryer that dry at least energy: air temperature and flow, regeneration temperature,
//! speed of the wheel.
//!
//! What is asked: least energy per kilogram, mean over the days of the year, such that on every day the
//! resin is dry enough in [`SURE`] of the draws, and neither harmed nor too dry, and no component lacks more
//! than it does as it stands. Where the draws lie is followed to first order on the way and held against draws
//! through the whole loop at the end; where they do not bear it out, the search goes on from there, aiming
//! lower by what was missing.

mod knobs;
mod trial;

use crate::DecideError;
use crate::case::Case;
use crate::plan::settled;
use crate::resolve::Given;
use crate::set_points::knobs::bounds_of;
use crate::stand::SURE;
use job::{Day, Job};
use line::LineGuess;
use line::equipment::Equipment;
use numeric::constrained::{Search, least};
use serde::Serialize;

/// What can be set.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SetPoints {
    /// Air temperature at the hopper, degC.
    pub air_temperature_c: f64,
    /// Dry air through the hopper, kg/h.
    pub air_flow_kg_h: f64,
    /// Regeneration temperature, degC, of a desiccant.
    pub regeneration_c: Option<f64>,
    /// Turns of a wheel, 1/h.
    pub turns_per_hour: Option<f64>,
}

/// What set-points come to.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Outcome {
    /// The set-points.
    pub set: SetPoints,
    /// Energy, kWh per kg of resin as weighed, mean over the days.
    pub energy_kwh_kg: f64,
    /// Moisture leaving, on the worst day, ppm wet basis.
    pub outlet_ppm_wet: f64,
    /// Share of draws that meet the limit on the worst day.
    pub probability: f64,
}

/// What keeps the energy from being less still.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Bound {
    /// The limit of moisture.
    Moisture,
    /// The longest stay.
    Stay,
    /// The lower edge of the window.
    TooDry,
    /// A component gives no more.
    Component,
    /// An end of the usual temperatures.
    Temperature,
    /// An end of the air flows looked at.
    AirFlow,
    /// An end of the regeneration temperatures looked at.
    Regeneration,
    /// An end of the speeds looked at.
    Speed,
}

/// The set-points at least energy.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LeastEnergy {
    /// As it stands.
    pub now: Outcome,
    /// At least energy; none where no set-points looked at meet the limit.
    pub least: Option<Outcome>,
    /// What it rests on.
    pub bound_by: Vec<Bound>,
    /// Set-points tried.
    pub tried: usize,
}

/// Times the search goes on, aiming lower, where the draws do not bear it out.
const AIMS: usize = 4;
/// What is aimed below the limit over what was missing there: draws are few.
const AIM_MARGIN: f64 = 1.2;
const SEARCH: Search = Search {
    first: 0.15,
    last: 4e-3,
    most: 160,
    tolerance: 1e-3,
};

/// The set-points of a dryer for a job that take the least energy; `make` sizes it for an air flow (kg/s of
/// dry air) and a set point (K), `samples` draws are made from `seed`, `told` hears the share that is done.
///
/// # Errors
/// When the job cannot be planned, the dryer cannot be, or its loop does not settle as it stands.
pub fn least_energy(
    job: &Job,
    make: &dyn Fn(f64, f64) -> Equipment,
    (samples, seed): (u32, u32),
    told: &(dyn Fn(f64) + Sync),
) -> Result<LeastEnergy, DecideError> {
    let (case, given) = settled(job)?;
    let tuning = Tuning {
        case: &case,
        given: &given,
        equipment: &make(case.air_flow, case.air_temperature),
        hottest: None,
        days: &job.plant.days_of_the_year(),
        samples,
        seed,
    };
    tuning.least(told)
}

/// What is tuned.
pub(crate) struct Tuning<'a> {
    pub(crate) case: &'a Case,
    pub(crate) given: &'a Given,
    pub(crate) equipment: &'a Equipment,
    /// Hottest air it is made for, K, where that is stated.
    pub(crate) hottest: Option<f64>,
    pub(crate) days: &'a [Day],
    pub(crate) samples: u32,
    pub(crate) seed: u32,
}

impl Tuning<'_> {
    /// Set-points at least energy; `told` hears the share that is done.
    ///
    /// # Errors
    /// From the loop, where it does not settle.
    pub(crate) fn least(&self, told: &(dyn Fn(f64) + Sync)) -> Result<LeastEnergy, DecideError> {
        let knobs = self.knobs()?;
        let mut start: Vec<f64> = knobs.iter().map(|knob| knob.now).collect();
        let bounds: Vec<(f64, f64)> = knobs.iter().map(|knob| knob.ends).collect();
        let mut guesses: Vec<Option<LineGuess>> = vec![None; self.days.len()];
        let stands = self.outcome(&knobs, &start, &guesses)?;
        let unlucky = self.unlucky()?;
        let mut tried = 0;
        let mut below = 0.0;
        let mut search = SEARCH;
        for _ in 0..AIMS {
            let found = least(&start, &bounds, search, |x| {
                tried += 1;
                told((tried as f64 / (2 * SEARCH.most) as f64).min(1.0));
                self.trial(&knobs, x, (&unlucky, below), &stands.lacking, &mut guesses)
            })?;
            if !found.allowed {
                break;
            }
            let least = self.outcome(&knobs, &found.at, &guesses)?;
            if least.outcome.probability >= SURE {
                return Ok(LeastEnergy {
                    now: stands.outcome,
                    bound_by: bounds_of(&knobs, &found.at, &found.tried, self.days.len()),
                    least: Some(least.outcome),
                    tried,
                });
            }
            below += AIM_MARGIN * least.missing.max(0.01);
            start = found.at;
            search.first = 0.5 * SEARCH.first;
        }
        Ok(LeastEnergy {
            now: stands.outcome,
            least: None,
            bound_by: Vec::new(),
            tried,
        })
    }
}
