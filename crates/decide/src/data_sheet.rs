//! The setting of a data sheet beside the computed one: run through the same model, and what of its
//! time covers which effect.

use crate::DecideError;
use crate::answer::TimePart;
use crate::case::{Case, Choice, celsius};
use crate::outlet::{self, Outlet};
use crate::plan::{ppm_wet, time_parts};
use crate::resolve::Given;
use crate::{humidity, search};
use job::{DataSheet, Job};
use libm::{exp, log};
use numeric::root::bracketed;
use quantity::{MoistureDryBasis, Quantity, Temperature};
use serde::Serialize;

/// How far beyond the window an air temperature is called outside, K.
const BESIDE: f64 = 0.5;
/// Accuracy of the moisture that a setting dries from, relative.
const CLOSE: f64 = 1e-2;
/// Wettest arrival that is looked at, over that of the job.
const WETTEST: f64 = 8.0;

/// What a data sheet says, and what its setting would do.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetBeside {
    /// What the user calls the grade, where it was named.
    pub grade: Option<String>,
    /// Temperature that it states, the middle of a range.
    pub temperature_c: Option<f64>,
    /// Range that it states.
    pub range_c: Option<(f64, f64)>,
    /// Lower end of the window that is kept to.
    pub window_low_c: f64,
    /// Upper end of the window that is kept to.
    pub window_high_c: f64,
    /// Time that it states.
    pub time_h: Option<f64>,
    /// Frost point that it asks for.
    pub frost_point_c: Option<f64>,
    /// Limit that it states.
    pub limit_ppm_wet: Option<f64>,
    /// Longest stay that it allows.
    pub hold_h: Option<f64>,
    /// Whether the air temperature of the plan lies outside its window.
    pub outside: bool,
    /// Its setting run through the model; none where it states no time.
    pub run: Option<SheetRun>,
}

/// The setting of a data sheet run through the model.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetRun {
    /// Air temperature.
    pub air_temperature_c: f64,
    /// Residence.
    pub residence_h: f64,
    /// Frost point of the air.
    pub frost_point_c: f64,
    /// What the data sheet leaves open and is taken from the plan.
    pub taken_from_plan: Vec<&'static str>,
    /// Mean moisture that leaves.
    pub mean_ppm_wet: f64,
    /// Whether that meets the limit of the job.
    pub meets_limit: bool,
    /// Whether it lies below the lower edge.
    pub too_dry: bool,
    /// Whether the wet pellets would stick at its temperature.
    pub sticks: bool,
    /// Residence that this job needs in that air, margin and all.
    pub needed_h: f64,
    /// What that is made of, each effect added to those before it, and how much of it the time of
    /// the data sheet covers.
    pub parts: Vec<SheetPart>,
    /// Wettest arrival from which that setting still meets the limit; none where no arrival does.
    pub dries_from_ppm_wet: Option<f64>,
}

/// An effect that takes time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SheetPart {
    /// The effect.
    pub name: &'static str,
    /// Hours it takes; negative where it spares some.
    pub hours: f64,
    /// Hours of them that the data sheet's time covers.
    pub covered_h: f64,
}

/// What the data sheet of a job says beside the plan; none where the job has none.
///
/// # Errors
/// From the bed.
pub(crate) fn beside(
    case: &Case,
    given: &Given,
    job: &Job,
) -> Result<Option<SheetBeside>, DecideError> {
    let Some(sheet) = &job.data_sheet else {
        return Ok(None);
    };
    let window = &job.resin.drying;
    let (low, high) = (
        window.temperature_low.value.celsius(),
        window.temperature_high.value.celsius(),
    );
    let planned = celsius(case.air_temperature);
    let run = match sheet.time {
        None => None,
        Some(time) => Some(run(case, given, job, sheet, time.si())?),
    };
    Ok(Some(SheetBeside {
        grade: sheet.grade.clone(),
        temperature_c: sheet.set_point().map(Temperature::celsius),
        range_c: sheet
            .temperature_low
            .zip(sheet.temperature_high)
            .map(|(low, high)| (low.celsius(), high.celsius())),
        window_low_c: low,
        window_high_c: high,
        time_h: sheet.time.map(quantity::Duration::hours),
        frost_point_c: sheet.frost_point.map(quantity::FrostPoint::celsius),
        limit_ppm_wet: sheet.limit.map(|limit| limit.wet_basis().ppm()),
        hold_h: sheet.hold.map(quantity::Duration::hours),
        outside: planned < low - BESIDE || planned > high + BESIDE,
        run,
    }))
}

