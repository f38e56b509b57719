//! A dryer and its hopper followed through days in which the press draws, stands and changes over, with the
//! control that runs them.
//!
//! # Equations
//! 1. A step is [`Line::step`]. The control says from what it saw in the step before what is done in this one; the
//!    press says what it draws; the hopper is filled; the line passes the step; what left the bed goes on to the screw.
//! 2. The press draws from its own hopper and waits while that is empty. A loader takes a batch when there is
//!    room for one and the dryer gives out.
//! 3. Without air everything cools in its own way, see [`bed::column::Column::stand`].
//!
//! # Symbols
//! as in the parts.
//!
//! # Holds for
//! One dryer with one hopper. Within a step everything asked is constant.
//!
//! # Sources
//! Balances alone; the parts name theirs.
//!
//! # Checked by
//! `tests/src/peers/shift.rs`: a day of steps, stops and a setback against an independent solver;
//! `crates/line/src/follow/tests.rs`: ledgers over days with everything in them, and runs whose end is known.

mod filling;
mod press;
#[cfg(test)]
mod tests;
mod told;

pub use filling::Filling;
pub use press::{Lot, Press};
pub use told::{Drained, Event, Followed, Happened, Picture, Step, Trace};

use crate::control::{Control, ControlState, Mode, Orders, Seen};
use crate::{Account, Line, LineError, LineState, Room, Shortfall, Station};
use bed::column::ColumnState;
use bed::lived::Harms;
use press::Passage;

/// What is followed.
pub struct Course<'a> {
    /// How the dryer is run at the beginning.
    pub control: Control,
    /// How long, s.
    pub duration: f64,
    /// Dry resin that the press wants at a time, kg/s.
    pub wanted: &'a dyn Fn(f64) -> f64,
    /// What the schedule tells of that, to a control that asks it: the same, or what will be wanted.
    pub told: &'a dyn Fn(f64) -> f64,
    /// The hall at a time.
    pub hall: &'a dyn Fn(f64) -> Room,
    /// How the hopper is filled.
    pub filling: Filling,
    /// Dry resin below the air inlet, kg.
    pub cone: f64,
    /// From there to the screw.
    pub press: Press,
    /// Harm that is followed.
    pub harms: Harms,
    /// What comes into the hopper later, in the order of time.
    pub changes: Vec<Change>,
    /// Whether the hopper is ready at the beginning.
    pub ready: bool,
    /// Capacity that the desiccant loses to volatiles, and what a bake-out brings back.
    pub fouling: Fouling,
    /// Time between pictures of the inside of the hopper, s; none are taken when infinite.
    pub picture_every: f64,
    /// Whether what drives the hopper is written down, so that other streams can be sent after it.
    pub traced: bool,
}

/// Capacity that the desiccant loses to volatiles.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Fouling {
    /// Share of the capacity it began with, lost per second of work.
    pub lost_per_second: f64,
    /// Share of what was lost that one bake-out brings back.
    pub restored: f64,
}

/// Another resin from a moment on.
#[derive(Clone, Debug)]
pub struct Change {
    /// When, s.
    pub at: f64,
    /// The hopper with it.
    pub station: Station,
    /// How the dryer is run from then on.
    pub control: Control,
    /// Dry resin below the air inlet, kg.
    pub cone: f64,
    /// From there to the screw.
    pub press: Press,
    /// Harm that is followed.
    pub harms: Harms,
}

/// What goes on while it is followed.
struct Going<'a, 'n> {
    line: Line,
    state: LineState,
    course: &'a Course<'a>,
    control: Control,
    control_state: ControlState,
    orders: Orders,
    passage: Passage,
    press: Press,
    harms: Harms,
    station: usize,
    /// What has been seen of each thing that is told once it changes.
    told: Told,
    capacity: f64,
    aged: f64,
    baking: bool,
    next_picture: f64,
    instruments: &'n mut dyn FnMut(Seen) -> Seen,
    out: Followed,
}

