//! `drybed demo`.

use crate::arguments::{Demo, Reported};
use crate::outcome::{Failure, Outcome};
use crate::show::{self, tell};
use std::path::{self, PathBuf};

/// Works the invented plant and leaves its report.
pub(crate) fn run(asked: &Demo) -> Result<Outcome, Failure> {
    let library = drybed::library(None)?;
    let answer = drybed::demo(&library, |file| tell(&format!("planned {file}")))?;
    let document = answer.document(asked.shown.units.into());
    let reported = Reported {
        report: Some(whole(&asked.report)),
        verbose: false,
        resins: None,
        grades: None,
    };
    show::answer(&document, || drybed::json(&answer), &asked.shown, &reported)?;
    Ok(Outcome::Met)
}

/// The path from the root, so that it can be opened from anywhere.
fn whole(path: &PathBuf) -> PathBuf {
    path::absolute(path).unwrap_or_else(|_| path.clone())
}
