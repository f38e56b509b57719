//! Modelica Buildings library, `Fluid.Dehumidifiers.Desiccant`: performance curves of a silica-gel wheel.
//!
//! What it is: polynomials of outlet humidity, outlet temperature and velocity of regeneration over entering
//! temperature, humidity and face velocity, regeneration at 121 degC; the default curve of the building
//! energy code EnergyPlus, itself a fit to a maker's data that are not public. Valid from 1.67 to 48.9 degC
//! and 2.857 to 28.57 g/kg.
//! How read: the coefficients in full, from the library's source.
//! What is not stated there: depth, sorbent, split of the face, speed, humidity of regeneration. Fixed
//! beforehand and not touched since: 0.2 m, the regular-density silica gel of Chua et al. (2004), 75 and 25 %
//! of the face, 8 turns an hour, regeneration with air as humid as the process air at the curve's own
//! velocity, channels and matrix of `wheel_case`, gas side alone. A test of trends, not of low dew points.
//! Tolerance: 10 % of outlet humidity and 2 K; what an unknown wheel can be asked for.
//! Errata and doubts: below 1 g/kg out the polynomial is near its zero, and that row is disputed.

use crate::wheel_case::{Change, wheel};
use crate::{Kind, Row};
use dryer::Stream;
use dryer::sorption::Adsorbed;
use dryer::wheel::{Duty, Mesh, Wheel, WheelDrive, WheelSpec};
use material::sorbent::{Sorbent, SorbentLaw, Toth};

const SOURCE: &str = "Modelica Buildings, Fluid.Dehumidifiers.Desiccant, performance curves";

/// Coefficients of outlet humidity, kg/kg.
const HUMIDITY: [f64; 16] = [
    0.014_888_082_432_380_6,
    -0.000_283_393_198_398_211,
    -0.878_021_689_405_47,
    -0.000_713_615_831_236_411,
    0.031_126_118_887_462_2,
    1.517_388_921_424_85e-06,
    0.028_725_019_828_102_1,
    4.947_969_032_315_58e-06,
    24.077_113_965_282_6,
    0.000_122_270_283_927_978,
    -0.015_165_718_956_647_4,
    3.916_413_932_303_22e-08,
    0.126_032_651_553_348,
    0.000_391_653_854_431_574,
    0.002_160_537_360_507,
    0.001_327_328_442_115_93,
];
/// Of outlet temperature, degC.
const TEMPERATURE: [f64; 16] = [
    -38.778_284_198_944_9,
    2.012_765_583_762_8,
    5_212.493_602_161_97,
    15.236_253_678_266_5,
    -80.491_041_775_918_1,
    -0.105_014_122_001_509,
    -229.668_673_645_144,
    -0.015_424_703_743_461,
    -69_440.068_983_184_7,
    -1.668_606_469_432_2,
    38.585_571_897_759_2,
    0.000_196_395_381_206_009,
    386.179_386_548_324,
    -0.801_959_614_172_614,
    -3.330_809_868_187_45,
    -15.203_438_606_571,
];
/// Of the face velocity of regeneration, m/s.
const REGENERATION: [f64; 16] = [
    -4.673_589_080_914_88,
    0.065_432_309_546_833_8,
    396.950_518_702_316,
    1.526_101_654_267_36,
    -11.395_586_843_032_8,
    0.005_206_939_061_044_37,
    57.783_645_385_621,
    -0.000_464_800_668_311_693,
    -5_958.786_132_126_02,
    -0.205_375_818_291_012,
    5.267_626_754_428_45,
    -8.884_525_530_500_39e-05,
    -182.382_479_369_311,
    -0.100_289_774_002_047,
    -0.486_980_507_964_251,
    -0.972_715_425_435_447,
];

/// Entering temperature (degC), humidity (kg/kg) and face velocity (m/s).
const STATES: [(f64, f64, f64); 6] = [
    (26.7, 0.012, 2.032),
    (26.7, 0.012, 3.048),
    (20.0, 0.008, 2.032),
    (35.0, 0.016, 3.048),
    (40.0, 0.020, 2.032),
    (20.0, 0.004, 2.032),
];

/// The curve of a state.
fn curve(a: &[f64; 16], t: f64, y: f64, v: f64) -> f64 {
    let terms = [
        1.0,
        t,
        y,
        v,
        t * y,
        t * v,
        y * v,
        t * t,
        y * y,
        v * v,
        t * t * y * y,
        t * t * v * v,
        y * y * v * v,
        t.ln(),
        y.ln(),
        v.ln(),
    ];
    a.iter().zip(terms).map(|(a, term)| a * term).sum()
}

/// Our wheel, as fixed beforehand.
fn ours() -> Option<Wheel> {
    let law = SorbentLaw::Toth(Toth {
        capacity: 0.45,
        affinity: 1.622_22e-12,
        energy: 5_835.03,
        exponent: 12.0,
        exponent_slope: 0.0,
    });
    let sorbent = Sorbent::new(law, 950.0).ok()?;
    let (case, _) = wheel(Change::Cooling(0.05), Mesh::FINE).ok()?;
    let mut spec = WheelSpec {
        sorbent: Adsorbed::of(&sorbent),
        ..case.spec
    };
    // 75 % process as it stands, 25 % regeneration, no cooling.
    spec.sectors.truncate(2);
    spec.sectors[1].angle = 90.0;
    spec.check().ok()
}

/// Humidity and temperature (degC) of the process air.
fn computed(wheel: &Wheel, t: f64, y: f64, v: f64) -> Option<(f64, f64)> {
    let regeneration = curve(&REGENERATION, t, y, v);
    let air = wheel.spec.sectors.iter().map(|sector| {
        let (celsius, velocity) = match sector.duty {
            Duty::Regeneration => (121.0, regeneration),
            Duty::Process | Duty::Cooling => (t, v),
        };
        Stream {
            dry_air: 1.2 * velocity * wheel.face * sector.angle / 360.0,
            temperature: 273.15 + celsius,
            humidity: y,
        }
    });
    let drive = WheelDrive {
        air: air.collect(),
        turns_per_hour: 8.0,
    };
    let out = wheel.steady(&drive, None).ok()?.outlets[0].mean;
    Some((out.humidity, out.temperature - 273.15))
}

/// Every row of this file.
pub fn rows() -> Vec<Row> {
    let wheel = ours();
    let mut rows = Vec::new();
    for (t, y, v) in STATES {
        let found = wheel.as_ref().and_then(|wheel| computed(wheel, t, y, v));
        let (humidity, celsius) = found.unwrap_or((f64::NAN, f64::NAN));
        let expected = curve(&HUMIDITY, t, y, v);
        let disputed = (expected < 1e-3)
            .then_some("the polynomial is near its zero below 1 g/kg of outlet humidity");
        let row = |what: &str, unit, expected, computed, tolerance, absolute| Row {
            source: SOURCE,
            what: format!(
                "silica-gel wheel, {t} degC, {} g/kg, {v} m/s: {what}",
                1e3 * y
            ),
            unit,
            expected,
            computed,
            tolerance,
            absolute,
            why: "depth, sorbent, split and speed of the curve's wheel are not known",
            kind: Kind::Published,
            disputed,
        };
        rows.push(row(
            "humidity out",
            "kg/kg",
            expected,
            humidity,
            0.10,
            false,
        ));
        let expected = curve(&TEMPERATURE, t, y, v);
        rows.push(row("temperature out", "degC", expected, celsius, 2.0, true));
    }
    rows
}

#[test]
fn published_silica_gel_wheel_follows_the_map() {
    crate::check(&rows());
}
