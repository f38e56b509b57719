//! A line in time: from any state, through anything that changes about it.
//!
//! # Equations
//! 1. Over a step the machine makes supply air of the air that came back over the last step; the
//!    hoppers then live in that supply for the step. What is under way between them is one step of
//!    return air, and counts as held.
//! 2. Wheel and beds take their own, finer steps within it. All steps of a run are equal, so that what is
//!    under way is the same mass of air at its start and at its end; and they are whole slots of the
//!    wheel, for within a slot the outlet rises and falls with the channels that come round.
//!
//! # Symbols
//! as in the parts.
//!
//! # Holds for
//! Return air that changes over many minutes, of which the lag is a small share; halving the steps is
//! the check.
//!
//! # Sources
//! Balances alone; the parts name theirs.
//!
//! # Checked by
//! `crates/line/src/tests.rs`: ledgers over a run; a run that lasts ends in the steady state.

use crate::maker::{Made, MakerState};
use crate::steady::Line;
use crate::way::When;
use crate::{Account, Carrier, Given, LineError, Shares, Shortfall};
use bed::column::{ColumnState, Passed};
use bed::lived::Lived;
use dryer::Stream;
use quantity::Ledger;

/// What a line holds.
#[derive(Clone, Debug)]
pub struct LineState {
    /// Seconds since it began.
    pub time: f64,
    pub(crate) columns: Vec<ColumnState>,
    pub(crate) maker: MakerState,
    /// Air that came back from each hopper over the last step.
    returned: Vec<Stream>,
    inner: Vec<Stream>,
    /// What flows of what is wanted, where that is asked.
    shares: Option<Shares>,
    /// What has left of the parcel that is leaving each hopper.
    leaving: Vec<Leaving>,
}

/// What has left of a parcel: dry resin and its water, kg, the resin times its temperature, and what it lived
/// through times the resin.
#[derive(Clone, Copy, Debug, Default)]
struct Leaving {
    resin: f64,
    water: f64,
    warmth: f64,
    lived: Lived,
}

/// Parcels of which the last left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Parcel {
    /// Dry resin, kg.
    pub resin: f64,
    /// Its water, kg/kg dry.
    pub water: f64,
    /// Its temperature, K.
    pub temperature: f64,
    /// What it lived through.
    pub lived: Lived,
}

/// One moment of a line.
#[derive(Clone, Debug, PartialEq)]
pub struct LineMoment {
    /// Seconds since it began, at the end of the step.
    pub time: f64,
    /// Supply, before the hoppers' own heaters.
    pub delivered: Stream,
    /// Return, joined.
    pub returned: Stream,
    /// Each hopper.
    pub stations: Vec<StationMoment>,
    /// Current drawn by all, W.
    pub electric_power: f64,
    /// Limits that were met.
    pub shortfalls: Vec<Shortfall>,
}

/// One hopper at one moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StationMoment {
    /// Air at its inlet: K, kg/kg.
    pub inlet: (f64, f64),
    /// Air leaving: K, kg/kg.
    pub returned: (f64, f64),
    /// The parcels of which the last left in this step, as one. Their parts differ by what dried meanwhile, so
    /// only wholes are told.
    pub parcel: Option<Parcel>,
    /// Dry resin that was fed in this step, kg.
    pub fed: f64,
    /// Dry resin that left in this step, kg.
    pub drawn: f64,
}

/// A run of a line and its books.
#[derive(Clone, Debug)]
pub struct LineRun {
    /// Moments, one a step.
    pub moments: Vec<LineMoment>,
    /// What crossed the border in all: water in kg, heat in J.
    pub account: Account,
    /// What was held at the start and at the end: water (kg) and heat (J).
    pub held: [(f64, f64); 2],
}

/// Step that follows a loop well, s: see the trials.
pub const USUAL_STEP: f64 = 60.0;

impl LineState {
    /// The same state, from which on the flows are those that the blowers move, see
    /// [`Line::steady_as_blown`]: of each step what they could in the step before.
    #[must_use]
    pub fn as_blown(self) -> Self {
        Self {
            shares: self.shares.or(Some(Shares::WANTED)),
            ..self
        }
    }

    /// The same with hoppers full of pellets of a temperature (K) and moisture (kg/kg dry).
    #[must_use]
    pub fn filled_with(mut self, line: &Line, temperature: f64, moisture: f64) -> Self {
        let stations = line.stations.iter();
        self.columns = stations
            .map(|station| station.column.filled(temperature, moisture, 0.0))
            .collect();
        self
    }

    /// The same as the beginning of another run: its time is zero.
    #[must_use]
    pub fn begun_anew(mut self) -> Self {
        self.time = 0.0;
        self.columns = self
            .columns
            .into_iter()
            .map(|column| column.at(0.0))
            .collect();
        self.leaving.fill(Leaving::default());
        self
    }

