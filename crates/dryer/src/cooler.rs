//! Cooler of the return air by water or by hall air, dry or wet: water that condenses is drained.
//!
//! # Equations
//! Along the wall (a from 0 at the air's inlet to 1; coolant against the air), with film temperature T_s:
//! 1. `m dY/da = -w`, `w = (G_a/c)(Y - Y_sat(T_s))` where that is above zero (Lewis number 1);
//! 2. `m dh/da = -(G_a (T - T_s) + w h_v(T))`;
//! 3. `G_a (T - T_s) + w (h_v(T) - h_l(T_s)) = G_w (T_s - T_w)`, which gives T_s;
//! 4. `C_w dT_w/da = -G_w (T_s - T_w)`; the drain carries off `w h_l(T_s)`.
//!
//! Equations 1, 2, 4 are integrated by the classical Runge-Kutta method, whose sums keep water and
//! energy exactly; the coolant's outlet is found so that its inlet is met. Where nothing can
//! condense the counterflow law of [`crate::exchanger`] is taken instead, which is the same without the steps.
//! What would be mist at the outlet is drained as well, at constant enthalpy.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! G_a | `air_conductance` | W/K
//! G_w | `coolant_conductance` | W/K
//! C_w | `Coolant::capacity_flow` | W/K
//! m | `Stream::dry_air` | kg/s
//!
//! # Holds for
//! Counterflow, and coils of four rows or more close to it. The true Lewis number to the power 2/3 is
//! about 0.9, so that condensing is understated by up to 10 % where the film decides. Under 0 degC the
//! water freezes on: `freezes` says so, saturation is then over ice, the heat of freezing (13 %) and
//! the blocking are not followed. Drained water stays nowhere and does not evaporate again.
//!
//! # Sources
//! Film equations: Merkel's analogy, from memory of textbooks. Saturation: [`air::equilibrium`].
//!
//! # Checked by
//! `tests/src/peers/cooler.rs`; limits and ledgers in `crates/dryer/src/cooler/tests.rs`.

use crate::asked::Asked;
use crate::exchanger::{
    Arrangement, CONDUCTANCE_HOLDS, Dirt, FLOW_EXPONENT_HOLDS, Fouling, RATED_FLOW_HOLDS,
    TRANSFER_UNITS_HOLDS, effectiveness,
};
use crate::{DryerError, Stream};
use air::{caloric, equilibrium, mixture, saturation};
use numeric::root;
use quantity::constants::ZERO_CELSIUS;
use quantity::{Faults, Fraction, Ledger, MassFlow, Quantity, Range, ThermalConductance};

/// Temperatures of a coolant as it comes: winter air to warm cooling water.
pub const COOLANT_HOLDS: Range = Range::new("temperature of the coolant", -40.0, 95.0, "degC");
/// Heat capacity flow of a coolant.
pub const COOLANT_FLOW_HOLDS: Range =
    Range::new("heat capacity flow of the coolant", 0.0, 1e6, "W/K");
/// Least steps along the wall, and steps for each transfer unit.
const STEPS: (f64, f64) = (32.0, 2.0);
/// Transfer units of either side past which a wall is as good as endless: `e^-15` is 3e-7.
const MOST_UNITS: f64 = 15.0;
/// Steps of Newton's method for the film; three to five are taken.
const MOST_NEWTON: usize = 30;

/// A cooler as it is ordered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoolerSpec {
    /// From air to the wall (fins counted in) at the rated flow of air.
    pub air_conductance: ThermalConductance,
    /// From the wall to the coolant.
    pub coolant_conductance: ThermalConductance,
    /// Dry air at which the first holds.
    pub rated_flow: MassFlow,
    /// How it grows with the flow of air.
    pub flow_exponent: Fraction,
    /// Dirt: a share is lost on the air's side (dust, oligomer); a layer lies on the coolant's (scale).
    pub fouling: Fouling,
}

/// A checked cooler.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cooler {
    air: f64,
    coolant: f64,
    rated_flow: f64,
    flow_exponent: f64,
}

/// What takes the heat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coolant {
    /// Heat that warms it by 1 K, W/K.
    pub capacity_flow: f64,
    /// Temperature as it comes, K.
    pub temperature: f64,
}

