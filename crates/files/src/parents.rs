//! The parents of a value: spread, source and grade, from their text forms to evidence.

use crate::bag::{Bag, Entry, Held, Inherited};
use material::{Evidence, Grade, Spread};
use quantity::{
    FaultKind, Faults, Field, FieldKind, Meaning, Misread, Moisture, Quantity, Section,
    did_you_mean, parse,
};

/// Words for how a value came to be known.
const GRADES: &[&str] = &["measured", "fitted", "stated", "analogy", "common practice"];

/// What stands beside `value` in the table of a value with its parents.
pub static PARENTS: Section = Section {
    fields: &[
        Field::optional(
            "spread",
            FieldKind::Text,
            "± 3 K",
            "One standard deviation of what is not known: \"± <number> <unit>\", \"x/÷ <factor>\" or \"exact\"",
        ),
        Field::optional(
            "holds",
            FieldKind::Text,
            "20 degC .. 120 degC",
            "The range in which the value was found: \"<from> .. <to>\"",
        ),
        Field::optional(
            "source",
            FieldKind::Text,
            "common-practice",
            "Key of the bibliography, or \"common-practice\", \"data-sheet\" or \"stated\"",
        ),
        Field::optional("where", FieldKind::Text, "table 3", "Where in the source"),
        Field::optional(
            "grade",
            FieldKind::Choice(GRADES),
            "measured",
            "How the value came to be known",
        ),
        Field::optional(
            "note",
            FieldKind::Text,
            "dry pellets, in nitrogen",
            "Conditions, what was extrapolated, errata",
        ),
    ],
    rules: &[],
};

/// Source of what the trade does without one.
pub(crate) const COMMON_PRACTICE: &str = "common-practice";
/// Source of what the user states.
pub(crate) const STATED: &str = "stated";
/// Source of what the data sheet of the grade states.
pub(crate) const DATA_SHEET: &str = "data-sheet";
/// Sources that no bibliography lists.
const UNLISTED: [&str; 3] = [COMMON_PRACTICE, STATED, DATA_SHEET];

/// Every mistake in the parents of the values of a table and of the tables in it.
pub(crate) fn check(bag: &Bag) -> Faults {
    each(bag, &|name, value, parents| {
        let mut faults = unreadable(value, parents);
        faults.extend(kinship(name, parents));
        faults
    })
}

/// The same without asking that a source stand in a bibliography: "name plate" is one as well.
pub(crate) fn readable(bag: &Bag) -> Faults {
    each(bag, &|_, value, parents| unreadable(value, parents))
}

/// What is found at each value of a table and of the tables in it.
fn each(bag: &Bag, find: &dyn Fn(&str, &Entry, &Bag) -> Faults) -> Faults {
    let mut faults = Faults::none();
    for (name, entry) in bag.entries() {
        match &entry.held {
            Held::Table(inner) => faults.extend(each(inner, find)),
            Held::Sourced(value, parents) => faults.extend(find(name, value, parents)),
            _ => {}
        }
    }
    faults
}

/// Spread and range that cannot be read.
fn unreadable(value: &Entry, parents: &Bag) -> Faults {
    let mut faults = Faults::none();
    for read in [spread(value, parents).map(|_| ()), holds(parents)] {
        faults.extend(read.err().into_iter().flatten());
    }
    faults
}

/// The source keys that a table and the tables in it cite, each with its entry.
pub(crate) fn cited(bag: &Bag) -> Vec<Entry> {
    let mut found = Vec::new();
    for (_, entry) in bag.entries() {
        match &entry.held {
            Held::Table(inner) => found.extend(cited(inner)),
            Held::Sourced(_, parents) => {
                let listed = |e: &&Entry| {
                    matches!(e.held, Held::Text(_)) && !UNLISTED.contains(&e.written.as_str())
                };
                found.extend(parents.entry("source").filter(listed).cloned());
            }
            _ => {}
        }
    }
    found
}

