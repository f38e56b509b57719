//! What a dryer costs: current, air, water and carbon, for each kilogram and for a year.

use crate::case::Case;
use crate::compare::{Compared, DayRun};
use job::{Day, Prices};
use line::{Account, Carrier};
use quantity::Quantity;
use serde::Serialize;

/// Kelvin by which cooling water is warmed (common practice, no source).
const WATER_WARMED: f64 = 10.0;

/// What a dryer takes over a year.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Costs {
    /// Energy, kWh per kg of resin as weighed, mean over the days.
    pub energy_kwh_kg: f64,
    /// Compressed air, m3 per kg.
    pub compressed_air_m3_kg: f64,
    /// Cooling water, kg per kg.
    pub cooling_water_kg_kg: f64,
    /// Carbon dioxide, kg per kg, where the plant states it.
    pub carbon_kg_kg: Option<f64>,
    /// Money, where the plant states prices.
    pub money: Option<Money>,
}

/// Money, in the currency of the plant.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Money {
    /// Running cost per kg of resin as weighed.
    pub per_kg: f64,
    /// Running cost per year.
    pub per_year: f64,
}

/// Cooling water that takes the heat of the coolers, kg/s.
pub(super) fn cooling_water(account: &Account) -> f64 {
    let heat: f64 = account
        .crossings
        .iter()
        .filter(|crossing| crossing.carrier == Carrier::Coolant && !crossing.inward)
        .map(|crossing| crossing.heat)
        .sum();
    heat / (air::caloric::WATER_HEAT * WATER_WARMED)
}

impl Compared {
    /// The days of a dryer, weighed by their share of the year.
    pub(super) fn of(
        title: String,
        runs: Vec<DayRun>,
        days: &[Day],
        case: &Case,
        prices: Option<&Prices>,
    ) -> Self {
        let mean = |value: &dyn Fn(&DayRun) -> f64| {
            let weighed = runs.iter().zip(days);
            let sum: f64 = weighed.map(|(run, day)| day.share.si() * value(run)).sum();
            sum / days.iter().map(|day| day.share.si()).sum::<f64>()
        };
        let energy = mean(&|run| run.energy_kwh_kg);
        let air = mean(&|run| run.compressed_air_m3_kg);
        let water = mean(&|run| run.cooling_water_kg_kg);
        let money = prices.map(|prices| {
            let current = energy * prices.mean_electricity().per_kwh();
            let cooling = prices
                .cooling_water
                .map_or(0.0, |price| price.per_m3() * water / 1000.0);
            let per_kg = current + cooling;
            Money {
                per_kg,
                per_year: per_kg * case.wet_rate() * 3600.0 * prices.hours_per_year,
            }
        });
        let worst = runs
            .iter()
            .min_by(|a, b| a.probability.total_cmp(&b.probability));
        Self {
            probability: mean(&|run| run.probability),
            worst_day: worst.map_or_else(String::new, |run| run.day.clone()),
            year: Costs {
                energy_kwh_kg: energy,
                compressed_air_m3_kg: air,
                cooling_water_kg_kg: water,
                carbon_kg_kg: prices
                    .and_then(|prices| prices.carbon)
                    .map(|carbon| carbon.kg_per_kwh() * energy),
                money,
            },
            title,
            days: runs,
        }
    }
}
