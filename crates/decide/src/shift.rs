//! Days on one dryer: what every lot goes through, what leaves wet, in its window or after too long, and what it
//! costs in energy.
//!
//! # Equations
//! 1. The line of the job with its dryer is followed by [`line::follow`] through what the schedule asks, with the
//!    control as it is stated and what is usual besides.
//! 2. Two more streams through the hopper, faster and slower than the mean by two deviations of the residence,
//!    live in the same air. With what the lot took up on the press they give the share of it that
//!    is wetter than the limit or drier than the lower edge.
//!
//! # Symbols
//! none.
//!
//! # Holds for
//! One dryer with one hopper. Doubt of the resin is not in these shares; that of a plan stands with the plan.
//!
//! # Sources
//! As the parts.
//!
//! # Checked by
//! `crates/drybed/src/shift/tests.rs`

mod control;
mod journey;
pub(crate) mod scene;
mod streams;
mod tally;
mod timeline;
mod why;

pub use control::Chosen;
pub use journey::{JourneyPoint, Place};
pub use tally::{LotTold, MAY_BE, Masses};
pub use timeline::Row;
pub use why::{Cause, Worst};

use crate::DecideError;
use crate::case::celsius;
use crate::humidity::frost_point_c;
use crate::plan::ppm_wet;
use control::on_before;
use job::{Beginning, ChangeWay, Schedule, StretchKind};
use line::control::Control;
use line::equipment::Equipment;
use line::follow::{Change, Course, Filling, Followed, Fouling, Happened};
use line::{LineState, Room};
use quantity::{Ledger, Quantity};
use rayon::prelude::*;
use scene::{Scene, room_at, room_of};
use serde::Serialize;
use streams::{Spread, Stream};
pub(crate) use tally::Judged;
use tally::Window;

/// What is asked.
pub struct Question<'a> {
    /// The days.
    pub schedule: &'a Schedule,
    /// What makes the dryer, for the air flow (kg/s of dry air) and the set point (K) of a job.
    pub dryer: &'a dyn Fn(f64, f64) -> Equipment,
}

/// Days that were followed.
#[derive(Clone, Debug, Serialize)]
pub struct Shift {
    /// What the user calls them.
    pub title: String,
    /// The resin at their beginning.
    pub resin: String,
    /// Hours followed.
    pub hours: f64,
    /// What became of the resin.
    pub masses: Masses,
    /// The limit at the outlet of the hopper and at the screw, and the lower edge where there is one.
    pub limit_ppm_wet: f64,
    /// Drier than this is a defect, where the resin has one.
    pub lower_edge_ppm_wet: Option<f64>,
    /// The wettest lot, and why.
    pub wettest: Option<Worst>,
    /// The lot that was hot for longest.
    pub longest: Option<Worst>,
    /// Hours that the press waited for dry resin.
    pub waited_h: f64,
    /// Resin that the press wanted and did not get, kg as weighed.
    pub not_made_kg: f64,
    /// Energy, kWh.
    pub energy_kwh: f64,
    /// Energy over the resin made, kWh/kg.
    pub energy_kwh_kg: Option<f64>,
    /// Highest power, kW.
    pub peak_kw: f64,
    /// Frost points (dew points above 0 degC) of the driest and wettest air delivered while resin was drawn.
    pub frost_points_c: Option<(f64, f64)>,
    /// Resin drained at changeovers, kg as weighed.
    pub drained_kg: f64,
    /// What happened, in the order of time.
    pub events: Vec<EventTold>,
    /// While by while.
    pub rows: Vec<Row>,
    /// The journey of the wettest lot.
    pub journey: Vec<JourneyPoint>,
    /// The inside of the hopper over time.
    pub inside: Vec<Inside>,
    /// What of the control was chosen here.
    pub chosen: Vec<Chosen>,
    /// Set point, and that to which it is set back.
    pub set_points_c: (f64, Option<f64>),
    /// Water, kg.
    pub water: Ledger,
    /// Energy, J.
    pub energy: Ledger,
}

/// Something that happened.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EventTold {
    /// Hours since the beginning.
    pub hour: f64,
    /// What, in words.
    pub what: String,
}

