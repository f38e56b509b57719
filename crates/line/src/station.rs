//! A station: a hopper on the line, its air warmed to what its resin wants.

use crate::way::{Back, HeaterPlace, Sent, Way, When};
use crate::{Account, Carrier, LineError, Room, Shortfall};
use bed::column::{Column, Drive};
use bed::steady::Steady;
use dryer::heater::{Heated, Heater};
use dryer::{Resistance, Stream};
use quantity::constants::ZERO_CELSIUS;
use quantity::digits;

/// What is fed to a hopper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feed {
    /// Dry resin drawn, kg/s.
    pub rate: f64,
    /// Temperature, K.
    pub temperature: f64,
    /// Moisture of the lead kind, kg/kg dry.
    pub moisture: f64,
    /// Free water on it, kg/kg dry.
    pub free_water: f64,
}

/// A hopper on the line.
#[derive(Clone, Debug)]
pub struct Station {
    /// What it is called.
    pub name: String,
    /// The bed.
    pub column: Column,
    /// What is fed to it.
    pub feed: Feed,
    /// Dry air it is sent, kg/s.
    pub air_flow: f64,
    /// Temperature wanted at its inlet, K.
    pub set_point: f64,
    /// The heater before it.
    pub heater: Heater,
    /// Resistance of its heater and bed, and of hoses that are not told in its way.
    pub resistance: Resistance,
    /// What lies between it and the dryer.
    pub way: Way,
}

/// What a station makes of the air it gets.
#[derive(Clone, Debug)]
pub struct Served {
    /// What it is called.
    pub name: String,
    /// Air at the inlet of the hopper.
    pub inlet: Stream,
    /// Air that comes back to the dryer.
    pub returned: Stream,
    /// What the heater did.
    pub heated: Heated,
    /// The way to it.
    pub sent: Sent,
    /// The way from it.
    pub back: Back,
    /// The bed.
    pub steady: Steady,
}

/// Air hotter than any that a bed is followed in, K.
const HOTTEST_AIR: f64 = 250.0 + ZERO_CELSIUS;

impl Station {
    /// What is imposed on the bed by air of this state.
    pub fn drive(&self, inlet: &Stream, room: &Room) -> Drive {
        Drive {
            rate: self.feed.rate,
            air_flow: inlet.dry_air,
            air_temperature: inlet.temperature,
            air_humidity: inlet.humidity,
            feed_temperature: self.feed.temperature,
            feed_moisture: self.feed.moisture,
            feed_free_water: self.feed.free_water,
            ambient: room.temperature,
        }
    }

    /// The steady state with so much of the air that is delivered, kg/s.
    ///
    /// # Errors
    /// From the heater or the bed.
    pub fn serve(
        &self,
        delivered: &Stream,
        air_flow: f64,
        room: &Room,
    ) -> Result<Served, LineError> {
        if !(air_flow > 0.0) {
            return Err(LineError::NoAir {
                station: self.name.clone(),
                air_flow,
            });
        }
        let sent = self.send(&delivered.of(air_flow), room, When::Mean)?;
        let inlet = sent.inlet;
        let drive = self.drive(&inlet, room);
        let steady = self
            .column
            .steady(&drive)
            .map_err(|cause| LineError::Hopper {
                station: self.name.clone(),
                cause,
            })?;
        let leaving = Stream {
            dry_air: inlet.dry_air,
            temperature: steady.return_temperature,
            humidity: steady.return_humidity,
        };
        let back = self.way.back(&leaving, room, When::Mean)?;
        Ok(Served {
            name: self.name.clone(),
            inlet,
            returned: back.returned,
            heated: sent.heated,
            sent,
            back,
            steady,
        })
    }

    /// Air on its way to the hopper.
    pub(crate) fn send(&self, air: &Stream, room: &Room, when: When) -> Result<Sent, LineError> {
        let seen = self.resistance.seen(&air.at(self.set_point), room.pressure);
        let [_, back] = self
            .way
            .drop(air, 0.5 * (room.temperature + self.set_point), room)?;
        let gauge = seen.drop(air.dry_air, 1.0, 1.0) + back;
        let heater = (&self.heater, self.set_point);
        let sent = self.way.send(air, heater, gauge, room, when)?;
        let hot = sent.heated.outlet.temperature;
        if hot > HOTTEST_AIR && hot > self.set_point {
            return Err(LineError::RunsAway {
                station: self.name.clone(),
                flow: digits(3600.0 * air.dry_air, 2),
                celsius: digits(hot - ZERO_CELSIUS, 3),
            });
        }
        Ok(sent)
    }

    /// Resistance of bed and way as the dry air sent sees it, of a humidity ratio.
    pub(crate) fn seen(
        &self,
        air_flow: f64,
        humidity: f64,
        room: &Room,
    ) -> Result<Resistance, LineError> {
        let air = Stream {
            dry_air: air_flow,
            temperature: self.set_point,
            humidity,
        };
        let bed = self.resistance.seen(&air, room.pressure);
        let cold = match self.way.heater {
            HeaterPlace::Hopper => room.temperature,
            HeaterPlace::Dryer | HeaterPlace::DryerByHopper => self.set_point,
        };
        let middle = 0.5 * (room.temperature + self.set_point);
        let [there, back] = self.way.drop(&air.at(cold), middle, room)?;
        Ok(Resistance {
            quadratic: bed.quadratic + (there + back) / (air_flow * air_flow),
            ..bed
        })
    }

    /// What of it crosses the border of the line.
    pub fn account(&self, served: &Served) -> Account {
        let mut account = Account::default();
        let (rate, steady) = (self.feed.rate, &served.steady);
        let blend = self.column.blend();
        let feed = &self.feed;
        let fed = blend.water(&blend.parcel(feed.temperature, feed.moisture, feed.free_water));
        account.resin(
            format!("resin to {}", self.name),
            true,
            rate * fed,
            steady.feed_heat,
        );
        account.resin(
            format!("resin from {}", self.name),
            false,
            rate * (steady.outlet_moisture + steady.outlet_free_water),
            steady.outlet_heat,
        );
        served.sent.account(&self.name, &mut account);
        served.back.account(&self.name, &mut account);
        account.heat_out(
            format!("wall of {}", self.name),
            Carrier::Wall,
            steady.wall_heat,
        );
        account
    }

    /// What its heater cannot do.
    pub(crate) fn shortfall(&self, heated: &Heated) -> Option<Shortfall> {
        let heater = format!("heater of {}", self.name);
        let wanted = heated.outlet.temperature + heated.short_by;
        Shortfall::of_heater(heater, heated, wanted)
    }
}
