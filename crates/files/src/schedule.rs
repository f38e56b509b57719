//! A schedule file: what one dryer and its hopper go through over days.
//!
//! Times are read from the clocks of a zone and counted as they pass, so that a night in which clocks are put back
//! has an hour more. Hours of work, orders and stops become stretches without gap or overlap.

mod control;
mod control_fields;
mod demand;
mod event_fields;
mod events;
mod fields;
mod hours;
mod log;
mod log_fields;
mod log_rows;
mod plan;
mod plan_fields;
mod plan_rows;
mod table;
mod times;

pub use fields::SCHEDULE;

use crate::bag::{Bag, Entry};
use crate::desiccant::Desiccants;
use crate::equipment::StatedDryer;
use crate::job_file::open_job;
use crate::library::Library;
use crate::order::in_order;
use crate::reference;
use crate::round::dryer;
use crate::text::Text;
use crate::whole::{Kept, stem, whole};
use demand::{Stretches, Usual};
use job::{Beginning, Chances, Changeover, Job, LevelChange, Loader, Schedule, Stretch};
use plan::Around;
use quantity::{Duration, Faults, Frequency};
use std::path::Path;
use times::{Span, Times};

/// A schedule as it was read.
#[derive(Clone, Debug)]
pub struct ScheduleRead {
    /// The schedule.
    pub schedule: Schedule,
    /// The dryer, where the schedule names its record.
    pub record: Option<StatedDryer>,
    /// What was left out of what was read, and why.
    pub notes: Vec<String>,
}

/// The reference page of schedule files and of the tables they name, in Markdown.
pub fn schedule_page() -> String {
    reference::page(&SCHEDULE) + &log_rows::page() + &plan_rows::page()
}

/// Reads a schedule whose text did not come from a file; what it names is looked for from the present folder.
///
/// # Errors
/// Every mistake in the text, and in the jobs and the record it names.
pub fn read_schedule(
    text: &str,
    file: &str,
    library: &Library,
    desiccants: &Desiccants,
) -> Result<ScheduleRead, Faults> {
    read_in(Path::new(""), &Text::new(file, text), library, desiccants)
}

/// Reads a schedule from a file, see [`read_schedule`]; what it names is looked for beside it.
///
/// # Errors
/// As [`read_schedule`], and a file that is missing, cannot be opened, is too long or is not text.
pub fn open_schedule(
    path: &Path,
    library: &Library,
    desiccants: &Desiccants,
) -> Result<ScheduleRead, Faults> {
    let text = Text::open(path)?;
    let folder = path.parent().unwrap_or_else(|| Path::new(""));
    read_in(folder, &text, library, desiccants)
}

fn read_in(
    folder: &Path,
    text: &Text,
    library: &Library,
    desiccants: &Desiccants,
) -> Result<ScheduleRead, Faults> {
    let mend = "give a file that describes days on one dryer";
    let (bag, mut faults) = whole(text, &SCHEDULE, "a schedule", mend)?;
    let times = Times::of(&bag, &mut faults);
    let mut kept = Kept(&mut faults);
    // Where a name is missing the reader has told of it.
    let name = bag.get("job", Entry::text);
    let job = name.and_then(|name| kept.of(open_job(&folder.join(name), library)));
    let table = bag.get("dryer", Entry::table);
    let dryer = table.and_then(|table| kept.of(dryer::of(&table, folder, desiccants)));
    let control = bag.get("control", Entry::table);
    let control = control.map_or(Ok(job::ControlSettings::default()), |table| {
        control::of(&table)
    });
    let control = kept.of(control).unwrap_or_default();
    let Some(times) = times else {
        return Err(in_order(faults));
    };
    let mut kept = Kept(&mut faults);
    // Where hours are refused, nothing lies outside them.
    let work = kept.of(hours::work(&bag, &times));
    let work = work.unwrap_or_else(|| vec![Span::ALWAYS]);
    let stretches = kept.of(Stretches::of(&bag, &times, work));
    let changeovers = kept.of(events::changeovers(&bag, &times, folder, library));
    let mut levels = kept.of(events::levels(&bag, &times)).unwrap_or_default();
    let refills = kept.of(events::refills(&bag, &times)).unwrap_or_default();
    let hall = kept.of(events::hall(&bag, &times)).unwrap_or_default();
    let (Some(job), Some((dryer, record)), Some(stretches), Some(changeovers), Some(length)) =
        (job, dryer, stretches, changeovers, times.length)
    else {
        return Err(in_order(faults));
    };
    faults.or(()).map_err(in_order)?;
    let mut notes = Vec::new();
    let days = Days {
        bag: &bag,
        folder,
        times: &times,
        library,
        length,
    };
    let drawn = days.drawn(&job, stretches, changeovers, &mut notes)?;
    if !drawn.levels.is_empty() {
        levels = drawn.levels;
    }
    Ok(ScheduleRead {
        schedule: Schedule {
            title: bag
                .get("title", Entry::text)
                .unwrap_or_else(|| stem(&text.name, "schedule")),
            clock: times.clock,
            length: Duration::from_seconds(length),
            job,
            dryer,
            demand: drawn.demand,
            changeovers: drawn.changeovers,
            levels,
            refills,
            loader: loader(&bag),
            hall,
            begins_as: match bag.get("begins_as", Entry::choice) {
                Some("running") => Beginning::Running,
                _ => Beginning::Cold,
            },
            control,
            chances: chances(&bag),
        },
        record,
        notes,
    })
}

