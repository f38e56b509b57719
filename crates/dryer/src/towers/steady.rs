//! The cycle of two towers that repeats itself, found directly.

use super::clock::{Clock, Stage};
use super::half::Half;
use super::in_time::{Gathered, TowersState, lost};
use super::spec::{Meets, Towers, TowersDrive};
use crate::sorption::{Cell, RowSlopes};
use crate::{DryerError, Stream};
use numeric::linear::Matrix;

/// How a repeating cycle was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Repeats {
    /// By Newton on the cycle of a tower.
    Newton,
    /// By running cycles until they repeated: air ends a stage or swaps, or Newton did not settle.
    Cycling,
    /// A valve is stuck: the tower in the process air is at rest with it.
    Stuck,
}

/// Where to begin the next search: the bed of each tower about to dry, and factors of `1 - F'`.
#[derive(Clone, Debug)]
pub struct TowersGuess {
    beds: [Vec<Cell>; 2],
    factors: Option<(Matrix, Vec<usize>)>,
}

/// Towers whose cycle repeats itself.
#[derive(Clone, Debug)]
pub struct TowersSteady {
    /// Both half-cycles, the first tower drying first; where a valve is stuck, twice the same.
    pub halves: [Half; 2],
    /// Mean dried air over the cycle.
    pub mean: Stream,
    /// Mean air leaving regeneration; its flow is the mean over the cycle.
    pub exhaust: Stream,
    /// Mean air leaving cooling; its flow is the mean over the cycle.
    pub cooling: Stream,
    /// Shares of the time in which regeneration air and cooling air flow.
    pub running: (f64, f64),
    /// The towers as the first begins to dry.
    pub state: TowersState,
    /// Where to begin a neighbouring search.
    pub guess: TowersGuess,
    /// How it was found.
    pub found: Repeats,
    /// Cycles computed.
    pub rounds: usize,
    /// Largest change over a cycle: share of a loading, or kelvin.
    pub residual: f64,
}

/// Largest change over a cycle that counts as none.
const SETTLED: f64 = 1e-9;
/// Rounds of Newton, and cycles, before giving up.
const ROUNDS: (usize, usize) = (40, 500);
/// A round must shrink the residual to this share for the old slopes to be kept.
const SHRINKS: f64 = 0.1;
/// A round that leaves this many times the residual before has gone astray.
const WORSE: f64 = 10.0;
/// Temperatures that a bed may have on the way, K.
const POSSIBLE: (f64, f64) = (230.0, 555.0);

/// The bed of one tower about to dry, found by Newton, and after it has dried.
#[derive(Clone)]
struct Solved {
    bed: Vec<Cell>,
    dried: Vec<Cell>,
    factors: Option<(Matrix, Vec<usize>)>,
    rounds: usize,
}

impl Towers {
    /// The cycle that repeats itself under a drive, from a neighbouring one when given.
    ///
    /// # Errors
    /// Airs that cannot be; [`DryerError::Unsolved`].
    pub fn steady(
        &self,
        drive: &TowersDrive,
        guess: Option<&TowersGuess>,
    ) -> Result<TowersSteady, DryerError> {
        self.check_drive(drive)?;
        let meets = self.meets(drive);
        if let Some(tower) = self.spec.cycle.stuck {
            return self.stuck(tower, drive, &meets);
        }
        let fitting = guess.filter(|guess| guess.beds[0].len() == self.spec.mesh.slices);
        if self.spec.cycle.is_by_clock()
            && drive.process.dry_air > 0.0
            && let Some(steady) = self.by_newton(drive, &meets, fitting)?
        {
            return Ok(steady);
        }
        self.by_cycling(drive, &meets, fitting)
    }

    fn by_newton(
        &self,
        drive: &TowersDrive,
        meets: &Meets,
        guess: Option<&TowersGuess>,
    ) -> Result<Option<TowersSteady>, DryerError> {
        let start = |tower: usize| {
            guess.map_or_else(
                || self.resting(meets.regeneration.air),
                |guess| guess.beds[tower].clone(),
            )
        };
        let known = guess.and_then(|guess| guess.factors.clone());
        let Some(first) = self.solve(meets, 0, start(0), known) else {
            return Ok(None);
        };
        let mut rounds = first.rounds;
        let second = if self.are_alike() {
            first.clone()
        } else {
            let near = guess.map_or_else(|| first.bed.clone(), |guess| guess.beds[1].clone());
            let Some(second) = self.solve(meets, 1, near, first.factors.clone()) else {
                return Ok(None);
            };
            rounds += second.rounds;
            second
        };
        let state = TowersState {
            beds: [first.bed.clone(), second.dried],
            clock: Clock::swapped(0, self),
            leaving: [None; 2],
        };
        let guess = TowersGuess {
            beds: [first.bed, second.bed],
            factors: first.factors,
        };
        let steady = self.recorded(drive, meets, state, guess, Repeats::Newton, rounds)?;
        // Told apart from a cycle that only seemed to repeat.
        Ok((steady.residual <= 100.0 * SETTLED).then_some(steady))
    }

