//! The days of the year and the prices of the plant, as a job file states them.

use super::fields::{ABOVE_ZERO, COLDEST_PLACE, WARMEST_PLACE, quantity};
use super::plant_fields::{DAMPEST_POINT, DRIEST_POINT};
use crate::bag::{Bag, Entry};
use job::{Change, Day, DryerKind, DryerPrice, OwnedKind, Ownership, Plant, Prices, TariffHours};
use quantity::{
    Duration, FaultKind, Faults, Field, FieldKind, Fraction, Meaning, Quantity, Rule, Section,
    digits,
};

/// Hours of a year.
const YEAR: f64 = 8784.0;

pub(super) static DAY: Section = Section {
    fields: &[
        Field::required("name", FieldKind::Text, "humid summer", "What it is called"),
        Field::required(
            "temperature",
            quantity!(Temperature),
            "30 degC",
            "Temperature of the hall",
        )
        .within(COLDEST_PLACE, WARMEST_PLACE),
        Field::required(
            "humidity",
            quantity!(Humidity),
            "60 %RH",
            "Humidity of the hall",
        )
        .within(DRIEST_POINT, DAMPEST_POINT),
        Field::required(
            "share",
            quantity!(Fraction),
            "25 %",
            "Share of the year it stands for",
        )
        .within(0.0, 1.0),
    ],
    rules: &[],
};

static TARIFF: Section = Section {
    fields: &[
        Field::required("from", FieldKind::Count, "22", "First full hour of the day")
            .within(0.0, 23.0),
        Field::required(
            "to",
            FieldKind::Count,
            "6",
            "Full hour at which it ends; over midnight where it is the smaller",
        )
        .within(0.0, 24.0),
        Field::required(
            "electricity",
            quantity!(EnergyPrice),
            "0.14 per kWh",
            "Price of current in these hours",
        )
        .within(0.0, f64::INFINITY),
    ],
    rules: &[],
};

static DRYER: Section = Section {
    fields: &[
        Field::required(
            "kind",
            FieldKind::Choice(OwnedKind::WORDS),
            "desiccant wheel",
            "Which kind",
        ),
        Field::optional(
            "price",
            quantity!(Number),
            "18000",
            "Price of the dryer, set up, in the currency of the prices",
        )
        .within(0.0, f64::INFINITY),
        Field::optional(
            "desiccant_price",
            quantity!(Number),
            "2400",
            "Price of a new wheel or a new charge of desiccant, work included",
        )
        .within(0.0, f64::INFINITY),
        Field::optional(
            "desiccant_every",
            quantity!(Duration),
            "24000 h",
            "Hours run from one change of desiccant to the next",
        )
        .within(ABOVE_ZERO, f64::INFINITY),
        Field::optional(
            "filters_per_year",
            quantity!(Number),
            "180",
            "Price of the filters of a year",
        )
        .within(0.0, f64::INFINITY),
        Field::optional("footprint", quantity!(Area), "0.8 m2", "Floor it takes")
            .within(ABOVE_ZERO, 1000.0),
        Field::optional(
            "noise",
            quantity!(SoundLevel),
            "72 dB(A)",
            "Sound pressure level 1 m away, A-weighted",
        )
        .within(0.0, 140.0),
        Field::defaulted(
            "mine",
            FieldKind::Flag,
            "false",
            "Whether it is the one that stands there today",
        ),
    ],
    rules: &[Rule::Together(&["desiccant_price", "desiccant_every"])],
};

pub(super) static PRICES: Section = Section {
    fields: &[
        Field::required(
            "currency",
            FieldKind::Text,
            "EUR",
            "What the currency is called",
        ),
        Field::required(
            "electricity",
            quantity!(EnergyPrice),
            "0.18 per kWh",
            "Price of current",
        )
        .within(0.0, f64::INFINITY),
        Field::optional(
            "tariff",
            FieldKind::Tables(&TARIFF),
            "",
            "Hours of the day with another price of current; of several that hold an hour the first",
        )
        .within(1.0, 24.0),
        Field::optional(
            "carbon",
            quantity!(MassPerEnergy),
            "0.35 kg/kWh",
            "Carbon dioxide given off for the current",
        )
        .within(0.0, f64::INFINITY),
        Field::optional(
            "cooling_water",
            quantity!(VolumePrice),
            "1.50 per m3",
            "Price of cooling water",
        )
        .within(0.0, f64::INFINITY),
        Field::optional(
            "compressed_air",
            quantity!(VolumePrice),
            "0.02 per m3",
            "Price of compressed air, of m3 at 20 degC and 1 atm; from its current when left out",
        )
        .within(0.0, f64::INFINITY),
        Field::optional(
            "press_hour",
            quantity!(TimePrice),
            "60 per h",
            "Price of an hour in which the press stands",
        )
        .within(0.0, f64::INFINITY),
        Field::optional(
            "resin",
            quantity!(MassPrice),
            "3.20 per kg",
            "Price of resin that is thrown away",
        )
        .within(0.0, f64::INFINITY),
        Field::defaulted(
            "hours_per_year",
            quantity!(Duration),
            "6000 h",
            "Time run in a year",
        )
        .within(ABOVE_ZERO, YEAR * 3600.0),
        Field::defaulted(
            "years",
            FieldKind::Count,
            "10",
            "Years over which a dryer is counted",
        )
        .within(1.0, 40.0),
        Field::defaulted("interest", quantity!(Fraction), "5 %", "Interest a year")
            .within(0.0, 1.0),
        Field::optional(
            "starts_per_year",
            FieldKind::Count,
            "50",
            "Cold starts in a year, each waited for at the price of a press hour",
        )
        .within(0.0, 10_000.0),
        Field::optional(
            "doubt",
            quantity!(Fraction),
            "15 %",
            "Doubt of all prices, one standard deviation",
        )
        .within(0.0, 1.0),
        Field::optional(
            "dryer",
            FieldKind::Tables(&DRYER),
            "",
            "What owning a dryer of a kind comes to, where dryers are sized by custom",
        )
        .within(1.0, 4.0),
    ],
    rules: &[],
};

