//! What desiccant towers cost: one breakthrough, the cycle that repeats, and a day in time.
//!
//! Processor time of this thread, the least of repeated runs in a warm process; prints `name value`
//! lines. With `--transfer` it prints the transfer coefficients of the case instead, and with
//! `--breakthrough SLICES` what `bench/peers/towers.py` compares.

use bench_ours::processor_ms;
use bench_ours::towers::{drive, towers};
use dryer::towers::{Cycle, Ending, Swap, Towers, TowersMesh, TowersSteady};
use std::error::Error;
use std::hint::black_box;
use std::io::Write;

const REPEATS: usize = 5;
/// Runs timed as one: the clock of a thread moves in steps of some milliseconds.
const TOGETHER: u32 = 20;
/// The answer that errors are counted against.
const LIMIT: TowersMesh = TowersMesh {
    slices: 192,
    growth: 0.05,
    longest: 1.0,
};

type Outcome<T> = Result<T, Box<dyn Error>>;

fn main() -> Outcome<()> {
    let mut out = std::io::stdout().lock();
    let arguments: Vec<String> = std::env::args().collect();
    let fine = towers(LIMIT)?;
    if arguments.iter().any(|argument| argument == "--transfer") {
        let (air, spec) = (drive(&fine).process, &fine.spec);
        let flow = air.dry_air / fine.face;
        let (t, y, pore) = (air.temperature, air.humidity, spec.pore_diffusivity);
        let by = spec.beads.transfer(flow, t, spec.pressure, y, pore);
        writeln!(
            out,
            "{t} K: {:.9e} kg/(m3 s), {:.9e} W/(m3 K)",
            by.water, by.heat
        )?;
        return Ok(());
    }
    if let Some(place) = arguments.iter().position(|word| word == "--breakthrough") {
        let slices = arguments
            .get(place + 1)
            .map_or(Ok(48), |word| word.parse())?;
        let mesh = TowersMesh {
            slices,
            ..TowersMesh::FINE
        };
        let (half, time) = half_through(&mesh)?;
        writeln!(out, "half_h {half:.6}\ntime_ms {time:.3}")?;
        return Ok(());
    }
    let limit = fine.steady(&drive(&fine), None)?;
    writeln!(out, "limit_dew_point_c {:.4}", settled(&limit))?;
    for (name, mesh) in [("coarse", TowersMesh::COARSE), ("fine", TowersMesh::FINE)] {
        let towers = towers(mesh)?;
        let drive = drive(&towers);
        let steady = towers.steady(&drive, None)?;
        let off = settled(&steady) - settled(&limit);
        writeln!(out, "{name}_settled_error_k {off:.4}")?;
        let [one, best] = [&steady, &limit].map(|found| found.halves[0].outlet);
        writeln!(
            out,
            "{name}_mean_error_k {:.4}",
            one.dew_point - best.dew_point
        )?;
        writeln!(
            out,
            "{name}_hottest_error_k {:.4}",
            one.hottest - best.hottest
        )?;
        writeln!(out, "{name}_rounds {}", steady.rounds)?;
        let cold = least(|| Ok(towers.steady(&drive, None)?))?;
        writeln!(out, "{name}_cold_ms {cold:.3}")?;
        let mut beside = drive;
        beside.process.humidity *= 1.1;
        let warm = least(|| Ok(towers.steady(&beside, Some(&steady.guess))?))?;
        writeln!(out, "{name}_warm_ms {warm:.3}")?;
        let mut state = towers.at_rest(293.15, 0.008)?;
        let day = least(|| Ok(towers.advance(&mut state, &drive, 86_400.0)?))?;
        writeln!(out, "{name}_day_ms {day:.1}")?;
    }
    Ok(())
}

fn settled(steady: &TowersSteady) -> f64 {
    steady.halves[0].outlet.settled.1 - 273.15
}

/// Hours until half of the humidity comes through a cold dry bed, and the time that took, ms.
fn half_through(mesh: &TowersMesh) -> Outcome<(f64, f64)> {
    let towers: Towers = towers(*mesh)?.switched(Cycle {
        swap: Swap::Clock(12.0 * 3600.0),
        regeneration: Ending::After(0.0),
        cooling: Ending::After(0.0),
        ..towers(*mesh)?.spec.cycle
    })?;
    let drive = drive(&towers);
    let start = towers.at_rest(318.15, 6e-6)?;
    let comes = towers.breakthrough(&start, &drive, 228.15)?;
    let time = least(|| Ok(towers.breakthrough(&start, &drive, 228.15)?))?;
    Ok((comes.half / 3600.0, time))
}

fn least<T>(mut work: impl FnMut() -> Outcome<T>) -> Outcome<f64> {
    let mut best = f64::INFINITY;
    for _ in 0..REPEATS {
        let start = processor_ms()?;
        for _ in 0..TOGETHER {
            black_box(work()?);
        }
        best = best.min((processor_ms()? - start) / f64::from(TOGETHER));
    }
    Ok(best)
}
