//! Leak: room air drawn in, process air blown out, or one swapped for the other, steady or in pulses.
//!
//! # Equations
//! 1. In by a share s of the stream after: `m_in = m s/(1 - s)`; out by a share: `m_out = s m`; swapped:
//!    `s m` goes out and as much room air comes in, as at a loader's flap.
//! 2. Through an opening: `m = C A sqrt(2 rho |p|)`, p the gauge pressure inside and rho the density on
//!    the side it comes from; below the hall's pressure in, above it out.
//! 3. Pulses: open for the first `open_for` of every `every`; the mean over time has the factor
//!    `open_for/every`.
//! 4. Mixing: dry air, water and enthalpy add up.
//!
//! # Symbols
//! symbol | field | unit
//! --- | --- | ---
//! s | `Amount::Share` |
//! C, A | `Amount::Opening` | , m2
//!
//! # Holds for
//! Small pressure differences (no choking). How much leaks is the user's, or found from readings;
//! 0.6 for a sharp-edged hole is from memory. A leak only moves the air here: where the rest of the
//! loop takes or leaves the difference is for who closes it.
//!
//! # Sources
//! Torricelli's law with a discharge coefficient, from memory of textbooks.
//!
//! # Checked by
//! `tests/src/peers/line_air.rs`

use crate::asked::Asked;
use crate::{DryerError, Stream};
use quantity::{Area, Duration, Faults, Fraction, Ledger, MassFlow, Quantity, Range};

/// Share of a stream that leaks.
pub const LEAK_SHARE_HOLDS: Range = Range::new("share that leaks", 0.0, 0.9, "");
/// Flow that leaks.
pub const LEAK_FLOW_HOLDS: Range = Range::new("flow that leaks", 0.0, 10.0, "kg/s");
/// Area of an opening.
pub const OPENING_HOLDS: Range = Range::new("area of the opening", 0.0, 1.0, "m2");
/// Discharge coefficient of an opening.
pub const DISCHARGE_HOLDS: Range = Range::new("discharge coefficient", 0.1, 1.0, "");
/// Time from one pulse to the next.
pub const PULSE_HOLDS: Range = Range::new("time between pulses", 0.1, 1e6, "s");
/// Gauge pressures inside a loop.
pub const GAUGE_HOLDS: Range = Range::new("gauge pressure", -5e4, 5e4, "Pa");

/// How much leaks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Amount {
    /// A flow of dry air.
    Flow(MassFlow),
    /// A share of the stream.
    Share(Fraction),
    /// What passes a hole at the pressure there; it decides the way itself.
    Opening {
        /// Area of the hole.
        area: Area,
        /// Its discharge coefficient.
        discharge: Fraction,
    },
}

/// Which way it goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Room air comes in.
    In,
    /// Process air goes out.
    Out,
    /// As much comes in as goes out.
    Swap,
}

/// When it is open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pulse {
    /// From one opening to the next.
    pub every: Duration,
    /// How long it stays open.
    pub open_for: Duration,
}

/// A leak at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeakSpec {
    /// How much.
    pub amount: Amount,
    /// Which way, where the amount does not decide it.
    pub way: Way,
    /// When; always, if none.
    pub pulse: Option<Pulse>,
}

/// A checked leak.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leak {
    amount: Amount,
    way: Way,
    pulse: Option<(f64, f64)>,
}

/// What is around the leak.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Around {
    /// Air of the room, whatever its amount.
    pub room: Stream,
    /// Pressure of the room, Pa.
    pub pressure: f64,
    /// Pressure inside above that of the room, Pa.
    pub gauge: f64,
}

/// A stream past a leak.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaked {
    /// Before.
    pub before: Stream,
    /// After.
    pub after: Stream,
    /// Room air that came in.
    pub inward: Stream,
    /// Process air that went out.
    pub outward: Stream,
}

