//! Another resin into the same hopper: what is drained, how long until the next dry pellet, what to do with what came
//! out, and what must never follow what.
//!
//! # Equations
//! 1. Drained: the hopper at rest is cut by height where its pellets come below the limit. What lies below is dry
//!    and hot, what lies above is half dried.
//! 2. Run down: the hopper is no longer filled and the press goes on; followed until nothing is left above the air.
//! 3. The next dry pellet: the hopper filled with the next resin while the dryer is hot, held at the next set point
//!    for one full stay, see [`crate::shift`].
//!
//! # Symbols
//! none.
//!
//! # Holds for
//! A hopper at rest at the planned rate before the change; air dryers. How clean a hopper is no formula tells.
//!
//! # Sources
//! That acetals and polyvinyl chloride never meet stands in the safety sheet of either; the rest is common practice,
//! no source.
//!
//! # Checked by
//! `crates/drybed/src/changeover/tests.rs`

use crate::DecideError;
use crate::case::celsius;
use crate::compare::unlike::{react, unlike};
use crate::plan::ppm_wet;
use crate::shift::{Days, Question as DaysAsked};
use crate::way;
use bed::steady::Place;
use job::{
    ChangeWay, Changeover as Coming, ControlSettings, DemandSense, Job, RoundDryer, Schedule,
    Stretch,
};
use line::control::Mode;
use line::equipment::Equipment;
use line::follow::{Followed, Happened};
use material::Resin;
use quantity::{Duration, Quantity};
use serde::Serialize;

/// What is asked.
pub struct Question<'a> {
    /// The job that runs.
    pub from: &'a Job,
    /// The job that comes.
    pub to: &'a Job,
    /// What is stated of the dryer.
    pub stated: &'a RoundDryer,
    /// What makes it, for the air flow (kg/s of dry air) and the set point (K) of the job that runs.
    pub dryer: &'a dyn Fn(f64, f64) -> Equipment,
}

/// Resin that was drained.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Part {
    /// Mass as weighed, kg.
    pub mass_kg: f64,
    /// Its mean moisture, ppm wet basis.
    pub mean_ppm_wet: f64,
    /// Its driest and its wettest pellets.
    pub between_ppm_wet: (f64, f64),
    /// Its mean temperature, degC.
    pub temperature_c: f64,
}

/// One way to empty the hopper.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Emptied {
    /// Time from the last filling until the next resin can be filled, h.
    pub takes_h: f64,
    /// Resin that the press makes parts of meanwhile, kg.
    pub made_kg: f64,
    /// Resin that is taken out, kg.
    pub drained_kg: f64,
    /// Share of what the press used that is wet.
    pub wet_share: f64,
}

/// A changeover.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Changeover {
    /// The resin that runs, and that comes.
    pub resins: (String, String),
    /// What the user calls the jobs.
    pub titles: (String, String),
    /// Why this must not be done, where it must not.
    pub never: Option<String>,
    /// Drying temperatures.
    pub set_points_c: (f64, f64),
    /// Below the temperature of the old air the new pellets would fuse: let it come down to this first.
    pub cool_first_c: Option<f64>,
    /// Whether they are of no common family, so that hopper, loader and hoses are cleaned.
    pub unlike: bool,
    /// What lies below the height where the pellets are dry.
    pub dry: Part,
    /// What lies above it.
    pub half_dried: Option<Part>,
    /// Drained at once.
    pub drain: Emptied,
    /// Run down by the press.
    pub run_down: Emptied,
    /// From filling in the next resin to its first dry pellet, h.
    pub next_dry_h: Option<f64>,
    /// Current drawn meanwhile, kWh.
    pub next_dry_kwh: f64,
    /// Limit of what was drained, ppm wet basis.
    pub limit_ppm_wet: f64,
    /// How long dry pellets may lie open, cold and hot, until they reach the limit, min; none where a day does not
    /// bring them there, or where the resin takes up no water.
    pub open_min: (Option<f64>, Option<f64>),
    /// Step by step.
    pub checklist: Vec<String>,
}

/// Time that the press runs before the change, s.
const BEFORE: f64 = 1800.0;
/// Time that draining takes, s (common practice, no source).
const DRAINING: f64 = 900.0;

