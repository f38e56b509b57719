//! Which dryer: each that could serve a cell, run closed round its hoppers on the days of the year.
//!
//! Hoppers, temperatures and air flows are those of the plan; what differs from dryer to dryer is the
//! air it makes and what that costs. A dryer is sized once, for the hardest of all it will serve, and
//! then run for each run of the cell on each day. Doubt is carried by quasi-random samples, the same
//! ones for every dryer and day, so that dryers differ by what they are and not by luck.

mod cell;
mod cold_start;
mod earned;
mod kinds;
mod margins;
mod moment;
mod money;
mod not_computed;
pub mod payback;
pub(crate) mod sampled;
mod unfit;
pub(crate) mod unlike;
mod vacuum;
mod verdict;

pub(crate) use cell::Asking;
pub use cell::{HopperAsked, RunAsked};
pub use cold_start::ColdStart;
pub use earned::Earned;
pub use kinds::{Batches, Dried, Dryer, Duty, Hardest, Maker, Offered, Wanted};
pub use margins::{Breaks, Harder, Margin};
pub use money::{CostKind, Costs, Lost, Money};
pub use not_computed::{MissingDay, NotComputed, WhyNot};
pub use sampled::LostShares;
pub use unfit::Unfit;
pub use vacuum::VacuumBatches;
pub use verdict::{Choice, ENOUGH};

use crate::DecideError;
use crate::compare::cell::Settled;
use crate::compare::moment::Now;
use crate::set_points::{LeastEnergy, Tuning};
use crate::smallest::{self, BelowUsual};
use job::{Cell, Day, Ownership};
use line::equipment::{Equipment, Machine};
use line::{Crossing, Shortfall};
use serde::Serialize;

/// What is compared, and how closely.
pub struct Question<'a> {
    /// What is dried.
    pub cell: &'a Cell,
    /// The dryers, each made for what it will serve.
    pub dryers: Vec<Offered<'a>>,
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
    /// How much harder the job may get on that day before something gives way.
    pub margins: Vec<Margin>,
    /// The most that a heater before a hopper gives on any day, of what it can.
    pub heater_used: Option<f64>,
    /// From a cold stand to the first dry pellets of every hopper of the slowest run; none where no air
    /// is made.
    pub cold_start: Option<ColdStart>,
    /// What owning it comes to, as far as it is stated.
    pub ownership: Ownership,
    /// Whether it is the one that stands there today.
    pub mine: bool,
    /// What speaks against it whatever it leaves in the resin; it is then not recommended.
    pub unfit: Option<Unfit>,
    /// Whether its air passes a desiccant in beads, is that of the hall, or comes from a compressor.
    pub air: AirFrom,
    /// Energy of each draw, kWh/kg.
    #[serde(skip)]
    energies: Vec<Option<f64>>,
}

/// Where drying air comes from, as far as it says what it may carry.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum AirFrom {
    /// Round through a coated wheel.
    Wheel,
    /// Round through beds of beads.
    Beads,
    /// From a compressor.
    Compressor,
    /// From the hall.
    Hall,
    /// None is blown through the resin.
    None,
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
    /// Dew or frost point of the hall, degC.
    pub hall_point_c: f64,
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
    /// Shares whose resin is lost, by what it is lost to: counted, or from the tails of the draws where fewer than
    /// ten are.
    pub lost: LostShares,
    /// Energy, kWh per kg of resin as weighed.
    pub energy_kwh_kg: f64,
    /// Of it, drawn elsewhere, as by a compressor in its own room.
    pub elsewhere_kwh_kg: f64,
    /// Energy of each draw, kWh/kg.
    #[serde(skip)]
    energy_draws: Vec<Option<f64>>,
    /// The most that a heater before a hopper gives, of what it can.
    pub heater_used: Option<f64>,
    /// Heat given to the hall, W.
    pub heat_to_hall_w: f64,
    /// Compressed air, m3 per kg at the state it is counted at.
    pub compressed_air_m3_kg: f64,
    /// The same at 20 degC and 1 atm.
    pub free_air_m3_kg: f64,
    /// Numbered states of the loop.
    pub states: Vec<LoopState>,
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

