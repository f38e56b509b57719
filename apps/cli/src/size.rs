//! `drybed size`.

use crate::arguments::Size;
use crate::outcome::{Failure, Outcome};
use crate::plan::{INPUT, input, is_input};
use crate::show;

/// Sizes the dryers for one job or several.
pub(crate) fn run(asked: &Size) -> Result<Outcome, Failure> {
    show::with_library(&asked.reported, |library| {
        let answer = match &asked.jobs[..] {
            [job] if is_input(job) => drybed::sizes(&input()?, INPUT, library)?,
            jobs => drybed::sizes_files(jobs, library)?,
        };
        let document = answer.document(asked.shown.units.into());
        show::answer(&document, || answer.json(), &asked.shown, &asked.reported)?;
        Ok(if answer.is_met() {
            Outcome::Met
        } else {
            Outcome::NotMet
        })
    })
}