/// What a changeover takes.
///
/// # Errors
/// When a job cannot be planned, or the dryer cannot be or be followed.
pub fn changeover(question: &Question) -> Result<Changeover, DecideError> {
    let (from, to) = (question.from, question.to);
    let resins: Vec<&Resin> = [&from.resin, &to.resin].to_vec();
    let never = react(&resins);
    let days = Days::of(&DaysAsked {
        schedule: &running(question, BEFORE),
        dryer: question.dryer,
    })?;
    let case = days.scene().case.clone();
    let (column, _) = case.column()?;
    let steady = column.steady(&case.drive())?;
    let way = way::of(from, &case, &steady, steady.outlet_moisture)?;
    let (dry, half_dried) = cut(&steady.lead.path, &case);
    let run_down = run_down(&days)?;
    let long = BEFORE + 3.0 * 3600.0 + 2.5 * crate::plan::settled(to)?.0.residence();
    let changed = Days::of(&DaysAsked {
        schedule: &coming(question, long),
        dryer: question.dryer,
    })?;
    let next = changed.last_scene().case.clone();
    let followed = changed.follow(&mut |seen| seen, f64::INFINITY)?;
    let (next_dry, energy) = next_dry(&followed);
    let hottest = next.hottest();
    let all = (case.bed_mass + case.below_inlet) * case.drawn;
    let mut found = Changeover {
        resins: (from.resin.name.clone(), to.resin.name.clone()),
        titles: (from.title.clone(), to.title.clone()),
        never,
        set_points_c: (celsius(case.air_temperature), celsius(next.air_temperature)),
        cool_first_c: (case.air_temperature > hottest).then(|| celsius(hottest)),
        unlike: unlike(&resins).is_some(),
        dry,
        half_dried,
        drain: Emptied {
            takes_h: DRAINING / 3600.0,
            made_kg: 0.0,
            drained_kg: all,
            wet_share: 0.0,
        },
        run_down,
        next_dry_h: next_dry.map(|seconds| seconds / 3600.0),
        next_dry_kwh: energy / 3.6e6,
        limit_ppm_wet: ppm_wet(case.limit),
        open_min: way.map_or((None, None), |way| {
            (way.open_cold.to_limit_min, way.open_hot.to_limit_min)
        }),
        checklist: Vec::new(),
    };
    found.checklist = checklist(&found);
    Ok(found)
}

/// What is dry and what is half dried of a hopper at rest.
fn cut(path: &[Place], case: &crate::case::Case) -> (Part, Option<Part>) {
    let wet = |place: &Place| place.moisture + place.free_water;
    let height = path
        .iter()
        .filter(|place| wet(place) > case.limit)
        .map(|place| place.height)
        .fold(f64::INFINITY, f64::min)
        .min(case.bed_mass);
    let part = |low: f64, high: f64, extra: f64| {
        let inside = |place: &&Place| place.height >= low && place.height <= high;
        let places: Vec<&Place> = path.iter().filter(inside).collect();
        let mean = |of: &dyn Fn(&Place) -> f64| {
            let (mut sum, mut mass) = (0.0, 0.0);
            for pair in places.windows(2) {
                let slice = (pair[0].height - pair[1].height).abs();
                sum += slice * 0.5 * (of(pair[0]) + of(pair[1]));
                mass += slice;
            }
            if mass > 0.0 {
                sum / mass
            } else {
                places.first().map_or(0.0, |place| of(place))
            }
        };
        let each = places.iter().map(|place| wet(place));
        let driest = each.clone().fold(f64::INFINITY, f64::min);
        Part {
            mass_kg: (high - low + extra) * case.drawn,
            mean_ppm_wet: ppm_wet(mean(&wet)),
            between_ppm_wet: (
                ppm_wet(if driest.is_finite() { driest } else { 0.0 }),
                ppm_wet(each.fold(0.0, f64::max)),
            ),
            temperature_c: celsius(mean(&|place| place.temperature)),
        }
    };
    let above = case.bed_mass - height;
    (
        part(0.0, height, case.below_inlet),
        (above > 1e-6 * case.bed_mass).then(|| part(height, case.bed_mass, 0.0)),
    )
}

