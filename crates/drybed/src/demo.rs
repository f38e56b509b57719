//! The demo: an invented plant, every job of it planned, one report.

use crate::Trouble;
use crate::pictures;
use crate::plan::{PlanAnswer, imprint, plan, state};
use crate::speech::{Measure, Speech, hours};
use decide::answer::Verdict;
use document::{Block, Cell, Column, Document, Grade, Note, NoteKind, Row, Section, State, Table};
use files::Library;
use quantity::Units;
use serde::Serialize;
use std::thread;

/// The jobs of the invented plant: the name of each file and what it says.
pub const DEMO_JOBS: [(&str, &str); 7] = [
    (
        "demo/pc-lenses.toml",
        include_str!("../../../demo/pc-lenses.toml"),
    ),
    (
        "demo/pa66-housings.toml",
        include_str!("../../../demo/pa66-housings.toml"),
    ),
    (
        "demo/pet-preforms.toml",
        include_str!("../../../demo/pet-preforms.toml"),
    ),
    (
        "demo/pla-open-bag.toml",
        include_str!("../../../demo/pla-open-bag.toml"),
    ),
    (
        "demo/abs-small.toml",
        include_str!("../../../demo/abs-small.toml"),
    ),
    (
        "demo/pp-condensation.toml",
        include_str!("../../../demo/pp-condensation.toml"),
    ),
    (
        "demo/benchmark.toml",
        include_str!("../../../demo/benchmark.toml"),
    ),
];

/// Every job of the invented plant, planned.
#[derive(Clone, Debug, Serialize)]
pub struct DemoAnswer {
    /// The plans, the main one first.
    pub plans: Vec<DemoPlan>,
}

/// One job of the plant.
#[derive(Clone, Debug, Serialize)]
pub struct DemoPlan {
    /// The file the job stands in.
    pub file: &'static str,
    /// Its plan.
    pub answer: PlanAnswer,
}

/// Plans the invented plant, its jobs side by side; `told` hears of each job.
///
/// # Errors
/// From the first plan that fails.
pub fn demo(library: &Library, mut told: impl FnMut(&str)) -> Result<DemoAnswer, Trouble> {
    let answers: Vec<Option<Result<PlanAnswer, Trouble>>> = thread::scope(|scope| {
        let running: Vec<_> = DEMO_JOBS
            .map(|(file, text)| scope.spawn(move || plan(text, file, library)))
            .into();
        running.into_iter().map(|job| job.join().ok()).collect()
    });
    let mut plans = Vec::new();
    for ((file, text), answer) in DEMO_JOBS.into_iter().zip(answers) {
        told(file);
        let answer = match answer {
            Some(answer) => answer?,
            // The thread broke: asked again here, it says what is wrong.
            None => plan(text, file, library)?,
        };
        plans.push(DemoPlan { file, answer });
    }
    Ok(DemoAnswer { plans })
}

