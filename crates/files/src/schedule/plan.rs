//! What a plan tells: its rows in the order of time as orders apart from each other, with the changeovers between
//! them.

use super::Usual;
use super::demand::Planned;
use super::plan_rows::{Amount, Found, Ordered, PLANS};
use super::table;
use super::times::{Span, Times};
use crate::bag::{Bag, Entry};
use crate::clock;
use crate::job_file::open_job;
use crate::library::Library;
use crate::sheet::Sheet;
use job::{ChangeWay, Changeover, Demand, Job};
use quantity::{FaultKind, Faults, Quantity, digits};
use std::fs;
use std::path::{Path, PathBuf};

/// The shortest order, s.
const SHORTEST: f64 = 1.0;
/// Share by which a quantity may differ from what is drawn until its end before that is noted.
const DIFFERS: f64 = 0.01;

/// What stands round a plan.
pub(super) struct Around<'a> {
    pub(super) times: &'a Times,
    /// The length of the days, s.
    pub(super) length: f64,
    pub(super) library: &'a Library,
    /// Hours of work.
    pub(super) work: &'a [Span],
    /// Hours of work without planned stops.
    pub(super) open: &'a [Span],
    /// The job file that the schedule begins with.
    pub(super) begins_with: PathBuf,
}

/// Orders in the order of time and apart from each other, and what comes into the hopper with them.
#[derive(Debug)]
pub(super) struct Plan {
    pub(super) orders: Vec<Planned>,
    pub(super) changeovers: Vec<Changeover>,
}

/// Where a walk through the rows has come.
struct Walk<'a> {
    around: &'a Around<'a>,
    found: Found<'a>,
    folder: &'a Path,
    /// Job files that were read.
    jobs: Vec<(PathBuf, Job)>,
    /// The job file that is in the hopper.
    holds: PathBuf,
    /// What is drawn where an order does not say it.
    usual: Vec<Usual>,
    plan: Plan,
    /// The line of the last order kept.
    last: usize,
    left_out: Vec<(usize, String)>,
    cut: Vec<String>,
}

/// What a plan says; what is left out of it is noted.
///
/// # Errors
/// A file that cannot be read, has no such columns or no row that can be used, and what is wrong with the jobs it
/// names.
pub(super) fn read(
    table: &Bag,
    folder: &Path,
    around: &Around<'_>,
    usual: Vec<Usual>,
    notes: &mut Vec<String>,
) -> Result<Plan, Faults> {
    let path = folder.join(table.need("file", Entry::text)?);
    let sheet = table::open(table, &path, &PLANS)?;
    let folder = path.parent().unwrap_or_else(|| Path::new(""));
    of_sheet(table, &sheet, folder, around, usual, notes)
}

/// As [`read`], of a sheet.
///
/// # Errors
/// As [`read`].
pub(super) fn of_sheet(
    table: &Bag,
    sheet: &Sheet,
    folder: &Path,
    around: &Around<'_>,
    usual: Vec<Usual>,
    notes: &mut Vec<String>,
) -> Result<Plan, Faults> {
    let found = Found::of(table, sheet)?;
    let mut rows = Vec::new();
    let mut left_out = Vec::new();
    for row in sheet.rows.iter().skip(1) {
        match found.read(row, around.times) {
            Ok(ordered) => rows.push(ordered),
            Err(told) => left_out.push((row.number, told)),
        }
    }
    if usual.len() > 1 && rows.iter().any(|row| row.job.is_some()) {
        let cause = "the plan names jobs, and [[changeover]] tables name others";
        let mend = "state what comes into the hopper in one of the two";
        return Err(table
            .fault("file", FaultKind::Alternatives, cause, mend)
            .into());
    }
    rows.sort_by(|a, b| a.from.total_cmp(&b.from));
    let mut walk = Walk {
        around,
        found,
        folder,
        jobs: Vec::new(),
        holds: same_file(&around.begins_with),
        usual,
        plan: Plan {
            orders: Vec::new(),
            changeovers: Vec::new(),
        },
        last: 0,
        left_out,
        cut: Vec::new(),
    };
    let mut wanted = walk.holds.clone();
    let mut faults = Faults::none();
    for row in &rows {
        if let Some(name) = &row.job {
            wanted = same_file(&folder.join(name));
        }
        match walk.take(row, &wanted) {
            Ok(Ok(())) => {}
            Ok(Err((field, cause))) => {
                let place = walk.found.place(row.line, field);
                walk.left_out.push((row.line, format!("{place}: {cause}")));
            }
            Err(mistakes) => faults.extend(mistakes),
        }
    }
    faults.or(())?;
    walk.left_out.sort_by_key(|(line, _)| *line);
    let left_out: Vec<String> = walk.left_out.into_iter().map(|(_, told)| told).collect();
    if walk.plan.orders.is_empty() {
        return Err(table::no_row(table, &sheet.file, &left_out));
    }
    table::note(notes, &sheet.file, &left_out);
    notes.extend(walk.cut.iter().map(|told| format!("{} {told}", sheet.file)));
    Ok(walk.plan)
}

