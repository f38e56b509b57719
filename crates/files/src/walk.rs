//! A TOML text read against the description of its fields, with every mistake collected.

use crate::bag::{Bag, Entry, Held, example, join};
use crate::range::outside;
use crate::rules::complete;
use crate::text::Text;
use crate::value::read_text;
use crate::{PARENTS, syntax};
use quantity::{Fault, FaultKind, Faults, Field, FieldKind, Place, Section, did_you_mean, nearest};
use std::cmp::Ordering;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A kind of file: its name, the version of its format, and its fields.
#[derive(Clone, Copy, Debug)]
pub struct FileKind {
    /// What such a file is called, with its article: "a resin record".
    pub name: &'static str,
    /// The version this program writes and reads; a file says it in `format`.
    pub format: u64,
    /// Its fields; one of them is `format`.
    pub section: &'static Section,
}

/// What a file said, complete: defaults filled in, every rule kept.
///
/// # Errors
/// Every mistake in the file: of syntax, of names, of sorts, of units and basis, of range, of
/// fields missing or contradicting each other.
pub fn read(text: &Text, kind: &FileKind) -> Result<Bag, Faults> {
    let (bag, faults) = read_whole(text, kind);
    faults.or(bag)
}

/// As [`read`], with what could be understood beside the mistakes, so that whoever checks the
/// meaning of the values can add what is wrong there.
pub fn read_whole(text: &Text, kind: &FileKind) -> (Bag, Faults) {
    let (mut bag, mut faults, sound) = read_loose(text, kind);
    if sound {
        faults.extend(complete(&mut bag));
    }
    (bag, faults)
}

/// What stands in a file, without asking what is missing; and whether it is worth asking.
pub(crate) fn read_loose(text: &Text, kind: &FileKind) -> (Bag, Faults, bool) {
    let (root, errors) = DeTable::parse_recoverable(&text.content);
    let (bag, faults) = walk(text, root.get_ref(), kind.section);
    if let Some(fault) = format_fault(&bag, kind) {
        // A file of another format would only earn faults that are not its own.
        (bag, fault.into(), false)
    } else if errors.is_empty() {
        (bag, faults, true)
    } else {
        (bag, syntax::faults(text, &errors, faults), false)
    }
}

fn format_fault(bag: &Bag, kind: &FileKind) -> Option<Fault> {
    let found = bag.get("format", Entry::count)?;
    let (cause, mend) = match found.cmp(&kind.format) {
        Ordering::Equal => return None,
        Ordering::Greater => (
            format!(
                "this is {} of format {found}, and this program reads format {}",
                kind.name, kind.format
            ),
            "use a newer program, or write the file anew".to_owned(),
        ),
        Ordering::Less => (
            format!("there is no format {found} of {}", kind.name),
            format!("write format = {}", kind.format),
        ),
    };
    Some(bag.fault("format", FaultKind::Format, cause, mend))
}

/// Reads every field there is, without asking what is missing.
fn walk(text: &Text, root: &DeTable<'_>, section: &'static Section) -> (Bag, Faults) {
    let mut walker = Walker {
        text,
        root: section,
        faults: Faults::none(),
    };
    let bag = walker.table(root, section, Place::of(text.name.clone(), ""));
    (bag, walker.faults)
}

/// Reads the one field of a text, and nothing else.
pub(crate) fn walk_one(text: &Text, field: &'static Field) -> (Option<Entry>, Faults) {
    let (root, _) = DeTable::parse_recoverable(&text.content);
    let mut walker = Walker {
        text,
        root: &PARENTS,
        faults: Faults::none(),
    };
    let mut read = None;
    for (key, value) in root.get_ref() {
        read = Some(walker.entry(&field.kind, field, value, &key.span(), ""));
    }
    (read, walker.faults)
}

struct Walker<'a> {
    text: &'a Text,
    root: &'static Section,
    faults: Faults,
}

