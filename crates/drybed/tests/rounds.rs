//! Rounds as they are read from files: what the demonstrations find, and what a record of a dryer changes.

mod committed;

use committed::stands;
use decide::check::Cause;
use drybed::Trouble;
use job::ReadingKind as R;
use std::fmt::Write as _;

fn demonstration(name: &str) -> Result<drybed::CheckedDryer, Trouble> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/rounds");
    let path = folder.join(name);
    let text = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(text.starts_with("# Invented: "), "{name}");
    drybed::check_file(&path, &drybed::library(None)?)
}

#[test]
fn holds_the_demonstrations_find_what_was_put_into_them() -> Result<(), Trouble> {
    let cases = [
        ("clogged-filter.toml", Cause::FilterClogged),
        ("dead-element.toml", Cause::RegenerationElements),
        ("summer-leak.toml", Cause::HallAirLeak),
        ("splay-elsewhere.toml", Cause::Healthy),
        (
            "drifting-sensor.toml",
            Cause::WrongReading(R::SupplyDewPoint),
        ),
    ];
    for (name, cause) in cases {
        let found = demonstration(name)?;
        let document = found.document(quantity::Units::Metric);
        let text = document.full_text().unwrap_or_default();
        let first = &found.checked.causes[0];
        assert_eq!(first.cause, cause, "{name}\n{text}");
        // What leaks through worn seals reads much like what leaks in on the suction side.
        assert!(first.probability > 0.4, "{name} {}", first.probability);
        assert_eq!(found.is_healthy(), cause == Cause::Healthy, "{name}");
        assert!(
            text.lines().all(|line| line.chars().count() <= 80),
            "{text}"
        );
        assert!(document.html().is_ok() && found.json().is_ok());
        assert!(found.document(quantity::Units::UsCustomary).text().is_ok());
    }
    // A fault is named with what to do, and neither called good order nor cleared of splay.
    let clogged = shown(&demonstration("clogged-filter.toml")?);
    assert!(
        clogged.contains("most likely. Clean or change the process filter."),
        "{clogged}"
    );
    for name in [
        "clogged-filter.toml",
        "dead-element.toml",
        "summer-leak.toml",
    ] {
        let text = shown(&demonstration(name)?);
        assert!(!text.contains("look elsewhere for splay"), "{text}");
        assert!(!text.contains("in window"), "{text}");
    }
    let splay = shown(&demonstration("splay-elsewhere.toml")?);
    assert!(splay.contains("● in window") && splay.contains("so look elsewhere for splay"));
    // A dryer in good order does not explain splay.
    let splay = demonstration("splay-elsewhere.toml")?;
    assert!(splay.checked.pellets.wet < 0.2);
    Ok(())
}

