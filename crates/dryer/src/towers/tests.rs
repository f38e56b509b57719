//! What holds of towers.

use super::*;
use crate::sorption::tests::zeolite;
use crate::sorption::{Beads, Way};
use crate::{DryerError, Stream};
use quantity::constants::ZERO_CELSIUS;

const HOUR: f64 = 3600.0;

/// By the clock: drying, regeneration and cooling in hours.
fn by_clock(drying: f64, regeneration: f64, cooling: f64) -> Cycle {
    Cycle {
        swap: Swap::Clock(drying * HOUR),
        regeneration: Ending::After(regeneration * HOUR),
        cooling: Ending::After(cooling * HOUR),
        cooling_way: Way::Along,
        stuck: None,
    }
}

/// Beds of 13X, 0.5 m deep, of beads of 2.5 mm.
fn spec(cycle: Cycle) -> TowersSpec {
    TowersSpec {
        diameter: 0.4,
        depth: 0.5,
        beads: Beads {
            diameter: 2.5e-3,
            voidage: 0.37,
        },
        bulk_density: 680.0,
        capacity_left: 1.0,
        bead_heat: 950.0,
        vessel_steel: 0.0,
        pore_diffusivity: Some(3e-6),
        cycle,
        bypass: [0.0; 2],
        pressure: 101_325.0,
        sorbent: zeolite().clone(),
        mesh: TowersMesh::COARSE,
    }
}

/// Process 0.42 kg/(s m2), 45 degC, 4 g/kg; regeneration 0.3, 230 degC, 10 g/kg; cooling 0.3, 30 degC.
fn drive(towers: &Towers) -> TowersDrive {
    let air = |flow: f64, celsius: f64, humidity: f64| Stream {
        dry_air: flow * towers.face,
        temperature: ZERO_CELSIUS + celsius,
        humidity,
    };
    TowersDrive {
        process: air(0.42, 45.0, 0.004),
        regeneration: air(0.30, 230.0, 0.010),
        cooling: air(0.30, 30.0, 0.010),
    }
}

fn steady_of(cycle: Cycle) -> Result<(Towers, TowersDrive, TowersSteady), DryerError> {
    let towers = spec(cycle).check()?;
    let drive = drive(&towers);
    let steady = towers.steady(&drive, None)?;
    Ok((towers, drive, steady))
}

/// Water and heat in less out over a cycle, over what comes in.
fn imbalance(drive: &TowersDrive, steady: &TowersSteady) -> (f64, f64) {
    let (one, two) = steady.running;
    let into = [
        drive.process,
        drive.regeneration.of(drive.regeneration.dry_air * one),
        drive.cooling.of(drive.cooling.dry_air * two),
    ];
    let out = [steady.mean, steady.exhaust, steady.cooling];
    let sum = |of: fn(&Stream) -> f64, airs: &[Stream]| -> f64 { airs.iter().map(of).sum() };
    (
        1.0 - sum(Stream::water, &out) / sum(Stream::water, &into),
        1.0 - sum(Stream::heat, &out) / sum(Stream::heat, &into),
    )
}

#[test]
fn holds_a_cycle_closes() -> Result<(), DryerError> {
    let by_air = Cycle {
        swap: Swap::DewPoint {
            limit: ZERO_CELSIUS - 45.0,
            earliest: HOUR,
            latest: 12.0 * HOUR,
        },
        regeneration: Ending::Outlet {
            temperature: ZERO_CELSIUS + 200.0,
            latest: 4.0 * HOUR,
        },
        cooling: Ending::Outlet {
            temperature: ZERO_CELSIUS + 60.0,
            latest: 2.0 * HOUR,
        },
        ..by_clock(4.0, 2.5, 1.2)
    };
    for (cycle, found) in [
        (by_clock(4.0, 2.5, 1.2), Repeats::Newton),
        (by_air, Repeats::Cycling),
    ] {
        let (_, drive, steady) = steady_of(cycle)?;
        assert_eq!(steady.found, found, "{}", steady.residual);
        let (water, heat) = imbalance(&drive, &steady);
        assert!(water.abs() < 1e-9 && heat.abs() < 1e-9, "{water} {heat}");
    }
    Ok(())
}

