//! A job resolved into numbers: everything the physics uses, each either stated or chosen here.

use crate::DecideError;
use crate::humidity;
use bed::column::{Column, Drive, Feeding};
use bed::hopper::{FlowThrough, Hopper, HopperSpec, insulated_wall};
use job::{Job, Process, WallSide};
use material::{Diffusivity, Isotherm, Resin};
use pellet::Outline;
use pellet::contact::{Calorics, Contact};
use pellet::film::{BedFilm, Film, Skin, VELOCITY_HOLDS, in_bed};
use pellet::interior::Interior;
use quantity::constants::{STANDARD_ATMOSPHERE, ZERO_CELSIUS};
use quantity::{
    AbsolutePressure, Altitude, HeatTransferCoefficient, Humidity, HumidityRatio,
    MassTransferCoefficient, Quantity, Temperature, Velocity,
};

/// A job in numbers, SI. Copies of it with a number changed are the variants that a plan asks.
#[derive(Clone, Debug)]
pub struct Case {
    /// The resin.
    pub resin: Resin,
    /// Outline of the mean pellet.
    pub outline: Outline,
    /// Inside of the mean pellet.
    pub interior: Interior,
    /// The same with fewer nodes, for searches.
    pub coarse_interior: Interior,
    /// Skin of the mean pellet.
    pub skin: Skin,
    /// Sorption law.
    pub isotherm: Isotherm,
    /// Diffusion law.
    pub diffusivity: Diffusivity,
    /// Heat capacities.
    pub calorics: Calorics,
    /// Film stated for heat and vapour, where it is.
    pub film: (Option<f64>, Option<f64>),
    /// Pressure in the hopper, Pa.
    pub pressure: f64,
    /// Dry resin drawn, kg/s.
    pub rate: f64,
    /// Temperature of the feed, K.
    pub feed_temperature: f64,
    /// Moisture of the feed, kg/kg dry.
    pub feed_moisture: f64,
    /// Free water on the feed, kg/kg dry.
    pub feed_free_water: f64,
    /// Temperature around the hopper, K.
    pub ambient: f64,
    /// Limit, kg/kg dry.
    pub limit: f64,
    /// Lower edge, kg/kg dry.
    pub lower_edge: Option<f64>,
    /// Air temperature at the inlet, K.
    pub air_temperature: f64,
    /// Humidity ratio of the air.
    pub air_humidity: f64,
    /// Dry air, kg/s.
    pub air_flow: f64,
    /// Dry resin between inlet and level, kg.
    pub bed_mass: f64,
    /// Dry resin below the inlet, kg.
    pub below_inlet: f64,
    /// Inner diameter, m, where it is given.
    pub diameter: Option<f64>,
    /// Cone angle, rad.
    pub cone_angle: Option<f64>,
    /// Level as a share of the volume.
    pub fill: f64,
    /// Bulk density of the dry resin, kg/m3.
    pub bulk_density: f64,
    /// Density of the dry resin, kg/m3.
    pub density: f64,
    /// Heat transfer coefficient of the wall, W/(m2 K).
    pub wall_coefficient: f64,
    /// Whether the pellets lose the wall's heat.
    pub wall_on_pellets: bool,
    /// Loader batch, kg dry.
    pub batch: Option<f64>,
    /// Spread of residence between streams, relative.
    pub residence_spread: f64,
    /// Spread of pellet size, relative.
    pub size_spread: f64,
    /// Spread of the arriving moisture, relative.
    pub arrival_spread: f64,
    /// Parcels in the bed.
    pub parcels: usize,
    /// Modes or nodes in a pellet.
    pub fineness: usize,
}

/// What was given and what was left to choose.
#[derive(Clone, Debug, Default)]
pub struct Given {
    /// Bed mass or hopper volume.
    pub hopper: bool,
    /// Air temperature.
    pub temperature: bool,
    /// Humidity of the air.
    pub humidity: bool,
    /// Air flow.
    pub flow: bool,
    /// Largest air flow, kg/s dry.
    pub largest_flow: Option<f64>,
    /// Driest air, humidity ratio.
    pub driest: Option<f64>,
}

