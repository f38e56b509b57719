//! A stream of humid air between two components.

use air::caloric;

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
    fn holds_heat_given_is_heat_carried() {
        let warmer = HALL.heated(500.0);
        assert!((warmer.heat() - HALL.heat() - 500.0).abs() < 1e-9);
        assert_eq!(HALL.of(0.0).heated(500.0), HALL.of(0.0));
    }
}
