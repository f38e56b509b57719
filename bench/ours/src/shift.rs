//! A day of the press: the stated hopper through steps of its rate, stops and a setback, as days are followed.

use crate::DRIVE;
use bed::BedError;
use bed::column::{Column, Drive};
use bed::run::{Run, follow};

/// Hours at which a part begins, the rate in units of the case, the air temperature above that of the case, K.
pub const DAY: [(f64, f64, f64); 7] = [
    (0.0, 1.0, 0.0),
    (5.0, 1.5, 0.0),
    (8.0, 0.4, 0.0),
    (13.0, 0.0, 0.0),
    (16.0, 1.0, 0.0),
    (20.0, 0.0, -30.0),
    (22.0, 1.0, 0.0),
];

/// Hours at which the outlet is asked for.
pub const HOURS: [f64; 18] = [
    3.0, 4.8, 5.5, 6.5, 7.8, 8.5, 10.0, 12.5, 16.5, 18.0, 19.2, 19.8, 22.5, 23.5, 24.5, 25.2, 25.8,
    26.5,
];

/// Hours that the day lasts.
pub const END: f64 = 27.0;

/// What drives the hopper at a time, and when that changes, s.
pub fn drive(time: f64) -> (Drive, f64) {
    let hours = time / 3600.0 + 1e-9;
    let part = DAY.iter().rposition(|part| part.0 <= hours).unwrap_or(0);
    let (_, rate, warmer) = DAY[part];
    let drive = Drive {
        rate: DRIVE.rate * rate,
        air_temperature: DRIVE.air_temperature + warmer,
        ..DRIVE
    };
    let until = DAY.get(part + 1).map_or(END, |next| next.0);
    (drive, 3600.0 * until)
}

/// The day in steps that end at the latest on whole multiples of `step` seconds.
///
/// # Errors
/// From the column.
pub fn day(column: &Column, step: f64) -> Result<Run, BedError> {
    let start = column.filled(DRIVE.feed_temperature, DRIVE.feed_moisture, 0.0);
    follow(column, start, 3600.0 * END, 0.0, 0.0, |time| {
        let (drive, until) = drive(time);
        let next = ((time / step + 1e-9).floor() + 1.0) * step;
        (
            drive,
            if step.is_finite() {
                until.min(next)
            } else {
                until
            },
        )
    })
}

/// Moisture of what leaves at [`HOURS`]; not a number where the run did not reach.
pub fn outlet(run: &Run) -> [f64; 18] {
    HOURS.map(|hour| run.dried_at(3600.0 * hour).unwrap_or(f64::NAN))
}
