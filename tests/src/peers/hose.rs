//! fluids 1.3.1 and ht 1.2.0: friction and heat transfer of a hose.
//!
//! What it is: Darcy's friction factor, laminar and by Colebrook's equation (`fluids.friction_factor`, method
//! of Clamond); Nusselt numbers inside a smooth pipe by Gnielinski (1976) and around a horizontal cylinder in
//! still air by Churchill and Chu (1975) (`ht`).
//! How read: frozen from `bench/peers/dryer_parts_table.py`, which prints the table below with ten digits.
//! Tolerance: 2e-9, the digits printed.
//! Errata and doubts: between Reynolds 2300 and 4000 both sides interpolate, each in its own way.
//! Not compared: that range.

use crate::{Kind, Row};
use dryer::duct::{friction_factor, nusselt, nusselt_still_air};

/// Reynolds, roughness over diameter, friction factor.
const FRICTION: &[(f64, f64, f64)] = &[
    (500.0, 0.0, 0.128),
    (500.0, 0.001, 0.128),
    (500.0, 0.01, 0.128),
    (500.0, 0.05, 0.128),
    (2000.0, 0.0, 0.032),
    (2000.0, 0.001, 0.032),
    (2000.0, 0.01, 0.032),
    (2000.0, 0.05, 0.032),
    (4000.0, 0.0, 0.03990701406),
    (4000.0, 0.001, 0.04091038986),
    (4000.0, 0.01, 0.04908226945),
    (4000.0, 0.05, 0.07698683489),
    (20000.0, 0.0, 0.02588307854),
    (20000.0, 0.001, 0.02794571302),
    (20000.0, 0.01, 0.04070544821),
    (20000.0, 0.05, 0.07269007675),
    (100000.0, 0.0, 0.01798977308),
    (100000.0, 0.001, 0.02217453594),
    (100000.0, 0.01, 0.03850354353),
    (100000.0, 0.05, 0.07178092944),
    (1000000.0, 0.0, 0.011645041),
    (1000000.0, 0.001, 0.01994346584),
    (1000000.0, 0.01, 0.03796474188),
    (1000000.0, 0.05, 0.07157375386),
];

/// Reynolds, Prandtl, Nusselt inside a smooth pipe.
const INSIDE: &[(f64, f64, f64)] = &[
    (4000.0, 0.7, 12.93003477),
    (20000.0, 0.7, 50.79607181),
    (100000.0, 0.7, 178.5989352),
];

/// Prandtl, Grashof, Nusselt around a horizontal cylinder.
const AROUND: &[(f64, f64, f64)] = &[
    (0.71, 10000.0, 4.034066229),
    (0.71, 1000000.0, 13.20972132),
    (0.71, 100000000.0, 50.94634609),
];

/// One row for each number.
pub fn rows() -> Vec<Row> {
    let row = |source, what: String, expected: f64, computed: Option<f64>, tolerance| Row {
        source,
        what,
        unit: "",
        expected,
        computed: computed.unwrap_or(f64::NAN),
        tolerance,
        absolute: false,
        why: "the same equation, digits printed",
        kind: Kind::Peer,
        disputed: None,
    };
    let friction = FRICTION.iter().map(|&(reynolds, roughness, expected)| {
        let what = format!("friction factor, Reynolds {reynolds}, roughness {roughness}");
        let computed = friction_factor(reynolds, roughness).ok();
        row("fluids 1.3.1", what, expected, computed, 2e-9)
    });
    let inside = INSIDE.iter().map(|&(reynolds, prandtl, expected)| {
        let what = format!("Nusselt number in a smooth pipe, Reynolds {reynolds}");
        let computed = nusselt(reynolds, prandtl).ok();
        row("ht 1.2.0", what, expected, computed, 2e-9)
    });
    let around = AROUND.iter().map(|&(prandtl, grashof, expected)| {
        let what = format!("Nusselt number around a cylinder in still air, Grashof {grashof}");
        let computed = nusselt_still_air(prandtl, grashof).ok();
        row("ht 1.2.0", what, expected, computed, 2e-9)
    });
    friction.chain(inside).chain(around).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn peer_hose() {
        crate::check(&super::rows());
    }
}
