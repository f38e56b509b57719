//! What holds of a cooler.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use super::*;
use crate::asked::trials::at_the_ends;
use quantity::{Area, FoulingResistance};

const ATMOSPHERE: f64 = 101_325.0;
const WET: Stream = Stream {
    dry_air: 0.05,
    temperature: 343.15,
    humidity: 0.03,
};
const WATER: Coolant = Coolant {
    capacity_flow: 400.0,
    temperature: 288.15,
};

fn spec() -> CoolerSpec {
    CoolerSpec {
        air_conductance: ThermalConductance::from_si(150.0),
        coolant_conductance: ThermalConductance::from_si(600.0),
        rated_flow: MassFlow::from_si(0.05),
        flow_exponent: Fraction::from_si(0.6),
        fouling: Fouling::Clean,
    }
}

#[test]
fn exact_the_steps_give_the_closed_form_when_dry() {
    let air = Stream {
        humidity: 0.005,
        ..WET
    };
    let cooler = spec().check().unwrap();
    let closed = cooler.cool(&air, &WATER, ATMOSPHERE).unwrap();
    let wall = Wall {
        air: 150.0,
        coolant: 600.0,
        pressure: ATMOSPHERE,
        dry_air: 0.05,
        capacity_flow: 400.0,
    };
    let stepped = wet(
        &wall,
        Cooled {
            heat: 0.0,
            ..closed
        },
    )
    .unwrap();
    assert!((stepped.heat / closed.heat - 1.0).abs() < 1e-7);
    assert!(closed.drain.abs() < 1e-15 && stepped.drain.abs() < 1e-15);
    assert!((stepped.outlet.temperature - closed.outlet.temperature).abs() < 1e-5);
}

#[test]
fn exact_a_huge_wall_leaves_saturated_air_at_the_coolant() {
    let huge = CoolerSpec {
        air_conductance: ThermalConductance::from_si(2000.0),
        coolant_conductance: ThermalConductance::from_si(1e5),
        ..spec()
    };
    let much = Coolant {
        capacity_flow: 1e5,
        ..WATER
    };
    let cooled = huge.check().unwrap().cool(&WET, &much, ATMOSPHERE).unwrap();
    assert!((cooled.outlet.temperature - 288.15).abs() < 0.05);
    let held = saturated(cooled.outlet.temperature, ATMOSPHERE);
    assert!((cooled.outlet.humidity / held - 1.0).abs() < 1e-3);
    assert!(cooled.wet_share > 0.9);
}

#[test]
fn holds_water_and_energy_close() {
    let cooler = spec().check().unwrap();
    for humidity in [0.001, 0.011, 0.02, 0.04, 0.1] {
        for temperature in [278.15, 288.15, 330.0] {
            for capacity_flow in [30.0, 60.0, 4000.0] {
                let air = Stream { humidity, ..WET };
                let coolant = Coolant {
                    capacity_flow,
                    temperature,
                };
                let cooled = cooler.cool(&air, &coolant, ATMOSPHERE).unwrap();
                assert!(cooled.energy().imbalance() < 1e-11);
                assert!(cooled.water().imbalance() < 1e-11);
                let warmed = capacity_flow * (cooled.coolant_outlet - temperature);
                assert!((warmed - cooled.heat).abs() < 1e-7 * cooled.heat.abs());
                let held = saturated(cooled.outlet.temperature, ATMOSPHERE);
                assert!(cooled.outlet.humidity <= held * (1.0 + 1e-9));
                assert!(cooled.drain >= 0.0);
            }
        }
    }
}

#[test]
fn holds_finer_steps_change_little() {
    let wall = Wall {
        air: 150.0,
        coolant: 600.0,
        pressure: ATMOSPHERE,
        dry_air: 0.05,
        capacity_flow: 400.0,
    };
    let start = Along {
        enthalpy: caloric::enthalpy(WET.temperature, WET.humidity),
        humidity: WET.humidity,
        coolant: 300.0,
        drain_heat: 0.0,
    };
    let (coarse, fine) = (wall.pass(start, STEPS.0).0, wall.pass(start, 2000.0).0);
    // Where the wall turns dry the method loses its order: 1.5e-5 is left.
    assert!((coarse.humidity - fine.humidity).abs() < 3e-5 * WET.humidity);
    assert!((coarse.enthalpy - fine.enthalpy).abs() < 10.0);
}

#[test]
fn holds_dirt_costs_and_scale_lies_on_the_other_side() {
    let outlet = |fouling| {
        let cooler = CoolerSpec { fouling, ..spec() }.check().unwrap();
        cooler
            .cool(&WET, &WATER, ATMOSPHERE)
            .unwrap()
            .outlet
            .temperature
    };
    let clean = outlet(Fouling::Clean);
    let dust = outlet(Fouling::Share(Fraction::from_si(0.5)));
    let scale = outlet(Fouling::Layer {
        resistance: FoulingResistance::from_si(0.002),
        area: Area::from_si(0.5),
    });
    assert!(dust > clean + 2.0 && scale > clean + 2.0);
}

#[test]
fn holds_winter_air_freezes_and_no_flow_does_nothing() {
    let winter = Coolant {
        capacity_flow: 400.0,
        temperature: 253.15,
    };
    let cooler = spec().check().unwrap();
    let cooled = cooler
        .cool(&WET.at(293.15).of(0.02), &winter, ATMOSPHERE)
        .unwrap();
    assert!(cooled.freezes && cooled.drain > 0.0);
    let still = Coolant {
        capacity_flow: 0.0,
        ..WATER
    };
    let same = cooler.cool(&WET, &still, ATMOSPHERE).unwrap();
    assert!(same.outlet == WET && same.heat.abs() < 1e-12);
    // Warm coolant heats the air and drains nothing.
    let warm = Coolant {
        temperature: 363.15,
        ..WATER
    };
    let heated = cooler.cool(&WET, &warm, ATMOSPHERE).unwrap();
    assert!(heated.heat < 0.0 && heated.drain.abs() < 1e-15);
}

#[test]
fn holds_ranges_at_their_ends_and_bad_numbers_refused() {
    let cooler = spec().check().unwrap();
    at_the_ends(&COOLANT_HOLDS, |x| {
        let coolant = Coolant {
            temperature: x + ZERO_CELSIUS,
            ..WATER
        };
        cooler.cool(&WET, &coolant, ATMOSPHERE).is_ok()
    });
    at_the_ends(&COOLANT_FLOW_HOLDS, |capacity_flow| {
        let coolant = Coolant {
            capacity_flow,
            ..WATER
        };
        cooler.cool(&WET, &coolant, ATMOSPHERE).is_ok()
    });
    assert!(cooler.cool(&WET.at(f64::NAN), &WATER, ATMOSPHERE).is_err());
    assert!(cooler.cool(&WET, &WATER, f64::NAN).is_err());
    let wrong = CoolerSpec {
        air_conductance: ThermalConductance::from_si(0.0),
        rated_flow: MassFlow::from_si(f64::NAN),
        fouling: Fouling::Share(Fraction::from_si(1.0)),
        ..spec()
    };
    assert_eq!(wrong.check().unwrap_err().len(), 3);
}
