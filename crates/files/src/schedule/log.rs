//! What a log tells: from shots, rates or cycles of the loader to stretches, from levels to levels.
//!
//! # How
//! A shot draws its mass since the shot before it. Shots follow each other until a pause of more than
//! [`PAUSE`] of their usual times apart; within such a run, stretches of about [`PIECE`] keep the mass that was
//! logged in each. In pauses the press stands: within the hours of work that is a stop that nobody planned.

use super::log_rows::{Entered, Of, Rows, rows};
use super::times::{Span, Times};
use crate::bag::{Bag, Entry};
use job::{Demand, LevelChange, Loader, Stretch, StretchKind};
use quantity::{FaultKind, Faults, Fraction, Mass, MassFlow, Quantity, digits};
use std::path::Path;

/// Usual times between rows after which the press stands.
const PAUSE: f64 = 4.0;
/// Length of a stretch within a run, s.
const PIECE: f64 = 3600.0;
/// Change of a level that is one.
const STEP: f64 = 0.02;

/// What a log told.
#[derive(Clone, Debug, Default)]
pub(super) struct Logged {
    /// What was drawn; none for a log of levels.
    pub(super) drawn: Option<Drawn>,
    /// Levels in the order of time.
    pub(super) levels: Vec<LevelChange>,
}

/// What was drawn while the press ran, in the order of time and apart from each other.
#[derive(Clone, Debug)]
pub(super) struct Drawn(Vec<Stretch>);

/// What a log says.
///
/// # Errors
/// What keeps it from being read, and a shot or batch whose mass nothing says.
pub(super) fn read(
    table: &Bag,
    folder: &Path,
    times: &Times,
    demand: Demand,
    loader: Option<Loader>,
    notes: &mut Vec<String>,
) -> Result<Logged, Faults> {
    let log = rows(table, folder, times, notes)?;
    of_rows(table, &log, times, demand, loader, notes)
}

/// As [`read`], of rows.
///
/// # Errors
/// As [`read`].
pub(super) fn of_rows(
    table: &Bag,
    log: &Rows,
    times: &Times,
    demand: Demand,
    loader: Option<Loader>,
    notes: &mut Vec<String>,
) -> Result<Logged, Faults> {
    let shot = table.get("shot", Entry::quantity).or_else(|| demand.shot());
    let usual: Option<Mass> = match log.of {
        Of::Loader => loader.map(|loader| loader.batch),
        _ => shot,
    };
    let lacking = log.kept.iter().find(|row| row.value.is_none());
    if let (Some(row), None) = (lacking, usual) {
        let (mend, name) = match log.of {
            Of::Loader => (
                "add [loader] with batch = \"3 kg\", or a column batch",
                "file",
            ),
            _ => ("add shot = \"45 g\", or a column shot mass", "shot"),
        };
        let cause = format!("nothing says the mass of line {} of {}", row.line, log.file);
        return Err(table
            .fault(name, FaultKind::MissingField, cause, mend)
            .into());
    }
    let Some(step) = median_step(&log.kept) else {
        let cause = format!(
            "{} has one row that can be used, and two or more are needed",
            log.file
        );
        let mend = "give a longer log";
        return Err(table
            .fault("file", FaultKind::MissingField, cause, mend)
            .into());
    };
    Ok(match log.of {
        Of::Level => Logged {
            drawn: None,
            levels: levels(&log.kept),
        },
        Of::Rate => Logged {
            drawn: Some(Drawn(by_rate(log, step, times, notes))),
            levels: Vec::new(),
        },
        Of::Shots | Of::Loader => {
            let mass = usual.map_or(0.0, Quantity::si);
            Logged {
                drawn: Some(Drawn(by_mass(log, step, mass))),
                levels: Vec::new(),
            }
        }
    })
}

/// The usual time from row to row, s.
fn median_step(rows: &[Entered]) -> Option<f64> {
    let mut steps: Vec<f64> = rows
        .windows(2)
        .map(|pair| pair[1].at - pair[0].at)
        .collect();
    steps.sort_by(f64::total_cmp);
    steps.get(steps.len() / 2).copied()
}

fn runs(from: f64, to: f64, rate: f64, shot: Option<f64>, name: &str) -> Stretch {
    Stretch {
        from,
        to,
        rate: MassFlow::from_kg_per_s(rate),
        shot: shot.map(Mass::from_kilograms),
        kind: StretchKind::Runs,
        name: name.to_owned(),
    }
}

