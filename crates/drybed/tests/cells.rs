//! One dryer for several jobs: at once, and one after another.

use decide::DecideError;
use decide::case::Case;
use decide::compare::{
    Batches, Breaks, ColdStart, Comparison, Dried, Dryer, Duty, Harder, Offered, Question, compare,
};
use decide::size::Part;
use drybed::Units;
use dryer::sorption::Adsorbed;
use files::Desiccants;
use job::{Cell, Change, Job, Ownership, Plant, Prices, Run};
use line::{Account, Room, usual};
use quantity::{Duration, EnergyPrice, Fraction, MassPrice, Quantity, TimePrice};
use std::path::Path;
use std::sync::Mutex;

type Failure = Box<dyn std::error::Error>;

/// A job of a resin at a rate.
fn job(resin: &str, kg_h: u32) -> Result<Job, Failure> {
    let text = format!(
        "format = 1\ntitle = \"{resin} at {kg_h}, invented\"\n[resin]\nname = \"{resin}\"\n\
         [demand]\nrate = \"{kg_h} kg/h\"\n[hopper]\nvolume = \"{} l\"\n",
        6 * kg_h
    );
    Ok(files::read_job(&text, "job.toml", &drybed::library(None)?)?)
}

fn offered<'a>(make: impl Fn(&Duty) -> Dryer + Sync + 'a) -> Offered<'a> {
    Offered::of(Box::new(make))
}

/// Runs with their shares.
fn cell(runs: Vec<(f64, Vec<&Job>)>) -> Cell {
    let runs = runs.into_iter().map(|(share, jobs)| Run {
        share,
        jobs: jobs.into_iter().cloned().collect(),
    });
    Cell {
        title: "cell".into(),
        runs: runs.collect(),
        plant: Plant::default(),
    }
}

/// Runs with their shares, on a dryer of hot air.
fn found(runs: Vec<(f64, Vec<&Job>)>) -> Result<Comparison, DecideError> {
    let question = Question {
        cell: &cell(runs),
        dryers: vec![offered(|duty: &Duty| {
            let (flow, hot) = (duty.air_flow().value, duty.set_point().value);
            Dryer::Air(Box::new(usual::hot_air_dryer(flow, hot)))
        })],
        samples: 16,
        seed: 1,
    };
    compare(&question, &|_| ())
}

#[test]
fn exact_twice_the_same_job_is_that_job() -> Result<(), Failure> {
    let pc = job("PC", 25)?;
    let once = found(vec![(1.0, vec![&pc])])?;
    let twice = found(vec![(0.3, vec![&pc]), (0.9, vec![&pc])])?;
    let (one, two) = (&once.dryers[0], &twice.dryers[0]);
    // Sums of the same numbers in another order.
    let close = |a: f64, b: f64| (a - b).abs() <= 1e-12 * a.abs();
    assert!(close(one.probability, two.probability));
    assert!(close(one.year.energy_kwh_kg, two.year.energy_kwh_kg));
    for (a, b) in two.days.iter().zip(one.days.iter().chain(&one.days)) {
        assert_eq!(a.hoppers[0].range_ppm_wet, b.hoppers[0].range_ppm_wet);
    }
    Ok(())
}

#[test]
fn holds_shares_of_runs_and_days_sum_to_the_whole_and_ledgers_close() -> Result<(), Failure> {
    let (pc, pbt, abs) = (job("PC", 25)?, job("PBT", 10)?, job("ABS", 40)?);
    let cell = found(vec![(3.0, vec![&pc, &pbt]), (1.0, vec![&abs])])?;
    let days = &cell.dryers[0].days;
    let whole: f64 = days.iter().map(|day| day.share).sum();
    assert!((whole - 1.0).abs() < 1e-12);
    assert!((cell.runs[0].share - 0.75).abs() < 1e-12);
    assert_eq!(days[0].hoppers.len(), 2);
    assert!((days[0].rate_kg_h - 35.0).abs() < 1e-9);
    for day in days {
        assert!(day.imbalance.0 < 1e-9 && day.imbalance.1 < 1e-9);
        // All limits at once are met in no more draws than any one of them.
        let least = day.hoppers.iter().map(|hopper| hopper.probability);
        assert!(day.probability <= least.fold(1.0, f64::min) + 1e-12);
    }
    // A hopper beside another gets the air that it would get alone: once-through air is not shared.
    let alone = found(vec![(1.0, vec![&pbt])])?;
    let (beside, own) = (&days[0].hoppers[1], &alone.dryers[0].days[0].hoppers[0]);
    assert!((beside.outlet_ppm_wet / own.outlet_ppm_wet - 1.0).abs() < 1e-3);
    Ok(())
}

