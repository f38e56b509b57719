//! What holds of vacuum drying in batches.

use super::*;
use crate::vacuum_batch::{
    CHARGE_HOLDS, Charge, DryAir, HANDLING_HOLDS, LACKING_HOLDS, VACUUM_TIME_HOLDS, VacuumCycle,
    VacuumMachine,
};
use crate::vacuum_dryer::{PurgeAir, VacuumDryer};
use dryer::vacuum::VesselSpec;
use pellet::contact::AirIn;
use quantity::{AbsolutePressure, Duration, Mass, Range, TemperatureDifference, Volume};
use std::f64::consts::PI;

/// The trial resin at 25 kg/h; its film in still air is that of Sh = 2 on 3 mm.
fn charge() -> Charge {
    let station = station("batch");
    Charge {
        name: station.name,
        column: station.column,
        feed: station.feed,
        set_point: station.set_point,
        bulk_density: 700.0,
        still: vec![1.7e-7],
    }
}

/// The same that comes hot, so that its heating takes no time, behind a wall that lets no heat through.
fn hot() -> Charge {
    let mut charge = charge();
    charge.feed.temperature = charge.set_point;
    charge.column.wall = Wall::of_slices(&[0.0]);
    charge
}

fn stated() -> VacuumDryer {
    usual::vacuum_dryer(25.0 / 3600.0, ZERO_CELSIUS + 120.0, usual::VACUUM_TIME).0
}

fn machine(change: impl Fn(&mut VacuumDryer)) -> VacuumMachine {
    let mut dryer = stated();
    change(&mut dryer);
    dryer.machine(heater(6.0), &DAY).unwrap()
}

/// A vessel without purge and leak, with a pump (m3/s, Pa) for a time (s).
fn bare(speed: f64, end_pressure: f64, time: f64) -> VacuumMachine {
    machine(|dryer| {
        dryer.free_volume = Volume::from_si(0.02);
        dryer.pump_speed = ActualVolumeFlow::from_si(speed);
        dryer.end_pressure = AbsolutePressure::from_si(end_pressure);
        dryer.leak = 0.0;
        dryer.purge = MassFlow::from_si(0.0);
        dryer.vacuum_time = Duration::from_si(time);
    })
}

fn run(machine: &VacuumMachine, charge: &Charge) -> VacuumCycle {
    machine.cycle(charge, &DAY).unwrap()
}

#[test]
fn holds_the_books_of_a_batch_close() {
    let machines = [
        machine(|_| ()),
        machine(|dryer| dryer.purge_air = PurgeAir::Hall),
        machine(|dryer| {
            dryer.purge = MassFlow::from_si(0.0);
            dryer.retention_purge = MassFlow::from_si(0.0);
        }),
        bare(0.05, 100.0, 3600.0),
    ];
    for machine in machines {
        for charge in [charge(), hot()] {
            closes(&run(&machine, &charge).account);
        }
    }
}

#[test]
fn exact_at_a_dry_surface_pellets_follow_cranks_series() {
    let mut charge = hot();
    charge.column.contact.diffusivity = Diffusivity::Arrhenius {
        reference: 1.3e-10,
        reference_temperature: 393.15,
        activation_energy: 0.0,
    };
    charge.column.contact.interior = Interior::of(
        &Outline::Sphere { diameter: 3e-3 },
        &charge.column.contact.isotherm,
        &charge.column.contact.diffusivity,
        16,
    )
    .unwrap();
    for time in [600.0, 1800.0, 7200.0] {
        let found = run(&bare(10.0, 0.011, time), &charge).evacuated.water;
        let fourier = 1.3e-10 * time / (1.5e-3 * 1.5e-3);
        let series: f64 = (1..200)
            .map(|n| f64::from(n * n))
            .map(|square| (-square * PI * PI * fourier).exp() / square)
            .sum();
        let expected = 2e-3 * 6.0 / (PI * PI) * series;
        // The pump takes some seconds of 600.
        let share = found / expected - 1.0;
        assert!(share.abs() < 5e-3, "{time} s: {share:.2e}");
    }
}

#[test]
fn exact_dry_pellets_leave_the_pump_its_exponential() {
    let mut charge = hot();
    charge.feed.moisture = 0.0;
    charge.column.wall = Wall::of_slices(&[0.0]);
    charge.still = vec![0.0];
    let cycle = run(&bare(0.002, 1000.0, 600.0), &charge);
    assert!(cycle.moments.len() > 30);
    for moment in &cycle.moments {
        let fade = (-moment.time * 0.002 / 0.02).exp();
        let expected = 1000.0 + (DAY.pressure - 1000.0) * fade;
        assert!(
            (moment.pressure / expected - 1.0).abs() < 1e-9,
            "{moment:?}"
        );
    }
}

