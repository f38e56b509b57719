//! Moisture inside a pellet at chosen moments: along its depth, and over a cut through a cylinder.
//!
//! The surface and the temperature are those of a [`Curve`] already followed; the inside is solved
//! anew between nodes ([`NodalGrid`]), in steps short enough for a picture (half a percent). Along the
//! depth that is done on the one-dimensional equivalent of the outline, over the cut on the quarter
//! section itself. Values are held between the least and the most that start and surface have seen,
//! as diffusion demands (Crank (1975), section 1.1), where a steep front would make them ring.

use crate::equivalent::Equivalent;
use crate::history::{Curve, History, Instant};
use crate::nodal::NodalGrid;
use crate::radial::RadialGrid;
use crate::{Outline, PelletError};
use libm::ceil;
use quantity::{Duration, Length, MoistureDryBasis, Quantity};
use serde::Serialize;

/// Moisture along the depth at one moment.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Profile {
    /// When.
    pub time: Duration,
    /// Depth below the surface, rising to the heart of the equivalent.
    pub depth: Vec<Length>,
    /// Moisture there.
    pub moisture: Vec<MoistureDryBasis>,
    /// Mean over the pellet.
    pub mean: MoistureDryBasis,
}

/// Moisture over the cut through the axis of a cylinder at one moment.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Cut {
    /// When.
    pub time: Duration,
    /// Places across the axis, from one side to the other, 0 on the axis.
    pub across: Vec<Length>,
    /// Places along the axis, from one end to the other, 0 in the middle.
    pub along: Vec<Length>,
    /// One row for each place along the axis.
    pub moisture: Vec<Vec<MoistureDryBasis>>,
    /// Mean over the pellet.
    pub mean: MoistureDryBasis,
}

/// Nodes along the depth.
const LINE_NODES: usize = 24;
/// Nodes in each coordinate of a section.
const SECTION_NODES: usize = 9;
/// Longest step as a share of depth squared over diffusivity: the slowest mode then falls by a fifth.
const LONGEST_STEP: f64 = 0.02;
/// Where the first stage of a step stands (see [`crate::nodal`]).
const STAGE: f64 = 0.292_893_218_813_452_4;

/// Profiles along the depth at chosen moments, in their order; none for a resin that takes up no
/// water. Moments beyond the end of the curve show its end.
///
/// # Errors
/// From the equivalent and the nodal solver.
pub fn profiles(
    history: &History,
    curve: &Curve,
    moments: &[Duration],
    points: usize,
) -> Result<Vec<Profile>, PelletError> {
    let pellet = &history.spec().pellet;
    if !pellet.isotherm.takes_up_water() {
        return Ok(Vec::new());
    }
    let equivalent = Equivalent::of(&pellet.outline)?;
    let radial = RadialGrid::new(equivalent.dimension, equivalent.bulge, LINE_NODES)?;
    let grid = NodalGrid::line(&radial, equivalent.depth);
    let places: Vec<f64> = (0..points).map(|i| share(i, points)).collect();
    let weights: Vec<Vec<f64>> = places
        .iter()
        .map(|depth| radial.interpolation((1.0 - depth) * (1.0 - depth)))
        .collect();
    let found = solve(history, curve, moments, &grid, equivalent.depth)?;
    Ok(found
        .iter()
        .map(|seen| Profile {
            time: seen.time,
            depth: places
                .iter()
                .map(|depth| Length::from_si(depth * equivalent.depth))
                .collect(),
            moisture: weights
                .iter()
                .map(|weights| seen.held(weights.iter().zip(&seen.state).map(|(w, x)| w * x).sum()))
                .collect(),
            mean: MoistureDryBasis::from_si(grid.mean(&seen.state)),
        })
        .collect())
}

