//! A pellet in a store: closed forms of a sphere whose surface stays, or rises in a straight line.
//!
//! What is compared: the mean moisture of a sphere of polycarbonate of the library after a time in a
//! climate. In one that stays it is `1 - 6/pi2 sum exp(-n2 pi2 Fo)/n2` of the way to balance (Crank
//! (1975), The Mathematics of Diffusion, second edition, eq. 6.20); where the humidity rises in a
//! straight line, and the balance with it, the mean lags behind the surface by the rise within
//! `R2/(15 D)` once it has risen for long (the same, section 6.3.2). The climates are stated by day
//! and as weather.
//! Tolerance: 1e-4 of the water, the promise of a curve.
//! Errata and doubts: equation numbers from memory.

use crate::published::resin;
use crate::{Kind, Row};
use decide::storage::stored;
use job::{Climate, DailyClimate, Package, Storage, Weather, WeatherRow};
use pellet::Outline;
use quantity::{
    Duration, Moisture, MoistureDryBasis, Quantity, RelativeHumidity, Temperature,
    TemperatureDifference,
};
use std::f64::consts::PI;

const SOURCE: &str = "Crank (1975), sphere";
/// Radius, m.
const RADIUS: f64 = 1.5e-3;
/// The store, degC and %RH.
const WARM: f64 = 28.0;
const DAMP: f64 = 60.0;
/// Times over `R2/D`.
const FOURIER: [f64; 4] = [0.003, 0.03, 0.3, 3.0];

/// Mean moisture of the sphere, kg/kg dry, from dry.
fn mean(climate: Climate) -> Option<f64> {
    let pc = resin("pc")?;
    let storage = Storage {
        package: Package::Opened,
        climate: Some(climate),
        from: Some(Moisture::Dry(MoistureDryBasis::from_si(0.0))),
    };
    let outline = Outline::Sphere {
        diameter: 2.0 * RADIUS,
    };
    Some(stored(&pc, &storage, &outline).ok()??.moisture_kg_kg)
}

fn daily(seconds: f64) -> Climate {
    Climate::Daily(DailyClimate {
        temperature: Temperature::from_celsius(WARM),
        temperature_swing: TemperatureDifference::from_kelvin(0.0),
        relative_humidity: RelativeHumidity::from_percent(DAMP),
        humidity_swing: RelativeHumidity::from_percent(0.0),
        time: Duration::from_seconds(seconds),
    })
}

/// Weather from one humidity (%RH) to another.
fn weather(seconds: f64, from: f64, to: f64) -> Climate {
    let row = |time, percent| WeatherRow {
        time: Duration::from_seconds(time),
        temperature: Temperature::from_celsius(WARM),
        relative_humidity: RelativeHumidity::from_percent(percent),
    };
    Climate::Weather(Weather {
        file: String::new(),
        span: (String::new(), String::new()),
        rows: vec![row(0.0, from), row(seconds, to)],
        notes: Vec::new(),
    })
}

/// Balance with a humidity (%RH) in the store, and the diffusivity there.
fn known(percent: f64) -> Option<(f64, f64)> {
    let pc = resin("pc")?;
    let t = Temperature::from_celsius(WARM).kelvin();
    Some((
        pc.isotherm.law.moisture(t, percent / 100.0),
        pc.diffusivity.law.at(t, 0.0),
    ))
}

fn row(what: String, expected: Option<f64>, computed: Option<f64>) -> Row {
    Row {
        source: SOURCE,
        what,
        unit: "ppm dry",
        expected: 1e6 * expected.unwrap_or(f64::NAN),
        computed: 1e6 * computed.unwrap_or(f64::NAN),
        tolerance: 1e-4,
        absolute: false,
        why: "the promise of a curve",
        kind: Kind::Exact,
        disputed: None,
    }
}

/// Every row.
pub fn rows() -> Vec<Row> {
    let mut rows = Vec::new();
    for fourier in FOURIER {
        let found = known(DAMP);
        let seconds = found.map_or(0.0, |(_, d)| fourier * RADIUS * RADIUS / d);
        let left: f64 = (1..4000)
            .map(|n| {
                let n = f64::from(n) * PI;
                6.0 / (n * n) * (-n * n * fourier).exp()
            })
            .sum();
        let expected = found.map(|(balance, _)| balance * (1.0 - left));
        for (name, climate) in [
            ("by day", daily(seconds)),
            ("as weather", weather(seconds, DAMP, DAMP)),
        ] {
            rows.push(row(
                format!("PC sphere in a store {name}, 28 degC, 60 %RH, Fo {fourier}"),
                expected,
                mean(climate),
            ));
        }
    }
    let (fourier, found) = (5.0, known(DAMP));
    let seconds = found.map_or(0.0, |(_, d)| fourier * RADIUS * RADIUS / d);
    rows.push(row(
        "PC sphere in a store growing damp from 0 to 60 %RH, Fo 5".to_owned(),
        found.map(|(balance, _)| balance * (1.0 - 1.0 / (15.0 * fourier))),
        mean(weather(seconds, 0.0, DAMP)),
    ));
    rows
}

#[cfg(test)]
mod tests {
    #[test]
    fn exact_stored_pellet() {
        crate::check(&super::rows());
    }
}
