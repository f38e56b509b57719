//! What a parcel has lived through: how long it was hot, and what heat, water and air did to it.
//!
//! # Equations
//! 1. Doses are sums over the stay, by trapezoids between the ends of each step: of the rate of chain
//!    cutting `d ln(Mn0/Mn)/dt` at the temperature and the water activity of the mean moisture, of the
//!    oxidation, and of the time as a share of the longest customary stay at that temperature.
//! 2. Fresh pellets that join a parcel share its doses by mass.
//!
//! # Symbols
//! as in [`material::Hydrolysis`] and [`material::Oxidation`].
//!
//! # Holds for
//! The lead kind of a lot, and its mean pellet: the wetter heart is harmed a little more and the drier rim a
//! little less than the mean tells.
//!
//! # Sources
//! The record of the resin names those of its rates.
//!
//! # Checked by
//! `crates/bed/src/lived.rs`, closed forms.

use material::{Hydrolysis, Isotherm, Oxidation};

/// Rates of harm that are followed.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Harms {
    /// Chains cut by water.
    pub hydrolysis: Option<Hydrolysis>,
    /// Harm by the oxygen of air.
    pub oxidation: Option<Oxidation>,
    /// Time as a share of the longest customary stay, which has the form of an oxidation.
    pub stay: Option<Oxidation>,
    /// Temperature from which on pellets count as hot, K.
    pub hot_from: f64,
}

/// What a parcel has lived through.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Lived {
    /// Time at which it was fed, s.
    pub fed_at: f64,
    /// Time it was hot, s.
    pub hot: f64,
    /// Growth of `ln(Mn0/Mn)` by hydrolysis.
    pub cut: f64,
    /// Share of the dose of visible oxidation.
    pub oxidised: f64,
    /// Share of the longest customary stay.
    pub stayed: f64,
    /// Hottest it was, K.
    pub hottest: f64,
}

/// State of pellets at one end of a step: temperature (K), sorbed and free water (kg/kg dry).
pub type At = (f64, f64, f64);

impl Harms {
    /// Rates of cutting, oxidation and stay, per second, of pellets in a state.
    pub fn rates(&self, isotherm: &Isotherm, (temperature, moisture, free): At) -> [f64; 3] {
        let cut = self.hydrolysis.map_or(0.0, |law| {
            let activity = if free > 0.0 {
                1.0
            } else {
                isotherm.activity(temperature, moisture)
            };
            law.at(temperature, activity)
        });
        let at = |law: Option<Oxidation>| law.map_or(0.0, |law| law.at(temperature));
        [cut, at(self.oxidation), at(self.stay)]
    }
}

impl Lived {
    /// Pellets fed at a time (s), at a temperature (K).
    pub fn fed(time: f64, temperature: f64) -> Self {
        Self {
            fed_at: time,
            hottest: temperature,
            ..Self::default()
        }
    }

    /// Joined by fresh ones, `old` being the share of those here.
    pub(crate) fn pour(&mut self, fresh: &Self, old: f64) {
        *self = self.times(old).and(&fresh.times(1.0 - old));
    }

    /// Its doses and times a share of; the hottest stays.
    #[must_use]
    pub fn times(&self, share: f64) -> Self {
        Self {
            fed_at: share * self.fed_at,
            hot: share * self.hot,
            cut: share * self.cut,
            oxidised: share * self.oxidised,
            stayed: share * self.stayed,
            hottest: self.hottest,
        }
    }

    /// Sums of two, and the hotter of both.
    #[must_use]
    pub fn and(&self, other: &Self) -> Self {
        Self {
            fed_at: self.fed_at + other.fed_at,
            hot: self.hot + other.hot,
            cut: self.cut + other.cut,
            oxidised: self.oxidised + other.oxidised,
            stayed: self.stayed + other.stayed,
            hottest: self.hottest.max(other.hottest),
        }
    }