#[test]
fn holds_what_air_ends_is_met_between_steps() -> Result<(), DryerError> {
    let by_air = Cycle {
        regeneration: Ending::Outlet {
            temperature: ZERO_CELSIUS + 180.0,
            latest: 4.0 * HOUR,
        },
        ..by_clock(6.0, 2.5, 1.2)
    };
    let lasts = |mesh: TowersMesh| -> Result<f64, DryerError> {
        let towers = spec(by_air).check()?.resolved(mesh)?;
        let steady = towers.steady(&drive(&towers), None)?;
        assert_eq!(steady.found, Repeats::Cycling);
        Ok(steady.halves[0].regenerated.seconds.0)
    };
    let coarse = TowersMesh::COARSE;
    let exact = lasts(TowersMesh {
        growth: 0.05,
        longest: 0.1,
        ..coarse
    })?;
    // Steps of a minute and two, met to some seconds.
    for longest in [1.7, 2.0, 2.3, 3.0] {
        let now = lasts(TowersMesh { longest, ..coarse })?;
        assert!((now - exact).abs() < 8.0, "{longest}: {now} {exact}");
    }
    Ok(())
}

#[test]
fn holds_towers_in_time_close_and_end_in_the_cycle_that_repeats() -> Result<(), DryerError> {
    let (towers, drive, steady) = steady_of(by_clock(4.0, 2.5, 1.2))?;
    let mut state = towers.at_rest(293.15, 0.008)?;
    let mut last = Vec::new();
    // Neither whole stages nor whole halves.
    for seconds in [7.0, 1234.5, 9.5 * HOUR, 0.3, 46.0 * HOUR] {
        let before = (towers.water(&state), towers.heat(&state));
        let passed = towers.advance(&mut state, &drive, seconds)?;
        let into = |air: &Stream, running: f64| air.of(air.dry_air * running / seconds);
        let ins = [
            drive.process,
            into(&drive.regeneration, passed.running.0),
            into(&drive.cooling, passed.running.1),
        ];
        let outs = [passed.dry, passed.exhaust, passed.cooling];
        let gain = |of: fn(&Stream) -> f64| {
            let sum = |airs: &[Stream]| airs.iter().map(of).sum::<f64>();
            (sum(&ins) - sum(&outs)) * seconds
        };
        let water = gain(Stream::water) - (towers.water(&state) - before.0);
        let heat = gain(Stream::heat) - (towers.heat(&state) - before.1);
        assert!(
            water.abs() < 1e-9 * towers.water(&state),
            "{seconds}: {water}"
        );
        assert!(
            heat.abs() < 1e-9 * towers.heat(&state).abs(),
            "{seconds}: {heat}"
        );
        last.push(passed.swaps);
    }
    assert_eq!(last, [0, 0, 2, 0, 11]);
    let whole = 8.0 * HOUR;
    let rest = whole - libm::fmod(1241.8 + 55.5 * HOUR, whole);
    towers.advance(&mut state, &drive, rest)?;
    let passed = towers.advance(&mut state, &drive, whole)?;
    let ratio = passed.dry.humidity / steady.mean.humidity;
    // Steps are cut at other places.
    assert!((ratio - 1.0).abs() < 2e-3, "{ratio}");
    let ratio = towers.water(&state) / towers.water(&steady.state);
    assert!((ratio - 1.0).abs() < 1e-4, "{ratio}");
    Ok(())
}

#[test]
fn holds_newton_finds_what_cycles_end_in() -> Result<(), DryerError> {
    let (towers, drive, steady) = steady_of(by_clock(4.0, 2.5, 0.35))?;
    let mut state = towers.at_rest(293.15, 0.008)?;
    let mut half = towers.half(&mut state, &drive)?;
    for _ in 0..31 {
        half = towers.half(&mut state, &drive)?;
    }
    let found = &steady.halves[1].outlet;
    assert!((half.outlet.mean.humidity / found.mean.humidity - 1.0).abs() < 1e-7);
    assert!((half.outlet.hottest - found.hottest).abs() < 1e-6);
    Ok(())
}

