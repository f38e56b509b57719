//! The names of resins: how they are compared, and which are those of more than one.

use super::{Library, Unusable};
use crate::bag::Entry;
use crate::draft::Draft;
use crate::resin::Record;
use crate::text::Text;
use quantity::{Fault, FaultKind, Faults, Place};
use std::path::Path;

/// A name of more than one resin.
#[derive(Clone, Debug)]
pub(super) struct Shared {
    /// As it is compared.
    pub(super) name: String,
    /// The resins, each by its key and its file.
    owners: Vec<(String, String)>,
}

impl Shared {
    /// The fault of asking for it.
    pub(super) fn at(&self, name: &str, place: &Place) -> Fault {
        let (keys, files): (Vec<&str>, Vec<&str>) = self
            .owners
            .iter()
            .map(|(key, file)| (key.as_str(), file.as_str()))
            .unzip();
        let mut keys = keys;
        keys.retain(|key| super::fold(key) != self.name);
        let mend = if keys.is_empty() {
            "rename one of the files".to_owned()
        } else {
            format!(
                "write {}, or give each a name of its own",
                keys.join(" or ")
            )
        };
        Fault::new(
            FaultKind::Inconsistent,
            place.clone(),
            format!("{name:?}"),
            format!("this is a name of {}", files.join(" and of ")),
            mend,
        )
    }
}

impl Unusable {
    /// A file that has been read and has mistakes.
    pub(super) fn of(draft: &Draft, faults: Faults) -> Self {
        let texts = |entry: &Entry| {
            let list = entry.list()?;
            list.iter().map(Entry::text).collect::<Option<Vec<_>>>()
        };
        let mut names = draft.bag.get("aliases", texts).unwrap_or_default();
        names.extend(draft.bag.get("name", Entry::text));
        Self {
            key: draft.key.clone(),
            file: draft.bag.place.file.clone(),
            names,
            faults,
        }
    }

    /// A file that could not be opened.
    pub(super) fn unopened(fault: &Fault) -> Self {
        let file = fault.place.file.clone();
        let stem = Path::new(&file).file_stem();
        Self {
            key: stem.map_or_else(String::new, |s| s.to_string_lossy().into_owned()),
            file,
            names: Vec::new(),
            faults: fault.clone().into(),
        }
    }

    pub(super) fn is_called(&self, wanted: &str) -> bool {
        fold(&self.key) == wanted || self.names.iter().any(|name| fold(name) == wanted)
    }

    /// The fault of asking for it, and what is wrong with it.
    pub(super) fn at(&self, name: &str, place: &Place) -> Faults {
        let count = match self.faults.len() {
            1 => "a mistake".to_owned(),
            count => format!("{count} mistakes"),
        };
        let mut faults = Faults::from(Fault::new(
            FaultKind::UnknownName,
            place.clone(),
            format!("{name:?}"),
            format!("the record of this resin, {}, has {count}", self.file),
            "mend what is told of it here",
        ));
        faults.extend(self.faults.clone());
        faults
    }
}

impl Library {
    /// Finds the names of more than one resin, with a fault for each of them that came with `files`.
    pub(super) fn share_names(&mut self, files: &[Text]) -> Faults {
        let new = |record: &Record| {
            let file = &record.bag.place.file;
            files.iter().any(|text| text.name == *file)
        };
        let mut faults = Faults::none();
        let mut seen: Vec<(String, usize)> = Vec::new();
        self.shared.clear();
        for (index, record) in self.records.iter().enumerate() {
            let mut own: Vec<String> = Vec::new();
            for name in names(record) {
                let folded = fold(name);
                if own.contains(&folded) {
                    continue;
                }
                own.push(folded.clone());
                let Some((_, first)) = seen.iter().find(|(known, _)| *known == folded) else {
                    continue;
                };
                let owner =
                    |record: &Record| (record.resin.key.clone(), record.bag.place.file.clone());
                let first = &self.records[*first];
                // Both are told, a record that came with the program aside: it is not the user's to
                // mend.
                if new(first) {
                    faults.push(shared_name(first, &folded, record));
                }
                faults.push(shared_name(record, &folded, first));
                let first = owner(first);
                match self.shared.iter_mut().find(|s| s.name == folded) {
                    Some(shared) => shared.owners.push(owner(record)),
                    None => self.shared.push(Shared {
                        name: folded,
                        owners: vec![first, owner(record)],
                    }),
                }
            }
            seen.extend(own.into_iter().map(|name| (name, index)));
        }
        faults
    }
}

/// The fault of a record that has a name, as it is compared, which another has too.
fn shared_name(record: &Record, folded: &str, other: &Record) -> Fault {
    let resin = &record.resin;
    let stands = |name: &&String| fold(name) == folded;
    let (field, name) = match resin.aliases.iter().find(stands) {
        Some(alias) if fold(&resin.name) != folded => ("aliases", alias),
        _ => ("name", &resin.name),
    };
    let name = if fold(name) == folded {
        name
    } else {
        &resin.key
    };
    Fault {
        value: format!("{name:?}"),
        ..record.bag.fault(
            field,
            FaultKind::Inconsistent,
            format!(
                "this is a name of {} and of {}",
                record.bag.place.file, other.bag.place.file
            ),
            "give each resin names of its own",
        )
    }
}

/// Every name of a record.
pub(crate) fn names(record: &Record) -> impl Iterator<Item = &str> {
    let resin = &record.resin;
    [resin.key.as_str(), resin.name.as_str()]
        .into_iter()
        .chain(resin.aliases.iter().map(String::as_str))
}

/// A name as it is compared: letter case, spaces and hyphens aside.
pub(crate) fn fold(name: &str) -> String {
    name.chars()
        .filter(|c| !matches!(c, ' ' | '-' | '_'))
        .flat_map(char::to_lowercase)
        .collect()
}