/// Dry resin below the air inlet where it is not given: a twentieth of the bed (common practice,
/// no source).
const BELOW_INLET_SHARE: f64 = 0.05;
/// Spread of residence in a cone of 60 degrees where it is not given (common practice, no source:
/// 10 to 20 %); three times as much for a flat bottom.
const RESIDENCE_SPREAD: f64 = 0.1;
/// Insulation where no wall is given, m (common practice, no source).
const USUAL_INSULATION: f64 = 0.05;
/// Heat capacity of dry air and of vapour, J/(kg K), and heat of evaporation at 0 degC, J/kg:
/// ASHRAE Handbook, Fundamentals (2009), chapter 1, enthalpy of moist air.
const DRY_AIR_HEAT: f64 = 1006.0;
const VAPOUR_HEAT: f64 = 1860.0;
const EVAPORATION: f64 = 2.501e6;
/// Heat capacity of liquid water at 20 degC, J/(kg K); from memory of steam tables.
const WATER_HEAT: f64 = 4186.0;
/// Capacity ratio of air to resin that is chosen where no flow is given: the trade's air per resin
/// for most resins comes to 1.3 to 2 (common practice, no source).
const USUAL_CAPACITY_RATIO: f64 = 1.6;
/// Parcels, and modes or nodes, while searching: the mean is within a percent of a fine bed.
const COARSE_PARCELS: usize = 40;
const COARSE_FINENESS: usize = 6;
/// Parcels and fineness where they are not given.
const USUAL_PARCELS: usize = 80;
const USUAL_MODES: usize = 8;
const USUAL_NODES: usize = 9;

