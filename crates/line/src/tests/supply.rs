//! What holds of the supply as it is told: its swing, a sensor's reading, the mesh behind it.

use super::*;
use dryer::dew_point_sensor::{SensorKind, typical};

#[test]
fn holds_the_supply_swings_about_its_mean_and_a_sensor_shows_it() -> Result<(), LineError> {
    for line in [with_wheel(CoolingTo::Return), towers::with_towers(0.35)] {
        let steady = line.steady(None)?;
        let ripple = steady.ripple.unwrap();
        let point = frost_point(&steady.delivered) + ZERO_CELSIUS;
        assert!(
            ripple.driest < point && point < ripple.wettest,
            "{ripple:?} {point}"
        );
        let towers = matches!(line.maker, Maker::Towers(_));
        assert_eq!(ripple.period.is_some(), towers);
        if towers {
            // The slug of a cooling too short: minutes of four hours, tens of kelvin.
            assert!(ripple.wettest > point + 20.0 && ripple.hottest > ZERO_CELSIUS + 100.0);
            assert!((60.0..3600.0).contains(&ripple.wet_for), "{ripple:?}");
        }
        let shown = |kind| -> Result<f64, LineError> {
            let sensor = typical(kind).spec.check().unwrap();
            Ok(steady.shown_by(&sensor, 1.0, DAY.pressure)?.point)
        };
        let mirror = shown(SensorKind::ChilledMirror)?;
        assert!(
            (mirror - point.max(ZERO_CELSIUS - 75.0)).abs() < 0.1,
            "{mirror} {point}"
        );
        let polymer = shown(SensorKind::PolymerCapacitive)?;
        assert!((polymer - point.max(ZERO_CELSIUS - 70.0)).abs() < 2.1);
    }
    assert!(open_air(0.0).steady(None)?.ripple.is_none());
    Ok(())
}

#[test]
fn holds_a_coarse_wheel_tells_a_day_as_a_fine_one() -> Result<(), LineError> {
    /// Frost points at rest, and of the supply hour by hour of a day from rest in the hall.
    fn told(mut line: Line, mesh: Mesh) -> Result<(f64, Vec<f64>), LineError> {
        if let Maker::Wheel(dryer) = &mut line.maker {
            dryer.wheel = dryer.wheel.resolved(mesh)?;
        }
        let mut state = line.at_rest()?;
        let run = line.run(&mut state, 24.0 * 3600.0)?;
        let at = |hour: f64| {
            let later = run.moments.iter().position(|m| m.time >= 3600.0 * hour);
            let later = later.unwrap_or(run.moments.len() - 1).max(1);
            let [before, after] = [&run.moments[later - 1], &run.moments[later]];
            let [low, high] = [before, after].map(|m| frost_point(&m.delivered));
            low + (high - low) * (3600.0 * hour - before.time) / (after.time - before.time)
        };
        let hours = (1..=23).map(|hour| at(f64::from(hour))).collect();
        Ok((supply(&line), hours))
    }
    let station = station("hopper");
    let (flow, hot) = (station.air_flow, station.set_point);
    let usual = Line {
        maker: usual::wheel_dryer(flow, hot, zeolite())
            .maker(flow, &DAY)
            .unwrap(),
        stations: vec![station],
        room: DAY,
    };
    // The second is heated far more than it needs: the front of heat reaches its dry end, and no mesh holds it.
    for (line, rest, day, finest) in [
        (usual, 0.1, 0.15, 0.03),
        (with_wheel(CoolingTo::Return), 1.5, 2.5, 1.0),
    ] {
        let told = |mesh| told(line.clone(), mesh);
        let (coarse, fine) = (told(Mesh::COARSE)?, told(Mesh::FINE)?);
        let hours = coarse.1.iter().zip(&fine.1);
        let apart = hours.fold(0.0_f64, |most, (a, b)| most.max((a - b).abs()));
        assert!((coarse.0 - fine.0).abs() < rest, "{} {}", coarse.0, fine.0);
        assert!(apart < day, "{apart}");
        let mut finer = line.clone();
        if let Maker::Wheel(dryer) = &mut finer.maker {
            dryer.wheel = dryer.wheel.resolved(Mesh {
                slices: 40,
                slots: 32,
                growth: 0.35,
            })?;
        }
        let finer = supply(&finer);
        assert!((fine.0 - finer).abs() < finest, "{} {finer}", fine.0);
    }
    Ok(())
}
