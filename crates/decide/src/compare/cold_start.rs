//! The cold start: from a dryer long at rest, its hoppers just filled, to the first dry pellets.

use crate::case::Case;
use crate::closed::line_of;
use line::equipment::Equipment;
use line::{Line, LineError, Room};
use serde::Serialize;

/// Longest time that is followed, in stays of the slowest hopper, and hours besides.
const LONGEST: (f64, f64) = (2.0, 3.0);
/// Time between two looks, s.
const LOOK: f64 = 900.0;

/// What a cold start comes to.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ColdStart {
    /// Every hopper has let go a parcel within its limit after so many hours.
    Dry(f64),
    /// One had not in twice its stay and three hours.
    StaysWet,
    /// It could not be followed.
    NotFollowed(String),
}

impl ColdStart {
    /// Hours to the first dry pellets, where they come.
    pub fn hours(&self) -> Option<f64> {
        match self {
            Self::Dry(hours) => Some(*hours),
            Self::StaysWet | Self::NotFollowed(_) => None,
        }
    }

    /// The worse of two.
    pub(super) fn worse(self, other: Self) -> Self {
        match (self, other) {
            (Self::NotFollowed(cause), _) | (_, Self::NotFollowed(cause)) => {
                Self::NotFollowed(cause)
            }
            (Self::StaysWet, _) | (_, Self::StaysWet) => Self::StaysWet,
            (Self::Dry(a), Self::Dry(b)) => Self::Dry(a.max(b)),
        }
    }
}

/// The cold start of these hoppers, resin drawn from the first moment.
pub(super) fn cold_start(equipment: &Equipment, cases: &[Case], room: Room) -> ColdStart {
    let coarse: Vec<Case> = cases.iter().map(Case::coarse).collect();
    let line = match line_of(equipment, &coarse, room) {
        Ok(line) => line,
        Err(cause) => return ColdStart::NotFollowed(cause.to_string()),
    };
    followed(&line, &coarse).unwrap_or_else(|cause| ColdStart::NotFollowed(cause.to_string()))
}

fn followed(line: &Line, cases: &[Case]) -> Result<ColdStart, LineError> {
    let stay = cases.iter().map(Case::residence).fold(0.0, f64::max);
    let longest = LONGEST.0 * stay + LONGEST.1 * 3600.0;
    let mut state = line.at_rest()?;
    let mut dry: Vec<Option<f64>> = vec![None; cases.len()];
    while state.time < longest {
        let run = line.run(&mut state, LOOK)?;
        for moment in &run.moments {
            let hoppers = moment.stations.iter().zip(cases).zip(&mut dry);
            for ((station, case), dry) in hoppers {
                if dry.is_none()
                    && station
                        .parcel
                        .is_some_and(|parcel| parcel.water <= case.limit)
                {
                    *dry = Some(moment.time);
                }
            }
        }
        let times: Option<Vec<f64>> = dry.iter().copied().collect();
        if let Some(times) = times {
            let last = times.into_iter().fold(0.0, f64::max);
            return Ok(ColdStart::Dry(last / 3600.0));
        }
    }
    Ok(ColdStart::StaysWet)
}
