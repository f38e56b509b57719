//! Checks against papers and standards, one file a source.

use crate::Row;

pub mod iapws_saturation;

/// Every row of this folder.
pub fn rows() -> Vec<Row> {
    [iapws_saturation::rows]
        .iter()
        .flat_map(|rows| rows())
        .collect()
}
