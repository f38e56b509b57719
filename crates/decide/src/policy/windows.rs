//! A few days that stand for all: those on which ways of running a dryer are tried.

use super::chance::Wanted;

/// Length of such a day, s.
const DAY: f64 = 86_400.0;
/// What of the day lies before the press begins again after its longest rest.
const BEFORE: f64 = 0.65;

/// Windows of demand, each told from its own beginning: a day from the first run on, the day with most standing
/// among those in which the press runs, and the end of the longest rest with what follows.
pub(crate) fn windows(demand: &[Wanted]) -> Vec<Vec<Wanted>> {
    let end = demand.last().map_or(0.0, |last| last.1);
    let runs: Vec<f64> = demand.iter().filter(|w| w.2 > 0.0).map(|w| w.0).collect();
    let Some(&first) = runs.first() else {
        return vec![cut(demand, 0.0, end.min(DAY))];
    };
    let length = DAY.min(end);
    let fits = |from: f64| from.min(end - length).max(0.0);
    let standing = |from: f64| -> f64 {
        let part = cut(demand, from, from + length);
        part.iter().filter(|w| w.2 <= 0.0).map(|w| w.1 - w.0).sum()
    };
    let mut found = vec![fits(first)];
    let idle = runs
        .iter()
        .map(|&from| fits(from))
        .max_by(|&a, &b| standing(a).total_cmp(&standing(b)));
    found.extend(idle);
    let rest = rests(demand)
        .into_iter()
        .max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
    found.extend(rest.map(|(_, to)| fits(to - BEFORE * length)));
    found.sort_by(f64::total_cmp);
    found.dedup_by(|a, b| (*a - *b).abs() < 0.1 * length);
    found
        .into_iter()
        .map(|from| cut(demand, from, from + length))
        .collect()
}

/// Times at which the press stands, joined, that are followed by a run.
fn rests(demand: &[Wanted]) -> Vec<(f64, f64)> {
    let mut found = Vec::new();
    let mut begin = None;
    for &(from, _, rate) in demand {
        if rate > 0.0 {
            found.extend(begin.take().map(|begin| (begin, from)));
        } else if begin.is_none() {
            begin = Some(from);
        }
    }
    found
}

/// Demand between two times, told from the first.
fn cut(demand: &[Wanted], from: f64, to: f64) -> Vec<Wanted> {
    demand
        .iter()
        .filter(|w| w.1 > from && w.0 < to)
        .map(|w| (w.0.max(from) - from, w.1.min(to) - from, w.2))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::windows;

    #[test]
    fn holds_windows_hold_a_run_a_rest_and_the_longest_one() {
        let hour = 3600.0;
        let mut demand = Vec::new();
        for day in 0..5 {
            let d = f64::from(day) * 24.0 * hour;
            demand.push((d, d + 6.0 * hour, 0.0));
            demand.push((d + 6.0 * hour, d + 22.0 * hour, 1.0));
            demand.push((d + 22.0 * hour, d + 24.0 * hour, 0.0));
        }
        demand.push((120.0 * hour, 168.0 * hour, 0.0));
        demand.push((168.0 * hour, 192.0 * hour, 1.0));
        let found = windows(&demand);
        assert!(!found.is_empty() && found.len() <= 3);
        for window in &found {
            assert!(window[0].0.abs() < 1e-9);
            assert!((window[window.len() - 1].1 - 24.0 * hour).abs() < 1e-6);
        }
        // One begins in the weekend and sees the restart.
        let restart = found.iter().any(|window| {
            let idle = window[0];
            idle.2 <= 0.0 && idle.1 > 15.0 * hour && window.last().is_some_and(|w| w.2 > 0.0)
        });
        assert!(restart, "{found:?}");
    }
}
