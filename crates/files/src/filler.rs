//! Mixing: what a record takes over from its polymer, counted on the compound.
//!
//! A record that has a filler and stands on an unfilled one takes over its density by volume, its
//! heat capacity by mass, its moisture as received by the share of polymer. What it states itself
//! holds for the compound already.

use crate::bag::{Bag, Entry, Held, Inherited};
use crate::parents::evidence;
use material::{Evidence, Spread, mixed_density};
use quantity::{
    Density, FaultKind, Faults, Fraction, Quantity, SpecificHeatCapacity, Units, Value, show_si,
};

/// Digits of a mixed value.
const DIGITS: usize = 4;

/// Counts what was taken over on the compound.
///
/// `bag` is `given` laid over `below`.
pub(crate) fn mix(bag: &mut Bag, below: &Bag, given: &Bag) -> Faults {
    let share = |bag: &Bag| {
        let filler = bag.get("filler", Entry::table)?;
        filler.entry("share")?.number()
    };
    match (share(below), share(bag)) {
        (Some(_), _) if given.gives("filler") => restated(bag),
        (None, Some(_)) => compound(bag, below),
        _ => Faults::none(),
    }
}

/// A filler stated anew, while values of the compound it was in before are taken over.
fn restated(bag: &Bag) -> Faults {
    let mut faults = Faults::none();
    for name in ["density", "heat_capacity"] {
        let before = bag.entry(name).and_then(|entry| entry.inherited.as_ref());
        if let Some(before) = before {
            faults.push(bag.fault(
                "filler",
                FaultKind::Inconsistent,
                format!(
                    "the {} taken over holds for the filler of {}",
                    name.replace('_', " "),
                    before.from
                ),
                format!("state {name} of this compound, or stand on the polymer without filler"),
            ));
        }
    }
    faults
}

/// The filler of a compound.
struct Mixture {
    share: Evidence<Fraction>,
    density: Option<Evidence<Density>>,
    heat_capacity: Option<Evidence<SpecificHeatCapacity>>,
    words: String,
}

impl Mixture {
    fn of(filler: &Bag) -> Result<Self, Faults> {
        let share: Evidence<Fraction> = evidence(filler, "share", Entry::quantity)?;
        let kind = filler.get("kind", Entry::choice).unwrap_or("filler");
        let words = format!("{} {kind}", share.written);
        Ok(Self {
            density: crate::parents::evidence_if(filler, "density", Entry::quantity)?,
            heat_capacity: crate::parents::evidence_if(filler, "heat_capacity", Entry::quantity)?,
            share,
            words,
        })
    }

    fn polymer(&self) -> f64 {
        1.0 - self.share.value.fraction()
    }
}

fn compound(bag: &mut Bag, below: &Bag) -> Faults {
    let Some(filler) = bag.get("filler", Entry::table) else {
        return Faults::none();
    };
    let mixture = match Mixture::of(&filler) {
        Ok(mixture) => mixture,
        Err(faults) => return faults,
    };
    let mut faults = Faults::none();
    let mut lacking = |name: &str, wanted: &str| {
        let mut fault = filler.lacks(name);
        fault.cause = format!("{}; the {wanted} taken over is mixed with it", fault.cause);
        fault.mend = format!(
            "{}, or state {} of the compound",
            fault.mend,
            wanted.replace(' ', "_")
        );
        faults.push(fault);
    };
    if taken_over(bag, "density") {
        match &mixture.density {
            Some(of_filler) => density(bag, &mixture, of_filler),
            None => lacking("density", "density"),
        }
    }
    if taken_over(bag, "heat_capacity") {
        match &mixture.heat_capacity {
            Some(of_filler) => heat_capacity(bag, &mixture, of_filler),
            None => lacking("heat_capacity", "heat capacity"),
        }
    }
    let polymer = mixture.polymer();
    let words = &mixture.words;
    scale(bag, "heat_capacity_slope", polymer, || {
        format!("by mass with {words}, whose own rise is left out")
    });
    let ratio = bag
        .get("density", Entry::number)
        .zip(below.get("density", Entry::number));
    if let Some((compound, alone)) = ratio {
        scale(bag, "bulk_density", compound / alone, || {
            format!("heavier with {words}, with the same voids")
        });
    }
    let whole = bag
        .get("isotherm", Entry::table)
        .and_then(|table| table.get("whole", Entry::flag));
    if whole != Some(true) {
        scale(bag, "glass_transition_drop", 1.0 / polymer, || {
            format!("per moisture of the compound with {words}")
        });
        let received = bag.entry_mut("received");
        if let Some(Held::Table(received)) = received.map(|entry| &mut entry.held) {
            for name in ["sealed", "opened"] {
                scale(received, name, polymer, || {
                    format!("water sits in the polymer beside {words}")
                });
            }
        }
    }
    faults
}

