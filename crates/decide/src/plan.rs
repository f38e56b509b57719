//! The plan: what to set for a resin and a rate, what comes out, what limits it, how sure that is.
//!
//! Where hopper and air are given they are judged as they are. What is left open is chosen: the
//! customary temperature of the record, as far as the wet pellets bear it; air with the usual ratio
//! of heat capacities and the wall's loss on top; and the residence at which the mean over pellets
//! and streams of the wettest usual lot meets the limit, with one margin, the larger of the user's
//! and that for the doubt of the diffusivity.

use crate::DecideError;
use crate::ahead::{self, ahead, crystallised};
use crate::answer::{
    Coefficients, CrystalliserFound, DewPointRow, EnergyUse, Front, Limit, LimitShare,
    OutletMoisture, Plan, Ranged, RateWindow, Settings, SettingsMap, Start, TimePart, Transient,
};
use crate::case::{Case, Choice, celsius};
use crate::doubt::{Draw, Drawing};
use crate::outlet::{self, Outlet};
use crate::resolve::{Given, resolve};
use crate::safe;
use crate::stand::{self, HOLD_SHARE, MARGIN_SHARE};
use crate::way::WayFound;
use crate::{
    bag, data_sheet, doubt, energy, evidence, harm, humidity, lot, maps, search, start, warnings,
    way,
};
use job::Job;
use quantity::constants::{DRY_AIR_MOLAR_MASS, MOLAR_GAS, STANDARD_ATMOSPHERE};
use quantity::{MoistureDryBasis, Quantity};
use rayon::prelude::*;
use std::borrow::Cow;
use uncertainty::Interval;

/// Standard deviations to the wettest usual lot and to the unlucky diffusivity.
const WETTEST_LOT: f64 = 2.0;
const UNLUCKY: f64 = 1.645;
/// What the margin is called among the parts of the time.
const MARGIN: &str = "margin";

/// Shortest residence recommended, s: a level that rises and falls leaves no less (common practice,
/// no source).
const LEAST_STAY: f64 = 900.0;

