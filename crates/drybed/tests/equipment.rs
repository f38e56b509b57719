//! What a user is told of the dryers they own or are offered.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

mod committed;

use committed::stands;
use drybed::{DryersAnswer, Units, dryers_files, equipment, library, open_equipment};
use std::path::Path;

#[test]
fn pinned_examples_as_shown() {
    let answer = equipment(Path::new("../../equipment")).unwrap();
    assert!(answer.is_sound());
    let text = answer.document(Units::Metric).full_text().unwrap();
    assert!(text.lines().all(|line| line.chars().count() <= 80));
    stands("equipment", &text);
    let other = answer.document(Units::UsCustomary).full_text().unwrap();
    assert!(other.contains("°F") && other.contains("lb/h"), "{other}");
    assert!(answer.json().unwrap().contains("\"rated_flow_kg_h\""));
}

#[test]
fn pinned_mistakes_of_a_table_as_shown() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("equipment-mistakes");
    std::fs::create_dir_all(&folder).unwrap();
    let path = folder.join("dryers.csv");
    let rows = "key,kind,rated flow (m3/h at 20 degC and 1 atm),heater power (kW),colour\n\
                press-7,desiccant wheel,60,5,red\n\
                hall-2,twin towers,,5.4,\n\
                press-7,hot air,70,4.5,\n\
                attic,hot air,70,4.5 l,\n";
    std::fs::write(&path, rows).unwrap();
    let answer = equipment(&path).unwrap();
    let shown = path.display().to_string();
    let text = format!("{}\n", answer.faults);
    stands("equipment-mistakes", &text.replace(&shown, "dryers.csv"));
    let left_out = [
        "column E",
        "row 3 (hall-2)",
        "row 4 (press-7)",
        "row 5 (attic)",
    ];
    assert_eq!(answer.left_out, left_out);
    assert_eq!(answer.dryers.len(), 1);
}

/// The demonstration of light guides with the dryers of a path.
fn compared(path: &str) -> DryersAnswer {
    let job = Path::new("../../demo/dryers/pc-light-guides.toml").to_path_buf();
    let own = open_equipment(Path::new(path)).unwrap();
    dryers_files(&[job], &library(None).unwrap(), Some(&own), 4, &|_| ()).unwrap()
}

#[test]
fn holds_every_example_settles_on_the_demonstration() {
    let answer = compared("../../equipment");
    let own = answer.equipment.as_ref().unwrap();
    assert_eq!(answer.comparison.dryers.len(), own.dryers.len());
    for (found, stated) in answer.comparison.dryers.iter().zip(&own.dryers) {
        assert_eq!(found.title, stated.title);
        assert_eq!(found.days.len(), 3);
        for day in &found.days {
            // What a loop that settled leaves of rounding.
            assert!(
                day.imbalance.0 < 1e-9 && day.imbalance.1 < 1e-9,
                "{}",
                found.title
            );
        }
        // The small one runs with the air that it really moves, and says what is missing.
        let short = |day: &decide::compare::DayRun| {
            let mut all = day.shortfalls.iter();
            all.any(|short| short.what == "flow of dry air" && short.given < 0.7 * short.asked)
        };
        let small = stated.title == "small wheel";
        assert_eq!(found.days.iter().all(short), small, "{}", found.title);
    }
    let text = answer.document(Units::Metric).full_text().unwrap();
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "{text}"
    );
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("small wheel is rated for"), "{text}");
    assert!(!words.contains("sized by custom"), "{text}");
    assert!(answer.document(Units::UsCustomary).html().is_ok());
}

#[test]
fn holds_the_table_of_the_demonstration_is_compared() {
    let answer = compared("../../demo/equipment/dryers.csv");
    assert_eq!(answer.comparison.dryers.len(), 4);
    let text = answer.document(Units::Metric).text().unwrap();
    assert!(text.contains("wheel, offer A"), "{text}");
    assert!(text.contains("decimal signs"), "{text}");
}
