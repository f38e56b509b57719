//! Whole runs, from a job file to an answer.

#[cfg(test)]
mod plans;
