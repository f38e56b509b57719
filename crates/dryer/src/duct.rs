//! Hose or duct: what heat it loses to the hall and what pressure it costs, bare or insulated.
//!
//! # Equations
//! 1. Resistance of a metre: `R = 1/(pi d h_i) + sum ln(r_o/r_i)/(2 pi k) + 1/(pi D h_o)`.
//! 2. Air: `T_out = T_hall + (T_in - T_hall) exp(-L/(R m c))`.
//! 3. Pressure: `drop = (f L/d + zeta) rho v^2/2`; f = 64/Re up to 2300, Colebrook (1939) from 4000,
//!    straight between.
//! 4. Inside: Nu = 3.66 up to 2300 (long pipe, even wall), Gnielinski (1976) from 4000, straight between.
//! 5. Outside: a given coefficient, or still air, Churchill and Chu (1975) around a horizontal cylinder
//!    plus radiation, closed on the temperature of the surface.
//! 6. A hose pressed flat to a share s of its section: velocity 1/s, hydraulic diameter s.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! d, L | `inner_diameter`, `length` | m
//! D | diameter over all layers | m
//! k, r | `layers` | W/(m K), m
//! zeta | `fittings` |
//! s | `open` |
//!
//! # Holds for
//! Steady flow; short hoses lose more in laminar flow than equation 4 says; no wind in the hall. A hose
//! of coarse spiral costs up to some three times a smooth one: give it as roughness, up to 5 % of d.
//! From memory of common practice, a bare hose loses with 8 to 10 W/(m2 K), one under 25 to 50 mm of
//! wool with 1 to 2.
//!
//! # Sources
//! Colebrook (1939), J. Inst. Civ. Eng. 11, 133; Gnielinski (1976), Int. Chem. Eng. 16, 359; Churchill
//! and Chu (1975), Int. J. Heat Mass Transfer 18, 1049 (all from memory, checked against `fluids` and `ht`).
//!
//! # Checked by
//! `tests/src/peers/hose.rs`; limits in `crates/dryer/src/duct/tests.rs`.

use crate::asked::Asked;
use crate::{DryerError, Stream};
use air::{mixture, transport};
use numeric::root;
use quantity::constants::{STANDARD_GRAVITY, ZERO_CELSIUS};
use quantity::{
    Faults, Fraction, HeatTransferCoefficient, Ledger, Length, Quantity, Range, ThermalConductivity,
};
use std::f64::consts::PI;

/// Inner diameters.
pub const BORE_HOLDS: Range = Range::new("inner diameter", 5e-3, 3.0, "m");
/// Lengths.
pub const HOSE_LENGTH_HOLDS: Range = Range::new("length of the hose", 1e-3, 500.0, "m");
/// Thickness of a layer.
pub const LAYER_HOLDS: Range = Range::new("thickness of a layer", 1e-5, 0.5, "m");
/// Conductivity of a layer: foam to copper.
pub const LAYER_CONDUCTIVITY_HOLDS: Range =
    Range::new("conductivity of a layer", 5e-3, 500.0, "W/(m K)");
/// Coefficient to the hall.
pub const OUTSIDE_HOLDS: Range = Range::new("coefficient to the hall", 0.5, 200.0, "W/(m2 K)");
/// Roughness over inner diameter.
pub const ROUGHNESS_HOLDS: Range = Range::new("roughness over inner diameter", 0.0, 0.05, "");
/// Sum of the loss coefficients of bends, valves and ends.
pub const FITTINGS_HOLDS: Range = Range::new("loss coefficient of the fittings", 0.0, 1e3, "");
/// Share of the section that is open.
pub const OPEN_HOLDS: Range = Range::new("open share of the section", 0.05, 1.0, "");
/// Temperatures of a hall.
pub const HALL_HOLDS: Range = Range::new("temperature of the hall", -40.0, 60.0, "degC");
/// Reynolds numbers in a pipe.
pub const PIPE_REYNOLDS_HOLDS: Range = Range::new("Reynolds number", 0.0, 1e7, "");
/// Constant of Stefan and Boltzmann, W/(m2 K4). BIPM (2019): exact from its parts.
const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;
/// End of laminar flow and start of turbulent flow, from memory of textbooks.
const TURN: (f64, f64) = (2300.0, 4000.0);

