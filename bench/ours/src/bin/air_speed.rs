//! How long a humidity ratio from a dew or frost point takes, and the way back, in ns per call.
//!
//! A million states, temperature, pressure and point all varied without order; each call goes through
//! the typed door with all its checks. Best of seven batches, so that a busy machine says little.
//! With a number as argument it prints the humidity ratios of that many states instead, for
//! `bench/peers/humid_air.py`, which draws the same states.

use air::{CondensationPoint, HumidAir, Humidity, mixture, saturation, transport};
use quantity::{AbsolutePressure, DewPoint, FrostPoint, HumidityRatio, Temperature};
use std::hint::black_box;
use std::io::Write as _;
use std::time::Instant;

const CALLS: usize = 1_000_000;
const BATCHES: usize = 7;

fn main() -> std::io::Result<()> {
    let mut out = std::io::stdout().lock();
    let states: Vec<(Temperature, AbsolutePressure, f64)> = states().collect();
    let points: Vec<Humidity> = states.iter().map(|&(_, _, at)| point(at)).collect();

    // The first of all calls fills the tables.
    let start = Instant::now();
    let _ = black_box(HumidAir::new(states[0].0, states[0].1, points[0]));
    let _ = black_box(air::expansion::vapour_in_line(
        FrostPoint::from_celsius(-40.0),
        states[0].1,
    ));
    let first = start.elapsed().as_secs_f64() * 1e3;

    let ratios: Vec<HumidityRatio> = states
        .iter()
        .zip(&points)
        .filter_map(|(&(t, p, _), &point)| Some(HumidAir::new(t, p, point).ok()?.humidity_ratio()))
        .collect();
    assert_eq!(ratios.len(), CALLS, "every state must exist");
    if let Some(count) = std::env::args().nth(1) {
        let count = count.parse().unwrap_or(0);
        for ratio in ratios.iter().take(count) {
            writeln!(out, "{:e}", ratio.kg_per_kg())?;
        }
        return Ok(());
    }

    let ratio = |k: usize| {
        let air = HumidAir::new(states[k].0, states[k].1, black_box(points[k]));
        air.map_or(f64::NAN, |air| air.humidity_ratio().kg_per_kg())
    };
    let back = |k: usize| {
        let air = HumidAir::new(states[k].0, states[k].1, black_box(ratios[k]));
        air.and_then(|air| air.condensation_point())
            .map_or(f64::NAN, |point| match point {
                CondensationPoint::Dew(dew) => dew.kelvin(),
                CondensationPoint::Frost(frost) => frost.kelvin(),
            })
    };
    let enthalpy = |k: usize| {
        let (t, p) = (states[k].0.kelvin(), states[k].1.pascal());
        mixture::enthalpy(black_box(t), p, 1e-3)
    };
    let capacity = |k: usize| {
        let (t, p) = (states[k].0.kelvin(), states[k].1.pascal());
        mixture::heat_capacity(black_box(t), p, 1e-3)
    };
    let viscosity = |k: usize| {
        let (t, p) = (states[k].0.kelvin(), states[k].1.pascal());
        transport::viscosity(black_box(t), p, 1e-3)
    };
    let curve = |k: usize| saturation::over_liquid(black_box(states[k].0.kelvin()));
    for (name, each) in [
        ("humidity_ratio_from_point_ns", best(ratio)),
        ("point_from_humidity_ratio_ns", best(back)),
        (
            "humidity_ratio_same_state_ns",
            best(|_| ratio(black_box(0))),
        ),
        ("point_same_state_ns", best(|_| back(black_box(0)))),
        ("saturation_pressure_ns", best(curve)),
        ("enthalpy_ns", best(enthalpy)),
        ("heat_capacity_ns", best(capacity)),
        ("viscosity_ns", best(viscosity)),
    ] {
        writeln!(out, "{name} {each:.1}")?;
    }
    writeln!(out, "first_call_ms {first:.1}")
}

/// Points -60 to 90 degC, 0.101325 to 0.8 MPa, air up to 180 degC and above the point, from a
/// linear congruence (Knuth, The Art of Computer Programming, 3.3.4, line 26).
fn states() -> impl Iterator<Item = (Temperature, AbsolutePressure, f64)> {
    let mut seed = 1_u64;
    let mut draw = move |low: f64, high: f64| {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * ((seed >> 11) as f64 / (1_u64 << 53) as f64)
    };
    (0..CALLS).map(move |_| {
        let at = draw(-60.0, 90.0);
        let t = draw(at.max(0.0) + 1.0, 180.0);
        let p = draw(101_325.0, 800_000.0);
        (
            Temperature::from_celsius(t),
            AbsolutePressure::from_pascal(p),
            at,
        )
    })
}

fn point(celsius: f64) -> Humidity {
    if celsius > 0.01 {
        DewPoint::from_celsius(celsius).into()
    } else {
        FrostPoint::from_celsius(celsius).into()
    }
}

/// Nanoseconds a call takes in the fastest batch of all states.
fn best(call: impl Fn(usize) -> f64) -> f64 {
    let mut fastest = f64::INFINITY;
    for _ in 0..BATCHES {
        let start = Instant::now();
        let sum: f64 = (0..CALLS).map(&call).sum();
        let each = start.elapsed().as_secs_f64() * 1e9 / CALLS as f64;
        assert!(black_box(sum).is_finite(), "a call failed");
        fastest = fastest.min(each);
    }
    fastest
}
