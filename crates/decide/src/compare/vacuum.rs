//! A vacuum dryer among those compared: a set of vessels for each job that runs at once.
//!
//! How long a batch stays under vacuum is chosen as a plan chooses a hopper: as long as the resin needs. Vacuum
//! spares the pellets the air about them, not the way of the water inside them.

use crate::case::Case;
use crate::compare::kinds::{Batches, Dried, Duty};
use crate::plan::ppm_wet;
use crate::size::{Measured, Part};
use crate::{DecideError, doubt};
use air::HumidAir;
use dryer::heater::HeaterSpec;
use dryer::vacuum::END_PRESSURE_HOLDS;
use libm::exp;
use line::equipment::EquipmentError;
use line::usual;
use line::vacuum_batch::{Charge, VacuumCycle, VacuumMoment};
use line::vacuum_dryer::VacuumDryer;
use line::{Account, Feed, Room, Shortfall};
use pellet::contact::{AirIn, Contact, Exchange, MASS_RATIO};
use pellet::film::in_stream;
use quantity::{
    AbsolutePressure, Duration, HumidityRatio, MassFlow, Quantity, Temperature, Velocity, digits,
};
use uncertainty::classes;

/// Times under vacuum that are tried, h, and the deviations of the diffusivity with which the limit must be met:
/// nine draws of ten.
const HOURS: [f64; 8] = [0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0];
const SLOW: f64 = -1.3;
/// Doubt of the end pressure of the pump and of the purge, relative (common practice, no source).
const END_DOUBT: f64 = 0.3;
const PURGE_DOUBT: f64 = 0.2;
/// Sizes of pellet that are followed.
const SIZES: usize = 3;

/// A vacuum dryer: sized by custom, with a set of vessels for each job that runs at once, or stated, with one set.
pub struct VacuumBatches {
    title: String,
    dryer: VacuumDryer,
    heater: HeaterSpec,
    /// Whether there is one set of vessels only, as large as it is.
    is_stated: bool,
}

/// The shortest time under vacuum (s) of those tried with which a case meets its limit; the longest where none
/// does.
pub(super) fn time_wanted(case: &Case) -> f64 {
    let longest = 3600.0 * HOURS[HOURS.len() - 1];
    let Ok(slow) = doubt::with_diffusivity(&case.coarse(), SLOW) else {
        return longest;
    };
    // As humid as a summer's hall; what heats a charge matters little.
    let room = Room {
        temperature: case.ambient,
        humidity: 0.012,
        pressure: case.pressure,
    };
    let meets = |hours: &&f64| {
        let batches = VacuumBatches::of(case.wet_rate(), case.air_temperature, 3600.0 * **hours);
        batches
            .dry(std::slice::from_ref(&slow), &room, 0.0)
            .is_ok_and(|dried| dried.outlets.iter().all(|water| *water <= case.limit))
    };
    let met = HOURS.iter().find(meets);
    met.map_or(longest, |hours| 3600.0 * hours)
}

impl VacuumBatches {
    /// By custom for all that a dryer is sized for: vessels that the fastest, the hottest and the slowest to dry of
    /// the jobs can use.
    pub fn by_custom(duty: &Duty) -> Self {
        let rates = duty.hoppers.iter().map(|wanted| wanted.rate);
        Self::of(
            rates.fold(0.0, f64::max),
            duty.set_point().value,
            slowest(duty),
        )
    }

    /// As it is stated; it stays as long under vacuum as the slowest job needs where no time is set.
    pub fn stated(
        title: &str,
        dryer: &VacuumDryer,
        heater: HeaterSpec,
        time_is_set: bool,
        duty: &Duty,
    ) -> Self {
        let mut dryer = dryer.clone();
        if !time_is_set {
            dryer.vacuum_time = Duration::from_si(slowest(duty));
        }
        Self {
            title: title.to_owned(),
            dryer,
            heater,
            is_stated: true,
        }
    }

    fn of(rate: f64, set_point: f64, time: f64) -> Self {
        let (dryer, heater) = usual::vacuum_dryer(rate, set_point, time);
        Self {
            title: "vacuum in batches, sized by custom".to_owned(),
            dryer,
            heater,
            is_stated: false,
        }
    }

    /// The dryer with its doubt moved by a deviate.
    fn moved(&self, deviation: f64) -> VacuumDryer {
        let mut dryer = self.dryer.clone();
        let end = dryer.end_pressure.si() * exp(END_DOUBT * deviation);
        dryer.end_pressure = AbsolutePressure::from_si(end.min(END_PRESSURE_HOLDS.high));
        dryer.purge = MassFlow::from_si(dryer.purge.si() * exp(-PURGE_DOUBT * deviation));
        dryer
    }

