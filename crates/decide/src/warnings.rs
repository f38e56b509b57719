//! What the reader must know beyond the numbers.

use crate::DecideError;
use crate::answer::{CrystalliserFound, Warning};
use crate::case::{Case, STICKING_GUARD, celsius};
use crate::lot::Companion;
use crate::plan::ppm_wet;
use crate::stand::MARGIN_SHARE;
use crate::{humidity, outlet, search};
use bed::steady::Place;
use material::{Behaviour, Caution};
use quantity::Quantity;

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
    /// Air leaving the hopper, K.
    pub(crate) return_temperature: f64,
    /// Air flow over that which heats this resin and its wall.
    pub(crate) air_over_usual: f64,
    /// What leaves after the customary stay, kg/kg dry, where this one is short of it.
    pub(crate) at_customary_stay: Option<f64>,
    /// Residence that limit and margin need, s.
    pub(crate) needed: f64,
    /// Share of the stay in which the mean pellet is still near the temperature it is fed at.
    pub(crate) cold_share: f64,
}

/// Part of the way from the feed to the air up to which pellets count as near the temperature they are
/// fed at (common practice, no source).
const NEAR: f64 = 0.25;

/// Share of the height of a bed in which the mean pellet is still near the temperature it is fed at.
pub(crate) fn cold_share(case: &Case, path: &[Place]) -> f64 {
    let warm = case.feed_temperature + NEAR * (case.air_temperature - case.feed_temperature);
    let end = path.last().map_or(0.0, |place| place.age);
    let near = path.iter().filter(|place| place.temperature < warm);
    near.map(|place| place.age).fold(0.0, f64::max) / end.max(f64::MIN_POSITIVE)
}

/// Share of the customary stay below which one is called short.
pub(crate) const SHORT: f64 = 0.75;
/// Return air above which desiccant takes up little, K (65 degC, common practice).
const HOT_RETURN: f64 = 338.15;
/// Air over the usual from which it is called much (common practice, no source).
const MUCH_AIR: f64 = 1.5;

