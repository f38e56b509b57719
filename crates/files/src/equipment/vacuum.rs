//! The vacuum dryer of a record: what is stated laid over what is usual for its charge.

use super::fill::{Fill, part};
use super::makers::compressed;
use super::parts::{blowing, heater};
use crate::bag::{Bag, Entry};
use dryer::compressed_air::CompressedAirSpec;
use dryer::fan_curve::FanCurveSpec;
use dryer::heater::HeaterSpec;
use line::equipment::Machine;
use line::usual;
use line::vacuum_dryer::{PurgeAir, VacuumDryer};
use quantity::constants::{DRY_AIR_MOLAR_MASS, MOLAR_GAS};
use quantity::{
    ActualVolumeFlow, Fault, FaultKind, Meaning, Power, Quantity, Temperature, Units, digits,
    show_si,
};

/// Draw beyond the time under vacuum by which a usual rate belongs to a charge, s: that of
/// [`usual::vacuum_dryer`].
const MORE_THAN_VACUUM: f64 = 600.0;
/// Density of pellets themselves, and the densest that they pour, kg/m3 (common practice, no source).
const PELLET: f64 = 1200.0;
const DENSEST_POURED: f64 = 1100.0;
/// Pressure that is no vacuum any more, Pa: half an atmosphere (common practice, no source).
const NO_VACUUM: f64 = 5e4;

/// What a record says of a vacuum dryer.
pub(super) struct Filled {
    pub(super) dryer: VacuumDryer,
    pub(super) heater: HeaterSpec,
    /// Whether its time is stated.
    pub(super) time_is_set: bool,
}

/// The vacuum dryer of a record for its hottest air (K); none without a charge.
pub(super) fn vacuum(fill: &mut Fill, bag: &Bag, hottest: f64) -> Option<Filled> {
    let table = part(bag, "vacuum");
    let charge: f64 = fill.stated_si(&table, "charge")?;
    let time: Option<f64> = fill.stated_si(&table, "time");
    if time.is_none() {
        fill.word(&table, "time", "as long as the resin needs");
    }
    let usual_time = time.unwrap_or(usual::VACUUM_TIME);
    let rate = charge / (usual_time + MORE_THAN_VACUUM);
    let (mut dryer, mut heats) = usual::vacuum_dryer(rate, hottest, usual_time);
    let usual_free = dryer.free_volume.si();
    match fill.stated_si(&table, "chamber") {
        Some(chamber) => {
            let free = chamber - charge / PELLET;
            dryer.free_volume = Quantity::from_si(free.max(1e-4));
        }
        None => {
            fill.lay(&table, "free_volume", &mut dryer.free_volume);
        }
    }
    fill.lay(&table, "handling", &mut dryer.handling);
    fill.lay(&table, "end_pressure", &mut dryer.end_pressure);
    fill.lay(&table, "pump_speed", &mut dryer.pump_speed);
    fill.lay(&table, "pump_power", &mut dryer.pump_power);
    let mut rise = 60.0 * dryer.leak / usual_free;
    fill.lay_si(&table, "rise", &mut rise);
    dryer.leak = dryer.free_volume.si() * rise / 60.0;
    dryer.purge_air = purge_air(fill, bag, &table, &dryer);
    fill.lay_air(&table, "purge", &mut dryer.purge);
    fill.lay_air(&table, "retention_purge", &mut dryer.retention_purge);
    let before = dryer.heating_air.si();
    fill.lay_air(&table, "heating_air", &mut dryer.heating_air);
    fill.lay(&table, "lacking", &mut dryer.lacking);
    // Heater and blower are usual for the air that they heat and move.
    let more = dryer.heating_air.si() / before;
    heats.power = Power::from_si((heats.power.si() * more).max(100.0));
    heats.outlet_limit = Temperature::from_si(heats.outlet_limit.si().max(hottest));
    if let FanCurveSpec::Parabola { free_flow, .. } = &mut dryer.heating.blower.curve {
        *free_flow = ActualVolumeFlow::from_si(free_flow.si() * more);
    }
    let heater = heater(fill, &part(bag, "heater"), heats, dryer.heating_air);
    dryer.heating = blowing(fill, &part(bag, "blower"), dryer.heating);
    fill.faults.extend(no_vacuum(&table, &dryer, hottest));
    Some(Filled {
        dryer,
        heater,
        time_is_set: time.is_some(),
    })
}