impl LeakSpec {
    /// The leak, or every mistake in it.
    ///
    /// # Errors
    /// A number outside its range, or a pulse longer than the time between two.
    pub fn check(&self) -> Result<Leak, Faults> {
        let mut asked = Asked::new();
        match self.amount {
            Amount::Flow(flow) => {
                asked.number("amount.flow", flow.si(), &LEAK_FLOW_HOLDS);
            }
            Amount::Share(share) => {
                asked.number("amount.share", share.si(), &LEAK_SHARE_HOLDS);
            }
            Amount::Opening { area, discharge } => {
                asked.number("amount.area", area.si(), &OPENING_HOLDS);
                asked.number("amount.discharge", discharge.si(), &DISCHARGE_HOLDS);
            }
        }
        let pulse = self.pulse.map(|pulse| {
            let every = asked.number("pulse.every", pulse.every.si(), &PULSE_HOLDS);
            let open = pulse.open_for.si();
            if !(open >= 0.0 && open <= every) {
                asked.contradiction(
                    "pulse.open_for",
                    open,
                    "a pulse lasts from nothing to the time between two",
                    "give a time up to pulse.every",
                );
            }
            (every, open)
        });
        asked.give(Some(Leak {
            amount: self.amount,
            way: self.way,
            pulse,
        }))
    }
}

impl Leak {
    /// Share of the leak that is open at a time (s), or in the mean when no time is given.
    pub fn open(&self, time: Option<f64>) -> f64 {
        match (self.pulse, time) {
            (None, _) => 1.0,
            (Some((every, open)), None) => open / every,
            (Some((every, open)), Some(time)) => {
                let phase = time - every * libm::floor(time / every);
                if phase < open { 1.0 } else { 0.0 }
            }
        }
    }

    /// Share of the time from `from` (s) on for `duration` (s) in which the leak is open.
    pub fn open_during(&self, from: f64, duration: f64) -> f64 {
        match self.pulse {
            None => 1.0,
            Some((every, open)) => {
                // Open time since the first pulse began.
                let gone = |time: f64| {
                    let pulses = libm::floor(time / every);
                    pulses * open + (time - pulses * every).min(open)
                };
                (gone(from + duration) - gone(from)) / duration
            }
        }
    }

    /// What becomes of a stream, at a time (s) or in the mean.
    ///
    /// # Errors
    /// [`DryerError::Impossible`] for air, pressures or a time that cannot be, or a leak outward of more
    /// than there is.
    pub fn pass(
        &self,
        stream: &Stream,
        around: &Around,
        time: Option<f64>,
    ) -> Result<Leaked, DryerError> {
        DryerError::unless_between("time", time.unwrap_or(0.0), "s", (-1e12, 1e12))?;
        self.pass_open(stream, around, self.open(time))
    }

    /// What becomes of a stream in the mean over `duration` (s) from a time (s) on.
    ///
    /// # Errors
    /// As [`Leak::pass`], and for a duration that is not above zero.
    pub fn pass_during(
        &self,
        stream: &Stream,
        around: &Around,
        from: f64,
        duration: f64,
    ) -> Result<Leaked, DryerError> {
        DryerError::unless_between("time", from, "s", (-1e12, 1e12))?;
        DryerError::unless_between("duration", duration, "s", (1e-9, 1e12))?;
        self.pass_open(stream, around, self.open_during(from, duration))
    }

