//! A half-cycle from swap to swap: what left both towers, and the numbers read off it.

use super::clock::{Clock, Stage};
use super::in_time::{Gathered, TowersState, lost};
use super::spec::{Ending, Meets, Swap, Towers, TowersDrive};
use crate::condensation_temperature;
use crate::{DryerError, Stream};

/// How far above the mean the dried air counts as disturbed, K.
const DISTURBED: f64 = 10.0;
/// Most steps of a half-cycle.
const STEPS: usize = 2_000_000;

/// One step of a half-cycle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// Seconds since the swap, at the end of the step.
    pub time: f64,
    /// Seconds it lasted.
    pub duration: f64,
    /// Where the cycle was.
    pub clock: Clock,
    /// Mean dried air, bypass included.
    pub dry: Stream,
    /// Mean air leaving the other tower.
    pub off_line: Option<Stream>,
}

/// The dried air of a half-cycle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlet {
    /// Mean.
    pub mean: Stream,
    /// Temperature at which the mean begins to shed water, K.
    pub dew_point: f64,
    /// Hottest, K: after the swap.
    pub hottest: f64,
    /// Highest dew point, K.
    pub wettest_dew_point: f64,
    /// Seconds in which it is more than 10 K hotter than its mean.
    pub hot_for: f64,
    /// Seconds in which its dew point is more than 10 K above that of the mean.
    pub wet_for: f64,
    /// Temperature (K) and dew point (K) half-way: what it settles at.
    pub settled: (f64, f64),
    /// Dew point before the next swap, K.
    pub last_dew_point: f64,
}

/// What regeneration did in a half-cycle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Regenerated {
    /// Seconds of hot air, and of cooling air.
    pub seconds: (f64, f64),
    /// Water taken away by the hot air, kg.
    pub water: f64,
    /// Mean air that left, over the time in which it flowed.
    pub exhaust: Stream,
    /// Temperature (K) and dew point (K) of the air leaving when half of the water has left.
    pub plateau: (f64, f64),
    /// Seconds of regeneration until its air leaves half-way between plateau and inlet: the water is gone.
    pub end_signal: Option<f64>,
    /// Temperature of the air leaving at the end of regeneration, K.
    pub last_temperature: f64,
    /// Temperature of the air leaving at the end of cooling, K.
    pub cooled_to: Option<f64>,
    /// Whether the swap came before the stages were over.
    pub cut_short: bool,
}

/// A half-cycle.
#[derive(Clone, Debug, PartialEq)]
pub struct Half {
    /// The tower that dried.
    pub drying: usize,
    /// Seconds.
    pub duration: f64,
    /// The dried air.
    pub outlet: Outlet,
    /// What happened to the other tower.
    pub regenerated: Regenerated,
    /// Step by step.
    pub moments: Vec<Moment>,
}

impl Half {
    /// The same with the towers exchanged.
    pub(crate) fn exchanged(&self) -> Self {
        let mut other = self.clone();
        other.drying = 1 - self.drying;
        for moment in &mut other.moments {
            moment.clock.drying = 1 - moment.clock.drying;
        }
        other
    }
}

impl Regenerated {
    /// Heat to warm the regeneration air from a temperature (K), J for each kg of water taken away.
    pub fn heat_per_water(&self, regeneration: &Stream, from: f64) -> f64 {
        let rise = regeneration.heat() - regeneration.at(from).heat();
        rise * self.seconds.0 / self.water
    }
}

impl Towers {
    /// Runs to the next swap, or as long as the clock would let it where a valve is stuck.
    ///
    /// # Errors
    /// Airs that cannot be; a state that is no longer finite.
    pub fn half(&self, state: &mut TowersState, drive: &TowersDrive) -> Result<Half, DryerError> {
        self.check_drive(drive)?;
        self.half_meeting(state, drive, &self.meets(drive))
    }

    pub(crate) fn half_meeting(
        &self,
        state: &mut TowersState,
        drive: &TowersDrive,
        meets: &Meets,
    ) -> Result<Half, DryerError> {
        let drying = state.clock.drying;
        let longest = match self.spec.cycle.swap {
            Swap::Clock(after) => after,
            Swap::DewPoint { latest, .. } => latest,
        };
        let stuck = self.spec.cycle.stuck.is_some();
        let (mut moments, mut time) = (Vec::new(), 0.0);
        for _ in 0..STEPS {
            let most = if stuck { longest - time } else { f64::INFINITY };
            let step = self.step(state, drive, meets, most);
            if !(step.dry.temperature.is_finite() && step.dry.humidity.is_finite()) {
                break;
            }
            time += step.duration;
            moments.push(Moment {
                time,
                duration: step.duration,
                clock: step.before,
                dry: step.dry,
                off_line: step.off_line,
            });
            if step.swapped || stuck && time >= longest * (1.0 - 1e-9) {
                return Ok(Half {
                    drying,
                    duration: time,
                    outlet: self.outlet(&moments, time),
                    regenerated: self.regenerated(&moments, drive),
                    moments,
                });
            }
        }
        Err(lost(moments.len(), f64::INFINITY))
    }

