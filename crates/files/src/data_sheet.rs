//! The drying setting of a data sheet: its fields, and what they say anew in a resin's record.

use crate::bag::{Bag, Entry, Held};
use crate::parents::{DATA_SHEET, PARENTS};
use crate::resin_fields::RESIN;
use job::DataSheet;
use material::Resin;
use quantity::{
    Fault, FaultKind, Faults, Field, FieldKind, Meaning, Place, Quantity, Section, Temperature,
};

/// A quantity of some meaning.
macro_rules! quantity {
    ($meaning:ident) => {
        FieldKind::Quantity(Meaning::$meaning)
    };
}

/// Temperatures, times, frost points and moistures as a record allows them.
const HEAT: (f64, f64) = (290.0, 600.0);
const TIME: (f64, f64) = (60.0, 1e6);
const STAY: (f64, f64) = (60.0, 1e7);
const FROST: (f64, f64) = (173.15, 273.16);
const WATER: (f64, f64) = (1e-6, 0.1);

/// The fields of a data sheet.
pub(crate) const SHEET: [Field; 7] = [
    Field::optional(
        "temperature",
        quantity!(Temperature),
        "120 degC",
        "Temperature that the data sheet states",
    )
    .within(HEAT.0, HEAT.1),
    Field::optional(
        "temperature_low",
        quantity!(Temperature),
        "110 degC",
        "Lower end of the range it states",
    )
    .within(HEAT.0, HEAT.1),
    Field::optional(
        "temperature_high",
        quantity!(Temperature),
        "125 degC",
        "Upper end of the range it states",
    )
    .within(HEAT.0, HEAT.1),
    Field::optional(
        "time",
        quantity!(Duration),
        "4 h",
        "Time that it states; the longest one of a range",
    )
    .within(TIME.0, TIME.1),
    Field::optional(
        "dew_point",
        quantity!(FrostPoint),
        "-30 degC frost",
        "Frost point of the air that it asks for",
    )
    .within(FROST.0, FROST.1),
    Field::optional(
        "limit",
        quantity!(MoistureDryBasis),
        "0.02 % wet",
        "Highest moisture for processing that it states; a tighter one of the record for extrusion or \
         fibre stays",
    )
    .within(WATER.0, WATER.1),
    Field::optional(
        "hold",
        quantity!(Duration),
        "12 h",
        "Longest time at the temperature that it allows",
    )
    .within(STAY.0, STAY.1),
];

/// The table of a job.
pub(crate) static DATA_SHEET_TABLE: Section = Section {
    fields: &SHEET,
    rules: &[],
};

/// What a table with these fields says.
pub(crate) fn sheet(bag: &Bag, grade: Option<String>) -> DataSheet {
    DataSheet {
        grade,
        temperature: bag.get("temperature", Entry::quantity),
        temperature_low: bag.get("temperature_low", Entry::quantity),
        temperature_high: bag.get("temperature_high", Entry::quantity),
        time: bag.get("time", Entry::quantity),
        frost_point: bag.get("dew_point", Entry::quantity),
        limit: bag.get("limit", Entry::quantity),
        hold: bag.get("hold", Entry::quantity),
    }
}

/// What contradicts itself in such a table.
pub(crate) fn contradictions(bag: &Bag) -> Faults {
    let of = |name: &str| -> Option<Temperature> { bag.get(name, Entry::quantity) };
    let (at, low, high) = (
        of("temperature"),
        of("temperature_low"),
        of("temperature_high"),
    );
    let mut faults = Faults::none();
    let mut refuse = |name: &str, cause: &str| {
        let mend = "write the range from its lower to its upper end, the temperature inside it";
        faults.push(bag.fault(name, FaultKind::Inconsistent, cause, mend));
    };
    if let (Some(low), Some(high)) = (low, high)
        && low > high
    {
        refuse("temperature_low", "the lower end lies above the upper end");
    } else if let Some(at) = at
        && (low.is_some_and(|low| at < low) || high.is_some_and(|high| at > high))
    {
        refuse("temperature", "the temperature lies outside its own range");
    }
    faults
}