/// The document as words with one space between them.
fn shown(found: &drybed::CheckedDryer) -> String {
    let text = found.document(quantity::Units::Metric).full_text();
    let text = text.unwrap_or_default();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A round of a wheel or of another kind on the demonstration job.
fn round(kind: &str, readings: &[(&str, &str)]) -> Result<drybed::CheckedDryer, Trouble> {
    let mut text = format!(
        "format = 1\ntitle = \"invented\"\njob = \"../../demo/dryers/pc-light-guides.toml\"\n[dryer]\nkind = \"{kind}\"\n"
    );
    for (of, value) in readings {
        let _ = write!(text, "[[reading]]\nof = \"{of}\"\nvalue = \"{value}\"\n");
    }
    drybed::check(&text, "round.toml", &drybed::library(None)?)
}

#[test]
fn holds_air_that_is_too_hot_is_a_matter_of_the_set_point() -> Result<(), Trouble> {
    let found = round(
        "desiccant wheel",
        &[
            ("hopper inlet temperature", "150 degC"),
            ("return temperature", "75 degC"),
            ("supply dew point", "-52 degC frost"),
        ],
    )?;
    let first = &found.checked.causes[0];
    assert_eq!(
        first.cause,
        Cause::SetOtherwise,
        "{:?}",
        found.checked.causes
    );
    assert_eq!(first.name, "set or controlled too hot");
    let text = shown(&found);
    assert!(
        text.contains("set point of the job") && !text.contains("● in window"),
        "{text}"
    );
    assert!(text.contains("below 1 ppm"), "{text}");
    Ok(())
}

/// A controller that counts in degF and was given the number of degC: far colder than where the loop still
/// settles at the smallest size.
#[test]
fn holds_a_number_given_in_the_other_unit_is_told() -> Result<(), Trouble> {
    let found = round(
        "desiccant wheel",
        &[
            ("hopper inlet temperature", "120 degF"),
            ("return temperature", "95 degF"),
            ("supply dew point", "-40 degF frost"),
        ],
    )?;
    let first = &found.checked.causes[0];
    assert_eq!(first.name, "set or controlled too cold", "{first:?}");
    assert!(first.probability > 0.5, "{first:?}");
    let text = shown(&found);
    assert!(text.contains("as hot as 120 °F"), "{text}");
    // As it was typed, though the answer is in metric units.
    assert!(text.contains("120 °F") && text.contains("-40 °F"), "{text}");
    Ok(())
}

/// Frost points of towers in good order as practice sees them, and two that are not.
#[test]
fn holds_towers_are_called_what_they_are() -> Result<(), Trouble> {
    let towers = |point: &str, back: &str| {
        round(
            "twin towers",
            &[
                ("hopper inlet temperature", "120 degC"),
                ("return temperature", back),
                ("supply dew point", point),
            ],
        )
    };
    for point in ["-42 degC frost", "-50 degC frost", "-58 degC frost"] {
        let found = towers(point, "60 degC")?;
        assert_eq!(
            found.checked.causes[0].cause,
            Cause::Healthy,
            "{point} {:?}",
            found.checked.causes
        );
        assert!(found.checked.causes[0].probability > 0.5, "{point}");
    }
    for point in ["-22 degC frost", "-12 degC frost"] {
        let found = towers(point, "60 degC")?;
        assert!(!found.is_healthy(), "{point}");
    }
    Ok(())
}

#[test]
fn holds_air_as_wet_as_the_compressor_leaves_it_is_the_dryer_of_the_plant() -> Result<(), Trouble> {
    let found = round(
        "compressed air",
        &[
            ("hopper inlet temperature", "120 degC"),
            ("return temperature", "61 degC"),
            ("supply dew point", "6 degC dew"),
            ("return dew point", "8 degC dew"),
        ],
    )?;
    let first = &found.checked.causes[0];
    assert_eq!(first.cause, Cause::PlantDryer);
    assert!(
        first.size.as_ref().is_some_and(|size| size.contains(" 4")),
        "{first:?}"
    );
    // One bit in ten is the least a reading is asked for.
    assert!(found.checked.next.iter().all(|next| next.bits >= 0.1));
    Ok(())
}

#[test]
fn holds_towers_whose_valves_leak_as_usual_are_in_good_order() -> Result<(), Trouble> {
    let found = round(
        "twin towers",
        &[
            ("hopper inlet temperature", "120 degC"),
            ("supply dew point", "-52 degC frost"),
        ],
    )?;
    let supply = found.checked.readings.iter();
    let supply = supply.filter(|one| one.of == R::SupplyDewPoint);
    let expected = supply.map(|one| one.healthy).sum::<f64>();
    assert!((-65.0..-45.0).contains(&expected), "{expected}");
    let first = &found.checked.causes[0];
    assert_eq!(first.cause, Cause::Healthy, "{:?}", found.checked.causes);
    Ok(())
}

#[test]
fn holds_what_no_cause_explains_is_not_called_likely() -> Result<(), Trouble> {
    let found = round(
        "desiccant wheel",
        &[
            ("hopper inlet temperature", "140 degC"),
            ("return temperature", "24 degC"),
            ("throat temperature", "30 degC"),
            ("supply dew point", "-40 degC frost"),
        ],
    )?;
    assert_eq!(found.checked.stand, decide::check::Stand::PoorFit);
    assert!(found.checked.fit_best < 1e-3 && !found.is_healthy());
    let text = shown(&found);
    assert!(
        text.contains("No cause fits well") && !text.contains("most likely"),
        "{text}"
    );
    assert!(
        text.contains("speaks against it") && text.contains("read that again first"),
        "{text}"
    );
    Ok(())
}

#[test]
fn pinned_a_round_on_a_dryer_of_its_record_as_shown() -> Result<(), Trouble> {
    let found = demonstration("own-wheel.toml")?;
    let document = found.document(quantity::Units::Metric);
    stands("check-own-wheel", &document.text().unwrap_or_default());
    Ok(())
}

#[test]
fn holds_a_record_says_what_a_dryer_gives_in_good_order() -> Result<(), Trouble> {
    let own = demonstration("own-wheel.toml")?;
    assert!(own.is_healthy());
    assert_eq!(own.checked.causes[0].cause, Cause::Healthy);
    let record = own
        .record
        .as_ref()
        .map(|record| (record.title.as_str(), record.stated()));
    assert_eq!(record, Some(("mid wheel", 29)));
    // A wheel of a usual size gives drier air and heats with more of its power: the same readings speak of a fault.
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/rounds");
    let path = folder.join("own-wheel.toml");
    let text = std::fs::read_to_string(path).unwrap_or_default();
    let text = text.replace("../dryers/", "../../demo/dryers/").replace(
        "record = \"../../equipment/wheel-mid.toml\"",
        "kind = \"desiccant wheel\"",
    );
    let usual = drybed::check(&text, "usual.toml", &drybed::library(None)?)?;
    assert!(!usual.is_healthy() && usual.record.is_none());
    let supply = |found: &drybed::CheckedDryer| {
        let all = found.checked.readings.iter();
        all.filter(|one| one.of == R::SupplyDewPoint)
            .map(|one| one.healthy)
            .sum::<f64>()
    };
    assert!(supply(&own) - supply(&usual) > 8.0);
    Ok(())
}
