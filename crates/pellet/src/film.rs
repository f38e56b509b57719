//! Films: heat and vapour crossing between moving air and the surface of a pellet.
//!
//! # Equations
//! 1. In a packed bed `Nu = 2 + 1.1 Pr^(1/3) Re^0.6`, and Sh the same with Sc.
//! 2. Instead, where the porosity e is to count,
//!    `Nu = (7 - 10 e + 5 e2)(1 + 0.7 Re^0.2 Pr^(1/3)) + (1.33 - 2.4 e + 1.2 e2) Re^0.7 Pr^(1/3)`,
//!    and Sh the same with Sc.
//! 3. Around one pellet in a stream `Nu = 2 + 0.6 Pr^(1/3) Re^(1/2)`, and Sh the same with Sc.
//! 4. `h = Nu k/d`, `k_m = Sh D_v/d`, `Re = v d rho/mu`; d is the diameter of the sphere of the same
//!    surface to volume (Sauter), v the velocity of the empty vessel in a bed and that of the stream
//!    around one pellet.
//! 5. Heat has to go on into the pellet. A pellet whose every point warms at the same speed lags
//!    behind its surface by `q r`, `r = (L/k) (A_1/V_1^2) int_0^1 V^2/A ds` for the area law
//!    `A = s^(d-1) (1 + c s^2)` of its one-dimensional equivalent, V the integral of A. For c = 0 that
//!    is `L/((d + 2) k)`: L/3k in a plate, R/4k in a rod, R/5k in a sphere (the linear driving force).
//!    One temperature then stands for the pellet, and heat sees `1/(1/h + r)`.
//! 6. Per kg of dry resin with the surface a per volume:
//!    `heat = a/rho / (1/h + r)`, `vapour = k_m a / (rho R_v T)`.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! h | `Film::heat` | W/(m2 K)
//! k_m | `Film::vapour` | m/s
//! r | `Skin::inner` | m2 K/W
//! a/rho | `Skin::area` | m2/kg
//!
//! # Holds for
//! [`BED_HOLDS`], [`POROSITY_HOLDS`], [`STREAM_HOLDS`]; beyond them an answer says so in
//! [`Film::beyond`]. Air that stands still gives Nu = 2 (conduction alone), the slow side: buoyancy
//! adds up to as much again. The drift of the vapour itself (Stefan) is left out: it speeds up
//! evaporation by half the vapour mole fraction at the surface, 4 % at a wet bulb of 40 degC. Inside a hygroscopic
//! pellet diffusion is slower than any of these films by a factor of a hundred and more, so that they
//! matter for heating up and for water on the surface.
//!
//! # Sources
//! 1: Wakao and Kaguei (1982), Heat and Mass Transfer in Packed Beds (form and its reach read in the
//! documentation of `ht` 1.2.0, which names 3 < Re < 3000 and more). 2: Gunn (1978), Int. J. Heat Mass
//! Transfer 21, 467 (from memory). 3: Ranz and Marshall (1952), Chem. Eng. Prog. 48, 141 and 173 (form
//! from memory; the abstract, read, names Re from 0 to 200 and an extrapolation "with remarkable
//! accuracy" to five times that). 5: Glueckauf (1955), Trans. Faraday Soc. 51, 1540, for the sphere
//! (from memory).
//!
//! # Checked by
//! `tests/src/peers/packed_bed.rs`, and the limits in the tests below.

use crate::contact::Exchange;
use crate::equivalent::Equivalent;
use crate::{Outline, PelletError};
use air::{HumidAir, mixture, transport};
use libm::{cbrt, exp, log, sqrt};
use numeric::quadrature::gauss_jacobi;
use quantity::constants::{MOLAR_GAS, WATER_MOLAR_MASS};
use quantity::{
    Density, Fraction, HeatTransferCoefficient, MassTransferCoefficient, OutOfRange, Quantity,
    Range, Temperature, ThermalConductivity, Velocity,
};
use serde::{Deserialize, Serialize};

