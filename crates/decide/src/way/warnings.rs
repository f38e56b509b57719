//! What the reader must know of the way after the dryer.

use super::WayFound;
use crate::answer::Warning;

/// Share of the limit from which what a sample takes up is worth a warning (common practice, no
/// source: the repeatability of a titration at such moistures).
const WORTH_TELLING: f64 = 0.1;

/// Warnings of a way, against the limit in ppm of wet resin.
pub(crate) fn of(found: &WayFound, limit: f64) -> Vec<Warning> {
    let mut warnings = Vec::new();
    let mut warn = |text: String, mend: &str| {
        warnings.push(Warning {
            text,
            mend: mend.to_owned(),
        });
    };
    if let Some(screw) = found.at_screw()
        && screw.mean_ppm_wet > limit
        && found.leaving_ppm_wet <= limit
    {
        warn(
            format!(
                "the pellets leave the dryer dry, at {:.0} ppm, and reach the screw wet, at {:.0} ppm",
                found.leaving_ppm_wet, screw.mean_ppm_wet
            ),
            "cover or purge the machine hopper, hold less in it, or convey with dry air",
        );
    }
    if let Some(sample) = &found.sample {
        let taken = sample.laboratory_ppm_wet - sample.throat_ppm_wet;
        if taken > WORTH_TELLING * limit {
            warn(
                format!(
                    "the sample takes up {taken:.0} ppm on its way to the laboratory: it reads {:.0} \
                     ppm where {:.0} ppm were at the throat",
                    sample.laboratory_ppm_wet, sample.throat_ppm_wet
                ),
                if sample.closed {
                    "fill the vessel to its rim, or flush it with dry air before"
                } else {
                    "take it hot into a warm, dry vessel, fill it to its rim and close it at once"
                },
            );
        }
    }
    warnings
}
