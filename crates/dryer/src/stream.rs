//! A stream of humid air between two components.

use crate::DryerError;
use air::{caloric, mixture, transport};
use quantity::Range;
use quantity::constants::ZERO_CELSIUS;

/// Temperatures a stream may have. Properties hold from -40 to 250 degC; beyond, up to what
/// regeneration of beads asks for, density (3 % of 1 %) and viscosity are carried on.
pub const STREAM_TEMPERATURE_HOLDS: Range = Range::new("air temperature", -60.0, 350.0, "degC");
/// Humidity ratios a stream may have.
pub const STREAM_HUMIDITY_HOLDS: Range = Range::new("humidity ratio", 0.0, 1.0, "kg/kg");
/// Flows a stream may have.
pub const STREAM_FLOW_HOLDS: Range = Range::new("flow of dry air", 0.0, 100.0, "kg/s");
/// Pressures a stream may have, those of [`air::PRESSURE_HOLDS`].
pub const STREAM_PRESSURE_HOLDS: Range = air::PRESSURE_HOLDS;

/// Air on its way: how much, how warm, how humid.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Stream {
    /// Dry air, kg/s.
    pub dry_air: f64,
    /// Temperature, K.
    pub temperature: f64,
    /// Humidity ratio, kg/kg dry air.
    pub humidity: f64,
}

impl Stream {
    /// Water carried, kg/s.
    pub fn water(&self) -> f64 {
        self.dry_air * self.humidity
    }

    /// Enthalpy carried above dry air and liquid water at 0 degC, W.
    pub fn heat(&self) -> f64 {
        self.dry_air * caloric::enthalpy(self.temperature, self.humidity)
    }

    /// Heat that warms the stream by 1 K, W/K.
    pub fn heat_capacity(&self) -> f64 {
        self.dry_air * caloric::heat_capacity(self.humidity)
    }

    /// Density of the moist air at a total pressure (Pa), kg/m3.
    pub fn density(&self, pressure: f64) -> f64 {
        mixture::density(
            self.temperature,
            pressure,
            mixture::mole_fraction(self.humidity),
        )
    }

    /// Moist air as it flows at a total pressure (Pa), m3/s.
    pub fn volume_flow(&self, pressure: f64) -> f64 {
        self.dry_air * (1.0 + self.humidity) / self.density(pressure)
    }

    /// Viscosity at a total pressure (Pa), Pa s.
    pub fn viscosity(&self, pressure: f64) -> f64 {
        transport::viscosity(
            self.temperature,
            pressure,
            mixture::mole_fraction(self.humidity),
        )
    }

    /// The stream itself, when a component can take it.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] naming the number outside [`STREAM_TEMPERATURE_HOLDS`],
    /// [`STREAM_HUMIDITY_HOLDS`] or [`STREAM_FLOW_HOLDS`].
    pub fn checked(self) -> Result<Self, DryerError> {
        DryerError::unless_within(&STREAM_TEMPERATURE_HOLDS, self.temperature - ZERO_CELSIUS)?;
        DryerError::unless_within(&STREAM_HUMIDITY_HOLDS, self.humidity)?;
        DryerError::unless_within(&STREAM_FLOW_HOLDS, self.dry_air)?;
        Ok(self)
    }

    /// The stream itself, when a component that needs its density can take it.
    ///
    /// # Errors
    /// As [`Stream::checked`], and for a pressure (Pa) outside [`STREAM_PRESSURE_HOLDS`].
    pub fn checked_at(self, pressure: f64) -> Result<Self, DryerError> {
        DryerError::unless_within(&STREAM_PRESSURE_HOLDS, pressure)?;
        self.checked()
    }

    /// The same air, another amount of it.
    #[must_use]
    pub fn of(self, dry_air: f64) -> Self {
        Self { dry_air, ..self }
    }

    /// The same air at another temperature.
    #[must_use]
    pub fn at(self, temperature: f64) -> Self {
        Self {
            temperature,
            ..self
        }
    }

    /// The stream after `heat` (W) has been given to it; itself when nothing flows.
    #[must_use]
    pub fn heated(self, heat: f64) -> Self {
        if self.dry_air <= 0.0 {
            return self;
        }
        self.at(self.temperature + heat / self.heat_capacity())
    }

    /// Two streams made one: water, dry air and enthalpy add up.
    #[must_use]
    pub fn joined(self, other: Self) -> Self {
        let dry_air = self.dry_air + other.dry_air;
        if dry_air <= 0.0 {
            return self;
        }
        let humidity = (self.water() + other.water()) / dry_air;
        Self {
            dry_air,
            humidity,
            temperature: caloric::temperature((self.heat() + other.heat()) / dry_air, humidity),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HALL: Stream = Stream {
        dry_air: 0.02,
        temperature: 293.15,
        humidity: 0.01,
    };
    const HOT: Stream = Stream {
        dry_air: 0.05,
        temperature: 453.15,
        humidity: 0.002,
    };

    #[test]
    fn holds_joining_keeps_air_water_and_heat() {
        let both = HALL.joined(HOT);
        assert!((both.dry_air - 0.07).abs() < 1e-15);
        assert!((both.water() - HALL.water() - HOT.water()).abs() < 1e-15);
        assert!((both.heat() / (HALL.heat() + HOT.heat()) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn holds_streams_out_of_range_are_refused() {
        let celsius = |t: f64| HALL.at(t + ZERO_CELSIUS).checked().is_ok();
        let (low, high) = (STREAM_TEMPERATURE_HOLDS.low, STREAM_TEMPERATURE_HOLDS.high);
        assert!(celsius(low + 0.1) && celsius(high - 0.1));
        assert!(!celsius(low - 0.1) && !celsius(high + 0.1) && !celsius(f64::NAN));
        let humid = |humidity| Stream { humidity, ..HALL }.checked().is_ok();
        assert!(humid(STREAM_HUMIDITY_HOLDS.low) && humid(STREAM_HUMIDITY_HOLDS.high));
        assert!(!humid(-1e-9) && !humid(1.001) && !humid(f64::NAN));
        let flow = |flow| HALL.of(flow).checked().is_ok();
        assert!(flow(STREAM_FLOW_HOLDS.low) && flow(STREAM_FLOW_HOLDS.high));
        assert!(!flow(-1e-9) && !flow(100.1) && !flow(f64::NAN));
        let at = |pressure| HALL.checked_at(pressure).is_ok();
        assert!(at(STREAM_PRESSURE_HOLDS.low) && at(STREAM_PRESSURE_HOLDS.high));
        assert!(!at(4.99e4) && !at(1.21e6) && !at(f64::NAN));
    }

    #[test]
    fn exact_volume_flow_of_an_ideal_gas() {
        // Air at 20 degC and 1 atm: 1.204 kg/m3 as an ideal gas, 0.04 % more as a real one.
        let dry = Stream {
            humidity: 0.0,
            ..HALL
        };
        let ideal = 0.02 * 8.314_462_618 * 293.15 / (0.028_966 * 101_325.0);
        assert!((dry.volume_flow(101_325.0) / ideal - 1.0).abs() < 1e-3);
        assert!((dry.viscosity(101_325.0) / 1.82e-5 - 1.0).abs() < 0.01);
    }

    #[test]
    fn holds_heat_given_is_heat_carried() {
        let warmer = HALL.heated(500.0);
        assert!((warmer.heat() - HALL.heat() - 500.0).abs() < 1e-9);
        assert_eq!(HALL.of(0.0).heated(500.0), HALL.of(0.0));
    }
}
