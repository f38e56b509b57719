//! What owning a dryer comes to, as its record states it.

use super::fill::Fill;
use crate::bag::{Bag, Entry};
use job::{Change, Contaminant, Ownership};

/// What is stated; nothing is estimated.
pub(super) fn ownership(fill: &mut Fill, table: &Bag) -> Ownership {
    let list = |fill: &mut Fill, name: &str| {
        let items = table.get(name, Entry::list)?;
        fill.note_stated(table, name);
        Some(items)
    };
    let carries = list(fill, "air_carries").map(|items| {
        let words = items.iter().filter_map(Entry::choice);
        words
            .map(|word| match word {
                "oil" => Contaminant::Oil,
                _ => Contaminant::BeadDust,
            })
            .collect()
    });
    let used = list(fill, "used_with").unwrap_or_default();
    let price = fill.stated_si(table, "desiccant_price");
    let every = fill.stated(table, "desiccant_every");
    Ownership {
        currency: table.get("currency", Entry::text),
        price: fill.stated_si(table, "price"),
        desiccant_change: price
            .zip(every)
            .map(|(price, every)| Change { price, every }),
        filters_per_year: fill.stated_si(table, "filters_per_year"),
        footprint: fill.stated(table, "footprint"),
        height: fill.stated(table, "height"),
        noise: fill.stated(table, "noise"),
        air_carries: carries,
        used_with: used.iter().filter_map(Entry::text).collect(),
    }
}
