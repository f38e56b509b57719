//! What a dryer costs: current, air and water, upkeep, capital, what leaves wet and what is waited for.
//!
//! # Equations
//! 1. Current is paid at the mean tariff over the day, cooling water warmed by 10 K by its volume,
//!    compressed air by its volume where that has a price and else by the current of its compressor.
//! 2. Upkeep: desiccant or wheel by the hours run, and the filters of a year.
//! 3. Capital: the price spread over the years by [`annuity`].
//! 4. Lost: `sum over runs and days of share * hours * q * (rate * resin + hoppers * press hour)`, with `q`
//!    the share of draws in which a hopper leaves its resin wet, hot for longer than it bears at the temperature
//!    of its air, or drier than its lower edge; each draw counts once, in this order. It is a model: doubt
//!    counts as if it were time, nobody measures, nothing wet is dried again, and what was cooked or is too
//!    dry is thrown away as what is wet.
//! 5. Waited: starts a year times the time from a cold stand to the first dry pellets, at the price of
//!    the presses that stand.
//!
//! # Symbols
//! as above.
//!
//! # Holds for
//! One year like another; what is not stated is not counted.
//!
//! # Sources
//! Common practice, no source.

use crate::compare::payback::annuity;
use crate::compare::{AirFrom, ColdStart, Compared, DayRun, LostShares};
use job::{Ownership, Plant, Prices};
use line::{Account, Carrier};
use quantity::{MassPrice, Quantity, TimePrice};
use serde::Serialize;

/// Kelvin by which cooling water is warmed (common practice, no source).
const WATER_WARMED: f64 = 10.0;

/// What a dryer takes over a year.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Costs {
    /// Energy, kWh per kg of resin as weighed, mean over the days.
    pub energy_kwh_kg: f64,
    /// Five and ninety-five percent of the draws.
    pub energy_range_kwh_kg: (f64, f64),
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
    /// Running cost per kg of resin as weighed: current, air, water.
    pub per_kg: f64,
    /// Running cost per year.
    pub per_year: f64,
    /// Price of the dryer, where it is stated.
    pub price: Option<f64>,
    /// Desiccant and filters per year, where they are stated.
    pub upkeep_per_year: Option<f64>,
    /// The price spread over the years.
    pub capital_per_year: Option<f64>,
    /// Resin and press hours expected to be lost, where they have a price.
    pub lost_per_year: Option<f64>,
    /// The same by what they are lost to.
    pub lost: Option<Lost>,
    /// Press hours waited at cold starts, where these and their number are stated.
    pub waited_per_year: Option<f64>,
    /// Everything that is known of all dryers compared, per year.
    pub counted_per_year: f64,
    /// The same per kg.
    pub counted_per_kg: f64,
}

/// What is lost in a year, by what it is lost to.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Lost {
    /// To resin that leaves wet.
    pub wet_per_year: f64,
    /// To resin that was hot for longer than it bears.
    pub cooked_per_year: f64,
    /// To resin that leaves too dry.
    pub too_dry_per_year: f64,
}

/// Kinds of cost beside current, air and water.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CostKind {
    /// Desiccant and filters.
    Upkeep,
    /// The price spread over the years.
    Capital,
    /// Resin and press hours lost.
    Lost,
    /// Press hours waited.
    Waited,
}

impl CostKind {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Upkeep, Self::Capital, Self::Lost, Self::Waited];

    /// What it is, in words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Upkeep => "desiccant and filters",
            Self::Capital => "the price over the years",
            Self::Lost => "resin and press hours expected to be lost",
            Self::Waited => "waiting at cold starts",
        }
    }
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

/// Sums over the runs and days of a dryer.
struct Sums<'a>(&'a [DayRun]);

impl Sums<'_> {
    /// Mean over the time.
    fn mean(&self, value: impl Fn(&DayRun) -> f64) -> f64 {
        self.0.iter().map(|day| day.share * value(day)).sum()
    }

    /// Mean over the resin drawn.
    fn per_kg(&self, value: impl Fn(&DayRun) -> f64) -> f64 {
        self.mean(|day| day.rate_kg_h * value(day)) / self.mean(|day| day.rate_kg_h)
    }

    /// Energy of each draw, kWh/kg; none where a draw could not be solved on some day.
    fn energies(&self) -> Vec<Option<f64>> {
        let draws = self.0.iter().map(|day| day.energy_draws.len()).min();
        let of = |index: usize| -> Option<f64> {
            let mut weighed = 0.0;
            for day in self.0 {
                let energy = day.energy_draws.get(index).copied().flatten()?;
                weighed += day.share * day.rate_kg_h * energy;
            }
            Some(weighed / self.mean(|day| day.rate_kg_h))
        };
        (0..draws.unwrap_or(0)).map(of).collect()
    }
}

