//! A cold bag in a warm hall: when it may be opened, and what condenses on its pellets otherwise.
//!
//! # Equations
//! 1. The closed bag warms as one body, `T = T_h + (T_b - T_h) exp(-t/tau)`, `tau = M c/(U A)`,
//!    `1/U = 1/h + L/(3 k)`, with the half thickness `L = M/(rho_b A)`: the bag counts as a plate whose
//!    every point warms at the same speed. Its heart then lags behind its mean by the factor
//!    `(1/h + L/(2 k))/(1/h + L/(3 k))`.
//! 2. It should stand until its heart has come to the dew point of the hall.
//! 3. Once it is open its coldest pellet meets the hall by [`pellet::history`]: a pellet alone in still
//!    air, with the film, heat and condensation of [`pellet::contact`]. The pellets of a heap come out
//!    of the cold one after another, so each is fed as wet as it was at its wettest.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! T_b, T_h | `job::ColdBag::temperature`, the hall | K
//! tau | `ColdBagFound::time_constant_h` | h
//!
//! # Holds for
//! A bag that stands alone with air about it. Bags on a pallet warm several times more slowly. The lining
//! is tight: nothing condenses inside while the bag is closed.
//!
//! # Sources
//! 1: the linear driving force of a plate, as in [`pellet::film`], equation 5.
//!
//! # Checked by
//! the tests below, `tests/src/journeys/way.rs`

use crate::answer::Warning;
use crate::hall::Hall;
use crate::storage::Stored;
use crate::{DecideError, arrival};
use job::{ColdBag, Job};
use material::Resin;
use pellet::Outline;
use pellet::history::{AirState, HistorySpec, PelletSpec, Segment, Start, Surround};
use quantity::constants::ZERO_CELSIUS;
use quantity::{AbsolutePressure, Duration, MoistureDryBasis, Quantity, Temperature, Velocity};
use serde::Serialize;

/// Heat from a bag to still air, W/(m2 K) (common practice, no source).
const BAG_HEAT: f64 = 8.0;
/// Thermal conductivity of a bed of pellets in still air, W/(m K) (from memory: 0.1 to 0.2 for
/// polymer pellets; no source).
const BED_CONDUCTIVITY: f64 = 0.15;
/// Shortest time that a history is followed, s.
const LEAST_TIME: f64 = 0.1;

/// What a cold bag comes to.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ColdBagFound {
    /// Bag as it was brought in.
    pub brought_c: f64,
    /// Air of the hall.
    pub hall_c: f64,
    /// Its dew point.
    pub hall_dew_point_c: f64,
    /// Whether the humidity of the hall was assumed, because the job states none.
    pub hall_assumed: bool,
    /// Time it stood closed.
    pub stood_h: f64,
    /// Mean temperature of the bag when it is opened.
    pub opened_c: f64,
    /// Its coldest pellets then.
    pub coldest_c: f64,
    /// Time for the mean of the closed bag to come nearer the hall by a factor of e.
    pub time_constant_h: f64,
    /// Time it should stand closed, from when it is brought in, for its coldest pellets to come to the
    /// dew point of the hall; zero where they lie above it from the beginning. None where the hall
    /// itself is at its dew point.
    pub should_stand_h: Option<f64>,
    /// Water that condenses on the pellets, per dry resin, at their wettest.
    pub condensed_ppm_dry: f64,
    /// Time after opening at which they are wettest.
    pub wettest_after_min: f64,
    /// Temperature at which they are fed.
    pub fed_c: f64,
}

/// Pellets as they are fed, SI.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Fed {
    pub(crate) temperature: f64,
    pub(crate) moisture: f64,
    pub(crate) free_water: f64,
    pub(crate) bag: Option<ColdBagFound>,
    pub(crate) stored: Option<Stored>,
}

