//! Vacuum dryers in records and in tables.

use super::*;
use dryer::compressed_air::Drying;
use line::vacuum_dryer::PurgeAir;

/// The least that may stand in the record of a vacuum dryer.
const VACUUM: &str = "format = 1\nkind = \"vacuum\"\nvacuum.charge = \"60 kg\"\n";

fn vacuum(dryer: &StatedDryer) -> (&VacuumDryer, HeaterSpec, bool) {
    match &dryer.machine {
        StatedMachine::Vacuum {
            dryer,
            heater,
            time_is_set,
        } => (dryer, *heater, *time_is_set),
        StatedMachine::Air { .. } => panic!("it makes air"),
    }
}

#[test]
fn exact_what_is_left_out_is_usual_for_the_charge_and_an_estimate() {
    let dryer = sound(VACUUM);
    let (mine, heater, time_is_set) = vacuum(&dryer);
    // 60 kg drawn in 40 minutes, half an hour of them under vacuum.
    let (of_custom, heats) = usual::vacuum_dryer(60.0 / 2400.0, USUAL_HOTTEST, 1800.0);
    assert_eq!(heater.power, heats.power);
    assert!(!time_is_set);
    // Scaling by one and back leaves rounding.
    let near = |a: f64, b: f64| assert!((a - b).abs() <= 1e-12 * b.abs(), "{a} {b}");
    near(mine.charge.si(), 60.0);
    near(mine.free_volume.si(), of_custom.free_volume.si());
    near(mine.pump_speed.si(), of_custom.pump_speed.si());
    near(mine.leak, of_custom.leak);
    near(mine.purge.si(), of_custom.purge.si());
    near(mine.heating_air.si(), of_custom.heating_air.si());
    assert_eq!(mine.heating, of_custom.heating);
    assert_eq!(mine.purge_air, of_custom.purge_air);
    let (stated, estimated) = dryer.counts();
    assert_eq!(stated, 1, "{:#?}", dryer.known);
    assert!(estimated > 20, "{estimated}");
}

#[test]
fn exact_stated_numbers_reach_the_vessel() {
    let dryer = sound(&format!(
        "{VACUUM}vacuum.chamber = \"110 l\"\nvacuum.time = {{ value = \"45 min\", source = \"timer\" }}\n\
         vacuum.end_pressure = \"1.5 kPa(a)\"\nvacuum.pump_speed = \"40 m3/h\"\nvacuum.rise = \"90 Pa\"\n\
         vacuum.purge = \"1 kg/h dry air\"\nvacuum.heating_air = \"200 kg/h dry air\"\n\
         [compressed_air]\ndried_by = \"refrigeration\"\n"
    ));
    let (mine, heater, time_is_set) = vacuum(&dryer);
    let near = |a: f64, b: f64| assert!((a - b).abs() <= 1e-9 * b.abs(), "{a} {b}");
    // 60 kg of pellets of 1200 kg/m3 take 50 l of 110.
    near(mine.free_volume.si(), 0.06);
    // 90 Pa in a minute of 60 l.
    near(mine.leak, 90.0 / 60.0 * 0.06);
    near(mine.end_pressure.si(), 1500.0);
    near(mine.pump_speed.si() * 3600.0, 40.0);
    near(mine.purge.si() * 3600.0, 1.0);
    near(mine.vacuum_time.si(), 2700.0);
    assert!(time_is_set);
    let PurgeAir::Line(line) = mine.purge_air else {
        panic!("{:?}", mine.purge_air);
    };
    assert!(matches!(line.drying, Drying::Refrigerated { .. }));
    let (usual, heats) = usual::vacuum_dryer(60.0 / 3300.0, USUAL_HOTTEST, 2700.0);
    let more = mine.heating_air.si() / usual.heating_air.si();
    near(heater.power.si(), heats.power.si() * more);
    let time = dryer
        .known
        .iter()
        .find(|k| k.path == "vacuum.time")
        .unwrap();
    assert!(
        matches!(&time.standing, Standing::Stated { source, .. } if source == "timer"),
        "{time:?}"
    );
    let hall = sound(&format!("{VACUUM}vacuum.purge_air = \"hall\"\n"));
    assert_eq!(vacuum(&hall).0.purge_air, PurgeAir::Hall);
}

