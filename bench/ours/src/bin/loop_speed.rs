//! What a closed loop costs: at rest cold and from a neighbour, and a day in time.
//!
//! The hopper of the benchmark on a desiccant wheel sized by custom. Processor time of this thread, the
//! least of several runs in a warm process; prints `name value` lines.

use bench_ours::wheel::wheel;
use bench_ours::{DRIVE, column, diffusivity, processor_ms};
use dryer::Resistance;
use dryer::wheel::Mesh;
use line::{Feed, Line, Maker, Room, Station, Way, usual};
use std::error::Error;
use std::hint::black_box;
use std::io::Write;

const REPEATS: usize = 9;
const DAY: f64 = 24.0 * 3600.0;

type Outcome<T> = Result<T, Box<dyn Error>>;

fn main() -> Outcome<()> {
    let mut out = std::io::stdout().lock();
    for (name, mesh) in [("coarse", Mesh::COARSE), ("fine", Mesh::FINE)] {
        let line = line(mesh)?;
        let steady = line.steady(None)?;
        writeln!(out, "{name}_rounds {}", steady.rounds)?;
        writeln!(
            out,
            "{name}_supply_g_kg {:.5}",
            1e3 * steady.delivered.humidity
        )?;
        let cold = least(|| Ok(line.steady(None)?.rounds))?;
        writeln!(out, "{name}_cold_ms {cold:.2}")?;
        let mut near = line.clone();
        near.stations[0].feed.moisture *= 1.1;
        let warm = least(|| Ok(near.steady(Some(&steady.guess))?.rounds))?;
        writeln!(out, "{name}_warm_ms {warm:.2}")?;
        let day = least(|| {
            let mut state = line.at_rest()?;
            Ok(line.run(&mut state, DAY)?.moments.len())
        })?;
        writeln!(out, "{name}_day_ms {day:.1}")?;
    }
    Ok(())
}

/// The hopper of the benchmark, 36 parcels and 6 modes, in a hall of 23 degC and 9 g/kg.
fn line(mesh: Mesh) -> Outcome<Line> {
    let room = Room {
        temperature: 296.15,
        humidity: 0.009,
        pressure: 101_325.0,
    };
    let sorbent = wheel(mesh)?.spec.sorbent;
    let equipment = usual::wheel_dryer(DRIVE.air_flow, DRIVE.air_temperature, sorbent);
    let mut maker = equipment.maker(DRIVE.air_flow, &room)?;
    if let Maker::Wheel(dryer) = &mut maker {
        dryer.wheel = dryer.wheel.resolved(mesh)?;
    }
    Ok(Line {
        maker,
        stations: vec![Station {
            name: "benchmark".to_owned(),
            column: column(diffusivity(33.1e3), 36, 6)?,
            feed: Feed {
                rate: DRIVE.rate,
                temperature: DRIVE.feed_temperature,
                moisture: DRIVE.feed_moisture,
                free_water: DRIVE.feed_free_water,
            },
            air_flow: DRIVE.air_flow,
            set_point: DRIVE.air_temperature,
            heater: equipment.heater()?,
            resistance: Resistance::default(),
            way: Way::default(),
        }],
        room,
    })
}

/// Least processor time, ms.
fn least(run: impl Fn() -> Outcome<usize>) -> Outcome<f64> {
    let mut least = f64::INFINITY;
    for _ in 0..REPEATS {
        let start = processor_ms()?;
        black_box(run()?);
        least = least.min(processor_ms()? - start);
    }
    Ok(least)
}
