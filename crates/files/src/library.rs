//! The library of resins: the records shipped with the program, and those of a user's folder.

use crate::bag::{Bag, Entry};
use crate::bibliography::Bibliography;
use crate::parents;
use crate::resin::{Draft, Record, resin_of};
use crate::text::{Text, folder};
use material::Resin;
use quantity::{Fault, FaultKind, Faults, Place, nearest};
use std::path::Path;

include!(concat!(env!("OUT_DIR"), "/library.rs"));

/// Resins by name, with their sources.
#[derive(Clone, Debug)]
pub struct Library {
    /// The records in the order of their keys.
    pub records: Vec<Record>,
    /// Every source they cite.
    pub bibliography: Bibliography,
}

impl Library {
    /// The records shipped with the program.
    ///
    /// # Errors
    /// Every mistake in them; the tests of this crate keep them free of any.
    pub fn shipped() -> Result<Self, Faults> {
        let texts: Vec<Text> = RECORDS
            .iter()
            .map(|(name, content)| Text::new(*name, *content))
            .collect();
        let sources = Text::new(SOURCES.0, SOURCES.1);
        Self::of(&texts, Some(&sources))
    }

    /// A library of some records and their bibliography.
    ///
    /// # Errors
    /// Every mistake in the records, every name two of them share, every source that is cited and
    /// not listed or listed and not cited.
    pub fn of(texts: &[Text], sources: Option<&Text>) -> Result<Self, Faults> {
        let empty = Self {
            records: Vec::new(),
            bibliography: Bibliography::default(),
        };
        empty.extended(texts, sources)
    }

    /// The same library with the records of a folder and its `sources.bib` if it has one; a record
    /// whose file has the name of a known one takes its place.
    ///
    /// # Errors
    /// As [`Library::of`], and a folder or file that cannot be read. Its records may cite the
    /// sources that are already known, and stand on the records that are.
    pub fn with_folder(self, path: &Path) -> Result<Self, Faults> {
        let texts = folder(path)?;
        let listed = path.join("sources.bib");
        let sources = if listed.exists() {
            Some(Text::open(&listed)?)
        } else {
            None
        };
        self.extended(&texts, sources.as_ref())
    }

    /// The same library with more records and sources.
    fn extended(mut self, texts: &[Text], sources: Option<&Text>) -> Result<Self, Faults> {
        let mut faults = Faults::none();
        let mut drafts = Vec::new();
        for text in texts {
            match Draft::read(text) {
                Ok(draft) => drafts.push(draft),
                Err(mistakes) => faults.extend(mistakes),
            }
        }
        let own = match sources.map(Bibliography::read) {
            None => Bibliography::default(),
            Some(Ok(bibliography)) => bibliography,
            Some(Err(mistakes)) => {
                faults.extend(mistakes);
                Bibliography::default()
            }
        };
        if faults.is_empty() {
            let cited: Vec<Entry> = drafts
                .iter()
                .flat_map(|draft| parents::cited(&draft.bag))
                .filter(|e| own.get(&e.written).is_some() || !self.knows(&e.written))
                .collect();
            faults.extend(own.compare(&cited));
        }
        self.records
            .retain(|known| drafts.iter().all(|draft| draft.key != known.resin.key));
        faults.extend(self.finish(drafts));
        self.records.sort_by(|a, b| a.resin.key.cmp(&b.resin.key));
        self.bibliography.extend(own);
        faults.extend(self.shared_names());
        faults.or(self)
    }

    fn knows(&self, source: &str) -> bool {
        self.bibliography.get(source).is_some()
    }

    /// Finishes drafts in an order in which each finds the record it stands on.
    fn finish(&mut self, mut drafts: Vec<Draft>) -> Faults {
        let mut faults = Faults::none();
        let mut broken: Vec<String> = Vec::new();
        loop {
            let before = drafts.len();
            let mut waiting = Vec::new();
            for draft in drafts {
                let like = draft.bag.get("like", Entry::text);
                let base = like.as_deref().map(|name| self.by_name(name));
                let key = draft.key.clone();
                let finished = match base {
                    Some(None) => {
                        waiting.push(draft);
                        continue;
                    }
                    Some(Some(base)) => draft.finish(Some(base)),
                    None => draft.finish(None),
                };
                match finished {
                    Ok(record) => self.records.push(record),
                    Err(mistakes) => {
                        faults.extend(mistakes);
                        broken.push(fold(&key));
                    }
                }
            }
            drafts = waiting;
            if drafts.len() == before || drafts.is_empty() {
                break;
            }
        }
        for draft in &drafts {
            let Some(like) = draft.bag.get("like", Entry::text) else {
                continue;
            };
            // One that is itself broken, or waits for another, has told its own mistakes.
            if broken.contains(&fold(&like)) {
                continue;
            }
            let place = draft.bag.place_of("like");
            if drafts.iter().any(|other| fold(&other.key) == fold(&like)) {
                faults.push(draft.bag.fault(
                    "like",
                    FaultKind::Inconsistent,
                    format!("{} and {like} stand on each other", draft.key),
                    "let one of them stand on a complete record",
                ));
            } else if let Err(unknown) = self.find(&like, &place) {
                faults.extend(unknown);
            }
        }
        faults
    }

