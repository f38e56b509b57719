//! What a user is told who asks which dryer to take.

use document::{Balance, Block};
use drybed::{Document, DryersAnswer, Trouble, Units, dryers, dryers_files};
use std::path::Path;
use std::sync::Mutex;

const JOB: &str = r#"
format = 1
title = "PC housings, invented"
[resin]
name = "PC"
[demand]
rate = "25 kg/h"
[hopper]
volume = "120 l"
"#;
const PRICES: &str = r#"
[prices]
currency = "EUR"
electricity = "0.18 per kWh"
carbon = "0.35 kg/kWh"
cooling_water = "1.50 per m3"
"#;

fn answer(text: &str) -> Result<DryersAnswer, Trouble> {
    dryers(text, "job.toml", &drybed::library(None)?, None, 8, &|_| ())
}

/// Dew or frost point of the supply, degC.
fn point(day: &decide::compare::DayRun) -> f64 {
    day.supply_point_c.unwrap_or(f64::NAN)
}

#[test]
fn holds_a_wheel_dries_deeper_than_compressed_air_and_costs_less() -> Result<(), Trouble> {
    let found = answer(&format!("{JOB}{PRICES}"))?.comparison;
    let [wheel, towers, compressed, hot, vacuum] = &found.dryers[..] else {
        panic!("{:?}", found.dryers.len());
    };
    assert!(towers.days.iter().all(|day| point(day) < -35.0));
    for ((wheel, compressed), hot) in wheel.days.iter().zip(&compressed.days).zip(&hot.days) {
        assert!(point(wheel) < -35.0, "{}", point(wheel));
        // 3 degC at 7 bar(g) let down.
        assert!((point(compressed) + 20.5).abs() < 0.3);
        assert!(point(hot) > point(wheel) + 30.0);
        assert!(wheel.hoppers[0].outlet_ppm_wet < hot.hoppers[0].outlet_ppm_wet);
        for day in [wheel, compressed, hot] {
            assert!(day.imbalance.0 < 1e-9 && day.imbalance.1 < 1e-9);
            let (low, high) = day.hoppers[0].range_ppm_wet;
            assert!(low <= high);
        }
    }
    for day in &vacuum.days {
        assert!(day.imbalance.0 < 1e-9 && day.imbalance.1 < 1e-9);
        assert!(day.supply_point_c.is_none() && day.warnings.len() == 1);
        // Heating by 90 K of 1.3 kJ/(kg K), half as much again let out hot, and a pump.
        assert!(
            (0.04..0.12).contains(&day.energy_kwh_kg),
            "{}",
            day.energy_kwh_kg
        );
    }
    let cost = |dryer: &decide::compare::Compared| dryer.year.money.map_or(0.0, |m| m.per_kg);
    assert!(cost(wheel) < cost(compressed));
    // 25 kg/h for 6000 h at what a kilogram costs.
    let year = wheel.year.money.map_or(0.0, |money| money.per_year);
    assert!((year / (cost(wheel) * 25.0 * 6000.0) - 1.0).abs() < 1e-6);
    Ok(())
}

#[test]
fn holds_without_prices_energy_ranks_and_no_money_is_told() -> Result<(), Trouble> {
    let found = answer(JOB)?;
    assert!(
        found
            .comparison
            .dryers
            .iter()
            .all(|d| d.year.money.is_none())
    );
    let text = found
        .document(Units::Metric)
        .full_text()
        .unwrap_or_default();
    assert!(text.contains("The job states no prices"), "{text}");
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "{text}"
    );
    let ledgers = [("kg/h", "kW"), ("lb/h", "kW")];
    for (units, asked) in [Units::Metric, Units::UsCustomary].into_iter().zip(ledgers) {
        let document = found.document(units);
        assert!(document.html().is_ok());
        assert_eq!(ledgers_shown(&document, asked), 5);
        // Wheel and towers send the air round over a desiccant.
        let blocks = document.sections.iter().flat_map(|section| &section.blocks);
        let paths = blocks.filter(|block| match block {
            Block::Picture { figure } => figure.title.starts_with("The desiccant takes the air"),
            _ => false,
        });
        assert_eq!(paths.count(), 2);
    }
    Ok(())
}

