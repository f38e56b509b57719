//! Electric air heater: what it meets of a set point, by how much it falls short, and how it cycles.
//!
//! # Equations
//! 1. Air: `Q = m c (T_out - T_in)`, m c the heat capacity flow of the moist air.
//! 2. Power at hand: `Q_max = P (n - lost)/n` for n equal elements, so that one of three lost leaves 2/3.
//! 3. Control with integral action meets the set point as far as power goes. A proportional band b
//!    centred on it leaves a droop: `Q = Q_max (T_set + b/2 - T_out)/b`, between none and all.
//! 4. On and off about the set point, the heater's mass giving a first-order lag tau and sensor and relay
//!    a dead time L: switched at `T_set ± b/2`, the outlet goes on to
//!    `high = hot - (hot - T_set - b/2) e^(-L/tau)`, `low = T_in + (T_set - b/2 - T_in) e^(-L/tau)`,
//!    `hot = T_in + Q_max/(m c)`; on for `tau ln((hot - low)/(hot - high))`, off for
//!    `tau ln((high - T_in)/(low - T_in))`; mean `T_in + (hot - T_in) on/(on + off)`.
//! 5. Hottest element: `T_e = T_out + Q/G`, `G = G_0 (m/m_0)^0.6` (air across tubes).
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! P, n, lost | `power`, `elements`, `lost` | W
//! b | `band` | K
//! tau, L | `time_constant`, `dead_time` | s
//! G_0, m_0 | `ElementSpec` | W/K, kg/s
//!
//! # Holds for
//! Elements of equal power at mains voltage; the casing loses nothing (that is the hose's part,
//! [`crate::duct`]). A limit of temperature here is what the model respects; it replaces no
//! safety limiter and no interlock with the air.
//!
//! # Sources
//! Balances and a first-order lag; the exponent 0.6 of air across tubes from memory of textbooks
//! (0.5 to 0.62 in a dryer's range of Reynolds numbers).
//!
//! # Checked by
//! Closed forms and a stepped simulation in `crates/dryer/src/heater/tests.rs`; no measured record of a heater was found.

use crate::asked::Asked;
use crate::{DryerError, Stream};
use figure::{Axis, Figure, Panel, Point, Series, Tone, Weight};
use quantity::constants::ZERO_CELSIUS;
use quantity::{
    Duration, Faults, Ledger, MassFlow, Power, Quantity, Range, Temperature, TemperatureDifference,
    ThermalConductance, digits,
};

/// Power of all elements.
pub const HEATER_POWER_HOLDS: Range = Range::new("heater power", 10.0, 5e6, "W");
/// Number of elements.
pub const ELEMENTS_HOLDS: Range = Range::new("number of elements", 1.0, 100.0, "");
/// Band of the control.
pub const BAND_HOLDS: Range = Range::new("control band", 0.05, 100.0, "K");
/// First-order lag of the heater.
pub const LAG_HOLDS: Range = Range::new("time constant", 0.1, 7200.0, "s");
/// Dead time of sensor and relay.
pub const DEAD_TIME_HOLDS: Range = Range::new("dead time", 0.0, 600.0, "s");
/// Set points and limits of the air.
pub const SET_POINT_HOLDS: Range = Range::new("air temperature wanted", 0.0, 350.0, "degC");
/// Limit of an element.
pub const ELEMENT_LIMIT_HOLDS: Range = Range::new("limit of the element", 50.0, 900.0, "degC");
/// Conductance from element to air.
pub const ELEMENT_CONDUCTANCE_HOLDS: Range =
    Range::new("conductance of the element", 0.1, 1e5, "W/K");
/// Flow over flow at which the conductance is stated: the exponent is not for less or more.
const FLOW_RATIO: (f64, f64) = (1e-3, 10.0);

