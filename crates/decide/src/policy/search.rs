//! Ways of running a dryer, tried on the same days, and the best of them found.

use super::chance::instruments;
use crate::DecideError;
use crate::case::celsius;
use crate::shift::{Days, MAY_BE, Masses};
use line::control::{Control, Seen, Sense, Setback};
use line::follow::Followed;
use rayon::prelude::*;
use serde::Serialize;
use uncertainty::Design;

/// A way of running a dryer.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Way {
    /// How far the set point is set back, K; not at all when zero.
    pub back_k: f64,
    /// Demand below which it is, of the planned rate.
    pub below: f64,
    /// Demand above which it recovers.
    pub above: f64,
    /// How long demand is low before, s.
    pub after_s: f64,
    /// Lag of what is sensed, s.
    pub lag_s: f64,
    /// Least share of the air; all of it always when one.
    pub least_air: f64,
    /// How far ahead demand is known, s; it is sensed when none.
    pub ahead_s: Option<f64>,
}

/// What a way comes to.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct WayFound {
    /// The way.
    pub way: Way,
    /// Temperature to which the drying air is set back; none where it is not.
    pub setback_c: Option<f64>,
    /// Energy over the resin made, kWh/kg as weighed.
    pub energy_kwh_kg: f64,
    /// What became of the resin.
    pub masses: Masses,
    /// The most of the longest customary stay.
    pub longest_stay: f64,
    /// Hours that the press waited.
    pub waited_h: f64,
}

/// What trying a way gave.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Tried {
    pub(crate) way: Way,
    pub(crate) energy: f64,
    pub(crate) masses: Masses,
    pub(crate) longest: f64,
    pub(crate) waited: f64,
}

/// Greatest setback, K.
const MOST_BACK: f64 = 80.0;
/// Coldest that drying air is set back to, K.
const COLDEST: f64 = 313.15;
/// Setback below which there is none, K.
const NO_BACK: f64 = 2.0;
/// Ways of the first spread, sensed and with foresight.
const SPREAD: (u32, u32) = (16, 8);
/// Rounds from neighbour to neighbour.
const ROUNDS: usize = 3;
/// Energy that a thousandfold of what may be lost costs, times that of running constantly.
const PENALTY: f64 = 3.0;

impl Way {
    /// Always at the set point, with all of the air.
    pub const CONSTANT: Self = Self {
        back_k: 0.0,
        below: 0.25,
        above: 0.4,
        after_s: 1800.0,
        lag_s: 600.0,
        least_air: 1.0,
        ahead_s: None,
    };

    /// That of a control.
    pub(crate) fn of(control: &Control, sets_back: bool) -> Self {
        let back = control.setback.filter(|_| sets_back);
        let constant = Self::CONSTANT;
        Self {
            back_k: back.map_or(0.0, |back| control.set_point - back.temperature),
            below: back.map_or(constant.below, |back| back.below),
            above: back.map_or(constant.above, |back| back.above),
            after_s: back.map_or(constant.after_s, |back| back.after),
            lag_s: constant.lag_s,
            least_air: control.least_air.unwrap_or(1.0),
            ahead_s: None,
        }
    }

    /// A control run so.
    pub(crate) fn on(&self, control: &Control) -> Control {
        let to = (control.set_point - self.back_k).max(COLDEST);
        let setback = (self.back_k >= NO_BACK).then_some(Setback {
            temperature: to,
            below: self.below,
            after: self.after_s,
            above: self.above,
        });
        Control {
            sense: if self.ahead_s.is_some() {
                Sense::Told
            } else {
                control.sense
            },
            lag: if self.ahead_s.is_some() {
                0.0
            } else {
                self.lag_s
            },
            least_air: (self.least_air < 0.99).then_some(self.least_air),
            setback,
            ..control.clone()
        }
    }

    /// The way at a place in the unit cube.
    fn at(place: &[f64; 6], ahead: bool) -> Self {
        let between = |share: f64, low: f64, high: f64| low + (high - low) * share.clamp(0.0, 1.0);
        let below = between(place[1], 0.05, 0.6);
        Self {
            back_k: between(place[0], 0.0, MOST_BACK),
            below: if ahead { 0.05 } else { below },
            above: if ahead {
                0.05
            } else {
                between(place[2], below, 0.9)
            },
            after_s: if ahead {
                0.0
            } else {
                between(place[3], 300.0, 5400.0)
            },
            lag_s: between(place[4], 120.0, 1800.0),
            least_air: between(place[5], 0.3, 1.0),
            ahead_s: ahead.then(|| between(place[4], 0.0, 5.0 * 3600.0)),
        }
    }
}

impl Tried {
    /// For people; the set point is in K.
    pub(crate) fn found(&self, set_point: f64) -> WayFound {
        let sets_back = self.way.back_k >= NO_BACK;
        WayFound {
            way: self.way,
            setback_c: sets_back.then(|| celsius((set_point - self.way.back_k).max(COLDEST))),
            energy_kwh_kg: self.energy / self.masses.all_kg.max(f64::MIN_POSITIVE) / 3.6e6,
            masses: self.masses,
            longest_stay: self.longest,
            waited_h: self.waited / 3600.0,
        }
    }

