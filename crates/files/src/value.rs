//! One TOML value read as what its field holds.

use crate::bag::Held;
use crate::range::outside;
use crate::walk::how;
use quantity::{
    Candidate, Fault, FaultKind, Faults, Field, FieldKind, Meaning, Misread, Place, did_you_mean,
    parse,
};
use toml::de::DeValue;

/// Reads a value that is no table.
pub(crate) fn read_text(
    kind: &FieldKind,
    field: &Field,
    value: &DeValue<'_>,
    written: &str,
    place: &Place,
) -> Result<Held, Faults> {
    let refuse = |kind: FaultKind, cause: String, mend: String| {
        Faults::from(Fault::new(kind, place.clone(), "", cause, mend))
    };
    match (kind, value) {
        (
            FieldKind::Quantity(meaning),
            DeValue::String(_) | DeValue::Integer(_) | DeValue::Float(_),
        ) => {
            let text = match value {
                DeValue::Float(number) => number.as_str(),
                DeValue::Integer(number) if number.radix() == 10 => number.as_str(),
                _ => written,
            };
            parse::value(text, *meaning)
                .map(|value| Held::Quantity(value, *meaning))
                .map_err(|misread| plausible(misread, field).at(place.clone(), text).into())
        }
        (FieldKind::Text, DeValue::String(text)) if text.trim().is_empty() => Err(refuse(
            FaultKind::NotText,
            "the text is empty".to_owned(),
            format!("write {}", how(field)),
        )),
        (FieldKind::Text, DeValue::String(text)) => Ok(Held::Text(text.to_string())),
        (FieldKind::Choice(words), DeValue::String(text)) => {
            let chosen = words.iter().find(|word| **word == text.as_ref());
            chosen.map(|word| Held::Choice(word)).ok_or_else(|| {
                refuse(
                    FaultKind::UnknownName,
                    format!("{} is none of {}", field.name, words.join(", ")),
                    did_you_mean(text, words),
                )
            })
        }
        (FieldKind::Flag, DeValue::Boolean(flag)) => Ok(Held::Flag(*flag)),
        (FieldKind::Count, DeValue::Integer(number)) => {
            let count = u64::from_str_radix(number.as_str(), number.radix());
            count.map(Held::Count).map_err(|_| {
                refuse(
                    FaultKind::OutOfRange,
                    "a whole number of zero or above is wanted".to_owned(),
                    format!("write for example {}", how(field)),
                )
            })
        }
        _ => {
            let (fault, mend) = wrong_sort(kind, field);
            let (is, wanted) = (sort(value), kind.with_article());
            Err(refuse(
                fault,
                format!("this is {is}, and {wanted} is wanted"),
                mend,
            ))
        }
    }
}

/// A missing unit with only those candidates that the range of the field allows.
fn plausible(misread: Misread, field: &Field) -> Misread {
    match misread {
        Misread::MissingUnit { wanted, candidates } => {
            let fits = |candidate: &&Candidate| {
                parse::value(&candidate.write, wanted).is_ok_and(|value| {
                    outside(&Held::Quantity(value, wanted), field, &candidate.write).is_none()
                })
            };
            let fitting: Vec<Candidate> = candidates.iter().filter(fits).cloned().collect();
            let candidates = if fitting.is_empty() {
                candidates
            } else {
                fitting
            };
            Misread::MissingUnit { wanted, candidates }
        }
        other => other,
    }
}

/// The sort of mistake, and how to write what is wanted.
pub(crate) fn wrong_sort(kind: &FieldKind, field: &Field) -> (FaultKind, String) {
    match kind {
        FieldKind::Text => (FaultKind::NotText, format!("write {}", how(field))),
        FieldKind::Flag => (
            FaultKind::WrongSort,
            "write true or false, without quotes".to_owned(),
        ),
        FieldKind::Table(_) | FieldKind::Partial(_) => (
            FaultKind::WrongSort,
            format!("write a table under [{}]", field.name),
        ),
        FieldKind::Tables(_) => (
            FaultKind::WrongSort,
            format!(
                "write each table under [[{}]], in double brackets",
                field.name
            ),
        ),
        FieldKind::Quantity(Meaning::Number) | FieldKind::Count => (
            FaultKind::WrongSort,
            format!("write {}, without quotes", how(field)),
        ),
        _ => (FaultKind::WrongSort, format!("write {}", how(field))),
    }
}

/// What a value is, in words.
fn sort(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
        DeValue::Integer(_) | DeValue::Float(_) => "a bare number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