#[test]
fn holds_the_second_half_is_the_first_with_the_towers_exchanged() -> Result<(), DryerError> {
    let (towers, drive, steady) = steady_of(by_clock(4.0, 2.5, 1.0))?;
    let mut state = steady.state.clone();
    for told in &steady.halves {
        let run = towers.half(&mut state, &drive)?;
        assert_eq!(run.drying, told.drying);
        assert_eq!(run.moments.len(), told.moments.len());
        for (run, told) in run.moments.iter().zip(&told.moments) {
            assert_eq!(run.clock.drying, told.clock.drying);
            // What a cycle that settled to 1e-9 leaves.
            assert!((run.dry.humidity / told.dry.humidity - 1.0).abs() < 1e-6);
            assert!((run.dry.temperature - told.dry.temperature).abs() < 1e-5);
        }
    }
    Ok(())
}

#[test]
fn holds_cooling_tames_the_swap() -> Result<(), DryerError> {
    let mut seen = Vec::new();
    for cooling in [0.0, 0.35, 1.2] {
        let (_, _, steady) = steady_of(by_clock(4.0, 2.5, cooling))?;
        let [one, two] = &steady.halves;
        assert!((one.outlet.hottest - two.outlet.hottest).abs() < 1e-6);
        seen.push(one.outlet);
    }
    let celsius = |kelvin: f64| kelvin - ZERO_CELSIUS;
    // None: the first air is as hot as the regeneration and wetter than its inlet.
    assert!(celsius(seen[0].hottest) > 220.0, "{:?}", seen[0]);
    assert!(celsius(seen[0].wettest_dew_point) > 5.0, "{:?}", seen[0]);
    assert!(
        (-35.0..-20.0).contains(&celsius(seen[0].dew_point)),
        "{:?}",
        seen[0]
    );
    assert!((600.0..2400.0).contains(&seen[0].hot_for), "{:?}", seen[0]);
    // Some: a short warm slug.
    assert!(
        (85.0..130.0).contains(&celsius(seen[1].hottest)),
        "{:?}",
        seen[1]
    );
    assert!(
        seen[1].wet_for < seen[0].hot_for && seen[1].wet_for > 0.0,
        "{:?}",
        seen[1]
    );
    // Enough: neither hot nor wet by more than 10 K.
    assert!(
        seen[2].hot_for < 1.0 && seen[2].wet_for < 1.0,
        "{:?}",
        seen[2]
    );
    assert!(celsius(seen[2].wettest_dew_point) < -50.0, "{:?}", seen[2]);
    Ok(())
}

#[test]
fn holds_cooling_against_the_drying_wets_the_dry_end() -> Result<(), DryerError> {
    let against = Cycle {
        cooling_way: Way::Against,
        ..by_clock(4.0, 2.5, 1.2)
    };
    let (_, _, along) = steady_of(by_clock(4.0, 2.5, 1.2))?;
    let (_, _, against) = steady_of(against)?;
    let of = |steady: &TowersSteady| steady.halves[0].outlet.settled.1;
    // Hall air leaves its water where the dried air comes out.
    assert!(of(&against) > of(&along) + 10.0);
    Ok(())
}

#[test]
fn holds_dry_cooling_air_wets_nothing_whichever_way() -> Result<(), DryerError> {
    let mut settled = Vec::new();
    for way in [Way::Along, Way::Against] {
        let cycle = Cycle {
            cooling_way: way,
            ..by_clock(4.0, 2.5, 1.2)
        };
        let towers = spec(cycle).check()?;
        // A share of the dried air, cooled again.
        let cooling = Stream {
            temperature: ZERO_CELSIUS + 45.0,
            humidity: 8e-6,
            ..drive(&towers).cooling
        };
        let drive = TowersDrive {
            cooling,
            ..drive(&towers)
        };
        settled.push(towers.steady(&drive, None)?.halves[0].outlet.settled.1 - ZERO_CELSIUS);
    }
    assert!(settled.iter().all(|point| *point < -58.0), "{settled:?}");
    assert!((settled[0] - settled[1]).abs() < 3.0, "{settled:?}");
    Ok(())
}

