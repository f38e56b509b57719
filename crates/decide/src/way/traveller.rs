//! A pellet that is followed from one stretch of air to the next and keeps what it has inside.

use crate::DecideError;
use air::saturation;
use bed::steady::Place;
use material::Resin;
use pellet::contact::{AirIn, Contact, Exchange, Parcel};
use pellet::history::{
    AirState, Curve, History, HistorySpec, PelletSpec, Segment, Start, Surround,
};
use quantity::{
    AbsolutePressure, Duration, MoistureDryBasis, Quantity, RelativeHumidity, Temperature, Velocity,
};

/// A pellet of a resin, ready to be followed.
#[derive(Clone, Debug)]
pub struct Traveller {
    pellet: PelletSpec,
    pressure: AbsolutePressure,
    /// Its inside and its laws, with the fineness of a curve; the exchange is that of no air.
    contact: Contact,
}

/// A stretch of still air.
pub fn still(name: &str, duration: Duration, air: AirState) -> Segment {
    Segment::steady(
        name,
        duration,
        air,
        Surround::Stream(Velocity::from_si(0.0)),
    )
}

impl Traveller {
    /// The mean pellet of a resin.
    ///
    /// # Errors
    /// From the pellet.
    pub fn of(resin: &Resin, pressure: AbsolutePressure) -> Result<Self, DecideError> {
        Self::with(PelletSpec::of(resin)?, pressure)
    }

    /// A pellet of any outline.
    ///
    /// # Errors
    /// From the pellet.
    pub fn with(pellet: PelletSpec, pressure: AbsolutePressure) -> Result<Self, DecideError> {
        let room = AirState {
            temperature: Temperature::from_celsius(23.0),
            humidity: RelativeHumidity::from_percent(50.0).into(),
        };
        let idle = still("idle", Duration::from_seconds(1.0), room);
        let history = history(&pellet, pressure, 0.0, 296.15, vec![idle], Vec::new())?;
        let contact = Contact {
            interior: history.interior().clone(),
            isotherm: pellet.isotherm,
            diffusivity: pellet.diffusivity,
            calorics: pellet.calorics(),
            exchange: Exchange {
                heat: 0.0,
                vapour: 0.0,
            },
            pressure: pressure.si(),
        };
        Ok(Self {
            pellet,
            pressure,
            contact,
        })
    }

    /// Whether its resin takes up water at all.
    pub fn takes_up_water(&self) -> bool {
        self.pellet.isotherm.takes_up_water()
    }

    /// The pellet with the same moisture all through.
    pub fn even(&self, temperature: Temperature, moisture: MoistureDryBasis) -> Parcel {
        self.contact.parcel(temperature.si(), moisture.si(), 0.0)
    }

    /// The pellet as it leaves a bed: the one that entered as `feed` (K, kg/kg dry, free water)
    /// followed through the air along `path`, its water then scaled to `mean` kg/kg dry.
    ///
    /// # Errors
    /// From the pellet.
    pub(crate) fn dried(
        &self,
        bed: &Contact,
        feed: (f64, f64, f64),
        path: &[Place],
        mean: f64,
    ) -> Result<Parcel, DecideError> {
        let own = Contact {
            interior: self.contact.interior.clone(),
            ..bed.clone()
        };
        let mut parcel = own.parcel(feed.0, feed.1, feed.2);
        let mut work = own.work();
        for pair in path.windows(2) {
            let duration = pair[1].age - pair[0].age;
            if duration > 0.0 {
                let air = AirIn::endless(
                    0.5 * (pair[0].air_temperature + pair[1].air_temperature),
                    0.5 * (pair[0].air_humidity + pair[1].air_humidity),
                );
                own.meet(&mut parcel, &air, duration, &mut work)?;
            }
        }
        let water = parcel.water();
        let factor = if water > 0.0 { mean / water } else { 1.0 };
        for inside in &mut parcel.inside {
            *inside *= factor;
        }
        parcel.moisture *= factor;
        parcel.free_water *= factor;
        Ok(parcel)
    }

    /// Moisture of its surface, kg/kg dry.
    pub(crate) fn surface(&self, pellet: &Parcel) -> f64 {
        self.contact.interior.surface(&pellet.inside)
    }

    /// Moisture in balance with a vapour pressure (Pa) at a temperature (K), kg/kg dry.
    pub(crate) fn balance(&self, t: f64, vapour_pressure: f64) -> f64 {
        let activity = (vapour_pressure / saturation::over_liquid(t)).min(1.0);
        self.pellet.isotherm.moisture(t, activity)
    }

    /// Follows the pellet, and hands back how it ends.
    ///
    /// # Errors
    /// When a stretch cannot be, or from the pellet.
    pub fn through(
        &self,
        start: &Parcel,
        stretches: Vec<Segment>,
        moments: Vec<Duration>,
    ) -> Result<(Curve, Parcel), DecideError> {
        let history = history(
            &self.pellet,
            self.pressure,
            start.moisture,
            start.temperature,
            stretches,
            moments,
        )?;
        Ok(history.follow_from(start)?)
    }
}

fn history(
    pellet: &PelletSpec,
    pressure: AbsolutePressure,
    moisture: f64,
    temperature: f64,
    segments: Vec<Segment>,
    moments: Vec<Duration>,
) -> Result<History, DecideError> {
    let spec = HistorySpec {
        pellet: pellet.clone(),
        start: Start {
            temperature: Temperature::from_si(temperature),
            moisture: MoistureDryBasis::from_si(moisture),
            free_water: MoistureDryBasis::from_si(0.0),
        },
        pressure,
        segments,
        moments,
        fineness: None,
        precision: None,
    };
    spec.check().map_err(DecideError::History)
}
