//! What holds of the way between dryer and hopper.

use super::*;
use dryer::duct::{Duct, DuctSpec, Outside};
use dryer::leak::{Amount, LeakSpec, Pulse};
use quantity::{Area, Duration, HeatTransferCoefficient, Length};

/// A bare hose of 60 mm and so many metres, open by a share.
fn hose(length: f64, open: f64) -> Duct {
    DuctSpec {
        inner_diameter: Length::from_si(0.06),
        length: Length::from_si(length),
        layers: Vec::new(),
        outside: Outside::Coefficient(HeatTransferCoefficient::from_si(9.0)),
        roughness: Length::from_si(1e-3),
        fittings: 2.0,
        open: Fraction::from_si(open),
    }
    .check()
    .unwrap()
}

fn leak(amount: Amount, way: dryer::leak::Way, pulse: Option<(f64, f64)>) -> dryer::leak::Leak {
    let seconds = Duration::from_seconds;
    LeakSpec {
        amount,
        way,
        pulse: pulse.map(|(every, open_for)| Pulse {
            every: seconds(every),
            open_for: seconds(open_for),
        }),
    }
    .check()
    .unwrap()
}

fn share(share: f64) -> Amount {
    Amount::Share(Fraction::from_si(share))
}

/// Fifty square millimetres.
fn hole() -> Amount {
    Amount::Opening {
        area: Area::from_si(50e-6),
        discharge: Fraction::from_si(0.6),
    }
}

/// A loader that lets hall air in for 20 s of 10 minutes.
fn loader() -> dryer::leak::Leak {
    leak(share(0.3), dryer::leak::Way::Swap, Some((600.0, 20.0)))
}

fn with_way(mut line: Line, way: Way) -> Line {
    line.stations[0].way = way;
    line
}

fn compressed() -> Line {
    let equipment = usual::compressed_air_dryer(62.0 / 3600.0, ZERO_CELSIUS + 120.0);
    Line {
        maker: equipment.maker(62.0 / 3600.0, &DAY).unwrap(),
        ..open_air(0.0)
    }
}

fn leaky() -> [Way; 4] {
    let way = |there, back| Way {
        there: Some(hose(6.0, 1.0)),
        back: Some(hose(6.0, 1.0)),
        leak_there: there,
        leak_back: back,
        ..Way::default()
    };
    let out = leak(share(0.05), dryer::leak::Way::Out, None);
    let inward = leak(share(0.05), dryer::leak::Way::In, None);
    let hole = leak(hole(), dryer::leak::Way::Out, None);
    [
        way(Some(out), None),
        way(None, Some(inward)),
        way(Some(hole), Some(hole)),
        way(Some(out), Some(loader())),
    ]
}

#[test]
fn holds_hoses_and_leaks_lose_nothing_in_the_books() -> Result<(), LineError> {
    for way in leaky() {
        for line in [
            with_wheel(CoolingTo::Return),
            with_wheel(CoolingTo::Regeneration),
            towers::with_towers(1.2),
            open_air(0.5),
            compressed(),
        ] {
            let line = with_way(line, way.clone());
            closes(&line.steady(None)?.account);
            let blown = line.steady_as_blown(None)?;
            closes(&blown.account);
            assert!(
                blown
                    .account
                    .crossings
                    .iter()
                    .any(|c| c.name == "hose to hopper")
            );
        }
    }
    Ok(())
}

#[test]
fn exact_a_heater_at_the_dryer_gives_the_hopper_what_the_hose_leaves() -> Result<(), LineError> {
    let hose = hose(8.0, 1.0);
    let at = |heater| {
        let way = Way {
            there: Some(hose),
            heater,
            ..Way::default()
        };
        with_way(open_air(0.0), way).steady(None)
    };
    let [here, dryer, by_hopper] = [
        at(HeaterPlace::Hopper)?,
        at(HeaterPlace::Dryer)?,
        at(HeaterPlace::DryerByHopper)?,
    ];
    let station = |steady: &LineSteady| steady.stations[0].clone();
    let set_point = ZERO_CELSIUS + 120.0;
    let sent = station(&dryer).heated.outlet;
    let carried = hose.carry(&sent, DAY.pressure, DAY.temperature)?;
    let inlet = |steady: &LineSteady| station(steady).inlet.temperature;
    assert!((sent.temperature - set_point).abs() < 1e-9);
    assert!((inlet(&dryer) - carried.outlet.temperature).abs() < 1e-9);
    assert!((inlet(&here) - set_point).abs() < 1e-9);
    assert!((inlet(&by_hopper) - set_point).abs() < 1e-8);
    // 1.5 m2 of bare hose at 9 W/(m2 K) and 80 K: some 17 W/K carry the air.
    let lost = set_point - inlet(&dryer);
    assert!((20.0..60.0).contains(&lost), "{lost}");
    let power = |steady: &LineSteady| station(steady).heated.power;
    assert!(power(&here) < power(&by_hopper) && power(&dryer) < power(&by_hopper));
    let moisture = |steady: &LineSteady| station(steady).steady.outlet_moisture;
    assert!(moisture(&dryer) > 1.2 * moisture(&here));
    Ok(())
}

