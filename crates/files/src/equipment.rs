//! Records of dryers: the equipment a user owns or is offered, from its file to a machine.
//!
//! What a record states is laid over what is usual for its rated flow ([`line::usual`]), and every
//! number is noted with where it is from, so that an answer can show what is an estimate.

mod columns;
mod contradictions;
mod fields;
mod fill;
mod makers;
mod owned;
mod part_fields;
mod parts;
mod source_fields;
mod table;
mod vacuum;
mod vacuum_fields;

pub use fields::EQUIPMENT_FIELDS;
pub use fill::{Known, KnownValue, Standing};

use crate::Desiccants;
use crate::bag::{Bag, Entry};
use crate::order::in_order;
use crate::parents;
use crate::sheet::{self, Size};
use crate::text::{Text, folder_and_faults, too_long};
use crate::walk::{FileKind, read_whole};
use dryer::compressed_air::CompressedAirSpec;
use dryer::heater::HeaterSpec;
use fields::{COMPRESSED, HOT_AIR, TOWER_DRYER, VACUUM_DRYER};
use fill::{Fill, part};
use job::Ownership;
use line::Room;
use line::equipment::{Equipment, EquipmentError, Machine};
use line::usual;
use line::vacuum_dryer::VacuumDryer;
use quantity::constants::{STANDARD_ATMOSPHERE, ZERO_CELSIUS};
use quantity::{
    AbsolutePressure, AirFlow, Fault, FaultKind, Faults, HumidityRatio, MassFlow, Place, Quantity,
    Temperature,
};
use std::path::Path;

/// The largest table of dryers.
const DRYERS: Size = Size::written("dryers");
/// Records of dryers.
pub const EQUIPMENT: FileKind = FileKind {
    name: "a dryer",
    format: 1,
    section: &EQUIPMENT_FIELDS,
};

/// Hottest air of a dryer that does not say it, K (common practice, no source).
const USUAL_HOTTEST: f64 = 140.0 + ZERO_CELSIUS;
/// Humidity ratio of hall air of 20 degC and 50 %RH at 1 atm.
const HALL_HUMIDITY: f64 = 0.0073;

/// A dryer as its owner states it.
#[derive(Clone, Debug)]
pub struct StatedDryer {
    /// The name of its file without ending, or its key in a table.
    pub key: String,
    /// What it is called.
    pub title: String,
    /// The machine.
    pub machine: StatedMachine,
    /// Hottest air it is made for.
    pub hottest: Temperature,
    /// Whether it is an example.
    pub invented: bool,
    /// Whether it stands there today.
    pub mine: bool,
    /// The desiccant in it, by title.
    pub desiccant: Option<String>,
    /// What owning it comes to.
    pub ownership: Ownership,
    /// Every number, stated or estimated, in the order of its reading.
    pub known: Vec<Known>,
}

/// What a record makes of a dryer.
#[derive(Clone, Debug)]
pub enum StatedMachine {
    /// One that makes air.
    Air {
        /// The machine and the heater before the hopper.
        equipment: Box<Equipment>,
        /// Dry process air it is rated for.
        rated_flow: MassFlow,
    },
    /// One that dries batches under vacuum.
    Vacuum {
        /// Vessels, pump, purge and times.
        dryer: Box<VacuumDryer>,
        /// The heater of its heating air.
        heater: HeaterSpec,
        /// Whether its time under vacuum is stated; else it stays as long as the resin needs.
        time_is_set: bool,
    },
}

impl StatedDryer {
    /// The machine and the dry air it is rated for, where it makes air.
    pub fn air(&self) -> Option<(&Equipment, MassFlow)> {
        match &self.machine {
            StatedMachine::Air {
                equipment,
                rated_flow,
            } => Some((equipment, *rated_flow)),
            StatedMachine::Vacuum { .. } => None,
        }
    }

