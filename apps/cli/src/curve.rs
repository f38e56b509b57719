//! `drybed curve`.

use crate::arguments::Curve;
use crate::outcome::{Failure, Outcome};
use crate::{plan, show};
use drybed::CurveWords;

/// Follows a pellet.
pub(crate) fn run(asked: &Curve) -> Result<Outcome, Failure> {
    if asked.fields {
        return show::say(&drybed::curve_fields());
    }
    show::with_library(&asked.reported, |library| {
        let question = match &asked.file {
            Some(file) if plan::is_input(file) => {
                drybed::read_curve(&plan::input()?, plan::INPUT, library)?
            }
            Some(file) => drybed::read_curve_file(file, library)?,
            None => words(asked).read(library)?,
        };
        let answer = drybed::curve(&question, library)?;
        let document = answer.document(asked.shown.units.into());
        show::answer(&document, || answer.json(), &asked.shown, &asked.reported)?;
        Ok(Outcome::Met)
    })
}

fn words(asked: &Curve) -> CurveWords {
    CurveWords {
        resin: asked.resin.clone().unwrap_or_default(),
        diameter: asked.diameter.clone(),
        length: asked.length.clone(),
        moisture: asked.moisture.clone(),
        surface_water: asked.surface_water.clone(),
        temperature: asked.start_temperature.clone(),
        limit: asked.limit.clone(),
        altitude: asked.altitude.clone(),
        air: asked.air.clone(),
    }
}
