//! In what order dryers are switched on, so that their power together keeps a limit.
//!
//! # Equations
//! 1. A dryer placed before others is switched on at the last minute `s` with
//!    `base + sum of P_placed(t) + P(t - s) <= limit` for each minute `t` until the last is at work.
//! 2. Of the orders that place all of them that one is taken whose waiting costs least,
//!    `E = sum of the integral of P_waiting over the wait`.
//! 3. Up to [`ALL_TRIED`] dryers every order is tried, one that already costs more than the best left. For more
//!    several orders are bettered by exchanging any two or putting one elsewhere, until nothing improves.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! P | [`Load`] | kW, minute by minute
//!
//! # Holds for
//! Power by the minute. A dryer is placed whole; none is switched off again, and none waits longer than
//! [`LONGEST_WAIT`].
//!
//! # Sources
//! Balances alone; the ways of searching are textbook, no source.
//!
//! # Checked by
//! `crates/decide/src/switch_on/tests.rs`: halls whose order is known, and both searches against each other.

use serde::Serialize;

/// Dryers up to which every order is tried.
pub const ALL_TRIED: usize = 8;
/// Longest wait that is tried, minutes.
pub const LONGEST_WAIT: usize = 12 * 60;
/// Minutes at the end of what was followed of a wait that come again and again in a longer one.
const COMES_AGAIN: usize = 60;
/// Orders that are bettered by exchange.
const BEGINNINGS: usize = 24;
/// Power by which a sum may pass a limit through rounding, kW.
const ROUNDING: f64 = 1e-9;
/// How near the least limit is found, kW.
const NEAR: f64 = 0.02;

/// The power of a dryer from switching on, kW.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Load {
    /// Until it is ready, minute by minute.
    pub(super) warming: Vec<f64>,
    /// While it waits hot and gives nothing out, minute by minute.
    pub(super) waiting: Vec<f64>,
    /// At work.
    pub(super) working: f64,
    /// The minute from which it is at work.
    pub(super) wanted: usize,
}

impl Load {
    /// At a minute since it was switched on, not yet at work.
    fn since_on(&self, minute: usize) -> f64 {
        if let Some(&power) = self.warming.get(minute) {
            return power;
        }
        let minute = minute - self.warming.len();
        if let Some(&power) = self.waiting.get(minute) {
            return power;
        }
        let known = self.waiting.len();
        let again = known.min(COMES_AGAIN);
        match again {
            0 => self.working,
            _ => self.waiting[known - again + (minute - known) % again],
        }
    }

    /// At a minute, switched on so long before that it waits `wait` minutes.
    pub(super) fn at(&self, minute: usize, wait: usize) -> f64 {
        let on = self.on(wait);
        if minute >= self.wanted {
            self.working
        } else if minute < on {
            0.0
        } else {
            self.since_on(minute - on)
        }
    }

    /// The minute at which it is switched on.
    pub(super) fn on(&self, wait: usize) -> usize {
        self.wanted.saturating_sub(self.warming.len() + wait)
    }

    /// Energy of a wait, kWh.
    pub(super) fn energy_of(&self, wait: usize) -> f64 {
        let from = self.warming.len();
        let powers = (from..from + wait).map(|minute| self.since_on(minute));
        powers.fold(0.0, |sum, power| sum + power) / 60.0
    }

    /// The most that it ever takes however it is placed, kW.
    pub(super) fn peak(&self) -> f64 {
        self.warming.iter().copied().fold(self.working, f64::max)
    }
}

/// Dryers placed.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Placed {
    /// How long each waits, minutes.
    pub(super) waits: Vec<usize>,
    /// Energy of waiting, kWh.
    pub(super) cost: f64,
}

/// How the orders were tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Tried {
    /// None had to be: there is no limit.
    None,
    /// Every order.
    Every,
    /// Orders bettered by exchange.
    Exchange,
}

