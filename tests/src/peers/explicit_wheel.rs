//! The plainest scheme of a desiccant wheel: exponential air along 50 cells, the solid by explicit steps.
//!
//! What it is: the usual gas-side model, as it is first written: constant transfer, water on the solid
//! with the heat capacity of liquid and the isosteric heat added as it comes, steps of 0.1 s, turned until
//! the outlet humidity changes by less than 1e-5. Another model of the heat on the solid, not the same one.
//! How read: frozen from `bench/peers/wheel_table.py explicit` (NumPy, SciPy 1.17.1).
//! Tolerance: 2 K of dew point and 2 K of temperature, where the outlet is limited by the residual loading;
//! past 12 turns an hour the cooling front no longer gets through, the heat on the solid decides, and 3 K
//! and 6 K are allowed. The room before the cliff within 5 %.

use crate::wheel_case::{Change, wheel};
use crate::{Kind, Row};
use dryer::condensation_temperature;
use dryer::wheel::Mesh;

const SOURCE: &str = "explicit wheel model (bench/peers/wheel_table.py explicit)";

/// Change, humidity ratio and temperature (degC) of the process air.
const TABLE: &[(Change, f64, f64)] = &[
    (Change::Nothing, 9.263324e-06, 41.33),
    (Change::Regeneration(120.0), 1.037277e-04, 41.14),
    (Change::Regeneration(140.0), 4.273525e-05, 41.28),
    (Change::Regeneration(160.0), 1.941733e-05, 41.31),
    (Change::Regeneration(200.0), 4.567290e-06, 41.33),
    (Change::Regeneration(230.0), 1.625685e-06, 41.33),
    (Change::RegenerationHumidity(0.002), 2.265299e-06, 41.33),
    (Change::RegenerationHumidity(0.005), 5.162418e-06, 41.33),
    (Change::RegenerationHumidity(0.015), 1.280898e-05, 41.32),
    (Change::RegenerationHumidity(0.02), 1.598734e-05, 41.32),
    (Change::Inlet(20.0), 3.167454e-06, 26.33),
    (Change::Inlet(45.0), 1.796417e-05, 51.31),
    (Change::Inlet(55.0), 3.351214e-05, 61.28),
    (Change::Inlet(65.0), 6.043317e-05, 71.21),
    (Change::Load(0.0005), 6.602955e-06, 36.54),
    (Change::Load(0.001), 7.382398e-06, 38.12),
    (Change::Load(0.003), 1.216248e-05, 44.60),
    (Change::Load(0.004), 2.498961e-05, 47.91),
    (Change::Load(0.006), 1.158602e-03, 51.18),
    (Change::Speed(3.0), 1.067518e-05, 41.33),
    (Change::Speed(8.0), 9.340420e-06, 41.39),
    (Change::Speed(12.0), 1.125617e-05, 42.54),
    (Change::Speed(16.0), 2.114177e-05, 45.11),
    (Change::Speed(24.0), 7.380143e-05, 51.00),
    (Change::Cooling(0.0), 2.076813e-04, 46.86),
    (Change::Cooling(0.02), 3.109757e-05, 43.71),
    (Change::Cooling(0.05), 9.445335e-06, 41.53),
    (Change::Cooling(0.15), 9.271415e-06, 41.33),
    (Change::Capacity(1.0), 1.216248e-05, 44.60),
    (Change::Capacity(0.8), 1.488862e-05, 44.65),
    (Change::Capacity(0.6), 1.057309e-04, 44.47),
    (Change::Capacity(0.5), 5.483756e-04, 43.11),
    (Change::Capacity(0.4), 1.094099e-03, 41.39),
];
/// Load at which its dew point has risen by 10 K, over 2 g/kg: between its runs at 4.1 and 4.2 g/kg.
const ROOM: f64 = 2.089;

/// Every row of this file.
pub fn rows() -> Vec<Row> {
    let mut rows = Vec::new();
    for (change, humidity, celsius) in TABLE {
        let steady = wheel(*change, Mesh::FINE)
            .and_then(|(wheel, drive)| wheel.steady(&drive, None).map_err(Into::into));
        let out = steady.ok().map(|steady| steady.outlets[0]);
        let (dew_point, t) = out.map_or((f64::NAN, f64::NAN), |out| {
            (out.dew_point - 273.15, out.mean.temperature - 273.15)
        });
        let fast = matches!(change, Change::Speed(turns) if *turns > 12.0);
        let row = |what: &str, expected, computed, tolerance| Row {
            source: SOURCE,
            what: format!("wheel, {change:?}: {what} out"),
            unit: "degC",
            expected,
            computed,
            tolerance,
            absolute: true,
            why: "another model of the heat on the solid",
            kind: Kind::Peer,
            disputed: None,
        };
        let expected = condensation_temperature(*humidity, 101_325.0) - 273.15;
        rows.push(row(
            "dew point",
            expected,
            dew_point,
            if fast { 3.0 } else { 2.0 },
        ));
        rows.push(row(
            "temperature",
            *celsius,
            t,
            if fast { 6.0 } else { 2.0 },
        ));
    }
    let room = wheel(Change::Nothing, Mesh::FINE).and_then(|(wheel, drive)| {
        let now = wheel.steady(&drive, None)?;
        Ok(wheel.reserve(&drive, &now)?.load_ratio)
    });
    rows.push(Row {
        source: SOURCE,
        what: "wheel: load at which the dew point has risen by 10 K, over the present".to_owned(),
        unit: "",
        expected: ROOM,
        computed: room.unwrap_or(f64::NAN),
        tolerance: 0.05,
        absolute: false,
        why: "another model of the heat on the solid",
        kind: Kind::Peer,
        disputed: None,
    });
    rows
}

#[test]
fn peer_wheel_as_by_the_plainest_scheme() {
    crate::check(&rows());
}