#[derive(Default)]
struct Told {
    mode: Option<Mode>,
    bakes: bool,
    warns: (bool, bool),
    waits: bool,
    empty: bool,
    limits: Vec<(String, &'static str)>,
}

impl Line {
    /// Follows its first hopper through a course; `instruments` make of what is true what is seen.
    ///
    /// # Errors
    /// From the parts.
    pub fn follow(
        &self,
        state: LineState,
        course: &Course,
        instruments: &mut dyn FnMut(Seen) -> Seen,
    ) -> Result<Followed, LineError> {
        if self.stations.is_empty() {
            return Err(LineError::NoHopper);
        }
        let mut going = Going::begin(self.clone(), state, course, instruments);
        let step = self.step();
        going.out.held[0] = going.line.held(&going.state, step);
        let from = going.state.time;
        let mut changes = course.changes.iter().peekable();
        while going.state.time < from + course.duration - 1e-6 * step {
            if let Some(change) = changes.next_if(|change| change.at <= going.state.time) {
                going.change(change);
            }
            going.pass(step)?;
        }
        going.settle();
        going.out.held[1] = going.line.held(&going.state, step);
        Ok(going.out)
    }
}

impl<'a, 'n> Going<'a, 'n> {
    fn begin(
        line: Line,
        state: LineState,
        course: &'a Course<'a>,
        instruments: &'n mut dyn FnMut(Seen) -> Seen,
    ) -> Self {
        let state = state.as_blown().followed(course.harms);
        let control = course.control.clone();
        // The cone of a hopper that is filled anew holds what never saw air: it is drained and put back on top
        // before anything is drawn (common practice, no source); what takes its place is dried.
        let there = if course.ready {
            [course.cone, course.press.holds]
        } else {
            [course.cone, 0.0]
        };
        Self {
            control_state: ControlState::begin(&control, course.ready),
            orders: Orders {
                on: true,
                set_point: control.set_point,
                air_flow: control.air_flow,
                regeneration: control.regeneration,
                released: course.ready || control.hold.is_none(),
                mode: Mode::Drying,
                demand: 1.0,
                warns: (false, false),
            },
            control,
            passage: Passage::begin(state.time, there),
            press: course.press.clone(),
            harms: course.harms,
            station: 0,
            told: Told::default(),
            capacity: line.maker.capacity_left().unwrap_or(1.0),
            aged: state.time,
            baking: false,
            next_picture: state.time,
            instruments,
            out: Followed {
                steps: Vec::new(),
                used: Vec::new(),
                events: Vec::new(),
                pictures: Vec::new(),
                trace: Vec::new(),
                waited: 0.0,
                account: Account::default(),
                held: [(0.0, 0.0); 2],
            },
            line,
            state,
            course,
        }
    }

    /// One step.
    fn pass(&mut self, step: f64) -> Result<(), LineError> {
        let time = self.state.time;
        if time >= self.next_picture {
            self.picture();
        }
        self.line.room = (self.course.hall)(time);
        let wanted = (self.course.wanted)(time);
        let drawn = self.draw(wanted, step);
        self.line.stations[0].feed.rate = drawn;
        let (line, state) = (&mut self.line, &mut self.state);
        let tipped = self
            .course
            .filling
            .fill(line, state, step, &mut self.out.account);
        let orders = self.orders;
        self.line.stations[0].set_point = orders.set_point;
        self.line.stations[0].air_flow = orders.air_flow;
        self.line.maker.regenerate_at(orders.regeneration);
        let mut now = Step {
            time: time + step,
            duration: step,
            orders,
            press: (wanted, 0.0),
            drawn: 0.0,
            held: 0.0,
            inlet: (self.line.room.temperature, self.line.room.humidity),
            returned: (self.line.room.temperature, self.line.room.humidity),
            delivered: self.line.room.humidity,
            power: 0.0,
            capacity_left: self.line.maker.capacity_left(),
        };
        let mut fed = tipped;
        if orders.on {
            let moment = self
                .line
                .pass(&mut self.state, step, &mut self.out.account)?;
            let station = moment.stations[0];
            fed += station.fed;
            now.drawn = station.drawn / step;
            now.inlet = station.inlet;
            now.returned = station.returned;
            now.delivered = moment.delivered.humidity;
            now.power = moment.electric_power;
            self.limits(moment.shortfalls);
            self.passage.parcels.extend(station.parcel);
            self.age(step)?;
        } else {
            self.line.rest(&mut self.state, step, &mut self.out.account);
        }
        self.trace(&now, tipped, step);
        now.press.1 = self.press_draws(wanted, now.drawn, step);
        now.held = self.line.stations[0].column.mass - self.state.columns[0].missing();
        let seen = self.see(&now, fed, (self.course.told)(time));
        self.orders = self.control.step(&mut self.control_state, &seen);
        self.tell(&now);
        self.out.steps.push(now);
        Ok(())
    }