#[test]
fn exact_a_loader_swaps_its_share_of_the_return_for_hall_air() -> Result<(), LineError> {
    let way = Way {
        leak_back: Some(loader()),
        ..Way::default()
    };
    let steady = with_way(with_wheel(CoolingTo::Return), way).steady(None)?;
    let served = &steady.stations[0];
    // Three tenths for 20 s of 600 s.
    let swapped = 0.3 * 20.0 / 600.0;
    let mixed = served.steady.return_humidity * (1.0 - swapped) + DAY.humidity * swapped;
    assert!((steady.returned.humidity / mixed - 1.0).abs() < 1e-12);
    assert!((steady.returned.dry_air / served.inlet.dry_air - 1.0).abs() < 1e-12);
    Ok(())
}

#[test]
fn exact_what_leaks_before_the_hopper_is_made_up_from_the_hall() -> Result<(), LineError> {
    let out = leak(share(0.1), dryer::leak::Way::Out, None);
    let way = Way {
        leak_there: Some(out),
        ..Way::default()
    };
    let line = with_way(with_wheel(CoolingTo::Return), way);
    let steady = line.steady(None)?;
    let served = &steady.stations[0];
    let sent = line.stations[0].air_flow;
    assert!((served.inlet.dry_air / (0.9 * sent) - 1.0).abs() < 1e-12);
    assert!((steady.delivered.dry_air / sent - 1.0).abs() < 1e-12);
    let into = steady.account.crossings.iter();
    let made_up = into
        .filter(|c| c.name == "hall air leaking in")
        .map(|c| c.dry_air);
    // The leak of the dryer itself is 0.2 %.
    assert!((made_up.sum::<f64>() / (0.102 * sent) - 1.0).abs() < 1e-9);
    Ok(())
}

#[test]
fn holds_a_hose_pressed_flat_takes_air() {
    let shares = [1.0, 0.2, 0.1].map(|open| {
        let way = Way {
            there: Some(hose(6.0, open)),
            ..Way::default()
        };
        let line = with_way(with_wheel(CoolingTo::Return), way);
        let steady = line.steady_as_blown(None).unwrap();
        closes(&steady.account);
        steady.shares.process
    });
    assert!(
        (shares[0] - 1.0).abs() < 1e-12 && shares[2] < shares[1] && shares[2] < 0.8,
        "{shares:?}"
    );
}

#[test]
fn holds_a_run_follows_the_loader_and_closes_its_books() -> Result<(), LineError> {
    let way = Way {
        there: Some(hose(6.0, 1.0)),
        back: Some(hose(6.0, 1.0)),
        leak_there: Some(leak(share(0.02), dryer::leak::Way::Out, None)),
        leak_back: Some(loader()),
        heater: HeaterPlace::Dryer,
    };
    let line = with_way(coarse(&with_wheel(CoolingTo::Return)), way);
    let mut state = line.at_rest()?;
    let run = line.run(&mut state, 4.0 * 3600.0)?;
    assert!(run.water().imbalance() < 1e-9, "{:#?}", run.water());
    assert!(run.energy().imbalance() < 1e-9, "{:#?}", run.energy());
    let last = &run.moments[run.moments.len() - 40..];
    let returned = last.iter().map(|moment| moment.returned.humidity);
    let (low, high) = returned.fold((1.0_f64, 0.0_f64), |(low, high), y| {
        (low.min(y), high.max(y))
    });
    // Ten percent of hall air, 9 g/kg, in a step in which the flap is open, none in the others.
    assert!(high > low + 0.5e-3, "{low} {high}");
    Ok(())
}

#[test]
fn holds_a_run_as_blown_ends_where_it_rests() -> Result<(), LineError> {
    let mut dryer = wheel_loop(CoolingTo::Return);
    dryer.process.resistance = Resistance::of_rating(40e3, 0.02, 1.1, 1.9e-5, 0.5);
    let line = coarse(&Line {
        maker: Maker::Wheel(Box::new(dryer)),
        ..with_wheel(CoolingTo::Return)
    });
    let steady = line.steady_as_blown(None)?;
    let mut state = line.at_rest()?.as_blown();
    let run = line.run(&mut state, 40.0 * 3600.0)?;
    assert!(run.water().imbalance() < 1e-9, "{:#?}", run.water());
    assert!(run.energy().imbalance() < 1e-9, "{:#?}", run.energy());
    let (now, rest) = (state.shares().process, steady.shares.process);
    assert!(
        rest < 0.95 && (now / rest - 1.0).abs() < 1e-3,
        "{now} {rest}"
    );
    Ok(())
}
