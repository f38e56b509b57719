//! A dryer with its hopper and its day, solved for what a person with hand instruments would read.
//!
//! # Equations
//! 1. Air settles as in [`line::Line::steady`], with a coarse wheel or towers, through the way to the
//!    hopper of [`super::delivery`].
//! 2. The blower stands at one speed, and a damper was set once: what it can do at less air, less
//!    what damper, clean filter, desiccant, hoses and hopper take then, lies over what clogs the way:
//!    `dp = rise(f) - dp_clean(f) - f^2 (rise(1) - dp_clean(1))`, f the air over that of the job.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! f | `share` |
//!
//! # Holds for
//! A dryer at rest: no reading taken while it starts, swaps or is refilled.
//!
//! # Sources
//! Balances alone; the parts name theirs.

use super::cause::left_of;
use super::delivery;
use crate::DecideError;
use crate::case::{Case, celsius};
use crate::plan::ppm_wet;
use crate::station;
use dryer::condensation_temperature;
use dryer::wheel::Mesh;
use dryer::{Resistance, Stream};
use job::{ControlledAt, ReadingKind};
use line::equipment::{Blowing, CoolantSpec, Equipment, Machine};
use line::{Carrier, FlowControl, Line, LineError, LineGuess, LineSteady, Maker, Room, Station};
use quantity::{Fraction, MassFlow, PressureDifference, Quantity};

/// What is installed, and how it stands.
#[derive(Clone, Debug)]
pub(super) struct Installed {
    /// Resin, hopper and settings.
    pub(super) case: Case,
    /// The day.
    pub(super) room: Room,
    /// The dryer.
    pub(super) equipment: Equipment,
    /// Where its temperature is controlled.
    pub(super) controlled_at: ControlledAt,
    /// Transfer units of the hose to the hopper at the air of the job.
    pub(super) hose: f64,
    /// Heat from that hose to the hall, W/(m2 K).
    pub(super) hose_outside: f64,
    /// Air over that of the job.
    pub(super) share: f64,
    /// Share of the air that is lost on the way to the hopper.
    pub(super) lost: f64,
    /// Resistance of the process filter over that when clean.
    pub(super) filter: f64,
    /// Resistance of the hoses over that when sound.
    pub(super) hoses: f64,
    /// Level over that of the job.
    pub(super) level: f64,
    /// Water taken up after the hopper, kg/kg dry.
    pub(super) regain: f64,
    /// Speed of the wheel over its own.
    pub(super) speed: f64,
    /// Whether the dew point is read under the pressure of the line.
    pub(super) under_pressure: bool,
    /// Mean over pellets and streams over that of the mean pellet.
    pub(super) ratio: f64,
    /// Whether wheel and towers are resolved finely.
    pub(super) fine: bool,
    /// Whether the air that flows is found from the blower, see [`Installed::as_blown`].
    pub(super) blown: bool,
}

/// What would be read, each in the scale of [`super::scale`]; none where there is nothing to read.
#[derive(Clone, Debug)]
pub(super) struct Predicted {
    pub(super) readings: Vec<Option<f64>>,
    /// The air as it enters the hopper.
    pub(super) inlet: Stream,
    /// Where a neighbour may begin.
    pub(super) guess: LineGuess,
}

impl Installed {
    /// Turns of the wheel in good order, 1/s.
    pub(super) fn wheel_speed(&self) -> Option<f64> {
        match &self.equipment.machine {
            Machine::Wheel(dryer) => Some(dryer.wheel.speed.si()),
            _ => None,
        }
    }

    /// The case as it runs, with the air that is sent.
    pub(super) fn running(&self) -> Case {
        Case {
            air_flow: self.case.air_flow * self.share,
            bed_mass: self.case.bed_mass * self.level,
            ..self.case.clone()
        }
    }

    /// What it settles in and what would then be read.
    ///
    /// # Errors
    /// For a dryer that cannot be or does not settle.
    pub(super) fn predict(&self, guess: Option<&LineGuess>) -> Result<Predicted, DecideError> {
        let case = self.running();
        let line = self.line(&case)?;
        let settle = |guess: Option<&LineGuess>| {
            if self.blown {
                line.steady_as_blown(guess)
            } else {
                line.steady(guess)
            }
        };
        let settled = match guess.map(|guess| settle(Some(guess))) {
            Some(Ok(settled)) => settled,
            _ => settle(None).map_err(|cause| self.unsettled(cause))?,
        };
        self.read(&case, settled)
    }

