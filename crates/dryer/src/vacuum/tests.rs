//! What holds of a vacuum dryer.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use super::*;
use crate::asked::trials::at_the_ends;
use air::saturation;

const HALL: Hall = Hall::USUAL;

fn pump(purge: f64) -> Doing {
    Doing::Pump {
        temperature: Temperature::from_celsius(80.0),
        purge: MassFlow::from_si(purge),
        purge_humidity: 1e-4,
    }
}

fn phase(duration: f64, doing: Doing) -> Phase {
    Phase {
        duration: Duration::from_si(duration),
        doing,
    }
}

fn spec() -> VacuumSpec {
    VacuumSpec {
        free_volume: Volume::from_si(0.05),
        pump_speed: ActualVolumeFlow::from_si(0.005),
        ultimate: AbsolutePressure::from_si(50.0),
        pump_power: Power::from_si(400.0),
        leak: 0.5,
        phases: vec![
            phase(
                1200.0,
                Doing::Heat {
                    air: Stream {
                        dry_air: 0.03,
                        temperature: 353.15,
                        humidity: 0.01,
                    },
                },
            ),
            phase(900.0, pump(0.0)),
            phase(300.0, pump(1e-5)),
            phase(
                60.0,
                Doing::Hold {
                    temperature: Temperature::from_celsius(75.0),
                },
            ),
            phase(
                30.0,
                Doing::Vented {
                    temperature: Temperature::from_celsius(75.0),
                    humidity: 1e-4,
                },
            ),
        ],
    }
}

/// The state after pumping for a time with water given off.
fn pumped(time: f64, water: f64) -> (VacuumState, Spent) {
    let dryer = spec().check().unwrap();
    let state = VacuumState {
        time: 1200.0,
        ..dryer.start(&HALL).unwrap()
    };
    dryer.advance(&state, &HALL, water, time).unwrap()
}

#[test]
fn exact_pump_down_and_its_end() {
    // The time constant is 10 s; after 100 s nothing of the first gas is left.
    let (early, _) = pumped(10.0, 0.0);
    let start = spec().check().unwrap().start(&HALL).unwrap();
    let fade = (-1.0_f64).exp();
    let leak = 0.5 * 353.15 / 298.15 / 0.005;
    let share = mixture::mole_fraction(0.01);
    let air = start.air * fade + (50.0 + leak * (1.0 - share)) * (1.0 - fade);
    assert!((early.air / air - 1.0).abs() < 1e-12);
    let (late, _) = pumped(600.0, 0.0);
    assert!((late.air + late.vapour - 50.0 - leak).abs() < 1e-9);
}

#[test]
fn exact_the_vapours_share_is_its_share_of_the_inflow() {
    let water = 1e-6;
    let (late, _) = pumped(600.0, water);
    let from_pellets = water / WATER_MOLAR_MASS * MOLAR_GAS * 353.15 / 0.005;
    let from_leak = 0.5 * 353.15 / 298.15 / 0.005 * mixture::mole_fraction(0.01);
    assert!((late.vapour / (from_pellets + from_leak) - 1.0).abs() < 1e-12);
    // The leak brings three times as much gas as these pellets.
    assert!((late.vapour / (late.air + late.vapour) - 0.17).abs() < 0.01);
}

#[test]
fn holds_two_steps_are_one_and_water_closes() {
    let dryer = spec().check().unwrap();
    let (once, _) = pumped(20.0, 1e-6);
    let (half, _) = pumped(10.0, 1e-6);
    let (twice, _) = dryer.advance(&half, &HALL, 1e-6, 10.0).unwrap();
    assert!((twice.air / once.air - 1.0).abs() < 1e-12);
    assert!((twice.vapour / once.vapour - 1.0).abs() < 1e-12);
    let (course, spent) = dryer.course(&HALL, 5.0, |_, _| 1e-6).unwrap();
    assert!(spent.water().imbalance() < 1e-12);
    assert!((spent.given - 1e-6 * dryer.duration()).abs() < 1e-12);
    assert!((spent.pump - 400.0 * 1200.0).abs() < 1e-6);
    let heat = 0.03 * air::caloric::heat_capacity(0.01) * 55.0 * 1200.0;
    assert!((spent.heat / heat - 1.0).abs() < 1e-12);
    // Every phase is met, its ends exactly.
    for (at, phase) in [(0.0, 0), (1200.0, 1), (2100.0, 2), (2400.0, 3), (2460.0, 4)] {
        assert!(
            course
                .iter()
                .any(|(time, around)| { (time - at).abs() < 1e-9 && around.phase == phase })
        );
    }
    let (end, last) = course.last().unwrap();
    assert!((end - dryer.duration()).abs() < 1e-9);
    assert!((last.pressure - HALL.pressure).abs() < 1e-9);
}

