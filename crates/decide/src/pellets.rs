//! One kind of pellet in numbers: its laws, outline and inside, and the water it comes with.

use crate::DecideError;
use crate::case::{COARSE_MODES, COARSE_NODES};
use air::caloric::{DRY_AIR_HEAT, EVAPORATION, VAPOUR_HEAT, WATER_HEAT};
use job::Job;
use material::{Behaviour, Diffusivity, Isotherm, Resin};
use pellet::Outline;
use pellet::contact::Calorics;
use pellet::film::Skin;
use pellet::interior::Interior;
use pellet::nodal::NodalGrid;
use quantity::{MoistureDryBasis, Quantity, Temperature};

/// Modes or nodes where they are not given.
const USUAL_MODES: usize = 8;
const USUAL_NODES: usize = 7;
const SECTION_NODES: usize = 5;
/// One kind of pellet, or of flake, as it is fed.
#[derive(Clone, Debug)]
pub struct Pellets {
    /// The resin.
    pub resin: Resin,
    /// Outline of the mean piece.
    pub outline: Outline,
    /// Inside of the mean piece.
    pub interior: Interior,
    /// The same with fewer nodes, for searches.
    pub coarse_interior: Interior,
    /// Skin of the mean piece.
    pub skin: Skin,
    /// Sorption law.
    pub isotherm: Isotherm,
    /// Diffusion law.
    pub diffusivity: Diffusivity,
    /// Heat capacities.
    pub calorics: Calorics,
    /// Moisture of the feed, kg/kg dry.
    pub feed_moisture: f64,
    /// Free water on the feed, kg/kg dry.
    pub feed_free_water: f64,
    /// Spread of size, relative.
    pub size_spread: f64,
    /// Spread of the arriving moisture, relative.
    pub arrival_spread: f64,
    /// Bulk density of the dry resin, kg/m3.
    pub bulk_density: f64,
    /// Density of the dry resin, kg/m3.
    pub density: f64,
    /// Modes or nodes in a piece.
    pub fineness: usize,
}

impl Pellets {
    /// All water with which they are fed, kg/kg dry.
    pub fn fed_water(&self) -> f64 {
        self.feed_moisture + self.feed_free_water
    }

    /// Temperature at which they fuse as they enter, K.
    pub fn sticking(&self) -> f64 {
        let moisture = MoistureDryBasis::from_si(self.feed_moisture);
        self.resin.sticking_at(moisture).si()
    }
}

/// Outline of the pellets of a record.
///
/// # Errors
/// When the pellets cannot be.
pub(crate) fn outline_of(resin: &Resin) -> Result<Outline, DecideError> {
    let form = &resin.pellet;
    Ok(Outline::from_sizes(
        form.shape.value,
        form.diameter.value,
        form.length.as_ref().map(|length| length.value),
    )?)
}

/// Pellets of a resin in a job, of an outline and with the water they come with.
///
/// # Errors
/// When the pellets cannot be.
pub(crate) fn pellets(
    job: &Job,
    resin: &Resin,
    outline: Outline,
    feed_moisture: f64,
    feed_free_water: f64,
    arrival_spread: f64,
) -> Result<Pellets, DecideError> {
    let (isotherm, diffusivity) = (resin.isotherm.law, resin.diffusivity.law);
    // What a resin that only carries water cannot hold inside sits on its surface.
    let held = if resin.behaviour == Behaviour::SurfaceWaterOnly {
        feed_moisture.min(isotherm.moisture(job.arrival.temperature.si(), 1.0))
    } else {
        feed_moisture
    };
    let feed_free_water = feed_free_water + feed_moisture - held;
    let feed_moisture = held;
    let (usual, coarse) = if !diffusivity.depends_on_moisture() {
        (USUAL_MODES, COARSE_MODES)
    } else if NodalGrid::wants_section(&outline) {
        // Nodes each way: as many as a line has would take ten times as long.
        (SECTION_NODES, COARSE_NODES)
    } else {
        (USUAL_NODES, COARSE_NODES)
    };
    let fineness = job.model.fineness.map_or(usual, |count| count as usize);
    let conductivity = job
        .model
        .heat_gradient
        .then_some(resin.thermal_conductivity.value);
    Ok(Pellets {
        interior: Interior::of(&outline, &isotherm, &diffusivity, fineness)?,
        coarse_interior: Interior::reduced(
            &outline,
            &isotherm,
            &diffusivity,
            fineness.min(coarse),
        )?,
        skin: Skin::of(&outline, resin.density.value, conductivity)?,
        outline,
        isotherm,
        diffusivity,
        calorics: calorics(job, resin),
        feed_moisture,
        feed_free_water,
        size_spread: size_spread(job, resin),
        arrival_spread,
        bulk_density: resin.bulk_density.value.si(),
        density: resin.density.value.si(),
        fineness,
        resin: resin.clone(),
    })
}

fn calorics(job: &Job, resin: &Resin) -> Calorics {
    let heat = &job.model.heat;
    Calorics {
        resin: resin.heat_capacity_at(Temperature::from_celsius(0.0)).si(),
        resin_slope: resin.heat_capacity_slope.value.si(),
        dry_air: heat.dry_air.map_or(DRY_AIR_HEAT, Quantity::si),
        vapour: heat.vapour.map_or(VAPOUR_HEAT, Quantity::si),
        water: heat.water.map_or(WATER_HEAT, Quantity::si),
        evaporation: heat.evaporation.map_or(EVAPORATION, Quantity::si),
        sorption: resin.sorption_heat.as_ref().map(|heat| heat.value.si()),
    }
}

fn size_spread(job: &Job, resin: &Resin) -> f64 {
    if !job.model.size_spread {
        return 0.0;
    }
    let diameter = &resin.pellet.diameter;
    (diameter.shifted(1.0).si() / diameter.value.si() - 1.0).abs()
}
