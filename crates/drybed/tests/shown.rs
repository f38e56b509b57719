//! What is shown: the text of answers as committed, and pages that stay whole whatever they hold.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

mod committed;
mod invented;

use committed::stands;
use decide::answer::Verdict;
use decide::data_sheet::{SheetBeside, SheetPart, SheetRun};
use drybed::{AirQuestion, AirWords, CurveWords, Document, Units, air, curve, library};
use std::path::Path;

fn narrow(text: &str) {
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{line:?}");
    }
}

fn shown(name: &str, document: &Document) {
    let text = document.text().unwrap();
    narrow(&text);
    stands(name, &text);
}

#[test]
fn pinned_air_as_shown() {
    let mut words = AirWords {
        temperature: "80 degC".into(),
        humidity: "-40 degC frost".into(),
        ..AirWords::default()
    };
    let answer = |words: &AirWords| air(&AirQuestion::read(words).unwrap()).unwrap();
    shown("air", &answer(&words).document(Units::Metric));
    words.temperature = "68 degF".into();
    words.humidity = "3 degC dew".into();
    words.pressure = Some("7 bar(g)".into());
    words.altitude = Some("1500 m".into());
    words.expand_to = Some("site".into());
    shown(
        "air-expanded-us",
        &answer(&words).document(Units::UsCustomary),
    );
}

#[test]
fn pinned_plans_as_shown() {
    let met = invented::plan(Verdict::InWindow, "PX lenses (invented)").unwrap();
    shown("plan-in-window", &met.document(Units::Metric));
    shown("plan-in-window-us", &met.document(Units::UsCustomary));
    let full = met.document(Units::Metric).full_text().unwrap();
    narrow(&full);
    let wet = invented::plan(Verdict::Wet, "PX lenses (invented)").unwrap();
    shown("plan-wet", &wet.document(Units::Metric));
}

#[test]
fn pinned_a_data_sheet_beside_a_plan_as_shown() {
    let part = |name, hours, covered_h| SheetPart {
        name,
        hours,
        covered_h,
    };
    let mut answer = invented::plan(Verdict::InWindow, "PX lenses (invented)").unwrap();
    answer.plan.data_sheet = Some(SheetBeside {
        grade: Some("PX own (invented)".into()),
        temperature_c: Some(115.0),
        range_c: Some((110.0, 120.0)),
        window_low_c: 110.0,
        window_high_c: 120.0,
        time_h: Some(2.0),
        frost_point_c: None,
        limit_ppm_wet: Some(200.0),
        hold_h: None,
        outside: false,
        run: Some(SheetRun {
            air_temperature_c: 115.0,
            residence_h: 2.0,
            frost_point_c: -40.0,
            taken_from_plan: vec!["frost point"],
            mean_ppm_wet: 310.0,
            meets_limit: false,
            too_dry: false,
            sticks: false,
            needed_h: 4.5,
            parts: vec![
                part("diffusion in the mean pellet", 1.5, 1.5),
                part("heating the bed", 1.0, 0.5),
                part("margin", 2.0, 0.0),
            ],
            dries_from_ppm_wet: Some(900.0),
        }),
    });
    let section = |units| {
        let mut document = answer.document(units);
        assert!(document.html().is_ok());
        document.picture = None;
        document
            .sections
            .retain(|s| s.title == "Beside the data sheet");
        assert_eq!(document.sections.len(), 1);
        document
    };
    for (name, units) in [
        ("data-sheet", Units::Metric),
        ("data-sheet-us", Units::UsCustomary),
    ] {
        let text = section(units).full_text().unwrap();
        narrow(&text);
        stands(name, &text);
    }
}