    /// What one of its hoppers holds.
    pub fn column(&self, hopper: usize) -> Option<&ColumnState> {
        self.columns.get(hopper)
    }

    /// Forgets what has left of the parcel that is leaving the first hopper.
    pub(crate) fn forget_leaving(&mut self) {
        self.leaving[0] = Leaving::default();
    }

    /// What flows of what is wanted.
    pub fn shares(&self) -> Shares {
        self.shares.unwrap_or(Shares::WANTED)
    }
}

impl Leaving {
    fn add(&mut self, passed: &Passed) {
        self.resin += passed.resin_out;
        self.water += passed.water_out;
        self.warmth += passed.resin_out * passed.outlet_temperature;
        self.lived = self.lived.and(&passed.lived);
    }

    fn take(&mut self, other: Self) {
        self.resin += other.resin;
        self.water += other.water;
        self.warmth += other.warmth;
        self.lived = self.lived.and(&other.lived);
    }

    fn parcel(self) -> Parcel {
        Parcel {
            resin: self.resin,
            water: self.water / self.resin,
            temperature: self.warmth / self.resin,
            lived: self.lived.times(1.0 / self.resin),
        }
    }
}

impl LineRun {
    /// Water over the run, kg.
    pub fn water(&self) -> Ledger {
        in_all(self.account.water(), "kg", self.held[1].0 - self.held[0].0)
    }

    /// Energy over the run, J.
    pub fn energy(&self) -> Ledger {
        in_all(self.account.energy(), "J", self.held[1].1 - self.held[0].1)
    }
}

/// A ledger of amounts with what was gained.
pub(crate) fn in_all(rates: Ledger, unit: &str, gain: f64) -> Ledger {
    Ledger {
        unit: unit.to_owned(),
        ..rates.stay("gain of desiccant, resin and air", gain)
    }
}

impl Line {
    /// The line after long at rest in the hall, its hoppers just filled.
    ///
    /// # Errors
    /// From the machine, in air it cannot be in.
    pub fn at_rest(&self) -> Result<LineState, LineError> {
        let feed_of = |station: &crate::Station| {
            let feed = &station.feed;
            station
                .column
                .filled(feed.temperature, feed.moisture, feed.free_water)
        };
        Ok(LineState {
            time: 0.0,
            shares: None,
            leaving: vec![Leaving::default(); self.stations.len()],
            columns: self.stations.iter().map(feed_of).collect(),
            maker: self.maker.at_rest(&self.room)?,
            returned: self
                .stations
                .iter()
                .map(|station| self.room.air(station.air_flow))
                .collect(),
            inner: self
                .maker
                .inner_at_start(Shares::WANTED, &self.room)
                .into_iter()
                .map(|stream| self.room.air(stream.dry_air))
                .collect(),
        })
    }

    /// Follows the line for `duration` seconds, rounded up to whole steps, see [`Line::step`].
    ///
    /// # Errors
    /// From the parts.
    pub fn run(&self, state: &mut LineState, duration: f64) -> Result<LineRun, LineError> {
        self.run_in_steps(state, duration, self.step())
    }

    /// The same in steps of `step` seconds.
    ///
    /// # Errors
    /// From the parts.
    pub fn run_in_steps(
        &self,
        state: &mut LineState,
        duration: f64,
        step: f64,
    ) -> Result<LineRun, LineError> {
        let mut run = LineRun {
            moments: Vec::new(),
            account: Account::default(),
            held: [self.held(state, step); 2],
        };
        let end = state.time + duration - 1e-6 * step;
        while state.time < end {
            let moment = self.pass(state, step, &mut run.account)?;
            run.moments.push(moment);
        }
        run.held[1] = self.held(state, step);
        Ok(run)
    }

    /// The step that follows the line well, s: as many slots of its wheel as come to [`USUAL_STEP`], one at
    /// least.
    pub fn step(&self) -> f64 {
        match self.maker.slot() {
            Some(slot) => slot * libm::floor(USUAL_STEP / slot).max(1.0),
            None => USUAL_STEP,
        }
    }

