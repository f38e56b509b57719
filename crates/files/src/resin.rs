//! A resin record: from the values of its file to a resin.

use crate::bag::{Bag, Entry};
use crate::parents::{self, evidence, evidence_if};
use crate::resin_fields::RESIN;
use crate::rules::{complete, overlay};
use crate::text::Text;
use crate::walk::{FileKind, read_loose};
use material::{
    Behaviour, Caution, Diffusivity, Documented, DryingPractice, Evidence, Isotherm,
    MoistureLimits, PelletForm, PelletShape, ReceivedMoisture, Resin, Structure,
};
use quantity::{FaultKind, Faults, Quantity};
use std::path::Path;

/// Resin records.
pub const RESIN_RECORD: FileKind = FileKind {
    name: "a resin record",
    format: 1,
    section: &RESIN,
};

/// Density of water, kg/m3, at 25 degC and 1 atm. IAPWS R6-95(2018), from its equation of state.
const WATER_DENSITY: f64 = 997.05;

/// A resin and the values it was made from, so that some can be stated anew.
#[derive(Clone, Debug)]
pub struct Record {
    /// The resin.
    pub resin: Resin,
    /// The values of its file.
    pub bag: Bag,
}

/// A record whose file has been read and whose values are not yet complete: it may stand on
/// another.
pub(crate) struct Draft {
    /// The name of its file, without its ending.
    pub(crate) key: String,
    /// What the file says.
    pub(crate) bag: Bag,
}

impl Draft {
    /// Reads a file without asking what is missing, unless it stands on no other.
    pub(crate) fn read(text: &Text) -> Result<Self, Faults> {
        let (mut bag, mut faults, sound) = read_loose(text, &RESIN_RECORD);
        if sound && bag.entry("like").is_none() {
            faults.extend(complete(&mut bag));
        }
        faults.extend(parents::check(&bag));
        let stem = Path::new(&text.name).file_stem();
        let key = stem.map_or_else(String::new, |s| s.to_string_lossy().into_owned());
        let bag = faults.or(bag)?;
        Ok(Self { key, bag })
    }

    /// The record it makes, standing on `base` where it says nothing.
    pub(crate) fn finish(self, base: Option<&Record>) -> Result<Record, Faults> {
        let bag = match base {
            Some(base) => {
                let mut below = base.bag.clone();
                // Other names are those of the other resin.
                below.remove("aliases");
                stand_on(&below, &self.bag)?
            }
            None => self.bag,
        };
        let resin = build(&bag, self.key)?;
        Ok(Record { resin, bag })
    }
}

impl Record {
    /// Reads a record that stands on no other; its key is the name of its file.
    ///
    /// # Errors
    /// Every mistake in the file.
    pub fn read(text: &Text) -> Result<Self, Faults> {
        Draft::read(text)?.finish(None)
    }

    /// The resin with some of its values stated anew, as a table of the same fields gives them.
    ///
    /// # Errors
    /// Every mistake in the values given, and every field that a newly chosen law lacks.
    pub fn with(&self, given: &Bag) -> Result<Resin, Faults> {
        let bag = stand_on(&self.bag, given)?;
        build(&bag, self.resin.key.clone())
    }
}

/// A resin written where it is used, with every field of a record but `format`.
///
/// # Errors
/// Every mistake in it.
pub fn resin_of(given: &Bag, key: &str) -> Result<Resin, Faults> {
    let mut bag = given.clone();
    let mut faults = complete(&mut bag);
    let format = bag.place_of("format").path;
    faults.0.retain(|fault| fault.place.path != format);
    faults.extend(parents::check(&bag));
    let bag = faults.or(bag)?;
    build(&bag, key.to_owned())
}

fn stand_on(base: &Bag, given: &Bag) -> Result<Bag, Faults> {
    let mut bag = overlay(base, given);
    let mut faults = complete(&mut bag);
    faults.extend(parents::check(&bag));
    faults.or(bag)
}

fn build(bag: &Bag, key: String) -> Result<Resin, Faults> {
    let resin = assemble(bag, key)?;
    contradictions(bag, &resin).or(resin)
}

