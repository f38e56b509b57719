//! Halls whose order is known, and both searches against each other.

use super::cold_start::{ColdStart, minutes};
use super::order::{Hall, Load};
use super::{SwitchOn, told};

/// A dryer whose power is high for a while, and less from then on.
fn load(peak: (usize, f64), ready: usize, hot: f64, wanted: usize) -> Load {
    let warming = (0..ready).map(|minute| if minute < peak.0 { peak.1 } else { hot });
    Load {
        warming: warming.collect(),
        waiting: vec![hot; 60],
        working: hot,
        wanted,
    }
}

fn start(load: Load) -> ColdStart {
    ColdStart {
        resin: "PX (invented)".into(),
        ready: 60.0 * load.warming.len() as f64,
        hold: 3600.0,
        stay: 3600.0,
        bears: 36_000.0,
        set_point_c: 120.0,
        outlet_ppm_wet: 50.0,
        limit_ppm_wet: 200.0,
        load,
    }
}

fn answer(loads: &[Load], wanted: &[f64], limit: Option<f64>, base: f64) -> SwitchOn {
    let names: Vec<(&str, f64)> = ["a", "b", "c", "d"]
        .into_iter()
        .zip(wanted)
        .map(|(name, hours)| (name, 3600.0 * hours))
        .collect();
    told(
        &names,
        loads.iter().cloned().map(start).collect(),
        limit,
        base,
    )
}

/// Numbers between 0 and 1 in an order of their own.
struct Drawn(u64);