/// The inside of the hopper at a moment, up from the air inlet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Inside {
    /// Hours since the beginning.
    pub hour: f64,
    /// Share of the resin below, of a full bed; temperature, degC; moisture, ppm wet.
    pub layers: Vec<(f64, f64, f64)>,
}

/// Time between two pictures of the inside, s.
const PICTURE_EVERY: f64 = 1800.0;

/// Everything that days are followed with.
#[derive(Clone)]
pub(crate) struct Days {
    pub(crate) scenes: Vec<Scene>,
    demand: Vec<(f64, f64, f64)>,
    hall: Vec<(f64, Room)>,
    filling: Filling,
    duration: f64,
    running: bool,
    changes: Vec<f64>,
    /// How far ahead the schedule tells of what is wanted, s.
    foresight: f64,
    begun: LineState,
}

/// Follows the days of a schedule.
///
/// # Errors
/// When a job of it cannot be planned, or the dryer cannot be or be followed.
pub fn shift(question: &Question) -> Result<Shift, DecideError> {
    let days = Days::of(question)?;
    let followed = days.follow(&mut |seen| seen, PICTURE_EVERY)?;
    let judged = days.judged(&followed)?;
    Ok(told(question.schedule, &days, &followed, &judged))
}

impl Days {
    /// The days of a schedule, with the control as stated.
    ///
    /// # Errors
    /// As [`shift`].
    pub(crate) fn of(question: &Question) -> Result<Self, DecideError> {
        let schedule = question.schedule;
        let settings = &schedule.control;
        let loader = schedule.loader.as_ref();
        let first = Scene::of(&schedule.job, question.dryer, settings, loader)?;
        let equipment = (question.dryer)(first.case.air_flow, first.case.air_temperature);
        let mut scenes = vec![first];
        for change in &schedule.changeovers {
            let (case, given) = crate::plan::settled(&change.job)?;
            scenes.push(Scene::with(
                &change.job,
                (&case, given),
                &equipment,
                settings,
                loader,
            )?);
        }
        let drawn = scenes[0].case.drawn;
        let demand = schedule
            .demand
            .iter()
            .map(|stretch| (stretch.from, stretch.to, stretch.rate.si() / drawn))
            .collect();
        let pressure = scenes[0].case.pressure;
        let mut hall = Vec::new();
        for moment in &schedule.hall {
            hall.push((moment.at, room_at(moment, pressure)?));
        }
        if hall.is_empty() {
            hall.push((0.0, room_of(&schedule.job)?));
        }
        let off = off_times(schedule, on_before(&scenes[0].control, settings));
        for scene in &mut scenes {
            scene.control.off.clone_from(&off);
        }
        let filling = filling(schedule, &scenes);
        let running = schedule.begins_as == Beginning::Running;
        Ok(Self {
            demand,
            hall,
            filling,
            duration: schedule.length.si(),
            running,
            foresight: 0.0,
            begun: scenes[0].begin(running)?,
            changes: schedule
                .changeovers
                .iter()
                .map(|change| change.at)
                .collect(),
            scenes,
        })
    }

    /// Dry resin wanted, stretch after stretch: from, to (s), kg/s.
    pub(crate) fn demand(&self) -> &[(f64, f64, f64)] {
        &self.demand
    }

    /// How the dryer is run at their beginning.
    pub(crate) fn control(&self) -> &Control {
        &self.scenes[0].control
    }

    /// The drying temperature at their beginning, K.
    pub(crate) fn set_point(&self) -> f64 {
        self.scenes[0].case.air_temperature
    }

    /// The resin at their beginning.
    pub(crate) fn resin(&self) -> &str {
        &self.scenes[0].case.lead.resin.name
    }

    /// The same hopper and dryer with other demand for so long, s.
    pub(crate) fn with_demand(&self, demand: Vec<(f64, f64, f64)>, duration: f64) -> Self {
        Self {
            demand,
            duration,
            ..self.clone()
        }
    }

