//! A body at one temperature in air of one humidity, so that nothing acts but diffusion and a film.
//!
//! It is followed as any history is, through the contact of pellet and air: the resistance of the
//! film is stated, and diffusion is made so slow that the heat of evaporation does not show.

use air::{Humidity, saturation};
use material::{Diffusivity, Isotherm};
use pellet::Outline;
use pellet::history::{AirState, HistorySpec, PelletSpec, Segment, Start, Surround};
use quantity::constants::{MOLAR_GAS, STANDARD_ATMOSPHERE, WATER_MOLAR_MASS};
use quantity::{
    AbsolutePressure, Density, Duration, HeatCapacitySlope, HeatTransferCoefficient,
    MassTransferCoefficient, MoistureDryBasis, Quantity, SpecificHeatCapacity, Temperature,
    VapourPressure,
};

/// What is let dry or wet.
#[derive(Clone, Copy, Debug)]
pub struct Body {
    /// Its outline, m.
    pub outline: Outline,
    /// The length that Biot and Fourier number are counted on, m.
    pub depth: f64,
    /// `D = D0 exp(g X/X0)`: this is g.
    pub exponent: f64,
    /// Film against diffusion, `h_m depth/(D0 K)`.
    pub biot: f64,
    /// Share of X0 at the beginning.
    pub start: f64,
    /// Share of X0 with which the air is in balance.
    pub held: f64,
    /// Modes or nodes; the usual number when absent.
    pub fineness: Option<usize>,
}

/// Diffusivity of the dry body, m2/s: months for a pellet, so that it stays at its temperature.
const DIFFUSION: f64 = 1e-13;
/// The moisture X0, kg/kg, and the activity that belongs to it.
const MOISTURE: f64 = 2e-3;
const ACTIVITY: f64 = 0.5;
const DENSITY: f64 = 1200.0;
const CELSIUS: f64 = 23.0;

impl Body {
    /// Mean moisture over X0 at each Fourier number (rising), counted on D0 and the depth.
    ///
    /// # Errors
    /// As text, whatever refused.
    pub fn means(&self, fourier: &[f64]) -> Result<Vec<f64>, String> {
        let times: Vec<Duration> = fourier
            .iter()
            .map(|fo| Duration::from_seconds(fo * self.depth * self.depth / DIFFUSION))
            .collect();
        let end = *times.last().ok_or("no Fourier number")?;
        let history = self.history(end, times.clone());
        let history = history.check().map_err(|faults| faults.to_string())?;
        let curve = history.follow().map_err(|error| error.to_string())?;
        let at = |time: &Duration| {
            curve
                .instants
                .iter()
                .find(|instant| (instant.time.si() / time.si() - 1.0).abs() < 1e-12)
                .map(|instant| instant.mean.si() / MOISTURE)
                .ok_or_else(|| "a moment asked for is missing".to_owned())
        };
        times.iter().map(at).collect()
    }

    fn history(&self, end: Duration, moments: Vec<Duration>) -> HistorySpec {
        let t = Temperature::from_celsius(CELSIUS);
        let saturated = saturation::over_liquid(t.kelvin());
        let capacity = MOISTURE / ACTIVITY;
        // Flux k p_sat X/(capacity R_v T) against rho D X/depth.
        let gas = MOLAR_GAS / WATER_MOLAR_MASS * t.kelvin();
        let film = self.biot * DIFFUSION * DENSITY * capacity * gas / (saturated * self.depth);
        let air = AirState {
            temperature: t,
            humidity: Humidity::VapourPressure(VapourPressure::from_pascal(
                self.held * ACTIVITY * saturated,
            )),
        };
        let surround = Surround::Stated(
            HeatTransferCoefficient::from_w_per_m2_k(1e4),
            MassTransferCoefficient::from_m_per_s(film),
        );
        HistorySpec {
            pellet: PelletSpec {
                outline: self.outline,
                isotherm: Isotherm::Henry {
                    capacity,
                    reference_temperature: t.kelvin(),
                    mixing_heat: 0.0,
                },
                diffusivity: self.law(),
                density: Density::from_kg_per_m3(DENSITY),
                heat_capacity: SpecificHeatCapacity::from_j_per_kg_k(1200.0),
                heat_capacity_slope: HeatCapacitySlope::from_si(0.0),
                conductivity: None,
                sorption_heat: None,
            },
            start: Start {
                temperature: t,
                moisture: MoistureDryBasis::from_si(self.start * MOISTURE),
                free_water: MoistureDryBasis::from_si(0.0),
            },
            pressure: AbsolutePressure::from_pascal(STANDARD_ATMOSPHERE),
            segments: vec![Segment::steady("air", end, air, surround)],
            moments,
            fineness: self.fineness,
            precision: None,
        }
    }

    fn law(&self) -> Diffusivity {
        let reference_temperature = Temperature::from_celsius(CELSIUS).kelvin();
        if self.exponent == 0.0 {
            Diffusivity::Arrhenius {
                reference: DIFFUSION,
                reference_temperature,
                activation_energy: 0.0,
            }
        } else {
            Diffusivity::Exponential {
                reference: DIFFUSION,
                reference_temperature,
                activation_energy: 0.0,
                moisture_exponent: self.exponent / MOISTURE,
            }
        }
    }
}
