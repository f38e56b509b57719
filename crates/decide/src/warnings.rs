//! What the reader must know beyond the numbers.

use crate::answer::Warning;
use crate::case::{Case, celsius};
use material::{Behaviour, Caution};
use quantity::{MoistureDryBasis, Quantity};

/// Approach to fluidisation above which a bed stirs at its top (common practice, no source).
const LIVELY: f64 = 0.7;
/// Share of the wall in the heat of the air above which the wall decides.
const WALL_DECIDES: f64 = 0.3;

/// What a solved case shows that may call for a warning.
pub(crate) struct Signs {
    /// Velocity over that which lifts the bed.
    pub(crate) fluidisation: f64,
    /// Share of the air's heat that goes through the wall.
    pub(crate) wall_share: f64,
    /// Moisture in equilibrium with the air, kg/kg dry.
    pub(crate) floor: f64,
    /// Relative change of the outlet over the last residence.
    pub(crate) unrest: f64,
}

/// Change over a residence above which a bed is called restless.
const RESTLESS: f64 = 1e-3;

/// Warnings of a case.
pub(crate) fn of(case: &Case, signs: &Signs) -> Vec<Warning> {
    let mut warnings = Vec::new();
    // What is refused has no settings to warn of.
    let refused = case.crystallise_first();
    if refused {
        crystallise(case, &mut warnings);
    } else {
        temperature(case, &mut warnings);
        first_to_fuse(case, &mut warnings);
    }
    together(case, &mut warnings);
    if !refused {
        bed(case, signs, &mut warnings);
    }
    record(case, &mut warnings);
    warnings
}

fn warn(warnings: &mut Vec<Warning>, text: String, mend: &str) {
    warnings.push(Warning {
        text,
        mend: mend.to_owned(),
    });
}

/// What fuses before it has crystallised.
fn crystallise(case: &Case, warnings: &mut Vec<Warning>) {
    for (_, pellets) in case.kinds() {
        if pellets.resin.crystallise_first {
            warn(
                warnings,
                format!(
                    "{} fuses in a static hopper before it has crystallised",
                    pellets.resin.name
                ),
                "crystallise it with agitation first, or buy it crystallised",
            );
        }
    }
}

/// Fusing, and the customary window.
fn temperature(case: &Case, warnings: &mut Vec<Warning>) {
    let resin = &case.lead.resin;
    if case.air_temperature > case.hottest() {
        warn(
            warnings,
            format!(
                "air at {:.0} degC reaches the sticking temperature of the wet pellets, {:.0} degC",
                celsius(case.air_temperature),
                celsius(case.sticking())
            ),
            "dry cooler until the pellets are drier, or agitate",
        );
    } else if case.air_temperature > case.hottest() - 8.0 {
        warn(
            warnings,
            format!(
                "air at {:.0} degC is within {:.0} K of the sticking temperature, {:.0} degC",
                celsius(case.air_temperature),
                case.sticking() - case.air_temperature,
                celsius(case.sticking())
            ),
            "limit the air temperature independently and watch the throat for lumps",
        );
    }
    let (low, high) = (
        resin.drying.temperature_low.value.si(),
        resin.drying.temperature_high.value.si(),
    );
    if case.air_temperature < low - 0.5 || case.air_temperature > high + 0.5 {
        warn(
            warnings,
            format!(
                "air at {:.0} degC is outside the {} of {:.0} to {:.0} degC",
                celsius(case.air_temperature),
                window_words(&resin.drying.temperature_high.source),
                celsius(low),
                celsius(high)
            ),
            "ask the resin maker's data sheet before setting it",
        );
    }
}

/// Whose window it is.
fn window_words(source: &str) -> &'static str {
    match source {
        "data-sheet" => "window of the data sheet",
        _ => "customary window",
    }
}

