//! A dryer and its hoppers closed into a loop: what dew point settles, what limits it, and where
//! every watt and every gram of water goes.
//!
//! 1. [`Room`]: the day about the dryer.
//! 2. [`Station`]: a hopper on the line with its own heater, and the [`Way`] to it and back.
//! 3. [`Maker`]: what stands between return and supply.
//! 4. [`Line`]: the two joined; [`Line::steady`] finds the state it settles in with the wanted flows,
//!    [`Line::steady_as_blown`] with those that its blowers move.
//! 5. [`Account`]: what crosses the border of the line, from which its ledgers are written.
//! 6. [`Shortfall`]: a limit of a component that was met, and by how much.
//!
//! [`vacuum_batch`] is a dryer that is no loop: it dries batch after batch. [`crystalliser_station`] stands ahead
//! of a hopper whose resin would fuse in it.

mod account;
pub mod air_sides;
mod casing;
pub mod control;
pub mod crystalliser_station;
pub mod equipment;
mod error;
mod fan;
pub mod follow;
mod given;
mod in_time;
mod maker;
mod open_air;
mod process_side;
mod ripple;
mod room;
mod shortfall;
mod station;
mod steady;
pub mod tower_dryer;
mod tower_loop;
pub mod usual;
pub mod vacuum_batch;
pub mod vacuum_dryer;
mod way;
mod wheel_loop;

#[cfg(test)]
mod tests;

pub use account::{Account, Carrier, Crossing, Elsewhere};
pub use casing::Casing;
pub use error::LineError;
pub use fan::{Fan, FlowControl, Moved};
pub use given::{Given, Shares};
pub use in_time::{LineMoment, LineRun, LineState, Parcel, StationMoment, USUAL_STEP};
pub use maker::{Made, Maker, MakerState, Memory, State};
pub use open_air::OpenAir;
pub use process_side::{CooledBy, ProcessSide};
pub use ripple::Ripple;
pub use room::Room;
pub use shortfall::Shortfall;
pub use station::{Feed, Served, Station};
pub use steady::{HUMIDITY_SCALE, Line, LineGuess, LineSteady, SHARE_SCALE, TEMPERATURE_SCALE};
pub use tower_loop::{OffLine, TowerLoop};
pub use way::{Back, HeaterPlace, Sent, Way};
pub use wheel_loop::{CoolingTo, Regeneration, WheelLoop};
