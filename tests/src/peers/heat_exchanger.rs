//! ht 1.2.0: effectiveness of heat exchangers.
//!
//! What it is: effectiveness over transfer units and ratio of heat capacity flows, counterflow, parallel and
//! crossflow with both streams unmixed (`ht.hx.effectiveness_from_NTU`, which integrates the crossflow).
//! How read: frozen from `bench/peers/dryer_parts_table.py`, which prints the table below with nine digits.
//! Tolerance: 3e-9 absolute, the digits printed and the integration.
//! Not compared: one stream mixed, which the workspace does not have.

use crate::{Kind, Row};
use dryer::exchanger::{Arrangement, effectiveness};

/// Transfer units, ratio, and effectiveness in counterflow, parallel and crossflow.
const STATES: &[(f64, f64, [f64; 3])] = &[
    (0.5, 0.2, [0.380720928, 0.375990303, 0.378678403]),
    (1.0, 0.2, [0.605043774, 0.582338157, 0.596538262]),
    (2.0, 0.2, [0.8316864, 0.757735039, 0.810752711]),
    (3.0, 0.2, [0.926084546, 0.810563565, 0.901573246]),
    (5.0, 0.2, [0.985293618, 0.831267707, 0.967964437]),
    (0.5, 0.8, [0.344629556, 0.329683522, 0.338466493]),
    (1.0, 0.8, [0.525394658, 0.46372284, 0.503251562]),
    (2.0, 0.8, [0.710909424, 0.54037571, 0.659337133]),
    (3.0, 0.8, [0.804328029, 0.553046344, 0.735516368]),
    (5.0, 0.8, [0.895740033, 0.555486995, 0.813790071]),
    (0.5, 1.0, [0.333333333, 0.316060279, 0.326329977]),
    (1.0, 1.0, [0.5, 0.432332358, 0.476222388]),
    (2.0, 1.0, [0.666666667, 0.490842181, 0.614247239]),
    (3.0, 1.0, [0.75, 0.498760624, 0.681291108]),
    (5.0, 1.0, [0.833333333, 0.4999773, 0.750903981]),
];

/// Three rows for each state.
pub fn rows() -> Vec<Row> {
    const ARRANGEMENTS: [(Arrangement, &str); 3] = [
        (Arrangement::Counterflow, "counterflow"),
        (Arrangement::Parallel, "parallel flow"),
        (Arrangement::Crossflow, "crossflow"),
    ];
    let of_state = |&(units, ratio, expected): &(f64, f64, [f64; 3])| {
        ARRANGEMENTS
            .into_iter()
            .zip(expected)
            .map(move |((arrangement, name), expected)| Row {
                source: "ht 1.2.0",
                what: format!("effectiveness in {name}, {units} transfer units, ratio {ratio}"),
                unit: "",
                expected,
                computed: effectiveness(arrangement, units, ratio).unwrap_or(f64::NAN),
                tolerance: 3e-9,
                absolute: true,
                why: "digits printed, and an integration on the other side",
                kind: Kind::Peer,
                disputed: None,
            })
    };
    STATES.iter().flat_map(of_state).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn peer_heat_exchanger() {
        crate::check(&super::rows());
    }
}
