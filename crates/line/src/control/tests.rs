//! What a control does with what it sees.

use super::*;

fn control() -> Control {
    Control {
        set_point: 393.15,
        air_flow: 0.02,
        rate: 0.007,
        demand_heat: 12.0,
        wall: 2.0,
        shortfall: 0.3,
        sense: Sense::ReturnAir,
        lag: 600.0,
        least_air: Some(0.3),
        setback: Some(Setback {
            temperature: 353.15,
            below: 0.2,
            after: 1200.0,
            above: 0.4,
        }),
        ramp: 1.0,
        off: Vec::new(),
        hold: Some(3600.0),
        regeneration: 453.15,
        bake_out: None,
        usual_return: 0.01,
        warn: Warn {
            humidity: 1e-3,
            difference: 5.0,
            after: 600.0,
        },
    }
}

/// A minute in which the hopper was drawn at a share of the planned rate.
fn seen(control: &Control, time: f64, share: f64) -> Seen {
    let (inlet, hall, feed, air_heat) = (control.set_point, 295.0, 290.0, 20.1);
    let left = share * control.demand_heat * (inlet - feed) + control.wall * (inlet - hall);
    Seen {
        time,
        duration: 60.0,
        inlet,
        returned: inlet - left / air_heat,
        hall,
        feed,
        air_heat,
        along: inlet - share * control.shortfall * (inlet - feed),
        taken: share * control.rate * 60.0,
        filled: share * control.rate * 60.0,
        told: share * control.rate,
        delivered: 1e-4,
        return_humidity: 2e-3,
        on: true,
    }
}

#[test]
fn exact_every_sense_finds_the_demand_it_was_given() {
    for sense in [
        Sense::ReturnAir,
        Sense::HopperTemperatures,
        Sense::LoaderCycles,
        Sense::Level,
        Sense::Told,
    ] {
        let control = Control { sense, ..control() };
        for share in [0.0, 0.35, 1.0] {
            let found = control.sensed(&seen(&control, 0.0, share));
            assert!((found - share).abs() < 1e-12, "{sense:?} {found}");
        }
    }
}

#[test]
fn holds_it_is_set_back_after_its_wait_and_recovers() {
    let control = control();
    let mut state = ControlState::begin(&control, true);
    let mut first_back = None;
    for minute in 0..120 {
        let time = 60.0 * f64::from(minute);
        let orders = control.step(&mut state, &seen(&control, time, 0.0));
        if orders.mode == Mode::SetBack && first_back.is_none() {
            first_back = Some(time);
        }
    }
    // The lag takes 600 ln 5 = 966 s to a fifth, and twenty minutes are waited from there.
    let back = first_back.unwrap_or(0.0);
    assert!((back - 2166.0).abs() < 180.0, "{back}");
    let orders = control.step(&mut state, &seen(&control, 7200.0, 0.0));
    assert!((orders.set_point - 353.15).abs() < 1e-9 && orders.released);
    assert!((orders.air_flow / control.air_flow - 1.0).abs() < 1e-9 || orders.air_flow < 0.02);
    let mut recovered = None;
    for minute in 0..60 {
        let time = 7200.0 + 60.0 * f64::from(minute);
        let orders = control.step(&mut state, &seen(&control, time, 1.0));
        if orders.mode == Mode::Drying && recovered.is_none() {
            recovered = Some(time - 7200.0);
        }
    }
    // 600 ln(1/0.6) = 306 s.
    let recovered = recovered.unwrap_or(0.0);
    assert!((recovered - 306.0).abs() < 90.0, "{recovered}");
}

#[test]
fn holds_nothing_is_given_out_until_it_was_hot_for_as_long_as_asked() {
    let control = Control {
        off: vec![(0.0, 600.0)],
        ..control()
    };
    let mut state = ControlState::begin(&control, true);
    let mut released = None;
    for minute in 0..200 {
        let time = 60.0 * f64::from(minute);
        let warm = time > 1800.0;
        let mut now = seen(&control, time, 1.0);
        now.on = time >= 600.0;
        if !warm {
            now.inlet = 330.0;
        }
        let orders = control.step(&mut state, &now);
        assert_eq!(orders.on, time >= 600.0, "{time}");
        if orders.released && released.is_none() {
            released = Some(time);
        }
    }
    let released = released.unwrap_or(0.0);
    assert!((released - 5400.0).abs() < 121.0, "{released}");
}

#[test]
fn holds_a_weak_desiccant_is_baked_out_and_a_wet_return_is_not_blamed_on_it() {
    let baking = |return_humidity: f64, every: Option<f64>| {
        let control = Control {
            bake_out: Some(BakeOut {
                every,
                above: Some(5e-4),
                temperature: 503.15,
                time: 1800.0,
            }),
            ..control()
        };
        let mut state = ControlState::begin(&control, true);
        let mut minutes = 0;
        for minute in 0..600 {
            let mut now = seen(&control, 60.0 * f64::from(minute), 1.0);
            now.delivered = 1e-3;
            now.return_humidity = return_humidity;
            let orders = control.step(&mut state, &now);
            minutes += usize::from(orders.regeneration > 500.0);
        }
        minutes
    };
    // Ten hours hold three bake-outs of half an hour with two hours between.
    assert_eq!(baking(2e-3, None), 120);
    assert_eq!(baking(2e-2, None), 0);
    assert_eq!(baking(2e-2, Some(4.0 * 3600.0)), 60);
}

#[test]
fn holds_it_warns_only_of_what_lasts() {
    let control = control();
    let mut state = ControlState::begin(&control, true);
    let mut warned = Vec::new();
    for minute in 0..40 {
        let mut now = seen(&control, 60.0 * f64::from(minute), 1.0);
        now.delivered = if (5..=20).contains(&minute) {
            1e-4
        } else {
            2e-3
        };
        warned.push(control.step(&mut state, &now).warns.0);
    }
    assert!(!warned[..30].iter().any(|&warns| warns));
    assert!(warned[30..].iter().all(|&warns| warns));
}

#[test]
fn holds_a_setback_without_a_wait_comes_at_once_and_only_when_demand_is_low() {
    let mut control = control();
    control.lag = 0.0;
    control.setback = control.setback.map(|setback| Setback {
        after: 0.0,
        ..setback
    });
    let mut state = ControlState::begin(&control, true);
    for minute in 0..30 {
        let share = if (10..20).contains(&minute) { 0.0 } else { 1.0 };
        let time = 60.0 * f64::from(minute);
        let orders = control.step(&mut state, &seen(&control, time, share));
        let back = orders.mode == Mode::SetBack;
        assert_eq!(back, share < 0.5, "{minute}");
    }
}