    fn cycle(
        &self,
        charge: &Charge,
        room: &Room,
        deviation: f64,
    ) -> Result<VacuumCycle, DecideError> {
        let cannot = |cause| DecideError::Equipment {
            title: self.title.clone(),
            cause: Box::new(cause),
        };
        let heater = self.heater.check();
        let heater = heater.map_err(|faults| cannot(faults.into()))?;
        let machine = self
            .moved(deviation)
            .machine(heater, room)
            .map_err(cannot)?;
        machine
            .cycle(charge, room)
            .map_err(|cause| cannot(EquipmentError::Line(cause)))
    }
}

/// The longest time under vacuum that a job of a duty needs, s.
fn slowest(duty: &Duty) -> f64 {
    let times = duty.hoppers.iter().map(|wanted| wanted.vacuum_time);
    times.fold(0.0, f64::max)
}

impl Batches for VacuumBatches {
    fn title(&self) -> &str {
        &self.title
    }

    fn dry(&self, cases: &[Case], room: &Room, deviation: f64) -> Result<Dried, DecideError> {
        if self.is_stated && cases.len() > 1 {
            return Err(DecideError::OneAtATime {
                title: self.title.clone(),
                jobs: cases.len(),
            });
        }
        let mut dried = Dried {
            outlets: Vec::with_capacity(cases.len()),
            stays: Vec::with_capacity(cases.len()),
            account: Account::default(),
            shortfalls: Vec::new(),
            warnings: Vec::new(),
        };
        for (index, case) in cases.iter().enumerate() {
            let mut charge = charge_of(case)?;
            if cases.len() > 1 {
                charge.name = format!("vessels {}, {}", index + 1, charge.name);
            }
            let cycle = self.cycle(&charge, room, deviation)?;
            // Vessels that are what they are dry so much, and the press draws the rest wet or not at all.
            let asked = charge.feed.rate;
            if self.is_stated && cycle.rate < asked * (1.0 - 1e-6) {
                return Err(DecideError::TooSmall {
                    title: self.title.clone(),
                    asked: 3600.0 * asked,
                    given: 3600.0 * cycle.rate,
                });
            }
            let wider = wider_by(case, &charge, &cycle, room)?;
            dried.outlets.push(cycle.drawn.water * wider);
            dried.stays.push(hot(&cycle));
            dried.warnings.push(told(&charge, &cycle, wider));
            dried
                .shortfalls
                .extend(cycle.shortfalls.into_iter().map(|short| Shortfall {
                    component: if cases.len() > 1 {
                        format!("{}, {}", short.component, charge.name)
                    } else {
                        short.component
                    },
                    ..short
                }));
            dried.account.take(cycle.account);
        }
        Ok(dried)
    }

    fn parts(&self, duty: &Duty) -> Vec<Part> {
        let dryer = &self.dryer;
        let largest = duty
            .hoppers
            .iter()
            .max_by(|a, b| a.rate.total_cmp(&b.rate))
            .map_or_else(String::new, |wanted| wanted.title.clone());
        let slowest = duty
            .hoppers
            .iter()
            .max_by(|a, b| a.vacuum_time.total_cmp(&b.vacuum_time))
            .map_or_else(String::new, |wanted| wanted.title.clone());
        let part = |name, decided_by: &str, measures| Part {
            name,
            measures,
            decided_by: decided_by.to_owned(),
        };
        let kilowatt = |power: f64| Measured::of("", power / 1e3, "kW");
        vec![
            part(
                "heating vessel, vacuum vessel and retention hopper, each",
                &largest,
                vec![Measured::of("dry resin", dryer.charge.si(), "kg")],
            ),
            part(
                "time under vacuum",
                &slowest,
                vec![Measured::of("", dryer.vacuum_time.si() / 3600.0, "h")],
            ),
            part(
                "heater of the heating air",
                &largest,
                vec![kilowatt(self.heater.power.si())],
            ),
            part(
                "vacuum pump",
                &largest,
                vec![
                    Measured::of("", dryer.pump_speed.si() * 3600.0, "m3/h"),
                    Measured::of("end pressure", dryer.end_pressure.bar() * 1e3, "mbar"),
                    kilowatt(dryer.pump_power.si()),
                ],
            ),
        ]
    }
}

/// How long the pellets of a batch are hot in the mean, s: half of their heating, under vacuum, and till half of
/// them are drawn.
fn hot(cycle: &VacuumCycle) -> f64 {
    let vacuum = cycle.moments.last().map_or(0.0, |end| end.time);
    0.5 * cycle.heating_time + vacuum + 0.5 * cycle.cycle_time
}