/// What tells what is drawn in the days of a schedule.
struct Days<'a> {
    bag: &'a Bag,
    folder: &'a Path,
    times: &'a Times,
    library: &'a Library,
    length: f64,
}

/// What is drawn, and what comes into the hopper.
struct Drawn {
    demand: Vec<Stretch>,
    changeovers: Vec<Changeover>,
    /// Those of a log; none where there is none of levels.
    levels: Vec<LevelChange>,
}

impl Days<'_> {
    /// What a log, a plan, or else the orders say.
    fn drawn(
        &self,
        job: &Job,
        stretches: Stretches,
        changeovers: Vec<Changeover>,
        notes: &mut Vec<String>,
    ) -> Result<Drawn, Faults> {
        let (bag, length) = (self.bag, self.length);
        let mut usual = usual(job, &changeovers);
        let mut said = Drawn {
            demand: Vec::new(),
            changeovers,
            levels: Vec::new(),
        };
        let mut stretches = stretches;
        if let Some(table) = bag.get("log", Entry::table) {
            let (demand, loader) = (usual[0].demand, loader(bag));
            let logged = log::read(&table, self.folder, self.times, demand, loader, notes)?;
            said.levels = logged.levels;
            if let Some(drawn) = logged.drawn {
                said.demand = drawn.resolved(stretches.work(), length);
                return Ok(said);
            }
        } else if let Some(table) = bag.get("plan", Entry::table) {
            let around = Around {
                times: self.times,
                length,
                library: self.library,
                work: stretches.work(),
                open: &stretches.open(),
                begins_with: self.folder.join(bag.need("job", Entry::text)?),
            };
            let plan = plan::read(&table, self.folder, &around, usual.clone(), notes)?;
            if !plan.changeovers.is_empty() {
                said.changeovers = plan.changeovers;
                usual = self::usual(job, &said.changeovers);
            }
            stretches = stretches.planned(plan.orders);
        }
        said.demand = stretches.resolved(bag, &usual, length)?;
        Ok(said)
    }
}

/// What is drawn where no order says otherwise: that of the job in the hopper.
fn usual(job: &Job, changeovers: &[Changeover]) -> Vec<Usual> {
    let of = |from: f64, job: &Job, name: &str| Usual {
        from,
        demand: job.demand,
        name: name.to_owned(),
    };
    let mut all = vec![of(0.0, job, &job.title)];
    all.extend(
        changeovers
            .iter()
            .map(|change| of(change.at, &change.job, &change.name)),
    );
    all
}

fn loader(bag: &Bag) -> Option<Loader> {
    let table = bag.get("loader", Entry::table)?;
    let batch = table.get("batch", Entry::quantity)?;
    Some(Loader { batch })
}

fn chances(bag: &Bag) -> Chances {
    let Some(table) = bag.get("chances", Entry::table) else {
        return Chances::default();
    };
    let stops = table.get("stops_per_hour", Entry::quantity::<Frequency>);
    Chances {
        stops_per_hour: stops.map(Frequency::per_hour),
        stop_length: table.get("stop_length", Entry::quantity),
        rate_spread: table.get("rate_spread", Entry::quantity),
        lateness: table.get("lateness", Entry::quantity),
    }
}

#[cfg(test)]
mod tests;
