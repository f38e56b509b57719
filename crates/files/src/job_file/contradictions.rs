//! Values of a job file that are possible each and cannot all be true.

use super::assemble::process;
use super::damp::{Surroundings, air_of, why_not};
use super::fields::JOB_FIELDS;
use super::notes::BEYOND_SATURATION;
use crate::bag::{Bag, Entry};
use job::Process;
use material::{Behaviour, Resin};
use quantity::constants::STANDARD_ATMOSPHERE;
use quantity::{
    AbsolutePressure, Angle, Fault, FaultKind, Faults, HumidityRatio, Length, Mass, Meaning,
    Moisture, MoistureDryBasis, Quantity, StatedPressure, Temperature, Volume, digits, parse, show,
    show_si,
};
use std::f64::consts::PI;

/// Every contradiction between values that could be read.
pub(super) fn check(bag: &Bag, resin: Option<&Resin>) -> Faults {
    let table = |name: &str| {
        let read = bag.get(name, Entry::table);
        read.unwrap_or_else(|| Bag::empty(&JOB_FIELDS, bag.place_of(name)))
    };
    let (air, site, hopper) = (table("air"), table("site"), table("hopper"));
    let mut faults = Faults::none();
    faults.extend(humidities(&air, &site, resin));
    faults.extend(flows(&air, atmosphere(&site)));
    faults.extend(cone(&hopper));
    faults.extend(super::plant::check_days(bag));
    if let Some(storage) = table("arrival").get("storage", Entry::table) {
        faults.extend(super::storage::check(&storage));
    }
    if let Some(resin) = resin {
        faults.extend(molten(&air, resin));
        faults.extend(window(&table("target"), &table("demand"), resin));
        let (arrival, model) = (table("arrival"), table("model"));
        let feed = arrival.get("temperature", Entry::quantity);
        if let Some(feed) = feed.or_else(|| site.get("ambient", Entry::quantity)) {
            let charge = model.get("initial", Entry::table);
            faults.extend(inside(&arrival, feed, resin));
            faults.extend(charge.and_then(|charge| inside(&charge, feed, resin)));
        }
        faults.extend(contents(&hopper, resin));
    }
    faults
}

/// Pressure of the atmosphere of the site.
fn atmosphere(site: &Bag) -> AbsolutePressure {
    let stated = site.get("pressure", Entry::quantity);
    let altitude = site.get("altitude", Entry::quantity);
    stated
        .or_else(|| altitude.and_then(|height| air::standard_pressure(height).ok()))
        .unwrap_or(AbsolutePressure::from_si(STANDARD_ATMOSPHERE))
}

/// Air that holds more water than it can, and air drier than the driest there is.
fn humidities(air: &Bag, site: &Bag, resin: Option<&Resin>) -> Faults {
    let mut faults = Faults::none();
    let atmosphere = atmosphere(site);
    let pressure = air
        .get("pressure", Entry::pressure)
        .map_or(atmosphere, |stated: StatedPressure| {
            stated.absolute(atmosphere)
        });
    let around = |temperature: Temperature, pressure: AbsolutePressure| Surroundings {
        temperature,
        pressure,
        atmosphere,
    };
    if let Some(hall) = site.get("ambient", Entry::quantity) {
        faults.extend(too_damp(site, "humidity", around(hall, atmosphere)));
    }
    let set = air.get("temperature", Entry::quantity);
    if let Some(set) = set {
        for name in ["humidity", "driest"] {
            faults.extend(too_damp(air, name, around(set, pressure)));
        }
    }
    // A relative humidity needs a temperature to be compared at.
    let usual = set.or_else(|| resin.map(|resin| resin.drying.temperature.value));
    let water = |name: &str| {
        let humidity = air.get(name, Entry::humidity)?;
        let air = air_of(humidity, around(usual?, pressure)).ok()?;
        Some(air.vapour_mole_fraction().si())
    };
    if let (Some(delivered), Some(driest)) = (water("humidity"), water("driest"))
        && delivered < driest * (1.0 - 1e-9)
    {
        faults.push(air.fault(
            "driest",
            FaultKind::Inconsistent,
            "the driest air the dryer gives is damper than the air it delivers",
            "exchange humidity and driest, or leave one of them out",
        ));
    }
    faults
}

fn too_damp(bag: &Bag, name: &str, around: Surroundings) -> Option<Fault> {
    let entry = bag.entry(name)?;
    let error = air_of(entry.humidity()?, around).err()?;
    let (cause, mend) = why_not(&error, around, parse::system_of(&entry.written));
    Some(bag.fault(name, FaultKind::Inconsistent, cause, mend))
}

/// More air than the blower gives.
fn flows(air: &Bag, atmosphere: AbsolutePressure) -> Option<Fault> {
    let dry = |name: &str| {
        let flow = air.get(name, Entry::air_flow)?;
        Some(flow.dry_air(atmosphere, HumidityRatio::from_si(0.0)))
    };
    let (flow, largest) = (dry("flow")?, dry("largest_flow")?);
    if flow.si() <= largest.si() * (1.0 + 1e-9) {
        return None;
    }
    let system = parse::system_of(&air.entry("flow")?.written);
    Some(air.fault(
        "flow",
        FaultKind::Inconsistent,
        format!(
            "the flow, {} dry air, is more than the largest flow, {} dry air",
            show(flow, system),
            show(largest, system)
        ),
        "write a flow below largest_flow, or leave one of them out",
    ))
}

