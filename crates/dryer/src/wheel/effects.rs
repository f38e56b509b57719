//! What a wheel must show, whatever its numbers.

use super::tests::{drive, sectors, spec};
use super::*;
use crate::DryerError;
use crate::sorption::Way;
use proptest::prelude::*;
use quantity::constants::ZERO_CELSIUS;

/// Dew point of the process air with the spec and the drive changed, degC.
fn dew_point(
    change: impl Fn(&mut WheelSpec),
    other: impl Fn(&mut WheelDrive),
) -> Result<f64, DryerError> {
    Ok(solved(change, other)?.1.outlets[0].dew_point - ZERO_CELSIUS)
}

fn solved(
    change: impl Fn(&mut WheelSpec),
    other: impl Fn(&mut WheelDrive),
) -> Result<(WheelDrive, WheelSteady), DryerError> {
    let mut spec = WheelSpec {
        mesh: Mesh::COARSE,
        ..spec()
    };
    change(&mut spec);
    let wheel = spec.check()?;
    let mut drive = drive(&wheel);
    other(&mut drive);
    let steady = wheel.steady(&drive, None)?;
    assert_eq!(steady.outlets.len(), drive.air.len());
    Ok((drive, steady))
}

/// Process and cooling air of another humidity.
fn load(drive: &mut WheelDrive, humidity: f64) {
    for (k, air) in drive.air.iter_mut().enumerate() {
        if k != 1 {
            air.humidity = humidity;
        }
    }
}

fn same(_: &mut WheelSpec) {}

#[test]
fn holds_there_is_a_best_speed() -> Result<(), DryerError> {
    let at = |turns: f64| dew_point(same, |drive| drive.turns_per_hour = turns);
    let (crawling, right, quick, fast) = (at(0.5)?, at(5.0)?, at(8.0)?, at(24.0)?);
    assert!(crawling > right + 20.0, "{crawling} {right}");
    assert!((quick - right).abs() < 1.0, "{quick} {right}");
    assert!(fast > right + 10.0, "{fast} {right}");
    Ok(())
}

#[test]
fn holds_a_kelvin_of_regeneration_is_a_third_of_dew_point() -> Result<(), DryerError> {
    let at = |k: f64| dew_point(same, |drive| drive.air[1].temperature += k);
    let slope = (at(10.0)? - at(-10.0)?) / 20.0;
    assert!((-0.36..=-0.24).contains(&slope), "{slope}");
    Ok(())
}

#[test]
fn holds_a_kelvin_of_entering_air_is_half_of_dew_point() -> Result<(), DryerError> {
    let at = |k: f64| {
        dew_point(same, |drive| {
            drive.air[0].temperature += k;
            drive.air[2].temperature += k;
        })
    };
    let slope = (at(20.0)? - at(0.0)?) / 20.0;
    assert!((0.4..=0.6).contains(&slope), "{slope}");
    Ok(())
}

#[test]
fn holds_load_is_a_cliff() -> Result<(), DryerError> {
    let at = |humidity: f64| dew_point(same, |drive| load(drive, humidity));
    let (light, heavy, over) = (at(0.001)?, at(0.003)?, at(0.006)?);
    assert!(heavy - light < 5.0, "{light} {heavy}");
    assert!(over - heavy > 30.0, "{heavy} {over}");
    Ok(())
}

#[test]
fn holds_regeneration_needs_air_enough() -> Result<(), DryerError> {
    let at = |share: f64| {
        dew_point(same, |drive| {
            load(drive, 0.003);
            drive.air[1].dry_air *= share;
        })
    };
    let (half, full, more) = (at(0.4)?, at(1.0)?, at(1.5)?);
    assert!(
        half > full + 10.0 && full > more - 0.1,
        "{half} {full} {more}"
    );
    Ok(())
}

