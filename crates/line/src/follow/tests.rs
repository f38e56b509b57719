//! What holds of days that are followed.

#![expect(
    clippy::unwrap_used,
    reason = "a trial that cannot be built has failed"
)]

use super::*;
use crate::control::{BakeOut, Sense, Setback, Warn};
use crate::tests::{DAY, coarse, station, with_wheel};
use crate::wheel_loop::CoolingTo;
use material::Oxidation;

const HOUR: f64 = 3600.0;
const RATE: f64 = 25.0 / HOUR;

fn control() -> Control {
    let station = station("hopper");
    Control {
        set_point: station.set_point,
        air_flow: station.air_flow,
        rate: RATE,
        demand_heat: RATE * 1450.0,
        wall: 3.0,
        shortfall: 0.2,
        sense: Sense::Told,
        lag: 600.0,
        least_air: None,
        setback: None,
        ramp: 1.0,
        off: Vec::new(),
        hold: None,
        regeneration: with_wheel(CoolingTo::Regeneration)
            .maker
            .regeneration()
            .unwrap(),
        bake_out: None,
        usual_return: 0.02,
        warn: Warn {
            humidity: 1e-2,
            difference: 5.0,
            after: 600.0,
        },
    }
}

fn course<'a>(
    control: Control,
    hours: f64,
    wanted: &'a dyn Fn(f64) -> f64,
    hall: &'a dyn Fn(f64) -> Room,
) -> Course<'a> {
    Course {
        control,
        duration: hours * HOUR,
        wanted,
        told: wanted,
        hall,
        filling: Filling::full(),
        cone: 8.0,
        press: Press {
            holds: 6.0,
            batch: 2.0,
            cooling: 2.0 * HOUR,
            cone_cooling: 2.0 * HOUR,
            uptake: vec![(0.0, 0.0), (HOUR, 1e-5), (10.0 * HOUR, 5e-5)],
        },
        harms: Harms {
            stay: Some(Oxidation {
                rate: 1.0 / (12.0 * HOUR),
                reference_temperature: 393.15,
                activation_energy: 100e3,
            }),
            hot_from: 373.15,
            ..Harms::default()
        },
        changes: Vec::new(),
        ready: false,
        fouling: Fouling::default(),
        picture_every: HOUR,
        traced: true,
    }
}

fn follow(course: &Course) -> Result<Followed, LineError> {
    let line = coarse(&with_wheel(CoolingTo::Regeneration));
    line.follow(line.at_rest()?, course, &mut |seen| seen)
}

#[test]
fn holds_books_close_over_days_with_everything_in_them() -> Result<(), LineError> {
    let wanted = |t: f64| match t / HOUR {
        t if t < 4.0 => 0.0,
        t if t < 14.0 => RATE,
        t if t < 17.0 => 0.4 * RATE,
        t if t < 26.0 => 0.0,
        t if t < 34.0 => 1.1 * RATE,
        _ => 0.6 * RATE,
    };
    let hall = |t: f64| Room {
        temperature: DAY.temperature + 4.0 * libm::sin(t / (4.0 * HOUR)),
        ..DAY
    };
    let control = Control {
        sense: Sense::ReturnAir,
        least_air: Some(0.3),
        setback: Some(Setback {
            temperature: 353.15,
            below: 0.2,
            after: 1200.0,
            above: 0.4,
        }),
        off: vec![(20.0 * HOUR, 23.0 * HOUR)],
        hold: Some(1.5 * HOUR),
        bake_out: Some(BakeOut {
            every: Some(9.0 * HOUR),
            above: None,
            temperature: 273.15 + 200.0,
            time: 1800.0,
        }),
        ..control()
    };
    let mut course = course(control.clone(), 48.0, &wanted, &hall);
    course.fouling = Fouling {
        lost_per_second: 0.02 / HOUR,
        restored: 0.5,
    };
    course.filling = Filling {
        levels: vec![(10.0 * HOUR, 0.6), (28.0 * HOUR, 0.9)],
        batch: Some(5.0),
        by_hand: Vec::new(),
        shut: vec![(30.0 * HOUR, 33.0 * HOUR)],
    };
    let mut other = station("another");
    other.set_point = 373.15;
    course.changes = vec![Change {
        at: 36.0 * HOUR,
        station: other,
        control: Control {
            set_point: 373.15,
            ..control
        },
        cone: 8.0,
        press: course.press.clone(),
        harms: course.harms,
    }];
    let found = follow(&course)?;
    assert!(found.water().imbalance() < 1e-8, "{:#?}", found.water());
    assert!(found.energy().imbalance() < 1e-8, "{:#?}", found.energy());
    let has = |wanted: fn(&Happened) -> bool| found.events.iter().any(|event| wanted(&event.what));
    assert!(has(|what| matches!(what, Happened::Mode(Mode::SetBack))));
    assert!(has(|what| matches!(what, Happened::Mode(Mode::Off))));
    assert!(has(|what| matches!(what, Happened::BakeOut(true))));
    assert!(has(|what| matches!(what, Happened::Changed(_))));
    let capacity: Vec<f64> = found.steps.iter().filter_map(|s| s.capacity_left).collect();
    assert!(capacity.windows(2).any(|pair| pair[1] > pair[0] + 1e-3));
    assert!(capacity.windows(2).any(|pair| pair[1] < pair[0] - 1e-3));
    // What the press drew is what came to the screw, but for parcels that had not left as a whole.
    let drew: f64 = found.steps.iter().map(|s| s.press.1 * s.duration).sum();
    let used: f64 = found.used.iter().flatten().map(|lot| lot.mass).sum();
    assert!((drew - used).abs() < 3.0 * 100.0 / 36.0, "{drew} {used}");
    Ok(())
}