    /// The same days with the dryer run otherwise from their beginning, by a control that is told of what will be
    /// wanted so far ahead (s).
    pub(crate) fn run_as(&self, control: &Control, foresight: f64) -> Self {
        let mut days = self.clone();
        days.scenes[0].control = Control {
            off: days.scenes[0].control.off.clone(),
            ..control.clone()
        };
        days.foresight = foresight;
        days
    }

    /// The same with the dryer off at times, from and to, s.
    pub(crate) fn off_at(mut self, off: Vec<(f64, f64)>) -> Self {
        self.scenes[0].control.off = off;
        self
    }

    /// The same with a hopper that is not filled from a time (s) on.
    pub(crate) fn shut_from(mut self, time: f64) -> Self {
        self.filling.shut = vec![(time, f64::INFINITY)];
        self
    }

    /// The scene at their end.
    pub(crate) fn last_scene(&self) -> &Scene {
        &self.scenes[self.scenes.len() - 1]
    }

    /// The scene at their beginning.
    pub(crate) fn scene(&self) -> &Scene {
        &self.scenes[0]
    }

    /// The same with a bed as coarse as a search wants it; it begins anew with what is drawn of the resin.
    pub(crate) fn coarse(&self) -> Self {
        let mut days = self.clone();
        for scene in &mut days.scenes {
            scene.coarsen();
        }
        days
    }

    /// Deviate of each dimension of the doubt of the resin at the beginning, so many deviations away in the direction
    /// in which it comes out wetter soonest.
    ///
    /// # Errors
    /// From the bed.
    pub(crate) fn unlucky(&self, deviations: f64) -> Result<Vec<f64>, DecideError> {
        self.scenes[0].unlucky(deviations)
    }

    /// The same days with what is in doubt of the resin moved by the standard normal deviate of its dimension; the
    /// control knows nothing of it.
    ///
    /// # Errors
    /// From the line.
    pub(crate) fn with_doubt(&self, deviate: &dyn Fn(u32) -> f64) -> Result<Self, DecideError> {
        let mut days = self.clone();
        days.scenes[0].draw(deviate)?;
        days.begun = days.scenes[0].begin(days.running)?;
        Ok(days)
    }

    /// Follows them; `instruments` make of what is true what the control sees.
    pub(crate) fn follow(
        &self,
        instruments: &mut dyn FnMut(line::control::Seen) -> line::control::Seen,
        picture_every: f64,
    ) -> Result<Followed, DecideError> {
        let first = &self.scenes[0];
        let wanted = |time: f64| self.wanted(time);
        let told = |time: f64| self.most_wanted(time, time + self.foresight);
        let hall = |time: f64| hall_at(&self.hall, time);
        let changes = self.scenes[1..].iter().zip(&self.changes);
        let course = Course {
            control: first.control.clone(),
            duration: self.duration,
            wanted: &wanted,
            told: &told,
            hall: &hall,
            filling: self.filling.clone(),
            cone: first.case.below_inlet,
            press: first.press.clone(),
            harms: first.harms,
            changes: changes
                .map(|(scene, &at)| Change {
                    at,
                    station: scene.line.stations[0].clone(),
                    control: scene.control.clone(),
                    cone: scene.case.below_inlet,
                    press: scene.press.clone(),
                    harms: scene.harms,
                })
                .collect(),
            ready: self.running,
            fouling: Fouling::default(),
            picture_every,
            traced: true,
        };
        let fail = |cause| DecideError::Line {
            title: first.case.lead.resin.name.clone(),
            cause: Box::new(cause),
        };
        first
            .line
            .follow(self.begun.clone(), &course, instruments)
            .map_err(fail)
    }

    /// Dry resin that is wanted at a time, kg/s.
    fn wanted(&self, time: f64) -> f64 {
        let after = self.demand.partition_point(|&(_, to, _)| to <= time);
        let now = self.demand.get(after);
        now.map_or(
            0.0,
            |&(from, _, rate)| if from <= time { rate } else { 0.0 },
        )
    }

    /// The most that is wanted between two times, kg/s.
    fn most_wanted(&self, from: f64, to: f64) -> f64 {
        let first = self.demand.partition_point(|&(_, end, _)| end <= from);
        let later = self.demand[first..]
            .iter()
            .take_while(|&&(begin, _, _)| begin <= to);
        later.fold(0.0, |most: f64, &(_, _, rate)| most.max(rate))
    }