#[test]
fn holds_a_little_cooling_is_enough_and_none_is_not() -> Result<(), DryerError> {
    let at = |percent: f64| {
        let (_, steady) = solved(
            |spec| spec.sectors = sectors(80.0 - percent, 20.0, percent),
            |_| {},
        )?;
        let out = steady.outlets[0];
        Ok::<_, DryerError>((
            out.dew_point - ZERO_CELSIUS,
            out.wettest_dew_point - ZERO_CELSIUS,
            out.hottest - ZERO_CELSIUS,
        ))
    };
    let (none, little, usual) = (at(0.0)?, at(5.0)?, at(10.0)?);
    assert!(
        none.0 > usual.0 + 20.0 && none.1 > 0.0 && none.2 > 150.0,
        "{none:?}"
    );
    assert!(
        (little.0 - usual.0).abs() < 0.5 && little.1 < -40.0,
        "{little:?}"
    );
    Ok(())
}

#[test]
fn holds_ageing_hides_until_the_cliff() -> Result<(), DryerError> {
    let at = |left: f64| dew_point(|spec| spec.capacity_left = left, |drive| load(drive, 0.003));
    let (new, used, worn) = (at(1.0)?, at(0.8)?, at(0.5)?);
    assert!(used - new < 2.5, "{new} {used}");
    assert!(worn - new > 25.0, "{new} {worn}");
    Ok(())
}

#[test]
fn holds_a_standing_wheel_dries_nothing_and_a_crawling_one_little() -> Result<(), DryerError> {
    let (drive, still) = solved(same, |drive| drive.turns_per_hour = 0.0)?;
    assert_eq!(still.found, Found::Standing);
    for (air, out) in drive.air.iter().zip(&still.outlets) {
        assert!((out.mean.humidity / air.humidity - 1.0).abs() < 1e-12);
        assert!((out.mean.temperature - air.temperature).abs() < 1e-9);
    }
    let (drive, crawling) = solved(same, |drive| drive.turns_per_hour = 2e-3)?;
    let share = crawling.outlets[0].mean.humidity / drive.air[0].humidity;
    assert!((share - 1.0).abs() < 0.01, "{share}");
    Ok(())
}

#[test]
fn holds_a_stopped_wheel_loads_up_in_time() -> Result<(), DryerError> {
    let wheel = WheelSpec {
        mesh: Mesh::COARSE,
        ..spec()
    }
    .check()?;
    let mut drive = drive(&wheel);
    let mut state = wheel.steady(&drive, None)?.state;
    drive.turns_per_hour = 0.0;
    let dry = wheel.advance(&mut state, &drive, 180.0)?.outlets[0].humidity;
    wheel.advance(&mut state, &drive, 100.0 * 3600.0)?;
    let wet = wheel.advance(&mut state, &drive, 3600.0)?.outlets[0].humidity;
    assert!(dry < 0.0005, "{dry}");
    assert!((wet / 0.002 - 1.0).abs() < 1e-3, "{wet}");
    Ok(())
}

#[test]
fn holds_a_lost_heater_is_no_dryer() -> Result<(), DryerError> {
    let cold = dew_point(same, |drive| drive.air[1].temperature = 298.15)?;
    // It now carries the hall's water to the air it should dry, which came with -8 degC.
    assert!(cold > -8.0, "{cold}");
    Ok(())
}

#[test]
fn holds_the_fastest_wheel_is_solved() -> Result<(), DryerError> {
    for turns in [60.0, 400.0, 2000.0] {
        let (drive, steady) = solved(same, |drive| drive.turns_per_hour = turns)?;
        assert_eq!(steady.found, Found::Newton, "{turns}");
        let water: f64 = drive.air.iter().map(crate::Stream::water).sum();
        let out: f64 = steady.outlets.iter().map(|out| out.mean.water()).sum();
        assert!((out / water - 1.0).abs() < 1e-8, "{turns} {out} {water}");
    }
    Ok(())
}

#[test]
fn holds_regeneration_against_the_process_air_dries_better() -> Result<(), DryerError> {
    let against = dew_point(same, |_| {})?;
    let along = dew_point(|spec| spec.sectors[1].way = Way::Along, |_| {})?;
    assert!(along > against + 3.0, "{along} {against}");
    Ok(())
}

