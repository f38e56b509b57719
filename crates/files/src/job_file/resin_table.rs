//! The resin of a job: one of the library with some values stated anew, or one written inline.
//!
//! A resin says that it is inline: otherwise a job would come to mean another resin on the day the
//! library gains one of that name.

use crate::bag::{Bag, Entry, Held};
use crate::library::Library;
use crate::parents;
use crate::resin::resin_of;
use crate::resin_fields::RESIN;
use material::Resin;
use quantity::{Fault, FaultKind, Faults, Rule, Section};

/// The resin that the table describes.
///
/// # Errors
/// No known resin of that name with the nearest offered, and every mistake in what is stated. What
/// the reader has refused already is not told again.
pub(super) fn resin(given: &Bag, library: &Library) -> Result<Resin, Faults> {
    let mut refused = Vec::new();
    // Beside a refused value its parents can still be wrong.
    let orphaned = parents::check(given);
    let mut given = without_refused(given, &mut refused);
    let inline = given
        .remove("inline")
        .is_some_and(|e| e.flag() == Some(true));
    let read = if inline {
        written_inline(given)
    } else {
        of_library(&given, library, &refused)
    };
    match read {
        Ok(resin) => orphaned.or(resin),
        Err(faults) => {
            let mut all = orphaned;
            for fault in unsaid(faults, &refused) {
                if !all.0.contains(&fault) {
                    all.push(fault);
                }
            }
            Err(all)
        }
    }
}

fn written_inline(mut given: Bag) -> Result<Resin, Faults> {
    let mut faults = Faults::none();
    if given.gives("like") {
        faults.push(given.fault(
            "like",
            FaultKind::Inconsistent,
            "an inline resin is written whole, and this one stands on another",
            "remove inline to keep like, or like to keep inline",
        ));
    }
    let key = given
        .get("name", Entry::text)
        .unwrap_or_else(|| "inline".to_owned());
    // From here on all fields of a record are asked for.
    given.section = &RESIN;
    match resin_of(&given, &key) {
        Ok(resin) => faults.or(resin),
        Err(mistakes) => {
            faults.extend(mistakes);
            Err(faults)
        }
    }
}

fn of_library(given: &Bag, library: &Library, refused: &[String]) -> Result<Resin, Faults> {
    let field = if given.gives("like") { "like" } else { "name" };
    let Some(wanted) = given.get(field, Entry::text) else {
        let told = refused.contains(&given.place_of(field).path);
        return Err(if told {
            Faults::none()
        } else {
            nameless(given).into()
        });
    };
    if let Err(unknown) = library.find(&wanted, &given.place_of(field)) {
        let offered = unknown.into_iter().map(|fault| Fault {
            mend: format!(
                "{}\nor write every value of the resin under [resin] with inline = true",
                fault.mend.trim_end_matches("\nor write the resin inline")
            ),
            ..fault
        });
        return Err(Faults(offered.collect()));
    }
    library.resolve(given)
}

fn nameless(given: &Bag) -> Fault {
    let lacks = given.lacks("name");
    Fault {
        mend: format!(
            "{}\nor inline = true, and every value of the resin",
            lacks.mend
        ),
        ..lacks
    }
}

/// The table without the values that were refused; their paths are kept.
///
/// A table whose law was refused goes whole: its numbers cannot be judged.
fn without_refused(given: &Bag, refused: &mut Vec<String>) -> Bag {
    let mut kept = Bag::empty(given.section, given.place.clone());
    for (name, entry) in given.entries() {
        let path = entry.place.path.clone();
        match &entry.held {
            Held::Table(inner) => {
                let lost = chooser(inner.section)
                    .and_then(|choice| inner.entry(choice))
                    .is_some_and(is_refused);
                if lost {
                    refused.push(path);
                    continue;
                }
                let held = Held::Table(without_refused(inner, refused));
                let entry = Entry {
                    held,
                    ..entry.clone()
                };
                kept.put(name, entry);
            }
            _ if is_refused(entry) => refused.push(path),
            _ => kept.put(name, entry.clone()),
        }
    }
    kept
}

/// The choice that rules the other fields of a table.
fn chooser(section: &Section) -> Option<&'static str> {
    section.rules.iter().find_map(|rule| match rule {
        Rule::When { field, .. } => Some(*field),
        _ => None,
    })
}

fn is_refused(entry: &Entry) -> bool {
    match &entry.held {
        Held::Refused => true,
        Held::Sourced(value, _) => is_refused(value),
        Held::List(items) => items.iter().any(is_refused),
        _ => false,
    }
}

/// The mistakes without those that only say that a refused value is missing.
fn unsaid(mut faults: Faults, refused: &[String]) -> Faults {
    let follows = |fault: &Fault| {
        fault.kind == FaultKind::MissingField
            && refused.iter().any(|path| {
                let path_of = fault.place.path.strip_prefix(path.as_str());
                path_of.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
            })
    };
    faults.0.retain(|fault| !follows(fault));
    faults
}
