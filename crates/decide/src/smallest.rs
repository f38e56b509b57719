//! What custom makes smaller than it is usually built: told with the sizes, so that nobody looks for it in vain.
//!
//! Every number here is common practice, no source.

use crate::compare::{Dryer, HopperAsked, RunAsked};
use crate::size::Measured;
use line::equipment::{Equipment, Machine};
use quantity::Quantity;
use serde::Serialize;

/// Diameter, mm, below which wheels are hardly made (common practice, no source).
pub const WHEEL: f64 = 100.0;
/// Diameter, mm, below which desiccant towers are hardly made (common practice, no source).
pub const TOWER: f64 = 60.0;
/// Volume, l, below which hoppers are hardly made (common practice, no source).
pub const HOPPER: f64 = 2.5;

/// A part that is smaller than the smallest usually made.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BelowUsual {
    /// What it belongs to: the title of a dryer, or the resin of a hopper.
    pub of: String,
    /// What it is.
    pub part: &'static str,
    /// How large custom makes it.
    pub measured: Measured,
    /// The smallest that is usually made.
    pub smallest: Measured,
}

/// Hoppers that were chosen, and are smaller than they are made.
pub(crate) fn hoppers(runs: &[RunAsked]) -> Vec<BelowUsual> {
    let hoppers = runs.iter().flat_map(|run| &run.hoppers);
    let chosen = hoppers.filter(|hopper: &&HopperAsked| hopper.is_chosen);
    chosen
        .filter_map(|hopper| {
            let own = Measured::of("volume", hopper.volume_l, "l");
            below(&hopper.resin, "hopper", own, HOPPER)
        })
        .collect()
}

/// The desiccant of a dryer sized by custom, where it is smaller than it is made.
pub(crate) fn desiccant(dryer: &Dryer) -> Option<BelowUsual> {
    let Dryer::Air(equipment) = dryer else {
        return None;
    };
    of_equipment(equipment)
}

fn of_equipment(equipment: &Equipment) -> Option<BelowUsual> {
    let (part, diameter, least) = match &equipment.machine {
        Machine::Wheel(dryer) => ("wheel", dryer.wheel.diameter, WHEEL),
        Machine::Towers(dryer) => ("tower", dryer.bed.diameter, TOWER),
        Machine::HotAir(_) | Machine::Compressed(_) => return None,
    };
    let own = Measured::of("diameter", diameter.si() * 1e3, "mm");
    below(&equipment.title, part, own, least)
}

fn below(of: &str, part: &'static str, measured: Measured, least: f64) -> Option<BelowUsual> {
    (measured.value < least).then(|| BelowUsual {
        of: of.to_owned(),
        part,
        measured,
        smallest: Measured {
            value: least,
            ..measured
        },
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_only_what_is_below_the_smallest_is_told() {
        let of = |value: f64| below("PC", "hopper", Measured::of("volume", value, "l"), HOPPER);
        assert!(of(HOPPER).is_none() && of(120.0).is_none());
        let told = of(1.0).map(|told| (told.measured.value, told.smallest.value));
        assert_eq!(told, Some((1.0, HOPPER)));
    }
}
