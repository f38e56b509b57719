//! CoolProp 8.0.0 and SciPy 1.17.1: heat and water taken from humid air that is cooled below its dew point.
//!
//! What it is: first, the balance of enthalpy between humid air before and saturated air after, the water leaving at
//! the outlet's temperature, all of real humid air and real water; second, a wall of finite size, the film
//! equations of `dryer::cooler` posed in temperature, humidity and coolant, with CoolProp's saturation, solved by
//! LSODA and shooting in SciPy.
//! How read: frozen from `bench/peers/dryer_parts_table.py`, which prints the table below.
//! Tolerance: water 3e-4 (two accounts of saturation, of which a difference is taken); heat 3e-3: this workspace
//! closes the loop with constant heat capacities, and its drain leaves along the wall, warmer than the outlet.
//! Finite wall: 1e-4 of heat and humidity, 2e-3 K (32 steps along the wall, on which the film turns dry).
//! What is not the same: the cooler of the first here is given so much wall and coolant that its outlet is the coolant's
//! temperature to 0.02 K and saturated.

use crate::{Kind, Row};
use dryer::Stream;
use dryer::cooler::{Coolant, Cooled, CoolerSpec};
use dryer::exchanger::Fouling;
use quantity::constants::{STANDARD_ATMOSPHERE, ZERO_CELSIUS};
use quantity::{Fraction, MassFlow, Quantity, ThermalConductance};

/// Air degC, humidity ratio, outlet degC; heat J/kg and water kg/kg taken.
const STATES: &[(f64, f64, f64, f64, f64)] = &[
    (60.0, 0.02, 20.0, 5.46364812e+04, 5.23950474e-03),
    (70.0, 0.03, 15.0, 1.06065055e+05, 1.93062330e-02),
    (80.0, 0.05, 25.0, 1.33393231e+05, 2.98265698e-02),
    (40.0, 0.015, 10.0, 4.91999374e+04, 7.33735085e-03),
];

/// Conductances of air and coolant W/K, coolant W/K and degC, air degC, humidity ratio; outlet degC, humidity
/// ratio and heat W, at 0.05 kg/s of dry air.
const WALLS: &[([f64; 6], [f64; 3])] = &[
    (
        [150.0, 600.0, 400.0, 15.0, 70.0, 0.03],
        [25.38598802, 1.84473953e-02, 3782.070653],
    ),
    (
        [100.0, 150.0, 80.0, 20.0, 60.0, 0.06],
        [44.46646401, 5.38222274e-02, 1613.791773],
    ),
    (
        [200.0, 300.0, 1000.0, 10.0, 45.0, 0.012],
        [14.78280982, 1.00692954e-02, 1791.987357],
    ),
];

fn behind_wall(state: &[f64; 6]) -> Option<Cooled> {
    let [air, wall, capacity_flow, coolant, celsius, humidity] = *state;
    let cooler = CoolerSpec {
        air_conductance: ThermalConductance::from_si(air),
        coolant_conductance: ThermalConductance::from_si(wall),
        rated_flow: MassFlow::from_si(0.05),
        flow_exponent: Fraction::from_si(0.0),
        fouling: Fouling::Clean,
    };
    let air = Stream {
        dry_air: 0.05,
        temperature: celsius + ZERO_CELSIUS,
        humidity,
    };
    let coolant = Coolant {
        capacity_flow,
        temperature: coolant + ZERO_CELSIUS,
    };
    let cooler = cooler.check().ok()?;
    cooler.cool(&air, &coolant, STANDARD_ATMOSPHERE).ok()
}

fn walls() -> Vec<Row> {
    let of_wall = |(state, [celsius, humidity, heat]): &([f64; 6], [f64; 3])| {
        let cooled = behind_wall(state);
        let row = |what, unit, expected: f64, computed: Option<f64>, tolerance, absolute| Row {
            source: "SciPy 1.17.1 with CoolProp 8.0.0",
            what: format!(
                "{what} of a wet cooler of {} and {} W/K",
                state[0], state[1]
            ),
            unit,
            expected,
            computed: computed.unwrap_or(f64::NAN),
            tolerance,
            absolute,
            why: "32 steps along a wall on which the film turns dry",
            kind: Kind::Peer,
            disputed: None,
        };
        let outlet = cooled.map(|cooled| cooled.outlet);
        [
            row(
                "outlet",
                "degC",
                *celsius,
                outlet.map(|air| air.temperature - ZERO_CELSIUS),
                2e-3,
                true,
            ),
            row(
                "humidity",
                "kg/kg",
                *humidity,
                outlet.map(|air| air.humidity),
                1e-4,
                false,
            ),
            row(
                "heat",
                "W",
                *heat,
                cooled.map(|cooled| cooled.heat),
                1e-4,
                false,
            ),
        ]
    };
    WALLS.iter().flat_map(of_wall).collect()
}

fn cooled(celsius: f64, humidity: f64, outlet: f64) -> Option<Cooled> {
    let cooler = CoolerSpec {
        air_conductance: ThermalConductance::from_si(2e4),
        coolant_conductance: ThermalConductance::from_si(1e6),
        rated_flow: MassFlow::from_si(1.0),
        flow_exponent: Fraction::from_si(0.0),
        fouling: Fouling::Clean,
    };
    let air = Stream {
        dry_air: 1.0,
        temperature: celsius + ZERO_CELSIUS,
        humidity,
    };
    let coolant = Coolant {
        capacity_flow: 1e6,
        temperature: outlet + ZERO_CELSIUS,
    };
    let cooler = cooler.check().ok()?;
    cooler.cool(&air, &coolant, STANDARD_ATMOSPHERE).ok()
}

/// Two rows for each state, three for each wall.
pub fn rows() -> Vec<Row> {
    let of_state = |&(celsius, humidity, outlet, heat, water): &(f64, f64, f64, f64, f64)| {
        let cooled = cooled(celsius, humidity, outlet);
        let row = |what, unit, expected, computed: Option<f64>, tolerance, why| Row {
            source: "CoolProp 8.0.0",
            what: format!("{what}, air of {celsius} degC and {humidity} kg/kg to {outlet} degC"),
            unit,
            expected,
            computed: computed.unwrap_or(f64::NAN),
            tolerance,
            absolute: false,
            why,
            kind: Kind::Peer,
            disputed: None,
        };
        [
            row(
                "heat taken in a wet cooler",
                "J/kg",
                heat,
                cooled.map(|cooled| cooled.heat),
                3e-3,
                "constant heat capacities, and a drain that leaves along the wall",
            ),
            row(
                "water drained from a wet cooler",
                "kg/kg",
                water,
                cooled.map(|cooled| cooled.drain),
                3e-4,
                "two accounts of saturation, and 0.02 K that the wall leaves",
            ),
        ]
    };
    STATES.iter().flat_map(of_state).chain(walls()).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn peer_cooler() {
        crate::check(&super::rows());
    }
}
