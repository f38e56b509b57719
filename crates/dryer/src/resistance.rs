//! What a part of the loop costs in pressure, by its geometry alone, and what all of them cost together.

use crate::{DryerError, Stream};

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
    /// As [`Resistance::of_rating`], for numbers that may be wrong.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for numbers that none of these can be.
    pub fn checked_rating(
        drop: f64,
        volume_flow: f64,
        density: f64,
        viscosity: f64,
        laminar_share: f64,
    ) -> Result<Self, DryerError> {
        DryerError::unless_between("rated pressure drop", drop, "Pa", (0.0, 1e6))?;
        DryerError::unless_between("rated flow", volume_flow, "m3/s", (1e-9, 1e6))?;
        DryerError::unless_between("rated density", density, "kg/m3", (1e-3, 100.0))?;
        DryerError::unless_between("rated viscosity", viscosity, "Pa s", (1e-6, 1e-3))?;
        DryerError::unless_between(
            "share that goes with viscosity",
            laminar_share,
            "",
            (0.0, 1.0),
        )?;
        Ok(Self::of_rating(
            drop,
            volume_flow,
            density,
            viscosity,
            laminar_share,
        ))
    }

    /// From one measured drop (Pa) at a volume flow (m3/s), density (kg/m3) and viscosity (Pa s), all above
    /// zero, of which `laminar_share` goes with viscosity.
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

    /// The same as dry air (kg/s) of this state sees it at a pressure (Pa), whatever its amount: to be asked for
    /// the drop at a flow of dry air, a density and a viscosity of 1.
    #[must_use]
    pub fn seen(self, by: &Stream, pressure: f64) -> Self {
        let air = by.of(1.0);
        let volume = air.volume_flow(pressure);
        Self {
            laminar: self.laminar * air.viscosity(pressure) * volume,
            quadratic: self.quadratic * air.density(pressure) * volume * volume,
        }
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

/// A resistance at its place: the air there, whatever its amount, and its pressure, Pa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// What it costs.
    pub resistance: Resistance,
    /// The air that passes.
    pub air: Stream,
    /// Pressure there, Pa.
    pub pressure: f64,
}

/// The system curve: pressure drop, Pa, of parts one after the other over the flow of dry air, kg/s.
///
/// # Errors
/// [`DryerError::Impossible`] for air that a part cannot have.
pub fn system(parts: &[Part]) -> Result<impl Fn(f64) -> f64 + use<>, DryerError> {
    let mut sum = Resistance::default();
    for part in parts {
        let air = part.air.of(1.0).checked_at(part.pressure)?;
        sum = sum.then(part.resistance.seen(&air, part.pressure));
    }
    Ok(move |dry_air| sum.drop(dry_air, 1.0, 1.0))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    #[test]
    fn exact_the_system_is_the_sum_of_its_parts_each_in_its_air() {
        let air = Stream {
            dry_air: 0.04,
            temperature: 300.0,
            humidity: 0.01,
        };
        let rated = Resistance::of_rating(500.0, 0.05, 1.2, 1.8e-5, 0.4);
        let parts = [(air, 1e5), (air.at(450.0), 1.05e5)].map(|(air, pressure)| Part {
            resistance: rated,
            air,
            pressure,
        });
        let drop = system(&parts).unwrap()(0.04);
        let sum: f64 = parts
            .iter()
            .map(|part| {
                let p = part.pressure;
                let air = part.air;
                rated.drop(air.volume_flow(p), air.density(p), air.viscosity(p))
            })
            .sum();
        assert!((drop / sum - 1.0).abs() < 1e-12);
        let wrong = Part {
            air: air.at(f64::NAN),
            ..parts[0]
        };
        assert!(system(&[wrong]).is_err());
        assert!(Resistance::checked_rating(300.0, 0.0, 1.2, 1.8e-5, 0.7).is_err());
        assert!(Resistance::checked_rating(f64::NAN, 0.05, 1.2, 1.8e-5, 0.7).is_err());
    }

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
