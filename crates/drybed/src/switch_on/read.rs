//! What is asked of a hall, from files and words.

use super::{Asked, AskedHall};
use files::{Desiccants, Library, ScheduleRead, clock, open_schedule};
use job::{Clock, Schedule, StretchKind};
use quantity::{Duration, Fault, FaultKind, Faults, Misread, Place, Power};
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::str::FromStr;

/// Where a time is written.
const READY: &str = "--ready";

/// What is asked, as it was written.
#[derive(Clone, Debug, Default)]
pub struct SwitchOnWords {
    /// When the first dry pellet is wanted: one for all, or one for each file in their
    /// order; when the press of each schedule first draws where none is given.
    pub ready: Vec<String>,
    /// What all together may take.
    pub peak: Option<String>,
    /// What else is on and counts.
    pub base: Option<String>,
}

/// Reads it all.
///
/// # Errors
/// Every mistake.
pub(super) fn files(
    paths: &[PathBuf],
    library: &Library,
    words: &SwitchOnWords,
) -> Result<AskedHall, Faults> {
    let mut faults = Faults::none();
    let limit = words
        .peak
        .as_ref()
        .and_then(|peak| power("--peak", peak, &mut faults));
    let base = words
        .base
        .as_ref()
        .and_then(|base| power("--base", base, &mut faults));
    let desiccants = Desiccants::shipped()?;
    let mut opened = Vec::new();
    for path in paths {
        match open_schedule(path, library, &desiccants) {
            Ok(one) => opened.push(one),
            Err(more) => faults.extend(more.0),
        }
    }
    let Some(clock) = opened.first().map(|first| first.schedule.clock.clone()) else {
        if faults.is_empty() {
            let (place, cause) = (Place::of("", "SCHEDULE"), "no schedule is given");
            let mend = "give the schedule file of each dryer";
            faults.push(Fault::new(FaultKind::MissingField, place, "", cause, mend));
        }
        return Err(faults);
    };
    let whole = opened.len() == paths.len();
    let wanted = wanted(
        &words.ready,
        whole.then_some(&opened[..]),
        &clock,
        &mut faults,
    );
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut seen = BTreeMap::new();
    let mut read = Vec::new();
    let dryers = opened.into_iter().zip(wanted).map(|(one, wanted)| {
        read.extend(one.notes);
        Asked {
            name: once(one.schedule.title, &mut seen),
            job: one.schedule.job,
            dryer: one.schedule.dryer,
            record: one.record,
            control: one.schedule.control,
            wanted: Duration::from_seconds(wanted),
        }
    });
    Ok(AskedHall {
        dryers: dryers.collect(),
        clock,
        read,
        limit,
        base: base.unwrap_or(Power::from_watts(0.0)),
    })
}

/// A name that no other dryer has.
fn once(name: String, seen: &mut BTreeMap<String, u32>) -> String {
    let times = seen.entry(name.clone()).or_insert(0);
    *times += 1;
    match *times {
        1 => name,
        several => format!("{name} ({several})"),
    }
}

/// A power that can be.
fn power(option: &str, written: &str, faults: &mut Faults) -> Option<Power> {
    let place = || Place::of("", option);
    match Power::from_str(written) {
        Ok(power) if power.watts() >= 0.0 && power.watts().is_finite() => Some(power),
        Ok(_) => {
            let mend = "write a power of zero or more, for example \"12 kW\"";
            faults.push(Fault::new(
                FaultKind::OutOfRange,
                place(),
                written,
                "a power here is not negative",
                mend,
            ));
            None
        }
        Err(misread) => {
            let misread: Misread = misread;
            faults.push(misread.at(place(), written));
            None
        }
    }
}

/// When each is wanted, s since the first schedule begins; the words alone are read where not all schedules could be.
fn wanted(
    ready: &[String],
    opened: Option<&[ScheduleRead]>,
    clock: &Clock,
    faults: &mut Faults,
) -> Vec<f64> {
    let place = || Place::of("", READY);
    let mut each = Vec::new();
    for written in ready {
        match clock::seconds(clock, written) {
            Ok(seconds) => each.push(seconds),
            Err(why) => {
                faults.push(Fault::new(why.kind, place(), written, why.cause, why.mend));
            }
        }
    }
    let Some(opened) = opened else {
        return each;
    };
    let count = opened.len();
    if ready.len() > 1 && ready.len() != count {
        let cause = format!("{} times are given for {count} dryers", ready.len());
        let mend = "give --ready once for all, or once for each file in their order";
        faults.push(Fault::new(
            FaultKind::Inconsistent,
            place(),
            "",
            cause,
            mend,
        ));
    }
    match each[..] {
        [] => {
            let schedules = opened.iter().map(|one| &one.schedule);
            schedules.map(|one| first_drawn(one, clock)).collect()
        }
        [one] => vec![one; count],
        _ => each,
    }
}

/// When the press of a schedule first draws, or the schedule begins, s since another clock begins.
fn first_drawn(schedule: &Schedule, clock: &Clock) -> f64 {
    let mut stretches = schedule.demand.iter();
    let runs = stretches.find(|stretch| stretch.kind == StretchKind::Runs);
    (schedule.clock.begins - clock.begins) as f64 + runs.map_or(0.0, |stretch| stretch.from)
}
