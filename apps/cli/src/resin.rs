//! `drybed resin`.

use crate::arguments::ResinCommand;
use crate::outcome::{Failure, Outcome};
use crate::show::{say, tell};

/// Answers a question about the library.
pub(crate) fn run(command: &ResinCommand) -> Result<Outcome, Failure> {
    match command {
        ResinCommand::List { resins, shown } => {
            let library = drybed::library(resins.as_deref())?;
            let lines = drybed::resins(&library);
            if shown.json {
                return say(&drybed::json(&lines)?);
            }
            let document = drybed::resin_table(&lines, shown.units.into());
            say(&document.text().map_err(drybed::Trouble::from)?)
        }
        ResinCommand::Show {
            name,
            resins,
            verbose,
            shown,
        } => {
            let library = drybed::library(resins.as_deref())?;
            let answer = drybed::resin(name, &library)?;
            if shown.json {
                return say(&answer.json()?);
            }
            let document = answer.document(shown.units.into());
            let text = if *verbose {
                document.full_text()
            } else {
                document.text()
            };
            say(&text.map_err(drybed::Trouble::from)?)
        }
        ResinCommand::Check { folder } => {
            let before = drybed::resins(&drybed::library(None)?);
            let after = drybed::resins(&drybed::library(Some(folder))?);
            let own = after.iter().filter(|line| !before.contains(line));
            let names: Vec<&str> = own.map(|line| line.name.as_str()).collect();
            tell(&match names.as_slice() {
                [] => format!(
                    "{}: no record that differs from the library",
                    folder.display()
                ),
                names => format!("{}: {} can be used", folder.display(), names.join(", ")),
            });
            Ok(Outcome::Met)
        }
    }
}