impl Walker<'_> {
    fn table(&mut self, table: &DeTable<'_>, section: &'static Section, place: Place) -> Bag {
        let path = place.path.clone();
        let mut bag = Bag::empty(section, place);
        for (key, value) in table {
            let name: &str = key.get_ref();
            match section.field(name) {
                Some(field) => {
                    let entry = self.entry(&field.kind, field, value, &key.span(), &path);
                    bag.put(field.name, entry);
                }
                None => self.unknown(name, key.span(), value, section, &path),
            }
        }
        bag
    }

    fn entry(
        &mut self,
        kind: &'static FieldKind,
        field: &'static Field,
        value: &Spanned<DeValue<'_>>,
        key: &Range<usize>,
        path: &str,
    ) -> Entry {
        let path = join(path, field.name);
        let at = match value.get_ref() {
            DeValue::Table(_) => key.start,
            _ => value.span().start,
        };
        self.value(kind, field, value, self.text.place(at, path))
    }

    fn value(
        &mut self,
        kind: &'static FieldKind,
        field: &'static Field,
        value: &Spanned<DeValue<'_>>,
        place: Place,
    ) -> Entry {
        let written = match value.get_ref() {
            DeValue::String(text) => text.to_string(),
            DeValue::Table(_) => String::new(),
            _ => self.text.quote(value.span()),
        };
        let read = match (kind, value.get_ref()) {
            (FieldKind::Table(section) | FieldKind::Partial(section), DeValue::Table(table)) => {
                Ok(Held::Table(self.table(table, section, place.clone())))
            }
            (FieldKind::Tables(section), DeValue::Array(items))
                if items.iter().all(|item| item.get_ref().is_table()) =>
            {
                let mut tables = Vec::new();
                for (index, item) in items.iter().enumerate() {
                    let path = format!("{}[{}]", place.path, index + 1);
                    let place = self.text.place(item.span().start, path);
                    if let DeValue::Table(table) = item.get_ref() {
                        tables.push(self.table(table, section, place));
                    }
                }
                Ok(Held::Tables(tables))
            }
            (FieldKind::List(item_kind), DeValue::Array(items)) => {
                let mut list = Vec::new();
                for (index, item) in items.iter().enumerate() {
                    let path = format!("{}[{}]", place.path, index + 1);
                    let place = self.text.place(item.span().start, path);
                    list.push(self.value(item_kind, field, item, place));
                }
                Ok(Held::List(list))
            }
            (FieldKind::Sourced(inner), DeValue::Table(table)) => {
                self.sourced(inner, field, table, &place)
            }
            (FieldKind::Sourced(inner), _) => {
                let entry = self.value(inner, field, value, place.clone());
                let parents = Bag::empty(&PARENTS, place.clone());
                Ok(Held::Sourced(Box::new(entry), parents))
            }
            _ => read_text(kind, field, value.get_ref(), &written, &place),
        };
        let ranged = !matches!(kind, FieldKind::Sourced(_));
        let quoted = match value.get_ref() {
            DeValue::Table(_) => String::new(),
            _ => self.text.quote(value.span()),
        };
        let held = match read {
            Ok(held) => match outside(&held, field, &written).filter(|_| ranged) {
                None => held,
                Some((cause, mend)) => {
                    let kind = FaultKind::OutOfRange;
                    self.faults
                        .push(Fault::new(kind, place.clone(), quoted, cause, mend));
                    Held::Refused
                }
            },
            Err(mistakes) => {
                for fault in mistakes {
                    let value = quoted.clone();
                    self.faults.push(Fault { value, ..fault });
                }
                Held::Refused
            }
        };
        Entry {
            place,
            written,
            given: true,
            held,
            inherited: None,
        }
    }

    /// A value in a table of its own, with its spread, source and grade.
    fn sourced(
        &mut self,
        inner: &'static FieldKind,
        field: &'static Field,
        table: &DeTable<'_>,
        place: &Place,
    ) -> Result<Held, Faults> {
        let mut entry = None;
        let mut parents = Bag::empty(&PARENTS, place.clone());
        for (key, value) in table {
            let name: &str = key.get_ref();
            if name == "value" {
                let path = join(&place.path, "value");
                let at = self.text.place(value.span().start, path);
                entry = Some(self.value(inner, field, value, at));
            } else if let Some(known) = PARENTS.field(name) {
                let read = self.entry(&known.kind, known, value, &key.span(), &place.path);
                parents.put(known.name, read);
            } else {
                self.unknown(name, key.span(), value, &PARENTS, &place.path);
            }
        }
        let missing = || {
            let place = Place {
                path: join(&place.path, "value"),
                ..place.clone()
            };
            let cause = format!("value is missing: {}", field.help);
            let mend = format!("add for example value = {:?}", field.example);
            Faults::from(Fault::new(FaultKind::MissingField, place, "", cause, mend))
        };
        let entry = entry.ok_or_else(missing)?;
        Ok(Held::Sourced(Box::new(entry), parents))
    }

    fn unknown(
        &mut self,
        name: &str,
        key: Range<usize>,
        value: &Spanned<DeValue<'_>>,
        section: &'static Section,
        path: &str,
    ) {
        let known: Vec<&str> = section.fields.iter().map(|f| f.name).collect();
        let near = nearest(name, known.iter().copied());
        let elsewhere = homes(self.root, name, "");
        let mend = if let (true, Some(home)) = (near.is_empty(), elsewhere.first()) {
            match home.rsplit_once('.') {
                Some((table, _)) => format!("{name} belongs in [{table}]"),
                None => format!("{name} belongs above the first table"),
            }
        } else {
            did_you_mean(name, &known)
        };
        let quoted = match value.get_ref() {
            DeValue::Table(_) | DeValue::Array(_) => String::new(),
            _ => self.text.quote(value.span()),
        };
        self.faults.push(Fault::new(
            FaultKind::UnknownField,
            self.text.place(key.start, join(path, name)),
            quoted,
            format!("no field here is called {name:?}"),
            mend,
        ));
    }
}

/// The paths of every field of that name.
fn homes(section: &'static Section, name: &str, path: &str) -> Vec<String> {
    let mut found = Vec::new();
    for field in section.fields {
        let here = join(path, field.name);
        if field.name == name {
            found.push(here.clone());
        }
        if let FieldKind::Table(inner) | FieldKind::Partial(inner) | FieldKind::Tables(inner) =
            field.kind
        {
            found.extend(homes(inner, name, &here));
        }
    }
    found
}

/// How a field is written, for whoever lacks it.
pub(crate) fn how(field: &Field) -> String {
    example(field)
}

#[cfg(test)]
mod tests;
