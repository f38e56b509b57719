//! Long and Sokol (1974), Molding polycarbonate: moisture degradation effect on physical and chemical
//! properties, Polymer Engineering and Science 14(12), 817 (pages from memory).
//!
//! What was measured: the regain of dried polycarbonate in room air: 0.03 % is "reached within 30
//! minutes" at 49 %RH and 75 degF (abstract, read).
//! How read: printed; no reading error.
//! Tolerance: none, and one-sided: each usual strand pellet must pass 0.03 % in the 30 minutes, in
//! still air; the row shows by how much it would be late.
//! Errata and doubts: the size of the pellets is not printed, which is why three are followed; the
//! starting moisture is not either, and is taken as nothing.
//! What is compared: a dry pellet lying open on its way after the dryer, as a plan follows it.
//! Not compared: how soon before the 30 minutes, which is not printed.

use super::{is_absent, resin};
use crate::{Kind, Row};
use air::Humidity;
use decide::way::{Traveller, still};
use pellet::Outline;
use pellet::history::{AirState, PelletSpec};
use quantity::constants::STANDARD_ATMOSPHERE;
use quantity::{AbsolutePressure, Duration, MoistureDryBasis, RelativeHumidity, Temperature};

const SOURCE: &str = "Long and Sokol (1974), abstract";
const PRINTED_MINUTES: f64 = 30.0;

/// Minutes until a dry pellet of this outline holds 0.03 % of wet resin.
fn minutes(pellet: &PelletSpec, outline: Outline) -> Option<f64> {
    let room = AirState {
        temperature: Temperature::from_fahrenheit(75.0),
        humidity: Humidity::RelativeHumidity(RelativeHumidity::from_percent(49.0)),
    };
    let spec = PelletSpec {
        outline,
        ..pellet.clone()
    };
    let pressure = AbsolutePressure::from_pascal(STANDARD_ATMOSPHERE);
    let traveller = Traveller::with(spec, pressure).ok()?;
    let dry = traveller.even(room.temperature, MoistureDryBasis::from_ppm(0.0));
    let stretch = still("room", Duration::from_hours(6.0), room);
    let (curve, _) = traveller.through(&dry, vec![stretch], Vec::new()).ok()?;
    let reached = curve.crossing(0.03, |instant| instant.mean.wet_basis().percent())?;
    Some(reached.minutes())
}

/// One row for each usual strand pellet.
pub fn rows() -> Vec<Row> {
    let Some(pellet) = resin("pc").and_then(|pc| PelletSpec::of(&pc).ok()) else {
        return vec![is_absent(SOURCE, "pc")];
    };
    [(2e-3, 2.5e-3), (2.5e-3, 3e-3), (3e-3, 3e-3)]
        .into_iter()
        .map(|(diameter, length)| {
            let outline = Outline::Cylinder { diameter, length };
            let found = minutes(&pellet, outline).unwrap_or(f64::NAN);
            Row {
                source: SOURCE,
                what: format!(
                    "minutes after the 30 printed until a {} x {} mm pellet of PC passes 0.03 % \
                     ({found:.0} min here)",
                    diameter * 1e3,
                    length * 1e3
                ),
                unit: "min",
                expected: 0.0,
                // Not a number stays one.
                computed: if found < PRINTED_MINUTES {
                    0.0
                } else {
                    found - PRINTED_MINUTES
                },
                tolerance: 0.0,
                absolute: true,
                why: "one-sided: within 30 minutes",
                kind: Kind::Published,
                disputed: None,
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn published_long_sokol() {
        crate::check(&super::rows());
    }
}
