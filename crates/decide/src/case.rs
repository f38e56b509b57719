//! A job resolved into numbers: everything the physics uses, each either stated or chosen here.

use crate::DecideError;
use crate::ahead::Fed;
use crate::lot::{Companion, Undried};
use crate::pellets::Pellets;
use bed::column::{Column, Drive, Feeding};
use bed::hopper::{FlowThrough, Hopper, HopperSpec};
use material::Resin;
use pellet::Outline;
use pellet::blend::Beside;
use pellet::contact::Contact;
use pellet::film::{BedFilm, Film, VELOCITY_HOLDS, in_bed};
use quantity::constants::ZERO_CELSIUS;
use quantity::{
    AbsolutePressure, HeatTransferCoefficient, HumidityRatio, MassTransferCoefficient, Quantity,
    Temperature, Velocity,
};
use serde::Serialize;

/// A job in numbers, SI. Copies of it with a number changed are the variants that a plan asks.
#[derive(Clone, Debug)]
pub struct Case {
    /// What leads: the resin of the job.
    pub lead: Pellets,
    /// What the lead is called in its lot.
    pub lead_name: String,
    /// Film stated for heat and vapour, where it is.
    pub film: (Option<f64>, Option<f64>),
    /// Pressure in the hopper, Pa.
    pub pressure: f64,
    /// Dry resin drawn, kg/s.
    pub rate: f64,
    /// Temperature of the feed, K.
    pub feed_temperature: f64,
    /// Temperature around the hopper, K.
    pub ambient: f64,
    /// What travels through the hopper beside the lead, of which the fields above speak.
    pub beside: Vec<Companion>,
    /// What joins at the throat, undried.
    pub undried: Vec<Undried>,
    /// What the screw draws, as weighed, per dry resin through the hopper.
    pub drawn: f64,
    /// Limit of the blend at the screw, kg/kg dry.
    pub screw_limit: f64,
    /// Limit of what leaves the hopper, kg/kg dry.
    pub limit: f64,
    /// Lower edge of what leaves the hopper, kg/kg dry.
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
    /// Parcels in the bed.
    pub parcels: usize,
    /// What was fed before a crystalliser ahead of the hopper, where there is one.
    pub(crate) ahead: Option<Box<Fed>>,
}

/// A setting that a plan chooses where it is not given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Choice {
    /// Air temperature.
    Temperature,
    /// Humidity of the air.
    FrostPoint,
    /// Hopper and with it the residence.
    Hopper,
    /// Air flow.
    AirFlow,
}

impl Choice {
    /// The words shown.
    pub fn words(self) -> &'static str {
        match self {
            Self::Temperature => "air temperature",
            Self::FrostPoint => "frost point",
            Self::Hopper => "hopper",
            Self::AirFlow => "air flow",
        }
    }
}

/// Capacity ratio of air to resin that is chosen where no flow is given: the trade's air per resin
/// for most resins comes to 1.3 to 2 (common practice, no source).
const USUAL_CAPACITY_RATIO: f64 = 1.6;
/// Parcels, and modes or nodes, while searching: the mean is within a percent of a fine bed.
const COARSE_PARCELS: usize = 40;
pub(crate) const COARSE_MODES: usize = 6;
pub(crate) const COARSE_NODES: usize = 5;

