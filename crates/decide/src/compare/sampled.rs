//! The doubt of resin, place and dryer carried through the closed loop.

use crate::DecideError;
use crate::case::Case;
use crate::closed::{settle, stations};
use crate::compare::kinds::Batches;
use crate::compare::moment::Now;
use crate::doubt;
use crate::outlet::Outlet;
use crate::resolve::Given;
use dryer::Stream;
use line::equipment::{Equipment, Machine};
use line::{Line, LineSteady, Room, usual};
use quantity::Quantity;
use rayon::prelude::*;
use serde::Serialize;
use std::sync::atomic::{AtomicU32, Ordering};
use uncertainty::{Design, ENOUGH_BEYOND, Interval, share_above, share_below};

/// Hoppers that run at once, and how many draws are made of them from which seed.
pub(crate) struct Asked<'a> {
    pub(crate) cases: &'a [Case],
    pub(crate) given: &'a [Given],
    pub(crate) samples: u32,
    pub(crate) seed: u32,
}

/// What came of the draws.
pub(crate) struct Sampled {
    /// Each hopper.
    pub(crate) hoppers: Vec<HopperSampled>,
    /// Share that meets the limit of every hopper.
    pub(crate) probability: f64,
    /// Share whose resin is lost, and to what: counted, or from the tails where few draws are.
    pub(crate) lost: LostShares,
    /// Energy of each draw, kWh per kg of resin as weighed; none where it could not be solved.
    pub(crate) energies: Vec<Option<f64>>,
}

/// Shares of draws whose resin is lost, each counted once, by what is seen first: what leaves wet is not asked
/// whether it was cooked, nor what was cooked whether it is too dry.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct LostShares {
    /// The resin of a hopper leaves wetter than its limit.
    pub wet: f64,
    /// It is hot for longer than it bears at the temperature of its air.
    pub cooked: f64,
    /// It leaves drier than its lower edge.
    pub too_dry: f64,
}

impl LostShares {
    /// All that is lost.
    pub fn all(&self) -> f64 {
        self.wet + self.cooked + self.too_dry
    }

    /// Above the limit and below the lower edge by the tails of the draws, hopper by hopper.
    fn of_the_tails(hoppers: &[HopperSampled], cases: &[Case]) -> Self {
        let sum = |share: &dyn Fn(&HopperSampled, &Case) -> f64| {
            let each = hoppers.iter().zip(cases);
            each.map(|(hopper, case)| share(hopper, case)).sum::<f64>()
        };
        let below =
            |draws: &[f64], edge: Option<f64>| edge.map_or(0.0, |edge| share_below(draws, edge));
        let wet = sum(&|hopper, case| share_above(&hopper.draws, case.limit)).min(1.0);
        let too_dry = sum(&|hopper, case| below(&hopper.draws, case.lower_edge));
        Self {
            wet,
            cooked: 0.0,
            too_dry: too_dry.min(1.0 - wet),
        }
    }
}

/// What the resin of a draw is lost to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Loss {
    Wet,
    Cooked,
    TooDry,
}

/// What one draw comes to.
struct Drawn {
    /// Water left in the resin of each hopper, kg/kg dry.
    outlets: Vec<f64>,
    /// How long the resin of each hopper is hot, s.
    stays: Vec<f64>,
    /// Current of all together, W.
    power: f64,
}

/// A draw that could be solved.
struct Solved {
    outlets: Vec<f64>,
    /// kWh/kg.
    energy: f64,
    lost: Option<Loss>,
}

/// What came of the draws for one hopper, kg/kg dry.
pub(crate) struct HopperSampled {
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

impl HopperSampled {
    /// What a share of the draws lies below; the best value where nothing was drawn.
    pub(crate) fn quantile(&self, share: f64) -> f64 {
        Interval::of(&self.draws, (2.0 * share - 1.0).max(0.0))
            .map_or(self.mean, |found| found.high)
    }
}

/// Doubt of the dew point that a desiccant of no measured machine gives, K, one standard deviation:
/// published isotherms of one zeolite part by 17 K at one state, two deviations to each side.
const DESICCANT_DOUBT: f64 = 4.0;
/// Doubt of the dew point of compressed air, K (common practice, no source: sensor and dryer).
const COMPRESSED_AIR_DOUBT: f64 = 2.0;
/// Change of the logarithm of humidity with 1 K of frost point near -40 degC.
const PER_KELVIN: f64 = 0.11;
/// Dimensions of the design that the first hopper takes, before that of the dryer; each further hopper
/// takes as many behind it, up to the last there are.
const DRYER_DIMENSION: u32 = 60;
/// The dimension of a hopper that the longest stay of its resin takes.
const HOLD_DIMENSION: u32 = 59;
const DIMENSIONS: u32 = 256;

impl<'a> Asked<'a> {
    pub(super) fn of(now: &'a Now<'_>, (samples, seed): (u32, u32)) -> Self {
        Self {
            cases: &now.cases,
            given: &now.run.given,
            samples,
            seed,
        }
    }

