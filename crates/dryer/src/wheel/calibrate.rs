//! A wheel brought to one measurement on it.

use super::spec::{Wheel, WheelDrive};
use super::steady::{WheelGuess, WheelSteady};
use crate::DryerError;

/// Most steady states.
const SOLVES: usize = 24;

/// A wheel brought to what was measured on it.
#[derive(Clone, Debug)]
pub struct Calibration {
    /// The wheel with its sorbent shifted.
    pub wheel: Wheel,
    /// Its steady state at the measurement.
    pub steady: WheelSteady,
    /// Shift of the isosteric heat over the gas constant of vapour, K.
    pub shift: f64,
    /// Dew point before the shift, K.
    pub before: f64,
    /// Steady states computed.
    pub solves: usize,
}

/// Shifts that still describe the same sorbent, K: some 20 % of the isosteric heat of a zeolite, about
/// 12 K of dew point; published laws of one zeolite part by 17 K.
pub const SHIFT_HOLDS: (f64, f64) = (-1500.0, 1500.0);
/// First shift tried, K, and how close the dew point must come, K.
const SHIFT_STEPS: (f64, f64) = (100.0, 0.01);

impl Wheel {
    /// The wheel whose dew point in a known state is the measured one (K), by a shift of the isosteric
    /// heat.
    ///
    /// What limits the dew point is how much drier a residual loading is at the dry end's temperature than
    /// at that of regeneration: `ln(p_hot/p_cold) = q_st/R_v (1/T_cold - 1/T_hot)`. Water isotherms of
    /// desiccants are measured from 0 to 100 degC and at 3 Pa and above; what is carried on, to 180 degC and
    /// below 1 Pa, is that heat, and there published laws part by 8 K of dew point. So one measurement is
    /// given to it, and the pressures turn about the middle of the measured range. Capacity would not do:
    /// the dew point hardly knows of it. A leak would do as well and cannot be told apart by one number:
    /// measure with sound seals, away from the cliff.
    ///
    /// # Errors
    /// As [`Wheel::steady`]; [`DryerError::Impossible`] when the shift would pass [`SHIFT_HOLDS`]: then it is
    /// not the sorbent.
    pub fn calibrated_by(
        &self,
        drive: &WheelDrive,
        measured_dew_point: f64,
    ) -> Result<Calibration, DryerError> {
        let process = self.process()?;
        let first = self.steady(drive, None)?;
        let before = first.outlets[process].dew_point;
        let mut solves = 1;
        let mut guess = first.guess.clone();
        let mut off = |shift: f64| -> Result<(Self, WheelSteady, f64), DryerError> {
            solves += 1;
            let mut wheel = self.clone();
            wheel.spec.sorbent = self.spec.sorbent.shifted(shift);
            let steady = wheel.steady_near(drive, &guess)?;
            guess = steady.guess.clone();
            let off = steady.outlets[process].dew_point - measured_dew_point;
            Ok((wheel, steady, off))
        };
        let (mut old, mut old_off) = (0.0, before - measured_dew_point);
        // More heat, drier air.
        let mut shift = SHIFT_STEPS.0 * if old_off > 0.0 { 1.0 } else { -1.0 };
        for _ in 0..SOLVES {
            // At an end of the range twice: what is asked lies beyond it.
            let wanted = shift;
            shift = shift.clamp(SHIFT_HOLDS.0, SHIFT_HOLDS.1);
            if (shift - old).abs() < 1e-9 {
                DryerError::unless_between(
                    "shift that calibrates a wheel",
                    wanted,
                    "K",
                    SHIFT_HOLDS,
                )?;
            }
            let (wheel, steady, now) = off(shift)?;
            if now.abs() < SHIFT_STEPS.1 {
                return Ok(Calibration {
                    wheel,
                    steady,
                    shift,
                    before,
                    solves,
                });
            }
            let slope = (now - old_off) / (shift - old);
            (old, old_off) = (shift, now);
            // A flat or rising slope asks for the end of the range.
            shift = if slope < 0.0 {
                shift - now / slope
            } else {
                2.0 * SHIFT_HOLDS.1 * now.signum()
            };
        }
        Err(DryerError::Unsolved {
            component: "calibration of a desiccant wheel",
            cause: numeric::NumericError::NoConvergence {
                steps: SOLVES,
                change: old_off,
            },
        })
    }

    /// The steady state near that of another sorbent: heats are counted anew.
    fn steady_near(
        &self,
        drive: &WheelDrive,
        guess: &WheelGuess,
    ) -> Result<WheelSteady, DryerError> {
        let recounted = guess.recounted(|cell| {
            self.slice
                .cell(&self.spec.sorbent, cell.loading, cell.temperature)
        });
        self.steady(drive, Some(&recounted))
    }
}
