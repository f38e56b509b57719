//! The press has just stopped: how long may the hopper stand, and what is to be done now?
//!
//! # Equations
//! 1. Each thing that can be done is followed through the stop and the stay after it, from a hopper long at work:
//!    keep everything as it is; set the air back at once and bring it to its set point again when the press does,
//!    or early enough before; switch off.
//! 2. Pellets right above the air inlet stand in its full heat. With `s` the share of the longest customary stay that
//!    a pellet takes at the planned rate and `t(T)` that stay at the temperature T, the hopper may stand
//!    `(1 - s) t(T)`.
//!
//! # Symbols
//! s, t(T) as above.
//!
//! # Holds for
//! One stop of a hopper that was at rest before it; air dryers.
//!
//! # Sources
//! The record of the resin names that of its longest stay.
//!
//! # Checked by
//! `crates/drybed/src/stop/tests.rs`

use crate::DecideError;
use crate::case::celsius;
use crate::plan::ppm_wet;
use crate::shift::{Days, Judged, Masses, Question as DaysAsked};
use job::{ControlSettings, DemandSense, Job, RoundDryer, Schedule};
use line::control::{Control, Setback};
use line::equipment::Equipment;
use quantity::{Duration, Quantity};
use rayon::prelude::*;
use serde::Serialize;

/// What is asked.
pub struct Question<'a> {
    /// The job that the hopper ran.
    pub job: &'a Job,
    /// What is stated of its dryer.
    pub stated: &'a RoundDryer,
    /// What makes it, for the air flow (kg/s of dry air) and the set point (K) of the job.
    pub dryer: &'a dyn Fn(f64, f64) -> Equipment,
    /// How long the press is expected to stand.
    pub length: Duration,
}

/// What can be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Action {
    /// Everything stays as it is.
    Keep,
    /// The air is set back, and recovers when the press draws again.
    SetBack,
    /// The air is set back, and recovers before the press draws again.
    SetBackAndRecover,
    /// The dryer is switched off, and on again before the press draws.
    SwitchOff,
}

impl Action {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Keep => "keep it running as it is",
            Self::SetBack => "set it back now, up again when the press draws",
            Self::SetBackAndRecover => "set it back now, up again before the press draws",
            Self::SwitchOff => "switch it off, on again before the press draws",
        }
    }
}

/// What one of them comes to.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Done {
    /// Which.
    pub action: Action,
    /// Temperature that the air is set back to.
    pub setback_c: Option<f64>,
    /// How long before the press draws it is brought up again, h.
    pub up_before_h: Option<f64>,
    /// What becomes of the resin that stood, and of what follows it.
    pub masses: Masses,
    /// The wettest of it, ppm wet basis: five percent of its pellets are wetter.
    pub wettest_ppm_wet: f64,
    /// The driest of it.
    pub driest_ppm_wet: f64,
    /// The most of the longest customary stay.
    pub longest_stay: f64,
    /// Energy over the stop and the stay after it, kWh.
    pub energy_kwh: f64,
    /// How long the press waits after the stop, h.
    pub waits_h: f64,
    /// How long the hopper may stand so, h; none where heat sets no end.
    pub may_stand_h: Option<f64>,
    /// Whether nothing is lost.
    pub is_safe: bool,
}

/// What to do.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Stop {
    /// What the user calls the job.
    pub title: String,
    /// The resin.
    pub resin: String,
    /// How long the press stands, h.
    pub length_h: f64,
    /// Drying temperature.
    pub set_point_c: f64,
    /// Longest customary stay at it, h.
    pub hold_h: f64,
    /// The limit, ppm wet basis.
    pub limit_ppm_wet: f64,
    /// The lower edge, where there is one.
    pub lower_edge_ppm_wet: Option<f64>,
    /// What can be done.
    pub actions: Vec<Done>,
    /// Which of them is best: safe at least energy; none where nothing is safe.
    pub best: Option<usize>,
    /// Resin in the hopper, as weighed, kg.
    pub holds_kg: f64,
    /// Time from filling anew to the first dry pellet, h.
    pub refill_h: f64,
}

/// Temperatures that are tried, K below the set point.
const BACKS: [f64; 3] = [20.0, 40.0, 60.0];
/// Coldest that air is set back to, K.
const COLDEST: f64 = 313.15;
/// Run before the stop, s.
const BEFORE: f64 = 1800.0;
/// A stay that still counts as safe, of the longest customary.
const SAFE: f64 = 0.9;

