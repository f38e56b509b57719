//! What holds of a dew point sensor.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use super::*;
use crate::asked::trials::at_the_ends;

const ATMOSPHERE: f64 = 101_325.0;
/// -40 degC frost point.
const DRY: f64 = 7.93e-5;

fn sensor(kind: SensorKind) -> Sensor {
    typical(kind).spec.check().unwrap()
}

#[test]
fn exact_lag_and_its_two_sides() {
    let sensor = sensor(SensorKind::PolymerCapacitive);
    let wet = sensor.settled(0.005, ATMOSPHERE).unwrap();
    let dry = sensor.settled(DRY, ATMOSPHERE).unwrap();
    let after = sensor.advance(&wet, DRY, ATMOSPHERE, 300.0).unwrap();
    let left = (after.sensed - dry.sensed) / (wet.sensed - dry.sensed);
    assert!((left - (-1.0_f64).exp()).abs() < 1e-12);
    // Two steps are one of their sum, and wetting is quicker.
    let half = sensor.advance(&wet, DRY, ATMOSPHERE, 150.0).unwrap();
    let twice = sensor.advance(&half, DRY, ATMOSPHERE, 150.0).unwrap();
    assert!((twice.sensed - after.sensed).abs() < 1e-12);
    let back = sensor.advance(&dry, 0.005, ATMOSPHERE, 150.0).unwrap();
    assert!((back.sensed - wet.sensed).abs() < (half.sensed - dry.sensed).abs());
}

#[test]
fn holds_the_point_is_that_at_its_own_pressure() {
    let sensor = sensor(SensorKind::ChilledMirror);
    let show = |pressure| {
        let state = sensor.settled(DRY, pressure).unwrap();
        sensor.reading(&state, pressure, 0.0).unwrap().point - ZERO_CELSIUS
    };
    assert!((show(ATMOSPHERE) + 40.0).abs() < 0.1);
    // The same air in a line of 7 bar(g) has a frost point of about -20 degC.
    assert!((show(801_325.0) + 20.4).abs() < 0.5, "{}", show(801_325.0));
}

#[test]
fn holds_a_supercooled_mirror_shows_less() {
    let mut spec = typical(SensorKind::ChilledMirror).spec;
    if let Element::Point { supercooled, .. } = &mut spec.element {
        *supercooled = true;
    }
    let fooled = spec.check().unwrap();
    let sound = sensor(SensorKind::ChilledMirror);
    let less = |humidity| {
        sound.settled(humidity, ATMOSPHERE).unwrap().sensed
            - fooled.settled(humidity, ATMOSPHERE).unwrap().sensed
    };
    // From memory of tables: -20 degC frost point is -22.2 degC dew point, -40 is -43.7.
    assert!((less(6.37e-4) - 2.2).abs() < 0.2, "{}", less(6.37e-4));
    assert!((less(DRY) - 3.7).abs() < 0.4, "{}", less(DRY));
    assert!(less(0.01).abs() < 1e-12);
}

#[test]
fn exact_bias_drift_and_noise_add_up() {
    let mut spec = typical(SensorKind::PolymerCapacitive).spec;
    if let Element::Point { bias, noise, .. } = &mut spec.element {
        *bias = TemperatureDifference::from_kelvin(1.5);
        *noise = TemperatureDifference::from_kelvin(0.5);
    }
    let sensor = spec.check().unwrap();
    let state = SensorState {
        age: 2.0,
        ..sensor.settled(DRY, ATMOSPHERE).unwrap()
    };
    let reading = sensor.reading(&state, ATMOSPHERE, -1.0).unwrap();
    assert!((reading.point - state.sensed - 1.5 - 4.0 + 0.5).abs() < 1e-12);
    let accuracy = 2.0 + (ZERO_CELSIUS - reading.point) / 60.0;
    let expected = (0.25 * accuracy * accuracy + 16.0 / 3.0 + 0.25).sqrt();
    assert!((reading.uncertainty - expected).abs() < 1e-12);
}

#[test]
fn holds_a_plain_humidity_sensor_reads_noise_when_dry() {
    let sensor = sensor(SensorKind::RelativeHumidity);
    let read = |humidity, normal| {
        let state = sensor.settled(humidity, ATMOSPHERE).unwrap();
        (state, sensor.reading(&state, ATMOSPHERE, normal).unwrap())
    };
    // 0.41 %RH at 25 degC; 2 K are 0.09 %RH.
    let (state, shown) = read(DRY, 0.0);
    assert!((state.sensed - 0.0041).abs() < 1e-4 && shown.uncertainty > 8.0);
    let (_, wet) = read(0.008, 0.0);
    assert!(wet.uncertainty < 0.5 && wet.reach == Reach::Within);
    let (_, low) = read(DRY, -10.0);
    assert!(low.reach == Reach::AtLow);
}