/// Stretches from masses that were drawn up to each time.
fn by_mass(log: &Rows, step: f64, usual: f64) -> Vec<Stretch> {
    let mut all: Vec<Stretch> = Vec::new();
    let mass = |row: &Entered| row.value.unwrap_or(usual);
    let mut close = |from: f64, to: f64, total: f64, count: usize| {
        if to > from && total > 0.0 {
            let shot = (log.of == Of::Shots).then(|| total / count as f64);
            all.push(runs(from, to, total / (to - from), shot, "as logged"));
        }
    };
    let (mut from, mut total, mut count) = (0.0, 0.0, 0);
    let mut before: Option<f64> = None;
    for row in &log.kept {
        match before {
            Some(last) if row.at - last <= PAUSE * step => {
                if last - from >= PIECE {
                    close(from, last, total, count);
                    (from, total, count) = (last, 0.0, 0);
                }
            }
            last => {
                close(from, last.unwrap_or(from), total, count);
                // The first of a run was drawn over a usual time.
                from = (row.at - step).max(last.unwrap_or(0.0)).max(0.0);
                (total, count) = (0.0, 0);
            }
        }
        total += mass(row);
        count += 1;
        before = Some(row.at);
    }
    close(from, before.unwrap_or(from), total, count);
    all
}

/// Stretches from rates that hold until the next row.
fn by_rate(log: &Rows, step: f64, times: &Times, notes: &mut Vec<String>) -> Vec<Stretch> {
    let mut all: Vec<Stretch> = Vec::new();
    let end = times.length.unwrap_or(f64::INFINITY);
    for (index, row) in log.kept.iter().enumerate() {
        let next = log.kept.get(index + 1);
        let until = next.map_or(row.at + step, |next| next.at).min(end);
        let rate = row.value.unwrap_or(0.0);
        let mut to = until;
        if let Some(next) = next.filter(|next| next.at - row.at > PAUSE * step) {
            to = row.at + step;
            notes.push(format!(
                "{}: nothing is logged for {} h between lines {} and {}; the press is taken to stand",
                log.file,
                digits((next.at - row.at) / 3600.0, 3),
                row.line,
                next.line
            ));
        }
        if rate > 0.0 && to > row.at {
            match all.last_mut() {
                Some(last) if last.to >= row.at && (last.rate.si() - rate).abs() <= 1e-9 * rate => {
                    last.to = to;
                }
                _ => all.push(runs(row.at, to, rate, None, "as logged")),
            }
        }
    }
    all
}

/// Levels, those that hardly differ from the one before left out.
fn levels(rows: &[Entered]) -> Vec<LevelChange> {
    let mut all: Vec<LevelChange> = Vec::new();
    for row in rows {
        let level = row.value.unwrap_or(1.0).clamp(0.01, 1.0);
        if all
            .last()
            .is_none_or(|last| (last.level.fraction() - level).abs() > STEP)
        {
            all.push(LevelChange {
                at: row.at,
                level: Fraction::from_fraction(level),
            });
        }
    }
    all
}

impl Drawn {
    /// The stretches of a schedule of this length: where nothing was drawn the press stands, closed outside the
    /// hours of work.
    pub(super) fn resolved(&self, work: &[Span], length: f64) -> Vec<Stretch> {
        let mut all = Vec::new();
        let mut at = 0.0;
        for run in &self.0 {
            let (from, to) = (run.from.max(at), run.to.min(length));
            if to <= from {
                continue;
            }
            stands(&mut all, Span { from: at, to: from }, work);
            all.push(Stretch {
                from,
                to,
                ..run.clone()
            });
            at = to;
        }
        stands(
            &mut all,
            Span {
                from: at,
                to: length,
            },
            work,
        );
        all
    }
}

/// A pause, cut where hours of work begin and end.
fn stands(all: &mut Vec<Stretch>, pause: Span, work: &[Span]) {
    let mut edges = vec![pause.from, pause.to];
    edges.extend(work.iter().flat_map(|span| [span.from, span.to]));
    edges.retain(|at| (pause.from..=pause.to).contains(at));
    edges.sort_by(f64::total_cmp);
    edges.dedup();
    for pair in edges.windows(2) {
        let middle = 0.5 * (pair[0] + pair[1]);
        let works = work.iter().any(|span| span.holds(middle));
        let (kind, name) = if works {
            (StretchKind::Stop, "nothing logged")
        } else {
            (StretchKind::Closed, "closed")
        };
        all.push(Stretch {
            kind,
            ..runs(pair[0], pair[1], 0.0, None, name)
        });
    }
}
