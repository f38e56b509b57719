//! Heat exchanger between two streams of air that stay dry: heat of the return air for the fresh.
//!
//! # Equations
//! 1. `Q = eps C_min (T_hot - T_cold)`, `N = UA/C_min`, `C = C_min/C_max`.
//! 2. Counterflow: `eps = (1 - e^(-N(1-C)))/(1 - C e^(-N(1-C)))`, `N/(1+N)` at C = 1.
//! 3. Parallel: `eps = (1 - e^(-N(1+C)))/(1 + C)`.
//! 4. Crossflow, both unmixed: `eps = 1/(C N) sum_n g_n(N) g_n(C N)`, `g_n(x) = 1 - e^-x sum_(m<=n) x^m/m!`
//!    (Mason 1954), summed exactly.
//! 5. Flow: `1/UA = (1/UA_0) ((m_hot/m_0)^-n + (m_cold/m_0)^-n)/2`, both sides alike at the rated flow m_0;
//!    dirt takes a share of UA, or adds `R/A` to 1/UA.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! UA_0, m_0 | `conductance`, `rated_flow` | W/K, kg/s
//! n | `flow_exponent` |
//! C_min, C_max | smaller and larger heat capacity flow | W/K
//!
//! # Holds for
//! Steady, no heat to the hall, no water condensing: `may_condense` says when the hot stream is more
//! humid than air saturated at the cold inlet, the coldest the wall can be. Then heat is
//! understated, and [`crate::cooler`] is the component to take.
//!
//! # Sources
//! Kays and London (1984), Compact Heat Exchangers (from memory); Mason (1954), Heat transfer in
//! crossflow, Proc. 2nd U.S. Nat. Congr. Appl. Mech. (from memory).
//!
//! # Checked by
//! `tests/src/peers/heat_exchanger.rs`

use crate::asked::Asked;
use crate::cooler::saturated;
use crate::{DryerError, Stream};
use libm::{exp, expm1};
use quantity::{
    Area, Faults, FoulingResistance, Fraction, Ledger, MassFlow, Quantity, Range,
    ThermalConductance,
};

/// Transfer units of an exchanger.
pub const TRANSFER_UNITS_HOLDS: Range = Range::new("number of transfer units", 0.0, 50.0, "");
/// Smaller over larger heat capacity flow.
pub const CAPACITY_RATIO_HOLDS: Range = Range::new("ratio of heat capacity flows", 0.0, 1.0, "");
/// Conductance at the rated flow.
pub const CONDUCTANCE_HOLDS: Range = Range::new("conductance", 0.01, 1e6, "W/K");
/// Dry air at which a conductance is stated.
pub const RATED_FLOW_HOLDS: Range = Range::new("rated flow", 1e-5, 100.0, "kg/s");
/// How the coefficient grows with flow: none in laminar channels, 0.8 in turbulent ones.
pub const FLOW_EXPONENT_HOLDS: Range = Range::new("flow exponent", 0.0, 0.9, "");
/// Share of the conductance that dirt has taken.
pub const FOULED_SHARE_HOLDS: Range = Range::new("share lost to dirt", 0.0, 0.99, "");
/// What a layer of dirt adds to the resistance.
pub const FOULING_HOLDS: Range = Range::new("resistance of dirt", 0.0, 0.1, "m2 K/W");
/// Area of the wall.
pub const WALL_HOLDS: Range = Range::new("area of the wall", 1e-3, 1e4, "m2");

/// How two streams pass each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrangement {
    /// Against each other.
    Counterflow,
    /// The same way.
    Parallel,
    /// Across, neither mixed along its way: plate exchangers.
    Crossflow,
}

/// Dirt on the wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fouling {
    /// None.
    Clean,
    /// A share of the conductance is lost.
    Share(Fraction),
    /// A layer over the whole wall.
    Layer {
        /// What it adds.
        resistance: FoulingResistance,
        /// Over which area.
        area: Area,
    },
}

/// An exchanger as it is ordered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ExchangerSpec {
    /// How the streams pass.
    pub arrangement: Arrangement,
    /// Conductance when clean, with the rated flow on both sides.
    pub conductance: ThermalConductance,
    /// Dry air at which that holds.
    pub rated_flow: MassFlow,
    /// How it grows with flow.
    pub flow_exponent: Fraction,
    /// Dirt.
    pub fouling: Fouling,
}