impl Case {
    /// Resolves a job.
    ///
    /// # Errors
    /// When the air, the pellet or the hopper of the job cannot be.
    pub fn of(job: &Job) -> Result<(Self, Given), DecideError> {
        let resin = job.resin.clone();
        let site = match (job.site.pressure, job.site.altitude) {
            (Some(stated), _) => stated.absolute(AbsolutePressure::from_si(STANDARD_ATMOSPHERE)),
            (None, altitude) => air::standard_pressure(
                altitude.unwrap_or(Altitude::from_metres(0.0)),
            )
            .map_err(|cause| DecideError::Air {
                place: "the site",
                cause,
            })?,
        };
        let pressure = job
            .air
            .pressure
            .map_or(site, |stated| stated.absolute(site));
        let outline = Outline::from_sizes(
            resin.pellet.shape.value,
            resin.pellet.diameter.value,
            resin.pellet.length.as_ref().map(|length| length.value),
        )?;
        let isotherm = resin.isotherm.law;
        let diffusivity = resin.diffusivity.law;
        let usual = if diffusivity.depends_on_moisture() {
            USUAL_NODES
        } else {
            USUAL_MODES
        };
        let fineness = job.model.fineness.map_or(usual, |count| count as usize);
        let interior = Interior::of(&outline, &isotherm, &diffusivity, fineness)?;
        let coarse_interior = Interior::of(
            &outline,
            &isotherm,
            &diffusivity,
            fineness.min(COARSE_FINENESS),
        )?;
        let conductivity = job
            .model
            .heat_gradient
            .then_some(resin.thermal_conductivity.value);
        let skin = Skin::of(&outline, resin.density.value, conductivity)?;
        let heat = &job.model.heat;
        let calorics = Calorics {
            resin: resin.heat_capacity_at(Temperature::from_celsius(0.0)).si(),
            resin_slope: resin.heat_capacity_slope.value.si(),
            dry_air: heat.dry_air.map_or(DRY_AIR_HEAT, Quantity::si),
            vapour: heat.vapour.map_or(VAPOUR_HEAT, Quantity::si),
            water: heat.water.map_or(WATER_HEAT, Quantity::si),
            evaporation: heat.evaporation.map_or(EVAPORATION, Quantity::si),
            sorption: resin.sorption_heat.as_ref().map(|heat| heat.value.si()),
        };
        let feed_moisture = crate::arrival::moisture(job, &outline)?;
        let feed_free_water = job.arrival.surface_water.si();
        let wet = 1.0 + feed_moisture + feed_free_water;
        let rate = job.demand.peak().si() / wet;
        let limit = job.target.limit.map_or_else(
            || match (job.target.process, &resin.limit.extrusion) {
                (Process::Extrusion, Some(limit)) => limit.value.si(),
                _ => resin.limit.moulding.value.si(),
            },
            |limit| limit.dry_basis().si(),
        );
        let lower_edge = job
            .target
            .lower_edge
            .map(|edge| edge.dry_basis().si())
            .or_else(|| resin.limit.lower_edge.as_ref().map(|edge| edge.value.si()));
        let air_temperature = job
            .air
            .temperature
            .map_or(resin.drying.temperature.value.si(), Quantity::si);
        let humid = |stated: Humidity| {
            humidity::ratio(
                stated,
                Temperature::from_si(air_temperature),
                pressure,
                site,
                "the inlet",
            )
        };
        let driest = job.air.driest.map(humid).transpose()?.map(Quantity::si);
        let practice = humid(Humidity::Frost(resin.drying.frost_point.value, None))?.si();
        let air_humidity = job
            .air
            .humidity
            .map(humid)
            .transpose()?
            .map_or_else(|| driest.unwrap_or(practice), Quantity::si);
        let dry = |flow: quantity::AirFlow| {
            flow.dry_air(site, HumidityRatio::from_si(air_humidity))
                .si()
        };
        let bulk_density = resin.bulk_density.value.si();
        let fill = job.hopper.fill.si();
        let given = Given {
            hopper: job.hopper.volume.is_some() || job.hopper.bed_mass.is_some(),
            temperature: job.air.temperature.is_some(),
            humidity: job.air.humidity.is_some(),
            flow: job.air.flow.is_some(),
            largest_flow: job.air.largest_flow.map(dry),
            driest,
        };
        let below_stated = job.hopper.below_inlet.map(|mass| mass.si() / wet);
        let (bed_mass, below_inlet) = match (job.hopper.bed_mass, job.hopper.volume) {
            (Some(mass), _) => {
                let bed = mass.si();
                (bed, below_stated.unwrap_or(BELOW_INLET_SHARE * bed))
            }
            (None, Some(volume)) => {
                let all = volume.si() * fill * bulk_density;
                let below =
                    below_stated.unwrap_or(all * BELOW_INLET_SHARE / (1.0 + BELOW_INLET_SHARE));
                ((all - below).max(1e-3), below)
            }
            (None, None) => {
                let bed = rate * resin.drying.time.value.si();
                (bed, below_stated.unwrap_or(BELOW_INLET_SHARE * bed))
            }
        };
        let cone = job.model.cone.then_some(job.hopper.cone_angle).flatten();
        let residence_spread = if job.model.residence_spread {
            job.hopper.residence_spread.map_or_else(
                || {
                    if cone.is_some() {
                        RESIDENCE_SPREAD
                    } else {
                        3.0 * RESIDENCE_SPREAD
                    }
                },
                Quantity::si,
            )
        } else {
            0.0
        };
        let size_spread = if job.model.size_spread {
            let diameter = &resin.pellet.diameter;
            (diameter.shifted(1.0).si() / diameter.value.si() - 1.0).abs()
        } else {
            0.0
        };
        let mut case = Self {
            outline,
            interior,
            coarse_interior,
            skin,
            isotherm,
            diffusivity,
            calorics,
            film: (
                job.model.film.heat.map(Quantity::si),
                job.model.film.vapour.map(Quantity::si),
            ),
            pressure: pressure.si(),
            rate,
            feed_temperature: job.arrival.temperature.si(),
            feed_moisture,
            feed_free_water,
            ambient: job.site.ambient.si(),
            limit,
            lower_edge,
            air_temperature,
            air_humidity,
            air_flow: 0.0,
            bed_mass,
            below_inlet,
            diameter: job.hopper.diameter.map(Quantity::si),
            cone_angle: cone.map(Quantity::si),
            fill,
            bulk_density,
            density: resin.density.value.si(),
            wall_coefficient: job.hopper.wall_coefficient.map_or_else(
                || insulated_wall(job.hopper.insulation.map_or(USUAL_INSULATION, Quantity::si)),
                Quantity::si,
            ),
            wall_on_pellets: job.hopper.wall_side == WallSide::Pellets,
            batch: if job.model.batches {
                job.hopper.batch.map(|mass| mass.si() / wet)
            } else {
                None
            },
            residence_spread,
            size_spread,
            arrival_spread: job.arrival.spread.map_or(0.0, Quantity::si),
            parcels: job
                .model
                .parcels
                .map_or(USUAL_PARCELS, |count| count as usize),
            fineness,
            resin,
        };
        case.air_flow = match job.air.flow {
            Some(flow) => dry(flow),
            None => case.usual_air_flow(given.largest_flow)?,
        };
        Ok((case, given))
    }

