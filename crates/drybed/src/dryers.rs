//! Which dryer: those that could serve a job, side by side.

mod costs;
mod margins;
mod not_computed;
pub(crate) mod own;
mod page;
mod set_points;
mod unfit;
pub(crate) mod words;

use crate::equipment::EquipmentAnswer;
use crate::{StatedDryers, Trouble};
use decide::compare::{Comparison, Dryer, Duty, Maker, Offered, Question, VacuumBatches, compare};
use dryer::sorption::Adsorbed;
use files::{Desiccants, Library, open_cell, read_job};
use job::{Cell, DryerKind, OwnedKind, Ownership, Plant};
use line::equipment::Equipment;
use line::usual;
use quantity::Place;
use serde::Serialize;
use std::path::PathBuf;

/// Version of the layout of a choice of dryers in JSON.
const CHOICE_SCHEMA: u32 = 2;
/// Samples of doubt where none are asked for.
pub const USUAL_SAMPLES: u32 = 200;
/// The desiccant of a wheel where none is stated.
const USUAL_DESICCANT: &str = "molecular-sieve-13x";

/// Dryers side by side.
#[derive(Clone, Debug, Serialize)]
pub struct DryersAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// The comparison.
    pub comparison: Comparison,
    /// What the desiccant of wheel and towers is, where they are sized by custom.
    pub desiccant: String,
    /// The user's own dryers, in the order of the comparison; none where they are sized by custom.
    pub equipment: Option<EquipmentAnswer>,
}

/// Compares dryers for the job that a text describes: the user's own, or those sized by custom; `told`
/// hears the share that is done.
///
/// # Errors
/// Every mistake in the text, and a comparison that cannot be computed.
pub fn dryers(
    text: &str,
    file: &str,
    library: &Library,
    own: Option<&StatedDryers>,
    samples: u32,
    told: &(dyn Fn(f64) + Sync),
) -> Result<DryersAnswer, Trouble> {
    let job = read_job(text, file, library)?;
    of(&job.into(), own, samples, told)
}

/// Compares the dryers for the jobs of some files, one after another on one dryer.
///
/// # Errors
/// As [`dryers`], and a file that cannot be read.
pub fn dryers_files(
    paths: &[PathBuf],
    library: &Library,
    own: Option<&StatedDryers>,
    samples: u32,
    told: &(dyn Fn(f64) + Sync),
) -> Result<DryersAnswer, Trouble> {
    of(&open_cell(paths, library)?, own, samples, told)
}

fn of(
    cell: &Cell,
    own: Option<&StatedDryers>,
    samples: u32,
    told: &(dyn Fn(f64) + Sync),
) -> Result<DryersAnswer, Trouble> {
    let customary = Customary::shipped()?;
    let question = Question {
        cell,
        dryers: match own {
            Some(own) => own::offered(own, &cell.plant),
            None => customary.offered(&cell.plant),
        },
        samples,
        seed: seed(cell),
    };
    Ok(DryersAnswer {
        schema_version: CHOICE_SCHEMA,
        comparison: compare(&question, told)?,
        desiccant: customary.desiccant.clone(),
        equipment: own.map(|own| EquipmentAnswer::of("", own)),
    })
}

/// Dryers sized by custom.
pub(crate) struct Customary {
    adsorbed: Adsorbed,
    /// What the desiccant is.
    pub(crate) desiccant: String,
}

impl Customary {
    /// With the usual desiccant.
    ///
    /// # Errors
    /// A desiccant that is not there.
    pub(crate) fn shipped() -> Result<Self, Trouble> {
        let all = Desiccants::shipped()?;
        let desiccant = all.find(USUAL_DESICCANT, &Place::of("", "desiccant"))?;
        Ok(Self {
            adsorbed: Adsorbed::of(&desiccant.sorbent),
            desiccant: desiccant.title.clone(),
        })
    }

    /// One that makes air, for an air flow (kg/s of dry air) and a set point (K).
    pub(crate) fn air_dryer(&self, kind: DryerKind, flow: f64, set_point: f64) -> Equipment {
        let desiccant = || self.adsorbed.clone();
        match kind {
            DryerKind::Wheel => usual::wheel_dryer(flow, set_point, desiccant()),
            DryerKind::Towers => usual::tower_dryer(flow, set_point, desiccant()),
            DryerKind::CompressedAir => usual::compressed_air_dryer(flow, set_point),
            DryerKind::HotAir => usual::hot_air_dryer(flow, set_point),
        }
    }

    /// Each kind, with what the plant states of owning one.
    pub(crate) fn offered(&self, plant: &Plant) -> Vec<Offered<'_>> {
        let air = DryerKind::ALL.into_iter().map(|kind| {
            let make: Box<Maker<'_>> =
                Box::new(move |duty| by_custom(duty, |flow, hot| self.air_dryer(kind, flow, hot)));
            (OwnedKind::Air(kind), make)
        });
        let vacuum: Box<Maker<'_>> =
            Box::new(|duty| Dryer::Batches(Box::new(VacuumBatches::by_custom(duty))));
        let prices = plant.prices.as_ref();
        air.chain([(OwnedKind::Vacuum, vacuum)])
            .map(|(kind, make)| {
                let priced = prices.and_then(|prices| prices.dryer(kind));
                Offered {
                    mine: priced.is_some_and(|priced| priced.mine),
                    ownership: priced.map_or_else(Ownership::default, |it| it.ownership.clone()),
                    is_stated: false,
                    hottest: None,
                    make,
                }
            })
            .collect()
    }
}

/// The seed of the first job.
fn seed(cell: &Cell) -> u32 {
    let mut jobs = cell.runs.iter().flat_map(|run| &run.jobs);
    jobs.next().map_or(1, |job| job.model.seed)
}

/// A dryer made by custom for all its air and the hottest set point; the heater before each hopper is
/// that of the hopper with most air.
fn by_custom(duty: &Duty, make: impl Fn(f64, f64) -> Equipment) -> Dryer {
    let hottest = duty.set_point().value;
    Dryer::Air(Box::new(Equipment {
        heater: make(duty.hopper_air_flow().value, hottest).heater,
        ..make(duty.air_flow().value, hottest)
    }))
}

impl DryersAnswer {
    /// Whether a dryer is recommended.
    pub fn is_met(&self) -> bool {
        self.comparison.choice.dryer.is_some()
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When a number has no place in JSON.
    pub fn json(&self) -> Result<String, Trouble> {
        crate::json(self)
    }
}