    /// How many of its numbers are stated, and how many are estimates.
    pub fn counts(&self) -> (usize, usize) {
        let estimates = self
            .known
            .iter()
            .filter(|k| k.standing == Standing::Estimate);
        let estimates = estimates.count();
        (self.known.len() - estimates, estimates)
    }
}

/// Dryers of a user, with what had to be left out of them.
#[derive(Clone, Debug, Default)]
pub struct StatedDryers {
    /// The dryers that can be used.
    pub dryers: Vec<StatedDryer>,
    /// Every mistake in what is left out.
    pub faults: Faults,
    /// What is left out, by file or row.
    pub left_out: Vec<String>,
    /// What is worth knowing of how they were read.
    pub notes: Vec<String>,
}

/// Reads the record of a dryer.
///
/// # Errors
/// Every mistake in it.
pub fn read_dryer(text: &Text, desiccants: &Desiccants) -> Result<StatedDryer, Faults> {
    let mend = "give a file that describes one dryer";
    if let Some(fault) = too_long(&text.name, &text.content, EQUIPMENT.name, mend) {
        return Err(fault.into());
    }
    of_text(text, &stem(&text.name), desiccants)
}

/// Reads a table of dryers, comma-separated.
///
/// # Errors
/// A table that lacks a column which must be there.
pub(crate) fn read_table(text: &Text, desiccants: &Desiccants) -> Result<StatedDryers, Faults> {
    table::dryers(&sheet::separated(text, &DRYERS)?, desiccants)
}

/// Reads dryers from a folder of records, from one record, or from a table (`.csv`, `.xlsx`).
///
/// # Errors
/// A path that cannot be read, and every mistake where no dryer is left.
pub fn open_dryers(path: &Path, desiccants: &Desiccants) -> Result<StatedDryers, Faults> {
    let all = if path.is_dir() {
        let (texts, faults) = folder_and_faults(path)?;
        of_texts(&texts, faults, desiccants)
    } else {
        match sheet::ending(path).as_str() {
            "csv" => read_table(&Text::open(path)?, desiccants)?,
            "xlsx" => table::dryers(&sheet::open_spreadsheet(path, &DRYERS)?, desiccants)?,
            "xls" | "xlsm" | "xlsb" | "ods" => return Err(other_table(path)),
            _ => of_texts(&[Text::open(path)?], Faults::none(), desiccants),
        }
    };
    all.usable(path)
}

fn of_texts(texts: &[Text], faults: Faults, desiccants: &Desiccants) -> StatedDryers {
    let mut all = StatedDryers {
        faults,
        ..StatedDryers::default()
    };
    for text in texts {
        match read_dryer(text, desiccants) {
            Ok(dryer) => all.dryers.push(dryer),
            Err(mistakes) => {
                all.left_out.push(text.name.clone());
                all.faults.extend(mistakes);
            }
        }
    }
    all
}

/// A table in a form that is not read.
fn other_table(path: &Path) -> Faults {
    Fault::new(
        FaultKind::Unreadable,
        Place::of(path.display().to_string(), ""),
        "",
        "this form of table is not read",
        "save it as .xlsx or as .csv",
    )
    .into()
}

impl StatedDryers {
    /// Itself, where there is a dryer in it.
    fn usable(self, path: &Path) -> Result<Self, Faults> {
        if !self.dryers.is_empty() {
            return Ok(self);
        }
        self.faults.or(())?;
        Err(Fault::new(
            FaultKind::MissingField,
            Place::of(path.display().to_string(), ""),
            "",
            "no dryer is in it",
            "give one .toml file a dryer, or one row a dryer of a table; `drybed equipment fields` tells what \
             stands there",
        )
        .into())
    }
}

