//! What a round file may say, and how each mistake is told.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use super::*;
use crate::walk::read;
use job::{DryerKind, ReadingKind};

const ROUND_TEXT: &str = r#"
format = 1
job = "none.toml"
[dryer]
kind = "desiccant wheel"
[[reading]]
of = "supply dew point"
value = "-38 degC frost"
[[reading]]
of = "return temperature"
value = "47 degC"
error = "1 K"
"#;

/// Mistakes in the readings of a text alone, its job aside.
fn mistakes(text: &str) -> Vec<String> {
    let bag = read(&Text::new("round.toml", text), &ROUND).unwrap();
    let (dryer, _) = dryer_in(&bag).unwrap();
    let told = readings::of(&bag, Some(&dryer)).err();
    told.map_or_else(Vec::new, |faults| {
        faults.iter().map(ToString::to_string).collect()
    })
}

/// The dryer of a round that stands in the folder of the shipped records.
fn dryer_in(bag: &Bag) -> Result<(RoundDryer, Option<StatedDryer>), Faults> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../equipment");
    let table = bag.get("dryer", Entry::table).unwrap();
    dryer::of(&table, &folder, &Desiccants::shipped()?)
}

/// The dryer of a round that says this of it.
fn dryer_of(words: &str) -> Result<(RoundDryer, Option<StatedDryer>), Faults> {
    let text = ROUND_TEXT.replace("kind = \"desiccant wheel\"", words);
    dryer_in(&read(&Text::new("round.toml", &text), &ROUND)?)
}

fn with(reading: &str) -> Vec<String> {
    mistakes(&format!("{ROUND_TEXT}[[reading]]\n{reading}\n"))
}

#[test]
fn holds_the_description_has_no_flaw() {
    assert_eq!(crate::flaws(&ROUND).to_string(), "");
}

#[test]
fn exact_readings_keep_their_meaning_and_their_error() {
    let bag = read(&Text::new("round.toml", ROUND_TEXT), &ROUND).unwrap();
    let (stated, _) = dryer_in(&bag).unwrap();
    let written = readings::of(&bag, Some(&stated)).unwrap();
    let found = &written.readings;
    assert_eq!(written.texts.len(), found.len());
    assert_eq!(found[0].of, ReadingKind::SupplyDewPoint);
    assert!(matches!(
        found[0].value,
        quantity::Value::Humidity(quantity::Humidity::Frost(..))
    ));
    assert_eq!((found[0].error, found[1].error), (None, Some(1.0)));
    assert!(stated.cooler && stated.kind == DryerKind::Wheel);
}

#[test]
fn holds_every_mistake_in_a_reading_is_told_with_its_mend() {
    let cases = [
        (
            "of = \"supply dew point\"\nvalue = \"-40 degC frost\"",
            "is read twice",
        ),
        (
            "of = \"return dew point\"\nvalue = \"60 degC dew\"",
            "no air is wetter than saturated",
        ),
        (
            "of = \"hall humidity\"\nvalue = \"130 %RH\"",
            "lies between 0 and 100 %",
        ),
        (
            "of = \"hopper inlet temperature\"\nvalue = \"900 degC\"",
            "lies outside",
        ),
        ("of = \"filter pressure drop\"\nvalue = \"3 K\"", "pressure"),
        (
            "of = \"filter pressure drop\"\nvalue = \"0 mbar\"",
            "whether the blower runs",
        ),
        (
            "of = \"process heater current\"\nvalue = \"12 A\"",
            "12 A of 18 A is \"67 %\"",
        ),
        (
            "of = \"process flow\"\nvalue = \"60 kg/h dry air\"\nerror = \"90 %\"",
            "an error lies above zero",
        ),
    ];
    for (reading, cause) in cases {
        let told = with(reading);
        assert!(
            told.len() == 1 && told[0].contains(cause) && told[0].contains("round.toml"),
            "{reading}: {told:?}"
        );
    }
    let hot = ROUND_TEXT.replace("desiccant wheel", "hot air");
    let told = mistakes(&format!(
        "{hot}[[reading]]\nof = \"wheel speed\"\nvalue = \"5 1/h\"\n"
    ));
    assert!(told[0].contains("has no wheel speed"), "{told:?}");
}

#[test]
fn holds_an_unknown_reading_is_told_with_the_nearest() {
    let text = ROUND_TEXT.replace("return temperature", "return temperatur");
    let told = read(&Text::new("round.toml", &text), &ROUND).unwrap_err();
    let words = told.to_string();
    assert!(words.contains("return temperature"), "{words}");
}

