//! Which record stands on which, and the order in which they are finished.

use super::names::{fold, names};
use super::{Library, Unusable};
use crate::bag::Entry;
use crate::draft::{Base, Draft, Rank};
use quantity::{Fault, FaultKind, Faults};

/// What a draft stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ground {
    /// Nothing.
    None,
    /// Another draft, by its place among them.
    Draft(usize),
    /// Something the library has.
    Known,
    /// A name nobody has.
    Nobody,
}

/// How far a draft is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum State {
    Waiting,
    Sound,
    Broken,
}

impl Library {
    /// Adds drafts, each after what it stands on; those that are not sound become unusable.
    pub(super) fn stand(&mut self, read: Vec<(Draft, Faults)>) -> Faults {
        let (drafts, mut mistakes): (Vec<Draft>, Vec<Faults>) = read.into_iter().unzip();
        let grounds: Vec<Ground> = (0..drafts.len())
            .map(|index| self.ground(&drafts, index))
            .collect();
        twice(&drafts, &mut mistakes);
        let mut states = vec![State::Waiting; drafts.len()];
        let mut finished = Self::default();
        for start in 0..drafts.len() {
            for index in chain(start, &grounds, &drafts, &mut states, &mut mistakes) {
                let sound = mistakes[index].is_empty();
                let outcome = match grounds[index] {
                    _ if !sound => Err(Faults::none()),
                    Ground::Draft(below) if states[below] == State::Broken => {
                        Err(stands_on_broken(&drafts[index], &drafts[below]))
                    }
                    Ground::Draft(below) => finished.finish(&drafts[index], &drafts[below].key),
                    Ground::Known => {
                        let like = drafts[index].bag.get("like", Entry::text);
                        let known = self.known(&like.unwrap_or_default());
                        finished.finish_on(&drafts[index], known.as_ref())
                    }
                    Ground::Nobody => Err(self.nobody(&drafts, &drafts[index])),
                    Ground::None => finished.finish_on(&drafts[index], None),
                };
                states[index] = match outcome {
                    Ok(()) => State::Sound,
                    Err(faults) => {
                        mistakes[index].extend(faults);
                        State::Broken
                    }
                };
            }
        }
        self.take(&drafts, finished);
        let mut all = Faults::none();
        for (index, draft) in drafts.iter().enumerate() {
            if states[index] == State::Sound {
                continue;
            }
            all.extend(mistakes[index].clone());
            let mut whole = mistakes[index].clone();
            // Whoever asks for it is told what is wrong below it too.
            let mut below = grounds[index];
            let mut steps = 0;
            while let Ground::Draft(next) = below {
                if next == index || steps > drafts.len() {
                    break;
                }
                whole.extend(mistakes[next].clone());
                below = grounds[next];
                steps += 1;
            }
            self.unusable.push(Unusable::of(draft, whole));
        }
        all
    }

    /// What a draft stands on: a file of that key among the new ones, then among the known ones,
    /// then a resin of that name.
    fn ground(&self, drafts: &[Draft], index: usize) -> Ground {
        let Some(like) = drafts[index].bag.get("like", Entry::text) else {
            return Ground::None;
        };
        let wanted = fold(&like);
        let known_key = self.records.iter().any(|r| fold(&r.resin.key) == wanted)
            || self.families.iter().any(|f| fold(&f.key) == wanted);
        let by_key = drafts.iter().position(|d| fold(&d.key) == wanted);
        match by_key {
            // A record laid over the known one of its own key stands on that one.
            Some(found) if found == index && known_key => return Ground::Known,
            Some(found) => return Ground::Draft(found),
            None if known_key => return Ground::Known,
            None => {}
        }
        let by_name = drafts.iter().position(|draft| {
            draft.rank == Rank::Record && Unusable::of(draft, Faults::none()).is_called(&wanted)
        });
        match by_name {
            Some(found) if found == index && self.known(&like).is_some() => Ground::Known,
            Some(found) => Ground::Draft(found),
            None if self.known(&like).is_some() => Ground::Known,
            None => Ground::Nobody,
        }
    }