    /// Every lot with its fast and its slow stream, resin after resin.
    pub(crate) fn judged(&self, followed: &Followed) -> Result<Vec<Judged>, DecideError> {
        let mut judged = Vec::new();
        for (index, (scene, lots)) in self.scenes.iter().zip(&followed.used).enumerate() {
            let from = followed.trace.partition_point(|step| step.station < index);
            let to = followed.trace.partition_point(|step| step.station <= index);
            let trace = &followed.trace[from..to];
            let time: f64 = followed.trace[..from]
                .iter()
                .map(|step| step.duration)
                .sum();
            let column = &scene.line.stations[0].column;
            let state = if index == 0 {
                self.begun.column(0).cloned()
            } else {
                None
            };
            let feed = &scene.line.stations[0].feed;
            let state = state
                .unwrap_or_else(|| column.filled(feed.temperature, feed.moisture, feed.free_water));
            let spread = scene.case.residence_spread;
            let follow =
                |deviates: f64| Stream::follow(column, &state, (trace, time), (spread, deviates));
            // Where nothing is too dry the slow stream only mirrors the fast one.
            let away: &[f64] = match scene.case.lower_edge {
                Some(_) => &[Spread::AWAY, -Spread::AWAY],
                None => &[Spread::AWAY],
            };
            let streams: Vec<Stream> = away
                .into_par_iter()
                .map(|&deviates| follow(deviates))
                .collect::<Result<_, _>>()?;
            for lot in lots {
                let at = |stream: &Stream| stream.at(lot.left_air).unwrap_or(lot.dried);
                let fast = at(&streams[0]);
                let slow = streams
                    .get(1)
                    .map_or(lot.dried * lot.dried / fast.max(lot.dried), at);
                judged.push(Judged {
                    lot: *lot,
                    spread: Spread {
                        mean: lot.water(),
                        fast: fast + lot.taken_up,
                        slow: slow + lot.taken_up,
                    },
                });
            }
        }
        Ok(judged)
    }

    /// What became of the resin.
    pub(crate) fn masses(&self, followed: &Followed, judged: &[Judged]) -> Masses {
        let mut rest = judged;
        let mut sum = Masses::default();
        for (scene, lots) in self.scenes.iter().zip(&followed.used) {
            let (mine, others) = rest.split_at(lots.len());
            rest = others;
            let window = window(scene);
            for judged in mine {
                sum = sum.and(judged.masses(&window, scene.case.drawn));
            }
        }
        sum
    }
}

fn window(scene: &Scene) -> Window {
    Window {
        limit: scene.case.limit,
        lower_edge: scene.case.lower_edge,
    }
}

/// The hall at a time, straight between its moments.
fn hall_at(moments: &[(f64, Room)], time: f64) -> Room {
    let after = moments.partition_point(|&(at, _)| at < time);
    let last = moments[moments.len() - 1].1;
    let Some(&(t1, next)) = moments.get(after) else {
        return last;
    };
    let Some(&(t0, before)) = after.checked_sub(1).and_then(|index| moments.get(index)) else {
        return next;
    };
    let share = (time - t0) / (t1 - t0);
    let between = |a: f64, b: f64| a + (b - a) * share;
    Room {
        temperature: between(before.temperature, next.temperature),
        humidity: between(before.humidity, next.humidity),
        pressure: before.pressure,
    }
}

/// When the dryer is off: while nobody works, until some time before they do again.
fn off_times(schedule: &Schedule, before: f64) -> Vec<(f64, f64)> {
    if schedule.control.off_when_closed != Some(true) {
        return Vec::new();
    }
    let mut closed: Vec<(f64, f64)> = Vec::new();
    for stretch in &schedule.demand {
        if stretch.kind != StretchKind::Closed {
            continue;
        }
        match closed.last_mut() {
            Some(last) if (last.1 - stretch.from).abs() < 1.0 => last.1 = stretch.to,
            _ => closed.push((stretch.from, stretch.to)),
        }
    }
    let end = schedule.length.si();
    closed
        .into_iter()
        .map(|(from, to)| (from, if to >= end { to } else { to - before }))
        .filter(|(from, to)| to - from > 0.0)
        .collect()
}