fn taken_over(bag: &Bag, name: &str) -> bool {
    bag.entry(name)
        .is_some_and(|entry| entry.inherited.is_some())
}

/// Density by volume; see [`mixed_density`].
fn density(bag: &mut Bag, mixture: &Mixture, of_filler: &Evidence<Density>) {
    let Ok(of_polymer) = evidence::<Density>(bag, "density", Entry::quantity) else {
        return;
    };
    let share = mixture.share.value;
    let (w, polymer, filler) = (
        share.fraction(),
        of_polymer.value.si(),
        of_filler.value.si(),
    );
    let mixed = mixed_density(share, of_filler.value, of_polymer.value).si();
    let spread = root_of_squares([
        (1.0 - w) * (mixed / polymer) * (mixed / polymer) * deviation(&of_polymer),
        w * (mixed / filler) * (mixed / filler) * deviation(of_filler),
        mixed * mixed * (1.0 / filler - 1.0 / polymer) * deviation(&mixture.share),
    ]);
    let done = format!(
        "by volume of {} of the polymer and {} of {}",
        of_polymer.written, mixture.words, of_filler.written
    );
    put(bag, "density", mixed, spread, done);
}

/// Heat capacity by mass.
fn heat_capacity(bag: &mut Bag, mixture: &Mixture, of_filler: &Evidence<SpecificHeatCapacity>) {
    let of_polymer = evidence::<SpecificHeatCapacity>(bag, "heat_capacity", Entry::quantity);
    let Ok(of_polymer) = of_polymer else {
        return;
    };
    let w = mixture.share.value.fraction();
    let (polymer, filler) = (of_polymer.value.si(), of_filler.value.si());
    let spread = root_of_squares([
        (1.0 - w) * deviation(&of_polymer),
        w * deviation(of_filler),
        (filler - polymer) * deviation(&mixture.share),
    ]);
    let done = format!(
        "by mass of {} of the polymer and {} of {}",
        of_polymer.written, mixture.words, of_filler.written
    );
    put(
        bag,
        "heat_capacity",
        w * filler + (1.0 - w) * polymer,
        spread,
        done,
    );
}

/// Multiplies a value that was taken over, and its spread.
fn scale(bag: &mut Bag, name: &'static str, factor: f64, done: impl Fn() -> String) {
    if !taken_over(bag, name) {
        return;
    }
    let known = bag
        .entry(name)
        .and_then(Entry::number)
        .zip(spread_of(bag, name));
    let Some((value, spread)) = known else {
        return;
    };
    let spread = match spread {
        Spread::Absolute(sigma) => Spread::Absolute(sigma * factor),
        other => other,
    };
    let written = bag.entry(name).map_or("", Entry::said);
    let done = format!("from {written} of the polymer, {}", done());
    put(bag, name, value * factor, spread, done);
}

/// Puts a mixed value where that of the polymer was.
fn put(bag: &mut Bag, name: &'static str, si: f64, spread: Spread, done: String) {
    let Some(entry) = bag.entry_mut(name) else {
        return;
    };
    if let Held::Sourced(value, _) = &mut entry.held
        && let Held::Quantity(number, meaning) = &mut value.held
    {
        *number = Value::Si(si);
        value.written = show_si(si, *meaning, Units::Metric, DIGITS);
    }
    if let Some(Inherited {
        spread: changed,
        note,
        ..
    }) = &mut entry.inherited
    {
        *changed = Some(spread);
        *note = Some(done);
    }
}

fn spread_of(bag: &Bag, name: &str) -> Option<Spread> {
    evidence(bag, name, Entry::number)
        .ok()
        .map(|found| found.spread)
}

/// One standard deviation in SI units, near enough for a factor.
fn deviation<T: Quantity>(evidence: &Evidence<T>) -> f64 {
    match evidence.spread {
        Spread::Absolute(sigma) => sigma,
        Spread::Factor(factor) => evidence.value.si() * factor.ln(),
        Spread::Exact => 0.0,
    }
}

fn root_of_squares(parts: [f64; 3]) -> Spread {
    let sum: f64 = parts.iter().map(|part| part * part).sum();
    if sum > 0.0 {
        Spread::Absolute(sum.sqrt())
    } else {
        Spread::Exact
    }
}