/// A checked exchanger.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exchanger {
    arrangement: Arrangement,
    conductance: f64,
    rated_flow: f64,
    flow_exponent: f64,
    dirt: Dirt,
}

/// Checked dirt: share of the conductance that is left, and resistance in series, K/W.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Dirt {
    pub(crate) left: f64,
    pub(crate) series: f64,
}

/// Two streams that have met.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exchanged {
    /// The streams that came: hot, cold.
    pub inlets: [Stream; 2],
    /// The streams that leave: hot, cold.
    pub outlets: [Stream; 2],
    /// Heat from hot to cold, W.
    pub heat: f64,
    /// Heat over the most there could be.
    pub effectiveness: f64,
    /// Conductance at these flows, W/K.
    pub conductance: f64,
    /// Water may condense out of the hot stream, which is not followed here.
    pub may_condense: bool,
}

impl Fouling {
    pub(crate) fn asked(self, asked: &mut Asked) -> Dirt {
        match self {
            Self::Clean => Dirt {
                left: 1.0,
                series: 0.0,
            },
            Self::Share(share) => Dirt {
                left: 1.0 - asked.number("fouling", share.si(), &FOULED_SHARE_HOLDS),
                series: 0.0,
            },
            Self::Layer { resistance, area } => Dirt {
                left: 1.0,
                series: asked.number("fouling.resistance", resistance.si(), &FOULING_HOLDS)
                    / asked.number("fouling.area", area.si(), &WALL_HOLDS),
            },
        }
    }
}

impl ExchangerSpec {
    /// The exchanger, or every mistake in it.
    ///
    /// # Errors
    /// A number outside its range.
    pub fn check(&self) -> Result<Exchanger, Faults> {
        let mut asked = Asked::new();
        let exchanger = Exchanger {
            arrangement: self.arrangement,
            conductance: asked.number("conductance", self.conductance.si(), &CONDUCTANCE_HOLDS),
            rated_flow: asked.number("rated_flow", self.rated_flow.si(), &RATED_FLOW_HOLDS),
            flow_exponent: asked.number(
                "flow_exponent",
                self.flow_exponent.si(),
                &FLOW_EXPONENT_HOLDS,
            ),
            dirt: self.fouling.asked(&mut asked),
        };
        asked.give(Some(exchanger))
    }
}

impl Exchanger {
    /// Brings a hot and a cold stream together at about this pressure (Pa).
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for air it cannot take.
    pub fn exchange(
        &self,
        hot: &Stream,
        cold: &Stream,
        pressure: f64,
    ) -> Result<Exchanged, DryerError> {
        let (hot, cold) = (hot.checked_at(pressure)?, cold.checked()?);
        let conductance = self.conductance_at(hot.dry_air, cold.dry_air);
        let flows = (hot.heat_capacity(), cold.heat_capacity());
        let (least, most) = (flows.0.min(flows.1), flows.0.max(flows.1));
        let effectiveness = if least > 0.0 {
            // Past 50 transfer units nothing more is to be had.
            let units = (conductance / least).min(TRANSFER_UNITS_HOLDS.high);
            effectiveness(self.arrangement, units, least / most)?
        } else {
            0.0
        };
        let heat = effectiveness * least * (hot.temperature - cold.temperature);
        Ok(Exchanged {
            inlets: [hot, cold],
            outlets: [hot.heated(-heat), cold.heated(heat)],
            heat,
            effectiveness,
            conductance,
            may_condense: hot.humidity > saturated(cold.temperature, pressure),
        })
    }

    fn conductance_at(&self, hot: f64, cold: f64) -> f64 {
        if !(hot > 0.0 && cold > 0.0) {
            return 0.0;
        }
        let side = |flow: f64| exp(-self.flow_exponent * libm::log(flow / self.rated_flow));
        let clean = self.conductance * self.dirt.left / (0.5 * (side(hot) + side(cold)));
        1.0 / (1.0 / clean + self.dirt.series)
    }
}

impl Exchanged {
    /// Energy in and out, W.
    pub fn energy(&self) -> Ledger {
        let [hot, cold] = self.inlets;
        Ledger::new("energy of the exchanger", "W")
            .enter("hot air", hot.heat())
            .enter("cold air", cold.heat())
            .leave("hot air", self.outlets[0].heat())
            .leave("cold air", self.outlets[1].heat())
    }
}