#[test]
fn exact_without_purge_and_leak_pellets_end_in_the_vapour_of_the_pumps_end() {
    let charge = hot();
    let cycle = run(&bare(0.002, 2000.0, 4e5), &charge);
    let last = cycle.moments.last().unwrap();
    assert!((last.vapour / 2000.0 - 1.0).abs() < 1e-3, "{last:?}");
    let isotherm = &charge.column.contact.isotherm;
    let saturation = air::saturation::over_liquid(last.temperature);
    let expected = isotherm.moisture(last.temperature, 2000.0 / saturation);
    // What is left to diffuse after 4e5 s, and the last of the air.
    assert!(
        (last.water / expected - 1.0).abs() < 2e-3,
        "{last:?} {expected}"
    );
}

#[test]
fn exact_an_endless_pump_dries_as_perfectly_dry_air_does() {
    let charge = hot();
    let cycle = run(&bare(10.0, 0.011, 3600.0), &charge);
    let mut contact = charge.column.contact.clone();
    contact.exchange = Exchange {
        heat: 0.0,
        vapour: 1e-3,
    };
    let mut parcel = contact.parcel(charge.set_point, 2e-3, 0.0);
    let mut work = contact.work();
    let dry = AirIn::endless(charge.set_point, 0.0);
    for _ in 0..1440 {
        contact.meet(&mut parcel, &dry, 2.5, &mut work).unwrap();
    }
    // The pump takes some seconds; both have the error of their steps.
    let evacuated = &cycle.evacuated;
    assert!((evacuated.water / parcel.moisture - 1.0).abs() < 3e-3);
    assert!((evacuated.temperature - parcel.temperature).abs() < 0.03);
}

#[test]
fn exact_pellets_cool_by_the_heat_of_the_water_that_leaves() {
    let charge = hot();
    let evacuated = run(&bare(0.01, 100.0, 1800.0), &charge).evacuated;
    let contact = &charge.column.contact;
    let before = contact.enthalpy_at(charge.set_point, 2e-3, 0.0);
    let after = contact.enthalpy_at(evacuated.temperature, evacuated.water, 0.0);
    let middle = 0.5 * (charge.set_point + evacuated.temperature);
    let with_vapour = (2e-3 - evacuated.water) * contact.calorics.vapour_enthalpy(middle);
    assert!(charge.set_point - evacuated.temperature > 2.0);
    // Vapour leaves at temperatures about the middle, 1.9 kJ/(kg K) of 2.7 MJ/kg.
    assert!(((before - after) / with_vapour - 1.0).abs() < 1e-3);
}

#[test]
fn holds_purge_and_a_deeper_vacuum_dry_more() {
    let charge = charge();
    let water = |purge: f64, end: f64| {
        let machine = machine(|dryer| {
            dryer.purge = MassFlow::from_si(dryer.purge.si() * purge);
            dryer.end_pressure = AbsolutePressure::from_bar(1e-3 * end);
        });
        run(&machine, &charge).evacuated.water
    };
    let (none, usual, twice) = (water(0.0, 50.0), water(1.0, 50.0), water(2.0, 50.0));
    assert!(none > usual && usual > twice, "{none} {usual} {twice}");
    assert!(water(0.0, 50.0) > water(0.0, 20.0) && water(0.0, 20.0) > water(0.0, 5.0));
    // Without purge 50 mbar hold a tenth more water in these pellets than the purge leaves.
    assert!(none / usual > 1.1, "{}", none / usual);
}

#[test]
fn holds_hall_air_in_the_retention_hopper_wets_what_is_dry() {
    let charge = charge();
    let with = |air| {
        run(
            &machine(|dryer| {
                dryer.purge_air = air;
                dryer.vacuum_time = Duration::from_si(6.0 * 3600.0);
                dryer.retention_purge = MassFlow::from_si(if air == PurgeAir::Hall {
                    0.0
                } else {
                    dryer.retention_purge.si()
                });
            }),
            &charge,
        )
    };
    let wet = with(PurgeAir::Hall);
    let dry = with(stated().purge_air);
    assert!(wet.drawn.water > wet.evacuated.water + 2e-6, "{wet:?}");
    assert!(dry.drawn.water < wet.drawn.water - 2e-6);
}

#[test]
fn holds_pellets_that_wait_dry_on_as_far_as_their_purge_carries() {
    let charge = charge();
    let lost = |times: f64| {
        let machine = machine(|dryer| {
            dryer.retention_purge = MassFlow::from_si(dryer.retention_purge.si() * times);
        });
        let cycle = run(&machine, &charge);
        (cycle.evacuated.water - cycle.drawn.water, cycle.evacuated)
    };
    let ((little, before), (usual, _), (much, _)) = (lost(0.3), lost(1.0), lost(30.0));
    assert!(0.0 < little && little < usual && usual < much);
    // No more than air in balance with the pellets as they come in.
    let isotherm = &charge.column.contact.isotherm;
    let activity = isotherm.activity(before.temperature, before.water);
    let vapour = activity * air::saturation::over_liquid(before.temperature);
    let humidity = 0.622 * vapour / (DAY.pressure - vapour);
    let air = 0.3 * stated().retention_purge.si() + 1.2 / 700.0 * charge.feed.rate;
    let most = air / charge.feed.rate * humidity;
    assert!(little < most, "{little} {most}");
}

