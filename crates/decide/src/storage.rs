//! Storage before the dryer: a pellet lying open in the climate of a store.
//!
//! # Equations
//! The surface of the pellet is in balance with the air, `X_s = X_eq(T, a)`, at the temperature of
//! the air; inside it diffuses ([`pellet::interior`]). Steps begin short, grow, and stay below
//! an hour where the climate changes.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! X_s | `StoredPoint::surface_ppm_wet` | ppm of wet resin
//!
//! # Holds for
//! Pellets on top of an open bag, box or heap, with no film before them: what lies deeper sees air
//! that its neighbours have dried, takes up less, and is wetter here than there. Films and the warmth
//! of a pellet settle in minutes, against hours for the climate. Air above saturation counts as
//! saturated.
//!
//! # Sources
//! As [`pellet::interior`].
//!
//! # Checked by
//! `tests/src/exact/stored_pellet.rs`

use crate::DecideError;
use crate::plan::ppm_wet;
use job::{Climate, Storage};
use material::{Behaviour, Resin};
use pellet::Outline;
use pellet::equivalent::EQUIVALENT_HOLDS;
use pellet::interior::{Interior, SurfaceDrift};
use quantity::{Duration, Quantity};
use serde::Serialize;

/// Longest step in a climate that changes, s: the hour of a weather file.
const LONGEST_STEP: f64 = 3600.0;
/// Steps over which a climate that stays the same is followed at least.
const STEPS: f64 = 100.0;
/// First step, as a share of the time, and the growth of steps.
const FIRST_STEP: f64 = 1e-6;
const GROWTH: f64 = 1.1;
/// Modes or nodes in each coordinate.
const MODES: usize = 60;
const LINE_NODES: usize = 12;
const SECTION_NODES: usize = 6;
/// Points of a course that are kept.
const POINTS: usize = 200;

/// The pellet in its store at one time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct StoredPoint {
    /// Days since it was laid there.
    pub time_d: f64,
    /// Air of the store.
    pub air_c: f64,
    /// Its humidity.
    pub relative_humidity_percent: f64,
    /// Mean moisture.
    pub mean_ppm_wet: f64,
    /// Moisture at the surface.
    pub surface_ppm_wet: f64,
}

/// What storage made of the pellet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Stored {
    /// Mean moisture at its end, kg/kg dry.
    pub moisture_kg_kg: f64,
    /// Along its time, at most 200 points.
    pub course: Vec<StoredPoint>,
}

/// What a storage makes of pellets of a resin; none where it states no climate.
///
/// # Errors
/// From the pellet.
pub fn stored(
    resin: &Resin,
    storage: &Storage,
    outline: &Outline,
) -> Result<Option<Stored>, DecideError> {
    let Some(climate) = &storage.climate else {
        return Ok(None);
    };
    let sealed = resin.received.sealed.value.si();
    let start = storage.from.map_or(sealed, |from| from.dry_basis().si());
    let isotherm = resin.isotherm.law;
    if !isotherm.takes_up_water() || resin.behaviour == Behaviour::SurfaceWaterOnly {
        return Ok(Some(Stored {
            moisture_kg_kg: start,
            course: Vec::new(),
        }));
    }
    let law = resin.diffusivity.law;
    let fineness = match outline {
        _ if !law.depends_on_moisture() => MODES,
        Outline::Cylinder { diameter, length }
            if !(length / diameter >= EQUIVALENT_HOLDS.0
                && length / diameter <= EQUIVALENT_HOLDS.1) =>
        {
            SECTION_NODES
        }
        _ => LINE_NODES,
    };
    let inside = Interior::of(outline, &isotherm, &law, fineness)?;
    let (mut state, mut work) = (inside.uniform(start), inside.work());
    let total = climate.time().si();
    let longest = if climate.is_steady() {
        total / STEPS
    } else {
        LONGEST_STEP
    };
    let seen = |time: f64| {
        let (temperature, humidity) = climate.at(Duration::from_si(time));
        let activity = humidity.si().clamp(0.0, 1.0);
        (temperature.si(), activity)
    };
    let balance = |time: f64| {
        let (t, activity) = seen(time);
        isotherm.moisture(t, activity)
    };
    let mut course = Course::new(climate, total);
    course.note(0.0, start, balance(0.0));
    let (mut done, mut step) = (0.0, FIRST_STEP * total);
    while done < total {
        step = (GROWTH * step).min(longest);
        let h = if step > 0.999 * (total - done) {
            total - done
        } else {
            step
        };
        let middle = done + 0.5 * h;
        let (t, _) = seen(middle);
        let surface = balance(middle);
        // The air of both ends is known, so the drift over the step is too.
        let drift = if climate.is_steady() {
            SurfaceDrift {
                before: surface,
                rate: 0.0,
            }
        } else {
            SurfaceDrift {
                before: balance(done),
                rate: 2.0 / h,
            }
        };
        inside.prepare(&state, law.at(t, 0.0), h, drift, &mut work);
        inside.respond(&law, t, h, &state, surface, drift, &mut work)?;
        inside.commit(&mut state, surface, h, drift, &work);
        done += h;
        course.note(done, inside.mean(&state), balance(done));
    }
    Ok(Some(Stored {
        moisture_kg_kg: inside.mean(&state),
        course: course.points,
    }))
}

/// The points of a course, evenly spread over its time.
struct Course<'a> {
    climate: &'a Climate,
    total: f64,
    points: Vec<StoredPoint>,
}

impl<'a> Course<'a> {
    fn new(climate: &'a Climate, total: f64) -> Self {
        Self {
            climate,
            total,
            points: Vec::new(),
        }
    }

    fn note(&mut self, time: f64, mean: f64, surface: f64) {
        let due = self.total * self.points.len() as f64 / (POINTS - 1) as f64;
        if time + 1e-9 * self.total < due && time < self.total {
            return;
        }
        let (air, humidity) = self.climate.at(Duration::from_si(time));
        self.points.push(StoredPoint {
            time_d: time / 86_400.0,
            air_c: air.celsius(),
            relative_humidity_percent: humidity.percent(),
            mean_ppm_wet: ppm_wet(mean),
            surface_ppm_wet: ppm_wet(surface),
        });
    }
}