    /// What the library has under a name: a record or family of that key, else a resin so called.
    pub(super) fn known(&self, name: &str) -> Option<Base<'_>> {
        let wanted = fold(name);
        let record = self.records.iter().find(|r| fold(&r.resin.key) == wanted);
        let family = || self.families.iter().find(|f| fold(&f.key) == wanted);
        let called = || {
            let so_called = |r: &&crate::Record| names(r).any(|known| fold(known) == wanted);
            self.records.iter().find(so_called)
        };
        record
            .map(Base::of)
            .or_else(|| family().map(Base::of_family))
            .or_else(|| called().map(Base::of))
    }

    /// Finishes a draft that stands on one of this library, which is the one of the new files.
    fn finish(&mut self, draft: &Draft, below: &str) -> Result<(), Faults> {
        let record = self.records.iter().find(|r| r.resin.key == below).cloned();
        let family = self.families.iter().find(|f| f.key == below).cloned();
        let base = record
            .as_ref()
            .map(Base::of)
            .or_else(|| family.as_ref().map(Base::of_family));
        self.finish_on(draft, base.as_ref())
    }

    fn finish_on(&mut self, draft: &Draft, base: Option<&Base<'_>>) -> Result<(), Faults> {
        match draft.rank {
            Rank::Record => self.records.push(draft.clone().finish(base)?),
            Rank::Family => self.families.push(draft.clone().finish_family(base)?),
        }
        Ok(())
    }

    /// Takes over what was finished; every draft, sound or not, takes the place of a file of its
    /// name.
    fn take(&mut self, drafts: &[Draft], finished: Self) {
        let replaced = |key: &str| drafts.iter().any(|draft| draft.key == key);
        self.records.retain(|record| !replaced(&record.resin.key));
        self.families.retain(|family| !replaced(&family.key));
        self.unusable.retain(|unusable| !replaced(&unusable.key));
        self.records.extend(finished.records);
        self.families.extend(finished.families);
        self.records.sort_by(|a, b| a.resin.key.cmp(&b.resin.key));
        self.families.sort_by(|a, b| a.key.cmp(&b.key));
    }

    fn nobody(&self, drafts: &[Draft], draft: &Draft) -> Faults {
        let like = draft.bag.get("like", Entry::text).unwrap_or_default();
        let mut fault = self.unknown(&like, &draft.bag.place_of("like"));
        let mut families: Vec<&str> = self.families.iter().map(|f| f.key.as_str()).collect();
        let new = drafts.iter().filter(|d| d.rank == Rank::Family);
        families.extend(new.map(|d| d.key.as_str()));
        "no resin or family has this name".clone_into(&mut fault.cause);
        if !families.is_empty() {
            fault.mend = format!(
                "{}\nand the families {}",
                fault.mend.trim_end_matches("\nor write the resin inline"),
                families.join(", ")
            );
        }
        fault.into()
    }
}

/// The drafts that have to be finished for one of them, what is stood upon first; loops are told
/// once and leave all of their drafts broken.
fn chain(
    start: usize,
    grounds: &[Ground],
    drafts: &[Draft],
    states: &mut [State],
    mistakes: &mut [Faults],
) -> Vec<usize> {
    let mut path: Vec<usize> = Vec::new();
    let mut at = start;
    while states[at] == State::Waiting {
        if let Some(first) = path.iter().position(|seen| *seen == at) {
            let ring = &path[first..];
            tell_loop(ring, drafts, mistakes);
            for index in ring {
                states[*index] = State::Broken;
            }
            path.truncate(first);
            break;
        }
        path.push(at);
        match grounds[at] {
            Ground::Draft(next) => at = next,
            _ => break,
        }
    }
    path.reverse();
    path
}

/// A loop, named whole at the first of its files.
fn tell_loop(ring: &[usize], drafts: &[Draft], mistakes: &mut [Faults]) {
    let file = |index: &usize| drafts[*index].bag.place.file.clone();
    let Some(first) = (0..ring.len()).min_by_key(|at| file(&ring[*at])) else {
        return;
    };
    let mut turned = ring.to_vec();
    turned.rotate_left(first);
    turned.push(turned[0]);
    let keys: Vec<&str> = turned.iter().map(|i| drafts[*i].key.as_str()).collect();
    let fault = drafts[turned[0]].bag.fault(
        "like",
        FaultKind::Inconsistent,
        format!(
            "records stand on each other in a loop: {}",
            keys.join(" -> ")
        ),
        "let one of them stand on something outside the loop, or on nothing",
    );
    for index in ring {
        mistakes[*index].push(fault.clone());
    }
}

fn stands_on_broken(draft: &Draft, below: &Draft) -> Faults {
    let file = &below.bag.place.file;
    let fault = draft.bag.fault(
        "like",
        FaultKind::Inconsistent,
        format!("this stands on {file}, which has mistakes"),
        format!("mend {file} first"),
    );
    fault.into()
}

/// Files of one name: a record and a family, or two that differ in the case of their letters.
fn twice(drafts: &[Draft], mistakes: &mut [Faults]) {
    for (index, draft) in drafts.iter().enumerate() {
        let first = drafts[..index]
            .iter()
            .position(|other| fold(&other.key) == fold(&draft.key));
        let Some(first) = first else {
            continue;
        };
        let (one, other) = (&drafts[first].bag.place.file, &draft.bag.place.file);
        let fault = Fault::new(
            FaultKind::Inconsistent,
            draft.bag.place.clone(),
            "",
            format!("{one} and {other} have one name"),
            "rename one of the files",
        );
        mistakes[index].push(fault.clone());
        mistakes[first].push(fault);
    }
}