/// One layer around the bore, from the inside out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// How thick.
    pub thickness: Length,
    /// How well it conducts.
    pub conductivity: ThermalConductivity,
}

/// What the outermost surface meets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outside {
    /// A coefficient that is known.
    Coefficient(HeatTransferCoefficient),
    /// Still air and the walls of the hall, with an emissivity: 0.9 paint and rubber, 0.1 bright metal.
    StillAir {
        /// Emissivity of the surface.
        emissivity: Fraction,
    },
}

/// A hose or duct as it is laid.
#[derive(Clone, Debug, PartialEq)]
pub struct DuctSpec {
    /// Bore.
    pub inner_diameter: Length,
    /// Length.
    pub length: Length,
    /// Wall and insulation from the inside out; none for a thin bare wall.
    pub layers: Vec<Layer>,
    /// What is around it.
    pub outside: Outside,
    /// Roughness of the bore.
    pub roughness: Length,
    /// Sum of the loss coefficients of what sits in it.
    pub fittings: f64,
    /// Share of the section that is open; less than 1 for a hose pressed flat or with its lining loose.
    pub open: Fraction,
}

/// A checked duct.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Duct {
    diameter: f64,
    length: f64,
    /// Resistance of the layers, m K/W.
    layers: f64,
    outer_diameter: f64,
    outside: Outside,
    roughness: f64,
    fittings: f64,
    open: f64,
}

/// Air that has been carried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carried {
    /// The air that came.
    pub inlet: Stream,
    /// The air that leaves.
    pub outlet: Stream,
    /// Heat to the hall, W.
    pub loss: f64,
    /// Pressure drop, Pa.
    pub drop: f64,
    /// Velocity at the mean temperature, m/s.
    pub velocity: f64,
    /// Reynolds number there.
    pub reynolds: f64,
    /// Loss over the inner wall and the difference to the hall, W/(m2 K).
    pub coefficient: f64,
    /// Outermost surface at the inlet, K: above 55 degC it burns who touches it.
    pub surface: f64,
}

impl DuctSpec {
    /// The duct, or every mistake in it.
    ///
    /// # Errors
    /// A number outside its range.
    pub fn check(&self) -> Result<Duct, Faults> {
        let mut asked = Asked::new();
        let diameter = asked.number("inner_diameter", self.inner_diameter.si(), &BORE_HOLDS);
        let (mut radius, mut layers) = (0.5 * diameter, 0.0);
        for (index, layer) in self.layers.iter().enumerate() {
            let at = |what: &str| format!("layers[{index}].{what}");
            let thickness = asked.number(&at("thickness"), layer.thickness.si(), &LAYER_HOLDS);
            let conductivity = asked.number(
                &at("conductivity"),
                layer.conductivity.si(),
                &LAYER_CONDUCTIVITY_HOLDS,
            );
            layers += libm::log1p(thickness / radius) / (2.0 * PI * conductivity);
            radius += thickness;
        }
        match self.outside {
            Outside::Coefficient(coefficient) => {
                asked.number("outside", coefficient.si(), &OUTSIDE_HOLDS);
            }
            Outside::StillAir { emissivity } => {
                let range = Range::new("emissivity", 0.0, 1.0, "");
                asked.number("outside.emissivity", emissivity.si(), &range);
            }
        }
        let duct = Duct {
            diameter,
            length: asked.number("length", self.length.si(), &HOSE_LENGTH_HOLDS),
            layers,
            outer_diameter: 2.0 * radius,
            outside: self.outside,
            roughness: asked.number(
                "roughness",
                self.roughness.si() / diameter,
                &ROUGHNESS_HOLDS,
            ),
            fittings: asked.number("fittings", self.fittings, &FITTINGS_HOLDS),
            open: asked.number("open", self.open.si(), &OPEN_HOLDS),
        };
        asked.give(Some(duct))
    }
}

