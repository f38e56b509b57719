//! The air of a history at any moment.

use super::{AirState, Segment, Surround};
use crate::PelletError;
use crate::contact::{AirIn, Exchange};
use air::{AirError, CondensationPoint, HumidAir, Humidity, saturation};
use quantity::{AbsolutePressure, Quantity, Temperature};

/// A checked segment.
#[derive(Clone, Debug)]
pub(super) struct Stretch {
    pub(super) name: String,
    pub(super) duration: f64,
    pub(super) surround: Surround,
    pub(super) cover: Option<Exchange>,
    from: AirState,
    to: AirState,
    pressure: AbsolutePressure,
    /// The air, when it stays as it is.
    steady: Option<Seen>,
}

/// Air as a pellet sees it, SI.
#[derive(Clone, Copy, Debug)]
pub(super) struct Seen {
    pub(super) temperature: f64,
    pub(super) humidity: f64,
    pub(super) mole_fraction: f64,
    /// Vapour pressure over that of water at the air temperature, at most 1.
    pub(super) activity: f64,
    pub(super) condensation_point: Option<CondensationPoint>,
}

impl Seen {
    fn of(air: &HumidAir) -> Self {
        let t = air.temperature().si();
        Self {
            temperature: t,
            humidity: air.humidity_ratio().si(),
            mole_fraction: air.vapour_mole_fraction().si(),
            activity: (air.vapour_pressure().si() / saturation::over_liquid(t)).min(1.0),
            condensation_point: air.condensation_point().ok(),
        }
    }

    /// As air that does not change however many pellets it meets.
    pub(super) fn endless(&self) -> AirIn {
        AirIn::endless(self.temperature, self.humidity)
    }
}

impl Stretch {
    /// A segment whose air can be, at both ends and between.
    pub(super) fn of(segment: &Segment, pressure: AbsolutePressure) -> Result<Self, AirError> {
        /// Where a ramp is looked at between its ends.
        const LOOKS: u32 = 16;
        let mut stretch = Self {
            name: segment.name.clone(),
            duration: segment.duration.si(),
            surround: segment.surround,
            cover: segment.cover,
            from: segment.from,
            to: segment.to,
            pressure,
            steady: None,
        };
        for look in 0..=LOOKS {
            stretch.air(f64::from(look) / f64::from(LOOKS))?;
        }
        if stretch.from == stretch.to {
            stretch.steady = Some(Seen::of(&stretch.air(0.0)?));
        }
        Ok(stretch)
    }

    /// Air at `time` s after the beginning of the stretch.
    pub(super) fn at(&self, time: f64) -> Result<Seen, PelletError> {
        match self.steady {
            Some(seen) => Ok(seen),
            None => Ok(Seen::of(&self.air((time / self.duration).clamp(0.0, 1.0))?)),
        }
    }

    /// Air at a share of the way.
    fn air(&self, share: f64) -> Result<HumidAir, AirError> {
        let along = |a: f64, b: f64| a + share * (b - a);
        let (from, to) = (&self.from, &self.to);
        let temperature = Temperature::from_si(along(from.temperature.si(), to.temperature.si()));
        let humidity = if let Some(between) = between(&from.humidity, &to.humidity, share) {
            between
        } else {
            let ratio = |state: &AirState| {
                HumidAir::new(state.temperature, self.pressure, state.humidity)
                    .map(|air| air.humidity_ratio().si())
            };
            Humidity::HumidityRatio(Quantity::from_si(along(ratio(from)?, ratio(to)?)))
        };
        HumidAir::new(temperature, self.pressure, humidity)
    }
}

/// A humidity between two that are said in the same way.
fn between(from: &Humidity, to: &Humidity, share: f64) -> Option<Humidity> {
    fn mix<Q: Quantity>(a: Q, b: Q, share: f64) -> Q {
        Q::from_si(a.si() + share * (b.si() - a.si()))
    }
    match (*from, *to) {
        (Humidity::DewPoint(a), Humidity::DewPoint(b)) => Some(mix(a, b, share).into()),
        (Humidity::FrostPoint(a), Humidity::FrostPoint(b)) => Some(mix(a, b, share).into()),
        (Humidity::HumidityRatio(a), Humidity::HumidityRatio(b)) => Some(mix(a, b, share).into()),
        (Humidity::RelativeHumidity(a), Humidity::RelativeHumidity(b)) => {
            Some(mix(a, b, share).into())
        }
        (Humidity::VapourMoleFraction(a), Humidity::VapourMoleFraction(b)) => {
            Some(mix(a, b, share).into())
        }
        (Humidity::AbsoluteHumidity(a), Humidity::AbsoluteHumidity(b)) => {
            Some(mix(a, b, share).into())
        }
        (Humidity::VapourPressure(a), Humidity::VapourPressure(b)) => Some(mix(a, b, share).into()),
        _ => None,
    }
}