#[test]
fn holds_a_round_of_the_hall_alone_tells_nothing_of_the_dryer() {
    let text = r#"
format = 1
job = "none.toml"
[dryer]
kind = "hot air"
[[reading]]
of = "hall temperature"
value = "25 degC"
"#;
    let told = mistakes(text);
    assert!(told[0].contains("only the hall was read"), "{told:?}");
}

#[test]
fn holds_a_record_says_what_the_round_leaves_out() {
    let (stated, record) = dryer_of("record = \"towers.toml\"").unwrap();
    assert_eq!(stated.kind, DryerKind::Towers);
    assert_eq!((stated.cooler, stated.rated_flow), (true, None));
    assert_eq!(record.unwrap().key, "towers");
    // Hall air cools the small wheel, so that no cooling water can be read.
    let (stated, _) = dryer_of("record = \"wheel-small.toml\"").unwrap();
    assert!(!stated.cooler);
    let text = format!("{ROUND_TEXT}[[reading]]\nof = \"cooling water in\"\nvalue = \"18 degC\"\n");
    let bag = read(&Text::new("round.toml", &text), &ROUND).unwrap();
    let told = readings::of(&bag, Some(&stated)).unwrap_err().to_string();
    assert!(told.contains("has no cooling water in"), "{told}");
    // What the round says besides, as its record does.
    let same = "record = \"wheel-mid.toml\"\nkind = \"desiccant wheel\"\nwater_cooler = true\n\
                rated_flow = \"120 m3/h at 20 degC and 1 atm\"";
    assert!(dryer_of(same).is_ok());
}

#[test]
fn holds_what_a_round_says_against_its_record_is_told() {
    let cases = [
        (
            "kind = \"twin towers\"",
            "dryer.kind",
            "the record of the mid wheel says desiccant wheel",
        ),
        (
            "rated_flow = \"80 kg/h dry air\"",
            "dryer.rated_flow",
            "says 143 kg/h of dry air",
        ),
        (
            "water_cooler = false",
            "dryer.water_cooler",
            "says there is",
        ),
    ];
    for (words, path, cause) in cases {
        let told = dryer_of(&format!("record = \"wheel-mid.toml\"\n{words}")).unwrap_err();
        assert_eq!(told.len(), 1, "{told}");
        assert_eq!(told.0[0].place.path, path);
        assert!(told.0[0].cause.contains(cause), "{told}");
    }
    let none = dryer_of("").unwrap_err().to_string();
    assert!(none.contains("one of record, kind must be given"), "{none}");
}

#[test]
fn holds_a_record_that_cannot_be_used_is_told() {
    let folder = std::env::temp_dir().join(format!("drybed-round-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let vacuum = folder.join("vacuum.toml");
    let broken = folder.join("broken.toml");
    std::fs::write(
        &vacuum,
        "format = 1\nkind = \"vacuum\"\nvacuum.charge = \"20 kg\"\n",
    )
    .unwrap();
    std::fs::write(
        &broken,
        "format = 1\nkind = \"hot air\"\nrated_flow = \"80\"\nleak = \"-1 %\"\n",
    )
    .unwrap();
    let of = |path: &Path| {
        let name = path.display();
        dryer_of(&format!("record = \"{name}\"")).unwrap_err()
    };
    let (refused, mistaken) = (of(&vacuum), of(&broken));
    let (away, several) = (of(&folder.join("away.toml")), of(&folder.join("all.csv")));
    let whole = of(&folder);
    std::fs::remove_dir_all(&folder).unwrap();
    // Of a vacuum dryer one sentence, at the round, and no other mistake.
    assert_eq!(refused.len(), 1, "{refused}");
    assert_eq!(refused.0[0].place.path, "dryer.record");
    assert!(refused.0[0].cause.contains("no loop of air"), "{refused}");
    // Mistakes in a record stand there.
    assert!(mistaken.len() >= 2, "{mistaken}");
    for fault in &mistaken {
        assert!(fault.place.file.ends_with("broken.toml"), "{mistaken}");
    }
    assert!(away.to_string().contains("it is not there"), "{away}");
    assert!(
        several.to_string().contains("no record of one"),
        "{several}"
    );
    assert!(whole.to_string().contains("no record of one"), "{whole}");
}
