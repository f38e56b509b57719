//! Why a question could not be answered.

use air::AirError;
use bed::BedError;
use line::LineError;
use line::equipment::EquipmentError;
use pellet::PelletError;
use thiserror::Error;

/// A named failure; a plan that cannot be met is an answer, not an error.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum DecideError {
    /// The air of the job cannot be.
    #[error("the air of {place} cannot be: {cause}")]
    Air {
        /// Which air.
        place: &'static str,
        /// Why.
        cause: AirError,
    },
    /// The pellet cannot be solved.
    #[error("the pellet cannot be solved: {0}")]
    Pellet(#[from] PelletError),
    /// What a pellet goes through on its way cannot be.
    #[error("the way of a pellet cannot be: {0}")]
    History(quantity::Faults),
    /// The bed cannot be solved.
    #[error("the hopper cannot be solved: {0}")]
    Bed(#[from] BedError),
    /// A dryer that cannot be.
    #[error("the dryer {title} cannot be: {cause}")]
    Equipment {
        /// Which dryer.
        title: String,
        /// Why.
        cause: Box<EquipmentError>,
    },
    /// A dryer and its hoppers that do not settle.
    #[error("with the dryer {title}: {cause}")]
    Line {
        /// Which dryer.
        title: String,
        /// Why.
        cause: Box<LineError>,
    },
    /// A search that cannot go on.
    #[error("set-points cannot be searched: {0}")]
    Search(#[from] numeric::NumericError),
    /// A cell, or a run of it, in which nothing is dried.
    #[error("a run of the cell has no hopper, or no run has a share of the time")]
    NoJob,
    /// Hoppers of one cell in air of different pressure.
    #[error(
        "{} and {} stand at {:.1} and {:.1} kPa; one dryer serves them only in one place",
        jobs[0], jobs[1], kilopascal[0], kilopascal[1]
    )]
    TwoPlaces {
        /// Which jobs.
        jobs: [String; 2],
        /// Pressure of the air about each, kPa.
        kilopascal: [f64; 2],
    },
    /// One set of vessels for several jobs at once.
    #[error("the dryer {title} has one set of vessels, and {jobs} jobs run at once")]
    OneAtATime {
        /// Which dryer.
        title: String,
        /// How many jobs.
        jobs: usize,
    },
    /// Batches that do not come as fast as they are drawn.
    #[error(
        "the batches of the dryer {title} come to {given:.3} kg/h of dry resin, and {asked:.3} kg/h are drawn"
    )]
    TooSmall {
        /// Which dryer.
        title: String,
        /// Dry resin drawn, kg/h.
        asked: f64,
        /// Dry resin that its batches come to, kg/h.
        given: f64,
    },
    /// A dryer that does not come to its set point from cold.
    #[error(
        "the dryer {title} is not ready within {hours:.0} h of switching on: its air comes to {comes_to_c:.0} degC, \
         and the set point is {set_point_c:.0} degC"
    )]
    NeverReady {
        /// Which dryer.
        title: String,
        /// How long it was followed, h.
        hours: f64,
        /// Its set point, degC.
        set_point_c: f64,
        /// The hottest air into the hopper, degC.
        comes_to_c: f64,
    },
    /// Nothing to compare.
    #[error("there is no dryer to compare")]
    NoDryer,
    /// No dryer could be run on every day.
    #[error("none of the dryers could be computed: {}", joined(.0))]
    NoneComputed(Vec<Self>),
}

/// Errors one after another.
fn joined(causes: &[DecideError]) -> String {
    let each: Vec<String> = causes.iter().map(ToString::to_string).collect();
    each.join("; ")
}
