//! What happens at a moment of a schedule: changeovers, levels, refills, and how the hall is.

use super::times::Times;
use crate::bag::{Bag, Entry};
use crate::clock;
use crate::job_file::open_job;
use crate::library::Library;
use job::{ChangeWay, Changeover, HallMoment, LevelChange, Refill};
use quantity::{FaultKind, Faults, Humidity, Quantity, Temperature};
use std::path::Path;

/// The changeovers in the order of time, with the job files they name.
///
/// # Errors
/// Every mistake in them and in their jobs.
pub(super) fn changeovers(
    bag: &Bag,
    times: &Times,
    folder: &Path,
    library: &Library,
) -> Result<Vec<Changeover>, Faults> {
    moments(bag, "changeover", times, |table, at| {
        let job = open_job(&folder.join(table.need("job", Entry::text)?), library)?;
        let name = table.get("name", Entry::text);
        Ok(Changeover {
            at,
            name: name.unwrap_or_else(|| job.title.clone()),
            job,
            way: match table.get("way", Entry::choice) {
                Some("run down") => ChangeWay::RunDown,
                _ => ChangeWay::Drain,
            },
        })
    })
}

/// The levels in the order of time.
///
/// # Errors
/// Every mistake in them.
pub(super) fn levels(bag: &Bag, times: &Times) -> Result<Vec<LevelChange>, Faults> {
    moments(bag, "level", times, |table, at| {
        let level = table.need("level", Entry::quantity)?;
        Ok(LevelChange { at, level })
    })
}

/// The refills in the order of time.
///
/// # Errors
/// Every mistake in them.
pub(super) fn refills(bag: &Bag, times: &Times) -> Result<Vec<Refill>, Faults> {
    moments(bag, "refill", times, |table, at| {
        let mass = table.get("mass", Entry::quantity);
        Ok(Refill { at, mass })
    })
}

/// The hall in the order of time.
///
/// # Errors
/// Every mistake in it, and air that cannot be.
pub(super) fn hall(bag: &Bag, times: &Times) -> Result<Vec<HallMoment>, Faults> {
    moments(bag, "hall", times, |table, at| {
        let temperature: Temperature = table.need("temperature", Entry::quantity)?;
        let humidity: Humidity = table.need("humidity", Entry::humidity)?;
        let point = match humidity {
            Humidity::Dew(point, _) => point.si(),
            Humidity::Frost(point, _) => point.si(),
            _ => f64::NEG_INFINITY,
        };
        if point > temperature.si() {
            let cause =
                "the dew point lies above the temperature, and no air is wetter than saturated";
            let mend = "write a dew point of the temperature of the hall or below";
            return Err(table
                .fault("humidity", FaultKind::Inconsistent, cause, mend)
                .into());
        }
        Ok(HallMoment {
            at,
            temperature,
            humidity,
        })
    })
}

/// The tables of a kind that happen at a moment, in the order of time.
fn moments<T>(
    bag: &Bag,
    kind: &str,
    times: &Times,
    read: impl Fn(&Bag, f64) -> Result<T, Faults>,
) -> Result<Vec<T>, Faults> {
    let mut faults = Faults::none();
    let mut found: Vec<(f64, T)> = Vec::new();
    for table in bag.get(kind, Entry::tables).unwrap_or_default() {
        let at = times.event(&table);
        match (read(&table, at.as_ref().map_or(0.0, |at| *at)), at) {
            (Ok(read), Ok(at)) => {
                if found.iter().any(|(other, _)| (other - at).abs() < 1.0) {
                    let when = clock::local(&times.clock, at);
                    faults.push(table.fault(
                        "at",
                        FaultKind::RepeatedField,
                        format!("two {kind} tables stand at {when}"),
                        "keep one of the two",
                    ));
                }
                found.push((at, read));
            }
            (read, at) => {
                faults.extend(at.err().unwrap_or_default());
                faults.extend(read.err().unwrap_or_default());
            }
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    faults.or(found.into_iter().map(|(_, read)| read).collect())
}
