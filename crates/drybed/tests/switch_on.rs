//! When to switch on the dryers of a hall: a whole run on the demo, and the answer as shown.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

mod committed;

use committed::stands;
use decide::switch_on::{Minute, Missed, Started, SwitchOn, Tried};
use drybed::{SwitchOnAnswer, SwitchOnWords, Units, library, switch_on_files};
use job::Clock;
use std::path::PathBuf;

/// The three dryers of the demo.
fn hall() -> Vec<PathBuf> {
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/hall/");
    ["pc-light-guides", "pa66-housings", "pc-light-guides-again"]
        .map(|name| PathBuf::from(format!("{demo}{name}.toml")))
        .to_vec()
}

fn words(peak: Option<&str>) -> SwitchOnWords {
    SwitchOnWords {
        peak: peak.map(str::to_owned),
        ..SwitchOnWords::default()
    }
}

#[test]
fn holds_a_hall_from_its_files_keeps_a_limit_that_it_would_pass_unordered() {
    let library = library(None).unwrap();
    let free = switch_on_files(&hall(), &library, &words(None)).unwrap();
    let found = &free.switch_on;
    assert!(free.is_met());
    for dryer in &found.dryers {
        // Switched on alone each is dry in the minute in which it is wanted, and not before a planned stay is over.
        assert!(dryer.waiting_h == 0.0 && (dryer.ready_h - dryer.wanted_h).abs() < 1e-9);
        assert!((dryer.wanted_h - dryer.on_h - dryer.to_ready_h).abs() <= 1.0 / 60.0);
        assert!(dryer.to_ready_h > dryer.hold_h && dryer.to_ready_h < dryer.hold_h + 3.0);
        assert!(dryer.working_kw > 0.0 && dryer.peak_kw >= dryer.waiting_kw);
    }
    // A schedule that begins an hour later is wanted an hour later.
    let wanted = |name: &str| {
        found
            .dryers
            .iter()
            .find(|d| d.name.contains(name))
            .unwrap()
            .wanted_h
    };
    assert!((wanted("PA66") - wanted("PC") - 1.0).abs() < 1e-9);
    // Halfway between what no order can mend and what happens without one.
    let alone = found.dryers.iter().map(|d| d.peak_kw.max(d.working_kw));
    let least = alone.fold(found.at_work_kw, f64::max);
    assert!(
        found.peak_unordered_kw > least + 0.1,
        "{} {least}",
        found.peak_unordered_kw
    );
    let limit = 0.5 * (least + found.peak_unordered_kw);
    let kept = switch_on_files(&hall(), &library, &words(Some(&format!("{limit:.3} kW")))).unwrap();
    let kept = &kept.switch_on;
    match &kept.missed {
        None => assert!(kept.peak_kw <= limit + 1e-3 && kept.waiting_kwh > 0.0),
        Some(missed) => assert!(kept.peak_kw <= missed.least_kw + 1e-6),
    }
    let refused = switch_on_files(&hall(), &library, &words(Some("0.5 kW"))).unwrap();
    assert!(!refused.is_met());
    let missed = refused.switch_on.missed.unwrap();
    assert!(
        (missed.by_kw - (least - 0.5)).abs() < 1e-9,
        "{} {least}",
        missed.by_kw
    );
}

#[test]
fn holds_what_cannot_be_asked_is_refused_at_its_option() {
    let library = library(None).unwrap();
    let asked = SwitchOnWords {
        ready: vec!["2026-03-23 06:00".into(), "2026-03-29 02:30".into()],
        peak: Some("-2 kW".into()),
        base: Some("3 kg".into()),
    };
    let text = match switch_on_files(&hall()[..1], &library, &asked) {
        Err(trouble) => trouble.to_string(),
        Ok(_) => String::new(),
    };
    for part in [
        "--peak",
        "--base",
        "2 times are given for 1 dryers",
        "does not exist",
    ] {
        assert!(text.contains(part), "{text}");
    }
}

/// A dryer of invented numbers that is dry at 6 h.
fn started(name: &str, asked: usize, on_h: f64, waiting_h: f64) -> Started {
    Started {
        name: name.into(),
        asked,
        resin: "PX (invented)".into(),
        set_point_c: 120.0,
        on_h,
        ready_h: 6.0 - waiting_h,
        wanted_h: 6.0,
        to_ready_h: 6.0 - waiting_h - on_h,
        hold_h: 3.0,
        waiting_h,
        hot_h: 6.0 + waiting_h,
        bears_h: 12.0,
        outlet_ppm_wet: 90.0,
        limit_ppm_wet: 200.0,
        energy_kwh: 9.0 + 2.0 * waiting_h,
        waiting_kwh: 2.0 * waiting_h,
        peak_kw: 6.0,
        waiting_kw: 2.0,
        working_kw: 3.0,
    }
}

fn minutes(second: usize) -> Vec<Minute> {
    let power = |minute: usize, on: usize| match minute {
        before if before < on => 0.0,
        360.. => 3.0,
        at if at < on + 30 => 6.0,
        _ => 2.0,
    };
    (120..=360)
        .map(|minute| {
            let each_kw = vec![power(minute, 120), power(minute, second)];
            Minute {
                hour: minute as f64 / 60.0,
                all_kw: 1.0 + each_kw.iter().sum::<f64>(),
                each_kw,
            }
        })
        .collect()
}

fn invented(limit: f64, missed: Option<Missed>) -> SwitchOnAnswer {
    SwitchOnAnswer {
        schema_version: 1,
        clock: Clock {
            zone: "Europe/Berlin".into(),
            begins: 1_774_216_800,
        },
        records: Vec::new(),
        read: Vec::new(),
        switch_on: SwitchOn {
            dryers: vec![
                started("press 2 (invented)", 1, 2.0, 0.5),
                started("press 1 (invented)", 0, 2.5, 0.0),
            ],
            limit_kw: Some(limit),
            base_kw: 1.0,
            tried: Tried::Every,
            missed,
            peak_kw: 9.0,
            peak_at_h: 2.5,
            peak_unordered_kw: 13.0,
            at_work_kw: 7.0,
            energy_kwh: 19.0,
            waiting_kwh: 1.0,
            power: minutes(150),
            unordered: minutes(120),
        },
    }
}

#[test]
fn pinned_switching_on_as_shown() {
    let met = invented(10.0, None).document(Units::Metric);
    stands("switch-on", &met.text().unwrap());
    assert!(
        met.full_text()
            .unwrap()
            .lines()
            .all(|line| line.chars().count() <= 80)
    );
    assert!(met.html().unwrap().contains("limit 10 kW"));
    let missed = Missed {
        by_kw: 1.0,
        least_kw: 9.0,
        alone: Vec::new(),
        at_work_kw: None,
    };
    let refused = invented(8.0, Some(missed)).document(Units::UsCustomary);
    stands("switch-on-refused-us", &refused.text().unwrap());
}