#[test]
fn holds_a_vacuum_dryer_that_cannot_be_earns_one_clear_fault() {
    let impossible = [
        (
            "vacuum.chamber = \"40 l\"",
            "vacuum.chamber",
            "60 kg of pellets do not go into 40 l",
        ),
        (
            "vacuum.purge = \"60 kg/h dry air\"",
            "vacuum.purge",
            "no vacuum",
        ),
        (
            "vacuum.purge_air = \"hall\"\n[compressed_air]\npressure = \"6 bar(g)\"",
            "vacuum.purge_air",
            "a line of compressed air is described",
        ),
        (
            "[compressed_air]\nfresh = \"30 %\"",
            "compressed_air.fresh",
            "all of it is fresh",
        ),
        (
            "vacuum.chamber = \"120 l\"\nvacuum.free_volume = \"60 l\"",
            "vacuum.free_volume",
            "",
        ),
        (
            "vacuum.end_pressure = \"0.9 bar(a)\"",
            "vacuum.end_pressure",
            "lies outside",
        ),
        (
            "rated_flow = \"80 kg/h dry air\"",
            "rated_flow",
            "no part in kind",
        ),
        ("[wheel]\ndepth = \"200 mm\"", "wheel", "no part in kind"),
        (
            "heater.outlet_limit = \"120 degC\"\nhottest = \"150 degC\"",
            "heater.outlet_limit",
            "120",
        ),
    ];
    for (lines, path, cause) in impossible {
        // Keys of the top table stand before those of the charge.
        let fault = if lines.starts_with("rated_flow") {
            one(&format!("{lines}\n{VACUUM}"), "")
        } else {
            one(VACUUM, lines)
        };
        assert_eq!(fault.place.path, path, "{fault}");
        assert!(fault.cause.contains(cause), "{fault}");
    }
    let bare = read("format = 1\nkind = \"vacuum\"\n").unwrap_err();
    assert_eq!(bare.len(), 1, "{bare}");
    assert_eq!(bare.0[0].place.path, "vacuum");
    let air = read("format = 1\nkind = \"hot air\"\n").unwrap_err();
    assert_eq!(air.len(), 1, "{air}");
    assert_eq!(air.0[0].place.path, "rated_flow");
}

#[test]
fn exact_a_row_is_the_record_of_a_vacuum_dryer() {
    let rows = "key,kind,vacuum charge (kg),vacuum chamber (l),vacuum pump speed (m3/h),heater power (kW)\n\
                one,vacuum,60,110,40,6\n";
    let all = read_table(&Text::new("dryers.csv", rows), &DESICCANTS).unwrap();
    assert!(all.faults.is_empty(), "{}", all.faults);
    let record = sound(&format!(
        "{VACUUM}vacuum.chamber = \"110 l\"\nvacuum.pump_speed = \"40 m3/h\"\nheater.power = \"6 kW\"\n"
    ));
    assert_eq!(vacuum(&all.dryers[0]), vacuum(&record));
    assert_eq!(all.dryers[0].counts(), record.counts());
    // A bad cell is told at its row and column, and the other row stays.
    let two = format!("{rows}two,vacuum,60,30,40,6\n");
    let all = read_table(&Text::new("dryers.csv", two), &DESICCANTS).unwrap();
    assert_eq!(all.dryers.len(), 1);
    assert_eq!(all.left_out, ["row 3 (two)"]);
    assert_eq!(all.faults.len(), 1, "{}", all.faults);
    let place = &all.faults.0[0].place;
    assert_eq!((place.line, place.column), (3, 4), "{}", all.faults);
}
