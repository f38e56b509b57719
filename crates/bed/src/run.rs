//! A column followed in time, with its ledgers and the resin below the air inlet.

use crate::BedError;
use crate::column::{Column, ColumnState, Drive, Passed};
use quantity::Ledger;
use serde::{Deserialize, Serialize};
use std::collections::VecDeque;

/// One moment of a run.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Moment {
    /// Seconds since the air was switched on (middle of the step).
    pub time: f64,
    /// Sorbed and free water of the resin at the plane of the air inlet, kg/kg dry.
    pub dried: f64,
    /// Water of the resin at the outlet of the hopper, below the air inlet, kg/kg dry.
    pub outlet: f64,
    /// Temperature of the resin at the plane of the air inlet, K.
    pub temperature: f64,
    /// Air leaving on top, K.
    pub return_temperature: f64,
    /// Its humidity ratio.
    pub return_humidity: f64,
    /// Resin held above the inlet, kg dry.
    pub held: f64,
}

/// A run and its books.
#[derive(Clone, Debug, Serialize)]
pub struct Run {
    /// Moments at which resin left, in order of time.
    pub moments: Vec<Moment>,
    /// Water, kg.
    pub water: Ledger,
    /// Energy, J.
    pub energy: Ledger,
}

/// Follows a column from `state` for `duration` seconds under what `drive` says at each time.
/// `below` is the resin under the air inlet, kg dry, with the water `below_water` at the start.
///
/// `drive` is asked at the start of each step and steps end where it says the next change comes.
///
/// # Errors
/// From the column.
pub fn follow(
    column: &Column,
    state: ColumnState,
    duration: f64,
    below: f64,
    below_water: f64,
    drive: impl Fn(f64) -> (Drive, f64),
) -> Result<Run, BedError> {
    let unwatched = |_: &ColumnState, _: &Drive, _: f64| {};
    watch(
        column,
        state,
        duration,
        (below, below_water),
        drive,
        unwatched,
    )
}

/// The same, for one who also wants to look at the column: `look` is shown it at the start and at
/// the end of each step, with what drove it and the time, and changes nothing. The resin under the
/// air inlet and its water come as a pair.
///
/// # Errors
/// From the column.
pub fn watch(
    column: &Column,
    mut state: ColumnState,
    duration: f64,
    (below, below_water): (f64, f64),
    drive: impl Fn(f64) -> (Drive, f64),
    mut look: impl FnMut(&ColumnState, &Drive, f64),
) -> Result<Run, BedError> {
    look(&state, &drive(0.0).0, 0.0);
    let start = column.held(&state);
    let mut sums = Passed::default();
    let mut moments = Vec::new();
    let mut queue = Queue::filled(below, below_water);
    let mut time = 0.0;
    let mut leaving = Leaving::default();
    while time < duration {
        let (now, until) = drive(time);
        let most = (until - time).max(1e-6);
        let passed = column.step(&mut state, &now, most)?;
        add(&mut sums, &passed);
        // A parcel is reported when the last of it has left: its parts differ by what dried meanwhile.
        leaving.add(&passed, time);
        if passed.parcel_ended && leaving.resin > 0.0 {
            let (moment_time, dried, temperature) = leaving.mean();
            moments.push(Moment {
                time: moment_time,
                dried,
                outlet: queue.pass(leaving.resin, dried),
                temperature,
                return_temperature: passed.return_temperature,
                return_humidity: passed.return_humidity,
                held: column.held(&state)[0],
            });
            leaving = Leaving::default();
        }
        time += passed.duration;
        look(&state, &now, time);
    }
    let held = column.held(&state);
    let water = Ledger::new("water", "kg")
        .enter("resin fed", sums.water_in)
        .enter("air entering", sums.air_water_in)
        .leave("resin through the inlet plane", sums.water_out)
        .leave("air leaving", sums.air_water_out)
        .stay("gain of the resin held", held[1] - start[1]);
    let energy = Ledger::new("energy", "J")
        .enter("resin fed", sums.heat_in)
        .enter("air entering", sums.air_heat_in)
        .leave("resin through the inlet plane", sums.heat_out)
        .leave("air leaving", sums.air_heat_out)
        .leave("through the wall", sums.wall_heat)
        .stay("gain of the resin held", held[2] - start[2]);
    Ok(Run {
        moments,
        water,
        energy,
    })
}