/// The evidence for a field, its value read by a function of [`Entry`].
///
/// # Errors
/// The field is missing, or its parents cannot be read.
pub(crate) fn evidence<T>(
    bag: &Bag,
    name: &str,
    read: impl Fn(&Entry) -> Option<T>,
) -> Result<Evidence<T>, Faults> {
    let value = bag.need(name, read)?;
    let Some(Entry {
        held: Held::Sourced(entry, parents),
        inherited,
        ..
    }) = bag.entry(name)
    else {
        return Err(bag.lacks(name).into());
    };
    let text = |parent: &str| parents.get(parent, Entry::text);
    let (source, grade) = match text("source") {
        Some(source) => (source, grade(parents)),
        None => (STATED.to_owned(), Grade::Stated),
    };
    let note = match (text("note"), text("holds")) {
        (note, None) => note,
        (None, Some(range)) => Some(format!("holds {range}")),
        (Some(note), Some(range)) => Some(format!("{note}; holds {range}")),
    };
    let (grade, note) = match inherited {
        None => (grade, note),
        Some(Inherited { note: None, .. }) => (Grade::Analogy, note),
        Some(Inherited {
            note: Some(done), ..
        }) => {
            let note = note.map_or_else(|| done.clone(), |note| format!("{note}; {done}"));
            (Grade::Analogy, Some(note))
        }
    };
    let changed = inherited.as_ref().and_then(|i| i.spread);
    Ok(Evidence {
        value,
        spread: match changed {
            Some(spread) => spread,
            None => spread(entry, parents)?,
        },
        place: text("where").unwrap_or_else(|| format!("line {}", entry.place.line)),
        source,
        grade,
        written: entry.written.clone(),
        note,
        inherited_from: inherited.as_ref().map(|i| i.from.clone()),
    })
}

/// As [`evidence`], for a field that may be absent.
///
/// # Errors
/// The field is there and its parents cannot be read.
pub(crate) fn evidence_if<T>(
    bag: &Bag,
    name: &str,
    read: impl Fn(&Entry) -> Option<T>,
) -> Result<Option<Evidence<T>>, Faults> {
    match bag.entry(name) {
        Some(_) => evidence(bag, name, read).map(Some),
        None => Ok(None),
    }
}

fn grade(parents: &Bag) -> Grade {
    match parents.get("grade", Entry::choice) {
        Some("measured") => Grade::Measured,
        Some("fitted") => Grade::Fitted,
        Some("analogy") => Grade::Analogy,
        Some("common practice") => Grade::CommonPractice,
        _ => Grade::Stated,
    }
}

/// Whether source, place and grade fit each other.
fn kinship(name: &str, parents: &Bag) -> Faults {
    let mut faults = Faults::none();
    let chosen = parents.get("grade", Entry::choice);
    match parents.get("source", Entry::text).as_deref() {
        None => {
            if let Some(word) = chosen.filter(|word| *word != "stated") {
                faults.push(parents.fault(
                    "source",
                    FaultKind::MissingField,
                    format!("source is missing: the grade {word:?} needs one"),
                    "add source = \"<key of the bibliography>\", or grade = \"stated\"",
                ));
            }
        }
        Some(source) => {
            if chosen.is_none() && parents.entry("grade").is_none() {
                faults.push(parents.lacks("grade"));
            }
            let own = UNLISTED.contains(&source);
            if !own && parents.entry("where").is_none() {
                faults.push(parents.lacks("where"));
            }
            let wanted = match source {
                COMMON_PRACTICE => Some("common practice"),
                STATED | DATA_SHEET => Some("stated"),
                _ => None,
            };
            if let (Some(wanted), Some(word)) = (wanted, chosen)
                && wanted != word
            {
                faults.push(parents.fault(
                    "grade",
                    FaultKind::Inconsistent,
                    format!("{name} has the source {source:?} and the grade {word:?}"),
                    format!("write grade = {wanted:?}, or name the source"),
                ));
            }
            if wanted.is_none() && chosen == Some("stated") {
                faults.push(parents.fault(
                    "grade",
                    FaultKind::Inconsistent,
                    "what a source says is not stated by the user",
                    did_you_mean("stated", &["measured", "fitted", "analogy"]),
                ));
            }
        }
    }
    faults
}

