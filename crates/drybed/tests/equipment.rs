//! What a user is told of the dryers they own or are offered.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

mod committed;

use committed::stands;
use drybed::{DryersAnswer, Units, dryers_files, equipment, library, open_equipment, sizes_files};
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
        // The small ones run with the air that they really give, and say what is missing.
        let short = |day: &decide::compare::DayRun| {
            let mut all = day.shortfalls.iter();
            all.any(|short| short.what == "flow of dry air" && short.given < 0.7 * short.asked)
        };
        let small = ["small wheel", "small compressed air"].contains(&stated.title.as_str());
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

#[test]
fn holds_sizes_of_own_dryers_are_those_stated() {
    let job = Path::new("../../demo/dryers/pc-light-guides.toml").to_path_buf();
    let own = open_equipment(Path::new("../../equipment/vacuum.toml")).unwrap();
    let sized = sizes_files(&[job], &library(None).unwrap(), Some(&own)).unwrap();
    let [vacuum] = &sized.sizes.dryers[..] else {
        panic!("{:?}", sized.sizes.dryers);
    };
    assert_eq!(vacuum.title, "vacuum beside the press");
    assert!(
        vacuum
            .parts
            .iter()
            .all(|part| part.decided_by == "as stated")
    );
    let pump = vacuum.parts.iter().find(|part| part.name == "vacuum pump");
    let speed = pump.unwrap().measures[0];
    assert!((speed.value - 40.0).abs() < 1e-9 && speed.unit == "m3/h");
    let text = sized.document(Units::Metric).full_text().unwrap();
    assert!(
        !text.contains("custom") && !text.contains("Desiccant"),
        "{text}"
    );
}

#[test]
fn holds_a_vacuum_dryer_too_small_for_the_job_is_told_and_not_recommended() {
    let text = std::fs::read_to_string("../../equipment/vacuum.toml").unwrap();
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("vacuum-small");
    std::fs::create_dir_all(&folder).unwrap();
    let small = text
        .replace("\"60 kg\"", "\"12 kg\"")
        .replace("\"vacuum beside the press\"", "\"small vacuum\"");
    std::fs::write(folder.join("small.toml"), small).unwrap();
    std::fs::write(folder.join("vacuum.toml"), text).unwrap();
    let found = compared(folder.to_str().unwrap()).comparison;
    assert_eq!(found.dryers.len(), 1);
    assert_eq!(found.dryers[0].title, "vacuum beside the press");
    let [small] = &found.not_computed[..] else {
        panic!("{:?}", found.not_computed);
    };
    assert_eq!(small.missing.len(), 3);
    assert!(
        small
            .missing
            .iter()
            .all(|day| day.why == decide::compare::WhyNot::TooSmall)
    );
    assert!(small.reasons()[0].contains("24.9"), "{:?}", small.reasons());
    // One set of vessels serves one job at a time.
    let jobs = "../../demo/cells/two-presses.toml";
    let own = open_equipment(Path::new("../../equipment")).unwrap();
    let found = dryers_files(
        &[jobs.into()],
        &library(None).unwrap(),
        Some(&own),
        0,
        &|_| (),
    );
    let found = found.unwrap().comparison;
    let vacuum = found
        .not_computed
        .iter()
        .find(|it| it.title == "vacuum beside the press");
    assert!(
        vacuum
            .unwrap()
            .reasons()
            .iter()
            .any(|it| it.contains("one set of vessels"))
    );
}
