//! The way after the dryer, and the cold bag before it: from their fields to the job.

use crate::bag::{Bag, Entry};
use job::{ColdBag, Conveying, Holding, Lid, MachineHopper, Sample, Throat, Vessel, Way, WayAir};
use quantity::Faults;

/// The way of a job, where it states one.
///
/// # Errors
/// A field that is missing although it must be there; the reader has told of it before.
pub(super) fn way(bag: &Bag) -> Result<Option<Way>, Faults> {
    let Some(way) = bag.get("way", Entry::table) else {
        return Ok(None);
    };
    let table = |name: &str| way.get(name, Entry::table);
    Ok(Some(Way {
        conveying: table("conveying").map(|bag| conveying(&bag)).transpose()?,
        hopper: table("hopper").map(|bag| hopper(&bag)).transpose()?,
        throat: table("throat").map(|bag| throat(&bag)).transpose()?,
        sample: table("sample").map(|bag| sample(&bag)).transpose()?,
    }))
}

fn conveying(bag: &Bag) -> Result<Conveying, Faults> {
    let times = bag.need("times", Entry::count)?;
    Ok(Conveying {
        air: match bag.need("air", Entry::choice)? {
            "dry" => WayAir::Dry(bag.get("humidity", Entry::humidity)),
            _ => WayAir::Hall,
        },
        flight: bag.need("flight", Entry::quantity)?,
        waiting: bag.need("waiting", Entry::quantity)?,
        times: u32::try_from(times).unwrap_or(u32::MAX),
        loading: bag.need("loading", Entry::number)?,
    })
}

fn hopper(bag: &Bag) -> Result<MachineHopper, Faults> {
    let holding = match bag.get("mass", Entry::quantity) {
        Some(mass) => Holding::Mass(mass),
        None => Holding::Time(bag.need("time", Entry::quantity)?),
    };
    Ok(MachineHopper {
        holding,
        lid: match bag.need("lid", Entry::choice)? {
            "closed" => Lid::Closed,
            "purged" => Lid::Purged(bag.get("humidity", Entry::humidity)),
            _ => Lid::Open,
        },
        cooling: bag.get("cooling", Entry::quantity),
    })
}

fn throat(bag: &Bag) -> Result<Throat, Faults> {
    Ok(Throat {
        temperature: bag.need("temperature", Entry::quantity)?,
        time: bag.need("time", Entry::quantity)?,
    })
}

fn sample(bag: &Bag) -> Result<Sample, Faults> {
    Ok(Sample {
        time: bag.need("time", Entry::quantity)?,
        vessel: match bag.need("vessel", Entry::choice)? {
            "closed" => Vessel::Closed {
                fill: bag.need("fill", Entry::quantity)?,
            },
            _ => Vessel::Open,
        },
    })
}

/// The cold bag of an arrival, where it states one.
///
/// # Errors
/// As [`way`].
pub(super) fn cold_bag(arrival: &Bag) -> Result<Option<ColdBag>, Faults> {
    let Some(bag) = arrival.get("bag", Entry::table) else {
        return Ok(None);
    };
    Ok(Some(ColdBag {
        temperature: bag.need("temperature", Entry::quantity)?,
        standing: bag.need("standing", Entry::quantity)?,
        open: bag.need("open", Entry::quantity)?,
        mass: bag.need("mass", Entry::quantity)?,
        area: bag.need("area", Entry::quantity)?,
    }))
}