#[test]
fn holds_a_dryer_is_sized_once_for_the_hardest_of_all_runs() -> Result<(), Failure> {
    let (pc, pbt, abs) = (job("PC", 25)?, job("PBT", 10)?, job("ABS", 60)?);
    let seen = Mutex::new(Vec::new());
    let question = Question {
        cell: &cell(vec![(1.0, vec![&pc, &pbt]), (1.0, vec![&abs])]),
        dryers: vec![offered(|duty: &Duty| {
            if let Ok(mut seen) = seen.lock() {
                seen.push(duty.clone());
            }
            let (flow, hot) = (duty.air_flow().value, duty.set_point().value);
            Dryer::Air(Box::new(usual::hot_air_dryer(flow, hot)))
        })],
        samples: 0,
        seed: 1,
    };
    let cell = compare(&question, &|_| ())?;
    let seen = seen.lock().map_err(|_| "poisoned")?;
    let [duty] = &seen[..] else {
        return Err("sized more than once".into());
    };
    let flow = |run: usize| -> f64 {
        let hoppers = cell.runs[run].hoppers.iter();
        hoppers.map(|hopper| hopper.air_flow_kg_h / 3600.0).sum()
    };
    let hardest = duty.air_flow();
    assert!((hardest.value - flow(0).max(flow(1))).abs() < 1e-12);
    assert!((duty.rate().value * 3600.0 - 60.0).abs() < 1e-9);
    assert_eq!(duty.rate().decided_by, "ABS at 60, invented");
    assert_eq!(duty.set_point().decided_by, "PC at 25, invented");
    Ok(())
}

#[test]
fn holds_acetal_and_vinyl_chloride_never_share_a_dryer() -> Result<(), Failure> {
    let (pom, pvc) = (job("POM", 10)?, job("PVC rigid", 10)?);
    let at_once = found(vec![(1.0, vec![&pom, &pvc])])?;
    let in_turn = found(vec![(1.0, vec![&pvc]), (1.0, vec![&pom])])?;
    for cell in [at_once, in_turn] {
        assert!(cell.dryers.is_empty() && cell.choice.dryer.is_none());
        assert!(cell.choice.reason.contains("react violently"));
    }
    Ok(())
}

#[test]
fn holds_unlike_resins_are_told_what_carries_over_and_like_ones_not() -> Result<(), Failure> {
    let (pc, abs, pet, pbt) = (
        job("PC", 20)?,
        job("ABS", 20)?,
        job("PET-GF30", 20)?,
        job("PBT", 20)?,
    );
    let unlike = found(vec![(1.0, vec![&pc, &abs])])?;
    assert!(
        unlike
            .carried_over
            .iter()
            .any(|text| text.contains("share the return air"))
    );
    let like = found(vec![(1.0, vec![&pet, &pbt])])?;
    let shared = |text: &String| text.contains("share the return air");
    assert!(
        !like.carried_over.iter().any(shared),
        "{:?}",
        like.carried_over
    );
    Ok(())
}

/// A chamber that leaves a tenth of the water, times e for each deviation.
struct Chamber;

impl Batches for Chamber {
    fn title(&self) -> &'static str {
        "chamber"
    }

    fn dry(&self, cases: &[Case], _: &Room, deviation: f64) -> Result<Dried, DecideError> {
        let mut account = Account::default();
        account.electricity("chamber", 3.6e6 * cases[0].wet_rate() * 0.05);
        Ok(Dried {
            outlets: cases
                .iter()
                .map(|case| 0.1 * case.limit * f64::exp(deviation))
                .collect(),
            stays: vec![0.0; cases.len()],
            account,
            shortfalls: Vec::new(),
            warnings: Vec::new(),
        })
    }

    fn parts(&self, _: &Duty) -> Vec<Part> {
        Vec::new()
    }
}