/// What a data sheet says anew in the record of a resin, as a table of the record's own fields; what
/// `own` states already is left out.
///
/// Its range is the window that the plan keeps to, or its one temperature where it states no range.
/// A limit stands for each process that the record allows to be wetter.
pub(crate) fn in_record(bag: &Bag, resin: &Resin, own: &Bag, words: &str) -> Bag {
    let mut drying: Vec<(&'static str, Entry)> = Vec::new();
    let entry = |name: &str| bag.entry(name).filter(|e| e.given).cloned();
    let at = entry("temperature");
    let low = entry("temperature_low").or_else(|| at.clone());
    let high = entry("temperature_high").or_else(|| at.clone());
    let kelvin = |entry: &Entry| entry.number();
    let usual: f64 = resin.drying.temperature.value.si();
    let ends = (
        low.as_ref().and_then(kelvin),
        high.as_ref().and_then(kelvin),
    );
    let set = at.or_else(|| match ends {
        (Some(low_end), _) if usual < low_end => low.clone(),
        (_, Some(high_end)) if usual > high_end => high.clone(),
        _ => None,
    });
    let record_low: f64 = resin.drying.temperature_low.value.si();
    let record_high: f64 = resin.drying.temperature_high.value.si();
    // An open end is that of the record, or the other end where that would turn the window round.
    let low = match ends {
        (None, Some(end)) if record_low > end => high.clone(),
        _ => low,
    };
    let high = match ends {
        (Some(end), None) if record_high < end => low.clone(),
        _ => high,
    };
    let mut put = |name: &'static str, entry: Option<Entry>| {
        if let Some(entry) = entry {
            drying.push((name, entry));
        }
    };
    put("temperature", set);
    put("temperature_low", low);
    put("temperature_high", high);
    put("time", entry("time"));
    put("dew_point", entry("dew_point"));
    put("hold", entry("hold"));
    let mut limit: Vec<(&'static str, Entry)> = Vec::new();
    if let Some(stated) = entry("limit") {
        let wetter = |known: Option<f64>| known.zip(stated.number()).is_some_and(|(k, s)| k > s);
        let known = &resin.limit;
        let extrusion = known.extrusion.as_ref().map(|e| e.value.si());
        let fibre = known.fibre.as_ref().map(|e| e.value.si());
        for (name, stands) in [
            ("moulding", true),
            ("extrusion", wetter(extrusion)),
            ("fibre", wetter(fibre)),
        ] {
            if stands {
                limit.push((name, stated.clone()));
            }
        }
    }
    let mut over = Bag::empty(own.section, own.place.clone());
    for (table, entries) in [("drying", drying), ("limit", limit)] {
        if let Some((name, held)) = table_of(table, entries, own, words) {
            let place = Place {
                path: bag.place.path.clone(),
                ..bag.place.clone()
            };
            over.put(
                name,
                Entry {
                    place,
                    written: String::new(),
                    given: true,
                    held,
                    inherited: None,
                },
            );
        }
    }
    over
}

/// A table of the record with those of the values that `own` does not state.
fn table_of(
    name: &str,
    entries: Vec<(&'static str, Entry)>,
    own: &Bag,
    words: &str,
) -> Option<(&'static str, Held)> {
    let field = RESIN.field(name)?;
    let FieldKind::Table(section) = field.kind else {
        return None;
    };
    let stated = own.get(name, Entry::table);
    let mut table = Bag::empty(section, own.place.clone());
    for (name, entry) in entries {
        if stated.as_ref().is_some_and(|table| table.gives(name)) {
            continue;
        }
        let parents = parents(&entry.place, words);
        let outer = Entry {
            held: Held::Sourced(Box::new(entry.clone()), parents),
            ..entry
        };
        table.put(name, outer);
    }
    let empty = table.entries().next().is_none();
    (!empty).then_some((field.name, Held::Table(table)))
}

/// The parents of a value that a data sheet states.
fn parents(place: &Place, words: &str) -> Bag {
    let mut parents = Bag::empty(&PARENTS, place.clone());
    let mut put = |name: &'static str, written: &str, held: Held| {
        parents.put(
            name,
            Entry {
                place: place.clone(),
                written: written.to_owned(),
                given: true,
                held,
                inherited: None,
            },
        );
    };
    put("source", DATA_SHEET, Held::Text(DATA_SHEET.to_owned()));
    put("where", words, Held::Text(words.to_owned()));
    put("grade", "stated", Held::Choice("stated"));
    parents
}

/// The fault of a value that a data sheet cannot state.
pub(crate) fn refused(bag: &Bag, name: &str, cause: &str, mend: &str) -> Fault {
    bag.fault(name, FaultKind::Inconsistent, cause, mend)
}