    fn pass_open(&self, stream: &Stream, around: &Around, open: f64) -> Result<Leaked, DryerError> {
        let before = stream.checked()?;
        let room = around.room.of(0.0).checked_at(around.pressure)?;
        let gauge = DryerError::unless_within(&GAUGE_HOLDS, around.gauge)?;
        let (inward, outward) = match self.amount {
            Amount::Flow(flow) => self.ways(open * flow.si(), open * flow.si()),
            Amount::Share(share) => {
                let share = share.si();
                let entering = match self.way {
                    Way::In => share / (1.0 - share),
                    _ => share,
                };
                self.ways(
                    open * entering * before.dry_air,
                    open * share * before.dry_air,
                )
            }
            Amount::Opening { area, discharge } => {
                let moist = |air: &Stream, pressure: f64| {
                    let root = libm::sqrt(2.0 * air.density(pressure) * gauge.abs());
                    open * discharge.si() * area.si() * root / (1.0 + air.humidity)
                };
                if gauge < 0.0 {
                    (moist(&room, around.pressure), 0.0)
                } else {
                    let inside = around.pressure + gauge;
                    (0.0, moist(&before, inside).min(before.dry_air))
                }
            }
        };
        DryerError::unless_between(
            "process air that leaks out",
            outward,
            "kg/s",
            (0.0, before.dry_air),
        )?;
        let (inward, outward) = (room.of(inward), before.of(outward));
        let kept = before.of(before.dry_air - outward.dry_air);
        Ok(Leaked {
            before,
            after: kept.joined(inward),
            inward,
            outward,
        })
    }

    /// Flows in and out by the way stated.
    fn ways(&self, inward: f64, outward: f64) -> (f64, f64) {
        match self.way {
            Way::In => (inward, 0.0),
            Way::Out => (0.0, outward),
            Way::Swap => (outward, outward),
        }
    }
}

impl Leaked {
    /// Water in and out, kg/s.
    pub fn water(&self) -> Ledger {
        self.ledger("water at the leak", "kg/s", Stream::water)
    }

    /// Energy in and out, W.
    pub fn energy(&self) -> Ledger {
        self.ledger("energy at the leak", "W", Stream::heat)
    }

