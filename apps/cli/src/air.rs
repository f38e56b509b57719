//! `drybed air`.

use crate::arguments::Air;
use crate::outcome::{Failure, Outcome};
use crate::show::say;
use drybed::{AirQuestion, AirWords};

/// Answers a question about air.
pub(crate) fn run(asked: &Air) -> Result<Outcome, Failure> {
    let words = AirWords {
        temperature: asked.temperature.clone(),
        humidity: asked.humidity.clone(),
        pressure: asked.pressure.clone(),
        altitude: asked.altitude.clone(),
        expand_to: asked.expand_to.clone(),
    };
    let answer = AirQuestion::read(&words)
        .and_then(|question| drybed::air(&question))
        .map_err(flagged)?;
    if asked.shown.json {
        return say(&drybed::json(&answer)?);
    }
    let document = answer.document(asked.shown.units.into());
    say(&document.text().map_err(drybed::Trouble::from)?)
}

/// Faults at the flags they came from.
fn flagged(mut faults: drybed::Faults) -> drybed::Faults {
    for fault in &mut faults.0 {
        fault.place.path = format!("--{}", fault.place.path.replace('_', "-"));
    }
    faults
}
