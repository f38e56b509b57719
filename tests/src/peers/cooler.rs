//! CoolProp 8.0.0: heat and water taken from humid air that is cooled to saturation.
//!
//! What it is: the balance of enthalpy between humid air before and saturated air after, the water leaving at
//! the outlet's temperature, all of real humid air and real water.
//! How read: frozen from `bench/peers/dryer_parts_table.py`, which prints the table below.
//! Tolerance: water 3e-4 (two accounts of saturation, of which a difference is taken); heat 3e-3: this workspace
//! closes the loop with constant heat capacities, and its drain leaves along the wall, warmer than the outlet.
//! What is not the same: the cooler here is given so much wall and coolant that its outlet is the coolant's
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

/// Two rows for each state.
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
    STATES.iter().flat_map(of_state).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn peer_cooler() {
        crate::check(&super::rows());
    }
}