#[test]
fn holds_a_dense_sheet_dries_worse() -> Result<(), DryerError> {
    let free = dew_point(same, |_| {})?;
    let usual = dew_point(|spec| spec.pore_diffusivity = Some(2e-6), |_| {})?;
    let dense = dew_point(|spec| spec.pore_diffusivity = Some(2e-7), |_| {})?;
    assert!(
        free <= usual + 1e-6 && usual < dense - 2.0,
        "{free} {usual} {dense}"
    );
    Ok(())
}

#[test]
fn holds_air_left_in_the_channels_comes_through() -> Result<(), DryerError> {
    let at = |carry: bool, cooling: f64| {
        dew_point(
            |spec| {
                spec.channels_carry_air = carry;
                spec.sectors = sectors(80.0 - cooling, 20.0, cooling);
            },
            |_| {},
        )
    };
    // With a cooling sector between, the air carried is nearly dry; 0.1 K.
    let rise = at(true, 10.0)? - at(false, 10.0)?;
    assert!(rise > 0.0 && rise < 0.5, "{rise}");
    Ok(())
}

#[test]
fn holds_a_leak_is_a_mixture() -> Result<(), DryerError> {
    // 0.1, 0.5 and 1 % of air of 10 g/kg into air of -57.4 degC.
    let from = |share: f64| {
        solved(
            |spec| {
                spec.leaks = vec![Leak {
                    from: (1, End::Inlet),
                    into: (0, End::Outlet),
                    share,
                }];
            },
            |_| {},
        )
    };
    let (_, sound) = from(0.0)?;
    let dry = sound.outlets[0].mean.humidity;
    for (share, expected) in [(1e-4, -56.9), (1e-3, -51.9), (5e-3, -42.5), (1e-2, -37.1)] {
        let (drive, leaking) = from(share)?;
        let mixed = (dry + share * 0.010) / (1.0 + share);
        let out = leaking.outlets[0];
        // The leak takes 1 % of regeneration's flow at most, which the dry end feels a little.
        assert!((out.mean.humidity / mixed - 1.0).abs() < 0.02, "{share}");
        let dew_point = out.dew_point - ZERO_CELSIUS;
        assert!((dew_point - expected).abs() < 0.4, "{share}: {dew_point}");
        let water: f64 = drive.air.iter().map(crate::Stream::water).sum();
        let gone: f64 = leaking.outlets.iter().map(|out| out.mean.water()).sum();
        assert!((gone / water - 1.0).abs() < 1e-9);
    }
    Ok(())
}

#[test]
fn holds_the_wheel_refuses_what_it_cannot_have() -> Result<(), DryerError> {
    assert!(
        WheelSpec {
            depth: 0.0,
            ..spec()
        }
        .check()
        .is_err()
    );
    assert!(
        WheelSpec {
            sectors: sectors(80.0, 20.0, 10.0),
            ..spec()
        }
        .check()
        .is_err()
    );
    let back = Leak {
        from: (0, End::Outlet),
        into: (1, End::Inlet),
        share: 0.01,
    };
    assert!(
        WheelSpec {
            leaks: vec![back],
            ..spec()
        }
        .check()
        .is_err()
    );
    let wheel = spec().check()?;
    for (temperature, humidity) in [(f64::NAN, 0.01), (700.0, 0.01), (300.0, -1.0), (300.0, 0.5)] {
        let mut drive = drive(&wheel);
        (drive.air[0].temperature, drive.air[0].humidity) = (temperature, humidity);
        assert!(wheel.steady(&drive, None).is_err());
    }
    Ok(())
}

