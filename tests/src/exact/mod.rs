//! Checks against closed forms, limits and manufactured solutions.

use crate::Row;

pub mod crank;
pub mod equivalent_pellet;
pub mod humid_air;
pub mod pellet_on_its_way;
pub mod schumann;
pub mod slowest_decay;
pub mod stored_pellet;

/// Every row of this folder.
pub fn rows() -> Vec<Row> {
    [
        humid_air::rows,
        crank::rows,
        slowest_decay::rows,
        equivalent_pellet::rows,
        stored_pellet::rows,
        pellet_on_its_way::rows,
        schumann::rows,
    ]
    .iter()
    .flat_map(|rows| rows())
    .collect()
}