impl Duct {
    /// What becomes of air at a pressure (Pa) carried through a hall of a temperature (K).
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for air or a hall it cannot have, or a Reynolds number outside
    /// [`PIPE_REYNOLDS_HOLDS`].
    pub fn carry(&self, air: &Stream, pressure: f64, hall: f64) -> Result<Carried, DryerError> {
        let inlet = air.checked_at(pressure)?;
        DryerError::unless_within(&HALL_HOLDS, hall - ZERO_CELSIUS)?;
        let flow = inlet.heat_capacity();
        // Properties at the mean temperature, which the loss itself decides.
        let mut mean = inlet;
        let mut state = self.state(&inlet, pressure, hall)?;
        let mut outlet = inlet;
        if flow > 0.0 {
            for _ in 0..2 {
                let left = libm::exp(-self.length / (state.resistance * flow));
                outlet = inlet.at(hall + (inlet.temperature - hall) * left);
                mean = inlet.at(0.5 * (inlet.temperature + outlet.temperature));
                state = self.state(&mean, pressure, hall)?;
            }
        }
        let drop = if flow > 0.0 {
            let friction = friction_factor(state.reynolds, self.roughness)?;
            let along = friction * self.length / (self.diameter * self.open) + self.fittings;
            along * 0.5 * mean.density(pressure) * state.velocity * state.velocity
        } else {
            0.0
        };
        let at_inlet = self.state(&inlet, pressure, hall)?;
        Ok(Carried {
            inlet,
            outlet,
            loss: inlet.heat() - outlet.heat(),
            drop,
            velocity: state.velocity,
            reynolds: state.reynolds,
            coefficient: 1.0 / (PI * self.diameter * state.resistance),
            surface: at_inlet.surface,
        })
    }

    fn state(&self, air: &Stream, pressure: f64, hall: f64) -> Result<State, DryerError> {
        let section = 0.25 * PI * self.diameter * self.diameter * self.open;
        let velocity = air.volume_flow(pressure) / section;
        let viscosity = air.viscosity(pressure);
        let hydraulic = self.diameter * self.open;
        let reynolds = velocity * hydraulic * air.density(pressure) / viscosity;
        let share = mixture::mole_fraction(air.humidity);
        let conductivity = transport::thermal_conductivity(air.temperature, pressure, share);
        let prandtl =
            mixture::heat_capacity(air.temperature, pressure, share) * viscosity / conductivity;
        let inside = nusselt(reynolds, prandtl)? * conductivity / hydraulic;
        let up_to_surface = 1.0 / (PI * self.diameter * inside) + self.layers;
        let around = PI * self.outer_diameter;
        let resistance_to = |surface: f64| match self.outside {
            Outside::Coefficient(coefficient) => 1.0 / (around * coefficient.si()),
            Outside::StillAir { emissivity } => {
                let coefficient = still_air(surface, hall, self.outer_diameter, pressure)
                    + radiation(surface, hall, emissivity.si());
                1.0 / (around * coefficient.max(1e-3))
            }
        };
        let surface = match self.outside {
            Outside::Coefficient(_) => {
                let outside = resistance_to(hall);
                hall + (air.temperature - hall) * outside / (outside + up_to_surface)
            }
            Outside::StillAir { .. } => {
                let ends = (air.temperature.min(hall), air.temperature.max(hall));
                root::bracketed(ends.0, ends.1, 1e-5, |surface| {
                    (air.temperature - surface) / up_to_surface
                        - (surface - hall) / resistance_to(surface)
                })
                .unwrap_or(hall)
            }
        };
        Ok(State {
            velocity,
            reynolds,
            resistance: up_to_surface + resistance_to(surface),
            surface,
        })
    }
}

/// The flow and the way of heat at one temperature of the air.
struct State {
    velocity: f64,
    reynolds: f64,
    /// Of a metre, m K/W.
    resistance: f64,
    surface: f64,
}

impl Carried {
    /// Energy in and out, W.
    pub fn energy(&self) -> Ledger {
        Ledger::new("energy of the hose", "W")
            .enter("air", self.inlet.heat())
            .leave("air", self.outlet.heat())
            .leave("hall", self.loss)
    }
}

/// Straight between what holds before the turn to turbulence and what holds after it.
fn across_the_turn(
    reynolds: f64,
    laminar: impl Fn(f64) -> f64,
    turbulent: impl Fn(f64) -> f64,
) -> f64 {
    let (low, high) = TURN;
    if reynolds <= low {
        laminar(reynolds)
    } else if reynolds >= high {
        turbulent(reynolds)
    } else {
        let share = (reynolds - low) / (high - low);
        (1.0 - share) * laminar(low) + share * turbulent(high)
    }
}

