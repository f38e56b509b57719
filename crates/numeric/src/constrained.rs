//! The least of a cost under constraints, without derivatives.
//!
//! # Equations
//! Cost and constraints are replaced by planes through their values at the corners of a simplex; the
//! planes are minimised within a shrinking distance: Powell (1994), A direct search optimization method
//! that models the objective and constraint functions by linear interpolation, in Advances in
//! Optimization and Numerical Analysis, 51 (from memory). The method itself is the crate `cobyla`; here
//! unknowns are scaled to their bounds, cost and constraints are computed together and once, the best
//! allowed point ever tried is what is returned, and the search is begun anew where it ended until that
//! gains nothing, for one run of the method may stop early at a corner.

use crate::NumericError;
use cobyla::{Func, RhoBeg, StopTols, minimize};
use std::cell::RefCell;

/// What a point costs, and by how much it keeps each constraint.
#[derive(Clone, Debug, PartialEq)]
pub struct Tried {
    /// What is to be least.
    pub cost: f64,
    /// Room to each constraint: zero and above is allowed. Each should be about one in size.
    pub room: Vec<f64>,
}

/// How a search is made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Search {
    /// First change of each unknown, as a share of its range.
    pub first: f64,
    /// Change at which the search ends, as a share of the range.
    pub last: f64,
    /// Most points tried in all.
    pub most: usize,
    /// Room below zero that still counts as kept.
    pub tolerance: f64,
}

/// The least that was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Least {
    /// Where.
    pub at: Vec<f64>,
    /// What it costs, and its room.
    pub tried: Tried,
    /// Whether every constraint is kept there; where none was found that keeps all, the point that comes
    /// nearest is returned.
    pub allowed: bool,
    /// Points tried.
    pub points: usize,
}

/// Runs of the method at most.
const RUNS: usize = 4;
/// Gain of a run, relative, below which no other is made.
const GAIN: f64 = 1e-4;

/// Everything a search has seen.
struct Seen<E> {
    last: Option<(Vec<f64>, Tried)>,
    best: Option<(Vec<f64>, Tried)>,
    points: usize,
    failed: Option<E>,
}

/// Finds where `trial` costs least between bounds, from `start`.
///
/// # Errors
/// The first of `trial`; [`NumericError::NoConvergence`] when a bound has no width or a number is not finite.
pub fn least<E: From<NumericError>>(
    start: &[f64],
    bounds: &[(f64, f64)],
    search: Search,
    trial: impl FnMut(&[f64]) -> Result<Tried, E>,
) -> Result<Least, E> {
    let unfit = || {
        E::from(NumericError::NoConvergence {
            steps: 0,
            change: f64::NAN,
        })
    };
    let wide = |(low, high): &(f64, f64)| low.is_finite() && high.is_finite() && low < high;
    if start.is_empty() || start.len() != bounds.len() || !bounds.iter().all(wide) {
        return Err(unfit());
    }
    let out_of = |x: &[f64]| -> Vec<f64> {
        let scaled = x.iter().zip(bounds);
        let within = scaled.map(|(x, (low, high))| low + x.clamp(0.0, 1.0) * (high - low));
        within.collect()
    };
    let mut from: Vec<f64> = start
        .iter()
        .zip(bounds)
        .map(|(x, (low, high))| ((x - low) / (high - low)).clamp(0.0, 1.0))
        .collect();
    let trial = RefCell::new(trial);
    let seen = RefCell::new(Seen {
        last: None,
        best: None,
        points: 0,
        failed: None,
    });
    let ask = |x: &[f64]| -> Option<Tried> {
        let mut seen = seen.borrow_mut();
        if seen.failed.is_some() {
            return None;
        }
        if let Some((_, known)) = seen.last.as_ref().filter(|(at, _)| at == x) {
            return Some(known.clone());
        }
        match (trial.borrow_mut())(&out_of(x)) {
            Ok(tried)
                if tried.cost.is_finite() && tried.room.iter().all(|room| room.is_finite()) =>
            {
                seen.points += 1;
                seen.note(x, &tried, search.tolerance);
                Some(tried)
            }
            Ok(_) => {
                seen.failed = Some(unfit());
                None
            }
            Err(cause) => {
                seen.failed = Some(cause);
                None
            }
        }
    };
    let Some(first) = ask(&from) else {
        return Err(seen.into_inner().failed.unwrap_or_else(unfit));
    };
    let mut cost_before = f64::INFINITY;
    for _ in 0..RUNS {
        let left = search.most.saturating_sub(seen.borrow().points);
        if left < 2 + start.len() {
            break;
        }
        run(&from, first.room.len(), left, search, &ask);
        let seen = seen.borrow();
        let Some((at, tried)) = &seen.best else { break };
        let allowed = tried.allowed(search.tolerance);
        if seen.failed.is_some() || (allowed && tried.cost > cost_before - GAIN * tried.cost.abs())
        {
            break;
        }
        if allowed {
            cost_before = tried.cost;
        }
        from.clone_from(at);
    }
    let seen = seen.into_inner();
    match (seen.failed, seen.best) {
        (None, Some((at, tried))) => Ok(Least {
            at: out_of(&at),
            allowed: tried.allowed(search.tolerance),
            tried,
            points: seen.points,
        }),
        (failed, _) => Err(failed.unwrap_or_else(unfit)),
    }
}

