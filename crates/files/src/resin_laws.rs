//! The laws of a record: sorption, diffusion and harm, counted on the resin as it is dried.

use crate::bag::{Bag, Entry};
use crate::parents::evidence;
use material::{
    Degradation, Diffusivity, Documented, Evidence, Filler, Hydrolysis, Isotherm, Oxidation,
    polymer_density,
};
use quantity::{Density, Faults, digits};

/// Density of water, kg/m3, at 25 degC and 1 atm. IAPWS R6-95(2018), from its equation of state.
const WATER_DENSITY: f64 = 997.05;

/// Values of a sorption law that go with the mass of polymer.
const PER_POLYMER: [&str; 4] = ["capacity", "hole_capacity", "amorphous_share", "monolayer"];
/// Values of a diffusion law that are counted per moisture.
const PER_MOISTURE: [&str; 2] = ["moisture_exponent", "moisture_slope"];

/// The polymer in a resin, as far as it takes up water alone.
pub(crate) struct Polymer {
    /// Its share by mass; 1 when the laws hold for the whole resin.
    pub(crate) share: f64,
    /// Its density, kg/m3.
    pub(crate) density: f64,
}

impl Polymer {
    /// The polymer of a resin of a density, whose isotherm says whether it holds for the whole.
    pub(crate) fn of(isotherm: &Bag, filler: Option<&Filler>, density: Density) -> Self {
        let whole = isotherm.get("whole", Entry::flag) == Some(true);
        let alone = filler.filter(|_| !whole);
        let of_filler = alone.and_then(|f| Some((f.share.value, f.density.as_ref()?.value)));
        let polymer = of_filler.and_then(|(share, rho)| polymer_density(share, rho, density));
        Self {
            share: alone.map_or(1.0, |filler| filler.polymer_share().fraction()),
            density: polymer.unwrap_or(density).kg_per_m3(),
        }
    }
}

/// Numbers of a law, read one by one while their evidence is kept.
struct Numbers<'a> {
    bag: &'a Bag,
    values: Vec<(String, Evidence<f64>)>,
}

impl<'a> Numbers<'a> {
    fn of(bag: &'a Bag) -> Self {
        Self {
            bag,
            values: Vec::new(),
        }
    }

    fn document<L>(self, law: L) -> Documented<L> {
        Documented {
            law,
            values: self.values,
        }
    }

    /// Adds to the notes of some values.
    fn remark(&mut self, names: &[&str], done: &str) {
        for (name, evidence) in &mut self.values {
            if names.contains(&name.as_str()) {
                let note = evidence.note.take();
                evidence.note =
                    Some(note.map_or_else(|| done.to_owned(), |note| format!("{note}; {done}")));
            }
        }
    }

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

/// The sorption law of the resin as it is dried; its values are those of the polymer.
///
/// # Errors
/// A value of the law is missing or cannot be read.
pub(crate) fn isotherm(bag: &Bag, polymer: &Polymer) -> Result<Documented<Isotherm>, Faults> {
    let mut numbers = Numbers::of(bag);
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
            density_ratio: WATER_DENSITY / polymer.density,
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
    if polymer.share < 1.0 {
        let done = format!(
            "of the polymer; the compound takes up {} of it",
            digits(polymer.share, 3)
        );
        numbers.remark(&PER_POLYMER, &done);
    }
    Ok(numbers.document(law.scaled(polymer.share)))
}

/// The diffusion law, its moisture counted on the resin as it is dried; its values are those of the
/// polymer, but for the glass transition, which is the resin's.
///
/// # Errors
/// A value of the law is missing or cannot be read.
pub(crate) fn diffusivity(
    bag: &Bag,
    resin: &Bag,
    polymer: &Polymer,
) -> Result<Documented<Diffusivity>, Faults> {
    let mut numbers = Numbers::of(bag);
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
                glass_transition_drop: numbers.take("glass_transition_drop")? * polymer.share,
            }
        }
        _ => Diffusivity::Arrhenius {
            reference,
            reference_temperature,
            activation_energy,
        },
    };
    if polymer.share < 1.0 {
        numbers.remark(&PER_MOISTURE, "per moisture of the polymer");
    }
    Ok(numbers.document(law.in_compound(polymer.share)))
}

/// What is known of the harm while hot.
///
/// # Errors
/// A value is missing or cannot be read.
pub(crate) fn degradation(bag: &Bag) -> Result<Degradation, Faults> {
    let of = |name: &str| bag.get(name, Entry::table);
    let hydrolysis = match of("hydrolysis") {
        None => None,
        Some(table) => {
            let mut numbers = Numbers::of(&table);
            let law = Hydrolysis {
                rate: numbers.take("rate")?,
                reference_temperature: numbers.take("reference_temperature")?,
                activation_energy: numbers.take("activation_energy")?,
                order: numbers.take("order")?,
            };
            Some(numbers.document(law))
        }
    };
    let oxidation = match of("oxidation") {
        None => None,
        Some(table) => {
            let mut numbers = Numbers::of(&table);
            let law = Oxidation {
                rate: numbers.take("rate")?,
                reference_temperature: numbers.take("reference_temperature")?,
                activation_energy: numbers.take("activation_energy")?,
            };
            Some(numbers.document(law))
        }
    };
    Ok(Degradation {
        hydrolysis,
        oxidation,
    })
}
