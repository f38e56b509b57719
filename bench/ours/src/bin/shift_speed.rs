//! How long the hopper takes for a day of the press, with its largest miss; `bench/peers/shift.py` sets it beside
//! CVODE.

use bench_ours::{column, diffusivity, processor_ms, shift};
use std::hint::black_box;
use std::io::Write;

type Outcome = Result<(), Box<dyn std::error::Error>>;

/// Activation energy, J/mol.
const ENERGY: f64 = 33.1e3;
const MODES: usize = 6;
const REPEATS: usize = 11;
/// Parcels and longest step, s.
const MESHES: [(usize, f64); 4] = [(80, 60.0), (40, 60.0), (40, f64::INFINITY), (160, 60.0)];
/// Mesh of the limit.
const LIMIT: (usize, usize) = (640, 12);

fn main() -> Outcome {
    let mut out = std::io::stdout().lock();
    let fine = column(diffusivity(ENERGY), LIMIT.0, LIMIT.1)?;
    let limit = shift::outlet(&shift::day(&fine, f64::INFINITY)?);
    writeln!(out, "limit {}", limit.map(|x| format!("{x:e}")).join(" "))?;
    for (parcels, step) in MESHES {
        let column = column(diffusivity(ENERGY), parcels, MODES)?;
        let mut times = Vec::with_capacity(REPEATS);
        let mut found = limit;
        for _ in 0..REPEATS {
            let start = processor_ms()?;
            found = shift::outlet(&black_box(shift::day(&column, step)?));
            times.push(processor_ms()? - start);
        }
        times.sort_by(f64::total_cmp);
        let pairs = found.iter().zip(&limit);
        let most = pairs.fold(0.0, |most, (x, limit)| {
            f64::max(most, (x / limit - 1.0).abs())
        });
        let name = if step.is_finite() {
            format!("{parcels}_parcels_{step}_s")
        } else {
            format!("{parcels}_parcels_whole")
        };
        writeln!(out, "{name} {:.2} {most:.1e}", times[REPEATS / 2])?;
    }
    Ok(())
}
