//! Humid air against itself: what must come back, comes back.
//!
//! What is checked: a humidity said in one way, turned into a state and asked for in the same way; air
//! expanded and compressed again; air saturated at its own temperature.
//! Tolerance: what the iterations stop at, 1e-9 of the vapour, which is 1e-8 K of dew point.

use crate::{Kind, Row};
use air::{AirError, HumidAir, Humidity, expansion};
use quantity::{
    AbsoluteHumidity, AbsolutePressure, DewPoint, FrostPoint, HumidityRatio, RelativeHumidity,
    Temperature, VapourMoleFraction, VapourPressure,
};

fn row(what: String, unit: &'static str, expected: f64, computed: Result<f64, AirError>) -> Row {
    Row {
        source: "Round trips of humid air",
        what,
        unit,
        expected,
        computed: computed.unwrap_or(f64::NAN),
        tolerance: 1e-8,
        absolute: unit == "K",
        why: "what the iterations stop at",
        kind: Kind::Exact,
        disputed: None,
    }
}

/// One row for each way of saying how humid, at three states, and the two limits.
pub fn rows() -> Vec<Row> {
    let mut rows = Vec::new();
    for (t, frost, dew, p) in [
        (80.0, -40.0, 60.0, 101_325.0),
        (25.0, -75.0, -20.0, 801_325.0),
        (180.0, -5.0, 95.0, 1.2e6),
    ] {
        rows.extend(round_trips(t, frost, dew, p));
    }
    let (line, open) = (801_325.0, 101_325.0);
    let [line, open] = [line, open].map(AbsolutePressure::from_pascal);
    let there_and_back = |dew| {
        let open_point = expansion::condensation_point(dew, line, open)?;
        Ok(expansion::vapour_in_line(open_point, open)?.fraction()
            / expansion::vapour_in_line(dew, line)?.fraction())
    };
    rows.push(row(
        "vapour after expansion from 7 bar(g) and back, over before, dew point 3 degC".to_owned(),
        "",
        1.0,
        there_and_back(DewPoint::from_celsius(3.0)),
    ));
    rows.push(row(
        "relative humidity of air at its dew point, 40 degC".to_owned(),
        "",
        1.0,
        HumidAir::new(
            Temperature::from_celsius(40.0),
            open,
            DewPoint::from_celsius(40.0),
        )
        .map(|air| air.relative_humidity().fraction()),
    ));
    rows
}

fn round_trips(t: f64, frost: f64, dew: f64, p: f64) -> Vec<Row> {
    let state = format!("at {t} degC and {} kPa", p / 1e3);
    let air = |humidity: Humidity| {
        let pressure = AbsolutePressure::from_pascal(p);
        HumidAir::new(Temperature::from_celsius(t), pressure, humidity)
    };
    let dew = DewPoint::from_celsius(dew);
    let frost = FrostPoint::from_celsius(frost);
    let ratio = HumidityRatio::from_kg_per_kg(1e-4);
    let relative = RelativeHumidity::from_percent(0.1);
    let fraction = VapourMoleFraction::from_ppm(30.0);
    let absolute = AbsoluteHumidity::from_g_per_m3(0.2);
    let vapour = VapourPressure::from_pascal(2.5);
    vec![
        row(
            format!("dew point {state}"),
            "K",
            dew.kelvin(),
            air(dew.into()).and_then(|air| Ok(air.dew_point()?.kelvin())),
        ),
        row(
            format!("frost point {state}"),
            "K",
            frost.kelvin(),
            air(frost.into()).and_then(|air| Ok(air.frost_point()?.kelvin())),
        ),
        row(
            format!("humidity ratio {state}"),
            "kg/kg",
            ratio.kg_per_kg(),
            air(ratio.into()).map(|air| air.humidity_ratio().kg_per_kg()),
        ),
        row(
            format!("relative humidity {state}"),
            "",
            relative.fraction(),
            air(relative.into()).map(|air| air.relative_humidity().fraction()),
        ),
        row(
            format!("vapour mole fraction {state}"),
            "",
            fraction.fraction(),
            air(fraction.into()).map(|air| air.vapour_mole_fraction().fraction()),
        ),
        row(
            format!("absolute humidity {state}"),
            "kg/m3",
            absolute.kg_per_m3(),
            air(absolute.into()).map(|air| air.absolute_humidity().kg_per_m3()),
        ),
        row(
            format!("vapour pressure {state}"),
            "Pa",
            vapour.pascal(),
            air(vapour.into()).map(|air| air.vapour_pressure().pascal()),
        ),
    ]
}

#[cfg(test)]
mod tests {
    #[test]
    fn exact_humid_air() {
        crate::check(&super::rows());
    }
}
