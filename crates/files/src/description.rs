//! Whether a kind of file is described well: what it shows a user must be what it reads.

use crate::bag::join;
use crate::rules::default_entry;
use crate::walk::FileKind;
use quantity::{Fault, FaultKind, Faults, Field, FieldKind, Place, Rule, Section};

/// Every flaw in the descriptions of a kind of file; a test of each kind asks for it.
///
/// An example or default that its own field refuses, a name that stands twice, a rule about a
/// field that is not there, a choice whose rule has a word it lacks.
pub fn flaws(kind: &FileKind) -> Faults {
    let mut faults = Faults::none();
    if kind.section.field("format").is_none() {
        faults.push(flaw("format", "a file says its format"));
    }
    section(kind.section, "", &mut faults);
    faults
}

fn section(section: &'static Section, path: &str, faults: &mut Faults) {
    for (index, field) in section.fields.iter().enumerate() {
        let here = join(path, field.name);
        if section.fields[..index].iter().any(|f| f.name == field.name) {
            faults.push(flaw(&here, "the name stands twice"));
        }
        if field.help.is_empty() || field.help.ends_with('.') {
            faults.push(flaw(&here, "the help is a sentence without its full stop"));
        }
        if field.required && field.default.is_some() {
            faults.push(flaw(&here, "what must be there has no default"));
        }
        texts(field, &here, faults);
        if let FieldKind::Table(inner) | FieldKind::Tables(inner) | FieldKind::Partial(inner) =
            field.kind
        {
            self::section(inner, &here, faults);
        }
    }
    for rule in section.rules {
        if let Some(name) = unknown(section, rule) {
            let here = join(path, name);
            faults.push(flaw(&here, "a rule names it, and it is not there"));
        }
    }
}

/// Example and default, read as if a user had written them.
fn texts(field: &'static Field, here: &str, faults: &mut Faults) {
    let table = matches!(
        field.kind,
        FieldKind::Table(_) | FieldKind::Tables(_) | FieldKind::Partial(_)
    );
    let shown = [("example", Some(field.example)), ("default", field.default)];
    for (what, text) in shown {
        let Some(text) = text.filter(|_| !table) else {
            continue;
        };
        let (entry, mistakes) = default_entry(field, text, Place::of(what, here));
        if entry.is_none() {
            faults.push(flaw(here, "it cannot be written in a line"));
        }
        faults.extend(mistakes);
    }
}

fn unknown(section: &'static Section, rule: &Rule) -> Option<&'static str> {
    let absent =
        |names: &[&'static str]| names.iter().copied().find(|n| section.field(n).is_none());
    match rule {
        Rule::ExactlyOne(names)
        | Rule::AtMostOne(names)
        | Rule::AtLeastOne(names)
        | Rule::Together(names) => absent(names),
        Rule::When {
            field,
            word,
            needs,
            may,
        } => {
            let listed = |kind: &FieldKind| match kind {
                FieldKind::Choice(words) | FieldKind::Sourced(FieldKind::Choice(words)) => {
                    words.contains(word)
                }
                _ => false,
            };
            let chooser = section.field(field);
            if chooser.is_some_and(|f| listed(&f.kind)) {
                absent(needs).or_else(|| absent(may))
            } else {
                Some(field)
            }
        }
    }
}

fn flaw(path: &str, cause: &str) -> Fault {
    let place = Place::of("", path);
    Fault::new(
        FaultKind::Inconsistent,
        place,
        "",
        cause,
        "mend the description",
    )
}