    fn ledger(&self, what: &str, unit: &str, of: impl Fn(&Stream) -> f64) -> Ledger {
        Ledger::new(what, unit)
            .enter("stream", of(&self.before))
            .enter("room", of(&self.inward))
            .leave("stream", of(&self.after))
            .leave("room", of(&self.outward))
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;
    use crate::asked::trials::at_the_ends;

    const DRY: Stream = Stream {
        dry_air: 0.05,
        temperature: 333.15,
        humidity: 8e-5,
    };
    const AROUND: Around = Around {
        room: Stream {
            dry_air: 0.0,
            temperature: 298.15,
            humidity: 0.01,
        },
        pressure: 101_325.0,
        gauge: -1500.0,
    };

    fn share(share: f64, way: Way) -> LeakSpec {
        LeakSpec {
            amount: Amount::Share(Fraction::from_si(share)),
            way,
            pulse: None,
        }
    }

    #[test]
    fn exact_a_share_in_or_swapped_is_that_share_of_the_mixture() {
        for way in [Way::In, Way::Swap] {
            let leak = share(0.01, way).check().unwrap();
            let leaked = leak.pass(&DRY, &AROUND, None).unwrap();
            let mixed = 0.99 * 8e-5 + 0.01 * 0.01;
            assert!((leaked.after.humidity / mixed - 1.0).abs() < 1e-12);
        }
        let out = share(0.01, Way::Out).check().unwrap();
        let leaked = out.pass(&DRY, &AROUND, None).unwrap();
        assert!((leaked.after.dry_air - 0.0495).abs() < 1e-15);
        assert!((leaked.after.humidity - DRY.humidity).abs() < 1e-18);
    }

    #[test]
    fn exact_an_opening_follows_the_pressure() {
        let hole = LeakSpec {
            amount: Amount::Opening {
                area: Area::from_si(1e-5),
                discharge: Fraction::from_si(0.6),
            },
            ..share(0.0, Way::In)
        };
        let leak = hole.check().unwrap();
        let drawn = leak.pass(&DRY, &AROUND, None).unwrap();
        let density = AROUND.room.density(AROUND.pressure);
        let expected = 0.6e-5 * (2.0 * density * 1500.0).sqrt() / 1.01;
        assert!((drawn.inward.dry_air / expected - 1.0).abs() < 1e-12);
        let above = Around {
            gauge: 1500.0,
            ..AROUND
        };
        let blown = leak.pass(&DRY, &above, None).unwrap();
        assert!(blown.outward.dry_air > 0.0 && blown.inward.dry_air.abs() < 1e-18);
        assert!((blown.after.humidity - DRY.humidity).abs() < 1e-15);
    }

    #[test]
    fn holds_pulses_open_for_their_share_and_ledgers_close() {
        let pulsed = LeakSpec {
            pulse: Some(Pulse {
                every: Duration::from_si(60.0),
                open_for: Duration::from_si(6.0),
            }),
            ..share(0.2, Way::Swap)
        };
        let leak = pulsed.check().unwrap();
        let humidity = |time| leak.pass(&DRY, &AROUND, time).unwrap().after.humidity;
        let count = 6000_u32;
        let sum: f64 = (0..count)
            .map(|k| humidity(Some(0.02 * f64::from(k))))
            .sum();
        assert!((sum / f64::from(count) / humidity(None) - 1.0).abs() < 1e-2);
        assert!(humidity(Some(3.0)) > 1e-3 && humidity(Some(7.0)) < 1e-4);
        for spec in [pulsed, share(0.1, Way::In), share(0.1, Way::Out)] {
            let leaked = spec.check().unwrap().pass(&DRY, &AROUND, None).unwrap();
            assert!(leaked.water().imbalance() < 1e-12);
            assert!(leaked.energy().imbalance() < 1e-12);
        }
    }

    #[test]
    fn exact_pulses_over_any_steps_add_up_to_their_mean() {
        let pulsed = LeakSpec {
            pulse: Some(Pulse {
                every: Duration::from_si(7.0),
                open_for: Duration::from_si(2.0),
            }),
            ..share(0.2, Way::Swap)
        };
        let leak = pulsed.check().unwrap();
        let steps = (0..700).map(|step| leak.open_during(1.3 * f64::from(step), 1.3) * 1.3);
        assert!((steps.sum::<f64>() - 910.0 * 2.0 / 7.0).abs() < 1e-9);
        assert!((leak.open_during(0.0, 2.0) - 1.0).abs() < 1e-12);
        assert!(leak.open_during(2.5, 4.0).abs() < 1e-12);
    }

    #[test]
    fn holds_ranges_at_their_ends_and_every_mistake_told() {
        let with = |amount| {
            LeakSpec {
                amount,
                ..share(0.0, Way::In)
            }
            .check()
            .is_ok()
        };
        let opening = |area, discharge| Amount::Opening {
            area: Area::from_si(area),
            discharge: Fraction::from_si(discharge),
        };
        at_the_ends(&LEAK_SHARE_HOLDS, |x| {
            with(Amount::Share(Fraction::from_si(x)))
        });
        at_the_ends(&LEAK_FLOW_HOLDS, |x| {
            with(Amount::Flow(MassFlow::from_si(x)))
        });
        at_the_ends(&OPENING_HOLDS, |x| with(opening(x, 0.6)));
        at_the_ends(&DISCHARGE_HOLDS, |x| with(opening(1e-4, x)));
        let pulse = |every: f64, open: f64| {
            LeakSpec {
                pulse: Some(Pulse {
                    every: Duration::from_si(every),
                    open_for: Duration::from_si(open),
                }),
                ..share(0.0, Way::In)
            }
            .check()
        };
        at_the_ends(&PULSE_HOLDS, |x| pulse(x, 0.0).is_ok());
        assert!(pulse(60.0, 60.0).is_ok() && pulse(60.0, 60.1).is_err());
        let leak = share(0.01, Way::In).check().unwrap();
        at_the_ends(&GAUGE_HOLDS, |gauge| {
            leak.pass(&DRY, &Around { gauge, ..AROUND }, None).is_ok()
        });
        assert!(leak.pass(&DRY, &AROUND, Some(f64::NAN)).is_err());
        let all = LeakSpec {
            amount: Amount::Flow(MassFlow::from_si(1.0)),
            ..share(0.0, Way::Out)
        };
        assert!(all.check().unwrap().pass(&DRY, &AROUND, None).is_err());
        assert_eq!(pulse(0.0, f64::NAN).unwrap_err().len(), 2);
    }
}