/// A hall whose dryers are placed under a limit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hall<'a> {
    /// Its dryers.
    pub(super) loads: &'a [Load],
    /// Power beside them, kW.
    pub(super) base: f64,
}

impl Hall<'_> {
    /// Minutes that are looked at: one after the last is at work.
    pub(super) fn minutes(&self) -> usize {
        let wanted = self.loads.iter().map(|load| load.wanted + 1);
        wanted.max().unwrap_or(0)
    }

    /// The power of all, minute by minute, kW.
    pub(super) fn power(&self, waits: &[usize]) -> Vec<f64> {
        let mut sum = vec![self.base; self.minutes()];
        for (load, &wait) in self.loads.iter().zip(waits) {
            add(&mut sum, load, wait);
        }
        sum
    }

    /// No less limit can be kept however they are placed, kW: each alone, and all at work.
    pub(super) fn least(&self) -> f64 {
        let alone = self.loads.iter().map(|load| self.base + load.peak());
        alone.fold(self.at_work(), f64::max)
    }

    /// All at work, kW.
    pub(super) fn at_work(&self) -> f64 {
        let working = self.loads.iter().map(|load| load.working);
        self.base + working.sum::<f64>()
    }

    /// The best order that keeps a limit.
    pub(super) fn best(&self, limit: f64) -> (Option<Placed>, Tried) {
        if self.least() > limit + ROUNDING {
            return (None, Tried::None);
        }
        if self.loads.len() <= ALL_TRIED {
            (self.of_every_order(limit), Tried::Every)
        } else {
            (self.by_exchange(limit), Tried::Exchange)
        }
    }

    /// The least limit that an order was found to keep, and that order.
    pub(super) fn least_kept(&self) -> (f64, Placed) {
        let count = self.loads.len();
        let mut best = Placed {
            waits: vec![0; count],
            cost: 0.0,
        };
        let mut high = self
            .power(&best.waits)
            .into_iter()
            .fold(self.base, f64::max);
        let mut low = self.least();
        while high - low > NEAR {
            let middle = 0.5 * (low + high);
            if let Some(found) = self.by_exchange(middle) {
                best = found;
                high = middle;
            } else {
                low = middle;
            }
        }
        (high, best)
    }

    /// The best of every order.
    pub(super) fn of_every_order(&self, limit: f64) -> Option<Placed> {
        let mut search = Search {
            hall: *self,
            limit,
            sum: vec![self.base; self.minutes()],
            waits: vec![None; self.loads.len()],
            best: None,
        };
        search.go_on(0, 0.0);
        search.best
    }

    /// Orders bettered by exchange, from several beginnings.
    pub(super) fn by_exchange(&self, limit: f64) -> Option<Placed> {
        let each = self
            .beginnings()
            .into_iter()
            .map(|order| self.bettered(order, limit));
        let whole = each
            .filter(|(left, _)| *left == 0)
            .map(|(_, placed)| placed);
        whole.min_by(|a, b| a.cost.total_cmp(&b.cost))
    }

    /// Orders to begin with: by power, by the cost of waiting, by how long they take, by when they are wanted, each
    /// both ways and turned round.
    fn beginnings(&self) -> Vec<Vec<usize>> {
        let loads = self.loads;
        let keys: [fn(&Load) -> f64; 4] = [
            Load::peak,
            |load| load.energy_of(60),
            |load| load.warming.len() as f64,
            |load| load.wanted as f64,
        ];
        let mut found: Vec<Vec<usize>> = Vec::new();
        for turn in 0..loads.len() {
            for key in keys {
                let mut order: Vec<usize> = (0..loads.len()).collect();
                order.sort_by(|&a, &b| key(&loads[b]).total_cmp(&key(&loads[a])));
                order.rotate_left(turn);
                let mut back = order.clone();
                back.reverse();
                found.extend([order, back]);
            }
        }
        found.sort();
        found.dedup();
        // Each is as good as another: as many as there is time for, from all over them.
        let every = found.len().div_ceil(BEGINNINGS);
        found.into_iter().step_by(every.max(1)).collect()
    }

    /// An order in which any two are exchanged, or one is put elsewhere, until nothing improves.
    fn bettered(&self, mut order: Vec<usize>, limit: f64) -> (usize, Placed) {
        let mut now = self.placed(&order, limit);
        loop {
            let mut better = false;
            for a in 0..order.len() {
                for b in 0..order.len() {
                    let mut exchanged = order.clone();
                    if a < b {
                        exchanged.swap(a, b);
                    } else {
                        let moved = exchanged.remove(a);
                        exchanged.insert(b, moved);
                    }
                    let then = self.placed(&exchanged, limit);
                    if then.0 < now.0 || then.0 == now.0 && then.1.cost < now.1.cost - 1e-9 {
                        (now, order, better) = (then, exchanged, true);
                    }
                }
            }
            if !better {
                return now;
            }
        }
    }

    /// Placed in an order: how many found no place, and the rest.
    fn placed(&self, order: &[usize], limit: f64) -> (usize, Placed) {
        let mut sum = vec![self.base; self.minutes()];
        let mut waits = vec![0; order.len()];
        let (mut left, mut cost) = (0, 0.0);
        for &index in order {
            let load = &self.loads[index];
            let Some(wait) = last_place(&sum, load, limit) else {
                left += 1;
                continue;
            };
            add(&mut sum, load, wait);
            waits[index] = wait;
            cost += load.energy_of(wait);
        }
        (left, Placed { waits, cost })
    }
}

