//! The evidence for every number of a resin, and the sources it names.

use crate::speech::{Measure, Speech};
use document::{Cell, Column, Row, Table};
use files::Library;
use material::{Documented, Evidence, Resin, Spread};
use quantity::{Meaning, Units, Written, digits, show_si};
use serde::Serialize;

/// A number of a resin with what stands behind it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct EvidenceRow {
    /// Which number.
    pub what: String,
    /// Its value as it was written.
    pub written: String,
    /// One standard deviation of what is not known, in words.
    pub spread: String,
    /// How it came to be known.
    pub grade: &'static str,
    /// Whether it is an estimate.
    pub estimate: bool,
    /// The record or family it was carried over from, when it is not the resin's own.
    pub inherited_from: Option<String>,
    /// Key of the source.
    pub source: String,
    /// Where in it.
    pub place: String,
    /// Conditions, what was extrapolated, errata.
    pub note: Option<String>,
    /// Value and spread in US customary units, where they differ from what was written.
    #[serde(skip)]
    pub customary: Option<[String; 2]>,
}

/// A source.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Citation {
    /// Its key.
    pub key: String,
    /// Authors, year, title and the rest.
    pub text: String,
}

/// Every number of a resin, those the physics leans on first.
pub(crate) fn rows(resin: &Resin) -> Vec<EvidenceRow> {
    let mut rows = law("isotherm", &resin.isotherm);
    rows.extend(law("diffusivity", &resin.diffusivity));
    let shape = resin.pellet.shape.clone();
    rows.push(EvidenceRow {
        what: "pellet shape".into(),
        spread: String::new(),
        grade: shape.grade.word(),
        estimate: shape.grade.is_estimate(),
        inherited_from: shape.inherited_from,
        written: shape.written,
        source: shape.source,
        place: shape.place,
        note: shape.note,
        customary: None,
    });
    rows.push(row("pellet diameter", &resin.pellet.diameter));
    push(&mut rows, "pellet length", resin.pellet.length.as_ref());
    if let Some(filler) = &resin.filler {
        rows.push(row("filler, share by mass", &filler.share));
        push(&mut rows, "filler, density", filler.density.as_ref());
        let heat = filler.heat_capacity.as_ref();
        push(&mut rows, "filler, heat capacity", heat);
    }
    rows.push(row("density", &resin.density));
    rows.push(row("bulk density", &resin.bulk_density));
    rows.push(row("heat capacity at 23 °C", &resin.heat_capacity));
    rows.push(row("its rise with temperature", &resin.heat_capacity_slope));
    rows.push(row("thermal conductivity", &resin.thermal_conductivity));
    push(&mut rows, "heat of sorption", resin.sorption_heat.as_ref());
    push(
        &mut rows,
        "glass transition",
        resin.glass_transition.as_ref(),
    );
    push(
        &mut rows,
        "its fall with moisture",
        resin.glass_transition_drop.as_ref(),
    );
    push(&mut rows, "melting point", resin.melting.as_ref());
    rows.push(row("sticking temperature, dry", &resin.sticking));
    let drying = &resin.drying;
    rows.push(row("customary temperature", &drying.temperature));
    rows.push(row("customary, from", &drying.temperature_low));
    rows.push(row("customary, to", &drying.temperature_high));
    rows.push(row("customary time", &drying.time));
    rows.push(row("customary frost point", &drying.frost_point));
    rows.push(row("longest stay", &drying.hold));
    let energy = drying.hold_energy.as_ref();
    push(&mut rows, "longest stay, activation energy", energy);
    rows.push(row("limit for moulding", &resin.limit.moulding));
    push(
        &mut rows,
        "limit for extrusion",
        resin.limit.extrusion.as_ref(),
    );
    push(&mut rows, "limit for fibre", resin.limit.fibre.as_ref());
    push(&mut rows, "lower edge", resin.limit.lower_edge.as_ref());
    rows.push(row("as received, sealed", &resin.received.sealed));
    rows.push(row("as received, opened", &resin.received.opened));
    if let Some(hydrolysis) = &resin.degradation.hydrolysis {
        rows.extend(law("hydrolysis", hydrolysis));
    }
    if let Some(oxidation) = &resin.degradation.oxidation {
        rows.extend(law("oxidation", oxidation));
    }
    rows
}

/// The sources of some rows, in the order of their first use.
pub(crate) fn citations(rows: &[EvidenceRow], library: &Library) -> Vec<Citation> {
    let mut found: Vec<Citation> = Vec::new();
    for row in rows {
        let known = found.iter().any(|c| c.key == row.source);
        if let Some(reference) = library.bibliography.get(&row.source).filter(|_| !known) {
            found.push(Citation {
                key: row.source.clone(),
                text: reference.cite(),
            });
        }
    }
    found
}

