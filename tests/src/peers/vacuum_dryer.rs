//! SciPy 1.17.1, `solve_ivp` with LSODA: pellets and gas of a vacuum vessel as one system.
//!
//! What it is: spheres of 400 equal shells, Henry's law, D by Arrhenius at the temperature of the pellet, one
//! temperature, and the gas of the vessel with pump, purge and leak, written from the equations; saturation
//! is that of Wagner and Pruss (2002). Three cases: with purge; in the vapour of the pellets alone; and a resin so wet that
//! it cools by 19 K.
//! How read: frozen from `bench/peers/vacuum_dryer.py`; 200 shells part from 400 by 7e-5 of the water in the
//! first minute and 1e-5 later.
//! Tolerance: 0.2 % of the water, 0.02 K, 0.5 % of the pressures: some forty steps, and a film that follows the
//! pressure a step late; 1 % of the pressures in the first minute, while the pump is the faster.
//! Not compared: heating and retention, which are a bed and the same groups in another gas; other isotherms
//! than Henry's; heat loss through the wall.

use crate::{Kind, Row};
use bed::column::{Column, Feeding, Wall};
use line::equipment::EquipmentError;
use line::vacuum_batch::{Charge, VacuumCycle};
use line::{Feed, Room, usual};
use material::{Diffusivity, Isotherm};
use pellet::contact::{Calorics, Contact, Exchange};
use pellet::interior::Interior;
use pellet::{Outline, PelletError};
use quantity::constants::ZERO_CELSIUS;
use quantity::{AbsolutePressure, ActualVolumeFlow, Duration, Mass, MassFlow, Quantity, Volume};

const SOURCE: &str = "SciPy 1.17.1, LSODA, shells and gas (bench/peers/vacuum_dryer.py)";
const HOT: f64 = ZERO_CELSIUS + 120.0;
const ROOM: Room = Room {
    temperature: ZERO_CELSIUS + 23.0,
    humidity: 0.009,
    pressure: 101_325.0,
};

struct Case {
    name: &'static str,
    /// Capacity at 100 degC and moisture at the start, kg/kg.
    capacity: f64,
    wet: f64,
    /// End pressure, Pa, purge, kg/s, and leak, Pa m3/s.
    pump: (f64, f64, f64),
    /// Seconds; water, kg/kg; temperature, degC; pressure and that of the vapour, Pa.
    found: [(f64, f64, f64, f64, f64); 4],
}

const CASES: [Case; 3] = [
    Case {
        name: "purged",
        capacity: 0.006,
        wet: 2e-3,
        pump: (2000.0, 1.5e-4, 0.02),
        found: [
            (60.0, 1.645_344e-3, 119.4901, 7161.193, 2490.180),
            (300.0, 1.239_800e-3, 118.7980, 6038.997, 988.494),
            (900.0, 8.009_306e-4, 117.8357, 5664.605, 453.057),
            (1800.0, 4.773_115e-4, 116.8436, 5513.197, 235.221),
        ],
    },
    Case {
        name: "in its own vapour",
        capacity: 0.006,
        wet: 2e-3,
        pump: (5000.0, 0.0, 0.0),
        found: [
            (60.0, 1.664_563e-3, 119.5538, 6589.992, 6451.832),
            (300.0, 1.296_227e-3, 119.0629, 5600.961, 5600.945),
            (900.0, 8.950_727e-4, 118.5274, 5267.722, 5267.722),
            (1800.0, 5.987_491e-4, 118.1312, 5136.948, 5136.948),
        ],
    },
    Case {
        name: "very wet",
        capacity: 0.05,
        wet: 2e-2,
        pump: (2000.0, 3e-4, 0.02),
        found: [
            (60.0, 1.749_280e-2, 116.7475, 24_095.485, 16_783.420),
            (300.0, 1.382_870e-2, 111.7586, 14_496.129, 6805.558),
            (900.0, 9.879_454e-3, 105.9352, 11_073.833, 3101.788),
            (1800.0, 6.938_235e-3, 101.0932, 9787.595, 1681.504),
        ],
    },
];

