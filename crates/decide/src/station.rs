//! The hopper of a case as a station of a line.

use crate::DecideError;
use crate::case::Case;
use bed::hopper::Hopper;
use dryer::Resistance;
use dryer::heater::Heater;
use line::{Feed, Station, Way};

/// The station.
///
/// # Errors
/// From hopper, pellet or air.
pub(crate) fn of(case: &Case, heater: Heater) -> Result<Station, DecideError> {
    let (column, hopper) = case.column()?;
    Ok(Station {
        name: case.lead.resin.name.clone(),
        column,
        feed: Feed {
            rate: case.rate,
            temperature: case.feed_temperature,
            moisture: case.lead.feed_moisture,
            free_water: case.lead.feed_free_water,
        },
        air_flow: case.air_flow,
        set_point: case.air_temperature,
        heater,
        resistance: resistance(case, &hopper),
        way: Way::default(),
    })
}

/// Ergun's law over the whole bed is one term with viscosity and one with density; two flows tell them
/// apart.
fn resistance(case: &Case, hopper: &Hopper) -> Resistance {
    let share = air::mixture::mole_fraction(case.air_humidity);
    let (t, p) = (case.air_temperature, case.pressure);
    let density = air::mixture::dry_air_density(t, p, share);
    let viscosity = air::transport::viscosity(t, p, share);
    let drop = |flow: f64| {
        let (size, pellet) = (case.sauter_diameter(), case.density);
        hopper
            .flow_through(flow, density, viscosity, size, pellet)
            .pressure_drop
    };
    let (whole, half) = (case.air_flow, 0.5 * case.air_flow);
    let (at_whole, at_half) = (drop(whole), drop(half));
    let volume = whole / density;
    let square = 2.0 * at_whole - 4.0 * at_half;
    let straight = at_whole - square;
    Resistance {
        laminar: (straight / (viscosity * volume)).max(0.0),
        quadratic: (square / (density * volume * volume)).max(0.0),
    }
}
