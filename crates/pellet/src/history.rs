//! One pellet through any history of air: an oven, a sample on a bench, a bag in a store.
//!
//! # Equations
//! 1. Each step is one of [`crate::contact`] in air without end: the pellet neither cools nor wets it.
//! 2. Within a segment air temperature goes in a straight line from the one end to the other, and so
//!    does its humidity, in the measure in which both ends state it (the humidity ratio when they
//!    differ). A step sees the air of its middle.
//! 3. The film is that of [`crate::film`] at the mean temperature of air and pellet, or as stated; a
//!    cover (the lining of a bag) stands in series with it.
//! 4. Steps: each is taken once whole and once in halves. When total water or temperature differ by
//!    more than the precision the halves are thrown away and a shorter step is tried, else they are
//!    kept and the next step is `h (0.8 / difference)^(1/3)`, the method being of second order. After
//!    each jump of the air the first step lasts a hundredth of a second.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! h | step | s
//!
//! # Holds for
//! What [`crate::contact`] holds for. The pellet is alone: pellets in a heap or a bag see air that
//! their neighbours have wetted or dried, and lag behind this one, unless a cover says by how much.
//! Water below 0 degC is counted as supercooled.
//!
//! # Sources
//! Step control: Hairer, Norsett and Wanner (1993), Solving Ordinary Differential Equations I,
//! section II.4 (from memory).
//!
//! # Checked by
//! `tests/src/exact/crank.rs`, `tests/src/peers/nonlinear_pellet.rs`,
//! `tests/src/published/long_sokol_1974.rs`

mod check;
mod journey;
mod schedule;

use crate::contact::{Calorics, Contact, Exchange, Parcel};
use crate::film::{BedFilm, Skin};
use crate::interior::Interior;
use crate::{Outline, PelletError};
use air::{CondensationPoint, Humidity};
use journey::Journey;
use libm::{exp, log};
use material::{Behaviour, Diffusivity, Isotherm, Resin};
use quantity::{
    AbsolutePressure, Density, Duration, HeatCapacitySlope, HeatTransferCoefficient, HumidityRatio,
    MassTransferCoefficient, MoistureDryBasis, Quantity, SpecificEnergy, SpecificHeatCapacity,
    Temperature, ThermalConductivity, Velocity,
};
use schedule::Stretch;
use serde::{Deserialize, Serialize};

pub use check::{
    FREE_WATER_HOLDS, MODES_HOLDS, MOISTURE_HOLDS, NODES_HOLDS, PRECISION_HOLDS, TIME_HOLDS,
};

/// What the pellet is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PelletSpec {
    /// Its outline.
    pub outline: Outline,
    /// Sorption law.
    pub isotherm: Isotherm,
    /// Diffusion law.
    pub diffusivity: Diffusivity,
    /// Density of the dry resin.
    pub density: Density,
    /// Heat capacity of the dry resin at 0 degC.
    pub heat_capacity: SpecificHeatCapacity,
    /// Its rise with temperature.
    pub heat_capacity_slope: HeatCapacitySlope,
    /// Thermal conductivity of the resin; without one the pellet has no resistance inside.
    pub conductivity: Option<ThermalConductivity>,
    /// Stated heat of sorption; it follows from the isotherm when absent.
    pub sorption_heat: Option<SpecificEnergy>,
}

impl PelletSpec {
    /// The usual pellet of a resin record; one that holds water on its surface only takes up none.
    ///
    /// # Errors
    /// From the outline.
    pub fn of(resin: &Resin) -> Result<Self, PelletError> {
        let form = &resin.pellet;
        let length = form.length.as_ref().map(|length| length.value);
        Ok(Self {
            outline: Outline::from_sizes(form.shape.value, form.diameter.value, length)?,
            isotherm: match resin.behaviour {
                Behaviour::Hygroscopic => resin.isotherm.law,
                Behaviour::SurfaceWaterOnly => Isotherm::SurfaceOnly,
            },
            diffusivity: resin.diffusivity.law,
            density: resin.density.value,
            heat_capacity: resin.heat_capacity_at(Temperature::from_celsius(0.0)),
            heat_capacity_slope: resin.heat_capacity_slope.value,
            conductivity: Some(resin.thermal_conductivity.value),
            sorption_heat: resin.sorption_heat.as_ref().map(|heat| heat.value),
        })
    }

