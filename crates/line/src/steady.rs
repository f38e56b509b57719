//! The steady state of a line: the air that goes round and comes back as it was.
//!
//! # Equations
//! 1. Unknown are the air that comes back from the hoppers, as temperature, logarithm of humidity and
//!    share of what was sent, and likewise but for the share each stream that runs round inside the machine. One round makes supply air of it,
//!    sends it through the hoppers, and finds what comes back; its fixed point is found by
//!    [`numeric::fixed_point`].
//! 2. Humidity is followed by its logarithm, since 1 K of frost point is a share of it: a tenth at
//!    -40 degC, a seventh at -60 degC.
//! 3. Hoppers stand side by side; what they give back is joined. The one with the greatest resistance
//!    sets the pressure, balancing valves take the rest; each way is asked with the air of its set point.
//! 4. As blown: what flows of the process air and of the regeneration air that is wanted are two unknowns
//!    more; a round gives as their image what each blower moves of the air that came to it against the
//!    system, where its strongest curve meets it, or what is wanted where it can.
//!
//! # Symbols
//! as in the parts.
//!
//! # Holds for
//! A line at rest in all that it is given: rates, air flows, the day. Air holds no store of its own. Where
//! less air flows, each hopper keeps its part of it, leaks and cooling air keep their shares, and the film
//! about the pellets stays that of the wanted flow.
//!
//! # Sources
//! Balances alone; the parts name theirs.
//!
//! # Checked by
//! `crates/line/src/tests.rs`: ledgers over the border, and closed forms.

use crate::maker::{Made, Maker, Memory, State};
use crate::{Account, Given, LineError, Ripple, Room, Served, Shares, Shortfall, Station};
use dryer::dew_point_sensor::{Reading, Sensor, SensorState};
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
    shares: Option<Shares>,
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
    /// What flows of what is wanted.
    pub shares: Shares,
    /// How the air of a desiccant goes up and down about [`LineSteady::delivered`].
    pub ripple: Option<Ripple>,
    /// Rounds taken.
    pub rounds: usize,
    /// Change in the last of them, in units of [`TEMPERATURE_SCALE`], [`HUMIDITY_SCALE`] and
    /// [`SHARE_SCALE`].
    pub change: f64,
    /// Where a neighbour may begin.
    pub guess: LineGuess,
}

/// A change of temperature that matters, K.
pub const TEMPERATURE_SCALE: f64 = 1.0;
/// A change of the logarithm of humidity that matters: 1 K of frost point at -40 degC.
pub const HUMIDITY_SCALE: f64 = 0.1;
/// A change of what flows of the wanted air that matters.
pub const SHARE_SCALE: f64 = 0.02;
/// Shares that no round may go beyond on its way; a line that ends at the least is refused.
const SHARES: (f64, f64) = (0.01, 20.0);
/// Air that comes back over that delivered, for which no round may go beyond.
const RETURNED: (f64, f64) = (0.01, 10.0);
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

impl LineSteady {
    /// What a sensor in the supply shows without noise, so many years after its calibration, at the pressure of
    /// the hall (Pa): of the mean air; [`LineSteady::ripple`] says between what it would swing.
    ///
    /// # Errors
    /// From the sensor, for an age it cannot have.
    pub fn shown_by(&self, sensor: &Sensor, age: f64, pressure: f64) -> Result<Reading, LineError> {
        let settled = sensor.settled(self.delivered.humidity, pressure)?;
        let state = SensorState { age, ..settled };
        Ok(sensor.reading(&state, pressure, 0.0)?)
    }
}

impl Line {
    /// The state it settles in with the flows that are wanted; a neighbour's guess makes it quicker. A blower
    /// that cannot move them is told as a shortfall.
    ///
    /// # Errors
    /// [`LineError::NoHopper`]; [`LineError::Unsettled`] where supply and return drive each other;
    /// otherwise from hopper or dryer.
    pub fn steady(&self, guess: Option<&LineGuess>) -> Result<LineSteady, LineError> {
        self.settled(guess, false)
    }

    /// The state it settles in with the flows that its blowers really move: what is wanted, or less where a
    /// blower cannot; a fixed one moves what it will. See [`LineSteady::shares`].
    ///
    /// # Errors
    /// As [`Line::steady`]; [`LineError::Blocked`] where hardly any air moves.
    pub fn steady_as_blown(&self, guess: Option<&LineGuess>) -> Result<LineSteady, LineError> {
        self.settled(guess, true)
    }

