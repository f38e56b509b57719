//! Cases closed round a dryer: their hoppers as stations, the dryer as what makes the air, on a day.

use crate::case::Case;
use crate::plan::settled;
use crate::{DecideError, humidity, station};
use dryer::heater::Heater;
use job::{Day, Job};
use line::equipment::Equipment;
use line::{Line, LineGuess, LineSteady, Room, Station};
use quantity::{AbsolutePressure, Quantity};

/// A dryer closed round the hopper of a job on a day; `make` sizes it for an air flow (kg/s of dry air) and
/// a set point (K).
///
/// # Errors
/// When the job cannot be planned or the dryer cannot be.
pub fn line(
    job: &Job,
    make: &dyn Fn(f64, f64) -> Equipment,
    day: &Day,
) -> Result<Line, DecideError> {
    let (case, _) = settled(job)?;
    let equipment = make(case.air_flow, case.air_temperature);
    let (case, room) = on_the_day(&case, day)?;
    line_of(&equipment, &[case], room)
}

/// The case in the hall of a day; what was fed at the temperature of the hall still is.
pub(crate) fn on_the_day(case: &Case, day: &Day) -> Result<(Case, Room), DecideError> {
    let pressure = AbsolutePressure::from_si(case.pressure);
    let place = "the hall on a day";
    let humidity = humidity::ratio(day.humidity, day.temperature, pressure, pressure, place)?;
    let room = Room {
        temperature: day.temperature.si(),
        humidity: humidity.si(),
        pressure: case.pressure,
    };
    let mut now = case.clone();
    if (case.feed_temperature - case.ambient).abs() < 1e-9 {
        now.feed_temperature = room.temperature;
    }
    now.ambient = room.temperature;
    Ok((now, room))
}

/// A dryer closed round the hoppers of several cases that run at once, with shared return air.
pub(crate) fn line_of(
    equipment: &Equipment,
    cases: &[Case],
    room: Room,
) -> Result<Line, DecideError> {
    let cannot = |cause| DecideError::Equipment {
        title: equipment.title.clone(),
        cause: Box::new(cause),
    };
    let heater = equipment.heater().map_err(|faults| cannot(faults.into()))?;
    let air_flow = cases.iter().map(|case| case.air_flow).sum();
    Ok(Line {
        maker: equipment.maker(air_flow, &room).map_err(cannot)?,
        stations: stations(cases, heater)?,
        room,
    })
}

/// The hoppers of cases that run at once, each with a heater of its own.
pub(crate) fn stations(cases: &[Case], heater: Heater) -> Result<Vec<Station>, DecideError> {
    let one_by_one = cases.iter().enumerate();
    one_by_one
        .map(|(index, case)| {
            let mut station = station::of(case, heater)?;
            if cases.len() > 1 {
                // Crossings are told by their names, and two hoppers may hold one resin.
                station.name = format!("hopper {}, {}", index + 1, station.name);
            }
            Ok(station)
        })
        .collect()
}

/// The state it settles in with the air that its blowers really move, begun near a neighbour where one is
/// known, and anew where that is too far away.
pub(crate) fn settle(
    line: &Line,
    near: Option<&LineGuess>,
    title: &str,
) -> Result<LineSteady, DecideError> {
    near.and_then(|guess| line.steady_as_blown(Some(guess)).ok())
        .map_or_else(|| line.steady_as_blown(None), Ok)
        .map_err(|cause| DecideError::Line {
            title: title.to_owned(),
            cause: Box::new(cause),
        })
}