/// A state of the loop.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LoopState {
    /// Where.
    pub place: String,
    /// Dry air, kg/h.
    pub dry_air_kg_h: f64,
    /// Temperature, degC.
    pub temperature_c: f64,
    /// Humidity ratio, g/kg.
    pub humidity_g_kg: f64,
    /// Dew or frost point, degC.
    pub point_c: f64,
}

/// What leaves one hopper.
#[derive(Clone, Debug, Serialize)]
pub struct HopperDay {
    /// The resin.
    pub resin: String,
    /// Air at the inlet of the hopper, degC; none where no air is blown through it.
    pub inlet_c: Option<f64>,
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
    /// The dryers that could be run on every day.
    pub dryers: Vec<Compared>,
    /// Those that could not, with the reason; none of them is recommended.
    pub not_computed: Vec<NotComputed>,
    /// Which of the dryers, and why.
    pub choice: Choice,
    /// What the dearer of the recommended dryer and each other earns back.
    pub earned: Vec<Earned>,
    /// Set-points of the recommended dryer that take the least energy, where one hopper is all and the dryer
    /// makes air for it.
    pub set_points: Option<LeastEnergy>,
    /// Why they could not be searched, where that is so.
    pub set_points_not_searched: Option<String>,
    /// What the cost that ranks them counts beside current, air and water.
    pub counted: Vec<CostKind>,
    /// What custom makes smaller than it is usually built.
    pub below_usual: Vec<BelowUsual>,
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
/// [`DecideError::TwoPlaces`] for a cell that is none; [`DecideError::NoneComputed`] where no dryer can be
/// or settles on every day. Where only some do not, they are told in [`Comparison::not_computed`].
pub fn compare(
    question: &Question<'_>,
    told: &(dyn Fn(f64) + Sync),
) -> Result<Comparison, DecideError> {
    if question.dryers.is_empty() {
        return Err(DecideError::NoDryer);
    }
    let plant = &question.cell.plant;
    let asking = Asking::of(question.cell)?;
    let mut found = Comparison {
        title: question.cell.title.clone(),
        below_usual: smallest::hoppers(&asking.runs),
        runs: asking.runs,
        choice: Choice::none(asking.refused.clone().unwrap_or_default()),
        dryers: Vec::new(),
        not_computed: Vec::new(),
        days: plant.days_of_the_year(),
        earned: Vec::new(),
        set_points: None,
        set_points_not_searched: None,
        counted: Vec::new(),
        carried_over: asking.carried_over,
        currency: plant.prices.as_ref().map(|prices| prices.currency.clone()),
        samples: (question.samples, question.seed),
    };
    if asking.refused.is_some() {
        return Ok(found);
    }
    let mut moments = Vec::new();
    for (index, run) in asking.cell.runs.iter().enumerate() {
        for day in &found.days {
            moments.push(Now::of(index, run, day, &found.days)?);
        }
    }
    let parts = (question.dryers.len() * moments.len()) as f64;
    let mut made = Vec::with_capacity(question.dryers.len());
    for (index, offered) in question.dryers.iter().enumerate() {
        let before = (index * moments.len()) as f64;
        let dryer = (offered.make)(&asking.duty);
        match one(
            question,
            offered,
            &dryer,
            (&moments, &asking.duty),
            &|done| {
                told((before + done) / parts);
            },
        ) {
            Ok(compared) => {
                found.dryers.push(compared);
                if !offered.is_stated {
                    found.below_usual.extend(smallest::desiccant(&dryer));
                }
                made.push((dryer, offered.hottest));
            }
            Err(not) => found.not_computed.push(*not),
        }
    }
    if found.dryers.is_empty() {
        let causes = found.not_computed.into_iter().map(|not| not.cause);
        return Err(DecideError::NoneComputed(causes.collect()));
    }
    found.counted = money::count(&mut found.dryers);
    found.choice = verdict::choose(&found.dryers, &found.runs, found.currency.as_deref());
    if let (Some(recommended), Some(prices)) = (found.choice.dryer, &plant.prices) {
        found.earned = earned::earned(
            &found.dryers,
            recommended,
            prices,
            &found.counted,
            found.samples,
        );
    }
    if let Some(recommended) = found.choice.dryer {
        let (dryer, hottest) = &made[recommended];
        match tuned(dryer, *hottest, &asking.cell, &found) {
            Ok(least) => found.set_points = least,
            Err(cause) => found.set_points_not_searched = Some(cause.to_string()),
        }
    }
    Ok(found)
}

/// Set-points at least energy of a dryer that makes air for one hopper.
fn tuned(
    dryer: &Dryer,
    hottest: Option<f64>,
    cell: &Settled,
    found: &Comparison,
) -> Result<Option<LeastEnergy>, DecideError> {
    /// Draws that confirm set-points; a share of four in five is told to a twentieth.
    const DRAWS: u32 = 60;
    let (Dryer::Air(equipment), [run]) = (dryer, cell.runs.as_slice()) else {
        return Ok(None);
    };
    let ([(case, None)], [given]) = (run.fed.as_slice(), run.given.as_slice()) else {
        return Ok(None);
    };
    let tuning = Tuning {
        case,
        given,
        equipment,
        hottest,
        days: &found.days,
        samples: found.samples.0.min(DRAWS),
        seed: found.samples.1,
    };
    tuning.least(&|_| {}).map(Some)
}

/// One dryer through all runs and days; `told` hears how many of them are done.
fn one(
    question: &Question<'_>,
    offered: &Offered<'_>,
    dryer: &Dryer,
    (moments, duty): (&[Now<'_>], &Duty),
    told: &(dyn Fn(f64) + Sync),
) -> Result<Compared, Box<NotComputed>> {
    let draws = (question.samples, question.seed);
    let (mut days, mut missing) = (Vec::with_capacity(moments.len()), Vec::new());
    for (done, now) in moments.iter().enumerate() {
        match now.of_dryer(dryer, draws, &|share| told(done as f64 + share)) {
            Ok(day) => days.push(day),
            Err(cause) => {
                missing.push((now.index, now.day().to_owned(), cause));
                told(done as f64 + 1.0);
            }
        }
    }
    let days = NotComputed::of(dryer, offered, missing, days)?;
    let worst = days
        .iter()
        .zip(moments)
        .min_by(|(a, _), (b, _)| a.probability.total_cmp(&b.probability));
    let unfit = Unfit::of(&days, moments, offered.hottest, duty);
    let (mut margins, mut start) = (Vec::new(), None);
    if let Dryer::Air(equipment) = dryer {
        if let Some((_, now)) = worst {
            margins = margins::margins(equipment, &now.cases, &now.room);
        }
        start = slowest_start(equipment, moments);
    }
    let compared = Compared::of(
        dryer.title().to_owned(),
        days,
        &question.cell.plant,
        &offered.ownership,
        start,
    );
    Ok(Compared {
        margins,
        mine: offered.mine,
        unfit,
        air: dryer.air(),
        ..compared
    })
}

/// The worst cold start of all runs, each on its first day.
fn slowest_start(equipment: &Equipment, moments: &[Now<'_>]) -> Option<ColdStart> {
    let mut slowest: Option<ColdStart> = None;
    let mut run = None;
    for now in moments {
        if run.replace(now.index) == Some(now.index) {
            continue;
        }
        let found = cold_start::cold_start(equipment, &now.cases, now.room);
        slowest = Some(match slowest {
            Some(before) => before.worse(found),
            None => found,
        });
    }
    slowest
}

impl Dryer {
    /// Where its air comes from.
    fn air(&self) -> AirFrom {
        match self {
            Self::Batches(_) => AirFrom::None,
            Self::Air(equipment) => match &equipment.machine {
                Machine::Wheel(_) => AirFrom::Wheel,
                Machine::Towers(_) => AirFrom::Beads,
                Machine::Compressed(_) => AirFrom::Compressor,
                Machine::HotAir(_) => AirFrom::Hall,
            },
        }
    }

    /// What it is called.
    pub fn title(&self) -> &str {
        match self {
            Self::Air(equipment) => &equipment.title,
            Self::Batches(dryer) => dryer.title(),
        }
    }
}
