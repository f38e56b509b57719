//! Desiccants: how much water they hold over what vapour pressure, and with what heat.
//!
//! # Equations
//! 1. Each law gives the loading q(p, T) in kg/kg dry desiccant: [`SorbentLaw`].
//! 2. A mixture holds, at one pressure, the sum of what its parts hold: `q = f sum(w_i q_i(p, T))`,
//!    w the share of the dry mass and f what ageing has left of the capacity. Shares below 1 in sum
//!    leave the rest inert (paper, binder).
//! 3. The pressure over a loading is the inverse of 2, closed for one Toth or Dubinin-Astakhov part, else a safeguarded
//!    Newton root in ln p.
//! 4. Heat of sorption: `q_st = (R/M) T^2 (d ln p / dT)_q`, J/kg water, from the slope of the very same
//!    law (Clausius-Clapeyron), so that heat and equilibrium agree.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! q | `loading` | kg/kg dry desiccant
//! p | `pressure` | Pa
//! T | `t` | K
//! w | [`Part::share`] | kg/kg
//! f | [`Sorbent::capacity_left`] | 1
//!
//! # Holds for
//! Temperatures from [`LOWEST`] to [`HIGHEST`], held at the ends; loadings from [`DRIEST`]. A set of
//! numbers is narrower than that: its own limit of temperature ([`Sorbent::limit`]) refuses a table
//! beyond, where the set is known to be unphysical. No hysteresis; no competing vapour.
//!
//! # Sources
//! Named at each law.
//!
//! # Checked by
//! `tests/src/published/wang_levan_2009.rs` and `tests/src/published/mette_2014.rs`.

mod desiccant;
mod error;
mod exponential;
mod law;
mod potential;
mod sites;
mod table;
mod toth;

pub use desiccant::Desiccant;
pub use error::SorbentError;
pub use law::SorbentLaw;
pub use potential::{Characteristic, DubininAstakhov, SorbedDensity};
pub use sites::Sites;
pub use table::{SorbentTable, TABLE_HOLDS};
pub use toth::Toth;

use law::{Inverse, Loaded, refused_unless};
use quantity::constants::{MOLAR_GAS, WATER_MOLAR_MASS};

/// Lowest temperature a desiccant is asked at, K.
pub const LOWEST: f64 = 183.15;
/// Highest temperature a desiccant is asked at, K.
pub const HIGHEST: f64 = 573.15;
/// Lowest loading told apart from none, kg/kg.
pub const DRIEST: f64 = 1e-12;
/// Highest loading, kg/kg: beyond any desiccant.
const FULLEST: f64 = 1e3;
/// Logarithms of pressure (Pa) between which an inverse is sought.
const LOG_PRESSURES: (f64, f64) = (-300.0, 200.0);

/// Vapour over a loaded desiccant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Over {
    /// Vapour pressure in equilibrium, Pa.
    pub pressure: f64,
    /// Its natural logarithm.
    pub log_pressure: f64,
    /// Slope of the logarithm with loading at one temperature, kg/kg.
    pub by_loading: f64,
    /// Slope of the logarithm with temperature at one loading, 1/K.
    pub by_temperature: f64,
}

impl Over {
    fn of(inverse: Inverse) -> Self {
        Self {
            pressure: libm::exp(inverse.log_pressure),
            log_pressure: inverse.log_pressure,
            by_loading: inverse.by_loading,
            by_temperature: inverse.by_temperature,
        }
    }

    /// Heat of sorption at `t` (K), J/kg water: equation 4.
    #[inline]
    pub fn heat(&self, t: f64) -> f64 {
        MOLAR_GAS / WATER_MOLAR_MASS * t * t * self.by_temperature
    }
}

/// One kind of desiccant in a mixture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Share of the dry mass, kg/kg.
    pub share: f64,
    /// Its law.
    pub law: SorbentLaw,
}

/// A desiccant: one law or a mixture by mass, as it is now.
#[derive(Clone, Debug, PartialEq)]
pub struct Sorbent {
    parts: Vec<Part>,
    /// What ageing and fouling have left of the capacity, 0 to 1.
    capacity_left: f64,
    /// Heat capacity of the dry desiccant, J/(kg K).
    heat_capacity: f64,
    /// Temperatures beyond which the laws are unphysical, K.
    limit: (f64, f64),
}

impl Sorbent {
    /// A desiccant of one law, with the heat capacity of its dry mass (J/(kg K)).
    ///
    /// # Errors
    /// As [`Sorbent::mixture`].
    pub fn new(law: SorbentLaw, heat_capacity: f64) -> Result<Self, SorbentError> {
        Self::mixture(vec![Part { share: 1.0, law }], heat_capacity)
    }

    /// A mixture by mass; what the shares leave of 1 is inert.
    ///
    /// # Errors
    /// No part, a share at or below 0, a sum above 1, or a number that its law cannot have.
    pub fn mixture(parts: Vec<Part>, heat_capacity: f64) -> Result<Self, SorbentError> {
        if parts.is_empty() {
            return Err(SorbentError::Empty);
        }
        for part in &parts {
            refused_unless("share of the dry mass", part.share, 1e-6, 1.0, "kg/kg")?;
            part.law.check()?;
        }
        let sum: f64 = parts.iter().map(|part| part.share).sum();
        if sum > 1.0 + 1e-9 {
            return Err(SorbentError::Shares { sum });
        }
        refused_unless("heat capacity", heat_capacity, 100.0, 10_000.0, "J/(kg K)")?;
        Ok(Self {
            parts,
            capacity_left: 1.0,
            heat_capacity,
            limit: (LOWEST, HIGHEST),
        })
    }

