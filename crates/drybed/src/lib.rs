//! Every question the program can answer, one function each: plain data in, plain data out.
//!
//! | question | asked by | answered with |
//! | --- | --- | --- |
//! | what is in this air? | [`air()`] | [`AirAnswer`] |
//! | how does a pellet dry or take up water? | [`curve()`] | [`CurveAnswer`] |
//! | how dry does it leave, and what is to be set? | [`plan()`] | [`PlanAnswer`] |
//! | which dryer makes the air? | [`dryers()`], [`dryers_files()`] | [`DryersAnswer`] |
//! | how large is it? | [`sizes()`], [`sizes_files()`] | [`SizeAnswer`] |
//! | when to switch on, and in what order? | [`switch_on_files()`] | [`SwitchOnAnswer`] |
//! | what is wrong with the dryer? | [`check()`] | [`CheckedDryer`] |
//! | what do these days do to the resin? | [`shift()`] | [`ShiftAnswer`] |
//! | how is the dryer best run? | [`policy_file()`] | [`PolicyAnswer`] |
//! | the press stopped: what now? | [`stop()`] | [`StopAnswer`] |
//! | another resin: what does it take? | [`changeover_files()`] | [`ChangeoverAnswer`] |
//! | what is known of my dryers? | [`equipment()`] | [`EquipmentAnswer`] |
//! | what is known of resins? | [`resins()`], [`resin()`], [`compare()`] | [`ResinLine`], [`ResinAnswer`], [`ComparisonAnswer`] |
//! | what does my data sheet make of a resin? | [`new_resin()`] | [`NewResinAnswer`] |
//! | what may stand in a job file? | [`job_fields()`], [`job_schema()`] | text |
//! | what does it look like? | [`demo()`] | [`DemoAnswer`] |
//!
//! Each answer serialises whole, and turns into a [`Document`] in the units a person reads.

mod air;
mod asked_dryer;
mod changeover;
mod check;
mod curve;
mod demo;
mod desiccants;
mod dryers;
mod equipment;
mod pictures;
mod plan;
mod policy;
mod resins;
mod shift;
mod size;
mod speech;
mod stop;
mod switch_on;
mod trouble;

pub use air::{AirAnswer, AirQuestion, AirState, AirWords, air};
pub use asked_dryer::DryerAsked;
pub use changeover::{ChangeoverAnswer, changeover_files};
pub use check::{CheckedDryer, DryerMaker, check, check_file, dryer_of};
pub use curve::{
    CurveAnswer, CurveInstant, CurveQuestion, CurveSegment, CurveWords, curve, read_curve,
    read_curve_file,
};
pub use demo::{DEMO_JOBS, DemoAnswer, DemoPlan, demo};
pub use desiccants::{desiccant_page, desiccants, driest_frost_point, spread as spread_of_driest};
pub use document::{Document, DocumentFault};
pub use dryers::{DryersAnswer, USUAL_SAMPLES, dryers, dryers_files};
pub use equipment::{
    EquipmentAnswer, KnownRow, OwnDryer, equipment, equipment_fields, equipment_schema,
    open_equipment,
};
pub use files::{Library, Loaded, StatedDryer, StatedDryers};
pub use plan::{
    Citation, EvidenceRow, HeartPlace, HopperShape, InsideCut, InsideProfile, PLAN_SCHEMA,
    PlanAnswer, plan, plan_file, plan_job,
};
pub use policy::{PolicyAnswer, USUAL_WEEKS, policy_file, sensed_file};
pub use quantity::{Fault, Faults, Units};
pub use resins::{
    CheckAnswer, CheckedRecord, Compared, ComparisonAnswer, NewResinAnswer, NewResinWords,
    PelletTime, ResinAnswer, ResinLine, ResinNumbers, ResinSearch, check_records, compare,
    find_resins, library, library_page, new_resin, open_library, resin, resin_table, resins,
};
pub use shift::{ShiftAnswer, shift, shift_file};
pub use size::{SizeAnswer, sizes, sizes_files};
pub use stop::{StopAnswer, stop, stop_file};
pub use switch_on::{SwitchOnAnswer, SwitchOnWords, switch_on_files};
pub use trouble::Trouble;

use serde::Serialize;

/// The reference page of job files, in Markdown.
pub fn job_fields() -> String {
    files::reference::page(&files::JOB)
}

/// The reference page of curve files, in Markdown.
pub fn curve_fields() -> String {
    files::reference::page(&curve::CURVE)
}

/// The reference page of round files, in Markdown.
pub fn round_fields() -> String {
    files::reference::page(&files::ROUND)
}

/// The reference page of schedule files, in Markdown.
pub fn schedule_fields() -> String {
    files::reference::page(&files::SCHEDULE)
}

/// The JSON schema that a job file satisfies.
///
/// # Errors
/// When it cannot be written.
pub fn job_schema() -> Result<String, Trouble> {
    json(&files::schema::schema(&files::JOB))
}

/// Any answer as JSON, indented, with a line end.
///
/// # Errors
/// When it cannot be written.
pub fn json(answer: &impl Serialize) -> Result<String, Trouble> {
    let mut text =
        serde_json::to_string_pretty(answer).map_err(|error| Trouble::Json(error.to_string()))?;
    text.push('\n');
    Ok(text)
}

/// The fault of a text that could not be read, for instance from the standard input.
pub fn unreadable(name: &str, cause: &str) -> Faults {
    let place = quantity::Place::of(name, "");
    let kind = quantity::FaultKind::Unreadable;
    Fault::new(kind, place, "", cause, "give a text in UTF-8").into()
}

/// The fault of a file that would have to be written over.
pub fn occupied(name: &str) -> Faults {
    let place = quantity::Place::of(name, "");
    let kind = quantity::FaultKind::Inconsistent;
    let cause = "this file is there already, and it is not written over";
    let mend = "give another name or folder, or move the file away";
    Fault::new(kind, place, "", cause, mend).into()
}

/// The fault of a folder to write into that is not there, or that is a file.
pub fn no_folder(name: &str, is_file: bool) -> Faults {
    let place = quantity::Place::of("", "--into");
    let kind = quantity::FaultKind::Unreadable;
    let (cause, mend) = if is_file {
        ("this is no folder", "name a folder")
    } else {
        (
            "this folder is not there",
            "make it first, or name one that is there",
        )
    };
    Fault::new(kind, place, format!("{name:?}"), cause, mend).into()
}