/// What a cooler does to the air that passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cooled {
    /// The air that came.
    pub inlet: Stream,
    /// The air that leaves.
    pub outlet: Stream,
    /// The coolant as it came.
    pub coolant: Coolant,
    /// Temperature of the coolant as it leaves, K.
    pub coolant_outlet: f64,
    /// Heat to the coolant, W.
    pub heat: f64,
    /// Water drained, kg/s.
    pub drain: f64,
    /// Enthalpy of it, W.
    pub drain_heat: f64,
    /// Share of the wall that is wet.
    pub wet_share: f64,
    /// Water freezes on the wall: it will block, which is not followed.
    pub freezes: bool,
}

impl CoolerSpec {
    /// The cooler, or every mistake in it.
    ///
    /// # Errors
    /// A number outside its range.
    pub fn check(&self) -> Result<Cooler, Faults> {
        let mut asked = Asked::new();
        let air = asked.number(
            "air_conductance",
            self.air_conductance.si(),
            &CONDUCTANCE_HOLDS,
        );
        let coolant = asked.number(
            "coolant_conductance",
            self.coolant_conductance.si(),
            &CONDUCTANCE_HOLDS,
        );
        let Dirt { left, series } = self.fouling.asked(&mut asked);
        let cooler = Cooler {
            air: air * left,
            coolant: 1.0 / (1.0 / coolant + series),
            rated_flow: asked.number("rated_flow", self.rated_flow.si(), &RATED_FLOW_HOLDS),
            flow_exponent: asked.number(
                "flow_exponent",
                self.flow_exponent.si(),
                &FLOW_EXPONENT_HOLDS,
            ),
        };
        asked.give(Some(cooler))
    }
}

impl Coolant {
    /// Water of a flow (kg/s) and temperature (K).
    pub fn water(flow: f64, temperature: f64) -> Self {
        Self {
            capacity_flow: flow * caloric::WATER_HEAT,
            temperature,
        }
    }

    /// Air of the hall, moved by a fan.
    pub fn air(stream: &Stream) -> Self {
        Self {
            capacity_flow: stream.heat_capacity(),
            temperature: stream.temperature,
        }
    }
}

/// Humidity ratio of air saturated at `t` (K) and `pressure` (Pa): over ice below the triple point.
pub fn saturated(t: f64, pressure: f64) -> f64 {
    let share = if t < saturation::TRIPLE_POINT {
        equilibrium::saturated_over_ice(t, pressure)
    } else {
        equilibrium::saturated_over_liquid(t, pressure)
    };
    mixture::humidity_ratio(share.min(equilibrium::MOST_VAPOUR))
}

impl Cooler {
    /// What becomes of air at a pressure (Pa) that meets a coolant.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for air or coolant it cannot take, [`DryerError::Unsolved`] when the
    /// coolant's outlet is not found.
    pub fn cool(
        &self,
        air: &Stream,
        coolant: &Coolant,
        pressure: f64,
    ) -> Result<Cooled, DryerError> {
        let inlet = air.checked_at(pressure)?;
        DryerError::unless_within(&COOLANT_HOLDS, coolant.temperature - ZERO_CELSIUS)?;
        DryerError::unless_within(&COOLANT_FLOW_HOLDS, coolant.capacity_flow)?;
        let untouched = Cooled {
            inlet,
            outlet: inlet,
            coolant: *coolant,
            coolant_outlet: coolant.temperature,
            heat: 0.0,
            drain: 0.0,
            drain_heat: 0.0,
            wet_share: 0.0,
            freezes: false,
        };
        if !(inlet.dry_air > 0.0 && coolant.capacity_flow > 0.0) {
            return Ok(untouched);
        }
        let ratio = inlet.dry_air / self.rated_flow;
        let wall = Wall {
            air: self.air * libm::exp(self.flow_exponent * libm::log(ratio)),
            coolant: self.coolant,
            pressure,
            dry_air: inlet.dry_air,
            capacity_flow: coolant.capacity_flow,
        };
        let cooled = if inlet.humidity <= saturated(coolant.temperature, pressure) {
            dry(&wall, untouched)?
        } else {
            wet(&wall, untouched)?
        };
        Ok(without_mist(cooled, pressure))
    }
}

impl Cooled {
    /// Energy in and out, W.
    pub fn energy(&self) -> Ledger {
        Ledger::new("energy of the cooler", "W")
            .enter("air", self.inlet.heat())
            .leave("air", self.outlet.heat())
            .leave("coolant", self.heat)
            .leave("drain", self.drain_heat)
    }