    /// The resin that a table of a job describes: a known one by `name`, or by `like` with a name
    /// of its own, any of its values stated anew; or one written out whole.
    ///
    /// # Errors
    /// Every mistake in the table, or no known resin of that name with the nearest offered.
    pub fn resolve(&self, given: &Bag) -> Result<Resin, Faults> {
        let name = given.get("name", Entry::text);
        let (field, wanted) = match (given.get("like", Entry::text), &name) {
            (Some(like), _) => ("like", like),
            (None, Some(name)) => ("name", name.clone()),
            (None, None) => return Err(given.lacks("name").into()),
        };
        let whole = given.gives("isotherm") && given.gives("diffusivity") && field == "name";
        match self.by_name(&wanted) {
            Some(record) => {
                let mut given = given.clone();
                if field == "name" {
                    // The record writes its own name best.
                    given.remove("name");
                }
                record.with(&given)
            }
            None if whole => resin_of(given, &wanted),
            None => {
                let mut faults = Faults::none();
                if let Err(unknown) = self.find(&wanted, &given.place_of(field)) {
                    faults.extend(unknown);
                }
                faults.extend(parents::check(given));
                Err(faults)
            }
        }
    }

    fn by_name(&self, name: &str) -> Option<&Record> {
        let wanted = fold(name);
        let known = |record: &&Record| names(record).any(|known| fold(known) == wanted);
        self.records.iter().find(known)
    }

    /// The record of a resin by key, name or other name; letter case, spaces and hyphens aside.
    ///
    /// # Errors
    /// No such resin: the fault stands at `place` and offers the nearest names.
    pub fn find(&self, name: &str, place: &Place) -> Result<&Record, Faults> {
        self.by_name(name).ok_or_else(|| {
            let all = self.records.iter().flat_map(names);
            let near = nearest(name, all);
            let mut offered: Vec<&str> = Vec::new();
            for candidate in near {
                let record = self
                    .records
                    .iter()
                    .find(|r| names(r).any(|n| n == candidate));
                let name = record.map_or(candidate, |r| r.resin.name.as_str());
                if !offered.contains(&name) {
                    offered.push(name);
                }
            }
            let listed: Vec<&str> = self.records.iter().map(|r| r.resin.name.as_str()).collect();
            let listed = format!("the library has {}", listed.join(", "));
            let mend = if offered.is_empty() {
                format!("{listed}\nor write the resin inline")
            } else {
                format!("did you mean {}?\n{listed}", offered.join(" or "))
            };
            Fault::new(
                FaultKind::UnknownName,
                place.clone(),
                format!("{name:?}"),
                "no resin of the library has this name",
                mend,
            )
            .into()
        })
    }

    /// Names that two records share.
    fn shared_names(&self) -> Faults {
        let mut faults = Faults::none();
        let mut seen: Vec<(String, &str)> = Vec::new();
        for record in &self.records {
            let mut own: Vec<String> = Vec::new();
            for name in names(record) {
                let folded = fold(name);
                if own.contains(&folded) {
                    continue;
                }
                if let Some((_, other)) = seen.iter().find(|(known, _)| *known == folded) {
                    faults.push(record.bag.fault(
                        "name",
                        FaultKind::Inconsistent,
                        format!("the name {name:?} is also that of {other}"),
                        "give each resin names of its own",
                    ));
                }
                own.push(folded);
            }
            let key = record.resin.key.as_str();
            seen.extend(own.into_iter().map(|name| (name, key)));
        }
        faults
    }
}

fn names(record: &Record) -> impl Iterator<Item = &str> {
    let resin = &record.resin;
    [resin.key.as_str(), resin.name.as_str()]
        .into_iter()
        .chain(resin.aliases.iter().map(String::as_str))
}

fn fold(name: &str) -> String {
    name.chars()
        .filter(|c| !matches!(c, ' ' | '-' | '_'))
        .flat_map(char::to_lowercase)
        .collect()
}

#[cfg(test)]
mod tests;
