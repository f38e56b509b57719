//! What is not known of a dryer in good order: each matter moved by one standard deviation, and what
//! the readings then do.
//!
//! # Equations
//! 1. Readings `y = f + J z + e`: f the model, z independent standard deviates of what is not known, J
//!    what one deviation of each does to every reading, e the instrument. To z belongs, for each kind of
//!    reading, what the model itself may be off by.
//! 2. A good round, `y0 = f0 + J z + e0`, narrows what stays from day to day: `z | y0` is normal with
//!    mean `K (y0 - f0)` and variance `I - K J`, `K = J^T (J J^T + R)^-1`.
//!
//! # Symbols
//! as above
//!
//! # Holds for
//! Deviations small enough that J stays what it is at the middle of a cause.
//!
//! # Sources
//! Linear normal theory, from memory of textbooks; the sizes of the deviations are common practice, no source.

use super::gauss::{Factor, dot, identity};
use super::installed::{Installed, Predicted, scaled};
use super::scale::{self, Read};
use crate::case::Case;
use crate::doubt as evidence;
use crate::resolve::Given;
use job::ReadingKind;
use line::equipment::{CoolantSpec, Machine, ReturnCooler};
use line::usual;
use numeric::linear::Matrix;
use quantity::{Fraction, Quantity, ThermalConductance};
use uncertainty::Design;

/// Kinds of reading.
pub(super) const KINDS: usize = ReadingKind::ALL.len();

/// A matter that is not known well.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Matter {
    Rate,
    FeedMoisture,
    FeedTemperature,
    AirFlow,
    Cooler,
    WaterTemperature,
    Wall,
    Leak,
    Seals,
    Valves,
    HallTemperature,
    HallHumidity,
    RegenerationAir,
    HeatCapacity,
    Level,
    Hose,
    /// What the resin itself dries like; moves the moisture of what leaves alone.
    Drying,
}

impl Matter {
    pub(super) const ALL: [Self; 17] = [
        Self::Rate,
        Self::FeedMoisture,
        Self::FeedTemperature,
        Self::AirFlow,
        Self::Cooler,
        Self::WaterTemperature,
        Self::Wall,
        Self::Leak,
        Self::Seals,
        Self::Valves,
        Self::HallTemperature,
        Self::HallHumidity,
        Self::RegenerationAir,
        Self::HeatCapacity,
        Self::Level,
        Self::Hose,
        Self::Drying,
    ];

    /// Whether it is the same tomorrow.
    fn stays(self) -> bool {
        matches!(
            self,
            Self::AirFlow
                | Self::Cooler
                | Self::Wall
                | Self::Leak
                | Self::Seals
                | Self::Valves
                | Self::RegenerationAir
                | Self::HeatCapacity
                | Self::Hose
                | Self::Drying
        )
    }

    /// A dryer in which it is so many standard deviations off; none where it does not apply.
    pub(super) fn moved(
        self,
        by: f64,
        hall: &HallDoubt,
        installed: &Installed,
    ) -> Option<Installed> {
        let mut now = installed.clone();
        let factor = |deviation: f64| libm::exp(deviation * by);
        match self {
            Self::Rate => now.case.rate *= factor(0.05),
            Self::FeedMoisture => {
                let spread = now.case.lead.arrival_spread.max(0.2);
                now.case.lead.feed_moisture *= factor(spread);
                now.case.lead.feed_free_water *= factor(spread);
                for kind in &mut now.case.beside {
                    kind.pellets.feed_moisture *= factor(spread);
                }
            }
            Self::FeedTemperature => now.case.feed_temperature += 3.0 * by,
            Self::AirFlow => now.share *= factor(0.1),
            Self::Cooler => {
                let cooler = cooler(&mut now.equipment.machine)?;
                let times = |c: ThermalConductance| Quantity::from_si(c.si() * factor(0.3));
                cooler.cooler.air_conductance = times(cooler.cooler.air_conductance);
                cooler.cooler.coolant_conductance = times(cooler.cooler.coolant_conductance);
                if let CoolantSpec::Water { flow, .. } = &mut cooler.coolant {
                    *flow = scaled(*flow, factor(0.3));
                }
            }
            Self::WaterTemperature => {
                let cooler = cooler(&mut now.equipment.machine)?;
                let CoolantSpec::Water { temperature, .. } = &mut cooler.coolant else {
                    return None;
                };
                *temperature = Quantity::from_si(temperature.si() + 4.0 * by);
            }
            Self::Wall => now.case.wall_coefficient *= factor(0.4),
            Self::Leak => {
                let leak = &mut now.equipment.machine.process_mut()?.leak;
                *leak = Fraction::from_si(leak.si() * factor(0.8));
            }
            Self::Seals => {
                let Machine::Wheel(dryer) = &mut now.equipment.machine else {
                    return None;
                };
                let leak = &mut dryer.wheel.seal_leak;
                *leak = Fraction::from_si(leak.si() * factor(usual::SEAL_DOUBT));
            }
            Self::Valves => {
                let Machine::Towers(dryer) = &mut now.equipment.machine else {
                    return None;
                };
                let times = factor(usual::VALVE_DOUBT);
                let moved = |share: Fraction| Fraction::from_si(share.si() * times);
                dryer.bed.bypass = dryer.bed.bypass.map(moved);
            }
            Self::HallTemperature => now.room.temperature += hall.kelvin * by,
            Self::HallHumidity => now.room.humidity *= factor(hall.logarithm),
            Self::RegenerationAir => {
                let share = &mut now.equipment.machine.regeneration_mut()?.share;
                *share = Fraction::from_si(share.si() * factor(0.12));
            }
            Self::HeatCapacity => now.case.lead.calorics.resin *= factor(0.06),
            Self::Level => now.level *= factor(0.05),
            Self::Hose => now.hose *= factor(0.6),
            Self::Drying => return None,
        }
        Some(now)
    }
}

