//! What holds of the gas in a vacuum vessel.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use super::*;
use crate::asked::trials::at_the_ends;
use air::saturation;
use numeric::root::bracketed;
use quantity::constants::STANDARD_ATMOSPHERE;

const HALL: Outside = Outside {
    pressure: STANDARD_ATMOSPHERE,
    temperature: 298.15,
    humidity: 0.01,
};
const HOT: f64 = 353.15;
const PUMP: Doing = Doing {
    pumping: true,
    purge: 0.0,
    purge_humidity: 1e-4,
    temperature: HOT,
    water: 0.0,
};
const SHUT: Doing = Doing {
    pumping: false,
    ..PUMP
};

/// A time constant of 10 s.
fn spec() -> VesselSpec {
    VesselSpec {
        free_volume: Volume::from_si(0.05),
        pump_speed: ActualVolumeFlow::from_si(0.005),
        end_pressure: AbsolutePressure::from_si(2000.0),
        pump_power: Power::from_si(400.0),
        leak: 0.0,
    }
}

fn vessel(change: impl Fn(&mut VesselSpec)) -> Vessel {
    let mut spec = spec();
    change(&mut spec);
    spec.check().unwrap()
}

fn hall_air() -> Gas {
    Gas::of_air(HALL.humidity, HALL.pressure)
}

#[test]
fn exact_pump_down_is_an_exponential_that_keeps_the_mixture() {
    let vessel = vessel(|_| ());
    let start = hall_air();
    for time in [1.0, 10.0, 35.0, 200.0, 5000.0] {
        let gas = vessel.advance(&start, &HALL, &PUMP, time).unwrap().gas;
        let expected = 2000.0 + (HALL.pressure - 2000.0) * (-time / 10.0_f64).exp();
        assert!((gas.pressure() / expected - 1.0).abs() < 1e-12, "{time}");
        let share = mixture::mole_fraction(0.01);
        assert!((gas.vapour / gas.pressure() / share - 1.0).abs() < 1e-9);
    }
}

#[test]
fn exact_the_vapours_share_is_its_share_of_the_inflow() {
    let vessel = vessel(|spec| spec.leak = 0.5);
    let doing = Doing {
        water: 1e-6,
        purge: 2e-6,
        ..PUMP
    };
    let gas = vessel.advance(&hall_air(), &HALL, &doing, 1e5).unwrap().gas;
    let thermal = MOLAR_GAS * HOT;
    let leak = 0.5 * HOT / HALL.temperature;
    let humid = mixture::mole_fraction(0.01);
    let vapour = (1e-6 + 2e-10) / WATER_MOLAR_MASS * thermal + leak * humid;
    let all = vapour + 2e-6 / DRY_AIR_MOLAR_MASS * thermal + leak * (1.0 - humid);
    assert!((gas.pressure() - 2000.0 - all / 0.005).abs() < 1e-6);
    assert!((gas.vapour / gas.pressure() / (vapour / all) - 1.0).abs() < 1e-9);
}

#[test]
fn exact_without_purge_the_pellets_stand_in_vapour_alone() {
    let doing = Doing {
        water: 2e-6,
        ..PUMP
    };
    let gas = vessel(|_| ())
        .advance(&hall_air(), &HALL, &doing, 1e6)
        .unwrap()
        .gas;
    assert!(gas.air < 1e-6 && gas.vapour > 2000.0, "{gas:?}");
}

#[test]
fn holds_two_steps_are_one_across_the_end_pressure_too() {
    let vessel = vessel(|spec| spec.leak = 0.5);
    let low = Gas {
        air: 300.0,
        vapour: 1600.0,
    };
    for (start, water) in [
        (hall_air(), 1e-6),
        (low, 1e-5),
        (hall_air(), -3e-6),
        (low, 0.0),
    ] {
        let doing = Doing {
            water,
            purge: 1e-6,
            ..PUMP
        };
        let once = vessel.advance(&start, &HALL, &doing, 30.0).unwrap();
        let half = vessel.advance(&start, &HALL, &doing, 12.0).unwrap();
        let twice = vessel.advance(&half.gas, &HALL, &doing, 18.0).unwrap();
        assert!((twice.gas.air / once.gas.air - 1.0).abs() < 1e-9);
        assert!((twice.gas.vapour / once.gas.vapour - 1.0).abs() < 1e-9);
        assert!(once.water().imbalance() < 1e-12);
        let sum = half.water_out + twice.water_out;
        assert!((sum - once.water_out).abs() < 1e-12 * (sum.abs() + once.given.abs()));
        assert!((once.pump - 400.0 * 30.0).abs() < 1e-9);
    }
}

