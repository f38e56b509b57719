//! The doubt of resin, place and dryer carried through the closed loop.

use crate::DecideError;
use crate::case::Case;
use crate::closed::settle;
use crate::doubt;
use crate::outlet::Outlet;
use crate::resolve::Given;
use crate::station;
use line::equipment::{Equipment, Machine};
use line::{Line, LineSteady};
use rayon::prelude::*;
use std::sync::atomic::{AtomicU32, Ordering};
use uncertainty::{Design, Interval};

/// What is asked of one dryer on one day.
pub(crate) struct Asked<'a> {
    pub(crate) equipment: &'a Equipment,
    pub(crate) given: &'a Given,
    pub(crate) samples: u32,
    pub(crate) seed: u32,
}

/// What came of the draws, kg/kg dry.
pub(crate) struct Sampled {
    /// Mean over pellets and streams, as it most likely is.
    pub(crate) mean: f64,
    /// Five percent of the draws lie below.
    pub(crate) low: f64,
    /// Ninety-five percent lie below.
    pub(crate) high: f64,
    /// Share that meets the limit.
    pub(crate) probability: f64,
    draws: Vec<f64>,
}

impl Sampled {
    /// What a share of the draws lies below; the best value where nothing was drawn.
    pub(crate) fn quantile(&self, share: f64) -> f64 {
        Interval::of(&self.draws, (2.0 * share - 1.0).max(0.0))
            .map_or(self.mean, |found| found.high)
    }
}

/// Doubt of the dew point that a desiccant of no measured machine gives, K, one standard deviation:
/// published isotherms of one zeolite part by 17 K at one state, two deviations to each side.
pub(crate) const DESICCANT_DOUBT: f64 = 4.0;
/// Doubt of the dew point of compressed air, K (common practice, no source: sensor and dryer).
const COMPRESSED_AIR_DOUBT: f64 = 2.0;
/// Change of the logarithm of humidity with 1 K of frost point near -40 degC.
pub(crate) const PER_KELVIN: f64 = 0.11;
/// Dimensions of the design that the resin takes, before that of the dryer.
const DRYER_DIMENSION: u32 = 60;

impl Asked<'_> {
    /// Draws, each through the whole loop.
    pub(crate) fn draws(
        &self,
        line: &Line,
        steady: &LineSteady,
        case: &Case,
        told: &(dyn Fn(f64) + Sync),
    ) -> Result<Sampled, DecideError> {
        let inlet = steady.stations.first().map(|served| served.inlet);
        let at = |case: &Case, temperature: f64, humidity: f64| Case {
            air_temperature: temperature,
            air_humidity: humidity,
            ..case.clone()
        };
        let (temperature, humidity) = inlet
            .map_or((case.air_temperature, case.air_humidity), |inlet| {
                (inlet.temperature, inlet.humidity)
            });
        let nominal = Outlet::of(&at(case, temperature, humidity))?;
        // Pellets and streams widen the mean of the mean pellet by this.
        let ratio = nominal.ratio();
        let design = Design { seed: self.seed };
        let done = AtomicU32::new(0);
        let coarse = case.coarse();
        let draws: Vec<f64> = (0..self.samples)
            .into_par_iter()
            .filter_map(|index| {
                let deviate = |dimension| design.normal(index, dimension);
                let drawn = doubt::shifted(&coarse, self.given, &deviate);
                let found = self.draw(line, steady, &drawn, deviate(DRYER_DIMENSION));
                let count = done.fetch_add(1, Ordering::Relaxed) + 1;
                told(f64::from(count) / f64::from(self.samples));
                found.ok()
            })
            .map(|mean| mean * ratio)
            .collect();
        let met = draws.iter().filter(|mean| **mean <= case.limit).count();
        let interval = Interval::of(&draws, 0.9);
        Ok(Sampled {
            mean: nominal.mean,
            low: interval.map_or(nominal.mean, |found| found.low),
            high: interval.map_or(nominal.mean, |found| found.high),
            probability: if draws.is_empty() {
                f64::from(u8::from(nominal.mean <= case.limit))
            } else {
                met as f64 / draws.len() as f64
            },
            draws,
        })
    }

    /// One draw: the loop settles with its resin, then its supply is as dry as the doubt of the dryer
    /// makes it.
    fn draw(
        &self,
        line: &Line,
        steady: &LineSteady,
        drawn: &Case,
        deviation: f64,
    ) -> Result<f64, DecideError> {
        let Some(heater) = line.stations.first().map(|station| station.heater) else {
            return Err(DecideError::NoDryer);
        };
        let now = Line {
            stations: vec![station::of(drawn, heater)?],
            ..line.clone()
        };
        let found = match now.steady(Some(&steady.guess)) {
            Ok(found) => found,
            // A neighbour too far away: from the beginning.
            Err(_) => settle(&now, &self.equipment.title)?,
        };
        let Some(served) = found.stations.first() else {
            return Err(DecideError::NoDryer);
        };
        let doubt = match &self.equipment.machine {
            Machine::Wheel(_) | Machine::Towers(_) => DESICCANT_DOUBT,
            Machine::Compressed(_) => COMPRESSED_AIR_DOUBT,
            Machine::HotAir(_) => 0.0,
        };
        if doubt == 0.0 {
            let bed = &served.steady;
            return Ok(bed.outlet_moisture + bed.outlet_free_water);
        }
        let humidity = served.inlet.humidity * libm::exp(PER_KELVIN * doubt * deviation);
        let at = Case {
            air_temperature: served.inlet.temperature,
            air_humidity: humidity,
            ..drawn.clone()
        };
        doubt::one(&at)
    }
}
