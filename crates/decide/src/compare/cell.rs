//! A cell in numbers: every hopper planned, and why no dryer may serve them where that is so.

use crate::DecideError;
use crate::ahead::Stated;
use crate::case::{Case, Choice, celsius};
use crate::compare::kinds::Duty;
use crate::compare::unlike;
use crate::plan::{ppm_wet, settled};
use crate::resolve::Given;
use crate::stand::MARGIN_SHARE;
use crate::warnings::{SHORT, SLOW};
use job::Cell;
use quantity::digits;
use serde::Serialize;

/// A run as it is asked for.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RunAsked {
    /// Part of the running time; the parts of a cell sum to 1.
    pub share: f64,
    /// Its hoppers.
    pub hoppers: Vec<HopperAsked>,
}

/// A hopper as it is asked for.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HopperAsked {
    /// What the user calls its job.
    pub title: String,
    /// The resin.
    pub resin: String,
    /// Wet resin drawn, kg/h.
    pub rate_kg_h: f64,
    /// Air temperature at the inlet of the hopper, degC.
    pub air_temperature_c: f64,
    /// Dry air, kg/h.
    pub air_flow_kg_h: f64,
    /// Water that the resin brings in beyond its limit, kg/h.
    pub water_kg_h: f64,
    /// Residence, h.
    pub residence_h: f64,
    /// Whether the hopper was chosen for its residence, and not stated.
    pub is_chosen: bool,
    /// Residence that practice gives it, h.
    pub customary_h: f64,
    /// The longest stay that it bears in air of this temperature, h.
    pub hold_h: f64,
    /// Volume of the hopper, l, and its diameter, mm.
    pub volume_l: f64,
    /// Inner diameter, mm.
    pub diameter_mm: f64,
    /// Limit of what leaves the hopper, ppm wet basis.
    pub limit_ppm_wet: f64,
}

/// A cell in numbers.
pub(super) struct Settled {
    pub(super) runs: Vec<SettledRun>,
}

/// A run in numbers.
pub(super) struct SettledRun {
    pub(super) share: f64,
    pub(super) titles: Vec<String>,
    /// As their resin enters the hoppers.
    pub(super) cases: Vec<Case>,
    /// As it comes, and the crystalliser between.
    pub(super) fed: Vec<(Case, Option<Stated>)>,
    pub(super) given: Vec<Given>,
}

/// How far two places may be apart, Pa, and still be one: some 170 m of height, or a job that left its
/// height out; the flows of a dryer move by a fiftieth.
const ONE_PLACE: f64 = 2000.0;

impl Settled {
    /// Everything left open chosen as a plan does, hopper by hopper.
    ///
    /// # Errors
    /// As [`crate::plan`]; [`DecideError::NoJob`] for a cell or a run without one, and
    /// [`DecideError::TwoPlaces`] for hoppers at different pressures of the air.
    pub(super) fn of(cell: &Cell) -> Result<Self, DecideError> {
        let whole: f64 = cell.runs.iter().map(|run| run.share).sum();
        if !(whole > 0.0) || cell.runs.iter().any(|run| run.jobs.is_empty()) {
            return Err(DecideError::NoJob);
        }
        let mut runs = Vec::with_capacity(cell.runs.len());
        for run in &cell.runs {
            let mut now = SettledRun {
                share: run.share / whole,
                titles: run.jobs.iter().map(|job| job.title.clone()).collect(),
                cases: Vec::with_capacity(run.jobs.len()),
                fed: Vec::with_capacity(run.jobs.len()),
                given: Vec::with_capacity(run.jobs.len()),
            };
            for job in &run.jobs {
                let (case, given) = settled(job)?;
                now.fed.push(match case.before() {
                    Some((fed, stated)) => (fed, Some(stated.clone())),
                    None => (case.clone(), None),
                });
                now.cases.push(case);
                now.given.push(given);
            }
            runs.push(now);
        }
        let found = Self { runs };
        found.check_place()?;
        Ok(found)
    }

    /// Every hopper with the place of its run.
    pub(super) fn hoppers(&self) -> impl Iterator<Item = (usize, &str, &Case)> {
        self.runs.iter().enumerate().flat_map(|(index, run)| {
            let named = run.titles.iter().zip(&run.cases);
            named.map(move |(title, case)| (index, title.as_str(), case))
        })
    }

    fn check_place(&self) -> Result<(), DecideError> {
        let mut pressures = self
            .hoppers()
            .map(|(_, title, case)| (title, case.pressure));
        let Some((first, at)) = pressures.next() else {
            return Err(DecideError::NoJob);
        };
        match pressures.find(|(_, pressure)| (pressure - at).abs() > ONE_PLACE) {
            None => Ok(()),
            Some((other, pressure)) => Err(DecideError::TwoPlaces {
                jobs: [first.to_owned(), other.to_owned()],
                kilopascal: [at / 1e3, pressure / 1e3],
            }),
        }
    }