/// Every order, one after another.
struct Search<'a> {
    hall: Hall<'a>,
    limit: f64,
    sum: Vec<f64>,
    waits: Vec<Option<usize>>,
    best: Option<Placed>,
}

impl Search<'_> {
    /// Places every one that is left next to those that are placed.
    fn go_on(&mut self, placed: usize, cost: f64) {
        let loads = self.hall.loads;
        if placed == loads.len() {
            let waits = self.waits.iter().map(|wait| wait.unwrap_or(0)).collect();
            self.best = Some(Placed { waits, cost });
            return;
        }
        let mut seen: Vec<usize> = Vec::new();
        for (index, load) in loads.iter().enumerate() {
            // Two that are alike need not be tried in each other's place.
            if self.waits[index].is_some() || seen.iter().any(|&other| loads[other] == *load) {
                continue;
            }
            seen.push(index);
            let Some(wait) = last_place(&self.sum, load, self.limit) else {
                // More beside it only takes more room.
                return;
            };
            let cost = cost + load.energy_of(wait);
            if self.best.as_ref().is_some_and(|best| cost >= best.cost) {
                continue;
            }
            let before = self.sum.clone();
            add(&mut self.sum, load, wait);
            self.waits[index] = Some(wait);
            self.go_on(placed + 1, cost);
            self.waits[index] = None;
            self.sum = before;
        }
    }
}

fn add(sum: &mut [f64], load: &Load, wait: usize) {
    for (minute, power) in sum.iter_mut().enumerate().skip(load.on(wait)) {
        *power += load.at(minute, wait);
    }
}

/// The shortest wait with which a dryer keeps the limit beside what is there.
fn last_place(sum: &[f64], load: &Load, limit: f64) -> Option<usize> {
    let passes = |minute: usize, wait: usize| {
        sum.get(minute)
            .is_some_and(|there| there + load.at(minute, wait) > limit + ROUNDING)
    };
    let longest = load.wanted.saturating_sub(load.warming.len());
    let mut last = 0;
    for wait in 0..=longest.min(LONGEST_WAIT) {
        // Where it did not fit a minute before it mostly does not now.
        if passes(last, wait) {
            continue;
        }
        match (load.on(wait)..sum.len()).find(|&minute| passes(minute, wait)) {
            Some(minute) => last = minute,
            None => return Some(wait),
        }
    }
    None
}