    /// The same desiccant served only between two temperatures (K): beyond, its law is unphysical.
    ///
    /// # Errors
    /// Ends that are no numbers or not inside [`LOWEST`] to [`HIGHEST`].
    pub fn limited(mut self, low: f64, high: f64) -> Result<Self, SorbentError> {
        refused_unless("lowest temperature", low, LOWEST, HIGHEST, "K")?;
        refused_unless("highest temperature", high, low, HIGHEST, "K")?;
        self.limit = (low, high);
        Ok(self)
    }

    /// The same desiccant with `left` (0 to 1) of the capacity it has now: ageing, or pores closed by
    /// fumes; called twice, the shares multiply. Each part loses alike.
    ///
    /// # Errors
    /// A share below 0.01 or above 1.
    pub fn with_capacity_left(mut self, left: f64) -> Result<Self, SorbentError> {
        refused_unless("share of capacity left", left, 0.01, 1.0, "")?;
        self.capacity_left *= left;
        Ok(self)
    }

    /// What is left of the fresh capacity, 0 to 1.
    pub fn capacity_left(&self) -> f64 {
        self.capacity_left
    }

    /// Heat capacity of the dry desiccant, J/(kg K).
    pub fn heat_capacity(&self) -> f64 {
        self.heat_capacity
    }

    /// Temperatures the laws serve, K.
    pub fn limit(&self) -> (f64, f64) {
        self.limit
    }

    /// What it is made of.
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// Loading (kg/kg) in equilibrium with a vapour pressure (Pa) at `t` (K); nothing where there is no
    /// vapour.
    pub fn loading(&self, vapour_pressure: f64, t: f64) -> f64 {
        if vapour_pressure > 0.0 {
            let ln_p = libm::log(vapour_pressure).clamp(LOG_PRESSURES.0, LOG_PRESSURES.1);
            self.loaded(ln_p, held(t)).loading
        } else {
            0.0
        }
    }

    /// Vapour over a loading (kg/kg) at `t` (K), with the slopes; a loading below [`DRIEST`] counts as
    /// that.
    pub fn pressure(&self, loading: f64, t: f64) -> Over {
        Over::of(self.inverse(wetness(loading), held(t)))
    }

    /// Vapour pressure (Pa) that the desiccant keeps air at when its dry end is at `dry_end` (K) after it
    /// came to equilibrium with regeneration air of a vapour pressure (Pa) at `regeneration` (K): no
    /// wheel and no tower gets below it.
    pub fn driest(&self, vapour_pressure: f64, regeneration: f64, dry_end: f64) -> f64 {
        self.pressure(self.loading(vapour_pressure, regeneration), dry_end)
            .pressure
    }

    fn loaded(&self, ln_p: f64, t: f64) -> Loaded {
        let mut sum = Loaded::default();
        for part in &self.parts {
            let one = part.law.loaded(ln_p, t);
            let weight = self.capacity_left * part.share;
            sum.loading += weight * one.loading;
            sum.by_log_pressure += weight * one.by_log_pressure;
            sum.by_temperature += weight * one.by_temperature;
        }
        sum
    }

    fn inverse(&self, loading: f64, t: f64) -> Inverse {
        if let [part] = self.parts.as_slice() {
            let scale = self.capacity_left * part.share;
            if let Some(mut found) = part.law.inverse(loading / scale, t) {
                found.by_loading /= scale;
                found.log_pressure = found.log_pressure.clamp(LOG_PRESSURES.0, LOG_PRESSURES.1);
                return found;
            }
        }
        self.root(loading, t)
    }

    /// Newton on ln q over ln p, kept inside a bracket that closes from both sides.
    fn root(&self, loading: f64, t: f64) -> Inverse {
        let goal = libm::log(loading);
        let (mut low, mut high) = LOG_PRESSURES;
        let mut ln_p = 0.0;
        let mut at = self.loaded(ln_p, t);
        for _ in 0..200 {
            let off = libm::log(at.loading.max(f64::MIN_POSITIVE)) - goal;
            if off > 0.0 {
                high = ln_p;
            } else {
                low = ln_p;
            }
            let newton = ln_p - off * at.loading / at.by_log_pressure;
            let next = if newton > low && newton < high {
                newton
            } else {
                0.5 * (low + high)
            };
            let change = next - ln_p;
            ln_p = next;
            at = self.loaded(ln_p, t);
            if change.abs() < 1e-13 * (1.0 + ln_p.abs()) {
                break;
            }
        }
        let slope = at.by_log_pressure.max(f64::MIN_POSITIVE);
        Inverse {
            log_pressure: ln_p,
            by_loading: (1.0 / slope).min(1e300),
            by_temperature: -at.by_temperature / slope,
        }
    }
}

/// The loading brought inside [`DRIEST`] to [`FULLEST`]; not-a-number becomes the lower end.
fn wetness(loading: f64) -> f64 {
    if loading > DRIEST {
        loading.min(FULLEST)
    } else {
        DRIEST
    }
}

/// The temperature brought inside [`LOWEST`] to [`HIGHEST`]; not-a-number becomes the lower end.
fn held(t: f64) -> f64 {
    if t > LOWEST { t.min(HIGHEST) } else { LOWEST }
}

#[cfg(test)]
mod tests;