    /// What is drawn from the bed in a step, kg/s.
    fn draw(&self, wanted: f64, step: f64) -> f64 {
        if !(self.orders.released && self.orders.on) {
            return 0.0;
        }
        let press = &self.press;
        let rate = if press.holds > 0.0 {
            let room = press.holds - self.passage.on_press();
            if press.batch > 0.0 {
                // A step may take several cycles of a small loader.
                libm::floor((room + 1e-9) / press.batch) * press.batch / step
            } else {
                room.max(0.0) / step
            }
        } else {
            wanted
        };
        let column = &self.line.stations[0].column;
        let there = column.mass - self.state.columns[0].missing();
        let kept = self.state.columns[0].missing() < 1e-9 * column.mass
            && column.feeding == bed::column::Feeding::Continuous;
        if kept { rate } else { rate.min(there / step) }
    }

    /// What the press draws in a step, kg/s, of which `drawn` kg/s came from the bed; it waits for the rest.
    fn press_draws(&mut self, wanted: f64, drawn: f64, step: f64) -> f64 {
        let drawn = drawn * step;
        let there = if self.press.holds > 0.0 {
            self.passage.on_press() + drawn
        } else {
            drawn
        };
        let mass = (wanted * step).min(there);
        self.passage.step(self.state.time, drawn, mass);
        let short = wanted * step - mass;
        let waits = short > 1e-6 * wanted * step;
        if waits {
            self.out.waited += short / wanted;
        }
        if waits != self.told.waits {
            self.told.waits = waits;
            self.happened(Happened::PressWaits(waits));
        }
        mass / step
    }

    fn see(&mut self, now: &Step, fed: f64, told: f64) -> Seen {
        let station = &self.line.stations[0];
        let column = &self.state.columns[0];
        let along = [0.2, 0.4, 0.6, 0.8].map(|share| column.temperature_at(share));
        let along: f64 = along.iter().map(|t| t.unwrap_or(now.inlet.0)).sum();
        let air = air::caloric::DRY_AIR_HEAT + air::caloric::VAPOUR_HEAT * now.inlet.1;
        (self.instruments)(Seen {
            time: now.time,
            duration: now.duration,
            inlet: now.inlet.0,
            returned: now.returned.0,
            hall: self.line.room.temperature,
            feed: station.feed.temperature,
            air_heat: station.air_flow * self.state.shares().process * air,
            along: 0.25 * along,
            taken: now.drawn * now.duration,
            filled: fed,
            told,
            delivered: now.delivered,
            return_humidity: now.returned.1,
            on: now.orders.on,
        })
    }

    /// Another resin: what is in hopper, cone and press is drained, and the hopper filled anew.
    fn change(&mut self, change: &Change) {
        let old = &self.line.stations[0];
        let column = &self.state.columns[0];
        let held = old.column.held(column);
        let water = column.layers().map(|(_, _, water)| water);
        let between = water.fold((f64::INFINITY, 0.0_f64), |(low, high), x| {
            (low.min(x), high.max(x))
        });
        let warmth: f64 = column
            .layers()
            .map(|(share, t, _)| share * old.column.parcel_mass() * t)
            .sum();
        let drained = Drained {
            mass: held[0],
            water: held[1] / held[0].max(f64::MIN_POSITIVE),
            between,
            temperature: warmth / held[0].max(f64::MIN_POSITIVE),
            beyond: self.passage.beyond(),
        };
        let mut crossed = Account::default();
        crossed.resin(format!("{} drained", old.name), false, held[1], held[2]);
        self.settle();
        let station = change.station.clone();
        let feed = station.feed;
        let fresh = station
            .column
            .filled(feed.temperature, feed.moisture, feed.free_water);
        let held = station.column.held(&fresh);
        crossed.resin(
            format!("{} filled in", station.name),
            true,
            held[1],
            held[2],
        );
        self.out.account.add(&crossed, 1.0);
        self.state
            .refill(fresh.followed(change.harms).at(self.state.time));
        self.line.stations[0] = station;
        self.control = change.control.clone();
        self.control_state.refilled(&self.control);
        self.orders.released = self.orders.released && self.control.hold.is_none();
        self.press = change.press.clone();
        self.harms = change.harms;
        self.station += 1;
        self.passage = Passage::begin(self.state.time, [change.cone, 0.0]);
        self.happened(Happened::Changed(drained));
    }

