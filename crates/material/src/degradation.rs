//! Harm while hot: how fast water cuts the chains of a resin, and air oxidises it.
//!
//! Both are first-order rates after Arrhenius, `k = k_ref exp(-(E/R)(1/T - 1/T_ref))`. Hydrolysis goes
//! with a power of the water activity inside the pellet. What they leave out: auto-catalysis by the
//! acid ends that hydrolysis makes, the wear of stabilisers, and the light that ages a part in use.

use crate::Documented;
use libm::{exp, log};
use quantity::constants::MOLAR_GAS;
use quantity::{Duration, Fraction, Frequency, Quantity, Temperature, WaterActivity};
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// Lowest and highest temperature of a solid resin in a hopper, K, for which a rate is given: far
/// from its reference temperature a rate is an extrapolation of the record, inside as well.
pub const DEGRADATION_HOLDS: (f64, f64) = (273.15, 523.15);

/// What is known of the harm.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Degradation {
    /// Chains cut by water.
    pub hydrolysis: Option<Documented<Hydrolysis>>,
    /// Harm by the oxygen of air.
    pub oxidation: Option<Documented<Oxidation>>,
}

/// Chains cut by water: `d ln(Mn0/Mn)/dt = rate a^order exp(-(E/R)(1/T - 1/T_ref))`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Hydrolysis {
    /// Rate of `ln(Mn0/Mn)` at activity 1 and the reference temperature, 1/s.
    pub rate: f64,
    /// Reference temperature, K.
    pub reference_temperature: f64,
    /// Activation energy, J/mol.
    pub activation_energy: f64,
    /// Exponent of the water activity.
    pub order: f64,
}

/// Harm by the oxygen of air: share of the dose at which harm becomes visible, per time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Oxidation {
    /// One over the time to visible harm at the reference temperature, 1/s.
    pub rate: f64,
    /// Reference temperature, K.
    pub reference_temperature: f64,
    /// Activation energy, J/mol.
    pub activation_energy: f64,
}

/// A rate that cannot be given.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum DegradationError {
    /// A temperature at which no resin stands in a hopper.
    #[error(
        "{temperature} K is outside {} to {} K, where harm while hot is computed",
        DEGRADATION_HOLDS.0,
        DEGRADATION_HOLDS.1
    )]
    Temperature {
        /// What was asked, K.
        temperature: f64,
    },
    /// An activity of water below 0 or above 1.
    #[error("a water activity of {activity} is not between 0 and 1")]
    Activity {
        /// What was asked.
        activity: f64,
    },
}

impl Hydrolysis {
    /// Rate of `ln(Mn0/Mn)` at a temperature and a water activity.
    ///
    /// # Errors
    /// Outside [`DEGRADATION_HOLDS`]; an activity outside 0 to 1.
    pub fn rate_at(
        &self,
        temperature: Temperature,
        activity: WaterActivity,
    ) -> Result<Frequency, DegradationError> {
        let (t, a) = (within(temperature)?, activity.fraction());
        if !(0.0..=1.0).contains(&a) {
            return Err(DegradationError::Activity { activity: a });
        }
        Ok(Frequency::from_si(self.at(t, a)))
    }

    /// Rate of `ln(Mn0/Mn)`, 1/s, at temperature `t` (K) and activity `a`, held in 0..=1.
    pub fn at(&self, t: f64, a: f64) -> f64 {
        let a = a.clamp(0.0, 1.0);
        let by_water = if self.order == 0.0 {
            1.0
        } else if a > 0.0 {
            exp(self.order * log(a))
        } else {
            0.0
        };
        arrhenius(
            self.rate,
            self.reference_temperature,
            self.activation_energy,
            t,
        ) * by_water
    }

    /// Share of the molar mass lost in a time at one temperature and activity: `1 - exp(-k t)`.
    ///
    /// # Errors
    /// As [`Hydrolysis::rate_at`].
    pub fn loss(
        &self,
        temperature: Temperature,
        activity: WaterActivity,
        time: Duration,
    ) -> Result<Fraction, DegradationError> {
        let cut = self.rate_at(temperature, activity)?.per_second() * time.seconds();
        Ok(lost_share(cut))
    }
}

impl Oxidation {
    /// Share of the dose of visible harm taken per time in air of a temperature.
    ///
    /// # Errors
    /// Outside [`DEGRADATION_HOLDS`].
    pub fn rate_at(&self, temperature: Temperature) -> Result<Frequency, DegradationError> {
        Ok(Frequency::from_si(self.at(within(temperature)?)))
    }

