//! From a job as it was said to a case in numbers.

use crate::case::{Case, Choice};
use crate::lot::{self, Companion, Parts};
use crate::pellets::{Pellets, outline_of};
use crate::storage::Stored;
use crate::{DecideError, bag, humidity};
use bed::hopper::insulated_wall;
use job::{Job, WallSide};
use quantity::constants::STANDARD_ATMOSPHERE;
use quantity::{
    AbsolutePressure, AirFlow, Altitude, Humidity, HumidityRatio, Quantity, Temperature,
};

/// What was given; what is absent was chosen here or is left to the plan.
#[derive(Clone, Debug, Default)]
pub struct Given {
    /// What the plan chooses.
    pub chosen: Vec<Choice>,
    /// Largest air flow, kg/s dry.
    pub largest_flow: Option<f64>,
    /// Driest air, humidity ratio.
    pub driest: Option<f64>,
    /// What a cold bag comes to.
    pub bag: Option<bag::ColdBagFound>,
    /// What a store made of the resin.
    pub stored: Option<Stored>,
}

impl Given {
    /// Whether the user gave a thing.
    pub fn has(&self, thing: Choice) -> bool {
        !self.chosen.contains(&thing)
    }
}

/// Least bed, kg.
const LEAST_BED: f64 = 1e-3;
/// Dry resin below the air inlet where it is not given: a twentieth of the bed (common practice,
/// no source).
const BELOW_INLET_SHARE: f64 = 0.05;
/// Spread of residence in a cone of 60 degrees where it is not given (common practice, no source:
/// 10 to 20 %); three times as much for a flat bottom.
const RESIDENCE_SPREAD: f64 = 0.1;
/// Insulation where no wall is given, m (common practice, no source).
const USUAL_INSULATION: f64 = 0.05;
/// Parcels where they are not given.
const USUAL_PARCELS: usize = 80;

/// The pressures of a job, Pa.
struct Pressures {
    site: AbsolutePressure,
    hopper: AbsolutePressure,
}

/// The air of a job as far as it is given.
struct Air {
    temperature: f64,
    humidity: f64,
    flow: Option<f64>,
    largest: Option<f64>,
    driest: Option<f64>,
}

/// The hopper of a job, masses of dry resin.
struct Stand {
    bed_mass: f64,
    below_inlet: f64,
    cone: Option<f64>,
    wall_coefficient: f64,
}

/// Resolves a job into a case, and says what was given.
///
/// # Errors
/// When the air, the pellet or the hopper of the job cannot be.
pub fn resolve(job: &Job) -> Result<(Case, Given), DecideError> {
    let pressures = pressures(job)?;
    let outline = outline_of(&job.resin)?;
    let fed = bag::fed(job, &outline, pressures.site)?;
    let Parts {
        lead: (name, lead),
        beside,
        undried,
        drawn,
        wet,
    } = lot::parts(job, &fed)?;
    let rate = job.demand.peak().si() / drawn;
    let air = air(job, &pressures)?;
    let bulk_density = mixed(&lead, &beside, |pellets| pellets.bulk_density);
    let density = mixed(&lead, &beside, |pellets| pellets.density);
    let stand = stand(job, rate, wet, bulk_density);
    let screw_limit = limit(job);
    let resin = &job.resin;
    let lower_edge = job
        .target
        .lower_edge
        .map(|edge| edge.dry_basis().si())
        .or_else(|| resin.limit.lower_edge.as_ref().map(|edge| edge.value.si()));
    let given = Given {
        chosen: choices(job),
        largest_flow: air.largest,
        driest: air.driest,
        bag: fed.bag,
        stored: fed.stored,
    };
    let mut case = Case {
        lead,
        lead_name: name,
        film: (
            job.model.film.heat.map(Quantity::si),
            job.model.film.vapour.map(Quantity::si),
        ),
        pressure: pressures.hopper.si(),
        rate,
        feed_temperature: fed.temperature,
        ambient: job.site.ambient.si(),
        screw_limit,
        // What is dried cannot make up for what leaves nothing of the limit; it is held against that
        // of the resin then.
        limit: if lot::leaves_nothing(screw_limit, &undried) {
            screw_limit
        } else {
            lot::before_the_throat(screw_limit, &undried)
        },
        // What joins wet may lift the blend above the edge by itself.
        lower_edge: lower_edge
            .map(|edge| lot::before_the_throat(edge, &undried))
            .filter(|edge| *edge > 1e-8),
        drawn,
        air_temperature: air.temperature,
        air_humidity: air.humidity,
        air_flow: 0.0,
        bed_mass: stand.bed_mass,
        below_inlet: stand.below_inlet,
        diameter: job.hopper.diameter.map(Quantity::si),
        cone_angle: stand.cone,
        fill: job.hopper.fill.si(),
        bulk_density,
        density,
        wall_coefficient: stand.wall_coefficient,
        wall_on_pellets: job.hopper.wall_side == WallSide::Pellets,
        batch: job
            .hopper
            .batch
            .filter(|_| job.model.batches)
            .map(|mass| mass.si() / wet),
        residence_spread: residence_spread(job, stand.cone.is_some()),
        parcels: job
            .model
            .parcels
            .map_or(USUAL_PARCELS, |count| count as usize),
        beside,
        undried,
        ahead: None,
    };
    case.air_flow = match air.flow {
        Some(flow) => flow,
        None => case.usual_air_flow(given.largest_flow)?,
    };
    Ok((case, given))
}

