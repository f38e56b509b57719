//! The plan of a job: what the hopper and its air make of the resin, and how sure that is.

mod arrived;
mod cautions;
mod data_sheet;
mod details;
mod evidence;
mod harm;
mod inside;
mod ledgers;
mod lot;
mod outlet;
mod page;
mod rates;
mod refused;
mod sentence;
mod settings;
mod shape;
mod surface;
mod way;

pub use evidence::{Citation, EvidenceRow};
pub use inside::{HeartPlace, InsideCut, InsideProfile};
pub use shape::HopperShape;

pub(crate) use cautions::of_resin as cautions_of;
pub(crate) use evidence::{citations, rows as evidence_rows, table as evidence_table};
pub(crate) use ledgers::{ledger_table, small};
pub(crate) use page::imprint;
pub(crate) use sentence::{condensation, state};
pub(crate) use surface::{only, soon};

use crate::Trouble;
use decide::answer::Plan;
use files::{Library, open_job, read_job};
use job::Job;
use serde::Serialize;
use std::path::Path;

/// Version of the layout of a plan in JSON; it rises when a name changes its meaning or goes.
pub const PLAN_SCHEMA: u32 = 1;

/// What the numbers of a plan count in.
const UNITS_NOTE: &str = "A name carries its unit; moisture is ppm by mass on the wet basis, \
    temperature degC, masses and rates dry resin and dry air unless the name says wet. Under job, \
    path, moments, levels and flow, numbers without a unit in their name are SI (K, s, kg, m, Pa, kg/s, \
    kg water per kg dry resin, kg vapour per kg dry air).";

/// A plan with what is needed to check and to show it.
#[derive(Clone, Debug, Serialize)]
pub struct PlanAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// What the numbers count in.
    pub units: &'static str,
    /// The plan.
    pub plan: Plan,
    /// The hopper in outline.
    pub hopper: HopperShape,
    /// Moisture at the heart of the mean pellet along its way, from the pellet's own solver.
    pub heart: Vec<HeartPlace>,
    /// Moisture inside the mean pellet at a few moments of its way.
    pub inside: Vec<InsideProfile>,
    /// Moisture over a cut through the mean pellet at one of them; none where it is no cylinder.
    pub cut: Option<InsideCut>,
    /// The evidence for every number of the resin.
    pub evidence: Vec<EvidenceRow>,
    /// The sources it names.
    pub sources: Vec<Citation>,
    /// The question, everything in it resolved to numbers.
    pub job: Job,
}

/// Plans the job that a text describes; `file` is its name as the user knows it.
///
/// # Errors
/// Every mistake in the text, and a plan that cannot be computed.
pub fn plan(text: &str, file: &str, library: &Library) -> Result<PlanAnswer, Trouble> {
    plan_job(read_job(text, file, library)?, library)
}

/// Plans the job of a file.
///
/// # Errors
/// As [`plan`], a file that cannot be read, and every mistake in the weather file it names.
pub fn plan_file(path: &Path, library: &Library) -> Result<PlanAnswer, Trouble> {
    plan_job(open_job(path, library)?, library)
}

/// Plans a job.
///
/// # Errors
/// A plan that cannot be computed.
pub fn plan_job(job: Job, library: &Library) -> Result<PlanAnswer, Trouble> {
    let plan = decide::plan(&job)?;
    // The pictures follow a piece of the lead.
    let lead = Job {
        resin: decide::lot::lead(&job),
        ..job.clone()
    };
    let inside = inside::of(&plan, &lead)?;
    let evidence = evidence::rows(&lead.resin);
    Ok(PlanAnswer {
        schema_version: PLAN_SCHEMA,
        units: UNITS_NOTE,
        hopper: HopperShape::of(&plan.settings, &job),
        heart: inside.heart,
        inside: inside.profiles,
        cut: inside.cut,
        sources: citations(&evidence, library),
        evidence,
        plan,
        job,
    })
}

impl PlanAnswer {
    /// Whether the plan can be carried out as it stands.
    pub fn is_met(&self) -> bool {
        self.plan.verdict.is_met()
    }

    /// The whole answer as JSON; of a plan that is refused only what is no setting.
    ///
    /// # Errors
    /// When a number has no place in JSON.
    pub fn json(&self) -> Result<String, Trouble> {
        if self.plan.verdict.is_refused() {
            return crate::json(&refused::json(self)?);
        }
        crate::json(self)
    }
}
