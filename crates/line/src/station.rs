//! A station: a hopper on the line, its air warmed to what its resin wants.

use crate::{Account, Carrier, LineError, Room, Shortfall};
use bed::column::{Column, Drive};
use bed::steady::Steady;
use dryer::heater::{Heated, Heater};
use dryer::{Resistance, Stream};

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
    /// Dry air it is given, kg/s.
    pub air_flow: f64,
    /// Temperature wanted at its inlet, K.
    pub set_point: f64,
    /// The heater before it.
    pub heater: Heater,
    /// Resistance of its heater, hoses and bed.
    pub resistance: Resistance,
}

/// What a station makes of the air it gets.
#[derive(Clone, Debug)]
pub struct Served {
    /// What it is called.
    pub name: String,
    /// Air at the inlet of the hopper.
    pub inlet: Stream,
    /// Air it gives back.
    pub returned: Stream,
    /// What the heater did.
    pub heated: Heated,
    /// The bed.
    pub steady: Steady,
}

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
        let heated = self.heater.heat(&delivered.of(air_flow), self.set_point)?;
        let inlet = heated.outlet;
        let drive = self.drive(&inlet, room);
        let steady = self
            .column
            .steady(&drive)
            .map_err(|cause| LineError::Hopper {
                station: self.name.clone(),
                cause,
            })?;
        Ok(Served {
            name: self.name.clone(),
            inlet,
            returned: Stream {
                dry_air: inlet.dry_air,
                temperature: steady.return_temperature,
                humidity: steady.return_humidity,
            },
            heated,
            steady,
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
        account.electricity(format!("heater of {}", self.name), served.heated.power);
        account.heat_out(
            format!("wall of {}", self.name),
            Carrier::Wall,
            steady.wall_heat,
        );
        account
    }

    /// What its heater cannot do.
    pub fn shortfall(&self, served: &Served) -> Option<Shortfall> {
        let heater = format!("heater of {}", self.name);
        Shortfall::of_heater(heater, &served.heated, self.set_point)
    }
}