/// Plans a job.
///
/// # Errors
/// When the air, the pellet or the hopper of the job cannot be; a plan that cannot be met is an
/// answer.
pub fn plan(job: &Job) -> Result<Plan, DecideError> {
    let Settled {
        job,
        case,
        given,
        aim,
        time_parts,
        crystalliser,
    } = settle(job)?;
    let job = job.as_ref();
    let out = Outlet::of(&case)?;
    let way = way::of(job, &case, &out.steady, out.mean)?;
    let screw = way.as_ref().and_then(WayFound::at_screw);
    let at_screw = screw.as_ref().map_or(out.mean, |screw| screw.mean_kg_kg);
    let drawing = Drawing {
        count: job.model.samples,
        seed: job.model.seed,
        ratio: out.ratio(),
        added: at_screw - out.mean,
    };
    let draws = doubt::samples(&case, &given, drawing);
    let outlet = outlet_moisture(&case, &out, at_screw, &draws);
    let blend = stand::blend_range(&case, at_screw, &draws);
    let lot = lot::shown(job, &case, &out, at_screw, (blend, &draws));
    let verdict = stand::verdict(&case, at_screw, doubt::within(&case, &draws));
    let needed: f64 = time_parts.iter().map(|part| part.hours * 3600.0).sum();
    let short_stay = stand::short_stay(&case, &given, verdict, needed, drawing)?;
    let limits = limits(&case, &out)?;
    let hopper = case.hopper()?;
    let flow = case.flow_through(&hopper);
    let energy = energy::energy(&case, &out.steady, flow.pressure_drop);
    let signs = signs(&case, &out, flow.fluidisation, (&energy, needed))?;
    let nearest_safe = if verdict.is_met() {
        None
    } else {
        safe::nearest(&safe::Ask {
            case: &case.with_limit(aim.limit),
            given: &given,
            verdict,
            job,
            needed,
            drawing,
        })?
    };
    let asked = ask(&case, &aim, &out, job, (&given, drawing))?;
    let (transient, front) = asked.transient;
    let mut warnings = warnings::of(&case, &signs);
    warnings.splice(0..0, crystalliser.iter().map(warnings::behind));
    warnings.extend(given.bag.iter().flat_map(bag::warnings));
    warnings.extend(
        way.iter()
            .filter(|_| !verdict.is_refused())
            .flat_map(|way| way::warnings::of(way, ppm_wet(case.limit))),
    );
    Ok(Plan {
        title: job.title.clone(),
        resin: case.lead.resin.name.clone(),
        rate_kg_h: case.wet_rate() * 3600.0,
        verdict,
        settings: settings(&case)?,
        nearest_safe: nearest_safe.map(|(settings, _)| settings),
        nearest_safe_outlet: nearest_safe.map(|(_, outlet)| outlet),
        short_stay,
        bears_least: case.bears_least().map(str::to_owned),
        chosen: given.chosen.iter().map(|choice| choice.words()).collect(),
        limits,
        time_parts,
        surely_dry_h: asked.surely_dry.map(|seconds| seconds / 3600.0),
        customary_time_h: case.lead.resin.drying.time.value.hours(),
        customary_temperature_c: case.lead.resin.drying.temperature.value.celsius(),
        needed_frost_point_c: asked.needed_frost_point_c,
        dew_point_rows: asked.dew_point_rows,
        crystalliser,
        rate_window: asked.rate_window,
        start: asked.start,
        map: asked.map,
        return_temperature_c: celsius(out.steady.return_temperature),
        water_imbalance: out.steady.water_imbalance,
        energy_imbalance: out.steady.energy_imbalance,
        transient,
        front,
        coefficients: coefficients(&case)?,
        warnings,
        cautions: case.lead.resin.cautions.clone(),
        over_drying: case.lead.resin.over_drying.clone(),
        stored: given.stored.clone(),
        bag: given.bag,
        way,
        evidence: evidence::of(&case.lead.resin),
        harm: harm::of(&case, &out.steady.lead.path),
        data_sheet: data_sheet::beside(&case, &given, job)?,
        lot,
        samples: draws.len(),
        seed: job.model.seed,
        path: out.steady.lead.path,
        outlet,
        energy,
    })
}

/// What a solved case shows that may call for a warning; `needed` is the residence of limit and margin, s.
fn signs(
    case: &Case,
    out: &Outlet,
    fluidisation: f64,
    (energy, needed): (&EnergyUse, f64),
) -> Result<warnings::Signs, DecideError> {
    Ok(warnings::Signs {
        fluidisation,
        wall_share: energy.wall_kwh_kg / energy.from_hall_kwh_kg.max(f64::MIN_POSITIVE),
        floor: case.floor(),
        unrest: out.steady.unrest,
        return_temperature: out.steady.return_temperature,
        air_over_usual: case.air_flow / case.usual_air_flow(None)?,
        at_customary_stay: warnings::at_customary_stay(case)?,
        needed,
        cold_share: warnings::cold_share(case, &out.steady.lead.path),
    })
}

/// A case in which everything that was left open is chosen.
struct Settled<'a> {
    /// With its resin as it leaves a crystalliser.
    job: Cow<'a, Job>,
    case: Case,
    given: Given,
    /// The case with the limit that the outlet has to meet.
    aim: Case,
    time_parts: Vec<TimePart>,
    crystalliser: Option<CrystalliserFound>,
}

/// Chooses what a job left open.
fn settle(job: &Job) -> Result<Settled<'_>, DecideError> {
    let (job, stated) = crystallised(job);
    let (mut case, given) = resolve(&job)?;
    if !given.has(Choice::Temperature) {
        case.air_temperature = case.air_temperature.min(case.hottest() - 3.0);
    }
    let mut crystalliser = None;
    if let Some(stated) = &stated {
        let behind = ahead(&case, stated, &ahead::hall(&case))?;
        case = behind.case;
        crystalliser = Some(behind.found);
    }
    let aim = way::aim(&job, &case)?;
    let time_parts = time_parts(&aim, &job)?;
    if !given.has(Choice::Hopper) {
        let wanted: f64 = time_parts.iter().map(|part| part.hours * 3600.0).sum();
        let stay = wanted.min(longest(&case, &time_parts));
        case = case.with_bed_mass(case.rate * stay);
    }
    if !given.has(Choice::AirFlow) {
        case.air_flow = case.usual_air_flow(given.largest_flow)?;
    }
    Ok(Settled {
        job,
        case,
        given,
        aim,
        time_parts,
        crystalliser,
    })
}