    /// Newton on the cycle of one tower by the clock.
    fn solve(
        &self,
        meets: &Meets,
        tower: usize,
        start: Vec<Cell>,
        known: Option<(Matrix, Vec<usize>)>,
    ) -> Option<Solved> {
        let (mut bed, mut factors) = (start, known);
        let mut last = f64::INFINITY;
        let mut safe = bed.clone();
        let mut patience = 1;
        for round in 1..=ROUNDS.0 {
            let mut slopes = factors
                .is_none()
                .then(|| RowSlopes::new(self.spec.mesh.slices));
            let mut end = bed.clone();
            let dried = self.around(meets, tower, &mut end, slopes.as_mut());
            let (change, residual) = self.change(&bed, &end);
            if !residual.is_finite() || residual > WORSE * last {
                // Newton went astray: cycles from the last good state, more each time.
                factors = None;
                last = f64::INFINITY;
                patience *= 2;
                for _ in 0..patience {
                    self.around(meets, tower, &mut safe, None);
                }
                bed.clone_from(&safe);
                continue;
            }
            if residual <= SETTLED {
                return Some(Solved {
                    bed,
                    dried,
                    factors,
                    rounds: round,
                });
            }
            if let Some(slopes) = &slopes {
                factors = self.factors(slopes);
            } else if residual > SHRINKS * last {
                factors = None;
            }
            last = residual;
            safe.clone_from(&end);
            bed = match &factors {
                Some((matrix, pivots)) => {
                    let mut step = change;
                    matrix.solve_factorised(pivots, &mut step);
                    let moved = bed.iter().zip(step.chunks(2));
                    moved
                        .map(|(cell, by)| self.moved(cell, by[0], by[1] * self.slice.dry_heat))
                        .collect()
                }
                None => end,
            };
        }
        None
    }

    /// Whether by the clock each tower does what the other did before it.
    fn are_alike(&self) -> bool {
        (self.spec.bypass[0] - self.spec.bypass[1]).abs() < 1e-15
    }

    /// Both half-cycles of one tower by the clock, whatever the other holds; gives the bed between them.
    fn around(
        &self,
        meets: &Meets,
        tower: usize,
        bed: &mut [Cell],
        mut slopes: Option<&mut RowSlopes>,
    ) -> Vec<Cell> {
        let mut dried = Vec::new();
        let mut clock = Clock::swapped(tower, self);
        let mut swaps = 0;
        while swaps < 2 {
            let allowed = clock.allowed(self, meets, f64::INFINITY);
            let met = if clock.drying == tower {
                Some(&meets.process[tower]).filter(|met| met.flow > 0.0)
            } else {
                clock.off_line(meets)
            };
            if let Some(met) = met {
                let (row, contact) = (self.row(), &met.contact);
                match slopes.as_deref_mut() {
                    Some(slopes) => row.pass_with_slopes(
                        bed,
                        slopes,
                        contact,
                        met.way,
                        met.air,
                        allowed.duration,
                    ),
                    None => row.pass(bed, contact, met.way, met.air, allowed.duration),
                };
            }
            if allowed.swaps && swaps == 0 {
                dried = bed.to_vec();
            }
            swaps += usize::from(allowed.swaps);
            clock.tick(self, allowed.duration, allowed.ends_stage, allowed.swaps);
        }
        dried
    }

    /// Change of a bed, loadings beside heats in kelvin of the dry bed, and the largest of it.
    fn change(&self, before: &[Cell], after: &[Cell]) -> (Vec<f64>, f64) {
        let mut change = Vec::with_capacity(2 * before.len());
        let mut residual = 0.0_f64;
        for (after, before) in after.iter().zip(before) {
            let loading = after.loading - before.loading;
            let heat = (after.heat - before.heat) / self.slice.dry_heat;
            change.extend([loading, heat]);
            let most = (loading / before.loading).abs().max(heat.abs());
            residual = if most.is_finite() {
                residual.max(most)
            } else {
                f64::INFINITY
            };
        }
        (change, residual)
    }

    /// Factors of `1 - F'`, loadings beside heats in kelvin of the dry bed.
    fn factors(&self, slopes: &RowSlopes) -> Option<(Matrix, Vec<usize>)> {
        let size = 2 * self.spec.mesh.slices;
        let scales = [1.0, self.slice.dry_heat];
        let mut matrix = Matrix::zeros(size);
        for row in 0..size {
            for (column, slope) in slopes.line(row).iter().enumerate() {
                let own = if row == column { 1.0 } else { 0.0 };
                matrix.set(
                    row,
                    column,
                    own - slope * scales[column % 2] / scales[row % 2],
                );
            }
        }
        let mut pivots = Vec::new();
        matrix.factorise(&mut pivots).ok()?;
        Some((matrix, pivots))
    }