#[test]
fn holds_a_batch_lasts_as_long_as_the_slowest_of_its_vessels() {
    let mut charge = charge();
    let usual = run(&machine(|_| ()), &charge);
    assert!((usual.cycle_time - 2400.0).abs() < 1e-6 && usual.shortfalls.is_empty());
    assert!((usual.rate / charge.feed.rate - 1.0).abs() < 1e-12);
    assert!(usual.heating_time > 600.0 && usual.heating_time < 1800.0);
    assert!(usual.heated.coldest > charge.set_point - 5.0);
    charge.feed.rate *= 2.0;
    let pressed = run(&machine(|_| ()), &charge);
    assert!((pressed.cycle_time - 1920.0).abs() < 1e-6);
    let short = &pressed.shortfalls[0];
    assert_eq!(short.component, "vacuum vessel");
    assert!((short.asked - 50.0).abs() < 1e-9 && (short.given - 31.25).abs() < 1e-9);
    let slow = machine(|dryer| dryer.heating_air = MassFlow::from_si(0.01));
    let pressed = run(&slow, &charge);
    assert_eq!(pressed.shortfalls[0].component, "heating of the charge");
    assert!(pressed.cycle_time > 3000.0);
}

#[test]
fn holds_a_charge_that_stays_cold_is_told() {
    let weak = stated().machine(heater(0.3), &DAY).unwrap();
    let told: Vec<String> = run(&weak, &charge())
        .shortfalls
        .into_iter()
        .map(|short| short.component)
        .collect();
    assert!(
        told.contains(&"heater of the heating air".to_owned()),
        "{told:?}"
    );
}

#[test]
fn holds_steps_half_as_long_change_little() {
    // The same time under vacuum as the first part of one twice as long has steps twice as long.
    let charge = charge();
    let long = run(&bare(0.005, 2000.0, 3600.0), &charge);
    let short = run(&bare(0.005, 2000.0, 1800.0), &charge);
    let last = short.moments.last().unwrap();
    let near: Vec<_> = long
        .moments
        .windows(2)
        .filter(|pair| pair[0].time <= 1800.0 && pair[1].time > 1800.0)
        .collect();
    let (from, to) = (near[0][0], near[0][1]);
    let share = (1800.0 - from.time) / (to.time - from.time);
    let between = from.water * libm::exp(share * libm::log(to.water / from.water));
    assert!((between / last.water - 1.0).abs() < 2e-3);
}

#[test]
fn holds_what_cannot_be_is_refused() {
    let mut idle = charge();
    idle.feed.rate = 0.0;
    let one = machine(|_| ());
    assert!(matches!(
        one.cycle(&idle, &DAY),
        Err(LineError::NoDraw { .. })
    ));
    let mut bare = charge();
    bare.still = Vec::new();
    assert!(matches!(
        one.cycle(&bare, &DAY),
        Err(LineError::Kinds { .. })
    ));
    let takes = |change: &dyn Fn(&mut VacuumDryer)| {
        let mut dryer = stated();
        change(&mut dryer);
        dryer.machine(heater(6.0), &DAY).is_ok()
    };
    ends(&CHARGE_HOLDS, |x| {
        takes(&|dryer| dryer.charge = Mass::from_si(x))
    });
    ends(&VACUUM_TIME_HOLDS, |x| {
        takes(&|dryer| dryer.vacuum_time = Duration::from_si(x))
    });
    ends(&HANDLING_HOLDS, |x| {
        takes(&|dryer| dryer.handling = Duration::from_si(x))
    });
    ends(&LACKING_HOLDS, |x| {
        takes(&|dryer| dryer.lacking = TemperatureDifference::from_si(x))
    });
    let vessel = VesselSpec {
        free_volume: Volume::from_si(0.0),
        pump_speed: ActualVolumeFlow::from_si(0.01),
        end_pressure: AbsolutePressure::from_si(100.0),
        pump_power: Power::from_si(100.0),
        leak: 0.0,
    };
    assert!(vessel.check().is_err());
    assert!(matches!(one.dry_air, DryAir::Line(_)));
}

fn ends(range: &Range, takes: impl Fn(f64) -> bool) {
    assert!(takes(range.low) && takes(range.high), "{}", range.name);
    for value in [range.low - 1e-3, range.high * 1.001, f64::NAN] {
        assert!(!takes(value), "{} takes {value}", range.name);
    }
}
