//! Desiccant records: from the values of their files to sorption laws with their evidence.

use crate::bag::{Bag, Entry};
use crate::desiccant_fields::DESICCANT_FIELDS;
use crate::parents::{self, evidence, evidence_if};
use crate::text::{Text, too_long};
use crate::walk::{FileKind, read_whole};
use material::Evidence;
use material::sorbent::{
    Characteristic, Desiccant, DubininAstakhov, Part, Sites, SorbedDensity, Sorbent, SorbentError,
    SorbentLaw, Toth,
};
use quantity::constants::WATER_MOLAR_MASS;
use quantity::{FaultKind, Faults, Place, did_you_mean};
use std::path::Path;

/// Desiccant records.
pub const DESICCANT: FileKind = FileKind {
    name: "a desiccant record",
    format: 1,
    section: &DESICCANT_FIELDS,
};

/// Density of water at 20 degC, kg/m3, that a filled volume is counted with. IAPWS SR1-86(1992), eq. 2.
const WATER_DENSITY: f64 = 998.16;

/// Desiccants by key.
#[derive(Clone, Debug, Default)]
pub struct Desiccants {
    /// The records in the order of their keys.
    pub records: Vec<Desiccant>,
}

impl Desiccants {
    /// The records shipped with the program.
    ///
    /// # Errors
    /// Every mistake in them; the tests of this crate keep them free of any.
    pub fn shipped() -> Result<Self, Faults> {
        Self::of(&crate::library::desiccant_texts())
    }

    /// The desiccants of some files; a mixture may name any of the others.
    ///
    /// # Errors
    /// Every mistake in the files.
    pub fn of(texts: &[Text]) -> Result<Self, Faults> {
        let mut faults = Faults::none();
        let mut bags = Vec::new();
        for text in texts {
            match sheet(text) {
                Ok(bag) => bags.push((key(text), bag)),
                Err(mistakes) => faults.extend(mistakes),
            }
        }
        let mut found = Self::default();
        let (mixtures, pure): (Vec<_>, Vec<_>) =
            bags.iter().partition(|(_, bag)| bag.gives("part"));
        for (key, bag) in pure.into_iter().chain(mixtures) {
            match found.build(key, bag) {
                Ok(record) => found.records.push(record),
                Err(mistakes) => faults.extend(mistakes),
            }
        }
        found.records.sort_by(|a, b| a.key.cmp(&b.key));
        faults.or(found)
    }

    /// The record of a key.
    pub fn get(&self, key: &str) -> Option<&Desiccant> {
        self.records.iter().find(|record| record.key == key)
    }

    /// The record of a key that someone wrote.
    ///
    /// # Errors
    /// No such desiccant: the fault stands at `place` and offers the nearest.
    pub fn find(&self, key: &str, place: &Place) -> Result<&Desiccant, Faults> {
        self.get(key).ok_or_else(|| {
            let keys: Vec<&str> = self.records.iter().map(|r| r.key.as_str()).collect();
            quantity::Fault::new(
                FaultKind::UnknownName,
                place.clone(),
                format!("{key:?}"),
                "no desiccant has this key",
                did_you_mean(key, &keys),
            )
            .into()
        })
    }

    fn build(&self, key: &str, bag: &Bag) -> Result<Desiccant, Faults> {
        let mut values = Vec::new();
        let heat_capacity = take(bag, "heat_capacity", &mut values)?;
        let (form, parts) = match bag.get("law", Entry::table) {
            Some(table) => {
                let form = table.need("form", Entry::choice)?;
                let law = law(&table, form, &mut values)?;
                (form.to_owned(), vec![Part { share: 1.0, law }])
            }
            None => self.mixture(bag, &mut values)?,
        };
        let refused = |error: SorbentError| Faults::from(contradiction(bag, &error));
        let mut sorbent = Sorbent::mixture(parts, heat_capacity).map_err(refused)?;
        if bag.gives("serves_from") && bag.gives("serves_to") {
            let low = take(bag, "serves_from", &mut values)?;
            let high = take(bag, "serves_to", &mut values)?;
            sorbent = sorbent.limited(low, high).map_err(refused)?;
        } else if bag.gives("part") {
            let (low, high) = self.common_limit(bag);
            sorbent = sorbent.limited(low, high).map_err(refused)?;
        }
        let range = |low: &str, high: &str| {
            let ends = bag
                .get(low, Entry::number)
                .zip(bag.get(high, Entry::number));
            ends.filter(|(low, high)| low <= high)
        };
        let texts = |entry: &Entry| {
            let list = entry.list()?;
            list.iter().map(Entry::text).collect::<Option<Vec<_>>>()
        };
        Ok(Desiccant {
            key: key.to_owned(),
            title: bag.need("title", Entry::text)?,
            form,
            invented: bag.get("invented", Entry::flag) == Some(true),
            sorbent,
            measured_temperatures: range("measured_from", "measured_to"),
            measured_pressures: range("measured_pressure_from", "measured_pressure_to"),
            values,
            gaps: bag.get("gaps", texts).unwrap_or_default(),
        })
    }

