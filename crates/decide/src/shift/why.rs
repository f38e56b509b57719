//! Why the worst lot became so, and what happened on the way, in words.

use super::tally::{Judged, LotTold};
use super::{Days, EventTold};
use line::control::Mode;
use line::follow::{Followed, Happened, Step};
use serde::Serialize;

/// The worst lot and its cause.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Worst {
    /// The lot.
    pub lot: LotTold,
    /// Why.
    pub cause: Cause,
}

/// Why a lot is as it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Cause {
    /// It is as the plan has it.
    AsPlanned,
    /// It left before the hopper had ever been dried.
    NotReady,
    /// It passed too quickly: drawn faster than planned, or from a low level.
    ShortStay,
    /// The air was colder than the set point of the job for much of its stay.
    ColdAir,
    /// The air was more humid than usual.
    HumidAir,
    /// It took up on the press what it has too much.
    OnThePress,
    /// The press stood.
    PressStood,
}

impl Cause {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::AsPlanned => "it is what the hopper gives at the planned rate",
            Self::NotReady => {
                "it was in the hopper when the air was switched on, and left before it had been dried"
            }
            Self::ShortStay => "it passed through the hopper faster than planned",
            Self::ColdAir => "the air was colder than planned for much of its stay",
            Self::HumidAir => "the air was more humid than usual while it was in the hopper",
            Self::OnThePress => "it took up most of its water again on the press",
            Self::PressStood => "the press stood while it was hot",
        }
    }
}

/// Shortest stay that counts as planned, of that planned.
const SHORT: f64 = 0.85;
/// Air that much colder than planned over the stay is a cause, K.
const COLD: f64 = 5.0;
/// Air that much more humid is one.
const HUMID: f64 = 2.0;

/// The wettest lot; none where nothing came to the screw.
pub(crate) fn wettest(days: &Days, followed: &Followed, judged: &[Judged]) -> Option<Worst> {
    let worst = judged
        .iter()
        .max_by(|a, b| a.spread.fast.total_cmp(&b.spread.fast))?;
    Some(Worst {
        lot: worst.told(),
        cause: cause(days, followed, worst),
    })
}

/// The lot that was hot for longest, of the longest customary stay.
pub(crate) fn longest(judged: &[Judged]) -> Option<Worst> {
    let worst = judged
        .iter()
        .max_by(|a, b| a.lot.lived.stayed.total_cmp(&b.lot.lived.stayed))?;
    let cause = if worst.lot.lived.stayed > 1.0 {
        Cause::PressStood
    } else {
        Cause::AsPlanned
    };
    Some(Worst {
        lot: worst.told(),
        cause,
    })
}

fn cause(days: &Days, followed: &Followed, worst: &Judged) -> Cause {
    let lot = &worst.lot;
    let scene = &days.scenes[0];
    let case = &scene.case;
    if lot.taken_up > 0.5 * lot.water() {
        return Cause::OnThePress;
    }
    let steps: Vec<&Step> = followed
        .steps
        .iter()
        .filter(|step| step.time > lot.lived.fed_at && step.time <= lot.left_air)
        .collect();
    if steps.is_empty() {
        return Cause::NotReady;
    }
    let mean = |of: &dyn Fn(&Step) -> f64| {
        steps.iter().map(|step| of(step)).sum::<f64>() / steps.len() as f64
    };
    let stay = lot.left_air - lot.lived.fed_at;
    let cold = case.air_temperature - mean(&|step| step.inlet.0);
    let humid = mean(&|step| step.delivered) / case.air_humidity.max(1e-7);
    let from_the_start = lot.lived.fed_at <= 1.0 && !days.running;
    if stay < SHORT * case.residence() {
        if from_the_start {
            Cause::NotReady
        } else {
            Cause::ShortStay
        }
    } else if cold > COLD {
        Cause::ColdAir
    } else if humid > HUMID && worst.spread.fast > case.limit {
        Cause::HumidAir
    } else {
        Cause::AsPlanned
    }
}

/// What happened, in words.
pub(crate) fn events(followed: &Followed) -> Vec<EventTold> {
    followed
        .events
        .iter()
        .map(|event| EventTold {
            hour: event.time / 3600.0,
            what: words(&event.what),
        })
        .collect()
}

fn words(what: &Happened) -> String {
    match what {
        Happened::Mode(Mode::Off) => "dryer off".to_owned(),
        Happened::Mode(Mode::GettingReady) => {
            "dryer on; nothing is given out until the hopper is dry".to_owned()
        }
        Happened::Mode(Mode::Drying) => "drying at the set point".to_owned(),
        Happened::Mode(Mode::SetBack) => "set back".to_owned(),
        Happened::BakeOut(true) => {
            "bake-out of the desiccant begins: keep its exhaust led outdoors".to_owned()
        }
        Happened::BakeOut(false) => "bake-out ends".to_owned(),
        Happened::HumidityWarning(true) => "warning: the air is too humid".to_owned(),
        Happened::HumidityWarning(false) => "the air is dry again".to_owned(),
        Happened::TemperatureWarning(true) => "warning: the air is not at its set point".to_owned(),
        Happened::TemperatureWarning(false) => "the air is at its set point again".to_owned(),
        Happened::PressWaits(true) => "the press waits for dry resin".to_owned(),
        Happened::PressWaits(false) => "the press gets dry resin".to_owned(),
        Happened::RanEmpty => "the hopper is empty down to the air inlet".to_owned(),
        Happened::Changed(drained) => format!(
            "changeover: {:.0} kg of dry resin drained, {:.0} kg of it from below the air",
            drained.mass + drained.beyond,
            drained.beyond
        ),
        Happened::Limit(shortfall) => format!(
            "limit met: {} gives {:.3} {} of {:.3}",
            shortfall.component, shortfall.given, shortfall.unit, shortfall.asked
        ),
    }
}
