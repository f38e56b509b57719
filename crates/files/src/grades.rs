//! The user's own names of grades: each stands for a resin of the library, with what its data sheet
//! says about drying it. None is shipped.

use crate::bag::{Bag, Entry, Held};
use crate::data_sheet::{SHEET, contradictions, in_record, refused, sheet};
use crate::draft::stand_on;
use crate::job_file::JOB_RESIN;
use crate::library::{Library, Unusable, fold, names};
use crate::resin::{Record, build};
use crate::rules::overlay;
use crate::text::Text;
use crate::walk::{FileKind, read_whole};
use job::DataSheet;
use quantity::{Fault, FaultKind, Faults, Field, FieldKind, Place, Section};

/// Name of such a file in a folder of records.
pub(crate) const GRADES_FILE: &str = "grades.toml";

/// Files of grades.
pub const GRADES: FileKind = FileKind {
    name: "a file of grades",
    format: 1,
    section: &GRADES_FIELDS,
};

static GRADES_FIELDS: Section = Section {
    fields: &[
        Field::FORMAT,
        Field::required(
            "grade",
            FieldKind::Tables(&GRADE),
            "",
            "The grades, one table each",
        ),
    ],
    rules: &[],
};

const OWN: [Field; 3] = [
    Field::required(
        "name",
        FieldKind::Text,
        "lens clear 7",
        "What you call the grade",
    ),
    Field::required(
        "resin",
        FieldKind::Text,
        "PC",
        "Key or name of the resin of the library that it is",
    ),
    Field::optional(
        "record",
        FieldKind::Partial(&JOB_RESIN),
        "",
        "Any value of the resin's record stated anew",
    ),
];

static GRADE_FIELDS: [Field; OWN.len() + SHEET.len()] = both(OWN, SHEET);

static GRADE: Section = Section {
    fields: &GRADE_FIELDS,
    rules: &[],
};

/// Fields of two tables in one.
const fn both<const A: usize, const B: usize, const N: usize>(
    first: [Field; A],
    second: [Field; B],
) -> [Field; N] {
    let mut fields = [first[0]; N];
    let mut at = 0;
    while at < N {
        fields[at] = if at < A { first[at] } else { second[at - A] };
        at += 1;
    }
    fields
}

/// A grade by the user's own name.
#[derive(Clone, Debug)]
pub struct Grade {
    /// The name.
    pub name: String,
    /// The resin it is, with what the grade says anew.
    pub record: Record,
    /// What its data sheet says.
    pub sheet: DataSheet,
    /// Where it is written.
    pub place: Place,
}

impl Library {
    /// The same library with the grades of a file, and every mistake in it; a grade that has one is
    /// not used, and whoever asks for it is told.
    #[must_use]
    pub fn with_grades(mut self, text: &Text) -> (Self, Faults) {
        let (bag, mut faults) = read_whole(text, &GRADES);
        for given in bag.get("grade", Entry::tables).unwrap_or_default() {
            let name = given.get("name", Entry::text);
            let within = |fault: &Fault| {
                let path = &fault.place.path;
                let inner = path.strip_prefix(&given.place.path);
                inner.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
            };
            let mut mistakes = Faults(faults.iter().filter(|f| within(f)).cloned().collect());
            let told = mistakes.len();
            let made = name.as_ref().map(|name| self.grade(&given, name));
            match made {
                Some(Ok(grade)) if mistakes.is_empty() => self.grades.push(grade),
                Some(Err(found)) => {
                    // What stands there wrongly is not missing as well.
                    let new = |fault: &Fault| {
                        let path = &fault.place.path;
                        fault.kind != FaultKind::MissingField
                            || mistakes.iter().all(|told| told.place.path != *path)
                    };
                    let found: Vec<Fault> = found.into_iter().filter(new).collect();
                    mistakes.extend(found);
                }
                _ => {}
            }
            faults.extend(mistakes.iter().skip(told).cloned());
            // A resin stays what it is when a grade takes its name.
            if !mistakes.is_empty()
                && let Some(name) = name
                && self.resin_named(&name).is_none()
            {
                self.unusable.push(Unusable {
                    key: name.clone(),
                    file: text.name.clone(),
                    names: vec![name],
                    faults: mistakes,
                });
            }
        }
        match faults.or(()) {
            Ok(()) => (self, Faults::none()),
            Err(ordered) => (self, ordered),
        }
    }

    /// What the data sheet of a grade says; nothing where the name is that of a resin.
    pub fn sheet(&self, name: &str) -> Option<&DataSheet> {
        self.grade_named(name).map(|grade| &grade.sheet)
    }

    pub(crate) fn grade_named(&self, name: &str) -> Option<&Grade> {
        let wanted = fold(name);
        self.grades.iter().find(|grade| fold(&grade.name) == wanted)
    }

    fn resin_named(&self, name: &str) -> Option<&Record> {
        let wanted = fold(name);
        let called = |record: &&Record| names(record).any(|known| fold(known) == wanted);
        self.records.iter().find(called)
    }

    fn grade(&self, given: &Bag, name: &str) -> Result<Grade, Faults> {
        let mut faults = contradictions(given);
        if let Some(record) = self.resin_named(name) {
            faults.push(refused(
                given,
                "name",
                &format!(
                    "this is a name of the resin {}: a job that means the resin would get the grade",
                    record.resin.name
                ),
                "give the grade a name of its own",
            ));
        }
        if let Some(first) = self.grade_named(name) {
            faults.push(refused(
                given,
                "name",
                &format!("this grade stands already at {}", first.place),
                "keep one of the two, or give each a name of its own",
            ));
        }
        let own = given.get("record", Entry::table);
        let own = own.unwrap_or_else(|| Bag::empty(&JOB_RESIN, given.place_of("record")));
        for field in ["inline", "name", "like"] {
            if own.gives(field) {
                faults.push(refused(
                    &own,
                    field,
                    "a grade stands on the resin it names, under its own name",
                    "remove it",
                ));
            }
        }
        let resin = given.get("resin", Entry::text);
        let base = match resin.map(|name| (self.grade_named(&name).is_some(), name)) {
            None => None,
            Some((true, _)) => {
                faults.push(refused(
                    given,
                    "resin",
                    "this is a grade, and a resin is wanted",
                    "name the resin that the grade is",
                ));
                None
            }
            Some((false, name)) => match self.find(&name, &given.place_of("resin")) {
                Ok(record) => Some(record),
                Err(unknown) => {
                    faults.extend(unknown);
                    None
                }
            },
        };
        let base = faults.or(base)?;
        let Some(base) = base else {
            return Err(Faults::none());
        };
        let words = format!("data sheet of {name}");
        let over = overlay(&in_record(given, &base.resin, &own, &words), &own);
        let mut bag = stand_on(&base.bag, &over)?;
        let shown = format!("{name} ({})", base.resin.name);
        for (field, held) in [
            ("name", Held::Text(shown)),
            ("aliases", Held::List(Vec::new())),
        ] {
            if let Some(entry) = bag.entry_mut(field) {
                entry.held = held;
            }
        }
        let resin = build(&bag, base.resin.key.clone())?;
        Ok(Grade {
            name: name.to_owned(),
            record: Record { resin, bag },
            sheet: sheet(given, Some(name.to_owned())),
            place: given.place_of("name"),
        })
    }
}

#[cfg(test)]
mod tests;