#[test]
fn exact_a_dryer_that_works_by_batches_is_weighed_as_the_others() -> Result<(), Failure> {
    let pc = job("PC", 25)?;
    let question = Question {
        cell: &pc.into(),
        dryers: vec![offered(|_: &Duty| Dryer::Batches(Box::new(Chamber)))],
        samples: 512,
        seed: 1,
    };
    let found = compare(&question, &|_| ())?;
    let dryer = &found.dryers[0];
    assert!((dryer.year.energy_kwh_kg - 0.05).abs() < 1e-12);
    // A normal deviate lies below ln 10 in 98.9 % of the draws; of 512 a few more or less.
    assert!(
        (dryer.probability - 0.9893).abs() < 0.01,
        "{}",
        dryer.probability
    );
    assert!(dryer.days.iter().all(|day| day.supply_point_c.is_none()));
    Ok(())
}

#[test]
fn exact_what_a_year_costs_is_the_sum_of_what_is_stated() -> Result<(), Failure> {
    let pc = job("PC", 25)?;
    let cell = Cell {
        plant: Plant {
            days: Vec::new(),
            prices: Some(prices()),
        },
        ..pc.into()
    };
    let owned = Ownership {
        price: Some(10_000.0),
        desiccant_change: Some(Change {
            price: 900.0,
            every: Duration::from_hours(12_000.0),
        }),
        filters_per_year: Some(100.0),
        ..Ownership::default()
    };
    let question = Question {
        cell: &cell,
        dryers: vec![
            Offered {
                ownership: owned.clone(),
                ..offered(|_: &Duty| Dryer::Batches(Box::new(Chamber)))
            },
            Offered {
                ownership: Ownership {
                    price: Some(4000.0),
                    ..owned
                },
                ..offered(|_: &Duty| Dryer::Batches(Box::new(Chamber)))
            },
        ],
        // Of so many enough lie above ln 10 to be counted.
        samples: 2048,
        seed: 1,
    };
    let found = compare(&question, &|_| ())?;
    let dryer = &found.dryers[0];
    let money = dryer.year.money.ok_or("no money")?;
    let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-9 * b.abs(), "{a} {b}");
    // 0.05 kWh/kg at 0.20 per kWh, 25 kg/h for 6000 h.
    close(money.per_kg, 0.01);
    close(money.per_year, 1500.0);
    // Half a change of desiccant in 6000 of 12 000 h, and the filters.
    close(money.upkeep_per_year.ok_or("upkeep")?, 550.0);
    // 10 000 over ten years without interest.
    close(money.capital_per_year.ok_or("capital")?, 1000.0);
    // Each hour missed costs 25 kg at 3 and a press hour at 60.
    let missed = 1.0 - dryer.probability;
    assert!(missed > 0.0);
    close(money.lost_per_year.ok_or("lost")?, 6000.0 * missed * 135.0);
    close(
        money.counted_per_year,
        1500.0 + 550.0 + 1000.0 + 6000.0 * missed * 135.0,
    );
    close(money.counted_per_kg, money.counted_per_year / 150_000.0);
    // Both do the same; the one that costs 6000 less is taken, and the other never pays.
    assert_eq!(found.choice.dryer, Some(1));
    let earned = &found.earned[0];
    assert!(!earned.recommended_is_dearer);
    close(earned.extra, 6000.0);
    assert!(earned.saved_per_year.abs() < 1e-9);
    assert_eq!(earned.payback.simple_years, None);
    Ok(())
}

fn prices() -> Prices {
    Prices {
        currency: "EUR".into(),
        electricity: EnergyPrice::from_per_kwh(0.20),
        tariff: Vec::new(),
        carbon: None,
        cooling_water: None,
        compressed_air: None,
        press_hour: Some(TimePrice::from_per_hour(60.0)),
        resin: Some(MassPrice::from_per_kg(3.0)),
        hours_per_year: 6000.0,
        years: 10.0,
        interest: Fraction::from_si(0.0),
        starts_per_year: None,
        doubt: None,
        dryers: Vec::new(),
    }
}