/// Pellets that come hot, so that heating takes no time, behind a wall that lets no heat through.
fn charge(case: &Case) -> Result<Charge, PelletError> {
    let isotherm = Isotherm::Henry {
        capacity: case.capacity,
        reference_temperature: 373.15,
        mixing_heat: 6300.0,
    };
    let diffusivity = Diffusivity::Arrhenius {
        reference: 1.3e-10,
        reference_temperature: HOT,
        activation_energy: 33.1e3,
    };
    let outline = Outline::Sphere { diameter: 3e-3 };
    Ok(Charge {
        name: case.name.to_owned(),
        column: Column {
            contact: Contact {
                interior: Interior::of(&outline, &isotherm, &diffusivity, 16)?,
                isotherm,
                diffusivity,
                calorics: Calorics {
                    resin: 1400.0,
                    resin_slope: 0.0,
                    dry_air: 1006.0,
                    vapour: 1860.0,
                    water: 4186.0,
                    evaporation: 2.501e6,
                    sorption: None,
                },
                exchange: Exchange {
                    heat: 100.0,
                    vapour: 5.5e-7,
                },
                pressure: ROOM.pressure,
            },
            beside: Vec::new(),
            mass: 16.0,
            wall: Wall::of_slices(&[0.0]),
            wall_on_pellets: false,
            feeding: Feeding::Continuous,
            parcels: 10,
            steps_per_parcel: 1,
        },
        feed: Feed {
            rate: 16.0 / 3600.0,
            temperature: HOT,
            moisture: case.wet,
            free_water: 0.0,
        },
        set_point: HOT,
        bulk_density: 700.0,
        still: vec![1.7e-7],
    })
}

fn cycle(case: &Case, time: f64) -> Option<VacuumCycle> {
    let (mut dryer, heater) = usual::vacuum_dryer(16.0 / 3600.0, HOT, usual::VACUUM_TIME);
    let (end_pressure, purge, leak) = case.pump;
    dryer.charge = Mass::from_si(16.0);
    dryer.free_volume = Volume::from_si(0.02);
    dryer.pump_speed = ActualVolumeFlow::from_si(0.005);
    dryer.end_pressure = AbsolutePressure::from_si(end_pressure);
    dryer.purge = MassFlow::from_si(purge);
    dryer.leak = leak;
    dryer.vacuum_time = Duration::from_si(time);
    let heater = heater.check().map_err(EquipmentError::from).ok()?;
    let machine = dryer.machine(heater, &ROOM).ok()?;
    machine.cycle(&charge(case).ok()?, &ROOM).ok()
}

/// Every row of this file.
pub fn rows() -> Vec<Row> {
    let mut rows = Vec::new();
    for case in &CASES {
        for (time, water, celsius, pressure, vapour) in case.found {
            let last = cycle(case, time).and_then(|cycle| cycle.moments.last().copied());
            let computed = last.map_or([f64::NAN; 4], |last| {
                [
                    last.water,
                    last.temperature - ZERO_CELSIUS,
                    last.pressure,
                    last.vapour,
                ]
            });
            let rough = if time < 100.0 { 1e-2 } else { 5e-3 };
            let each = [
                ("water", "kg/kg", water, 2e-3),
                ("temperature", "degC", celsius, 2e-2),
                ("pressure", "Pa", pressure, rough),
                ("vapour pressure", "Pa", vapour, rough),
            ];
            for ((of, unit, expected, tolerance), computed) in each.into_iter().zip(computed) {
                rows.push(Row {
                    source: SOURCE,
                    what: format!("{}, {of} after {time} s", case.name),
                    unit,
                    expected,
                    computed,
                    tolerance,
                    absolute: unit == "degC",
                    why: "some forty steps; the film follows the pressure a step late",
                    kind: Kind::Peer,
                    disputed: None,
                });
            }
        }
    }
    rows
}

#[test]
fn peer_pellets_under_vacuum_as_by_shells_and_gas() {
    crate::check(&rows());
}