    /// Air flow where none is given: the usual ratio of heat capacities, and the wall's loss on top,
    /// up to the largest flow and to half of what would lift the bed.
    ///
    /// # Errors
    /// From the hopper.
    pub fn usual_air_flow(&self, largest: Option<f64>) -> Result<f64, DecideError> {
        let hopper = self.hopper()?;
        let resin = self.rate
            * self
                .calorics
                .resin_capacity(self.air_temperature, self.feed_moisture, 0.0);
        let wanted =
            (USUAL_CAPACITY_RATIO * resin + 2.0 * hopper.wall.total()) / self.calorics.dry_air;
        let lifting = Self {
            air_flow: wanted,
            ..self.clone()
        }
        .flow_through(&hopper)
        .fluidisation;
        let calm = if lifting > 0.5 {
            wanted * 0.5 / lifting
        } else {
            wanted
        };
        Ok(largest.map_or(calm, |most| calm.min(most)))
    }

    /// The hopper.
    ///
    /// # Errors
    /// From its numbers.
    pub fn hopper(&self) -> Result<Hopper, DecideError> {
        Ok(HopperSpec {
            bed_mass: self.bed_mass,
            below_inlet: self.below_inlet,
            bulk_density: self.bulk_density,
            diameter: self.diameter,
            cone_angle: self.cone_angle,
            wall_coefficient: self.wall_coefficient,
        }
        .check()?)
    }

    /// What is imposed on the column.
    pub fn drive(&self) -> Drive {
        Drive {
            rate: self.rate,
            air_flow: self.air_flow,
            air_temperature: self.air_temperature,
            air_humidity: self.air_humidity,
            feed_temperature: self.feed_temperature,
            feed_moisture: self.feed_moisture,
            feed_free_water: self.feed_free_water,
            ambient: self.ambient,
        }
    }

    /// The column of this case with its hopper.
    ///
    /// # Errors
    /// From hopper, pellet or air.
    pub fn column(&self) -> Result<(Column, Hopper), DecideError> {
        let hopper = self.hopper()?;
        let film = self.film(&hopper)?;
        let heat = self
            .film
            .0
            .map_or(film.heat, HeatTransferCoefficient::from_si);
        let vapour = self
            .film
            .1
            .map_or(film.vapour, MassTransferCoefficient::from_si);
        let stated = Film {
            heat,
            vapour,
            ..film
        };
        let exchange = self
            .skin
            .exchange(&stated, Temperature::from_si(self.air_temperature));
        let column = Column {
            contact: Contact {
                interior: self.interior.clone(),
                isotherm: self.isotherm,
                diffusivity: self.diffusivity,
                calorics: self.calorics,
                exchange,
                pressure: self.pressure,
            },
            mass: self.bed_mass,
            wall: hopper.wall.clone(),
            wall_on_pellets: self.wall_on_pellets,
            feeding: self.batch.map_or(Feeding::Continuous, Feeding::Batches),
            parcels: self.parcels,
            steps_per_parcel: 1,
        };
        Ok((column, hopper))
    }

