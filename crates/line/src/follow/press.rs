//! From the plane of the air inlet to the screw: the cone, the loader, the hopper on the press.
//!
//! # Equations
//! 1. Plug flow, so that everything follows from masses: with D(t) drawn from the bed and U(t) used by the press,
//!    both since the beginning, resin of which the place in the bed's outflow is d left the air when D = d,
//!    came to the press when `D = d + C`, and to the screw when `U = d + C + P`, with C in the cone and P on the press
//!    at the beginning.
//! 2. In the cone pellets keep their water, come nearer the hall as `exp(-t/tau_c)` and go on being harmed.
//! 3. On the press pellets come nearer the hall as `exp(-t/tau)`, and take up what a table says for their stay.
//! 4. What is in the cone and on the press at the beginning is like what leaves the bed first.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! tau | `Press::cooling` | s
//! tau_c | `Press::cone_cooling` | s
//!
//! # Holds for
//! No mixing on the way, which is the harder case for the wettest pellet.
//!
//! # Sources
//! Balances alone; the table comes from whoever follows a pellet through the air of the hall.
//!
//! # Checked by
//! `crates/line/src/follow/tests.rs`: closed forms of plug flow.

use crate::in_time::Parcel;
use bed::lived::{Harms, Lived};
use material::Isotherm;
use numeric::table::straight;

/// Pieces into which a parcel of the bed is cut on its way to the screw, each with its own times.
const PIECES: usize = 4;

/// What pellets take up on the press, and how they cool.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Press {
    /// Dry resin that its hopper holds, kg; none where the press draws from the dryer's outlet.
    pub holds: f64,
    /// Dry resin of one cycle of the loader, kg; as it is drawn when zero.
    pub batch: f64,
    /// Time in which pellets on the press come nearer the hall by a factor of e, s; they stay as they are when zero.
    pub cooling: f64,
    /// The same in the cone of the dryer's hopper.
    pub cone_cooling: f64,
    /// Stay (s), beginning with none, and what has been taken up by then, kg/kg dry.
    pub uptake: Vec<(f64, f64)>,
}

impl Press {
    /// What pellets have taken up after a stay, s.
    pub fn taken_up(&self, stay: f64) -> f64 {
        straight(&self.uptake, stay).unwrap_or(0.0)
    }
}

/// Resin at the screw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lot {
    /// Dry resin, kg.
    pub mass: f64,
    /// Its water as it left the air, kg/kg dry.
    pub dried: f64,
    /// What it took up on the press, kg/kg dry.
    pub taken_up: f64,
    /// Its temperature, K.
    pub temperature: f64,
    /// What it lived through.
    pub lived: Lived,
    /// Time at which it left the air, s.
    pub left_air: f64,
    /// Time at which it came to the press, s.
    pub arrived: f64,
    /// Time at which it came to the screw, s.
    pub used: f64,
}

impl Lot {
    /// Its water at the screw, kg/kg dry.
    pub fn water(&self) -> f64 {
        self.dried + self.taken_up
    }
}

/// What passed between the bed and the screw while one resin was in the hopper.
#[derive(Clone, Debug, Default)]
pub(super) struct Passage {
    /// Time (s), and resin drawn from the bed and used by the press since the beginning of it, kg dry.
    pub(super) course: Vec<(f64, f64, f64)>,
    /// Parcels that left the bed, in their order.
    pub(super) parcels: Vec<Parcel>,
    /// Resin in the cone and on the press at its beginning, kg dry.
    pub(super) there: [f64; 2],
}

impl Passage {
    pub(super) fn begin(time: f64, there: [f64; 2]) -> Self {
        Self {
            course: vec![(time, 0.0, 0.0)],
            parcels: Vec::new(),
            there,
        }
    }

    fn last(&self) -> (f64, f64, f64) {
        self.course.last().copied().unwrap_or_default()
    }

    /// Resin on the press now, kg dry.
    pub(super) fn on_press(&self) -> f64 {
        let (_, drawn, used) = self.last();
        (self.there[1] + drawn - used).max(0.0)
    }

    /// Resin below the air inlet and on the press now, kg dry; what the loader took came out of the cone.
    pub(super) fn beyond(&self) -> f64 {
        self.there[0] + self.on_press()
    }

    /// A step to a time (s) in which so much was drawn from the bed and used by the press, kg dry.
    pub(super) fn step(&mut self, time: f64, drawn: f64, used: f64) {
        let (_, d, u) = self.last();
        self.course.push((time, d + drawn, u + used));
    }

    /// The lots that came to the screw.
    pub(super) fn lots(
        &self,
        press: &Press,
        harms: &Harms,
        isotherm: &Isotherm,
        hall: f64,
    ) -> Vec<Lot> {
        let [cone, on_press] = self.there;
        let by_drawn: Vec<(f64, f64)> = self.course.iter().map(|&(t, d, _)| (d, t)).collect();
        let by_used: Vec<(f64, f64)> = self.course.iter().map(|&(t, _, u)| (u, t)).collect();
        let mut lots = Vec::with_capacity(PIECES * (self.parcels.len() + 1));
        let before = self.parcels.first().map(|first| Parcel {
            resin: cone + on_press,
            ..*first
        });
        let mut out = -cone - on_press;
        for parcel in before.iter().chain(&self.parcels) {
            let piece = parcel.resin / PIECES as f64;
            for k in 0..PIECES {
                let at = out + (k as f64 + 0.5) * piece;
                let left_air = reached(&by_drawn, at);
                let arrived = reached(&by_drawn, at + cone);
                let used = reached(&by_used, at + cone + on_press);
                let (Some(left_air), Some(arrived), Some(used)) = (left_air, arrived, used) else {
                    break;
                };
                let in_cone = (arrived - left_air).max(0.0);
                let stay = (used - arrived).max(0.0);
                let lain = lain(parcel, in_cone, (press.cone_cooling, hall), harms, isotherm);
                lots.push(Lot {
                    mass: piece,
                    dried: parcel.water,
                    taken_up: press.taken_up(stay),
                    temperature: cooled(lain.temperature, hall, stay, press.cooling),
                    lived: lain.lived,
                    left_air,
                    arrived,
                    used,
                });
            }
            out += parcel.resin;
        }
        lots
    }
}