#[test]
fn holds_a_steady_day_ends_where_the_line_at_rest_does() -> Result<(), LineError> {
    let wanted = |_: f64| RATE;
    let hall = |_: f64| DAY;
    let mut c = course(control(), 40.0, &wanted, &hall);
    if std::env::var("B").is_ok() {
        c.press.batch = 0.0;
    }
    let found = follow(&c)?;
    let line = coarse(&with_wheel(CoolingTo::Regeneration));
    let steady = line.steady(None)?;
    let last = found.used[0].last().unwrap();
    let stay = 6.0 / RATE;
    let press = course(control(), 1.0, &wanted, &hall).press;
    let exact = steady.stations[0].steady.outlet_moisture + press.taken_up(stay);
    assert!(
        (last.water() / exact - 1.0).abs() < 0.06,
        "{} {exact}",
        last.water()
    );
    // It stayed in the bed, in the cone and on the press as long as these hold resin for.
    let whole = last.used - last.lived.fed_at;
    let exact = (100.0 + 8.0 + 6.0) / RATE;
    assert!((whole / exact - 1.0).abs() < 0.04, "{whole} {exact}");
    assert!(found.waited <= 0.0, "{}", found.waited);
    Ok(())
}

#[test]
fn holds_the_press_waits_for_a_hopper_that_is_not_ready_and_not_longer() -> Result<(), LineError> {
    let wanted = |_: f64| RATE;
    let hall = |_: f64| DAY;
    let held = Control {
        hold: Some(4.0 * HOUR),
        ..control()
    };
    let found = follow(&course(held, 12.0, &wanted, &hall))?;
    let warm = found.steps.iter().find(|s| s.inlet.0 > 393.15 - 3.0);
    let ready = warm.unwrap().time + 4.0 * HOUR;
    assert!(
        (found.waited - ready).abs() < 300.0,
        "{} {ready}",
        found.waited
    );
    let wettest = found
        .used
        .iter()
        .flatten()
        .map(Lot::water)
        .fold(0.0, f64::max);
    let drawn_at_once = follow(&course(control(), 12.0, &wanted, &hall))?;
    let wet = drawn_at_once
        .used
        .iter()
        .flatten()
        .map(Lot::water)
        .fold(0.0, f64::max);
    assert!(wettest < 0.5 * wet, "{wettest} {wet}");
    Ok(())
}

#[test]
fn holds_pellets_left_hot_over_a_night_use_up_their_stay_and_set_back_ones_less()
-> Result<(), LineError> {
    let wanted = |t: f64| {
        if (10.0..24.0).contains(&(t / HOUR)) {
            0.0
        } else {
            RATE
        }
    };
    let hall = |_: f64| DAY;
    let back = Control {
        setback: Some(Setback {
            temperature: 343.15,
            below: 0.2,
            after: 1200.0,
            above: 0.4,
        }),
        ..control()
    };
    let most = |control: Control| -> Result<f64, LineError> {
        let found = follow(&course(control, 30.0, &wanted, &hall))?;
        Ok(found
            .used
            .iter()
            .flatten()
            .map(|lot| lot.lived.stayed)
            .fold(0.0, f64::max))
    };
    let (hot, back) = (most(control())?, most(back)?);
    assert!(hot > 1.2 && back < 0.5 * hot, "{hot} {back}");
    Ok(())
}

#[test]
fn holds_a_desiccant_fouled_to_the_end_is_followed_on() -> Result<(), LineError> {
    let wanted = |_: f64| RATE;
    let hall = |_: f64| DAY;
    let mut course = course(control(), 30.0, &wanted, &hall);
    course.fouling = Fouling {
        lost_per_second: 0.05 / HOUR,
        restored: 0.0,
    };
    let found = follow(&course)?;
    let last = found.steps.last().and_then(|step| step.capacity_left);
    assert!((last.unwrap() - LEAST_CAPACITY).abs() < 1e-12, "{last:?}");
    assert!(found.water().imbalance() < 1e-8 && found.energy().imbalance() < 1e-8);
    Ok(())
}