    /// Share of the dose of visible harm taken per second at temperature `t` (K).
    pub fn at(&self, t: f64) -> f64 {
        arrhenius(
            self.rate,
            self.reference_temperature,
            self.activation_energy,
            t,
        )
    }
}

/// Share of the number-average molar mass that is lost when `ln(Mn0/Mn)` has grown by `cut`.
pub fn lost_share(cut: f64) -> Fraction {
    Fraction::from_fraction(-libm::expm1(-cut.max(0.0)))
}

fn within(temperature: Temperature) -> Result<f64, DegradationError> {
    let t = temperature.kelvin();
    if t >= DEGRADATION_HOLDS.0 && t <= DEGRADATION_HOLDS.1 {
        Ok(t)
    } else {
        Err(DegradationError::Temperature { temperature: t })
    }
}

fn arrhenius(reference: f64, at: f64, energy: f64, t: f64) -> f64 {
    reference * exp(-energy / MOLAR_GAS * (1.0 / t - 1.0 / at))
}

#[cfg(test)]
mod tests {
    use super::{DEGRADATION_HOLDS, DegradationError, Hydrolysis, Oxidation};
    use quantity::{Duration, Temperature, WaterActivity};

    const PLA: Hydrolysis = Hydrolysis {
        rate: 3.0e-6,
        reference_temperature: 333.15,
        activation_energy: 87.2e3,
        order: 1.0,
    };
    const AIR: Oxidation = Oxidation {
        rate: 0.04 / 3600.0,
        reference_temperature: 353.15,
        activation_energy: 120e3,
    };

    #[test]
    fn exact_the_reference_rate_stands_at_the_reference_state() -> Result<(), DegradationError> {
        let rate = PLA.rate_at(
            Temperature::from_celsius(60.0),
            WaterActivity::from_fraction(1.0),
        )?;
        assert!((rate.per_second() / 3.0e-6 - 1.0).abs() < 1e-12);
        let dose = AIR.rate_at(Temperature::from_celsius(80.0))?;
        assert!((dose.per_hour() / 0.04 - 1.0).abs() < 1e-12);
        Ok(())
    }

    #[test]
    fn exact_rates_follow_arrhenius_and_the_power_of_the_activity() -> Result<(), DegradationError>
    {
        // By hand: exp(87200/8.31446 * (1/333.15 - 1/353.15)) = exp(1.78286) = 5.9468.
        let warm = PLA.at(353.15, 1.0) / PLA.at(333.15, 1.0);
        assert!((warm - 5.9468).abs() < 2e-3, "{warm}");
        let square = Hydrolysis { order: 2.0, ..PLA };
        assert!((square.at(340.0, 0.3) / square.at(340.0, 1.0) - 0.09).abs() < 1e-12);
        let regardless = Hydrolysis { order: 0.0, ..PLA };
        assert!((regardless.at(340.0, 0.0) / PLA.at(340.0, 1.0) - 1.0).abs() < 1e-12);
        assert!(PLA.at(340.0, 0.0).abs() <= 0.0 && PLA.at(340.0, 2.0) <= PLA.at(340.0, 1.0));
        // Ten hours at 60 degC and half activity: 1 - exp(-3e-6 * 0.5 * 36000) = 5.2568 %.
        let lost = PLA.loss(
            Temperature::from_celsius(60.0),
            WaterActivity::from_fraction(0.5),
            Duration::from_hours(10.0),
        )?;
        assert!((lost.percent() - 5.2568).abs() < 1e-3, "{lost:?}");
        Ok(())
    }

    #[test]
    fn holds_temperatures_and_activities_outside_are_refused() {
        for (kelvin, inside) in [
            (DEGRADATION_HOLDS.0 * 1.0001, true),
            (DEGRADATION_HOLDS.0 * 0.9999, false),
            (DEGRADATION_HOLDS.1 * 0.9999, true),
            (DEGRADATION_HOLDS.1 * 1.0001, false),
            (f64::NAN, false),
        ] {
            let t = Temperature::from_kelvin(kelvin);
            assert_eq!(AIR.rate_at(t).is_ok(), inside, "{kelvin}");
            let half = WaterActivity::from_fraction(0.5);
            assert_eq!(PLA.rate_at(t, half).is_ok(), inside, "{kelvin}");
        }
        let t = Temperature::from_celsius(60.0);
        for (activity, inside) in [
            (0.0, true),
            (1.0, true),
            (-1e-9, false),
            (1.0 + 1e-9, false),
        ] {
            let asked = PLA.rate_at(t, WaterActivity::from_fraction(activity));
            assert_eq!(asked.is_ok(), inside, "{activity}");
        }
    }
}
