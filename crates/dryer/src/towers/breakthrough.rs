//! How long a bed dries before water comes through.

use super::in_time::{TowersState, lost};
use super::spec::{Towers, TowersDrive};
use crate::DryerError;
use crate::condensation_temperature;
use crate::sorption::mean;

/// When water comes through a bed that dries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Breakthrough {
    /// Seconds in which the bed would be full if it took all of the water: equation 7 of
    /// [`crate::towers`].
    pub stoichiometric: f64,
    /// Seconds until the air leaves at the dew point asked.
    pub usable: f64,
    /// Seconds until it leaves with half of the humidity it came with.
    pub half: f64,
}

/// Most steps.
const STEPS: usize = 2_000_000;

impl Towers {
    /// Lets the tower that is drying in `state` dry on, without swap, until half of the humidity comes
    /// through; usable is the time until the dew point is `limit` (K) again after the disturbance of the
    /// swap.
    ///
    /// # Errors
    /// Airs that cannot be; a bed that takes no water from its air.
    pub fn breakthrough(
        &self,
        state: &TowersState,
        drive: &TowersDrive,
        limit: f64,
    ) -> Result<Breakthrough, DryerError> {
        self.check_drive(drive)?;
        let tower = state.clock.drying;
        let met = self.meets(drive).process[tower];
        let mut bed = state.beds[tower].clone();
        let full = self.resting(met.air);
        let wanted = self.row().water(&full) - self.row().water(&bed);
        DryerError::unless_between(
            "water that the bed still takes up",
            wanted,
            "kg/m2",
            (1e-9, f64::MAX),
        )?;
        let mesh = &self.spec.mesh;
        let (mut time, mut usable, mut least) = (0.0, 0.0, f64::INFINITY);
        let mut taken = 0.0;
        let mut last = (0.0, met.air.humidity);
        for _ in 0..STEPS {
            let step = (mesh.growth * (time + met.slice_time)).min(mesh.longest * met.slice_time);
            let out = self
                .row()
                .pass(&mut bed, &met.contact, met.way, met.air, step);
            time += step;
            let humidity = out[1].humidity;
            let dew_point = condensation_temperature(humidity, self.spec.pressure);
            // Where it was last below the limit, a straight line in the logarithm between two steps.
            if dew_point < limit {
                usable = time;
            } else if (usable - last.0).abs() < 1e-9 && usable > 0.0 {
                let earlier = condensation_temperature(last.1, self.spec.pressure);
                usable += step * (limit - earlier) / (dew_point - earlier);
            }
            taken += met.contact.flow * step * (met.air.humidity - mean(&out).humidity);
            least = least.min(humidity);
            let goal = 0.5 * met.air.humidity;
            // The disturbance of the swap is over when the bed dries.
            if humidity >= goal && last.1 < goal && taken > 0.2 * wanted {
                let share = (goal - last.1) / (humidity - last.1);
                let kept = met.air.humidity - least;
                return Ok(Breakthrough {
                    stoichiometric: wanted / (met.contact.flow * kept),
                    usable,
                    half: time - step + share * step,
                });
            }
            last = (time, humidity);
        }
        Err(lost(STEPS, last.1))
    }
}
