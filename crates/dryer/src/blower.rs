//! Blower: what pressure it makes at a flow, and what it draws.
//!
//! # Equations
//! 1. Affinity laws: `rise(V) = (rho/rho_0) s^2 f(V/s)` with f the curve at rated speed and density and
//!    s the speed over rated; shaft power goes with `(rho/rho_0) s^3`.
//! 2. Shaft power from an isentropic efficiency, `P = V p1 k/(k-1) ((p2/p1)^((k-1)/k) - 1)/eta`, k = 1.4,
//!    or from a straight line between the powers at no flow and at free flow.
//! 3. Heat: all shaft power enters the air, since pressure carries no enthalpy in a perfect gas;
//!    of the motor's loss `P/eta_m - P` the share `motor_heat_to_air` does as well.
//! 4. Turned the wrong way: flow and rise as at `b` times the speed, power as before.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! s | `speed` |
//! eta | `BlowerPower::Efficiency` |
//! eta_m | `motor_efficiency` |
//! b | `Turning::Backwards` |
//!
//! # Holds for
//! Fans and radial blowers; side channel machines follow the affinity laws within some 10 %
//! (estimate). Past its free flow a blower is taken as a resistance that goes on along its curve and
//! draws no power by an efficiency. Leakage through the casing is left out: see `leak`.
//! How far flow and rise fall when turned backwards depends on the wheel: 30 to 60 % of the flow is
//! what a textbook on moulding faults says; that the power stays is an assumption.
//!
//! # Sources
//! Affinity laws, isentropic work: from memory of textbooks. Share of the flow when turned backwards:
//! Injection Molding Advanced Troubleshooting Guide, chapter 9 (authors Kerkstra and Brammer and the
//! year 2018 from memory).
//!
//! # Checked by
//! The joining of points against SciPy in `crates/dryer/src/fan_curve.rs`; closed forms below and in
//! `crates/dryer/src/operating_point.rs`.

use crate::asked::Asked;
use crate::fan_curve::{FanCurve, FanCurveSpec};
use crate::{DryerError, Stream};
use quantity::{Density, Faults, Fraction, Ledger, Power, Quantity, Range};

/// Speed over rated speed.
pub const SPEED_HOLDS: Range = Range::new("speed over rated speed", 0.05, 1.5, "");
/// Isentropic efficiency of the machine, and efficiency of its motor.
pub const EFFICIENCY_HOLDS: Range = Range::new("efficiency", 0.05, 1.0, "");
/// Density at which a curve was measured.
pub const RATED_DENSITY_HOLDS: Range = Range::new("rated density", 0.5, 15.0, "kg/m3");
/// Speed that a wheel turned backwards is as good as.
pub const BACKWARDS_HOLDS: Range = Range::new("flow when turned backwards", 0.3, 0.6, "");
/// Powers of a blower.
pub const BLOWER_POWER_HOLDS: Range = Range::new("shaft power", 0.1, 1e6, "W");
/// Adiabatic exponent of air, from memory.
const ADIABATIC: f64 = 1.4;

/// What drives the wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BlowerPower {
    /// One isentropic efficiency for all flows; no power at no flow, which no machine does.
    Efficiency(Fraction),
    /// Shaft power at rated speed and density, straight between no flow and free flow: rising for
    /// radial wheels, falling for side channels.
    Line {
        /// At no flow.
        at_shut_off: Power,
        /// At free flow.
        at_free_flow: Power,
    },
}

/// Which way the wheel turns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Turning {
    /// As it should.
    Forwards,
    /// Two phases swapped: flow and rise as at this share of the speed.
    Backwards(Fraction),
}

/// A blower as it is ordered.
#[derive(Clone, Debug, PartialEq)]
pub struct BlowerSpec {
    /// Rise over flow at rated speed and density.
    pub curve: FanCurveSpec,
    /// Density the curve was measured at, often 1.2 kg/m3.
    pub rated_density: Density,
    /// Speed over rated speed.
    pub speed: Fraction,
    /// Power of the shaft.
    pub power: BlowerPower,
    /// Shaft power over electric power.
    pub motor_efficiency: Fraction,
    /// Share of the motor's loss that the air takes up: 1 with the motor in the stream, 0 outside.
    pub motor_heat_to_air: Fraction,
    /// Which way it turns.
    pub turning: Turning,
}

/// A checked blower.
#[derive(Clone, Debug, PartialEq)]
pub struct Blower {
    curve: FanCurve,
    rated_density: f64,
    speed: f64,
    power: BlowerPower,
    motor_efficiency: f64,
    motor_heat_to_air: f64,
    backwards: f64,
}

/// What a blower does to the air that passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blown {
    /// The air that came.
    pub inlet: Stream,
    /// The air that leaves.
    pub outlet: Stream,
    /// Volume flow at its inlet, m3/s.
    pub volume_flow: f64,
    /// Pressure rise, Pa.
    pub rise: f64,
    /// Power of the shaft, W.
    pub shaft: f64,
    /// Power drawn, W.
    pub electric: f64,
    /// Heat of the motor that stays in the hall, W.
    pub heat_to_hall: f64,
}

