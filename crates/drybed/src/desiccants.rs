//! The page of the book that shows the desiccants, what is known of them, and what is not, in Markdown.

use crate::trouble::Trouble;
use files::{Desiccants, Library};
use material::Desiccant;
use quantity::constants::{STANDARD_ATMOSPHERE, ZERO_CELSIUS};
use quantity::digits;
use std::fmt::Write as _;

/// Frost points of air, degC, and temperatures of a bed, degC, at which loadings are shown.
const FROST_POINTS: [f64; 4] = [-60.0, -40.0, -20.0, 0.0];
const BEDS: [f64; 3] = [20.0, 40.0, 60.0];
/// Regeneration, degC, at which the driest air is shown.
const REGENERATIONS: [f64; 6] = [120.0, 140.0, 160.0, 180.0, 200.0, 230.0];
/// Humidity of the regeneration air, kg/kg, and temperature of the dry end, degC.
const REGENERATION_HUMIDITY: f64 = 0.010;
const DRY_END: f64 = 40.0;
/// Loadings, kg/kg, at which the heat of sorption is shown.
const LOADINGS: [f64; 4] = [0.005, 0.05, 0.1, 0.2];
/// A state to say in one sentence how far apart the laws are: degC.
const SPREAD_AT: f64 = 180.0;

/// The desiccants shipped with the program.
///
/// # Errors
/// A record that has mistakes.
pub fn desiccants() -> Result<Desiccants, Trouble> {
    Ok(Desiccants::shipped()?)
}

/// Frost point (degC) of the driest air that a desiccant can give after regeneration at a temperature
/// (degC) with air of 10 g/kg, with the dry end at another (degC), at one atmosphere; none where the
/// law does not serve.
pub fn driest_frost_point(of: &Desiccant, regeneration: f64, dry_end: f64) -> Option<f64> {
    let (low, high) = of.sorbent.limit();
    let (hot, cold) = (regeneration + ZERO_CELSIUS, dry_end + ZERO_CELSIUS);
    if hot > high || cold < low {
        return None;
    }
    let share = air::mixture::mole_fraction(REGENERATION_HUMIDITY);
    let left = of.sorbent.driest(share * STANDARD_ATMOSPHERE, hot, cold);
    let frost =
        air::equilibrium::frost_temperature(left / STANDARD_ATMOSPHERE, STANDARD_ATMOSPHERE);
    Some(frost - ZERO_CELSIUS)
}

/// The page.
pub fn desiccant_page(all: &Desiccants, library: &Library) -> String {
    let mut page = String::from(
        "# Desiccants\n\n\
         This page is generated from the records of [materials/desiccants](../materials/desiccants); \
         a test compares it, and `DRYBED_WRITE_PAGES=1 cargo test -p drybed --test desiccant_page` \
         writes it anew.\n\
         A law gives the loading over vapour pressure and temperature; heat of sorption, equilibrium and \
         what regeneration leaves behind all follow from it.\n",
    );
    listing(all, &mut page);
    driest(all, &mut page);
    loadings(all, &mut page);
    heats(all, &mut page);
    gaps(all, &mut page);
    sources(all, library, &mut page);
    page
}

/// Writing to a string cannot fail.
fn line(page: &mut String, text: &str) {
    let _ = writeln!(page, "{text}");
}

fn table(page: &mut String, head: &[String], rows: impl Iterator<Item = Vec<String>>) {
    line(page, &format!("| {} |", head.join(" | ")));
    line(page, &format!("|{}", " --- |".repeat(head.len())));
    for row in rows {
        line(page, &format!("| {} |", row.join(" | ")));
    }
}

fn listing(all: &Desiccants, page: &mut String) {
    line(page, "\n## The records\n");
    let head = ["key", "desiccant", "law", "measured", "used", "source"].map(str::to_owned);
    let rows = all.records.iter().map(|record| {
        let celsius = |(low, high): (f64, f64)| {
            let (low, high) = (low - ZERO_CELSIUS, high - ZERO_CELSIUS);
            format!(
                "{} to {} °C",
                digits(low.round(), 3),
                digits(high.round(), 3)
            )
        };
        let measured = match (record.measured_temperatures, record.measured_pressures) {
            (Some(t), Some((low, high))) => {
                format!(
                    "{}, {} to {} Pa",
                    celsius(t),
                    digits(low, 3),
                    digits(high, 3)
                )
            }
            _ => "not known".to_owned(),
        };
        let invented = if record.invented { " (invented)" } else { "" };
        let mut keys: Vec<&str> = record
            .values
            .iter()
            .map(|(_, e)| e.source.as_str())
            .collect();
        keys.retain(|key| *key != "common-practice");
        keys.sort_unstable();
        keys.dedup();
        let keys: Vec<String> = keys.iter().map(|key| format!("`{key}`")).collect();
        vec![
            format!("`{}`", record.key),
            format!("{}{invented}", record.title),
            record.form.clone(),
            measured,
            celsius(record.sorbent.limit()),
            if keys.is_empty() {
                "of its parts".to_owned()
            } else {
                keys.join(", ")
            },
        ]
    });
    table(page, &head, rows);
}