/// How the power is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Control {
    /// With integral action: the set point is met as far as power goes.
    Integral,
    /// Proportional, the band centred on the set point.
    Proportional {
        /// From no power to all of it.
        band: TemperatureDifference,
    },
    /// On and off.
    OnOff {
        /// Between switching on and off.
        band: TemperatureDifference,
        /// First-order lag of elements and casing.
        time_constant: Duration,
        /// From the outlet passing a switching point to the power following.
        dead_time: Duration,
    },
}

/// What is known of the elements.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ElementSpec {
    /// Area of all elements times their coefficient to the air at the rated flow.
    pub conductance: ThermalConductance,
    /// Dry air at which that holds.
    pub rated_flow: MassFlow,
    /// Temperature at which they are cut out.
    pub limit: Temperature,
}

/// A heater as it is ordered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeaterSpec {
    /// Power of all elements together.
    pub power: Power,
    /// How many there are.
    pub elements: u32,
    /// How many of them are lost.
    pub lost: u32,
    /// How it is controlled.
    pub control: Control,
    /// Highest outlet temperature allowed.
    pub outlet_limit: Temperature,
    /// The elements, where their temperature matters.
    pub element: Option<ElementSpec>,
}

/// A checked heater.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heater {
    power: f64,
    control: Control,
    outlet_limit: f64,
    element: Option<(f64, f64, f64)>,
}

/// What keeps a heater from the set point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// Nothing.
    None,
    /// No air flows: power stays off.
    NoFlow,
    /// All power that is left.
    Power,
    /// The limit of the outlet; of a heater that switches, passed at its hottest, so that a limiter trips.
    OutletLimit,
    /// The limit of the elements: too little air for this power; of a heater that switches likewise.
    ElementLimit,
    /// The air comes warmer than it is wanted.
    TooWarm,
}

/// How the outlet of a heater goes up and down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cycle {
    /// On, s.
    pub on: f64,
    /// Off, s.
    pub off: f64,
    /// Coldest, K.
    pub low: f64,
    /// Hottest, K.
    pub high: f64,
    /// Mean over the time, K.
    pub mean: f64,
}

/// What a heater does to the air that passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heated {
    /// The air that came.
    pub inlet: Stream,
    /// The air that leaves, in the mean of a cycle.
    pub outlet: Stream,
    /// Power drawn, in the mean, W.
    pub power: f64,
    /// Power at hand, W.
    pub at_hand: f64,
    /// Outlet below the set point, K.
    pub short_by: f64,
    /// What keeps it there.
    pub bound: Bound,
    /// Up and down, where it switches on and off.
    pub cycle: Option<Cycle>,
    /// Hottest element, K, where elements are described.
    pub element: Option<f64>,
}

impl HeaterSpec {
    /// The heater, or every mistake in it.
    ///
    /// # Errors
    /// A number outside its range, or more elements lost than there are.
    pub fn check(&self) -> Result<Heater, Faults> {
        let mut asked = Asked::new();
        let count = asked.number("elements", f64::from(self.elements), &ELEMENTS_HOLDS);
        if self.lost > self.elements {
            asked.contradiction(
                "lost",
                f64::from(self.lost),
                "more elements are lost than there are",
                "give at most the number of elements",
            );
        }
        let left = f64::from(self.elements.saturating_sub(self.lost)) / count;
        let power = asked.number("power", self.power.si(), &HEATER_POWER_HOLDS);
        match self.control {
            Control::Integral => {}
            Control::Proportional { band } => {
                asked.number("control.band", band.si(), &BAND_HOLDS);
            }
            Control::OnOff {
                band,
                time_constant,
                dead_time,
            } => {
                asked.number("control.band", band.si(), &BAND_HOLDS);
                asked.number("control.time_constant", time_constant.si(), &LAG_HOLDS);
                asked.number("control.dead_time", dead_time.si(), &DEAD_TIME_HOLDS);
            }
        }
        let outlet_limit = asked.number(
            "outlet_limit",
            self.outlet_limit.celsius(),
            &SET_POINT_HOLDS,
        );
        let element = self.element.map(|element| {
            (
                asked.number(
                    "element.conductance",
                    element.conductance.si(),
                    &ELEMENT_CONDUCTANCE_HOLDS,
                ),
                asked.number(
                    "element.rated_flow",
                    element.rated_flow.si(),
                    &Range::new("rated flow", 1e-5, 100.0, "kg/s"),
                ),
                ZERO_CELSIUS
                    + asked.number(
                        "element.limit",
                        element.limit.celsius(),
                        &ELEMENT_LIMIT_HOLDS,
                    ),
            )
        });
        asked.give(Some(Heater {
            power: power * left,
            control: self.control,
            outlet_limit: outlet_limit + ZERO_CELSIUS,
            element,
        }))
    }
}

