//! The steady state of a line: the air that goes round and comes back as it was.
//!
//! # Equations
//! 1. Unknown are the air that comes back from the hoppers, as temperature and logarithm of humidity,
//!    and likewise each stream that runs round inside the machine. One round makes supply air of it,
//!    sends it through the hoppers, and finds what comes back; its fixed point is found by
//!    [`numeric::fixed_point`].
//! 2. Humidity is followed by its logarithm, since 1 K of frost point is a share of it: a tenth at
//!    -40 degC, a seventh at -60 degC.
//! 3. Hoppers stand side by side; what they give back is joined. The one with the greatest resistance
//!    sets the pressure, balancing valves take the rest.
//!
//! # Symbols
//! as in the parts.
//!
//! # Holds for
//! A line at rest in all that it is given: rates, air flows, the day. Air holds no store of its own.
//!
//! # Sources
//! Balances alone; the parts name theirs.
//!
//! # Checked by
//! `crates/line/src/tests.rs`: ledgers over the border, and closed forms.

use crate::maker::{Made, Maker, Memory, State};
use crate::{Account, LineError, Room, Served, Shortfall, Station};
use dryer::{Resistance, Stream};
use numeric::fixed_point::{Rounds, fixed_point};

/// A dryer with its hoppers.
#[derive(Clone, Debug)]
pub struct Line {
    /// What makes the air.
    pub maker: Maker,
    /// The hoppers.
    pub stations: Vec<Station>,
    /// The day.
    pub room: Room,
}

/// Where a solution may begin: that of a neighbour.
#[derive(Clone, Debug, Default)]
pub struct LineGuess {
    unknowns: Vec<f64>,
    memory: Memory,
}

/// A line at rest.
#[derive(Clone, Debug)]
pub struct LineSteady {
    /// Each hopper, with what the machine gave it.
    pub stations: Vec<Served>,
    /// Air that comes back, joined.
    pub returned: Stream,
    /// Air that is delivered, before the hoppers' own heaters.
    pub delivered: Stream,
    /// Numbered states of the loop.
    pub states: Vec<State>,
    /// What crosses the border.
    pub account: Account,
    /// Limits that were met.
    pub shortfalls: Vec<Shortfall>,
    /// Rounds taken.
    pub rounds: usize,
    /// Change in the last of them, in units of [`TEMPERATURE_SCALE`] and [`HUMIDITY_SCALE`].
    pub change: f64,
    /// Where a neighbour may begin.
    pub guess: LineGuess,
}

/// A change of temperature that matters, K.
pub const TEMPERATURE_SCALE: f64 = 1.0;
/// A change of the logarithm of humidity that matters: 1 K of frost point at -40 degC.
pub const HUMIDITY_SCALE: f64 = 0.1;
/// Rounds are over when nothing moves by more than this, in those scales: the ledgers then close to
/// some 1e-10.
const ROUNDS: Rounds = Rounds {
    settled: 1e-9,
    most: 100,
    memory: 4,
    near: 3.0,
};
/// Air that no round may go beyond on its way, K and kg/kg; none that settles comes near.
const COLDEST: f64 = 235.0;
const HOTTEST: f64 = 540.0;
const WETTEST: f64 = 0.19;
/// Humidity ratio of a usual return.
const USUAL_RETURN: f64 = 1.5e-3;
/// Humidity ratio below which air counts as dry; -110 degC frost.
const DRIEST: f64 = 1e-9;