#[test]
fn holds_the_range_ends_and_a_stuck_sensor_stays() {
    let sensor = sensor(SensorKind::PolymerCapacitive);
    let state = sensor.settled(1e-9, ATMOSPHERE).unwrap();
    let shown = sensor.reading(&state, ATMOSPHERE, 0.0).unwrap();
    assert!(shown.reach == Reach::AtLow && (shown.point - 203.15).abs() < 1e-9);
    let wet = sensor.settled(0.05, ATMOSPHERE).unwrap();
    let shown = sensor.reading(&wet, ATMOSPHERE, 0.0).unwrap();
    assert!(shown.reach == Reach::AtHigh);
    let stuck = SensorState {
        stuck: Some(233.15),
        ..wet
    };
    let shown = sensor.reading(&stuck, ATMOSPHERE, 3.0).unwrap();
    assert!((shown.point - 233.15).abs() < 1e-12);
}

#[test]
fn holds_a_figure_that_can_be_drawn() {
    let figure = figure(1.0).unwrap();
    assert!(figure.check().is_ok());
    assert!(figure.title.contains("-2"), "{}", figure.title);
}

#[test]
fn holds_ranges_at_their_ends_and_every_mistake_told() {
    let kelvin = TemperatureDifference::from_kelvin;
    let point = |accuracy, bias| {
        SensorSpec {
            element: Element::Point {
                accuracy_wet: kelvin(accuracy),
                accuracy_dry: kelvin(1.0),
                bias: kelvin(bias),
                drift: kelvin(0.0),
                noise: kelvin(0.1),
                supercooled: false,
            },
            ..typical(SensorKind::ChilledMirror).spec
        }
        .check()
        .is_ok()
    };
    at_the_ends(&POINT_ERROR_HOLDS, |x| point(x, 0.0));
    at_the_ends(&POINT_BIAS_HOLDS, |x| point(1.0, x));
    let share = |cell, accuracy, bias| {
        SensorSpec {
            element: Element::Share {
                cell: Temperature::from_celsius(cell),
                accuracy: RelativeHumidity::from_si(accuracy),
                bias: RelativeHumidity::from_si(bias),
                drift: RelativeHumidity::from_si(0.0),
                noise: RelativeHumidity::from_si(0.0),
            },
            ..typical(SensorKind::RelativeHumidity).spec
        }
        .check()
        .is_ok()
    };
    at_the_ends(&CELL_HOLDS, |x| share(x, 0.01, 0.0));
    at_the_ends(&SHARE_ERROR_HOLDS, |x| share(25.0, x, 0.0));
    at_the_ends(&SHARE_BIAS_HOLDS, |x| share(25.0, 0.01, x));
    let with = |change: &dyn Fn(&mut SensorSpec)| {
        let mut spec = typical(SensorKind::ChilledMirror).spec;
        (spec.low, spec.high) = (
            Temperature::from_celsius(-99.0),
            Temperature::from_celsius(59.0),
        );
        change(&mut spec);
        spec.check()
    };
    at_the_ends(&SENSOR_LAG_HOLDS, |x| {
        with(&|spec| spec.drying = Duration::from_si(x)).is_ok()
    });
    at_the_ends(&SENSED_HOLDS, |x| {
        with(&|spec| {
            if x < 0.0 {
                spec.low = Temperature::from_celsius(x);
            } else {
                spec.high = Temperature::from_celsius(x);
            }
        })
        .is_ok()
    });
    let sensor = sensor(SensorKind::ChilledMirror);
    let fresh = sensor.settled(DRY, ATMOSPHERE).unwrap();
    at_the_ends(&AGE_HOLDS, |age| {
        let state = SensorState { age, ..fresh };
        sensor.reading(&state, ATMOSPHERE, 0.0).is_ok()
    });
    assert!(sensor.advance(&fresh, f64::NAN, ATMOSPHERE, 1.0).is_err());
    assert!(sensor.advance(&fresh, DRY, 1e3, 1.0).is_err());
    assert!(sensor.reading(&fresh, ATMOSPHERE, f64::NAN).is_err());
    let faults = with(&|spec| {
        (spec.low, spec.high) = (spec.high, spec.low);
        spec.wetting = Duration::from_si(0.0);
    });
    assert_eq!(faults.unwrap_err().len(), 2);
}
