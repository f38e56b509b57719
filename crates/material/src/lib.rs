//! Resins as materials: what is known of each, how well, and from where.
//!
//! A [`Resin`] is a record of evidence; its laws ([`Isotherm`], [`Diffusivity`]) are plain
//! functions of temperature and moisture that the pellet and the bed evaluate in their kernels.

mod caution;
mod degradation;
mod diffusivity;
mod evidence;
mod filler;
mod isotherm;
mod isotherm_forms;
mod resin;
pub mod sorbent;

pub use caution::Caution;
pub use degradation::{
    DEGRADATION_HOLDS, Degradation, DegradationError, Hydrolysis, Oxidation, lost_share,
};
pub use diffusivity::{Diffusivity, DiffusivityAt};
pub use evidence::{Documented, Evidence, Grade, Spread};
pub use filler::{Filler, FillerKind, mixed_density, polymer_density};
pub use isotherm::{Isotherm, IsothermAt};
pub use resin::{
    Behaviour, DryingPractice, MoistureLimits, PelletForm, PelletShape, ReceivedMoisture, Resin,
    Structure,
};
pub use sorbent::{Desiccant, Over, Sorbent, SorbentError, SorbentLaw, SorbentTable};