/// What a batch is like, in a sentence.
fn told(charge: &Charge, cycle: &VacuumCycle, wider: f64) -> String {
    format!(
        "a batch of {} kg of {} is hot after {} min, {} h under vacuum and drawn in {} min; vacuum cools it \
         by {} K, and its wettest pellets of mean size leave at {} ppm wet",
        digits(cycle.rate * cycle.cycle_time, 2),
        charge.name,
        digits(cycle.heating_time / 60.0, 2),
        digits(cycle.moments.last().map_or(0.0, |end| end.time) / 3600.0, 2),
        digits(cycle.cycle_time / 60.0, 2),
        digits(cycle.heated.temperature - cycle.evacuated.temperature, 2),
        digits(ppm_wet(cycle.drawn.wettest * wider), 2),
    )
}

/// What a case gives a vacuum dryer: the pellets as they meet hot air in the hopper of the plan.
fn charge_of(case: &Case) -> Result<Charge, DecideError> {
    let (column, _) = case.column()?;
    let at = Temperature::from_si(case.air_temperature);
    let air = HumidAir::new(
        at,
        AbsolutePressure::from_si(case.pressure),
        HumidityRatio::from_si(case.air_humidity),
    )
    .map_err(|cause| DecideError::Air {
        place: "the vacuum vessel before it is pumped down",
        cause,
    })?;
    let still = case
        .kinds()
        .map(|(_, pellets)| {
            let film = in_stream(&pellets.outline, &air, Velocity::from_si(0.0))?;
            Ok(pellets.skin.exchange(&film, at).vapour)
        })
        .collect::<Result<_, DecideError>>()?;
    Ok(Charge {
        name: case.lead.resin.name.clone(),
        column,
        feed: Feed {
            rate: case.rate,
            temperature: case.feed_temperature,
            moisture: case.lead.feed_moisture,
            free_water: case.lead.feed_free_water,
        },
        set_point: case.air_temperature,
        bulk_density: case.bulk_density,
        still,
    })
}

/// By how much pellets of many sizes leave wetter than their mean one: each kind followed through the
/// surroundings of the batch, relative to its mean size.
fn wider_by(
    case: &Case,
    charge: &Charge,
    cycle: &VacuumCycle,
    room: &Room,
) -> Result<f64, DecideError> {
    let (mut mean, mut wide) = (0.0, 0.0);
    let contacts = charge.column.blend().kinds();
    for (((share, pellets), (_, contact)), water) in
        case.kinds().zip(contacts).zip(&cycle.drawn.kinds)
    {
        mean += share * water;
        if pellets.size_spread <= 0.0 {
            wide += share * water;
            continue;
        }
        let fed = (pellets.feed_moisture, pellets.feed_free_water);
        let follow = |size: f64| follow(contact, charge, fed, cycle, room, size);
        let reference = follow(1.0)?;
        let sizes = classes(1.0, pellets.size_spread, SIZES);
        let mut sum = 0.0;
        for size in &sizes {
            sum += follow(size.max(0.2))?;
        }
        let ratio = sum / sizes.len() as f64 / reference;
        wide += share * water * if ratio.is_finite() { ratio } else { 1.0 };
    }
    let ratio = wide / mean;
    Ok(if ratio.is_finite() { ratio } else { 1.0 })
}

/// Water of a pellet of relative size `size` through heating, in air of the hall at the set point for half of
/// its time, and vacuum.
fn follow(
    contact: &Contact,
    charge: &Charge,
    fed: (f64, f64),
    cycle: &VacuumCycle,
    room: &Room,
    size: f64,
) -> Result<f64, DecideError> {
    /// Steps of the hot half of the heating.
    const HOT: usize = 6;
    /// Moments of vacuum in a step.
    const JOINED: usize = 4;
    let square = size * size;
    let own = Contact {
        interior: contact.interior.scaled(size),
        exchange: Exchange {
            heat: contact.exchange.heat / square,
            vapour: contact.exchange.vapour / square,
        },
        ..contact.clone()
    };
    let mut parcel = own.parcel(charge.feed.temperature, fed.0, fed.1);
    let mut work = own.work();
    let hot = AirIn::endless(cycle.heated.temperature, room.humidity);
    let step = 0.5 * cycle.heating_time / HOT as f64;
    // Resin that comes hot from a crystalliser is not heated at all.
    for _ in 0..if step > 0.0 { HOT } else { 0 } {
        own.meet(&mut parcel, &hot, step, &mut work)?;
    }
    parcel.jolt();
    let every: Vec<&VacuumMoment> = cycle.moments.iter().step_by(JOINED).collect();
    for pair in every.windows(2) {
        let mean = |value: fn(&VacuumMoment) -> f64| 0.5 * (value(pair[0]) + value(pair[1]));
        let vapour = mean(|moment| moment.vapour).min(0.9 * own.pressure);
        let air = AirIn::endless(
            mean(|moment| moment.temperature),
            MASS_RATIO * vapour / (own.pressure - vapour),
        );
        own.meet(&mut parcel, &air, pair[1].time - pair[0].time, &mut work)?;
    }
    Ok(parcel.water())
}
