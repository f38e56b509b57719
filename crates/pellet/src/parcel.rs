//! A parcel of pellets, the air it meets over a step, and what passes between them.

use serde::{Deserialize, Serialize};

/// Steps after entering that are taken fully implicitly.
pub(crate) const IMPLICIT_STEPS: u32 = 1;

/// Transfer between pellets and air, per kg of dry resin.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Exchange {
    /// Heat, W/(K kg).
    pub heat: f64,
    /// Vapour, kg/(s Pa kg).
    pub vapour: f64,
}

/// The air that pellets meet over a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirIn {
    /// Temperature, K.
    pub temperature: f64,
    /// Humidity ratio, kg/kg.
    pub humidity: f64,
    /// Pellets per passing air, kg/(kg/s); 0 for air without end.
    pub load: f64,
    /// Heat lost through the wall per passing air, J/(kg K).
    pub wall: f64,
    /// Heat lost by the pellets themselves to the wall, W/(K kg dry resin).
    pub pellet_wall: f64,
    /// Temperature outside the wall, K.
    pub ambient: f64,
    /// Weight of the air leaving in the mean temperature that the pellets see: one half inside a
    /// bed, less where the pellets stand nearer to the air entering.
    pub heat_lean: f64,
    /// The same for the mean humidity.
    pub water_lean: f64,
    /// Weight of the end of the step in the mean temperature of pellets that have been in the bed
    /// for a while: one half, a little more where the air swamps them and halves would ring.
    pub end_weight: f64,
}

impl AirIn {
    /// Air without end: its state does not change, and nothing is lost to a wall.
    pub fn endless(temperature: f64, humidity: f64) -> Self {
        Self {
            temperature,
            humidity,
            load: 0.0,
            wall: 0.0,
            pellet_wall: 0.0,
            ambient: temperature,
            heat_lean: 0.5,
            water_lean: 0.5,
            end_weight: 0.5,
        }
    }
}

/// What became of the air, and what passed between it and the pellets.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Met {
    /// Air temperature leaving, K.
    pub temperature: f64,
    /// Humidity ratio leaving, kg/kg.
    pub humidity: f64,
    /// Water given off, kg per kg dry resin and second.
    pub drying_rate: f64,
    /// Heat lost through the wall, J per kg of dry air.
    pub wall_loss: f64,
}

/// State of a parcel of pellets.
#[derive(Clone, Debug, PartialEq)]
pub struct Parcel {
    /// Temperature, K.
    pub temperature: f64,
    /// Free surface water, kg/kg.
    pub free_water: f64,
    /// State of the inside.
    pub inside: Vec<f64>,
    /// Mean sorbed moisture, kg/kg.
    pub moisture: f64,
    /// Steps since it entered or its air jumped.
    pub(crate) steps: u32,
    /// Mean surface moisture of the last step.
    pub(crate) surface: f64,
    /// Duration of the last step.
    pub(crate) duration: f64,
    /// Surface number of the last step (activity, or 1 + free water).
    pub(crate) wetness: f64,
    /// Drying rate of the last step.
    pub(crate) rate: f64,
    /// Drying rate expected in the next.
    pub(crate) expected: f64,
}

impl Parcel {
    /// Forgets the drift of the surface, so that a jump in the air is met without ringing.
    pub fn jolt(&mut self) {
        self.duration = 0.0;
    }

    /// A parcel that has been in the bed for a while: its first step is taken at the middle.
    pub fn settled(mut self) -> Self {
        self.steps = IMPLICIT_STEPS;
        self
    }

    /// Total water, kg/kg.
    pub fn water(&self) -> f64 {
        self.moisture + self.free_water
    }

    /// Takes in the water of fresh pellets, `old` being the share of those already here; the
    /// temperature is left to the caller.
    pub(crate) fn pour_water(&mut self, fresh: &Self, old: f64) {
        let new = 1.0 - old;
        for (mine, theirs) in self.inside.iter_mut().zip(&fresh.inside) {
            *mine = old * *mine + new * theirs;
        }
        self.moisture = old * self.moisture + new * fresh.moisture;
        self.free_water = old * self.free_water + new * fresh.free_water;
        self.surface = old * self.surface + new * fresh.surface;
        self.jolt();
    }
}
