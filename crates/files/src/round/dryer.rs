//! The dryer of a round or a schedule: one of its own record, or one of a usual size.

use crate::bag::{Bag, Entry};
use crate::desiccant::Desiccants;
use crate::equipment::{StatedDryer, dry_rated, read_dryer};
use crate::text::Text;
use job::{ControlledAt, DryerKind, RoundDryer};
use line::equipment::{CoolantSpec, Equipment, Machine};
use quantity::{FaultKind, Faults, MassFlow, Meaning, Quantity, Units, show_si};
use std::path::Path;

/// Share by which a rated flow may part from that of the record and still be the same.
const SAME_FLOW: f64 = 0.005;

/// What a table says of the dryer, with the record it names, which is looked for in a folder.
///
/// # Errors
/// Every mistake in the record, and what the table says against it.
pub(crate) fn of(
    table: &Bag,
    folder: &Path,
    desiccants: &Desiccants,
) -> Result<(RoundDryer, Option<StatedDryer>), Faults> {
    let kind = table.get("kind", Entry::choice);
    let stated = RoundDryer {
        kind: kind
            .and_then(DryerKind::of_words)
            .unwrap_or(DryerKind::Wheel),
        rated_flow: table.get("rated_flow", Entry::air_flow),
        controlled_at: match table.get("controlled_at", Entry::choice) {
            Some("dryer outlet") => ControlledAt::Dryer,
            _ => ControlledAt::Hopper,
        },
        cooler: table.get("water_cooler", Entry::flag).unwrap_or(true),
        dew_point_doubt: table.get("dew_point_doubt", Entry::quantity),
    };
    let Some(name) = table.get("record", Entry::text) else {
        return Ok((stated, None));
    };
    let record = recorded(table, &folder.join(name), desiccants)?;
    let Some((equipment, rated)) = record.air() else {
        return Err(refused(
            table,
            "a vacuum dryer has no loop of air, and one is wanted here",
            "name the record of a desiccant wheel, twin towers, compressed air or hot air",
        ));
    };
    against(table, equipment, rated).or(())?;
    let (kind, cooler) = (kind_of(equipment), has_water(equipment));
    let dryer = RoundDryer {
        kind,
        cooler,
        rated_flow: None,
        ..stated
    };
    Ok((dryer, Some(record)))
}

fn refused(table: &Bag, cause: &str, mend: &str) -> Faults {
    table
        .fault("record", FaultKind::Inconsistent, cause, mend)
        .into()
}

/// The record of one dryer.
fn recorded(table: &Bag, path: &Path, desiccants: &Desiccants) -> Result<StatedDryer, Faults> {
    let ending = path.extension().map(|ending| ending.to_string_lossy());
    if path.is_dir() || ending.is_some_and(|ending| ending != "toml") {
        return Err(refused(
            table,
            "one dryer is meant, and this is no record of one",
            "name the .toml file of that dryer",
        ));
    }
    read_dryer(&Text::open(path)?, desiccants)
}

/// What a table says that its record says otherwise.
fn against(table: &Bag, record: &Equipment, rated: MassFlow) -> Faults {
    let mut faults = Faults::none();
    let mut otherwise = |name: &str, said: String| {
        let cause = format!("the record of the {} says {said}", record.title);
        let mend = format!("take {name} out here, or mend the record");
        faults.push(table.fault(name, FaultKind::Inconsistent, cause, mend));
    };
    let kind = kind_of(record);
    if let Some(words) = table.get("kind", Entry::choice)
        && words != kind.words()
    {
        otherwise("kind", kind.words().to_owned());
    }
    if let Some(flow) = table.get("rated_flow", Entry::air_flow) {
        let (here, there) = (dry_rated(flow).si(), rated.si());
        if (here - there).abs() > SAME_FLOW * there {
            let there = show_si(there, Meaning::MassFlow, Units::Metric, 3);
            otherwise("rated_flow", format!("{there} of dry air"));
        }
    }
    if table.gives("water_cooler")
        && table.get("water_cooler", Entry::flag) != Some(has_water(record))
    {
        let has = if has_water(record) {
            "there is"
        } else {
            "there is none"
        };
        otherwise("water_cooler", has.to_owned());
    }
    faults
}

/// What makes the air of a record.
fn kind_of(record: &Equipment) -> DryerKind {
    match record.machine {
        Machine::Wheel(_) => DryerKind::Wheel,
        Machine::Towers(_) => DryerKind::Towers,
        Machine::Compressed(_) => DryerKind::CompressedAir,
        Machine::HotAir(_) => DryerKind::HotAir,
    }
}

/// Whether water cools its return air.
fn has_water(record: &Equipment) -> bool {
    let process = record.machine.process();
    let cooler = process.and_then(|process| process.cooler);
    cooler.is_some_and(|cooler| matches!(cooler.coolant, CoolantSpec::Water { .. }))
}
