//! A round on a dryer with a known fault, for trying out a check: what the instruments would read.
//!
//! Nothing of the check itself is used but what a fault is: the loop is solved anew, with wheel and
//! towers resolved
//! finely, every matter that is not known moved by its own draw, the resin by the draws of its
//! evidence, and each
//! instrument off by its usual error. What the desiccant gives is off as well, as the check doubts
//! it. Behind a clogged
//! filter flows what the blower moves.

use super::cause::Cause;
use super::doubt::Matter;
use super::scale::{off, scale, told};
use super::{Question, installed};
use crate::doubt as evidence;
use crate::{DecideError, case::Case};
use job::{Reading, ReadingKind};
use quantity::{
    AirFlow, DewPoint, FrostPoint, Humidity, MassFlow, Moisture, MoistureWetBasis, Value,
};
use uncertainty::Design;

/// What is rehearsed.
#[derive(Clone, Copy, Debug)]
pub struct Rehearsal<'a> {
    /// What is wrong.
    pub cause: Cause,
    /// The draw, of a seed.
    pub draw: (u32, u32),
    /// Whether the doubts are drawn; otherwise everything is as stated and every instrument right.
    pub drawn: bool,
    /// Place of the size over its range, 0 to 1; drawn where it is not given.
    pub place: Option<f64>,
    /// What is read.
    pub kinds: &'a [ReadingKind],
}

/// Dimensions of the design: the size, the matters, the model, the instruments, the resin.
const MATTERS: u32 = 1;
const MODEL: u32 = 30;
const INSTRUMENTS: u32 = 60;
const RESIN: u32 = 100;

/// What would be read, in the order of the kinds, and the moisture of what leaves the hopper, ppm wet basis.
///
/// # Errors
/// As [`super::check`].
pub fn rehearse(
    question: &Question<'_>,
    rehearsal: &Rehearsal<'_>,
) -> Result<(Vec<Reading>, f64), DecideError> {
    let (mut sound, given, hall) = installed(question, question.readings)?;
    sound.fine = true;
    let design = Design {
        seed: rehearsal.draw.1,
    };
    let normal = |dimension: u32| {
        if rehearsal.drawn {
            design.normal(rehearsal.draw.0, dimension)
        } else {
            0.0
        }
    };
    for (matter, dimension) in Matter::ALL.iter().zip(MATTERS..) {
        if let Some(moved) = matter.moved(normal(dimension), &hall, &sound) {
            sound = moved;
        }
    }
    if rehearsal.drawn {
        sound.case = resin(&sound.case, &given, &|dimension| normal(RESIN + dimension));
    }
    let cause = rehearsal.cause;
    let sizes = cause.sizes(&sound.equipment);
    let place = rehearsal
        .place
        .unwrap_or_else(|| design.uniform(rehearsal.draw.0, 0));
    let mut befallen = cause.befall(sizes.at(place), &sound)?;
    if cause == Cause::FilterClogged {
        befallen = befallen.as_blown()?;
    }
    let found = befallen.predict(None)?;
    let readings = rehearsal
        .kinds
        .iter()
        .filter_map(|kind| {
            let dimension = *kind as u32;
            let model = match question.dew_point_doubt {
                Some(doubt) if *kind == ReadingKind::SupplyDewPoint => doubt,
                _ => off(*kind),
            };
            let mut value = found.readings[*kind as usize]?
                + model * normal(MODEL + dimension)
                + scale(*kind).1 * normal(INSTRUMENTS + dimension);
            if cause == Cause::WrongReading(*kind) {
                value += wrong(*kind, design.uniform(rehearsal.draw.0, 0));
            }
            Some(Reading {
                of: *kind,
                value: stated(*kind, value, &sound),
                error: None,
            })
        })
        .collect();
    let outlet = found.readings[ReadingKind::OutletMoisture as usize];
    Ok((readings, outlet.map_or(0.0, libm::exp)))
}

/// By how much a wrong instrument is off: a quarter to a half of the width over which it may lie, to
/// either side.
fn wrong(kind: ReadingKind, place: f64) -> f64 {
    let half = 0.25 * super::scale::wide(kind);
    let side = if place < 0.5 { -1.0 } else { 1.0 };
    side * half * (1.0 + (2.0 * place).fract())
}

/// The resin as its evidence allows, in settings that stay as they are.
fn resin(case: &Case, given: &crate::resolve::Given, deviate: &dyn Fn(u32) -> f64) -> Case {
    let moved = evidence::shifted(case, given, deviate);
    Case {
        air_temperature: case.air_temperature,
        rate: case.rate,
        bed_mass: case.bed_mass,
        ..moved
    }
}

/// A number of the scale as it would be written down.
fn stated(kind: ReadingKind, value: f64, sound: &super::Installed) -> Value {
    use super::Told;
    let number = told(kind, value);
    match scale(kind).0 {
        Told::Celsius => Value::Si(number + quantity::constants::ZERO_CELSIUS),
        Told::Point if number <= 0.0 => Value::Humidity(Humidity::Frost(
            FrostPoint::from_celsius(number.max(-79.5)),
            None,
        )),
        Told::Point => Value::Humidity(Humidity::Dew(
            DewPoint::from_celsius(number.min(85.0)),
            None,
        )),
        Told::Air => Value::AirFlow(AirFlow::DryAir(MassFlow::from_kg_per_hour(number))),
        Told::Percent if kind == ReadingKind::WheelSpeed => {
            Value::Si(value.max(0.0) * sound.wheel_speed().unwrap_or(0.0))
        }
        Told::Percent => Value::Si(value.max(0.0)),
        Told::Resin => Value::Si(libm::exp(value)),
        Told::Pascal => Value::Si(number),
        Told::Moisture => Value::Moisture(Moisture::Wet(MoistureWetBasis::from_ppm(number))),
    }
}