/// The component of a lot that fuses first.
fn first_to_fuse(case: &Case, warnings: &mut Vec<Warning>) {
    let own = case
        .lead
        .resin
        .sticking_at(MoistureDryBasis::from_si(case.lead.feed_moisture))
        .si();
    let first = case.beside.iter().find(|kind| {
        let pellets = &kind.pellets;
        let moisture = MoistureDryBasis::from_si(pellets.feed_moisture);
        let sticks: f64 = pellets.resin.sticking_at(moisture).si();
        sticks < own && sticks <= case.sticking()
    });
    let wanted = case.lead.resin.drying.temperature.value.si();
    if let Some(kind) = first.filter(|_| case.hottest() - 3.0 < wanted) {
        warn(
            warnings,
            format!(
                "{} ({}) fuses at {:.0} degC, before {} does: it sets how hot the whole lot may be \
                 dried",
                kind.name,
                kind.pellets.resin.name,
                celsius(case.sticking()),
                case.lead.resin.name
            ),
            "dose it dried at the throat, and dry the rest at its own temperature",
        );
    }
}

/// Components of a lot that must not meet.
fn together(case: &Case, warnings: &mut Vec<Warning>) {
    let releases = |caution: Caution| {
        let beside = case.beside.iter().map(|kind| &kind.pellets.resin);
        std::iter::once(&case.lead.resin)
            .chain(beside)
            .find(|resin| resin.cautions.contains(&caution))
            .map(|resin| resin.name.clone())
    };
    if let (Some(acetal), Some(vinyl)) = (
        releases(Caution::Formaldehyde),
        releases(Caution::HydrogenChloride),
    ) {
        warn(
            warnings,
            format!(
                "{acetal} and {vinyl} in one dryer: the hydrogen chloride of the one decomposes the \
                 other to formaldehyde"
            ),
            "never let them share a hopper, a loader or a regrind bin",
        );
    }
}

/// Air and bed.
fn bed(case: &Case, signs: &Signs, warnings: &mut Vec<Warning>) {
    let Signs {
        fluidisation,
        wall_share,
        floor,
        unrest,
    } = *signs;
    // Where what joins undried leaves nothing of the limit, the air is not what is wrong.
    if floor > case.limit && !case.nothing_left() {
        warn(
            warnings,
            "the air itself is too humid: in equilibrium with it the resin stays above the limit"
                .to_owned(),
            "deliver drier air, or hotter air of the same dew point",
        );
    }
    if unrest > RESTLESS {
        warn(
            warnings,
            format!(
                "the bed does not settle: water condenses in its cold top and is carried back down, \
                 and the outlet still moves by {:.1} % per residence",
                unrest * 100.0
            ),
            "give more air, warm the resin before it is fed, or keep the bed short",
        );
    }
    if fluidisation > LIVELY {
        warn(
            warnings,
            format!(
                "the air velocity is {:.0} % of that which lifts the bed",
                fluidisation * 100.0
            ),
            "use a wider hopper or less air",
        );
    }
    if wall_share > WALL_DECIDES {
        warn(
            warnings,
            format!(
                "{:.0} % of the heat of the air goes through the wall",
                wall_share * 100.0
            ),
            "insulate the hopper; at this rate that decides the temperature of the bed",
        );
    }
}

/// What the record or the user's numbers imply.
fn record(case: &Case, warnings: &mut Vec<Warning>) {
    let resin = &case.lead.resin;
    let voidage = 1.0 - case.bulk_density / case.density;
    if !(voidage > 0.25 && voidage < 0.75) {
        warn(
            warnings,
            format!(
                "bulk density and density imply a bed that is {:.0} % void",
                voidage * 100.0
            ),
            "weigh a filled litre of the pellets",
        );
    }
    if let Some(stated) = case.lead.calorics.sorption {
        let middle = 0.5 * case.lead.feed_moisture;
        let condensation = case.lead.calorics.evaporation
            + (case.lead.calorics.vapour - case.lead.calorics.water)
                * celsius(case.air_temperature);
        let implied = condensation + case.lead.isotherm.excess_heat(case.air_temperature, middle);
        if (stated / implied - 1.0).abs() > 0.1 {
            warn(
                warnings,
                format!(
                    "the stated heat of sorption, {:.0} kJ/kg, and that of the isotherm, {:.0} kJ/kg, \
                     disagree",
                    stated / 1e3,
                    implied / 1e3
                ),
                "leave the stated one out, or correct the isotherm's change with temperature",
            );
        }
    }
    if resin.behaviour == Behaviour::SurfaceWaterOnly {
        warn(
            warnings,
            format!(
                "{} takes up no water inside: what is dried is water on its surface",
                resin.name
            ),
            "warm cold bags to the temperature of the hall before opening them",
        );
    }
}