impl Case {
    /// Air flow where none is given: the usual ratio of heat capacities, and the wall's loss on top,
    /// up to the largest flow and to half of what would lift the bed.
    ///
    /// # Errors
    /// From the hopper.
    pub fn usual_air_flow(&self, largest: Option<f64>) -> Result<f64, DecideError> {
        let hopper = self.hopper()?;
        let resin = self.rate
            * self
                .lead
                .calorics
                .resin_capacity(self.air_temperature, self.lead.feed_moisture, 0.0);
        let wanted =
            (USUAL_CAPACITY_RATIO * resin + 2.0 * hopper.wall.total()) / self.lead.calorics.dry_air;
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
            feed_moisture: self.lead.feed_moisture,
            feed_free_water: self.lead.feed_free_water,
            ambient: self.ambient,
        }
    }

    /// The column of this case with its hopper.
    ///
    /// # Errors
    /// From hopper, pellet or air.
    pub fn column(&self) -> Result<(Column, Hopper), DecideError> {
        let hopper = self.hopper()?;
        let contact = self.contact(&hopper, &self.lead)?;
        let mut beside = Vec::with_capacity(self.beside.len());
        for kind in &self.beside {
            beside.push(Beside {
                share: kind.share,
                contact: self.contact(&hopper, &kind.pellets)?,
                moisture: kind.pellets.feed_moisture,
                free_water: kind.pellets.feed_free_water,
            });
        }
        let column = Column {
            contact,
            beside,
            mass: self.bed_mass,
            wall: hopper.wall.clone(),
            wall_on_pellets: self.wall_on_pellets,
            feeding: self.batch.map_or(Feeding::Continuous, Feeding::Batches),
            parcels: self.parcels,
            steps_per_parcel: 1,
        };
        Ok((column, hopper))
    }

    /// How one kind of pellet meets the air of the bed.
    fn contact(&self, hopper: &Hopper, pellets: &Pellets) -> Result<Contact, DecideError> {
        let film = self.film_on(hopper, &pellets.outline)?;
        let (heat, vapour) = self.film;
        let stated = Film {
            heat: heat.map_or(film.heat, HeatTransferCoefficient::from_si),
            vapour: vapour.map_or(film.vapour, MassTransferCoefficient::from_si),
            ..film
        };
        let at = Temperature::from_si(self.air_temperature);
        Ok(Contact {
            interior: pellets.interior.clone(),
            isotherm: pellets.isotherm,
            diffusivity: pellets.diffusivity,
            calorics: pellets.calorics,
            exchange: pellets.skin.exchange(&stated, at),
            pressure: self.pressure,
        })
    }

    /// Film on the pellets of the lead at the state of the air inlet and the velocity in the
    /// cylinder.
    ///
    /// # Errors
    /// When the air cannot be, or from the film.
    pub fn film(&self, hopper: &Hopper) -> Result<Film, DecideError> {
        self.film_on(hopper, &self.lead.outline)
    }

    fn film_on(&self, hopper: &Hopper, outline: &Outline) -> Result<Film, DecideError> {
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
            outline,
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
            self.sauter_diameter(),
            self.density,
        )
    }

    /// Sauter diameter of all pieces in the bed, m: volume over surface.
    pub fn sauter_diameter(&self) -> f64 {
        let (mut volume, mut surface) = (0.0, 0.0);
        for (share, pellets) in self.kinds() {
            let own = share / pellets.density;
            volume += own;
            surface += own / pellets.outline.sauter_diameter();
        }
        volume / surface
    }

    /// Moisture (kg/kg dry) in equilibrium with the air at its inlet, mean over the kinds.
    pub fn floor(&self) -> f64 {
        let share = air::mixture::mole_fraction(self.air_humidity);
        let t = self.air_temperature;
        let activity = share * self.pressure / air::saturation::over_liquid(t);
        self.kinds()
            .map(|(share, pellets)| share * pellets.isotherm.moisture(t, activity))
            .sum()
    }

    /// Volume of the hopper at its fill, m3.
    pub fn hopper_volume(&self) -> f64 {
        (self.bed_mass + self.below_inlet) / self.bulk_density / self.fill
    }

    /// Residence above the inlet, s.
    pub fn residence(&self) -> f64 {
        self.bed_mass / self.rate
    }

    /// What the screw draws, weighed as it is, kg/s.
    pub fn wet_rate(&self) -> f64 {
        self.rate * self.drawn
    }

    /// The same case with a coarser bed and pellet, for searches and samples.
    pub fn coarse(&self) -> Self {
        let mut now = self.with_each(|pellets| {
            pellets.interior = pellets.coarse_interior.clone();
        });
        now.parcels = now.parcels.min(COARSE_PARCELS);
        now
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

    /// The same case with another limit.
    pub fn with_limit(&self, limit: f64) -> Self {
        Self {
            limit,
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

    /// Temperature at which the first kind of pellet fuses as it enters, K.
    pub fn sticking(&self) -> f64 {
        let kinds = self.kinds().map(|(_, pellets)| pellets.sticking());
        kinds.fold(f64::INFINITY, f64::min)
    }

    /// What fuses first as it enters: name and pellets.
    pub fn fuses_first(&self) -> (&str, &Pellets) {
        let beside = self.beside.iter();
        let beside = beside.map(|kind| (kind.name.as_str(), &kind.pellets));
        let lead = (self.lead_name.as_str(), &self.lead);
        beside.fold(lead, |first, next| {
            if next.1.sticking() < first.1.sticking() {
                next
            } else {
                first
            }
        })
    }

    /// Longest stay at the air temperature before harm to the first kind of pellet is usual, s.
    pub fn hold(&self) -> f64 {
        self.hold_at(self.air_temperature)
    }

    /// The same in air of another temperature, K.
    pub fn hold_at(&self, air_temperature: f64) -> f64 {
        let at = Temperature::from_si(air_temperature);
        let of = |resin: &Resin| -> f64 { resin.hold_at(at).si() };
        let kinds = self.kinds().map(|(_, pellets)| of(&pellets.resin));
        kinds.fold(f64::INFINITY, f64::min)
    }

    /// The kind of a lot that bears the shortest stay in this air; none where all bear as much.
    pub fn bears_least(&self) -> Option<&str> {
        let hold = |pellets: &Pellets| -> f64 {
            let at = Temperature::from_si(self.air_temperature);
            pellets.resin.hold_at(at).si()
        };
        let least = self.hold() * (1.0 + 1e-9);
        let beside = self.beside.iter();
        let beside = beside.map(|kind| (kind.name.as_str(), &kind.pellets));
        let mut all = std::iter::once((self.lead_name.as_str(), &self.lead)).chain(beside);
        if all.clone().all(|(_, pellets)| hold(pellets) <= least) {
            return None;
        }
        all.find(|(_, pellets)| hold(pellets) <= least)
            .map(|(name, _)| name)
    }

    /// Whether a kind of pellet must be crystallised before it may rest in a hot hopper.
    pub fn crystallise_first(&self) -> bool {
        self.kinds()
            .any(|(_, pellets)| pellets.resin.crystallise_first)
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
