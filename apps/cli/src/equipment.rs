//! `drybed equipment`.

use crate::arguments::{EquipmentCommand, Reported};
use crate::outcome::{Failure, Outcome};
use crate::show::{self, mistakes, tell};

/// Answers a question about the dryers of a user.
pub(crate) fn run(command: &EquipmentCommand) -> Result<Outcome, Failure> {
    let (path, shown, report, verbose) = match command {
        EquipmentCommand::Fields => return show::say(&drybed::equipment_fields()),
        EquipmentCommand::Schema => return show::say(&drybed::equipment_schema()?),
        EquipmentCommand::Check {
            path,
            shown,
            report,
            verbose,
        } => (path, shown, report, verbose),
    };
    let answer = drybed::equipment(path)?;
    let reported = Reported {
        report: report.clone(),
        verbose: *verbose,
        resins: None,
        grades: None,
    };
    let document = answer.document(shown.units.into());
    show::answer(&document, || answer.json(), shown, &reported)?;
    if answer.is_sound() {
        return Ok(Outcome::Met);
    }
    tell(&format!("\n{}", answer.faults));
    tell(&format!("\n{}.", mistakes(answer.faults.len())));
    Ok(Outcome::Refused)
}
