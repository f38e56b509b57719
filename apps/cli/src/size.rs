//! `drybed size`.

use crate::arguments::Size;
use crate::outcome::{Failure, Outcome};
use crate::plan::{INPUT, input, is_input};
use crate::show::{self, tell_left_out};

/// Sizes the dryers for one job or several.
pub(crate) fn run(asked: &Size) -> Result<Outcome, Failure> {
    let path = asked.equipment.as_deref();
    let own = path.map(drybed::open_equipment).transpose()?;
    show::with_library(&asked.reported, |library| {
        let offered = own.as_ref();
        let answer = match &asked.jobs[..] {
            [job] if is_input(job) => drybed::sizes(&input()?, INPUT, library, offered)?,
            jobs => drybed::sizes_files(jobs, library, offered)?,
        };
        let document = answer.document(asked.shown.units.into());
        show::answer(&document, || answer.json(), &asked.shown, &asked.reported)?;
        offered.into_iter().for_each(tell_left_out);
        Ok(if answer.is_met() {
            Outcome::Met
        } else {
            Outcome::NotMet
        })
    })
}