    /// Film on the pellets at the state of the air inlet and the velocity in the cylinder.
    ///
    /// # Errors
    /// When the air cannot be, or from the film.
    pub fn film(&self, hopper: &Hopper) -> Result<Film, DecideError> {
        let air = air::HumidAir::new(
            Temperature::from_si(self.air_temperature),
            AbsolutePressure::from_si(self.pressure),
            HumidityRatio::from_si(self.air_humidity),
        )
        .map_err(|cause| DecideError::Air {
            place: "the inlet",
            cause,
        })?;
        let section = 0.25 * std::f64::consts::PI * hopper.diameter * hopper.diameter;
        let velocity = self.air_flow / air.dry_air_density().si() / section;
        Ok(in_bed(
            &self.outline,
            &air,
            // A search may ask for air without end; the film stays that of the fastest air known.
            Velocity::from_si(velocity.min(VELOCITY_HOLDS.high)),
            BedFilm::WakaoKaguei,
        )?)
    }

    /// Velocity, pressure drop and approach to fluidisation at the state of the inlet.
    pub fn flow_through(&self, hopper: &Hopper) -> FlowThrough {
        let share = air::mixture::mole_fraction(self.air_humidity);
        let (t, p) = (self.air_temperature, self.pressure);
        hopper.flow_through(
            self.air_flow,
            air::mixture::dry_air_density(t, p, share),
            air::transport::viscosity(t, p, share),
            self.outline.sauter_diameter(),
            self.density,
        )
    }

    /// Moisture (kg/kg dry) in equilibrium with the air at its inlet.
    pub fn floor(&self) -> f64 {
        let share = air::mixture::mole_fraction(self.air_humidity);
        let activity = share * self.pressure / air::saturation::over_liquid(self.air_temperature);
        self.isotherm.moisture(self.air_temperature, activity)
    }

    /// Residence above the inlet, s.
    pub fn residence(&self) -> f64 {
        self.bed_mass / self.rate
    }

    /// Wet resin drawn, kg/s.
    pub fn wet_rate(&self) -> f64 {
        self.rate * (1.0 + self.feed_moisture + self.feed_free_water)
    }

    /// The same case with a coarser bed and pellet, for searches and samples.
    pub fn coarse(&self) -> Self {
        Self {
            parcels: self.parcels.min(COARSE_PARCELS),
            interior: self.coarse_interior.clone(),
            ..self.clone()
        }
    }

    /// The same case at another bed mass; the resin below the inlet keeps its share.
    pub fn with_bed_mass(&self, mass: f64) -> Self {
        let below = self.below_inlet * mass / self.bed_mass;
        Self {
            bed_mass: mass,
            below_inlet: below,
            ..self.clone()
        }
    }

    /// The same case at another air temperature, the air heated without change of its vapour.
    pub fn with_air_temperature(&self, temperature: f64) -> Self {
        Self {
            air_temperature: temperature,
            ..self.clone()
        }
    }

    /// Temperature at which pellets fuse as they enter, K.
    pub fn sticking(&self) -> f64 {
        self.resin
            .sticking_at(quantity::MoistureDryBasis::from_si(self.feed_moisture))
            .si()
    }

    /// Air temperature above which the plan refuses: sticking of the wet pellets less a guard.
    pub fn hottest(&self) -> f64 {
        self.sticking() - STICKING_GUARD
    }
}

/// Kelvin kept below the sticking temperature.
pub const STICKING_GUARD: f64 = 2.0;

/// Zero of the Celsius scale again, for reports.
pub(crate) fn celsius(t: f64) -> f64 {
    t - ZERO_CELSIUS
}