    /// Heat capacities of the pellet, of water and of the air about it.
    pub fn calorics(&self) -> Calorics {
        Calorics {
            resin: self.heat_capacity.si(),
            resin_slope: self.heat_capacity_slope.si(),
            // ASHRAE Handbook, Fundamentals (2009), chapter 1, enthalpy of moist air; liquid water at
            // 20 degC from memory of steam tables. The same numbers that a hopper is planned with.
            dry_air: 1006.0,
            vapour: 1860.0,
            water: 4186.0,
            evaporation: 2.501e6,
            sorption: self.sorption_heat.map(Quantity::si),
        }
    }
}

/// The pellet at the beginning, the same all through.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Start {
    /// Its temperature.
    pub temperature: Temperature,
    /// Sorbed moisture.
    pub moisture: MoistureDryBasis,
    /// Water on its surface, kg per kg dry resin.
    pub free_water: MoistureDryBasis,
}

/// Air as it is said.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct AirState {
    /// Its temperature.
    pub temperature: Temperature,
    /// Its humidity.
    pub humidity: Humidity,
}

/// How the air moves about the pellet.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Surround {
    /// The pellet is alone in a stream; 0 for still air.
    Stream(Velocity),
    /// The pellet is in a bed, with the velocity of the empty vessel.
    Bed(Velocity, BedFilm),
    /// The film is stated.
    Stated(HeatTransferCoefficient, MassTransferCoefficient),
}

/// A stretch of time in one sort of air.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Segment {
    /// What people call it ("oven").
    pub name: String,
    /// How long it lasts.
    pub duration: Duration,
    /// Air at its beginning.
    pub from: AirState,
    /// Air at its end.
    pub to: AirState,
    /// How the air moves.
    pub surround: Surround,
    /// Conductances per kg of dry resin of what lies between pellets and air: a bag.
    pub cover: Option<Exchange>,
}

impl Segment {
    /// A segment in air that stays as it is.
    pub fn steady(
        name: impl Into<String>,
        duration: Duration,
        air: AirState,
        surround: Surround,
    ) -> Self {
        Self {
            name: name.into(),
            duration,
            from: air,
            to: air,
            surround,
            cover: None,
        }
    }
}

/// A history as it is said.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct HistorySpec {
    /// The pellet.
    pub pellet: PelletSpec,
    /// How it begins.
    pub start: Start,
    /// Total pressure.
    pub pressure: AbsolutePressure,
    /// What it goes through, in order.
    pub segments: Vec<Segment>,
    /// Times at which the curve must have an instant, beside the ends of the segments.
    pub moments: Vec<Duration>,
    /// Modes, or nodes in each coordinate; chosen when absent.
    pub fineness: Option<usize>,
    /// Relative error of the water in one step; chosen when absent.
    pub precision: Option<f64>,
}

/// A history that can be followed.
#[derive(Clone, Debug)]
pub struct History {
    spec: HistorySpec,
    contact: Contact,
    skin: Skin,
    precision: f64,
    stretches: Vec<Stretch>,
}

