//! How long the hopper takes on the benchmark case, each answer with its error against the limit.
//!
//! Three questions: the outlet at 16 h within 0.1 %, the curve at 4, 8 and 12 h within 1 %, and ten
//! thousand sampled hoppers at steady state within 1 % on two threads. Medians of repeated runs in a
//! warm process; `modes_ms` is what finding the decay modes of the pellet takes, once for each shape.
//! Prints `name value` lines. With `outlet`, `curve`, `steady` or `modes` as argument it does that once
//! and nothing else, for a counter of instructions.

use bed::column::{Column, Drive};
use bench_ours::{CASES, Case, DRIVE, HOURS, column, diffusivity, outlet, run_to};
use material::Isotherm;
use rayon::prelude::*;
use std::error::Error;
use std::hint::black_box;
use std::io::Write;
use std::time::Instant;

/// Parcels and modes for 0.1 % at 16 h, and for 1 % along the curve and at steady state.
const FINE: (usize, usize) = (36, 6);
const COARSE: (usize, usize) = (20, 6);
const SAMPLED: (usize, usize) = (80, 6);
const REPEATS: usize = 41;
const THREADS: usize = 2;

type Outcome<T> = Result<T, Box<dyn Error>>;

fn main() -> Outcome<()> {
    let [case, _] = CASES;
    match std::env::args().nth(1).as_deref() {
        Some("outlet") => drop(black_box(run_to(&made(case, FINE)?, HOURS[3])?)),
        Some("curve") => drop(black_box(run_to(&made(case, COARSE)?, HOURS[2])?)),
        Some("steady") => drop(black_box(made(case, FINE)?.steady(&DRIVE)?)),
        Some("modes") => drop(black_box(made(case, FINE)?)),
        _ => report()?,
    }
    Ok(())
}

fn report() -> Outcome<()> {
    let mut out = std::io::stdout().lock();
    let first = Instant::now();
    let answer = outlet(&run_to(&made(CASES[0], FINE)?, HOURS[3])?);
    writeln!(out, "first_outlet_ms {:.2}", milliseconds(first))?;
    writeln!(out, "outlet_kg_kg {:.6e}", answer[3])?;
    for (case, suffix) in CASES.into_iter().zip(["", "_activated"]) {
        let (fine, coarse) = (made(case, FINE)?, made(case, COARSE)?);
        let (taken, run) = median(|| Ok(run_to(&fine, HOURS[3])?))?;
        writeln!(out, "outlet_ms{suffix} {taken:.3}")?;
        writeln!(
            out,
            "outlet_error{suffix} {:.1e}",
            worst(&outlet(&run), case, 3..4)
        )?;
        writeln!(
            out,
            "water_imbalance{suffix} {:.0e}\nenergy_imbalance{suffix} {:.0e}",
            run.water.imbalance(),
            run.energy.imbalance()
        )?;
        let (taken, run) = median(|| Ok(run_to(&coarse, HOURS[2])?))?;
        writeln!(out, "curve_ms{suffix} {taken:.3}")?;
        writeln!(
            out,
            "curve_error{suffix} {:.1e}",
            worst(&outlet(&run), case, 0..3)
        )?;
        let (taken, steady) = median(|| Ok(fine.steady(&DRIVE)?))?;
        writeln!(out, "steady_ms{suffix} {taken:.4}")?;
        writeln!(
            out,
            "steady_error{suffix} {:.1e}",
            (steady.outlet_moisture / case.steady - 1.0).abs()
        )?;
    }
    let (taken, _) = median(|| made(CASES[0], FINE))?;
    writeln!(out, "modes_ms {taken:.3}")?;
    sampled(&mut out, "sampled", &AROUND, 10_000)?;
    sampled(&mut out, "sampled_wide", &WIDE, 1000)
}

/// What is sampled: the factor of D, the capacity (kg/kg), the heat capacity of the resin (J/(kg K)),
/// the rate (kg/h) and the air temperature (degC), each from and to.
struct Ranges {
    diffusivity: (f64, f64),
    capacity: (f64, f64),
    heat: (f64, f64),
    rate: (f64, f64),
    hot: (f64, f64),
}

/// Around the case: air brings at least as much heat capacity as the resin.
const AROUND: Ranges = Ranges {
    diffusivity: (0.5, 2.0),
    capacity: (0.004, 0.009),
    heat: (1200.0, 1600.0),
    rate: (8.0, 12.0),
    hot: (110.0, 130.0),
};

