//! Moisture of the resin as it arrives: stated, computed from its storage, or the record's.

use crate::DecideError;
use air::saturation;
use job::Job;
use pellet::Outline;
use pellet::interior::{Interior, SurfaceDrift};
use quantity::Quantity;

/// Steps in which a storage time is followed.
const STORAGE_STEPS: u32 = 200;
/// Modes or nodes for storage.
const FINENESS: usize = 16;

/// Arriving moisture, kg/kg dry.
///
/// # Errors
/// From the pellet.
pub(crate) fn moisture(job: &Job, outline: &Outline) -> Result<f64, DecideError> {
    if let Some(stated) = job.arrival.moisture {
        return Ok(stated.dry_basis().si());
    }
    let resin = &job.resin;
    let Some(storage) = &job.arrival.storage else {
        return Ok(resin.received.opened.value.si());
    };
    let start = storage
        .from
        .map_or(resin.received.sealed.value.si(), |from| {
            from.dry_basis().si()
        });
    let (isotherm, law) = (resin.isotherm.law, resin.diffusivity.law);
    let t = storage.temperature.si();
    let activity = storage.relative_humidity.si().clamp(0.0, 1.0);
    debug_assert!(saturation::over_liquid(t) > 0.0);
    let surface = isotherm.moisture(t, activity);
    let interior = Interior::of(outline, &isotherm, &law, FINENESS)?;
    let still = SurfaceDrift {
        before: surface,
        rate: 0.0,
    };
    let (mut state, mut work) = (interior.uniform(start), interior.work());
    // Steps grow with the square of their number, as diffusion does.
    let total = storage.time.si();
    let at = |step: u32| {
        let share = f64::from(step) / f64::from(STORAGE_STEPS);
        total * share * share
    };
    for step in 0..STORAGE_STEPS {
        let duration = at(step + 1) - at(step);
        interior.prepare(&state, law.at(t, 0.0), duration, still, &mut work);
        interior.respond(&law, t, duration, &state, surface, still, &mut work)?;
        interior.commit(&mut state, surface, duration, still, &work);
    }
    Ok(if isotherm.takes_up_water() {
        interior.mean(&state)
    } else {
        start
    })
}
