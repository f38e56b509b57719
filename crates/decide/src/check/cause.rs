//! What can be wrong, how often it is, and what it changes in the dryer.
//!
//! A cause has at most one size, spread evenly over its range or over the logarithm of it. How often
//! each is met is
//! common practice, no source: filters first, then what lets hall air in, then what regeneration lacks.

use super::delivery;
use super::installed::{Installed, scaled};
use crate::DecideError;
use crate::case::celsius;
use dryer::exchanger::Fouling;
use dryer::heater::HeaterSpec;
use job::{ControlledAt, ReadingKind};
use line::equipment::{CoolantSpec, Equipment, Machine, ReturnCooler};
use line::{FlowControl, usual};
use quantity::{DewPoint, Fraction, Power, Quantity, Temperature, digits};
use serde::Serialize;

/// A cause.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Cause {
    /// Nothing is wrong.
    Healthy,
    /// Hall air drawn in before the blower.
    HallAirLeak,
    /// Dry air lost between dryer and hopper.
    DeliveryLeak,
    /// Regeneration air into the process air.
    WornSeals,
    /// The wheel does not turn.
    WheelStands,
    /// One or more elements of the regeneration heater.
    RegenerationElements,
    /// All of them, or it is switched off.
    RegenerationOff,
    /// Too little regeneration air.
    RegenerationAir,
    /// The cooler passes too little heat.
    CoolerFouled,
    /// Too little cooling water.
    CoolingWaterShut,
    /// Cooling water comes warm.
    CoolingWaterWarm,
    /// Desiccant aged or contaminated.
    DesiccantWorn,
    /// Air that a tower valve lets by.
    ValveBypass,
    /// Tower valve that does not switch.
    ValveStuck,
    /// The set point is another than that of the job, or the control is.
    SetOtherwise,
    /// The process filter.
    FilterClogged,
    /// The blower turns the wrong way.
    BlowerBackwards,
    /// A hose flattened, or its lining loose.
    HoseCollapsed,
    /// Too little air of the line.
    LineAirThrottled,
    /// One or more elements of the process heater.
    ProcessElements,
    /// Hose without insulation, and the temperature controlled at the dryer.
    HoseBare,
    /// Level low.
    LevelLow,
    /// What is fed is wetter than thought.
    LotWetter,
    /// More is drawn than thought.
    RateHigher,
    /// Less is drawn than thought.
    RateLower,
    /// The dryer of the plant's compressed air.
    PlantDryer,
    /// The dew point sensor sits in the line under pressure.
    SensorUnderPressure,
    /// Water taken up after the hopper.
    Regain,
    /// One reading is wrong, and nothing else.
    WrongReading(ReadingKind),
    /// Something that is not on this list.
    SomethingElse,
}

/// How the size of a cause runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Sizes {
    /// It has none.
    None,
    /// Any of these, equally likely.
    Each(&'static [f64]),
    /// From one end to the other.
    Even(f64, f64),
    /// The same, evenly over the logarithm.
    Log(f64, f64),
}

impl Sizes {
    /// The size at a place from 0 to 1.
    pub(super) fn at(self, place: f64) -> f64 {
        match self {
            Self::None => 0.0,
            Self::Each(sizes) => {
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "a place from 0 to 1 times a short list"
                )]
                let index = (place * (sizes.len() - 1) as f64).round() as usize;
                sizes.get(index).copied().unwrap_or(0.0)
            }
            Self::Even(from, to) => from + place * (to - from),
            Self::Log(from, to) => from * libm::pow(to / from, place),
        }
    }

    /// Places at which the loop is solved.
    pub(super) fn places(self, count: usize) -> Vec<f64> {
        let even = |count: usize| -> Vec<f64> {
            (0..count)
                .map(|index| index as f64 / (count - 1).max(1) as f64)
                .collect()
        };
        match self {
            Self::None => vec![0.0],
            Self::Each(sizes) => even(sizes.len()),
            Self::Even(..) | Self::Log(..) => even(count),
        }
    }
}

/// How often the dryer is in good order when somebody makes a round, against the numbers of
/// [`Cause::often`].
const HEALTHY: f64 = 60.0;