/// Reynolds numbers of a packed bed that the films are known for.
pub const BED_HOLDS: Range = Range::new("Reynolds number in a bed", 3.0, 3000.0, "");
/// Porosities of [`BedFilm::Gunn`].
pub const POROSITY_HOLDS: Range = Range::new("porosity", 0.35, 1.0, "");
/// Reynolds numbers of one pellet in a stream: measured to 200, carried on to five times that.
pub const STREAM_HOLDS: Range = Range::new("Reynolds number of a pellet", 0.0, 1000.0, "");
/// Velocities that anything here is asked for.
pub const VELOCITY_HOLDS: Range = Range::new("air velocity", 0.0, 50.0, "m/s");
/// Densities of dry resin.
pub const DENSITY_HOLDS: Range = Range::new("resin density", 300.0, 3000.0, "kg/m3");

/// Which correlation stands for a bed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum BedFilm {
    /// Wakao and Kaguei (1982).
    WakaoKaguei,
    /// Gunn (1978) at a porosity.
    Gunn(Fraction),
}

/// The film on a pellet.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Film {
    /// Heat, from air to surface.
    pub heat: HeatTransferCoefficient,
    /// Vapour, on a difference in concentration.
    pub vapour: MassTransferCoefficient,
    /// Reynolds number on the Sauter diameter.
    pub reynolds: f64,
    /// The range that was left, when the numbers are an extrapolation.
    pub beyond: Option<OutOfRange>,
}

impl Film {
    /// The film, unless it is an extrapolation.
    ///
    /// # Errors
    /// The range that was left.
    pub fn within(self) -> Result<Self, OutOfRange> {
        self.beyond.map_or(Ok(self), Err)
    }
}

/// Film on pellets in a bed, by the air at the temperature of the film and the velocity that the
/// air would have in the empty vessel.
///
/// # Errors
/// [`PelletError::OutOfRange`] for a velocity outside [`VELOCITY_HOLDS`] or a porosity outside
/// [`POROSITY_HOLDS`]; from the outline.
pub fn in_bed(
    pellet: &Outline,
    air: &HumidAir,
    velocity: Velocity,
    law: BedFilm,
) -> Result<Film, PelletError> {
    pellet.check()?;
    let v = VELOCITY_HOLDS.check(velocity.si())?;
    if let BedFilm::Gunn(porosity) = law {
        POROSITY_HOLDS.check(porosity.si())?;
    }
    Ok(Stream::of(air).film(pellet.sauter_diameter(), v, Setting::Bed(law)))
}

/// Film on one pellet in a stream, by the air at the temperature of the film.
///
/// # Errors
/// [`PelletError::OutOfRange`] for a velocity outside [`VELOCITY_HOLDS`]; from the outline.
pub fn in_stream(
    pellet: &Outline,
    air: &HumidAir,
    velocity: Velocity,
) -> Result<Film, PelletError> {
    pellet.check()?;
    let v = VELOCITY_HOLDS.check(velocity.si())?;
    Ok(Stream::of(air).film(pellet.sauter_diameter(), v, Setting::Alone))
}

/// Exchange of pellets with air through a film, per kg of dry resin; the resistance to heat inside
/// is left out when no conductivity is given.
///
/// # Errors
/// As [`Skin::of`].
pub fn exchange(
    pellet: &Outline,
    density: Density,
    conductivity: Option<ThermalConductivity>,
    film: &Film,
    at: Temperature,
) -> Result<Exchange, PelletError> {
    Ok(Skin::of(pellet, density, conductivity)?.exchange(film, at))
}

/// What an exchange needs to know of a pellet, worked out once.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Skin {
    /// Surface per mass of dry resin, m2/kg.
    pub area: f64,
    /// Lumped resistance to heat inside, m2 K/W.
    pub inner: f64,
}