/// The plant.
///
/// # Errors
/// A field that is missing although it must be there; the reader has told of it before.
pub(super) fn plant(bag: &Bag) -> Result<Plant, Faults> {
    let mut days = Vec::new();
    for table in bag.get("day", Entry::tables).unwrap_or_default() {
        days.push(Day {
            name: table.need("name", Entry::text)?,
            temperature: table.need("temperature", Entry::quantity)?,
            humidity: table.need("humidity", Entry::humidity)?,
            share: table.need("share", Entry::quantity)?,
        });
    }
    let prices = match bag.get("prices", Entry::table) {
        Some(table) => Some(prices(&table)?),
        None => None,
    };
    Ok(Plant { days, prices })
}

/// What shares are parts of: "the days stand for" so much "of the year".
pub(super) struct Part {
    pub(super) of: &'static str,
    pub(super) whole: &'static str,
}

/// Days that do not make a year, told at the last of them.
pub(super) fn check_days(bag: &Bag) -> Faults {
    let days = bag.get("day", Entry::tables).unwrap_or_default();
    let year = Part {
        of: "the days stand for",
        whole: "the year",
    };
    check_whole(&days, &year)
}

/// Shares that do not make a whole, told at the last of them.
pub(super) fn check_whole(tables: &[Bag], part: &Part) -> Faults {
    /// How far the shares may be from a whole: what rounding to a percent leaves.
    const CLOSE: f64 = 0.005;
    let share = |table: &Bag| {
        table
            .get("share", Entry::quantity::<Fraction>)
            .map(Quantity::si)
    };
    let shares: Option<Vec<f64>> = tables.iter().map(share).collect();
    let (Some(shares), Some(last)) = (shares, tables.last()) else {
        return Faults::none();
    };
    let miss = shares.iter().sum::<f64>() - 1.0;
    if miss.abs() <= CLOSE {
        return Faults::none();
    }
    let percent = |share: f64| format!("{} %", digits(100.0 * share, 4));
    let side = if miss > 0.0 { "much" } else { "little" };
    last.fault(
        "share",
        FaultKind::Inconsistent,
        format!(
            "{} {} of {}, {} too {side}",
            part.of,
            percent(1.0 + miss),
            part.whole,
            percent(miss.abs())
        ),
        "let their shares add up to 100 %",
    )
    .into()
}

fn prices(table: &Bag) -> Result<Prices, Faults> {
    let hour = |bag: &Bag, name: &str| bag.need(name, super::assemble::small_count);
    let mut tariff = Vec::new();
    for hours in table.get("tariff", Entry::tables).unwrap_or_default() {
        tariff.push(TariffHours {
            from: hour(&hours, "from")?,
            to: hour(&hours, "to")?,
            electricity: hours.need("electricity", Entry::quantity)?,
        });
    }
    let run: Duration = table.need("hours_per_year", Entry::quantity)?;
    Ok(Prices {
        currency: table.need("currency", Entry::text)?,
        electricity: table.need("electricity", Entry::quantity)?,
        tariff,
        carbon: table.get("carbon", Entry::quantity),
        cooling_water: table.get("cooling_water", Entry::quantity),
        compressed_air: table.get("compressed_air", Entry::quantity),
        press_hour: table.get("press_hour", Entry::quantity),
        resin: table.get("resin", Entry::quantity),
        hours_per_year: run.hours(),
        years: f64::from(hour(table, "years")?),
        interest: table.need("interest", Entry::quantity)?,
        starts_per_year: table
            .get("starts_per_year", super::assemble::small_count)
            .map(f64::from),
        doubt: table.get("doubt", Entry::quantity),
        dryers: dryers(table)?,
    })
}

/// What owning dryers of each kind comes to.
fn dryers(table: &Bag) -> Result<Vec<DryerPrice>, Faults> {
    let mut dryers = Vec::new();
    for dryer in table.get("dryer", Entry::tables).unwrap_or_default() {
        let kind = OwnedKind::of_words(dryer.need("kind", Entry::choice)?);
        let change = dryer
            .get("desiccant_price", Entry::number)
            .zip(dryer.get("desiccant_every", Entry::quantity));
        dryers.push(DryerPrice {
            kind: kind.unwrap_or(OwnedKind::Air(DryerKind::Wheel)),
            mine: dryer.need("mine", Entry::flag)?,
            ownership: Ownership {
                currency: table.get("currency", Entry::text),
                price: dryer.get("price", Entry::number),
                desiccant_change: change.map(|(price, every)| Change { price, every }),
                filters_per_year: dryer.get("filters_per_year", Entry::number),
                footprint: dryer.get("footprint", Entry::quantity),
                noise: dryer.get("noise", Entry::quantity),
                ..Ownership::default()
            },
        });
    }
    Ok(dryers)
}
