//! A filler: what is mixed into a polymer, and what mixing makes of its properties.

use crate::Evidence;
use quantity::{Density, Fraction, SpecificHeatCapacity};
use serde::{Deserialize, Serialize};

/// What is mixed into the polymer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FillerKind {
    /// Short or long glass fibre.
    GlassFibre,
    /// Glass beads.
    GlassBeads,
    /// Talc.
    Talc,
    /// Another mineral.
    Mineral,
    /// Carbon fibre.
    CarbonFibre,
    /// Carbon black, which takes up water itself.
    CarbonBlack,
    /// Wood or another natural fibre, which takes up water itself.
    WoodFibre,
    /// A flame retardant.
    FlameRetardant,
    /// Anything else.
    Other,
}

impl FillerKind {
    /// All kinds, in the order they are listed.
    pub const ALL: [Self; 9] = [
        Self::GlassFibre,
        Self::GlassBeads,
        Self::Talc,
        Self::Mineral,
        Self::CarbonFibre,
        Self::CarbonBlack,
        Self::WoodFibre,
        Self::FlameRetardant,
        Self::Other,
    ];

    /// The word a record uses for it.
    pub fn key(self) -> &'static str {
        match self {
            Self::GlassFibre => "glass fibre",
            Self::GlassBeads => "glass beads",
            Self::Talc => "talc",
            Self::Mineral => "mineral",
            Self::CarbonFibre => "carbon fibre",
            Self::CarbonBlack => "carbon black",
            Self::WoodFibre => "wood fibre",
            Self::FlameRetardant => "flame retardant",
            Self::Other => "other",
        }
    }
}

/// The filler of a compound.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Filler {
    /// What it is.
    pub kind: FillerKind,
    /// Its share by mass of the dry compound.
    pub share: Evidence<Fraction>,
    /// Its density.
    pub density: Option<Evidence<Density>>,
    /// Its heat capacity at 23 degC.
    pub heat_capacity: Option<Evidence<SpecificHeatCapacity>>,
}

impl Filler {
    /// Share by mass of the polymer in the dry compound.
    pub fn polymer_share(&self) -> Fraction {
        Fraction::from_fraction(1.0 - self.share.value.fraction())
    }
}

/// Density of a compound of two that keep their volumes: `1/rho = w/rho_f + (1 - w)/rho_p`.
///
/// Voids and what the polymer does next to the filler are left out.
pub fn mixed_density(share: Fraction, filler: Density, polymer: Density) -> Density {
    let w = share.fraction();
    Density::from_kg_per_m3(1.0 / (w / filler.kg_per_m3() + (1.0 - w) / polymer.kg_per_m3()))
}

/// Density of the polymer in a compound, [`mixed_density`] solved for it; none where the compound is
/// so light or so heavy that no polymer would make it.
pub fn polymer_density(share: Fraction, filler: Density, compound: Density) -> Option<Density> {
    let w = share.fraction();
    let volume = 1.0 / compound.kg_per_m3() - w / filler.kg_per_m3();
    (volume > 0.0 && w < 1.0).then(|| Density::from_kg_per_m3((1.0 - w) / volume))
}

#[cfg(test)]
mod tests {
    use super::{mixed_density, polymer_density};
    use quantity::{Density, Fraction};

    #[test]
    fn exact_density_by_volume_and_back() {
        let (share, glass) = (
            Fraction::from_fraction(0.3),
            Density::from_kg_per_m3(2550.0),
        );
        // 0.3/2550 + 0.7/1140 = 1.176471e-4 + 6.140351e-4 = 7.316821e-4 m3/kg by hand.
        let compound = mixed_density(share, glass, Density::from_kg_per_m3(1140.0));
        assert!(
            (compound.kg_per_m3() - 1366.713).abs() < 1e-2,
            "{compound:?}"
        );
        let back = polymer_density(share, glass, compound).map(Density::kg_per_m3);
        assert!(back.is_some_and(|density| (density - 1140.0).abs() < 1e-9));
    }

    #[test]
    fn holds_no_polymer_makes_a_compound_heavier_than_its_filler_alone() {
        let (share, glass) = (
            Fraction::from_fraction(0.5),
            Density::from_kg_per_m3(2550.0),
        );
        let none = polymer_density(share, glass, Density::from_kg_per_m3(5200.0));
        assert_eq!(none, None);
        let some = polymer_density(share, glass, Density::from_kg_per_m3(5000.0));
        assert!(some.is_some());
    }
}
