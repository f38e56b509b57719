//! Drying with hot air of the hall: once through, or partly taken back.
//!
//! # Equations
//! 1. Of the air that leaves the hopper the share r is taken back, the rest is blown off and fresh air of the hall
//!    takes its place: `Y = (1 - r) Y_hall + r Y_return`, enthalpy likewise.
//! 2. In steady state with a pick-up of `d` kg of water per kg of dry air in the hopper:
//!    `Y = Y_hall + d r/(1 - r)`.
//! 3. Blower and heater as in [`crate::blower`] and [`crate::heater`].
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! r | `recirculated` |
//! d | pick-up in the hopper | kg/kg
//!
//! # Holds for
//! Hot air never becomes drier than the hall: the season sets the floor. At 10 g/kg the dew point stays at 14 degC
//! and the relative humidity is 3.4 % at 80 degC, 0.8 % at 120 degC.
//!
//! # Sources
//! Balances.
//!
//! # Checked by
//! Closed forms below; the heater and the blower by themselves.

use crate::asked::Asked;
use crate::blower::{Blower, BlowerSpec, Blown};
use crate::dew_point_sensor::condensation_temperature;
use crate::heater::{Heated, Heater, HeaterSpec};
use crate::{DryerError, Stream};
use air::{equilibrium, mixture};
use quantity::{Faults, Fraction, Ledger, Quantity, Range};

/// Share of the air that is taken back.
pub const RECIRCULATED_HOLDS: Range = Range::new("share of air taken back", 0.0, 0.98, "");
/// Water picked up in a hopper.
pub const PICK_UP_HOLDS: Range = Range::new("water picked up", 0.0, 0.2, "kg/kg");

/// A hot-air dryer as it is ordered.
#[derive(Clone, Debug, PartialEq)]
pub struct HotAirSpec {
    /// Its blower, if its power is to be counted.
    pub blower: Option<BlowerSpec>,
    /// Its heater.
    pub heater: HeaterSpec,
    /// Share of the air that is taken back; 0 is once through.
    pub recirculated: Fraction,
}

/// A checked hot-air dryer.
#[derive(Clone, Debug, PartialEq)]
pub struct HotAir {
    blower: Option<Blower>,
    heater: Heater,
    recirculated: f64,
}

/// Hot air delivered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HotAirDelivered {
    /// Air drawn from the hall.
    pub fresh: Stream,
    /// Air taken back.
    pub returned: Stream,
    /// What the blower did.
    pub blown: Option<Blown>,
    /// What the heater did, and the air that leaves.
    pub heated: Heated,
    /// Its frost point, or dew point above 0.01 degC, K.
    pub point: f64,
    /// Its relative humidity, as a fraction.
    pub relative_humidity: f64,
    /// Power of blower and heater, W.
    pub power: f64,
}

impl HotAirSpec {
    /// The dryer, or every mistake in it.
    ///
    /// # Errors
    /// A number outside its range, in its parts as well.
    pub fn check(&self) -> Result<HotAir, Faults> {
        let mut asked = Asked::new();
        let blower = self
            .blower
            .as_ref()
            .map(|spec| asked.part("blower", spec.check()));
        let heater = asked.part("heater", self.heater.check());
        let recirculated =
            asked.number("recirculated", self.recirculated.si(), &RECIRCULATED_HOLDS);
        asked.give(heater.map(|heater| HotAir {
            blower: blower.flatten(),
            heater,
            recirculated,
        }))
    }
}

impl HotAir {
    /// Delivers a flow of dry air (kg/s) wanted at a temperature (K), from a hall and what comes back of the
    /// hopper, both whatever their amount, at a pressure (Pa).
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for air or numbers that cannot be.
    pub fn deliver(
        &self,
        dry_air: f64,
        set_point: f64,
        hall: &Stream,
        back: &Stream,
        pressure: f64,
    ) -> Result<HotAirDelivered, DryerError> {
        let returned = back.of(self.recirculated * dry_air).checked_at(pressure)?;
        let fresh = hall.of(dry_air - returned.dry_air).checked_at(pressure)?;
        let mixed = if returned.dry_air > 0.0 {
            fresh.joined(returned)
        } else {
            fresh
        };
        let blown = match &self.blower {
            Some(blower) => Some(blower.run(&mixed, pressure)?),
            None => None,
        };
        let heated = self
            .heater
            .heat(&blown.map_or(mixed, |blown| blown.outlet), set_point)?;
        let air = heated.outlet;
        Ok(HotAirDelivered {
            fresh,
            returned,
            blown,
            heated,
            point: condensation_temperature(air.humidity, pressure)?,
            relative_humidity: equilibrium::relative_humidity(
                air.temperature,
                pressure,
                mixture::mole_fraction(air.humidity),
            ),
            power: heated.power + blown.map_or(0.0, |blown| blown.electric),
        })
    }