    /// Draws, each through the whole loop.
    pub(crate) fn closed(
        &self,
        equipment: &Equipment,
        line: &Line,
        steady: &LineSteady,
        told: &(dyn Fn(f64) + Sync),
    ) -> Result<Sampled, DecideError> {
        let (mut means, mut ratios) = (Vec::new(), Vec::new());
        let stays: Vec<f64> = self.cases.iter().map(Case::residence).collect();
        for (case, served) in self.cases.iter().zip(&steady.stations) {
            let nominal = Outlet::of(&with_air(case, &served.inlet))?;
            means.push(nominal.mean);
            // Pellets and streams widen the mean of the mean pellet by this.
            ratios.push(nominal.ratio());
        }
        let draws = self.draws(told, |drawn, deviation| {
            let mut found = draw(equipment, line, steady, drawn, deviation)?;
            for (mean, ratio) in found.outlets.iter_mut().zip(&ratios) {
                *mean *= ratio;
            }
            Ok(found)
        });
        Ok(self.sampled(&means, &stays, &draws))
    }

    /// Draws, each through a dryer with chambers of its own; `nominal` is what it most likely leaves, and how long
    /// the resin then is hot.
    pub(crate) fn in_batches(
        &self,
        dryer: &dyn Batches,
        room: &Room,
        nominal: (&[f64], &[f64]),
        told: &(dyn Fn(f64) + Sync),
    ) -> Sampled {
        let draws = self.draws(told, |drawn, deviation| {
            let dried = dryer.dry(drawn, room, deviation)?;
            Ok(Drawn {
                outlets: dried.outlets,
                stays: dried.stays,
                power: dried.account.electric_power(),
            })
        });
        self.sampled(nominal.0, nominal.1, &draws)
    }

    /// Each draw of all hoppers and the deviate of the dryer, through `dry`; none of a draw that cannot be solved.
    fn draws(
        &self,
        told: &(dyn Fn(f64) + Sync),
        dry: impl Fn(&[Case], f64) -> Result<Drawn, DecideError> + Sync,
    ) -> Vec<Option<Solved>> {
        let design = Design { seed: self.seed };
        let done = AtomicU32::new(0);
        let coarse: Vec<Case> = self.cases.iter().map(Case::coarse).collect();
        (0..self.samples)
            .into_par_iter()
            .map(|index| {
                let drawn: Result<Vec<Case>, DecideError> = coarse
                    .iter()
                    .zip(self.given)
                    .enumerate()
                    .map(|(hopper, (case, given))| {
                        let of = self.dimensions_of(hopper);
                        let deviate = |dimension| design.normal(index, of(dimension));
                        doubt::drawn(case, given, &deviate)
                    })
                    .collect();
                let found = drawn.and_then(|drawn| {
                    let found = dry(&drawn, design.normal(index, DRYER_DIMENSION))?;
                    Ok((drawn, found))
                });
                let count = done.fetch_add(1, Ordering::Relaxed) + 1;
                told(f64::from(count) / f64::from(self.samples));
                let (drawn, found) = found.ok()?;
                let rate: f64 = drawn.iter().map(Case::wet_rate).sum();
                let held = |hopper: usize| {
                    let of = self.dimensions_of(hopper);
                    design.normal(index, of(HOLD_DIMENSION))
                };
                Some(Solved {
                    lost: self.lost(&drawn, &found.outlets, &found.stays, &held),
                    outlets: found.outlets,
                    energy: found.power / rate / 3.6e6,
                })
            })
            .collect()
    }

    /// The dimension of the design that each dimension of a hopper's doubt takes: the laws of a resin
    /// are in doubt once, in however many hoppers it stands.
    fn dimensions_of(&self, hopper: usize) -> impl Fn(u32) -> u32 {
        /// Diffusivity, isotherm, heat capacity and bulk density among the dimensions of a case.
        const LAWS: [u32; 4] = [0, 1, 2, 7];
        let key = |index: usize| self.cases.get(index).map(|case| &case.lead.resin.key);
        let first = (0..hopper).find(|index| key(*index) == key(hopper));
        let offset = |index: usize| {
            let hoppers = DIMENSIONS / (DRYER_DIMENSION + 1);
            (u32::try_from(index).unwrap_or(0) % hoppers) * (DRYER_DIMENSION + 1)
        };
        let own = offset(hopper);
        let laws = offset(first.unwrap_or(hopper));
        move |dimension| dimension + if LAWS.contains(&dimension) { laws } else { own }
    }

    /// What the resin of all hoppers is lost to, where the longest stay of each is in doubt by the deviate `held`.
    fn lost(
        &self,
        drawn: &[Case],
        outlets: &[f64],
        stays: &[f64],
        held: &dyn Fn(usize) -> f64,
    ) -> Option<Loss> {
        let limits = self.cases.iter().zip(drawn).zip(outlets).zip(stays);
        let each = limits.enumerate();
        each.filter_map(|(hopper, (((case, drawn), outlet), stay))| {
            let borne = drawn.hold() * doubt::of_the_hold(drawn, held(hopper));
            if *outlet > case.limit {
                Some(Loss::Wet)
            } else if *stay > borne {
                Some(Loss::Cooked)
            } else if case.lower_edge.is_some_and(|edge| *outlet < edge) {
                Some(Loss::TooDry)
            } else {
                None
            }
        })
        .min()
    }