/// Air of the hall, or of a line that a membrane dries where nothing else is stated.
fn purge_air(fill: &mut Fill, bag: &Bag, table: &Bag, usual: &VacuumDryer) -> PurgeAir {
    let word = fill.choose(table, "purge_air", "compressed air");
    let PurgeAir::Line(line) = usual.purge_air else {
        return PurgeAir::Hall;
    };
    if word == "hall" {
        return PurgeAir::Hall;
    }
    let dried_by = part(bag, "compressed_air");
    let otherwise =
        dried_by.gives("dried_by") && dried_by.get("dried_by", Entry::choice) != Some("membrane");
    let usual = match otherwise.then(refrigerated).flatten() {
        Some(of_the_plant) => of_the_plant,
        None => line,
    };
    PurgeAir::Line(compressed(fill, bag, usual))
}

/// The usual line of a plant.
fn refrigerated() -> Option<CompressedAirSpec> {
    match usual::compressed_air_dryer(1.0, 400.0).machine {
        Machine::Compressed(spec) => Some(spec),
        _ => None,
    }
}

/// A purge and a leak that the pump cannot take away.
fn no_vacuum(table: &Bag, dryer: &VacuumDryer, hottest: f64) -> Option<Fault> {
    let purge = dryer.purge.si() * MOLAR_GAS * hottest / DRY_AIR_MOLAR_MASS;
    let stays = dryer.end_pressure.si() + (purge + dryer.leak) / dryer.pump_speed.si();
    if stays < NO_VACUUM {
        return None;
    }
    let name = ["purge", "pump_speed", "rise"]
        .into_iter()
        .find(|name| table.gives(name))
        .unwrap_or("pump_speed");
    let cause = format!(
        "purge and leak hold the vessel at {}, which is no vacuum",
        show_si(stays, Meaning::AbsolutePressure, Units::Metric, 2)
    );
    let mend = "compare the speed of the pump, the purge and the rise with the dryer, unit by unit";
    Some(table.fault(name, FaultKind::Inconsistent, cause, mend))
}

/// Numbers of the record of a vacuum dryer that each may be and cannot be together.
pub(super) fn contradictions(bag: &Bag) -> Vec<Fault> {
    let table = part(bag, "vacuum");
    let number = |name: &str| table.get(name, Entry::number);
    let mut faults = Vec::new();
    if let (Some(charge), Some(chamber)) = (number("charge"), number("chamber"))
        && chamber * DENSEST_POURED < charge
    {
        let cause = format!(
            "{} kg of pellets do not go into {} l, poured as densely as pellets are",
            digits(charge, 3),
            digits(1e3 * chamber, 3)
        );
        let mend = "compare charge and volume with the vessel, unit by unit";
        faults.push(table.fault("chamber", FaultKind::Inconsistent, cause, mend));
    }
    let line = part(bag, "compressed_air");
    if table.get("purge_air", Entry::choice) == Some("hall") && bag.gives("compressed_air") {
        let cause = "the purge is air of the hall, and a line of compressed air is described";
        let mend = "remove [compressed_air], or let the purge be compressed air";
        faults.push(table.fault("purge_air", FaultKind::Inconsistent, cause, mend));
    }
    if line.gives("fresh") {
        let cause = "the purge of a vacuum dryer goes out with the pump, so all of it is fresh";
        faults.push(line.fault("fresh", FaultKind::Inconsistent, cause, "remove it"));
    }
    faults
}
