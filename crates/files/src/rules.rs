//! What must be there, what must not stand together, and what is taken when nothing is said.

use crate::bag::{Bag, Entry, Held};
use crate::text::Text;
use crate::walk::{how, walk_one};
use quantity::{Fault, FaultKind, Faults, Field, FieldKind, Place, Rule, Section};

/// Checks a table and every table in it, and fills in the defaults.
pub fn complete(bag: &mut Bag) -> Faults {
    let mut faults = Faults::none();
    let section = bag.section;
    for field in section.fields {
        let Some(entry) = bag.entry_mut(field.name) else {
            continue;
        };
        match (&field.kind, &mut entry.held) {
            (FieldKind::Table(_), Held::Table(inner)) => faults.extend(complete(inner)),
            (FieldKind::Tables(_), Held::Tables(inner)) => {
                for table in inner {
                    faults.extend(complete(table));
                }
            }
            _ => {}
        }
    }
    for rule in section.rules {
        if let Rule::When { field, .. } = rule {
            fill(bag, field, &mut faults);
        }
    }
    for rule in section.rules {
        faults.extend(check(bag, rule));
    }
    faults.extend(strangers(bag));
    for field in section.fields {
        if bag.entry(field.name).is_none() && !ruled_out(bag, field.name) {
            if field.required {
                faults.push(bag.lacks(field.name));
            } else {
                fill(bag, field.name, &mut faults);
            }
        }
    }
    faults
}

/// Puts in the default of a field that is absent.
fn fill(bag: &mut Bag, name: &str, faults: &mut Faults) {
    let Some(field) = bag.section.field(name) else {
        return;
    };
    let (None, Some(default)) = (bag.entry(name), field.default) else {
        return;
    };
    let place = bag.place_of(name);
    let (entry, mistakes) = default_entry(field, default, place);
    faults.extend(mistakes);
    if let Some(entry) = entry {
        bag.put(field.name, entry);
    }
}

/// A default as if the user had written it, marked as not given.
pub(crate) fn default_entry(
    field: &'static Field,
    default: &'static str,
    place: Place,
) -> (Option<Entry>, Faults) {
    let line = match field.kind {
        FieldKind::Table(_) | FieldKind::Partial(_) => format!("{} = {{}}", field.name),
        FieldKind::Tables(_) => format!("{} = []", field.name),
        _ => how(&Field {
            example: default,
            ..*field
        }),
    };
    let text = Text::new(place.file.clone(), line);
    let (entry, mut faults) = walk_one(&text, field);
    for fault in &mut faults.0 {
        fault.place = place.clone();
    }
    let entry = entry.map(|mut entry| {
        if let Held::Table(inner) = &mut entry.held {
            inner.place = place.clone();
            faults.extend(complete(inner));
        }
        Entry {
            place,
            given: false,
            ..entry
        }
    });
    (entry, faults)
}

fn check(bag: &Bag, rule: &Rule) -> Vec<Fault> {
    let given = |names: &'static [&'static str]| -> Vec<&'static str> {
        names.iter().copied().filter(|n| bag.gives(n)).collect()
    };
    let lacking = |names: &'static [&'static str], why: &dyn Fn() -> String| -> Vec<Fault> {
        let missing = names.iter().filter(|name| bag.entry(name).is_none());
        missing
            .map(|name| {
                let lacks = bag.lacks(name);
                Fault {
                    cause: format!("{}; {}", lacks.cause, why()),
                    ..lacks
                }
            })
            .collect()
    };
    match rule {
        Rule::ExactlyOne(names) => {
            let found = given(names);
            if found.is_empty() {
                vec![none_of(bag, names)]
            } else {
                too_many(bag, &found)
            }
        }
        Rule::AtMostOne(names) => too_many(bag, &given(names)),
        Rule::AtLeastOne(names) if given(names).is_empty() => vec![none_of(bag, names)],
        Rule::AtLeastOne(_) => Vec::new(),
        Rule::Together(names) => match given(names).first() {
            Some(first) => lacking(names, &|| format!("it goes with {first}")),
            None => Vec::new(),
        },
        Rule::When {
            field, word, needs, ..
        } => {
            if bag.get(field, Entry::choice) == Some(word) {
                lacking(needs, &|| format!("{field} {word:?} needs it"))
            } else {
                Vec::new()
            }
        }
    }
}

