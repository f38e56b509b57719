//! What a part of the loop costs in pressure, by its geometry alone.

/// Two numbers of geometry that give the pressure drop at any state of the air:
/// `drop = laminar mu V + quadratic rho V^2`.
///
/// This is the form of Darcy and Forchheimer, of Ergun's packed bed, of a laminar channel and of a
/// rough pipe; because viscosity and density stand outside, heat and altitude are followed.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Resistance {
    /// Part that goes with viscosity, 1/m3.
    pub laminar: f64,
    /// Part that goes with density, 1/m4.
    pub quadratic: f64,
}

impl Resistance {
    /// From one measured drop (Pa) at a volume flow (m3/s), density (kg/m3) and viscosity (Pa s), of
    /// which `laminar_share` goes with viscosity.
    pub fn of_rating(
        drop: f64,
        volume_flow: f64,
        density: f64,
        viscosity: f64,
        laminar_share: f64,
    ) -> Self {
        Self {
            laminar: drop * laminar_share / (viscosity * volume_flow),
            quadratic: drop * (1.0 - laminar_share) / (density * volume_flow * volume_flow),
        }
    }

    /// Pressure drop, Pa, of a volume flow (m3/s) of given density (kg/m3) and viscosity (Pa s).
    pub fn drop(&self, volume_flow: f64, density: f64, viscosity: f64) -> f64 {
        volume_flow * (self.laminar * viscosity + self.quadratic * density * volume_flow.abs())
    }

    /// Two parts one after the other.
    #[must_use]
    pub fn then(self, next: Self) -> Self {
        Self {
            laminar: self.laminar + next.laminar,
            quadratic: self.quadratic + next.quadratic,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_rating_is_given_back_and_drops_add_up() {
        let filter = Resistance::of_rating(300.0, 0.05, 1.2, 1.8e-5, 0.7);
        let hose = Resistance::of_rating(500.0, 0.05, 1.2, 1.8e-5, 0.0);
        assert!((filter.drop(0.05, 1.2, 1.8e-5) - 300.0).abs() < 1e-10);
        // Twice the flow: the laminar share doubles, the rest is fourfold.
        assert!((filter.drop(0.1, 1.2, 1.8e-5) - 300.0 * (1.4 + 1.2)).abs() < 1e-10);
        assert!((filter.then(hose).drop(0.05, 1.2, 1.8e-5) - 800.0).abs() < 1e-10);
        assert!((filter.drop(-0.1, 1.2, 1.8e-5) + filter.drop(0.1, 1.2, 1.8e-5)).abs() < 1e-10);
    }
}