impl Run {
    /// Water of the dried resin at a time, kg/kg dry: cubic through the four nearest moments.
    /// None before the second moment or after the last but one.
    pub fn dried_at(&self, time: f64) -> Option<f64> {
        let after = self.moments.iter().position(|moment| moment.time >= time)?;
        if after < 2 || after + 2 > self.moments.len() {
            return None;
        }
        let near = &self.moments[after - 2..after + 2];
        let mut sum = 0.0;
        for (i, moment) in near.iter().enumerate() {
            let mut weight = 1.0;
            for (j, other) in near.iter().enumerate() {
                if i != j {
                    weight *= (time - other.time) / (moment.time - other.time);
                }
            }
            sum += weight * moment.dried;
        }
        Some(sum)
    }

    /// First time from which on the resin at the outlet of the hopper stays at or below `limit`
    /// (kg/kg dry) to the end of the run.
    pub fn dry_from(&self, limit: f64) -> Option<f64> {
        let last_wet = self
            .moments
            .iter()
            .rposition(|moment| moment.outlet > limit);
        match last_wet {
            None => self.moments.first().map(|moment| moment.time),
            Some(index) => self.moments.get(index + 1).map(|moment| moment.time),
        }
    }
}

fn add(sums: &mut Passed, passed: &Passed) {
    sums.water_in += passed.water_in;
    sums.heat_in += passed.heat_in;
    sums.water_out += passed.water_out;
    sums.heat_out += passed.heat_out;
    sums.air_water_in += passed.air_water_in;
    sums.air_water_out += passed.air_water_out;
    sums.air_heat_in += passed.air_heat_in;
    sums.air_heat_out += passed.air_heat_out;
    sums.wall_heat += passed.wall_heat;
}

/// What has left of the parcel that is leaving.
#[derive(Default)]
struct Leaving {
    resin: f64,
    water: f64,
    /// Resin times temperature and resin times time.
    heat: f64,
    moment: f64,
}

impl Leaving {
    fn add(&mut self, passed: &Passed, start: f64) {
        self.resin += passed.resin_out;
        self.water += passed.water_out;
        self.heat += passed.resin_out * passed.outlet_temperature;
        self.moment += passed.resin_out * (start + 0.5 * passed.duration);
    }

    /// Mean time, moisture and temperature.
    fn mean(&self) -> (f64, f64, f64) {
        (
            self.moment / self.resin,
            self.water / self.resin,
            self.heat / self.resin,
        )
    }
}

/// Resin below the air inlet: first in, first out, its water unchanged.
struct Queue {
    slugs: VecDeque<(f64, f64)>,
}

impl Queue {
    fn filled(mass: f64, water: f64) -> Self {
        let mut slugs = VecDeque::new();
        if mass > 0.0 {
            slugs.push_back((mass, water));
        }
        Self { slugs }
    }

    /// Takes `mass` in with `water` and gives as much out; returns the water of what comes out.
    fn pass(&mut self, mass: f64, water: f64) -> f64 {
        self.slugs.push_back((mass, water));
        let (mut wanted, mut carried) = (mass, 0.0);
        while let Some((held, content)) = self.slugs.pop_front() {
            if held > wanted {
                carried += wanted * content;
                self.slugs.push_front((held - wanted, content));
                break;
            }
            carried += held * content;
            wanted -= held;
            if wanted <= 1e-12 * mass {
                break;
            }
        }
        carried / mass
    }
}

#[cfg(test)]
mod tests {
    use super::Queue;

    #[test]
    fn exact_first_in_first_out() {
        let mut queue = Queue::filled(3.0, 0.5);
        assert!((queue.pass(2.0, 0.1) - 0.5).abs() < 1e-12);
        assert!((queue.pass(2.0, 0.2) - 0.3).abs() < 1e-12);
        assert!((queue.pass(1.0, 0.3) - 0.1).abs() < 1e-12);
    }
}