#[test]
fn holds_an_overrun_lets_the_water_through() -> Result<(), DryerError> {
    let (_, _, steady) = steady_of(by_clock(9.0, 2.5, 1.2))?;
    let half = &steady.halves[0];
    let at = |hours: f64| {
        let moment = half.moments.iter().find(|m| m.time >= hours * HOUR);
        moment.map_or(f64::NAN, |moment| {
            crate::condensation_temperature(moment.dry.humidity, 101_325.0) - ZERO_CELSIUS
        })
    };
    let seen: Vec<f64> = [4.5, 5.5, 6.5, 7.5, 8.8].map(at).to_vec();
    assert!(seen.windows(2).all(|two| two[1] > two[0]), "{seen:?}");
    assert!(seen[0] < -55.0 && seen[4] > -20.0, "{seen:?}");
    Ok(())
}

#[test]
fn holds_a_leaking_valve_spoils_one_half_cycle() -> Result<(), DryerError> {
    let towers = TowersSpec {
        bypass: [0.0, 0.02],
        ..spec(by_clock(4.0, 2.5, 1.2))
    }
    .check()?;
    let drive = drive(&towers);
    let steady = towers.steady(&drive, None)?;
    assert_eq!(steady.found, Repeats::Newton);
    let [sound, leaking] = &steady.halves;
    let apart = leaking.outlet.dew_point - sound.outlet.dew_point;
    assert!(apart > 15.0, "{apart}");
    // Two in a hundred of 4 g/kg.
    assert!((leaking.outlet.mean.humidity - 8e-5).abs() < 2e-5);
    let (water, heat) = imbalance(&drive, &steady);
    assert!(water.abs() < 1e-9 && heat.abs() < 1e-9, "{water} {heat}");
    Ok(())
}

#[test]
fn holds_a_stuck_valve_lets_the_air_through_in_the_end() -> Result<(), DryerError> {
    let stuck = Cycle {
        stuck: Some(1),
        ..by_clock(4.0, 2.5, 1.2)
    };
    let (towers, drive, steady) = steady_of(stuck)?;
    assert_eq!(steady.found, Repeats::Stuck);
    assert!((steady.mean.humidity / 0.004 - 1.0).abs() < 1e-6);
    assert!((steady.mean.temperature - drive.process.temperature).abs() < 1e-4);
    let mut state = towers.at_rest(293.15, 0.008)?;
    let passed = towers.advance(&mut state, &drive, 48.0 * HOUR)?;
    assert_eq!((passed.swaps, state.clock().drying), (0, 1));
    Ok(())
}

#[test]
fn holds_ageing_brings_the_swap_sooner_cycle_by_cycle() -> Result<(), DryerError> {
    let cycle = Cycle {
        swap: Swap::DewPoint {
            limit: ZERO_CELSIUS - 45.0,
            earliest: HOUR,
            latest: 24.0 * HOUR,
        },
        ..by_clock(4.0, 2.5, 1.2)
    };
    let (towers, drive, steady) = steady_of(cycle)?;
    let mut last = f64::INFINITY;
    let mut before: Option<Breakthrough> = None;
    for left in [1.0, 0.9, 0.8, 0.7] {
        let aged = towers.aged(left)?;
        let steady = aged.steady(&drive, Some(&steady.guess))?;
        let lasts = steady.halves[0].duration;
        assert!(lasts < 0.95 * last, "{left}: {lasts} of {last}");
        // The air swaps at the dew point asked.
        let swapped = steady.halves[0].outlet.last_dew_point - ZERO_CELSIUS;
        assert!((swapped + 45.0).abs() < 0.5, "{swapped}");
        let comes = aged.breakthrough(&steady.state, &drive, ZERO_CELSIUS - 45.0)?;
        assert!(
            (comes.usable / lasts - 1.0).abs() < 0.01,
            "{comes:?} {lasts}"
        );
        assert!(comes.half < comes.stoichiometric * 1.02, "{comes:?}");
        if let Some(before) = before {
            assert!(comes.stoichiometric < 0.95 * before.stoichiometric);
        }
        (last, before) = (lasts, Some(comes));
    }
    Ok(())
}

