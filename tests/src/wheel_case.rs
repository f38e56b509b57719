//! The desiccant wheel that peers were asked about, and the ways in which it is changed.

use dryer::sorption::{Adsorbed, Passages, Way};
use dryer::wheel::{Duty, Mesh, Sector, Wheel, WheelDrive, WheelSpec};
use dryer::{DryerError, Stream};
use material::sorbent::{Sorbent, SorbentError, SorbentLaw, Toth};
use std::sync::OnceLock;

/// One thing changed in the case.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// Nothing.
    Nothing,
    /// Temperature of regeneration, degC.
    Regeneration(f64),
    /// Humidity of regeneration, kg/kg.
    RegenerationHumidity(f64),
    /// Temperature of process and cooling air, degC.
    Inlet(f64),
    /// Humidity of process and cooling air, kg/kg.
    Load(f64),
    /// Turns per hour.
    Speed(f64),
    /// Share of the face that cools, taken from the process, 1.
    Cooling(f64),
    /// Capacity left, at 3 g/kg of load.
    Capacity(f64),
}

/// Why the case could not be built.
#[derive(Debug)]
pub enum CaseError {
    /// The sorbent.
    Sorbent(SorbentError),
    /// The wheel.
    Dryer(DryerError),
}

impl From<SorbentError> for CaseError {
    fn from(error: SorbentError) -> Self {
        Self::Sorbent(error)
    }
}

impl From<DryerError> for CaseError {
    fn from(error: DryerError) -> Self {
        Self::Dryer(error)
    }
}

/// Water on 13X beads, the Toth law of Wang and LeVan (2009).
///
/// # Errors
/// From the sorbent.
pub fn zeolite() -> Result<Adsorbed, CaseError> {
    static TABLE: OnceLock<Adsorbed> = OnceLock::new();
    if let Some(table) = TABLE.get() {
        return Ok(table.clone());
    }
    let law = SorbentLaw::Toth(Toth {
        capacity: 0.271_875,
        affinity: 2.408e-10,
        energy: 6852.0,
        exponent: 0.3974,
        exponent_slope: -4.199,
    });
    let table = Adsorbed::of(&Sorbent::new(law, 950.0)?);
    Ok(TABLE.get_or_init(|| table).clone())
}

/// 213 kg/m3 with 70 % of 13X, 0.2 m deep, gas side alone, no seals open; 1.8 kg/(s m2) through every
/// sector, process and cooling 35 degC and 2 g/kg, regeneration against them 180 degC and 10 g/kg; 70,
/// 20 and 10 % of the face; five turns an hour.
///
/// # Errors
/// From sorbent and wheel.
pub fn wheel(change: Change, mesh: Mesh) -> Result<(Wheel, WheelDrive), CaseError> {
    let (mut cooling, mut capacity_left) = (0.1, 1.0);
    let (mut hot, mut wet, mut celsius, mut load, mut turns_per_hour) =
        (180.0, 0.010, 35.0, 0.002, 5.0);
    match change {
        Change::Nothing => {}
        Change::Regeneration(t) => hot = t,
        Change::RegenerationHumidity(y) => wet = y,
        Change::Inlet(t) => celsius = t,
        Change::Load(y) => load = y,
        Change::Speed(n) => turns_per_hour = n,
        Change::Cooling(share) => cooling = share,
        Change::Capacity(left) => (capacity_left, load) = (left, 0.003),
    }
    let sector = |duty, share: f64, way| Sector {
        duty,
        angle: 360.0 * share,
        way,
    };
    let mut sectors = vec![
        sector(Duty::Process, 0.8 - cooling, Way::Along),
        sector(Duty::Regeneration, 0.2, Way::Against),
    ];
    if cooling > 0.0 {
        sectors.push(sector(Duty::Cooling, cooling, Way::Along));
    }
    let wheel = WheelSpec {
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
        capacity_left,
        matrix_heat: 950.0,
        pore_diffusivity: None,
        sectors,
        leaks: Vec::new(),
        channels_carry_air: false,
        pressure: 101_325.0,
        sorbent: zeolite()?,
        mesh,
    }
    .check()?;
    let air = wheel.spec.sectors.iter().map(|sector| {
        let (celsius, humidity) = match sector.duty {
            Duty::Regeneration => (hot, wet),
            Duty::Process | Duty::Cooling => (celsius, load),
        };
        Stream {
            dry_air: 1.8 * wheel.face * sector.angle / 360.0,
            temperature: 273.15 + celsius,
            humidity,
        }
    });
    let drive = WheelDrive {
        air: air.collect(),
        turns_per_hour,
    };
    Ok((wheel, drive))
}