    /// Water in and out, kg/s.
    pub fn water(&self) -> Ledger {
        Ledger::new("water in the cooler", "kg/s")
            .enter("air", self.inlet.water())
            .leave("air", self.outlet.water())
            .leave("drain", self.drain)
    }
}

/// Nothing condenses: the counterflow law.
fn dry(wall: &Wall, met: Cooled) -> Result<Cooled, DryerError> {
    let flow = met.inlet.heat_capacity();
    let (least, most) = (flow.min(wall.capacity_flow), flow.max(wall.capacity_flow));
    let through = 1.0 / (1.0 / wall.air + 1.0 / wall.coolant);
    let units = (through / least).min(TRANSFER_UNITS_HOLDS.high);
    let share = effectiveness(Arrangement::Counterflow, units, least / most)?;
    let heat = share * least * (met.inlet.temperature - met.coolant.temperature);
    Ok(Cooled {
        outlet: met.inlet.heated(-heat),
        coolant_outlet: met.coolant.temperature + heat / wall.capacity_flow,
        heat,
        ..met
    })
}

fn wet(wall: &Wall, met: Cooled) -> Result<Cooled, DryerError> {
    let air = met.inlet;
    // More units would change nothing and let the way back along the coolant lose its digits.
    let wall = &Wall {
        air: wall.air.min(MOST_UNITS * air.heat_capacity()),
        coolant: wall.coolant.min(MOST_UNITS * wall.capacity_flow),
        ..*wall
    };
    let units = (wall.air / air.heat_capacity()).max(wall.coolant / wall.capacity_flow);
    let steps = (STEPS.1 * units).max(STEPS.0);
    let ends = (
        met.coolant.temperature.min(air.temperature),
        met.coolant.temperature.max(air.temperature),
    );
    let start = |coolant_outlet: f64| Along {
        enthalpy: caloric::enthalpy(air.temperature, air.humidity),
        humidity: air.humidity,
        coolant: coolant_outlet,
        drain_heat: 0.0,
    };
    let outlet = root::bracketed(ends.0, ends.1, 2e-13, |coolant_outlet| {
        let off = wall.pass(start(coolant_outlet), steps).0.coolant - met.coolant.temperature;
        // A billionth of a kelvin is met; the balances close whatever is left.
        if off.abs() < 1e-9 { 0.0 } else { off }
    });
    let coolant_outlet = outlet.map_err(|cause| DryerError::Unsolved {
        component: "cooler",
        cause,
    })?;
    let (end, wet_share, coldest) = wall.pass(start(coolant_outlet), steps);
    Ok(Cooled {
        outlet: Stream {
            humidity: end.humidity,
            temperature: caloric::temperature(end.enthalpy, end.humidity),
            ..air
        },
        coolant_outlet,
        heat: wall.capacity_flow * (coolant_outlet - end.coolant),
        drain: air.dry_air * (air.humidity - end.humidity),
        drain_heat: end.drain_heat,
        wet_share,
        freezes: coldest < saturation::TRIPLE_POINT,
        ..met
    })
}

/// Drains what the outlet air cannot hold, at constant enthalpy.
fn without_mist(cooled: Cooled, pressure: f64) -> Cooled {
    let air = cooled.outlet;
    if air.humidity <= saturated(air.temperature, pressure) {
        return cooled;
    }
    let enthalpy = caloric::enthalpy(air.temperature, air.humidity);
    let liquid = |t: f64| caloric::WATER_HEAT * (t - ZERO_CELSIUS);
    let excess = |t: f64| {
        let held = saturated(t, pressure);
        caloric::enthalpy(t, held) + (air.humidity - held) * liquid(t) - enthalpy
    };
    let most = air.temperature + air.humidity * caloric::EVAPORATION / caloric::DRY_AIR_HEAT;
    let Ok(t) = root::bracketed(air.temperature, most, 1e-12, excess) else {
        return cooled;
    };
    // The enthalpy is kept to the digit: what the root leaves goes to the air.
    let humidity = saturated(t, pressure);
    let lost = air.humidity - humidity;
    let drained = lost * liquid(t);
    Cooled {
        outlet: Stream {
            temperature: caloric::temperature(enthalpy - drained, humidity),
            humidity,
            ..air
        },
        drain: cooled.drain + air.dry_air * lost,
        drain_heat: cooled.drain_heat + air.dry_air * drained,
        ..cooled
    }
}

