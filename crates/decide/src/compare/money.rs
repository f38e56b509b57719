//! What a dryer costs: current, air, water and carbon, for each kilogram and for a year.

use crate::compare::{Compared, DayRun};
use job::Plant;
use line::{Account, Carrier};
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
    /// The runs and days of a dryer, weighed by their share of the time; what is told per kilogram by
    /// the resin drawn in it as well.
    pub(super) fn of(title: String, days: Vec<DayRun>, plant: &Plant) -> Self {
        let sum = |value: &dyn Fn(&DayRun) -> f64| -> f64 {
            days.iter().map(|day| day.share * value(day)).sum()
        };
        let rate = sum(&|day| day.rate_kg_h);
        let per_kg = |value: &dyn Fn(&DayRun) -> f64| sum(&|day| day.rate_kg_h * value(day)) / rate;
        let energy = per_kg(&|day| day.energy_kwh_kg);
        let water = per_kg(&|day| day.cooling_water_kg_kg);
        let prices = plant.prices.as_ref();
        let money = prices.map(|prices| {
            let current = energy * prices.mean_electricity().per_kwh();
            let cooling = prices
                .cooling_water
                .map_or(0.0, |price| price.per_m3() * water / 1000.0);
            let per_kg = current + cooling;
            Money {
                per_kg,
                per_year: per_kg * rate * prices.hours_per_year,
            }
        });
        let worst = days
            .iter()
            .min_by(|a, b| a.probability.total_cmp(&b.probability));
        Self {
            probability: sum(&|day| day.probability),
            worst_day: worst.map_or_else(String::new, |day| day.day.clone()),
            year: Costs {
                energy_kwh_kg: energy,
                compressed_air_m3_kg: per_kg(&|day| day.compressed_air_m3_kg),
                cooling_water_kg_kg: water,
                carbon_kg_kg: prices
                    .and_then(|prices| prices.carbon)
                    .map(|carbon| carbon.kg_per_kwh() * energy),
                money,
            },
            title,
            days,
        }
    }
}