    /// A slice after a correction, held where a slice can be.
    fn moved(&self, before: &Cell, loading: f64, heat: f64) -> Cell {
        let sorbent = &self.spec.sorbent;
        let least = 0.2 * before.loading;
        let most = (5.0 * before.loading)
            .min(1.5 * sorbent.greatest())
            .max(least);
        let wanted = (before.loading + loading).clamp(least, most);
        if !wanted.is_finite() || !heat.is_finite() {
            return *before;
        }
        let heat = before.heat + heat;
        let near = before.temperature;
        let t = self.slice.temperature(sorbent, wanted, heat, near);
        if (POSSIBLE.0..=POSSIBLE.1).contains(&t) {
            return Cell {
                loading: wanted,
                temperature: t,
                heat,
            };
        }
        let t = if t.is_finite() {
            t.clamp(POSSIBLE.0, POSSIBLE.1)
        } else {
            near
        };
        self.slice.cell(sorbent, wanted, t)
    }

    /// Runs cycles until they repeat.
    fn by_cycling(
        &self,
        drive: &TowersDrive,
        meets: &Meets,
        guess: Option<&TowersGuess>,
    ) -> Result<TowersSteady, DryerError> {
        let bed = guess.map_or_else(
            || self.resting(meets.regeneration.air),
            |guess| guess.beds[0].clone(),
        );
        let mut state = TowersState {
            beds: [bed.clone(), bed],
            clock: Clock::swapped(0, self),
            leaving: [None; 2],
        };
        let mut change = f64::INFINITY;
        for round in 1..=ROUNDS.1 {
            let mut next = state.clone();
            self.half_meeting(&mut next, drive, meets)?;
            let second = next.beds[1].clone();
            self.half_meeting(&mut next, drive, meets)?;
            change = self.change_of_both(&state, &next);
            if !change.is_finite() {
                break;
            }
            if change <= SETTLED {
                let guess = TowersGuess {
                    beds: [state.beds[0].clone(), second],
                    factors: None,
                };
                return self.recorded(drive, meets, state, guess, Repeats::Cycling, round);
            }
            state = next;
        }
        Err(lost(ROUNDS.1, change))
    }

    fn change_of_both(&self, before: &TowersState, after: &TowersState) -> f64 {
        let of = |tower: usize| self.change(&before.beds[tower], &after.beds[tower]).1;
        of(0).max(of(1))
    }

    /// A tower that dries for ever lets the air through as it comes; the other waits, regenerated.
    fn stuck(
        &self,
        tower: usize,
        drive: &TowersDrive,
        meets: &Meets,
    ) -> Result<TowersSteady, DryerError> {
        let mut beds = [
            self.resting(meets.regeneration.air),
            self.resting(meets.regeneration.air),
        ];
        beds[tower] = self.resting(meets.process[tower].air);
        let state = TowersState {
            beds: beds.clone(),
            clock: Clock {
                drying: tower,
                since_swap: 0.0,
                stage: Stage::Waiting,
                in_stage: 0.0,
            },
            leaving: [None; 2],
        };
        let guess = TowersGuess {
            beds,
            factors: None,
        };
        self.recorded(drive, meets, state, guess, Repeats::Stuck, 0)
    }

    /// A cycle from a state that repeats, recorded.
    fn recorded(
        &self,
        drive: &TowersDrive,
        meets: &Meets,
        state: TowersState,
        guess: TowersGuess,
        found: Repeats,
        rounds: usize,
    ) -> Result<TowersSteady, DryerError> {
        let mut end = state.clone();
        let first = self.half_meeting(&mut end, drive, meets)?;
        let (second, residual) = if found == Repeats::Newton && self.are_alike() {
            // The other tower does the same half a cycle later.
            let swapped = TowersState {
                beds: [end.beds[1].clone(), end.beds[0].clone()],
                ..end
            };
            (first.exchanged(), self.change_of_both(&state, &swapped))
        } else {
            let second = self.half_meeting(&mut end, drive, meets)?;
            (second, self.change_of_both(&state, &end))
        };
        let halves = [first, second];
        let time = halves[0].duration + halves[1].duration;
        let mut gathered = [Gathered::default(); 3];
        let mut running = (0.0, 0.0);
        for half in &halves {
            running.0 += half.regenerated.seconds.0 / time;
            running.1 += half.regenerated.seconds.1 / time;
            for moment in &half.moments {
                gathered[0].add(&moment.dry, moment.duration);
                if let Some(air) = &moment.off_line {
                    let place = if moment.clock.stage == Stage::Regenerating {
                        1
                    } else {
                        2
                    };
                    gathered[place].add(air, moment.duration);
                }
            }
        }
        Ok(TowersSteady {
            mean: gathered[0].stream(time, &drive.process),
            exhaust: gathered[1].stream(time, &drive.regeneration),
            cooling: gathered[2].stream(time, &drive.cooling),
            running,
            halves,
            state,
            guess,
            found,
            rounds,
            residual,
        })
    }
}