/// The spread of a value; what carries no spread is taken as exact.
fn spread(value: &Entry, parents: &Bag) -> Result<Spread, Faults> {
    let Some(text) = parents.get("spread", Entry::text) else {
        return Ok(Spread::Exact);
    };
    let Held::Quantity(_, meaning) = value.held else {
        if matches!(value.held, Held::Refused) {
            return Ok(Spread::Exact);
        }
        let cause = "a word has no spread";
        let fault = parents.fault("spread", FaultKind::Inconsistent, cause, "remove it");
        return Err(fault.into());
    };
    let text = text.trim();
    if text == "exact" {
        return Ok(Spread::Exact);
    }
    let refuse = |kind: FaultKind, cause: String| {
        let mend = format!("write {:?} or \"x/÷ 1.2\"", either_way(meaning));
        Faults::from(parents.fault("spread", kind, cause, mend))
    };
    let marks = |marks: &[&str]| marks.iter().find_map(|mark| text.strip_prefix(mark));
    if let Some(rest) = marks(&["±", "+/-", "+-"]) {
        return match deviation(rest, meaning) {
            Ok(si) if si >= 0.0 => Ok(Spread::Absolute(si)),
            Ok(_) => Err(refuse(
                FaultKind::OutOfRange,
                "a spread is not negative".to_owned(),
            )),
            Err(misread) => Err(refuse(misread.kind(), misread.to_string())),
        };
    }
    if let Some(rest) = marks(&["x/÷", "×/÷", "x/", "×/"]) {
        if on_a_scale(meaning) {
            let cause = "a factor of a point on the temperature scale means nothing";
            return Err(refuse(FaultKind::WrongDimension, cause.to_owned()));
        }
        return match parse::si(rest, Meaning::Number) {
            Ok(factor) if factor >= 1.0 => Ok(Spread::Factor(factor)),
            Ok(_) => Err(refuse(
                FaultKind::OutOfRange,
                "the factor of a spread is 1 or above".to_owned(),
            )),
            Err(misread) => Err(refuse(misread.kind(), misread.to_string())),
        };
    }
    Err(refuse(
        FaultKind::NotANumber,
        "a spread begins with ± or with x/÷".to_owned(),
    ))
}

fn on_a_scale(meaning: Meaning) -> bool {
    matches!(
        meaning,
        Meaning::Temperature | Meaning::DewPoint | Meaning::FrostPoint
    )
}

/// A deviation has no zero of its scale, and that of a moisture needs no exact basis.
fn deviation(text: &str, meaning: Meaning) -> Result<f64, Misread> {
    match meaning {
        _ if on_a_scale(meaning) => parse::si(text, Meaning::TemperatureDifference),
        Meaning::MoistureDryBasis | Meaning::MoistureWetBasis => {
            text.parse::<Moisture>().map(|moisture| match moisture {
                Moisture::Wet(wet) => wet.si(),
                Moisture::Dry(dry) => dry.si(),
            })
        }
        Meaning::AbsolutePressure | Meaning::GaugePressure => {
            parse::si(text, Meaning::PressureDifference)
        }
        _ => parse::si(text, meaning),
    }
}

fn either_way(meaning: Meaning) -> String {
    if on_a_scale(meaning) {
        "± 3 K".to_owned()
    } else {
        format!("± {}", meaning.example().trim_start_matches('-'))
    }
}

/// A range of temperature, moisture or humidity.
fn holds(parents: &Bag) -> Result<(), Faults> {
    let Some(text) = parents.get("holds", Entry::text) else {
        return Ok(());
    };
    let meanings = [
        Meaning::Temperature,
        Meaning::MoistureDryBasis,
        Meaning::RelativeHumidity,
        Meaning::Number,
    ];
    let mut first = None;
    for meaning in meanings {
        match parse::span(&text, meaning) {
            Ok(_) => return Ok(()),
            Err(misread) => {
                first.get_or_insert(misread);
            }
        }
    }
    match first {
        Some(misread) => Err(parents
            .fault(
                "holds",
                misread.kind(),
                format!("this is no range: {misread}"),
                "write for example \"20 degC .. 120 degC\" or \"0 % dry .. 2 % dry\"",
            )
            .into()),
        None => Ok(()),
    }
}
