//! Work against precision of the hopper on the benchmark case.

use bed::column::{Column, Passed};
use bench_ours::{DRIVE, column, diffusivity};
use std::time::Instant;

/// Runs to `hours` and returns the outlet moisture (kg/kg) at each full hour asked for, with the
/// water imbalance and the energy imbalance relative to what entered.
fn run(column: &Column, hours: &[f64]) -> Result<(Vec<f64>, f64, f64, Passed), bed::BedError> {
    let mut state = column.filled(DRIVE.feed_temperature, DRIVE.feed_moisture, 0.0);
    let start = column.held(&state);
    let mut sums = Passed::default();
    let (mut time, mut found) = (0.0, Vec::new());
    let mut series: Vec<(f64, f64)> = Vec::new();
    let end = hours.iter().fold(0.0_f64, |a, b| a.max(*b)) * 3600.0;
    let mut last = Passed::default();
    while time < end + 2000.0 {
        let passed = column.step(&mut state, &DRIVE, f64::INFINITY)?;
        series.push((
            time + 0.5 * passed.duration,
            passed.water_out / passed.resin_out,
        ));
        time += passed.duration;
        sums.water_in += passed.water_in + passed.air_water_in;
        sums.water_out += passed.water_out + passed.air_water_out;
        sums.heat_in += passed.heat_in + passed.air_heat_in;
        sums.heat_out += passed.heat_out + passed.air_heat_out + passed.wall_heat;
        last = passed;
    }
    for hour in hours {
        let at = hour * 3600.0;
        let k = series
            .iter()
            .position(|(t, _)| *t >= at)
            .unwrap_or(1)
            .max(1);
        // Cubic through the four nearest, so that reading the curve adds no error of its own.
        let k = k.clamp(2, series.len() - 2);
        let p = &series[k - 2..k + 2];
        let mut value = 0.0;
        for i in 0..4 {
            let mut w = 1.0;
            for j in 0..4 {
                if i != j {
                    w *= (at - p[j].0) / (p[i].0 - p[j].0);
                }
            }
            value += w * p[i].1;
        }
        found.push(value);
    }
    let held = column.held(&state);
    let water =
        (sums.water_in - sums.water_out - (held[1] - start[1])) / (sums.water_in + start[1]);
    let heat = (sums.heat_in - sums.heat_out - (held[2] - start[2])) / sums.heat_in;
    Ok((found, water, heat, last))
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let hours = [1.0, 2.0, 4.0, 8.0, 12.0, 16.0];
    for energy in [0.0, 33.1e3] {
        let mut before: Option<Vec<f64>> = None;
        for parcels in [20, 40, 80, 160, 320, 640] {
            let made = column(diffusivity(energy), parcels, 16)?;
            let start = Instant::now();
            let (found, water, heat, last) = run(&made, &hours)?;
            let taken = start.elapsed().as_secs_f64() * 1e3;
            let text: Vec<String> = found.iter().map(|x| format!("{:10.4}", x * 1e6)).collect();
            println!(
                "{parcels:5} {taken:9.2} ms {} water {water:.1e} heat {heat:.1e} return {:.3}",
                text.join(" "),
                last.return_temperature - 273.15
            );
            if let Some(before) = before {
                let d: Vec<String> = before
                    .iter()
                    .zip(&found)
                    .map(|(a, b)| format!("{:10.1e}", a / b - 1.0))
                    .collect();
                println!("                   {}", d.join(" "));
            }
            before = Some(found);
        }
    }
    Ok(())
}
