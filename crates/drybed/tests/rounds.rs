//! Rounds as they are read from files: what the demonstrations find, and what a record of a dryer changes.

mod committed;

use committed::stands;
use decide::check::Cause;
use drybed::Trouble;
use job::ReadingKind as R;

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
    // A dryer in good order does not explain splay.
    let splay = demonstration("splay-elsewhere.toml")?;
    assert!(splay.checked.pellets.wet < 0.2);
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