    /// What the draws say, beside what most likely leaves each hopper and how long it is hot.
    fn sampled(&self, means: &[f64], stays: &[f64], all: &[Option<Solved>]) -> Sampled {
        let solved: Vec<&Solved> = all.iter().flatten().collect();
        let draws: Vec<&[f64]> = solved.iter().map(|draw| draw.outlets.as_slice()).collect();
        let losses: Vec<Option<Loss>> = if solved.is_empty() {
            vec![self.lost(self.cases, means, stays, &|_| 0.0)]
        } else {
            solved.iter().map(|draw| draw.lost).collect()
        };
        let lost_to = |loss: Loss| {
            let found = losses.iter().filter(|found| **found == Some(loss)).count();
            found as f64 / losses.len() as f64
        };
        let share = |met: &dyn Fn(&[f64]) -> bool| {
            if draws.is_empty() {
                f64::from(u8::from(met(means)))
            } else {
                draws.iter().filter(|draw| met(draw)).count() as f64 / draws.len() as f64
            }
        };
        let limits = || self.cases.iter().map(|case| case.limit);
        let hoppers: Vec<HopperSampled> = means
            .iter()
            .zip(limits())
            .enumerate()
            .map(|(index, (mean, limit))| {
                let at = |draw: &[f64]| draw.get(index).copied().unwrap_or(f64::INFINITY);
                let own: Vec<f64> = draws.iter().map(|draw| at(draw)).collect();
                let interval = Interval::of(&own, 0.9);
                HopperSampled {
                    mean: *mean,
                    low: interval.map_or(*mean, |found| found.low),
                    high: interval.map_or(*mean, |found| found.high),
                    probability: share(&|draw| at(draw) <= limit),
                    draws: own,
                }
            })
            .collect();
        let counted = LostShares {
            wet: lost_to(Loss::Wet),
            cooked: lost_to(Loss::Cooked),
            too_dry: lost_to(Loss::TooDry),
        };
        let enough = counted.all() * draws.len() as f64 >= ENOUGH_BEYOND as f64;
        Sampled {
            lost: if enough || draws.is_empty() {
                counted
            } else {
                LostShares {
                    cooked: counted.cooked,
                    ..LostShares::of_the_tails(&hoppers, self.cases)
                }
            },
            hoppers,
            energies: all
                .iter()
                .map(|draw| draw.as_ref().map(|draw| draw.energy))
                .collect(),
            probability: share(&|draw| {
                draw.iter()
                    .zip(limits())
                    .all(|(mean, limit)| *mean <= limit)
            }),
        }
    }
}

/// Doubt of the logarithm of the humidity that a dryer gives, one standard deviation.
pub(crate) fn humidity_doubt(equipment: &Equipment) -> f64 {
    let beside = |leaks: f64| libm::hypot(PER_KELVIN * DESICCANT_DOUBT, leaks);
    match &equipment.machine {
        Machine::Wheel(dryer) if dryer.wheel.seal_leak.si() > 0.0 => beside(usual::SEAL_DOUBT),
        Machine::Towers(dryer) if dryer.bed.bypass.iter().any(|by| by.si() > 0.0) => {
            beside(usual::VALVE_DOUBT)
        }
        Machine::Wheel(_) | Machine::Towers(_) => PER_KELVIN * DESICCANT_DOUBT,
        Machine::Compressed(_) => PER_KELVIN * COMPRESSED_AIR_DOUBT,
        Machine::HotAir(_) => 0.0,
    }
}

/// A case in the air it is served with.
pub(crate) fn with_air(case: &Case, air: &Stream) -> Case {
    Case {
        air_flow: air.dry_air,
        air_temperature: air.temperature,
        air_humidity: air.humidity,
        ..case.clone()
    }
}

/// One draw: the loop settles with its resins, then its supply is as dry as the doubt of the dryer
/// makes it.
fn draw(
    equipment: &Equipment,
    line: &Line,
    steady: &LineSteady,
    drawn: &[Case],
    deviation: f64,
) -> Result<Drawn, DecideError> {
    let Some(heater) = line.stations.first().map(|station| station.heater) else {
        return Err(DecideError::NoDryer);
    };
    let now = Line {
        stations: stations(drawn, heater)?,
        ..line.clone()
    };
    let found = settle(&now, Some(&steady.guess), &equipment.title)?;
    let doubt = humidity_doubt(equipment);
    let stays = drawn.iter().map(Case::residence).collect();
    let served = drawn.iter().zip(&found.stations);
    let outlets = served
        .map(|(drawn, served)| {
            if doubt == 0.0 {
                let bed = &served.steady;
                return Ok(bed.outlet_moisture + bed.outlet_free_water);
            }
            let mut air = served.inlet;
            air.humidity *= libm::exp(doubt * deviation);
            doubt::one(&with_air(drawn, &air))
        })
        .collect::<Result<_, DecideError>>()?;
    Ok(Drawn {
        outlets,
        stays,
        power: found.account.electric_power(),
    })
}
