//! What dryers cost, and what the dearer earns back.

use super::words::{about, short};
use crate::speech::{capital, hours};
use decide::compare::{ColdStart, Compared, Comparison, ENOUGH, Earned, Money};
use document::{Block, Cell, Column, Row, Section, Table};
use quantity::digits;

/// A column of costs: what it is called, and what it is of a dryer.
type Kind = (&'static str, fn(&Money) -> Option<f64>);

/// The costs of a year, where the plant states prices.
pub(super) fn costs(compared: &Comparison) -> Option<Section> {
    let currency = compared.currency.as_ref()?;
    let mut counted = vec!["current, air and water"];
    counted.extend(compared.counted.iter().map(|kind| kind.words()));
    let kinds: [Kind; 6] = [
        ("running", |money| Some(money.per_year)),
        ("upkeep", |money| money.upkeep_per_year),
        ("capital", |money| money.capital_per_year),
        ("lost", |money| money.lost_per_year),
        ("waited", |money| money.waited_per_year),
        ("counted", |money| Some(money.counted_per_year)),
    ];
    let known = |of: fn(&Money) -> Option<f64>| {
        let mut moneys = compared.dryers.iter().filter_map(|dryer| dryer.year.money);
        moneys.any(|money| of(&money).is_some())
    };
    let shown: Vec<_> = kinds.into_iter().filter(|(_, of)| known(*of)).collect();
    let mut columns = vec![Column::new("dryer")];
    columns.extend(shown.iter().map(|(name, _)| Column::new(*name)));
    columns.push(Column::new("first dry"));
    let rows = compared.dryers.iter().map(|dryer| {
        let mut cells = vec![Cell::text(short(&dryer.title))];
        let money = dryer.year.money;
        cells.extend(shown.iter().map(|(_, of)| {
            money
                .and_then(|money| of(&money))
                .map_or(Cell::Blank, about)
        }));
        cells.push(match &dryer.cold_start {
            Some(ColdStart::Dry(time)) => Cell::text(hours(*time)),
            Some(ColdStart::StaysWet) => Cell::text("stays wet"),
            Some(ColdStart::NotFollowed(_)) => Cell::text("not followed"),
            None => Cell::Blank,
        });
        Row::new(cells)
    });
    let dryers = || compared.dryers.iter();
    let more = dryers()
        .filter_map(not_only_wet)
        .chain(dryers().filter_map(not_followed));
    Some(Section {
        title: "What it costs".into(),
        summary: format!("The cost that ranks them counts {}.", counted.join("; ")),
        blocks: [
            Block::table(Table {
                caption: format!(
                    "{currency} a year; first dry: from a stand so long that hopper and desiccant are those \
                     of the hall to the first dry pellets, resin drawn from the first moment"
                ),
                columns,
                rows: rows.collect(),
            }),
            Block::text(
                "Lost is a model: the share of draws that leave the resin wet, hot for longer than it bears, or \
                 too dry, or where fewer than ten are lost the tail of a log-normal law through their \
                 median and outer quantile, counts as that share of the hours, each with its resin and press hours thrown away, \
                 nobody measuring and nothing dried again. Capital is the price spread over the years at \
                 the interest; what is not stated is left out, and what is not known of every dryer ranks \
                 none.",
            ),
        ]
        .into_iter()
        .chain(more)
        .collect(),
    })
}

/// What a dryer loses to resin that is not wet, but cooked or too dry.
fn not_only_wet(dryer: &Compared) -> Option<Block> {
    let lost = dryer.year.money?.lost?;
    let parts = [
        (lost.wet_per_year, "wet"),
        (lost.cooked_per_year, "hot for longer than it bears"),
        (lost.too_dry_per_year, "too dry"),
    ];
    if lost.cooked_per_year + lost.too_dry_per_year <= 0.0 {
        return None;
    }
    let told = parts.iter().filter(|(cost, _)| *cost > 0.0);
    let told: Vec<String> = told
        .map(|(cost, words)| format!("≈ {} as {words}", digits(*cost, 2)))
        .collect();
    Some(Block::text(format!(
        "Of what {} loses: {}.",
        short(&dryer.title),
        told.join(", ")
    )))
}

/// Why a cold start was not followed to its end.
fn not_followed(dryer: &Compared) -> Option<Block> {
    match &dryer.cold_start {
        Some(ColdStart::NotFollowed(cause)) => Some(Block::text(format!(
            "The cold start of {} was not followed to its end: {cause}.",
            short(&dryer.title)
        ))),
        _ => None,
    }
}

/// What the dearer of the recommended dryer and each other earns back.
pub(super) fn earned(compared: &Comparison) -> Option<Section> {
    let currency = compared.currency.as_ref()?;
    let recommended = compared.dryers.get(compared.choice.dryer?)?;
    let told: Vec<Block> = compared
        .earned
        .iter()
        .filter_map(|earned| {
            let other = compared.dryers.get(earned.against)?;
            Some(Block::text(sentence(recommended, other, earned, currency)))
        })
        .collect();
    if told.is_empty() {
        return None;
    }
    Some(Section {
        title: "What the dearer one earns back".into(),
        summary:
            "Payback with interest, nine draws in ten: the draws move energy, and the stated doubt \
                  moves prices."
                .into(),
        blocks: told,
    })
}

/// One pair in a sentence.
fn sentence(recommended: &Compared, other: &Compared, earned: &Earned, currency: &str) -> String {
    let (dearer, cheaper) = if earned.recommended_is_dearer {
        (recommended, other)
    } else {
        (other, recommended)
    };
    let name = |dryer: &Compared| {
        let own = if dryer.mine { " (yours)" } else { "" };
        format!("{}{own}", short(&dryer.title))
    };
    let money = |value: f64| format!("{} {currency}", digits(value, 2));
    let opening = format!(
        "{} against {}: {} more to buy",
        capital(&name(dearer)),
        name(cheaper),
        money(earned.extra)
    );
    let wet = if cheaper.days.iter().any(|day| day.probability < ENOUGH) {
        ", most of it resin and press hours that would be lost"
    } else {
        ""
    };
    if earned.saved_per_year <= 0.0 {
        return format!(
            "{opening} and {} more each year; it never pays.",
            money(-earned.saved_per_year)
        );
    }
    let saves = format!(
        "{opening}, {} a year saved{wet};",
        money(earned.saved_per_year)
    );
    let years = |years: f64| format!("{} years", digits(years, 2));
    let Some(discounted) = earned.payback.discounted_years else {
        return format!("{saves} that is less than the interest, and it never pays.");
    };
    let simple = earned.payback.simple_years.unwrap_or(discounted);
    let range = match earned.range_years {
        (Some(low), Some(high)) => format!("{} to {}", digits(low, 2), years(high)),
        (Some(low), None) => format!("{} to never", years(low)),
        _ => "never in most draws".to_owned(),
    };
    format!(
        "{saves} it pays back in {}, {} with interest ({range}).",
        years(simple),
        years(discounted)
    )
}