/// Air that melts the resin.
fn molten(air: &Bag, resin: &Resin) -> Option<Fault> {
    let set: Temperature = air.get("temperature", Entry::quantity)?;
    let melting = resin.melting.as_ref()?.value;
    if set.si() < melting.si() {
        return None;
    }
    let system = parse::system_of(&air.entry("temperature")?.written);
    Some(air.fault(
        "temperature",
        FaultKind::Inconsistent,
        format!("{} melts at {}", resin.name, show(melting, system)),
        format!(
            "write a drying temperature, customary are {} to {}",
            show(resin.drying.temperature_low.value, system),
            show(resin.drying.temperature_high.value, system)
        ),
    ))
}

/// A limit that is not above the moisture at which the resin is too dry.
fn window(target: &Bag, demand: &Bag, resin: &Resin) -> Option<Fault> {
    let stated = |name: &str| {
        let entry = target.entry(name)?;
        let moisture = entry.moisture()?.dry_basis();
        Some((moisture, entry.written.clone()))
    };
    let known = |moisture: MoistureDryBasis| {
        let written = show(moisture, quantity::Units::Metric);
        (moisture, format!("{written} of the record"))
    };
    let (limit_stated, edge_stated) = (stated("limit"), stated("lower_edge"));
    let name = match (&limit_stated, &edge_stated) {
        (Some(_), _) => "limit",
        (None, Some(_)) => "lower_edge",
        (None, None) => return None,
    };
    let process = process(demand).unwrap_or(Process::Moulding);
    let of_record = process.limit_of(&resin.limit).value;
    let (limit, limit_words) = limit_stated.unwrap_or_else(|| known(of_record));
    let edge_known = resin
        .limit
        .lower_edge
        .as_ref()
        .map(|edge| known(edge.value));
    let (edge, edge_words) = edge_stated.or(edge_known)?;
    if limit.si() > edge.si() {
        return None;
    }
    Some(target.fault(
        name,
        FaultKind::Inconsistent,
        format!(
            "the limit, {limit_words}, is not above the lower edge, {edge_words}: no moisture is \
             both dry enough and not too dry"
        ),
        "write a limit above lower_edge, or a lower_edge below the limit",
    ))
}

/// More moisture inside a resin than it takes up, where only its surface carries water.
pub(super) fn inside(bag: &Bag, feed: Temperature, resin: &Resin) -> Option<Fault> {
    let moisture: Moisture = bag.get("moisture", Entry::moisture)?;
    let stated = moisture.dry_basis().ppm();
    let held = MoistureDryBasis::from_si(resin.isotherm.law.moisture(feed.si(), 1.0)).ppm();
    if resin.behaviour == Behaviour::Hygroscopic || stated <= BEYOND_SATURATION * held {
        return None;
    }
    let mend = if bag.section.field("surface_water").is_some() {
        format!(
            "write moisture = \"{} ppm dry\" and surface_water = \"{} ppm dry\"",
            digits(held, 3),
            digits(stated - held, 6)
        )
    } else {
        "leave it out: the charge is as wet as the feed".to_owned()
    };
    Some(bag.fault(
        "moisture",
        FaultKind::Inconsistent,
        format!(
            "{} takes up {} ppm dry at most; what it carries beyond sits on its surface",
            resin.name,
            digits(held, 3)
        ),
        mend,
    ))
}

/// A cone that holds more than the whole hopper.
fn cone(hopper: &Bag) -> Option<Fault> {
    let volume: Volume = hopper.get("volume", Entry::quantity)?;
    let diameter: Length = hopper.get("diameter", Entry::quantity)?;
    let angle: Angle = hopper.get("cone_angle", Entry::quantity)?;
    let height = diameter.si() / 2.0 / (angle.si() / 2.0).tan();
    let cone = PI / 12.0 * diameter.si() * diameter.si() * height;
    if cone <= volume.si() * (1.0 + 1e-9) {
        return None;
    }
    let system = parse::system_of(&hopper.entry("volume")?.written);
    Some(hopper.fault(
        "volume",
        FaultKind::Inconsistent,
        format!(
            "a cone of this diameter and angle alone holds {}",
            show_si(cone, Meaning::Volume, system, 3)
        ),
        "write a larger volume, a smaller diameter or a wider angle",
    ))
}

/// More resin below the inlet, or in a batch, than the hopper holds.
fn contents(hopper: &Bag, resin: &Resin) -> Faults {
    let mut faults = Faults::none();
    let mass = |name: &str| hopper.get(name, Entry::quantity::<Mass>);
    let below = mass("below_inlet").map_or(0.0, Quantity::si);
    let volume: Option<Volume> = hopper.get("volume", Entry::quantity);
    let fill = hopper.get("fill", Entry::number);
    let whole = match (volume, fill, mass("bed_mass")) {
        (Some(volume), Some(fill), _) => volume.si() * fill * resin.bulk_density.value.si(),
        (None, _, Some(bed)) => bed.si() + below,
        _ => return faults,
    };
    let holds = |name: &str| {
        let written = hopper.entry(name).map_or("", |entry| &entry.written);
        let system = parse::system_of(written);
        show_si(whole, Meaning::Mass, system, 3)
    };
    if below >= whole {
        faults.push(hopper.fault(
            "below_inlet",
            FaultKind::Inconsistent,
            format!(
                "the hopper holds {} up to its level: no resin lies above the air inlet",
                holds("below_inlet")
            ),
            "write what lies below the inlet, or a larger volume",
        ));
    }
    if mass("batch").is_some_and(|batch| batch.si() > whole) {
        faults.push(hopper.fault(
            "batch",
            FaultKind::Inconsistent,
            format!(
                "one batch is more than the {} the hopper holds",
                holds("batch")
            ),
            "write the mass of one loader batch, or a larger hopper",
        ));
    }
    faults
}