    /// Humidity ratio of the air delivered in steady state, where the hopper adds `pick_up` kg of water to each kg
    /// of dry air from a hall of a humidity ratio.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for a humidity that cannot be or a pick-up outside [`PICK_UP_HOLDS`].
    pub fn steady_humidity(&self, hall: f64, pick_up: f64) -> Result<f64, DryerError> {
        DryerError::unless_within(&crate::STREAM_HUMIDITY_HOLDS, hall)?;
        DryerError::unless_within(&PICK_UP_HOLDS, pick_up)?;
        Ok(hall + pick_up * self.recirculated / (1.0 - self.recirculated))
    }
}

impl HotAirDelivered {
    /// Energy in and out, W.
    pub fn energy(&self) -> Ledger {
        let to_hall = self.blown.map_or(0.0, |blown| blown.heat_to_hall);
        Ledger::new("energy of the hot-air dryer", "W")
            .enter("hall", self.fresh.heat())
            .enter("return", self.returned.heat())
            .enter("electricity", self.power)
            .leave("hopper", self.heated.outlet.heat())
            .leave("motor heat to the hall", to_hall)
    }

    /// Water in and out, kg/s.
    pub fn water(&self) -> Ledger {
        Ledger::new("water of the hot-air dryer", "kg/s")
            .enter("hall", self.fresh.water())
            .enter("return", self.returned.water())
            .leave("hopper", self.heated.outlet.water())
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;
    use crate::asked::trials::at_the_ends;
    use crate::blower::tests::spec as blower;
    use crate::heater::Control;
    use quantity::{Power, Temperature};

    const ATMOSPHERE: f64 = 101_325.0;
    const HALL: Stream = Stream {
        dry_air: 0.0,
        temperature: 298.15,
        humidity: 0.01,
    };

    fn spec(recirculated: f64) -> HotAirSpec {
        HotAirSpec {
            blower: Some(blower()),
            heater: HeaterSpec {
                power: Power::from_si(6000.0),
                elements: 3,
                lost: 0,
                control: Control::Integral,
                outlet_limit: Temperature::from_celsius(160.0),
                element: None,
            },
            recirculated: Fraction::from_si(recirculated),
        }
    }

    #[test]
    fn exact_steady_humidity_is_where_going_round_ends() {
        let dryer = spec(0.8).check().unwrap();
        let pick_up = 0.002;
        let mut back = HALL.at(333.15);
        let mut delivered = None;
        for _ in 0..200 {
            let now = dryer
                .deliver(0.04, 353.15, &HALL, &back, ATMOSPHERE)
                .unwrap();
            back.humidity = now.heated.outlet.humidity + pick_up;
            delivered = Some(now);
        }
        let humidity = delivered.unwrap().heated.outlet.humidity;
        let steady = dryer.steady_humidity(0.01, pick_up).unwrap();
        assert!((humidity / steady - 1.0).abs() < 1e-12 && (steady - 0.018).abs() < 1e-15);
    }

    #[test]
    fn holds_hot_air_has_the_relative_humidity_of_the_tables() {
        // 10 g/kg: dew point 14 degC, 3.4 % at 80 degC, 0.8 % at 120 degC.
        let dryer = spec(0.0).check().unwrap();
        for (celsius, share) in [(80.0, 0.034), (120.0, 0.008)] {
            let at = celsius + 273.15;
            let delivered = dryer.deliver(0.04, at, &HALL, &HALL, ATMOSPHERE).unwrap();
            assert!((delivered.relative_humidity - share).abs() < 5e-4);
            assert!((delivered.point - 273.15 - 14.0).abs() < 0.2);
        }
    }

    #[test]
    fn holds_ledgers_close_and_taking_back_saves() {
        let back = HALL.at(333.15);
        let power = |recirculated| {
            let dryer = spec(recirculated).check().unwrap();
            let delivered = dryer
                .deliver(0.04, 353.15, &HALL, &back, ATMOSPHERE)
                .unwrap();
            assert!(delivered.energy().imbalance() < 1e-12);
            assert!(delivered.water().imbalance() < 1e-12);
            delivered.power
        };
        assert!(power(0.8) < 0.8 * power(0.0));
    }

    #[test]
    fn holds_ranges_at_their_ends_and_every_mistake_told() {
        at_the_ends(&RECIRCULATED_HOLDS, |x| spec(x).check().is_ok());
        let dryer = spec(0.5).check().unwrap();
        at_the_ends(&PICK_UP_HOLDS, |x| dryer.steady_humidity(0.01, x).is_ok());
        assert!(
            dryer
                .deliver(0.04, f64::NAN, &HALL, &HALL, ATMOSPHERE)
                .is_err()
        );
        assert!(
            dryer
                .deliver(f64::NAN, 353.15, &HALL, &HALL, ATMOSPHERE)
                .is_err()
        );
        let mut wrong = spec(1.0);
        wrong.heater.power = Power::from_si(0.0);
        let faults = wrong.check().unwrap_err();
        let paths: Vec<&str> = faults
            .iter()
            .map(|fault| fault.place.path.as_str())
            .collect();
        assert!(paths.contains(&"heater.power") && paths.contains(&"recirculated"));
    }
}
