//! What holds of a heater.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use super::*;
use crate::asked::trials::at_the_ends;

const AIR: Stream = Stream {
    dry_air: 0.05,
    temperature: 333.15,
    humidity: 1e-4,
};
const SET: f64 = 393.15;

fn spec() -> HeaterSpec {
    HeaterSpec {
        power: Power::from_si(4500.0),
        elements: 3,
        lost: 0,
        control: Control::Integral,
        outlet_limit: Temperature::from_celsius(200.0),
        element: None,
    }
}

fn switched(band: f64, lag: f64, dead: f64) -> HeaterSpec {
    HeaterSpec {
        control: Control::OnOff {
            band: TemperatureDifference::from_si(band),
            time_constant: Duration::from_si(lag),
            dead_time: Duration::from_si(dead),
        },
        ..spec()
    }
}

#[test]
fn exact_elements_lost_leave_their_share() {
    // 60 K x 0.05 kg/s need 3.02 kW: two of three elements do not do it by 0.02 kW.
    let outlet = |lost| {
        let heater = HeaterSpec { lost, ..spec() }.check().unwrap();
        heater.heat(&AIR, SET).unwrap()
    };
    let (all, two, one, none) = (outlet(0), outlet(1), outlet(2), outlet(3));
    assert!(all.short_by < 1e-12 && all.bound == Bound::None);
    assert!((two.power - 3000.0).abs() < 1e-9 && two.bound == Bound::Power);
    assert!((one.short_by - (60.0 - 1500.0 / AIR.heat_capacity())).abs() < 1e-9);
    assert!(none.power.abs() < 1e-12 && (none.short_by - 60.0).abs() < 1e-12);
    for heated in [all, two, one, none] {
        assert!(heated.energy().imbalance() < 1e-12);
    }
}

#[test]
fn exact_droop_of_a_proportional_band() {
    let heater = HeaterSpec {
        control: Control::Proportional {
            band: TemperatureDifference::from_si(10.0),
        },
        ..spec()
    }
    .check()
    .unwrap();
    let heated = heater.heat(&AIR, SET).unwrap();
    let asked = 4500.0 * (SET + 5.0 - heated.outlet.temperature) / 10.0;
    assert!((heated.power / asked - 1.0).abs() < 1e-10);
    assert!(heated.bound == Bound::None && heated.short_by > 1.0);
}

#[test]
fn exact_cycle_against_small_steps_in_time() {
    let heater = switched(4.0, 60.0, 5.0).check().unwrap();
    let heated = heater.heat(&AIR, SET).unwrap();
    let cycle = heated.cycle.unwrap();
    let hot = AIR.temperature + 4500.0 / AIR.heat_capacity();
    // Exact decay over steps of 1 ms, the relay one dead time behind.
    let step = 1e-3_f64;
    let fade = (-step / 60.0).exp();
    let (mut outlet, mut on, mut pending) = (AIR.temperature, true, Vec::<(f64, bool)>::new());
    let (mut low, mut high, mut sum, mut count) = (f64::MAX, f64::MIN, 0.0, 0.0);
    let mut wanted = true;
    for index in 0..1_200_000_u32 {
        let time = f64::from(index) * step;
        let seen = if outlet > SET + 2.0 {
            false
        } else if outlet < SET - 2.0 {
            true
        } else {
            wanted
        };
        if seen != wanted {
            wanted = seen;
            pending.push((time + 5.0, seen));
        }
        if pending.first().is_some_and(|(at, _)| time >= *at) {
            on = pending.remove(0).1;
        }
        let target = if on { hot } else { AIR.temperature };
        outlet = target + (outlet - target) * fade;
        if time > 600.0 {
            (low, high) = (low.min(outlet), high.max(outlet));
            sum += outlet;
            count += 1.0;
        }
    }
    assert!((low - cycle.low).abs() < 2e-3, "{low} {}", cycle.low);
    assert!((high - cycle.high).abs() < 2e-3, "{high} {}", cycle.high);
    // Ten minutes hold no whole number of cycles: a part of one in some twelve.
    assert!((sum / count - cycle.mean).abs() < 0.3);
    assert!((heated.power / 4500.0 - cycle.on / (cycle.on + cycle.off)).abs() < 1e-12);
    assert!(heated.energy().imbalance() < 1e-12);
}

#[test]
fn holds_a_heater_that_cannot_switch_stays_on_or_off() {
    let weak = HeaterSpec {
        power: Power::from_si(1000.0),
        ..switched(4.0, 60.0, 5.0)
    };
    let heated = weak.check().unwrap().heat(&AIR, SET).unwrap();
    assert!(heated.cycle.is_none() && heated.bound == Bound::Power);
    let warm = switched(4.0, 60.0, 5.0).check().unwrap();
    let heated = warm.heat(&AIR.at(SET - 1.0), SET).unwrap();
    assert!(heated.power.abs() < 1e-12 && heated.bound == Bound::None);
}