/// Effectiveness of an arrangement for a number of transfer units and a ratio of heat capacity flows.
///
/// # Errors
/// [`DryerError::Impossible`] outside [`TRANSFER_UNITS_HOLDS`] and [`CAPACITY_RATIO_HOLDS`].
pub fn effectiveness(arrangement: Arrangement, units: f64, ratio: f64) -> Result<f64, DryerError> {
    let units = DryerError::unless_within(&TRANSFER_UNITS_HOLDS, units)?;
    let ratio = DryerError::unless_within(&CAPACITY_RATIO_HOLDS, ratio)?;
    Ok(match arrangement {
        Arrangement::Counterflow => {
            let rest = 1.0 - ratio;
            if rest > 0.0 {
                let taken = -expm1(-units * rest);
                // 1 - C e^(-N(1-C)), without losing digits near C = 1.
                taken / (rest + ratio * taken)
            } else {
                units / (1.0 + units)
            }
        }
        Arrangement::Parallel => -expm1(-units * (1.0 + ratio)) / (1.0 + ratio),
        Arrangement::Crossflow if ratio > 0.0 && units > 0.0 => crossflow(units, ratio),
        Arrangement::Crossflow => -expm1(-units),
    })
}

/// Equation 4. The series is that of Poisson tails, which fall faster than geometrically past x.
fn crossflow(units: f64, ratio: f64) -> f64 {
    const TERMS: usize = 200;
    let (tails, other) = (tails::<TERMS>(units), tails::<TERMS>(ratio * units));
    let sum: f64 = tails.iter().zip(&other).map(|(a, b)| a * b).sum();
    sum / (ratio * units)
}