/// Darcy's friction factor of a round pipe. Colebrook (1939) beyond laminar flow.
///
/// # Errors
/// [`DryerError::Impossible`] outside [`PIPE_REYNOLDS_HOLDS`] and [`ROUGHNESS_HOLDS`].
pub fn friction_factor(reynolds: f64, roughness: f64) -> Result<f64, DryerError> {
    let reynolds = DryerError::unless_within(&PIPE_REYNOLDS_HOLDS, reynolds)?;
    let roughness = DryerError::unless_within(&ROUGHNESS_HOLDS, roughness)?;
    Ok(across_the_turn(
        reynolds,
        // So slow that nothing is lost; the factor alone would grow without end.
        |reynolds| 64.0 / reynolds.max(1e-6),
        |reynolds| colebrook(reynolds, roughness),
    ))
}

/// `1/sqrt(f) = -2 lg(roughness/3.7 + 2.51/(Re sqrt(f)))`, by Newton's method in `1/sqrt(f)`.
fn colebrook(reynolds: f64, roughness: f64) -> f64 {
    const LN_10: f64 = std::f64::consts::LN_10;
    let mut x = 7.0;
    for _ in 0..20 {
        let inside = roughness / 3.7 + 2.51 * x / reynolds;
        let value = x + 2.0 * libm::log10(inside);
        let slope = 1.0 + 2.0 * 2.51 / (reynolds * inside * LN_10);
        let step = value / slope;
        x -= step;
        if step.abs() < 1e-14 * x {
            break;
        }
    }
    1.0 / (x * x)
}

/// Nusselt number inside a smooth round pipe. Gnielinski (1976) beyond laminar flow.
///
/// # Errors
/// [`DryerError::Impossible`] outside [`PIPE_REYNOLDS_HOLDS`].
pub fn nusselt(reynolds: f64, prandtl: f64) -> Result<f64, DryerError> {
    let reynolds = DryerError::unless_within(&PIPE_REYNOLDS_HOLDS, reynolds)?;
    Ok(across_the_turn(
        reynolds,
        |_| 3.66,
        |reynolds| {
            let eighth = colebrook(reynolds, 0.0) / 8.0;
            let film = libm::cbrt(prandtl * prandtl) - 1.0;
            eighth * (reynolds - 1000.0) * prandtl / (1.0 + 12.7 * libm::sqrt(eighth) * film)
        },
    ))
}

/// Nusselt number around a horizontal cylinder in still air. Churchill and Chu (1975).
///
/// # Errors
/// [`DryerError::Impossible`] for a Prandtl number that no gas has, or a Grashof number beyond 1e12.
pub fn nusselt_still_air(prandtl: f64, grashof: f64) -> Result<f64, DryerError> {
    DryerError::unless_between("Prandtl number", prandtl, "", (0.5, 1.5))?;
    DryerError::unless_between("Grashof number", grashof, "", (0.0, 1e12))?;
    Ok(churchill_chu(prandtl, grashof))
}

fn churchill_chu(prandtl: f64, grashof: f64) -> f64 {
    let power = |base: f64, exponent: f64| libm::exp(exponent * libm::log(base));
    let turn = power(1.0 + power(0.559 / prandtl, 9.0 / 16.0), 16.0 / 9.0);
    let root = 0.6 + 0.387 * power((grashof * prandtl).max(1e-30) / turn, 1.0 / 6.0);
    root * root
}

/// Coefficient of still air around a horizontal cylinder, W/(m2 K).
fn still_air(surface: f64, hall: f64, diameter: f64, pressure: f64) -> f64 {
    let film = 0.5 * (surface + hall);
    let density = mixture::density(film, pressure, 0.0);
    let viscosity = transport::viscosity(film, pressure, 0.0);
    let conductivity = transport::thermal_conductivity(film, pressure, 0.0);
    let prandtl = mixture::heat_capacity(film, pressure, 0.0) * viscosity / conductivity;
    let kinematic = viscosity / density;
    let grashof = STANDARD_GRAVITY * (surface - hall).abs() / film * diameter * diameter * diameter
        / (kinematic * kinematic);
    churchill_chu(prandtl, grashof) * conductivity / diameter
}

/// Coefficient of radiation to the walls of the hall, W/(m2 K).
fn radiation(surface: f64, hall: f64, emissivity: f64) -> f64 {
    emissivity * STEFAN_BOLTZMANN * (surface * surface + hall * hall) * (surface + hall)
}

#[cfg(test)]
mod tests;
