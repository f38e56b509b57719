//! A resin record: from the values of its file to a resin.

use crate::bag::{Bag, Entry};
use crate::draft::{Base, Draft, Rank, stand_on};
use crate::parents::{self, evidence, evidence_if};
use crate::resin_fields::RESIN;
use crate::resin_laws as laws;
use crate::rules::complete;
use crate::text::Text;
use crate::walk::FileKind;
use material::{
    Behaviour, Caution, Degradation, DryingPractice, Evidence, Filler, FillerKind, MoistureLimits,
    PelletForm, PelletShape, ReceivedMoisture, Resin, Structure, polymer_density,
};
use quantity::{Density, FaultKind, Faults, Units, show};

/// Resin records.
pub const RESIN_RECORD: FileKind = FileKind {
    name: "a resin record",
    format: 1,
    section: &RESIN,
};

/// Lightest and heaviest polymer, kg/m3: from foamable polymethylpentene to fluoropolymer (common
/// practice, no source).
const POLYMER_DENSITY: (f64, f64) = (600.0, 3000.0);

/// A resin and the values it was made from, so that some can be stated anew.
#[derive(Clone, Debug)]
pub struct Record {
    /// The resin.
    pub resin: Resin,
    /// The values of its file and of what it stands on.
    pub bag: Bag,
}

impl Record {
    /// Reads a record that stands on no other; its key is the name of its file.
    ///
    /// # Errors
    /// Every mistake in the file.
    pub fn read(text: &Text) -> Result<Self, Faults> {
        let (draft, faults) = Draft::read(text, Rank::Record);
        faults.or(draft)?.finish(None)
    }

    /// The resin with some of its values stated anew, as a table of the same fields gives them.
    ///
    /// # Errors
    /// Every mistake in the values given, and every field that a newly chosen law lacks.
    pub fn with(&self, given: &Bag) -> Result<Resin, Faults> {
        let bag = stand_on(&self.bag, given)?;
        build(&bag, self.resin.key.clone())
    }

    /// Another resin that takes from this one, by analogy, what it does not state itself.
    ///
    /// # Errors
    /// As [`Record::with`].
    pub fn carried_over(&self, given: &Bag) -> Result<Resin, Faults> {
        let bag = stand_on(&Base::of(self).below(), given)?;
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

pub(crate) fn build(bag: &Bag, key: String) -> Result<Resin, Faults> {
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
    let density: Evidence<Density> = evidence(bag, "density", Entry::quantity)?;
    let filler = match bag.get("filler", Entry::table) {
        Some(table) => Some(filler(&table)?),
        None => None,
    };
    let isotherm = table("isotherm")?;
    let polymer = laws::Polymer::of(&isotherm, filler.as_ref(), density.value);
    Ok(Resin {
        key,
        name: bag.need("name", Entry::text)?,
        title: bag.need("title", Entry::text)?,
        aliases: bag.need("aliases", texts)?,
        family: bag.get("family", Entry::text),
        like: bag.get("like", Entry::text),
        filler,
        behaviour: match bag.need("behaviour", Entry::choice)? {
            "surface water only" => Behaviour::SurfaceWaterOnly,
            _ => Behaviour::Hygroscopic,
        },
        structure: match bag.need("structure", Entry::choice)? {
            "semicrystalline" => Structure::Semicrystalline,
            _ => Structure::Amorphous,
        },
        crystallise_first: bag.need("crystallise_first", Entry::flag)?,
        crystallises: bag.get("crystallises", Entry::flag) == Some(true),
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
        isotherm: laws::isotherm(&isotherm, &polymer)?,
        sorption_heat: evidence_if(bag, "sorption_heat", Entry::quantity)?,
        diffusivity: laws::diffusivity(&table("diffusivity")?, bag, &polymer)?,
        drying: DryingPractice {
            temperature: evidence(&drying, "temperature", Entry::quantity)?,
            temperature_low: evidence(&drying, "temperature_low", Entry::quantity)?,
            temperature_high: evidence(&drying, "temperature_high", Entry::quantity)?,
            time: evidence(&drying, "time", Entry::quantity)?,
            frost_point: evidence(&drying, "dew_point", Entry::quantity)?,
            hold: evidence(&drying, "hold", Entry::quantity)?,
            hold_energy: evidence_if(&drying, "hold_energy", Entry::quantity)?,
        },
        limit: MoistureLimits {
            moulding: evidence(&limit, "moulding", Entry::quantity)?,
            extrusion: evidence_if(&limit, "extrusion", Entry::quantity)?,
            fibre: evidence_if(&limit, "fibre", Entry::quantity)?,
            lower_edge: evidence_if(&limit, "lower_edge", Entry::quantity)?,
        },
        received: ReceivedMoisture {
            sealed: evidence(&received, "sealed", Entry::quantity)?,
            opened: evidence(&received, "opened", Entry::quantity)?,
        },
        degradation: match bag.get("degradation", Entry::table) {
            Some(table) => laws::degradation(&table)?,
            None => Degradation::default(),
        },
    })
}

fn filler(bag: &Bag) -> Result<Filler, Faults> {
    let kind = |entry: &Entry| {
        let word = entry.choice()?;
        FillerKind::ALL.into_iter().find(|kind| kind.key() == word)
    };
    Ok(Filler {
        kind: bag.need("kind", kind)?,
        share: evidence(bag, "share", Entry::quantity)?,
        density: evidence_if(bag, "density", Entry::quantity)?,
        heat_capacity: evidence_if(bag, "heat_capacity", Entry::quantity)?,
    })
}

fn pellet(bag: &Bag) -> Result<PelletForm, Faults> {
    let shape = |entry: &Entry| {
        Some(match entry.choice()? {
            "sphere" => PelletShape::Sphere,
            "spheroid" => PelletShape::Spheroid,
            "lens" => PelletShape::Lens,
            "flake" => PelletShape::Flake,
            _ => PelletShape::Cylinder,
        })
    };
    Ok(PelletForm {
        shape: evidence(bag, "shape", shape)?,
        diameter: evidence(bag, "diameter", Entry::quantity)?,
        length: evidence_if(bag, "length", Entry::quantity)?,
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
    if let Some(filler) = &resin.filler
        && let Some(density) = &filler.density
    {
        let (share, of_filler) = (filler.share.value, density.value);
        let polymer = polymer_density(share, of_filler, resin.density.value)
            .map(Density::kg_per_m3)
            .filter(|rho| *rho >= POLYMER_DENSITY.0 && *rho <= POLYMER_DENSITY.1);
        if polymer.is_none() {
            let cause = format!(
                "no polymer makes {} with {} of a filler of {}",
                show(resin.density.value, Units::Metric),
                show(share, Units::Metric),
                show(of_filler, Units::Metric)
            );
            let mend = "check the share and the density of the filler";
            refuse("", "density", &cause, mend);
        }
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
