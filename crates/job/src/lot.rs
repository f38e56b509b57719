//! What arrives as a mixture: virgin pellets, regrind, masterbatch, each with its own water.

use material::Resin;
use quantity::{BulkDensity, Fraction, Length, Moisture, MoistureDryBasis};
use serde::{Deserialize, Serialize};

/// Where a component joins the others.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Entry {
    /// Mixed before or in the loader, and dried with the rest.
    Loader,
    /// Dosed on top of the hopper, and dried with the rest.
    Hopper,
    /// Dosed at the throat of the machine: this dryer never sees it.
    Throat,
}

impl Entry {
    /// Whether the component goes through the hopper.
    pub fn is_dried(self) -> bool {
        self != Self::Throat
    }

    /// The word shown.
    pub fn word(self) -> &'static str {
        match self {
            Self::Loader => "loader",
            Self::Hopper => "hopper",
            Self::Throat => "throat",
        }
    }
}

/// What the pieces of a component look like.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Pieces {
    /// Pellets as the record of the resin describes them.
    Pellets,
    /// Flakes of regrind: the thickest decide.
    Flakes {
        /// Thickness of the mean flake.
        thickness: Length,
        /// Size across.
        across: Length,
    },
}

/// One component of a lot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Component {
    /// What the user calls it.
    pub name: String,
    /// Its resin; of a masterbatch, the carrier with what it carries.
    pub resin: Resin,
    /// Its share of what the screw draws, as weighed.
    pub share: Fraction,
    /// What its pieces look like.
    pub pieces: Pieces,
    /// Spread of the size from piece to piece, relative; that of the record's pellets when absent.
    pub size_spread: Option<Fraction>,
    /// Density of the poured pieces; that of the record when absent.
    pub bulk_density: Option<BulkDensity>,
    /// Moisture with which it comes; that of an opened package of its resin when absent.
    pub moisture: Option<Moisture>,
    /// Spread of that moisture from lot to lot, relative.
    pub spread: Option<Fraction>,
    /// Free water on its surface.
    pub surface_water: MoistureDryBasis,
    /// Where it joins the others.
    pub entry: Entry,
}
