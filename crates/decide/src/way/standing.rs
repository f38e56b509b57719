//! What standing on the press does to pellets, for stays of any length.

use super::{begin, hopper};
use crate::DecideError;
use crate::case::Case;
use job::Job;
use quantity::Quantity;

/// What a machine hopper does to pellets.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Standing {
    /// Resin it holds, with its water, kg.
    pub(crate) holds: f64,
    /// Time in which they come nearer the hall by a factor of e, s.
    pub(crate) cooling: f64,
    /// Stays (s), beginning with none, and what has been taken up by then, kg/kg dry.
    pub(crate) uptake: Vec<(f64, f64)>,
}

/// What a machine hopper does to the pellets of a case that stay in it for any of some times (s, rising).
///
/// # Errors
/// As [`super::of`].
pub(crate) fn standing(
    job: &Job,
    case: &Case,
    hopper: &job::MachineHopper,
    stays: &[f64],
) -> Result<Standing, DecideError> {
    let (column, _) = case.column()?;
    let steady = column.steady(&case.drive())?;
    let mean = steady.outlet_moisture + steady.outlet_free_water;
    let Some((walk, dried)) = begin(job, case, &steady, mean)? else {
        return Ok(Standing {
            holds: hopper::holds(hopper, case.wet_rate()).0,
            cooling: hopper.cooling.map_or(0.0, Quantity::si),
            uptake: Vec::new(),
        });
    };
    walk.standing(hopper, &dried, stays)
}