    fn settled(&self, guess: Option<&LineGuess>, as_blown: bool) -> Result<LineSteady, LineError> {
        if self.stations.is_empty() {
            return Err(LineError::NoHopper);
        }
        let mut memory = guess.map(|guess| guess.memory.clone()).unwrap_or_default();
        let mut start = guess
            .map(|guess| guess.unknowns.clone())
            .filter(|unknowns| !unknowns.is_empty())
            .unwrap_or_else(|| self.start());
        let count = start.len() - 1;
        let mut scales: Vec<f64> = (0..count)
            .map(|index| [TEMPERATURE_SCALE, HUMIDITY_SCALE][index % 2])
            .collect();
        scales.push(SHARE_SCALE);
        if as_blown {
            let shares = guess.and_then(|guess| guess.shares);
            let shares = shares.unwrap_or(Shares::WANTED);
            start.extend([shares.process, shares.regeneration]);
            scales.extend([SHARE_SCALE; 2]);
        }
        let mut last: Option<(Made, Vec<Served>, Shares)> = None;
        let found = fixed_point(&start, &scales, ROUNDS, |unknowns| {
            let (unknowns, rest) = unknowns.split_at(count);
            let shares = shares_of(&rest[1..]);
            let delivered = self.wanted() * shares.process;
            let mut flows = self.flows(shares);
            flows[0] = delivered * rest[0].clamp(RETURNED.0, RETURNED.1);
            let streams = streams(unknowns, &flows);
            let given = Given {
                returned: &streams[0],
                inner: &streams[1..],
                beyond: self.beyond(streams[0].humidity, shares)?,
                room: &self.room,
                shares,
                delivered,
            };
            let made = self.maker.steady(&given, &mut memory)?;
            let served = self.serve(&made.delivered, shares)?;
            let mut image = unknowns_of(&[joined(&served)]);
            image.extend(unknowns_of(&made.inner));
            image.push(joined(&served).dry_air / delivered);
            if as_blown {
                image.extend([made.moved.process, made.moved.regeneration]);
            }
            last = Some((made, served, shares));
            Ok::<_, LineError>(image)
        })?;
        let Some((made, served, shares)) = last else {
            return Err(LineError::NoHopper);
        };
        if shares.process.min(shares.regeneration) <= SHARES.0 {
            return Err(LineError::Blocked { share: SHARES.0 });
        }
        let mut account = made.account;
        let mut shortfalls = made.shortfalls;
        for (station, served) in self.stations.iter().zip(&served) {
            account.take(station.account(served));
            shortfalls.extend(station.shortfall(&served.heated));
        }
        let mut unknowns = found.at;
        unknowns.truncate(count + 1);
        Ok(LineSteady {
            returned: joined(&served),
            stations: served,
            delivered: made.delivered,
            states: made.states,
            account,
            shortfalls,
            shares,
            ripple: made.ripple,
            rounds: found.rounds,
            change: found.change,
            guess: LineGuess {
                unknowns,
                shares: as_blown.then_some(shares),
                memory,
            },
        })
    }

    /// Dry air that is wanted by all hoppers, kg/s.
    fn wanted(&self) -> f64 {
        self.stations.iter().map(|station| station.air_flow).sum()
    }

    /// Every hopper with its part of the air.
    fn serve(&self, delivered: &Stream, shares: Shares) -> Result<Vec<Served>, LineError> {
        self.stations
            .iter()
            .map(|station| {
                let air_flow = station.air_flow * shares.process;
                station.serve(delivered, air_flow, &self.room)
            })
            .collect()
    }

    /// Where the rounds begin: air of the hall, warmed half way to the hottest set point, and no wetter
    /// than a loop at work: an overloaded desiccant is come to from the dry side.
    fn start(&self) -> Vec<f64> {
        let hottest = self
            .stations
            .iter()
            .map(|station| station.set_point)
            .fold(self.room.temperature, f64::max);
        let warm = Stream {
            dry_air: self.wanted(),
            temperature: 0.5 * (self.room.temperature + hottest),
            humidity: self.room.humidity.min(USUAL_RETURN),
        };
        let mut streams = vec![warm];
        streams.extend(self.maker.inner_at_start(Shares::WANTED, &self.room));
        let mut unknowns = unknowns_of(&streams);
        unknowns.push(1.0);
        unknowns
    }

    /// Dry air of each stream that is unknown.
    fn flows(&self, shares: Shares) -> Vec<f64> {
        let inner = self.maker.inner_at_start(shares, &self.room);
        std::iter::once(self.wanted() * shares.process)
            .chain(inner.iter().map(|stream| stream.dry_air))
            .collect()
    }

    /// Resistance of the hoppers side by side as all of their air sees it, of a humidity ratio: the
    /// greatest pressure any of them asks for, at its own flow and set point.
    pub(crate) fn beyond(&self, humidity: f64, shares: Shares) -> Result<Resistance, LineError> {
        let wanted = self.wanted();
        let mut greatest = Resistance::default();
        for station in &self.stations {
            let part = station.air_flow / wanted;
            let seen = station.seen(station.air_flow * shares.process, humidity, &self.room)?;
            greatest = Resistance {
                laminar: greatest.laminar.max(seen.laminar * part),
                quadratic: greatest.quadratic.max(seen.quadratic * part * part),
            };
        }
        Ok(greatest)
    }
}

/// The shares among the unknowns, if they are.
fn shares_of(unknowns: &[f64]) -> Shares {
    let within = |share: f64| share.clamp(SHARES.0, SHARES.1);
    match unknowns {
        [process, regeneration] => Shares {
            process: within(*process),
            regeneration: within(*regeneration),
        },
        _ => Shares::WANTED,
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
