//! The hopper, as far as it is given.

use quantity::{Angle, Fraction, HeatTransferCoefficient, Length, Mass, Volume};
use serde::{Deserialize, Serialize};

/// Which side of the exchange loses heat to the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WallSide {
    /// The air between the pellets (the usual picture).
    Air,
    /// The pellets themselves.
    Pellets,
}

/// A hopper: cylinder over cone, air entering at some height, pellets below it never dried.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct HopperOutline {
    /// Volume up to the full level, cone included.
    pub volume: Option<Volume>,
    /// Dry resin between air inlet and level, instead of a volume.
    pub bed_mass: Option<Mass>,
    /// Inner diameter of the cylinder.
    pub diameter: Option<Length>,
    /// Included angle of the cone; none for a flat bottom.
    pub cone_angle: Option<Angle>,
    /// Level as a share of the volume.
    pub fill: Fraction,
    /// Resin below the air inlet, where the air never comes.
    pub below_inlet: Option<Mass>,
    /// Heat transfer coefficient from bed to ambient, counted on the inner wall.
    pub wall_coefficient: Option<HeatTransferCoefficient>,
    /// Thickness of insulation, where the coefficient is not stated.
    pub insulation: Option<Length>,
    /// Side that loses the heat.
    pub wall_side: WallSide,
    /// Mass of one loader batch; the hopper is kept full when absent.
    pub batch: Option<Mass>,
    /// Spread of residence time between streams, one standard deviation over the mean.
    pub residence_spread: Option<Fraction>,
}
