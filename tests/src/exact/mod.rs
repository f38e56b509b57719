//! Checks against closed forms, limits and manufactured solutions.

use crate::Row;

pub mod crank;
pub mod humid_air;

/// Every row of this folder.
pub fn rows() -> Vec<Row> {
    [humid_air::rows, crank::rows]
        .iter()
        .flat_map(|rows| rows())
        .collect()
}
