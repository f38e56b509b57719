//! The cell file: which jobs one dryer serves, at once and one after another.

use super::fields::{ABOVE_ZERO, quantity};
use super::open_job;
use super::plant::{self, DAY, PRICES, Part};
use crate::bag::{Bag, Entry};
use crate::library::Library;
use crate::order::in_order;
use crate::text::{Text, too_long};
use crate::walk::{FileKind, read_whole};
use crate::whole::stem;
use job::{Cell, Job, Plant, Run};
use quantity::{
    Fault, FaultKind, Faults, Field, FieldKind, Fraction, Meaning, Place, Quantity, Section,
};
use std::path::{Path, PathBuf};
use toml::de::DeTable;

/// Cell files.
pub const CELL: FileKind = FileKind {
    name: "a cell file",
    format: 1,
    section: &CELL_FIELDS,
};

static CELL_FIELDS: Section = Section {
    fields: &[
        Field::FORMAT,
        Field::optional(
            "title",
            FieldKind::Text,
            "cell 3, two presses",
            "What you call the cell; the name of the file when left out",
        ),
        Field::required(
            "run",
            FieldKind::Tables(&RUN),
            "",
            "What is dried one after another on one dryer; the shares add up to 100 %",
        )
        .within(1.0, 24.0),
        Field::optional(
            "day",
            FieldKind::Tables(&DAY),
            "",
            "Days that stand for the year; those of the first job that states any when left out",
        )
        .within(1.0, 24.0),
        Field::optional(
            "prices",
            FieldKind::Table(&PRICES),
            "",
            "What things cost; those of the first job that states any when left out",
        ),
    ],
    rules: &[],
};

static RUN: Section = Section {
    fields: &[
        Field::required(
            "share",
            quantity!(Fraction),
            "60 %",
            "Part of the running time of the cell",
        )
        .within(ABOVE_ZERO, 1.0),
        Field::required(
            "hopper",
            FieldKind::Tables(&HOPPER),
            "",
            "Hoppers that stand on the dryer at once and share its return air",
        )
        .within(1.0, 12.0),
    ],
    rules: &[],
};

static HOPPER: Section = Section {
    fields: &[Field::required(
        "job",
        FieldKind::Text,
        "pc-light-guides.toml",
        "The job file of this hopper, seen from the folder of the cell file",
    )],
    rules: &[],
};

/// What one dryer serves: the jobs of several files one after another for equal parts of the time, or
/// what a single file says, a job or a cell.
///
/// # Errors
/// Every mistake in the files; a cell among other files.
pub fn open_cell(paths: &[PathBuf], library: &Library) -> Result<Cell, Faults> {
    if let [path] = paths {
        let text = Text::open(path)?;
        if is_cell(&text) {
            return read_cell(
                &text,
                path.parent().unwrap_or_else(|| Path::new("")),
                library,
            );
        }
    }
    let (mut jobs, mut faults) = (Vec::new(), Faults::none());
    for path in paths {
        match one_of_several(path, library) {
            Ok(job) => jobs.push(job),
            Err(mistakes) => faults.extend(mistakes),
        }
    }
    faults.or(()).map(|()| Cell::in_turn(jobs))
}

/// A job that stands among others.
fn one_of_several(path: &Path, library: &Library) -> Result<Job, Faults> {
    let text = Text::open(path)?;
    if is_cell(&text) {
        return Err(Fault::new(
            FaultKind::Inconsistent,
            Place::of(text.name, "run"),
            "",
            "a cell file stands alone, and other files are named beside it",
            "name it alone, and put the other jobs into its runs",
        )
        .into());
    }
    open_job(path, library)
}

/// Whether a text says runs, as no job does.
fn is_cell(text: &Text) -> bool {
    let (root, _) = DeTable::parse_recoverable(&text.content);
    let says = |name: &str| root.get_ref().keys().any(|key| key.get_ref() == name);
    says("run") && !says("resin")
}

/// Reads a cell whose file stands in a folder: the jobs it names are looked for there.
fn read_cell(text: &Text, folder: &Path, library: &Library) -> Result<Cell, Faults> {
    if let Some(fault) = too_long(
        &text.name,
        &text.content,
        "a cell",
        "give a file that describes one cell",
    ) {
        return Err(fault.into());
    }
    let (bag, mut faults) = read_whole(text, &CELL);
    if !faults.is_empty() {
        return Err(in_order(faults));
    }
    let tables = bag.get("run", Entry::tables).unwrap_or_default();
    faults.extend(plant::check_days(&bag));
    faults.extend(plant::check_whole(&tables, &RUNS));
    let mut runs = Vec::new();
    for table in &tables {
        match run(table, folder, library) {
            Ok(run) => runs.push(run),
            Err(mistakes) => faults.extend(mistakes),
        }
    }
    faults.or(())?;
    let jobs = || runs.iter().flat_map(|run: &Run| &run.jobs);
    let own = plant::plant(&bag)?;
    let plants: Vec<&Plant> = std::iter::once(&own)
        .chain(jobs().map(|job| &job.plant))
        .collect();
    Ok(Cell {
        title: bag
            .get("title", Entry::text)
            .unwrap_or_else(|| stem(&text.name, "cell")),
        plant: Plant::of_first(&plants),
        runs,
    })
}

/// What the shares of runs are parts of.
const RUNS: Part = Part {
    of: "the runs take",
    whole: "the time",
};

/// A run with its jobs.
///
/// # Errors
/// Every mistake in the job files, those that cannot be opened told where the cell names them.
fn run(table: &Bag, folder: &Path, library: &Library) -> Result<Run, Faults> {
    let share: Fraction = table.need("share", Entry::quantity)?;
    let (mut jobs, mut faults) = (Vec::new(), Faults::none());
    for hopper in table.get("hopper", Entry::tables).unwrap_or_default() {
        let path = folder.join(hopper.need("job", Entry::text)?);
        if !path.is_file() {
            faults.push(hopper.fault(
                "job",
                FaultKind::Unreadable,
                "there is no such file",
                "name a job file as it is seen from the folder of the cell file",
            ));
            continue;
        }
        match open_job(&path, library) {
            Ok(job) => jobs.push(job),
            Err(mistakes) => faults.extend(mistakes),
        }
    }
    faults.or(Run {
        share: share.si(),
        jobs,
    })
}