impl Heater {
    /// Power that is left, W.
    pub fn power_at_hand(&self) -> f64 {
        self.power
    }

    /// What becomes of a stream that is wanted at a temperature (K).
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for air it cannot take or a set point outside [`SET_POINT_HOLDS`].
    pub fn heat(&self, inlet: &Stream, set_point: f64) -> Result<Heated, DryerError> {
        let inlet = inlet.checked()?;
        DryerError::unless_within(&SET_POINT_HOLDS, set_point - ZERO_CELSIUS)?;
        let (start, flow) = (inlet.temperature, inlet.heat_capacity());
        let nothing = |bound| Heated {
            inlet,
            outlet: inlet,
            power: 0.0,
            at_hand: self.power,
            short_by: (set_point - start).max(0.0),
            bound,
            cycle: None,
            element: self.element.map(|_| start),
        };
        if !(flow > 0.0) {
            return Ok(nothing(Bound::NoFlow));
        }
        let warm_enough = match self.control {
            Control::Integral => set_point,
            Control::Proportional { band } | Control::OnOff { band, .. } => {
                set_point + 0.5 * band.si()
            }
        };
        if start > warm_enough {
            return Ok(nothing(Bound::TooWarm));
        }
        let (most, bound) = self.most(&inlet);
        let cycle = self.cycle(start, flow, set_point);
        let rise = match (self.control, cycle) {
            (_, Some(cycle)) => cycle.mean - start,
            (Control::Proportional { band }, None) => {
                let (band, hot) = (band.si(), most / flow);
                let due = hot * (set_point + 0.5 * band - start) / (band + hot);
                due.clamp(0.0, hot)
            }
            (Control::OnOff { band, .. }, None) => {
                // Never switched: always on, or warm enough as it comes.
                if start + most / flow <= set_point + 0.5 * band.si() {
                    most / flow
                } else {
                    0.0
                }
            }
            (Control::Integral, None) => (set_point - start).min(most / flow),
        };
        let power = rise * flow;
        let outlet = inlet.heated(power);
        let element = self.element.map(|element| {
            let (hottest, drawn) = match cycle {
                Some(cycle) => (cycle.high, self.power),
                None => (outlet.temperature, power),
            };
            (
                hottest + drawn / conductance(element, inlet.dry_air),
                element.2,
            )
        });
        let bound = match cycle {
            // A relay knows all or nothing: what it goes through tells whether a limit is passed.
            Some(cycle) if cycle.high > self.outlet_limit => Bound::OutletLimit,
            Some(_) if element.is_some_and(|(hottest, limit)| hottest > limit) => {
                Bound::ElementLimit
            }
            None if power >= most * (1.0 - 1e-12) && outlet.temperature < set_point => bound,
            Some(_) | None => Bound::None,
        };
        Ok(Heated {
            inlet,
            outlet,
            power,
            at_hand: self.power,
            short_by: (set_point - outlet.temperature).max(0.0),
            bound,
            cycle,
            element: element.map(|(hottest, _)| hottest),
        })
    }