/// The cut through the axis at one moment; none for another outline than a cylinder and for a resin
/// that takes up no water.
///
/// # Errors
/// From the nodal solver.
pub fn cut(
    history: &History,
    curve: &Curve,
    moment: Duration,
    points: usize,
) -> Result<Option<Cut>, PelletError> {
    let pellet = &history.spec().pellet;
    let Outline::Cylinder { diameter, length } = pellet.outline else {
        return Ok(None);
    };
    if !pellet.isotherm.takes_up_water() {
        return Ok(None);
    }
    let (radius, half) = (0.5 * diameter, 0.5 * length);
    let grid = NodalGrid::section(radius, half, SECTION_NODES)?;
    let found = solve(history, curve, &[moment], &grid, radius.min(half))?;
    let Some(seen) = found.first() else {
        return Ok(None);
    };
    let lines = |dimension| -> Result<Vec<Vec<f64>>, PelletError> {
        let radial = RadialGrid::new(dimension, 0.0, SECTION_NODES)?;
        let weights = |i| {
            let place = 2.0 * share(i, points) - 1.0;
            radial.interpolation(place * place)
        };
        Ok((0..points).map(weights).collect())
    };
    let (by_radius, by_height) = (lines(2.0)?, lines(1.0)?);
    let value = |across: &[f64], along: &[f64]| {
        let mut sum = 0.0;
        for (i, a) in across.iter().enumerate() {
            for (j, b) in along.iter().enumerate() {
                let inner = i < SECTION_NODES && j < SECTION_NODES;
                let x = if inner {
                    seen.state[i * SECTION_NODES + j]
                } else {
                    seen.surface
                };
                sum += a * b * x;
            }
        }
        seen.held(sum)
    };
    let places = |half: f64| {
        (0..points)
            .map(|i| Length::from_si((2.0 * share(i, points) - 1.0) * half))
            .collect()
    };
    Ok(Some(Cut {
        time: seen.time,
        across: places(radius),
        along: places(half),
        moisture: by_height
            .iter()
            .map(|along| {
                by_radius
                    .iter()
                    .map(|across| value(across, along))
                    .collect()
            })
            .collect(),
        mean: MoistureDryBasis::from_si(grid.mean(&seen.state)),
    }))
}

/// The nodes at one moment.
struct Seen {
    time: Duration,
    state: Vec<f64>,
    surface: f64,
    /// Least and most that start and surface have had until then.
    bounds: (f64, f64),
}

impl Seen {
    fn held(&self, value: f64) -> MoistureDryBasis {
        MoistureDryBasis::from_si(value.clamp(self.bounds.0, self.bounds.1))
    }
}

/// Drives a grid with the surface and the temperature of a curve.
fn solve(
    history: &History,
    curve: &Curve,
    moments: &[Duration],
    grid: &NodalGrid,
    depth: f64,
) -> Result<Vec<Seen>, PelletError> {
    let spec = history.spec();
    let law = &spec.pellet.diffusivity;
    let start = spec.start.moisture.si();
    let (mut state, mut work) = (vec![start; grid.len()], grid.work());
    let mut end = state.clone();
    let mut bounds = (start, start);
    let goal = |moment: &Duration| -> f64 {
        let last = curve.last().map_or(0.0, |instant| instant.time.si());
        moment.si().clamp(0.0, last)
    };
    let mut order: Vec<usize> = (0..moments.len()).collect();
    order.sort_by(|a, b| goal(&moments[*a]).total_cmp(&goal(&moments[*b])));
    let mut found: Vec<(usize, Seen)> = Vec::new();
    let mut waiting = order.into_iter().peekable();
    for pair in curve.instants.windows(2) {
        let (from, to) = (&pair[0], &pair[1]);
        let mut now = from.time.si();
        while now < to.time.si() {
            let next = waiting.peek().map(|index| goal(&moments[*index]));
            let Some(next) = next else { break };
            let target = next.clamp(now, to.time.si());
            if target > now {
                let t = between(from, to, 0.5 * (now + target), temperature);
                let fastest = law.at(t, bounds.1).max(law.at(t, bounds.0));
                // Equal steps, none longer than the longest.
                let parts = ceil((target - now) * fastest / (LONGEST_STEP * depth * depth));
                let h = (target - now) / parts.max(1.0);
                while target - now > 0.5 * h {
                    let t = between(from, to, now + 0.5 * h, temperature);
                    let stage = between(from, to, now + STAGE * h, surface);
                    let last = between(from, to, now + h, surface);
                    grid.step(law, t, h, &state, stage, last, &mut end, &mut work)?;
                    state.copy_from_slice(&end);
                    bounds = (bounds.0.min(last), bounds.1.max(last));
                    now += h;
                }
                now = target;
            }
            while let Some(index) = waiting.next_if(|index| goal(&moments[*index]) <= now) {
                found.push((
                    index,
                    Seen {
                        time: Duration::from_si(now),
                        state: state.clone(),
                        surface: state[grid.len() - 1],
                        bounds,
                    },
                ));
            }
        }
    }
    found.sort_by_key(|(index, _)| *index);
    Ok(found.into_iter().map(|(_, seen)| seen).collect())
}

