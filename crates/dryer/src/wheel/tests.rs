//! What holds of a wheel.

use super::*;
use crate::sorption::tests::zeolite;
use crate::sorption::{Passages, Way};
use crate::{DryerError, Stream};
use quantity::constants::ZERO_CELSIUS;

/// A wheel of 213 kg/m3 with 70 % of 13X, 0.2 m deep, in three sectors.
pub(crate) fn spec() -> WheelSpec {
    WheelSpec {
        diameter: 0.5,
        face_used: 0.9,
        depth: 0.2,
        passages: Passages {
            area: 2370.0,
            open: 0.763,
            hydraulic_diameter: 1.29e-3,
            nusselt: 2.4,
            friction: 11.3,
            sheet: 0.2e-3,
        },
        matrix_density: 213.0,
        sorbent_share: 0.7,
        capacity_left: 1.0,
        matrix_heat: 950.0,
        pore_diffusivity: None,
        sectors: sectors(70.0, 20.0, 10.0),
        leaks: Vec::new(),
        channels_carry_air: false,
        pressure: 101_325.0,
        sorbent: zeolite().clone(),
        mesh: Mesh::FINE,
    }
}

/// Process, regeneration against it, cooling along it, in percent of the turn.
pub(crate) fn sectors(process: f64, regeneration: f64, cooling: f64) -> Vec<Sector> {
    let sector = |duty, percent: f64, way| Sector {
        duty,
        angle: 3.6 * percent,
        way,
    };
    vec![
        sector(Duty::Process, process, Way::Along),
        sector(Duty::Regeneration, regeneration, Way::Against),
        sector(Duty::Cooling, cooling, Way::Along),
    ]
}

/// 1.8 kg/(s m2) through every sector; process and cooling 35 degC and 2 g/kg, regeneration 180 degC
/// and 10 g/kg; five turns an hour.
pub(crate) fn drive(wheel: &Wheel) -> WheelDrive {
    let air = wheel.spec.sectors.iter().map(|sector| {
        let dry_air = 1.8 * wheel.face * sector.angle / 360.0;
        let (celsius, humidity) = match sector.duty {
            Duty::Regeneration => (180.0, 0.010),
            _ => (35.0, 0.002),
        };
        Stream {
            dry_air,
            temperature: ZERO_CELSIUS + celsius,
            humidity,
        }
    });
    WheelDrive {
        air: air.collect(),
        turns_per_hour: 5.0,
    }
}

/// The wheel with few slices: within 0.1 K.
fn coarse(spec: WheelSpec) -> Result<Wheel, DryerError> {
    WheelSpec {
        mesh: Mesh::COARSE,
        ..spec
    }
    .check()
}

/// Dew point of the process air, degC.
fn dew_point(steady: &WheelSteady) -> f64 {
    steady.outlets[0].dew_point - ZERO_CELSIUS
}

/// Water and heat that all airs bring less what they take, over what they bring.
fn imbalance(drive: &WheelDrive, steady: &WheelSteady) -> (f64, f64) {
    let water_in: f64 = drive.air.iter().map(Stream::water).sum();
    let heat_in: f64 = drive.air.iter().map(Stream::heat).sum();
    let water_out: f64 = steady.outlets.iter().map(|out| out.mean.water()).sum();
    let heat_out: f64 = steady.outlets.iter().map(|out| out.mean.heat()).sum();
    (
        (water_in - water_out) / water_in,
        (heat_in - heat_out) / heat_in,
    )
}

#[test]
fn holds_a_turn_closes() -> Result<(), DryerError> {
    for carry in [false, true] {
        let wheel = WheelSpec {
            channels_carry_air: carry,
            ..spec()
        }
        .check()?;
        let drive = drive(&wheel);
        let steady = wheel.steady(&drive, None)?;
        assert_eq!(steady.found, Found::Newton);
        let (water, heat) = imbalance(&drive, &steady);
        // The state repeats to 1e-9 of a loading or kelvin.
        assert!(water.abs() < 1e-9 && heat.abs() < 1e-9, "{water} {heat}");
    }
    Ok(())
}

#[test]
fn holds_turning_long_enough_ends_in_the_steady_state() -> Result<(), DryerError> {
    let wheel = WheelSpec {
        mesh: Mesh::COARSE,
        ..spec()
    }
    .check()?;
    let drive = drive(&wheel);
    let steady = wheel.steady(&drive, None)?;
    let mut state = wheel.at_rest(293.15, 0.008)?;
    for _ in 0..6 {
        wheel.advance(&mut state, &drive, 7200.0)?;
    }
    let passed = wheel.advance(&mut state, &drive, 720.0)?;
    let marched =
        crate::condensation_temperature(passed.outlets[0].humidity, 101_325.0) - ZERO_CELSIUS;
    assert!((marched - dew_point(&steady)).abs() < 1e-3);
    assert!((wheel.water(&state) / wheel.water(&steady.state) - 1.0).abs() < 1e-6);
    assert!(
        (wheel.heat(&state) - wheel.heat(&steady.state)).abs() < 1e-6 * wheel.heat(&state).abs()
    );
    Ok(())
}

