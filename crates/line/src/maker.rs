//! What stands between return and supply: the kinds of machine that make drying air.

use crate::account::Elsewhere;
use crate::casing::Casing;
use crate::fan::Moved;
use crate::tower_loop::{Dried, Dries};
use crate::wheel_loop::{Desiccated, Remembers};
use crate::{
    Account, Carrier, Given, LineError, OpenAir, Ripple, Room, Shares, Shortfall, TowerLoop,
    WheelLoop,
};
use dryer::Stream;
use dryer::compressed_air::CompressedAir;
use dryer::towers::{Towers, TowersDrive, TowersGuess, TowersState};
use dryer::wheel::{Mesh, Wheel, WheelDrive, WheelGuess, WheelState};

/// A machine that makes drying air.
#[derive(Clone, Debug)]
pub enum Maker {
    /// Air of the hall, heated; once through, or with a share of the return.
    OpenAir(OpenAir),
    /// Compressed air let down to the pressure of the hoppers.
    Compressed(CompressedAir),
    /// A desiccant wheel.
    Wheel(Box<WheelLoop>),
    /// Twin desiccant towers.
    Towers(Box<TowerLoop>),
}

/// A numbered state of the loop.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// Where.
    pub place: &'static str,
    /// What flows there.
    pub stream: Stream,
}

/// What a machine made of the return air.
#[derive(Clone, Debug, PartialEq)]
pub struct Made {
    /// Air for all hoppers, before their own heaters.
    pub delivered: Stream,
    /// Streams that run round inside the machine, as they came out of it.
    pub inner: Vec<Stream>,
    /// States on the way, in its order.
    pub states: Vec<State>,
    /// What crossed the border.
    pub account: Account,
    /// What it could not do.
    pub shortfalls: Vec<Shortfall>,
    /// What its blowers can move of what is wanted.
    pub moved: Shares,
    /// How its supply goes up and down, where it is a desiccant at rest.
    pub ripple: Option<Ripple>,
}

/// What a machine remembers from one steady solution to the next, to begin nearer.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    wheel: Option<WheelGuess>,
    towers: Option<TowersGuess>,
}

/// What a machine holds while time passes.
#[derive(Clone, Debug)]
pub enum MakerState {
    /// Nothing.
    Empty,
    /// A wheel, and the metal behind its regeneration heater.
    Wheel {
        /// Its water and heat.
        wheel: Box<WheelState>,
        /// Temperature of the metal, K.
        casing: f64,
    },
    /// Both towers, and where they are in their cycle.
    Towers(Box<TowersState>),
}

/// A wheel at rest with what it is given.
struct AtRest<'a>(&'a mut Option<WheelGuess>);

impl Remembers for AtRest<'_> {
    fn behind_heater(&mut self, _: Casing, air: Stream) -> Stream {
        air
    }

    fn desiccate(&mut self, wheel: &Wheel, drive: &WheelDrive) -> Result<Desiccated, LineError> {
        let steady = wheel.steady(drive, self.0.as_ref())?;
        let ripple = Ripple::of_wheel(wheel, &steady);
        *self.0 = Some(steady.guess);
        Ok(Desiccated {
            out: steady.outlets.iter().map(|outlet| outlet.mean).collect(),
            ripple,
        })
    }
}

/// A wheel over a step.
struct InTime<'a> {
    wheel: &'a mut WheelState,
    casing: &'a mut f64,
    duration: f64,
}

impl Remembers for InTime<'_> {
    fn behind_heater(&mut self, casing: Casing, air: Stream) -> Stream {
        casing.pass(&air, self.casing, self.duration)
    }

    fn desiccate(&mut self, wheel: &Wheel, drive: &WheelDrive) -> Result<Desiccated, LineError> {
        Ok(Desiccated {
            out: wheel.advance(self.wheel, drive, self.duration)?.outlets,
            ripple: None,
        })
    }
}

/// Towers whose cycle repeats, as its means.
struct CycleMeans<'a>(&'a mut Option<TowersGuess>);

impl Dries for CycleMeans<'_> {
    fn dry(&mut self, towers: &Towers, drive: &TowersDrive) -> Result<Dried, LineError> {
        let steady = towers.steady(drive, self.0.as_ref())?;
        let ripple = Ripple::of_towers(&steady, towers.spec.pressure);
        *self.0 = Some(steady.guess);
        Ok(Dried {
            ripple: Some(ripple),
            dry: steady.mean,
            out: [steady.exhaust, steady.cooling],
            running: steady.running,
        })
    }
}

/// Towers over a step.
struct CycleInTime<'a>(&'a mut TowersState, f64);

impl Dries for CycleInTime<'_> {
    fn dry(&mut self, towers: &Towers, drive: &TowersDrive) -> Result<Dried, LineError> {
        let passed = towers.advance(self.0, drive, self.1)?;
        Ok(Dried {
            ripple: None,
            dry: passed.dry,
            out: [passed.exhaust, passed.cooling],
            running: (passed.running.0 / self.1, passed.running.1 / self.1),
        })
    }
}