    /// Lies for `duration` seconds in one state: temperature (K), sorbed and free water (kg/kg dry).
    pub fn lie(&mut self, harms: &Harms, isotherm: &Isotherm, at: At, duration: f64) {
        let rates = harms.rates(isotherm, at);
        self.take([rates; 2], [at.0; 2], (harms.hot_from, duration));
    }

    /// Lives on for `duration` seconds from one state to another.
    pub(crate) fn live(
        &mut self,
        harms: &Harms,
        isotherm: &Isotherm,
        ends: [At; 2],
        duration: f64,
    ) {
        let rates = ends.map(|at| harms.rates(isotherm, at));
        self.take(rates, ends.map(|at| at.0), (harms.hot_from, duration));
    }

    /// Takes what rates and temperatures (K) at both ends of a time (s) come to; hot from a temperature on.
    fn take(
        &mut self,
        [start, end]: [[f64; 3]; 2],
        [from, to]: [f64; 2],
        (hot_from, duration): (f64, f64),
    ) {
        let mean = |k: usize| 0.5 * (start[k] + end[k]) * duration;
        self.cut += mean(0);
        self.oxidised += mean(1);
        self.stayed += mean(2);
        self.hot += duration * share_above(from, to, hot_from);
        self.hottest = self.hottest.max(to);
    }
}

/// Share of a straight way from one temperature to another that lies at or above a third.
fn share_above(from: f64, to: f64, level: f64) -> f64 {
    let (low, high) = (from.min(to), from.max(to));
    if level <= low {
        1.0
    } else if level > high {
        0.0
    } else {
        (high - level) / (high - low)
    }
}

#[cfg(test)]
mod tests {
    use super::{Harms, Lived};
    use material::{Hydrolysis, Isotherm, Oxidation};

    const ISOTHERM: Isotherm = Isotherm::Henry {
        capacity: 0.006,
        reference_temperature: 373.15,
        mixing_heat: 0.0,
    };

    fn harms() -> Harms {
        let yearly = Oxidation {
            rate: 1e-5,
            reference_temperature: 350.0,
            activation_energy: 0.0,
        };
        Harms {
            hydrolysis: Some(Hydrolysis {
                rate: 4e-6,
                reference_temperature: 350.0,
                activation_energy: 0.0,
                order: 1.0,
            }),
            oxidation: Some(yearly),
            stay: Some(Oxidation {
                rate: 1e-4,
                ..yearly
            }),
            hot_from: 360.0,
        }
    }

    #[test]
    fn exact_doses_are_rate_times_time() {
        let mut lived = Lived::fed(50.0, 300.0);
        let half = ISOTHERM.moisture(370.0, 0.5);
        lived.live(
            &harms(),
            &ISOTHERM,
            [(350.0, half, 1e-3), (370.0, half, 0.0)],
            1000.0,
        );
        // Activity 1 under free water, then one half; half of the way above 360 K.
        assert!((lived.cut / (4e-6 * 0.75 * 1000.0) - 1.0).abs() < 1e-9);
        assert!((lived.oxidised / 1e-2 - 1.0).abs() < 1e-12);
        assert!((lived.stayed / 1e-1 - 1.0).abs() < 1e-12);
        assert!((lived.hot / 500.0 - 1.0).abs() < 1e-12);
        assert!((lived.hottest - 370.0).abs() < 1e-12);
    }

    #[test]
    fn exact_what_joins_shares_by_mass() {
        let mut old = Lived {
            fed_at: 100.0,
            hot: 80.0,
            cut: 0.4,
            oxidised: 0.2,
            stayed: 1.0,
            hottest: 390.0,
        };
        old.pour(&Lived::fed(500.0, 300.0), 0.75);
        let exact = [200.0, 60.0, 0.3, 0.15, 0.75, 390.0];
        let found = [
            old.fed_at,
            old.hot,
            old.cut,
            old.oxidised,
            old.stayed,
            old.hottest,
        ];
        for (found, exact) in found.iter().zip(exact) {
            assert!((found - exact).abs() < 1e-12, "{found} {exact}");
        }
    }
}