    /// The loop that does not settle.
    fn unsettled(&self, cause: LineError) -> DecideError {
        DecideError::Line {
            title: self.equipment.title.clone(),
            cause: Box::new(cause),
        }
    }

    fn line(&self, case: &Case) -> Result<Line, DecideError> {
        let cannot = |cause| DecideError::Equipment {
            title: self.equipment.title.clone(),
            cause: Box::new(cause),
        };
        let mut equipment = self.equipment.clone();
        if let Some(process) = equipment.machine.blowing_mut() {
            obstructed(process, self.filter, self.hoses);
        }
        if let Machine::Wheel(wheel) = &mut equipment.machine {
            let own = wheel.wheel.speed;
            wheel.wheel.speed = Quantity::from_si(own.si() * self.speed);
        }
        let mut maker = equipment.maker(case.air_flow, &self.room).map_err(cannot)?;
        if let (Maker::Wheel(machine), false) = (&mut maker, self.fine) {
            let coarse = machine.wheel.resolved(Mesh::COARSE);
            machine.wheel = coarse.map_err(|cause| self.unsettled(cause.into()))?;
        }
        let heater = equipment.heater().map_err(|faults| cannot(faults.into()))?;
        let station = Station {
            way: delivery::way(self)?,
            ..station::of(case, heater)?
        };
        Ok(Line {
            maker,
            stations: vec![station],
            room: self.room,
        })
    }

    /// What would be read of a line that has settled.
    fn read(&self, case: &Case, settled: LineSteady) -> Result<Predicted, DecideError> {
        use ReadingKind as R;
        let Some(served) = settled.stations.first() else {
            return Err(DecideError::NoDryer);
        };
        let mut readings = vec![None; R::ALL.len()];
        let mut set = |kind: R, value: Option<f64>| {
            readings[kind as usize] = value.filter(|value| value.is_finite());
        };
        let pressure = self.room.pressure;
        let point = |humidity: f64| celsius(condensation_temperature(humidity, pressure));
        let place = |names: &[&str]| {
            let found = settled.states.iter();
            let mut found = found.filter(|state| names.contains(&state.place));
            found.next().map(|state| state.stream)
        };
        let outlet = (served.steady.outlet_moisture + served.steady.outlet_free_water) * self.ratio;
        let heater = &self.equipment.heater;
        let hall = self.room.temperature;
        set(R::HallTemperature, Some(celsius(hall)));
        set(R::HallHumidity, Some(point(self.room.humidity)));
        set(
            R::HopperInletTemperature,
            Some(celsius(served.inlet.temperature)),
        );
        let behind = served.heated.outlet.temperature;
        set(R::DryerOutletTemperature, Some(celsius(behind)));
        set(
            R::ReturnTemperature,
            Some(celsius(settled.returned.temperature)),
        );
        set(R::ReturnDewPoint, Some(point(settled.returned.humidity)));
        set(R::SupplyDewPoint, Some(self.supply_point(&settled)));
        let moved = settled.shares.process;
        set(R::ProcessFlow, Some(libm::log(case.air_flow * moved)));
        let desiccant = place(&["at the desiccant"]);
        set(
            R::DesiccantInletTemperature,
            desiccant.map(|air| celsius(air.temperature)),
        );
        set(R::FilterDrop, self.filter_drop(moved).map(libm::log));
        let hot = place(&[
            "regeneration air at the wheel",
            "regeneration air at the tower",
        ]);
        set(
            R::RegenerationInletTemperature,
            hot.map(|air| celsius(air.temperature)),
        );
        let spent = place(&[
            "from the regeneration sector",
            "from the tower in regeneration",
        ]);
        set(
            R::RegenerationOutletTemperature,
            spent.map(|air| celsius(air.temperature)),
        );
        let given = heater.power.si();
        let left = f64::from(left_of(heater));
        set(
            R::ProcessHeaterCurrent,
            Some(left / f64::from(heater.elements)),
        );
        set(R::ProcessHeaterOutput, Some(served.heated.power / given));
        self.regeneration(&settled, hot, &mut set);
        self.cooling(&settled, &mut set);
        if let Machine::Wheel(_) = &self.equipment.machine {
            set(R::WheelSpeed, Some(self.speed));
        }
        set(R::HopperLevel, Some(self.case.fill * self.level));
        set(R::Rate, Some(libm::log(self.case.wet_rate())));
        set(
            R::ThroatTemperature,
            Some(celsius(served.steady.outlet_temperature)),
        );
        set(R::LotMoisture, log_of(self.case.lead.fed_water()));
        set(R::OutletMoisture, log_of(outlet));
        set(R::ThroatMoisture, log_of(outlet + self.regain));
        Ok(Predicted {
            readings,
            inlet: served.inlet,
            guess: settled.guess,
        })
    }