/// The wall between air and coolant at this operation.
struct Wall {
    air: f64,
    coolant: f64,
    pressure: f64,
    dry_air: f64,
    capacity_flow: f64,
}

/// What is followed along the wall.
#[derive(Clone, Copy)]
struct Along {
    enthalpy: f64,
    humidity: f64,
    coolant: f64,
    drain_heat: f64,
}

impl Along {
    fn moved(self, by: &Self, step: f64) -> Self {
        Self {
            enthalpy: self.enthalpy + step * by.enthalpy,
            humidity: self.humidity + step * by.humidity,
            coolant: self.coolant + step * by.coolant,
            drain_heat: self.drain_heat + step * by.drain_heat,
        }
    }
}

impl Wall {
    /// From the air's inlet to its outlet: what arrives, the wet share, the coldest wet film.
    fn pass(&self, start: Along, steps: f64) -> (Along, f64, f64) {
        let count = libm::ceil(steps);
        let step = 1.0 / count;
        let (mut along, mut wet, mut coldest) = (start, 0.0, f64::INFINITY);
        let mut place = 0.0;
        while place < 1.0 - 0.5 * step {
            place += step;
            let (first, film) = self.slopes(&along);
            if first.humidity < 0.0 {
                wet += step;
                coldest = coldest.min(film);
            }
            let second = self.slopes(&along.moved(&first, 0.5 * step)).0;
            let third = self.slopes(&along.moved(&second, 0.5 * step)).0;
            let fourth = self.slopes(&along.moved(&third, step)).0;
            along = along
                .moved(&first, step / 6.0)
                .moved(&second, step / 3.0)
                .moved(&third, step / 3.0)
                .moved(&fourth, step / 6.0);
        }
        (along, wet, coldest)
    }

    /// Slopes along the wall, and the film temperature.
    fn slopes(&self, at: &Along) -> (Along, f64) {
        let t = caloric::temperature(at.enthalpy, at.humidity);
        let vapour = caloric::EVAPORATION + caloric::VAPOUR_HEAT * (t - ZERO_CELSIUS);
        let transfer = self.air / caloric::heat_capacity(at.humidity);
        let film = self.film(at, t, vapour, transfer);
        let water = (transfer * (at.humidity - saturated(film, self.pressure))).max(0.0);
        let liquid = caloric::WATER_HEAT * (film - ZERO_CELSIUS);
        let sensible = self.air * (t - film);
        let to_coolant = sensible + water * (vapour - liquid);
        let slopes = Along {
            enthalpy: -(sensible + water * vapour) / self.dry_air,
            humidity: -water / self.dry_air,
            coolant: -to_coolant / self.capacity_flow,
            drain_heat: water * liquid,
        };
        (slopes, film)
    }

    /// Equation 3: the heat that reaches the film falls, and what it passes on rises, with T_s.
    fn film(&self, at: &Along, t: f64, vapour: f64, transfer: f64) -> f64 {
        let dry = (self.air * t + self.coolant * at.coolant) / (self.air + self.coolant);
        if at.humidity <= saturated(dry, self.pressure) {
            return dry;
        }
        // Saturation bends upward, so the surplus bends downward and Newton's method cannot miss: past its
        // first step it comes from the warm side. Its slope leaves out what pressure adds to saturation.
        let mut film = dry;
        for _ in 0..MOST_NEWTON {
            let held = saturated(film, self.pressure);
            let steeper = if film < saturation::TRIPLE_POINT {
                saturation::over_ice_slope(film) / saturation::over_ice(film)
            } else {
                saturation::over_liquid_slope(film) / saturation::over_liquid(film)
            };
            let slope = held * (1.0 + held / mixture::MASS_RATIO) * steeper;
            let latent = vapour - caloric::WATER_HEAT * (film - ZERO_CELSIUS);
            let surplus = self.air * (t - film) + transfer * (at.humidity - held) * latent
                - self.coolant * (film - at.coolant);
            let step = surplus / (self.air + self.coolant + transfer * slope * latent);
            film += step;
            if step.abs() < 1e-9 {
                break;
            }
        }
        film
    }
}

#[cfg(test)]
mod tests;