/// All causes that a dryer can have, of those that change what is read in a steady round.
pub(super) fn all_of(equipment: &Equipment, throat_read: bool) -> Vec<Cause> {
    use Cause as C;
    let mut all = vec![C::Healthy];
    let process = equipment.machine.process();
    let cooler = process.and_then(|process| process.cooler);
    let water = cooler.is_some_and(|one| matches!(one.coolant, CoolantSpec::Water { .. }));
    if matches!(equipment.machine, Machine::Compressed(_)) {
        all.extend([C::PlantDryer, C::LineAirThrottled, C::SensorUnderPressure]);
    } else {
        all.extend([C::FilterClogged, C::BlowerBackwards, C::HoseCollapsed]);
    }
    if process.is_some() {
        all.extend([
            C::HallAirLeak,
            C::DeliveryLeak,
            C::RegenerationOff,
            C::RegenerationAir,
            C::DesiccantWorn,
        ]);
        // A single element that is out is a heater that is off.
        if regeneration_elements(equipment) > 1 {
            all.push(C::RegenerationElements);
        }
    }
    match &equipment.machine {
        Machine::Wheel(_) => all.extend([C::WornSeals, C::WheelStands]),
        Machine::Towers(_) => all.extend([C::ValveBypass, C::ValveStuck]),
        Machine::HotAir(_) | Machine::Compressed(_) => {}
    }
    if water {
        all.extend([C::CoolerFouled, C::CoolingWaterShut, C::CoolingWaterWarm]);
    }
    all.extend([
        C::SetOtherwise,
        C::ProcessElements,
        C::HoseBare,
        C::LevelLow,
        C::LotWetter,
        C::RateHigher,
        C::RateLower,
    ]);
    if throat_read {
        all.push(C::Regain);
    }
    all
}

impl Cause {
    /// How often it is met, against the others (common practice, no source).
    pub fn often(self) -> f64 {
        match self {
            Self::Healthy => HEALTHY,
            Self::FilterClogged => 12.0,
            Self::HallAirLeak
            | Self::RegenerationElements
            | Self::PlantDryer
            | Self::WrongReading(ReadingKind::SupplyDewPoint) => 6.0,
            Self::DesiccantWorn | Self::LotWetter => 5.0,
            Self::RegenerationAir | Self::HoseBare | Self::CoolerFouled => 4.0,
            Self::LevelLow
            | Self::RateHigher
            | Self::RateLower
            | Self::WornSeals
            | Self::CoolingWaterShut
            | Self::LineAirThrottled
            | Self::SensorUnderPressure
            | Self::Regain => 3.0,
            Self::WheelStands
            | Self::RegenerationOff
            | Self::DeliveryLeak
            | Self::HoseCollapsed
            | Self::SetOtherwise
            | Self::ProcessElements
            | Self::ValveBypass
            | Self::CoolingWaterWarm
            | Self::SomethingElse => 2.0,
            Self::ValveStuck | Self::BlowerBackwards | Self::WrongReading(_) => 1.0,
        }
    }

    /// How its size runs.
    pub(super) fn sizes(self, equipment: &Equipment) -> Sizes {
        match self {
            Self::HallAirLeak | Self::DeliveryLeak => Sizes::Log(0.02, 0.4),
            Self::WornSeals => Sizes::Log(usual::SEAL_LEAK, 0.1),
            Self::RegenerationElements => lost_of(regeneration_elements(equipment), false),
            Self::ProcessElements => lost_of(left_of(&equipment.heater), true),
            Self::RegenerationAir | Self::LineAirThrottled | Self::LevelLow => {
                Sizes::Even(0.8, 0.1)
            }
            Self::CoolerFouled => Sizes::Even(0.5, 0.98),
            Self::CoolingWaterShut => Sizes::Log(0.3, 0.003),
            Self::CoolingWaterWarm => Sizes::Even(30.0, 50.0),
            Self::DesiccantWorn => Sizes::Even(0.7, 0.05),
            Self::ValveBypass => Sizes::Log(0.02, 0.5),
            Self::FilterClogged | Self::HoseCollapsed => Sizes::Even(0.9, 0.15),
            Self::BlowerBackwards => Sizes::Even(0.6, 0.3),
            Self::HoseBare => Sizes::Log(0.08, 0.4),
            Self::LotWetter => Sizes::Log(1.6, 6.0),
            Self::RateHigher => Sizes::Log(1.2, 2.5),
            Self::RateLower => Sizes::Log(0.8, 0.15),
            // A dryer that takes nothing out leaves the air saturated as it comes from the compressor's cooler.
            Self::PlantDryer => Sizes::Even(8.0, 45.0),
            Self::SetOtherwise => Sizes::Even(0.1, 1.6),
            Self::Regain => Sizes::Log(0.2, 5.0),
            Self::Healthy
            | Self::WheelStands
            | Self::RegenerationOff
            | Self::ValveStuck
            | Self::SensorUnderPressure
            | Self::WrongReading(_)
            | Self::SomethingElse => Sizes::None,
        }
    }

