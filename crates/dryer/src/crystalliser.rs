//! Crystalliser: amorphous resin stirred hot until it no longer sticks, by hot air or by infrared.
//!
//! # Equations
//! 1. Residence: N equal stirred stages, `E(t) = N/tau (N t/tau)^(N-1)/(N-1)! e^(-N t/tau)`; N = 1 is one stirred
//!    vessel, many a drum with a screw.
//! 2. Avrami's law with the time to half, `X(t) = 1 - 2^-(t/t_half)^n`, and its mean over E(t).
//! 3. The time to half moves with temperature as `t_half = t_0 exp(E/R (1/T - 1/T_0))`, within the range given
//!    with it.
//! 4. Heat: `Q = rate (c (T - T_feed) + V - X L)`, L the heat that crystallising gives off, V what the water
//!    that leaves takes with it; power `Q/eta + drive`.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! tau, N | `residence`, `stages` | s,
//! t_0, n, E | `Avrami` | s, , J/mol
//! eta | `efficiency` |
//! L, V | `Feed::heat`, `Feed::evaporation` | J/kg
//!
//! # Holds for
//! One temperature of the resin, reached at once; share of what can crystallise, not crystallinity. **No
//! parameters of Avrami's law were readable for any resin**, so none stand here: they are the user's, measured on the
//! resin, or the answer is only whether the residence is as long as common practice asks, and `share` stays
//! unknown. Read in an abstract of 1967 on undrawn polyester filaments: an activation energy of 184 kJ/mol (44 kcal/mol)
//! between 100 and 115 degC, with an induction time and first order (n = 1). How much water leaves meanwhile is the
//! pellet's part: [`Crystalliser::air`] is what it meets, and [`Crystalliser::mean_over_residence`] for how long.
//!
//! # Sources
//! Isothermal crystallization measurements on poly(ethylene terephthalate) by differential enthalpic analysis,
//! J. Appl. Polym. Sci. 11 (1967), 10.1002/app.1967.070111121 (abstract). Avrami's law from memory of textbooks.
//!
//! # Checked by
//! Closed forms below.

use crate::asked::Asked;
use crate::{DryerError, Stream};
use quantity::constants::{MOLAR_GAS, ZERO_CELSIUS};
use quantity::{
    Duration, Faults, Fraction, Ledger, MolarEnergy, Power, Quantity, Range, Temperature,
};

/// Mean residence.
pub const RESIDENCE_HOLDS: Range = Range::new("residence", 30.0, 1e5, "s");
/// Stages.
pub const STAGES_HOLDS: Range = Range::new("number of stages", 1.0, 100.0, "");
/// Temperatures of the resin.
pub const CRYSTALLISING_HOLDS: Range =
    Range::new("temperature of crystallising", 40.0, 230.0, "degC");
/// Share of the power that reaches the resin.
pub const RADIANT_HOLDS: Range =
    Range::new("share of the power that reaches the resin", 0.05, 1.0, "");
/// Powers of agitator or drum.
pub const DRIVE_HOLDS: Range = Range::new("power of the drive", 0.0, 1e6, "W");
/// Times to half.
pub const HALF_TIME_HOLDS: Range = Range::new("time to half", 0.1, 1e6, "s");
/// Exponents of Avrami's law.
pub const AVRAMI_HOLDS: Range = Range::new("exponent of Avrami's law", 0.5, 4.5, "");
/// Activation energies.
pub const ACTIVATION_HOLDS: Range = Range::new("activation energy", 0.0, 500.0, "kJ/mol");
/// Rates of resin.
pub const RESIN_RATE_HOLDS: Range = Range::new("rate of resin", 0.0, 50.0, "kg/s");
/// Heat capacities of resin.
pub const RESIN_CAPACITY_HOLDS: Range = Range::new("heat capacity", 500.0, 5000.0, "J/(kg K)");
/// Heats of crystallising.
pub const RELEASED_HOLDS: Range = Range::new("heat of crystallising", 0.0, 3e5, "J/kg");
/// Heats that leave with water.
pub const EVAPORATED_HOLDS: Range = Range::new("heat that leaves with water", 0.0, 3e5, "J/kg");
/// Residence that common practice asks for, s: half an hour in agitated hot air, a quarter in an infrared drum
/// (no source read for either).
pub const USUAL_RESIDENCE: (f64, f64) = (1800.0, 900.0);

