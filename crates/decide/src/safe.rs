//! The nearest safe settings: the least change of those judged that meets the limit and harms
//! nothing.
//!
//! One thing is changed at a time first, in the order in which it costs least on the floor: the
//! temperature, the level in the same vessel, the dryness of the air, the air flow. Only then are a
//! longer stay, and so another hopper, and several changes at once looked at.

use crate::DecideError;
use crate::answer::{Ranged, SafeOutlet, Settings, Verdict};
use crate::case::{Case, Choice};
use crate::doubt::{self, Drawing};
use crate::outlet::{self, Outlet};
use crate::plan::{ppm_wet, settings};
use crate::resolve::Given;
use crate::stand::{HOLD_SHARE, SURE};
use crate::{humidity, search};
use job::Job;
use quantity::Quantity;
use uncertainty::Interval;

/// Step in which a temperature is set, K.
const STEP: f64 = 5.0;
/// Frost point of the driest air usually at hand, degC.
const DRIEST: f64 = -40.0;

/// What is asked of a plan that does not do.
pub(crate) struct Ask<'a> {
    /// The case, with the limit that is aimed at.
    pub(crate) case: &'a Case,
    pub(crate) given: &'a Given,
    pub(crate) verdict: Verdict,
    pub(crate) job: &'a Job,
    /// Residence of limit and margin, s.
    pub(crate) needed: f64,
    pub(crate) drawing: Drawing,
}

/// The nearest safe settings and what leaves at them; none where none were found.
///
/// # Errors
/// From the bed.
pub(crate) fn nearest(ask: &Ask<'_>) -> Result<Option<(Settings, SafeOutlet)>, DecideError> {
    if ask.verdict == Verdict::CrystalliseFirst || ask.case.nothing_left() {
        return Ok(None);
    }
    // The first that meets the limit by its best value, should none do so surely.
    let mut likely = None;
    let mut judge = |found: Case| -> Result<Option<(Settings, SafeOutlet)>, DecideError> {
        if !does(&found) {
            return Ok(None);
        }
        let leaves = leaves(ask, &found)?;
        let said = (settings(&found)?, leaves);
        if leaves.probability_within >= SURE {
            return Ok(Some(said));
        }
        likely.get_or_insert(said);
        Ok(None)
    };
    for change in ask.single_changes()? {
        if let Some(found) = judge(change)? {
            return Ok(Some(found));
        }
    }
    for attempt in ask.attempts()? {
        let Some(found) = ask.staying(&attempt)? else {
            continue;
        };
        if let Some(found) = judge(found)? {
            return Ok(Some(found));
        }
    }
    Ok(likely)
}

/// Whether a case meets its limit by its best value and harms nothing.
fn does(case: &Case) -> bool {
    case.air_temperature <= case.hottest()
        && case.residence() <= case.hold()
        && outlet::mean(case)
            .is_ok_and(|mean| mean <= case.limit && case.lower_edge.is_none_or(|edge| mean >= edge))
}

/// What leaves a case, with its range.
fn leaves(ask: &Ask<'_>, case: &Case) -> Result<SafeOutlet, DecideError> {
    let out = Outlet::of(case)?;
    let drawing = Drawing {
        ratio: out.ratio(),
        ..ask.drawing
    };
    let draws = doubt::samples(case, ask.given, drawing);
    let leaving: Vec<f64> = draws.iter().map(|draw| draw.leaving).collect();
    let range = Interval::of(&leaving, 0.9);
    Ok(SafeOutlet {
        mean_ppm_wet: Ranged {
            value: ppm_wet(out.mean),
            low: ppm_wet(range.map_or(out.mean, |found| found.low)),
            high: ppm_wet(range.map_or(out.mean, |found| found.high)),
        },
        probability_within: doubt::within(case, &draws).unwrap_or(1.0),
    })
}

