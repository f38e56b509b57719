//! From the values of a job file to a job, once nothing in them is wrong.

use crate::bag::{Bag, Entry};
use job::{
    AirSupply, Arrival, Component, Demand, FilmOverride, HeatOverride, HopperOutline, InitialState,
    Job, ModelChoices, Process, Site, Target, WallSide,
};
use material::Resin;
use quantity::{Faults, StatedPressure};

/// The job.
///
/// # Errors
/// A field that is missing although it must be there; the reader has told of it before.
pub(super) fn job(bag: &Bag, resin: Resin, lot: Vec<Component>, file: &str) -> Result<Job, Faults> {
    let table = |name: &str| bag.need(name, Entry::table);
    let demand_table = table("demand")?;
    let site = site(&table("site")?)?;
    let title = bag.get("title", Entry::text);
    Ok(Job {
        title: title.unwrap_or_else(|| file.to_owned()),
        resin,
        lot,
        demand: demand(&demand_table)?,
        arrival: arrival(&table("arrival")?, &site)?,
        target: target(&table("target")?, &demand_table)?,
        crystalliser: super::crystalliser::crystalliser(bag)?,
        hopper: hopper(&table("hopper")?)?,
        air: air(&table("air")?),
        site,
        way: super::way::way(bag)?,
        model: model(&table("model")?)?,
        data_sheet: None,
        plant: super::plant::plant(bag)?,
    })
}

/// How much is drawn.
pub(super) fn demand(bag: &Bag) -> Result<Demand, Faults> {
    demand_of(bag)?.ok_or_else(|| bag.lacks("shots").into())
}

/// How much a table says is drawn, where it says it.
pub(crate) fn demand_of(bag: &Bag) -> Result<Option<Demand>, Faults> {
    if let Some(rate) = bag.get("rate", Entry::quantity) {
        return Ok(Some(Demand::Rate(rate)));
    }
    let Some(shots) = bag.get("shots", Entry::table) else {
        return Ok(None);
    };
    Ok(Some(Demand::Shots {
        shot: shots.need("shot", Entry::quantity)?,
        runner: shots.need("runner", Entry::quantity)?,
        cycle: shots.need("cycle", Entry::quantity)?,
        machines: shots.need("machines", small_count)?,
    }))
}

/// What follows the hopper.
pub(super) fn process(demand: &Bag) -> Option<Process> {
    demand.get("process", Entry::choice).map(|word| match word {
        "extrusion" => Process::Extrusion,
        "fibre" => Process::Fibre,
        _ => Process::Moulding,
    })
}

fn arrival(bag: &Bag, site: &Site) -> Result<Arrival, Faults> {
    let storage = match bag.get("storage", Entry::table) {
        None => None,
        Some(storage) => Some(super::storage::storage(&storage)?),
    };
    let temperature = bag.get("temperature", Entry::quantity);
    Ok(Arrival {
        moisture: bag.get("moisture", Entry::moisture),
        spread: bag.get("spread", Entry::quantity),
        storage,
        bag: super::way::cold_bag(bag)?,
        temperature: temperature.unwrap_or(site.ambient),
        surface_water: bag.need("surface_water", Entry::quantity)?,
    })
}

fn target(bag: &Bag, demand: &Bag) -> Result<Target, Faults> {
    Ok(Target {
        process: process(demand).ok_or_else(|| Faults::from(demand.lacks("process")))?,
        limit: bag.get("limit", Entry::moisture),
        lower_edge: bag.get("lower_edge", Entry::moisture),
        margin: bag.need("margin", Entry::quantity)?,
        outside_window: bag.need("outside_window", Entry::flag)?,
    })
}

fn hopper(bag: &Bag) -> Result<HopperOutline, Faults> {
    let side = bag.need("wall_side", Entry::choice)?;
    Ok(HopperOutline {
        volume: bag.get("volume", Entry::quantity),
        bed_mass: bag.get("bed_mass", Entry::quantity),
        diameter: bag.get("diameter", Entry::quantity),
        cone_angle: bag.get("cone_angle", Entry::quantity),
        fill: bag.need("fill", Entry::quantity)?,
        below_inlet: bag.get("below_inlet", Entry::quantity),
        wall_coefficient: bag.get("wall_coefficient", Entry::quantity),
        insulation: bag.get("insulation", Entry::quantity),
        wall_side: match side {
            "pellets" => WallSide::Pellets,
            _ => WallSide::Air,
        },
        batch: bag.get("batch", Entry::quantity),
        residence_spread: bag.get("residence_spread", Entry::quantity),
    })
}

fn air(bag: &Bag) -> AirSupply {
    AirSupply {
        temperature: bag.get("temperature", Entry::quantity),
        humidity: bag.get("humidity", Entry::humidity),
        flow: bag.get("flow", Entry::air_flow),
        largest_flow: bag.get("largest_flow", Entry::air_flow),
        driest: bag.get("driest", Entry::humidity),
        pressure: bag.get("pressure", Entry::pressure),
    }
}

fn site(bag: &Bag) -> Result<Site, Faults> {
    Ok(Site {
        altitude: bag.get("altitude", Entry::quantity),
        pressure: bag
            .get("pressure", Entry::quantity)
            .map(StatedPressure::Absolute),
        ambient: bag.need("ambient", Entry::quantity)?,
        humidity: bag.get("humidity", Entry::humidity),
    })
}

fn model(bag: &Bag) -> Result<ModelChoices, Faults> {
    let flag = |name: &str| bag.need(name, Entry::flag);
    let film = bag.need("film", Entry::table)?;
    let heat = bag.need("heat", Entry::table)?;
    let initial = bag.need("initial", Entry::table)?;
    Ok(ModelChoices {
        residence_spread: flag("residence_spread")?,
        size_spread: flag("size_spread")?,
        batches: flag("batches")?,
        cone: flag("cone")?,
        heat_gradient: flag("heat_gradient")?,
        film: FilmOverride {
            heat: film.get("heat", Entry::quantity),
            vapour: film.get("vapour", Entry::quantity),
        },
        heat: HeatOverride {
            dry_air: heat.get("dry_air", Entry::quantity),
            vapour: heat.get("vapour", Entry::quantity),
            water: heat.get("water", Entry::quantity),
            evaporation: heat.get("evaporation", Entry::quantity),
        },
        initial: InitialState {
            temperature: initial.get("temperature", Entry::quantity),
            moisture: initial.get("moisture", Entry::moisture),
        },
        duration: bag.get("duration", Entry::quantity),
        parcels: bag.get("parcels", small_count),
        fineness: bag.get("fineness", small_count),
        samples: bag.need("samples", small_count)?,
        seed: bag.need("seed", small_count)?,
    })
}

/// A whole number as the ranges of these fields hold it.
pub(super) fn small_count(entry: &Entry) -> Option<u32> {
    entry.count().and_then(|count| u32::try_from(count).ok())
}
