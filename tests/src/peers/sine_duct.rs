//! Laminar flow in sine ducts by linear finite elements, NumPy 2.4.6 and SciPy 1.17.1.
//!
//! What it is: f Re, Nu H1, Nu T, the excess K of the developing flow and the hydraulic diameter of a
//! duct between a flat and a sinusoidal wall, each extrapolated from two grids.
//! How read: frozen from `bench/peers/sine_duct_table.py`, which prints the table below.
//! Tolerance: 1e-3 between the shapes at which the polynomial of `dryer::channel` was fixed (its values
//! come from the same script, so the rows at those shapes are left out); 1e-4 for the hydraulic
//! diameter, which is computed anew.
//! Errata and doubts: the two grids differ by up to 3e-4 before extrapolation.
//! Not compared: developing flow near the mouth.

use crate::{Kind, Row};
use dryer::channel::{ChannelSpec, Shape};

/// Height over pitch; f Re, Nu H1, Nu T, K, hydraulic diameter over pitch.
const BETWEEN: [(f64, [f64; 5]); 4] = [
    (0.3, [10.3205, 2.2973, 1.8095, 1.9577, 0.2734]),
    (0.6, [11.6430, 2.7522, 2.2245, 1.7723, 0.4583]),
    (1.25, [13.6004, 3.2086, 2.5261, 1.7701, 0.6645]),
    (1.75, [14.3369, 3.2984, 2.5208, 1.8463, 0.7435]),
];

/// Five rows a shape.
pub fn rows() -> Vec<Row> {
    let mut rows = Vec::new();
    for (aspect, expected) in BETWEEN {
        let spec = ChannelSpec {
            pitch: 2e-3,
            height: 2e-3 * aspect,
            sheet: 1e-4,
        };
        let nan = Shape {
            friction: f64::NAN,
            nusselt_equal_flow: f64::NAN,
            nusselt_one_wall: f64::NAN,
            entrance: f64::NAN,
        };
        let shape = Shape::of(aspect).unwrap_or(nan);
        let hydraulic = spec.check().map_or(f64::NAN, |c| c.hydraulic_diameter);
        let computed = [
            ("f Re", shape.friction, 1e-3),
            ("Nu H1", shape.nusselt_equal_flow, 1e-3),
            ("Nu T", shape.nusselt_one_wall, 1e-3),
            ("K", shape.entrance, 5e-3),
            (
                "hydraulic diameter over pitch",
                hydraulic / spec.pitch,
                2e-4,
            ),
        ];
        for ((what, computed, tolerance), expected) in computed.into_iter().zip(expected) {
            rows.push(Row {
                source: "finite elements, SciPy 1.17.1",
                what: format!("{what} of a sine duct, height over pitch {aspect}"),
                unit: "",
                expected,
                computed,
                tolerance,
                absolute: false,
                why: "a polynomial through seven shapes, read between them; four digits frozen",
                kind: Kind::Peer,
                disputed: None,
            });
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    #[test]
    fn peer_sine_duct() {
        crate::check(&super::rows());
    }
}
