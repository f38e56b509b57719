//! Checks against other programs, one file a program; the scripts are in `bench/peers`.

use crate::Row;

pub mod blend;
pub mod cooler;
pub mod coolprop_humid_air;
pub mod explicit_wheel;
pub mod heat_exchanger;
pub mod hopper;
pub mod hose;
pub mod line_air;
pub mod nonlinear_pellet;
pub mod packed_bed;
pub mod psychrolib;
pub mod shift;
pub mod sine_duct;
pub mod towers;
pub mod vacuum_dryer;
pub mod wheel;

/// Every row of this folder.
pub fn rows() -> Vec<Row> {
    [
        coolprop_humid_air::rows,
        psychrolib::rows,
        packed_bed::rows,
        nonlinear_pellet::rows,
        hopper::rows,
        shift::rows,
        blend::rows,
        sine_duct::rows,
        heat_exchanger::rows,
        cooler::rows,
        hose::rows,
        line_air::rows,
        wheel::rows,
        explicit_wheel::rows,
        towers::rows,
        vacuum_dryer::rows,
    ]
    .iter()
    .flat_map(|rows| rows())
    .collect()
}