impl Skin {
    /// The skin of an outline.
    ///
    /// # Errors
    /// [`PelletError::OutOfRange`] for a density outside [`DENSITY_HOLDS`] or a conductivity that is
    /// not positive; from the outline and its equivalent.
    pub fn of(
        pellet: &Outline,
        density: Density,
        conductivity: Option<ThermalConductivity>,
    ) -> Result<Self, PelletError> {
        /// From the best insulating foam to a metal, W/(m K).
        const CONDUCTIVITIES: Range = Range::new("resin conductivity", 0.01, 100.0, "W/(m K)");
        pellet.check()?;
        let density = DENSITY_HOLDS.check(density.si())?;
        let inner = match conductivity {
            None => 0.0,
            Some(k) => inside_resistance(&Equivalent::of(pellet)?, CONDUCTIVITIES.check(k.si())?)?,
        };
        Ok(Self {
            area: pellet.surface_to_volume() / density,
            inner,
        })
    }

    /// Exchange through a film at a temperature.
    pub fn exchange(&self, film: &Film, at: Temperature) -> Exchange {
        self.through(film.heat.si(), film.vapour.si(), at.si())
    }

    /// The same in plain SI: W/(m2 K), m/s, K.
    pub(crate) fn through(&self, heat: f64, vapour: f64, t: f64) -> Exchange {
        Exchange {
            heat: self.area * heat / (1.0 + heat * self.inner),
            vapour: vapour * self.area * WATER_MOLAR_MASS / (MOLAR_GAS * t),
        }
    }
}

/// Resistance between surface and mean of a pellet that warms evenly, m2 K/W (equation 5), for a
/// conductivity in W/(m K).
fn inside_resistance(pellet: &Equivalent, conductivity: f64) -> Result<f64, PelletError> {
    /// The integrand is a polynomial over `1 + c s2`; for c up to 30 this rule has nine digits.
    const POINTS: usize = 32;
    let (d, c) = (pellet.dimension, pellet.bulge);
    let one = 1.0 / d + c / (d + 2.0);
    let rule = gauss_jacobi(POINTS, 0.0, 0.0)?;
    let mut integral = 0.0;
    for (s, weight) in rule.nodes.iter().zip(&rule.weights) {
        // V^2/A = s^(d+1) (1/d + c s2/(d+2))^2 / (1 + c s2).
        let within = 1.0 / d + c * s * s / (d + 2.0);
        integral += weight * exp((d + 1.0) * log(*s)) * within * within / (1.0 + c * s * s);
    }
    Ok(pellet.depth / conductivity * (1.0 + c) / (one * one) * integral)
}

/// Where a pellet is.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Setting {
    /// Among others in a bed.
    Bed(BedFilm),
    /// Alone in a stream.
    Alone,
}

/// Air as a film needs it, plain SI.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stream {
    density: f64,
    viscosity: f64,
    conductivity: f64,
    diffusivity: f64,
    prandtl: f64,
    schmidt: f64,
}

impl Stream {
    fn of(air: &HumidAir) -> Self {
        Self::at(
            air.temperature().si(),
            air.pressure().si(),
            air.vapour_mole_fraction().si(),
        )
    }

    /// Air at `t` K, `p` Pa and vapour mole fraction `y`; it may be supersaturated, as a film on a
    /// cold pellet is.
    pub(crate) fn at(t: f64, p: f64, y: f64) -> Self {
        let density = mixture::density(t, p, y);
        let viscosity = transport::viscosity(t, p, y);
        let conductivity = transport::thermal_conductivity(t, p, y);
        let diffusivity = transport::vapour_diffusivity(t, p);
        Self {
            density,
            viscosity,
            conductivity,
            diffusivity,
            prandtl: mixture::heat_capacity(t, p, y) * viscosity / conductivity,
            schmidt: viscosity / (density * diffusivity),
        }
    }

    /// Film on a body of Sauter diameter `d` (m) at `v` m/s.
    pub(crate) fn film(&self, d: f64, v: f64, setting: Setting) -> Film {
        let reynolds = v * d * self.density / self.viscosity;
        let (number, holds): (&dyn Fn(f64) -> f64, _) = match setting {
            Setting::Bed(BedFilm::WakaoKaguei) => (&|pr| wakao_kaguei(reynolds, pr), BED_HOLDS),
            Setting::Bed(BedFilm::Gunn(porosity)) => {
                (&move |pr| gunn(reynolds, pr, porosity.si()), BED_HOLDS)
            }
            Setting::Alone => (&|pr| ranz_marshall(reynolds, pr), STREAM_HOLDS),
        };
        Film {
            heat: HeatTransferCoefficient::from_si(number(self.prandtl) * self.conductivity / d),
            vapour: MassTransferCoefficient::from_si(number(self.schmidt) * self.diffusivity / d),
            reynolds,
            beyond: holds.check(reynolds).err(),
        }
    }
}

