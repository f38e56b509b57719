//! Humid air: real moist air, its conversions and transport properties, down to -80 degC.
//!
//! A walk through the crate, in the order one thing needs the next:
//!
//! 1. [`saturation`]: vapour pressure of pure water over liquid and over ice.
//! 2. `virial`, `condensed`, `ideal`: what the pure gases and the condensed phases bring along,
//!    one published formula each; `table` and `surface` turn what is asked often into piecewise
//!    polynomials once per process.
//! 3. [`equilibrium`]: how much vapour air at a total pressure holds over liquid or ice, and back.
//! 4. [`mixture`]: density, enthalpy and heat capacity of the mixture; [`transport`]: viscosity,
//!    conductivity and diffusivity. These three modules speak plain SI for hot loops.
//! 5. [`HumidAir`]: the typed door. Temperature, pressure and any one [`Humidity`] in, all else out.
//! 6. [`caloric`]: the same enthalpy with constant heat capacities, for balances that must close.
//! 7. [`standard_pressure`] of an altitude, and [`expansion`] from a line pressure.
//!
//! # Which saturation
//! A [`quantity::DewPoint`] is always counted over liquid, supercooled below 0.01 degC. A
//! [`quantity::FrostPoint`] is always counted over ice and ends at 0.01 degC. Relative humidity is
//! counted over liquid at every temperature, as meteorology does (WMO-No. 8, chapter 4). Air is
//! refused as supersaturated only past saturation over liquid: a frost point above the temperature
//! but under saturation over liquid is the state of a cloud, and is accepted.
//!
//! # Which zero of enthalpy
//! Dry air at 0 degC and 101 325 Pa has zero enthalpy, and so has saturated liquid water at the
//! triple point; enthalpy is counted per kg of dry air. The ASHRAE Handbook, Fundamentals (2009),
//! chapter 1, counts in the same way.
//!
//! ```
//! use air::{HumidAir, standard_pressure};
//! use quantity::{AbsolutePressure, Altitude, FrostPoint, Temperature};
//!
//! let hall = standard_pressure(Altitude::from_metres(0.0))?;
//! let dry = HumidAir::new(Temperature::from_celsius(80.0), hall, FrostPoint::from_celsius(-40.0))?;
//! assert!((dry.vapour_mole_fraction().ppm() - 127.4).abs() < 0.1);
//! assert!((dry.humidity_ratio().g_per_kg() - 0.0793).abs() < 0.0001);
//! # Ok::<(), air::AirError>(())
//! ```

mod altitude;
pub mod caloric;
mod condensed;
pub mod equilibrium;
mod error;
pub mod expansion;
mod ideal;
pub mod mixture;
mod point;
pub mod saturation;
mod state;
mod surface;
mod table;
pub mod transport;
mod virial;

pub use altitude::{ALTITUDE_HOLDS, standard_pressure};
pub use error::AirError;
pub use point::{
    CondensationPoint, at_condensation_point, at_dew_point, at_frost_point, condensation_point,
    dew_point, frost_point,
};
pub use state::{
    DEW_POINT_HOLDS, FROST_POINT_HOLDS, HumidAir, Humidity, PRESSURE_HOLDS, TEMPERATURE_HOLDS,
};
