//! How a dryer is best run through days like these: least energy, no pellet wet, none hot for too long, none drier
//! than running it constantly makes them.
//!
//! # Equations
//! 1. Setback temperature, the demand below and above which it is set back and recovers, the wait, the lag of what is
//!    sensed and the least air are searched on a few days that stand for all, each way meeting the same stops, rates
//!    and instrument errors, with a resin at the wet end of its doubt: a seeded spread of ways, then the best of
//!    them from neighbour to neighbour.
//! 2. What is lost counts as energy: `E (1 + P sum max(0, ln(share/s)))` over the shares that are wet, hot for too
//!    long or too dry, `s` the share that may be.
//! 3. The winner is run through fresh weeks, with the doubt of the resin and of its instruments drawn anew. When
//!    none of 59 fails, at least 95 % of such weeks do not with 95 % confidence, since `0.95^59 < 0.05` (Wilks 1941,
//!    Ann. Math. Statist. 12, 91, from memory); with failures the bound is that of Clopper and Pearson (1934).
//! 4. Foresight: the same search with a control that knows the demand beforehand.
//!
//! # Symbols
//! E energy; P a weight, see `search`.
//!
//! # Holds for
//! One dryer, one hopper and one resin; what is found with foresight is the best that was found, not a bound.
//!
//! # Sources
//! As above.
//!
//! # Checked by
//! `crates/decide/src/policy/verify.rs`: the numbers of fresh weeks; the tests of its other parts

mod chance;
mod search;
mod sensed;
mod verify;
mod windows;

pub use search::{Way, WayFound};
pub use sensed::{Sensed, sensed};
pub use verify::Verified;

use crate::DecideError;
use crate::shift::{self, Days};
use chance::Wanted;
use job::{Beginning, Schedule};
use line::equipment::Equipment;
use search::{Tried, trials};
use serde::Serialize;
use uncertainty::Design;

/// What is asked.
pub struct Question<'a> {
    /// The days.
    pub schedule: &'a Schedule,
    /// What makes the dryer, for the air flow (kg/s of dry air) and the set point (K) of a job.
    pub dryer: &'a (dyn Fn(f64, f64) -> Equipment + Sync),
    /// Seed of all that is drawn.
    pub seed: u32,
    /// Fresh weeks on which the winner is verified.
    pub weeks: u32,
    /// Told how much is done, 0 to 1, and of what.
    pub progress: &'a (dyn Fn(&'static str, f64) + Sync),
}

/// How a dryer is best run.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Policy {
    /// What the user calls the days.
    pub title: String,
    /// The resin.
    pub resin: String,
    /// Drying temperature.
    pub set_point_c: f64,
    /// Days on which ways were tried, and how many ways.
    pub days: usize,
    /// Ways tried.
    pub ways: usize,
    /// Always at the set point, with all of the air.
    pub constant: WayFound,
    /// As it is stated, where that is another.
    pub stated: Option<WayFound>,
    /// The best that was found.
    pub best: WayFound,
    /// The best that was found by a control that knows the demand beforehand.
    pub foresight: WayFound,
    /// The best on fresh weeks.
    pub verified: Verified,
}

/// How far into its doubt the resin is taken on the days on which ways are tried, all in the direction in which
/// it comes out wetter: rather more than the worst of 59 draws.
const UNLUCKY: f64 = 2.5;

/// Finds and verifies the way.
///
/// # Errors
/// When the job cannot be planned, or the dryer cannot be or be followed.
pub fn policy(question: &Question) -> Result<Policy, DecideError> {
    let schedule = question.schedule;
    let design = Design {
        seed: question.seed,
    };
    let whole = long_at_work(question)?;
    let planned: Vec<Wanted> = whole.demand().to_vec();
    let windows = windows::windows(&planned);
    let unlucky = whole.unlucky(UNLUCKY)?;
    let tried = whole.coarse().with_doubt(&|dimension: u32| {
        let place = dimension as usize;
        unlucky.get(place).copied().unwrap_or(0.0)
    })?;
    let mut days = Vec::new();
    for (index, window) in (0_u32..).zip(&windows) {
        let demand = chance::realised(window, &schedule.chances, design, index);
        let length = window.last().map_or(0.0, |last| last.1);
        days.push(tried.with_demand(demand, length));
    }
    let told = |share: f64| (question.progress)("looking for the best way", share);
    let trials = trials(&days, design);
    let stated = Way::of(whole.control(), schedule.control.setback.is_some());
    let constant = trials.try_one(&Way::CONSTANT)?;
    let reference = constant.clone();
    let best = trials.search(&reference, false, &|share| told(0.7 * share))?;
    let foresight = trials.search(&reference, true, &|share| told(0.7 + 0.3 * share))?;
    let as_stated = (stated != Way::CONSTANT)
        .then(|| trials.try_one(&stated))
        .transpose()?;
    let told = |share: f64| (question.progress)("verifying on fresh weeks", share);
    let verified = verify::verify(
        &whole,
        (&best.0.way, question.weeks),
        &schedule.chances,
        design,
        &told,
    )?;
    let found = |tried: &Tried| tried.found(whole.set_point());
    Ok(Policy {
        title: schedule.title.clone(),
        resin: whole.resin().to_owned(),
        set_point_c: crate::case::celsius(whole.set_point()),
        days: days.len(),
        ways: best.1 + foresight.1 + 1,
        constant: found(&constant),
        stated: as_stated.as_ref().map(found),
        best: found(&best.0),
        foresight: found(&foresight.0),
        verified,
    })
}

/// The days of a question on a hopper that is long at work, with one resin.
fn long_at_work(question: &Question) -> Result<Days, DecideError> {
    Days::of(&shift::Question {
        schedule: &Schedule {
            begins_as: Beginning::Running,
            changeovers: Vec::new(),
            ..question.schedule.clone()
        },
        dryer: question.dryer,
    })
}