impl BlowerSpec {
    /// The blower, or every mistake in it.
    ///
    /// # Errors
    /// A number outside its range, or a curve that is none.
    pub fn check(&self) -> Result<Blower, Faults> {
        let mut asked = Asked::new();
        let curve = asked.part("curve", self.curve.check());
        let share = Range::new("share of the motor's loss", 0.0, 1.0, "");
        match self.power {
            BlowerPower::Efficiency(efficiency) => {
                asked.number("power.efficiency", efficiency.si(), &EFFICIENCY_HOLDS);
            }
            BlowerPower::Line {
                at_shut_off,
                at_free_flow,
            } => {
                asked.number("power.at_shut_off", at_shut_off.si(), &BLOWER_POWER_HOLDS);
                asked.number("power.at_free_flow", at_free_flow.si(), &BLOWER_POWER_HOLDS);
            }
        }
        let backwards = match self.turning {
            Turning::Forwards => 1.0,
            Turning::Backwards(flow) => asked.number("turning", flow.si(), &BACKWARDS_HOLDS),
        };
        let blower = curve.map(|curve| Blower {
            curve,
            rated_density: asked.number(
                "rated_density",
                self.rated_density.si(),
                &RATED_DENSITY_HOLDS,
            ),
            speed: asked.number("speed", self.speed.si(), &SPEED_HOLDS),
            power: self.power,
            motor_efficiency: asked.number(
                "motor_efficiency",
                self.motor_efficiency.si(),
                &EFFICIENCY_HOLDS,
            ),
            motor_heat_to_air: asked.number(
                "motor_heat_to_air",
                self.motor_heat_to_air.si(),
                &share,
            ),
            backwards,
        });
        asked.give(blower)
    }
}

impl Blower {
    /// The same blower at another speed over rated.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] outside [`SPEED_HOLDS`].
    pub fn at_speed(&self, speed: f64) -> Result<Self, DryerError> {
        Ok(Self {
            speed: DryerError::unless_within(&SPEED_HOLDS, speed)?,
            ..self.clone()
        })
    }

    /// Flow at which no rise is left at this speed, m3/s.
    pub fn free_flow(&self) -> f64 {
        self.effective_speed() * self.curve.free_flow()
    }

    /// Pressure rise, Pa, at a volume flow (m3/s) of a density (kg/m3), both at its inlet.
    pub fn rise(&self, volume_flow: f64, density: f64) -> f64 {
        let speed = self.effective_speed();
        density / self.rated_density * speed * speed * self.curve.rise(volume_flow / speed)
    }

    /// Power of the shaft, W, at a volume flow (m3/s), density (kg/m3) and pressure (Pa) at its inlet.
    pub fn shaft_power(&self, volume_flow: f64, density: f64, pressure: f64) -> f64 {
        // Backwards the wheel moves less and draws as if it moved what belongs to its speed.
        let due = volume_flow / self.backwards;
        match self.power {
            BlowerPower::Efficiency(efficiency) => {
                let rise = self.rise(volume_flow, density) / (self.backwards * self.backwards);
                isentropic_power(due, pressure, rise.max(0.0)) / efficiency.si()
            }
            BlowerPower::Line {
                at_shut_off,
                at_free_flow,
            } => {
                let (none, free) = (at_shut_off.si(), at_free_flow.si());
                let share = (due / (self.speed * self.curve.free_flow())).clamp(0.0, 1.0);
                let cube = self.speed * self.speed * self.speed;
                density / self.rated_density * cube * (none + (free - none) * share)
            }
        }
    }

    /// What it does to a stream that comes at a pressure (Pa).
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for air it cannot take.
    pub fn run(&self, inlet: &Stream, pressure: f64) -> Result<Blown, DryerError> {
        let inlet = inlet.checked_at(pressure)?;
        let density = inlet.density(pressure);
        let volume_flow = inlet.volume_flow(pressure);
        let shaft = self.shaft_power(volume_flow, density, pressure);
        let electric = shaft / self.motor_efficiency;
        let heat_to_hall = (electric - shaft) * (1.0 - self.motor_heat_to_air);
        // Without flow there is no air to warm: what is drawn warms the hall.
        let heat_to_hall = if inlet.dry_air > 0.0 {
            heat_to_hall
        } else {
            electric
        };
        Ok(Blown {
            inlet,
            outlet: inlet.heated(electric - heat_to_hall),
            volume_flow,
            rise: self.rise(volume_flow, density),
            shaft,
            electric,
            heat_to_hall,
        })
    }

    fn effective_speed(&self) -> f64 {
        self.speed * self.backwards
    }
}

impl Blown {
    /// Energy in and out, W.
    pub fn energy(&self) -> Ledger {
        Ledger::new("energy of the blower", "W")
            .enter("air", self.inlet.heat())
            .enter("electricity", self.electric)
            .leave("air", self.outlet.heat())
            .leave("motor heat to the hall", self.heat_to_hall)
    }
}