/// How the pellets of a job are fed.
///
/// # Errors
/// When the air of the hall cannot be, or from the pellet.
pub(crate) fn fed(
    job: &Job,
    outline: &Outline,
    pressure: AbsolutePressure,
) -> Result<Fed, DecideError> {
    let (moisture, stored) = arrival::moisture(job, outline)?;
    let plain = Fed {
        temperature: job.arrival.temperature.si(),
        moisture,
        free_water: job.arrival.surface_water.si(),
        bag: None,
        stored,
    };
    match &job.arrival.bag {
        Some(bag) => from_bag(bag, &job.resin, &plain, &Hall::of(job, pressure)?, pressure),
        None => Ok(plain),
    }
}

fn from_bag(
    bag: &ColdBag,
    resin: &Resin,
    plain: &Fed,
    hall: &Hall,
    pressure: AbsolutePressure,
) -> Result<Fed, DecideError> {
    let warming = Warming::of(bag, resin);
    let stood: f64 = bag.standing.si();
    let (brought, warm) = (bag.temperature.si(), hall.temperature);
    let mean = warming.mean(brought, warm, stood);
    let coldest = warming.coldest(brought, warm, stood);
    let mut found = ColdBagFound {
        brought_c: brought - ZERO_CELSIUS,
        hall_c: warm - ZERO_CELSIUS,
        hall_dew_point_c: hall.dew_point_c,
        hall_assumed: hall.assumed,
        stood_h: stood / 3600.0,
        opened_c: mean - ZERO_CELSIUS,
        coldest_c: coldest - ZERO_CELSIUS,
        time_constant_h: warming.constant / 3600.0,
        should_stand_h: warming
            .standing(brought, warm, hall.dew_point_c + ZERO_CELSIUS)
            .map(|seconds| seconds / 3600.0),
        condensed_ppm_dry: 0.0,
        wettest_after_min: 0.0,
        fed_c: coldest - ZERO_CELSIUS,
    };
    let mut fed = Fed {
        temperature: coldest,
        ..plain.clone()
    };
    if bag.open.si() >= LEAST_TIME {
        let open = Open::of(resin, plain, coldest, hall, bag.open, pressure)?;
        fed.temperature = open.temperature;
        fed.moisture += open.taken_up;
        fed.free_water = open.free_water;
        found.condensed_ppm_dry = 1e6 * (open.free_water - plain.free_water).max(0.0);
        found.wettest_after_min = open.after / 60.0;
        found.fed_c = open.temperature - ZERO_CELSIUS;
    }
    fed.bag = Some(found);
    Ok(fed)
}

/// Water that is worth a warning, ppm of dry resin: below it a warm breath of air takes it off
/// (common practice, no source).
const WORTH_TELLING: f64 = 20.0;

/// Warnings of a cold bag.
pub(crate) fn warnings(found: &ColdBagFound) -> Vec<Warning> {
    if found.condensed_ppm_dry < WORTH_TELLING {
        return Vec::new();
    }
    let mend = match found.should_stand_h {
        Some(hours) => format!(
            "let the closed bag stand in the hall for {:.0} h before it is opened",
            hours.ceil()
        ),
        None => "open the bag in a drier hall".to_owned(),
    };
    vec![Warning {
        text: format!(
            "the bag is opened while its pellets are at {:.0} degC, below the dew point of the hall, \
             {:.0} degC: {:.0} ppm of water condense on them",
            found.coldest_c, found.hall_dew_point_c, found.condensed_ppm_dry
        ),
        mend,
    }]
}

/// How a closed bag warms.
#[derive(Clone, Copy, Debug)]
struct Warming {
    /// Time constant of its mean, s.
    constant: f64,
    /// How much farther from the air its heart is than its mean.
    lag: f64,
}

impl Warming {
    fn of(bag: &ColdBag, resin: &Resin) -> Self {
        let (mass, area) = (bag.mass.si(), bag.area.si());
        let half = mass / (resin.bulk_density.value.si() * area);
        let outside = 1.0 / BAG_HEAT;
        let mean = outside + half / (3.0 * BED_CONDUCTIVITY);
        let heat = resin.heat_capacity_at(bag.temperature).si();
        Self {
            constant: mass * heat * mean / area,
            lag: (outside + half / (2.0 * BED_CONDUCTIVITY)) / mean,
        }
    }

    fn mean(&self, brought: f64, hall: f64, time: f64) -> f64 {
        hall + (brought - hall) * libm::exp(-time / self.constant)
    }