#[test]
fn pinned_before_and_after_the_dryer_as_shown() {
    let mut answer = invented::plan(Verdict::InWindow, "PX lenses (invented)").unwrap();
    answer.plan.way = Some(invented::stated_way());
    answer.plan.stored = Some(invented::stored());
    answer.plan.bag = Some(invented::bag());
    let mut document = answer.document(Units::Metric);
    assert!(document.html().is_ok());
    assert!(document.answer.contains("reaches the screw at 130 ppm"));
    let mine = ["On the way to the screw", "In the store", "The cold bag"];
    document
        .sections
        .retain(|section| mine.contains(&section.title.as_str()));
    assert_eq!(document.sections.len(), mine.len());
    let text = document.full_text().unwrap();
    narrow(&text);
    stands("before-and-after", &text);
    let mut open = invented::plan(Verdict::InWindow, "PX lenses (invented)")
        .unwrap()
        .document(Units::UsCustomary);
    open.sections
        .retain(|section| section.title == "Left open in the hall");
    stands("left-open-us", &open.full_text().unwrap());
    // Wet on the way alone.
    let way = answer.plan.way.as_mut().unwrap();
    way.stations.last_mut().unwrap().mean_ppm_wet = 260.0;
    answer.plan.verdict = Verdict::Wet;
    let said = answer.document(Units::Metric).answer;
    assert!(said.contains("wet at the screw; what the pellets take up"));
}

#[test]
fn pinned_mistakes_of_a_weather_file_as_told() {
    let library = library(None).unwrap();
    let told = drybed::plan_file(Path::new("tests/weather/press.toml"), &library);
    let Err(drybed::Trouble::Asked(faults)) = told else {
        panic!("a weather file with mistakes cannot be planned");
    };
    stands("weather-mistakes", &faults.to_string());
}

#[test]
fn holds_every_verdict_can_be_shown() {
    for verdict in [
        Verdict::InWindow,
        Verdict::NotSure,
        Verdict::TooDry,
        Verdict::Wet,
        Verdict::Sticks,
        Verdict::Cooked,
        Verdict::CrystalliseFirst,
    ] {
        let mut answer = invented::plan(verdict, "PX").unwrap();
        answer.plan.nearest_safe = None;
        for units in [Units::Metric, Units::UsCustomary] {
            let document = answer.document(units);
            assert!(document.html().is_ok(), "{verdict:?}");
            let starts = document.answer.starts_with("PX at ");
            assert!(starts && document.answer.ends_with('.'), "{document:?}");
        }
    }
}

#[test]
fn holds_a_hostile_title_stays_text() {
    let hostile = "<script>alert(1)</script>\"'&\u{1b}[31m<img src=x onerror=y>";
    let answer = invented::plan(Verdict::InWindow, hostile).unwrap();
    let document = answer.document(Units::Metric);
    let page = document.html().unwrap();
    assert!(
        !page.contains("<script") && !page.contains("<img"),
        "escaped"
    );
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
    let text = document.full_text().unwrap();
    assert!(!text.contains('\u{1b}'), "no terminal is steered");
    let json = answer.json().unwrap();
    let read: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(read["plan"]["title"], hostile);
}

#[test]
fn holds_odd_plans_can_be_shown() {
    let mut answer = invented::plan(Verdict::InWindow, "").unwrap();
    let plan = &mut answer.plan;
    plan.samples = 0;
    plan.limits.clear();
    plan.time_parts.clear();
    plan.dew_point_rows.clear();
    plan.map.temperature_c.clear();
    plan.transient.moments.clear();
    plan.warnings.clear();
    plan.rate_window.most = None;
    plan.rate_window.least = None;
    plan.start.first_dry_h = None;
    plan.outlet.mean_ppm_wet.value = 0.0;
    for place in &mut plan.path {
        (place.moisture, place.surface, place.heart) = (0.0, 0.0, 0.0);
        place.free_water = 1e-3 * place.height;
    }
    answer.inside.clear();
    answer.heart.clear();
    let document = answer.document(Units::Metric);
    assert!(document.html().is_ok());
    narrow(&document.full_text().unwrap());
}

#[test]
fn holds_curves_can_be_shown() {
    let library = library(None).unwrap();
    let mut words = CurveWords {
        resin: "PC".into(),
        moisture: Some("0.2 % wet".into()),
        air: vec!["120 degC, -40 degC frost, 4 h".into()],
        ..CurveWords::default()
    };
    let answer = curve(&words.read(&library).unwrap(), &library).unwrap();
    let [low, high] = answer.end_range_ppm_wet.unwrap();
    assert!(low < answer.end_ppm_wet && answer.end_ppm_wet < high);
    assert!(answer.limit_passed_h.is_some_and(|t| t > 0.3 && t < 2.0));
    let document = answer.document(Units::UsCustomary);
    assert!(document.html().is_ok());
    narrow(&document.full_text().unwrap());
    words.resin = "PP".into();
    words.moisture = Some("0 ppm wet".into());
    words.surface_water = Some("2000 ppm dry".into());
    let answer = curve(&words.read(&library).unwrap(), &library).unwrap();
    assert!(answer.surface_dry_h.is_some());
    assert!(answer.document(Units::Metric).html().is_ok());
}