    fn dew_point(&self, air: &Stream) -> f64 {
        condensation_temperature(air.humidity, self.spec.pressure)
    }

    fn outlet(&self, moments: &[Moment], duration: f64) -> Outlet {
        let mut gathered = Gathered::default();
        for moment in moments {
            gathered.add(&moment.dry, moment.duration);
        }
        let mean = gathered.stream(duration, &moments[0].dry);
        let dew_point = self.dew_point(&mean);
        let mut outlet = Outlet {
            mean,
            dew_point,
            hottest: 0.0,
            wettest_dew_point: 0.0,
            hot_for: 0.0,
            wet_for: 0.0,
            settled: (mean.temperature, dew_point),
            last_dew_point: dew_point,
        };
        let mut wettest = 0.0_f64;
        let wet = self.dew_point_humidity(dew_point + DISTURBED, mean.humidity);
        for moment in moments {
            let air = &moment.dry;
            outlet.hottest = outlet.hottest.max(air.temperature);
            wettest = wettest.max(air.humidity);
            if air.temperature > mean.temperature + DISTURBED {
                outlet.hot_for += moment.duration;
            }
            if air.humidity > wet {
                outlet.wet_for += moment.duration;
            }
        }
        outlet.wettest_dew_point = condensation_temperature(wettest, self.spec.pressure);
        let middle = moments.iter().find(|moment| moment.time >= 0.5 * duration);
        if let Some(moment) = middle {
            outlet.settled = (moment.dry.temperature, self.dew_point(&moment.dry));
        }
        if let Some(moment) = moments.last() {
            outlet.last_dew_point = self.dew_point(&moment.dry);
        }
        outlet
    }

    /// Humidity ratio of a dew point (K) above that of `drier`, by bisection.
    fn dew_point_humidity(&self, dew_point: f64, drier: f64) -> f64 {
        let (mut low, mut high) = (libm::log(drier.max(1e-12)), 0.0);
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if condensation_temperature(libm::exp(middle), self.spec.pressure) < dew_point {
                low = middle;
            } else {
                high = middle;
            }
        }
        libm::exp(high)
    }

    fn regenerated(&self, moments: &[Moment], drive: &TowersDrive) -> Regenerated {
        let inlet = &drive.regeneration;
        let of = |stage: Stage| {
            moments
                .iter()
                .filter(move |moment| moment.clock.stage == stage)
                .filter_map(|moment| moment.off_line.map(|air| (moment, air)))
        };
        let mut gathered = Gathered::default();
        let (mut water, mut seconds) = (0.0, 0.0);
        let carried =
            |air: &Stream, duration: f64| (air.humidity - inlet.humidity) * air.dry_air * duration;
        for (moment, air) in of(Stage::Regenerating) {
            gathered.add(&air, moment.duration);
            water += carried(&air, moment.duration);
            seconds += moment.duration;
        }
        let (mut plateau, mut end_signal) = (None, None);
        let (mut left, mut so_far, mut last_temperature) = (0.0, 0.0, inlet.temperature);
        for (moment, air) in of(Stage::Regenerating) {
            left += carried(&air, moment.duration);
            so_far += moment.duration;
            last_temperature = air.temperature;
            if plateau.is_none() && left >= 0.5 * water {
                plateau = Some((air.temperature, self.dew_point(&air)));
            }
            if let (Some((level, _)), None) = (plateau, end_signal)
                && air.temperature >= 0.5 * (level + inlet.temperature)
            {
                end_signal = Some(so_far);
            }
        }
        let cooling: f64 = of(Stage::Cooling).map(|(moment, _)| moment.duration).sum();
        let waited = moments
            .last()
            .is_some_and(|moment| moment.clock.stage == Stage::Waiting);
        let just = moments.last().is_some_and(|moment| {
            let since = moment.clock.in_stage + moment.duration * (1.0 + 1e-9);
            let by_clock = |ending: Ending| ending.latest() <= since;
            match moment.clock.stage {
                Stage::Regenerating => {
                    by_clock(self.spec.cycle.regeneration)
                        && self.spec.cycle.cooling.latest() <= 0.0
                }
                Stage::Cooling => by_clock(self.spec.cycle.cooling),
                Stage::Waiting => true,
            }
        });
        Regenerated {
            seconds: (seconds, cooling),
            water,
            exhaust: gathered.stream(seconds, inlet),
            plateau: plateau.unwrap_or((inlet.temperature, self.dew_point(inlet))),
            end_signal,
            last_temperature,
            cooled_to: of(Stage::Cooling)
                .next_back()
                .map(|(_, air)| air.temperature),
            cut_short: !(waited || just),
        }
    }
}