    /// Does it to a dryer.
    ///
    /// # Errors
    /// For a dryer that cannot be.
    pub(super) fn befall(self, size: f64, sound: &Installed) -> Result<Installed, DecideError> {
        let mut now = sound.clone();
        match self {
            Self::FilterClogged | Self::HoseCollapsed => obstruct(self, size, sound, &mut now)?,
            Self::BlowerBackwards => {
                now.share *= size;
                if let Some(process) = now.equipment.machine.blowing_mut() {
                    process.control = FlowControl::Speed;
                }
            }
            Self::LineAirThrottled => now.share *= size,
            Self::DeliveryLeak => now.lost = size,
            Self::WheelStands => now.speed = 0.0,
            Self::HoseBare => {
                now.controlled_at = ControlledAt::Dryer;
                now.hose = size;
                now.hose_outside = delivery::BARE;
            }
            Self::LevelLow => now.level = size,
            Self::LotWetter => {
                now.case.lead.feed_moisture *= size;
                now.case.lead.feed_free_water *= size;
                for kind in &mut now.case.beside {
                    kind.pellets.feed_moisture *= size;
                    kind.pellets.feed_free_water *= size;
                }
            }
            Self::SetOtherwise => set_otherwise(size, &mut now),
            Self::RateHigher | Self::RateLower => now.case.rate *= size,
            Self::SensorUnderPressure => now.under_pressure = true,
            Self::Regain => now.regain += size * now.case.limit,
            Self::ProcessElements => now.equipment.heater.lost += whole(size),
            Self::PlantDryer => {
                if let Machine::Compressed(spec) = &mut now.equipment.machine {
                    spec.pressure_dew_point =
                        air::CondensationPoint::Dew(DewPoint::from_celsius(size));
                    // Saturated air of a line that is cooler would lose the water to it.
                    let line = Temperature::from_celsius(size);
                    spec.temperature = Temperature::from_si(spec.temperature.si().max(line.si()));
                }
            }
            _ => self.change(size, &mut now.equipment.machine),
        }
        Ok(now)
    }

    /// Does it to what makes the air.
    fn change(self, size: f64, machine: &mut Machine) {
        // What the dryer already leaks or has lost stays with it.
        let more = |own: Fraction| Fraction::from_si(own.si() + size);
        match (self, &mut *machine) {
            (Self::WornSeals, Machine::Wheel(dryer)) => {
                dryer.wheel.seal_leak = more(dryer.wheel.seal_leak);
            }
            (Self::DesiccantWorn, Machine::Wheel(dryer)) => {
                dryer.wheel.capacity_left = times(dryer.wheel.capacity_left, size);
            }
            (Self::DesiccantWorn, Machine::Towers(dryer)) => {
                dryer.bed.capacity_left = times(dryer.bed.capacity_left, size);
            }
            (Self::ValveBypass, Machine::Towers(dryer)) => {
                dryer.bed.bypass = dryer.bed.bypass.map(more);
            }
            (Self::ValveStuck, Machine::Towers(dryer)) => dryer.bed.cycle.stuck = Some(0),
            (Self::RegenerationAir, Machine::Wheel(dryer)) => {
                dryer.cooling_share = times(dryer.cooling_share, size);
            }
            _ => {}
        }
        if let Some(regeneration) = machine.regeneration_mut() {
            let heater = &mut regeneration.heater;
            match self {
                Self::RegenerationElements => heater.lost += whole(size),
                Self::RegenerationOff => heater.lost = heater.elements,
                Self::RegenerationAir => regeneration.share = times(regeneration.share, size),
                _ => {}
            }
        }
        if let Some(process) = machine.process_mut() {
            if self == Self::HallAirLeak {
                process.leak = more(process.leak);
            }
            self.cool_less(size, &mut process.cooler);
        }
    }

    fn cool_less(self, size: f64, cooler: &mut Option<ReturnCooler>) {
        let Some(cooler) = cooler else { return };
        let CoolantSpec::Water { flow, temperature } = &mut cooler.coolant else {
            return;
        };
        match self {
            Self::CoolerFouled => {
                let left = match cooler.cooler.fouling {
                    Fouling::Share(own) => 1.0 - own.si(),
                    Fouling::Clean | Fouling::Layer { .. } => 1.0,
                };
                cooler.cooler.fouling =
                    Fouling::Share(Fraction::from_si(1.0 - left * (1.0 - size)));
            }
            Self::CoolingWaterShut => *flow = scaled(*flow, size),
            Self::CoolingWaterWarm => *temperature = Temperature::from_celsius(size),
            _ => {}
        }
    }