/// What leaves a case after the customary stay, kg/kg dry; none where it stays about as long, or
/// where so long a stay would not be borne with room to spare.
///
/// # Errors
/// From the bed.
pub(crate) fn at_customary_stay(case: &Case) -> Result<Option<f64>, DecideError> {
    let usual: f64 = case.lead.resin.drying.time.value.si();
    if case.residence() >= SHORT * usual
        || usual > MARGIN_SHARE * case.hold()
        || case.lead.resin.behaviour == Behaviour::SurfaceWaterOnly
    {
        return Ok(None);
    }
    let longer = case.with_bed_mass(case.rate * usual);
    Ok(Some(case.at_screw(outlet::mean(&longer)?)))
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
        practice(case, signs, &mut warnings);
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

/// A crystalliser ahead of the hopper, or why it does not do.
pub(crate) fn behind(found: &CrystalliserFound) -> Warning {
    match &found.not_enough {
        None => Warning {
            text: found.words(),
            mend: "measure the moisture and press a hot handful together behind the crystalliser; keep from hot \
                   walls, lamps and pellets, and lead its exhaust out"
                .to_owned(),
        },
        Some(why) => Warning {
            text: format!("the crystalliser stated does not crystallise enough: {why}"),
            mend: "crystallise hotter or longer, as the maker of the resin says".to_owned(),
        },
    }
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
                "air at {:.0} degC is within {:.0} K of the sticking temperature{}, {:.0} degC",
                celsius(case.air_temperature),
                case.sticking() - case.air_temperature,
                of_whom(case),
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

/// Whose sticking temperature it is, where something else than the lead fuses first.
fn of_whom(case: &Case) -> String {
    let (name, pellets) = case.fuses_first();
    if name == case.lead_name {
        return String::new();
    }
    format!(" of {name} ({})", pellets.resin.name)
}

/// Whose window it is.
fn window_words(source: &str) -> &'static str {
    match source {
        "data-sheet" => "window of the data sheet",
        _ => "customary window",
    }
}

/// The components of a lot that fuse before its lead.
fn first_to_fuse(case: &Case, warnings: &mut Vec<Warning>) {
    let own = case.lead.sticking();
    let wanted = case.lead.resin.drying.temperature.value.si();
    // What would keep the air below what the lead wants, each by itself.
    let fuse: Vec<&Companion> = case
        .beside
        .iter()
        .filter(|kind| {
            let sticks = kind.pellets.sticking();
            sticks < own && sticks - STICKING_GUARD - 3.0 < wanted
        })
        .collect();
    if let [first, ..] = fuse.as_slice() {
        let names: Vec<String> = fuse
            .iter()
            .map(|kind| format!("{} ({})", kind.name, kind.pellets.resin.name))
            .collect();
        let one = fuse.len() == 1 || fuse.iter().all(|kind| kind.name == first.name);
        warn(
            warnings,
            format!(
                "{} {} from {:.0} degC, before {} does: {} how hot the whole lot may be dried",
                names.join(" and "),
                if one { "fuses" } else { "fuse" },
                celsius(case.sticking()),
                case.lead.resin.name,
                if one { "it sets" } else { "they set" },
            ),
            if one {
                "dose it dried at the throat, and dry the rest at its own temperature"
            } else {
                "dose them all dried at the throat, and dry the rest at its own temperature; as long \
                 as one of them stays in the hopper, its temperature holds"
            },
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
        ..
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

/// Where a plan leaves what the trade does.
fn practice(case: &Case, signs: &Signs, warnings: &mut Vec<Warning>) {
    let drying = &case.lead.resin.drying;
    if let Some(moisture) = signs.at_customary_stay {
        let usual = drying.time.value.hours();
        warn(
            warnings,
            format!(
                "the stay of {:.1} h is short of the {usual:.1} h that practice takes at {:.0} degC",
                case.residence() / 3600.0,
                celsius(drying.temperature.value.si())
            ),
            &format!(
                "a hopper for {usual:.1} h costs no quality, since {:.0} h are borne, covers what the \
                 record does not know, and brings {:.0} ppm to the screw",
                case.hold() / 3600.0,
                ppm_wet(moisture)
            ),
        );
    }
    if case.lead.resin.behaviour == Behaviour::SurfaceWaterOnly {
        surface_water(case, signs, warnings);
    } else if signs.needed > SLOW * drying.time.value.si() && !case.nothing_left() {
        far_slower(case, signs, warnings);
    }
    let dried = case.air_humidity < humidity::at_frost_point(0.0, case.pressure);
    if dried && signs.return_temperature > HOT_RETURN {
        warn(
            warnings,
            format!(
                "the return air leaves the hopper at {:.0} degC, and desiccant wants {:.0} degC or less",
                celsius(signs.return_temperature),
                celsius(HOT_RETURN)
            ),
            "put an aftercooler into the return, where a desiccant dries the air",
        );
    }
    if signs.air_over_usual > MUCH_AIR {
        warn(
            warnings,
            format!(
                "the air is {:.1} times what heats this resin and its wall",
                signs.air_over_usual
            ),
            "throttle it if the dryer allows: the rest heats the return and buys no dryness",
        );
    }
}

/// Needed over customary stay above which a record counts as far slower than practice (common
/// practice, no source).
pub(crate) const SLOW: f64 = 2.0;
/// Share of the height above which a bed counts as cold.
const MOSTLY: f64 = 0.5;

/// What practice knows of water on the surface, and the computed film does not.
fn surface_water(case: &Case, signs: &Signs, warnings: &mut Vec<Warning>) {
    let drying = &case.lead.resin.drying;
    let usual: f64 = drying.time.value.si();
    if case.residence() < SHORT * usual {
        warn(
            warnings,
            format!(
                "the stay of {:.0} min is short of the {:.1} h that practice takes at {:.0} degC",
                case.residence() / 60.0,
                usual / 3600.0,
                celsius(drying.temperature.value.si())
            ),
            "a hopper for that time costs no quality, and covers drops, wet clumps and cold pellets, \
             which the even film that is computed does not know",
        );
    }
    if signs.cold_share > MOSTLY {
        warn(
            warnings,
            format!(
                "over the upper {:.0} % of its height the bed stays near the {:.0} degC at which it is \
                 fed",
                100.0 * signs.cold_share,
                celsius(case.feed_temperature)
            ),
            "pellets are warm just before they leave, if at all; for a warm bed give more air, in a wider \
             hopper where it would lift the bed, or a lower rate",
        );
    }
}

/// A record that asks for far more time than practice takes, and what in the lot to change for it.
fn far_slower(case: &Case, signs: &Signs, warnings: &mut Vec<Warning>) {
    let drying = &case.lead.resin.drying;
    let needed = if signs.needed >= search::LONGEST * (1.0 - 1e-3) {
        "more than two days".to_owned()
    } else {
        format!("{:.0} h", signs.needed / 3600.0)
    };
    let apart: Vec<&str> = case
        .beside
        .iter()
        .filter(|kind| kind.pellets.resin.key == case.lead.resin.key)
        .map(|kind| kind.name.as_str())
        .collect();
    let mut mend = "measure the moisture of one sample after the customary time before buying a \
                    hopper for it"
        .to_owned();
    if !apart.is_empty() {
        let names = apart.join(" and ");
        mend = format!("{mend}; screen out or dry apart what is of another size: {names}");
    }
    warn(
        warnings,
        format!(
            "limit and margin need {needed} by the record where practice takes {:.1} h at {:.0} degC, so \
             the record is far slower than practice",
            drying.time.value.hours(),
            celsius(drying.temperature.value.si())
        ),
        &mend,
    );
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
