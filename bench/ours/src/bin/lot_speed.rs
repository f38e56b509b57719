//! What one kind of pellet more costs: the steady bed of the benchmark with 1 to 8 kinds of different
//! size sharing its air, and five hundred such beds of five kinds on two threads.
//!
//! Medians of repeated runs in a warm process; prints `name value` lines.

use bed::column::Column;
use bench_ours::{CASES, DRIVE, column, diffusivity};
use pellet::blend::Beside;
use rayon::prelude::*;
use std::error::Error;
use std::hint::black_box;
use std::io::Write;
use std::time::Instant;

/// Parcels and modes of a plan's samples.
const SAMPLED: (usize, usize) = (40, 6);
const REPEATS: usize = 41;
const SAMPLES: u32 = 500;
const THREADS: usize = 2;

type Outcome<T> = Result<T, Box<dyn Error>>;

fn main() -> Outcome<()> {
    let mut out = std::io::stdout().lock();
    let mut first = None;
    for kinds in [1, 2, 3, 5, 8] {
        let column = lot(kinds, 1.0)?;
        let mut times: Vec<f64> = (0..REPEATS)
            .map(|_| {
                let start = Instant::now();
                black_box(column.steady(&DRIVE)).map(|_| 1e3 * start.elapsed().as_secs_f64())
            })
            .collect::<Result<_, _>>()?;
        times.sort_by(f64::total_cmp);
        let taken = times[REPEATS / 2];
        let one = *first.get_or_insert(taken);
        writeln!(out, "steady_{kinds}_kinds_ms {taken:.3}")?;
        if kinds > 1 {
            let each = (taken - one) / f64::from(kinds - 1) / one;
            writeln!(out, "each_further_kind_over_the_first_{kinds} {each:.2}")?;
        }
    }
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(THREADS)
        .build()?;
    let start = Instant::now();
    let solved = pool.install(|| {
        (0..SAMPLES)
            .into_par_iter()
            .filter(|index| {
                let factor = 0.5 + f64::from(*index) / f64::from(SAMPLES);
                lot(5, factor).is_ok_and(|column| column.steady(&DRIVE).is_ok())
            })
            .count()
    });
    writeln!(
        out,
        "five_kinds_{SAMPLES}_beds_s {:.2}",
        start.elapsed().as_secs_f64()
    )?;
    writeln!(out, "five_kinds_solved {solved}")?;
    Ok(())
}

/// The column of the benchmark with kinds from 0.7 to 1.4 times its pellets, in equal shares.
fn lot(kinds: u32, factor: f64) -> Outcome<Column> {
    let (parcels, modes) = SAMPLED;
    let law = diffusivity(CASES[0].energy).scaled(factor);
    let mut made = column(law, parcels, modes)?;
    for index in 1..kinds {
        let size = 0.7 + 0.7 * f64::from(index) / f64::from(kinds);
        let mut contact = made.contact.clone();
        contact.interior = contact.interior.scaled(size);
        contact.exchange.heat /= size * size;
        contact.exchange.vapour /= size * size;
        made.beside.push(Beside {
            share: 1.0 / f64::from(kinds),
            contact,
            moisture: DRIVE.feed_moisture * (1.0 + 0.1 * f64::from(index)),
            free_water: 0.0,
        });
    }
    Ok(made)
}