/// How the heat comes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Heating {
    /// Hot air of a flow (dry air, kg/s) and humidity ratio through an agitated bed.
    HotAir {
        /// The air.
        air: Stream,
    },
    /// Infrared onto a rotating drum, in air of the hall or of a purge.
    Infrared {
        /// The air over the resin.
        air: Stream,
    },
}

/// Avrami's law as measured on the resin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Avrami {
    /// Time to half of what can crystallise.
    pub half_time: Duration,
    /// Temperature at which that was measured.
    pub measured_at: Temperature,
    /// Exponent.
    pub exponent: f64,
    /// How the rate moves with temperature.
    pub activation: MolarEnergy,
    /// Lowest and highest temperature for which that holds.
    pub holds: (Temperature, Temperature),
}

/// A crystalliser as it is run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CrystalliserSpec {
    /// How the heat comes.
    pub heating: Heating,
    /// Mean residence.
    pub residence: Duration,
    /// Stages that its mixing is as good as.
    pub stages: u32,
    /// Temperature of the resin.
    pub temperature: Temperature,
    /// Share of the heater's power that reaches the resin.
    pub efficiency: Fraction,
    /// Power of the agitator or drum.
    pub drive: Power,
    /// How the resin crystallises, where it was measured.
    pub law: Option<Avrami>,
}

/// A checked crystalliser.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crystalliser {
    spec: CrystalliserSpec,
    /// Time to half at the temperature of the resin, s, and exponent.
    law: Option<(f64, f64)>,
}

/// Resin that comes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feed {
    /// Rate, kg/s.
    pub rate: f64,
    /// Temperature, K.
    pub temperature: f64,
    /// Heat capacity, mean over the way, J/(kg K).
    pub heat_capacity: f64,
    /// Heat given off when all that can crystallise does, J/kg.
    pub heat: f64,
    /// Heat that leaves with its water, J/kg.
    pub evaporation: f64,
}

/// Resin that leaves, and what it took.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crystallised {
    /// Resin that came.
    pub feed: Feed,
    /// Temperature of the resin that leaves, K: the hopper behind is fed hot and its return air is hot.
    pub temperature: f64,
    /// Share of what can crystallise that has, in the mean; unknown without a measured law.
    pub share: Option<f64>,
    /// Share of the resin that stayed less than half the mean residence: what may still stick in the hopper.
    pub hurried: f64,
    /// Whether the residence is as long as common practice asks for this way of heating.
    pub as_long_as_usual: bool,
    /// Heat to the resin, W.
    pub useful: f64,
    /// Power of heater and drive, W.
    pub power: f64,
    /// Heat that does not reach the resin, W.
    pub lost: f64,
    /// Heat that the hopper behind need not bring, compared with resin at the feed's temperature, W.
    pub spared: f64,
}