fn driest(all: &Desiccants, page: &mut String) {
    let _ = writeln!(
        page,
        "\n## The driest air they can give\n\n\
         Frost point in °C of air in equilibrium, at a dry end of {DRY_END} °C, with what regeneration by air of \
         {} g/kg leaves in the desiccant.\n\
         No wheel and no tower gets below it; one with enough length comes within some kelvin.\n",
        digits(1e3 * REGENERATION_HUMIDITY, 3)
    );
    let mut head = vec!["regenerated at".to_owned()];
    head.extend(REGENERATIONS.map(|t| format!("{t} °C")));
    let rows = all.records.iter().filter_map(|record| {
        let cells = REGENERATIONS.map(|t| {
            let found = driest_frost_point(record, t, DRY_END);
            found.map_or_else(|| "–".to_owned(), |frost| format!("{frost:.0}"))
        });
        if cells.iter().all(|cell| cell == "–") {
            return None;
        }
        let name = format!("`{}`", record.key);
        Some(std::iter::once(name).chain(cells).collect())
    });
    table(page, &head, rows);
    if let Some((low, high)) = spread(all) {
        let _ = writeln!(
            page,
            "\nAt {SPREAD_AT} °C the published laws lie between {low:.0} and {high:.0} °C, {:.0} K apart: a \
             limit computed from any one of them is sure to about ± {:.0} K.\n\
             Only a dew point measured on the dryer itself narrows that.",
            high - low,
            0.5 * (high - low)
        );
    }
}

/// Lowest and highest driest frost point (degC) among the laws that are published, at the state that the
/// page names.
pub fn spread(all: &Desiccants) -> Option<(f64, f64)> {
    let published = all.records.iter().filter(|record| !record.invented);
    published
        .filter_map(|record| driest_frost_point(record, SPREAD_AT, DRY_END))
        .fold(None, |ends, frost| match ends {
            None => Some((frost, frost)),
            Some((low, high)) => Some((f64::min(low, frost), f64::max(high, frost))),
        })
}

fn loadings(all: &Desiccants, page: &mut String) {
    line(
        page,
        "\n## What they hold\n\nLoading in kg/kg over air of a frost point, at a temperature of the bed.\n",
    );
    let mut head = vec!["frost point, bed".to_owned()];
    for frost in FROST_POINTS {
        head.extend(BEDS.map(|bed| format!("{frost}, {bed} °C")));
    }
    let rows = all.records.iter().map(|record| {
        let mut row = vec![format!("`{}`", record.key)];
        for frost in FROST_POINTS {
            let p = air::saturation::over_ice(frost + ZERO_CELSIUS);
            row.extend(BEDS.map(|bed| {
                let q = record.sorbent.loading(p, bed + ZERO_CELSIUS);
                format!("{q:.4}")
            }));
        }
        row
    });
    table(page, &head, rows);
}

fn heats(all: &Desiccants, page: &mut String) {
    line(
        page,
        "\n## Heat of sorption\n\nIn kJ per mol of water at 40 °C and a loading; from the slope of the law \
         itself, so that heat and equilibrium agree.\n",
    );
    let mut head = vec!["loading".to_owned()];
    head.extend(LOADINGS.map(|q| format!("{q} kg/kg")));
    let t = 40.0 + ZERO_CELSIUS;
    let rows = all.records.iter().map(|record| {
        let mut row = vec![format!("`{}`", record.key)];
        row.extend(LOADINGS.map(|q| {
            let over = record.sorbent.pressure(q, t);
            if over.pressure > air::saturation::over_liquid(t) {
                return "full".to_owned();
            }
            let per_mole = over.heat(t) * quantity::constants::WATER_MOLAR_MASS;
            format!("{:.0}", 1e-3 * per_mole)
        }));
        row
    });
    table(page, &head, rows);
}

fn gaps(all: &Desiccants, page: &mut String) {
    line(page, "\n## What is not known\n");
    for record in &all.records {
        for gap in &record.gaps {
            line(page, &format!("- `{}`: {gap}", record.key));
        }
    }
}

fn sources(all: &Desiccants, library: &Library, page: &mut String) {
    line(page, "\n## Sources\n");
    for reference in &library.bibliography.references {
        let values = all.records.iter().flat_map(|record| &record.values);
        let count = values.filter(|(_, e)| e.source == reference.key).count();
        if count > 0 {
            line(
                page,
                &format!("- `{}`: {}.", reference.key, reference.cite()),
            );
        }
    }
}