/// A path by which the same file is known again.
fn same_file(path: &Path) -> PathBuf {
    fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

/// The column and the cause of a row that is left out.
type LeftOut = (&'static str, String);

impl Walk<'_> {
    /// Takes the order of a row, or tells why it is left out.
    ///
    /// # Errors
    /// What is wrong with its job.
    fn take(&mut self, row: &Ordered, wanted: &Path) -> Result<Result<(), LeftOut>, Faults> {
        if let Err(why) = self.fits(row) {
            return Ok(Err(why));
        }
        let comes = if wanted == self.holds {
            None
        } else {
            Some(self.job(row, wanted)?)
        };
        let from = row.from.max(0.0);
        let usual = match &comes {
            None => self.usual.clone(),
            Some(job) => vec![Usual {
                from,
                demand: job.demand,
                name: job.title.clone(),
            }],
        };
        let noted = self.cut.len();
        let to = match self.end(row, &usual) {
            Ok(to) => to,
            Err(why) => return Ok(Err(why)),
        };
        let span = Span { from, to };
        if !self.around.work.iter().any(|work| work.meets(span)) {
            self.cut.truncate(noted);
            let cause = format!("{:?} lies wholly outside the hours of work", row.name);
            return Ok(Err(("from", cause)));
        }
        if let Some(job) = comes {
            self.plan.changeovers.push(Changeover {
                at: from,
                name: job.title.clone(),
                job,
                way: ChangeWay::Drain,
            });
            wanted.clone_into(&mut self.holds);
            self.usual = usual;
        }
        self.last = row.line;
        self.plan.orders.push(Planned {
            span,
            name: row.name.clone(),
            demand: row.demand,
        });
        Ok(Ok(()))
    }

    /// Whether the times of an order can be used after those before it.
    fn fits(&self, row: &Ordered) -> Result<(), LeftOut> {
        let show = |at: f64| clock::local(&self.around.times.clock, at);
        let length = self.around.length;
        if row.to.is_some_and(|to| to < row.from + SHORTEST) {
            let cause = format!("it ends before it begins at {}", show(row.from));
            return Err(("to", cause));
        }
        if row.from >= length || row.to.is_some_and(|to| to <= 0.0) {
            let field = if row.from >= length { "from" } else { "to" };
            let cause = format!(
                "it lies outside the days from {} to {}",
                show(0.0),
                show(length)
            );
            return Err((field, cause));
        }
        if row.from < 0.0 && row.to.is_none() {
            let cause = format!(
                "it begins before the days at {}, and what of it is made before is not known",
                show(row.from)
            );
            return Err(("from", cause));
        }
        let same = |order: &&Planned| {
            order.name == row.name && (order.span.from - row.from.max(0.0)).abs() < SHORTEST
        };
        let Some(other) = self.plan.orders.last() else {
            return Ok(());
        };
        if self.plan.orders.iter().rev().any(|order| same(&order)) {
            let cause = format!("{:?} stands twice at {}", row.name, show(row.from));
            return Err(("order", cause));
        }
        if row.from < other.span.to {
            let cause = format!(
                "it overlaps {:?} of line {}, which lasts until {}",
                other.name,
                self.last,
                show(other.span.to)
            );
            return Err(("from", cause));
        }
        Ok(())
    }

    /// The job of a file that a row names or that stands before it.
    fn job(&mut self, row: &Ordered, path: &Path) -> Result<Job, Faults> {
        if let Some((_, job)) = self.jobs.iter().find(|(known, _)| known == path) {
            return Ok(job.clone());
        }
        let shown = match &row.job {
            Some(name) => self.folder.join(name),
            None => path.to_owned(),
        };
        let job = open_job(&shown, self.around.library).map_err(|mut faults| {
            let place = self.found.place(row.line, "job");
            for fault in &mut faults.0 {
                fault.cause = format!("{}; the plan names it in {place}", fault.cause);
            }
            faults
        })?;
        self.jobs.push((path.to_owned(), job.clone()));
        Ok(job)
    }

    /// When an order ends: as stated, or when its quantity is made; at the end of the days at the latest.
    fn end(&mut self, row: &Ordered, usual: &[Usual]) -> Result<f64, LeftOut> {
        let from = row.from.max(0.0);
        let length = self.around.length;
        let wanted = wanted(row, usual);
        let runs = rates(self.around.open, usual, row.demand, from);
        let place = self.found.place(row.line, "quantity");
        let kilograms = |mass: f64| format!("{} kg", digits(mass, 3));
        if let Some(to) = row.to {
            if row.from < 0.0 || to > length {
                let place = self
                    .found
                    .place(row.line, if to > length { "to" } else { "from" });
                self.cut.push(format!(
                    "{place}: {:?} goes beyond the days and is cut to them",
                    row.name
                ));
                return Ok(to.min(length));
            }
            let made: f64 = runs
                .iter()
                .map(|(span, rate)| rate * (span.to.min(to) - span.from).max(0.0))
                .sum();
            if let Ok(Some(wanted)) = wanted
                && (made - wanted).abs() > DIFFERS * wanted
            {
                self.cut.push(format!(
                    "{place}: {:?} draws {} until its end, not {}; the end counts",
                    row.name,
                    kilograms(made),
                    kilograms(wanted)
                ));
            }
            return Ok(to);
        }
        let mut left = wanted?.unwrap_or(0.0);
        let asked = left;
        for (span, rate) in runs {
            let makes = rate * (span.to - span.from);
            if makes >= left {
                // Less than a second more than its shots take keeps an order of one shot an order.
                return Ok((span.from + left / rate).max(from + SHORTEST).min(length));
            }
            left -= makes;
        }
        if left < asked {
            self.cut.push(format!(
                "{place}: {:?} is cut to the days, in which {} of {} are drawn",
                row.name,
                kilograms(asked - left),
                kilograms(asked)
            ));
        }
        Ok(length)
    }
}

/// The mass of a quantity, kg.
fn wanted(row: &Ordered, usual: &[Usual]) -> Result<Option<f64>, LeftOut> {
    let shots = match row.amount {
        None => return Ok(None),
        Some(Amount::Mass(mass)) => return Ok(Some(mass)),
        Some(Amount::Shots(shots)) => shots,
    };
    let job = at(usual, row.from.max(0.0)).and_then(|usual| usual.demand.shot());
    let shot = row.shot.or_else(|| job.map(Quantity::si));
    shot.map(|shot| Some(shots * shot)).ok_or_else(|| {
        let cause = "nothing says the mass of a shot; add a column shot mass";
        ("quantity", cause.to_owned())
    })
}

/// What is drawn at a moment where no order says it.
fn at(usual: &[Usual], moment: f64) -> Option<&Usual> {
    usual.iter().rev().find(|usual| usual.from <= moment)
}

/// The spans from a moment on in which the press runs, each with its rate, kg/s.
fn rates(open: &[Span], usual: &[Usual], stated: Option<Demand>, from: f64) -> Vec<(Span, f64)> {
    let mut all = Vec::new();
    for span in open.iter().filter(|span| span.to > from) {
        let begins = span.from.max(from);
        let mut edges = vec![begins, span.to];
        let changes = usual.iter().map(|usual| usual.from);
        edges.extend(changes.filter(|at| (begins..span.to).contains(at)));
        edges.sort_by(f64::total_cmp);
        for pair in edges.windows(2).filter(|pair| pair[0] < pair[1]) {
            let demand = stated.or_else(|| at(usual, pair[0]).map(|usual| usual.demand));
            let Some(rate) = demand.map(|demand| demand.peak().si()) else {
                continue;
            };
            if rate > 0.0 {
                let (from, to) = (pair[0], pair[1]);
                all.push((Span { from, to }, rate));
            }
        }
    }
    all
}
