//! The kinds of dew point sensor one meets, with what is known of them and how well.

use super::{Element, Sensor, SensorSpec};
use crate::DryerError;
use ::figure::{Axis, Figure, Grade, Panel, Point, Series, Tone, Weight};
use quantity::constants::{STANDARD_ATMOSPHERE, ZERO_CELSIUS};
use quantity::{Duration, RelativeHumidity, Temperature, TemperatureDifference, digits};

/// A kind of sensor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SensorKind {
    /// A cooled mirror of an industrial instrument.
    ChilledMirror,
    /// A polymer cell that zeroes itself, calibrated in dew point.
    PolymerCapacitive,
    /// A plain cell of relative humidity at 25 degC.
    RelativeHumidity,
}

/// A kind as it is usually found, and what stands behind its numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Typical {
    /// The numbers.
    pub spec: SensorSpec,
    /// What stands behind its accuracy.
    pub grade: Grade,
    /// Where that comes from. Lags, drifts and noise are estimates without a source in every kind.
    pub source: &'static str,
}

/// The usual numbers of a kind, for a sensor that is clean and calibrated.
pub fn typical(kind: SensorKind) -> Typical {
    let kelvin = TemperatureDifference::from_kelvin;
    let share = RelativeHumidity::from_percent;
    match kind {
        SensorKind::ChilledMirror => Typical {
            spec: SensorSpec {
                element: Element::Point {
                    accuracy_wet: kelvin(0.2),
                    accuracy_dry: kelvin(0.3),
                    bias: kelvin(0.0),
                    drift: kelvin(0.05),
                    noise: kelvin(0.05),
                    supercooled: false,
                },
                wetting: Duration::from_seconds(30.0),
                drying: Duration::from_seconds(180.0),
                low: Temperature::from_celsius(-75.0),
                high: Temperature::from_celsius(20.0),
            },
            grade: Grade::CommonPractice,
            source: "pages of the trade (0.1 to 0.2 K) and of an atmospheric research centre (under \
                     0.3 K when stable); national standards reach 0.04 to 0.12 K (two deviations) \
                     from -85 to 85 degC",
        },
        SensorKind::PolymerCapacitive => Typical {
            spec: SensorSpec {
                element: Element::Point {
                    accuracy_wet: kelvin(2.0),
                    accuracy_dry: kelvin(3.0),
                    bias: kelvin(0.0),
                    drift: kelvin(2.0),
                    noise: kelvin(0.2),
                    supercooled: false,
                },
                wetting: Duration::from_seconds(20.0),
                drying: Duration::from_seconds(300.0),
                low: Temperature::from_celsius(-70.0),
                high: Temperature::from_celsius(30.0),
            },
            grade: Grade::CommonPractice,
            source: "common practice, no source: 2 K at -40 degC when zeroing itself, 3 to 5 K after a \
                     year in the fume of resin",
        },
        SensorKind::RelativeHumidity => Typical {
            spec: SensorSpec {
                element: Element::Share {
                    cell: Temperature::from_celsius(25.0),
                    accuracy: share(1.45),
                    bias: share(0.0),
                    drift: share(0.5),
                    noise: share(0.05),
                },
                wetting: Duration::from_seconds(10.0),
                drying: Duration::from_seconds(30.0),
                low: Temperature::from_celsius(-80.0),
                high: Temperature::from_celsius(25.0),
            },
            grade: Grade::Measured,
            source: "Sensors 18 (2018), 637, abstract: combined 0.6 to 1.45 %RH, the upper end taken here",
        },
    }
}

/// How far each kind may be believed over the frost point, after `age` years, at one atmosphere.
///
/// # Errors
/// [`DryerError::Impossible`] for an age outside [`super::AGE_HOLDS`].
pub fn figure(age: f64) -> Result<Figure, DryerError> {
    /// A reading that may be off by more says nothing about a dryer.
    const USEFUL: f64 = 5.0;
    DryerError::unless_within(&super::AGE_HOLDS, age)?;
    let kinds = [
        ("chilled mirror", SensorKind::ChilledMirror),
        ("polymer, self-zeroing", SensorKind::PolymerCapacitive),
        ("plain humidity at 25 °C", SensorKind::RelativeHumidity),
    ];
    let mut useful_down_to = 0.0;
    let series = kinds.map(|(name, kind)| {
        let typical = typical(kind);
        let sensor = Sensor {
            spec: typical.spec,
            low: 0.0,
            high: 1e3,
        };
        let points: Vec<Point> = (-14..=0)
            .map(|step| 5.0 * f64::from(step))
            .map(|frost| {
                let twice =
                    2.0 * sensor.uncertainty(frost + ZERO_CELSIUS, STANDARD_ATMOSPHERE, age);
                Point::new(frost, twice)
            })
            .collect();
        if kind == SensorKind::RelativeHumidity {
            useful_down_to = points
                .iter()
                .rev()
                .take_while(|point| point.value <= USEFUL)
                .last()
                .map_or(0.0, |point| point.along);
        }
        Series::Line {
            name: name.to_owned(),
            points,
            grade: typical.grade,
            tone: Tone::Water,
            weight: Weight::Plain,
        }
    });
    Ok(Figure::stacked(
        format!(
            "Below {} °C frost point a plain humidity sensor says nothing of a dryer",
            digits(useful_down_to, 2)
        ),
        Axis::linear("frost point", "°C"),
        vec![Panel::new(
            Axis::log10("uncertainty, two deviations", "K"),
            series.to_vec(),
        )],
    ))
}