/// One run of the method over unknowns between zero and one; what it sees is noted by `ask`.
fn run(
    from: &[f64],
    constraints: usize,
    most: usize,
    search: Search,
    ask: &dyn Fn(&[f64]) -> Option<Tried>,
) {
    // A failed trial stops nothing by itself; the rest of the run then sees a flat world and ends.
    let cost = |x: &[f64], (): &mut ()| ask(x).map_or(0.0, |tried| tried.cost);
    let rooms: Vec<Box<dyn Func<()> + '_>> = (0..constraints)
        .map(|index| {
            let room = move |x: &[f64], (): &mut ()| {
                ask(x).map_or(0.0, |tried| tried.room.get(index).copied().unwrap_or(0.0))
            };
            Box::new(room) as Box<dyn Func<()> + '_>
        })
        .collect();
    let rooms: Vec<&dyn Func<()>> = rooms.iter().map(AsRef::as_ref).collect();
    let ends = StopTols {
        xtol_abs: vec![search.last; from.len()],
        ..StopTols::default()
    };
    // How it ended does not matter: the best point is among those noted.
    let _ = minimize(
        cost,
        from,
        &vec![(0.0, 1.0); from.len()],
        &rooms,
        (),
        most,
        RhoBeg::All(search.first),
        Some(ends),
    );
}

impl Tried {
    /// Whether every constraint is kept.
    pub fn allowed(&self, tolerance: f64) -> bool {
        self.worst() >= -tolerance
    }

    /// The least room.
    fn worst(&self) -> f64 {
        self.room.iter().copied().fold(f64::INFINITY, f64::min)
    }

    /// Whether it is to be preferred to another.
    fn better_than(&self, other: &Self, tolerance: f64) -> bool {
        match (self.allowed(tolerance), other.allowed(tolerance)) {
            (true, true) => self.cost < other.cost,
            (false, false) => self.worst() > other.worst(),
            (mine, _) => mine,
        }
    }
}

impl<E> Seen<E> {
    fn note(&mut self, x: &[f64], tried: &Tried, tolerance: f64) {
        let best = self.best.as_ref();
        if best.is_none_or(|(_, best)| tried.better_than(best, tolerance)) {
            self.best = Some((x.to_vec(), tried.clone()));
        }
        self.last = Some((x.to_vec(), tried.clone()));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SEARCH: Search = Search {
        first: 0.2,
        last: 1e-7,
        most: 2000,
        tolerance: 1e-7,
    };

    fn found(
        start: &[f64],
        bounds: &[(f64, f64)],
        trial: impl Fn(&[f64]) -> (f64, Vec<f64>),
    ) -> Least {
        least::<NumericError>(start, bounds, SEARCH, |x| {
            let (cost, room) = trial(x);
            Ok(Tried { cost, room })
        })
        .unwrap_or_else(|cause| unreachable!("{cause}"))
    }

    /// The product of two numbers on a circle: (1, -1) / sqrt 2 times the radius.
    #[test]
    fn exact_least_product_in_a_circle() {
        let found = found(&[1.0, 1.0], &[(-3.0, 3.0); 2], |x| {
            (x[0] * x[1], vec![1.0 - x[0] * x[0] - x[1] * x[1]])
        });
        assert!(found.allowed);
        // The product is flat about its least: the square of the last change is what it is known to.
        assert!((found.tried.cost + 0.5).abs() < 1e-5, "{found:?}");
    }

    /// A corner of three planes.
    #[test]
    fn exact_corner_of_planes() {
        let found = found(&[0.2, 0.2], &[(0.0, 10.0); 2], |x| {
            (
                -(3.0 * x[0] + 2.0 * x[1]),
                vec![4.0 - x[0] - x[1], 3.0 - x[0]],
            )
        });
        assert!((found.at[0] - 3.0).abs() < 1e-5 && (found.at[1] - 1.0).abs() < 1e-5);
    }

    /// A curved valley whose least lies outside of what is allowed: on the circle x^2 + y^2 = 2 with the
    /// valley (1 - x)^2 + 100 (y - x^2)^2 it is (1, 1) itself; within radius 1 the least is
    /// 0.0456748 at (0.786415, 0.617698), found by a search along the circle in the test.
    #[test]
    fn exact_valley_cut_by_a_circle() {
        let valley = |x: f64, y: f64| {
            let (a, b) = (1.0 - x, y - x * x);
            a * a + 100.0 * b * b
        };
        let along = (0..2_000_000)
            .map(|k| 1e-6 * f64::from(k))
            .map(|angle| valley(libm::cos(angle), libm::sin(angle)))
            .fold(f64::INFINITY, f64::min);
        let found = found(&[0.0, 0.0], &[(-2.0, 2.0); 2], |x| {
            (valley(x[0], x[1]), vec![1.0 - x[0] * x[0] - x[1] * x[1]])
        });
        assert!(
            (found.tried.cost / along - 1.0).abs() < 1e-3,
            "{found:?} {along}"
        );
    }

    #[test]
    fn holds_nothing_allowed_is_told_and_the_nearest_named() {
        let found = found(&[0.5], &[(0.0, 1.0)], |x| (x[0], vec![x[0] - 2.0]));
        assert!(!found.allowed);
        assert!((found.at[0] - 1.0).abs() < 1e-5);
    }

    #[test]
    fn holds_a_failure_of_a_trial_comes_out() {
        let mut count = 0;
        let failed = least::<NumericError>(&[0.5], &[(0.0, 1.0)], SEARCH, |x| {
            count += 1;
            if count > 3 {
                return Err(NumericError::Singular { row: 7 });
            }
            Ok(Tried {
                cost: x[0],
                room: vec![1.0],
            })
        });
        assert_eq!(failed, Err(NumericError::Singular { row: 7 }));
        assert_eq!(count, 4);
        let unfit = least::<NumericError>(&[0.5], &[(1.0, 1.0)], SEARCH, |_| {
            Ok(Tried {
                cost: 0.0,
                room: Vec::new(),
            })
        });
        assert!(unfit.is_err());
    }
}
