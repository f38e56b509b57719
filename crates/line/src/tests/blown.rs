//! What holds of the flows that blowers really move.

use super::*;
use crate::equipment::{Equipment, Machine};
use dryer::filter::{FilterSpec, FilterState};
use quantity::{Area, Velocity};

/// A dryer for the trial station with its process and its regeneration filter clogged so many times.
fn clogged(mut equipment: Equipment, clogging: (f64, f64)) -> Line {
    let (process, regeneration) = match &mut equipment.machine {
        Machine::Wheel(dryer) => (&mut dryer.process, &mut dryer.regeneration),
        Machine::Towers(dryer) => (&mut dryer.process, &mut dryer.regeneration),
        Machine::HotAir(_) | Machine::Compressed(_) => unreachable!("not tried here"),
    };
    process.blowing.clogging = clogging.0;
    regeneration.blowing.clogging = clogging.1;
    let station = station("hopper");
    Line {
        maker: equipment.maker(station.air_flow, &DAY).unwrap(),
        stations: vec![station],
        room: DAY,
    }
}

fn wheel() -> Equipment {
    let station = station("hopper");
    usual::wheel_dryer(station.air_flow, station.set_point, zeolite())
}

fn towers() -> Equipment {
    let station = station("hopper");
    usual::tower_dryer(station.air_flow, station.set_point, zeolite())
}

fn dried(steady: &LineSteady) -> f64 {
    steady.stations[0].steady.outlet_moisture
}

#[test]
fn holds_ample_blowers_move_what_is_wanted() -> Result<(), LineError> {
    for line in [
        clogged(wheel(), (1.0, 1.0)),
        clogged(towers(), (1.0, 1.0)),
        open_air(0.5),
        with_wheel(CoolingTo::Return),
    ] {
        let (wanted, blown) = (line.steady(None)?, line.steady_as_blown(None)?);
        assert_eq!(blown.shares, Shares::WANTED);
        let ratio = blown.delivered.humidity / wanted.delivered.humidity;
        assert!((ratio - 1.0).abs() < 1e-9, "{ratio}");
        let apart = blown.returned.temperature - wanted.returned.temperature;
        assert!(apart.abs() < 1e-7, "{apart}");
        assert!(blown.rounds <= wanted.rounds + 2);
    }
    Ok(())
}

#[test]
fn holds_a_filter_that_clogs_lets_less_air_through_and_the_pellets_stay_wetter()
-> Result<(), LineError> {
    for equipment in [wheel(), towers()] {
        let (mut share, mut moisture) = (1.0, 0.0);
        for clogging in [1.0, 10.0, 20.0, 40.0, 80.0] {
            let line = clogged(equipment.clone(), (clogging, 1.0));
            let steady = line.steady_as_blown(None)?;
            closes(&steady.account);
            assert!(steady.change <= 1e-9);
            let now = steady.shares.process;
            assert!(
                now < share || (now - 1.0).abs() < 1e-12,
                "{clogging}: {now} {share}"
            );
            assert!((steady.shares.regeneration - 1.0).abs() < 1e-12);
            share = now;
            let told = steady
                .shortfalls
                .iter()
                .any(|s| s.what == "flow of dry air");
            assert_eq!(told, share < 0.999, "{:?}", steady.shortfalls);
            assert!(dried(&steady) >= moisture, "{clogging}");
            moisture = dried(&steady);
            // What the wanted flow takes of rounds, three times at most.
            let rounds = line.steady(None)?.rounds;
            assert!(steady.rounds <= 3 * rounds, "{} of {rounds}", steady.rounds);
        }
        assert!(share < 0.6, "{share}");
    }
    Ok(())
}

