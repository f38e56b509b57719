//! The desiccant towers that peers were asked about.

use crate::wheel_case::{CaseError, zeolite};
use dryer::Stream;
use dryer::sorption::{Beads, Way};
use dryer::towers::{Cycle, Ending, Half, Swap, Towers, TowersDrive, TowersMesh, TowersSpec};

/// Seconds in an hour.
pub const HOUR: f64 = 3600.0;

/// Beds of 13X, 0.5 m deep, of beads of 2.5 mm, with a mesh; drying, regeneration and cooling in hours.
///
/// # Errors
/// From sorbent and towers.
pub fn towers(hours: [f64; 3], mesh: TowersMesh) -> Result<Towers, CaseError> {
    let spec = TowersSpec {
        diameter: 0.4,
        depth: 0.5,
        beads: Beads {
            diameter: 2.5e-3,
            voidage: 0.37,
        },
        bulk_density: 680.0,
        capacity_left: 1.0,
        bead_heat: 950.0,
        vessel_steel: 0.0,
        pore_diffusivity: Some(3e-6),
        cycle: Cycle {
            swap: Swap::Clock(hours[0] * HOUR),
            regeneration: Ending::After(hours[1] * HOUR),
            cooling: Ending::After(hours[2] * HOUR),
            cooling_way: Way::Along,
            stuck: None,
        },
        bypass: [0.0; 2],
        pressure: 101_325.0,
        sorbent: zeolite()?,
        mesh,
    };
    Ok(spec.check()?)
}

/// Process 0.42 kg/(s m2), 45 degC, 4 g/kg; regeneration 0.30, 230 degC, 10 g/kg; cooling 0.30, 30 degC,
/// 10 g/kg.
pub fn drive(towers: &Towers) -> TowersDrive {
    let air = |flow: f64, celsius: f64, humidity: f64| Stream {
        dry_air: flow * towers.face,
        temperature: 273.15 + celsius,
        humidity,
    };
    TowersDrive {
        process: air(0.42, 45.0, 0.004),
        regeneration: air(0.30, 230.0, 0.010),
        cooling: air(0.30, 30.0, 0.010),
    }
}

/// A value of the dried air at a time (s) of a half-cycle, between the middles of two steps.
pub fn at(half: &Half, time: f64, value: impl Fn(&Stream) -> f64) -> f64 {
    let middle = |k: usize| half.moments[k].time - 0.5 * half.moments[k].duration;
    let Some(next) = (1..half.moments.len()).find(|k| middle(*k) >= time) else {
        return f64::NAN;
    };
    let (from, to) = (middle(next - 1), middle(next));
    let [low, high] = [next - 1, next].map(|k| value(&half.moments[k].dry));
    low + (high - low) * (time - from) / (to - from)
}
