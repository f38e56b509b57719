//! How large a dryer and its hoppers are for a cell, and which job decides each part; nothing is run.
//!
//! The dryers are those that [`crate::compare`] runs, made by the same functions for the same duty.

use crate::DecideError;
use crate::case::celsius;
use crate::compare::{Asking, Dryer, Duty, Hardest, Offered, RunAsked};
use crate::smallest::{self, BelowUsual};
use dryer::Stream;
use dryer::compressed_air::CompressedAirSpec;
use dryer::cooler::CoolerSpec;
use dryer::heater::HeaterSpec;
use dryer::towers::Swap;
use job::Cell;
use line::LineError;
use line::air_sides::{ProcessAir, RegenerationAir};
use line::equipment::{
    Blowing, CoolantSpec, Equipment, EquipmentError, Machine, Matrix, ReturnCooler,
};
use line::tower_dryer::BeadBed;
use quantity::Quantity;
use quantity::constants::{STANDARD_ATMOSPHERE, ZERO_CELSIUS};
use serde::Serialize;
use std::f64::consts::PI;

/// Density, kg/m3, and pressure, Pa, of the hall air at which blowers are told.
const HALL: (f64, f64) = (1.2, STANDARD_ATMOSPHERE);

/// What decides the parts of a dryer that is as it is.
const AS_STATED: &str = "as stated";

/// What is needed, and how large each dryer is for it.
#[derive(Clone, Debug, Serialize)]
pub struct Sizes {
    /// What the user calls the cell.
    pub title: String,
    /// What is dried.
    pub runs: Vec<RunAsked>,
    /// What the dryers are sized for.
    pub needs: Vec<Need>,
    /// The dryers; empty where none may serve.
    pub dryers: Vec<SizedDryer>,
    /// What custom makes smaller than it is usually built.
    pub below_usual: Vec<BelowUsual>,
    /// Why none may serve, where that is so.
    pub refused: Option<String>,
    /// What carries over from resin to resin.
    pub carried_over: Vec<String>,
}

/// The hardest of something that the jobs ask.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Need {
    /// What is asked.
    pub what: &'static str,
    /// How much.
    pub measured: Measured,
    /// The job, or the jobs that run at once, that ask most.
    pub decided_by: String,
}

/// A dryer and its parts.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SizedDryer {
    /// What it is called.
    pub title: String,
    /// Its parts.
    pub parts: Vec<Part>,
}

/// A part of a dryer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Part {
    /// What it is called.
    pub name: &'static str,
    /// What is told of it.
    pub measures: Vec<Measured>,
    /// The job that decides it; "as stated" where the dryer is as it is.
    pub decided_by: String,
}

/// A number with what it measures.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Measured {
    /// What it measures; empty where the unit says it.
    pub what: &'static str,
    /// How much.
    pub value: f64,
    /// In which unit.
    pub unit: &'static str,
}

impl Measured {
    /// A number in a unit.
    pub fn of(what: &'static str, value: f64, unit: &'static str) -> Self {
        Self { what, value, unit }
    }
}