#[test]
fn exact_what_the_pump_takes_is_its_speed_times_the_vapour() {
    // Simpson's rule over many small steps against the balance.
    let vessel = vessel(|_| ());
    let doing = Doing {
        water: 2e-6,
        ..PUMP
    };
    let (mut gas, mut taken, mut by_balance) = (hall_air(), 0.0, 0.0);
    for _ in 0..400 {
        let middle = vessel.advance(&gas, &HALL, &doing, 0.05).unwrap().gas;
        let passed = vessel.advance(&gas, &HALL, &doing, 0.1).unwrap();
        let flow = |gas: &Gas| 0.005 * (1.0 - 2000.0 / gas.pressure()) * gas.vapour;
        let mean = (flow(&gas) + 4.0 * flow(&middle) + flow(&passed.gas)) / 6.0;
        taken += mean * 0.1 * WATER_MOLAR_MASS / (MOLAR_GAS * HOT);
        by_balance += passed.water_out;
        gas = passed.gas;
    }
    assert!((taken / by_balance - 1.0).abs() < 1e-8);
}

#[test]
fn exact_a_vessel_shut_off_rises_with_what_comes_in_and_a_leak_stops_at_the_hall() {
    let vessel = vessel(|spec| spec.leak = 50.0);
    let empty = Gas {
        air: 100.0,
        vapour: 50.0,
    };
    let one = vessel.advance(&empty, &HALL, &SHUT, 10.0).unwrap();
    let rise = 50.0 * HOT / HALL.temperature * 10.0 / 0.05;
    assert!((one.gas.pressure() - 150.0 - rise).abs() < 1e-9 && one.pump == 0.0);
    let full = vessel.advance(&empty, &HALL, &SHUT, 600.0).unwrap();
    assert!((full.gas.pressure() - HALL.pressure).abs() < 1e-6);
    assert!(full.water().imbalance() < 1e-12 && full.water_out.abs() < 1e-12);
}

#[test]
fn exact_letting_out_brings_what_lacks_of_the_hall() {
    let vessel = vessel(|_| ());
    let gas = Gas {
        air: 3000.0,
        vapour: 2000.0,
    };
    let (now, come) = vessel.let_out(&gas, 0.0, HALL.pressure, HOT);
    assert!((now.pressure() - HALL.pressure).abs() < 1e-9);
    assert!((now.vapour - 2000.0).abs() < 1e-12);
    let expected = (HALL.pressure - 5000.0) * 0.05 / (MOLAR_GAS * HOT) * DRY_AIR_MOLAR_MASS;
    assert!((come / expected - 1.0).abs() < 1e-12);
}

#[test]
fn holds_vapour_alone_has_the_dew_point_of_its_pressure() {
    let over = |pressure: f64, t: f64| {
        let law = if t < 273.16 {
            saturation::over_ice
        } else {
            saturation::over_liquid
        };
        law(t) - pressure
    };
    let of = |pressure| bracketed(220.0, 330.0, 1e-9, |t| over(pressure, t)).unwrap() - 273.15;
    assert!((of(5000.0) - 32.9).abs() < 0.1 && (of(100.0) + 20.3).abs() < 0.2);
}

#[test]
fn holds_ranges_at_their_ends_and_every_mistake_told() {
    let with = |change: &dyn Fn(&mut VesselSpec)| {
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
    at_the_ends(&END_PRESSURE_HOLDS, |x| {
        with(&|spec| spec.end_pressure = AbsolutePressure::from_si(x))
    });
    at_the_ends(&PUMP_POWER_HOLDS, |x| {
        with(&|spec| spec.pump_power = Power::from_si(x))
    });
    at_the_ends(&VACUUM_LEAK_HOLDS, |x| with(&|spec| spec.leak = x));
    let vessel = vessel(|_| ());
    let runs = |doing: Doing| {
        let plenty = Gas {
            air: 1e3,
            vapour: 9e5,
        };
        vessel.advance(&plenty, &HALL, &doing, 1e-3).is_ok()
    };
    at_the_ends(&PURGE_HOLDS, |purge| runs(Doing { purge, ..PUMP }));
    at_the_ends(&VESSEL_HOLDS, |temperature| {
        runs(Doing {
            temperature,
            ..PUMP
        })
    });
    at_the_ends(&WATER_GIVEN_HOLDS, |water| runs(Doing { water, ..PUMP }));
    let start = hall_air();
    assert!(vessel.advance(&start, &HALL, &PUMP, f64::NAN).is_err());
    let thirsty = Doing {
        water: -0.01,
        ..SHUT
    };
    assert!(vessel.advance(&start, &HALL, &thirsty, 60.0).is_err());
    let nowhere = Outside {
        pressure: f64::NAN,
        ..HALL
    };
    assert!(vessel.advance(&start, &nowhere, &PUMP, 1.0).is_err());
    let wrong = VesselSpec {
        leak: f64::NAN,
        pump_power: Power::from_si(-1.0),
        ..spec()
    };
    assert_eq!(wrong.check().unwrap_err().len(), 2);
}
