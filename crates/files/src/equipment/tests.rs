//! Records of dryers as they are written, and every way to write them wrongly.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod impossible;
mod tables;
mod vacuum;

use super::*;
use crate::flaws;
use impossible::IMPOSSIBLE;
use line::equipment::CoolantSpec;
use quantity::Fault;
use std::sync::LazyLock;

pub(super) static DESICCANTS: LazyLock<Desiccants> =
    LazyLock::new(|| match Desiccants::shipped() {
        Ok(all) => all,
        Err(faults) => panic!("{faults}"),
    });

/// The least that may stand in the record of a wheel.
const WHEEL: &str = "format = 1\nkind = \"desiccant wheel\"\nrated_flow = \"100 kg/h dry air\"\n";
const TOWERS: &str = "format = 1\nkind = \"twin towers\"\nrated_flow = \"100 kg/h dry air\"\n";
const LINE_AIR: &str = "format = 1\nkind = \"compressed air\"\nrated_flow = \"4 kg/h dry air\"\n";
const HOT: &str = "format = 1\nkind = \"hot air\"\nrated_flow = \"80 kg/h dry air\"\n";

/// The records shipped as examples.
fn examples() -> Vec<Text> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../equipment");
    crate::folder(&folder).unwrap()
}

fn read(text: &str) -> Result<StatedDryer, Faults> {
    read_dryer(&Text::new("mine.toml", text), &DESICCANTS)
}

fn sound(text: &str) -> StatedDryer {
    match read(text) {
        Ok(dryer) => dryer,
        Err(faults) => panic!("{faults}"),
    }
}

/// The one fault of lines added to a record.
fn one(record: &str, lines: &str) -> Fault {
    let faults = read(&format!("{record}{lines}\n")).unwrap_err();
    assert_eq!(faults.len(), 1, "{faults}");
    let fault = faults.0.into_iter().next().unwrap();
    assert!(!fault.cause.is_empty() && !fault.mend.is_empty(), "{fault}");
    assert!(fault.place.line > 0, "{fault}");
    fault
}

/// A dryer that makes air, and what it is rated for.
fn air(dryer: &StatedDryer) -> (&Equipment, MassFlow) {
    match &dryer.machine {
        StatedMachine::Air {
            equipment,
            rated_flow,
        } => (equipment, *rated_flow),
        StatedMachine::Vacuum { .. } => panic!("it makes no air"),
    }
}

fn wheel(dryer: &StatedDryer) -> &line::equipment::WheelDryer {
    match &air(dryer).0.machine {
        Machine::Wheel(wheel) => wheel,
        _ => panic!("no wheel"),
    }
}

#[test]
fn holds_the_description_has_no_flaw() {
    assert_eq!(flaws(&EQUIPMENT).to_string(), "");
}

#[test]
fn holds_every_example_reads_and_says_that_it_is_invented() {
    let texts = examples();
    assert!(texts.len() >= 6);
    for text in &texts {
        let dryer = match read_dryer(text, &DESICCANTS) {
            Ok(dryer) => dryer,
            Err(faults) => panic!("{faults}"),
        };
        assert!(dryer.invented, "{}", text.name);
        assert!(text.content.starts_with("# Invented"), "{}", text.name);
        let (stated, estimated) = dryer.counts();
        assert!(stated > 4 && estimated > 4, "{stated} {estimated}");
        assert!(dryer.ownership.price.is_some());
    }
}

#[test]
fn exact_what_is_left_out_is_usual_for_the_rated_flow_and_an_estimate() {
    let dryer = sound(WHEEL);
    let flow = 100.0 / 3600.0;
    assert!((air(&dryer).1.si() - flow).abs() < 1e-12);
    let adsorbed =
        dryer::sorption::Adsorbed::of(&DESICCANTS.get("molecular-sieve-13x").unwrap().sorbent);
    let usual = usual::wheel_dryer(flow, USUAL_HOTTEST, adsorbed);
    assert_eq!(air(&dryer).0.heater, usual.heater);
    let Machine::Wheel(of_custom) = usual.machine else {
        panic!("no wheel");
    };
    let mine = wheel(&dryer);
    // Scaling by one and back leaves rounding.
    let near = |a: f64, b: f64| assert!((a - b).abs() <= 1e-12 * b.abs(), "{a} {b}");
    near(mine.wheel.diameter.si(), of_custom.wheel.diameter.si());
    near(mine.wheel.process.si(), of_custom.wheel.process.si());
    near(mine.wheel.cooling.si(), of_custom.wheel.cooling.si());
    near(
        mine.regeneration.heater.power.si(),
        of_custom.regeneration.heater.power.si(),
    );
    assert_eq!(mine.process, of_custom.process);
    assert_eq!(mine.process.cooler, of_custom.process.cooler);
    let (stated, estimated) = dryer.counts();
    assert_eq!(stated, 1, "{:#?}", dryer.known);
    assert!(estimated > 30, "{estimated}");
}

