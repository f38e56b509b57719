//! A record or family that has been read and still stands on another.

use crate::bag::{Bag, Entry, Held, Inherited};
use crate::filler;
use crate::order::in_order;
use crate::parents;
use crate::resin::{RESIN_RECORD, Record, build};
use crate::resin_fields::RESIN;
use crate::rules::{complete, overlay};
use crate::text::{Text, too_long};
use crate::walk::{FileKind, read_loose};
use quantity::{FaultKind, Faults, Place};
use std::path::Path;

/// Families of resins.
pub const RESIN_FAMILY: FileKind = FileKind {
    name: "a family of resins",
    format: 1,
    section: &RESIN,
};

/// Whether a file is a resin or only stood upon.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Rank {
    /// A resin.
    Record,
    /// What several resins have in common.
    Family,
}

/// A file that has been read and whose values are not yet complete.
#[derive(Clone, Debug)]
pub(crate) struct Draft {
    /// The name of its file, without its ending.
    pub(crate) key: String,
    /// Whether it is a resin.
    pub(crate) rank: Rank,
    /// What the file says.
    pub(crate) bag: Bag,
}

/// What several resins have in common: values to stand on, none of them needed.
#[derive(Clone, Debug)]
pub struct Family {
    /// File name.
    pub key: String,
    /// What it is, in a few words.
    pub title: String,
    /// The values of its file and of what it stands on.
    pub bag: Bag,
}

/// What a draft stands on.
pub(crate) struct Base<'a> {
    pub(crate) bag: &'a Bag,
    /// What it is called where something was carried over from it.
    from: String,
    /// Its key.
    key: &'a str,
    rank: Rank,
}

impl Draft {
    /// Reads a file without asking what is missing, unless it stands on no other; with every mistake
    /// in it.
    pub(crate) fn read(text: &Text, rank: Rank) -> (Self, Faults) {
        let stem = Path::new(&text.name).file_stem();
        let key = stem.map_or_else(String::new, |s| s.to_string_lossy().into_owned());
        let (kind, mend) = match rank {
            Rank::Record => (&RESIN_RECORD, "give a file that describes one resin"),
            Rank::Family => (&RESIN_FAMILY, "give a file that describes one family"),
        };
        if let Some(fault) = too_long(&text.name, &text.content, kind.name, mend) {
            let bag = Bag::empty(&RESIN, Place::of(text.name.clone(), ""));
            return (Self { key, rank, bag }, fault.into());
        }
        let (mut bag, mut faults, sound) = read_loose(text, kind);
        if sound && rank == Rank::Record && bag.entry("like").is_none() {
            faults.extend(complete(&mut bag));
        }
        if sound && rank == Rank::Family {
            let needed = ["format", "title"].into_iter();
            faults.extend(
                needed
                    .filter(|n| bag.entry(n).is_none())
                    .map(|n| bag.lacks(n)),
            );
        }
        faults.extend(parents::check(&bag));
        (Self { key, rank, bag }, in_order(faults))
    }

    /// The record it makes, standing on `base` where it says nothing.
    ///
    /// # Errors
    /// Every mistake that shows when its values meet those of the base.
    pub(crate) fn finish(self, base: Option<&Base<'_>>) -> Result<Record, Faults> {
        let bag = self.stood(base)?;
        let resin = build(&bag, self.key)?;
        Ok(Record { resin, bag })
    }

    /// The family it makes, standing on `base` where it says nothing.
    ///
    /// # Errors
    /// As [`Draft::finish`].
    pub(crate) fn finish_family(self, base: Option<&Base<'_>>) -> Result<Family, Faults> {
        let mut bag = match base {
            Some(base) => {
                let below = base.below();
                let mut bag = overlay(&below, &self.bag);
                filler::mix(&mut bag, &below, &self.bag).or(())?;
                bag
            }
            None => self.bag.clone(),
        };
        // What a resin says of itself alone is no matter of a family.
        for own in ["name", "aliases", "like"] {
            bag.remove(own);
        }
        Ok(Family {
            title: bag.need("title", Entry::text)?,
            key: self.key,
            bag,
        })
    }

    fn stood(&self, base: Option<&Base<'_>>) -> Result<Bag, Faults> {
        match base {
            // A record laid over the shipped one of its own key is the same resin.
            Some(base) if base.rank == Rank::Record && base.key == self.key => {
                stand_on(base.bag, &self.bag)
            }
            Some(base) => stand_on(&base.below(), &self.bag),
            None => Ok(self.bag.clone()),
        }
    }
}

impl<'a> Base<'a> {
    pub(crate) fn of(record: &'a Record) -> Self {
        Self {
            bag: &record.bag,
            from: record.resin.name.clone(),
            key: &record.resin.key,
            rank: Rank::Record,
        }
    }

    pub(crate) fn of_family(family: &'a Family) -> Self {
        Self {
            bag: &family.bag,
            from: family.title.clone(),
            key: &family.key,
            rank: Rank::Family,
        }
    }

    /// The values that another resin takes over, each with where it came from.
    pub(crate) fn below(&self) -> Bag {
        let mut bag = self.bag.clone();
        // Other names are those of the other resin, and a family's title is that of many.
        bag.remove("aliases");
        bag.remove("like");
        if self.rank == Rank::Family {
            bag.remove("title");
        }
        carry_over(&mut bag, &self.from);
        bag
    }
}

/// Marks every value as carried over, unless it says already from where.
fn carry_over(bag: &mut Bag, from: &str) {
    let names: Vec<&'static str> = bag.entries().map(|(name, _)| name).collect();
    for name in names {
        let Some(entry) = bag.entry_mut(name) else {
            continue;
        };
        if let Held::Table(inner) = &mut entry.held {
            carry_over(inner, from);
        } else if entry.inherited.is_none() {
            entry.inherited = Some(Inherited {
                from: from.to_owned(),
                spread: None,
                note: None,
            });
        }
    }
}

/// What is given, laid over what it stands on, filler mixed in, complete.
///
/// # Errors
/// Every mistake that shows when the two meet; what is missing stands where it should be given.
pub(crate) fn stand_on(below: &Bag, given: &Bag) -> Result<Bag, Faults> {
    let mut bag = overlay(below, given);
    let mut faults = complete(&mut bag);
    faults.extend(parents::check(&bag));
    for fault in &mut faults.0 {
        if fault.kind == FaultKind::MissingField && fault.place.file != given.place.file {
            fault.place = Place {
                path: fault.place.path.clone(),
                ..given.place_of("like")
            };
        }
    }
    if faults.is_empty() {
        faults.extend(filler::mix(&mut bag, below, given));
    }
    in_order(faults).or(bag)
}
