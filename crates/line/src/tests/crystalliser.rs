//! What holds of a crystalliser ahead of a hopper.

use super::*;
use crate::crystalliser_station::{Amorphous, Crystalline, crystallise};
use dryer::crystalliser::{Crystalliser, CrystalliserSpec};
use pellet::blend::Blend;
use quantity::Duration;
use std::f64::consts::PI;

const RATE: f64 = 50.0 / 3600.0;

fn feed() -> Feed {
    Feed {
        rate: RATE,
        temperature: DAY.temperature,
        moisture: 3e-3,
        free_water: 2e-4,
    }
}

/// Chips as amorphous polyester is, 2.5 mm.
fn chips() -> Contact {
    let mut contact = station("hopper").column.contact;
    contact.exchange.vapour = 1e-5;
    contact
}

fn hot(celsius: f64) -> CrystalliserSpec {
    usual::agitated_crystalliser(RATE, ZERO_CELSIUS + celsius, DAY.humidity)
}

fn run(contact: &Contact, crystalliser: &Crystalliser, feed: Feed) -> Crystalline {
    let resin = Amorphous {
        blend: Blend {
            lead: contact,
            beside: &[],
        },
        feed,
        heat: 0.0,
    };
    crystallise("crystalliser", crystalliser, &resin, &DAY).unwrap()
}

#[test]
fn holds_the_books_of_a_crystalliser_close() {
    let infrared = usual::infrared_crystalliser(RATE, ZERO_CELSIUS + 170.0, DAY.humidity);
    for spec in [hot(140.0), hot(170.0), infrared] {
        let left = run(&chips(), &spec.check().unwrap(), feed());
        closes(&left.account);
        assert!((left.feed.temperature - spec.temperature.kelvin()).abs() < 1e-9);
        assert!(left.water.1 < left.water.0 && left.feed.free_water == 0.0);
        // 150 K of 1.4 kJ/(kg K) through an efficiency of a half and more, and the drive.
        let kwh = left.account.electric_power() / RATE / 3.6e6;
        assert!((0.06..0.16).contains(&kwh), "{kwh}");
    }
}

#[test]
fn exact_one_stirred_stage_in_dry_air_is_the_transform_of_cranks_series() {
    // The mean of exp(-k t) over one stage is 1/(1 + k tau).
    let mut contact = chips();
    contact.exchange.vapour = 1.0;
    contact.interior = Interior::of(
        &Outline::Sphere { diameter: 3e-3 },
        &contact.isotherm,
        &contact.diffusivity,
        24,
    )
    .unwrap();
    let spec = CrystalliserSpec {
        stages: 1,
        residence: Duration::from_si(2400.0),
        ..hot(120.0)
    };
    let mut dry = spec;
    if let dryer::crystalliser::Heating::HotAir { air } = &mut dry.heating {
        air.dry_air = 50.0;
    }
    let resin = Amorphous {
        blend: Blend {
            lead: &contact,
            beside: &[],
        },
        feed: Feed {
            free_water: 0.0,
            ..feed()
        },
        heat: 0.0,
    };
    let room = Room {
        humidity: 0.0,
        ..DAY
    };
    let left = crystallise("crystalliser", &dry.check().unwrap(), &resin, &room).unwrap();
    let rate = 1.3e-10 * PI * PI / (1.5e-3 * 1.5e-3) * 2400.0;
    let expected: f64 = (1..400)
        .map(|n| f64::from(n * n))
        .map(|square| 6.0 / (PI * PI * square) / (1.0 + square * rate))
        .sum();
    // Between the moments that are looked at the curve is drawn straight.
    let share = left.water.1 / 3e-3 / expected;
    assert!((share - 1.0).abs() < 5e-3, "{share}");
}

#[test]
fn holds_long_enough_the_resin_is_in_balance_with_the_air_that_leaves() {
    let contact = chips();
    let spec = CrystalliserSpec {
        residence: Duration::from_si(9e4),
        ..hot(120.0)
    };
    let left = run(&contact, &spec.check().unwrap(), feed());
    let humidity = DAY.humidity + (left.water.0 - left.water.1) / 2.0;
    let hot = left.feed.temperature;
    let activity = contact.vapour_pressure(humidity) / air::saturation::over_liquid(hot);
    let balance = contact.isotherm.moisture(hot, activity);
    // Two stages: some of it stays a twentieth of the mean.
    assert!(
        (left.water.1 / balance - 1.0).abs() < 0.05,
        "{left:?} {balance}"
    );
}

#[test]
fn holds_more_air_and_time_take_more_out() {
    let contact = chips();
    let water = |air: f64, hours: f64| {
        let mut spec = hot(140.0);
        spec.residence = Duration::from_si(3600.0 * hours);
        if let dryer::crystalliser::Heating::HotAir { air: stream } = &mut spec.heating {
            stream.dry_air *= air;
        }
        run(&contact, &spec.check().unwrap(), feed()).water.1
    };
    assert!(water(1.0, 0.5) > water(1.0, 1.0) && water(1.0, 1.0) > water(4.0, 1.0));
    let still = usual::agitated_crystalliser(0.0, 413.15, 0.009)
        .check()
        .unwrap();
    let resin = Amorphous {
        blend: Blend {
            lead: &contact,
            beside: &[],
        },
        feed: feed(),
        heat: 0.0,
    };
    let refused = crystallise("crystalliser", &still, &resin, &DAY);
    assert!(matches!(refused, Err(LineError::NoAir { .. })));
}