    /// What it is called.
    pub fn name(self) -> String {
        match self {
            Self::Healthy => "dryer in good order",
            Self::HallAirLeak => "hall air leaking in on the suction side",
            Self::DeliveryLeak => "dry air leaking out on the way to the hopper",
            Self::WornSeals => "worn wheel seals",
            Self::WheelStands => "wheel stands still",
            Self::RegenerationElements => "regeneration heater element out",
            Self::RegenerationOff => "regeneration heater off",
            Self::RegenerationAir => "too little regeneration air (filter or blower)",
            Self::CoolerFouled => "return-air cooler fouled",
            Self::CoolingWaterShut => "cooling water throttled or shut",
            Self::CoolingWaterWarm => "cooling water too warm",
            Self::DesiccantWorn => "desiccant aged or contaminated",
            Self::ValveBypass => "tower valve leaking",
            Self::ValveStuck => "tower valve stuck",
            Self::FilterClogged => "process filter clogged",
            Self::BlowerBackwards => "process blower turning backwards",
            Self::HoseCollapsed => "hose collapsed or its lining loose",
            Self::LineAirThrottled => "too little compressed air (regulator or its filter)",
            Self::ProcessElements => "process heater element out",
            Self::HoseBare => "hose losing heat, sensor at the dryer",
            Self::LevelLow => "hopper level low",
            Self::LotWetter => "resin fed wetter than thought",
            Self::RateHigher => "more drawn than thought",
            Self::RateLower => "less drawn than thought (long stay)",
            Self::PlantDryer => "dryer of the plant's compressed air failed",
            Self::SetOtherwise => "set or controlled too hot or too cold",
            Self::SensorUnderPressure => "dew point read under line pressure",
            Self::Regain => "pellets take up water after the hopper",
            Self::WrongReading(ReadingKind::SupplyDewPoint) => "dew point sensor wrong",
            Self::WrongReading(of) => return format!("only the {} read wrong", of.words()),
            Self::SomethingElse => "something that is not on this list",
        }
        .to_owned()
    }

    /// The same where the size says more than that.
    pub(super) fn name_at(self, size: f64) -> String {
        match self {
            Self::SetOtherwise if size < 1.0 => "set or controlled too cold".to_owned(),
            Self::SetOtherwise => "set or controlled too hot".to_owned(),
            _ => self.name(),
        }
    }

    /// How large it is, in words; temperatures in degC.
    pub(super) fn size_in_words(self, size: f64, sound: &Installed) -> Option<String> {
        let percent = |share: f64| format!("{} %", digits(100.0 * share, 2));
        let machine = &sound.equipment.machine;
        let of = |heater: &HeaterSpec| {
            let lost = size + f64::from(heater.lost);
            format!("{} of {} dead", digits(lost, 2), heater.elements)
        };
        Some(match self {
            Self::HallAirLeak => {
                let own = machine.process().map_or(0.0, |process| process.leak.si());
                format!("hall air {} of the process air", percent(own + size))
            }
            Self::DeliveryLeak => format!("{} of the air lost", percent(size)),
            Self::WornSeals => {
                let own = match machine {
                    Machine::Wheel(dryer) => dryer.wheel.seal_leak.si(),
                    _ => 0.0,
                };
                format!(
                    "regeneration air {} of the process air",
                    percent(own + size)
                )
            }
            Self::RegenerationElements => of(&machine.regeneration()?.heater),
            Self::ProcessElements => of(&sound.equipment.heater),
            Self::RegenerationAir
            | Self::LineAirThrottled
            | Self::HoseCollapsed
            | Self::BlowerBackwards => format!("air at {}", percent(size)),
            Self::CoolerFouled => format!("{} of its heat transfer lost", percent(size)),
            Self::CoolingWaterShut => format!("water at {}", percent(size)),
            Self::CoolingWaterWarm => format!("water at {} degC", digits(size, 2)),
            Self::DesiccantWorn => {
                let own = match machine {
                    Machine::Wheel(dryer) => dryer.wheel.capacity_left.si(),
                    Machine::Towers(dryer) => dryer.bed.capacity_left.si(),
                    Machine::HotAir(_) | Machine::Compressed(_) => 1.0,
                };
                format!("{} of its capacity left", percent(own * size))
            }
            Self::ValveBypass => {
                let own = match machine {
                    Machine::Towers(dryer) => dryer.bed.bypass[0].si(),
                    _ => 0.0,
                };
                format!("{} of the air passes by", percent(own + size))
            }
            Self::FilterClogged => match clogging(size, sound) {
                Some(times) => format!(
                    "air at {}, the filter {} times as tight as when clean",
                    percent(size),
                    digits(times, 2)
                ),
                None => format!("air at {}", percent(size)),
            },
            Self::HoseBare => {
                let over = sound.case.air_temperature - sound.room.temperature;
                let lost = over * -libm::expm1(-size);
                format!("{} K lost on the way", digits(lost, 2))
            }
            Self::LevelLow => format!("level at {}", percent(size * sound.case.fill)),
            Self::LotWetter => format!("{} times as wet", digits(size, 2)),
            Self::RateHigher | Self::RateLower => {
                format!("{} kg/h", digits(size * sound.case.wet_rate() * 3600.0, 2))
            }
            Self::SetOtherwise => format!(
                "air of {} degC where the job says {} degC",
                digits(celsius(set_at(size, sound)), 3),
                digits(celsius(sound.case.air_temperature), 3)
            ),
            Self::PlantDryer => format!("pressure dew point {} degC", digits(size, 2)),
            Self::Regain => format!(
                "{} ppm",
                digits(crate::plan::ppm_wet(size * sound.case.limit), 2)
            ),
            _ => return None,
        })
    }
}