/// What to do about a stop.
///
/// # Errors
/// When the job cannot be planned, or the dryer cannot be or be followed.
pub fn stop(question: &Question) -> Result<Stop, DecideError> {
    let schedule = Schedule {
        control: ControlSettings {
            sense: Some(DemandSense::Told),
            hold_until_dry: Some(false),
            ..ControlSettings::default()
        },
        ..Schedule::of_job(question.job, *question.stated, Duration::from_hours(1.0))
    };
    let whole = Days::of(&DaysAsked {
        schedule: &schedule,
        dryer: question.dryer,
    })?;
    let case = &whole.scene().case;
    let rate = case.rate;
    let length = question.length.si();
    let after = 1.2 * case.residence();
    let end = BEFORE + length + after;
    let demand = vec![
        (0.0, BEFORE, rate),
        (BEFORE, BEFORE + length, 0.0),
        (BEFORE + length, end, rate),
    ];
    let days = whole.with_demand(demand, end);
    let up = case.residence().min(0.5 * length);
    let mut ways: Vec<(Action, Option<f64>, f64)> = vec![(Action::Keep, None, 0.0)];
    for back in BACKS {
        let to = case.air_temperature - back;
        if to >= COLDEST {
            ways.push((Action::SetBack, Some(to), 0.0));
            ways.push((Action::SetBackAndRecover, Some(to), up));
        }
    }
    if length > 2.0 * up.max(3600.0) {
        ways.push((Action::SwitchOff, None, up));
    }
    let planned = whole.with_demand(vec![(0.0, 2.0 * after, rate)], 2.0 * after);
    let usual = stays(&planned)?;
    let actions: Vec<Done> = ways
        .par_iter()
        .map(|way| done(&days, (length, usual), way))
        .collect::<Result<_, DecideError>>()?;
    let safe = actions.iter().enumerate().filter(|(_, done)| done.is_safe);
    let best = safe
        .min_by(|a, b| a.1.energy_kwh.total_cmp(&b.1.energy_kwh))
        .map(|(index, _)| index);
    Ok(Stop {
        title: question.job.title.clone(),
        resin: case.lead.resin.name.clone(),
        length_h: length / 3600.0,
        set_point_c: celsius(case.air_temperature),
        hold_h: case.hold() / 3600.0,
        limit_ppm_wet: ppm_wet(case.limit),
        lower_edge_ppm_wet: case.lower_edge.map(ppm_wet),
        actions,
        best,
        holds_kg: (case.bed_mass + case.below_inlet) * case.drawn,
        refill_h: (case.residence() + WARM_UP) / 3600.0,
    })
}

/// Time in which a hopper filled anew warms up, s (common practice, no source).
const WARM_UP: f64 = 1800.0;

/// The most of the longest customary stay that a pellet takes at the planned rate.
fn stays(days: &Days) -> Result<f64, DecideError> {
    let followed = days.follow(&mut |seen| seen, f64::INFINITY)?;
    let last = followed.used.iter().flatten().last();
    Ok(last.map_or(0.0, |lot| lot.lived.stayed))
}

fn done(
    days: &Days,
    (length, usual): (f64, f64),
    &(action, to, up): &(Action, Option<f64>, f64),
) -> Result<Done, DecideError> {
    let case = &days.scene().case;
    let control = Control {
        setback: to.map(|temperature| Setback {
            temperature,
            below: 0.05,
            after: 0.0,
            above: 0.05,
        }),
        // By hand, as fast as the heater can.
        ramp: 1.0,
        lag: 0.0,
        ..days.control().clone()
    };
    let mut days = days.run_as(&control, up);
    if action == Action::SwitchOff {
        days = days.off_at(vec![(BEFORE, BEFORE + length - up)]);
    }
    let followed = days.follow(&mut |seen| seen, f64::INFINITY)?;
    let judged = days.judged(&followed)?;
    let masses = days.masses(&followed, &judged);
    let told: Vec<_> = judged.iter().map(Judged::told).collect();
    let longest = told.iter().map(|lot| lot.stay_share).fold(0.0, f64::max);
    let held_at = match action {
        Action::Keep => Some(case.air_temperature),
        Action::SetBack | Action::SetBackAndRecover => to,
        Action::SwitchOff => None,
    };
    let lost = |kg: f64| masses.is_much(kg);
    Ok(Done {
        action,
        setback_c: to.map(celsius),
        up_before_h: (up > 0.0).then_some(up / 3600.0),
        masses,
        wettest_ppm_wet: told.iter().map(|lot| lot.high_ppm_wet).fold(0.0, f64::max),
        driest_ppm_wet: told
            .iter()
            .map(|lot| lot.mean_ppm_wet)
            .fold(f64::INFINITY, f64::min),
        longest_stay: longest,
        energy_kwh: followed.electricity() / 3.6e6,
        waits_h: followed.waited / 3600.0,
        may_stand_h: held_at.map(|at| (1.0 - usual).max(0.0) * case.hold_at(at) / 3600.0),
        is_safe: longest <= SAFE
            && !lost(masses.wet_kg)
            && !lost(masses.too_dry_kg)
            && !lost(masses.overstayed_kg),
    })
}
