//! A desiccant wheel in its loop: return air filtered, cooled, blown through the wheel, and sent back;
//! hall air heated to take the water away again.
//!
//! # Equations
//! 1. Process: [`ProcessSide`] (+ cooling air that comes back) -> wheel -> supply. As much air as leaks in
//!    is lost again with the supply.
//! 2. Cooling: a share of the blown air through the cooling sector; back before the cooler, to the
//!    regeneration, or to the hall. What does not come back is replaced from the hall.
//! 3. Regeneration: hall air (+ cooling air) -> recovery from the exhaust -> heater -> wheel -> exhaust.
//! 4. One function, [`WheelLoop::around`], follows the air; steady and in time differ only in what is
//!    asked of the wheel.
//!
//! # Symbols
//! as in the parts.
//!
//! # Holds for
//! Air without a store of its own; the wheel and the metal behind the regeneration heater
//! are all that remembers. Ducts in the dryer lose nothing.
//! Seals of the wheel may leak between process and regeneration; what the process side loses is drawn
//! in from the hall.
//!
//! # Sources
//! Balances alone; the parts name theirs.
//!
//! # Checked by
//! `crates/line/src/tests.rs`: ledgers over the border, steady and in time.

use crate::casing::Casing;
use crate::fan::Fan;
use crate::maker::Made;
use crate::process_side::{Joins, ProcessSide};
use crate::{Carrier, Given, LineError, Ripple, Room, Shares, Shortfall};
use dryer::exchanger::Exchanger;
use dryer::heater::Heater;
use dryer::wheel::{Duty, Wheel, WheelDrive};
use dryer::{Resistance, Stream};

/// Where the air of the cooling sector goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CoolingTo {
    /// Back into the return air, before the cooler.
    Return,
    /// Into the regeneration air, before its heater.
    Regeneration,
    /// Out.
    Hall,
}

/// The air that takes the water away.
#[derive(Clone, Debug)]
pub struct Regeneration {
    /// Dry air through the regeneration sector, kg/s.
    pub air_flow: f64,
    /// Temperature wanted, K.
    pub set_point: f64,
    /// Its heater.
    pub heater: Heater,
    /// Its blower.
    pub fan: Fan,
    /// Resistance of its filter and hoses.
    pub resistance: Resistance,
    /// What takes heat from the exhaust for the fresh air.
    pub recovery: Option<Exchanger>,
    /// Metal between its heater and the wheel.
    pub casing: Casing,
}

/// A dryer with a desiccant wheel.
#[derive(Clone, Debug)]
pub struct WheelLoop {
    /// The wheel.
    pub wheel: Wheel,
    /// Its speed, turns per hour.
    pub turns_per_hour: f64,
    /// Power of what turns it, W.
    pub drive_power: f64,
    /// What the return air passes before the wheel.
    pub process: ProcessSide,
    /// Dry air through the cooling sector, kg/s.
    pub cooling_flow: f64,
    /// Where it goes.
    pub cooling_to: CoolingTo,
    /// Regeneration.
    pub regeneration: Regeneration,
}

/// What remembers in a wheel loop, asked as the air comes to it.
pub(crate) trait Remembers {
    /// Air after the metal behind the regeneration heater.
    fn behind_heater(&mut self, casing: Casing, air: Stream) -> Stream;
    /// What leaves each sector of the wheel.
    fn desiccate(&mut self, wheel: &Wheel, drive: &WheelDrive) -> Result<Desiccated, LineError>;
}

/// What a wheel did.
pub(crate) struct Desiccated {
    /// What leaves each sector.
    pub(crate) out: Vec<Stream>,
    /// How that of the process sector goes up and down.
    pub(crate) ripple: Option<Ripple>,
}

/// The streams that run round inside, as far as they are used again.
struct Inner {
    cooling: Option<Stream>,
    exhaust: Option<Stream>,
}

impl WheelLoop {
    /// The streams that run round inside, where nothing is known of them yet: the cooling air unless it
    /// goes out, then the exhaust where heat is recovered from it.
    pub fn inner_at_start(&self, shares: Shares, room: &Room) -> Vec<Stream> {
        let warm = 0.5 * (room.temperature + self.regeneration.set_point);
        let cooling = room.air(self.cooling_flow * shares.process).at(warm);
        let exhaust = self.regeneration.air_flow * shares.regeneration;
        let exhaust = room.air(exhaust).at(warm);
        self.inner(cooling, exhaust)
    }