#[test]
fn holds_a_resin_without_water_inside_can_be_planned() {
    let text = include_str!("../../../demo/pp-condensation.toml");
    let answer = drybed::plan(text, "pp.toml", &library(None).unwrap()).unwrap();
    assert!(answer.inside.is_empty() && answer.cut.is_none());
    let document = answer.document(Units::Metric);
    assert!(document.html().is_ok());
    narrow(&document.full_text().unwrap());
}

#[test]
fn holds_a_refused_lot_has_no_settings_and_no_sign() {
    let path = Path::new("../../demo/lots/pet-with-flake.toml");
    let answer = drybed::plan_file(path, &library(None).unwrap()).unwrap();
    assert_eq!(answer.plan.verdict, Verdict::CrystalliseFirst);
    for units in [Units::Metric, Units::UsCustomary] {
        let document = answer.document(units);
        assert!(document.state.is_none() && document.picture.is_none());
        let titles: Vec<&str> = document.sections.iter().map(|s| s.title.as_str()).collect();
        assert_eq!(titles[0], "What comes first", "{titles:?}");
        assert!(!titles.contains(&"Settings"), "{titles:?}");
        assert!(document.html().is_ok());
        narrow(&document.full_text().unwrap());
    }
    let text = answer.document(Units::Metric).text().unwrap();
    stands("plan-refused", &text);
    for word in ["cooked", "kg/h of air", "customary window", "sets how hot"] {
        assert!(!text.contains(word), "{word} in {text}");
    }
    let read: serde_json::Value = serde_json::from_str(&answer.json().unwrap()).unwrap();
    assert_eq!(read["plan"]["verdict"], "crystallise-first");
    assert!(read["plan"]["settings"].is_null() && read["hopper"].is_null());
}

#[test]
fn holds_a_temperature_for_crystallised_pellets_says_so_beside_it() {
    let library = library(None).unwrap();
    let text = |resin: &str| {
        let job = format!(
            "format = 1\nresin.name = \"{resin}\"\ndemand.rate = \"15 kg/h\"\nmodel.samples = 0\n"
        );
        let answer = drybed::plan(&job, "job.toml", &library).unwrap();
        answer.document(Units::Metric)
    };
    for resin in ["PLA", "PET"] {
        let document = text(resin);
        assert!(
            document.notes[0].text.contains("crystallised pellets only"),
            "{resin}"
        );
        let settings = document.sections.iter().find(|s| s.title == "Settings");
        let said = &settings.unwrap().summary;
        assert!(said.ends_with("For crystallised pellets only."), "{said}");
    }
    assert!(!text("PC").full_text().unwrap().contains("crystallised"));
}

#[test]
fn holds_surface_water_takes_minutes_and_no_diffusion_decides() {
    let path = Path::new("../../demo/lots/pp-black.toml");
    let answer = drybed::plan_file(path, &library(None).unwrap()).unwrap();
    let document = answer.document(Units::Metric);
    assert!(document.html().is_ok());
    let full = document.full_text().unwrap();
    narrow(&full);
    stands("plan-surface-water", &document.text().unwrap());
    let part = |from: &str| full[full.find(from).unwrap()..].lines().next().unwrap();
    assert!(
        document.answer.contains("a matter of minutes"),
        "{}",
        document.answer
    );
    let title = &document.picture.as_ref().unwrap().title;
    assert!(title.contains("within minutes"), "{title}");
    assert!(!full.contains("diffusion inside the pellets"), "{full}");
    assert!(!full.contains("heart of the mean"), "{full}");
    assert!(
        part("The first dry pellet").contains("within minutes"),
        "{full}"
    );
}