#[test]
fn exact_what_stayed_is_what_is_held_over_phases_of_other_temperatures() {
    let dryer = spec().check().unwrap();
    let mut state = dryer.start(&HALL).unwrap();
    let (first, mut stayed) = (dryer.vapour_held(&state), 0.0);
    while state.time < 2450.0 {
        let (after, spent) = dryer.advance(&state, &HALL, 1e-6, 7.0).unwrap();
        stayed += spent.stayed;
        state = after;
    }
    let grown = dryer.vapour_held(&state) - first;
    assert!((grown / stayed - 1.0).abs() < 1e-9, "{grown} {stayed}");
}

#[test]
fn exact_what_the_pump_takes_is_its_speed_times_the_vapour() {
    // Simpson's rule over many small steps against the ledger.
    let dryer = spec().check().unwrap();
    let mut state = pumped(0.0, 0.0).0;
    let (mut taken, mut by_ledger) = (0.0, 0.0);
    for _ in 0..400 {
        let middle = dryer.advance(&state, &HALL, 2e-6, 0.05).unwrap().0;
        let (after, spent) = dryer.advance(&state, &HALL, 2e-6, 0.1).unwrap();
        let mean = (state.vapour + 4.0 * middle.vapour + after.vapour) / 6.0;
        taken += 0.005 * mean * 0.1 * WATER_MOLAR_MASS / (MOLAR_GAS * 353.15);
        by_ledger += spent.left;
        state = after;
    }
    assert!((taken / by_ledger - 1.0).abs() < 1e-9);
}

#[test]
fn holds_a_leak_stops_at_the_pressure_of_the_hall() {
    let leaky = VacuumSpec {
        leak: 1e4,
        phases: vec![phase(
            3600.0,
            Doing::Hold {
                temperature: Temperature::from_celsius(75.0),
            },
        )],
        ..spec()
    };
    let dryer = leaky.check().unwrap();
    let empty = VacuumState {
        time: 0.0,
        air: 100.0,
        vapour: 50.0,
    };
    let (after, spent) = dryer.advance(&empty, &HALL, 0.0, 600.0).unwrap();
    assert!((after.air + after.vapour - HALL.pressure).abs() < 1e-6);
    assert!(spent.water().imbalance() < 1e-12 && spent.left.abs() < 1e-12);
}

#[test]
fn holds_vapour_alone_has_the_dew_point_of_its_pressure() {
    // 50 mbar 33 degC, 1 mbar -20 degC.
    assert!((saturation::over_liquid(273.15 + 32.9) / 5000.0 - 1.0).abs() < 3e-3);
    assert!((saturation::over_ice(273.15 - 20.3) / 100.0 - 1.0).abs() < 1e-2);
}

#[test]
fn holds_ranges_at_their_ends_and_every_mistake_told() {
    let with = |change: &dyn Fn(&mut VacuumSpec)| {
        let mut spec = spec();
        change(&mut spec);
        spec.check().is_ok()
    };
    at_the_ends(&FREE_VOLUME_HOLDS, |x| {
        with(&|spec| spec.free_volume = Volume::from_si(x))
    });
    at_the_ends(&PUMP_SPEED_HOLDS, |x| {
        with(&|spec| spec.pump_speed = ActualVolumeFlow::from_si(x))
    });
    at_the_ends(&ULTIMATE_HOLDS, |x| {
        with(&|spec| spec.ultimate = AbsolutePressure::from_si(x))
    });
    at_the_ends(&PUMP_POWER_HOLDS, |x| {
        with(&|spec| spec.pump_power = Power::from_si(x))
    });
    at_the_ends(&VACUUM_LEAK_HOLDS, |x| with(&|spec| spec.leak = x));
    at_the_ends(&PHASE_HOLDS, |x| {
        with(&|spec| spec.phases[1].duration = Duration::from_si(x))
    });
    at_the_ends(&PURGE_HOLDS, |x| {
        with(&|spec| spec.phases[1].doing = pump(x))
    });
    at_the_ends(&VESSEL_HOLDS, |x| {
        with(&|spec| {
            spec.phases[1].doing = Doing::Hold {
                temperature: Temperature::from_celsius(x),
            };
        })
    });
    let dryer = spec().check().unwrap();
    let start = dryer.start(&HALL).unwrap();
    at_the_ends(&WATER_GIVEN_HOLDS, |x| {
        dryer.advance(&start, &HALL, x, 1.0).is_ok()
    });
    assert!(dryer.advance(&start, &HALL, 0.0, f64::NAN).is_err());
    let nowhere = Hall {
        pressure: f64::NAN,
        ..HALL
    };
    assert!(dryer.start(&nowhere).is_err());
    let wrong = VacuumSpec {
        leak: f64::NAN,
        phases: vec![phase(0.0, pump(-1.0))],
        ..spec()
    };
    assert_eq!(wrong.check().unwrap_err().len(), 3);
    let none = VacuumSpec {
        phases: Vec::new(),
        ..spec()
    };
    assert!(none.check().is_err());
}
