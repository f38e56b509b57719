//! What one pellet goes through, from the top of the hopper to the screw.

use crate::case::celsius;
use crate::plan::ppm_wet;
use line::follow::{Followed, Lot, Picture, Step};
use serde::Serialize;

/// A pellet at one moment.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct JourneyPoint {
    /// Hours since the beginning.
    pub hour: f64,
    /// Where.
    pub place: Place,
    /// Share of the resin in the bed that lies below it; none beyond the bed.
    pub height: Option<f64>,
    /// Its temperature.
    pub temperature_c: f64,
    /// Its mean moisture.
    pub moisture_ppm_wet: f64,
}

/// Where a pellet is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Place {
    /// In the bed.
    Bed,
    /// Below the air inlet.
    Cone,
    /// On the press.
    Press,
    /// At the screw.
    Screw,
}

/// The journey of a lot.
pub(crate) fn of(followed: &Followed, lot: &Lot) -> Vec<JourneyPoint> {
    let mut points = Vec::new();
    for picture in &followed.pictures {
        if picture.time < lot.lived.fed_at || picture.time > lot.left_air {
            continue;
        }
        let below = drawn_between(&followed.steps, picture.time, lot.left_air);
        if let Some((share, temperature, water)) = at(picture, below) {
            points.push(JourneyPoint {
                hour: picture.time / 3600.0,
                place: Place::Bed,
                height: Some(share),
                temperature_c: celsius(temperature),
                moisture_ppm_wet: ppm_wet(water),
            });
        }
    }
    let mut last = |time: f64, place: Place, water: f64| {
        points.push(JourneyPoint {
            hour: time / 3600.0,
            place,
            height: None,
            temperature_c: match place {
                Place::Screw => celsius(lot.temperature),
                // As it left the air: hotter than at the screw by what the press took.
                Place::Bed | Place::Cone | Place::Press => {
                    let inlet = followed_inlet(followed, lot.left_air);
                    celsius(lot.lived.hottest.min(inlet))
                }
            },
            moisture_ppm_wet: ppm_wet(water),
        });
    };
    last(lot.left_air, Place::Cone, lot.dried);
    if lot.used > lot.arrived {
        last(lot.arrived, Place::Press, lot.dried);
    }
    last(lot.used, Place::Screw, lot.water());
    points
}

/// Temperature of the air into the hopper at a time, K.
fn followed_inlet(followed: &Followed, time: f64) -> f64 {
    let after = followed.steps.partition_point(|step| step.time < time);
    let step = followed.steps.get(after).or(followed.steps.last());
    step.map_or(f64::INFINITY, |step| step.inlet.0)
}

/// Resin drawn from the bed between two times, kg dry.
fn drawn_between(steps: &[Step], from: f64, to: f64) -> f64 {
    let first = steps.partition_point(|step| step.time <= from);
    let mut sum = 0.0;
    for step in &steps[first..] {
        let start = (step.time - step.duration).max(from);
        let end = step.time.min(to);
        if end <= start {
            break;
        }
        sum += step.drawn * (end - start);
    }
    sum
}

/// Share of the height, temperature and water at a mass above the inlet, of what a picture shows.
fn at(picture: &Picture, below: f64) -> Option<(f64, f64, f64)> {
    let layers = &picture.layers;
    let top = layers.last()?.0;
    let after = layers.partition_point(|&(mass, _, _)| mass < below);
    let (m1, t1, w1) = *layers.get(after).or(layers.last())?;
    let Some(&(m0, t0, w0)) = after.checked_sub(1).and_then(|index| layers.get(index)) else {
        return Some((below / top, t1, w1));
    };
    let share = if m1 > m0 {
        ((below - m0) / (m1 - m0)).clamp(0.0, 1.0)
    } else {
        1.0
    };
    let between = |a: f64, b: f64| a + (b - a) * share;
    Some(((below / top).min(1.0), between(t0, t1), between(w0, w1)))
}
