//! What a plan says of the invented lots: words that a practitioner would not sign are gone.
#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use decide::answer::Verdict;
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

/// The text of an invented lot, drawn fewer times.
fn written(name: &str) -> String {
    let path = format!("{}/../../demo/lots/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    format!("{text}\n[model]\nsamples = 64\nparcels = 24\n")
}

fn planned(text: &str) -> drybed::PlanAnswer {
    plan(text, "lot.toml", &library(None).unwrap()).unwrap()
}

/// A lot in the hopper and air that were planned for it, at another rate.
fn in_the_planned_hopper(name: &str, rate_kg_h: f64) -> drybed::PlanAnswer {
    let set = planned(&written(name)).plan.settings;
    let text = written(name);
    let rate = text
        .lines()
        .find(|line| line.starts_with("rate = "))
        .unwrap();
    let text = text.replace(rate, &format!("rate = \"{rate_kg_h} kg/h\""));
    planned(&format!(
        "{text}\n[hopper]\nbed_mass = \"{} kg\"\nbelow_inlet = \"{} kg\"\ndiameter = \"{} mm\"\n\
         [air]\ntemperature = \"{} degC\"\nflow = \"{} kg/h dry air\"\nhumidity = \"{} degC frost\"\n",
        set.bed_mass_kg,
        set.below_inlet_kg,
        set.diameter_mm,
        set.air_temperature_c,
        set.air_flow_kg_h,
        set.frost_point_c,
    ))
}

#[test]
fn holds_the_most_that_a_hopper_carries_is_in_window() {
    for name in ["pc-regrind-colour", "abs-white-small"] {
        let planned = planned(&written(name)).plan;
        let most = planned.rate_window.most.unwrap().rate_kg_h;
        let at_most = in_the_planned_hopper(name, most).plan;
        let share = at_most.outlet.probability_within;
        assert_eq!(
            at_most.verdict,
            Verdict::InWindow,
            "{name}: {most}, {share}"
        );
        // No more is kept back than the doubt asks.
        assert!(share < 0.97, "{name}: {most}, {share}");
    }
}

#[test]
fn holds_no_window_of_rates_where_no_rate_mends() {
    for name in ["pc-black-decides", "pp-black"] {
        let window = planned(&written(name)).plan.rate_window;
        assert!(window.most.is_none() && window.least.is_none(), "{name}");
        let shown = shown(name);
        let mut titles = shown.sections.iter().map(|section| &section.title);
        assert!(titles.all(|title| title != "The window of rates"), "{name}");
    }
}

/// All that a lot's document says, in one line.
fn said(name: &str) -> String {
    let text = shown(name).full_text().unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn holds_no_start_is_held_for_less_than_a_planned_stay() {
    for name in [
        "pc-regrind-colour",
        "abs-white-small",
        "pla-opened-bag",
        "peek-regrind",
    ] {
        let plan = planned(&written(name)).plan;
        let hold = plan.start.hold_before_drawing_h.unwrap();
        assert!(hold >= plan.settings.residence_h, "{name}: {hold}");
        assert!(plan.start.computed_hold_h.unwrap() <= hold, "{name}");
        let words = said(name);
        assert!(words.contains("with the air at its set point"), "{name}");
        assert!(words.contains("as the trade does"), "{name}");
        // What stays wet on its way is not said to be dry.
        let dry = plan.outlet.share_above_limit <= 0.01 && !plan.start.fastest_stays_wet;
        assert_eq!(words.contains("nothing wet is drawn"), dry, "{name}");
    }
}

#[test]
fn holds_a_dose_that_is_told_is_in_window_when_it_is_set() {
    let text = written("pc-black-decides");
    let before = planned(&text);
    let told = before.document(Units::Metric).answer;
    let number = |after: &str| -> f64 {
        let rest = told.split(after).nth(1).unwrap();
        rest.split(' ').next().unwrap().parse().unwrap()
    };
    let (dose, dry) = (number("dose at most "), number("dry it below "));
    let dosed = text
        .replace("\"96 %\"", &format!("\"{} %\"", 100.0 - dose))
        .replace("\"4 %\"", &format!("\"{dose} %\""));
    let dried = text.replace("0.6 % wet", &format!("{dry} % wet"));
    for set in [dosed, dried] {
        let plan = planned(&set).plan;
        let share = plan.outlet.probability_within;
        assert_eq!(plan.verdict, Verdict::InWindow, "{dose}, {dry}: {share}");
    }
    // At most of the dose it is the black that decides, not the air.
    let nearly = planned(&text.replace("0.6 % wet", "0.4 % wet"));
    let nearly = nearly.document(Units::Metric).answer;
    assert!(nearly.contains("black, which is not dried"), "{nearly}");
    assert!(!nearly.contains("humidity of the air"), "{nearly}");
}

#[test]
fn holds_surface_water_is_warned_of_as_practice_would() {
    let pp = said("pp-black");
    for words in [
        "is short of the",
        "that practice takes",
        "of its height the bed stays near",
    ] {
        assert!(pp.contains(words), "{words}: {pp}");
    }
    assert!(!pp.contains("warm the pellets through"), "{pp}");
}

#[test]
fn holds_a_record_far_slower_than_practice_is_not_built_on() {
    let pmma = said("pmma-big-pellets");
    for words in [
        "most of all in oversize",
        "of the water that is left comes with pellets",
        "far slower than practice",
        "measure the moisture of one sample",
        "screen out or dry apart what is of another size: oversize",
    ] {
        assert!(pmma.contains(words), "{words}: {pmma}");
    }
}
