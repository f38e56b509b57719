//! The stated benchmark case of the desiccant wheel.

use dryer::sorption::{Adsorbed, Passages, Way};
use dryer::wheel::{Duty, Mesh, Sector, Wheel, WheelDrive, WheelSpec};
use dryer::{DryerError, Stream};
use material::sorbent::{Sorbent, SorbentError, SorbentLaw, Toth};

/// What can go wrong on the way to the case.
#[derive(Debug, thiserror::Error)]
pub enum CaseError {
    /// In the sorbent.
    #[error(transparent)]
    Sorbent(#[from] SorbentError),
    /// In the wheel.
    #[error(transparent)]
    Dryer(#[from] DryerError),
}

/// A wheel of half a metre, 0.2 m deep: 213 kg/m3, 70 % of it 13X, gas side alone, no seals open.
///
/// # Errors
/// From sorbent and wheel.
pub fn wheel(mesh: Mesh) -> Result<Wheel, CaseError> {
    let law = SorbentLaw::Toth(Toth {
        capacity: 0.271_875,
        affinity: 2.408e-10,
        energy: 6852.0,
        exponent: 0.3974,
        exponent_slope: -4.199,
    });
    let sector = |duty, angle, way| Sector { duty, angle, way };
    let spec = WheelSpec {
        diameter: 0.5,
        face_used: 0.9,
        depth: 0.2,
        passages: Passages {
            area: 2370.0,
            open: 0.763,
            hydraulic_diameter: 1.29e-3,
            nusselt: 2.4,
            friction: 11.3,
            sheet: 0.2e-3,
        },
        matrix_density: 213.0,
        sorbent_share: 0.7,
        capacity_left: 1.0,
        matrix_heat: 950.0,
        pore_diffusivity: None,
        sectors: vec![
            sector(Duty::Process, 252.0, Way::Along),
            sector(Duty::Regeneration, 72.0, Way::Against),
            sector(Duty::Cooling, 36.0, Way::Along),
        ],
        leaks: Vec::new(),
        channels_carry_air: false,
        pressure: 101_325.0,
        sorbent: Adsorbed::of(&Sorbent::new(law, 950.0)?),
        mesh,
    };
    Ok(spec.check()?)
}

/// 1.8 kg/(s m2) through every sector; process and cooling 35 degC and 2 g/kg, regeneration 180 degC
/// and 10 g/kg; five turns an hour.
pub fn drive(wheel: &Wheel) -> WheelDrive {
    let air = wheel.spec.sectors.iter().map(|sector| {
        let (celsius, humidity) = match sector.duty {
            Duty::Regeneration => (180.0, 0.010),
            Duty::Process | Duty::Cooling => (35.0, 0.002),
        };
        Stream {
            dry_air: 1.8 * wheel.face * sector.angle / 360.0,
            temperature: 273.15 + celsius,
            humidity,
        }
    });
    WheelDrive {
        air: air.collect(),
        turns_per_hour: 5.0,
    }
}
