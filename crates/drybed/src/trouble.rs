//! Why a question was not answered.

use decide::DecideError;
use document::DocumentFault;
use pellet::PelletError;
use quantity::Faults;
use thiserror::Error;

/// Why a question was not answered.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Trouble {
    /// What was asked cannot be: every mistake in it.
    #[error("{0}")]
    Asked(Faults),
    /// The plan could not be computed.
    #[error("{0}")]
    Decide(#[from] DecideError),
    /// The pellet could not be followed.
    #[error("{0}")]
    Pellet(#[from] PelletError),
    /// The answer cannot be shown.
    #[error("the answer cannot be shown: {}", listed(.0))]
    Shown(Vec<DocumentFault>),
    /// The answer cannot be written as JSON.
    #[error("the answer cannot be written as JSON: {0}")]
    Json(String),
}

impl From<Faults> for Trouble {
    fn from(faults: Faults) -> Self {
        Self::Asked(faults)
    }
}

impl From<Vec<DocumentFault>> for Trouble {
    fn from(faults: Vec<DocumentFault>) -> Self {
        Self::Shown(faults)
    }
}

fn listed(faults: &[DocumentFault]) -> String {
    let words: Vec<String> = faults.iter().map(ToString::to_string).collect();
    words.join("; ")
}