fn choices(job: &Job) -> Vec<Choice> {
    let open = [
        (Choice::Temperature, job.air.temperature.is_none()),
        (Choice::FrostPoint, job.air.humidity.is_none()),
        (
            Choice::Hopper,
            job.hopper.volume.is_none() && job.hopper.bed_mass.is_none(),
        ),
        (Choice::AirFlow, job.air.flow.is_none()),
    ];
    open.into_iter()
        .filter(|(_, open)| *open)
        .map(|(choice, _)| choice)
        .collect()
}

fn pressures(job: &Job) -> Result<Pressures, DecideError> {
    let site = match (job.site.pressure, job.site.altitude) {
        (Some(stated), _) => stated.absolute(AbsolutePressure::from_si(STANDARD_ATMOSPHERE)),
        (None, altitude) => air::standard_pressure(altitude.unwrap_or(Altitude::from_metres(0.0)))
            .map_err(|cause| DecideError::Air {
                place: "the site",
                cause,
            })?,
    };
    let hopper = job
        .air
        .pressure
        .map_or(site, |stated| stated.absolute(site));
    Ok(Pressures { site, hopper })
}

/// Pressure of the site of a job.
///
/// # Errors
/// When it is at no height that is known.
pub(crate) fn site_pressure(job: &Job) -> Result<AbsolutePressure, DecideError> {
    Ok(pressures(job)?.site)
}

fn air(job: &Job, pressures: &Pressures) -> Result<Air, DecideError> {
    let drying = &job.resin.drying;
    let temperature = job.air.temperature.unwrap_or(drying.temperature.value);
    let humid = |stated: Humidity| {
        humidity::ratio(
            stated,
            temperature,
            pressures.hopper,
            pressures.site,
            "the inlet",
        )
        .map(Quantity::si)
    };
    let driest = job.air.driest.map(humid).transpose()?;
    let humidity = match job.air.humidity {
        Some(stated) => humid(stated)?,
        None => match driest {
            Some(driest) => driest,
            None => humid(Humidity::Frost(drying.frost_point.value, None))?,
        },
    };
    let dry = |flow: AirFlow| {
        flow.dry_air(pressures.site, HumidityRatio::from_si(humidity))
            .si()
    };
    Ok(Air {
        temperature: Temperature::si(temperature),
        humidity,
        flow: job.air.flow.map(dry),
        largest: job.air.largest_flow.map(dry),
        driest,
    })
}

/// Masses, cone and wall; `wet` is wet resin per dry resin.
fn stand(job: &Job, rate: f64, wet: f64, bulk_density: f64) -> Stand {
    let resin = &job.resin;
    let below = job.hopper.below_inlet.map(|mass| mass.si() / wet);
    let beside = |bed: f64| (bed, below.unwrap_or(BELOW_INLET_SHARE * bed));
    let (bed_mass, below_inlet) = match (job.hopper.bed_mass, job.hopper.volume) {
        (Some(mass), _) => beside(mass.si()),
        (None, Some(volume)) => {
            let all = volume.si() * job.hopper.fill.si() * bulk_density;
            let below = below.unwrap_or(all * BELOW_INLET_SHARE / (1.0 + BELOW_INLET_SHARE));
            (LEAST_BED.max(all - below), below)
        }
        (None, None) => beside(rate * resin.drying.time.value.si()),
    };
    Stand {
        bed_mass,
        below_inlet,
        cone: job
            .hopper
            .cone_angle
            .filter(|_| job.model.cone)
            .map(Quantity::si),
        wall_coefficient: job.hopper.wall_coefficient.map_or_else(
            || insulated_wall(job.hopper.insulation.map_or(USUAL_INSULATION, Quantity::si)),
            Quantity::si,
        ),
    }
}

fn limit(job: &Job) -> f64 {
    let of_record = job.target.process.limit_of(&job.resin.limit).value;
    let limit = job
        .target
        .limit
        .map_or(of_record, quantity::Moisture::dry_basis);
    limit.si()
}

fn residence_spread(job: &Job, cone: bool) -> f64 {
    if !job.model.residence_spread {
        return 0.0;
    }
    let usual = if cone {
        RESIDENCE_SPREAD
    } else {
        3.0 * RESIDENCE_SPREAD
    };
    job.hopper.residence_spread.map_or(usual, Quantity::si)
}

/// A density of the mixture, kg/m3: each kind takes the room it takes alone.
fn mixed(lead: &Pellets, beside: &[Companion], density: impl Fn(&Pellets) -> f64) -> f64 {
    let others: f64 = beside.iter().map(|kind| kind.share).sum();
    let kinds = beside
        .iter()
        .map(|kind| kind.share / density(&kind.pellets));
    1.0 / ((1.0 - others) / density(lead) + kinds.sum::<f64>())
}