/// The case of a job with everything that was left open chosen as a plan does, and what was given.
///
/// # Errors
/// As [`plan`].
pub(crate) fn settled(job: &Job) -> Result<(Case, Given), DecideError> {
    let settled = settle(job)?;
    Ok((settled.case, settled.given))
}

/// Longest stay recommended, s. Doubt is no reason to bring pellets to the brink of harm: the margin
/// goes to half of what they bear, the rest as far as it must.
fn longest(case: &Case, parts: &[TimePart]) -> f64 {
    let bare = parts.iter().filter(|part| part.name != MARGIN);
    let bare: f64 = bare.map(|part| part.hours * 3600.0).sum();
    let hold = case.hold();
    if bare >= search::LONGEST * (1.0 - 1e-6) {
        // No stay does: what is judged is that of the trade.
        let usual: f64 = case.lead.resin.drying.time.value.si();
        return usual.min(HOLD_SHARE * hold);
    }
    (MARGIN_SHARE * hold).max(bare).min(HOLD_SHARE * hold)
}

/// What limits the drying, the temperature that the pellets bear among it.
fn limits(case: &Case, out: &Outlet) -> Result<Vec<LimitShare>, DecideError> {
    let mut limits = search::limits(case)?;
    if case.air_temperature >= case.hottest() - 3.5
        && case.air_temperature < case.lead.resin.drying.temperature.value.si() - 0.5
    {
        let warmer = case.with_air_temperature(case.lead.resin.drying.temperature.value.si());
        let share = 1.0 - outlet::mean(&warmer)? / out.mean;
        limits.push(LimitShare {
            limit: Limit::Sticking,
            share: share.max(0.0),
        });
        limits.sort_by(|a, b| b.share.total_cmp(&a.share));
    }
    Ok(limits)
}

/// What a plan asks of a settled case.
struct Asked {
    start: Start,
    transient: (Transient, Front),
    rate_window: RateWindow,
    /// s.
    surely_dry: Option<f64>,
    map: SettingsMap,
    needed_frost_point_c: f64,
    dew_point_rows: Vec<DewPointRow>,
}

/// Asks the questions that do not wait for one another, side by side.
fn ask(
    case: &Case,
    aim: &Case,
    out: &Outlet,
    job: &Job,
    (given, drawing): (&Given, Drawing),
) -> Result<Asked, DecideError> {
    let aimed = case.with_limit(aim.limit);
    let ((start, transient), ((rate_window, surely_dry), (map, (needed, rows)))) = rayon::join(
        || {
            rayon::join(
                || start::start(case, job),
                || start::transient(case, job, &out.steady),
            )
        },
        || {
            rayon::join(
                || {
                    rayon::join(
                        || search::rate_window(&aimed, given, drawing),
                        || search::sure_residence(case, given, drawing),
                    )
                },
                || {
                    rayon::join(
                        || maps::settings_map(case),
                        || (maps::needed_frost_point(case), maps::dew_points(case)),
                    )
                },
            )
        },
    );
    Ok(Asked {
        start: start?,
        transient: transient?,
        rate_window: rate_window?,
        surely_dry: surely_dry?,
        map: map?,
        needed_frost_point_c: needed?,
        dew_point_rows: rows?,
    })
}

/// Moisture in ppm wet basis.
pub(crate) fn ppm_wet(dry_basis: f64) -> f64 {
    MoistureDryBasis::from_si(dry_basis.max(0.0))
        .wet_basis()
        .ppm()
}

