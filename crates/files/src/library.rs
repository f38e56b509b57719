//! The library of resins: the records shipped with the program, and those of a user's folder.
//!
//! A mistake in one record leaves the others usable: [`Loaded`] has both, and whoever asks for a
//! record that is not sound is told its own mistakes.

mod names;
mod standing;

use crate::bag::{Bag, Entry};
use crate::bibliography::Bibliography;
use crate::draft::{Draft, Family, Rank};
use crate::grades::{GRADES_FILE, Grade};
use crate::parents;
use crate::resin::{Record, resin_of};
use crate::text::{Text, folder_and_faults};
use material::Resin;
use names::Shared;
pub(crate) use names::{fold, names};
use quantity::{Fault, FaultKind, Faults, Place, nearest};
use std::path::Path;

include!(concat!(env!("OUT_DIR"), "/library.rs"));

/// Folder, inside one of records, that holds families.
const FAMILY_FOLDER: &str = "families";
/// Folder, inside one of records, that holds desiccants, which cite from the same bibliography.
const DESICCANT_FOLDER: &str = "desiccants";

/// Resins from which they are counted and not named beside the nearest.
const MANY: usize = 24;

/// Resins by name, with their sources.
#[derive(Clone, Debug, Default)]
pub struct Library {
    /// The records in the order of their keys.
    pub records: Vec<Record>,
    /// What several records stand on, in the order of their keys; no resins themselves.
    pub families: Vec<Family>,
    /// Every source they cite.
    pub bibliography: Bibliography,
    /// The user's own names of grades.
    pub grades: Vec<Grade>,
    /// Records, families and grades that have mistakes.
    pub unusable: Vec<Unusable>,
    /// Names of more than one resin.
    shared: Vec<Shared>,
}

/// A record or family that cannot be used.
#[derive(Clone, Debug)]
pub struct Unusable {
    /// The name of its file, without its ending.
    pub key: String,
    /// Its file.
    pub file: String,
    /// Names it would have, as far as they could be read.
    pub names: Vec<String>,
    /// What is wrong with it, and with what it stands on.
    pub faults: Faults,
}

/// Texts of records, families and sources, as they were found.
#[derive(Clone, Debug, Default)]
pub(crate) struct Texts {
    pub(crate) records: Vec<Text>,
    pub(crate) families: Vec<Text>,
    pub(crate) sources: Option<Text>,
    /// Files that could not be opened.
    pub(crate) unopened: Faults,
    /// What other files cite from the same sources.
    pub(crate) cited_beside: Vec<Entry>,
}

/// Texts of the desiccants shipped with the program.
pub(crate) fn desiccant_texts() -> Vec<Text> {
    let text = |(name, content): &(&str, &str)| Text::new(*name, *content);
    DESICCANTS.iter().map(text).collect()
}

/// A library of what is sound, and every mistake in what is not.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// What can be used.
    pub library: Library,
    /// Every mistake, in the order of the files; also in what the library does not use.
    pub faults: Faults,
}

impl Loaded {
    /// The same with the grades of a file.
    #[must_use]
    pub fn with_grades(self, text: &Text) -> Self {
        let (library, mistakes) = self.library.with_grades(text);
        let mut faults = self.faults;
        faults.extend(mistakes);
        Self { library, faults }
    }

    /// The library when nothing at all is wrong.
    ///
    /// # Errors
    /// Every mistake.
    pub fn sound(self) -> Result<Library, Faults> {
        self.faults.or(self.library)
    }
}

impl Library {
    /// The records shipped with the program.
    ///
    /// # Errors
    /// Every mistake in them; the tests of this crate keep them free of any.
    pub fn shipped() -> Result<Self, Faults> {
        let texts = |files: &[(&str, &str)]| {
            let text = |(name, content): &(&str, &str)| Text::new(*name, *content);
            files.iter().map(text).collect()
        };
        let texts = Texts {
            records: texts(RECORDS),
            families: texts(FAMILIES),
            sources: Some(Text::new(SOURCES.0, SOURCES.1)),
            unopened: Faults::none(),
            cited_beside: crate::desiccant::cited(&desiccant_texts()),
        };
        Self::default().extended(&texts).sound()
    }

    /// A library of some records and their bibliography.
    ///
    /// # Errors
    /// Every mistake in the records, every name two of them share, every source that is cited and
    /// not listed or listed and not cited.
    pub fn of(records: &[Text], sources: Option<&Text>) -> Result<Self, Faults> {
        let texts = Texts {
            records: records.to_vec(),
            sources: sources.cloned(),
            ..Texts::default()
        };
        Self::default().extended(&texts).sound()
    }

    /// The same library with the records of a folder, the families in its `families` folder and its
    /// `sources.bib`, where it has them, and the grades of its `grades.toml`; a file of the name of a
    /// known one takes its place. Its records may cite the sources that are already known, and stand on
    /// the records that are; its `desiccants` folder may cite from its `sources.bib`.
    ///
    /// What is not sound is told in [`Loaded::faults`] and not used.
    ///
    /// # Errors
    /// When the folder is missing or cannot be listed.
    pub fn with_folder(self, path: &Path) -> Result<Loaded, Faults> {
        let (mut records, mut unopened) = folder_and_faults(path)?;
        let of_grades = |text: &Text| Path::new(&text.name).ends_with(GRADES_FILE);
        let grades = records.iter().position(of_grades);
        let grades = grades.map(|at| records.remove(at));
        let mut within = |name: &str| -> Result<Vec<Text>, Faults> {
            let inner = path.join(name);
            if !inner.is_dir() {
                return Ok(Vec::new());
            }
            let (texts, mistakes) = folder_and_faults(&inner)?;
            unopened.extend(mistakes);
            Ok(texts)
        };
        let families = within(FAMILY_FOLDER)?;
        let desiccants = within(DESICCANT_FOLDER)?;
        let listed = path.join("sources.bib");
        let sources = match listed.exists().then(|| Text::open(&listed)) {
            None => None,
            Some(Ok(text)) => Some(text),
            Some(Err(mistakes)) => {
                unopened.extend(mistakes);
                None
            }
        };
        let loaded = self.extended(&Texts {
            records,
            families,
            sources,
            unopened,
            cited_beside: crate::desiccant::cited(&desiccants),
        });
        Ok(match grades {
            Some(text) => loaded.with_grades(&text),
            None => loaded,
        })
    }

