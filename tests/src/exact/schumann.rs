//! A bed of beads whose uptake is linear, and one that only warms: Anzelius (1926), Schumann (1929).
//!
//! What is compared: the air leaving a bed at rest, after a step of its humidity (isothermal, linear
//! isotherm, no heat of sorption) or of its temperature (no uptake), against
//! `J(x, y) = sum over k of e^-y y^k/k! Q(k + 1, x)`, `Q(k + 1, x) = e^-x sum for j <= k of x^j/j!`: the
//! closed form with its Bessel function written as a series (derived here from
//! `J = 1 - e^-y integral from 0 to x of e^-s I0(2 sqrt(y s)) ds`). `x` is the number of transfer units of the
//! bed, `y` that of the air that has passed, over what the bed holds.
//! And the stoichiometric time, `L rho q/(G Y)`.
//! Tolerance: 0.002 of the step, what 192 slices leave; 1e-4 of the time, what 1e-5 kg/kg is off a straight
//! line and the table off the law.
//! Errata and doubts: none known.

use crate::tower_case::at;
use crate::{Kind, Row};
use dryer::sorption::{Adsorbed, Beads, LawPoint, Way};
use dryer::towers::{Cycle, Ending, Swap, Towers, TowersDrive, TowersMesh, TowersSpec};
use dryer::{DryerError, Stream};

const SOURCE: &str = "Anzelius (1926), Schumann (1929)";
/// Dry air, kg/(s m2); depth, m; dry mass, kg/m3; heat capacity, J/(kg K); pressure, Pa.
const FLOW: f64 = 0.42;
const DEPTH: f64 = 0.5;
const DENSITY: f64 = 680.0;
const HEAT: f64 = 950.0;
const PRESSURE: f64 = 101_325.0;
/// Humidity before and after the step, kg/kg.
const STEP: (f64, f64) = (1e-9, 1e-5);
const PORE: f64 = 3e-5;

/// Beads so coarse that 192 slices tell the front of heat well.
const BEADS: Beads = Beads {
    diameter: 6e-3,
    voidage: 0.37,
};

/// The closed form.
fn breakthrough(x: f64, y: f64) -> f64 {
    let (mut at_y, mut at_x) = ((-y).exp(), (-x).exp());
    let (mut below, mut sum) = (at_x, at_y * at_x);
    for k in 1..2000 {
        let k = f64::from(k);
        at_y *= y / k;
        at_x *= x / k;
        below += at_x;
        sum += at_y * below;
    }
    sum
}

/// A bed that holds `slope` kg/kg for each Pa, drying for `seconds`.
fn bed(slope: f64, seconds: f64) -> Result<Towers, DryerError> {
    let law = move |loading: f64, _: f64| LawPoint {
        ln_pressure: (loading / slope).ln(),
        by_loading: 1.0 / loading,
        by_temperature: 0.0,
    };
    TowersSpec {
        diameter: 0.4,
        depth: DEPTH,
        beads: BEADS,
        bulk_density: DENSITY,
        capacity_left: 1.0,
        bead_heat: HEAT,
        vessel_steel: 0.0,
        pore_diffusivity: Some(PORE),
        cycle: Cycle {
            swap: Swap::Clock(seconds),
            regeneration: Ending::After(0.0),
            cooling: Ending::After(0.0),
            cooling_way: Way::Along,
            stuck: None,
        },
        bypass: [0.0; 2],
        pressure: PRESSURE,
        sorbent: Adsorbed::tabulated(10.0 * slope, law),
        mesh: TowersMesh {
            slices: 192,
            growth: 0.1,
            longest: 2.0,
        },
    }
    .check()
}

fn drive(towers: &Towers, temperature: f64, humidity: f64) -> TowersDrive {
    let air = Stream {
        dry_air: FLOW * towers.face,
        temperature,
        humidity,
    };
    TowersDrive {
        process: air,
        regeneration: air,
        cooling: air,
    }
}

fn row(what: String, unit: &'static str, expected: f64, computed: f64, tolerance: f64) -> Row {
    Row {
        source: SOURCE,
        what,
        unit,
        expected,
        computed,
        tolerance,
        absolute: unit.is_empty(),
        why: "what 192 slices leave",
        kind: Kind::Exact,
        disputed: None,
    }
}

/// Shares of the stoichiometric time.
const SHARES: [f64; 6] = [0.3, 0.6, 0.8, 1.0, 1.3, 1.7];

fn moist(rows: &mut Vec<Row>) -> Result<(), DryerError> {
    // Vapour pressures of the step, and 1e-3 kg/kg at its end.
    let vapour = |y: f64| air::mixture::mole_fraction(y) * PRESSURE;
    let slope = 1e-3 / vapour(STEP.1);
    let stoichiometric =
        DEPTH * DENSITY * slope * (vapour(STEP.1) - vapour(STEP.0)) / (FLOW * (STEP.1 - STEP.0));
    let towers = bed(slope, 2.0 * stoichiometric)?;
    let drive = drive(&towers, 318.15, STEP.1);
    let mut state = towers.at_rest(318.15, STEP.0)?;
    let comes = towers.breakthrough(&state, &drive, 200.0)?;
    rows.push(row(
        "stoichiometric time".to_owned(),
        "s",
        stoichiometric,
        comes.stoichiometric,
        1e-4,
    ));
    let half = towers.half(&mut state, &drive)?;
    let transfer = BEADS.transfer(FLOW, 318.15, PRESSURE, STEP.1, Some(PORE));
    let units = transfer.units(FLOW, DEPTH, STEP.1).0;
    for share in SHARES {
        let computed = at(&half, share * stoichiometric, |air| {
            (air.humidity - STEP.0) / (STEP.1 - STEP.0)
        });
        rows.push(row(
            format!("humidity through after {share} of the stoichiometric time, {units:.1} units"),
            "",
            breakthrough(units, units * share),
            computed,
            2e-3,
        ));
    }
    Ok(())
}

fn warm(rows: &mut Vec<Row>) -> Result<(), DryerError> {
    // Air takes 1 K for each 1006 J/kg and its vapour's share.
    let capacity = air::caloric::heat_capacity(STEP.0);
    let full = DEPTH * DENSITY * HEAT / (FLOW * capacity);
    let towers = bed(1e-9, 2.0 * full)?;
    let (cold, hot) = (318.15, 328.15);
    let drive = drive(&towers, hot, STEP.0);
    let mut state = towers.at_rest(cold, STEP.0)?;
    let half = towers.half(&mut state, &drive)?;
    let transfer = BEADS.transfer(FLOW, hot, PRESSURE, STEP.0, Some(PORE));
    let units = transfer.units(FLOW, DEPTH, STEP.0).1;
    for share in SHARES {
        let computed = at(&half, share * full, |air| {
            (air.temperature - cold) / (hot - cold)
        });
        rows.push(row(
            format!("warmth through after {share} of the time to warm the bed, {units:.1} units"),
            "",
            breakthrough(units, units * share),
            computed,
            2e-3,
        ));
    }
    Ok(())
}

/// Every row of this file.
pub fn rows() -> Vec<Row> {
    let mut rows = Vec::new();
    if moist(&mut rows).is_err() || warm(&mut rows).is_err() {
        rows.push(row("the bed".to_owned(), "", 0.0, f64::NAN, 0.0));
    }
    rows
}

#[test]
fn exact_bed_as_anzelius_and_schumann() {
    crate::check(&rows());
}