/// What the residence is made of, each effect switched on after the one before.
///
/// # Errors
/// From a crystalliser ahead of the hopper.
pub(crate) fn time_parts(case: &Case, job: &Job) -> Result<Vec<TimePart>, DecideError> {
    let pellet = case.pellet_alone();
    // Of a lot first the pellets that lead it, then what travels beside them.
    let lead = Case {
        beside: Vec::new(),
        ..pellet.clone()
    };
    let bed = Case {
        residence_spread: 0.0,
        wall_coefficient: 0.0,
        ..case.of_one_size()
    };
    let walled = Case {
        wall_coefficient: case.wall_coefficient,
        ..bed.clone()
    };
    let streams = case.of_one_size();
    let lot = case.arriving_wetter(WETTEST_LOT)?;
    let unlucky = doubt::with_diffusivity(&lot, -UNLUCKY)?;
    let mut effects = vec![("diffusion in the mean pellet", &lead)];
    if !case.beside.is_empty() {
        effects.push(("what travels beside it", &pellet));
    }
    effects.extend([
        ("heating the bed", &bed),
        ("heat lost through the wall", &walled),
        ("fast streams", &streams),
        ("big pellets", case),
        ("wettest lot", &lot),
        (MARGIN, &unlucky),
    ]);
    let hours = |(_, case): &(&str, &Case)| search::residence_or_longest(case) / 3600.0;
    let mut times: Vec<f64> = effects.par_iter().map(hours).collect();
    let by_doubt = times.pop().unwrap_or(0.0);
    let wettest = times.last().copied().unwrap_or(0.0);
    let margin = (job.target.margin.si() * wettest).max(by_doubt - wettest);
    let names = effects.iter().map(|(name, _)| *name);
    let mut parts: Vec<TimePart> = names
        .zip(steps(times))
        .map(|(name, hours)| TimePart { name, hours })
        .collect();
    parts.push(TimePart {
        name: MARGIN,
        hours: margin.max(0.0),
    });
    let all: f64 = parts.iter().map(|part| part.hours).sum();
    if 3600.0 * all < LEAST_STAY {
        parts.push(TimePart {
            name: "least that a level leaves",
            hours: LEAST_STAY / 3600.0 - all,
        });
    }
    Ok(parts)
}

/// From one time to the next, none below zero, all of them together the last time: where an effect
/// shortens the time (by the coarseness of a search, or because a spread of sizes dries faster than
/// their mean), what stands before it gives way.
fn steps(mut times: Vec<f64>) -> Vec<f64> {
    for index in (1..times.len()).rev() {
        times[index - 1] = times[index - 1].min(times[index]);
    }
    let mut before = 0.0;
    for time in &mut times {
        let step = *time - before;
        before = *time;
        *time = step;
    }
    times
}

fn outlet_moisture(case: &Case, out: &Outlet, at_screw: f64, draws: &[Draw]) -> OutletMoisture {
    let leaving: Vec<f64> = draws.iter().map(|draw| draw.leaving).collect();
    let interval = Interval::of(&leaving, 0.9);
    let met = || f64::from(u8::from(case.at_screw(at_screw) <= case.screw_limit));
    let last = out.steady.lead.path.last();
    OutletMoisture {
        mean_ppm_wet: Ranged {
            value: ppm_wet(out.mean),
            low: ppm_wet(interval.map_or(out.mean, |found| found.low)),
            high: ppm_wet(interval.map_or(out.mean, |found| found.high)),
        },
        surface_ppm_wet: ppm_wet(last.map_or(0.0, |place| place.surface)),
        heart_ppm_wet: ppm_wet(last.map_or(0.0, |place| place.heart)),
        limit_ppm_wet: ppm_wet(case.limit),
        lower_edge_ppm_wet: case.lower_edge.map(ppm_wet),
        wettest_percent_ppm_wet: ppm_wet(out.share_below(0.99)),
        driest_percent_ppm_wet: ppm_wet(out.share_below(0.01)),
        share_above_limit: out.share_above(case.limit),
        probability_within: doubt::within(case, draws).unwrap_or_else(met),
        floor_ppm_wet: ppm_wet(case.floor()),
        arriving_ppm_wet: ppm_wet(case.fed_water()),
    }
}