    /// Power that may be drawn for this air, W, and what bounds it.
    fn most(&self, inlet: &Stream) -> (f64, Bound) {
        let flow = inlet.heat_capacity();
        let mut most = (self.power, Bound::Power);
        let by_outlet = ((self.outlet_limit - inlet.temperature) * flow).max(0.0);
        if by_outlet < most.0 {
            most = (by_outlet, Bound::OutletLimit);
        }
        if let Some(element) = self.element {
            let resistance = 1.0 / flow + 1.0 / conductance(element, inlet.dry_air);
            let by_element = ((element.2 - inlet.temperature) / resistance).max(0.0);
            if by_element < most.0 {
                most = (by_element, Bound::ElementLimit);
            }
        }
        most
    }

    /// The cycle of equation 4; none where it does not switch.
    fn cycle(&self, start: f64, flow: f64, set_point: f64) -> Option<Cycle> {
        let Control::OnOff {
            band,
            time_constant,
            dead_time,
        } = self.control
        else {
            return None;
        };
        let half = 0.5 * band.si();
        let hot = start + self.power / flow;
        if hot <= set_point + half || start >= set_point - half {
            return None;
        }
        let lag = time_constant.si();
        let fade = libm::exp(-dead_time.si() / lag);
        let high = hot - (hot - set_point - half) * fade;
        let low = start + (set_point - half - start) * fade;
        let on = lag * libm::log((hot - low) / (hot - high));
        let off = lag * libm::log((high - start) / (low - start));
        Some(Cycle {
            on,
            off,
            low,
            high,
            mean: start + (hot - start) * on / (on + off),
        })
    }

    /// The outlet over two cycles of switching, from switching on; none where it does not switch.
    ///
    /// # Errors
    /// As [`Heater::heat`].
    pub fn figure(&self, inlet: &Stream, set_point: f64) -> Result<Option<Figure>, DryerError> {
        let heated = self.heat(inlet, set_point)?;
        let (Some(cycle), Control::OnOff { time_constant, .. }) = (heated.cycle, self.control)
        else {
            return Ok(None);
        };
        let hot = inlet.temperature + self.power / inlet.heat_capacity();
        let (lag, period) = (time_constant.si(), cycle.on + cycle.off);
        let outlet = |time: f64| {
            let phase = time - period * libm::floor(time / period);
            if phase < cycle.on {
                hot + (cycle.low - hot) * libm::exp(-phase / lag)
            } else {
                let fade = libm::exp(-(phase - cycle.on) / lag);
                inlet.temperature + (cycle.high - inlet.temperature) * fade
            }
        };
        let points = (0..=120)
            .map(|step| 2.0 * period * f64::from(step) / 120.0)
            .map(|time| Point::new(time, outlet(time) - ZERO_CELSIUS))
            .collect();
        let wanted = set_point - ZERO_CELSIUS;
        Ok(Some(Figure::stacked(
            format!(
                "The air swings by {} K about {} °C",
                digits(cycle.high - cycle.low, 2),
                digits(cycle.mean - ZERO_CELSIUS, 4)
            ),
            Axis::linear("time", "s"),
            vec![Panel::new(
                Axis::linear("air at the heater's outlet", "°C"),
                vec![
                    Series::Line {
                        name: "outlet".to_owned(),
                        points,
                        grade: figure::Grade::Computed,
                        tone: Tone::Heat,
                        weight: Weight::Leading,
                    },
                    Series::limit(format!("wanted {} °C", digits(wanted, 4)), wanted),
                ],
            )],
        )))
    }
}

/// Conductance from element to air, W/K, at a flow of dry air (kg/s).
fn conductance((rated, rated_flow, _): (f64, f64, f64), dry_air: f64) -> f64 {
    let ratio = (dry_air / rated_flow).clamp(FLOW_RATIO.0, FLOW_RATIO.1);
    rated * libm::exp(0.6 * libm::log(ratio))
}

impl Heated {
    /// Energy in and out, W.
    pub fn energy(&self) -> Ledger {
        Ledger::new("energy of the heater", "W")
            .enter("air", self.inlet.heat())
            .enter("electricity", self.power)
            .leave("air", self.outlet.heat())
    }
}

#[cfg(test)]
mod tests;