impl Drawn {
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "small counts"
    )]
    fn count(&mut self, low: f64, high: f64) -> usize {
        self.between(low, high) as usize
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

#[test]
fn exact_two_dryers_whose_peaks_coincide_are_moved_apart() {
    // Each takes 6 kW for half an hour, then 2 kW; together 12 kW, and 8 kW half an hour apart.
    let loads = [load((30, 6.0), 120, 2.0, 0), load((30, 6.0), 120, 2.0, 0)];
    let found = answer(&loads, &[6.0, 6.0], Some(8.0), 0.0);
    assert_eq!(found.missed, None);
    assert!((found.peak_unordered_kw - 12.0).abs() < 1e-12);
    assert!((found.peak_kw - 8.0).abs() < 1e-12);
    let [first, last] = &found.dryers[..] else {
        panic!("two dryers");
    };
    assert!((first.on_h - 3.5).abs() < 1e-12 && (last.on_h - 4.0).abs() < 1e-12);
    assert!((first.waiting_h - 0.5).abs() < 1e-12 && last.waiting_h == 0.0);
    assert!((first.waiting_kwh - 1.0).abs() < 1e-12 && (found.waiting_kwh - 1.0).abs() < 1e-12);
    let energy = 2.0 * (3.0 + 3.0) + 1.0;
    assert!((found.energy_kwh - energy).abs() < 1e-9);
    assert!(found.power.iter().all(|minute| minute.all_kw <= 8.0 + 1e-9));
}

#[test]
fn exact_what_else_is_on_counts_against_the_limit() {
    let loads = [load((30, 6.0), 120, 2.0, 0), load((30, 6.0), 120, 2.0, 0)];
    let found = answer(&loads, &[6.0, 6.0], Some(11.0), 3.0);
    assert_eq!(found.missed, None);
    assert!((found.peak_kw - 11.0).abs() < 1e-12);
    let less = answer(&loads, &[6.0, 6.0], Some(10.9), 3.0);
    let missed = less.missed.map(|missed| missed.least_kw);
    assert!(
        missed.is_some_and(|least| (least - 11.0).abs() < 0.03),
        "{missed:?}"
    );
}

#[test]
fn exact_without_a_limit_all_are_ready_on_time() {
    let loads = [load((30, 6.0), 200, 2.0, 0), load((20, 9.0), 90, 1.0, 0)];
    let found = answer(&loads, &[6.0, 7.5], None, 0.0);
    for dryer in &found.dryers {
        assert!((dryer.ready_h - dryer.wanted_h).abs() < 1e-12 && dryer.waiting_h == 0.0);
        assert!((dryer.wanted_h - dryer.on_h - dryer.to_ready_h).abs() < 1e-12);
    }
    assert_eq!(found.dryers[0].name, "a");
    assert!((found.peak_kw - found.peak_unordered_kw).abs() < 1e-12);
}

#[test]
fn exact_a_limit_below_one_dryer_is_refused_with_the_number() {
    let loads = [load((30, 6.0), 120, 2.0, 0), load((30, 9.0), 120, 2.0, 0)];
    let found = answer(&loads, &[6.0, 6.0], Some(8.0), 0.5);
    let Some(missed) = found.missed else {
        panic!("a limit below a dryer was kept");
    };
    assert_eq!(missed.alone, [("b".to_owned(), 9.5)]);
    assert!((missed.by_kw - 1.5).abs() < 1e-12 && missed.at_work_kw.is_none());
    // Beside the 9 kW the other has not begun, or has 2 kW.
    assert!((missed.least_kw - 9.5).abs() < 2.03, "{}", missed.least_kw);
    assert!(found.peak_kw <= missed.least_kw + 1e-9);
}

#[test]
fn exact_all_at_work_above_the_limit_are_refused_with_the_number() {
    let loads = [load((30, 3.0), 120, 2.5, 0), load((30, 3.0), 120, 2.5, 0)];
    let found = answer(&loads, &[6.0, 8.0], Some(4.0), 0.0);
    let missed = found.missed.unwrap_or_else(|| panic!("kept"));
    assert_eq!((missed.by_kw, missed.at_work_kw), (1.0, Some(5.0)));
    assert!(missed.alone.is_empty());
}

#[test]
fn holds_exchange_finds_what_every_order_does_on_random_small_halls() {
    let mut drawn = Drawn(7);
    let (mut halls, mut moved, mut worse) = (0, 0, 0);
    for _ in 0..120 {
        let count = drawn.count(2.0, 5.0);
        let loads: Vec<Load> = (0..count)
            .map(|_| {
                let hot = drawn.between(0.5, 3.0);
                let peak = hot + drawn.between(0.5, 5.0);
                let ready = drawn.count(60.0, 240.0);
                let long = drawn.count(0.1 * ready as f64, 0.5 * ready as f64);
                load((long, peak), ready, hot, 960 + drawn.count(0.0, 60.0))
            })
            .collect();
        let hall = Hall {
            loads: &loads,
            base: 0.0,
        };
        let late = hall.power(&vec![0; count]).into_iter().fold(0.0, f64::max);
        let limit = hall.least() + drawn.between(0.2, 1.0) * (late - hall.least());
        let (every, exchange) = (hall.of_every_order(limit), hall.by_exchange(limit));
        let (Some(every), Some(exchange)) = (&every, &exchange) else {
            assert_eq!(every.is_some(), exchange.is_some());
            continue;
        };
        halls += 1;
        moved += usize::from(every.cost > 0.0);
        for placed in [every, exchange] {
            let power = hall.power(&placed.waits);
            assert!(power.iter().all(|&power| power <= limit + 1e-6));
        }
        assert!(every.cost <= exchange.cost + 1e-9);
        worse += usize::from(exchange.cost > every.cost + 1e-9);
    }
    assert!(halls > 60 && moved > 40, "{halls} {moved}");
    assert_eq!(worse, 0);
}

#[test]
fn exact_a_long_wait_repeats_its_last_hour() {
    let mut one = load((10, 5.0), 60, 2.0, 1000);
    one.waiting = (0..120)
        .map(|minute| if minute % 60 < 30 { 1.0 } else { 3.0 })
        .collect();
    assert!((one.energy_of(600) - 20.0).abs() < 1e-12);
    assert_eq!(one.on(600), 340);
    assert_eq!(
        (one.at(339, 600), one.at(340, 600), one.at(1000, 600)),
        (0.0, 5.0, 2.0)
    );
    assert_eq!((minutes(0.0), minutes(60.0), minutes(61.0)), (0, 1, 2));
}