#[test]
fn holds_reserve_ends_where_the_dew_point_has_risen() -> Result<(), DryerError> {
    let wheel = WheelSpec {
        mesh: Mesh::COARSE,
        ..spec()
    }
    .check()?;
    let drive = drive(&wheel);
    let now = wheel.steady(&drive, None)?;
    let reserve = wheel.reserve(&drive, &now)?;
    assert!(reserve.reached && reserve.solves <= 12, "{reserve:?}");
    let mut loaded = drive.clone();
    load(&mut loaded, reserve.humidity);
    let there = wheel.steady(&loaded, Some(&now.guess))?;
    let rise = there.outlets[0].dew_point - now.outlets[0].dew_point;
    // Half a per cent of the load is half a kelvin there.
    assert!((rise - CLIFF_RISE).abs() < 1.0, "{rise}");
    // Half worn, it has half the room.
    let worn = wheel.aged(0.7)?;
    let less = worn.reserve(&drive, &worn.steady(&drive, None)?)?;
    assert!(
        less.load_ratio < 0.85 * reserve.load_ratio,
        "{less:?} {reserve:?}"
    );
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn holds_any_wheel_closes(
        hot in 60.0_f64..240.0,
        cool in 5.0_f64..70.0,
        ln_load in -9.0_f64..-3.5,
        ln_wet in -7.0_f64..-3.5,
        ln_turns in -1.0_f64..4.0,
        flow in 0.2_f64..2.0,
        regeneration in 0.2_f64..2.0,
        cooling in 0.0_f64..20.0,
        left in 0.1_f64..1.0,
        carry in proptest::bool::ANY,
        along in proptest::bool::ANY,
        pore in proptest::bool::ANY,
    ) {
        let found = solved(
            |spec| {
                spec.sectors = sectors(75.0 - cooling, 22.0, cooling);
                spec.channels_carry_air = carry;
                spec.capacity_left = left;
                spec.pore_diffusivity = pore.then_some(2e-6);
                if along {
                    spec.sectors[1].way = Way::Along;
                }
                spec.leaks = vec![Leak { from: (1, End::Inlet), into: (0, End::Outlet), share: 0.003 }];
            },
            |drive| {
                // Not wetter than air of that temperature can be.
                let most = air::equilibrium::saturated_over_liquid(273.15 + cool, 101_325.0);
                load(drive, libm::exp(ln_load).min(0.95 * air::mixture::humidity_ratio(most)));
                drive.turns_per_hour = libm::exp(ln_turns);
                drive.air[1].temperature = 273.15 + hot;
                drive.air[1].humidity = libm::exp(ln_wet);
                for (k, air) in drive.air.iter_mut().enumerate() {
                    air.dry_air *= if k == 1 { regeneration } else { flow };
                    if k != 1 {
                        air.temperature = 273.15 + cool;
                    }
                }
            },
        );
        let (drive, steady) = found.map_err(|error| TestCaseError::fail(error.to_string()))?;
        let sum = |of: fn(&crate::Stream) -> f64| {
            let before: f64 = drive.air.iter().map(of).sum();
            let after: f64 = steady.outlets.iter().map(|out| of(&out.mean)).sum();
            (after - before) / before
        };
        prop_assert_eq!(steady.found, Found::Newton);
        prop_assert!(sum(crate::Stream::water).abs() < 1e-9, "water {:e} {:?}", sum(crate::Stream::water), steady.residual);
        prop_assert!(sum(crate::Stream::heat).abs() < 1e-9, "heat {:e} {:?}", sum(crate::Stream::heat), steady.residual);
        prop_assert!(steady.outlets.iter().all(|out| out.mean.humidity > 0.0 && out.dew_point.is_finite()));
    }
}

#[test]
fn holds_both_meshes_to_their_word() -> Result<(), DryerError> {
    // Load, turns per hour, change of regeneration in kelvin; and what each mesh may be off by.
    let cases = [
        (0.002, 5.0, 0.0, 0.1),
        (0.002, 5.0, -40.0, 0.1),
        (0.003, 8.0, 0.0, 0.1),
        (0.004, 5.0, 0.0, 0.5),
        (0.002, 16.0, 0.0, 0.5),
        (0.006, 5.0, 0.0, 0.5),
    ];
    for (humidity, turns, kelvin, coarse) in cases {
        let run = |mesh: Mesh| {
            dew_point(
                |spec| spec.mesh = mesh,
                |drive| {
                    load(drive, humidity);
                    drive.turns_per_hour = turns;
                    drive.air[1].temperature += kelvin;
                },
            )
        };
        let limit = run(Mesh {
            slices: 96,
            slots: 24,
            growth: 0.05,
        })?;
        let off = [run(Mesh::FINE)? - limit, run(Mesh::COARSE)? - limit];
        assert!(
            off[0].abs() < 0.1 && off[1].abs() < coarse,
            "{humidity} {turns}: {off:?}"
        );
    }
    Ok(())
}
