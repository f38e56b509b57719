//! Wang and LeVan (2009), Adsorption equilibrium of carbon dioxide and water vapor on zeolites 5A and
//! 13X and silica gel: pure components, J. Chem. Eng. Data 54, 2839, tables of water isotherms.
//!
//! What was measured: loading of water on beads of 13X and 5A (with binder) and on silica gel, by volume,
//! at 0 to 100 degC (silica gel to 75 degC) and 3.5 to 2430 Pa; temperature to 0.3 K, pressure to 0.25 %.
//! How read: printed numbers, as kept in the open database SorpPropLib; no reading error.
//! Tolerance: the laws were fitted to these points by the authors, so that the rows say how well a law
//! of five numbers can follow them: bias within 2 %, root mean square within 7 %, the worst within 13 %.
//! Errata and doubts: the numbers of the laws were rounded in print; silica gel's are a fit without a
//! saturation.
//! Not compared: carbon dioxide. Nothing here is below 3.5 Pa (-51 degC frost point) or above 100 degC.

use crate::{Kind, Row};
use files::Desiccants;

/// degC, Pa, kg/kg.
type Point = (f64, f64, f64);

const SIEVE_13X: [Point; 26] = [
    (0.0, 10.5, 0.183755856),
    (0.0, 68.6, 0.217984888),
    (0.0, 379.0, 0.257618504),
    (25.0, 3.5, 0.1125955),
    (25.0, 15.0, 0.151328352),
    (25.0, 44.0, 0.18339555),
    (25.0, 413.0, 0.217984888),
    (25.0, 1830.0, 0.255816976),
    (50.0, 3.5, 0.04828095),
    (50.0, 13.8, 0.083771052),
    (50.0, 27.8, 0.1125955),
    (50.0, 74.0, 0.151148199),
    (50.0, 85.0, 0.15439095),
    (50.0, 280.0, 0.183755856),
    (50.0, 1680.0, 0.217984888),
    (75.0, 11.9, 0.04828095),
    (75.0, 52.0, 0.083590899),
    (75.0, 122.0, 0.1125955),
    (75.0, 409.0, 0.150787894),
    (75.0, 443.0, 0.154030644),
    (75.0, 1020.0, 0.181954328),
    (100.0, 47.7, 0.04828095),
    (100.0, 214.0, 0.083410746),
    (100.0, 487.0, 0.112235194),
    (100.0, 1419.0, 0.14988713),
    (100.0, 1520.0, 0.152949727),
];

const SIEVE_5A: [Point; 26] = [
    (0.0, 49.3, 0.196366552),
    (0.0, 171.0, 0.223389472),
    (0.0, 293.0, 0.248610864),
    (25.0, 14.7, 0.134033683),
    (25.0, 36.0, 0.155111561),
    (25.0, 107.0, 0.176009286),
    (25.0, 269.0, 0.196366552),
    (25.0, 833.0, 0.223389472),
    (25.0, 1580.0, 0.248610864),
    (50.0, 26.7, 0.092058081),
    (50.0, 45.3, 0.112955806),
    (50.0, 76.0, 0.134033683),
    (50.0, 167.0, 0.154931408),
    (50.0, 423.0, 0.175829133),
    (50.0, 1230.0, 0.196366552),
    (75.0, 24.0, 0.057829049),
    (75.0, 119.0, 0.091877928),
    (75.0, 212.0, 0.112775653),
    (75.0, 372.0, 0.133673378),
    (75.0, 739.0, 0.15439095),
    (75.0, 1660.0, 0.174748216),
    (100.0, 48.0, 0.047200034),
    (100.0, 115.0, 0.057829049),
    (100.0, 461.0, 0.091697775),
    (100.0, 761.0, 0.112415347),
    (100.0, 1270.0, 0.132952766),
];

const SILICA_GEL: [Point; 19] = [
    (0.0, 20.0, 0.037435752),
    (0.0, 93.3, 0.096003427),
    (0.0, 200.0, 0.18916044),
    (0.0, 368.0, 0.281038368),
    (0.0, 540.0, 0.34229032),
    (25.0, 27.1, 0.017654974),
    (25.0, 88.9, 0.03729163),
    (25.0, 408.0, 0.095661137),
    (25.0, 941.0, 0.187358912),
    (25.0, 1600.0, 0.27923684),
    (25.0, 2430.0, 0.340488792),
    (50.0, 29.7, 0.007782601),
    (50.0, 115.0, 0.017600929),
    (50.0, 363.0, 0.037111477),
    (50.0, 1880.0, 0.09458022),
    (75.0, 13.9, 0.001927635),
    (75.0, 113.0, 0.007692525),
    (75.0, 466.0, 0.017240623),
    (75.0, 1500.0, 0.03603056),
];

/// Three rows a sorbent: bias, root mean square and worst point.
pub fn rows() -> Vec<Row> {
    let all = Desiccants::shipped().unwrap_or_default();
    let mut rows = Vec::new();
    for (key, points) in [
        ("molecular-sieve-13x", &SIEVE_13X[..]),
        ("molecular-sieve-5a", &SIEVE_5A[..]),
        ("silica-gel-granular", &SILICA_GEL[..]),
    ] {
        let off: Vec<f64> = points
            .iter()
            .map(|(celsius, p, measured)| {
                let law = all
                    .get(key)
                    .map(|d| d.sorbent.loading(*p, celsius + 273.15));
                law.unwrap_or(f64::NAN) / measured - 1.0
            })
            .collect();
        let count = off.len() as f64;
        let bias = off.iter().sum::<f64>() / count;
        let square = (off.iter().map(|x| x * x).sum::<f64>() / count).sqrt();
        let worst = off.iter().fold(0.0_f64, |most, x| most.max(x.abs()));
        let row = |what: &str, expected: f64, computed: f64, tolerance: f64| Row {
            source: "Wang and LeVan (2009), water isotherms",
            what: format!("{key}, law over {} points measured: {what}", off.len()),
            unit: "",
            expected,
            computed,
            tolerance,
            absolute: true,
            why: "five numbers that the authors fitted to these points",
            kind: Kind::Published,
            disputed: None,
        };
        rows.push(row("mean", 1.0, 1.0 + bias, 0.02));
        rows.push(row("root mean square of what is off", 0.0, square, 0.07));
        rows.push(row("most that is off", 0.0, worst, 0.13));
    }
    rows
}

#[cfg(test)]
mod tests {
    #[test]
    fn published_wang_levan() {
        crate::check(&super::rows());
    }
}
