//! What a plan says of the invented lots: words that a practitioner would not sign are gone.
#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use document::{Document, State};
use drybed::{library, plan};
use quantity::Units;

/// The document of an invented lot, drawn fewer times.
fn shown(name: &str) -> Document {
    let path = format!("{}/../../demo/lots/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let model = "[model]\nsamples = 64\nparcels = 24\n";
    let text = if text.contains("[model]") {
        text.replace("samples = 500", "samples = 64")
    } else {
        format!("{text}{model}")
    };
    let answer = plan(&text, "lot.toml", &library(None).unwrap()).unwrap();
    answer.document(Units::Metric)
}

fn summary(document: &Document, title: &str) -> String {
    let mut sections = document.sections.iter();
    let found = sections.find(|section| section.title == title);
    found.unwrap().summary.clone()
}

#[test]
fn holds_a_coin_toss_is_called_not_sure_with_its_true_reason() {
    let pbt = shown("pbt-gf30-regrind");
    assert_eq!(pbt.state, Some(State::NotSure));
    for words in [
        "not sure: met in",
        "of the draws only",
        "most of all in runners",
        "over the limit",
        "no margin is added, since the limit alone takes more than half of the 9 h",
        "would meet the limit in",
    ] {
        assert!(pbt.answer.contains(words), "{words}: {}", pbt.answer);
    }
    assert!(!pbt.answer.contains("would harm"), "{}", pbt.answer);
    let start = summary(&pbt, "The start");
    assert!(start.contains("hold the outlet for"), "{start}");
    let settings = summary(&pbt, "Settings");
    assert!(settings.contains("m³/h of air"), "{settings}");
    assert!(settings.contains("at a frost point of"), "{settings}");
}

#[test]
fn holds_an_undried_component_that_decides_opens_the_answer() {
    let pc = shown("pc-black-decides");
    assert!(
        pc.answer.starts_with("The blend reaches the screw at"),
        "{}",
        pc.answer
    );
    for words in [
        "dry it below",
        "or dose at most",
        "keep the usual margin",
        "and is dry",
    ] {
        assert!(pc.answer.contains(words), "{words}: {}", pc.answer);
    }
    let text = pc.full_text().unwrap();
    for words in [
        "is not dry enough",
        "the limit is 0 ppm",
        "more than two days",
        "No dry pellet",
    ] {
        assert!(!text.contains(words), "{words}");
    }
}

#[test]
fn holds_what_would_fuse_is_not_called_cooked() {
    let pet = shown("pet-with-flake");
    assert_eq!(pet.state, None);
    assert!(!pet.text().unwrap().contains("cooked"));
}

#[test]
fn holds_the_nearest_safe_says_what_changes_and_what_leaves() {
    let pa66 = shown("pa66-gf30-slow-press");
    for words in [
        "nearest safe is 80 °C, all else kept",
        "which leaves",
        "in air of 85 °C",
    ] {
        assert!(pa66.answer.contains(words), "{words}: {}", pa66.answer);
    }
    let text = pa66.full_text().unwrap();
    assert!(text.contains("judged by one criterion alone"));
    let wet = shown("pc-abs-five-classes");
    assert!(
        wet.answer.contains("that abs regrind bears"),
        "{}",
        wet.answer
    );
}