/// The rows as a table; `every` begins its caption, which says whether values stand as they were
/// written.
pub(crate) fn table(every: &str, rows: &[EvidenceRow], units: Units) -> Table {
    let line = |row: &EvidenceRow| {
        let customary = row
            .customary
            .as_ref()
            .filter(|_| units == Units::UsCustomary);
        let (written, spread) = match customary {
            Some([value, spread]) => (value, spread),
            None => (&row.written, &row.spread),
        };
        let value = if row.estimate {
            format!("≈ {written}")
        } else {
            written.clone()
        };
        // Practice and what is stated have no source beyond their grade.
        let unsourced = ["common-practice", "data-sheet", "stated"].contains(&row.source.as_str());
        let from = if unsourced {
            row.place.clone()
        } else if row.place.is_empty() {
            row.source.clone()
        } else {
            format!("{}, {}", row.source, row.place)
        };
        let from = match &row.inherited_from {
            Some(base) if from.is_empty() => format!("from {base}"),
            Some(base) => format!("from {base}: {from}"),
            None => from,
        };
        Row::new(vec![
            Cell::text(&row.what),
            Cell::text(value),
            Cell::text(spread),
            Cell::text(row.grade),
            Cell::text(from),
        ])
    };
    Table {
        caption: match units {
            Units::Metric => format!("{every}, as it was written"),
            Units::UsCustomary => format!("{every}, in US units where it has any"),
        },
        columns: ["number", "value", "spread", "grade", "from"]
            .map(Column::new)
            .to_vec(),
        rows: rows.iter().map(line).collect(),
    }
}

fn push<T: Written>(rows: &mut Vec<EvidenceRow>, what: &str, evidence: Option<&Evidence<T>>) {
    rows.extend(evidence.map(|evidence| row(what, evidence)));
}

fn row<T: Written>(what: &str, evidence: &Evidence<T>) -> EvidenceRow {
    let meaning = T::MEANING;
    let spread = spread_of(evidence.spread, evidence.value.si(), meaning);
    let si = evidence.value.si();
    let said = |units| match (meaning, units) {
        // A pellet is measured in inches, not in mils.
        (Meaning::Length, Units::UsCustomary) => Speech(units).say(Measure::Width, 1e3 * si),
        _ => show_si(si, meaning, units, 4),
    };
    let mut row = documented(what, evidence, spread(Units::Metric));
    // A time or a moisture is written the same in both.
    if said(Units::UsCustomary) != said(Units::Metric) {
        row.customary = Some([said(Units::UsCustomary), spread(Units::UsCustomary)]);
    }
    row
}

/// A spread in words, in the units a person reads: absolute for a temperature, relative otherwise.
fn spread_of(spread: Spread, value: f64, meaning: Meaning) -> impl Fn(Units) -> String {
    let difference = matches!(
        meaning,
        Meaning::Temperature | Meaning::DewPoint | Meaning::FrostPoint
    );
    move |units| match spread {
        Spread::Absolute(sigma) if difference => {
            let said = show_si(sigma, Meaning::TemperatureDifference, units, 2);
            // After its value a difference of temperature is plain.
            format!("± {}", said.strip_suffix(" difference").unwrap_or(&said))
        }
        spread => relative(spread, value),
    }
}

fn law<L>(name: &str, law: &Documented<L>) -> Vec<EvidenceRow> {
    let one = |(key, evidence): &(String, Evidence<f64>)| {
        let what = format!("{name}, {}", key.replace('_', " "));
        let spread = match evidence.spread {
            Spread::Absolute(sigma) if key.contains("temperature") => {
                format!("± {} K", digits(sigma, 2))
            }
            Spread::Absolute(sigma) if key.contains("heat") || key.contains("energy") => {
                format!("± {} kJ/mol", digits(1e-3 * sigma, 2))
            }
            spread => relative(spread, evidence.value),
        };
        let meaning = match (name, key.as_str()) {
            (_, key) if key.ends_with("temperature") => Some(Meaning::Temperature),
            ("diffusivity", "reference") => Some(Meaning::Diffusivity),
            _ => None,
        };
        let mut row = documented(&what, evidence, spread);
        row.customary = meaning.map(|meaning| {
            let units = Units::UsCustomary;
            [
                show_si(evidence.value, meaning, units, 4),
                spread_of(evidence.spread, evidence.value, meaning)(units),
            ]
        });
        row
    };
    law.values.iter().map(one).collect()
}

fn documented<T>(what: &str, evidence: &Evidence<T>, spread: String) -> EvidenceRow {
    EvidenceRow {
        what: what.into(),
        written: evidence.written.clone(),
        spread,
        grade: evidence.grade.word(),
        estimate: evidence.grade.is_estimate(),
        inherited_from: evidence.inherited_from.clone(),
        source: evidence.source.clone(),
        place: evidence.place.clone(),
        note: evidence.note.clone(),
        customary: None,
    }
}

/// A spread as a share of its value, or as the factor it is.
fn relative(spread: Spread, value: f64) -> String {
    match spread {
        Spread::Exact => "taken as exact".into(),
        Spread::Factor(factor) => format!("x/÷ {}", digits(factor, 3)),
        Spread::Absolute(0.0) => "none".into(),
        Spread::Absolute(sigma) if value != 0.0 => {
            format!("± {} %", digits(100.0 * (sigma / value).abs(), 2))
        }
        Spread::Absolute(sigma) => format!("± {} in SI units", digits(sigma, 2)),
    }
}
