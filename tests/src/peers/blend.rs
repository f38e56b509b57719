//! Several kinds of pellet in one bed: SciPy 1.17.1 on the hopper of `docs/benchmark.md`.
//!
//! What it is: two sizes of one resin, the small fed dry and the big wet; and three kinds that differ in
//! size, diffusivity, heat capacity, films and isotherm (two of Henry's, one of GAB's with heats that
//! change with moisture). In time by discontinuous Galerkin in height, orthogonal collocation in the
//! radius and LSODA; at rest as a boundary-value problem by `solve_bvp`. Each with a diffusivity that
//! does not change with temperature and with one of 33.1 kJ/mol.
//! How read: frozen from `bench/peers/blend.py`, which prints the tables below.
//! Doubt: two meshes lie within 5e-5 of each other in moisture and 1e-5 in the return air, and the run
//! at 80 h within 2e-5 of the state at rest; with one kind the script meets CVODE (`hopper.rs`) in 1e-5.
//! Tolerance: 5e-4; our own error at these 320 parcels is up to 4.4e-4, and 4.1e-5 at 1280.
//! Not compared: condensation, free water, D that changes with moisture, kinds that are not spheres.

use crate::{Kind, Row};
use bed::BedError;
use bed::column::{Column, ColumnState, Drive, Feeding, Wall};
use bed::profile::Profile;
use bed::run::{Run, watch};
use material::{Diffusivity, Isotherm};
use pellet::Outline;
use pellet::blend::Beside;
use pellet::contact::{Calorics, Contact, Exchange};
use pellet::interior::Interior;

const SOURCE: &str = "SciPy 1.17.1, discontinuous Galerkin and solve_bvp";

/// A kind of sphere.
struct Sphere {
    name: &'static str,
    /// Share of the dry resin.
    share: f64,
    /// m.
    diameter: f64,
    /// At 393.15 K, m2/s.
    diffusivity: f64,
    isotherm: Isotherm,
    /// Dry, J/(kg K).
    heat_capacity: f64,
    /// W/(K kg).
    heat: f64,
    /// kg/(s Pa kg).
    film: f64,
    /// Moisture fed, kg/kg.
    fed: f64,
}

const RESIN: Isotherm = Isotherm::Henry {
    capacity: 0.006,
    reference_temperature: 373.15,
    mixing_heat: 6300.0,
};
const LITTLE: Isotherm = Isotherm::Henry {
    capacity: 0.0025,
    reference_temperature: 373.15,
    mixing_heat: 2000.0,
};
const MUCH: Isotherm = Isotherm::Gab {
    monolayer: 0.02,
    surface_constant: 6.0,
    multilayer_constant: 0.8,
    reference_temperature: 333.15,
    surface_heat: -5000.0,
    multilayer_heat: -500.0,
};

const SMALL: Sphere = Sphere {
    name: "small",
    share: 0.75,
    diameter: 3e-3,
    diffusivity: 5e-11,
    isotherm: RESIN,
    heat_capacity: 1400.0,
    heat: 100.0,
    film: 5.5e-7,
    fed: 2e-4,
};

const TWO: &[Sphere] = &[
    SMALL,
    Sphere {
        name: "big",
        share: 0.25,
        diameter: 4.8e-3,
        heat: 100.0 / 2.56,
        film: 5.5e-7 / 2.56,
        fed: 3e-3,
        ..SMALL
    },
];

const THREE: &[Sphere] = &[
    Sphere {
        name: "the resin",
        share: 0.5,
        fed: 2e-3,
        ..SMALL
    },
    Sphere {
        name: "one that takes up little",
        share: 0.3,
        diameter: 2.4e-3,
        diffusivity: 7e-11,
        isotherm: LITTLE,
        heat_capacity: 1900.0,
        heat: 140.0,
        film: 8e-7,
        fed: 4e-4,
    },
    Sphere {
        name: "one that takes up much",
        share: 0.2,
        diameter: 3.6e-3,
        diffusivity: 3e-11,
        isotherm: MUCH,
        heat_capacity: 1700.0,
        heat: 70.0,
        film: 4e-7,
        fed: 8e-3,
    },
];

/// What is seen of a bed at one time.
struct Seen<'a> {
    /// Moisture of each kind at the plane of the air inlet, kg/kg; last, the mean of the blend.
    moisture: &'a [f64],
    /// Return air: degC, kg/kg.
    air: (f64, f64),
}

