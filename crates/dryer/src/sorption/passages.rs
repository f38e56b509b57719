//! How air and desiccant meet in the channels of a matrix: transfer coefficients and friction.
//!
//! # Equations
//! 1. `h = Nu k / D_h`; `k_g = Nu D rho / D_h` in kg of dry air per m2 and second (Sherwood number
//!    taken equal to the Nusselt number: same duct, same boundary).
//! 2. Into the sheet: `k_s = 3 D_e rho / s`, `s` half the thickness of the sheet and `D_e` the pore
//!    diffusivity counted in gas (linear driving force of a slab, Glueckauf 1955); in series,
//!    `1/K = 1/k_g + 1/k_s`.
//! 3. `dp = 2 (f Re) mu u L / D_h^2`, `u` the mean velocity inside the channels.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! D_h | `hydraulic_diameter` | m
//! Nu | `nusselt` | 1
//! f Re | `friction` | 1
//! D_e | `pore_diffusivity` | m2/s
//!
//! # Holds for
//! Laminar flow (Re below 2000), developed: the entrance takes 1 % of a depth of 0.2 m.
//!
//! # Sources
//! Glueckauf (1955), Theory of chromatography, part 10, Trans. Faraday Soc. 51, 1540 (from memory).
//!
//! # Checked by
//! `tests/src/peers/wheel.rs`

use crate::channel::Channel;
use air::{caloric, mixture, transport};

/// The channels of a matrix, as air sees them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Passages {
    /// Wall area per volume of matrix, m2/m3.
    pub area: f64,
    /// Share of the face that is open.
    pub open: f64,
    /// Hydraulic diameter, m.
    pub hydraulic_diameter: f64,
    /// Nusselt number.
    pub nusselt: f64,
    /// Product of Fanning friction factor and Reynolds number.
    pub friction: f64,
    /// Thickness of the sheet between two channels, m.
    pub sheet: f64,
}

/// Transfer per volume of matrix.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Transfer {
    /// Water, kg of dry air per m3 and second (times a difference of humidity ratio).
    pub water: f64,
    /// Heat, W/(m3 K).
    pub heat: f64,
}

impl From<&Channel> for Passages {
    fn from(channel: &Channel) -> Self {
        Self {
            area: channel.wetted_by_volume,
            open: channel.open_share,
            hydraulic_diameter: channel.hydraulic_diameter,
            nusselt: channel.shape.nusselt(),
            friction: channel.shape.friction,
            sheet: 2.0 * channel.half_sheet,
        }
    }
}

impl Passages {
    /// Transfer at a temperature (K), pressure (Pa) and humidity ratio; into the sheet with a pore
    /// diffusivity (m2/s, the same at all temperatures), or of the air alone.
    pub fn transfer(&self, t: f64, p: f64, humidity: f64, pore: Option<f64>) -> Transfer {
        let y = mixture::mole_fraction(humidity);
        let density = mixture::dry_air_density(t, p, y);
        let diffusivity = transport::vapour_diffusivity(t, p);
        let gas = self.nusselt * diffusivity / self.hydraulic_diameter;
        let solid = pore.map_or(f64::INFINITY, |pore| 3.0 * pore / (0.5 * self.sheet));
        let heat =
            self.nusselt * transport::thermal_conductivity(t, p, y) / self.hydraulic_diameter;
        Transfer {
            water: self.area * density / (1.0 / gas + 1.0 / solid),
            heat: self.area * heat,
        }
    }

    /// Pressure drop of a flow (kg of dry air per second and m2 of face) over a depth (m), Pa.
    pub fn pressure_drop(&self, flow: f64, depth: f64, t: f64, p: f64, humidity: f64) -> f64 {
        let y = mixture::mole_fraction(humidity);
        let velocity = flow / mixture::dry_air_density(t, p, y) / self.open;
        let diameter = self.hydraulic_diameter;
        2.0 * self.friction * transport::viscosity(t, p, y) * velocity * depth
            / (diameter * diameter)
    }

    /// Reynolds number of a flow (kg of dry air per second and m2 of face).
    pub fn reynolds(&self, flow: f64, t: f64, p: f64, humidity: f64) -> f64 {
        let y = mixture::mole_fraction(humidity);
        flow * (1.0 + humidity) / self.open * self.hydraulic_diameter
            / transport::viscosity(t, p, y)
    }
}

impl Transfer {
    /// Transfer units of water and of heat over a depth (m) at a flow (kg of dry air/(s m2)).
    pub fn units(&self, flow: f64, depth: f64, humidity: f64) -> (f64, f64) {
        (
            self.water * depth / flow,
            self.heat * depth / (flow * caloric::heat_capacity(humidity)),
        )
    }
}