impl Made {
    /// The return air, before anything was done to it.
    pub(crate) fn of(returned: Stream) -> Self {
        Self {
            delivered: returned,
            inner: Vec::new(),
            states: Vec::new(),
            account: Account::default(),
            shortfalls: Vec::new(),
            moved: Shares::WANTED,
            ripple: None,
        }
    }

    /// Notes a state, unless nothing flows.
    pub(crate) fn state(&mut self, place: &'static str, stream: Stream) {
        if stream.dry_air > 0.0 {
            self.states.push(State { place, stream });
        }
    }

    /// Notes what a blower drew, and what it lacked; gives the air that leaves it.
    pub(crate) fn blown(&mut self, name: &str, moved: Moved) -> Stream {
        let blown = moved.blown;
        self.account.electricity(name, blown.electric);
        self.account.heat_out(
            format!("motor of the {name}"),
            Carrier::Wall,
            blown.heat_to_hall,
        );
        self.shortfalls.extend(moved.short);
        blown.outlet
    }
}

/// Time constants with which a closed wheel and closed towers cool in their casings, s (estimate: a wheel is light
/// and open, beads are heavy).
const COOLING: (f64, f64) = (3600.0, 6.0 * 3600.0);

/// Share of a flow that rounding may cost.
const SAME: f64 = 1e-9;

/// Compressed air in the place of what goes out; its pressure moves all of the air, up to what it is rated for.
fn let_down(air: &CompressedAir, given: &Given) -> Result<Made, LineError> {
    let (returned, room) = (given.returned, given.room);
    let delivered = air.deliver(given.delivered, returned, room.pressure)?;
    let missing = delivered.returned.dry_air - returned.dry_air;
    if missing > SAME * given.delivered {
        return Err(LineError::NoReturn { missing });
    }
    let mut made = Made::of(*returned);
    let wanted = given.delivered / given.shares.process;
    made.moved.process = (air.most() / wanted).min(1.0);
    if wanted > air.most() * (1.0 + SAME) {
        made.shortfalls.push(Shortfall {
            component: "compressed air".to_owned(),
            what: "flow of dry air",
            asked: 3600.0 * wanted,
            given: 3600.0 * air.most(),
            unit: "kg/h",
        });
    }
    made.state("return of the hoppers", *returned);
    made.account
        .air_in("compressed air let down", &delivered.fresh);
    let out = returned.of(returned.dry_air - delivered.returned.dry_air);
    made.account.air_out("return air let out", &out);
    made.account.elsewhere.push(Elsewhere {
        name: "compressor and air drying".to_owned(),
        power: delivered.power,
    });
    made.account.compressed_air = delivered.volume;
    made.state("let down from the line", delivered.fresh);
    made.state("supply", delivered.outlet);
    made.delivered = delivered.outlet;
    Ok(made)
}

impl Maker {
    /// What it makes at rest of what it is given.
    ///
    /// # Errors
    /// From its components.
    pub fn steady(&self, given: &Given, memory: &mut Memory) -> Result<Made, LineError> {
        match self {
            Self::OpenAir(open) => open.make(given),
            Self::Compressed(air) => let_down(air, given),
            Self::Wheel(dryer) => dryer.around(given, &mut AtRest(&mut memory.wheel)),
            Self::Towers(dryer) => dryer.around(given, &mut CycleMeans(&mut memory.towers)),
        }
    }

    /// What it makes over `duration` seconds.
    ///
    /// # Errors
    /// From its components.
    pub fn advance(
        &self,
        state: &mut MakerState,
        given: &Given,
        duration: f64,
    ) -> Result<Made, LineError> {
        match (self, state) {
            (Self::Wheel(dryer), MakerState::Wheel { wheel, casing }) => {
                let mut in_time = InTime {
                    wheel,
                    casing,
                    duration,
                };
                dryer.around(given, &mut in_time)
            }
            (Self::Towers(dryer), MakerState::Towers(towers)) => {
                dryer.around(given, &mut CycleInTime(towers, duration))
            }
            (Self::OpenAir(open), _) => open.make(given),
            (Self::Compressed(air), _) => let_down(air, given),
            (Self::Wheel(_) | Self::Towers(_), _) => self.steady(given, &mut Memory::default()),
        }
    }

    /// What it holds after long in the air of the hall.
    ///
    /// # Errors
    /// From the wheel, in air it cannot be in.
    pub fn at_rest(&self, room: &Room) -> Result<MakerState, LineError> {
        Ok(match self {
            Self::OpenAir(_) | Self::Compressed(_) => MakerState::Empty,
            Self::Wheel(dryer) => {
                let wheel = dryer.wheel.at_rest(room.temperature, room.humidity)?;
                MakerState::Wheel {
                    wheel: Box::new(wheel),
                    casing: room.temperature,
                }
            }
            Self::Towers(dryer) => {
                let towers = dryer.towers.at_rest(room.temperature, room.humidity)?;
                MakerState::Towers(Box::new(towers))
            }
        })
    }