#[test]
fn exact_stated_values_stand_and_keep_their_source() {
    let dryer = sound(&format!(
        "title = \"north hall\"\n{WHEEL}\n[heater]\npower = {{ value = \"7 kW\", source = \"name plate\" }}\n\
         [wheel]\ndiameter = \"300 mm\"\nhub_diameter = \"60 mm\"\nprocess_angle = \"250 deg\"\n\
         regeneration_angle = \"90 deg\"\nchannel_pitch = \"3.2 mm\"\nchannel_height = \"1.6 mm\"\n\
         [cooler]\nwith = \"hall air\"\ncoolant_flow = \"400 kg/h\"\n\
         [regeneration]\nshare = \"50 %\"\n"
    ));
    assert_eq!(dryer.title, "north hall");
    assert!((air(&dryer).0.heater.power.si() - 7000.0).abs() < 1e-9);
    let mine = wheel(&dryer);
    assert!((mine.wheel.face_used.si() - 0.96).abs() < 1e-12);
    assert!(mine.wheel.cooling.si().abs() < 1e-12, "none is stated");
    // Shah and London (1978) give f Re 11.2068 at a height of half the pitch.
    assert!((mine.wheel.passages.friction - 11.2068).abs() < 1e-9);
    let Some(CoolantSpec::HallAir { flow, .. }) = mine.process.cooler.map(|cooler| cooler.coolant)
    else {
        panic!("{:?}", mine.process.cooler);
    };
    assert!((flow.si() * 3600.0 - 400.0).abs() < 1e-9);
    let twice = wheel(&sound(WHEEL)).regeneration.heater.power.si() * 2.0;
    assert!((mine.regeneration.heater.power.si() / twice - 1.0).abs() < 1e-12);
    let power = dryer
        .known
        .iter()
        .find(|k| k.path == "heater.power")
        .unwrap();
    assert_eq!(power.value, KnownValue::Written("7 kW".to_owned()));
    let Standing::Stated { source, .. } = &power.standing else {
        panic!("{power:?}");
    };
    assert_eq!(source, "name plate");
}

#[test]
fn exact_a_charge_says_the_diameter_of_its_vessel() {
    let dryer = sound(&format!(
        "{TOWERS}[towers]\ncharge = \"30 kg\"\ndepth = \"500 mm\"\n"
    ));
    let Machine::Towers(towers) = &air(&dryer).0.machine else {
        panic!("no towers");
    };
    let bed = &towers.bed;
    let face = std::f64::consts::PI / 4.0 * bed.diameter.si() * bed.diameter.si();
    assert!((face * bed.depth.si() * bed.density.si() - 30.0).abs() < 1e-9);
}

#[test]
fn exact_what_owning_comes_to_is_read() {
    let dryer = sound(&format!(
        "{HOT}[ownership]\ncurrency = \"EUR\"\nprice = 2400\ndesiccant_price = 100\n\
         desiccant_every = \"16000 h\"\nnoise = \"71 dB(A)\"\nair_carries = [\"oil\"]\n\
         used_with = [\"PC\"]\nfootprint = \"0.3 m2\"\n"
    ));
    let owned = &dryer.ownership;
    assert_eq!(owned.price, Some(2400.0));
    let change = owned.desiccant_change.unwrap();
    assert!((change.every.hours() - 16000.0).abs() < 1e-9);
    assert!((owned.noise.unwrap().decibels() - 71.0).abs() < 1e-12);
    assert_eq!(owned.air_carries, Some(vec![job::Contaminant::Oil]));
    assert!(sound(HOT).ownership.air_carries.is_none());
    assert_eq!(owned.used_with, ["PC"]);
}

#[test]
fn holds_impossible_numbers_are_refused_one_clear_fault_each() {
    for (record, lines, path, cause) in IMPOSSIBLE {
        let fault = one(record, lines);
        assert_eq!(fault.place.path, *path, "{fault}");
        assert!(fault.cause.contains(cause), "{fault}");
    }
    for flow in ["0 kg/h dry air", "-5 kg/h dry air"] {
        let fault = one(&HOT.replace("80 kg/h dry air", flow), "");
        assert_eq!(fault.place.path, "rated_flow");
        assert!(fault.cause.contains("above zero"), "{fault}");
    }
}

#[test]
fn holds_all_mistakes_of_a_file_are_told_at_once() {
    let text = format!(
        "{WHEEL}leak = \"-1 %\"\ncolour = \"red\"\n[heater]\npower = \"4.5\"\n[wheel]\ndiameter = \"200 mm\"\n\
         hub_diameter = \"250 mm\"\ndesiccant = \"sieve\"\n"
    );
    let faults = read(&text).unwrap_err();
    let paths: Vec<&str> = faults.iter().map(|f| f.place.path.as_str()).collect();
    let all = [
        "leak",
        "colour",
        "heater.power",
        "wheel.hub_diameter",
        "wheel.desiccant",
    ];
    assert_eq!(paths, all, "{faults}");
}

#[test]
fn holds_a_folder_is_used_without_what_is_broken_in_it() {
    let folder = std::env::temp_dir().join(format!("drybed-equipment-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join("good.toml"), HOT).unwrap();
    std::fs::write(folder.join("bad.toml"), "format = 1\nkind = \"steam\"\n").unwrap();
    let found = open_dryers(&folder, &DESICCANTS);
    let alone = open_dryers(&folder.join("bad.toml"), &DESICCANTS);
    std::fs::remove_file(folder.join("good.toml")).unwrap();
    std::fs::remove_file(folder.join("bad.toml")).unwrap();
    let empty = open_dryers(&folder, &DESICCANTS);
    std::fs::remove_dir_all(&folder).unwrap();
    let found = found.unwrap();
    assert_eq!(found.dryers.len(), 1);
    assert_eq!(found.dryers[0].key, "good");
    assert_eq!(found.left_out.len(), 1);
    assert_eq!(found.faults.len(), 1, "{}", found.faults);
    assert_eq!(alone.unwrap_err().len(), 1);
    assert_eq!(empty.unwrap_err().0[0].cause, "no dryer is in it");
}

#[test]
fn exact_compressed_air_gives_at_most_what_it_is_rated_for() {
    let dryer = sound(LINE_AIR);
    let (equipment, rated) = air(&dryer);
    let Machine::Compressed(spec) = &equipment.machine else {
        panic!("no compressed air");
    };
    assert_eq!(spec.most, Some(rated));
}