impl Line {
    /// The state it settles in; a neighbour's guess makes it quicker.
    ///
    /// # Errors
    /// [`LineError::NoHopper`]; [`LineError::Unsettled`] where supply and return drive each other;
    /// otherwise from hopper or dryer.
    pub fn steady(&self, guess: Option<&LineGuess>) -> Result<LineSteady, LineError> {
        let wanted: f64 = self.stations.iter().map(|station| station.air_flow).sum();
        if self.stations.is_empty() {
            return Err(LineError::NoHopper);
        }
        let mut memory = guess.map(|guess| guess.memory.clone()).unwrap_or_default();
        let start = guess
            .map(|guess| guess.unknowns.clone())
            .filter(|unknowns| !unknowns.is_empty())
            .unwrap_or_else(|| self.start(wanted));
        let flows = self.flows(wanted);
        let scales: Vec<f64> = start
            .iter()
            .enumerate()
            .map(|(index, _)| [TEMPERATURE_SCALE, HUMIDITY_SCALE][index % 2])
            .collect();
        let beyond = self.beyond();
        let mut last: Option<(Made, Vec<Served>)> = None;
        let found = fixed_point(&start, &scales, ROUNDS, |unknowns| {
            let streams = streams(unknowns, &flows);
            let made =
                self.maker
                    .steady(&streams[0], &streams[1..], beyond, &self.room, &mut memory)?;
            let served = self.serve(&made.delivered)?;
            let mut image = unknowns_of(&[joined(&served)]);
            image.extend(unknowns_of(&made.inner));
            last = Some((made, served));
            Ok::<_, LineError>(image)
        })?;
        let Some((made, served)) = last else {
            return Err(LineError::NoHopper);
        };
        let mut account = made.account;
        let mut shortfalls = made.shortfalls;
        for (station, served) in self.stations.iter().zip(&served) {
            account.take(station.account(served));
            shortfalls.extend(station.shortfall(served));
        }
        Ok(LineSteady {
            returned: joined(&served),
            stations: served,
            delivered: made.delivered,
            states: made.states,
            account,
            shortfalls,
            rounds: found.rounds,
            change: found.change,
            guess: LineGuess {
                unknowns: found.at,
                memory,
            },
        })
    }

    /// Every hopper with its share of the air.
    fn serve(&self, delivered: &Stream) -> Result<Vec<Served>, LineError> {
        self.stations
            .iter()
            .map(|station| station.serve(delivered, &self.room))
            .collect()
    }

    /// Where the rounds begin: air of the hall, warmed half way to the hottest set point, and no wetter
    /// than a loop at work: an overloaded desiccant is come to from the dry side.
    fn start(&self, wanted: f64) -> Vec<f64> {
        let hottest = self
            .stations
            .iter()
            .map(|station| station.set_point)
            .fold(self.room.temperature, f64::max);
        let warm = Stream {
            dry_air: wanted,
            temperature: 0.5 * (self.room.temperature + hottest),
            humidity: self.room.humidity.min(USUAL_RETURN),
        };
        let mut streams = vec![warm];
        streams.extend(self.maker.inner_at_start(&self.room));
        unknowns_of(&streams)
    }

    /// Dry air of each stream that is unknown.
    fn flows(&self, wanted: f64) -> Vec<f64> {
        let inner = self.maker.inner_at_start(&self.room);
        std::iter::once(wanted)
            .chain(inner.iter().map(|stream| stream.dry_air))
            .collect()
    }

    /// Resistance of the hoppers side by side, as one way for all of the air: the greatest pressure
    /// any of them asks for, at its own flow.
    pub(crate) fn beyond(&self) -> Resistance {
        let wanted: f64 = self.stations.iter().map(|station| station.air_flow).sum();
        let mut greatest = Resistance::default();
        for station in &self.stations {
            let share = station.air_flow / wanted;
            let seen = Resistance {
                laminar: station.resistance.laminar * share,
                quadratic: station.resistance.quadratic * share * share,
            };
            greatest = Resistance {
                laminar: greatest.laminar.max(seen.laminar),
                quadratic: greatest.quadratic.max(seen.quadratic),
            };
        }
        greatest
    }
}

fn joined(served: &[Served]) -> Stream {
    let nothing = Stream::default();
    served
        .iter()
        .fold(nothing, |sum, served| served.returned.joined(sum))
}

fn unknowns_of(streams: &[Stream]) -> Vec<f64> {
    streams
        .iter()
        .flat_map(|stream| [stream.temperature, libm::log(stream.humidity.max(DRIEST))])
        .collect()
}

fn streams(unknowns: &[f64], flows: &[f64]) -> Vec<Stream> {
    unknowns
        .chunks(2)
        .zip(flows)
        .map(|(pair, flow)| Stream {
            dry_air: *flow,
            temperature: pair[0].clamp(COLDEST, HOTTEST),
            humidity: libm::exp(pair[1]).min(WETTEST),
        })
        .collect()
}