fn none_of(bag: &Bag, names: &[&str]) -> Fault {
    let place = bag.place.clone();
    let examples: Vec<String> = names
        .iter()
        .filter_map(|name| bag.section.field(name))
        .map(how)
        .collect();
    Fault::new(
        FaultKind::Alternatives,
        place,
        "",
        format!("one of {} must be given, and none is", names.join(", ")),
        format!("add one of\n{}", examples.join("\n")),
    )
}

fn too_many(bag: &Bag, found: &[&'static str]) -> Vec<Fault> {
    let fault = |second: &&str| {
        bag.fault(
            second,
            FaultKind::Alternatives,
            format!("{} are given, and only one may be", found.join(" and ")),
            format!("keep one of {}", found.join(", ")),
        )
    };
    found.get(1).map(fault).into_iter().collect()
}

/// Fields that belong to another word of a choice than the one made.
fn strangers(bag: &Bag) -> Faults {
    let mut faults = Faults::none();
    for (name, entry) in bag.entries() {
        if entry.given && ruled_out(bag, name) {
            let choice = chooser(bag.section, name);
            let word = bag.get(choice, Entry::choice).unwrap_or("");
            let owners = owners(bag.section, name);
            faults.push(bag.fault(
                name,
                FaultKind::Inconsistent,
                format!("{name} has no part in {choice} {word:?}"),
                format!("remove it, or choose {choice} {}", owners.join(" or ")),
            ));
        }
    }
    faults
}

/// Whether the choice made leaves no room for a field.
fn ruled_out(bag: &Bag, name: &str) -> bool {
    let mut named = false;
    for rule in bag.section.rules {
        if let Rule::When {
            field,
            word,
            needs,
            may,
        } = rule
            && (needs.contains(&name) || may.contains(&name))
        {
            match bag.get(field, Entry::choice) {
                None => return !bag.gives(name),
                Some(chosen) if chosen == *word => return false,
                Some(_) => named = true,
            }
        }
    }
    named
}

fn chooser(section: &'static Section, name: &str) -> &'static str {
    let owner = section.rules.iter().find_map(|rule| match rule {
        Rule::When {
            field, needs, may, ..
        } if needs.contains(&name) || may.contains(&name) => Some(*field),
        _ => None,
    });
    owner.unwrap_or("")
}

fn owners(section: &'static Section, name: &str) -> Vec<String> {
    let words = section.rules.iter().filter_map(|rule| match rule {
        Rule::When {
            word, needs, may, ..
        } if needs.contains(&name) || may.contains(&name) => Some(format!("{word:?}")),
        _ => None,
    });
    words.collect()
}

/// Lays what was given over what was there, table by table.
///
/// Where a choice that rules its neighbours (`form`) is given anew and differs, the old table is
/// dropped whole: its numbers belong to another law.
pub fn overlay(base: &Bag, over: &Bag) -> Bag {
    let mut merged = base.clone();
    for (name, entry) in over.entries() {
        if !entry.given {
            continue;
        }
        let laid = match (&entry.held, base.entry(name).map(|known| &known.held)) {
            (Held::Table(new), Some(Held::Table(old))) => {
                let mut table = if changes_law(old, new) {
                    new.clone()
                } else {
                    overlay(old, new)
                };
                table.place = new.place.clone();
                Entry {
                    held: Held::Table(table),
                    ..entry.clone()
                }
            }
            _ => entry.clone(),
        };
        merged.put(name, laid);
    }
    merged.place = over.place.clone();
    merged
}

fn changes_law(old: &Bag, new: &Bag) -> bool {
    old.section.rules.iter().any(|rule| match rule {
        Rule::When { field, .. } => match (old.entry(field), new.entry(field)) {
            (Some(before), Some(after)) => before.choice() != after.choice(),
            _ => false,
        },
        _ => false,
    })
}
