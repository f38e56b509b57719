//! How much more water a wheel would bear before its dew point rises.
//!
//! The dew point says little of it: a wheel gives the same dew point with half its capacity and with all,
//! until the load exceeds what it can turn over; then it rises within minutes. What counts is the room.

use super::spec::{Duty, Wheel, WheelDrive};
use super::steady::WheelSteady;
use crate::DryerError;

/// Room before the cliff.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reserve {
    /// Load at which the dew point has risen, over the present one; the largest tried when it has not.
    pub load_ratio: f64,
    /// Humidity of the process air there, kg/kg.
    pub humidity: f64,
    /// Dew point now, K.
    pub dew_point: f64,
    /// Whether the dew point did rise; if not, the ratio is a lower end.
    pub reached: bool,
    /// Steady states computed.
    pub solves: usize,
}

/// Rise of the dew point that counts as the cliff, K.
pub const CLIFF_RISE: f64 = 10.0;
/// Loads tried, over the present one.
const RATIOS: (f64, f64) = (0.02, 30.0);
/// Most humidity tried, kg/kg.
const MOST_HUMIDITY: f64 = 0.1;
/// First step, and the share to which the ratio is found.
const STEPS: (f64, f64) = (1.4, 0.005);
/// Most steady states.
const SOLVES: usize = 24;

impl Wheel {
    /// Room before the dew point has risen by 10 K as the process air comes wetter, at unchanged flows;
    /// air of other sectors that comes as the process air does gets wetter with it.
    ///
    /// # Errors
    /// As [`Wheel::steady`]; a wheel without a process sector.
    pub fn reserve(&self, drive: &WheelDrive, now: &WheelSteady) -> Result<Reserve, DryerError> {
        let process = self.process()?;
        let dew_point = now.outlets[process].dew_point;
        let limit = dew_point + CLIFF_RISE;
        let start = drive.air[process].humidity;
        let mut guess = now.guess.clone();
        let mut solves = 0;
        let mut rise = |ratio: f64| -> Result<f64, DryerError> {
            solves += 1;
            let steady = self.steady(&self.loaded(drive, process, ratio), Some(&guess))?;
            guess = steady.guess;
            Ok(steady.outlets[process].dew_point - limit)
        };
        let most = RATIOS.1.min(MOST_HUMIDITY / start);
        let (mut low, mut at_low) = (1.0, -CLIFF_RISE);
        let (mut high, mut at_high) = (STEPS.0.min(most), f64::NAN);
        let mut reached = most > 1.0;
        while reached {
            at_high = rise(high)?;
            if at_high >= 0.0 {
                break;
            }
            (low, at_low) = (high, at_high);
            if high >= most {
                reached = false;
            }
            high = (high * STEPS.0).min(most);
        }
        if !reached {
            let load_ratio = most.max(1.0);
            return Ok(Reserve {
                load_ratio,
                humidity: load_ratio * start,
                dew_point,
                reached,
                solves,
            });
        }
        // Regula falsi, halving the end that stays (Dowell and Jarratt 1971).
        for _ in 0..SOLVES {
            if high / low < 1.0 + STEPS.1 {
                break;
            }
            let middle = (low - at_low * (high - low) / (at_high - at_low))
                .clamp(low + 0.05 * (high - low), high - 0.05 * (high - low));
            let at = rise(middle)?;
            if at >= 0.0 {
                (high, at_high) = (middle, at);
                at_low *= 0.5;
            } else {
                (low, at_low) = (middle, at);
                at_high *= 0.5;
            }
        }
        let load_ratio = 0.5 * (low + high);
        Ok(Reserve {
            load_ratio,
            humidity: load_ratio * start,
            dew_point,
            reached,
            solves,
        })
    }

    /// The first process sector.
    pub(crate) fn process(&self) -> Result<usize, DryerError> {
        self.sector(Duty::Process).ok_or(DryerError::Impossible {
            what: "number of process sectors",
            value: 0.0,
            unit: "1",
            low: 1.0,
            high: 12.0,
        })
    }

    /// The drive with a wetter process air, and all air that comes as it does.
    fn loaded(&self, drive: &WheelDrive, process: usize, ratio: f64) -> WheelDrive {
        let mut loaded = drive.clone();
        let from = drive.air[process];
        for (air, sector) in loaded.air.iter_mut().zip(&self.spec.sectors) {
            let same = (air.humidity, air.temperature) == (from.humidity, from.temperature);
            if sector.duty != Duty::Regeneration && same {
                air.humidity *= ratio;
            }
        }
        loaded
    }
}