#[test]
fn holds_a_wheel_in_time_closes() -> Result<(), DryerError> {
    for (carry, turns) in [(false, 5.0), (true, 5.0), (true, 0.0)] {
        let wheel = WheelSpec {
            channels_carry_air: carry,
            mesh: Mesh::COARSE,
            ..spec()
        }
        .check()?;
        let mut drive = drive(&wheel);
        let mut state = wheel.at_rest(293.15, 0.008)?;
        // Neither whole slots nor one drive.
        for seconds in [13.0, 170.0, 1000.0, 0.7] {
            let before = (wheel.water(&state), wheel.heat(&state));
            let passed = wheel.advance(&mut state, &drive, seconds)?;
            let sum =
                |of: fn(&Stream) -> f64, airs: &[Stream]| -> f64 { airs.iter().map(of).sum() };
            let water = sum(Stream::water, &drive.air) - sum(Stream::water, &passed.outlets);
            let heat = sum(Stream::heat, &drive.air) - sum(Stream::heat, &passed.outlets);
            let kept = (
                wheel.water(&state) - before.0,
                wheel.heat(&state) - before.1,
            );
            assert_eq!(kept, passed.taken_up);
            // Rounding of the stores themselves is 1e-12 of them.
            assert!(
                (water * seconds - kept.0).abs() < 1e-9 * wheel.water(&state),
                "{carry} {turns} {seconds} {} {}",
                water * seconds,
                kept.0
            );
            assert!(
                (heat * seconds - kept.1).abs() < 1e-9 * wheel.heat(&state).abs(),
                "{carry} {turns} {seconds} {} {}",
                heat * seconds,
                kept.1
            );
            drive.air[1].temperature -= 20.0;
            drive.turns_per_hour = turns;
        }
    }
    Ok(())
}

#[test]
fn holds_one_measurement_narrows_the_wheel() -> Result<(), DryerError> {
    let wheel = coarse(spec())?;
    let drive = drive(&wheel);
    let before = dew_point(&wheel.steady(&drive, None)?);
    let to = |dew_point_c: f64| wheel.calibrated_by(&drive, ZERO_CELSIUS + dew_point_c);
    let calibrated = to(before + 6.0)?;
    assert!((dew_point(&calibrated.steady) - before - 6.0).abs() < 0.02);
    assert!(calibrated.shift < 0.0 && calibrated.solves < 8);
    // It says the same of another state: 20 K less regeneration moves both alike within 1.5 K.
    let mut cooler = drive.clone();
    cooler.air[1].temperature -= 20.0;
    let plain = dew_point(&wheel.steady(&cooler, None)?) - before;
    let brought = dew_point(&calibrated.wheel.steady(&cooler, None)?) - before - 6.0;
    assert!((plain - brought).abs() < 1.5, "{plain} {brought}");
    // Both ends of the shifts, inside and outside.
    for end in [SHIFT_HOLDS.0, SHIFT_HOLDS.1] {
        let mut shifted = wheel.clone();
        shifted.spec.sorbent = wheel.spec.sorbent.shifted(0.97 * end);
        let inside = dew_point(&shifted.steady(&drive, None)?);
        assert!((to(inside)?.shift / end - 0.97).abs() < 0.01);
        shifted.spec.sorbent = wheel.spec.sorbent.shifted(1.03 * end);
        let outside = dew_point(&shifted.steady(&drive, None)?);
        assert!(to(outside).is_err());
    }
    Ok(())
}

#[test]
fn holds_picture_can_be_drawn() -> Result<(), DryerError> {
    let wheel = coarse(spec())?;
    let steady = wheel.steady(&drive(&wheel), None)?;
    let figure = wheel.by_angle(&steady);
    assert_eq!(figure.check(), Ok(()));
    assert!(figure.title.contains("-57 °C"), "{}", figure.title);
    Ok(())
}

#[test]
fn holds_a_closed_wheel_cools_and_keeps_its_water() -> Result<(), DryerError> {
    let wheel = coarse(spec())?;
    let mut state = wheel.at_rest(400.0, 0.005)?;
    let (water, heat) = (wheel.water(&state), wheel.heat(&state));
    let lost = wheel.cool(&mut state, 295.0, 3600.0, 3600.0);
    let found = state.slices(0)[0].1;
    assert!(
        (found - (295.0 + 105.0 * (-1.0_f64).exp())).abs() < 1e-9,
        "{found}"
    );
    assert!((wheel.water(&state) / water - 1.0).abs() < 1e-12);
    assert!(lost > 0.0 && (heat - lost - wheel.heat(&state)).abs() < 1e-9 * heat);
    Ok(())
}

#[test]
fn holds_a_wheel_that_lost_capacity_takes_over_water_and_heat() -> Result<(), DryerError> {
    let new = coarse(spec())?;
    let old = new.aged(0.6)?;
    let mut state = new.at_rest(310.0, 0.002)?;
    let (water, heat) = (new.water(&state), new.heat(&state));
    old.take_over(&mut state, &new);
    assert!((old.water(&state) / water - 1.0).abs() < 1e-12);
    assert!((old.heat(&state) - heat).abs() < 1e-9 * heat.abs());
    // And they go on to close their balance.
    let drive = drive(&old);
    let passed = old.advance(&mut state, &drive, 600.0)?;
    let gain = old.water(&state) - water;
    assert!((passed.taken_up.0 - gain).abs() < 1e-9 * water);
    Ok(())
}
