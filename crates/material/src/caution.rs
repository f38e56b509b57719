//! What a resin can give off or do when it is dried, as far as a plan must warn of it.

use serde::{Deserialize, Serialize};

/// A reason to warn. The text shown defers to the data sheet, local codes and licensed practice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Caution {
    /// Polyoxymethylene releases formaldehyde when overheated.
    Formaldehyde,
    /// Polyvinyl chloride releases hydrogen chloride when overheated.
    HydrogenChloride,
    /// Styrenic resins release styrene.
    Styrene,
    /// Polyamide 6 releases caprolactam.
    Caprolactam,
    /// Styrene-acrylonitrile resins release acrylonitrile.
    Acrylonitrile,
    /// Polyesters of ethylene glycol release acetaldehyde.
    Acetaldehyde,
    /// Vinyl acetate copolymers and cellulose esters release acetic acid.
    AceticAcid,
    /// Polyamides held long and hot release ammonia.
    Ammonia,
    /// Fluoropolymers release hydrogen fluoride when overheated.
    HydrogenFluoride,
    /// Fine or fibrous matter whose dust can scorch or explode.
    Dust,
    /// Plasticised resins lose plasticiser, which fouls desiccant and filters.
    Plasticiser,
    /// Oligomers leave and foul filters, coolers and desiccant.
    Oligomer,
    /// Water and heat together cut the chains before the water has left.
    Hydrolysis,
    /// Air and heat yellow the resin or make it brittle.
    Oxidation,
    /// Pellets fuse to a block near their softening temperature.
    Sticks,
    /// The drying temperature holds for crystallised pellets alone.
    CrystallisedOnly,
}

impl Caution {
    /// All cautions, in the order they are shown.
    pub const ALL: [Self; 16] = [
        Self::Formaldehyde,
        Self::HydrogenChloride,
        Self::Styrene,
        Self::Caprolactam,
        Self::Acrylonitrile,
        Self::Acetaldehyde,
        Self::AceticAcid,
        Self::Ammonia,
        Self::HydrogenFluoride,
        Self::Dust,
        Self::Plasticiser,
        Self::Oligomer,
        Self::Hydrolysis,
        Self::Oxidation,
        Self::Sticks,
        Self::CrystallisedOnly,
    ];

    /// The word a record uses for it.
    pub fn key(self) -> &'static str {
        match self {
            Self::Formaldehyde => "formaldehyde",
            Self::HydrogenChloride => "hydrogen chloride",
            Self::Styrene => "styrene",
            Self::Caprolactam => "caprolactam",
            Self::Acrylonitrile => "acrylonitrile",
            Self::Acetaldehyde => "acetaldehyde",
            Self::AceticAcid => "acetic acid",
            Self::Ammonia => "ammonia",
            Self::HydrogenFluoride => "hydrogen fluoride",
            Self::Dust => "dust",
            Self::Plasticiser => "plasticiser",
            Self::Oligomer => "oligomer",
            Self::Hydrolysis => "hydrolysis",
            Self::Oxidation => "oxidation",
            Self::Sticks => "sticks",
            Self::CrystallisedOnly => "crystallised only",
        }
    }
}
