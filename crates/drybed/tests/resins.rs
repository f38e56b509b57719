//! The library as it is shown: listed, shown, compared and checked.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use drybed::{
    Document, Library, PelletTime, ResinSearch, Trouble, Units, check_records, compare,
    find_resins, library, resin, resin_table,
};
use std::fs;
use std::path::{Path, PathBuf};

fn narrow(text: &str) {
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{line:?}");
    }
}

fn shown(document: &Document) -> String {
    assert!(document.html().is_ok());
    let text = document.full_text().unwrap();
    narrow(&text);
    text
}

fn shipped() -> Library {
    library(None).unwrap()
}

fn names(of: &[&str]) -> Vec<String> {
    of.iter().map(|name| (*name).to_owned()).collect()
}

/// A folder of this test with some records in it.
fn folder(name: &str, records: &[(&str, &str)]) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&path);
    fs::create_dir_all(&path).unwrap();
    for (file, text) in records {
        fs::write(path.join(file), text).unwrap();
    }
    path
}

#[test]
fn holds_every_resin_can_be_shown() {
    let library = shipped();
    let lines = find_resins(&library, &ResinSearch::default()).unwrap();
    assert!(lines.len() >= 16);
    shown(&resin_table(&lines, Units::Metric));
    for line in &lines {
        let answer = resin(&line.name, &library).unwrap();
        shown(&answer.document(Units::UsCustomary));
        let range = answer.numbers.diffusivity_m2_s;
        assert!(range.low <= range.value && range.value <= range.high);
        if let PelletTime::Reaches(time) = answer.numbers.pellet_time {
            assert!(time.low <= time.value && time.value <= time.high);
        }
    }
}

#[test]
fn holds_a_search_finds_names_and_says_when_none_is_there() {
    let library = shipped();
    let search = |word: &str| {
        let word = Some(word.to_owned());
        find_resins(&library, &ResinSearch { word, family: None })
    };
    let keys: Vec<String> = search("NYLON")
        .unwrap()
        .into_iter()
        .map(|l| l.key)
        .collect();
    assert!(
        keys.contains(&"pa66".to_owned()) && !keys.contains(&"pc".to_owned()),
        "{keys:?}"
    );
    let none = search("unobtainium").unwrap_err();
    assert_eq!(none.len(), 1);
    assert!(none.to_string().contains("unobtainium"), "{none}");
}

#[test]
fn holds_a_family_is_listed_alone_and_in_its_place() {
    let library = shipped();
    let search = |word: Option<&str>, family: &str| {
        find_resins(
            &library,
            &ResinSearch {
                word: word.map(str::to_owned),
                family: Some(family.to_owned()),
            },
        )
    };
    let all = search(None, "Polyamide").unwrap();
    assert!(all.len() > 2 && all.iter().all(|l| l.family.as_deref() == Some("polyamide")));
    assert_eq!(search(Some("gf30"), "polyamide").unwrap().len(), 2);
    assert!(search(Some("PC"), "polyamide").is_err());
    let unknown = search(Some("unobtainium"), "stone").unwrap_err();
    assert_eq!(unknown.len(), 2, "{unknown}");
    assert!(
        unknown.to_string().contains("the families are acetal"),
        "{unknown}"
    );
    let listed = drybed::resins(&library);
    let families: Vec<&Option<String>> = listed.iter().map(|line| &line.family).collect();
    let mut changes = families.clone();
    changes.dedup();
    let mut apart = changes.clone();
    apart.sort();
    apart.dedup();
    assert_eq!(changes.len(), apart.len(), "each family stands together");
}

#[test]
fn holds_what_is_inherited_says_from_whom() {
    let answer = resin("PA66-GF30", &shipped()).unwrap();
    let taken: Vec<_> = answer
        .evidence
        .iter()
        .filter(|r| r.inherited_from.is_some())
        .collect();
    assert!(!taken.is_empty() && taken.iter().all(|r| r.estimate && r.grade == "analogy"));
    let text = shown(&answer.document(Units::Metric));
    assert!(text.contains("from PA66"), "{text}");
}

#[test]
fn holds_a_shown_resin_stands_in_groups() {
    let text = shown(&resin("PC", &shipped()).unwrap().document(Units::Metric));
    let at = |word: &str| {
        text.find(word)
            .unwrap_or_else(|| unreachable!("{word} in {text}"))
    };
    let order = [
        "Pellet:",
        "Transitions:",
        "Sorption:",
        "Diffusion:",
        "Drying:",
        "Limits:",
    ];
    assert!(
        order.windows(2).all(|pair| at(pair[0]) < at(pair[1])),
        "{text}"
    );
    assert!(text.contains("≈ 1200 kg/m3") && text.contains("golovoy1989"));
}