fn run(
    case: &Case,
    given: &Given,
    job: &Job,
    sheet: &DataSheet,
    time: f64,
) -> Result<SheetRun, DecideError> {
    let mut taken_from_plan = Vec::new();
    let mut at = if let Some(temperature) = sheet.set_point() {
        case.with_air_temperature(temperature.si())
    } else {
        taken_from_plan.push(Choice::Temperature.words());
        case.clone()
    };
    match sheet.frost_point {
        Some(point) => {
            at.air_humidity = humidity::at_frost_point(point.celsius(), case.pressure);
        }
        None => taken_from_plan.push(Choice::FrostPoint.words()),
    }
    at = at.with_bed_mass(at.rate * time);
    if given.has(Choice::AirFlow) {
        taken_from_plan.push(Choice::AirFlow.words());
    } else {
        at.air_flow = at.usual_air_flow(given.largest_flow)?;
    }
    let mean = Outlet::of(&at)?.mean;
    let parts = parts(&at, job, time / 3600.0)?;
    Ok(SheetRun {
        air_temperature_c: celsius(at.air_temperature),
        residence_h: time / 3600.0,
        frost_point_c: humidity::frost_point_c(at.air_humidity, at.air_temperature, at.pressure),
        taken_from_plan,
        mean_ppm_wet: ppm_wet(mean),
        meets_limit: mean <= at.limit * (1.0 + 1e-6),
        too_dry: at.lower_edge.is_some_and(|edge| mean < edge),
        sticks: at.air_temperature > at.hottest(),
        needed_h: parts.iter().map(|part| part.hours).sum(),
        dries_from_ppm_wet: dries_from(&at),
        parts,
    })
}

/// What the time is made of, begun with a pellet from a sealed bag where the resin arrives wetter.
///
/// # Errors
/// From a crystalliser ahead of the hopper.
fn parts(case: &Case, job: &Job, time_h: f64) -> Result<Vec<SheetPart>, DecideError> {
    let mut all = time_parts(case, job)?;
    let sealed: f64 = job.resin.received.sealed.value.si();
    if case.lead.feed_moisture > sealed
        && let Some(first) = all.first_mut()
    {
        let bag = case
            .pellet_alone()
            .wetter_by(sealed / case.lead.feed_moisture);
        let from_bag = search::residence_or_longest(&bag) / 3600.0;
        let wetter = (first.hours - from_bag).max(0.0);
        first.hours -= wetter;
        first.name = "diffusion, as from a sealed bag";
        all.insert(
            1,
            TimePart {
                name: "arriving wetter than from a sealed bag",
                hours: wetter,
            },
        );
    }
    let mut left = time_h;
    let cover = |part: TimePart| {
        let covered = part.hours.min(left.max(0.0));
        left -= covered;
        SheetPart {
            name: part.name,
            hours: part.hours,
            covered_h: covered.max(0.0),
        }
    };
    Ok(all.into_iter().map(cover).collect())
}

/// Wettest arrival of the lead, ppm wet basis, from which a case meets its limit; the other kinds
/// arrive wetter with it.
fn dries_from(case: &Case) -> Option<f64> {
    let over = |moisture: f64| {
        let mean = outlet::mean(&case.wetter_by(moisture / case.lead.feed_moisture));
        log(mean.unwrap_or(1.0).max(f64::MIN_POSITIVE) / case.limit)
    };
    let driest = case.limit;
    let most = WETTEST * case.lead.feed_moisture.max(2.0 * driest);
    let wet = |moisture: f64| MoistureDryBasis::from_si(moisture).wet_basis().ppm();
    if over(driest) > 0.0 {
        return None;
    }
    if over(most) <= 0.0 {
        return Some(wet(most));
    }
    bracketed(log(driest), log(most), CLOSE, |x| over(exp(x)))
        .ok()
        .map(|x| wet(exp(x)))
}
