//! Lots: what a mixture may say, and what is wrong with one.

use super::*;
use job::{Entry as Joins, Pieces};

fn lot(lines: &str) -> Vec<Fault> {
    told(&format!("{SOUND}{lines}"))
}

const VIRGIN: &str = "[[lot]]\nname = \"virgin\"\nshare = \"70 %\"\n";

#[test]
fn exact_a_lot_says_what_is_in_it() {
    let text = format!(
        "{SOUND}{VIRGIN}[[lot]]\nname = \"regrind\"\nshare = \"25 %\"\npieces = \"flakes\"\n\
         thickness = \"2 mm\"\nmoisture = \"0.3 % wet\"\n[[lot]]\nname = \"colour\"\nresin = \"ABS\"\n\
         share = \"5 %\"\nentry = \"throat\"\n"
    );
    let job = sound(&text);
    assert_eq!(job.lot.len(), 3);
    assert_eq!(job.lot[1].resin.name, "PC");
    assert!(matches!(job.lot[1].pieces, Pieces::Flakes { thickness, .. }
        if (thickness.metres() - 2e-3).abs() < 1e-12));
    assert_eq!(job.lot[2].entry, Joins::Throat);
    assert_eq!(job.lot[2].resin.name, "ABS");
    assert!(sound(SOUND).lot.is_empty());
}

#[test]
fn holds_shares_that_do_not_add_up_say_by_how_much() {
    let faults = lot(&format!(
        "{VIRGIN}[[lot]]\nname = \"b\"\nshare = \"25 %\"\n"
    ));
    assert_eq!(faults.len(), 1, "{faults:#?}");
    assert_eq!(faults[0].kind, FaultKind::Inconsistent);
    assert!(
        faults[0].cause.contains("add up to 95 %: 5 % missing"),
        "{}",
        faults[0]
    );
    let faults = lot(&format!(
        "{VIRGIN}[[lot]]\nname = \"b\"\nshare = \"35 %\"\n"
    ));
    assert!(
        faults[0].cause.contains("105 %: 5 % too much"),
        "{}",
        faults[0]
    );
    assert!(faults[0].mend.contains("take away 5 %"), "{}", faults[0]);
}

#[test]
fn holds_every_mistake_of_a_lot_is_told_at_once() {
    let faults = lot(&format!(
        "{VIRGIN}[[lot]]\nname = \"virgin\"\nresin = \"ABBS\"\nshare = \"0.5 kg\"\n\
         pieces = \"flakes\"\n"
    ));
    let has = |kind: FaultKind, path: &str| {
        assert!(
            faults
                .iter()
                .any(|f| f.kind == kind && f.place.path == path),
            "{kind:?} {path}: {faults:#?}"
        );
    };
    has(FaultKind::UnknownName, "lot[2].resin");
    has(FaultKind::Inconsistent, "lot[2].name");
    has(FaultKind::MissingField, "lot[2].thickness");
    assert!(
        faults.iter().any(|f| f.place.path == "lot[2].share"),
        "{faults:#?}"
    );
}

#[test]
fn holds_something_of_the_resin_must_be_dried() {
    let faults = lot(
        "[[lot]]\nname = \"a\"\nshare = \"90 %\"\nentry = \"throat\"\n\
         [[lot]]\nname = \"b\"\nresin = \"ABS\"\nshare = \"10 %\"\n",
    );
    assert_eq!(faults.len(), 1, "{faults:#?}");
    assert!(
        faults[0].cause.contains("no component of PC"),
        "{}",
        faults[0]
    );
}

#[test]
fn holds_thickness_belongs_to_flakes() {
    let faults = lot("[[lot]]\nname = \"a\"\nshare = \"100 %\"\nthickness = \"2 mm\"\n");
    assert_eq!(faults.len(), 1, "{faults:#?}");
    assert_eq!(faults[0].place.path, "lot[1].thickness");
}

#[test]
fn holds_a_mistake_in_a_component_is_told_once() {
    for share in ["", "share = \"NaN %\"\n", "share = \"30 degC\"\n"] {
        let faults = lot(&format!("[[lot]]\nname = \"a\"\n{share}"));
        assert_eq!(faults.len(), 1, "{faults:#?}");
        assert_eq!(faults[0].place.path, "lot[1].share");
    }
}