    /// Why no dryer may serve it, if so.
    pub(super) fn refused(&self) -> Option<String> {
        let several = self.hoppers().count() > 1;
        let hopper = self.hoppers().find_map(|(_, title, case)| {
            let reason = unfit(case)?;
            Some(if several {
                format!("{reason} ({title})")
            } else {
                reason
            })
        });
        hopper.or_else(|| unlike::never_together(self))
    }

    /// What is asked for, in the units people use.
    ///
    /// # Errors
    /// From a hopper.
    pub(super) fn asked(&self) -> Result<Vec<RunAsked>, DecideError> {
        self.runs
            .iter()
            .map(|run| {
                let named = run.titles.iter().zip(&run.cases).zip(&run.given);
                Ok(RunAsked {
                    share: run.share,
                    hoppers: named
                        .map(|((title, case), given)| HopperAsked::of(title, case, given))
                        .collect::<Result<_, DecideError>>()?,
                })
            })
            .collect()
    }
}

impl HopperAsked {
    /// Whether it stays short of practice although the resin would bear the customary time with room to spare.
    fn is_short(&self) -> bool {
        self.residence_h < SHORT * self.customary_h
            && self.customary_h / self.hold_h <= MARGIN_SHARE
    }

    /// Whether its record asks for far more time than practice takes; a hopper that was stated tells nothing of
    /// the record.
    pub(super) fn is_far_slower(&self) -> bool {
        self.is_chosen && self.residence_h > SLOW * self.customary_h
    }

    /// Where its stay is not what practice gives, in a sentence: a record may be wrong, and people buy by this.
    pub fn against_practice(&self) -> Option<String> {
        let resin = &self.resin;
        let stay = digits(self.residence_h, 2);
        let usual = digits(self.customary_h, 2);
        if self.is_short() {
            Some(format!(
                "{resin} stays {stay} h, short of the {usual} h that practice takes: a hopper for {usual} h costs no \
                 quality and covers what the record does not know"
            ))
        } else if self.is_far_slower() {
            Some(format!(
                "{resin} stays {stay} h by its record where practice takes {usual} h, so the record is far slower than \
                 practice: measure the moisture of one sample after {usual} h before buying a hopper or a dryer for it"
            ))
        } else {
            None
        }
    }

    fn of(title: &str, case: &Case, given: &Given) -> Result<Self, DecideError> {
        Ok(Self {
            title: title.to_owned(),
            resin: case.lead.resin.name.clone(),
            rate_kg_h: case.wet_rate() * 3600.0,
            air_temperature_c: celsius(case.air_temperature),
            air_flow_kg_h: case.air_flow * 3600.0,
            water_kg_h: water(case) * 3600.0,
            residence_h: case.residence() / 3600.0,
            is_chosen: !given.has(Choice::Hopper),
            customary_h: case.lead.resin.drying.time.value.hours(),
            hold_h: case.hold() / 3600.0,
            volume_l: case.hopper_volume() * 1e3,
            diameter_mm: case.hopper()?.diameter * 1e3,
            limit_ppm_wet: ppm_wet(case.limit),
        })
    }
}

/// What is asked of dryers, before any is made.
pub(crate) struct Asking {
    pub(super) cell: Settled,
    pub(crate) runs: Vec<RunAsked>,
    pub(crate) duty: Duty,
    /// Why no dryer may serve it, where that is so.
    pub(crate) refused: Option<String>,
    /// What carries over from resin to resin.
    pub(crate) carried_over: Vec<String>,
}

impl Asking {
    /// # Errors
    /// As [`Settled::of`].
    pub(crate) fn of(cell: &Cell) -> Result<Self, DecideError> {
        let cell = Settled::of(cell)?;
        Ok(Self {
            runs: cell.asked()?,
            duty: Duty::of(&cell),
            refused: cell.refused(),
            carried_over: unlike::carried_over(&cell),
            cell,
        })
    }
}

/// Water that a resin brings in beyond its limit, kg/s.
pub(super) fn water(case: &Case) -> f64 {
    case.rate * (case.fed_water() - case.limit).max(0.0)
}

/// Why a lot may not rest in a hot hopper, whatever dryer makes the air.
fn unfit(case: &Case) -> Option<String> {
    let reason = if case.crystallise_first() {
        let stated = case.before();
        if let Some(why) = stated.and_then(|(_, stated)| stated.not_enough.clone()) {
            return Some(format!(
                "none: part of the lot must be crystallised before it may rest in a hot hopper, and the \
                 crystalliser stated does not do that: {why}"
            ));
        }
        "none: part of the lot must be crystallised before it may rest in a hot hopper; no dryer \
             changes that, a crystalliser ahead of the hopper does: state it in the job, under \
             [crystalliser], and each dryer is run behind it"
    } else if case.air_temperature > case.hottest() {
        "none: the wet pellets fuse at this air temperature, whatever dryer makes the air"
    } else {
        return None;
    };
    Some(reason.to_owned())
}
