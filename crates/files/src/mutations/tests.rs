//! Records, families, grades and weather, spoilt.

use super::*;
use crate::draft::{Base, Draft, Rank};
use crate::equipment::read_table;
use crate::text::Text;
use crate::{Desiccants, Library, Record, read_dryer, read_schedule, weather};
use job::Weather;
use quantity::constants::STANDARD_ATMOSPHERE;
use quantity::{AbsolutePressure, Duration, Place, Quantity};

/// Both ends are met: what was spoilt in vain and what was noticed.
fn both((accepted, refused): (usize, usize)) {
    assert!(accepted > 50 && refused > 400, "{accepted} {refused}");
}

#[test]
fn exact_a_number_that_is_none_is_seen_outside_of_text() {
    for shown in ["x: NaN", "[-inf, 2.0]", "a: \"\\\"\", b: inf"] {
        assert!(is_none(shown), "{shown}");
    }
    for shown in ["\"inf\"", "info: 1.0", "\"\\\"NaN\", b: 1.0"] {
        assert!(!is_none(shown), "{shown}");
    }
}

#[test]
fn holds_a_mutated_record_is_read_or_told() {
    let originals = [
        include_str!("../../../../materials/pc.toml"),
        include_str!("../../../../materials/pa66.toml"),
        include_str!("../../../../materials/pet.toml"),
    ];
    both(Mutations::of("mine.toml", &originals).run(1000, |text| {
        let record = Record::read(&Text::new("mine.toml", text))?;
        Ok(format!("{:?}", record.resin))
    }));
}

#[test]
fn holds_a_mutated_record_on_another_is_read_or_told() {
    let originals = [
        include_str!("../../../../materials/pa66-gf30.toml"),
        "format = 1\nname = \"mine\"\ntitle = \"mine\"\nlike = \"pa66\"\n\
         [pellet]\nshape = \"flake\"\ndiameter = \"8 mm\"\nlength = \"0.3 mm\"\n",
    ];
    let library = Library::shipped().unwrap();
    let below = library.find("pa66", &Place::default()).unwrap();
    both(Mutations::of("mine.toml", &originals).run(1000, |text| {
        let (draft, faults) = Draft::read(&Text::new("mine.toml", text), Rank::Record);
        let record = faults.or(draft)?.finish(Some(&Base::of(below)))?;
        Ok(format!("{:?}", record.resin))
    }));
}

#[test]
fn holds_a_mutated_family_is_read_or_told() {
    let originals = [
        include_str!("../../../../materials/families/polyamides.toml"),
        include_str!("../../../../materials/families/fluoropolymers.toml"),
        include_str!("../../../../materials/families/elastomers.toml"),
    ];
    both(Mutations::of("mine.toml", &originals).run(1500, |text| {
        let (draft, faults) = Draft::read(&Text::new("mine.toml", text), Rank::Family);
        let family = faults.or(draft)?.finish_family(None)?;
        Ok(format!("{:?}", family.bag))
    }));
}

#[test]
fn holds_a_mutated_file_of_grades_is_read_or_told() {
    let originals = [
        "format = 1\n[[grade]]\nname = \"lens clear 7\"\nresin = \"pc\"\n\
         temperature_low = \"110 degC\"\ntemperature_high = \"115 degC\"\ntime = \"4 h\"\n\
         limit = \"0.03 % wet\"\nrecord.pellet.diameter = \"3.1 mm\"\n\
         [[grade]]\nname = \"housing black\"\nresin = \"PA66\"\ntime = \"6 h\"\n",
        "format = 1\n[[grade]]\nname = \"thin flake\"\nresin = \"PA66\"\n\
         [grade.record.pellet]\nshape = \"flake\"\ndiameter = \"8 mm\"\nlength = \"0.3 mm\"\n",
    ];
    let mut library = Library::shipped().unwrap();
    let few = |record: &Record| ["pc", "pa66"].contains(&record.resin.key.as_str());
    library.records.retain(few);
    library.families.clear();
    both(Mutations::of("grades.toml", &originals).run(800, |text| {
        let text = Text::new("grades.toml", text);
        let (with, faults) = library.clone().with_grades(&text);
        // A grade is used although another beside it has mistakes.
        for grade in &with.grades {
            let shown = format!("{:?} {:?}", grade.record.resin, grade.sheet);
            assert!(!is_none(&shown), "{shown}");
        }
        faults.or(format!("{:?}", with.grades.len()))
    }));
}

#[test]
fn holds_a_mutated_record_of_a_dryer_is_read_or_told() {
    let originals = [
        include_str!("../../../../equipment/compressed-air-small.toml"),
        include_str!("../../../../equipment/wheel-mid.toml"),
        include_str!("../../../../equipment/towers.toml"),
        include_str!("../../../../equipment/hot-air.toml"),
    ];
    let desiccants = Desiccants::shipped().unwrap();
    both(Mutations::of("mine.toml", &originals).run(3000, |text| {
        let dryer = read_dryer(&Text::new("mine.toml", text), &desiccants)?;
        Ok(format!("{:?} {:?}", dryer.known, dryer.ownership))
    }));
}