    /// The parts of a mixture, each a desiccant of one kind.
    fn mixture(
        &self,
        bag: &Bag,
        values: &mut Vec<(String, Evidence<f64>)>,
    ) -> Result<(String, Vec<Part>), Faults> {
        let mut parts = Vec::new();
        let mut names = Vec::new();
        for table in bag.need("part", Entry::tables)? {
            let of = table.need("of", Entry::text)?;
            let other = self.find(&of, &table.place_of("of"))?;
            let share = evidence(&table, "share", Entry::number)?;
            let whole = share.value;
            values.push((format!("share of {of}"), share));
            parts.extend(other.sorbent.parts().iter().map(|part| Part {
                share: whole * part.share,
                law: part.law,
            }));
            names.push(of);
        }
        Ok((format!("mixture of {}", names.join(" and ")), parts))
    }

    /// The temperatures that every part of a mixture serves, K.
    fn common_limit(&self, bag: &Bag) -> (f64, f64) {
        let tables = bag.get("part", Entry::tables).unwrap_or_default();
        let keys = tables
            .iter()
            .filter_map(|table| table.get("of", Entry::text));
        let whole = (material::sorbent::LOWEST, material::sorbent::HIGHEST);
        keys.filter_map(|key| self.get(&key).map(|other| other.sorbent.limit()))
            .fold(whole, |(low, high), limit| {
                (low.max(limit.0), high.min(limit.1))
            })
    }
}

/// The sources that some desiccant files cite, as far as they can be read.
pub(crate) fn cited(texts: &[Text]) -> Vec<Entry> {
    let mut found = Vec::new();
    for text in texts {
        let bag = read_whole(text, &DESICCANT).0;
        found.extend(parents::cited(&bag));
        for part in bag.get("part", Entry::tables).unwrap_or_default() {
            found.extend(parents::cited(&part));
        }
    }
    found
}

/// One file, with every mistake in it.
fn sheet(text: &Text) -> Result<Bag, Faults> {
    let mend = "give a file that describes one desiccant";
    if let Some(fault) = too_long(&text.name, &text.content, DESICCANT.name, mend) {
        return Err(fault.into());
    }
    let (bag, mut faults) = read_whole(text, &DESICCANT);
    faults.extend(parents::check(&bag));
    for (low, high) in [
        ("serves_from", "serves_to"),
        ("measured_from", "measured_to"),
        ("measured_pressure_from", "measured_pressure_to"),
    ] {
        let ends = bag
            .get(low, Entry::number)
            .zip(bag.get(high, Entry::number));
        if ends.is_some_and(|(low, high)| low >= high) {
            let cause = format!("{low} is not below {high}");
            faults.push(bag.fault(high, FaultKind::Inconsistent, cause, "exchange the two"));
        }
    }
    faults.or(bag)
}

fn key(text: &Text) -> String {
    let stem = Path::new(&text.name).file_stem();
    stem.map_or_else(String::new, |stem| stem.to_string_lossy().into_owned())
}

/// Numbers that each are there and no law can have.
fn contradiction(bag: &Bag, error: &SorbentError) -> quantity::Fault {
    let field = if bag.gives("law") { "law" } else { "part" };
    bag.fault(
        field,
        FaultKind::Inconsistent,
        error.to_string(),
        "compare the numbers with the source, unit by unit",
    )
}

/// A number in SI units, its evidence kept.
fn take(bag: &Bag, name: &str, values: &mut Vec<(String, Evidence<f64>)>) -> Result<f64, Faults> {
    let found = evidence(bag, name, Entry::number)?;
    let value = found.value;
    values.push((name.to_owned(), found));
    Ok(value)
}

fn law(
    bag: &Bag,
    form: &str,
    values: &mut Vec<(String, Evidence<f64>)>,
) -> Result<SorbentLaw, Faults> {
    let mut number = |name: &str| take(bag, name, values);
    Ok(match form {
        "toth" => SorbentLaw::Toth(Toth {
            capacity: number("capacity")?,
            affinity: number("affinity_per_pa")?,
            energy: number("energy")?,
            exponent: number("exponent")?,
            exponent_slope: match evidence_if(bag, "exponent_slope", Entry::number)? {
                Some(_) => number("exponent_slope")?,
                None => 0.0,
            },
        }),
        "sites" => SorbentLaw::Sites(Sites {
            capacity: number("capacity")?,
            enthalpies: [
                number("enthalpy_1")?,
                number("enthalpy_2")?,
                number("enthalpy_3")?,
                number("enthalpy_4")?,
            ],
            entropies: [
                number("entropy_1")?,
                number("entropy_2")?,
                number("entropy_3")?,
                number("entropy_4")?,
            ],
        }),
        "characteristic curve" => SorbentLaw::Characteristic(Characteristic {
            coefficients: [
                number("coefficient_0")?,
                number("coefficient_1")?,
                number("coefficient_2")?,
                number("coefficient_3")?,
                number("coefficient_4")?,
                number("coefficient_5")?,
                number("coefficient_6")?,
            ],
            density_at_reference: number("density_at_reference")?,
            density: SorbedDensity::Expanding {
                expansion: number("expansion")?,
                reference_temperature: number("reference_temperature")?,
            },
            highest_potential: number("highest_potential")?,
        }),
        _ => SorbentLaw::DubininAstakhov(DubininAstakhov {
            capacity: number("volume_cm3_per_g")? * 1e-3 * WATER_DENSITY,
            energy: number("characteristic_energy")? / WATER_MOLAR_MASS,
            exponent: number("exponent")?,
            density: SorbedDensity::Liquid,
        }),
    })
}

#[cfg(test)]
mod tests;