/// A record of a known key, with every mistake in it.
fn of_text(text: &Text, key: &str, desiccants: &Desiccants) -> Result<StatedDryer, Faults> {
    let (bag, mut faults) = read_whole(text, &EQUIPMENT);
    faults.extend(parents::readable(&bag));
    let kind = bag.get("kind", Entry::choice);
    let named = kind == Some(VACUUM_DRYER) || (kind.is_some() && bag.entry("rated_flow").is_some());
    let said = faults.is_empty();
    if named {
        faults.extend(contradictions::check(&bag));
        faults.extend(unknown_desiccant(&bag, desiccants));
    }
    if !(said && faults.is_empty()) {
        return Err(in_order(faults));
    }
    built(&bag, key, desiccants).map_err(in_order)
}

/// A desiccant that has no record.
fn unknown_desiccant(bag: &Bag, desiccants: &Desiccants) -> Faults {
    let mut faults = Faults::none();
    for table in ["wheel", "towers"].map(|name| part(bag, name)) {
        if let Some(key) = table.get("desiccant", Entry::text)
            && let Err(mistakes) = desiccants.find(&key, &table.place_of("desiccant"))
        {
            faults.extend(mistakes);
        }
    }
    faults
}

fn built(bag: &Bag, key: &str, desiccants: &Desiccants) -> Result<StatedDryer, Faults> {
    let mut fill = Fill::default();
    let title = bag
        .get("title", Entry::text)
        .unwrap_or_else(|| key.to_owned());
    let (machine, hottest, desiccant) = if bag.need("kind", Entry::choice)? == VACUUM_DRYER {
        let hottest = hottest(&mut fill, bag);
        let Some(filled) = vacuum::vacuum(&mut fill, bag, hottest) else {
            return Err(part(bag, "vacuum").lacks("charge").into());
        };
        let machine = StatedMachine::Vacuum {
            dryer: Box::new(filled.dryer),
            heater: filled.heater,
            time_is_set: filled.time_is_set,
        };
        (machine, hottest, None)
    } else {
        makes_air(&mut fill, bag, &title, desiccants)?
    };
    let ownership = owned::ownership(&mut fill, &part(bag, "ownership"));
    let dryer = StatedDryer {
        key: key.to_owned(),
        title,
        machine,
        hottest: Temperature::from_si(hottest),
        invented: bag.get("invented", Entry::flag) == Some(true),
        mine: part(bag, "ownership").get("mine", Entry::flag) == Some(true),
        desiccant,
        ownership,
        known: fill.known,
    };
    fill.faults.extend(stands(bag, &dryer));
    fill.faults.or(dryer)
}

/// The dry air of a rated flow, which is counted with the water of hall air where it is not dry.
pub(crate) fn dry_rated(flow: AirFlow) -> MassFlow {
    let site = AbsolutePressure::from_si(STANDARD_ATMOSPHERE);
    flow.dry_air(site, HumidityRatio::from_si(HALL_HUMIDITY))
}

/// The hottest air of a record, K.
fn hottest(fill: &mut Fill, bag: &Bag) -> f64 {
    let limit = part(bag, "heater").get("outlet_limit", Entry::number);
    let mut hottest = USUAL_HOTTEST.min(limit.unwrap_or(f64::INFINITY));
    fill.lay_si(bag, "hottest", &mut hottest);
    hottest
}

