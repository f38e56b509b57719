//! The storage of a job: what its fields must be together, and what becomes of them.

use crate::bag::{Bag, Entry};
use crate::text::Text;
use crate::weather;
use job::{Climate, DailyClimate, Job, Package, Storage, Weather};
use quantity::constants::STANDARD_ATMOSPHERE;
use quantity::{
    AbsolutePressure, Duration, Fault, FaultKind, Faults, Quantity, RelativeHumidity,
    TemperatureDifference, parse, show,
};
use std::path::Path;

/// What the fields of a storage say against each other.
pub(super) fn check(storage: &Bag) -> Faults {
    let mut faults = Faults::none();
    let opened = storage.get("package", Entry::choice) == Some("opened");
    let (climate, weather) = (storage.gives("temperature"), storage.gives("weather"));
    if !opened {
        return faults;
    }
    for (name, needs) in [
        ("temperature_swing", "temperature"),
        ("humidity_swing", "relative_humidity"),
    ] {
        if storage.gives(name) && !storage.gives(needs) && !weather {
            faults.push(storage.fault(
                name,
                FaultKind::Inconsistent,
                format!("a swing goes about a mean, and {needs} is not there"),
                format!("add {needs}, or remove {name}"),
            ));
        }
    }
    if climate && storage.entry("time").is_none() {
        faults.push(storage.lacks("time"));
    }
    for name in ["time", "from"] {
        if storage.gives(name) && !climate && !weather {
            faults.push(storage.fault(
                name,
                FaultKind::Inconsistent,
                format!("{name} goes with a climate, and none is stated"),
                "add temperature and relative_humidity, or a weather file",
            ));
        }
    }
    faults.extend(beyond(storage));
    faults
}

/// A day that would be damper than damp or drier than dry.
fn beyond(storage: &Bag) -> Option<Fault> {
    let mean: RelativeHumidity = storage.get("relative_humidity", Entry::quantity)?;
    let swing: RelativeHumidity = storage.get("humidity_swing", Entry::quantity)?;
    let room = mean.si().min(1.0 - mean.si());
    if swing.si() <= room + 1e-12 {
        return None;
    }
    let system = parse::system_of(&storage.entry("humidity_swing")?.written);
    Some(storage.fault(
        "humidity_swing",
        FaultKind::Inconsistent,
        format!(
            "about a mean of {} the air would leave the range of 0 to 100 %RH",
            show(mean, system)
        ),
        format!(
            "write at most {}",
            show(RelativeHumidity::from_si(room), system)
        ),
    ))
}

/// The weather of a job, see [`weather`].
///
/// # Errors
/// As [`weather`].
pub(super) fn of_job(bag: &Bag, folder: Option<&Path>) -> Result<Option<Weather>, Faults> {
    let arrival = bag.get("arrival", Entry::table);
    let storage = arrival.and_then(|arrival| arrival.get("storage", Entry::table));
    let site = bag.get("site", Entry::table);
    storage.map_or(Ok(None), |storage| weather(&storage, site.as_ref(), folder))
}

/// Puts the weather into the storage of a job.
pub(super) fn lay(job: &mut Job, weather: Option<Weather>) {
    if let (Some(storage), Some(weather)) = (&mut job.arrival.storage, weather) {
        storage.climate = Some(Climate::Weather(weather));
    }
}

/// What was bridged or passed over in the weather of a job.
pub(super) fn notes(job: &Job) -> Vec<String> {
    let storage = job.arrival.storage.as_ref();
    match storage.and_then(|storage| storage.climate.as_ref()) {
        Some(Climate::Weather(weather)) => weather.notes.clone(),
        _ => Vec::new(),
    }
}

/// The weather of a storage, where it names a file; `folder` is that of the job file.
///
/// # Errors
/// Every mistake in that file, and a job that was read from a text and has no folder.
fn weather(
    storage: &Bag,
    site: Option<&Bag>,
    folder: Option<&Path>,
) -> Result<Option<Weather>, Faults> {
    let Some(name) = storage.get("weather", Entry::text) else {
        return Ok(None);
    };
    let Some(folder) = folder else {
        return Err(storage
            .fault(
                "weather",
                FaultKind::Unreadable,
                "a weather file is looked for beside the job file, and this job was read as a text",
                "plan the job from its file, or write temperature, relative_humidity and time",
            )
            .into());
    };
    let text = Text::open(&folder.join(&name)).map_err(|faults| {
        // Told where the job names the file.
        let placed = faults.iter().map(|fault| {
            let cause = format!("{}: {}", fault.place.file, fault.cause);
            storage.fault("weather", FaultKind::Unreadable, cause, fault.mend.clone())
        });
        Faults(placed.collect())
    })?;
    weather::read(&text, storage.get("time", Entry::quantity), pressure(site)).map(Some)
}

/// Pressure of the site.
fn pressure(site: Option<&Bag>) -> AbsolutePressure {
    let stated = site.and_then(|site| site.get("pressure", Entry::quantity));
    let altitude = site.and_then(|site| site.get("altitude", Entry::quantity));
    stated
        .or_else(|| altitude.and_then(|height| air::standard_pressure(height).ok()))
        .unwrap_or(AbsolutePressure::from_si(STANDARD_ATMOSPHERE))
}

/// The storage, its weather aside.
///
/// # Errors
/// A field that is missing although it must be there; the reader has told of it before.
pub(super) fn storage(bag: &Bag) -> Result<Storage, Faults> {
    let still = || TemperatureDifference::from_kelvin(0.0);
    let climate = match bag.get("temperature", Entry::quantity) {
        None => None,
        Some(temperature) => Some(Climate::Daily(DailyClimate {
            temperature,
            temperature_swing: bag
                .get("temperature_swing", Entry::quantity)
                .unwrap_or_else(still),
            relative_humidity: bag.need("relative_humidity", Entry::quantity)?,
            humidity_swing: bag
                .get("humidity_swing", Entry::quantity)
                .unwrap_or(RelativeHumidity::from_si(0.0)),
            time: bag.need::<Duration>("time", Entry::quantity)?,
        })),
    };
    Ok(Storage {
        package: match bag.need("package", Entry::choice)? {
            "sealed" => Package::Sealed,
            _ => Package::Opened,
        },
        climate,
        from: bag.get("from", Entry::moisture),
    })
}