    /// One step.
    pub(crate) fn pass(
        &self,
        state: &mut LineState,
        duration: f64,
        account: &mut Account,
    ) -> Result<LineMoment, LineError> {
        let back = state
            .returned
            .iter()
            .fold(Stream::default(), |sum, stream| stream.joined(sum));
        let shares = state.shares.unwrap_or(Shares::WANTED);
        let sent = |station: &crate::Station| station.air_flow * shares.process;
        let given = Given {
            returned: &back,
            inner: &state.inner,
            beyond: self.beyond(back.humidity, shares)?,
            room: &self.room,
            shares,
            delivered: self.stations.iter().map(sent).sum(),
        };
        let made = self.maker.advance(&mut state.maker, &given, duration)?;
        // What the blowers move of the air of this step flows in the next.
        state.shares = state.shares.map(|_| made.moved);
        let Made {
            delivered,
            inner,
            account: mut crossed,
            mut shortfalls,
            ..
        } = made;
        state.inner = inner;
        let mut stations = Vec::with_capacity(self.stations.len());
        for (index, station) in self.stations.iter().enumerate() {
            let when = When::During(state.time, duration);
            let air = station.send(&delivered.of(sent(station)), &self.room, when)?;
            air.account(&station.name, &mut crossed);
            shortfalls.extend(station.shortfall(&air.heated));
            let drive = station.drive(&air.inlet, &self.room);
            let (moment, leaving) = self.live(index, state, &drive, duration, &mut crossed)?;
            let back = station.way.back(&leaving, &self.room, when)?;
            back.account(&station.name, &mut crossed);
            let returned = back.returned;
            state.returned[index] = returned;
            stations.push(moment);
        }
        state.time += duration;
        let electric_power = crossed.electric_power();
        account.add(&crossed, duration);
        Ok(LineMoment {
            time: state.time,
            delivered,
            returned: state
                .returned
                .iter()
                .fold(Stream::default(), |sum, stream| stream.joined(sum)),
            stations,
            electric_power,
            shortfalls,
        })
    }

    /// One step in which no air is blown and nothing is drawn: everything cools in its own way.
    pub(crate) fn rest(&self, state: &mut LineState, duration: f64, account: &mut Account) {
        let mut crossed = Account::default();
        for (station, column) in self.stations.iter().zip(&mut state.columns) {
            let passed = station
                .column
                .stand(column, self.room.temperature, duration);
            let wall = format!("wall of {}", station.name);
            crossed.heat_out(wall, Carrier::Wall, passed.wall_heat / duration);
        }
        let lost = self.maker.cool(&mut state.maker, &self.room, duration);
        crossed.heat_out("casing of the dryer", Carrier::Wall, lost / duration);
        state.time += duration;
        account.add(&crossed, duration);
    }

    /// One hopper over a step: what left it, and what air it gave back.
    fn live(
        &self,
        index: usize,
        state: &mut LineState,
        drive: &bed::column::Drive,
        duration: f64,
        crossed: &mut Account,
    ) -> Result<(StationMoment, Stream), LineError> {
        let station = &self.stations[index];
        let fail = |cause| LineError::Hopper {
            station: station.name.clone(),
            cause,
        };
        let column = &mut state.columns[index];
        let leaving = &mut state.leaving[index];
        let (mut left, mut ended) = (duration, Leaving::default());
        let (mut fed, mut drawn) = ([0.0; 3], [0.0; 3]);
        let (mut air, mut wall) = ([0.0; 3], 0.0);
        while left > 1e-9 * duration {
            let passed = station.column.step(column, drive, left).map_err(fail)?;
            fed[0] += passed.water_in;
            fed[1] += passed.heat_in;
            fed[2] += passed.resin_in;
            drawn[0] += passed.resin_out;
            drawn[1] += passed.water_out;
            drawn[2] += passed.heat_out;
            air[0] += passed.air;
            air[1] += passed.air_water_out;
            air[2] += passed.air_heat_out;
            wall += passed.wall_heat;
            left -= passed.duration;
            leaving.add(&passed);
            if passed.parcel_ended && leaving.resin > 0.0 {
                ended.take(std::mem::take(leaving));
            }
        }
        let name = &station.name;
        let rate = |amount: f64| amount / duration;
        crossed.resin(format!("resin to {name}"), true, rate(fed[0]), rate(fed[1]));
        crossed.resin(
            format!("resin from {name}"),
            false,
            rate(drawn[1]),
            rate(drawn[2]),
        );
        crossed.heat_out(format!("wall of {name}"), Carrier::Wall, rate(wall));
        let humidity = air[1] / air[0];
        let returned = Stream {
            dry_air: drive.air_flow,
            temperature: air::caloric::temperature(air[2] / air[0], humidity),
            humidity,
        };
        let moment = StationMoment {
            inlet: (drive.air_temperature, drive.air_humidity),
            returned: (returned.temperature, humidity),
            parcel: (ended.resin > 0.0).then(|| ended.parcel()),
            fed: fed[2],
            drawn: drawn[0],
        };
        Ok((moment, returned))
    }

    /// Water (kg) and heat (J) in machine, beds and the air under way for a step.
    pub(crate) fn held(&self, state: &LineState, step: f64) -> (f64, f64) {
        let (mut water, mut heat) = self.maker.held(&state.maker);
        for (station, column) in self.stations.iter().zip(&state.columns) {
            let held = station.column.held(column);
            water += held[1];
            heat += held[2];
        }
        let under_way = state
            .returned
            .iter()
            .chain(self.maker.returning(&state.inner));
        for stream in under_way {
            water += step * stream.water();
            heat += step * stream.heat();
        }
        (water, heat)
    }
}
