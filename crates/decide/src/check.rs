//! What is wrong with a dryer: a round with hand instruments held against the closed loop of dryer and hopper.
//!
//! Each cause is a change of the dryer, of what it is given, or of an instrument, with at most one
//! size. The loop is
//! solved for every cause and size; how well what would then be read fits what was read gives the
//! probability of each,
//! the dryer in good order among them. One cause at a time is assumed.

mod answer;
mod cause;
mod delivery;
mod doubt;
mod gauss;
mod installed;
mod next;
mod rehearsal;
mod scale;
mod signature;
mod weigh;

pub use answer::{Belief, Checked, Compared, Pellets, SHOWN, Stand};
pub use cause::Cause;
pub use next::{NextReading, Outcome};
pub use rehearsal::{Rehearsal, rehearse};
pub use scale::{Told, told_in};

use crate::DecideError;
use crate::case::Case;
use crate::closed::on_the_day;
use crate::outlet::Outlet;
use crate::plan::settled;
use crate::resolve::Given;
use doubt::{Deviates, HallDoubt, row};
use installed::Installed;
use job::{ControlledAt, Day, Job, Reading, ReadingKind};
use line::Room;
use line::equipment::{Equipment, Machine};
use quantity::{Fraction, Quantity, Temperature, Value};
use scale::Read;
use signature::Signature;
use weigh::Evidence;

/// What is asked.
pub struct Question<'a> {
    /// The job that the dryer runs.
    pub job: &'a Job,
    /// The dryer, made for the air flow (kg/s of dry air) and the set point (K) of the job.
    pub dryer: &'a dyn Fn(f64, f64) -> Equipment,
    /// Where its temperature is controlled.
    pub controlled_at: ControlledAt,
    /// How well the dew point that it gives in good order is known, K; what is usual where it is not stated.
    pub dew_point_doubt: Option<f64>,
    /// What was read.
    pub readings: &'a [Reading],
    /// What was read on a good day.
    pub good: Option<&'a [Reading]>,
}

/// Transfer units of an insulated hose to the hopper at the air of the job (common practice, no
/// source: 3 K of 100).
const HOSE: f64 = 0.03;
/// Doubt of a hall that was not read.
const HALL: HallDoubt = HallDoubt {
    kelvin: 3.0,
    logarithm: 0.35,
};
/// Change of the logarithm of humidity with 1 K of dew point near 10 degC.
const PER_KELVIN: f64 = 0.066;
/// Doubt of the dew point of compressed air, K (common practice, no source: sensor and dryer), and of hall air.
const OTHER_AIR: (f64, f64) = (2.0, 0.5);

/// Everything that does not hang on the readings but those of the hall: what each cause would show.
pub struct Prepared {
    sound: Installed,
    signatures: Vec<Signature>,
    unsolved: Vec<Cause>,
    dew_point: f64,
}

/// Holds a round against the loop.
///
/// # Errors
/// When the job cannot be planned; [`DecideError::Equipment`] and [`DecideError::Line`] for a dryer
/// that cannot be or
/// does not settle even in good order.
pub fn check(question: &Question<'_>) -> Result<Checked, DecideError> {
    held_against(question, &prepare(question)?)
}

/// Holds a round against what was solved for its dryer, job and hall.
///
/// # Errors
/// For air that cannot be.
pub fn held_against(question: &Question<'_>, prepared: &Prepared) -> Result<Checked, DecideError> {
    let reads = prepared.reads(question.readings)?;
    let deviates = match question.good {
        None => Deviates::unknown(),
        Some(good) => after_good(question, prepared, good)?,
    };
    let evidence = Evidence {
        reads: &reads,
        deviates: &deviates,
        dew_point: prepared.dew_point,
    };
    let weighed = evidence.weigh(&prepared.signatures);
    Ok(answer::answer(prepared, &evidence, &weighed, question))
}

/// Solves the loop for every cause in the hall that was read; of the readings nothing else is used.
///
/// # Errors
/// As [`check`].
pub fn prepare(question: &Question<'_>) -> Result<Prepared, DecideError> {
    let (sound, given, hall) = installed(question, question.readings)?;
    let throat = question
        .readings
        .iter()
        .any(|reading| reading.of == ReadingKind::ThroatMoisture);
    // The dryer in good order first: where it does not settle there is nothing to hold against.
    sound.predict(None)?;
    let (signatures, unsolved) = signature::all(&sound, &given, &hall, throat);
    let usual = match &sound.equipment.machine {
        Machine::Wheel(_) | Machine::Towers(_) => scale::off(ReadingKind::SupplyDewPoint),
        Machine::Compressed(_) => OTHER_AIR.0,
        Machine::HotAir(_) => OTHER_AIR.1,
    };
    Ok(Prepared {
        dew_point: question.dew_point_doubt.unwrap_or(usual),
        sound,
        signatures,
        unsolved,
    })
}