/// Power, W, to raise a volume flow (m3/s) from a pressure (Pa) by `rise` (Pa) without loss.
pub fn isentropic_power(volume_flow: f64, pressure: f64, rise: f64) -> f64 {
    const POWER: f64 = (ADIABATIC - 1.0) / ADIABATIC;
    let ln_ratio = libm::log1p(rise / pressure);
    volume_flow * pressure / POWER * libm::expm1(POWER * ln_ratio)
}

/// Isothermal work of compression per volume drawn in, J/m3, from one pressure (Pa) to another.
pub fn isothermal_work(from: f64, to: f64) -> f64 {
    from * libm::log(to / from)
}

/// Isentropic work of compression per volume drawn in, J/m3, from one pressure (Pa) to another.
pub fn isentropic_work(from: f64, to: f64) -> f64 {
    isentropic_power(1.0, from, to - from)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
pub(crate) mod tests {
    use super::*;
    use quantity::{ActualVolumeFlow, PressureDifference};

    const ATMOSPHERE: f64 = 101_325.0;
    const AIR: Stream = Stream {
        dry_air: 0.05,
        temperature: 313.15,
        humidity: 0.005,
    };

    pub(crate) fn spec() -> BlowerSpec {
        BlowerSpec {
            curve: FanCurveSpec::Parabola {
                shut_off: PressureDifference::from_si(6000.0),
                free_flow: ActualVolumeFlow::from_si(0.1),
            },
            rated_density: Density::from_si(1.2),
            speed: Fraction::from_si(1.0),
            power: BlowerPower::Efficiency(Fraction::from_si(0.5)),
            motor_efficiency: Fraction::from_si(0.8),
            motor_heat_to_air: Fraction::from_si(0.25),
            turning: Turning::Forwards,
        }
    }

    #[test]
    fn exact_small_rises_cost_volume_times_rise() {
        let power = isentropic_power(0.1, 1e5, 1.0);
        // Half of rise/(k p) = 3.6e-6 under V dp.
        assert!((power / 0.1 - 1.0 + 1.0 / (2.0 * 1.4e5)).abs() < 1e-9);
        // 1 to 8 bar: 0.058 kWh/m3 isothermal, 0.079 isentropic.
        assert!((isothermal_work(1e5, 8e5) / 3.6e6 - 0.057_76).abs() < 1e-5);
        let exact = 3.5e5 * (libm::pow(8.0, 2.0 / 7.0) - 1.0);
        assert!((isentropic_work(1e5, 8e5) / exact - 1.0).abs() < 1e-12);
    }

    #[test]
    fn holds_energy_closes() {
        let line = BlowerPower::Line {
            at_shut_off: Power::from_si(600.0),
            at_free_flow: Power::from_si(300.0),
        };
        for power in [spec().power, line] {
            let blower = BlowerSpec { power, ..spec() }.check().unwrap();
            for flow in [0.0, 0.02, 0.09, 0.2] {
                let blown = blower.run(&AIR.of(flow), ATMOSPHERE).unwrap();
                assert!(blown.energy().imbalance() < 1e-12, "{flow}");
                assert!(blown.electric >= blown.shaft && blown.shaft >= 0.0);
            }
        }
    }

    #[test]
    fn holds_ranges_at_their_ends_and_every_mistake_told() {
        let checked = |change: &dyn Fn(&mut BlowerSpec)| {
            let mut spec = spec();
            change(&mut spec);
            spec.check()
        };
        let ends = [
            (SPEED_HOLDS, 0.01),
            (EFFICIENCY_HOLDS, 0.01),
            (RATED_DENSITY_HOLDS, 0.1),
            (BACKWARDS_HOLDS, 0.01),
            (BLOWER_POWER_HOLDS, 0.05),
        ];
        for (which, (range, step)) in ends.into_iter().enumerate() {
            let set = |value: f64| {
                checked(&|spec: &mut BlowerSpec| match which {
                    0 => spec.speed = Fraction::from_si(value),
                    1 => {
                        spec.motor_efficiency = Fraction::from_si(value);
                        spec.power = BlowerPower::Efficiency(Fraction::from_si(value));
                    }
                    2 => spec.rated_density = Density::from_si(value),
                    3 => spec.turning = Turning::Backwards(Fraction::from_si(value)),
                    _ => {
                        spec.power = BlowerPower::Line {
                            at_shut_off: Power::from_si(value),
                            at_free_flow: Power::from_si(value),
                        }
                    }
                })
                .is_ok()
            };
            assert!(set(range.low) && set(range.high), "{}", range.name);
            let beyond = [range.low - step, range.high + step, f64::NAN];
            assert!(beyond.iter().all(|value| !set(*value)), "{}", range.name);
        }
        let all = BlowerSpec {
            speed: Fraction::from_si(9.0),
            motor_efficiency: Fraction::from_si(-1.0),
            motor_heat_to_air: Fraction::from_si(2.0),
            curve: FanCurveSpec::Points(Vec::new()),
            ..spec()
        };
        let faults = all.check().unwrap_err();
        assert!(
            faults
                .iter()
                .any(|fault| fault.place.path == "curve.points")
        );
        assert!(spec().check().unwrap().at_speed(f64::NAN).is_err());
    }
}
