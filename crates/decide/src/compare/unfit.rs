//! What speaks against a dryer whatever it leaves in the resin.

use crate::case::celsius;
use crate::compare::DayRun;
use crate::compare::kinds::Duty;
use crate::compare::moment::Now;
use crate::stand::SURE;
use serde::Serialize;

/// Air over its set point from which it is not the air that was asked for, K (common practice, no source).
const HOTTER: f64 = 3.0;
/// Air over what a dryer is made for that nobody reads off, K.
const READ_OFF: f64 = 0.05;

/// Why a dryer is not fit.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "why", rename_all = "kebab-case")]
pub enum Unfit {
    /// It is made for cooler air than is asked.
    MadeForCooler {
        /// Hottest air it is made for, degC.
        hottest_c: f64,
        /// Hottest air asked, degC.
        asked_c: f64,
    },
    /// It cannot hold its air down to the set point.
    TooHot {
        /// On which day it is hottest.
        day: String,
        /// The resin.
        resin: String,
        /// Air at the inlet of the hopper, degC.
        inlet_c: f64,
        /// Air asked, degC.
        asked_c: f64,
    },
    /// It keeps a resin hot for longer than that bears, in more draws than may be lost.
    Cooked {
        /// On which day.
        day: String,
        /// Share of the draws.
        share: f64,
    },
}

impl Unfit {
    /// The first that speaks against a dryer: what it is made for (K), what air it gives, what that does.
    pub(super) fn of(
        days: &[DayRun],
        moments: &[Now<'_>],
        hottest: Option<f64>,
        duty: &Duty,
    ) -> Option<Self> {
        let asked = duty.set_point().value;
        if let Some(hottest) = hottest.filter(|hottest| *hottest < asked - READ_OFF) {
            return Some(Self::MadeForCooler {
                hottest_c: celsius(hottest),
                asked_c: celsius(asked),
            });
        }
        let too_hot = days.iter().zip(moments).flat_map(|(day, now)| {
            let hoppers = day.hoppers.iter().zip(&now.cases);
            hoppers.filter_map(move |(hopper, case)| {
                let (inlet_c, asked_c) = (hopper.inlet_c?, celsius(case.air_temperature));
                (inlet_c > asked_c + HOTTER).then(|| Self::TooHot {
                    day: day.day.clone(),
                    resin: hopper.resin.clone(),
                    inlet_c,
                    asked_c,
                })
            })
        });
        let over = |one: &Self| match one {
            Self::TooHot {
                inlet_c, asked_c, ..
            } => inlet_c - asked_c,
            _ => 0.0,
        };
        let worst = too_hot.max_by(|a, b| over(a).total_cmp(&over(b)));
        worst.or_else(|| {
            let cooked = days.iter().filter(|day| day.lost.cooked > 1.0 - SURE);
            let most = cooked.max_by(|a, b| a.lost.cooked.total_cmp(&b.lost.cooked))?;
            Some(Self::Cooked {
                day: most.day.clone(),
                share: most.lost.cooked,
            })
        })
    }
}