    /// The heart: as cold as it came, until the quasi-steady lag says more.
    fn coldest(&self, brought: f64, hall: f64, time: f64) -> f64 {
        let behind = self.lag * (self.mean(brought, hall, time) - hall);
        let most = brought - hall;
        hall + if most < 0.0 {
            behind.max(most)
        } else {
            behind.min(most)
        }
    }

    /// Time until the heart comes to a temperature; none when it never does.
    fn standing(&self, brought: f64, hall: f64, to: f64) -> Option<f64> {
        if brought >= to {
            return Some(0.0);
        }
        if hall <= to {
            return None;
        }
        let ratio = self.lag * (hall - brought) / (hall - to);
        Some(self.constant * libm::log(ratio).max(0.0))
    }
}

/// A pellet from the opened bag, at its wettest, or at the end where nothing condenses; SI.
struct Open {
    temperature: f64,
    taken_up: f64,
    free_water: f64,
    after: f64,
}

impl Open {
    fn of(
        resin: &Resin,
        plain: &Fed,
        coldest: f64,
        hall: &Hall,
        open: Duration,
        pressure: AbsolutePressure,
    ) -> Result<Self, DecideError> {
        let pellet = PelletSpec::of(resin)?;
        let inside = if pellet.isotherm.takes_up_water() {
            plain.moisture
        } else {
            0.0
        };
        let air = AirState {
            temperature: Temperature::from_si(hall.temperature),
            humidity: hall.ratio().into(),
        };
        let spec = HistorySpec {
            pellet,
            start: Start {
                temperature: Temperature::from_si(coldest),
                moisture: MoistureDryBasis::from_si(inside),
                free_water: MoistureDryBasis::from_si(plain.free_water),
            },
            pressure,
            segments: vec![Segment::steady(
                "open in the hall",
                open,
                air,
                Surround::Stream(Velocity::from_si(0.0)),
            )],
            moments: Vec::new(),
            fineness: None,
            precision: None,
        };
        let history = spec.check().map_err(DecideError::History)?;
        let curve = history.follow()?;
        let mut instants = curve.instants.iter();
        let first = instants.next();
        let wettest = instants.fold(first, |best, now| match best {
            Some(best) if best.free_water.si() > now.free_water.si() => Some(best),
            _ => Some(now),
        });
        Ok(wettest.map_or(
            Self {
                temperature: coldest,
                taken_up: 0.0,
                free_water: plain.free_water,
                after: 0.0,
            },
            |now| Self {
                temperature: now.pellet_temperature.si(),
                taken_up: now.mean.si() - inside,
                free_water: now.free_water.si(),
                after: now.time.si(),
            },
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 25 kg behind 0.9 m2, a time constant of two hours.
    const WARMING: Warming = Warming {
        constant: 7200.0,
        lag: 1.25,
    };

    #[test]
    fn exact_the_heart_is_at_the_dew_point_when_the_bag_has_stood() {
        let (brought, hall, dew) = (273.15, 295.15, 284.15);
        let time = WARMING.standing(brought, hall, dew).unwrap_or(0.0);
        assert!((time - 7200.0 * (1.25_f64 * 2.0).ln()).abs() < 1e-9);
        assert!((WARMING.coldest(brought, hall, time) - dew).abs() < 1e-9);
        assert!(WARMING.mean(brought, hall, time) > dew);
    }

    #[test]
    fn exact_a_bag_just_brought_in_is_as_cold_as_it_came() {
        assert!((WARMING.coldest(268.0, 295.0, 0.0) - 268.0).abs() < 1e-12);
        assert!((WARMING.mean(268.0, 295.0, 0.0) - 268.0).abs() < 1e-12);
        assert!((WARMING.coldest(310.0, 295.0, 0.0) - 310.0).abs() < 1e-12);
    }

    #[test]
    fn exact_a_bag_above_the_dew_point_may_be_opened_at_once() {
        assert_eq!(WARMING.standing(290.0, 295.0, 284.0), Some(0.0));
        assert_eq!(WARMING.standing(280.0, 284.0, 284.0), None);
    }
}
