//! Tests of desiccant records: those shipped are sound, and mistakes are told with their place.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use super::*;
use material::SorbentTable;

const SIEVE: &str = r#"
format = 1
title = "A sieve"
heat_capacity = "0.9 kJ/(kg K)"
serves_from = "-30 degC"
serves_to = "260 degC"

[law]
form = "toth"
capacity = "0.27 kg/kg dry"
affinity_per_pa = "2.4e-10"
energy = "6852 K"
exponent = "0.38"
"#;

fn told(content: &str) -> Vec<(String, String)> {
    let text = Text::new("sieve.toml", content);
    let faults = Desiccants::of(&[text]).unwrap_err();
    let shown = faults.0.into_iter().map(|f| (f.place.path, f.cause));
    shown.collect()
}

#[test]
fn holds_the_shipped_records_are_sound_and_can_be_tabulated() {
    let all = Desiccants::shipped().unwrap();
    assert_eq!(all.records.len(), 8);
    for record in &all.records {
        let (low, high) = record.sorbent.limit();
        let table = SorbentTable::between(&record.sorbent, low, high).unwrap();
        // 1e-4 of ln p is 0.001 K of frost point.
        assert!(table.worst() < 1e-4, "{} {}", record.key, table.worst());
        assert!(
            !record.gaps.is_empty(),
            "{} says what is not known",
            record.key
        );
    }
}

#[test]
fn holds_a_mixture_is_made_of_its_parts() {
    let all = Desiccants::shipped().unwrap();
    let of = |key: &str| all.get(key).unwrap().sorbent.loading(30.0, 313.15);
    let sum = 0.35 * of("molecular-sieve-13x") + 0.4 * of("silica-gel-rd");
    assert!((of("composite-honeycomb") - sum).abs() < 1e-12);
    let honeycomb = all.get("composite-honeycomb").unwrap();
    assert!(honeycomb.invented);
    assert!((honeycomb.sorbent.limit().1 - 473.15).abs() < 1e-9);
}

#[test]
fn holds_a_plain_record_is_read_as_stated() {
    let read = Desiccants::of(&[Text::new("sieve.toml", SIEVE)]).unwrap();
    let sieve = read.get("sieve").unwrap();
    assert!((sieve.value("energy").unwrap().value - 6852.0).abs() < 1e-9);
    assert!((sieve.sorbent.limit().0 - 243.15).abs() < 1e-9);
    assert!(!sieve.is_measured_at(10.0, 300.0));
}

#[test]
fn holds_mistakes_are_told_where_they_stand() {
    let told_of = |from: &str, to: &str| told(&SIEVE.replace(from, to));
    let one = |from: &str, to: &str, path: &str, cause: &str| {
        let found = told_of(from, to);
        assert_eq!(found.len(), 1, "{to}: {found:?}");
        assert_eq!(found[0].0, path, "{to}");
        assert!(found[0].1.contains(cause), "{to}: {}", found[0].1);
    };
    one("exponent = \"0.38\"", "", "law.exponent", "missing");
    one("6852 K", "6852 kPa", "law.energy", "");
    one("0.38", "-0.38", "law", "Toth exponent");
    one("260 degC", "-40 degC", "serves_to", "not below");
    one(
        "exponent =",
        "exponnt = \"1\"\nexponent =",
        "law.exponnt",
        "",
    );
    one("\"toth\"", "\"freundlich\"", "law.form", "none of");
    assert_eq!(told("format = 2\n").len(), 1);
    let whole = format!("{SIEVE}\n[[part]]\nof = \"sieve\"\nshare = \"50 %\"\n");
    assert!(told(&whole)[0].1.contains("part"));
}

#[test]
fn holds_a_mixture_of_the_unknown_offers_the_nearest() {
    let mixture = "format = 1\ntitle = \"A mixture\"\nheat_capacity = \"0.9 kJ/(kg K)\"\n\n\
                   [[part]]\nof = \"sive\"\nshare = \"50 %\"\n";
    let texts = [
        Text::new("sieve.toml", SIEVE),
        Text::new("mixture.toml", mixture),
    ];
    let fault = Desiccants::of(&texts).unwrap_err().0.remove(0);
    assert_eq!(fault.place.file, "mixture.toml");
    assert!(fault.mend.contains("sieve"), "{}", fault.mend);
    let twice = mixture.replace("sive", "sieve").replace("50 %", "60 %")
        + "\n[[part]]\nof = \"sieve\"\nshare = \"60 %\"\n";
    let texts = [
        Text::new("sieve.toml", SIEVE),
        Text::new("mixture.toml", twice.as_str()),
    ];
    let fault = Desiccants::of(&texts).unwrap_err().0.remove(0);
    assert!(fault.cause.contains("more than 1"), "{}", fault.cause);
}

#[test]
fn exact_density_of_water_that_a_volume_is_counted_with() {
    let all = Desiccants::shipped().unwrap();
    let gel = &all.get("silica-gel-rd-potential").unwrap().sorbent;
    // At 20 degC and near saturation the volume is filled with water of 20 degC.
    let full = gel.loading(2339.0, 293.15);
    assert!(
        (full / (0.327e-3 * WATER_DENSITY) - 1.0).abs() < 5e-3,
        "{full}"
    );
}