#[test]
fn holds_a_harder_job_breaks_a_dryer_at_a_factor_above_one_and_a_start_takes_a_stay()
-> Result<(), Failure> {
    let pc = job("PC", 25)?;
    let found = found(vec![(1.0, vec![&pc])])?;
    let dryer = &found.dryers[0];
    assert_eq!(dryer.margins.len(), Harder::ALL.len());
    for margin in &dryer.margins {
        assert!(margin.factor >= 1.0, "{margin:?}");
    }
    // More resin leaves the same hopper wetter until its limit, or its heater gives no more.
    let rate = &dryer.margins[0];
    assert!(
        rate.harder == Harder::Rate && rate.breaks != Breaks::Nothing,
        "{rate:?}"
    );
    let start = dryer
        .cold_start
        .as_ref()
        .and_then(ColdStart::hours)
        .ok_or("no start")?;
    let stay = found.runs[0].hoppers[0].residence_h;
    assert!(start > 0.3 * stay && start < 3.0 * stay, "{start} {stay}");
    assert!(
        dryer
            .heater_used
            .is_some_and(|used| used > 0.3 && used < 1.0)
    );
    Ok(())
}

#[test]
fn holds_sizes_are_those_of_the_dryers_that_are_run() -> Result<(), Failure> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/cells/two-presses.toml");
    let sized = drybed::sizes_files(&[path], &drybed::library(None)?, None)?;
    assert!(sized.is_met());
    let sizes = &sized.sizes;
    assert_eq!(sizes.dryers.len(), 5);
    // The air of both presses at once, told with who decides it.
    let air: f64 = sizes.runs[0]
        .hoppers
        .iter()
        .map(|hopper| hopper.air_flow_kg_h)
        .sum();
    assert!((sizes.needs[0].measured.value - air).abs() < 1e-9);
    assert_eq!(
        sizes.needs[0].decided_by,
        "PC light guides with PC/ABS covers"
    );
    let wheel = &sizes.dryers[0].parts[0];
    let rated = air / 3600.0;
    let matrix = usual::matrix(rated, adsorbed()?);
    assert!((wheel.measures[0].value - 1e3 * matrix.diameter.si()).abs() < 1e-9);
    let text = sized
        .document(Units::Metric)
        .full_text()
        .map_err(|_| "cannot be shown")?;
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "{text}"
    );
    assert!(
        text.contains("desiccant wheel") && text.contains("decided by"),
        "{text}"
    );
    Ok(())
}

fn adsorbed() -> Result<Adsorbed, Failure> {
    let all = Desiccants::shipped()?;
    let sieve = all.get("molecular-sieve-13x").ok_or("no sieve")?;
    Ok(Adsorbed::of(&sieve.sorbent))
}

#[test]
fn holds_what_is_smaller_than_made_is_told() -> Result<(), Failure> {
    let text = |rate: f64| {
        format!(
            "format = 1\ntitle = \"tiny, invented\"\n[resin]\nname = \"PC\"\n[demand]\nrate = \"{rate} kg/h\"\n"
        )
    };
    let sized = |rate: f64| drybed::sizes(&text(rate), "job.toml", &drybed::library(None)?, None);
    let tiny = sized(0.5)?;
    let told: Vec<&str> = tiny.sizes.below_usual.iter().map(|one| one.part).collect();
    assert_eq!(told, ["hopper", "wheel", "tower"]);
    let shown = |units| tiny.document(units).full_text().unwrap_or_default();
    let one_line = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let metric = one_line(shown(Units::Metric));
    assert!(
        metric.contains("below some 100 mm hardly any is made"),
        "{metric}"
    );
    assert!(tiny.json()?.contains("below_usual"));
    let us = one_line(shown(Units::UsCustomary));
    for metric_only in [" W/K", " g/kg", " mbar", " mm", " kg"] {
        assert!(!us.contains(metric_only), "{metric_only}: {us}");
    }
    assert!(sized(25.0)?.sizes.below_usual.is_empty());
    Ok(())
}