fn assemble(bag: &Bag, key: String) -> Result<Resin, Faults> {
    let texts = |entry: &Entry| {
        let list = entry.list()?;
        list.iter().map(Entry::text).collect::<Option<Vec<_>>>()
    };
    let words = |entry: &Entry| {
        let list = entry.list()?;
        let caution = |word: &str| Caution::ALL.into_iter().find(|c| c.key() == word);
        list.iter()
            .map(|e| e.choice().and_then(caution))
            .collect::<Option<Vec<_>>>()
    };
    let table = |name: &str| bag.need(name, Entry::table);
    let (drying, limit, received) = (table("drying")?, table("limit")?, table("received")?);
    let density: Evidence<quantity::Density> = evidence(bag, "density", Entry::quantity)?;
    let isotherm = isotherm(&table("isotherm")?, density.value.si())?;
    Ok(Resin {
        key,
        name: bag.need("name", Entry::text)?,
        title: bag.need("title", Entry::text)?,
        aliases: bag.need("aliases", texts)?,
        behaviour: match bag.need("behaviour", Entry::choice)? {
            "surface water only" => Behaviour::SurfaceWaterOnly,
            _ => Behaviour::Hygroscopic,
        },
        structure: match bag.need("structure", Entry::choice)? {
            "semicrystalline" => Structure::Semicrystalline,
            _ => Structure::Amorphous,
        },
        crystallise_first: bag.need("crystallise_first", Entry::flag)?,
        cautions: bag.need("cautions", words)?,
        over_drying: bag.need("over_drying", Entry::text)?,
        pellet: pellet(&table("pellet")?)?,
        density,
        bulk_density: evidence(bag, "bulk_density", Entry::quantity)?,
        heat_capacity: evidence(bag, "heat_capacity", Entry::quantity)?,
        heat_capacity_slope: evidence(bag, "heat_capacity_slope", Entry::quantity)?,
        thermal_conductivity: evidence(bag, "thermal_conductivity", Entry::quantity)?,
        glass_transition: evidence_if(bag, "glass_transition", Entry::quantity)?,
        glass_transition_drop: evidence_if(bag, "glass_transition_drop", Entry::quantity)?,
        melting: evidence_if(bag, "melting", Entry::quantity)?,
        sticking: evidence(bag, "sticking", Entry::quantity)?,
        isotherm,
        sorption_heat: evidence_if(bag, "sorption_heat", Entry::quantity)?,
        diffusivity: diffusivity(&table("diffusivity")?, bag)?,
        drying: DryingPractice {
            temperature: evidence(&drying, "temperature", Entry::quantity)?,
            temperature_low: evidence(&drying, "temperature_low", Entry::quantity)?,
            temperature_high: evidence(&drying, "temperature_high", Entry::quantity)?,
            time: evidence(&drying, "time", Entry::quantity)?,
            frost_point: evidence(&drying, "dew_point", Entry::quantity)?,
            hold: evidence(&drying, "hold", Entry::quantity)?,
        },
        limit: MoistureLimits {
            moulding: evidence(&limit, "moulding", Entry::quantity)?,
            extrusion: evidence_if(&limit, "extrusion", Entry::quantity)?,
            lower_edge: evidence_if(&limit, "lower_edge", Entry::quantity)?,
        },
        received: ReceivedMoisture {
            sealed: evidence(&received, "sealed", Entry::quantity)?,
            opened: evidence(&received, "opened", Entry::quantity)?,
        },
    })
}

fn pellet(bag: &Bag) -> Result<PelletForm, Faults> {
    let shape = |entry: &Entry| {
        Some(match entry.choice()? {
            "sphere" => PelletShape::Sphere,
            "spheroid" => PelletShape::Spheroid,
            "lens" => PelletShape::Lens,
            _ => PelletShape::Cylinder,
        })
    };
    Ok(PelletForm {
        shape: evidence(bag, "shape", shape)?,
        diameter: evidence(bag, "diameter", Entry::quantity)?,
        length: evidence_if(bag, "length", Entry::quantity)?,
    })
}

/// Numbers of a law, read one by one while their evidence is kept.
struct Numbers<'a> {
    bag: &'a Bag,
    values: Vec<(String, Evidence<f64>)>,
}

impl Numbers<'_> {
    fn take(&mut self, name: &str) -> Result<f64, Faults> {
        let found = evidence(self.bag, name, Entry::number)?;
        let value = found.value;
        self.values.push((name.to_owned(), found));
        Ok(value)
    }

    fn take_or_zero(&mut self, name: &str) -> Result<f64, Faults> {
        match self.bag.entry(name) {
            Some(_) => self.take(name),
            None => Ok(0.0),
        }
    }
}