/// Nusselt number of a bed from Reynolds and Prandtl number (or Sherwood from Schmidt): equation 1.
pub fn wakao_kaguei(reynolds: f64, prandtl: f64) -> f64 {
    2.0 + 1.1 * cbrt(prandtl) * power(reynolds, 0.6)
}

/// Nusselt number of a bed of this porosity (or Sherwood from Schmidt): equation 2.
pub fn gunn(reynolds: f64, prandtl: f64, porosity: f64) -> f64 {
    let e = porosity;
    let third = cbrt(prandtl);
    (7.0 + e * (-10.0 + 5.0 * e)) * (1.0 + 0.7 * power(reynolds, 0.2) * third)
        + (1.33 + e * (-2.4 + 1.2 * e)) * power(reynolds, 0.7) * third
}

/// Nusselt number of one sphere in a stream (or Sherwood from Schmidt): equation 3.
pub fn ranz_marshall(reynolds: f64, prandtl: f64) -> f64 {
    2.0 + 0.6 * cbrt(prandtl) * sqrt(reynolds)
}

fn power(base: f64, exponent: f64) -> f64 {
    exp(exponent * log(base))
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::{AbsolutePressure, FrostPoint};

    const SPHERE: Outline = Outline::Sphere { diameter: 3e-3 };

    fn air(celsius: f64) -> Result<HumidAir, air::AirError> {
        HumidAir::new(
            Temperature::from_celsius(celsius),
            AbsolutePressure::from_pascal(101_325.0),
            FrostPoint::from_celsius(-40.0),
        )
    }

    /// Velocity that gives a Reynolds number on the sphere.
    fn velocity_for(reynolds: f64) -> Result<Velocity, Box<dyn std::error::Error>> {
        let unit = in_stream(&SPHERE, &air(100.0)?, Velocity::from_m_per_s(1.0))?;
        Ok(Velocity::from_m_per_s(reynolds / unit.reynolds))
    }

    #[test]
    fn holds_films_say_when_they_leave_their_range() -> Result<(), Box<dyn std::error::Error>> {
        let air = air(100.0)?;
        let bed = |re| -> Result<Film, Box<dyn std::error::Error>> {
            Ok(in_bed(
                &SPHERE,
                &air,
                velocity_for(re)?,
                BedFilm::WakaoKaguei,
            )?)
        };
        for (re, inside) in [
            (BED_HOLDS.low * 1.0001, true),
            (BED_HOLDS.high * 0.9999, true),
            (BED_HOLDS.low * 0.9999, false),
            (BED_HOLDS.high * 1.0001, false),
        ] {
            let film = bed(re)?;
            assert_eq!(film.within().is_ok(), inside, "{re}");
            assert!(film.heat.si() > 0.0);
        }
        for (re, inside) in [
            (STREAM_HOLDS.low, true),
            (STREAM_HOLDS.high * 0.9999, true),
            (STREAM_HOLDS.high * 1.0001, false),
        ] {
            let film = in_stream(&SPHERE, &air, velocity_for(re)?)?;
            assert_eq!(film.within().is_ok(), inside, "{re}");
        }
        for (e, inside) in [
            (POROSITY_HOLDS.low, true),
            (POROSITY_HOLDS.high, true),
            (POROSITY_HOLDS.low - 1e-6, false),
            (POROSITY_HOLDS.high + 1e-6, false),
        ] {
            let law = BedFilm::Gunn(Fraction::from_fraction(e));
            let film = in_bed(&SPHERE, &air, velocity_for(20.0)?, law);
            assert_eq!(film.is_ok(), inside, "{e}");
        }
        Ok(())
    }

    #[test]
    fn holds_what_cannot_be_is_refused() -> Result<(), Box<dyn std::error::Error>> {
        let air = air(100.0)?;
        for (v, inside) in [
            (VELOCITY_HOLDS.low, true),
            (VELOCITY_HOLDS.high, true),
            (-1e-9, false),
            (VELOCITY_HOLDS.high + 1e-6, false),
            (f64::NAN, false),
        ] {
            let film = in_stream(&SPHERE, &air, Velocity::from_m_per_s(v));
            assert_eq!(film.is_ok(), inside, "{v}");
        }
        for (rho, inside) in [
            (DENSITY_HOLDS.low, true),
            (DENSITY_HOLDS.high, true),
            (DENSITY_HOLDS.low - 1e-6, false),
            (DENSITY_HOLDS.high + 1e-6, false),
        ] {
            let skin = Skin::of(&SPHERE, Density::from_kg_per_m3(rho), None);
            assert_eq!(skin.is_ok(), inside, "{rho}");
        }
        Ok(())
    }

    #[test]
    fn exact_still_air_conducts_with_nusselt_two() -> Result<(), Box<dyn std::error::Error>> {
        let air = air(25.0)?;
        let film = in_stream(&SPHERE, &air, Velocity::from_m_per_s(0.0))?;
        let (k, d) = (
            air.thermal_conductivity().si(),
            air.vapour_diffusivity().si(),
        );
        assert!((film.heat.si() / (2.0 * k / 3e-3) - 1.0).abs() < 1e-14);
        assert!((film.vapour.si() / (2.0 * d / 3e-3) - 1.0).abs() < 1e-14);
        Ok(())
    }

    #[test]
    fn exact_resistance_inside_plate_rod_and_sphere() -> Result<(), PelletError> {
        let k = ThermalConductivity::from_w_per_m_k(0.2);
        for (outline, share) in [
            (Outline::Plate { thickness: 3e-3 }, 3.0),
            (Outline::Rod { diameter: 3e-3 }, 4.0),
            (SPHERE, 5.0),
        ] {
            let skin = Skin::of(&outline, Density::from_kg_per_m3(1200.0), Some(k))?;
            assert!((skin.inner / (1.5e-3 / share / 0.2) - 1.0).abs() < 1e-12);
        }
        Ok(())
    }

    #[test]
    fn holds_a_cylinder_lies_between_the_spheres_it_holds_and_fits_in() -> Result<(), PelletError> {
        let k = Some(ThermalConductivity::from_w_per_m_k(0.2));
        let rho = Density::from_kg_per_m3(1200.0);
        let lag = |outline: Outline| -> Result<f64, PelletError> {
            // Time of the lag behind the surface: resistance times heat capacity per surface.
            let skin = Skin::of(&outline, rho, k)?;
            Ok(skin.inner / skin.area)
        };
        let cylinder = lag(Outline::Cylinder {
            diameter: 3e-3,
            length: 3e-3,
        })?;
        let inscribed = lag(SPHERE)?;
        let around = lag(Outline::Sphere {
            diameter: 3e-3 * std::f64::consts::SQRT_2,
        })?;
        assert!(cylinder > inscribed && cylinder < around);
        Ok(())
    }

    #[test]
    fn exact_exchange_of_a_sphere() -> Result<(), PelletError> {
        let film = Film {
            heat: HeatTransferCoefficient::from_w_per_m2_k(50.0),
            vapour: MassTransferCoefficient::from_m_per_s(0.05),
            reynolds: 10.0,
            beyond: None,
        };
        let found = exchange(
            &SPHERE,
            Density::from_kg_per_m3(1200.0),
            None,
            &film,
            Temperature::from_kelvin(350.0),
        )?;
        // a = 6/d.
        let area = 2000.0 / 1200.0;
        assert!((found.heat / (50.0 * area) - 1.0).abs() < 1e-14);
        let gas = MOLAR_GAS / WATER_MOLAR_MASS;
        assert!((found.vapour / (0.05 * area / (gas * 350.0)) - 1.0).abs() < 1e-14);
        Ok(())
    }
}
