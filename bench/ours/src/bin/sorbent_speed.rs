//! How long the vapour pressure over a desiccant takes with both slopes, in ns per call.
//!
//! A hundred thousand states of 13X, loading and temperature varied without order. Best of two hundred
//! batches, so that a busy machine says little.

use material::sorbent::{Sorbent, SorbentLaw, SorbentTable, Toth};
use std::hint::black_box;
use std::io::Write as _;
use std::time::Instant;

const CALLS: usize = 100_000;
const BATCHES: usize = 200;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    // Wang and LeVan (2009), 13X.
    let law = SorbentLaw::Toth(Toth {
        capacity: 0.271_875,
        affinity: 2.408e-10,
        energy: 6852.0,
        exponent: 0.3974,
        exponent_slope: -4.199,
    });
    let sieve = Sorbent::new(law, 920.0)?;
    let start = Instant::now();
    let table = SorbentTable::new(&sieve)?;
    let made = start.elapsed().as_secs_f64() * 1e3;
    let states = states();
    let mut out = std::io::stdout().lock();
    for (name, each) in [
        (
            "table_log_pressure_ns",
            best(&states, |q, t| {
                let [ln_p, by_q, by_t] = table.log_pressure(q, t);
                ln_p + by_q + by_t
            }),
        ),
        (
            "table_pressure_ns",
            best(&states, |q, t| {
                let over = table.pressure(q, t);
                over.pressure + over.by_loading + over.by_temperature
            }),
        ),
        (
            "law_pressure_ns",
            best(&states, |q, t| {
                let over = sieve.pressure(q, t);
                over.pressure + over.by_loading + over.by_temperature
            }),
        ),
    ] {
        writeln!(out, "{name} {each:.1}")?;
    }
    writeln!(out, "table_made_ms {made:.1}")?;
    writeln!(out, "largest_difference_of_ln_p {:.1e}", table.worst())?;
    Ok(())
}

/// Loadings 0.002 to 0.22 kg/kg at 20 to 230 degC, from a linear congruence (Knuth, The Art of Computer
/// Programming, 3.3.4, line 26).
fn states() -> Vec<(f64, f64)> {
    let mut seed = 1_u64;
    let mut draw = move |low: f64, high: f64| {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * ((seed >> 11) as f64 / (1_u64 << 53) as f64)
    };
    (0..CALLS)
        .map(|_| (draw(0.002, 0.22), draw(293.15, 503.15)))
        .collect()
}

/// Nanoseconds a call takes in the fastest batch of all states.
fn best(states: &[(f64, f64)], call: impl Fn(f64, f64) -> f64) -> f64 {
    let mut fastest = f64::INFINITY;
    for _ in 0..BATCHES {
        let start = Instant::now();
        let sum: f64 = states.iter().map(|&(q, t)| call(black_box(q), t)).sum();
        let each = start.elapsed().as_secs_f64() * 1e9 / CALLS as f64;
        assert!(black_box(sum).is_finite(), "a call failed");
        fastest = fastest.min(each);
    }
    fastest
}