/// What the peer found for one blend and one diffusivity.
struct Case {
    name: &'static str,
    spheres: &'static [Sphere],
    /// Activation energy of every diffusivity, J/mol.
    energy: f64,
    /// Hours, and what is seen then.
    in_time: [(f64, Seen<'static>); 4],
    /// What is seen when nothing changes any more.
    at_rest: Seen<'static>,
}

const CASES: [Case; 4] = [
    Case {
        name: "two sizes",
        spheres: TWO,
        energy: 0.0,
        in_time: [
            (
                4.0,
                Seen {
                    moisture: &[1.6537915e-05, 6.3830400e-04, 1.7197944e-04],
                    air: (2.4344990e+01, 4.4969427e-04),
                },
            ),
            (
                8.0,
                Seen {
                    moisture: &[1.0692930e-05, 6.3069285e-04, 1.6569291e-04],
                    air: (3.3108135e+01, 4.5109249e-04),
                },
            ),
            (
                12.0,
                Seen {
                    moisture: &[8.6356347e-06, 6.2690574e-04, 1.6320316e-04],
                    air: (4.0409577e+01, 4.4742800e-04),
                },
            ),
            (
                16.0,
                Seen {
                    moisture: &[8.6050541e-06, 6.2683878e-04, 1.6316349e-04],
                    air: (4.0415975e+01, 4.4741841e-04),
                },
            ),
        ],
        at_rest: Seen {
            moisture: &[8.6047935e-06, 6.2683801e-04, 1.6316310e-04],
            air: (4.0416580e+01, 4.4741845e-04),
        },
    },
    Case {
        name: "two sizes",
        spheres: TWO,
        energy: 33.1e3,
        in_time: [
            (
                4.0,
                Seen {
                    moisture: &[5.8863147e-05, 1.4960180e-03, 4.1815186e-04],
                    air: (2.4848743e+01, 3.7146501e-04),
                },
            ),
            (
                8.0,
                Seen {
                    moisture: &[3.7228937e-05, 1.2028682e-03, 3.2863876e-04],
                    air: (3.3155758e+01, 4.1781347e-04),
                },
            ),
            (
                12.0,
                Seen {
                    moisture: &[2.8426094e-05, 1.0658286e-03, 2.8777671e-04],
                    air: (4.0459096e+01, 3.8742904e-04),
                },
            ),
            (
                16.0,
                Seen {
                    moisture: &[2.7771122e-05, 1.0551304e-03, 2.8461094e-04],
                    air: (4.0529286e+01, 3.8682127e-04),
                },
            ),
        ],
        at_rest: Seen {
            moisture: &[2.7740048e-05, 1.0546098e-03, 2.8445749e-04],
            air: (4.0539973e+01, 3.8677125e-04),
        },
    },
    Case {
        name: "three kinds",
        spheres: THREE,
        energy: 0.0,
        in_time: [
            (
                4.0,
                Seen {
                    moisture: &[1.1143317e-04, 8.4232377e-06, 2.8275271e-03, 6.2374897e-04],
                    air: (2.3845232e+01, 1.1771424e-03),
                },
            ),
            (
                8.0,
                Seen {
                    moisture: &[9.5800195e-05, 3.4288456e-06, 2.3470377e-03, 5.1833629e-04],
                    air: (2.3515766e+01, 1.2277953e-03),
                },
            ),
            (
                12.0,
                Seen {
                    moisture: &[8.8623307e-05, 1.9036096e-06, 2.0750818e-03, 4.5989910e-04],
                    air: (2.3788803e+01, 1.3155886e-03),
                },
            ),
            (
                16.0,
                Seen {
                    moisture: &[8.1621270e-05, 1.2053578e-06, 1.7412296e-03, 3.8941815e-04],
                    air: (2.8895752e+01, 1.2709571e-03),
                },
            ),
        ],
        at_rest: Seen {
            moisture: &[7.9192434e-05, 1.0375896e-06, 1.6132532e-03, 3.6255813e-04],
            air: (3.0411582e+01, 1.2577209e-03),
        },
    },
    Case {
        name: "three kinds",
        spheres: THREE,
        energy: 33.1e3,
        in_time: [
            (
                4.0,
                Seen {
                    moisture: &[7.7886113e-04, 8.3988241e-05, 4.6616950e-03, 1.3469660e-03],
                    air: (2.4664886e+01, 8.3043556e-04),
                },
            ),
            (
                8.0,
                Seen {
                    moisture: &[5.8132384e-04, 4.7148300e-05, 3.9807628e-03, 1.1009590e-03],
                    air: (2.4596986e+01, 9.7733578e-04),
                },
            ),
            (
                12.0,
                Seen {
                    moisture: &[4.8441268e-04, 3.2334915e-05, 3.6155849e-03, 9.7502379e-04],
                    air: (2.5167913e+01, 1.0417401e-03),
                },
            ),
            (
                16.0,
                Seen {
                    moisture: &[4.2926768e-04, 2.5042542e-05, 3.3925798e-03, 9.0066256e-04],
                    air: (2.9609261e+01, 1.0287700e-03),
                },
            ),
        ],
        at_rest: Seen {
            moisture: &[3.9708036e-04, 2.1219242e-05, 3.2584007e-03, 8.5658609e-04],
            air: (3.1089854e+01, 1.0107070e-03),
        },
    },
];

const DRIVE: Drive = Drive {
    rate: 10.0 / 3600.0,
    air_flow: 20.0 / 3600.0,
    air_temperature: 393.15,
    air_humidity: 7.9e-5,
    feed_temperature: 298.15,
    feed_moisture: f64::NAN,
    feed_free_water: 0.0,
    ambient: 298.15,
};
const PARCELS: usize = 320;
const MODES: usize = 12;
const LAST_HOUR: f64 = 16.0;

impl Sphere {
    fn contact(&self, activation_energy: f64) -> Result<Contact, BedError> {
        let diffusivity = Diffusivity::Arrhenius {
            reference: self.diffusivity,
            reference_temperature: 393.15,
            activation_energy,
        };
        let outline = Outline::Sphere {
            diameter: self.diameter,
        };
        Ok(Contact {
            interior: Interior::of(&outline, &self.isotherm, &diffusivity, MODES)?,
            isotherm: self.isotherm,
            diffusivity,
            calorics: Calorics {
                resin: self.heat_capacity,
                resin_slope: 0.0,
                dry_air: 1006.0,
                vapour: 1860.0,
                water: 4186.0,
                evaporation: 2.501e6,
                sorption: None,
            },
            exchange: Exchange {
                heat: self.heat,
                vapour: self.film,
            },
            pressure: 101_325.0,
        })
    }
}

/// A blend of which the first kind leads, and what drives it.
fn column(spheres: &[Sphere], energy: f64) -> Result<Option<(Column, Drive)>, BedError> {
    let [lead, others @ ..] = spheres else {
        return Ok(None);
    };
    let mut beside = Vec::new();
    for kind in others {
        beside.push(Beside {
            share: kind.share,
            contact: kind.contact(energy)?,
            moisture: kind.fed,
            free_water: 0.0,
        });
    }
    let column = Column {
        contact: lead.contact(energy)?,
        beside,
        mass: 35.0,
        wall: Wall::of_slices(&[0.01; 100]),
        wall_on_pellets: false,
        feeding: Feeding::Continuous,
        parcels: PARCELS,
        steps_per_parcel: 1,
    };
    let drive = Drive {
        feed_moisture: lead.fed,
        ..DRIVE
    };
    Ok(Some((column, drive)))
}

/// Moisture at the air inlet: the parabola through the middles of the three lowest parcels.
fn at_inlet(profile: &Profile) -> f64 {
    let Some(lowest) = profile.levels.get(..3) else {
        return f64::NAN;
    };
    let heights = [0, 1, 2].map(|index| lowest[index].height);
    let weight = |here: usize| {
        let others = (0..3).filter(|other| *other != here);
        others.fold(1.0, |product, other| {
            product * heights[other] / (heights[other] - heights[here])
        })
    };
    (0..3).map(|k| weight(k) * lowest[k].moisture).sum()
}

/// A run, and the moisture of each kind at the air inlet at the end of each step.
struct Followed {
    run: Run,
    inlet: Vec<(f64, Vec<f64>)>,
}

fn follow(column: &Column, drive: &Drive) -> Result<Followed, BedError> {
    let start = column.filled(drive.feed_temperature, drive.feed_moisture, 0.0);
    let step = column.parcel_mass() / drive.rate;
    let duration = 3600.0 * LAST_HOUR + 2.0 * step;
    let mut inlet = Vec::new();
    let look = |state: &ColumnState, drive: &Drive, time: f64| {
        let near = (time / 14_400.0).round() * 14_400.0;
        if near > 0.0 && (time - near).abs() < 1.5 * step {
            let kinds = 0..=column.beside.len();
            let of_kind = |kind| at_inlet(&Profile::of_kind(column, state, drive, time, kind));
            inlet.push((time, kinds.map(of_kind).collect()));
        }
    };
    let steadily = |_| (*drive, f64::INFINITY);
    let run = watch(column, start, duration, (0.0, 0.0), steadily, look)?;
    Ok(Followed { run, inlet })
}

/// A value at a time, linear between those of times in order.
fn between(values: impl Iterator<Item = (f64, f64)>, time: f64) -> f64 {
    let mut last = (f64::NEG_INFINITY, f64::NAN);
    for next in values {
        if next.0 >= time {
            return last.1 + (next.1 - last.1) * (time - last.0) / (next.0 - last.0);
        }
        last = next;
    }
    f64::NAN
}

impl Followed {
    /// Moisture of each kind and the mean, and the return air, at a time.
    fn at(&self, time: f64, kinds: usize) -> (Vec<f64>, (f64, f64)) {
        let moments = || self.run.moments.iter();
        let mut moisture: Vec<f64> = (0..kinds)
            .map(|kind| between(self.inlet.iter().map(|(t, each)| (*t, each[kind])), time))
            .collect();
        moisture.push(self.run.dried_at(time).unwrap_or(f64::NAN));
        let warm = moments().map(|m| (m.time, m.return_temperature - 273.15));
        let humid = moments().map(|m| (m.time, m.return_humidity));
        (moisture, (between(warm, time), between(humid, time)))
    }
}

fn row(what: String, unit: &'static str, expected: f64, computed: f64) -> Row {
    Row {
        source: SOURCE,
        what,
        unit,
        expected,
        computed,
        tolerance: 5e-4,
        absolute: false,
        why: "our own error at 320 parcels; the peer's meshes lie within 0.01 % of each other",
        kind: Kind::Peer,
        disputed: None,
    }
}

/// One row for each number that is seen.
fn seen_rows(case: &Case, when: &str, seen: &Seen<'_>, found: (&[f64], (f64, f64))) -> Vec<Row> {
    let law = format!(
        "{}, D with {:.1} kJ/mol, {when}",
        case.name,
        case.energy / 1e3
    );
    let kinds = case.spheres.iter().map(|kind| kind.name);
    let mut rows: Vec<Row> = kinds
        .chain(std::iter::once("mean"))
        .zip(seen.moisture)
        .enumerate()
        .map(|(index, (kind, expected))| {
            let computed = found.0.get(index).copied().unwrap_or(f64::NAN);
            let what = format!("{law}: outlet moisture, {kind}");
            row(what, "kg/kg", *expected, computed)
        })
        .collect();
    let air = format!("{law}: return air");
    rows.push(row(air.clone(), "degC", seen.air.0, found.1.0));
    rows.push(row(air, "kg/kg", seen.air.1, found.1.1));
    rows
}

fn case_rows(case: &Case) -> Vec<Row> {
    let bed = column(case.spheres, case.energy).ok().flatten();
    let run = bed
        .as_ref()
        .and_then(|(column, drive)| follow(column, drive).ok());
    let nothing = || (Vec::new(), (f64::NAN, f64::NAN));
    let mut rows = Vec::new();
    for (hour, seen) in &case.in_time {
        let (moisture, air) = run
            .as_ref()
            .map_or_else(nothing, |run| run.at(3600.0 * hour, case.spheres.len()));
        rows.extend(seen_rows(
            case,
            &format!("{hour} h"),
            seen,
            (&moisture, air),
        ));
    }
    let steady = bed
        .as_ref()
        .and_then(|(column, drive)| column.steady(drive).ok());
    let (moisture, air) = steady.map_or_else(nothing, |steady| {
        let ways = std::iter::once(&steady.lead).chain(&steady.beside);
        let mut moisture: Vec<f64> = ways.map(|way| way.moisture).collect();
        moisture.push(steady.outlet_moisture);
        (
            moisture,
            (steady.return_temperature - 273.15, steady.return_humidity),
        )
    });
    rows.extend(seen_rows(case, "at rest", &case.at_rest, (&moisture, air)));
    rows
}

/// Every number that is seen, for two blends and two diffusivities.
pub fn rows() -> Vec<Row> {
    CASES.iter().flat_map(case_rows).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn peer_blend() {
        crate::check(&super::rows());
    }
}
