//! Heat, air and electricity for each kilogram of wet resin.

use crate::answer::EnergyUse;
use crate::case::Case;
use bed::steady::Steady;

/// Efficiency of a blower, electricity to air (common practice, no source).
const BLOWER_EFFICIENCY: f64 = 0.5;
/// Joules in a kWh.
const KWH: f64 = 3.6e6;

/// Where the heat of a case goes.
pub(crate) fn energy(case: &Case, steady: &Steady, pressure_drop: f64) -> EnergyUse {
    let c = &case.lead.calorics;
    let per_kg = per_kg(case);
    let (inlet, hall) = (
        c.air_enthalpy(case.air_temperature, case.air_humidity),
        c.air_enthalpy(case.ambient, case.air_humidity),
    );
    let from_hall = case.air_flow * (inlet - hall);
    let sensible_return = air_capacity(case) * (steady.return_temperature - case.ambient);
    let share = air::mixture::mole_fraction(case.air_humidity);
    let volume =
        case.air_flow / air::mixture::dry_air_density(case.air_temperature, case.pressure, share);
    EnergyUse {
        resin_kwh_kg: (from_hall - steady.wall_heat - sensible_return) * per_kg,
        wall_kwh_kg: steady.wall_heat * per_kg,
        return_air_kwh_kg: sensible_return * per_kg,
        from_hall_kwh_kg: from_hall * per_kg,
        closed_loop_kwh_kg: closed_loop(case, steady.return_temperature),
        blower_kwh_kg: pressure_drop * volume / BLOWER_EFFICIENCY * per_kg,
    }
}

/// Heat that brings the air back from `return_temperature` (K) to the inlet, kWh per kg of wet
/// resin: the least a closed loop needs.
pub(crate) fn closed_loop(case: &Case, return_temperature: f64) -> f64 {
    air_capacity(case) * (case.air_temperature - return_temperature) * per_kg(case)
}

/// Heat capacity flow of the air with its vapour, W/K.
fn air_capacity(case: &Case) -> f64 {
    let c = &case.lead.calorics;
    case.air_flow * (c.dry_air + case.air_humidity * c.vapour)
}

/// From W to kWh per kg of wet resin.
fn per_kg(case: &Case) -> f64 {
    1.0 / (case.wet_rate() * KWH)
}
