//! Heat and water of a step made to agree, for one kind of pellet or several.
//!
//! The heat balance is one monotone equation in the end temperature, with the drying rate assumed;
//! the water side then gives the rate that belongs to this temperature. A secant on the rate closes
//! the two, held in by bisection: the rate found falls as the rate assumed rises (more evaporation,
//! colder pellets, damper air).

use crate::PelletError;
use crate::calorics::Calorics;
use crate::parcel::AirIn;
use numeric::NumericError;
use quantity::constants::ZERO_CELSIUS;

/// The heat side of a step.
#[derive(Clone, Copy)]
pub(crate) struct Heat {
    /// Pellet temperature at the end, K.
    pub(crate) end: f64,
    /// Its mean over the step, K.
    pub(crate) mean: f64,
    /// Air leaving, K.
    pub(crate) air_out: f64,
}

/// What a step shows to the closing: its heat and its water, remembered from round to round.
pub(crate) trait Sides {
    /// Heat with an assumed drying rate, or with the water as found last; `guess` is an end
    /// temperature to start from.
    fn heat(&mut self, rate: Option<f64>, guess: f64) -> Result<Heat, PelletError>;

    /// Drying rate at a mean pellet temperature.
    fn water(&mut self, mean: f64) -> Result<f64, PelletError>;

    /// A miss of the rate that does not matter.
    fn close_enough(&self) -> f64;
}

/// Finds the heat with which heat and water agree; the water stays in `sides`.
pub(crate) fn agree(
    sides: &mut impl Sides,
    expected: f64,
    (least, most): (f64, f64),
) -> Result<Heat, PelletError> {
    const MOST: usize = 90;
    if !(least.is_finite() && most.is_finite()) {
        return Err(NumericError::NoConvergence {
            steps: 0,
            change: most - least,
        }
        .into());
    }
    // Thin pieces can overshoot their surface by a little and end below dry: then they must take up
    // what they lack, and the ends change places.
    let (least, most) = (least.min(most), most.max(least));
    let close_enough = sides.close_enough();
    let mut guess = expected.clamp(least, most);
    let mut last: Option<(f64, f64)> = None;
    let (mut low, mut high) = (least, most);
    let mut miss = f64::INFINITY;
    let mut end = f64::NAN;
    for round in 0..MOST {
        let heat = sides.heat(Some(guess), end)?;
        end = heat.end;
        let found = sides.water(heat.mean)?;
        miss = found - guess;
        let narrow = high - low <= 1e-13 * (high.abs() + low.abs());
        if miss.abs() <= close_enough || narrow {
            // Close the heat with the water as found, so that both balances are exact.
            return sides.heat(None, end);
        }
        if miss > 0.0 {
            low = low.max(guess);
        } else {
            high = high.min(guess);
        }
        let next = match last {
            Some((before_guess, before_miss)) if (before_miss - miss).abs() > 0.0 => {
                let step = -miss * (guess - before_guess) / (miss - before_miss);
                // The slope of the miss lies near or below -1, so a longer step is noise.
                guess + step.clamp(-2.0 * miss.abs(), 2.0 * miss.abs())
            }
            _ => found,
        };
        last = Some((guess, miss));
        guess = if next > low && next < high && round % 4 != 3 && round < 16 {
            next
        } else {
            0.5 * (low + high)
        };
    }
    Err(NumericError::NoConvergence {
        steps: MOST,
        change: miss,
    }
    .into())
}

/// What the heat balance of a step stands on, per kg of dry resin.
pub(crate) struct HeatSide<'a> {
    /// The air met.
    pub(crate) air: &'a AirIn,
    /// Heat capacities of air and water.
    pub(crate) calorics: &'a Calorics,
    /// Pellet temperature at the start, K.
    pub(crate) start: f64,
    /// Enthalpy at the start, J/kg.
    pub(crate) before: f64,
    /// Weight of the end of the step in the mean pellet temperature.
    pub(crate) weight: f64,
    /// Seconds.
    pub(crate) duration: f64,
    /// Heat transfer, W/(K kg).
    pub(crate) conductance: f64,
}

impl HeatSide<'_> {
    /// A miss is judged by the pellet temperature it stands for: 1e-6 K is 1e-7 of a diffusivity.
    pub(crate) fn close_enough(&self) -> f64 {
        // Where no air brings heat, what holds the temperature is the heat of the pellets.
        let holding = if self.conductance > 0.0 {
            self.conductance
        } else {
            self.calorics.resin / self.duration
        };
        1e-6 * holding / self.calorics.evaporation
    }

    /// End and mean pellet temperature and air leaving at a drying rate, with the enthalpy and the
    /// heat capacity at the end as functions of the end temperature.
    pub(crate) fn balance(
        &self,
        rate: f64,
        guess: f64,
        enthalpy: impl Fn(f64) -> f64,
        capacity: impl Fn(f64) -> f64,
    ) -> Result<Heat, PelletError> {
        const MOST: usize = 40;
        let (c, air) = (self.calorics, self.air);
        let (y_in, y_out) = (air.humidity, air.humidity + air.load * rate);
        let in_enthalpy = c.air_enthalpy(air.temperature, y_in);
        let out_capacity = c.dry_air + y_out * c.vapour;
        let inverse = 1.0 / self.duration;
        // Air leaving follows from the balance: capacity * out = carried - load * gain.
        let leaving = out_capacity + air.heat_lean * air.wall;
        let carried = in_enthalpy
            + air.wall * (air.ambient - (1.0 - air.heat_lean) * air.temperature)
            - y_out * c.evaporation
            + out_capacity * ZERO_CELSIUS;
        let mut end = if guess.is_nan() { self.start } else { guess };
        let mut change = f64::INFINITY;
        for _ in 0..MOST {
            let mean = self.start + self.weight * (end - self.start);
            let gain = (enthalpy(end) - self.before) * inverse;
            // What the pellets keep and what they lose to the wall.
            let drawn = gain + air.pellet_wall * (mean - air.ambient);
            let taken = drawn + rate * c.vapour_enthalpy(mean);
            let air_out = (carried - air.load * drawn) / leaving;
            let air_mean = air.temperature + air.heat_lean * (air_out - air.temperature);
            let miss = self.conductance * (air_mean - mean) - taken;
            let slope = (capacity(end) * inverse + self.weight * air.pellet_wall)
                * (1.0 + self.conductance * air.heat_lean * air.load / leaving)
                + self.weight * (self.conductance + rate * c.vapour);
            let correction = miss / slope;
            if correction.abs() <= 1e-12 * end.abs() || correction.abs() >= change {
                // Settled, or rounding has been reached; this pass is the answer.
                if !(correction.abs() < 1e-6) {
                    break;
                }
                return Ok(Heat { end, mean, air_out });
            }
            end += correction;
            change = correction.abs();
        }
        Err(NumericError::NoConvergence {
            steps: MOST,
            change,
        }
        .into())
    }
}

/// Temperature at which an enthalpy is reached, by Newton from `guess`.
pub(crate) fn temperature_of(
    wanted: f64,
    guess: f64,
    enthalpy: impl Fn(f64) -> f64,
    capacity: impl Fn(f64) -> f64,
) -> f64 {
    let mut t = guess;
    for _ in 0..20 {
        let step = (enthalpy(t) - wanted) / capacity(t);
        t -= step;
        if step.abs() < 1e-13 * t {
            break;
        }
    }
    t
}