/// Steps in which a stay in the cone is summed.
const CONE_STEPS: usize = 6;

/// A parcel after it lay in the cone for a stay (s), which cools with a time constant (s) to a hall (K).
fn lain(
    parcel: &Parcel,
    stay: f64,
    (cooling, hall): (f64, f64),
    harms: &Harms,
    isotherm: &Isotherm,
) -> Parcel {
    let mut now = *parcel;
    let step = stay / CONE_STEPS as f64;
    for _ in 0..CONE_STEPS {
        let middle = cooled(now.temperature, hall, 0.5 * step, cooling);
        now.lived
            .lie(harms, isotherm, (middle, now.water, 0.0), step);
        now.temperature = cooled(now.temperature, hall, step, cooling);
    }
    now
}

/// A temperature that has come nearer the hall for a stay.
fn cooled(temperature: f64, hall: f64, stay: f64, time_constant: f64) -> f64 {
    if time_constant > 0.0 {
        hall + (temperature - hall) * libm::exp(-stay / time_constant)
    } else {
        temperature
    }
}

/// Time at which a growing sum first came to an amount, straight between the steps; none where it never did.
fn reached(course: &[(f64, f64)], amount: f64) -> Option<f64> {
    let after = course.partition_point(|&(sum, _)| sum < amount);
    let (high, end) = *course.get(after)?;
    let Some(&(low, start)) = after.checked_sub(1).and_then(|index| course.get(index)) else {
        return Some(end);
    };
    Some(start + (end - start) * (amount - low) / (high - low))
}

#[cfg(test)]
mod tests {
    use super::{Passage, Press, reached};
    use crate::in_time::Parcel;
    use bed::lived::{Harms, Lived};
    use material::Isotherm;

    #[test]
    fn exact_a_sum_is_reached_where_it_grows() {
        let course = [(0.0, 0.0), (2.0, 10.0), (2.0, 20.0), (4.0, 30.0)];
        for (amount, time) in [(1.0, 5.0), (2.0, 10.0), (3.0, 25.0), (4.0, 30.0)] {
            let found = reached(&course, amount);
            assert!(found.is_some_and(|t| (t - time).abs() < 1e-12), "{amount}");
        }
        assert!(reached(&course, 4.1).is_none());
    }

    #[test]
    fn exact_resin_lies_where_the_masses_say() {
        let mut passage = Passage::begin(0.0, [8.0, 4.0]);
        // Drawn and used at 1 kg/s for 40 s, an hour without use, then on.
        for second in 1..=40 {
            passage.step(f64::from(second), 1.0, 1.0);
        }
        passage.step(3640.0, 0.0, 0.0);
        for second in 1..=40 {
            passage.step(3640.0 + f64::from(second), 1.0, 1.0);
        }
        let parcel = |water: f64| Parcel {
            resin: 4.0,
            water,
            temperature: 390.0,
            lived: Lived::default(),
        };
        passage.parcels = (0..18).map(|k| parcel(f64::from(k))).collect();
        let press = Press {
            holds: 4.0,
            uptake: vec![(0.0, 0.0), (100.0, 4.0), (200.0, 5.0)],
            ..Press::default()
        };
        let isotherm = Isotherm::Henry {
            capacity: 0.006,
            reference_temperature: 373.15,
            mixing_heat: 0.0,
        };
        let lots = passage.lots(&press, &Harms::default(), &isotherm, 295.0);
        // Before it come the pieces of what was there.
        let first = lots[super::PIECES];
        assert!((first.left_air - 0.5).abs() < 1e-9 && (first.arrived - 8.5).abs() < 1e-9);
        assert!((first.used - 12.5).abs() < 1e-9 && (first.taken_up - 0.16).abs() < 1e-9);
        // Half a kilogram before the stop came to the press what is used three and a half after it.
        let stood = lots.iter().find(|lot| lot.arrived > 39.4);
        let stood = stood.map_or((0.0, 0.0), |lot| (lot.arrived, lot.used));
        assert!(
            (stood.0 - 39.5).abs() < 1e-9 && (stood.1 - 3643.5).abs() < 1e-9,
            "{stood:?}"
        );
        let used: f64 = lots.iter().map(|lot| lot.mass).sum();
        assert!((used - 80.0).abs() < 1e-9, "{used}");
        assert!((passage.on_press() - 4.0).abs() < 1e-9);
        for (stay, gain) in [(0.0, 0.0), (50.0, 2.0), (150.0, 4.5), (900.0, 5.0)] {
            assert!((press.taken_up(stay) - gain).abs() < 1e-12, "{stay}");
        }
    }
}