#[test]
fn holds_a_clogged_regeneration_filter_takes_the_dryness() -> Result<(), LineError> {
    let sound = supply(&with_wheel(CoolingTo::Return));
    let (mut share, mut point) = (1.0, sound);
    for drop in [20e3, 100e3] {
        let mut dryer = wheel_loop(CoolingTo::Return);
        dryer.regeneration.resistance = Resistance::of_rating(drop, 0.005, 1.2, 1.8e-5, 0.5);
        let line = Line {
            maker: Maker::Wheel(Box::new(dryer)),
            ..with_wheel(CoolingTo::Return)
        };
        let steady = line.steady_as_blown(None)?;
        closes(&steady.account);
        assert!((steady.shares.process - 1.0).abs() < 1e-12);
        assert!(steady.shares.regeneration < share);
        (share, point) = (steady.shares.regeneration, frost_point(&steady.delivered));
    }
    // With half of the air this wheel is drier still, being cooler at its dry end; then it is starved.
    assert!(share < 0.2 && point > sound + 10.0, "{share}: {point}");
    Ok(())
}

/// Hot air once through a way that goes with the square of the flow, by a blower at its own speed.
fn fixed(turning: Turning, drop: f64) -> Line {
    let mut spec = usual::blower(62.0 / 3600.0, 3000.0);
    spec.turning = turning;
    let mut line = open_air(0.0);
    line.stations[0].resistance = Resistance::of_rating(drop, 0.02, 1.0, 2.1e-5, 0.0);
    line.maker = Maker::OpenAir(OpenAir {
        recirculated: 0.0,
        resistance: Resistance::of_rating(0.2 * drop, 0.02, 1.2, 1.8e-5, 0.0),
        fan: Fan {
            name: "blower",
            blower: spec.check().unwrap(),
            control: FlowControl::Fixed,
        },
    });
    line
}

#[test]
fn exact_a_blower_without_a_damper_moves_air_where_two_parabolas_meet() -> Result<(), LineError> {
    for drop in [100.0, 1500.0, 6000.0] {
        let line = fixed(Turning::Forwards, drop);
        let steady = line.steady_as_blown(None)?;
        let hall = DAY.air(1.0);
        let (volume, density) = (hall.volume_flow(DAY.pressure), hall.density(DAY.pressure));
        // Both margins of the usual blower are 1.6, its curve is that of 1.2 kg/m3.
        let (shut_off, free) = (1.6 * 3000.0, 1.6 * 62.0 / 3600.0 / 1.2);
        let hot = hall.at(line.stations[0].set_point);
        let hot = Stream {
            humidity: steady.returned.humidity,
            ..hot
        };
        let (hot_volume, hot_density) = (hot.volume_flow(DAY.pressure), hot.density(DAY.pressure));
        let square = drop / (0.02 * 0.02) * hot_density * hot_volume * hot_volume
            + 0.2 * drop / (1.2 * 0.02 * 0.02) * density * volume * volume;
        let lift = shut_off * density / 1.2;
        let flow = (lift / (square + lift * (volume / free) * (volume / free))).sqrt();
        let ratio = steady.stations[0].inlet.dry_air / flow;
        assert!((ratio - 1.0).abs() < 1e-9, "{ratio}");
        closes(&steady.account);
    }
    let share = |drop| fixed(Turning::Forwards, drop).steady_as_blown(None);
    let (little, much) = (share(100.0)?, share(6000.0)?);
    assert!(little.shares.process > 1.3 && much.shares.process < 0.9);
    Ok(())
}

#[test]
fn exact_a_blower_turned_backwards_moves_its_share() -> Result<(), LineError> {
    let backwards = Turning::Backwards(Fraction::from_si(0.45));
    let right = fixed(Turning::Forwards, 1500.0).steady_as_blown(None)?;
    let wrong = fixed(backwards, 1500.0).steady_as_blown(None)?;
    let ratio = wrong.shares.process / right.shares.process;
    // The hopper's way is asked with the humidity that comes back, which moves density by a thousandth.
    assert!((ratio / 0.45 - 1.0).abs() < 1e-3, "{ratio}");
    closes(&wrong.account);
    Ok(())
}

