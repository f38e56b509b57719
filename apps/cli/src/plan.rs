//! `drybed plan`.

use crate::arguments::Plan;
use crate::outcome::{Failure, Outcome};
use crate::show;
use std::io::{self, Read};
use std::path::Path;

/// What the standard input is called in messages.
pub(crate) const INPUT: &str = "standard input";

/// Plans a job.
pub(crate) fn run(asked: &Plan) -> Result<Outcome, Failure> {
    show::with_library(&asked.reported, |library| {
        let answer = if is_input(&asked.job) {
            drybed::plan(&input()?, INPUT, library)?
        } else {
            drybed::plan_file(&asked.job, library)?
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

/// Whether a path stands for the standard input.
pub(crate) fn is_input(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// What stands on the standard input.
pub(crate) fn input() -> Result<String, Failure> {
    let mut text = String::new();
    match io::stdin().lock().read_to_string(&mut text) {
        Ok(_) => Ok(text),
        Err(cause) => Err(Failure::Asked(drybed::unreadable(
            INPUT,
            &cause.to_string(),
        ))),
    }
}