#[test]
fn exact_one_pellet_dries_as_the_library_says() {
    // materials/README.md: 39 min from 0.18 to 0.02 % in air of -40 degC frost; here the customary
    // -30, and 8.5 h for PA66.
    let answer = compare(&names(&["PC", "PA66"]), &shipped()).unwrap();
    let hours = |at: usize| match answer.resins[at].numbers.pellet_time {
        PelletTime::Reaches(time) => time.value,
        other => unreachable!("{other:?}"),
    };
    assert!((hours(0) - 39.0 / 60.0).abs() < 0.03, "{}", hours(0));
    assert!((hours(1) - 8.5).abs() < 0.3, "{}", hours(1));
}

#[test]
fn holds_resins_are_compared() {
    let library = shipped();
    let answer = compare(&names(&["PC", "PA66", "PP", "PLA", "pa66 gf30"]), &library).unwrap();
    let document = answer.document(Units::Metric);
    let text = shown(&document);
    assert!(
        text.contains("sticks from") && text.contains("surface"),
        "{text}"
    );
    assert!(document.picture.is_some());
    // Each that dries from the inside is drawn, not the first alone.
    for name in ["PC", "PA66", "PLA"] {
        let drawn = |line: &str| line.trim_start().starts_with(name) && line.contains('▄');
        assert!(text.lines().any(drawn), "{name} in {text}");
    }
    shown(&answer.document(Units::UsCustomary));
    // Nothing is drawn where nothing dries from the inside.
    let dry = compare(&names(&["PP", "PE-HD"]), &library).unwrap();
    shown(&dry.document(Units::Metric));
    let read: serde_json::Value = serde_json::from_str(&answer.json().unwrap()).unwrap();
    assert_eq!(read["resins"][0]["line"]["key"], "pc");
}

#[test]
fn holds_a_comparison_names_every_mistake() {
    let asked = names(&["PC", "pc", "PX", "PY"]);
    let Err(Trouble::Asked(faults)) = compare(&asked, &shipped()) else {
        unreachable!("three of them cannot be compared");
    };
    assert_eq!(faults.len(), 3, "{faults}");
    let alone = compare(&names(&["PC"]), &shipped());
    assert!(matches!(alone, Err(Trouble::Asked(faults)) if faults.len() == 1));
}

#[test]
fn holds_what_is_broken_is_left_out_and_the_rest_is_used() {
    let good = "format = 1\nlike = \"PC\"\nname = \"PX\"\ntitle = \"An invented resin\"\n";
    let path = folder(
        "mixed-records",
        &[
            ("px.toml", good),
            (
                "py.toml",
                "format = 1\nlike = \"PC\"\nname = \"PY\"\ndensity = \"3 h\"\nspeed = 1\n",
            ),
            (
                "pz.toml",
                "format = 1\nlike = \"PY\"\nname = \"PZ\"\ntitle = \"On a broken one\"\n",
            ),
            ("pa66.toml", "format = 1\nname = \"PA66\"\n"),
        ],
    );
    let checked = check_records(&path).unwrap();
    assert!(!checked.is_sound());
    let usable: Vec<&str> = checked
        .records
        .iter()
        .filter(|r| r.usable)
        .map(|r| r.file.as_str())
        .collect();
    assert!(matches!(usable.as_slice(), [one] if one.ends_with("px.toml")));
    assert_eq!(checked.records.len(), 4);
    let places: Vec<&str> = checked
        .faults
        .iter()
        .map(|f| f.place.path.as_str())
        .collect();
    assert!(
        places.contains(&"density") && places.contains(&"speed"),
        "{places:?}"
    );
    assert!(shown(&checked.document()).contains("1 of 4 records"));
    let loaded = drybed::open_library(Some(&path), None).unwrap();
    assert!(resin("PX", &loaded.library).is_ok());
    // The broken PA66 of the folder is not quietly replaced by the one that was there before.
    assert!(resin("PA66", &loaded.library).is_err());
    assert!(resin("PC", &loaded.library).is_ok());
}

#[test]
fn holds_a_name_that_belongs_to_another_is_told() {
    let twin = "format = 1\nlike = \"PC\"\nname = \"PMMA\"\ntitle = \"A twin\"\n";
    let path = folder("twin-records", &[("twin.toml", twin)]);
    let checked = check_records(&path).unwrap();
    assert!(!checked.is_sound() && !checked.faults.is_empty());
    let loaded = drybed::open_library(Some(&path), None).unwrap();
    assert_eq!(resin("twin", &loaded.library).unwrap().line.key, "twin");
}