#[test]
fn holds_what_lets_no_air_through_is_said() {
    let steady = clogged(wheel(), (1e9, 1.0)).steady_as_blown(None);
    assert!(
        matches!(
            steady,
            Err(LineError::Blocked { .. } | LineError::Hopper { .. })
        ),
        "{:?}",
        steady.map(|steady| steady.shares)
    );
}

#[test]
fn holds_dust_on_a_filter_takes_the_air_week_by_week() -> Result<(), LineError> {
    let filter = FilterSpec {
        area: Area::from_si(0.3),
        rated_velocity: Velocity::from_si(0.06),
        clean_drop: PressureDifference::from_si(300.0),
        laminar_share: Fraction::from_si(0.7),
        cake_resistance: 1e11,
        retention: Fraction::from_si(0.99),
        limit: PressureDifference::from_si(2000.0),
        left_by_cleaning: Fraction::from_si(0.1),
    };
    let filter = filter.check().unwrap();
    let Machine::Wheel(dryer) = wheel().machine else {
        unreachable!("the wheel dryer has a wheel")
    };
    let (mut dust, mut share) = (FilterState::default(), 1.0);
    let (mut guess, mut clogging) = (None, 1.0);
    for week in 0..6 {
        let rated = dryer.process.rated_flow.si();
        let now = dryer
            .process
            .blowing
            .clogged_by(&filter, &dust, rated, &DAY)?;
        assert!(now > clogging || week == 0);
        clogging = now;
        let steady = clogged(wheel(), (clogging, 1.0)).steady_as_blown(guess.as_ref())?;
        assert!(steady.shares.process <= share + 1e-12);
        share = steady.shares.process;
        let volume = steady.returned.volume_flow(DAY.pressure);
        // Two milligrams a cubic metre, invented.
        dust = filter.load(&dust, volume, 2e-6, 7.0 * 86_400.0)?.0;
        guess = Some(steady.guess);
    }
    assert!(share < 0.9, "{share} at {clogging}");
    Ok(())
}

#[test]
fn exact_compressed_air_gives_no_more_than_it_is_rated_for() -> Result<(), LineError> {
    let station = station("hopper");
    let flow = station.air_flow;
    let mut equipment = usual::compressed_air_dryer(flow, station.set_point);
    let line = |equipment: &Equipment| Line {
        maker: equipment.maker(flow, &DAY).unwrap(),
        stations: vec![station.clone()],
        room: DAY,
    };
    let free = line(&equipment).steady_as_blown(None)?;
    assert_eq!(free.shares, Shares::WANTED);
    assert!(
        free.shortfalls
            .iter()
            .all(|short| short.what != "flow of dry air")
    );
    let Machine::Compressed(spec) = &mut equipment.machine else {
        unreachable!("it is compressed air");
    };
    spec.most = Some(MassFlow::from_si(0.4 * flow));
    let held = line(&equipment).steady_as_blown(None)?;
    closes(&held.account);
    assert!((held.shares.process - 0.4).abs() < 1e-9);
    assert!((held.delivered.dry_air / flow - 0.4).abs() < 1e-9);
    let short = &held.shortfalls[0];
    assert_eq!(
        (short.component.as_str(), short.what),
        ("compressed air", "flow of dry air")
    );
    assert!((short.asked / 3600.0 - flow).abs() < 1e-9 * flow);
    assert!((short.given / short.asked - 0.4).abs() < 1e-9);
    assert!(dried(&held) > dried(&free), "less air dries less");
    // As much as is asked is enough.
    let Machine::Compressed(spec) = &mut equipment.machine else {
        unreachable!("it is compressed air");
    };
    spec.most = Some(MassFlow::from_si(flow));
    let enough = line(&equipment).steady_as_blown(None)?;
    assert!(
        enough
            .shortfalls
            .iter()
            .all(|short| short.what != "flow of dry air")
    );
    Ok(())
}