impl DemoAnswer {
    /// The plant as one document: an overview, the main job's journey, and each job in full.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let mut document = Document::new(
            "An invented plant dries six resins and runs one benchmark: does every pellet reach the \
             throat dry enough, and not cooked?",
            self.sentence(),
            self.overview(speech),
        );
        if let Some(first) = self.plans.first() {
            document.picture = Some(pictures::journey(&first.answer, speech));
            document.state = state(first.answer.plan.verdict);
        }
        if self
            .plans
            .iter()
            .any(|p| p.answer.plan.verdict != Verdict::InWindow)
        {
            document.state = None;
        }
        document.notes = vec![
            Note::caution(
                "Hot surfaces burn, dust can explode, vapours belong outdoors. The data sheet of \
                 your grade, local codes and licensed practice decide.",
            ),
            Note::doubt(
                "The plant is invented: no such presses, hoppers or lots exist. The resins are as \
                 the library knows them.",
            ),
            Note::source(
                "Each job is a file of the folder demo: `drybed plan demo/pc-lenses.toml` plans one \
                 alone, with the evidence for every number.",
            ),
        ];
        document.sections = self.plans.iter().map(|p| section(p, units)).collect();
        document.imprint = imprint();
        document
    }

    fn sentence(&self) -> String {
        let in_window = |p: &&DemoPlan| p.answer.plan.verdict == Verdict::InWindow;
        let met = self.plans.iter().filter(in_window).count();
        let others: Vec<String> = self
            .plans
            .iter()
            .filter(|p| !in_window(p))
            .map(|p| {
                let plan = &p.answer.plan;
                format!("{} ({})", plan.title, word(plan.verdict))
            })
            .collect();
        let others = if others.is_empty() {
            String::new()
        } else {
            format!("; not so {}", others.join(", "))
        };
        format!(
            "{met} of {} jobs are in window as they stand{others}.",
            self.plans.len()
        )
    }

    fn overview(&self, speech: Speech) -> Table {
        let row = |demo: &DemoPlan| {
            let plan = &demo.answer.plan;
            let out = &plan.outlet;
            let range = out.mean_ppm_wet;
            let mean = if plan.samples > 0 && range.high > range.low {
                Cell::ranged(range.value, range.low, range.high, Grade::Computed)
            } else {
                Cell::precise(range.value, 2, Grade::Computed)
            };
            Row::new(vec![
                Cell::text(&plan.title),
                state(plan.verdict).map_or(Cell::Blank, Cell::state),
                mean,
                Cell::precise(out.limit_ppm_wet, 3, Grade::Computed),
                Cell::precise(
                    speech.number(Measure::Rate, plan.rate_kg_h),
                    3,
                    Grade::Computed,
                ),
                Cell::text(format!(
                    "{}, {}",
                    speech.say(Measure::Temperature, plan.settings.air_temperature_c),
                    hours(plan.settings.residence_h)
                )),
            ])
        };
        Table {
            caption: "The plant, moisture on wet basis".into(),
            columns: vec![
                Column::new("job"),
                Column::new("stands"),
                Column::with_unit("leaves at", "ppm"),
                Column::with_unit("limit", "ppm"),
                Column::with_unit("rate", speech.unit(Measure::Rate)),
                Column::new("air, stay"),
            ],
            rows: self.plans.iter().map(row).collect(),
        }
    }
}

/// How a plan stands in a word.
fn word(verdict: Verdict) -> &'static str {
    state(verdict).map_or("to be crystallised first", State::word)
}

/// One job in full: the four parts of its own page, then its details one after the other.
fn section(demo: &DemoPlan, units: Units) -> Section {
    let page = demo.answer.document(units);
    let mut blocks = vec![Block::text(page.question)];
    blocks.extend(page.picture.map(Block::picture));
    blocks.push(Block::table(Table {
        rows: page
            .table
            .rows
            .into_iter()
            .map(|row| Row::new(row.cells))
            .collect(),
        ..page.table
    }));
    // Sources stand in the report of the job itself, and what holds for all stands in the margin.
    let own = page.notes.into_iter().filter(|note| {
        note.kind != NoteKind::Source && !note.text.starts_with("Hot surfaces burn")
    });
    for note in own {
        blocks.push(Block::text(format!("{}: {}", note.kind.word(), note.text)));
    }
    for part in page.sections {
        // Evidence and coefficients stand in the report of the job itself.
        let left_out = ["Evidence", "Every coefficient", "Warnings and cautions"];
        if left_out.contains(&part.title.as_str()) {
            continue;
        }
        blocks.push(Block::text(format!("{}. {}", part.title, part.summary)));
        blocks.extend(part.blocks);
    }
    Section {
        title: demo.answer.plan.title.clone(),
        summary: page.answer,
        blocks,
    }
}

#[cfg(test)]
mod tests {
    use super::DEMO_JOBS;
    use std::path::Path;

    #[test]
    fn holds_every_job_of_the_folder_is_planned() -> std::io::Result<()> {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
        let mut listed = 0;
        for entry in std::fs::read_dir(root.join("demo"))? {
            let path = entry?.path();
            if path.extension().is_some_and(|end| end == "toml") {
                let name = path.file_name().unwrap_or_default().to_string_lossy();
                let name = format!("demo/{name}");
                assert!(DEMO_JOBS.iter().any(|(file, _)| *file == name), "{name}");
                listed += 1;
            }
        }
        assert_eq!(listed, DEMO_JOBS.len());
        Ok(())
    }
}