    /// The same library with more records, families and sources.
    pub(crate) fn extended(mut self, texts: &Texts) -> Loaded {
        let mut faults = texts.unopened.clone();
        for fault in &texts.unopened {
            self.unusable.push(Unusable::unopened(fault));
        }
        let records = texts.records.iter().map(|text| (text, Rank::Record));
        let families = texts.families.iter().map(|text| (text, Rank::Family));
        let drafts: Vec<(Draft, Faults)> = families
            .chain(records)
            .map(|(text, rank)| Draft::read(text, rank))
            .collect();
        let own = match texts.sources.as_ref().map(Bibliography::read) {
            None => Bibliography::default(),
            Some(Ok(bibliography)) => bibliography,
            Some(Err(mistakes)) => {
                faults.extend(mistakes);
                Bibliography::default()
            }
        };
        let cited: Vec<Vec<Entry>> = drafts
            .iter()
            .map(|(draft, _)| parents::cited(&draft.bag))
            .collect();
        if faults.is_empty() && drafts.iter().all(|(_, mistakes)| mistakes.is_empty()) {
            let all = [cited.concat(), texts.cited_beside.clone()].concat();
            faults.extend(own.idle(&all));
            faults.extend(own.missing(&texts.cited_beside));
        }
        let mut read = Vec::new();
        for ((draft, mut mistakes), cited) in drafts.into_iter().zip(cited) {
            let unknown: Vec<Entry> = cited
                .into_iter()
                .filter(|e| self.bibliography.get(&e.written).is_none())
                .collect();
            mistakes.extend(own.missing(&unknown));
            read.push((draft, mistakes));
        }
        faults.extend(self.stand(read));
        self.bibliography.extend(own);
        let shared = self.share_names(&texts.records);
        faults.extend(shared);
        let faults = match faults.or(()) {
            Ok(()) => Faults::none(),
            Err(mut ordered) => {
                ordered.0.dedup();
                ordered
            }
        };
        Loaded {
            library: self,
            faults,
        }
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
        match self.find(&wanted, &given.place_of(field)) {
            Ok(record) if field == "name" => {
                let mut given = given.clone();
                // The record writes its own name best.
                given.remove("name");
                record.with(&given)
            }
            Ok(record) => record.carried_over(given),
            Err(_) if whole && !self.knows(&wanted) => resin_of(given, &wanted),
            Err(mut faults) => {
                faults.extend(parents::check(given));
                Err(faults)
            }
        }
    }

    /// The record of a resin by key, name or other name; letter case, spaces and hyphens aside.
    ///
    /// # Errors
    /// No such resin: the fault stands at `place` and offers the nearest names. One that has
    /// mistakes: all of them, each in its own file. A name of two resins: both, with their files.
    pub fn find(&self, name: &str, place: &Place) -> Result<&Record, Faults> {
        let wanted = fold(name);
        if let Some(shared) = self.shared.iter().find(|shared| shared.name == wanted) {
            return Err(shared.at(name, place).into());
        }
        if let Some(broken) = self.unusable.iter().find(|u| u.is_called(&wanted)) {
            return Err(broken.at(name, place));
        }
        let known = |record: &&Record| names(record).any(|known| fold(known) == wanted);
        let grade = || self.grade_named(name).map(|grade| &grade.record);
        let found = self.records.iter().find(known).or_else(grade);
        found.ok_or_else(|| self.unknown(name, place).into())
    }

    /// Whether a name is that of a resin, sound or not.
    pub(crate) fn knows(&self, name: &str) -> bool {
        let wanted = fold(name);
        self.unusable.iter().any(|u| u.is_called(&wanted))
            || self
                .records
                .iter()
                .any(|record| names(record).any(|known| fold(known) == wanted))
    }

    /// Whether a name is the key of a family.
    pub(crate) fn has_family(&self, name: &str) -> bool {
        let wanted = fold(name);
        self.families.iter().any(|f| fold(&f.key) == wanted)
    }

    /// A number of a table of the record or family of a name, in SI units.
    pub(crate) fn base_value(&self, name: &str, table: &str, field: &str) -> Option<f64> {
        let bag = self.known(name)?.bag.get(table, Entry::table)?;
        bag.get(field, Entry::number)
    }

    fn unknown(&self, name: &str, place: &Place) -> Fault {
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
            let listed = if self.records.len() > MANY {
                format!("the library has {} resins", self.records.len())
            } else {
                listed
            };
            format!("did you mean {}?\n{listed}", offered.join(" or "))
        };
        let cause = if self.has_family(name) {
            "this is a family, on which records stand, and no resin itself"
        } else {
            "no resin of the library has this name"
        };
        Fault::new(
            FaultKind::UnknownName,
            place.clone(),
            format!("{name:?}"),
            cause,
            mend,
        )
    }
}

#[cfg(test)]
mod tests;