/// The pellet and its air at one time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Instant {
    /// Time since the beginning.
    pub time: Duration,
    /// Temperature of the pellet.
    pub pellet_temperature: Temperature,
    /// Temperature of the air.
    pub air_temperature: Temperature,
    /// Humidity of the air.
    pub air_humidity: HumidityRatio,
    /// Frost point of the air up to 0.01 degC, its dew point above; none in perfectly dry air and
    /// below -80 degC.
    pub condensation_point: Option<CondensationPoint>,
    /// Mean sorbed moisture.
    pub mean: MoistureDryBasis,
    /// Sorbed moisture at the surface.
    pub surface: MoistureDryBasis,
    /// Sorbed moisture at the heart.
    pub heart: MoistureDryBasis,
    /// Water on the surface, per dry resin.
    pub free_water: MoistureDryBasis,
    /// Water given off over the step that ends here, kg per kg dry resin and second: its sum over
    /// the steps is what the pellet lost.
    pub drying_rate_per_s: f64,
}

/// What became of the pellet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Curve {
    /// From the beginning to the end, at the steps that were taken.
    pub instants: Vec<Instant>,
    /// Name, beginning and end of each segment.
    pub segments: Vec<(String, Duration, Duration)>,
    /// Steps thrown away as too coarse.
    pub rejected: usize,
}

impl Curve {
    /// The last instant.
    pub fn last(&self) -> Option<&Instant> {
        self.instants.last()
    }

    /// Any number of an instant at any time, between the steps taken and held before the first and
    /// after the last: along an exponential where it is positive on both sides, else along a
    /// straight line.
    pub fn at(&self, time: Duration, number: impl Fn(&Instant) -> f64) -> Option<f64> {
        let t = time.si();
        let after = self.instants.partition_point(|i| i.time.si() < t);
        let high = self.instants.get(after).or(self.instants.last())?;
        let low = self.instants.get(after.saturating_sub(1))?;
        let span = high.time.si() - low.time.si();
        let share = if span > 0.0 {
            ((t - low.time.si()) / span).clamp(0.0, 1.0)
        } else {
            0.0
        };
        let (low, high) = (number(low), number(high));
        Some(if low > 0.0 && high > 0.0 {
            low * exp(share * log(high / low))
        } else {
            low + share * (high - low)
        })
    }

    /// The first time at which a number of an instant comes to a positive value, interpolated as by
    /// [`Curve::at`].
    pub fn crossing(&self, value: f64, number: impl Fn(&Instant) -> f64) -> Option<Duration> {
        self.instants.windows(2).find_map(|pair| {
            let (low, high) = (number(&pair[0]), number(&pair[1]));
            let met = (low - value) * (high - value) <= 0.0;
            if !met {
                return None;
            }
            let share = if low > 0.0 && high > 0.0 && value > 0.0 {
                log(value / low) / log(high / low)
            } else {
                (value - low) / (high - low)
            };
            let share = if share.is_finite() { share } else { 0.0 };
            let (from, to) = (pair[0].time.si(), pair[1].time.si());
            Some(Duration::from_si(from + share * (to - from)))
        })
    }
}

impl HistorySpec {
    /// The history, when everything in it can be.
    ///
    /// # Errors
    /// Every mistake, each with the path of its field.
    pub fn check(&self) -> Result<History, quantity::Faults> {
        check::history(self)
    }
}

impl History {
    /// What it was made from.
    pub fn spec(&self) -> &HistorySpec {
        &self.spec
    }

    /// How the inside is carried.
    pub fn interior(&self) -> &Interior {
        &self.contact.interior
    }

    /// Follows the pellet from the beginning to the end.
    ///
    /// # Errors
    /// [`PelletError::Numeric`] when a step cannot be closed or too many are needed.
    pub fn follow(&self) -> Result<Curve, PelletError> {
        Journey::begun(self)?.finish()
    }

    /// Follows a pellet that comes with an inside of its own, as another history or a bed of the
    /// same [`History::interior`] left it, in place of the even one of the start; and hands it back as
    /// it ends.
    ///
    /// # Errors
    /// As [`History::follow`], and [`PelletError::OtherInside`].
    pub fn follow_from(&self, pellet: &Parcel) -> Result<(Curve, Parcel), PelletError> {
        Journey::from(self, pellet)?.finish_with()
    }
}

#[cfg(test)]
pub(crate) mod tests;
