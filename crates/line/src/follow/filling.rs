//! How the hopper is filled: by a loader to a level, in batches, by hand, or not at all.

use crate::{Account, Line, LineState};
use bed::column::{Feeding, Passed};

/// How the hopper is filled from a moment on.
#[derive(Clone, Debug, PartialEq)]
pub struct Filling {
    /// Levels from times (s) on, as shares of the full bed; full before the first.
    pub levels: Vec<(f64, f64)>,
    /// Dry resin of one batch, kg; as much as leaves when none.
    pub batch: Option<f64>,
    /// Rounds in which people fill it, instead: time (s), and dry resin (kg), or up to the level.
    pub by_hand: Vec<(f64, Option<f64>)>,
    /// Times at which it is not filled, from and to, s.
    pub shut: Vec<(f64, f64)>,
}

impl Filling {
    /// A hopper that is kept full.
    pub fn full() -> Self {
        Self {
            levels: Vec::new(),
            batch: None,
            by_hand: Vec::new(),
            shut: Vec::new(),
        }
    }

    fn level(&self, time: f64) -> f64 {
        let set = self.levels.iter().rev().find(|(from, _)| *from <= time);
        set.map_or(1.0, |&(_, level)| level)
    }

    /// Fills the first hopper of a line before a step of `duration` seconds, and says how it is fed in it; gives
    /// what was tipped in, kg dry.
    pub(super) fn fill(
        &self,
        line: &mut Line,
        state: &mut LineState,
        duration: f64,
        account: &mut Account,
    ) -> f64 {
        let (time, level) = (state.time, self.level(state.time));
        let station = &mut line.stations[0];
        let full = station.column.mass;
        let missing = state.columns[0].missing() - (1.0 - level) * full;
        let shut = self
            .shut
            .iter()
            .any(|&(from, to)| time >= from && time < to);
        let slack = 1e-9 * full;
        let amount = if shut {
            0.0
        } else if !self.by_hand.is_empty() {
            let now = |at: f64| at >= time && at < time + duration;
            let rounds = self.by_hand.iter().filter(|(at, _)| now(*at));
            rounds.map(|(_, mass)| mass.unwrap_or(missing)).sum::<f64>()
        } else if let Some(batch) = self.batch {
            let batches = libm::floor((missing + slack) / batch);
            batches * batch
        } else {
            missing
        };
        let amount = amount.min(state.columns[0].missing());
        // What leaves is made up for at once where nothing speaks against it.
        let level_kept = !shut && self.by_hand.is_empty() && self.batch.is_none();
        station.column.feeding = if level_kept && missing >= -slack {
            Feeding::Continuous
        } else {
            Feeding::Shut
        };
        if amount <= slack {
            return 0.0;
        }
        let drive = station.drive(&line.room.air(station.air_flow), &line.room);
        let mut passed = Passed::default();
        station
            .column
            .tip(&mut state.columns[0], &drive, amount, &mut passed);
        let mut crossed = Account::default();
        let name = format!("resin to {}", station.name);
        crossed.resin(name, true, passed.water_in, passed.heat_in);
        account.add(&crossed, 1.0);
        passed.resin_in
    }
}
