//! What a round file may say, and how each mistake is told.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use super::*;
use crate::walk::read;
use job::ReadingKind;

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
    let dryer = dryer(&bag.get("dryer", Entry::table).unwrap());
    let told = readings::of(&bag, &dryer).err();
    told.map_or_else(Vec::new, |faults| {
        faults.iter().map(ToString::to_string).collect()
    })
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
    let stated = dryer(&bag.get("dryer", Entry::table).unwrap());
    let found = readings::of(&bag, &stated).unwrap();
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