    /// What it costs beside running constantly.
    fn cost(&self, constant: &Self) -> f64 {
        let of = |tried: &Self, pick: fn(&Masses) -> f64| tried.masses.share(pick(&tried.masses));
        let mut lost = 0.0;
        for pick in [
            (|masses: &Masses| masses.wet_kg) as fn(&Masses) -> f64,
            |masses| masses.overstayed_kg,
            |masses| masses.too_dry_kg,
        ] {
            let may_be = MAY_BE + of(constant, pick);
            lost += libm::log(of(self, pick).max(1e-12) / may_be).max(0.0);
        }
        let waits = (self.waited - constant.waited - 120.0).max(0.0) / 600.0;
        let energy = self.energy / constant.energy;
        energy + PENALTY / libm::log(1000.0) * lost + waits
    }
}

/// Days on which ways are tried.
pub(crate) struct Trials<'a> {
    days: &'a [Days],
    design: Design,
}

/// Days on which ways are tried.
pub(crate) fn trials(days: &[Days], design: Design) -> Trials<'_> {
    Trials { days, design }
}

impl Trials<'_> {
    /// What a way comes to on all days.
    ///
    /// # Errors
    /// From the line.
    pub(crate) fn try_one(&self, way: &Way) -> Result<Tried, DecideError> {
        let mut sum = Tried {
            way: *way,
            energy: 0.0,
            masses: Masses::default(),
            longest: 0.0,
            waited: 0.0,
        };
        for (index, days) in (0_u32..).zip(self.days) {
            let (_, one) = run(days, way, &mut instruments(self.design, index))?;
            sum.energy += one.energy;
            sum.masses = sum.masses.and(one.masses);
            sum.longest = sum.longest.max(one.longest);
            sum.waited += one.waited;
        }
        Ok(sum)
    }

    /// The best way that was found, and how many were tried.
    ///
    /// # Errors
    /// From the line.
    pub(crate) fn search(
        &self,
        constant: &Tried,
        ahead: bool,
        told: &(dyn Fn(f64) + Sync),
    ) -> Result<(Tried, usize), DecideError> {
        let count = if ahead { SPREAD.1 } else { SPREAD.0 };
        let spread: Vec<[f64; 6]> = (0..count)
            .map(|index| {
                let at = |dimension: u32| self.design.uniform(index, dimension);
                [at(0), at(1), at(2), at(3), at(4), at(5)]
            })
            .collect();
        let whole = count as usize + ROUNDS * NEIGHBOURS;
        let mut tried = self.all(&spread, ahead)?;
        let mut points = tried.len();
        told(points as f64 / whole as f64);
        let cost = |tried: &Tried| tried.cost(constant);
        let nearest = |tried: &[([f64; 6], Tried)]| {
            let best = tried
                .iter()
                .min_by(|a, b| cost(&a.1).total_cmp(&cost(&b.1)));
            best.cloned()
        };
        let mut step = 0.2;
        for _ in 0..ROUNDS {
            let Some((at, best)) = nearest(&tried) else {
                break;
            };
            let around = neighbours(&at, step, ahead);
            let next = self.all(&around, ahead)?;
            points += next.len();
            told(points as f64 / whole as f64);
            let gained = next.iter().any(|(_, one)| cost(one) < cost(&best) - 1e-3);
            tried.extend(next);
            if !gained {
                step *= 0.5;
            }
        }
        let best = nearest(&tried).map_or_else(|| constant.clone(), |(_, best)| best);
        // Nothing is changed for nothing.
        let best = if cost(&best) < cost(constant) - 5e-3 {
            best
        } else {
            constant.clone()
        };
        Ok((best, points))
    }

    fn all(&self, places: &[[f64; 6]], ahead: bool) -> Result<Vec<([f64; 6], Tried)>, DecideError> {
        places
            .par_iter()
            .map(|place| Ok((*place, self.try_one(&Way::at(place, ahead))?)))
            .collect()
    }
}

/// Neighbours of a place in one round.
const NEIGHBOURS: usize = 8;

/// Places a step away along what matters most first, and along two diagonals.
fn neighbours(at: &[f64; 6], step: f64, ahead: bool) -> Vec<[f64; 6]> {
    let moved = |moves: &[(usize, f64)]| {
        let mut place = *at;
        for &(k, by) in moves {
            place[k] = (place[k] + by).clamp(0.0, 1.0);
        }
        place
    };
    let mut found = vec![
        moved(&[(0, step)]),
        moved(&[(0, -step)]),
        moved(&[(5, -step)]),
        moved(&[(5, step)]),
        moved(&[(0, step), (5, -step)]),
        moved(&[(4, -step)]),
    ];
    if ahead {
        found.push(moved(&[(4, step)]));
    } else {
        found.push(moved(&[(3, -step), (1, step)]));
        found.push(moved(&[(1, -step), (2, -step)]));
    }
    found.dedup();
    found
}

/// Days run one way, and what that comes to.
///
/// # Errors
/// From the line.
pub(crate) fn run(
    days: &Days,
    way: &Way,
    instruments: &mut dyn FnMut(Seen) -> Seen,
) -> Result<(Followed, Tried), DecideError> {
    let days = days.run_as(&way.on(days.control()), way.ahead_s.unwrap_or(0.0));
    let followed = days.follow(instruments, f64::INFINITY)?;
    let judged = days.judged(&followed)?;
    let stays = judged.iter().map(|judged| judged.lot.lived.stayed);
    let tried = Tried {
        way: *way,
        energy: followed.electricity(),
        masses: days.masses(&followed, &judged),
        longest: stays.fold(0.0, f64::max),
        waited: followed.waited,
    };
    Ok((followed, tried))
}