    /// Dew or frost point of the supply as the instrument meets it, degC.
    fn supply_point(&self, settled: &LineSteady) -> f64 {
        let pressure = match (&self.equipment.machine, self.under_pressure) {
            (Machine::Compressed(spec), true) => self.room.pressure + spec.line_pressure.si(),
            _ => self.room.pressure,
        };
        celsius(condensation_temperature(
            settled.delivered.humidity,
            pressure,
        ))
    }

    /// What the regeneration heater shows.
    fn regeneration(
        &self,
        settled: &LineSteady,
        hot: Option<Stream>,
        set: &mut impl FnMut(ReadingKind, Option<f64>),
    ) {
        let (heater, flow) = match &self.equipment.machine {
            Machine::Wheel(dryer) => (dryer.regeneration.heater, None),
            Machine::Towers(dryer) => (
                dryer.regeneration.heater,
                Some(dryer.process.rated_flow.si() * dryer.regeneration.share.si()),
            ),
            Machine::HotAir(_) | Machine::Compressed(_) => return,
        };
        let left = f64::from(left_of(&heater));
        set(
            ReadingKind::RegenerationHeaterCurrent,
            Some(left / f64::from(heater.elements)),
        );
        let crossings = settled.account.crossings.iter();
        let drawn: f64 = crossings
            .filter(|one| one.name == "regeneration heater")
            .map(|one| one.heat)
            .sum();
        // Of towers only while one is heated.
        let running = match (flow, hot) {
            (Some(flow), Some(hot)) if flow > 0.0 => hot.dry_air / flow,
            _ => 1.0,
        };
        let output = (running > 0.0).then(|| drawn / running / heater.power.si());
        set(ReadingKind::RegenerationHeaterOutput, output);
    }

    /// What the cooling water shows.
    fn cooling(&self, settled: &LineSteady, set: &mut impl FnMut(ReadingKind, Option<f64>)) {
        let process = self.equipment.machine.process();
        let cooler = process.and_then(|process| process.cooler);
        let Some(CoolantSpec::Water { flow, temperature }) = cooler.map(|cooler| cooler.coolant)
        else {
            return;
        };
        set(ReadingKind::CoolingWaterIn, Some(celsius(temperature.si())));
        let crossings = settled.account.crossings.iter();
        let heat: f64 = crossings
            .filter(|one| one.carrier == Carrier::Coolant)
            .map(|one| if one.inward { -one.heat } else { one.heat })
            .sum();
        let warmed = heat / (flow.si() * air::caloric::WATER_HEAT);
        set(
            ReadingKind::CoolingWaterOut,
            Some(celsius(temperature.si()) + warmed),
        );
    }

    /// Pressure over the process filter, Pa, where so much of the wanted air moves.
    fn filter_drop(&self, moved: f64) -> Option<f64> {
        let machine = &self.equipment.machine;
        let (rated, process) = (machine.rated_flow()?.si(), machine.blowing()?);
        let flow = self.case.air_flow * self.share * moved / rated;
        Some(process.drop.si() * process.laminar_share.si() * flow * self.filter)
    }

    /// The same with the damper put into the way and the air found from the blower: what a filter
    /// lets through is then
    /// no input.
    ///
    /// # Errors
    /// For a dryer that cannot be.
    pub(super) fn as_blown(&self) -> Result<Self, DecideError> {
        let mut now = Self {
            share: 1.0,
            blown: true,
            ..self.clone()
        };
        let damper = self.taken_by_the_damper()?;
        let rated = self.equipment.machine.rated_flow();
        let more = rated.map_or(1.0, |rated| rated.si() / self.case.air_flow);
        if let Some(process) = now.equipment.machine.blowing_mut() {
            let (drop, laminar) = (process.drop.si(), process.laminar_share.si());
            let all = drop + damper * more * more;
            process.control = FlowControl::Fixed;
            process.drop = PressureDifference::from_si(all);
            process.laminar_share = Fraction::from_si(laminar * drop / all);
        }
        Ok(now)
    }

