//! What the switching of towers remembers, and how far a step may go.

use super::spec::{Ending, Meets, Met, Swap, Towers};

/// What the tower that does not dry is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Its water is taken away by hot air.
    Regenerating,
    /// It is cooled.
    Cooling,
    /// It waits, closed.
    Waiting,
}

/// Where towers are in their cycle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clock {
    /// The tower that dries, 0 or 1.
    pub drying: usize,
    /// Seconds since it began.
    pub since_swap: f64,
    /// What the other does.
    pub stage: Stage,
    /// Seconds since that began.
    pub in_stage: f64,
}

/// A step that the clock allows.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Allowed {
    pub(crate) duration: f64,
    /// Whether the clock ends the stage with it.
    pub(crate) ends_stage: bool,
    /// Whether the clock swaps the towers with it.
    pub(crate) swaps: bool,
}

impl Ending {
    /// Seconds after which the clock ends the stage.
    pub(crate) fn latest(self) -> f64 {
        match self {
            Self::After(after) => after,
            Self::Outlet { latest, .. } => latest,
        }
    }
}

impl Clock {
    /// A tower just begun to dry.
    pub(crate) fn swapped(drying: usize, towers: &Towers) -> Self {
        let mut clock = Self {
            drying,
            since_swap: 0.0,
            stage: Stage::Regenerating,
            in_stage: 0.0,
        };
        clock.skip_empty(towers);
        clock
    }

    /// The tower that does not dry.
    pub fn other(&self) -> usize {
        1 - self.drying
    }

    /// How air meets the tower that does not dry, if any does.
    pub(crate) fn off_line<'a>(&self, meets: &'a Meets) -> Option<&'a Met> {
        match self.stage {
            Stage::Regenerating => Some(&meets.regeneration),
            Stage::Cooling => Some(&meets.cooling),
            Stage::Waiting => None,
        }
        .filter(|met| met.flow > 0.0)
    }

    fn ending(&self, towers: &Towers) -> Option<Ending> {
        match self.stage {
            Stage::Regenerating => Some(towers.spec.cycle.regeneration),
            Stage::Cooling => Some(towers.spec.cycle.cooling),
            Stage::Waiting => None,
        }
    }

    /// The longest step from here, `most` seconds at most.
    pub(crate) fn allowed(&self, towers: &Towers, meets: &Meets, most: f64) -> Allowed {
        let cycle = &towers.spec.cycle;
        let to_swap = match (cycle.stuck, cycle.swap) {
            (Some(_), _) => f64::INFINITY,
            (None, Swap::Clock(after)) => after - self.since_swap,
            (None, Swap::DewPoint { latest, .. }) => latest - self.since_swap,
        };
        let to_end = self
            .ending(towers)
            .map_or(f64::INFINITY, |ending| ending.latest() - self.in_stage);
        let mesh = &towers.spec.mesh;
        let step = |met: &Met, since: f64| {
            (mesh.growth * (since + met.slice_time)).min(mesh.longest * met.slice_time)
        };
        let mut duration = step(&meets.process[self.drying], self.since_swap);
        if let Some(met) = self.off_line(meets) {
            duration = duration.min(step(met, self.in_stage));
        }
        let free = duration.min(most);
        let near = |to: f64| to <= free * (1.0 + 1e-9);
        let (ends_stage, swaps) = (near(to_end), near(to_swap));
        let duration = free.min(to_end.max(0.0)).min(to_swap.max(0.0));
        Allowed {
            duration,
            // Of two ends in one step only the nearer is met.
            ends_stage: ends_stage && to_end <= duration * (1.0 + 1e-9),
            swaps: swaps && to_swap <= duration * (1.0 + 1e-9),
        }
    }

    /// Lets a step pass.
    pub(crate) fn tick(&mut self, towers: &Towers, duration: f64, ends_stage: bool, swaps: bool) {
        self.since_swap += duration;
        self.in_stage += duration;
        if swaps {
            *self = Self::swapped(self.other(), towers);
            return;
        }
        if ends_stage {
            self.next_stage();
            self.skip_empty(towers);
        }
    }

    fn next_stage(&mut self) {
        self.stage = match self.stage {
            Stage::Regenerating => Stage::Cooling,
            Stage::Cooling | Stage::Waiting => Stage::Waiting,
        };
        self.in_stage = 0.0;
    }

    /// Passes over stages of no length.
    fn skip_empty(&mut self, towers: &Towers) {
        while self
            .ending(towers)
            .is_some_and(|ending| ending.latest() <= 0.0)
        {
            self.next_stage();
        }
    }
}
