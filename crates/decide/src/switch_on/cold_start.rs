//! One dryer from cold: when it is ready, and what power it takes until then, while it waits and at work.
//!
//! # Equations
//! 1. The line of the job, hopper just filled and all as cold as the hall, is followed without draw until the inlet
//!    has been at its set point for the hold: that of the start of the plan, or one full planned stay, whichever is
//!    longer.
//! 2. The power of a minute is the mean over it.
//! 3. At work it is that of the line at rest at the planned rate.
//!
//! # Symbols
//! none
//!
//! # Holds for
//! One dryer with one hopper in the hall of its job, at one temperature.
//!
//! # Sources
//! As [`line::follow`].
//!
//! # Checked by
//! `crates/decide/src/switch_on/tests.rs`, `crates/drybed/tests/switch_on.rs`

use super::Starter;
use super::order::Load;
use crate::DecideError;
use crate::case::celsius;
use crate::closed::settle;
use crate::plan::ppm_wet;
use crate::shift::scene::Scene;
use crate::start::start;
use line::control::Control;
use line::follow::{Course, Filling, Followed, Fouling, Press, Step};

/// What is followed beyond the hold at first, s: warming up, and a wait from which a longer one is known.
const BEYOND: f64 = 3.0 * 3600.0;
/// What is followed beyond it at most, s.
const AT_MOST: f64 = 12.0 * 3600.0;
/// Least of a wait that is followed, s.
const LEAST_WAIT: f64 = 3600.0;
/// Time between looks at the resin, s.
const LOOK_EVERY: f64 = 600.0;

/// A dryer that was followed from cold.
#[derive(Clone, Debug)]
pub(super) struct ColdStart {
    /// What the resin is called.
    pub(super) resin: String,
    /// From switching on until it is ready, s.
    pub(super) ready: f64,
    /// How long of that the air is at its set point, s.
    pub(super) hold: f64,
    /// A planned stay, s.
    pub(super) stay: f64,
    /// What the resin bears at the set point, s.
    pub(super) bears: f64,
    /// Set point, degC.
    pub(super) set_point_c: f64,
    /// What lies at the outlet when it is ready, and its limit, ppm wet.
    pub(super) outlet_ppm_wet: f64,
    pub(super) limit_ppm_wet: f64,
    /// Its power, its place in time not yet told.
    pub(super) load: Load,
}

/// Follows a dryer from cold.
///
/// # Errors
/// When the job cannot be planned, the dryer cannot be, or it never comes to its set point.
pub(super) fn cold_start(starter: &Starter) -> Result<ColdStart, DecideError> {
    let scene = Scene::of(starter.job, starter.dryer, starter.settings, None)?;
    let case = &scene.case;
    let plan = start(case, starter.job)?;
    let stay = case.residence();
    let hold = 3600.0 * plan.hold_before_drawing_h.unwrap_or(0.0);
    let hold = hold.max(stay);
    let control = Control {
        hold: Some(hold),
        off: Vec::new(),
        ..scene.control.clone()
    };
    let mut beyond = BEYOND;
    let (followed, ready) = loop {
        let followed = follow(&scene, &control, hold + beyond, starter.name)?;
        let ready = released(&followed);
        let enough = ready.is_some_and(|ready| ready + LEAST_WAIT <= hold + beyond);
        match ready {
            Some(ready) if enough || beyond >= AT_MOST => break (followed, ready),
            None if beyond >= AT_MOST => return Err(never(starter, &control, &followed)),
            _ => beyond = (2.0 * beyond).min(AT_MOST),
        }
    };
    let steady = settle(&scene.line, None, starter.name)?;
    let mut warming = by_minute(&followed.steps);
    let waiting = warming.split_off(minutes(ready).min(warming.len()));
    let looks = followed.pictures.iter();
    let look = looks
        .filter(|look| look.time >= ready)
        .find_map(|look| look.layers.first());
    Ok(ColdStart {
        resin: case.lead.resin.name.clone(),
        ready,
        hold,
        stay,
        bears: case.hold(),
        set_point_c: celsius(case.air_temperature),
        outlet_ppm_wet: look.map_or(0.0, |&(_, _, water)| ppm_wet(water)),
        limit_ppm_wet: ppm_wet(case.limit),
        load: Load {
            warming,
            waiting,
            working: steady.account.electric_power() / 1e3,
            wanted: 0,
        },
    })
}

/// Minutes that a time takes.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "times are hours at most and not negative"
)]
pub(super) fn minutes(seconds: f64) -> usize {
    (seconds / 60.0 - 1e-6).ceil().max(0.0) as usize
}

fn follow(
    scene: &Scene,
    control: &Control,
    duration: f64,
    name: &str,
) -> Result<Followed, DecideError> {
    let room = scene.line.room;
    let course = Course {
        control: control.clone(),
        duration,
        wanted: &|_| 0.0,
        told: &|_| 0.0,
        hall: &|_| room,
        filling: Filling::full(),
        cone: scene.case.below_inlet,
        press: Press {
            cone_cooling: scene.press.cone_cooling,
            ..Press::default()
        },
        harms: scene.harms,
        changes: Vec::new(),
        ready: false,
        fouling: Fouling::default(),
        picture_every: LOOK_EVERY,
        traced: false,
    };
    let begun = scene.begin(false)?;
    let followed = scene.line.follow(begun, &course, &mut |seen| seen);
    followed.map_err(|cause| DecideError::Line {
        title: name.to_owned(),
        cause: Box::new(cause),
    })
}

/// When it is ready, s.
fn released(followed: &Followed) -> Option<f64> {
    let step = followed.steps.iter().find(|step| step.orders.released)?;
    Some(step.time - step.duration)
}

fn never(starter: &Starter, control: &Control, followed: &Followed) -> DecideError {
    let inlets = followed.steps.iter().map(|step| step.inlet.0);
    DecideError::NeverReady {
        title: starter.name.to_owned(),
        hours: followed.steps.last().map_or(0.0, |step| step.time / 3600.0),
        set_point_c: celsius(control.set_point),
        comes_to_c: celsius(inlets.fold(0.0, f64::max)),
    }
}

/// Mean power of each minute, kW; of the last one that of what is known of it.
fn by_minute(steps: &[Step]) -> Vec<f64> {
    let end = steps.last().map_or(0.0, |step| step.time);
    let mut known = vec![(0.0, 0.0); minutes(end)];
    for step in steps {
        let from = step.time - step.duration;
        let first = minutes(from).saturating_sub(1);
        for (index, minute) in known.iter_mut().enumerate().skip(first) {
            let begins = 60.0 * index as f64;
            if begins >= step.time {
                break;
            }
            let within = step.time.min(begins + 60.0) - from.max(begins);
            if within > 0.0 {
                minute.0 += step.power * within;
                minute.1 += within;
            }
        }
    }
    let mean = known
        .into_iter()
        .map(|(energy, time): (f64, f64)| energy / time.max(1e-9) / 1e3);
    mean.collect()
}
