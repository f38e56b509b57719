//! A dryer that could not be run on some day: on which days, and the physical reason.

use crate::DecideError;
use crate::compare::{AirFrom, DayRun, Dryer, Offered};
use line::LineError;
use serde::Serialize;

/// A dryer that has no year, because a day of it could not be computed; it is never recommended.
#[derive(Clone, Debug, Serialize)]
pub struct NotComputed {
    /// What it is called.
    pub title: String,
    /// Whether it is the one that stands there today.
    pub mine: bool,
    /// Where its air comes from.
    pub air: AirFrom,
    /// Each run and day that could not be computed.
    pub missing: Vec<MissingDay>,
    /// Each run and day that could.
    pub days: Vec<DayRun>,
    /// What stopped the first of them.
    #[serde(skip)]
    pub(super) cause: DecideError,
}

/// One run on one day that could not be computed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MissingDay {
    /// Which run of the cell.
    pub run: usize,
    /// Which day.
    pub day: String,
    /// Which kind of reason.
    pub why: WhyNot,
    /// The reason, with its numbers.
    pub reason: String,
}

/// Kinds of reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum WhyNot {
    /// What is stated of it makes no dryer.
    CannotBe,
    /// Its air and its hoppers drive each other and never come to rest.
    DoesNotSettle,
    /// Hardly any air comes to the hoppers.
    NoAir,
    /// It is too small for the jobs, or cannot hold those that run at once.
    TooSmall,
    /// A hopper, a pellet or a component cannot be solved in its air.
    NotSolved,
}

impl NotComputed {
    /// A dryer with the days that it could be run on and those that it could not; none where it has all days.
    pub(super) fn of(
        dryer: &Dryer,
        offered: &Offered<'_>,
        missing: Vec<(usize, String, DecideError)>,
        days: Vec<DayRun>,
    ) -> Result<Vec<DayRun>, Box<Self>> {
        let Some((_, _, cause)) = missing.first().cloned() else {
            return Ok(days);
        };
        let told = missing.into_iter().map(|(run, day, cause)| {
            let (why, reason) = reason(&cause);
            MissingDay {
                run,
                day,
                why,
                reason,
            }
        });
        Err(Box::new(Self {
            title: dryer.title().to_owned(),
            mine: offered.mine,
            air: dryer.air(),
            missing: told.collect(),
            days,
            cause,
        }))
    }

    /// Each reason once, in the order of the days.
    pub fn reasons(&self) -> Vec<&str> {
        let mut told: Vec<&str> = Vec::new();
        for day in &self.missing {
            if !told.contains(&day.reason.as_str()) {
                told.push(&day.reason);
            }
        }
        told
    }
}

/// The kind of reason, and the reason without the title of the dryer.
fn reason(cause: &DecideError) -> (WhyNot, String) {
    match cause {
        DecideError::Equipment { cause, .. } => (WhyNot::CannotBe, cause.to_string()),
        DecideError::Line { cause, .. } => {
            let why = match cause.as_ref() {
                LineError::Unsettled(_) => WhyNot::DoesNotSettle,
                LineError::Blocked { .. }
                | LineError::NoAir { .. }
                | LineError::NoReturn { .. } => WhyNot::NoAir,
                _ => WhyNot::NotSolved,
            };
            (why, cause.to_string())
        }
        DecideError::OneAtATime { .. } | DecideError::TooSmall { .. } => {
            (WhyNot::TooSmall, cause.to_string())
        }
        other => (WhyNot::NotSolved, other.to_string()),
    }
}
