//! `drybed shift`, `drybed policy`, `drybed stop` and `drybed changeover`.

use crate::arguments::{Changeover, DryerMeant, Policy, Shift, Stop};
use crate::outcome::{Failure, Outcome};
use crate::{plan, show};
use drybed::DryerAsked;

/// Follows the days of a schedule.
pub(crate) fn run(asked: &Shift) -> Result<Outcome, Failure> {
    let Some(schedule) = asked.schedule.as_ref().filter(|_| !asked.fields) else {
        return show::say(&drybed::schedule_fields());
    };
    show::with_library(&asked.reported, |library| {
        let answer = if plan::is_input(schedule) {
            drybed::shift(&plan::input()?, plan::INPUT, library)?
        } else {
            drybed::shift_file(schedule, library)?
        };
        let document = answer.document(asked.shown.units.into());
        show::answer(&document, || answer.json(), &asked.shown, &asked.reported)?;
        Ok(met(answer.is_met()))
    })
}

/// Finds the best way to run a dryer.
pub(crate) fn policy(asked: &Policy) -> Result<Outcome, Failure> {
    show::with_library(&asked.reported, |library| {
        let bar = show::Bar::new();
        let numbers = (asked.weeks, asked.seed);
        let answer = drybed::policy_file(&asked.schedule, library, numbers, &|what, share| {
            bar.at(what, share);
        })?;
        bar.done();
        let document = answer.document(asked.shown.units.into());
        show::answer(&document, || answer.json(), &asked.shown, &asked.reported)?;
        Ok(met(answer.is_met()))
    })
}

/// Says what to do about a stop.
pub(crate) fn stop(asked: &Stop) -> Result<Outcome, Failure> {
    show::with_library(&asked.reported, |library| {
        let about = (meant(&asked.dryer), asked.length.as_str());
        let answer = if plan::is_input(&asked.job) {
            drybed::stop(&plan::input()?, plan::INPUT, library, about)?
        } else {
            drybed::stop_file(&asked.job, library, about)?
        };
        let document = answer.document(asked.shown.units.into());
        show::answer(&document, || answer.json(), &asked.shown, &asked.reported)?;
        Ok(met(answer.is_met()))
    })
}

/// Says what a changeover takes.
pub(crate) fn changeover(asked: &Changeover) -> Result<Outcome, Failure> {
    show::with_library(&asked.reported, |library| {
        let files = (asked.from.as_path(), asked.to.as_path());
        let answer = drybed::changeover_files(files, library, meant(&asked.dryer))?;
        let document = answer.document(asked.shown.units.into());
        show::answer(&document, || answer.json(), &asked.shown, &asked.reported)?;
        Ok(met(answer.is_met()))
    })
}

fn meant(dryer: &DryerMeant) -> DryerAsked<'_> {
    DryerAsked {
        kind: dryer.dryer.as_deref(),
        record: dryer.equipment.as_deref(),
    }
}

fn met(is_met: bool) -> Outcome {
    if is_met {
        Outcome::Met
    } else {
        Outcome::NotMet
    }
}