    /// Water (kg) and heat (J) that it holds.
    pub fn held(&self, state: &MakerState) -> (f64, f64) {
        match (self, state) {
            (Self::Wheel(dryer), MakerState::Wheel { wheel, casing }) => {
                let metal = dryer.regeneration.casing.heat_capacity * casing;
                (dryer.wheel.water(wheel), dryer.wheel.heat(wheel) + metal)
            }
            (Self::Towers(dryer), MakerState::Towers(towers)) => {
                (dryer.towers.water(towers), dryer.towers.heat(towers))
            }
            _ => (0.0, 0.0),
        }
    }

    /// The same with what turns in it as coarse as days want it: within 0.5 K of dew point, see
    /// [`dryer::wheel::Mesh::COARSE`].
    ///
    /// # Errors
    /// From the wheel.
    pub fn for_days(mut self) -> Result<Self, LineError> {
        if let Self::Wheel(dryer) = &mut self {
            dryer.wheel = dryer.wheel.resolved(Mesh::COARSE)?;
        }
        Ok(self)
    }

    /// Lets it stand closed in the hall for `duration` seconds; tells what it lost, J.
    pub(crate) fn cool(&self, state: &mut MakerState, room: &Room, duration: f64) -> f64 {
        match (self, state) {
            (Self::Wheel(dryer), MakerState::Wheel { wheel, casing }) => {
                let hall = room.temperature;
                let before = *casing;
                *casing = hall + (before - hall) * libm::exp(-duration / COOLING.0);
                dryer.wheel.cool(wheel, hall, COOLING.0, duration)
                    + dryer.regeneration.casing.heat_capacity * (before - *casing)
            }
            (Self::Towers(dryer), MakerState::Towers(towers)) => {
                let hall = room.temperature;
                dryer.towers.cool(towers, hall, COOLING.1, duration)
            }
            _ => 0.0,
        }
    }

    /// Regenerates with air of another temperature (K) from now on.
    pub(crate) fn regenerate_at(&mut self, temperature: f64) {
        match self {
            Self::OpenAir(_) | Self::Compressed(_) => {}
            Self::Wheel(dryer) => dryer.regeneration.set_point = temperature,
            Self::Towers(dryer) => dryer.off_line.set_point = temperature,
        }
    }

    /// Temperature of its regeneration air, K, where it has any.
    pub fn regeneration(&self) -> Option<f64> {
        match self {
            Self::OpenAir(_) | Self::Compressed(_) => None,
            Self::Wheel(dryer) => Some(dryer.regeneration.set_point),
            Self::Towers(dryer) => Some(dryer.off_line.set_point),
        }
    }

    /// Share of its capacity that its desiccant has left, where it has one.
    pub fn capacity_left(&self) -> Option<f64> {
        match self {
            Self::OpenAir(_) | Self::Compressed(_) => None,
            Self::Wheel(dryer) => Some(dryer.wheel.spec.capacity_left),
            Self::Towers(dryer) => Some(dryer.towers.spec.capacity_left),
        }
    }

    /// Has another share of its capacity left from now on; water and heat that it holds stay the same.
    ///
    /// # Errors
    /// For a share that cannot be.
    pub(crate) fn age(
        &mut self,
        state: &mut MakerState,
        capacity_left: f64,
    ) -> Result<(), LineError> {
        match (self, state) {
            (Self::Wheel(dryer), MakerState::Wheel { wheel, .. }) => {
                let aged = dryer.wheel.aged(capacity_left)?;
                aged.take_over(wheel, &dryer.wheel);
                dryer.wheel = aged;
            }
            (Self::Towers(dryer), MakerState::Towers(towers)) => {
                let aged = dryer.towers.aged(capacity_left)?;
                aged.take_over(towers, &dryer.towers);
                dryer.towers = aged;
            }
            _ => {}
        }
        Ok(())
    }

    /// Seconds in which what is inside turns on by a slot, if anything does.
    pub(crate) fn slot(&self) -> Option<f64> {
        match self {
            Self::OpenAir(_) | Self::Compressed(_) | Self::Towers(_) => None,
            Self::Wheel(dryer) => {
                let slot = dryer.wheel.slot_duration(dryer.turns_per_hour);
                slot.is_finite().then_some(slot)
            }
        }
    }

    /// Those of the inner streams that are used again in the next step.
    pub(crate) fn returning<'a>(&self, inner: &'a [Stream]) -> &'a [Stream] {
        match self {
            Self::OpenAir(_) | Self::Compressed(_) | Self::Towers(_) => &[],
            Self::Wheel(dryer) => dryer.returning(inner),
        }
    }

    /// Where to begin with the streams that run round inside it.
    pub fn inner_at_start(&self, shares: Shares, room: &Room) -> Vec<Stream> {
        match self {
            Self::OpenAir(_) | Self::Compressed(_) | Self::Towers(_) => Vec::new(),
            Self::Wheel(dryer) => dryer.inner_at_start(shares, room),
        }
    }
}
