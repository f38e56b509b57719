//! How the dryer is run, and what cannot stand together in it.

use crate::bag::{Bag, Entry};
use job::{ControlSettings, DemandSense};
use quantity::{FaultKind, Faults};

/// What a table says of the control.
///
/// # Errors
/// What contradicts itself in it.
pub(super) fn of(table: &Bag) -> Result<ControlSettings, Faults> {
    let mut faults = Faults::none();
    let settings = ControlSettings {
        sense: table
            .get("sense", Entry::choice)
            .and_then(DemandSense::of_words),
        lag: table.get("lag", Entry::quantity),
        least_air: table.get("least_air", Entry::quantity),
        air_follows: table.get("air_follows", Entry::flag),
        setback: table.get("setback", Entry::quantity),
        setback_below: table.get("setback_below", Entry::quantity),
        setback_after: table.get("setback_after", Entry::quantity),
        recover_above: table.get("recover_above", Entry::quantity),
        ramp_per_hour: table.get("ramp_per_hour", Entry::quantity),
        off_when_closed: table.get("off_when_closed", Entry::flag),
        on_before: table.get("on_before", Entry::quantity),
        hold_until_dry: table.get("hold_until_dry", Entry::flag),
        bake_out_every: table.get("bake_out_every", Entry::quantity),
        bake_out_above: table.get("bake_out_above", Entry::humidity),
        bake_out_temperature: table.get("bake_out_temperature", Entry::quantity),
        bake_out_time: table.get("bake_out_time", Entry::quantity),
        warn_humidity: table.get("warn_humidity", Entry::humidity),
        warn_temperature: table.get("warn_temperature", Entry::quantity),
    };
    let mut idle = |name: &str, cause: &str, mend: &str| {
        if table.gives(name) {
            faults.push(table.fault(name, FaultKind::Inconsistent, cause, mend));
        }
    };
    if settings.air_follows == Some(false) {
        idle(
            "least_air",
            "the air is said not to follow demand",
            "take least_air out, or write air_follows = true",
        );
    }
    if !table.gives("setback") {
        for name in ["setback_below", "setback_after", "recover_above"] {
            idle(
                name,
                "no temperature is given to which the air is set back",
                "add setback, or take this out",
            );
        }
    }
    if settings.off_when_closed != Some(true) {
        idle(
            "on_before",
            "the dryer is not said to be switched off while nobody works",
            "add off_when_closed = true, or take this out",
        );
    }
    if !table.gives("bake_out_every") && !table.gives("bake_out_above") {
        for name in ["bake_out_temperature", "bake_out_time"] {
            idle(
                name,
                "nothing says when the desiccant is baked out",
                "add bake_out_every or bake_out_above, or take this out",
            );
        }
    }
    if let (Some(below), Some(above)) = (settings.setback_below, settings.recover_above)
        && above.fraction() < below.fraction()
    {
        faults.push(table.fault(
            "recover_above",
            FaultKind::Inconsistent,
            "it recovers below the demand at which it is set back",
            "write a share of setback_below or above",
        ));
    }
    faults.or(settings)
}