impl CrystalliserSpec {
    /// The crystalliser, or every mistake in it.
    ///
    /// # Errors
    /// A number outside its range, or a law asked for outside the temperatures it holds for.
    pub fn check(&self) -> Result<Crystalliser, Faults> {
        let mut asked = Asked::new();
        asked.number("residence", self.residence.si(), &RESIDENCE_HOLDS);
        asked.number("stages", f64::from(self.stages), &STAGES_HOLDS);
        asked.number(
            "temperature",
            self.temperature.celsius(),
            &CRYSTALLISING_HOLDS,
        );
        asked.number("efficiency", self.efficiency.si(), &RADIANT_HOLDS);
        asked.number("drive", self.drive.si(), &DRIVE_HOLDS);
        let air = self.heating.air();
        asked.number(
            "heating.air.dry_air",
            air.dry_air,
            &crate::STREAM_FLOW_HOLDS,
        );
        asked.number(
            "heating.air.humidity",
            air.humidity,
            &crate::STREAM_HUMIDITY_HOLDS,
        );
        let law = self.law.map(|law| {
            let half = asked.number("law.half_time", law.half_time.si(), &HALF_TIME_HOLDS);
            let exponent = asked.number("law.exponent", law.exponent, &AVRAMI_HOLDS);
            let activation = 1e3
                * asked.number("law.activation", law.activation.kj_per_mol(), &ACTIVATION_HOLDS);
            let at = ZERO_CELSIUS
                + asked.number(
                    "law.measured_at",
                    law.measured_at.celsius(),
                    &CRYSTALLISING_HOLDS,
                );
            let (low, high) = (law.holds.0.kelvin(), law.holds.1.kelvin());
            let now = self.temperature.kelvin();
            if !(low <= now && now <= high && low <= at && at <= high) {
                asked.contradiction(
                    "law.holds",
                    now - ZERO_CELSIUS,
                    "the law does not hold at the temperature of the resin, or where it was measured, degC",
                    "measure the time to half near this temperature, or leave the law out",
                );
            }
            let moved = half * libm::exp(activation / MOLAR_GAS * (1.0 / now - 1.0 / at));
            (moved, exponent)
        });
        asked.give(Some(Crystalliser { spec: *self, law }))
    }
}

impl Heating {
    fn air(&self) -> Stream {
        match self {
            Self::HotAir { air } | Self::Infrared { air } => *air,
        }
    }

    fn usual(&self) -> f64 {
        match self {
            Self::HotAir { .. } => USUAL_RESIDENCE.0,
            Self::Infrared { .. } => USUAL_RESIDENCE.1,
        }
    }
}

impl Crystalliser {
    /// Air that a pellet meets, at the temperature of the resin.
    pub fn air(&self) -> Stream {
        let spec = &self.spec;
        spec.heating.air().at(spec.temperature.kelvin())
    }

    /// Mean residence, s.
    pub fn residence(&self) -> f64 {
        self.spec.residence.si()
    }

    /// Mean of a function of the residence (s) over what leaves.
    pub fn mean_over_residence(&self, f: impl Fn(f64) -> f64) -> f64 {
        let residence = self.residence();
        mean_over_stages(self.spec.stages, |t| f(t * residence))
    }

    /// What becomes of the resin fed.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for resin that cannot be.
    pub fn run(&self, feed: &Feed) -> Result<Crystallised, DryerError> {
        DryerError::unless_within(&RESIN_RATE_HOLDS, feed.rate)?;
        DryerError::unless_within(&RESIN_CAPACITY_HOLDS, feed.heat_capacity)?;
        DryerError::unless_within(&RELEASED_HOLDS, feed.heat)?;
        DryerError::unless_within(&EVAPORATED_HOLDS, feed.evaporation)?;
        DryerError::unless_between(
            "temperature of the feed",
            feed.temperature,
            "K",
            (233.15, 523.15),
        )?;
        let spec = &self.spec;
        let residence = spec.residence.si();
        let share = self.law.map(|(half, exponent)| {
            mean_over_stages(spec.stages, |t| {
                crystallised(t * residence / half, exponent)
            })
        });
        let temperature = spec.temperature.kelvin();
        let warmed = feed.rate * feed.heat_capacity * (temperature - feed.temperature);
        let released = feed.rate * feed.heat * share.unwrap_or(0.0);
        let evaporated = feed.rate * feed.evaporation;
        let useful = (warmed + evaporated - released).max(0.0);
        let heater = useful / spec.efficiency.si();
        let short = |t: f64| if t < 0.5 { 1.0 } else { 0.0 };
        Ok(Crystallised {
            feed: *feed,
            temperature,
            share,
            hurried: mean_over_stages(spec.stages, short),
            as_long_as_usual: residence >= spec.heating.usual(),
            useful,
            power: heater + spec.drive.si(),
            lost: heater - useful + spec.drive.si(),
            spared: warmed,
        })
    }
}