/// Sizes dryers for a cell.
///
/// # Errors
/// When a job cannot be planned, and [`DecideError::Equipment`] for a dryer that cannot be.
pub fn size(cell: &Cell, dryers: &[Offered<'_>]) -> Result<Sizes, DecideError> {
    let asked = Asking::of(cell)?;
    let duty = &asked.duty;
    let mut below_usual = smallest::hoppers(&asked.runs);
    let sized = if asked.refused.is_some() {
        Vec::new()
    } else {
        let each = dryers.iter().map(|offered| {
            let made = (offered.make)(duty);
            let mut dryer = sized(&made, duty)?;
            if offered.is_stated {
                for part in &mut dryer.parts {
                    AS_STATED.clone_into(&mut part.decided_by);
                }
            } else {
                below_usual.extend(smallest::desiccant(&made));
            }
            Ok(dryer)
        });
        each.collect::<Result<_, DecideError>>()?
    };
    Ok(Sizes {
        title: cell.title.clone(),
        needs: needs(duty),
        runs: asked.runs,
        dryers: sized,
        below_usual,
        refused: asked.refused,
        carried_over: asked.carried_over,
    })
}

/// What the jobs ask.
fn needs(duty: &Duty) -> Vec<Need> {
    let need = |what, hardest: Hardest, value: f64, unit| Need {
        what,
        measured: Measured::of("", value, unit),
        decided_by: hardest.decided_by,
    };
    let all = [
        ("process air", duty.air_flow(), 3600.0, "kg/h"),
        ("water to take up", duty.water(), 3600.0, "kg/h"),
        ("resin", duty.rate(), 3600.0, "kg/h"),
    ];
    let mut needs: Vec<Need> = all
        .into_iter()
        .map(|(what, hardest, factor, unit)| {
            let value = hardest.value * factor;
            need(what, hardest, value, unit)
        })
        .collect();
    let hottest = duty.set_point();
    let value = celsius(hottest.value);
    needs.insert(1, need("hottest air", hottest, value, "degC"));
    needs
}

fn sized(dryer: &Dryer, duty: &Duty) -> Result<SizedDryer, DecideError> {
    let parts = match dryer {
        Dryer::Air(equipment) => {
            of_equipment(equipment, duty).map_err(|cause| DecideError::Equipment {
                title: equipment.title.clone(),
                cause: Box::new(cause),
            })?
        }
        Dryer::Batches(dryer) => dryer.parts(duty),
    };
    Ok(SizedDryer {
        title: dryer.title().to_owned(),
        parts,
    })
}

fn of_equipment(equipment: &Equipment, duty: &Duty) -> Result<Vec<Part>, EquipmentError> {
    let by_air = duty.air_flow().decided_by;
    let by = |name, measures| Part {
        name,
        measures,
        decided_by: by_air.clone(),
    };
    let mut parts = match &equipment.machine {
        Machine::HotAir(dryer) => {
            vec![by("blower", blower(&dryer.process, dryer.rated_flow.si())?)]
        }
        Machine::Compressed(spec) => {
            vec![by(
                "compressed air",
                compressed(spec, duty.air_flow().value)?,
            )]
        }
        Machine::Wheel(dryer) => {
            let mut parts = vec![by("wheel", wheel(&dryer.wheel, duty))];
            for (name, measures) in sides(&dryer.process, &dryer.regeneration)? {
                parts.push(by(name, measures));
            }
            parts
        }
        Machine::Towers(dryer) => {
            let mut parts = vec![by("each tower", tower(&dryer.bed, duty))];
            for (name, measures) in sides(&dryer.process, &dryer.regeneration)? {
                parts.push(by(name, measures));
            }
            parts
        }
    };
    parts.push(Part {
        name: "heater of a hopper",
        measures: vec![kilowatt(&equipment.heater)],
        decided_by: duty.hopper_air_flow().decided_by,
    });
    Ok(parts)
}

/// Blowers, regeneration heater and cooler of a dryer with a desiccant.
fn sides(
    process: &ProcessAir,
    regeneration: &RegenerationAir,
) -> Result<Vec<(&'static str, Vec<Measured>)>, EquipmentError> {
    let rated = process.rated_flow.si();
    let regenerating = rated * regeneration.share.si();
    let mut sides = vec![
        ("process blower", blower(&process.blowing, rated)?),
        ("regeneration heater", vec![kilowatt(&regeneration.heater)]),
        (
            "regeneration blower",
            blower(&regeneration.blowing, regenerating)?,
        ),
    ];
    sides.extend(
        process
            .cooler
            .as_ref()
            .map(|it| ("return-air cooler", cooler(it))),
    );
    Ok(sides)
}

fn kilowatt(heater: &HeaterSpec) -> Measured {
    Measured::of("", heater.power.si() / 1e3, "kW")
}

/// Disc, mass, and the water that each turn brings to its desiccant.
fn wheel(matrix: &Matrix, duty: &Duty) -> Vec<Measured> {
    let diameter = matrix.diameter.si();
    let volume = 0.25 * PI * diameter * diameter * matrix.face_used.si() * matrix.depth.si();
    let desiccant = volume * matrix.density.si() * matrix.desiccant_share.si();
    let turns = matrix.speed.si();
    vec![
        Measured::of("diameter", diameter * 1e3, "mm"),
        Measured::of("depth", matrix.depth.si() * 1e3, "mm"),
        Measured::of("desiccant", desiccant, "kg"),
        Measured::of("at", turns * 3600.0, "turns/h"),
        Measured::of(
            "water a turn",
            1e3 * duty.water().value / turns / desiccant,
            "g/kg",
        ),
    ]
}

/// Bed, beads, and the water that comes to them until the towers swap.
fn tower(bed: &BeadBed, duty: &Duty) -> Vec<Measured> {
    let diameter = bed.diameter.si();
    let beads = 0.25 * PI * diameter * diameter * bed.depth.si() * bed.density.si();
    let mut measures = vec![
        Measured::of("diameter", diameter * 1e3, "mm"),
        Measured::of("bed", bed.depth.si() * 1e3, "mm"),
        Measured::of("beads", beads, "kg"),
        Measured::of("steel", bed.steel.si(), "kg"),
    ];
    if let Swap::Clock(time) = bed.cycle.swap {
        let loading = 1e3 * duty.water().value * time / beads;
        measures.push(Measured::of("swap after", time / 3600.0, "h"));
        measures.push(Measured::of("water till then", loading, "g/kg"));
    }
    measures
}

/// Air of the hall at rated flow, and power drawn at full speed.
fn blower(blowing: &Blowing, rated: f64) -> Result<Vec<Measured>, EquipmentError> {
    let checked = blowing.blower.check()?;
    let volume = rated / HALL.0;
    let shaft = checked.shaft_power(volume, HALL.0, HALL.1);
    Ok(vec![
        Measured::of("", volume * 3600.0, "m3/h"),
        Measured::of("at", checked.rise(volume, HALL.0), "Pa"),
        Measured::of("", shaft / blowing.blower.motor_efficiency.si() / 1e3, "kW"),
    ])
}

/// Conductance of both sides together, and what cools.
fn cooler(cooler: &ReturnCooler) -> Vec<Measured> {
    let CoolerSpec {
        air_conductance,
        coolant_conductance,
        ..
    } = cooler.cooler;
    let both = 1.0 / (1.0 / air_conductance.si() + 1.0 / coolant_conductance.si());
    let cools = match cooler.coolant {
        CoolantSpec::Water { flow, .. } => Measured::of("water", flow.si() * 3600.0, "kg/h"),
        CoolantSpec::HallAir { flow, .. } => Measured::of("hall air", flow.si() * 3600.0, "kg/h"),
    };
    vec![Measured::of("", both, "W/K"), cools]
}

/// Air that is drawn in, and what compressor and dryer draw for it.
fn compressed(spec: &CompressedAirSpec, flow: f64) -> Result<Vec<Measured>, EquipmentError> {
    let air = spec.check()?;
    let flow = flow.min(air.most());
    let back = Stream {
        dry_air: flow,
        temperature: ZERO_CELSIUS + 20.0,
        humidity: 0.0,
    };
    let delivered = air
        .deliver(flow, &back, STANDARD_ATMOSPHERE)
        .map_err(LineError::from)?;
    Ok(vec![
        Measured::of("", delivered.volume * 3600.0, "m3/h"),
        Measured::of("compressor", delivered.power / 1e3, "kW"),
    ])
}
