//! The air of the hall in which pellets lie once they have left the dryer or the bag.

use crate::{DecideError, humidity};
use air::{HumidAir, Humidity};
use job::Job;
use quantity::{
    AbsolutePressure, DewPoint, HumidityRatio, Quantity, RelativeHumidity, Temperature,
};

/// Air that is taken where the job states no humidity of the hall: the standard atmosphere 23/50 of
/// ISO 291 (from memory).
const USUAL_C: f64 = 23.0;
const USUAL_PERCENT: f64 = 50.0;

/// The air of the hall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Hall {
    /// Temperature, K.
    pub(crate) temperature: f64,
    /// Humidity ratio, kg/kg.
    pub(crate) humidity: f64,
    /// Dew point, degC.
    pub(crate) dew_point_c: f64,
    /// Relative humidity, %.
    pub(crate) relative_percent: f64,
    /// Density of the vapour in it, kg/m3.
    pub(crate) vapour_density: f64,
    /// Vapour pressure, Pa.
    pub(crate) vapour_pressure: f64,
    /// Whether it was taken because none is stated.
    pub(crate) assumed: bool,
}

impl Hall {
    /// The hall of a job.
    ///
    /// # Errors
    /// When its air cannot be.
    pub(crate) fn of(job: &Job, pressure: AbsolutePressure) -> Result<Self, DecideError> {
        let ambient = job.site.ambient;
        if let Some(stated) = job.site.humidity {
            let ratio = humidity::ratio(stated, ambient, pressure, pressure, "the hall")?;
            Self::in_air(ambient, ratio, pressure, false)
        } else {
            let relative = RelativeHumidity::from_percent(USUAL_PERCENT);
            Self::in_air(Temperature::from_celsius(USUAL_C), relative, pressure, true)
        }
    }

    fn in_air(
        temperature: Temperature,
        humidity: impl Into<Humidity>,
        pressure: AbsolutePressure,
        assumed: bool,
    ) -> Result<Self, DecideError> {
        let of = |cause| DecideError::Air {
            place: "the hall",
            cause,
        };
        let air = HumidAir::new(temperature, pressure, humidity).map_err(of)?;
        let vapour_density: f64 = air.absolute_humidity().si();
        Ok(Self {
            temperature: temperature.si(),
            humidity: air.humidity_ratio().si(),
            // Air too dry for a dew point makes nothing condense.
            dew_point_c: air.dew_point().map_or(DRIEST_C, DewPoint::celsius),
            relative_percent: air.relative_humidity().percent(),
            vapour_density,
            vapour_pressure: air.vapour_pressure().si(),
            assumed,
        })
    }

    /// Its humidity as a history states it.
    pub(crate) fn ratio(&self) -> HumidityRatio {
        HumidityRatio::from_si(self.humidity)
    }
}

/// Dew point that stands for perfectly dry air, degC.
const DRIEST_C: f64 = -80.0;
