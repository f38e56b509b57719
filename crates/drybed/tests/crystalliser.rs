//! Plans of amorphous lots behind a crystalliser.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use decide::answer::{Plan, Verdict};
use drybed::{Units, library, plan};

const LOT: &str = "format = 1\ntitle = \"invented\"\n[resin]\nname = \"PET amorphous\"\n\
                   [demand]\nrate = \"100 kg/h\"\n[model]\nsamples = 64\n\
                   [arrival]\nmoisture = \"2000 ppm wet\"\n";

fn planned(text: &str) -> Plan {
    plan(text, "job.toml", &library(None).unwrap())
        .unwrap()
        .plan
}

fn warned(plan: &Plan, words: &str) -> bool {
    plan.warnings
        .iter()
        .any(|warning| warning.text.contains(words))
}

#[test]
fn holds_a_plan_goes_on_with_what_leaves_the_crystalliser() {
    let bare = planned(LOT);
    assert_eq!(bare.verdict, Verdict::CrystalliseFirst);
    assert!(bare.crystalliser.is_none());
    let behind = planned(&format!("{LOT}[crystalliser]\n"));
    assert!(!behind.verdict.is_refused(), "{:?}", behind.verdict);
    let found = behind.crystalliser.as_ref().unwrap();
    assert_eq!(found.not_enough, None);
    assert_eq!(found.crystallised_share, None, "no law of it was readable");
    assert!((found.arriving_ppm_wet - 2000.0).abs() < 1e-6);
    assert!(found.leaving_ppm_wet < 0.5 * found.arriving_ppm_wet);
    // The hopper is fed with just that, as hot as it is, and so needs no time to warm it.
    assert!((behind.outlet.arriving_ppm_wet - found.leaving_ppm_wet).abs() < 1e-6);
    assert!((behind.path[0].temperature - 273.15 - found.leaving_c).abs() < 1.0);
    assert!(warned(&behind, "a crystalliser stands ahead of the hopper"));
    assert!(warned(&behind, "press a hot handful together"));
}

#[test]
fn holds_a_crystalliser_too_cold_or_too_short_is_refused_with_its_reason() {
    for (lines, reason) in [
        ("temperature = \"90 degC\"", "from some 110 degC on"),
        ("residence = \"10 min\"", "holds the resin for 10 min"),
        (
            "heating = \"infrared\"\nresidence = \"10 min\"",
            "under infrared it takes 15 min",
        ),
    ] {
        let text = format!("{LOT}[crystalliser]\n{lines}\n");
        let refused = planned(&text);
        assert_eq!(refused.verdict, Verdict::CrystalliseFirst, "{lines}");
        assert!(warned(&refused, reason), "{:?}", refused.warnings);
        let page = plan(&text, "job.toml", &library(None).unwrap()).unwrap();
        let page = page.document(Units::Metric).full_text().unwrap();
        let words = page.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains("does not crystallise enough"), "{page}");
    }
    // A quarter of an hour is enough under infrared and not in hot air.
    let red = planned(&format!(
        "{LOT}[crystalliser]\nheating = \"infrared\"\nresidence = \"15 min\"\n"
    ));
    assert!(!red.verdict.is_refused(), "{:?}", red.verdict);
}

#[test]
fn holds_amorphous_polylactide_may_be_dried_hot_behind_a_crystalliser() {
    let hot = "format = 1\ntitle = \"invented\"\n[resin]\nname = \"PLA amorphous\"\n\
               [demand]\nrate = \"50 kg/h\"\n[air]\ntemperature = \"80 degC\"\n[model]\nsamples = 16\n";
    assert_eq!(planned(hot).verdict, Verdict::Sticks);
    let behind = planned(&format!(
        "{hot}[crystalliser]\ntemperature = \"100 degC\"\n"
    ));
    assert!(!behind.verdict.is_refused(), "{:?}", behind.verdict);
    let cold = planned(&format!("{hot}[crystalliser]\ntemperature = \"85 degC\"\n"));
    assert_eq!(cold.verdict, Verdict::Sticks);
    assert!(warned(&cold, "from some 92 degC on"), "{:?}", cold.warnings);
}

#[test]
fn holds_the_doubt_of_what_arrives_goes_through_the_crystalliser() {
    // Three hours in a crystalliser leave hardly anything of how wet a lot came.
    let spread = |spread: &str| {
        planned(&format!(
            "{LOT}spread = \"{spread}\"\n[crystalliser]\nresidence = \"3 h\"\n"
        ))
    };
    let (narrow, wide) = (spread("1 %"), spread("50 %"));
    let range = |plan: &Plan| {
        let mean = &plan.outlet.mean_ppm_wet;
        mean.high / mean.low
    };
    assert!(range(&narrow) > 1.05, "{}", range(&narrow));
    assert!(
        (range(&wide) / range(&narrow) - 1.0).abs() < 0.2,
        "{} {}",
        range(&wide),
        range(&narrow)
    );
}
