//! The stated benchmark case of the desiccant towers.

use crate::wheel::CaseError;
use dryer::Stream;
use dryer::sorption::{Adsorbed, Beads, Way};
use dryer::towers::{Cycle, Ending, Swap, Towers, TowersDrive, TowersMesh, TowersSpec};
use material::sorbent::{Sorbent, SorbentLaw, Toth};

/// Towers of 0.4 m, 0.5 m of 13X beads of 2.5 mm; 4 h of drying, 2.5 h of regeneration, 0.35 h of cooling.
///
/// # Errors
/// From sorbent and towers.
pub fn towers(mesh: TowersMesh) -> Result<Towers, CaseError> {
    let law = SorbentLaw::Toth(Toth {
        capacity: 0.271_875,
        affinity: 2.408e-10,
        energy: 6852.0,
        exponent: 0.3974,
        exponent_slope: -4.199,
    });
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
            swap: Swap::Clock(4.0 * 3600.0),
            regeneration: Ending::After(2.5 * 3600.0),
            cooling: Ending::After(0.35 * 3600.0),
            cooling_way: Way::Along,
            stuck: None,
        },
        bypass: [0.0; 2],
        pressure: 101_325.0,
        sorbent: Adsorbed::of(&Sorbent::new(law, 950.0)?),
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
