//! What a dryer earns against another: payback with its range over the draws.

use crate::compare::money::CostKind;
use crate::compare::payback::Payback;
use crate::compare::{Compared, DayRun};
use job::Prices;
use quantity::Quantity;
use serde::Serialize;
use uncertainty::Design;

/// Dimension of the design that the doubt of prices takes.
const PRICE_DIMENSION: u32 = 254;

/// What the dearer of two dryers, the recommended one and another, earns back.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Earned {
    /// The other dryer, by its place.
    pub against: usize,
    /// Whether the recommended one costs more to buy; else it is the other.
    pub recommended_is_dearer: bool,
    /// What the dearer costs more.
    pub extra: f64,
    /// What the dearer saves each year; below zero where it costs more.
    pub saved_per_year: f64,
    /// Years until it has paid for itself.
    pub payback: Payback,
    /// Five and ninety-five percent of the draws, with interest, years; none where it never pays.
    pub range_years: (Option<f64>, Option<f64>),
    /// Share of the draws in which it never pays.
    pub never: f64,
}

/// The recommended dryer against each other of which the price is known.
pub(super) fn earned(
    dryers: &[Compared],
    recommended: usize,
    prices: &Prices,
    counted: &[CostKind],
    (samples, seed): (u32, u32),
) -> Vec<Earned> {
    let others = (0..dryers.len()).filter(|index| *index != recommended);
    others
        .filter_map(|against| {
            let pair = Pair {
                recommended: dryers.get(recommended)?,
                other: dryers.get(against)?,
                prices,
                counted,
            };
            pair.earned(against, samples, seed)
        })
        .collect()
}

/// Two dryers whose prices are known.
struct Pair<'a> {
    recommended: &'a Compared,
    other: &'a Compared,
    prices: &'a Prices,
    counted: &'a [CostKind],
}

impl Pair<'_> {
    fn earned(&self, against: usize, samples: u32, seed: u32) -> Option<Earned> {
        let price = |dryer: &Compared| dryer.ownership.price;
        let (one, other) = (price(self.recommended)?, price(self.other)?);
        let dearer = one >= other;
        let (buy, stay) = if dearer {
            (self.recommended, self.other)
        } else {
            (self.other, self.recommended)
        };
        let extra = (one - other).abs();
        let yearly = |dryer: &Compared| {
            let money = dryer.year.money.as_ref()?;
            Some(money.counted_without(self.counted, Some(CostKind::Capital)))
        };
        let saved = yearly(stay)? - yearly(buy)?;
        let interest = self.prices.interest.si();
        let doubt = self.prices.doubt.map_or(0.0, Quantity::si);
        let design = Design { seed };
        let mut years: Vec<f64> = (0..samples)
            .filter_map(|index| {
                let at = usize::try_from(index).ok()?;
                let moved = |dryer: &Compared| self.moved(dryer, at);
                let factor = (1.0 + doubt * design.normal(index, PRICE_DIMENSION)).max(0.0);
                let now = factor * (saved + moved(stay)? - moved(buy)?);
                // What is bought is in doubt by itself, what is saved with all prices.
                let price = (1.0 + doubt * design.normal(index, PRICE_DIMENSION + 1)).max(0.0);
                let found = Payback::of(price * extra, now, interest);
                Some(found.discounted_years.unwrap_or(f64::INFINITY))
            })
            .collect();
        years.sort_by(f64::total_cmp);
        let payback = Payback::of(extra, saved, interest);
        let at = |share: f64| -> Option<f64> {
            let last = years.len().checked_sub(1)?;
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "between the first and the last of the draws"
            )]
            let index = (share * last as f64).round() as usize;
            years.get(index).copied().filter(|years| years.is_finite())
        };
        let never = years.iter().filter(|years| years.is_infinite()).count();
        Some(Earned {
            against,
            recommended_is_dearer: dearer,
            extra,
            saved_per_year: saved,
            payback,
            range_years: if years.is_empty() {
                (payback.discounted_years, payback.discounted_years)
            } else {
                (at(0.05), at(0.95))
            },
            never: never as f64 / (years.len().max(1)) as f64,
        })
    }

    /// What the current of a year costs more in a draw than by the best value.
    fn moved(&self, dryer: &Compared, draw: usize) -> Option<f64> {
        let energy = dryer.energies.get(draw).copied().flatten()?;
        let rate: f64 = dryer
            .days
            .iter()
            .map(|day: &DayRun| day.share * day.rate_kg_h)
            .sum();
        let year = rate * self.prices.hours_per_year;
        let more = energy - dryer.year.energy_kwh_kg;
        Some(more * year * self.prices.mean_electricity().per_kwh())
    }
}
