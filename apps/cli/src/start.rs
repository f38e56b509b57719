//! `drybed start`.

use crate::arguments::Start;
use crate::outcome::{Failure, Outcome};
use crate::show;
use drybed::SwitchOnWords;

/// Says when to switch on the dryers of a hall.
pub(crate) fn run(asked: &Start) -> Result<Outcome, Failure> {
    let words = SwitchOnWords {
        ready: asked.ready.clone(),
        peak: asked.peak.clone(),
        base: asked.base.clone(),
    };
    show::with_library(&asked.reported, |library| {
        let answer = drybed::switch_on_files(&asked.schedules, library, &words)?;
        let document = answer.document(asked.shown.units.into());
        show::answer(&document, || answer.json(), &asked.shown, &asked.reported)?;
        Ok(if answer.is_met() {
            Outcome::Met
        } else {
            Outcome::NotMet
        })
    })
}
