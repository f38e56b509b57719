//! What breaks first: how much harder the job may get before a dryer gives way, and what gives way.
//!
//! One thing at a time is made harder in the closed loop, all else unchanged, until the resin leaves
//! wetter than its limit, a component is asked for more than it gives, or the dew point of the supply
//! has risen by 10 K; the last is the cliff of a desiccant.

use crate::DecideError;
use crate::case::Case;
use crate::closed::{line_of, settle};
use dryer::wheel::CLIFF_RISE;
use line::equipment::Equipment;
use line::{Line, LineGuess, Room};
use rayon::prelude::*;
use serde::Serialize;

/// What gets harder.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Harder {
    /// More resin an hour through the same hopper and air.
    Rate,
    /// Resin that comes wetter.
    ResinWater,
    /// A hall whose air holds more water, up to damp air.
    HallWater,
    /// Less resin an hour: the return air comes back hotter.
    SlowPress,
}

impl Harder {
    /// All of them.
    pub const ALL: [Self; 4] = [
        Self::Rate,
        Self::ResinWater,
        Self::HallWater,
        Self::SlowPress,
    ];
}

/// What gives way.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Breaks {
    /// The resin leaves wetter than its limit.
    Limit {
        /// Which resin.
        resin: String,
    },
    /// A component is asked for more than it gives.
    Component {
        /// Which.
        component: String,
    },
    /// The dew point of the supply rises by 10 K.
    DewPoint,
    /// The loop does not settle any more.
    Loop,
    /// Nothing, as far as was looked.
    Nothing,
}

/// How much harder one thing may get.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Margin {
    /// What gets harder.
    pub harder: Harder,
    /// Over what it is now where something gives way; the most that was looked at where nothing does.
    pub factor: f64,
    /// What gives way.
    pub breaks: Breaks,
}

/// The most that is looked at, over what is now.
const MOST: f64 = 4.0;
/// First step, and the share to which the factor is found.
const STEP: f64 = 1.3;
const CLOSE: f64 = 0.03;

/// The margins of a dryer that serves these cases in this hall.
pub(super) fn margins(equipment: &Equipment, cases: &[Case], room: &Room) -> Vec<Margin> {
    let coarse: Vec<Case> = cases.iter().map(Case::coarse).collect();
    let stand = Stand {
        equipment,
        cases: &coarse,
        room,
    };
    let broken = |breaks: &Breaks| {
        let each = Harder::ALL.iter().map(|harder| Margin {
            harder: *harder,
            factor: 1.0,
            breaks: breaks.clone(),
        });
        each.collect()
    };
    let Ok((now, guess)) = stand.at(Harder::Rate, 1.0, None) else {
        // It settles in fine steps only: there is no room to be told.
        return broken(&Breaks::Loop);
    };
    if let Some(breaks) = stand.broken(&now, f64::INFINITY) {
        // It does not do as it is: nothing may get harder.
        return broken(&breaks);
    }
    Harder::ALL
        .par_iter()
        .map(|harder| stand.margin(*harder, now.supply, &guess))
        .collect()
}

/// A dryer at its hoppers in a hall.
struct Stand<'a> {
    equipment: &'a Equipment,
    cases: &'a [Case],
    room: &'a Room,
}

/// What is seen of it at rest.
struct Seen {
    /// Dew or frost point of the supply, K.
    supply: f64,
    /// Water left in the resin of each hopper, kg/kg dry.
    outlets: Vec<f64>,
    /// The first component that is asked for too much.
    short: Option<String>,
}

impl Stand<'_> {
    fn margin(&self, harder: Harder, supply: f64, guess: &LineGuess) -> Margin {
        let most = self.most(harder);
        let found = |factor, breaks| Margin {
            harder,
            factor,
            breaks,
        };
        let (mut low, mut high, mut guess) = (1.0, STEP.min(most), guess.clone());
        let mut breaks = loop {
            match self.look(harder, high, supply, &mut guess) {
                Some(breaks) => break breaks,
                None if high >= most => return found(most, Breaks::Nothing),
                None => (low, high) = (high, (high * STEP).min(most)),
            }
        };
        while high / low > 1.0 + CLOSE {
            let middle = (low * high).sqrt();
            match self.look(harder, middle, supply, &mut guess) {
                Some(sooner) => (high, breaks) = (middle, sooner),
                None => low = middle,
            }
        }
        found(low, breaks)
    }

    /// What gives way at a factor; a guess that serves is kept.
    fn look(
        &self,
        harder: Harder,
        factor: f64,
        supply: f64,
        guess: &mut LineGuess,
    ) -> Option<Breaks> {
        match self.at(harder, factor, Some(guess)) {
            Ok((seen, next)) => {
                *guess = next;
                self.broken(&seen, supply + CLIFF_RISE)
            }
            Err(_) => Some(Breaks::Loop),
        }
    }

    /// What has given way, components first: they are why the rest follows.
    fn broken(&self, seen: &Seen, cliff: f64) -> Option<Breaks> {
        if let Some(component) = &seen.short {
            return Some(Breaks::Component {
                component: component.clone(),
            });
        }
        let mut served = self.cases.iter().zip(&seen.outlets);
        if let Some((case, _)) = served.find(|(case, outlet)| **outlet > case.limit) {
            return Some(Breaks::Limit {
                resin: case.lead.resin.name.clone(),
            });
        }
        (seen.supply > cliff).then_some(Breaks::DewPoint)
    }

    /// How far a thing is made harder: damp air is the end of a hall, a tenth of the rate that of a press.
    fn most(&self, harder: Harder) -> f64 {
        match harder {
            Harder::Rate | Harder::ResinWater => MOST,
            Harder::SlowPress => 10.0,
            Harder::HallWater => {
                let damp = air::equilibrium::saturated_over_liquid(
                    self.room.temperature,
                    self.room.pressure,
                );
                (air::mixture::humidity_ratio(damp) / self.room.humidity).max(1.0)
            }
        }
    }

    /// What is seen at a factor.
    fn at(
        &self,
        harder: Harder,
        factor: f64,
        guess: Option<&LineGuess>,
    ) -> Result<(Seen, LineGuess), DecideError> {
        let mut room = *self.room;
        let mut cases = self.cases.to_vec();
        for case in &mut cases {
            match harder {
                Harder::Rate => case.rate *= factor,
                Harder::SlowPress => case.rate /= factor,
                Harder::ResinWater => {
                    case.lead.feed_moisture *= factor;
                    for kind in &mut case.beside {
                        kind.pellets.feed_moisture *= factor;
                    }
                }
                Harder::HallWater => {}
            }
        }
        if harder == Harder::HallWater {
            room.humidity *= factor;
        }
        let line: Line = line_of(self.equipment, &cases, room)?;
        let steady = settle(&line, guess, &self.equipment.title)?;
        let seen = Seen {
            supply: dryer::condensation_temperature(steady.delivered.humidity, room.pressure),
            outlets: steady
                .stations
                .iter()
                .map(|served| served.steady.outlet_moisture + served.steady.outlet_free_water)
                .collect(),
            short: steady
                .shortfalls
                .first()
                .map(|short| short.component.clone()),
        };
        Ok((seen, steady.guess))
    }
}