fn filling(schedule: &Schedule, scenes: &[Scene]) -> Filling {
    let case = &scenes[0].case;
    let dry = |wet: f64| wet / (1.0 + case.fed_water());
    let changeovers = schedule.changeovers.iter().zip(scenes);
    Filling {
        levels: schedule
            .levels
            .iter()
            .map(|change| (change.at, change.level.si()))
            .collect(),
        batch: schedule.job.hopper.batch.map(|batch| dry(batch.si())),
        by_hand: schedule
            .refills
            .iter()
            .map(|refill| (refill.at, refill.mass.map(|mass| dry(mass.si()))))
            .collect(),
        shut: changeovers
            .filter(|(change, _)| change.way == ChangeWay::RunDown)
            .map(|(change, scene)| (change.at - scene.case.residence(), change.at))
            .collect(),
    }
}

/// The answer for people.
fn told(schedule: &Schedule, days: &Days, followed: &Followed, judged: &[Judged]) -> Shift {
    let first = &days.scenes[0];
    let case = &first.case;
    let masses = days.masses(followed, judged);
    let energy_kwh = followed.electricity() / 3.6e6;
    let made = masses.all_kg;
    let wanted: f64 = followed.steps.iter().map(|s| s.press.0 * s.duration).sum();
    let drew: f64 = followed.steps.iter().map(|s| s.press.1 * s.duration).sum();
    let power = followed.steps.iter().map(|s| s.power);
    let wettest = why::wettest(days, followed, judged);
    let worst = judged
        .iter()
        .max_by(|a, b| a.spread.fast.total_cmp(&b.spread.fast));
    Shift {
        title: schedule.title.clone(),
        resin: case.lead.resin.name.clone(),
        hours: days.duration / 3600.0,
        masses,
        limit_ppm_wet: ppm_wet(case.limit),
        lower_edge_ppm_wet: case.lower_edge.map(ppm_wet),
        wettest,
        longest: why::longest(judged),
        waited_h: followed.waited / 3600.0,
        not_made_kg: (wanted - drew).max(0.0) * case.drawn,
        energy_kwh,
        energy_kwh_kg: (made > 0.0).then(|| energy_kwh / made),
        peak_kw: 1e-3 * power.fold(0.0, f64::max),
        frost_points_c: frost_points(followed, case.pressure),
        drained_kg: drained(followed) * case.drawn,
        events: why::events(followed),
        rows: timeline::rows(
            &followed.steps,
            judged,
            (case.drawn, case.bed_mass, case.air_flow, case.pressure),
        ),
        journey: worst.map_or(Vec::new(), |judged| journey::of(followed, &judged.lot)),
        inside: inside(followed, case.bed_mass),
        chosen: first.chosen.clone(),
        set_points_c: (
            celsius(case.air_temperature),
            control::set_back_to(&first.control),
        ),
        water: followed.water(),
        energy: followed.energy(),
    }
}

fn frost_points(followed: &Followed, pressure: f64) -> Option<(f64, f64)> {
    let drying = followed
        .steps
        .iter()
        .filter(|step| step.orders.on && step.orders.released && step.drawn > 0.0);
    let found = drying.map(|step| frost_point_c(step.delivered, timeline::WARM, pressure));
    found.fold(None, |range, point| {
        let (low, high) = range.unwrap_or((point, point));
        Some((point.min(low), point.max(high)))
    })
}

fn drained(followed: &Followed) -> f64 {
    let each = followed.events.iter().map(|event| match &event.what {
        Happened::Changed(drained) => drained.mass + drained.beyond,
        _ => 0.0,
    });
    each.sum()
}

fn inside(followed: &Followed, full: f64) -> Vec<Inside> {
    let each = followed.pictures.iter().map(|picture| Inside {
        hour: picture.time / 3600.0,
        layers: picture
            .layers
            .iter()
            .map(|&(below, t, water)| (below / full, celsius(t), ppm_wet(water)))
            .collect(),
    });
    each.collect()
}
