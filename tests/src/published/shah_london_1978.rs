//! Shah and London (1978), Laminar flow forced convection in ducts, Academic Press, sine ducts.
//!
//! What was measured: nothing; computed by them for laminar flow in ducts between a flat and a
//! sinusoidal wall: f Re (Fanning) and Nu H1 at four heights over pitch.
//! How read: remembered, not read for this check.
//! Tolerance: 5e-4, the digits remembered.
//! Errata and doubts: none known; our own finite elements give the same digits.
//! Not compared: Nu T, of which no value is remembered.

use crate::{Kind, Row};
use dryer::channel::Shape;

const REMEMBERED: [(f64, f64, f64); 4] = [
    (1.0, 13.023, 3.102),
    (0.75, 12.234, 2.916),
    (0.5, 11.207, 2.617),
    (0.25, 10.123, 2.213),
];

/// Two rows a shape.
pub fn rows() -> Vec<Row> {
    let mut rows = Vec::new();
    for (aspect, friction, nusselt) in REMEMBERED {
        let shape = Shape::of(aspect).ok();
        let computed = [
            ("f Re", friction, shape.map_or(f64::NAN, |s| s.friction)),
            (
                "Nu H1",
                nusselt,
                shape.map_or(f64::NAN, |s| s.nusselt_equal_flow),
            ),
        ];
        for (what, expected, computed) in computed {
            rows.push(Row {
                source: "Shah and London (1978), remembered",
                what: format!("{what} of a sine duct, height over pitch {aspect}"),
                unit: "",
                expected,
                computed,
                tolerance: 5e-4,
                absolute: false,
                why: "the digits remembered",
                kind: Kind::Published,
                disputed: None,
            });
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    #[test]
    fn published_shah_london() {
        crate::check(&super::rows());
    }
}