#[test]
fn holds_the_end_of_regeneration_is_seen_in_its_air() -> Result<(), DryerError> {
    let (_, drive, steady) = steady_of(by_clock(4.0, 2.5, 1.2))?;
    let regenerated = &steady.halves[0].regenerated;
    let plateau = (
        regenerated.plateau.0 - ZERO_CELSIUS,
        regenerated.plateau.1 - ZERO_CELSIUS,
    );
    assert!(
        (60.0..90.0).contains(&plateau.0) && (30.0..45.0).contains(&plateau.1),
        "{plateau:?}"
    );
    let signal = regenerated.end_signal.unwrap_or(f64::NAN);
    assert!((0.6 * HOUR..1.8 * HOUR).contains(&signal), "{signal}");
    assert!(drive.regeneration.temperature - regenerated.last_temperature < 5.0);
    assert!(!regenerated.cut_short);
    // Air gives its heat once: some 8 to 20 MJ for a kg of water.
    let heat = regenerated.heat_per_water(&drive.regeneration, ZERO_CELSIUS + 20.0);
    assert!((8e6..2e7).contains(&heat), "{heat}");
    // Too little time for both stages is told.
    let (_, _, hurried) = steady_of(by_clock(2.0, 2.5, 1.2))?;
    assert!(hurried.halves[0].regenerated.cut_short);
    Ok(())
}

#[test]
fn holds_a_finer_mesh_tells_the_same() -> Result<(), DryerError> {
    let (towers, drive, coarse) = steady_of(by_clock(4.0, 2.5, 0.35))?;
    let fine = towers.resolved(TowersMesh::FINE)?.steady(&drive, None)?;
    let finest = towers.resolved(TowersMesh {
        slices: 96,
        growth: 0.1,
        longest: 1.0,
    })?;
    let finest = finest.steady(&drive, None)?;
    let off = |steady: &TowersSteady| {
        let (one, best) = (&steady.halves[0].outlet, &finest.halves[0].outlet);
        (
            one.settled.1 - best.settled.1,
            one.dew_point - best.dew_point,
        )
    };
    let (coarse, fine) = (off(&coarse), off(&fine));
    assert!(fine.0.abs() < 0.2 && fine.1.abs() < 0.3, "{fine:?}");
    assert!(coarse.0.abs() < 1.0 && coarse.1.abs() < 1.0, "{coarse:?}");
    Ok(())
}

#[test]
fn holds_numbers_that_cannot_be_are_refused() {
    let refused = |change: &dyn Fn(&mut TowersSpec)| {
        let mut spec = spec(by_clock(4.0, 2.5, 1.2));
        change(&mut spec);
        spec.check().is_err()
    };
    assert!(!refused(&|_| ()));
    assert!(refused(&|spec| spec.depth = f64::NAN));
    assert!(refused(&|spec| spec.beads.voidage = 0.9));
    assert!(refused(&|spec| spec.bypass[1] = 1.1));
    assert!(refused(&|spec| spec.cycle.swap = Swap::Clock(0.0)));
    assert!(refused(&|spec| spec.cycle.cooling = Ending::After(-1.0)));
    assert!(refused(&|spec| spec.cycle.stuck = Some(2)));
}

#[test]
fn holds_picture_can_be_drawn() -> Result<(), DryerError> {
    let (towers, _, steady) = steady_of(by_clock(4.0, 2.5, 0.35))?;
    let figure = towers.over_a_cycle(&steady);
    assert_eq!(figure.check(), Ok(()));
    assert!(figure.title.contains("settles at 5"), "{}", figure.title);
    Ok(())
}
