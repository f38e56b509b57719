//! A case closed round a dryer: its hopper as a station, the dryer as what makes the air, on a day.

use crate::case::Case;
use crate::{DecideError, humidity, station};
use job::Day;
use line::equipment::Equipment;
use line::{Line, LineSteady, Room};
use quantity::{AbsolutePressure, Quantity};

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

/// A dryer closed round the hopper of a case.
pub(crate) fn line_of(equipment: &Equipment, case: &Case, room: Room) -> Result<Line, DecideError> {
    let cannot = |cause| DecideError::Equipment {
        title: equipment.title.clone(),
        cause: Box::new(cause),
    };
    Ok(Line {
        maker: equipment.maker(case.air_flow, &room).map_err(cannot)?,
        stations: vec![station::of(
            case,
            equipment.heater().map_err(|faults| cannot(faults.into()))?,
        )?],
        room,
    })
}

/// The state it settles in.
pub(crate) fn settle(line: &Line, title: &str) -> Result<LineSteady, DecideError> {
    line.steady(None).map_err(|cause| DecideError::Line {
        title: title.to_owned(),
        cause: Box::new(cause),
    })
}
