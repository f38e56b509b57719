//! What makes the air of a record: a wheel, towers, compressed air or hot air.

use super::fill::{Fill, part};
use super::parts::{blowing, cooler, heater, recovery};
use crate::Desiccants;
use crate::bag::{Bag, Entry};
use air::CondensationPoint;
use dryer::channel::ChannelSpec;
use dryer::compressed_air::{CompressedAirSpec, Drying, Pass, Reference};
use dryer::fan_curve::FanCurveSpec;
use dryer::sorption::{Adsorbed, Passages, Way};
use dryer::towers::{Cycle, Ending, Swap};
use line::CoolingTo;
use line::air_sides::{ProcessAir, RegenerationAir};
use line::equipment::{HotAirDryer, Matrix, WheelDryer};
use line::tower_dryer::{BeadBed, TowerDryer};
use quantity::{
    ActualVolumeFlow, Angle, DewPoint, Faults, Fraction, FrostPoint, Humidity, Length, Mass,
    MassFlow, Power, Quantity,
};
use std::f64::consts::PI;

/// Temperature of the air that a regeneration heater draws, K.
const DRAWN: f64 = 293.15;
/// The desiccant of a record that names none.
const USUAL_DESICCANT: &str = "molecular-sieve-13x";
/// The earliest swap by dew point where none is stated: as long as the bed is still hot, s (common
/// practice, no source).
const EARLIEST_SWAP: f64 = 1800.0;

/// The desiccant that a table names, and its title.
pub(super) fn desiccant(
    fill: &mut Fill,
    bag: &Bag,
    all: &Desiccants,
) -> Result<(Adsorbed, String), Faults> {
    let key = match bag.get("desiccant", Entry::text) {
        Some(key) => {
            fill.note_stated(bag, "desiccant");
            key
        }
        None => fill.word(bag, "desiccant", USUAL_DESICCANT),
    };
    let found = all.find(&key, &bag.place_of("desiccant"))?;
    Ok((Adsorbed::of(&found.sorbent), found.title.clone()))
}

/// The hot-air dryer of a record.
pub(super) fn hot_air(fill: &mut Fill, bag: &Bag, mut dryer: HotAirDryer) -> HotAirDryer {
    fill.lay(bag, "recirculated", &mut dryer.recirculated);
    dryer.process = blowing(fill, &part(bag, "blower"), dryer.process);
    dryer
}

/// The compressed air of a record.
pub(super) fn compressed(
    fill: &mut Fill,
    bag: &Bag,
    mut spec: CompressedAirSpec,
) -> CompressedAirSpec {
    let table = part(bag, "compressed_air");
    fill.lay(&table, "pressure", &mut spec.line_pressure);
    match table.get("dew_point", Entry::humidity) {
        Some(Humidity::Dew(point, _)) => spec.pressure_dew_point = CondensationPoint::Dew(point),
        Some(Humidity::Frost(point, _)) => {
            spec.pressure_dew_point = CondensationPoint::Frost(point);
        }
        _ => {}
    }
    if table.gives("dew_point") {
        fill.note_stated(&table, "dew_point");
    } else {
        let usual = match spec.pressure_dew_point {
            CondensationPoint::Dew(point) => format!("{} degC dew", point.celsius()),
            CondensationPoint::Frost(point) => format!("{} degC frost", point.celsius()),
        };
        fill.word(&table, "dew_point", &usual);
    }
    fill.lay(&table, "temperature", &mut spec.temperature);
    fill.lay(&table, "energy", &mut spec.specific_energy);
    spec.reference = match fill.choose(&table, "counted_at", "20 degC and 1 bar") {
        "0 degC and 1 atm" => Reference::Normal,
        _ => Reference::Inlet,
    };
    spec.drying = drying(fill, &table, spec.drying);
    if let Some(make_up) = fill.stated(&table, "fresh") {
        spec.pass = Pass::Recirculating { make_up };
    }
    spec
}

fn drying(fill: &mut Fill, table: &Bag, usual: Drying) -> Drying {
    let word = match usual {
        Drying::Membrane { .. } => "membrane",
        _ => "refrigeration",
    };
    let word = fill.choose(table, "dried_by", word);
    let lost = fill.stated(table, "lost");
    match (word, lost, usual) {
        ("membrane", None, Drying::Membrane { mut sweep }) => {
            fill.lay(table, "lost", &mut sweep);
            Drying::Membrane { sweep }
        }
        ("membrane", Some(sweep), _) => Drying::Membrane { sweep },
        (_, Some(purge), _) => Drying::HeatlessAdsorption { purge },
        (_, None, Drying::Refrigerated { mut energy }) => {
            fill.lay(table, "drying_energy", &mut energy);
            if word == "heated adsorption" {
                Drying::HeatedAdsorption { energy }
            } else {
                Drying::Refrigerated { energy }
            }
        }
        (_, None, usual) => usual,
    }
}