/// The dryer of a question in good order, in the hall that was read, and how well that is known.
fn installed(
    question: &Question<'_>,
    readings: &[Reading],
) -> Result<(Installed, Given, HallDoubt), DecideError> {
    let (case, given) = settled(question.job)?;
    let (case, room, hall) = in_the_hall(&case, question.job, readings)?;
    let equipment = (question.dryer)(case.air_flow, case.air_temperature);
    let full = Outlet::of(&case)?;
    let coarse = case.coarse();
    let sound = Installed {
        ratio: full.ratio(),
        case: coarse,
        room,
        equipment,
        controlled_at: question.controlled_at,
        hose: HOSE,
        hose_outside: delivery::UNDER_WOOL,
        share: 1.0,
        lost: 0.0,
        filter: 1.0,
        hoses: 1.0,
        level: 1.0,
        regain: added(question.job, &case, &full)?,
        speed: 1.0,
        under_pressure: false,
        fine: false,
        blown: false,
    };
    Ok((sound, given, hall))
}

/// What the way to the throat adds, where one is stated, kg/kg dry.
fn added(job: &Job, case: &Case, out: &Outlet) -> Result<f64, DecideError> {
    if job.way.is_none() {
        return Ok(0.0);
    }
    let found = crate::way::of(job, case, &out.steady, out.mean)?;
    let screw = found.as_ref().and_then(crate::way::WayFound::at_screw);
    Ok(screw.map_or(0.0, |screw| (screw.mean_kg_kg - out.mean).max(0.0)))
}

/// The case in the hall that was read; that of the job where it was not.
fn in_the_hall(
    case: &Case,
    job: &Job,
    readings: &[Reading],
) -> Result<(Case, Room, HallDoubt), DecideError> {
    let of = |kind: ReadingKind| readings.iter().find(|reading| reading.of == kind);
    let error = |reading: &Reading| reading.error.unwrap_or(scale::scale(reading.of).1);
    let warm = of(ReadingKind::HallTemperature);
    let wet = of(ReadingKind::HallHumidity);
    let temperature = match warm.map(|reading| reading.value) {
        Some(Value::Si(kelvin)) => kelvin,
        _ => case.ambient,
    };
    let humidity = match wet.map(|reading| reading.value) {
        Some(Value::Humidity(humidity)) => humidity,
        _ => job.site.humidity.unwrap_or_else(|| {
            quantity::Humidity::Relative(quantity::RelativeHumidity::from_percent(50.0), None)
        }),
    };
    let day = Day {
        name: String::new(),
        temperature: Temperature::from_si(temperature),
        humidity,
        share: Fraction::from_si(1.0),
    };
    let (case, room) = on_the_day(case, &day)?;
    let hall = HallDoubt {
        kelvin: warm.map_or(HALL.kelvin, error),
        logarithm: wet.map_or(HALL.logarithm, |reading| PER_KELVIN * error(reading)),
    };
    Ok((case, room, hall))
}

/// What a good round, in its own hall, tells of the deviates.
fn after_good(
    question: &Question<'_>,
    prepared: &Prepared,
    good: &[Reading],
) -> Result<Deviates, DecideError> {
    let (sound, _, _) = installed(question, good)?;
    let expected = sound.predict(None)?;
    let healthy = prepared.signatures.first();
    let mut reads = Vec::new();
    let mut told = Vec::new();
    let mut rows = Vec::new();
    for read in scale::on_scale(good, &sound)? {
        let Some(healthy) = healthy.filter(|_| counts(read.kind)) else {
            continue;
        };
        if let Some(value) = expected.readings[read.kind as usize] {
            reads.push(read);
            told.push(value);
            rows.push(row(&healthy.slopes, read.kind, prepared.dew_point));
        }
    }
    Ok(Deviates::after(&reads, &told, &rows).unwrap_or_else(Deviates::unknown))
}

/// Whether a kind is held against the model; the hall is put into it.
fn counts(kind: ReadingKind) -> bool {
    !matches!(
        kind,
        ReadingKind::HallTemperature | ReadingKind::HallHumidity
    )
}

impl Prepared {
    /// The causes that were solved, the dryer in good order first.
    pub fn causes(&self) -> Vec<Cause> {
        self.signatures.iter().map(|one| one.cause).collect()
    }

    /// How large a cause is at a place from 0 to 1 over its sizes, in words; temperatures in degC.
    pub fn size_at(&self, cause: Cause, place: f64) -> Option<String> {
        let size = cause.sizes(&self.sound.equipment).at(place);
        cause.size_in_words(size, &self.sound)
    }

    /// Readings that can be held against the model, on their scales.
    fn reads(&self, readings: &[Reading]) -> Result<Vec<Read>, DecideError> {
        let all = scale::on_scale(readings, &self.sound)?;
        let has = |kind: ReadingKind| self.signatures.iter().all(|one| one.has(kind));
        Ok(all
            .into_iter()
            .filter(|read| counts(read.kind) && has(read.kind))
            .collect())
    }
}