/// `g_n(x) = e^-x sum_(m>n) x^m/m!`, added from the smallest.
fn tails<const N: usize>(x: f64) -> [f64; N] {
    let mut tails = [0.0; N];
    let mut term = exp(-x);
    for (index, tail) in tails.iter_mut().enumerate() {
        term *= x / (index as f64 + 1.0);
        *tail = term;
    }
    for index in (0..N - 1).rev() {
        tails[index] += tails[index + 1];
    }
    tails
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;
    use crate::asked::trials::at_the_ends;

    const ATMOSPHERE: f64 = 101_325.0;
    const RETURN: Stream = Stream {
        dry_air: 0.05,
        temperature: 353.15,
        humidity: 0.004,
    };
    const FRESH: Stream = Stream {
        dry_air: 0.05,
        temperature: 298.15,
        humidity: 0.008,
    };

    fn spec() -> ExchangerSpec {
        ExchangerSpec {
            arrangement: Arrangement::Counterflow,
            conductance: ThermalConductance::from_si(100.0),
            rated_flow: MassFlow::from_si(0.05),
            flow_exponent: Fraction::from_si(0.8),
            fouling: Fouling::Clean,
        }
    }

    #[test]
    fn exact_limits() {
        let eps = |arrangement, units, ratio| effectiveness(arrangement, units, ratio).unwrap();
        for arrangement in [
            Arrangement::Counterflow,
            Arrangement::Parallel,
            Arrangement::Crossflow,
        ] {
            // A stream that does not change: one law for all.
            let alone = eps(arrangement, 1.5, 0.0);
            assert!((alone - (1.0 - (-1.5_f64).exp())).abs() < 1e-14);
            assert!((eps(arrangement, 1.5, 1e-12) - alone).abs() < 1e-11);
            assert!(eps(arrangement, 0.0, 0.7).abs() < 1e-15);
            // Few transfer units: effectiveness is their number.
            assert!((eps(arrangement, 1e-6, 0.7) / 1e-6 - 1.0).abs() < 2e-6);
        }
        let near = eps(Arrangement::Counterflow, 3.0, 1.0 - 1e-10);
        assert!((near - 0.75).abs() < 1e-9);
        assert!((eps(Arrangement::Parallel, 50.0, 1.0) - 0.5).abs() < 1e-12);
        assert!(eps(Arrangement::Crossflow, 50.0, 1.0) < 1.0);
    }

    #[test]
    fn exact_heat_is_conductance_times_the_logarithmic_mean() {
        let exchanger = spec().check().unwrap();
        for (hot, cold) in [(0.05, 0.03), (0.02, 0.06)] {
            let met = exchanger
                .exchange(&RETURN.of(hot), &FRESH.of(cold), ATMOSPHERE)
                .unwrap();
            let [hot_in, cold_in] = met.inlets.map(|air| air.temperature);
            let [hot_out, cold_out] = met.outlets.map(|air| air.temperature);
            let ends = (hot_in - cold_out, hot_out - cold_in);
            let mean = (ends.0 - ends.1) / (ends.0 / ends.1).ln();
            assert!((met.heat / (met.conductance * mean) - 1.0).abs() < 1e-10);
            // Two films in series, each with its own flow to the power 0.8.
            let films = (hot / 0.05_f64).powf(-0.8) + (cold / 0.05_f64).powf(-0.8);
            assert!((met.conductance * 0.5 * films / 100.0 - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn holds_counterflow_beats_crossflow_beats_parallel() {
        for units in [0.3, 1.0, 3.0, 10.0] {
            for ratio in [0.2, 0.7, 1.0] {
                let eps = |arrangement| effectiveness(arrangement, units, ratio).unwrap();
                let [counter, cross, parallel] = [
                    Arrangement::Counterflow,
                    Arrangement::Crossflow,
                    Arrangement::Parallel,
                ]
                .map(eps);
                assert!(counter > cross && cross > parallel && counter < 1.0);
            }
        }
    }

    #[test]
    fn holds_energy_closes_and_dirt_costs_heat() {
        let heat = |fouling| {
            let exchanger = ExchangerSpec { fouling, ..spec() }.check().unwrap();
            let met = exchanger.exchange(&RETURN, &FRESH, ATMOSPHERE).unwrap();
            assert!(met.energy().imbalance() < 1e-12);
            met.heat
        };
        let clean = heat(Fouling::Clean);
        let share = heat(Fouling::Share(Fraction::from_si(0.3)));
        let layer = heat(Fouling::Layer {
            resistance: FoulingResistance::from_si(0.003),
            area: Area::from_si(0.7),
        });
        // 0.003/0.7 K/W beside 1/100 W/K leaves 0.70 of the conductance: the same.
        assert!(clean > 1.1 * share && (layer / share - 1.0).abs() < 1e-12);
    }

    #[test]
    fn holds_no_flow_no_heat_and_wet_is_said() {
        let exchanger = spec().check().unwrap();
        let still = exchanger
            .exchange(&RETURN, &FRESH.of(0.0), ATMOSPHERE)
            .unwrap();
        assert!(still.heat.abs() < 1e-12 && !still.may_condense);
        let wet = Stream {
            humidity: 0.04,
            ..RETURN
        };
        assert!(
            exchanger
                .exchange(&wet, &FRESH, ATMOSPHERE)
                .unwrap()
                .may_condense
        );
        let wrong = RETURN.at(f64::NAN);
        assert!(exchanger.exchange(&wrong, &FRESH, ATMOSPHERE).is_err());
    }

    #[test]
    fn holds_ranges_at_their_ends_and_every_mistake_told() {
        let eps = |units, ratio| effectiveness(Arrangement::Crossflow, units, ratio).is_ok();
        at_the_ends(&TRANSFER_UNITS_HOLDS, |x| eps(x, 0.5));
        at_the_ends(&CAPACITY_RATIO_HOLDS, |x| eps(2.0, x));
        let with = |change: &dyn Fn(&mut ExchangerSpec)| {
            let mut spec = spec();
            change(&mut spec);
            spec.check().is_ok()
        };
        let layer = |resistance, area| Fouling::Layer {
            resistance: FoulingResistance::from_si(resistance),
            area: Area::from_si(area),
        };
        at_the_ends(&CONDUCTANCE_HOLDS, |x| {
            with(&|spec| spec.conductance = ThermalConductance::from_si(x))
        });
        at_the_ends(&RATED_FLOW_HOLDS, |x| {
            with(&|spec| spec.rated_flow = MassFlow::from_si(x))
        });
        at_the_ends(&FLOW_EXPONENT_HOLDS, |x| {
            with(&|spec| spec.flow_exponent = Fraction::from_si(x))
        });
        at_the_ends(&FOULED_SHARE_HOLDS, |x| {
            with(&|spec| spec.fouling = Fouling::Share(Fraction::from_si(x)))
        });
        at_the_ends(&FOULING_HOLDS, |x| {
            with(&|spec| spec.fouling = layer(x, 1.0))
        });
        at_the_ends(&WALL_HOLDS, |x| with(&|spec| spec.fouling = layer(1e-3, x)));
        let wrong = ExchangerSpec {
            conductance: ThermalConductance::from_si(f64::NAN),
            fouling: layer(-1.0, 0.0),
            ..spec()
        };
        assert_eq!(wrong.check().unwrap_err().len(), 3);
    }
}