    /// Pressure over the damper with the air of the job, Pa.
    fn taken_by_the_damper(&self) -> Result<f64, DecideError> {
        Ok(self.left_over(1.0)?.max(0.0))
    }

    /// Pressure (Pa) that is left for what clogs the way when the air is a share of that of the job.
    ///
    /// # Errors
    /// For a dryer that cannot be.
    pub(super) fn spare(&self, share: f64) -> Result<f64, DecideError> {
        let damper = share * share * self.taken_by_the_damper()?;
        Ok((self.left_over(share)? - damper).max(0.0))
    }

    /// What the blower has left over clean ways, Pa, when the air is a share of that of the job.
    fn left_over(&self, share: f64) -> Result<f64, DecideError> {
        let sound = Self {
            share: 1.0,
            lost: 0.0,
            filter: 1.0,
            hoses: 1.0,
            ..self.clone()
        };
        let line = sound.line(&sound.running())?;
        let flow = self.case.air_flow * share;
        let mut beyond = 0.0;
        if let Some(station) = line.stations.first() {
            let hot = self.room.air(flow).at(station.set_point);
            beyond = dropped(station.resistance, &hot, &self.room);
            if let Some(hose) = station.way.there {
                let carried = hose.carry(&hot, self.room.pressure, self.room.temperature);
                beyond += carried.map_err(|cause| self.unsettled(cause.into()))?.drop;
            }
        }
        Ok(spare(&line.maker, flow, beyond, &self.room))
    }
}

/// Pressure that air loses on a way, Pa.
fn dropped(resistance: Resistance, air: &Stream, room: &Room) -> f64 {
    let volume = air.volume_flow(room.pressure);
    resistance.drop(
        volume,
        air.density(room.pressure),
        air.viscosity(room.pressure),
    )
}

/// What the blower has left over clean ways at a flow, Pa; the hopper takes `beyond`.
fn spare(maker: &Maker, flow: f64, beyond: f64, room: &Room) -> f64 {
    /// Air at the blower, K.
    const AT_BLOWER: f64 = 298.15;
    let air = room.air(flow).at(AT_BLOWER);
    let (fan, own, through) = match maker {
        Maker::OpenAir(open) => (&open.fan, open.resistance, 0.0),
        Maker::Wheel(machine) => {
            let idle = Stream::default();
            let drive = machine.wheel.drive(air, idle, idle, 1.0);
            let drops = machine.wheel.pressure_drops(&drive);
            let place = machine.wheel.sector(dryer::wheel::Duty::Process);
            let through = place.and_then(|place| drops.get(place).copied());
            let side = &machine.process;
            (&side.fan, side.resistance, through.unwrap_or(0.0))
        }
        Maker::Towers(machine) => (
            &machine.process.fan,
            machine.process.resistance,
            machine.towers.pressure_drop(&air),
        ),
        Maker::Compressed(_) => return 0.0,
    };
    let (volume, density) = (air.volume_flow(room.pressure), air.density(room.pressure));
    fan.blower.rise(volume, density) - dropped(own, &air, room) - beyond - through
}

/// Filter and hoses so many times as tight: the filter is what goes with viscosity.
fn obstructed(process: &mut Blowing, filter: f64, hoses: f64) {
    let (drop, laminar) = (process.drop.si(), process.laminar_share.si());
    let (filter, hoses) = (laminar * filter, (1.0 - laminar) * hoses);
    process.drop = PressureDifference::from_si(drop * (filter + hoses));
    process.laminar_share = Fraction::from_si(filter / (filter + hoses));
}

fn log_of(moisture: f64) -> Option<f64> {
    (moisture > 0.0).then(|| libm::log(ppm_wet(moisture)))
}

/// A flow of water over another.
pub(super) fn scaled(flow: MassFlow, by: f64) -> MassFlow {
    MassFlow::from_si(flow.si() * by)
}
