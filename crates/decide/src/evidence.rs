//! Where the numbers of a plan came from.

use crate::answer::Provenance;
use material::{Evidence, Resin, Spread};

/// The evidence of every number of a resin that a plan uses.
pub(crate) fn of(resin: &Resin) -> Vec<Provenance> {
    let mut rows = vec![
        row("pellet diameter", &resin.pellet.diameter),
        row("density", &resin.density),
        row("bulk density", &resin.bulk_density),
        row("heat capacity", &resin.heat_capacity),
        row("heat capacity slope", &resin.heat_capacity_slope),
        row("thermal conductivity", &resin.thermal_conductivity),
        row("sticking temperature", &resin.sticking),
        row("customary temperature", &resin.drying.temperature),
        row("customary time", &resin.drying.time),
        row("longest stay", &resin.drying.hold),
        row("limit for moulding", &resin.limit.moulding),
        row("moisture as received, opened", &resin.received.opened),
    ];
    let optional = [
        resin
            .pellet
            .length
            .as_ref()
            .map(|value| row("pellet length", value)),
        resin
            .glass_transition
            .as_ref()
            .map(|value| row("glass transition", value)),
        resin
            .glass_transition_drop
            .as_ref()
            .map(|value| row("fall of the glass transition", value)),
        resin
            .sorption_heat
            .as_ref()
            .map(|value| row("heat of sorption", value)),
        resin
            .limit
            .extrusion
            .as_ref()
            .map(|value| row("limit for extrusion", value)),
        resin
            .limit
            .fibre
            .as_ref()
            .map(|value| row("limit for fibre", value)),
        resin
            .drying
            .hold_energy
            .as_ref()
            .map(|value| row("longest stay, activation energy", value)),
        resin
            .filler
            .as_ref()
            .map(|filler| row("filler, share by mass", &filler.share)),
        resin
            .limit
            .lower_edge
            .as_ref()
            .map(|value| row("lower edge", value)),
    ];
    rows.extend(optional.into_iter().flatten());
    for (name, value) in &resin.isotherm.values {
        rows.push(row(&format!("isotherm, {}", name.replace('_', " ")), value));
    }
    for (name, value) in &resin.diffusivity.values {
        rows.push(row(
            &format!("diffusivity, {}", name.replace('_', " ")),
            value,
        ));
    }
    let harm = &resin.degradation;
    let hydrolysis = harm.hydrolysis.iter().flat_map(|law| &law.values);
    for (name, value) in hydrolysis {
        rows.push(row(
            &format!("hydrolysis, {}", name.replace('_', " ")),
            value,
        ));
    }
    let oxidation = harm.oxidation.iter().flat_map(|law| &law.values);
    for (name, value) in oxidation {
        rows.push(row(
            &format!("oxidation, {}", name.replace('_', " ")),
            value,
        ));
    }
    rows
}

fn row<T>(what: &str, evidence: &Evidence<T>) -> Provenance {
    Provenance {
        what: what.to_owned(),
        written: evidence.written.clone(),
        source: evidence.source.clone(),
        place: evidence.place.clone(),
        grade: evidence.grade.word(),
        spread: match evidence.spread {
            Spread::Absolute(sigma) => format!("± {sigma:.3e} (SI)"),
            Spread::Factor(factor) => format!("x/÷ {factor}"),
            Spread::Exact => "taken as exact".to_owned(),
        },
    }
}