/// The settings of a case in the units people use.
pub(crate) fn settings(case: &Case) -> Result<Settings, DecideError> {
    let hopper = case.hopper()?;
    let molar_volume = MOLAR_GAS * 293.15 / STANDARD_ATMOSPHERE;
    Ok(Settings {
        air_temperature_c: celsius(case.air_temperature),
        residence_h: case.residence() / 3600.0,
        air_flow_kg_h: case.air_flow * 3600.0,
        air_flow_m3_h_at_20_c: case.air_flow * 3600.0 * molar_volume / DRY_AIR_MOLAR_MASS,
        air_per_resin_kg_kg: case.air_flow / case.wet_rate(),
        frost_point_c: humidity::frost_point_c(
            case.air_humidity,
            case.air_temperature,
            case.pressure,
        ),
        humidity_g_kg: case.air_humidity * 1e3,
        bed_mass_kg: case.bed_mass,
        below_inlet_kg: case.below_inlet,
        hopper_volume_l: case.hopper_volume() * 1e3,
        fill: case.fill,
        diameter_mm: hopper.diameter * 1e3,
        bed_height_mm: hopper.height * 1e3,
    })
}

fn coefficients(case: &Case) -> Result<Coefficients, DecideError> {
    let (column, hopper) = case.column()?;
    let film = case.film(&hopper)?;
    let exchange = column.contact.exchange;
    let c = &case.lead.calorics;
    let t = case.air_temperature;
    let slowest = pellet::equivalent::slowest(&case.lead.outline)?;
    let air_capacity = case.air_flow * (c.dry_air + case.air_humidity * c.vapour);
    let condensation = c.evaporation + (c.vapour - c.water) * celsius(t);
    let middle = 0.5 * case.lead.feed_moisture;
    Ok(Coefficients {
        heat_transfer_w_m2_k: exchange.heat / case.lead.skin.area,
        mass_transfer_m_s: case.film.1.unwrap_or(film.vapour.si()),
        interfacial_area_m2_m3: case.lead.skin.area * case.bulk_density,
        surface_m2_kg: case.lead.skin.area,
        diffusivity_at_inlet_m2_s: case.lead.diffusivity.at(t, 0.0),
        capacity_at_inlet_kg_kg: case.lead.isotherm.moisture(t, 1.0),
        sorption_heat_kj_kg: c
            .sorption
            .unwrap_or_else(|| condensation + case.lead.isotherm.excess_heat(t, middle))
            / 1e3,
        heat_transfer_units: exchange.heat * case.bed_mass / air_capacity,
        capacity_ratio: air_capacity
            / (case.rate * c.resin_capacity(t, case.lead.feed_moisture, 0.0)),
        slowest_decay_1_m2: slowest.rate,
        sauter_diameter_mm: case.sauter_diameter() * 1e3,
        wall_w_m2_k: case.wall_coefficient,
        wall_m2: hopper.wall_area,
        pressure_kpa: case.pressure / 1e3,
        dry_rate_kg_h: case.rate * 3600.0,
        resin_heat_j_kg_k: c.resin,
        resin_heat_slope_j_kg_k2: c.resin_slope,
        air_heat_j_kg_k: c.dry_air,
        vapour_heat_j_kg_k: c.vapour,
        water_heat_j_kg_k: c.water,
        evaporation_j_kg: c.evaporation,
        flow: case.flow_through(&hopper),
        parcels: case.parcels,
        fineness: case.lead.fineness,
    })
}

#[cfg(test)]
mod tests {
    use super::steps;

    #[test]
    fn exact_parts_of_the_time_are_not_negative_and_sum_to_it() {
        assert_eq!(steps(vec![1.0, 2.0, 4.0]), [1.0, 1.0, 2.0]);
        assert_eq!(steps(vec![1.0, 4.0, 3.5, 5.0]), [1.0, 2.5, 0.0, 1.5]);
        assert_eq!(steps(vec![3.0, 2.0, 1.0]), [1.0, 0.0, 0.0]);
    }
}
