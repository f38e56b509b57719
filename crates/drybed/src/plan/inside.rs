//! Moisture inside the mean pellet on its way: the way of the plan given to the pellet's own
//! solver, which shows what lies between surface and heart.

use crate::Trouble;
use bed::steady::Place;
use decide::answer::Plan;
use job::Job;
use pellet::history::{
    AirState, Curve, HistorySpec, Instant, PelletSpec, Segment, Start, Surround,
};
use pellet::inside;
use quantity::{
    AbsolutePressure, Duration, HumidityRatio, MoistureDryBasis, Quantity, Temperature, Velocity,
};
use serde::Serialize;

/// Points along the depth.
const DEPTH_POINTS: usize = 41;
/// Points across a cut.
const CUT_POINTS: usize = 33;
/// Shares of the water to be dried that are left at the moments shown, beside the last.
const LEFT: [f64; 3] = [0.9, 0.5, 0.2];

/// Moisture along the depth of the mean pellet at one moment.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct InsideProfile {
    /// Since entering.
    pub time_h: f64,
    /// Depth below the surface, up to the heart.
    pub depth_mm: Vec<f64>,
    /// Moisture there.
    pub moisture_ppm_wet: Vec<f64>,
    /// Mean over the pellet.
    pub mean_ppm_wet: f64,
}

/// Moisture over the cut through the axis of a cylinder at one moment.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct InsideCut {
    /// Since entering.
    pub time_h: f64,
    /// Places across the axis, 0 on it.
    pub across_mm: Vec<f64>,
    /// Places along the axis, 0 in the middle.
    pub along_mm: Vec<f64>,
    /// One row for each place along the axis.
    pub moisture_ppm_wet: Vec<Vec<f64>>,
    /// Mean over the pellet.
    pub mean_ppm_wet: f64,
}

/// Moisture at the heart of the mean pellet at one place of its way.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct HeartPlace {
    /// Since entering.
    pub time_h: f64,
    /// Dry resin between the air inlet and here.
    pub above_inlet_kg: f64,
    /// Moisture at the heart.
    pub heart_ppm_wet: f64,
}

/// What is inside.
#[derive(Default)]
pub(super) struct Inside {
    pub(super) heart: Vec<HeartPlace>,
    pub(super) profiles: Vec<InsideProfile>,
    pub(super) cut: Option<InsideCut>,
}

/// Profiles and a cut of the mean pellet; nothing for a resin that takes up no water.
pub(super) fn of(plan: &Plan, job: &Job) -> Result<Inside, Trouble> {
    let (Some(first), Some(last)) = (plan.path.first(), plan.path.last()) else {
        return Ok(Inside::default());
    };
    let pellet = PelletSpec::of(&job.resin)?;
    if !pellet.isotherm.takes_up_water() || !(first.moisture > last.moisture) {
        return Ok(Inside::default());
    }
    let curve = Curve {
        instants: plan.path.iter().map(instant).collect(),
        segments: Vec::new(),
        rejected: 0,
    };
    let air = AirState {
        temperature: Temperature::from_celsius(plan.settings.air_temperature_c),
        humidity: HumidityRatio::from_g_per_kg(plan.settings.humidity_g_kg).into(),
    };
    // Only the pellet and its start count here: surface and temperature come from the way.
    let history = HistorySpec {
        pellet,
        start: Start {
            temperature: Temperature::from_si(first.temperature),
            moisture: MoistureDryBasis::from_si(first.moisture),
            free_water: MoistureDryBasis::from_si(first.free_water),
        },
        pressure: AbsolutePressure::from_pascal(1e3 * plan.coefficients.pressure_kpa),
        segments: vec![Segment::steady(
            "hopper",
            Duration::from_si(last.age),
            air,
            Surround::Stream(Velocity::from_si(0.1)),
        )],
        moments: Vec::new(),
        fineness: None,
        precision: None,
    }
    .check()?;
    let ages: Vec<Duration> = plan.path.iter().map(|p| Duration::from_si(p.age)).collect();
    // Surface and heart: two points a profile.
    let ends = inside::profiles(&history, &curve, &ages, 2)?;
    let heart = plan
        .path
        .iter()
        .zip(&ends)
        .map(|(place, profile)| HeartPlace {
            time_h: place.age / 3600.0,
            above_inlet_kg: place.height,
            heart_ppm_wet: profile.moisture.last().map_or(0.0, |x| x.wet_basis().ppm()),
        });
    let moments = moments(&plan.path);
    let profiles = inside::profiles(&history, &curve, &moments, DEPTH_POINTS)?;
    let half = moments.get(moments.len().saturating_sub(2)).copied();
    let cut = match half {
        Some(moment) => inside::cut(&history, &curve, moment, CUT_POINTS)?,
        None => None,
    };
    Ok(Inside {
        heart: heart.collect(),
        profiles: profiles.iter().map(InsideProfile::of).collect(),
        cut: cut.as_ref().map(section),
    })
}

impl InsideProfile {
    /// A profile of the pellet's solver.
    pub(crate) fn of(found: &inside::Profile) -> Self {
        Self {
            time_h: found.time.hours(),
            depth_mm: found.depth.iter().map(|d| d.millimetres()).collect(),
            moisture_ppm_wet: found.moisture.iter().map(|x| x.wet_basis().ppm()).collect(),
            mean_ppm_wet: found.mean.wet_basis().ppm(),
        }
    }
}

fn section(found: &inside::Cut) -> InsideCut {
    let millimetres =
        |places: &[quantity::Length]| places.iter().map(|x| x.millimetres()).collect();
    let row = |row: &Vec<MoistureDryBasis>| row.iter().map(|x| x.wet_basis().ppm()).collect();
    InsideCut {
        time_h: found.time.hours(),
        across_mm: millimetres(&found.across),
        along_mm: millimetres(&found.along),
        moisture_ppm_wet: found.moisture.iter().map(row).collect(),
        mean_ppm_wet: found.mean.wet_basis().ppm(),
    }
}

fn instant(place: &Place) -> Instant {
    Instant {
        time: Duration::from_si(place.age),
        pellet_temperature: Temperature::from_si(place.temperature),
        air_temperature: Temperature::from_si(place.air_temperature),
        air_humidity: HumidityRatio::from_si(place.air_humidity),
        condensation_point: None,
        mean: MoistureDryBasis::from_si(place.moisture),
        surface: MoistureDryBasis::from_si(place.surface),
        heart: MoistureDryBasis::from_si(place.heart),
        free_water: MoistureDryBasis::from_si(place.free_water),
        drying_rate_per_s: 0.0,
    }
}

/// When so much of the water is left, and the end.
fn moments(path: &[Place]) -> Vec<Duration> {
    let Some((first, last)) = path.first().zip(path.last()) else {
        return Vec::new();
    };
    let mut found: Vec<f64> = Vec::new();
    for left in LEFT {
        let level = last.moisture + left * (first.moisture - last.moisture);
        let Some(pair) = path.windows(2).find(|pair| pair[1].moisture <= level) else {
            continue;
        };
        let span = pair[0].moisture - pair[1].moisture;
        let share = if span > 0.0 {
            (pair[0].moisture - level) / span
        } else {
            1.0
        };
        let age = pair[0].age + share.clamp(0.0, 1.0) * (pair[1].age - pair[0].age);
        if age > 0.0 && age < 0.97 * last.age && found.last().is_none_or(|before| *before < age) {
            found.push(age);
        }
    }
    found.push(last.age);
    found.into_iter().map(Duration::from_si).collect()
}
