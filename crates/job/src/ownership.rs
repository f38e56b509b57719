//! What it means to own a dryer, beside the air it makes: money, room, noise and what its air carries.
//!
//! Everything is optional: what nobody stated is not known, and is not guessed.

use quantity::{Area, Duration, Length, SoundLevel};
use serde::{Deserialize, Serialize};

/// A dryer as a thing that is bought, stands somewhere, is heard and wears.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Ownership {
    /// What the prices here count in; there where any is.
    pub currency: Option<String>,
    /// Price of the dryer, set up.
    pub price: Option<f64>,
    /// A new charge of desiccant, or a new wheel.
    pub desiccant_change: Option<Change>,
    /// Price of the filters of a year.
    pub filters_per_year: Option<f64>,
    /// Floor it takes.
    pub footprint: Option<Area>,
    /// Its height.
    pub height: Option<Length>,
    /// Sound pressure level, A-weighted, 1 m away.
    pub noise: Option<SoundLevel>,
    /// What its air brings to the resin; empty when it is known to bring nothing.
    pub air_carries: Option<Vec<Contaminant>>,
    /// Resins it was used with, and what of them could be smelt or seen since; as the user says it.
    pub used_with: Vec<String>,
}

/// A part that is changed when its time is up.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Change {
    /// Price of it, work included.
    pub price: f64,
    /// Hours run from one to the next.
    pub every: Duration,
}

/// What drying air can bring to the resin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Contaminant {
    /// Oil of a compressor.
    Oil,
    /// Dust of desiccant beads.
    BeadDust,
}
