//! The invented jobs of `demo/`, planned from file to answer.

use decide::answer::{Limit, Plan, Verdict};
use files::{Library, read_job};
use job::Job;
use quantity::{MassFlow, Quantity};

const PC: &str = include_str!("../../../demo/pc-lenses.toml");
const ABS: &str = include_str!("../../../demo/abs-small.toml");
const PP: &str = include_str!("../../../demo/pp-condensation.toml");
const BENCHMARK: &str = include_str!("../../../demo/benchmark.toml");
const PET: &str = include_str!("../../../demo/pet-preforms.toml");

type Outcome = Result<(), Box<dyn std::error::Error>>;

fn job(text: &str) -> Result<Job, Box<dyn std::error::Error>> {
    let library = Library::shipped()?;
    Ok(read_job(text, "job.toml", &library)?)
}

fn plan(text: &str) -> Result<Plan, Box<dyn std::error::Error>> {
    Ok(decide::plan(&job(text)?)?)
}

/// Nothing in an answer is anything but a finite number: in JSON that would be null.
fn all_finite(plan: &Plan) -> Result<bool, serde_json::Error> {
    fn clean(value: &serde_json::Value, optional: bool) -> bool {
        match value {
            serde_json::Value::Null => optional,
            serde_json::Value::Array(items) => items.iter().all(|item| clean(item, optional)),
            serde_json::Value::Object(fields) => fields
                .iter()
                .all(|(name, field)| clean(field, OPTIONAL.contains(&name.as_str()) || optional)),
            _ => true,
        }
    }
    /// Fields that may be absent.
    const OPTIONAL: [&str; 27] = [
        "crystalliser",
        "surely_dry_h",
        "harm",
        "lot",
        "decides",
        "data_sheet",
        "stored",
        "bag",
        "way",
        "nearest_safe",
        "nearest_safe_outlet",
        "bears_least",
        "short_stay",
        "larger",
        "largest_share_percent",
        "share_with_margin_percent",
        "dry_below_ppm_wet",
        "lower_edge_ppm_wet",
        "least",
        "most",
        "first_dry_h",
        "hold_before_drawing_h",
        "computed_hold_h",
        "surface_ppm_wet",
        "warm_up_to_kg",
        "up_h",
        "settled_h",
    ];
    Ok(clean(&serde_json::to_value(plan)?, false))
}

#[test]
fn holds_the_wall_has_a_part_of_the_time_of_its_own() -> Outcome {
    let hours = |plan: &Plan, name: &str| -> Result<f64, &'static str> {
        let mut parts = plan.time_parts.iter();
        let part = parts.find(|part| part.name == name).ok_or("no such part")?;
        Ok(part.hours)
    };
    let wall = "heat lost through the wall";
    // A diffusivity that feels the temperature, and a wall that loses much.
    let of = |loss: &str| {
        let warm = BENCHMARK.replace("\"0 J/mol\"", "\"33.1 kJ/mol\"");
        plan(&warm.replace("\"2 W/(m2 K)\"", loss))
    };
    let (bare, insulated) = (of("\"6 W/(m2 K)\"")?, of("\"0 W/(m2 K)\"")?);
    assert!(hours(&insulated, wall)?.abs() <= 0.0);
    assert!(hours(&bare, wall)? > 0.05, "{:?}", bare.time_parts);
    // Heating the bed is what it is without the wall.
    let [with, without] = [&bare, &insulated].map(|plan| hours(plan, "heating the bed"));
    assert!((with? - without?).abs() < 1e-9);
    Ok(())
}

#[test]
fn holds_every_demo_closes_its_ledgers_and_has_no_hole() -> Outcome {
    for text in [PC, ABS, PP, BENCHMARK, PET] {
        let plan = plan(text)?;
        assert!(
            plan.transient.water_imbalance < 1e-9,
            "{}: water",
            plan.title
        );
        assert!(
            plan.transient.energy_imbalance < 1e-9,
            "{}: energy",
            plan.title
        );
        assert!(
            plan.water_imbalance.abs() < 1e-9,
            "{}: steady water",
            plan.title
        );
        assert!(all_finite(&plan)?, "{}: a number is missing", plan.title);
        let mean = plan.outlet.mean_ppm_wet;
        assert!(
            mean.low <= mean.value * 1.001 && mean.value <= mean.high * 1.001,
            "{mean:?}"
        );
        assert!(!plan.limits.is_empty() && !plan.evidence.is_empty());
    }
    Ok(())
}

#[test]
fn holds_small_rates_are_decided_by_the_wall() -> Outcome {
    let plan = plan(ABS)?;
    assert_eq!(plan.verdict, Verdict::Wet);
    assert!(
        plan.nearest_safe.is_some(),
        "a wet plan names the nearest safe one"
    );
    let loss = plan
        .limits
        .iter()
        .find(|share| share.limit == Limit::HeatLoss);
    assert!(
        loss.is_some_and(|loss| loss.share > 0.5),
        "{:?}",
        plan.limits
    );
    Ok(())
}

#[test]
fn holds_the_rate_window_ends_where_the_limit_is_surely_met() -> Outcome {
    let base = job(PC)?;
    let plan = decide::plan(&base)?;
    let most = plan
        .rate_window
        .most
        .ok_or("no rate meets the limit")?
        .rate_kg_h;
    let at = |rate: f64| -> Result<f64, Box<dyn std::error::Error>> {
        let demand = job::Demand::Rate(MassFlow::from_kg_per_hour(rate));
        Ok(decide::plan(&Job {
            demand,
            ..base.clone()
        })?
        .outlet
        .probability_within)
    };
    // Cut back in steps of 3 %, and kept a standard error above four in five.
    let (told, faster) = (at(most)?, at(most * 1.15)?);
    assert!(told >= 0.8 && faster < 0.8, "{most}: {told}, {faster}");
    Ok(())
}

#[test]
fn holds_the_same_seed_gives_the_same_range() -> Outcome {
    let (one, two) = (plan(PC)?, plan(PC)?);
    assert_eq!(one.outlet, two.outlet);
    Ok(())
}

#[test]
fn exact_the_benchmark_file_is_the_benchmark_case() -> Outcome {
    let plan = plan(BENCHMARK)?;
    let c = &plan.coefficients;
    assert!((c.heat_transfer_w_m2_k * c.surface_m2_kg - 100.0).abs() < 1e-9);
    assert!((c.wall_w_m2_k * c.wall_m2 - 1.0).abs() < 1e-9);
    assert!((c.dry_rate_kg_h - 10.0).abs() < 1e-9);
    assert!((c.diffusivity_at_inlet_m2_s / 5e-11 - 1.0).abs() < 1e-12);
    let last = plan
        .transient
        .moments
        .last()
        .ok_or("nothing left the hopper")?;
    let wet = quantity::MoistureDryBasis::from_si(last.dried)
        .wet_basis()
        .ppm();
    assert!(
        (wet / plan.outlet.mean_ppm_wet.value - 1.0).abs() < 2e-3,
        "{wet}"
    );
    Ok(())
}