fn temperature(instant: &Instant) -> f64 {
    instant.pellet_temperature.si()
}

fn surface(instant: &Instant) -> f64 {
    instant.surface.si()
}

/// A number of two instants in a straight line between them.
fn between(from: &Instant, to: &Instant, time: f64, number: impl Fn(&Instant) -> f64) -> f64 {
    let (a, b) = (from.time.si(), to.time.si());
    let share = ((time - a) / (b - a)).clamp(0.0, 1.0);
    number(from) + share * (number(to) - number(from))
}

/// The `i`th of `points` places from 0 to 1.
fn share(i: usize, points: usize) -> f64 {
    i as f64 / points.saturating_sub(1).max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::tests::{Outcome, follow, oven};
    use std::f64::consts::PI;

    #[test]
    fn holds_profiles_have_the_mean_of_the_curve() -> Outcome {
        let spec = oven();
        let (history, curve) = (spec.check()?, follow(&spec)?);
        let moments = [120.0, 10.0, 30.0, 60.0, 999.0].map(Duration::from_minutes);
        let found = profiles(&history, &curve, &moments, 41)?;
        assert_eq!(found.len(), 5);
        for (profile, moment) in found.iter().zip(&moments) {
            let wanted = curve.at(*moment, |i| i.mean.ppm()).ok_or("a curve")?;
            let ratio = profile.mean.ppm() / wanted;
            assert!((ratio - 1.0).abs() < 0.02, "{moment:?} {ratio}");
            let rising = profile.moisture.windows(2).all(|pair| pair[1] >= pair[0]);
            assert!(rising, "{profile:?}");
        }
        Ok(())
    }

    #[test]
    fn exact_cut_of_a_slow_mode_is_a_product() -> Outcome {
        // Late in drying only the slowest mode is left: J0(2.4048 r/R) cos(pi z/2H).
        let spec = oven();
        let (history, curve) = (spec.check()?, follow(&spec)?);
        let cut = cut(&history, &curve, Duration::from_minutes(100.0), 21)?.ok_or("a cylinder")?;
        let heart = cut.moisture[10][10].si();
        let floor = cut.moisture[0][0].si();
        for step in 0..10 {
            let place = (step as f64 - 10.0) / 10.0;
            let along = (cut.moisture[step][10].si() - floor) / (heart - floor);
            assert!((along - (0.5 * PI * place).cos()).abs() < 3e-3, "{along}");
            let across = (cut.moisture[10][step].si() - floor) / (heart - floor);
            assert!((across - libm::j0(2.404_825_557_7 * place)).abs() < 3e-3);
        }
        let exact = curve.at(cut.time, |i| i.mean.ppm()).ok_or("a curve")?;
        assert!((cut.mean.ppm() / exact - 1.0).abs() < 0.01);
        Ok(())
    }
}