impl Compared {
    /// The runs and days of a dryer, weighed by their share of the time; what is told per kilogram by
    /// the resin drawn in it as well.
    pub(super) fn of(
        title: String,
        days: Vec<DayRun>,
        plant: &Plant,
        ownership: &Ownership,
        cold_start: Option<ColdStart>,
    ) -> Self {
        let first_dry_h = cold_start.as_ref().and_then(ColdStart::hours);
        let sums = Sums(&days);
        let energy = sums.per_kg(|day| day.energy_kwh_kg);
        let energies = sums.energies();
        let known: Vec<f64> = energies.iter().copied().flatten().collect();
        let range = uncertainty::Interval::of(&known, 0.9);
        let prices = plant.prices.as_ref();
        let money = prices.map(|prices| Money::of(&sums, prices, ownership, first_dry_h));
        let worst = days
            .iter()
            .min_by(|a, b| a.probability.total_cmp(&b.probability));
        Self {
            probability: sums.mean(|day| day.probability),
            worst_day: worst.map_or_else(String::new, |day| day.day.clone()),
            year: Costs {
                energy_kwh_kg: energy,
                energy_range_kwh_kg: range
                    .map_or((energy, energy), |found| (found.low, found.high)),
                compressed_air_m3_kg: sums.per_kg(|day| day.compressed_air_m3_kg),
                cooling_water_kg_kg: sums.per_kg(|day| day.cooling_water_kg_kg),
                carbon_kg_kg: prices
                    .and_then(|prices| prices.carbon)
                    .map(|carbon| carbon.kg_per_kwh() * energy),
                money,
            },
            energies,
            ownership: ownership.clone(),
            cold_start,
            margins: Vec::new(),
            mine: false,
            unfit: None,
            air: AirFrom::None,
            heater_used: days
                .iter()
                .filter_map(|day| day.heater_used)
                .reduce(f64::max),
            title,
            days,
        }
    }
}

impl Money {
    fn of(sums: &Sums<'_>, prices: &Prices, owned: &Ownership, first_dry_h: Option<f64>) -> Self {
        let rate = sums.mean(|day| day.rate_kg_h);
        let hours = prices.hours_per_year;
        let per_kwh = prices.mean_electricity().per_kwh();
        let (current, air) = match prices.compressed_air {
            Some(price) => (
                sums.per_kg(|day| day.energy_kwh_kg - day.elsewhere_kwh_kg),
                price.per_m3() * sums.per_kg(|day| day.free_air_m3_kg),
            ),
            None => (sums.per_kg(|day| day.energy_kwh_kg), 0.0),
        };
        let water = sums.per_kg(|day| day.cooling_water_kg_kg);
        let cooling = prices
            .cooling_water
            .map_or(0.0, |price| price.per_m3() * water / 1000.0);
        let per_kg = current * per_kwh + cooling + air;
        let changes = owned
            .desiccant_change
            .map(|change| change.price * hours / change.every.hours());
        let press_hour = prices.press_hour.map(TimePrice::per_hour);
        let resin = prices.resin.map(MassPrice::per_kg);
        let hoppers = |day: &DayRun| day.hoppers.len() as f64;
        let lost_to = |share: fn(&LostShares) -> f64| {
            let an_hour = |day: &DayRun| {
                day.rate_kg_h * resin.unwrap_or(0.0) + hoppers(day) * press_hour.unwrap_or(0.0)
            };
            hours * sums.mean(|day| share(&day.lost) * an_hour(day))
        };
        let lost = (press_hour.is_some() || resin.is_some()).then(|| Lost {
            wet_per_year: lost_to(|lost| lost.wet),
            cooked_per_year: lost_to(|lost| lost.cooked),
            too_dry_per_year: lost_to(|lost| lost.too_dry),
        });
        let waited = prices.starts_per_year.zip(press_hour).zip(first_dry_h);
        Self {
            per_kg,
            per_year: per_kg * rate * hours,
            price: owned.price,
            upkeep_per_year: match (changes, owned.filters_per_year) {
                (None, None) => None,
                (changes, filters) => Some(changes.unwrap_or(0.0) + filters.unwrap_or(0.0)),
            },
            capital_per_year: owned
                .price
                .map(|price| annuity(price, prices.interest.si(), prices.years)),
            lost_per_year: lost
                .map(|lost| lost.wet_per_year + lost.cooked_per_year + lost.too_dry_per_year),
            lost,
            waited_per_year: waited
                .map(|((starts, price), time)| starts * price * time * sums.mean(hoppers)),
            counted_per_year: 0.0,
            counted_per_kg: 0.0,
        }
    }

    /// A kind of cost per year, where it is known.
    pub fn of_kind(&self, kind: CostKind) -> Option<f64> {
        match kind {
            CostKind::Upkeep => self.upkeep_per_year,
            CostKind::Capital => self.capital_per_year,
            CostKind::Lost => self.lost_per_year,
            CostKind::Waited => self.waited_per_year,
        }
    }

    /// Current, air and water with these kinds but one, per year.
    pub fn counted_without(&self, kinds: &[CostKind], left_out: Option<CostKind>) -> f64 {
        let counted = kinds.iter().filter(|kind| Some(**kind) != left_out);
        self.per_year + counted.filter_map(|kind| self.of_kind(*kind)).sum::<f64>()
    }
}

/// The kinds of cost that are known of every dryer; each dryer is told what they come to.
pub(super) fn count(dryers: &mut [Compared]) -> Vec<CostKind> {
    let known = |kind: &CostKind| {
        let mut moneys = dryers.iter().map(|dryer| dryer.year.money);
        moneys.all(|money| money.is_some_and(|money| money.of_kind(*kind).is_some()))
    };
    let kinds: Vec<CostKind> = CostKind::ALL.into_iter().filter(known).collect();
    for dryer in dryers {
        if let Some(money) = &mut dryer.year.money {
            money.counted_per_year = money.counted_without(&kinds, None);
            money.counted_per_kg =
                money.per_kg * money.counted_per_year / money.per_year.max(f64::MIN_POSITIVE);
        }
    }
    kinds
}
