//! What can stop the solution of a line.

use bed::BedError;
use dryer::DryerError;
use numeric::NumericError;
use thiserror::Error;

/// A named failure, with its numbers.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum LineError {
    /// A hopper of the line could not be solved.
    #[error("hopper {station}: {cause}")]
    Hopper {
        /// Which hopper.
        station: String,
        /// Why.
        cause: BedError,
    },
    /// A component of the dryer could not be solved.
    #[error("in the loop, {0}")]
    Dryer(#[from] DryerError),
    /// The loop did not settle.
    #[error(
        "the air of the loop does not settle ({0}): return and supply drive each other, as when a \
         saturated desiccant gives back in one turn what it took in the last"
    )]
    Unsettled(#[from] NumericError),
    /// A line without a hopper, or without air to one.
    #[error("hopper {station} gets {air_flow} kg/s of air; it must be above zero")]
    NoAir {
        /// Which hopper.
        station: String,
        /// Air given to it, kg/s.
        air_flow: f64,
    },
    /// A heater that is far too large for the air that comes.
    #[error(
        "the heater of {station} drives {flow} kg/h of air to {celsius} degC before it is switched off: it is \
         far too large for so little air, and no hopper bears that"
    )]
    RunsAway {
        /// Which hopper.
        station: String,
        /// Dry air, kg/h.
        flow: String,
        /// What it would come to, degC.
        celsius: String,
    },
    /// Blowers against what hardly lets air through.
    #[error("less than {share} of the wanted air moves: a blower stands against a closed way")]
    Blocked {
        /// Of the wanted flow.
        share: f64,
    },
    /// More air taken back than comes.
    #[error(
        "{missing} kg/s of the return air that compressed air takes back has leaked out before"
    )]
    NoReturn {
        /// Dry air, kg/s.
        missing: f64,
    },
    /// A line without a hopper.
    #[error("the line has no hopper")]
    NoHopper,
    /// Batches that nobody draws from.
    #[error("dry resin is drawn at {rate} kg/s from batches; it must be above zero")]
    NoDraw {
        /// Dry resin drawn, kg/s.
        rate: f64,
    },
    /// Films that do not belong to the kinds of pellet.
    #[error("{films} films are given for {kinds} kinds of pellet")]
    Kinds {
        /// Films given.
        films: usize,
        /// Kinds there are.
        kinds: usize,
    },
}