impl Ask<'_> {
    /// Temperatures a step and more away from that judged, the nearest first, within the window.
    fn temperatures(&self, hotter: bool) -> Vec<f64> {
        let drying = &self.case.lead.resin.drying;
        let low = drying.temperature_low.value.si();
        let high = if self.job.target.outside_window {
            self.case.hottest()
        } else {
            drying.temperature_high.value.si()
        };
        let high = high.min(self.case.hottest() - 3.0);
        let sign = if hotter { STEP } else { -STEP };
        (1..=20)
            .map(|step| self.case.air_temperature + sign * f64::from(step))
            .take_while(|t| *t >= low - 1e-6 && *t <= high + 1e-6)
            .collect()
    }

    /// The settings judged with one thing changed that leaves the hopper as it stands.
    fn single_changes(&self) -> Result<Vec<Case>, DecideError> {
        let case = self.case;
        let at = |t: &f64| case.with_air_temperature(*t);
        let mut changes: Vec<Case> = Vec::new();
        match self.verdict {
            Verdict::Cooked | Verdict::TooDry => {
                let cooler = self.temperatures(false);
                changes.extend(cooler.iter().map(at));
                if let Some(lower) = self.lower_level(case)? {
                    changes.push(lower);
                }
                for t in &cooler {
                    changes.extend(self.lower_level(&at(t))?);
                }
            }
            Verdict::Sticks => changes.push(self.cool()),
            _ => {
                changes.extend(self.temperatures(true).iter().map(at));
                changes.push(self.drier(case));
                changes.push(self.more_air(case)?);
            }
        }
        Ok(changes)
    }

    /// As far below the temperature at which pellets fuse as a plan stays.
    fn cool(&self) -> Case {
        let case = self.case;
        case.with_air_temperature(case.air_temperature.min(case.hottest() - 3.0))
    }

    fn drier(&self, case: &Case) -> Case {
        let driest = self
            .given
            .driest
            .unwrap_or_else(|| humidity::at_frost_point(DRIEST, case.pressure));
        Case {
            air_humidity: driest.min(case.air_humidity),
            ..case.clone()
        }
    }

    /// Where heat is what is missing and the air is ours to choose or to ask for.
    fn more_air(&self, case: &Case) -> Result<Case, DecideError> {
        let ample = 1.5 * case.usual_air_flow(self.given.largest_flow)?;
        Ok(Case {
            air_flow: case.air_flow.max(ample),
            ..case.clone()
        })
    }

    /// The same vessel with so low a level that the stay is borne; none where it is no lower.
    fn lower_level(&self, case: &Case) -> Result<Option<Case>, DecideError> {
        let vessel = Case {
            diameter: Some(case.hopper()?.diameter),
            ..case.clone()
        };
        let Some(stay) = self.stay(&vessel) else {
            return Ok(None);
        };
        if stay >= case.residence() {
            return Ok(None);
        }
        Ok(Some(levelled(case, case.rate * stay)?))
    }

    /// A stay that meets the limit and is borne, s; none where none is both.
    fn stay(&self, case: &Case) -> Option<f64> {
        let least = search::residence(case)?;
        let hold = case.hold();
        if least > hold {
            return None;
        }
        let margin = 1.0 + self.job.target.margin.si();
        let wanted = (least * margin).min(HOLD_SHARE * hold).max(least.min(hold));
        Some(match self.verdict {
            Verdict::TooDry => least,
            // No shorter than limit and margin need.
            Verdict::Cooked => wanted.max(self.needed.min(HOLD_SHARE * hold)),
            _ => wanted,
        })
    }

    /// Air at each temperature that may do, with more of it, and drier, for stays to be looked for.
    fn attempts(&self) -> Result<Vec<Case>, DecideError> {
        let window = if self.job.target.outside_window {
            self.case.hottest()
        } else {
            self.case.lead.resin.drying.temperature_high.value.si()
        };
        let cool = self.cool();
        let hot = cool.with_air_temperature(window.min(cool.hottest() - 3.0));
        let mut tries = vec![cool, hot];
        for index in 0..tries.len() {
            tries.push(self.more_air(&tries[index])?);
        }
        for index in 0..tries.len() {
            tries.push(self.drier(&tries[index]));
        }
        Ok(tries)
    }

    /// An attempt at the stay it needs, in the same vessel where that is shorter.
    fn staying(&self, attempt: &Case) -> Result<Option<Case>, DecideError> {
        let Some(stay) = self.stay(attempt) else {
            return Ok(None);
        };
        let mass = attempt.rate * stay;
        let mut found = if self.given.has(Choice::Hopper) && mass < attempt.bed_mass {
            levelled(attempt, mass)?
        } else {
            attempt.with_bed_mass(mass)
        };
        if !self.given.has(Choice::AirFlow) {
            found.air_flow = found
                .usual_air_flow(self.given.largest_flow)?
                .max(found.air_flow);
        }
        Ok(Some(found))
    }
}

/// The same vessel filled to another bed mass above the inlet.
fn levelled(case: &Case, mass: f64) -> Result<Case, DecideError> {
    let all = |mass: f64| mass + case.below_inlet;
    Ok(Case {
        diameter: Some(case.hopper()?.diameter),
        fill: case.fill * all(mass) / all(case.bed_mass),
        bed_mass: mass,
        ..case.clone()
    })
}