impl Crystallised {
    /// Energy in and out, W.
    pub fn energy(&self) -> Ledger {
        Ledger::new("energy of the crystalliser", "W")
            .enter("electricity", self.power)
            .leave("resin", self.useful)
            .leave("losses", self.lost)
    }
}

/// Avrami's law over time in times to half.
fn crystallised(time: f64, exponent: f64) -> f64 {
    if time <= 0.0 {
        return 0.0;
    }
    let power = libm::exp(exponent * libm::log(time));
    -libm::expm1(-std::f64::consts::LN_2 * power)
}

/// Mean of `f` over the residence of N stirred stages, time counted in mean residences: equation 1 by the
/// trapezoidal rule in the logarithm of time, whose error falls faster than any power of the step.
fn mean_over_stages(stages: u32, f: impl Fn(f64) -> f64) -> f64 {
    const STEPS: i32 = 2000;
    let n = f64::from(stages);
    // From e^-18 to e^5 of the mean residence: 1e-8 of one stage is left out below, nothing above.
    let step = 23.0 / f64::from(STEPS);
    let ln_norm = n * libm::log(n) - libm::lgamma(n);
    let (mut sum, mut weights) = (0.0, 0.0);
    for index in 0..=STEPS {
        let ln_t = -18.0 + step * f64::from(index);
        let t = libm::exp(ln_t);
        let weight = libm::exp(ln_norm + n * ln_t - n * t);
        sum += weight * f(t);
        weights += weight;
    }
    sum / weights
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;
    use crate::asked::trials::at_the_ends;

    const AIR: Stream = Stream {
        dry_air: 0.1,
        temperature: 423.15,
        humidity: 0.008,
    };
    const FLAKE: Feed = Feed {
        rate: 0.1,
        temperature: 298.15,
        heat_capacity: 1400.0,
        heat: 3e4,
        evaporation: 0.0,
    };

    fn law(exponent: f64) -> Avrami {
        Avrami {
            half_time: Duration::from_si(300.0),
            measured_at: Temperature::from_celsius(110.0),
            exponent,
            activation: MolarEnergy::from_si(184e3),
            holds: (
                Temperature::from_celsius(100.0),
                Temperature::from_celsius(115.0),
            ),
        }
    }

    fn spec() -> CrystalliserSpec {
        CrystalliserSpec {
            heating: Heating::HotAir { air: AIR },
            residence: Duration::from_si(1800.0),
            stages: 1,
            temperature: Temperature::from_celsius(110.0),
            efficiency: Fraction::from_si(0.7),
            drive: Power::from_si(500.0),
            law: Some(law(1.0)),
        }
    }

    #[test]
    fn exact_first_order_over_stirred_stages() {
        // The mean of 1 - e^(-k t) over N stages is 1 - (1 + k tau/N)^-N.
        for stages in [1, 2, 5, 30, 100] {
            let crystalliser = CrystalliserSpec { stages, ..spec() }.check().unwrap();
            let share = crystalliser.run(&FLAKE).unwrap().share.unwrap();
            let n = f64::from(stages);
            let k = std::f64::consts::LN_2 * 1800.0 / 300.0;
            let expected = 1.0 - (1.0 + k / n).powf(-n);
            assert!(
                (share / expected - 1.0).abs() < 1e-7,
                "{stages}: {share} {expected}"
            );
        }
    }

    #[test]
    fn exact_one_stage_lets_four_in_ten_hurry() {
        let hurried = |stages| {
            let crystalliser = CrystalliserSpec { stages, ..spec() }.check().unwrap();
            crystalliser.run(&FLAKE).unwrap().hurried
        };
        // 1 - e^(-1/2) = 0.393; the step of the sum is 1 % of the time.
        assert!((hurried(1) - 0.3935).abs() < 5e-3);
        assert!(hurried(50) < 1e-4);
    }

    #[test]
    fn exact_half_time_moves_with_temperature() {
        let warmer = CrystalliserSpec {
            temperature: Temperature::from_celsius(115.0),
            ..spec()
        };
        let (half, _) = warmer.check().unwrap().law.unwrap();
        let expected = 300.0 * (184e3 / 8.314_462_618 * (1.0_f64 / 388.15 - 1.0 / 383.15)).exp();
        assert!((half / expected - 1.0).abs() < 1e-9 && half < 150.0);
        let hotter = CrystalliserSpec {
            temperature: Temperature::from_celsius(120.0),
            ..spec()
        };
        assert!(hotter.check().is_err());
    }

    #[test]
    fn holds_without_a_law_the_share_is_unknown_and_energy_closes() {
        let drum = CrystalliserSpec {
            heating: Heating::Infrared { air: AIR },
            law: None,
            stages: 20,
            residence: Duration::from_si(600.0),
            ..spec()
        };
        let left = drum.check().unwrap().run(&FLAKE).unwrap();
        assert!(left.share.is_none() && !left.as_long_as_usual);
        assert!(left.energy().imbalance() < 1e-12);
        // 85 K x 1.4 kJ/(kg K) = 0.033 kWh/kg to the resin.
        assert!((left.useful / FLAKE.rate / 3.6e6 - 0.0331).abs() < 1e-4);
        let known = spec().check().unwrap().run(&FLAKE).unwrap();
        assert!(known.useful < left.useful && known.energy().imbalance() < 1e-12);
        assert!((known.spared - left.spared).abs() < 1e-9 && known.as_long_as_usual);
    }

    #[test]
    fn holds_ranges_at_their_ends_and_every_mistake_told() {
        let with = |change: &dyn Fn(&mut CrystalliserSpec)| {
            let mut spec = spec();
            change(&mut spec);
            spec.check().is_ok()
        };
        at_the_ends(&RESIDENCE_HOLDS, |x| {
            with(&|spec| spec.residence = Duration::from_si(x))
        });
        at_the_ends(&CRYSTALLISING_HOLDS, |x| {
            with(&|spec| {
                spec.law = None;
                spec.temperature = Temperature::from_celsius(x);
            })
        });
        at_the_ends(&RADIANT_HOLDS, |x| {
            with(&|spec| spec.efficiency = Fraction::from_si(x))
        });
        at_the_ends(&DRIVE_HOLDS, |x| {
            with(&|spec| spec.drive = Power::from_si(x))
        });
        at_the_ends(&AVRAMI_HOLDS, |x| with(&|spec| spec.law = Some(law(x))));
        at_the_ends(&HALF_TIME_HOLDS, |x| {
            with(&|spec| {
                spec.law = Some(Avrami {
                    half_time: Duration::from_si(x),
                    ..law(1.0)
                });
            })
        });
        at_the_ends(&ACTIVATION_HOLDS, |x| {
            with(&|spec| {
                spec.law = Some(Avrami {
                    activation: MolarEnergy::from_si(1e3 * x),
                    ..law(1.0)
                });
            })
        });
        assert!(with(&|spec| spec.stages = 100) && !with(&|spec| spec.stages = 101));
        assert!(!with(&|spec| spec.stages = 0) && STAGES_HOLDS.contains(1.0));
        let crystalliser = spec().check().unwrap();
        let runs = |feed: Feed| crystalliser.run(&feed).is_ok();
        at_the_ends(&RESIN_RATE_HOLDS, |rate| runs(Feed { rate, ..FLAKE }));
        at_the_ends(&RESIN_CAPACITY_HOLDS, |heat_capacity| {
            runs(Feed {
                heat_capacity,
                ..FLAKE
            })
        });
        at_the_ends(&RELEASED_HOLDS, |heat| runs(Feed { heat, ..FLAKE }));
        at_the_ends(&EVAPORATED_HOLDS, |evaporation| {
            runs(Feed {
                evaporation,
                ..FLAKE
            })
        });
        let wrong = CrystalliserSpec {
            residence: Duration::from_si(f64::NAN),
            efficiency: Fraction::from_si(0.0),
            ..spec()
        };
        assert_eq!(wrong.check().unwrap_err().len(), 2);
    }
}
