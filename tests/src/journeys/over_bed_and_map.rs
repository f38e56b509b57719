//! What a plan says all over its map and all along its start, against what it says at the point and
//! in the end.

use decide::answer::{FrontMoment, Plan};
use files::{Library, read_job};

const PC: &str = include_str!("../../../demo/pc-lenses.toml");
const ABS: &str = include_str!("../../../demo/abs-small.toml");
const BENCHMARK: &str = include_str!("../../../demo/benchmark.toml");
const PET: &str = include_str!("../../../demo/pet-preforms.toml");

type Outcome = Result<(), Box<dyn std::error::Error>>;

fn plan(text: &str) -> Result<Plan, Box<dyn std::error::Error>> {
    let job = read_job(text, "job.toml", &Library::shipped()?)?;
    Ok(decide::plan(&job)?)
}

/// Where a value lies on a rising list: the index below it and the share to the next.
fn between(list: &[f64], value: f64) -> Option<(usize, f64)> {
    let pair = |k: usize| (list[k], list[k + 1]);
    let found = (0..list.len() - 1).find(|k| pair(*k).0 <= value && value <= pair(*k).1)?;
    let (low, high) = pair(found);
    Some((found, (value - low) / (high - low)))
}

#[test]
fn holds_energy_on_the_map_is_that_of_the_plan_at_the_point() -> Outcome {
    for text in [PC, ABS, PET, BENCHMARK] {
        let plan = plan(text)?;
        let (map, point) = (&plan.map, &plan.settings);
        let (column, along) = between(&map.temperature_c, point.air_temperature_c)
            .ok_or("the point is not on the map")?;
        let (row, up) =
            between(&map.residence_h, point.residence_h).ok_or("the point is not on the map")?;
        let at = |row: usize| {
            let values = &map.closed_loop_kwh_kg[row];
            values[column] + along * (values[column + 1] - values[column])
        };
        let there = at(row) + up * (at(row + 1) - at(row));
        let own = plan.energy.closed_loop_kwh_kg;
        // A coarser bed, and a straight line between the points of the grid.
        assert!(
            (there / own - 1.0).abs() < 5e-3,
            "{}: {there} {own}",
            plan.title
        );
        assert!(map.closed_loop_kwh_kg.len() == map.residence_h.len());
        for values in &map.closed_loop_kwh_kg {
            assert!(values.len() == map.temperature_c.len());
            assert!(
                values.windows(2).all(|pair| pair[0] < pair[1]),
                "{}: hotter air costs more",
                plan.title
            );
        }
    }
    Ok(())
}

/// Pellet temperature (K) and moisture (kg/kg dry) of a moment at a height (kg above the inlet).
fn at(moment: &FrontMoment, height: f64) -> Option<(f64, f64)> {
    let heights: Vec<f64> = moment.levels.iter().map(|level| level.height).collect();
    let (index, share) = between(&heights, height)?;
    let (low, high) = (&moment.levels[index], &moment.levels[index + 1]);
    Some((
        low.temperature + share * (high.temperature - low.temperature),
        low.moisture + share * (high.moisture - low.moisture),
    ))
}

/// Beds fed in batches have no steady way.
#[test]
fn holds_the_last_moment_of_a_start_lies_on_the_steady_way() -> Outcome {
    for text in [BENCHMARK, PET] {
        let plan = plan(text)?;
        let last = plan.front.moments.last().ok_or("no start was followed")?;
        let mut met = 0;
        // Where pellets enter, what rings is averaged for showing.
        for place in plan.path.iter().skip(12) {
            let Some((temperature, moisture)) = at(last, place.height) else {
                continue;
            };
            met += 1;
            let apart = (temperature - place.temperature).abs();
            assert!(apart < 1.0, "{} {place:?}: {temperature}", plan.title);
            // Four residences leave tenths of a kelvin, which the driest pellets show most.
            let ratio = moisture / place.moisture - 1.0;
            assert!(ratio.abs() < 0.1, "{} {place:?}: {moisture}", plan.title);
        }
        assert!(met > 60, "{}: {met}", plan.title);
    }
    Ok(())
}

#[test]
fn holds_the_front_climbs_and_the_books_know_its_water() -> Outcome {
    for text in [PC, ABS, BENCHMARK, PET] {
        let plan = plan(text)?;
        let front = &plan.front;
        assert!(front.moments.len() >= 4, "{}", plan.title);
        for pair in front.moments.windows(2) {
            assert!(pair[0].time_h < pair[1].time_h);
            let fall = pair[0].warm_up_to_kg - pair[1].warm_up_to_kg;
            assert!(fall < 0.1 * plan.settings.bed_mass_kg, "{}", plan.title);
        }
        let last = front.moments.last().ok_or("no start was followed")?;
        let stays = front.warm_up_to_kg.ok_or("never warm")?;
        // One batch of the loader at most is missing on top.
        let short = stays - last.warm_up_to_kg;
        assert!(short.abs() < 0.2 * plan.settings.bed_mass_kg, "{short}");
        // What the bed gained by its books is what its profile holds more than at the start.
        let gain: f64 = plan
            .transient
            .water
            .stayed
            .iter()
            .map(|entry| entry.amount)
            .sum();
        let held = plan.outlet.arriving_ppm_wet * 1e-6;
        let first = plan.settings.bed_mass_kg * held / (1.0 - held);
        let ratio = (last.water_kg - first) / gain;
        assert!((ratio - 1.0).abs() < 1e-3, "{}: {ratio}", plan.title);
    }
    Ok(())
}
