//! Question in, answer out: plan a hopper, say what limits it and how sure that is.

mod ahead;
pub mod answer;
mod arrival;
pub mod bag;
pub mod case;
pub mod check;
pub mod closed;
pub mod compare;
pub mod data_sheet;
mod doubt;
mod energy;
mod error;
mod evidence;
mod front;
mod hall;
mod harm;
mod humidity;
pub mod lot;
mod maps;
mod outlet;
pub mod pellets;
mod plan;
pub mod resolve;
mod safe;
mod search;
pub mod set_points;
pub mod shift;
pub mod size;
pub mod stand;
mod start;
mod station;
pub mod storage;
mod warnings;
pub mod way;

pub use error::DecideError;
pub use plan::plan;
