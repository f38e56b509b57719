//! `drybed resin`.

use crate::arguments::{Reported, ResinCommand, Shown, Units};
use crate::outcome::{Failure, Outcome};
use crate::show::{self, mistakes, tell};
use drybed::ResinSearch;
use std::path::Path;

/// Answers a question about the library.
pub(crate) fn run(command: &ResinCommand) -> Result<Outcome, Failure> {
    match command {
        ResinCommand::List {
            word,
            family,
            shown,
            reported,
        } => {
            let library = show::library(reported)?;
            let search = ResinSearch {
                word: word.clone(),
                family: family.clone(),
            };
            let lines = drybed::find_resins(&library, &search)?;
            let document = drybed::resin_table(&lines, shown.units.into());
            show::answer(&document, || drybed::json(&lines), shown, reported)?;
        }
        ResinCommand::Show {
            name,
            shown,
            reported,
        } => {
            let library = show::library(reported)?;
            let answer = drybed::resin(name, &library)?;
            let document = answer.document(shown.units.into());
            show::answer(&document, || answer.json(), shown, reported)?;
        }
        ResinCommand::Compare {
            names,
            shown,
            reported,
        } => {
            let library = show::library(reported)?;
            let answer = drybed::compare(names, &library)?;
            let document = answer.document(shown.units.into());
            show::answer(&document, || answer.json(), shown, reported)?;
        }
        ResinCommand::Check {
            folder,
            json,
            report,
        } => return check(folder, *json, report.as_deref()),
    }
    Ok(Outcome::Met)
}

/// Checks a folder: what can be used is data, what is wrong is talk.
fn check(folder: &Path, json: bool, report: Option<&Path>) -> Result<Outcome, Failure> {
    let answer = drybed::check_records(folder)?;
    let shown = Shown {
        units: Units::Metric,
        json,
    };
    let reported = Reported {
        report: report.map(Path::to_path_buf),
        verbose: false,
        resins: None,
        grades: None,
    };
    show::answer(&answer.document(), || answer.json(), &shown, &reported)?;
    if answer.is_sound() {
        return Ok(Outcome::Met);
    }
    tell(&answer.faults.to_string());
    tell(&format!("\n{}.", mistakes(answer.faults.len())));
    Ok(Outcome::Refused)
}
