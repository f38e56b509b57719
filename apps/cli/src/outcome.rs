//! How a command went, and what went wrong.

use crate::show;
use drybed::{Faults, Trouble};
use std::io;
use std::path::PathBuf;
use std::process::ExitCode;

/// How a command went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// Answered, and met where something had to be.
    Met,
    /// Answered: the plan cannot be met as it stands.
    NotMet,
    /// Bad input, nothing written.
    Refused,
    /// Something could not be written or computed.
    Failed,
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> Self {
        Self::from(match outcome {
            Outcome::Met => 0,
            Outcome::NotMet => 1,
            Outcome::Refused => 2,
            Outcome::Failed => 3,
        })
    }
}

/// Why a command gave no answer, or could not leave it.
#[derive(Debug)]
pub(crate) enum Failure {
    /// What was asked cannot be.
    Asked(Faults),
    /// The answer could not be computed or shown.
    Answer(Trouble),
    /// A file could not be written.
    File {
        /// Which.
        path: PathBuf,
        /// Why.
        cause: io::Error,
    },
    /// The standard output could not be written.
    Output(io::Error),
}

impl From<Trouble> for Failure {
    fn from(trouble: Trouble) -> Self {
        match trouble {
            Trouble::Asked(faults) => Self::Asked(faults),
            other => Self::Answer(other),
        }
    }
}

impl From<Faults> for Failure {
    fn from(faults: Faults) -> Self {
        Self::Asked(faults)
    }
}

impl Failure {
    /// Says what went wrong, once.
    pub(crate) fn tell(&self) -> Outcome {
        match self {
            Self::Asked(faults) => {
                show::tell(&faults.to_string());
                let count = show::mistakes(faults.len());
                show::tell(&format!("\n{count}; nothing was written."));
                Outcome::Refused
            }
            Self::Answer(trouble) => {
                show::tell(&format!("no answer: {trouble}"));
                Outcome::Failed
            }
            Self::File { path, cause } => {
                show::tell(&format!("{} was not written: {cause}", path.display()));
                Outcome::Failed
            }
            // Whoever closed the pipe has read enough.
            Self::Output(cause) if cause.kind() == io::ErrorKind::BrokenPipe => Outcome::Met,
            Self::Output(cause) => {
                show::tell(&format!("the answer was not written: {cause}"));
                Outcome::Failed
            }
        }
    }
}