#[test]
fn holds_a_switching_heater_tells_a_limit_that_it_passes() {
    let strong = HeaterSpec {
        power: Power::from_si(40_000.0),
        outlet_limit: Temperature::from_celsius(140.0),
        ..switched(4.0, 60.0, 5.0)
    };
    let heated = strong.check().unwrap().heat(&AIR, SET).unwrap();
    assert!(heated.cycle.unwrap().high > 413.15 && heated.bound == Bound::OutletLimit);
    let calm = HeaterSpec {
        outlet_limit: Temperature::from_celsius(250.0),
        ..strong
    };
    let heated = calm.check().unwrap().heat(&AIR, SET).unwrap();
    assert!(heated.bound == Bound::None);
}

#[test]
fn holds_limits_of_outlet_and_element() {
    let limited = HeaterSpec {
        outlet_limit: Temperature::from_celsius(100.0),
        ..spec()
    };
    let heated = limited.check().unwrap().heat(&AIR, SET).unwrap();
    assert!(heated.bound == Bound::OutletLimit && (heated.short_by - 20.0).abs() < 1e-9);
    let with_element = HeaterSpec {
        element: Some(ElementSpec {
            conductance: ThermalConductance::from_si(20.0),
            rated_flow: MassFlow::from_si(0.05),
            limit: Temperature::from_celsius(300.0),
        }),
        ..spec()
    };
    let heater = with_element.check().unwrap();
    let full = heater.heat(&AIR, SET).unwrap();
    assert!(full.bound == Bound::None && full.element.unwrap() < 573.15);
    // Starved of air: less heat is asked for, and still the element is at its limit.
    let starved = heater.heat(&AIR.of(0.002), 513.15).unwrap();
    assert!(starved.bound == Bound::OutletLimit || starved.bound == Bound::ElementLimit);
    let hot = heater.heat(&AIR.of(0.1).at(400.0), 470.0).unwrap();
    assert!(hot.bound == Bound::Power || hot.bound == Bound::ElementLimit);
    assert!(hot.element.unwrap() < 573.15 + 1e-9);
}

#[test]
fn holds_no_flow_no_power_and_no_cooling() {
    let heater = spec().check().unwrap();
    let still = heater.heat(&AIR.of(0.0), SET).unwrap();
    assert!(still.bound == Bound::NoFlow && still.power.abs() < 1e-12);
    let warm = heater.heat(&AIR.at(SET + 1.0), SET).unwrap();
    assert!(warm.bound == Bound::TooWarm && warm.outlet == warm.inlet);
}

#[test]
fn holds_a_figure_that_can_be_drawn() {
    let heater = switched(4.0, 60.0, 5.0).check().unwrap();
    let figure = heater.figure(&AIR, SET).unwrap().unwrap();
    assert!(figure.check().is_ok());
    assert!(spec().check().unwrap().figure(&AIR, SET).unwrap().is_none());
}

#[test]
fn holds_ranges_at_their_ends_and_every_mistake_told() {
    let with = |change: &dyn Fn(&mut HeaterSpec)| {
        let mut spec = switched(4.0, 60.0, 5.0);
        spec.element = Some(ElementSpec {
            conductance: ThermalConductance::from_si(20.0),
            rated_flow: MassFlow::from_si(0.05),
            limit: Temperature::from_celsius(300.0),
        });
        change(&mut spec);
        spec.check().is_ok()
    };
    let control = |band, lag, dead| switched(band, lag, dead).control;
    at_the_ends(&HEATER_POWER_HOLDS, |x| {
        with(&|spec| spec.power = Power::from_si(x))
    });
    at_the_ends(&BAND_HOLDS, |x| {
        with(&|spec| spec.control = control(x, 60.0, 5.0))
    });
    at_the_ends(&LAG_HOLDS, |x| {
        with(&|spec| spec.control = control(4.0, x, 5.0))
    });
    at_the_ends(&DEAD_TIME_HOLDS, |x| {
        with(&|spec| spec.control = control(4.0, 60.0, x))
    });
    at_the_ends(&ELEMENT_LIMIT_HOLDS, |x| {
        with(&|spec| spec.element.as_mut().unwrap().limit = Temperature::from_celsius(x))
    });
    at_the_ends(&ELEMENT_CONDUCTANCE_HOLDS, |x| {
        with(&|spec| {
            spec.element.as_mut().unwrap().conductance = ThermalConductance::from_si(x);
        })
    });
    let heater = spec().check().unwrap();
    at_the_ends(&SET_POINT_HOLDS, |x| {
        heater.heat(&AIR, x + ZERO_CELSIUS).is_ok()
    });
    assert!(with(&|spec| (spec.elements, spec.lost) = (100, 0)));
    assert!(!with(&|spec| (spec.elements, spec.lost) = (101, 0)));
    assert!(!with(&|spec| (spec.elements, spec.lost) = (0, 0)));
    assert!(ELEMENTS_HOLDS.contains(1.0) && !with(&|spec| (spec.elements, spec.lost) = (2, 3)));
    let wrong = HeaterSpec {
        power: Power::from_si(f64::NAN),
        lost: 4,
        ..switched(-1.0, 60.0, 5.0)
    };
    assert_eq!(wrong.check().unwrap_err().len(), 3);
}