/// The hopper no longer filled, until nothing is left above the air.
fn run_down(days: &Days) -> Result<Emptied, DecideError> {
    let case = &days.scene().case;
    let long = BEFORE + 1.05 * case.residence();
    let demand = vec![(0.0, long, case.rate)];
    let running = days.with_demand(demand, long).shut_from(BEFORE);
    let followed = running.follow(&mut |seen| seen, f64::INFINITY)?;
    let judged = running.judged(&followed)?;
    let masses = running.masses(&followed, &judged);
    let empty = followed
        .events
        .iter()
        .find(|event| event.what == Happened::RanEmpty)
        .map_or(long, |event| event.time);
    Ok(Emptied {
        takes_h: (empty - BEFORE) / 3600.0,
        made_kg: case.bed_mass * case.drawn,
        drained_kg: case.below_inlet * case.drawn,
        wet_share: masses.share(masses.wet_kg),
    })
}

/// From filling in the next resin until it is given out, s, and the current drawn, J.
fn next_dry(followed: &Followed) -> (Option<f64>, f64) {
    let changed = followed.events.iter().find_map(|event| match event.what {
        Happened::Changed(_) => Some(event.time),
        _ => None,
    });
    let Some(changed) = changed else {
        return (None, 0.0);
    };
    let given_out = followed
        .events
        .iter()
        .find(|event| event.time > changed && event.what == Happened::Mode(Mode::Drying))
        .map(|event| event.time);
    let end = given_out.unwrap_or(f64::INFINITY);
    let steps = followed.steps.iter();
    let energy = steps
        .filter(|step| step.time > changed && step.time <= end)
        .map(|step| step.power * step.duration)
        .sum();
    (given_out.map(|time| time - changed), energy)
}

/// Step by step.
fn checklist(found: &Changeover) -> Vec<String> {
    let (old, new) = &found.resins;
    let mut steps = Vec::new();
    if let Some(never) = &found.never {
        steps.push(format!("Stop: {never}."));
        return steps;
    }
    steps.push(format!(
        "Close the feed of {old}; mark container and loader."
    ));
    steps.push(
        "Hot pellets and surfaces: gloves, sleeves, a container that stands heat and a lid."
            .to_owned(),
    );
    steps.push(format!(
        "Run the press on for {old} until the hopper is down to the air inlet, or drain it."
    ));
    steps.push(format!(
        "Seal what was drained dry at once and label it: {old}, moisture, time, usable until."
    ));
    if found.half_dried.is_some() {
        steps.push(format!(
            "Label what was half dried: {old}, half dried, dry again before use. Keep it apart."
        ));
    }
    steps.push("Empty the cone, the loader, the hoses and the hopper on the press.".to_owned());
    if found.unlike {
        steps.push(
            "Clean hopper, cone, loader, hoses and filter; look with a lamp for pellets left in corners.".to_owned(),
        );
    }
    if let Some(cool) = found.cool_first_c {
        steps.push(format!(
            "Let the air come below {cool:.0} degC before {new} is filled in: hotter air would fuse it."
        ));
    }
    steps.push(format!(
        "Set the air for {new}; a second person reads the set point."
    ));
    steps.push(format!(
        "Fill {new}, and hold the press until it has been dried."
    ));
    steps.push("Put what lay below the air back on top before the first shot.".to_owned());
    steps.push(
        "Take a sample at the throat, and write down time, set point and dew point.".to_owned(),
    );
    steps
}

/// A schedule with the job that runs, and for so long (s) that which comes after it.
fn coming(question: &Question, long: f64) -> Schedule {
    let (from, to) = (question.from, question.to);
    Schedule {
        demand: vec![
            Stretch::run(0.0, BEFORE, from.demand.peak()),
            Stretch::run(BEFORE, long, to.demand.peak()),
        ],
        changeovers: vec![Coming {
            at: BEFORE,
            job: to.clone(),
            way: ChangeWay::Drain,
            name: to.title.clone(),
        }],
        ..running(question, long)
    }
}

/// A schedule with the job that runs alone, for so long (s).
fn running(question: &Question, long: f64) -> Schedule {
    Schedule {
        control: ControlSettings {
            sense: Some(DemandSense::Told),
            ..ControlSettings::default()
        },
        ..Schedule::of_job(question.from, *question.stated, Duration::from_si(long))
    }
}