    fn inner(&self, cooling: Stream, exhaust: Stream) -> Vec<Stream> {
        let mut inner = Vec::new();
        if self.cooling_to != CoolingTo::Hall {
            inner.push(cooling);
        }
        if self.regeneration.recovery.is_some() {
            inner.push(exhaust);
        }
        inner
    }

    fn named(&self, inner: &[Stream]) -> Inner {
        let mut all = inner.iter().copied();
        Inner {
            cooling: (self.cooling_to != CoolingTo::Hall)
                .then(|| all.next())
                .flatten(),
            exhaust: all.next(),
        }
    }

    /// Those of the inner streams that pass on what they carry: the cooling air, unless it goes out. The
    /// exhaust only lends its temperature.
    pub(crate) fn returning<'a>(&self, inner: &'a [Stream]) -> &'a [Stream] {
        match self.named(inner).cooling {
            Some(_) => &inner[..1],
            None => &[],
        }
    }

    /// Follows the air once round.
    ///
    /// # Errors
    /// From the components.
    pub(crate) fn around(
        &self,
        given: &Given,
        remembers: &mut impl Remembers,
    ) -> Result<Made, LineError> {
        let room = given.room;
        let mut made = Made::of(*given.returned);
        let Inner { cooling, exhaust } = self.named(given.inner);
        let idle = room.air(0.0);
        let cooling_out = cooling.unwrap_or(idle);
        let came = exhaust.unwrap_or(idle);
        let (process, cooling) = self.process_air(given, &cooling_out, &mut made)?;
        let (recovered, regeneration) =
            self.regeneration_air(given, &cooling_out, &came, &mut made)?;
        let regeneration = remembers.behind_heater(self.regeneration.casing, regeneration);
        made.state("regeneration air at the wheel", regeneration);
        let drive = self
            .wheel
            .drive(process, regeneration, cooling, self.turns_per_hour);
        let Desiccated { out, ripple } = remembers.desiccate(&self.wheel, &drive)?;
        made.ripple = ripple;
        let of = |duty| {
            let place = self.wheel.sector(duty);
            place.and_then(|place| out.get(place).copied())
        };
        let dry = of(Duty::Process).unwrap_or(process);
        let cooling_out = of(Duty::Cooling).unwrap_or(cooling);
        let exhaust = of(Duty::Regeneration).unwrap_or(regeneration);
        made.state("supply from the wheel", dry);
        made.state("from the cooling sector", cooling_out);
        made.state("from the regeneration sector", exhaust);
        made.account
            .electricity("drive of the wheel", self.drive_power);
        made.account
            .heat_out("drive of the wheel", Carrier::Wall, self.drive_power);
        // What leaked in, and what the seals moved between the sectors, leaves here or is missing.
        made.account.air_out(
            "dry air lost on the way",
            &dry.of(dry.dry_air - given.delivered),
        );
        made.delivered = dry.of(given.delivered);
        if self.cooling_to == CoolingTo::Hall {
            made.account.air_out("cooling air", &cooling_out);
        }
        self.let_out(&exhaust, recovered, &mut made);
        made.inner = self.inner(cooling_out, exhaust);
        Ok(made)
    }

    /// Process and cooling air as they come to the wheel.
    fn process_air(
        &self,
        given: &Given,
        cooling_out: &Stream,
        made: &mut Made,
    ) -> Result<(Stream, Stream), LineError> {
        let share = given.shares.process;
        let cooling = self.cooling_flow * share;
        let comes_back = self.cooling_to == CoolingTo::Return;
        let joins = Joins {
            aside: cooling,
            lost: self.lost_by_seals(given),
            again: comes_back.then_some(*cooling_out),
        };
        let through = |air: &Stream, times: f64| {
            let process = given.delivered + self.process.leak * share;
            let drive = self.wheel.drive(
                air.of(process * times),
                Stream::default(),
                air.of(cooling * times),
                self.turns_per_hour,
            );
            let place = self.wheel.sector(Duty::Process).unwrap_or(0);
            self.wheel.pressure_drops(&drive)[place]
        };
        let air = self.process.pass(given, &joins, through, made)?;
        Ok((air.of(air.dry_air - cooling), air.of(cooling)))
    }

    /// Dry air that the process side loses through the seals of the wheel, kg/s: it is drawn in again
    /// from the hall.
    fn lost_by_seals(&self, given: &Given) -> f64 {
        let shares = given.shares;
        let duty = |sector: usize| self.wheel.spec.sectors.get(sector).map(|s| s.duty);
        let flow = |duty: Option<Duty>| match duty {
            Some(Duty::Process) => given.delivered + self.process.leak * shares.process,
            Some(Duty::Regeneration) => self.regeneration.air_flow * shares.regeneration,
            Some(Duty::Cooling) => self.cooling_flow * shares.process,
            None => 0.0,
        };
        let process = Some(Duty::Process);
        let mut lost = 0.0;
        for leak in &self.wheel.spec.leaks {
            let (from, into) = (duty(leak.from.0), duty(leak.into.0));
            let amount = leak.share * flow(into);
            if from == process && into != process {
                lost += amount;
            } else if into == process && from != process {
                lost -= amount;
            }
        }
        lost.max(0.0)
    }

    /// Heat recovered for the regeneration air, W, and all of the air as it comes to the wheel.
    fn regeneration_air(
        &self,
        given: &Given,
        cooling_out: &Stream,
        exhaust: &Stream,
        made: &mut Made,
    ) -> Result<(f64, Stream), LineError> {
        let (regeneration, room) = (&self.regeneration, given.room);
        let all = regeneration.air_flow * given.shares.regeneration;
        let from_cooling = match self.cooling_to {
            CoolingTo::Regeneration => *cooling_out,
            CoolingTo::Return | CoolingTo::Hall => cooling_out.of(0.0),
        };
        let fresh = room.air((all - from_cooling.dry_air).max(0.0));
        made.account
            .air_in("regeneration air from the hall", &fresh);
        let blown = if fresh.dry_air > 0.0 {
            self.blow_fresh(given, &fresh, from_cooling.dry_air, made)?
        } else {
            fresh
        };
        let recovered = match &regeneration.recovery {
            Some(exchanger) => exchanger.exchange(exhaust, &blown, room.pressure)?.heat,
            None => 0.0,
        };
        let mut air = blown.heated(recovered);
        if from_cooling.dry_air > 0.0 {
            air = air.joined(from_cooling);
        }
        let heated = regeneration.heater.heat(&air, regeneration.set_point)?;
        made.account
            .electricity("regeneration heater", heated.power);
        made.shortfalls.extend(Shortfall::of_heater(
            "regeneration heater",
            &heated,
            regeneration.set_point,
        ));
        Ok((recovered, heated.outlet))
    }

    /// Fresh regeneration air past its blower, which moves it through its own way and, with what comes from
    /// the cooling sector (kg/s), through the wheel.
    fn blow_fresh(
        &self,
        given: &Given,
        fresh: &Stream,
        from_cooling: f64,
        made: &mut Made,
    ) -> Result<Stream, LineError> {
        let (regeneration, room) = (&self.regeneration, given.room);
        let place = self.wheel.sector(Duty::Regeneration).unwrap_or(0);
        let own = regeneration.resistance.seen(fresh, room.pressure);
        let system = |flow: f64| {
            let idle = Stream::default();
            let drive = self.wheel.drive(
                idle,
                fresh.of(flow + from_cooling).at(regeneration.set_point),
                idle,
                self.turns_per_hour,
            );
            own.drop(flow, 1.0, 1.0) + self.wheel.pressure_drops(&drive)[place]
        };
        let wanted = regeneration.air_flow - from_cooling;
        let moved = regeneration
            .fan
            .move_air(fresh, wanted, system, room.pressure)?;
        made.moved.regeneration = (moved.flow + from_cooling) / regeneration.air_flow;
        Ok(made.blown(regeneration.fan.name, moved))
    }

    /// The exhaust, after what was recovered of it: what was given to the fresh air was taken from the
    /// exhaust as it came in the last round.
    fn let_out(&self, exhaust: &Stream, recovered: f64, made: &mut Made) {
        let out = exhaust.heated(-recovered);
        if self.regeneration.recovery.is_some() {
            made.state("exhaust after recovery", out);
        }
        made.account.air_out("exhaust of the regeneration", &out);
    }
}
