//! `drybed check`.

use crate::arguments::Check;
use crate::outcome::{Failure, Outcome};
use crate::{plan, show};

/// Checks a dryer.
pub(crate) fn run(asked: &Check) -> Result<Outcome, Failure> {
    let Some(round) = asked.round.as_ref().filter(|_| !asked.fields) else {
        return show::say(&drybed::round_fields());
    };
    show::with_library(&asked.reported, |library| {
        let answer = if plan::is_input(round) {
            drybed::check(&plan::input()?, plan::INPUT, library)?
        } else {
            drybed::check_file(round, library)?
        };
        let document = answer.document(asked.shown.units.into());
        show::answer(&document, || answer.json(), &asked.shown, &asked.reported)?;
        Ok(if answer.is_healthy() {
            Outcome::Met
        } else {
            Outcome::NotMet
        })
    })
}