/// As far as an awkward plant may go: 1 in 17 is short of air and does not get warm.
const WIDE: Ranges = Ranges {
    diffusivity: (0.5, 2.0),
    capacity: (0.004, 0.009),
    heat: (1200.0, 2000.0),
    rate: (5.0, 12.0),
    hot: (100.0, 130.0),
};

/// As many hoppers, and some of them again on a mesh eight times as fine.
fn sampled(out: &mut impl Write, name: &str, ranges: &Ranges, samples: u32) -> Outcome<()> {
    const CHECKED: u32 = 100;
    let base = made(CASES[1], SAMPLED)?;
    let finer = made(CASES[1], (SAMPLED.0 * 8, SAMPLED.1 * 2))?;
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(THREADS)
        .build()?;
    let start = Instant::now();
    let found: Vec<Option<f64>> = pool.install(|| {
        (1..=samples)
            .into_par_iter()
            .map(|index| sample(&base, ranges, index))
            .collect()
    });
    let taken = start.elapsed().as_secs_f64();
    let failed = found.iter().filter(|answer| answer.is_none()).count();
    let mut errors: Vec<f64> = (1..=samples)
        .step_by((samples / CHECKED) as usize)
        .filter_map(|index| {
            let answer = found.get(index as usize - 1).copied().flatten()?;
            Some((answer / sample(&finer, ranges, index)? - 1.0).abs())
        })
        .collect();
    errors.sort_by(f64::total_cmp);
    let at = |share: f64| {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a place in a short list"
        )]
        let place = (share * (errors.len() - 1) as f64) as usize;
        errors[place]
    };
    writeln!(out, "{name}_s {taken:.3}\n{name}_failed {failed}")?;
    writeln!(out, "{name}_error_median {:.1e}", at(0.5))?;
    writeln!(out, "{name}_error_most {:.1e}", at(1.0))?;
    Ok(())
}

/// Outlet moisture of one sampled hopper at steady state.
fn sample(base: &Column, ranges: &Ranges, index: u32) -> Option<f64> {
    let [diffusion, capacity, heat, rate, hot] = spread(index);
    let between = |(from, to): (f64, f64), share: f64| from + (to - from) * share;
    let (least, most) = ranges.diffusivity;
    let factor = least * (most / least).powf(diffusion);
    let mut column = base.clone();
    column.contact.diffusivity = column.contact.diffusivity.scaled(factor);
    column.contact.isotherm = Isotherm::Henry {
        capacity: between(ranges.capacity, capacity),
        reference_temperature: 373.15,
        mixing_heat: 6300.0,
    };
    column.contact.calorics.resin = between(ranges.heat, heat);
    let drive = Drive {
        rate: between(ranges.rate, rate) / 3600.0,
        air_temperature: 273.15 + between(ranges.hot, hot),
        ..DRIVE
    };
    Some(column.steady(&drive).ok()?.outlet_moisture)
}

/// Five numbers between 0 and 1 that fill the cube evenly: multiples of the powers of the inverse of
/// g, modulo 1, with g the positive root of g^6 = g + 1 (additive recurrence; from memory).
fn spread(index: u32) -> [f64; 5] {
    const ROOT: f64 = 1.134_724_138_401_519_4;
    let mut power = 1.0;
    [(); 5].map(|()| {
        power /= ROOT;
        (0.5 + power * f64::from(index)).fract()
    })
}

fn made(case: Case, (parcels, modes): (usize, usize)) -> Outcome<Column> {
    Ok(column(diffusivity(case.energy), parcels, modes)?)
}

/// Largest error relative to the limit over some of the hours.
fn worst(answer: &[f64; 4], case: Case, hours: std::ops::Range<usize>) -> f64 {
    answer[hours.clone()]
        .iter()
        .zip(&case.limit[hours])
        .fold(0.0, |most, (found, limit)| {
            f64::max(most, (found / limit - 1.0).abs())
        })
}

fn milliseconds(start: Instant) -> f64 {
    start.elapsed().as_secs_f64() * 1e3
}

/// Median time of repeated calls, ms, and the answer.
fn median<T>(call: impl Fn() -> Outcome<T>) -> Outcome<(f64, T)> {
    let mut times = Vec::with_capacity(REPEATS);
    let mut answer = call()?;
    for _ in 0..REPEATS {
        let start = Instant::now();
        answer = black_box(call()?);
        times.push(milliseconds(start));
    }
    times.sort_by(f64::total_cmp);
    Ok((times[REPEATS / 2], answer))
}
