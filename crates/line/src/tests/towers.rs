//! What holds of a line with twin towers.

use super::*;
use crate::equipment::Machine;
use dryer::towers::{Cycle, Ending, Swap};

const HOUR: f64 = 3600.0;

/// The usual towers for the trial station with tight valves, cooled for so many hours, 0.9 of the capacity left.
pub(super) fn with_towers(cooling: f64) -> Line {
    let station = station("hopper");
    let (flow, hot) = (station.air_flow, station.set_point);
    let mut equipment = usual::tower_dryer(flow, hot, zeolite());
    if let Machine::Towers(dryer) = &mut equipment.machine {
        dryer.bed.cycle.cooling = Ending::After(cooling * HOUR);
        dryer.bed.bypass = [Fraction::from_si(0.0); 2];
    }
    Line {
        maker: equipment.maker(flow, &DAY).unwrap(),
        stations: vec![station],
        room: DAY,
    }
}

fn switched(line: &Line, change: impl Fn(&mut Cycle)) -> Line {
    let mut line = line.clone();
    if let Maker::Towers(dryer) = &mut line.maker {
        let mut cycle = dryer.towers.spec.cycle;
        change(&mut cycle);
        dryer.towers = dryer.towers.switched(cycle).unwrap();
    }
    line
}

#[test]
fn holds_towers_close_their_books_at_rest() -> Result<(), LineError> {
    for cooling in [0.0, 1.2] {
        let steady = with_towers(cooling).steady(None)?;
        closes(&steady.account);
        assert!(steady.shortfalls.is_empty(), "{:?}", steady.shortfalls);
        if cooling > 0.0 {
            let point = frost_point(&steady.delivered);
            assert!((-75.0..-45.0).contains(&point), "{point}");
        }
    }
    let by_dew_point = switched(&with_towers(1.2), |cycle| {
        cycle.swap = Swap::DewPoint {
            limit: ZERO_CELSIUS - 45.0,
            earliest: HOUR,
            latest: 8.0 * HOUR,
        };
    });
    closes(&by_dew_point.steady(None)?.account);
    Ok(())
}

/// Runs two days, then one cycle: supply temperature and frost point, and moisture of the resin leaving.
struct Swung {
    /// Degrees Celsius, and frost point.
    hottest: f64,
    wettest: f64,
    settled: (f64, f64),
    moisture: (f64, f64),
}

fn swung(line: &Line) -> Result<Swung, LineError> {
    let mut state = line.at_rest()?;
    let run = line.run(&mut state, 48.0 * HOUR)?;
    assert!(run.water().imbalance() < 1e-9, "{:#?}", run.water());
    assert!(run.energy().imbalance() < 1e-9, "{:#?}", run.energy());
    let run = line.run(&mut state, 8.0 * HOUR)?;
    let supply = run.moments.iter().map(|moment| moment.delivered);
    let supply: Vec<(f64, f64)> = supply
        .map(|air| (air.temperature - ZERO_CELSIUS, frost_point(&air)))
        .collect();
    let over = |values: Vec<f64>| {
        let low = values.iter().copied().fold(f64::INFINITY, f64::min);
        (
            low,
            values.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        )
    };
    let dried = run
        .moments
        .iter()
        .filter_map(|moment| moment.stations[0].parcel.map(|parcel| parcel.water));
    Ok(Swung {
        hottest: over(supply.iter().map(|air| air.0).collect()).1,
        wettest: over(supply.iter().map(|air| air.1).collect()).1,
        settled: supply[180],
        moisture: over(dried.collect()),
    })
}

#[test]
fn holds_the_swap_is_seen_in_the_supply_and_hardly_in_the_pellets() -> Result<(), LineError> {
    for (cooling, hottest, wettest, swing) in [
        // Cooled to the end: 24 K and 11 K above what it settles at, 0.1 % of the moisture.
        (1.2, 40.0..70.0, -70.0..-60.0, 0.0..0.005),
        // Cooled too short: a slug of some minutes; 2 %.
        (0.35, 120.0..190.0, -35.0..-15.0, 0.005..0.05),
        // Not cooled: regeneration air enters the hopper, and it is its heat that the pellets notice.
        (0.0, 220.0..231.0, -1.0..0.1, 0.3..0.9),
    ] {
        let line = with_towers(cooling);
        let seen = swung(&line)?;
        let (low, high) = seen.moisture;
        assert!(
            hottest.contains(&seen.hottest),
            "{cooling} h: {}",
            seen.hottest
        );
        assert!(
            wettest.contains(&seen.wettest),
            "{cooling} h: {}",
            seen.wettest
        );
        let share = 1.0 - low / high;
        assert!(swing.contains(&share), "{cooling} h: {low} to {high}");
        assert!((30.0..33.0).contains(&seen.settled.0) && seen.settled.1 < -70.0);
        if cooling > 1.0 {
            let rest = line.steady(None)?.stations[0].steady.outlet_moisture;
            // Nine steps to a parcel in time and one at rest: 36 parcels part them by 4 %.
            assert!((rest / high - 1.0).abs() < 0.06, "{rest} {high}");
        }
    }
    Ok(())
}

#[test]
fn holds_a_leaking_valve_of_one_tower_shows_in_its_half_cycle() -> Result<(), LineError> {
    let mut line = with_towers(1.2);
    if let Maker::Towers(dryer) = &mut line.maker {
        let mut spec = dryer.towers.spec.clone();
        spec.bypass = [0.0, 0.05];
        dryer.towers = spec.check()?;
    }
    closes(&line.steady(None)?.account);
    let mut state = line.at_rest()?;
    line.run(&mut state, 24.0 * HOUR)?;
    let run = line.run(&mut state, 8.0 * HOUR)?;
    let at = |hours: f64| {
        let moment = run.moments.iter().find(|m| m.time >= (24.0 + hours) * HOUR);
        frost_point(&moment.unwrap().delivered)
    };
    assert!(at(6.0) > at(2.0) + 15.0, "{} {}", at(2.0), at(6.0));
    Ok(())
}