/// Set point that is so many times as far above the hall as that of the job, K.
fn set_at(size: f64, sound: &Installed) -> f64 {
    let hall = sound.room.temperature;
    hall + size * (sound.case.air_temperature - hall)
}

/// Another set point; air that was read so hot comes from a heater that makes it so hot.
fn set_otherwise(size: f64, now: &mut Installed) {
    let set = set_at(size, now);
    let needed = now.case.air_flow * air::caloric::DRY_AIR_HEAT * (set - now.room.temperature);
    let heater = &mut now.equipment.heater;
    heater.power = Power::from_si(heater.power.si().max(needed));
    now.case.air_temperature = set;
}

/// Air held back by a filter or by a hose: what the blower has left lies over it.
fn obstruct(
    cause: Cause,
    share: f64,
    sound: &Installed,
    now: &mut Installed,
) -> Result<(), DecideError> {
    now.share *= share;
    let spare = sound.spare(share)?;
    let machine = &sound.equipment.machine;
    let (Some(process), Some(rated)) = (machine.blowing(), machine.rated_flow()) else {
        return Ok(());
    };
    let (drop, laminar) = (process.drop.si(), process.laminar_share.si());
    let part = sound.case.air_flow * share / rated.si();
    if cause == Cause::FilterClogged {
        now.filter *= 1.0 + spare / (drop * laminar * part).max(1.0);
    } else {
        now.hoses *= 1.0 + spare / (drop * (1.0 - laminar) * part * part).max(1.0);
    }
    Ok(())
}

/// How tight a filter is at an air flow, over when it is clean.
fn clogging(share: f64, sound: &Installed) -> Option<f64> {
    let found = Cause::FilterClogged.befall(share, sound).ok()?;
    Some(found.filter / sound.filter)
}

/// Elements of the regeneration heater that are left.
fn regeneration_elements(equipment: &Equipment) -> u32 {
    let regeneration = equipment.machine.regeneration();
    regeneration.map_or(0, |side| left_of(&side.heater))
}

/// Elements that are left.
pub(super) fn left_of(heater: &HeaterSpec) -> u32 {
    heater.elements - heater.lost.min(heater.elements)
}

/// Numbers of elements that can be lost of a count, all of them among those where it is asked for.
fn lost_of(count: u32, all: bool) -> Sizes {
    const LOST: [f64; 6] = [1.0, 2.0, 3.0, 4.0, 5.0, 6.0];
    let most = if all { count } else { count.saturating_sub(1) };
    let most = (most as usize).clamp(1, LOST.len());
    Sizes::Each(&LOST[..most])
}

fn times(share: Fraction, by: f64) -> Fraction {
    Fraction::from_si(share.si() * by)
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a small whole number"
)]
fn whole(count: f64) -> u32 {
    count.round() as u32
}