/// A dryer that makes air, its hottest air (K) and its desiccant.
fn makes_air(
    fill: &mut Fill,
    bag: &Bag,
    title: &str,
    desiccants: &Desiccants,
) -> Result<(StatedMachine, f64, Option<String>), Faults> {
    let rated = bag.need("rated_flow", Entry::air_flow)?;
    fill.note_stated(bag, "rated_flow");
    let rated = dry_rated(rated);
    let hottest = hottest(fill, bag);
    let flow = rated.si();
    let kind = bag.need("kind", Entry::choice)?;
    let (usual, desiccant) = match kind {
        HOT_AIR => (usual::hot_air_dryer(flow, hottest), None),
        COMPRESSED => (usual::compressed_air_dryer(flow, hottest), None),
        TOWER_DRYER => {
            let (adsorbed, title) = makers::desiccant(fill, &part(bag, "towers"), desiccants)?;
            (usual::tower_dryer(flow, hottest, adsorbed), Some(title))
        }
        _ => {
            let (adsorbed, title) = makers::desiccant(fill, &part(bag, "wheel"), desiccants)?;
            (usual::wheel_dryer(flow, hottest, adsorbed), Some(title))
        }
    };
    let mut heater = usual.heater;
    heater.outlet_limit = Temperature::from_si(heater.outlet_limit.si().max(hottest));
    let heater = parts::heater(fill, &part(bag, "heater"), heater, rated);
    let machine = match usual.machine {
        Machine::HotAir(dryer) => Machine::HotAir(Box::new(makers::hot_air(fill, bag, *dryer))),
        Machine::Compressed(spec) => Machine::Compressed(CompressedAirSpec {
            most: Some(rated),
            ..makers::compressed(fill, bag, spec)
        }),
        Machine::Wheel(dryer) => Machine::Wheel(Box::new(makers::wheel(fill, bag, *dryer)?)),
        Machine::Towers(dryer) => Machine::Towers(Box::new(makers::towers(fill, bag, *dryer))),
    };
    let equipment = Box::new(Equipment {
        title: title.to_owned(),
        machine,
        heater,
    });
    let air = StatedMachine::Air {
        equipment,
        rated_flow: rated,
    };
    Ok((air, hottest, desiccant))
}

/// What keeps a machine from being one although each of its numbers may be.
fn stands(bag: &Bag, dryer: &StatedDryer) -> Faults {
    let room = Room {
        temperature: 20.0 + ZERO_CELSIUS,
        humidity: HALL_HUMIDITY,
        pressure: STANDARD_ATMOSPHERE,
    };
    let mut faults = Faults::none();
    let heater = match &dryer.machine {
        StatedMachine::Air { equipment, .. } => equipment.heater(),
        StatedMachine::Vacuum { heater, .. } => heater.check(),
    };
    let made = match &dryer.machine {
        StatedMachine::Air {
            equipment,
            rated_flow,
        } => equipment.maker(rated_flow.si(), &room).map(drop),
        StatedMachine::Vacuum { dryer, .. } => match &heater {
            Ok(heater) => dryer.machine(*heater, &room).map(drop),
            Err(_) => Ok(()),
        },
    };
    match made {
        Ok(()) => {}
        Err(EquipmentError::Stated(mistakes)) => {
            faults.extend(mistakes.into_iter().map(|fault| at_its_field(bag, fault)));
        }
        Err(EquipmentError::Line(error)) => faults.push(bag.fault(
            "kind",
            FaultKind::Inconsistent,
            format!("no such dryer can be: {error}"),
            "compare its numbers with the name plate, unit by unit",
        )),
    }
    faults.extend(
        heater
            .err()
            .into_iter()
            .flatten()
            .map(|fault| at_its_field(bag, fault)),
    );
    faults
}

/// A mistake that a component found, at the field that says its number.
fn at_its_field(bag: &Bag, fault: Fault) -> Fault {
    let line = part(bag, "compressed_air");
    let vessel = part(bag, "vacuum");
    let (table, name) = match fault.place.path.as_str() {
        name @ ("free_volume" | "pump_speed" | "end_pressure" | "pump_power") => (&vessel, name),
        "leak" if bag.gives("vacuum") => (&vessel, "rise"),
        "pressure_dew_point" => (&line, "dew_point"),
        "specific_energy" => (&line, "energy"),
        _ => (bag, "kind"),
    };
    table.fault(name, fault.kind, fault.cause, fault.mend)
}

/// The reference page of records of dryers, in Markdown.
pub fn equipment_page() -> String {
    crate::reference::page(&EQUIPMENT) + &table::page()
}

/// The name of a file without folder and ending.
fn stem(name: &str) -> String {
    let stem = Path::new(name).file_stem();
    stem.map_or_else(|| "dryer".to_owned(), |s| s.to_string_lossy().into_owned())
}

#[cfg(test)]
mod tests;
