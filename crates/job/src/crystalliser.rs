//! A crystalliser ahead of the hopper, as far as it is given.

use quantity::{Duration, Temperature};
use serde::{Deserialize, Serialize};

/// How the heat comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum CrystalliserHeating {
    /// Hot air of the hall through an agitated bed.
    HotAir,
    /// Infrared onto a rotating drum.
    Infrared,
}

/// A crystalliser; the whole lot goes through it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Crystalliser {
    /// How the heat comes.
    pub heating: CrystalliserHeating,
    /// Temperature of the resin in it.
    pub temperature: Option<Temperature>,
    /// Mean residence.
    pub residence: Option<Duration>,
}