fn isotherm(bag: &Bag, density: f64) -> Result<Documented<Isotherm>, Faults> {
    let mut numbers = Numbers {
        bag,
        values: Vec::new(),
    };
    let law = match bag.need("form", Entry::choice)? {
        "henry" => Isotherm::Henry {
            capacity: numbers.take("capacity")?,
            reference_temperature: numbers.take("reference_temperature")?,
            mixing_heat: numbers.take("mixing_heat")?,
        },
        "dual mode" => Isotherm::DualMode {
            capacity: numbers.take("capacity")?,
            reference_temperature: numbers.take("reference_temperature")?,
            mixing_heat: numbers.take("mixing_heat")?,
            hole_capacity: numbers.take("hole_capacity")?,
            hole_affinity: numbers.take("hole_affinity")?,
            hole_heat: numbers.take("hole_heat")?,
        },
        "flory-huggins" => Isotherm::FloryHuggins {
            interaction: numbers.take("interaction")?,
            interaction_slope: numbers.take_or_zero("interaction_slope")?,
            reference_temperature: numbers.take("reference_temperature")?,
            amorphous_share: numbers.take("amorphous_share")?,
            density_ratio: WATER_DENSITY / density,
        },
        "gab" => Isotherm::Gab {
            monolayer: numbers.take("monolayer")?,
            surface_constant: numbers.take("surface_constant")?,
            multilayer_constant: numbers.take("multilayer_constant")?,
            reference_temperature: numbers.take("reference_temperature")?,
            surface_heat: numbers.take("surface_heat")?,
            multilayer_heat: numbers.take_or_zero("multilayer_heat")?,
        },
        _ => Isotherm::SurfaceOnly,
    };
    Ok(Documented {
        law,
        values: numbers.values,
    })
}

fn diffusivity(bag: &Bag, resin: &Bag) -> Result<Documented<Diffusivity>, Faults> {
    let mut numbers = Numbers {
        bag,
        values: Vec::new(),
    };
    let reference = numbers.take("reference")?;
    let reference_temperature = numbers.take("reference_temperature")?;
    let activation_energy = numbers.take("activation_energy")?;
    let law = match bag.need("form", Entry::choice)? {
        "exponential" => Diffusivity::Exponential {
            reference,
            reference_temperature,
            activation_energy,
            moisture_exponent: numbers.take("moisture_exponent")?,
        },
        "linear" => Diffusivity::Linear {
            reference,
            reference_temperature,
            activation_energy,
            moisture_slope: numbers.take("moisture_slope")?,
        },
        "free volume" => {
            let overlap = numbers.take("overlap")?;
            let fraction_at_glass = numbers.take("fraction_at_glass")?;
            let expansion = numbers.take("expansion")?;
            numbers.bag = resin;
            Diffusivity::FreeVolume {
                reference,
                reference_temperature,
                activation_energy,
                overlap,
                fraction_at_glass,
                expansion,
                glass_transition: numbers.take("glass_transition")?,
                glass_transition_drop: numbers.take("glass_transition_drop")?,
            }
        }
        _ => Diffusivity::Arrhenius {
            reference,
            reference_temperature,
            activation_energy,
        },
    };
    Ok(Documented {
        law,
        values: numbers.values,
    })
}

/// Values that cannot all be right.
fn contradictions(bag: &Bag, resin: &Resin) -> Faults {
    let mut faults = Faults::none();
    let mut refuse = |table: &str, name: &str, cause: &str, mend: &str| {
        let inner = bag.get(table, Entry::table);
        let holder = inner.as_ref().unwrap_or(bag);
        faults.push(holder.fault(name, FaultKind::Inconsistent, cause, mend));
    };
    let drying = &resin.drying;
    if drying.temperature_low.value > drying.temperature.value
        || drying.temperature.value > drying.temperature_high.value
    {
        refuse(
            "drying",
            "temperature",
            "the set point lies outside its own window",
            "write temperature_low below it and temperature_high above it",
        );
    }
    if let Some(edge) = &resin.limit.lower_edge
        && edge.value >= resin.limit.moulding.value
    {
        refuse(
            "limit",
            "lower_edge",
            "the lower edge is not below the limit for moulding",
            "write a lower edge below the limit",
        );
    }
    if resin.bulk_density.value.kg_per_m3() >= resin.density.value.kg_per_m3() {
        refuse(
            "",
            "bulk_density",
            "poured pellets cannot be denser than the resin itself",
            "write a bulk density of about 0.6 times the density",
        );
    }
    if resin.received.sealed.value > resin.received.opened.value {
        refuse(
            "received",
            "opened",
            "a sealed bag would be wetter than an opened one",
            "exchange the two, or check their basis",
        );
    }
    faults
}
