//! What a desiccant wheel costs: its steady state cold and from a neighbour, and a day in time.
//!
//! Processor time of this thread, the least of repeated blocks of runs in a warm process; prints `name value`
//! lines. With `--transfer` it prints the transfer coefficients of the case instead.

use bench_ours::processor_ms;
use bench_ours::wheel::{drive, wheel};
use dryer::wheel::{Mesh, Wheel, WheelDrive, WheelSteady};
use std::error::Error;
use std::hint::black_box;
use std::io::Write;

const REPEATS: usize = 9;
const BLOCK: u32 = 40;
/// The answer that errors are counted against.
const LIMIT: Mesh = Mesh {
    slices: 128,
    slots: 24,
    growth: 0.04,
};

type Outcome<T> = Result<T, Box<dyn Error>>;

fn main() -> Outcome<()> {
    let mut out = std::io::stdout().lock();
    let fine = wheel(LIMIT)?;
    if std::env::args().any(|argument| argument == "--transfer") {
        for air in &drive(&fine).air[..2] {
            let t = 0.5 * (air.temperature + 308.15);
            let by = fine
                .spec
                .passages
                .transfer(t, 101_325.0, air.humidity, None);
            writeln!(
                out,
                "{t} K: {:.9e} kg/(m3 s), {:.9e} W/(m3 K)",
                by.water, by.heat
            )?;
        }
        return Ok(());
    }
    let limit = fine.steady(&drive(&fine), None)?;
    writeln!(out, "limit_dew_point_c {:.4}", dew_point(&limit))?;
    for (name, mesh) in [("coarse", Mesh::COARSE), ("fine", Mesh::FINE)] {
        let wheel = wheel(mesh)?;
        let drive = drive(&wheel);
        let steady = wheel.steady(&drive, None)?;
        let off = dew_point(&steady) - dew_point(&limit);
        writeln!(out, "{name}_error_k {off:.4}")?;
        writeln!(out, "{name}_rounds {}", steady.rounds)?;
        let cold = least(|| Ok(wheel.steady(&drive, None)?))?;
        writeln!(out, "{name}_cold_ms {cold:.3}")?;
        let beside = neighbour(&drive);
        let warm = least(|| Ok(wheel.steady(&beside, Some(&steady.guess))?))?;
        writeln!(out, "{name}_warm_ms {warm:.3}")?;
        let day = day(&wheel, &drive)?;
        writeln!(out, "{name}_day_ms {day:.1}")?;
    }
    Ok(())
}

fn dew_point(steady: &WheelSteady) -> f64 {
    steady.outlets[0].dew_point - 273.15
}

/// A tenth more water and 3 K less regeneration.
fn neighbour(drive: &WheelDrive) -> WheelDrive {
    let mut beside = drive.clone();
    beside.air[0].humidity *= 1.1;
    beside.air[1].temperature -= 3.0;
    beside
}

/// 24 hours from a cold, humid stand, ms.
fn day(wheel: &Wheel, drive: &WheelDrive) -> Outcome<f64> {
    let mut state = wheel.at_rest(293.15, 0.008)?;
    let start = processor_ms()?;
    black_box(wheel.advance(&mut state, drive, 86_400.0)?);
    Ok(processor_ms()? - start)
}

/// Least mean of some blocks: the clock of the thread is coarse.
fn least(mut work: impl FnMut() -> Outcome<WheelSteady>) -> Outcome<f64> {
    let mut best = f64::INFINITY;
    for _ in 0..REPEATS {
        let start = processor_ms()?;
        for _ in 0..BLOCK {
            black_box(work()?);
        }
        best = best.min((processor_ms()? - start) / f64::from(BLOCK));
    }
    Ok(best)
}