/// How well the hall is known.
#[derive(Clone, Copy, Debug)]
pub(super) struct HallDoubt {
    pub(super) kelvin: f64,
    pub(super) logarithm: f64,
}

fn cooler(machine: &mut Machine) -> Option<&mut ReturnCooler> {
    machine.process_mut()?.cooler.as_mut()
}

/// What one deviation of each matter does to every kind of reading.
pub(super) type Slopes = Vec<[f64; KINDS]>;

/// Slopes about an installation whose readings are known; those of the drying of the resin are added by
/// [`dry_otherwise`].
pub(super) fn slopes(installed: &Installed, here: &Predicted, hall: &HallDoubt) -> Slopes {
    Matter::ALL
        .iter()
        .map(|matter| {
            let mut row = [0.0; KINDS];
            let Some(moved) = matter.moved(1.0, hall, installed) else {
                return row;
            };
            // Where a neighbour does not settle nothing is known of the slope.
            let Ok(there) = moved.predict(Some(&here.guess)) else {
                return row;
            };
            for (slope, (now, then)) in row
                .iter_mut()
                .zip(there.readings.iter().zip(&here.readings))
            {
                if let (Some(now), Some(then)) = (now, then) {
                    *slope = now - then;
                }
            }
            row
        })
        .collect()
}

/// Puts the relative doubt of what leaves the hopper among the slopes.
pub(super) fn dry_otherwise(slopes: &mut Slopes, relative: f64) {
    for (matter, row) in Matter::ALL.iter().zip(slopes) {
        if *matter == Matter::Drying {
            row[ReadingKind::OutletMoisture as usize] = relative;
            row[ReadingKind::ThroatMoisture as usize] = relative;
        }
    }
}

/// Draws from which the doubt of what leaves the hopper is found.
const DRAWS: u32 = 24;

/// Doubt of what leaves the hopper, from that of the resin's evidence, relative; the air is that which comes.
pub(super) fn drying(installed: &Installed, here: &Predicted, given: &Given) -> f64 {
    /// What any hopper parts from its model by (common practice, no source).
    const LEAST: f64 = 0.1;
    let case = Case {
        air_flow: here.inlet.dry_air,
        air_temperature: here.inlet.temperature,
        air_humidity: here.inlet.humidity,
        ..installed.running()
    };
    let design = Design { seed: 1 };
    let mut logs = Vec::new();
    for index in 0..DRAWS {
        let deviate = |dimension| design.normal(index, dimension);
        let moved = evidence::shifted(&case, given, &deviate);
        if let Ok(left) = evidence::one(&moved)
            && left > 0.0
        {
            logs.push(libm::log(left));
        }
    }
    logs.sort_by(f64::total_cmp);
    // Half of what two thirds of the draws lie within: a draw in which the bed runs cold or dry does
    // not count more.
    let at = |share: f64| uncertainty::quantile(&logs, share);
    if logs.is_empty() {
        return LEAST;
    }
    (0.5 * (at(0.84) - at(0.16))).clamp(LEAST, 1.0)
}

/// What is known of the deviates: those of the matters, then what the model is off by in each kind.
#[derive(Clone, Debug)]
pub(super) struct Deviates {
    pub(super) mean: Vec<f64>,
    pub(super) variance: Matrix,
}

/// How many deviates there are.
const COUNT: usize = Matter::ALL.len() + KINDS;

impl Deviates {
    /// Nothing but their spread.
    pub(super) fn unknown() -> Self {
        Self {
            mean: vec![0.0; COUNT],
            variance: identity(COUNT),
        }
    }

    /// What a good round tells of them.
    pub(super) fn after(good: &[Read], expected: &[f64], rows: &[Vec<f64>]) -> Option<Self> {
        let count = good.len();
        let mut sum = Matrix::zeros(count);
        for i in 0..count {
            for j in 0..count {
                sum.set(i, j, dot(&rows[i], &rows[j]));
            }
            sum.add(i, i, good[i].error * good[i].error);
        }
        let factor = Factor::of(&sum)?;
        let missed: Vec<f64> = good
            .iter()
            .zip(expected)
            .map(|(r, e)| r.value - e)
            .collect();
        let weighed = factor.solve(&missed);
        let mut now = Self::unknown();
        let columns: Vec<Vec<f64>> = (0..COUNT)
            .map(|place| rows.iter().map(|row| row[place]).collect())
            .collect();
        let solved: Vec<Vec<f64>> = columns.iter().map(|column| factor.solve(column)).collect();
        let stays = |place: usize| Matter::ALL.get(place).is_none_or(|matter| matter.stays());
        for place in (0..COUNT).filter(|place| stays(*place)) {
            now.mean[place] = dot(&columns[place], &weighed);
            for other in (0..COUNT).filter(|other| stays(*other)) {
                now.variance
                    .add(place, other, -dot(&columns[place], &solved[other]));
            }
        }
        Some(now)
    }
}

/// What every deviate does to one kind of reading.
pub(super) fn row(slopes: &Slopes, kind: ReadingKind, dew_point: f64) -> Vec<f64> {
    let mut row: Vec<f64> = slopes.iter().map(|slope| slope[kind as usize]).collect();
    row.extend(ReadingKind::ALL.iter().map(|other| {
        if *other != kind {
            0.0
        } else if kind == ReadingKind::SupplyDewPoint {
            dew_point
        } else {
            scale::off(kind)
        }
    }));
    row
}