/// The sections of dryers whose ledgers of water and energy close, in the units asked.
fn ledgers_shown(document: &Document, asked: (&str, &str)) -> usize {
    let mut sections = 0;
    for section in &document.sections {
        let ledger = |block: &Block| match block {
            Block::Balance { balance } => Some(balance.clone()),
            _ => None,
        };
        let shown: Vec<Balance> = section.blocks.iter().filter_map(ledger).collect();
        let [water, energy] = &shown[..] else {
            assert!(shown.is_empty(), "{}", section.title);
            continue;
        };
        sections += 1;
        assert_eq!((water.unit.as_str(), energy.unit.as_str()), asked);
        for balance in [water, energy] {
            let [entering, leaving] = balance
                .sides()
                .map(|(_, parts)| parts.iter().map(|part| part.amount).sum::<f64>());
            assert!((entering / leaving - 1.0).abs() < 1e-3, "{balance:?}");
        }
        // Air of the hall brings no heat, and the resin keeps some of what the current brings.
        let named = |words: &str| energy.entering.iter().any(|part| part.name.contains(words));
        assert!(
            !named("hall air") && !named("air of the hall"),
            "{energy:?}"
        );
        assert!(named("heater of"), "{energy:?}");
        let resin = energy
            .leaving
            .iter()
            .find(|part| part.name.starts_with("resin"));
        assert!(resin.is_some_and(|part| part.amount > 0.2 * energy.whole()));
    }
    sections
}

#[test]
fn holds_the_share_that_is_done_rises_to_the_whole() -> Result<(), Trouble> {
    let heard = Mutex::new(Vec::new());
    let told = |share: f64| {
        if let Ok(mut heard) = heard.lock() {
            heard.push(share);
        }
    };
    dryers(JOB, "job.toml", &drybed::library(None)?, None, 4, &told)?;
    let heard = heard.into_inner().unwrap_or_default();
    assert!(
        heard
            .iter()
            .all(|share| (0.0..=1.0 + 1e-12).contains(share))
    );
    assert!(heard.iter().copied().fold(0.0, f64::max) > 0.999);
    Ok(())
}

#[test]
fn holds_a_lot_that_must_be_crystallised_first_is_refused() -> Result<(), Trouble> {
    let found = answer(&JOB.replace("\"PC\"", "\"PET amorphous\""))?;
    assert!(found.comparison.dryers.is_empty() && !found.is_met());
    assert!(found.comparison.choice.reason.contains("crystallised"));
    assert!(found.comparison.choice.reason.contains("[crystalliser]"));
    assert!(found.document(Units::UsCustomary).text().is_ok());
    Ok(())
}

#[test]
fn holds_behind_a_crystalliser_each_dryer_is_run_and_its_energy_told() -> Result<(), Trouble> {
    let lot = JOB
        .replace("\"PC\"", "\"PET amorphous\"")
        .replace("120 l", "400 l");
    let ran = |table: &str| answer(&format!("{lot}{table}"));
    let hot = ran("[crystalliser]\n")?.comparison;
    let red = ran("[crystalliser]\nheating = \"infrared\"\nresidence = \"20 min\"\n")?.comparison;
    for found in [&hot, &red] {
        assert_eq!(found.dryers.len(), 5);
        for day in found.dryers.iter().flat_map(|dryer| &dryer.days) {
            assert!(day.imbalance.0 < 1e-9 && day.imbalance.1 < 1e-9);
            assert!(
                day.warnings[0].contains("crystalliser"),
                "{:?}",
                day.warnings
            );
            let own = day.crossings.iter().find(|c| c.name == "crystalliser");
            assert!(own.is_some_and(|crossing| crossing.heat > 1e3), "{own:?}");
        }
    }
    // Resin that comes hot and half dry needs next to no heat under vacuum.
    let vacuum = &hot.dryers[4].days[0];
    let heater = vacuum
        .crossings
        .iter()
        .find(|c| c.name == "heater of the heating air");
    assert!(heater.is_none_or(|crossing| crossing.heat < 1.0));
    Ok(())
}

#[test]
fn holds_the_demonstration_needs_dry_air_and_says_it_is_invented() -> Result<(), Trouble> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/dryers/pc-light-guides.toml");
    let text = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(text.starts_with("# Invented: "));
    let found = dryers_files(&[path], &drybed::library(None)?, None, 24, &|_| ())?;
    // Light guides want 60 ppm: the humid summer of plain hot air leaves them above.
    let choice = &found.comparison.choice;
    assert!(matches!(choice.dryer, Some(0 | 1 | 4)), "{}", choice.reason);
    assert_eq!(found.comparison.dryers[3].worst_day, "humid summer");
    Ok(())
}