    /// What came to the screw of the resin that was in the hopper until now.
    fn settle(&mut self) {
        let isotherm = &self.line.stations[0].column.contact.isotherm;
        let hall = self.line.room.temperature;
        let lots = self.passage.lots(&self.press, &self.harms, isotherm, hall);
        self.out.used.push(lots);
    }

    /// Capacity lost and brought back.
    fn age(&mut self, step: f64) -> Result<(), LineError> {
        let fouling = self.course.fouling;
        if fouling.lost_per_second <= 0.0 {
            return Ok(());
        }
        let Some(now) = self.line.maker.capacity_left() else {
            return Ok(());
        };
        let bakes = self.control_state.bakes();
        let ended = self.baking && !bakes;
        self.baking = bakes;
        // Hour by hour: a wheel is worked out anew each time.
        let due = self.state.time - self.aged;
        let next = if ended {
            now + (self.capacity - now) * fouling.restored
        } else if due >= 3600.0 {
            now - fouling.lost_per_second * self.capacity * due.max(step)
        } else {
            return Ok(());
        };
        self.aged = self.state.time;
        let maker = &mut self.line.maker;
        maker.age(&mut self.state.maker, next.max(LEAST_CAPACITY))
    }

    fn trace(&mut self, now: &Step, tipped: f64, step: f64) {
        if !self.course.traced {
            return;
        }
        let station = &self.line.stations[0];
        let inlet = dryer::Stream {
            dry_air: station.air_flow * self.state.shares().process,
            temperature: now.inlet.0,
            humidity: now.inlet.1,
        };
        self.out.trace.push(Trace {
            duration: step,
            on: now.orders.on,
            drive: station.drive(&inlet, &self.line.room),
            tipped,
            kept: station.column.feeding == bed::column::Feeding::Continuous,
            station: self.station,
        });
    }

    fn picture(&mut self) {
        self.next_picture += self.course.picture_every;
        let mass = self.line.stations[0].column.parcel_mass();
        let mut below = 0.0;
        let layers = self.state.columns[0].layers().map(|(share, t, water)| {
            let middle = below + 0.5 * share * mass;
            below += share * mass;
            (middle, t, water)
        });
        let layers = layers.collect();
        self.out.pictures.push(Picture {
            time: self.state.time,
            layers,
        });
    }

    fn happened(&mut self, what: Happened) {
        let time = self.state.time;
        self.out.events.push(Event { time, what });
    }

    fn limits(&mut self, shortfalls: Vec<Shortfall>) {
        for shortfall in shortfalls {
            let named = (shortfall.component.clone(), shortfall.what);
            if !self.told.limits.contains(&named) {
                self.told.limits.push(named);
                self.happened(Happened::Limit(shortfall));
            }
        }
    }

    /// What is told once it changes.
    fn tell(&mut self, now: &Step) {
        let orders = self.orders;
        if self.told.mode != Some(orders.mode) {
            self.told.mode = Some(orders.mode);
            self.happened(Happened::Mode(orders.mode));
        }
        let bakes = self.control_state.bakes();
        if self.told.bakes != bakes {
            self.told.bakes = bakes;
            self.happened(Happened::BakeOut(bakes));
        }
        if self.told.warns.0 != orders.warns.0 {
            self.happened(Happened::HumidityWarning(orders.warns.0));
        }
        if self.told.warns.1 != orders.warns.1 {
            self.happened(Happened::TemperatureWarning(orders.warns.1));
        }
        self.told.warns = orders.warns;
        let empty = now.held < 1e-6 * self.line.stations[0].column.mass;
        if empty && !self.told.empty {
            self.happened(Happened::RanEmpty);
        }
        self.told.empty = empty;
    }
}

/// Least capacity that a fouled desiccant keeps here; one with less is worn out, and the water on it would not fit.
const LEAST_CAPACITY: f64 = 0.25;

impl LineState {
    /// Each hopper followed for what its pellets live through.
    fn followed(mut self, harms: Harms) -> Self {
        self.columns = self
            .columns
            .into_iter()
            .map(|column| column.followed(harms))
            .collect();
        self
    }

    /// The first hopper filled anew.
    fn refill(&mut self, column: ColumnState) {
        self.columns[0] = column;
        self.forget_leaving();
    }
}
