//! A cell: what one dryer serves, run after run, each run one or more hoppers at once.

use crate::{Job, Plant};
use serde::{Deserialize, Serialize};

/// What one dryer serves.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Cell {
    /// What the user calls it.
    pub title: String,
    /// One after another.
    pub runs: Vec<Run>,
    /// The plant about it.
    pub plant: Plant,
}

/// Hoppers that run at once, with shared return air.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Run {
    /// Part of the running time, of the sum over all runs.
    pub share: f64,
    /// The jobs, each in a hopper of its own.
    pub jobs: Vec<Job>,
}

impl Cell {
    /// Jobs one after another, for equal parts of the time, in the plant of the first that states days
    /// and of the first that states prices.
    pub fn in_turn(jobs: Vec<Job>) -> Self {
        let plants: Vec<&Plant> = jobs.iter().map(|job| &job.plant).collect();
        let plant = Plant::of_first(&plants);
        let titles: Vec<&str> = jobs.iter().map(|job| job.title.as_str()).collect();
        Self {
            title: titles.join("; then "),
            plant,
            runs: jobs
                .into_iter()
                .map(|job| Run {
                    share: 1.0,
                    jobs: vec![job],
                })
                .collect(),
        }
    }
}

impl From<Job> for Cell {
    fn from(job: Job) -> Self {
        Self::in_turn(vec![job])
    }
}