/// The process side of a record.
fn process(fill: &mut Fill, bag: &Bag, usual: ProcessAir) -> ProcessAir {
    let mut all = usual;
    fill.lay(bag, "leak", &mut all.leak);
    all.blower_first = fill.choose(bag, "blower_place", "behind the cooler") == "before the cooler";
    all.blowing = blowing(fill, &part(bag, "blower"), all.blowing);
    all.cooler = cooler(fill, &part(bag, "cooler"), all.cooler, all.rated_flow);
    all
}

/// The regeneration side of a record: what is stated of it laid over the usual, whose heater and blower
/// grow with air and temperature.
fn regeneration(
    fill: &mut Fill,
    bag: &Bag,
    usual: RegenerationAir,
    rated: MassFlow,
) -> RegenerationAir {
    let table = part(bag, "regeneration");
    let (mut share, mut temperature) = (usual.share, usual.temperature);
    fill.lay(&table, "share", &mut share);
    fill.lay(&table, "temperature", &mut temperature);
    let more = share.si() / usual.share.si();
    let hotter = (temperature.si() - DRAWN) / (usual.temperature.si() - DRAWN);
    let mut heats = usual.heater;
    heats.power = Power::from_si((heats.power.si() * more * hotter).max(100.0));
    let mut moves = usual.blowing;
    if let FanCurveSpec::Parabola { free_flow, .. } = &mut moves.blower.curve {
        *free_flow = ActualVolumeFlow::from_si(free_flow.si() * more);
    }
    let flow = MassFlow::from_si(rated.si() * share.si());
    RegenerationAir {
        share,
        temperature,
        heater: heater(fill, &part(&table, "heater"), heats, flow),
        blowing: blowing(fill, &part(&table, "blower"), moves),
    }
}

/// The wheel dryer of a record.
///
/// # Errors
/// Channels that no wheel has, and a recovery that lacks a number.
pub(super) fn wheel(
    fill: &mut Fill,
    bag: &Bag,
    mut dryer: WheelDryer,
) -> Result<WheelDryer, Faults> {
    let table = part(bag, "wheel");
    dryer.process = process(fill, bag, dryer.process);
    dryer.wheel = matrix(fill, &table, dryer.wheel)?;
    if dryer.wheel.cooling.si() > 0.0 {
        fill.lay(&table, "cooling_share", &mut dryer.cooling_share);
        dryer.cooling_to = match fill.choose(&table, "cooling_to", "regeneration") {
            "return air" => CoolingTo::Return,
            "hall" => CoolingTo::Hall,
            _ => CoolingTo::Regeneration,
        };
    }
    let rated = dryer.process.rated_flow;
    dryer.regeneration = regeneration(fill, bag, dryer.regeneration, rated);
    fill.lay(&table, "steel", &mut dryer.regeneration_steel);
    let flow = MassFlow::from_si(rated.si() * dryer.regeneration.share.si());
    dryer.recovery = recovery(fill, bag, flow)?;
    Ok(dryer)
}

fn matrix(fill: &mut Fill, table: &Bag, mut all: Matrix) -> Result<Matrix, Faults> {
    fill.lay(table, "diameter", &mut all.diameter);
    match fill.stated::<Length>(table, "hub_diameter") {
        Some(hub) => {
            let inner = hub.si() / all.diameter.si();
            all.face_used = Fraction::from_si(1.0 - inner * inner);
        }
        None => {
            fill.lay(table, "face_used", &mut all.face_used);
        }
    }
    fill.lay(table, "depth", &mut all.depth);
    all.passages = passages(fill, table, all.passages)?;
    fill.lay(table, "density", &mut all.density);
    fill.lay(table, "desiccant_share", &mut all.desiccant_share);
    fill.lay(table, "capacity_left", &mut all.capacity_left);
    fill.lay(table, "heat_capacity", &mut all.heat_capacity);
    if let Some(pore) = &mut all.pore_diffusivity {
        fill.lay(table, "pore_diffusivity", pore);
    }
    (all.process, all.regeneration, all.cooling) = sectors(fill, table, &all);
    if let Some(share) = fill.stated(table, "seal_leak") {
        all.seal_leak = share;
    }
    fill.lay(table, "speed", &mut all.speed);
    fill.lay(table, "drive", &mut all.drive);
    Ok(all)
}

/// Channels by their wave and sheet; the usual ones where no wave is stated.
fn passages(fill: &mut Fill, table: &Bag, usual: Passages) -> Result<Passages, Faults> {
    let mut sheet = usual.sheet;
    let wave = (
        fill.stated_si(table, "channel_pitch"),
        fill.stated_si(table, "channel_height"),
    );
    fill.lay_si(table, "sheet", &mut sheet);
    let (Some(pitch), Some(height)) = wave else {
        return Ok(Passages { sheet, ..usual });
    };
    let spec = ChannelSpec {
        pitch,
        height,
        sheet,
    };
    match spec.check() {
        Ok(channel) => Ok(Passages::from(&channel)),
        Err(error) => Err(table
            .fault(
                "channel_height",
                quantity::FaultKind::Inconsistent,
                error.to_string(),
                "compare pitch, height and sheet with the wheel",
            )
            .into()),
    }
}

