//! Work against precision of the hopper on the benchmark case: time, height and radius.
//!
//! For each mesh: milliseconds, the error of the outlet moisture at 4, 8, 12 and 16 h relative to the
//! limit, the observed order (against the mesh before), and what water and energy fail to close by.

use bed::column::Column;
use bed::run::Run;
use bench_ours::{CASES, Case, DRIVE, HOURS, column, diffusivity, outlet, run_to};
use std::error::Error;
use std::io::Write;
use std::time::Instant;

const MESHES: [usize; 7] = [20, 40, 80, 160, 320, 640, 1280];
const MODES: [usize; 6] = [4, 6, 8, 12, 16, 24];

/// What one mesh gave.
struct Answer {
    milliseconds: f64,
    outlet: [f64; 4],
    water: f64,
    energy: f64,
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout().lock();
    for case in CASES {
        writeln!(out, "activation energy {} J/mol", case.energy)?;
        height(&mut out, case)?;
        radius(&mut out, case)?;
        steady(&mut out, case)?;
    }
    Ok(())
}

/// Parcels, with one and with two steps for each.
fn height(out: &mut impl Write, case: Case) -> Result<(), Box<dyn Error>> {
    for steps in [1, 2] {
        writeln!(
            out,
            "height and time, {steps} step(s) for each parcel, 16 modes"
        )?;
        heading(out, "parcels")?;
        let mut last: Option<Answer> = None;
        for parcels in MESHES {
            if steps == 2 && parcels > 320 {
                continue;
            }
            let mut made = column(diffusivity(case.energy), parcels, 16)?;
            made.steps_per_parcel = steps;
            let answer = answer(&made)?;
            write(out, parcels, &answer, last.as_ref(), case)?;
            last = Some(answer);
        }
    }
    Ok(())
}

/// Modes, on one mesh, against the most modes on that mesh.
fn radius(out: &mut impl Write, case: Case) -> Result<(), Box<dyn Error>> {
    writeln!(out, "radius, 160 parcels, against 32 modes")?;
    heading(out, "modes")?;
    let finest = answer(&column(diffusivity(case.energy), 160, 32)?)?;
    let against = Case {
        limit: finest.outlet,
        ..case
    };
    let mut last: Option<Answer> = None;
    for modes in MODES {
        let answer = answer(&column(diffusivity(case.energy), 160, modes)?)?;
        write(out, modes, &answer, last.as_ref(), against)?;
        last = Some(answer);
    }
    Ok(())
}

/// The steady state, found directly.
fn steady(out: &mut impl Write, case: Case) -> Result<(), Box<dyn Error>> {
    writeln!(
        out,
        "steady state, 16 modes\nparcels       ms      error  order  water  energy  rounds"
    )?;
    let mut last = f64::NAN;
    for parcels in MESHES.into_iter().chain([2560]) {
        let made = column(diffusivity(case.energy), parcels, 16)?;
        let start = Instant::now();
        let found = made.steady(&DRIVE)?;
        let taken = start.elapsed().as_secs_f64() * 1e3;
        let error = found.outlet_moisture / case.steady - 1.0;
        writeln!(
            out,
            "{parcels:7} {taken:8.2} {error:10.1e} {:6.2} {:7.0e} {:7.0e} {:3}  {:.5} ppm",
            (last / error).abs().log2(),
            found.water_imbalance,
            found.energy_imbalance,
            found.rounds,
            found.outlet_moisture * 1e6,
        )?;
        last = error;
    }
    Ok(())
}

fn answer(column: &Column) -> Result<Answer, Box<dyn Error>> {
    let start = Instant::now();
    let run: Run = run_to(column, HOURS[3])?;
    let found = outlet(&run);
    Ok(Answer {
        milliseconds: start.elapsed().as_secs_f64() * 1e3,
        outlet: found,
        water: run.water.imbalance(),
        energy: run.energy.imbalance(),
    })
}

fn heading(out: &mut impl Write, what: &str) -> std::io::Result<()> {
    write!(out, "{what:7}       ms")?;
    for hour in HOURS {
        write!(out, "  {hour:4} h error order")?;
    }
    writeln!(out, "   water  energy  16 h ppm")
}

fn write(
    out: &mut impl Write,
    mesh: usize,
    answer: &Answer,
    last: Option<&Answer>,
    case: Case,
) -> std::io::Result<()> {
    write!(out, "{mesh:7} {:8.2}", answer.milliseconds)?;
    for (k, limit) in case.limit.iter().enumerate() {
        let error = answer.outlet[k] / limit - 1.0;
        let order = last.map_or(f64::NAN, |last| {
            ((last.outlet[k] / limit - 1.0) / error).abs().log2()
        });
        write!(out, "   {error:9.1e} {order:5.2}")?;
    }
    writeln!(
        out,
        " {:7.0e} {:7.0e}  {:.5}",
        answer.water,
        answer.energy,
        answer.outlet[3] * 1e6
    )
}
