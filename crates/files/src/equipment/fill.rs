//! Stated values laid over usual ones, each noted with how it came to be known.

use super::dry_rated;
use crate::bag::{Bag, Entry, Held, join};
use crate::parents::evidence;
use crate::schema::meaning;
use material::Grade;
use quantity::{Faults, FieldKind, MassFlow, Meaning, Place, Quantity, Section, Written};

/// One number or word of a dryer, and how it came to be known.
#[derive(Clone, Debug, PartialEq)]
pub struct Known {
    /// Path of its field: `heater.power`.
    pub path: String,
    /// What it is.
    pub what: &'static str,
    /// What it says.
    pub value: KnownValue,
    /// Where it is from.
    pub standing: Standing,
}

/// What a field says.
#[derive(Clone, Debug, PartialEq)]
pub enum KnownValue {
    /// As someone wrote it.
    Written(String),
    /// A plain number in SI units, to be printed as its meaning is.
    Counted(f64, Meaning),
}

/// Where a value is from.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// Someone stated it.
    Stated {
        /// Where from: "name plate"; "stated" where nothing is said.
        source: String,
        /// How it came to be known.
        grade: Grade,
        /// What else is said of it.
        note: Option<String>,
    },
    /// Nobody stated it: usual for the rated flow.
    Estimate,
}

/// A record being turned into a dryer.
#[derive(Debug, Default)]
pub(super) struct Fill {
    /// What is known so far.
    pub(super) known: Vec<Known>,
    /// What is wrong so far.
    pub(super) faults: Faults,
}

/// The table of a field, or an empty one where it was left out.
pub(super) fn part(bag: &Bag, name: &str) -> Bag {
    static NOTHING: Section = Section {
        fields: &[],
        rules: &[],
    };
    bag.get(name, Entry::table).unwrap_or_else(|| {
        let section = match bag.section.field(name).map(|field| field.kind) {
            Some(FieldKind::Table(section)) => section,
            _ => &NOTHING,
        };
        let place = Place {
            path: join(&bag.place.path, name),
            ..bag.place.clone()
        };
        Bag::empty(section, place)
    })
}

impl Fill {
    /// Lays what is stated over what is usual; whether it is stated.
    pub(super) fn lay<Q: Written>(&mut self, bag: &Bag, name: &str, target: &mut Q) -> bool {
        let mut si = target.si();
        let stated = self.lay_si(bag, name, &mut si);
        *target = Q::from_si(si);
        stated
    }

    /// The same for a plain number in SI units.
    pub(super) fn lay_si(&mut self, bag: &Bag, name: &str, target: &mut f64) -> bool {
        if let Some(si) = self.stated_si(bag, name) {
            *target = si;
            return true;
        }
        let meaning = bag.section.field(name).and_then(|f| meaning(&f.kind));
        let value = KnownValue::Counted(*target, meaning.unwrap_or(Meaning::Number));
        self.note(bag, name, value, Standing::Estimate);
        false
    }

    /// The same for a flow of air, counted as dry air.
    pub(super) fn lay_air(&mut self, bag: &Bag, name: &str, target: &mut MassFlow) -> bool {
        if let Some(flow) = bag.get(name, Entry::air_flow) {
            self.note_stated(bag, name);
            *target = dry_rated(flow);
            return true;
        }
        let value = KnownValue::Counted(target.si(), Meaning::MassFlow);
        self.note(bag, name, value, Standing::Estimate);
        false
    }

    /// What is stated of a quantity, if anything.
    pub(super) fn stated<Q: Written>(&mut self, bag: &Bag, name: &str) -> Option<Q> {
        self.stated_si(bag, name).map(Q::from_si)
    }

    /// The same as a plain number in SI units.
    pub(super) fn stated_si(&mut self, bag: &Bag, name: &str) -> Option<f64> {
        let si = bag.get(name, Entry::number)?;
        self.note_stated(bag, name);
        Some(si)
    }

    /// The word chosen, or the usual one.
    pub(super) fn choose(&mut self, bag: &Bag, name: &str, usual: &'static str) -> &'static str {
        if let Some(word) = bag.get(name, Entry::choice).filter(|_| bag.gives(name)) {
            self.note_stated(bag, name);
            return word;
        }
        self.word(bag, name, usual);
        usual
    }

    /// Notes a word that is usual, and gives it.
    pub(super) fn word(&mut self, bag: &Bag, name: &str, usual: &str) -> String {
        let value = KnownValue::Written(usual.to_owned());
        self.note(bag, name, value, Standing::Estimate);
        usual.to_owned()
    }

    /// The count stated, or the usual one.
    pub(super) fn count(&mut self, bag: &Bag, name: &str, usual: u32) -> u32 {
        let count = bag.get(name, Entry::count);
        if let Some(count) = count.and_then(|count| u32::try_from(count).ok()) {
            self.note_stated(bag, name);
            return count;
        }
        self.word(bag, name, &usual.to_string());
        usual
    }

    /// Notes a value that is stated.
    pub(super) fn note_stated(&mut self, bag: &Bag, name: &str) {
        let Some(entry) = bag.entry(name) else {
            return;
        };
        let value = KnownValue::Written(match entry.list() {
            Some(items) if items.is_empty() => "none".to_owned(),
            Some(items) => {
                let words: Vec<&str> = items.iter().map(Entry::said).collect();
                words.join("; ")
            }
            None => entry.said().to_owned(),
        });
        let standing = match &entry.held {
            Held::Sourced(..) => match evidence(bag, name, |_| Some(())) {
                Ok(found) => Standing::Stated {
                    source: found.source,
                    grade: found.grade,
                    note: found.note,
                },
                Err(mistakes) => {
                    self.faults.extend(mistakes);
                    return;
                }
            },
            _ => Standing::Stated {
                source: crate::parents::STATED.to_owned(),
                grade: Grade::Stated,
                note: None,
            },
        };
        self.note(bag, name, value, standing);
    }

    fn note(&mut self, bag: &Bag, name: &str, value: KnownValue, standing: Standing) {
        self.known.push(Known {
            path: join(&bag.place.path, name),
            what: bag.section.field(name).map_or("", |field| field.help),
            value,
            standing,
        });
    }
}