/// Angles of process, regeneration and cooling. What is not stated shares what the others leave of
/// the turn; with process and regeneration stated and no cooling, there is none.
fn sectors(fill: &mut Fill, table: &Bag, usual: &Matrix) -> (Angle, Angle, Angle) {
    let names = ["process_angle", "regeneration_angle", "cooling_angle"];
    let stated = names.map(|name| table.get(name, Entry::number));
    let mut angles = [usual.process, usual.regeneration, usual.cooling].map(Quantity::si);
    let given: f64 = stated.iter().flatten().sum();
    let open: f64 = (0..3)
        .filter(|at| stated[*at].is_none())
        .map(|at| angles[at])
        .sum();
    let left = (2.0 * PI - given).max(0.0);
    for (at, angle) in angles.iter_mut().enumerate() {
        *angle = match stated[at] {
            Some(angle) => angle,
            None if at == 2 && stated[0].is_some() && stated[1].is_some() => 0.0,
            None => *angle * left / open,
        };
        fill.lay_si(table, names[at], angle);
    }
    let [process, regeneration, cooling] = angles.map(Angle::from_si);
    (process, regeneration, cooling)
}

/// The tower dryer of a record.
pub(super) fn towers(fill: &mut Fill, bag: &Bag, mut dryer: TowerDryer) -> TowerDryer {
    dryer.process = process(fill, bag, dryer.process);
    dryer.bed = bed(fill, &part(bag, "towers"), dryer.bed);
    let rated = dryer.process.rated_flow;
    dryer.regeneration = regeneration(fill, bag, dryer.regeneration, rated);
    dryer
}

fn bed(fill: &mut Fill, table: &Bag, mut bed: BeadBed) -> BeadBed {
    fill.lay(table, "depth", &mut bed.depth);
    fill.lay(table, "bead", &mut bed.bead);
    fill.lay(table, "voidage", &mut bed.voidage);
    fill.lay(table, "density", &mut bed.density);
    let before = bed.diameter.si();
    match fill.stated::<Mass>(table, "charge") {
        Some(charge) => {
            let face = charge.si() / (bed.density.si() * bed.depth.si());
            bed.diameter = Length::from_si((4.0 * face / PI).sqrt());
        }
        None => {
            fill.lay(table, "diameter", &mut bed.diameter);
        }
    }
    // The wall grows as the diameter.
    bed.steel = Mass::from_si(bed.steel.si() * bed.diameter.si() / before);
    fill.lay(table, "capacity_left", &mut bed.capacity_left);
    fill.lay(table, "heat_capacity", &mut bed.heat_capacity);
    if let Some(pore) = &mut bed.pore_diffusivity {
        fill.lay(table, "pore_diffusivity", pore);
    }
    fill.lay(table, "steel", &mut bed.steel);
    bed.cycle = cycle(fill, table, bed.cycle);
    for (at, name) in ["bypass_1", "bypass_2"].into_iter().enumerate() {
        if let Some(share) = fill.stated(table, name) {
            bed.bypass[at] = share;
        }
    }
    bed
}

fn cycle(fill: &mut Fill, table: &Bag, mut cycle: Cycle) -> Cycle {
    let word = fill.choose(table, "swap", "clock");
    let mut after = match cycle.swap {
        Swap::Clock(after) => after,
        Swap::DewPoint { latest, .. } => latest,
    };
    fill.lay_si(table, "swap_after", &mut after);
    cycle.swap = Swap::Clock(after);
    if word == "dew point" {
        let limit = match table.get("swap_dew_point", Entry::humidity) {
            Some(Humidity::Dew(point, _)) => Some(DewPoint::si(point)),
            Some(Humidity::Frost(point, _)) => Some(FrostPoint::si(point)),
            _ => None,
        };
        fill.note_stated(table, "swap_dew_point");
        let mut earliest = EARLIEST_SWAP.min(after);
        fill.lay_si(table, "swap_earliest", &mut earliest);
        if let Some(limit) = limit {
            cycle.swap = Swap::DewPoint {
                limit,
                earliest,
                latest: after,
            };
        }
    }
    cycle.regeneration = ending(fill, table, "regeneration", cycle.regeneration);
    cycle.cooling = ending(fill, table, "cooling", cycle.cooling);
    cycle.cooling_way = match fill.choose(table, "cooling_way", "along") {
        "against" => Way::Against,
        _ => Way::Along,
    };
    if table.gives("stuck") {
        let tower = fill.count(table, "stuck", 1);
        cycle.stuck = Some(usize::from(tower == 2));
    }
    cycle
}

fn ending(fill: &mut Fill, table: &Bag, stage: &str, usual: Ending) -> Ending {
    let mut after = match usual {
        Ending::After(after) => after,
        Ending::Outlet { latest, .. } => latest,
    };
    fill.lay_si(table, &format!("{stage}_time"), &mut after);
    match fill.stated_si(table, &format!("{stage}_until")) {
        Some(temperature) => Ending::Outlet {
            temperature,
            latest: after,
        },
        None => Ending::After(after),
    }
}