#[test]
fn holds_a_mutated_table_of_dryers_is_read_or_told() {
    let originals = [
        "key;title;invented;kind;rated flow (kg/h dry air);hottest (degC);blower drop (Pa);price;currency\n\
         one;\"a; b\";yes;hot air;80;140;300;2400;EUR\ntwo;;no;hot air;90,5;;;;\n\
         three;;;compressed air;4;150;;;\n",
        "key,kind,rated flow,heater power,air carries,leak (%)\n\
         one,hot air,80 kg/h dry air,4.5 kW,none,\ntwo,desiccant wheel,60 kg/h dry air,5 kW,,0.5\n",
    ];
    let desiccants = Desiccants::shipped().unwrap();
    both(Mutations::of("mine.csv", &originals).run(1500, |text| {
        let all = read_table(&Text::new("mine.csv", text), &desiccants)?;
        let known = all.dryers.iter().map(|dryer| &dryer.known);
        let shown = format!("{:?}", known.collect::<Vec<_>>());
        // A row is used although another beside it has mistakes.
        assert!(!is_none(&shown), "{shown}");
        all.faults.or(shown)
    }));
}

#[test]
fn holds_mutated_weather_is_read_or_told() {
    let rows = |between: &str, humidity: &str| -> String {
        let row = |hour: u32| {
            let (day, hour) = (1 + hour / 24, hour % 24);
            format!("2024-02-2{day}T{hour:02}:00:00{between}21.5{between}{humidity}\n")
        };
        (0..40).map(row).collect()
    };
    let points = format!(
        "# invented\ntime; temperature (degF); dew point (degF)\n{}",
        rows(";", "12.5")
    );
    let humid = format!(
        "time, temperature (degC), relative humidity (%RH)\n{}",
        rows(", ", "55")
    );
    for wanted in [None, Some(Duration::from_hours(12.0))] {
        let read = |text: &str| -> Result<Weather, Faults> {
            let pressure = AbsolutePressure::from_si(STANDARD_ATMOSPHERE);
            weather::read(&Text::new("hall.csv", text), wanted, pressure)
        };
        let originals = [humid.as_str(), points.as_str()];
        both(Mutations::of("hall.csv", &originals).run(2000, |text| {
            let weather = read(text)?;
            for row in &weather.rows {
                let (t, share) = (row.temperature.celsius(), row.relative_humidity.si());
                assert!((-40.0..=80.0).contains(&t), "{t}\n{text}");
                assert!((0.0..=1.0).contains(&share), "{share}\n{text}");
            }
            let times: Vec<f64> = weather.rows.iter().map(|row| row.time.si()).collect();
            assert!(times.windows(2).all(|pair| pair[0] < pair[1]), "{text}");
            Ok(format!("{weather:?}"))
        }));
    }
}

#[test]
fn holds_a_mutated_schedule_is_read_or_told() {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/");
    let week = include_str!("../../../../demo/shifts/pc-week.toml").replace("../", root);
    let full = format!(
        "{week}\n[[order]]\nname = \"a\"\nfrom = \"2026-03-23 06:00\"\nfor = \"96 h\"\nrate = \"12 kg/h\"\n\
         [[level]]\nat = \"2026-03-24 06:00\"\nlevel = \"60 %\"\n[[refill]]\nat = \"2026-03-24 07:00\"\n\
         [[hall]]\nat = \"2026-03-24 06:00\"\ntemperature = \"20 degC\"\nhumidity = \"50 %RH\"\n\
         [chances]\nstops_per_hour = \"0.1 1/h\"\n[control]\nsetback = \"80 degC\"\nbake_out_every = \"7 d\"\n"
    );
    let (library, desiccants) = (Library::shipped().unwrap(), Desiccants::shipped().unwrap());
    let originals = [week.as_str(), full.as_str()];
    both(Mutations::of("week.toml", &originals).run(1500, |text| {
        let read =
            read_schedule(text, "week.toml", &library, &desiccants).map_err(|mut faults| {
                // A job that is not there is told by its own name.
                for fault in &mut faults.0 {
                    fault.place.file = "week.toml".to_owned();
                }
                faults
            })?;
        let (demand, length) = (&read.schedule.demand, read.schedule.length.seconds());
        let meets = demand
            .windows(2)
            .all(|pair| pair[0].to.total_cmp(&pair[1].from).is_eq());
        assert!(
            meets && demand.iter().all(|stretch| stretch.to > stretch.from),
            "{text}"
        );
        assert!(
            demand[0].from.abs() < 1e-9 && (demand[demand.len() - 1].to - length).abs() < 1e-6,
            "{text}"
        );
        Ok(format!(
            "{demand:?} {:?} {:?}",
            read.schedule.hall, read.schedule.chances
        ))
    }));
}
