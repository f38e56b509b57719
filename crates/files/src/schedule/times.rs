//! The times of a schedule: each on the clocks of its zone, and within its beginning and its end.

use super::fields::LONGEST;
use crate::bag::{Bag, Entry};
use crate::clock::{self, Untimely};
use crate::whole::Kept;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use job::Clock;
use quantity::{Duration, FaultKind, Faults, Quantity};

/// How times of a schedule are read.
#[derive(Clone, Debug)]
pub(super) struct Times {
    pub(super) zone: TimeZone,
    pub(super) clock: Clock,
    /// How long it lasts, s; not known where its beginning or its end was refused, so that other times can still be
    /// looked at.
    pub(super) length: Option<f64>,
}

/// From one time to another, s since the beginning.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Span {
    pub(super) from: f64,
    pub(super) to: f64,
}

impl Times {
    /// The zone, the beginning and the end of a schedule; none where its zone is none, as then no time can be read.
    pub(super) fn of(bag: &Bag, faults: &mut Faults) -> Option<Self> {
        let name = bag.get("zone", Entry::text)?;
        let zone = match clock::zone(&name) {
            Ok(zone) => zone,
            Err(why) => {
                faults.push(told(bag, "zone", why));
                return None;
            }
        };
        let mut moment = |name: &str| {
            let written = bag.get(name, Entry::text)?;
            let read = clock::moment(&zone, &written);
            read.map_err(|why| faults.push(told(bag, name, why))).ok()
        };
        let (from, to) = (moment("from"), moment("to"));
        let name = zone.iana_name().map_or(name, str::to_owned);
        let clock = Clock {
            zone: name,
            begins: from.map_or(0, Timestamp::as_second),
        };
        let length = from.and(to).map(|to| clock::since(&clock, to));
        let length = length.filter(|length| {
            let cause = if *length <= 0.0 {
                "the days end before they begin"
            } else if *length > LONGEST {
                "the days last longer than 366 days"
            } else {
                return true;
            };
            let mend = "write a time after from, 366 days later at most";
            faults.push(bag.fault("to", FaultKind::OutOfRange, cause, mend));
            false
        });
        Some(Self {
            zone,
            clock,
            length,
        })
    }

    /// A time of a table, s since the beginning.
    ///
    /// # Errors
    /// What is no time, and one before the beginning or after the end; a field that is missing.
    pub(super) fn at(&self, table: &Bag, name: &str) -> Result<f64, Faults> {
        let written = table.need(name, Entry::text)?;
        let at = clock::moment(&self.zone, &written).map_err(|why| told(table, name, why))?;
        let at = clock::since(&self.clock, at);
        match self.length {
            Some(length) if at < 0.0 || at > length => Err(self.outside(table, name, length)),
            _ => Ok(at),
        }
    }

    /// The time at which something happens, which is before the end.
    ///
    /// # Errors
    /// As [`Times::at`].
    pub(super) fn event(&self, table: &Bag) -> Result<f64, Faults> {
        let at = self.at(table, "at")?;
        match self.length {
            Some(length) if at >= length => Err(self.outside(table, "at", length)),
            _ => Ok(at),
        }
    }

    /// From when to when a table says.
    ///
    /// # Errors
    /// As [`Times::at`], and an end that does not come after its beginning.
    pub(super) fn span(&self, table: &Bag) -> Result<Span, Faults> {
        let mut faults = Faults::none();
        let mut kept = Kept(&mut faults);
        let from = kept.of(self.at(table, "from"));
        let lasts = table.get("for", Entry::quantity::<Duration>);
        let to = match (lasts, from) {
            (None, _) => kept.of(self.at(table, "to")),
            (Some(lasts), from) => from.map(|from| from + lasts.si()),
        };
        let (Some(from), Some(to)) = (from, to) else {
            return Err(faults);
        };
        let name = if lasts.is_some() { "for" } else { "to" };
        if to <= from {
            return Err(table
                .fault(
                    name,
                    FaultKind::Inconsistent,
                    format!(
                        "it ends before it begins at {}",
                        clock::local(&self.clock, from)
                    ),
                    "write an end that comes after from",
                )
                .into());
        }
        match self.length {
            Some(length) if to > length => Err(self.outside(table, name, length)),
            _ => faults.or(Span { from, to }),
        }
    }

    fn outside(&self, table: &Bag, name: &str, length: f64) -> Faults {
        let show = |seconds: f64| clock::local(&self.clock, seconds);
        let (from, to) = (show(0.0), show(length));
        table
            .fault(
                name,
                FaultKind::OutOfRange,
                format!("this lies outside the days from {from} to {to}"),
                "write a time within them, or have them begin earlier or end later",
            )
            .into()
    }
}

impl Span {
    /// All of a schedule.
    pub(super) const ALWAYS: Self = Self {
        from: 0.0,
        to: f64::INFINITY,
    };

    /// Whether a moment lies within.
    pub(super) fn holds(self, at: f64) -> bool {
        self.from <= at && at < self.to
    }

    /// Whether both have a time in common.
    pub(super) fn meets(self, other: Self) -> bool {
        self.from < other.to && other.from < self.to
    }
}

/// A time that cannot be used, at its place.
pub(super) fn told(table: &Bag, name: &str, why: Untimely) -> quantity::Fault {
    table.fault(name, why.kind, why.cause, why.mend)
}
