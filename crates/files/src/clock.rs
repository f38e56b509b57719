//! Times of a clock on the wall, and the seconds that pass since a schedule begins.
//!
//! Zones come from the zone database that is built into the program, so that a time means the same on every machine
//! and without a network. Where clocks are put forward an hour does not exist, where they are put back one comes
//! twice: both are refused, and how to write the moment meant is told.

use jiff::civil::{Date, DateTime, Time};
use jiff::tz::{AmbiguousOffset, Offset, TimeZone, TimeZoneDatabase};
use jiff::{Timestamp, ToSpan};
use job::Clock;
use quantity::{Duration, FaultKind, did_you_mean, nearest};
use std::sync::LazyLock;

/// Zones as they are built in.
static ZONES: LazyLock<TimeZoneDatabase> = LazyLock::new(TimeZoneDatabase::bundled);
/// The first and the last year of a time that is no slip.
const YEARS: (i16, i16) = (1970, 2200);
/// How a time is written.
const WRITE: &str =
    "write for example \"2026-03-23 06:00\", or with its offset \"2026-03-23T06:00+01:00\"";

/// Why a time or a zone cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Untimely {
    /// The sort of mistake.
    pub kind: FaultKind,
    /// Why.
    pub cause: String,
    /// What to write instead.
    pub mend: String,
}

/// A moment of a schedule as a clock on the wall shows it: "Mon 23 Mar 06:00", to the minute that has begun; in UTC
/// where the zone is unknown.
pub fn local(clock: &Clock, seconds: f64) -> String {
    let shown = zone_or_utc(clock).to_datetime(after(clock, seconds));
    shown.strftime("%a %-d %b %H:%M").to_string()
}

/// The local days of a schedule: "Mon 23 Mar" and the hours since the beginning at which each begins and ends, the
/// first and the last cut to the schedule. The day on which clocks are put forward has an hour less.
pub fn days(clock: &Clock, length: Duration) -> Vec<(String, f64, f64)> {
    let zone = zone_or_utc(clock);
    let mut found = Vec::new();
    let mut from = 0.0;
    let mut date = zone.to_datetime(after(clock, 0.0)).date();
    while from < length.seconds() {
        let Ok(tomorrow) = date.tomorrow() else {
            break;
        };
        let midnight = first_moment(&zone, tomorrow.to_datetime(Time::midnight()));
        let to = midnight.map_or(length.seconds(), |at| {
            since(clock, at).min(length.seconds())
        });
        if to > from {
            let name = date.strftime("%a %-d %b").to_string();
            found.push((name, from / 3600.0, to / 3600.0));
            from = to;
        }
        date = tomorrow;
    }
    found
}

/// Seconds from the beginning of a schedule to a time as people write it: "2026-03-23 06:00" on the clocks of its
/// zone, or with an offset from UTC as RFC 3339 has it.
///
/// # Errors
/// What is no time; an hour that comes twice or not at all; a zone that is unknown.
pub fn seconds(clock: &Clock, written: &str) -> Result<f64, Untimely> {
    let zone = zone(&clock.zone)?;
    moment(&zone, written).map(|at| since(clock, at))
}

/// The zone of that name.
///
/// # Errors
/// No such zone: the nearest are offered.
pub(crate) fn zone(name: &str) -> Result<TimeZone, Untimely> {
    if let Ok(zone) = ZONES.get(name) {
        return Ok(zone);
    }
    let known: Vec<String> = ZONES.available().map(|name| name.to_string()).collect();
    let mut near = nearest(name, known.iter().map(String::as_str));
    // The name of a city alone is a usual slip.
    let ending = format!("/{}", name.trim().replace(' ', "_").to_lowercase());
    let city = known.iter().map(String::as_str);
    near.extend(
        city.filter(|zone| zone.to_lowercase().ends_with(&ending))
            .take(2),
    );
    near.dedup();
    Err(Untimely {
        kind: FaultKind::UnknownName,
        cause: format!("no time zone is called {name:?}"),
        mend: if near.is_empty() {
            "write the name of a zone as the zone database has it, as in \"Europe/Berlin\" or \"UTC\"".to_owned()
        } else {
            did_you_mean(near[0], &near)
        },
    })
}

/// The moment of a time as people write it.
///
/// # Errors
/// As [`seconds`].
pub(crate) fn moment(zone: &TimeZone, written: &str) -> Result<Timestamp, Untimely> {
    moment_after(zone, written, None)
}

/// The moment of a time in a list whose times rise: of an hour that comes twice the first that comes after the one
/// before it.
///
/// # Errors
/// As [`seconds`], and an hour that comes twice with nothing before it.
pub(crate) fn moment_after(
    zone: &TimeZone,
    written: &str,
    after: Option<Timestamp>,
) -> Result<Timestamp, Untimely> {
    let no_time = || Untimely {
        kind: FaultKind::NotANumber,
        cause: format!("{written:?} is no date and time"),
        mend: WRITE.to_owned(),
    };
    let trimmed = written.trim();
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-+:. ".contains(&byte);
    let spelt = |byte: u8| byte.is_ascii_alphabetic() && !b"TtZz".contains(&byte);
    if !trimmed.contains(':') || !trimmed.bytes().all(plain) || trimmed.bytes().any(spelt) {
        return Err(no_time());
    }
    let at = match trimmed.parse::<Timestamp>() {
        Ok(at) => at,
        Err(_) => resolved(
            zone,
            trimmed.parse::<DateTime>().map_err(|_| no_time())?,
            after,
        )?,
    };
    let year = zone.to_datetime(at).year();
    if (YEARS.0..=YEARS.1).contains(&year) {
        return Ok(at);
    }
    Err(Untimely {
        kind: FaultKind::OutOfRange,
        cause: format!("the year {year} lies outside {} to {}", YEARS.0, YEARS.1),
        mend: WRITE.to_owned(),
    })
}

/// The one moment at which clocks of a zone show a time.
fn resolved(
    zone: &TimeZone,
    shown: DateTime,
    after: Option<Timestamp>,
) -> Result<Timestamp, Untimely> {
    let refused = |cause: String, mend: String| Untimely {
        kind: FaultKind::Inconsistent,
        cause,
        mend,
    };
    let words = shown.strftime("%Y-%m-%d %H:%M");
    match zone.to_ambiguous_timestamp(shown).offset() {
        AmbiguousOffset::Unambiguous { offset } => offset
            .to_timestamp(shown)
            .map_err(|_| refused(format!("{words} lies too far"), WRITE.to_owned())),
        AmbiguousOffset::Fold {
            before,
            after: later,
        } => {
            let both = [before, later].map(|offset| offset.to_timestamp(shown));
            let next = after.and_then(|past| both.into_iter().flatten().find(|at| *at > past));
            if let Some(at) = next {
                return Ok(at);
            }
            let (first, second) = (with_offset(shown, before), with_offset(shown, later));
            Err(refused(
                format!("{words} comes twice, as clocks are put back: as {first} and as {second}"),
                format!("write the one that is meant with its offset: {first:?} or {second:?}"),
            ))
        }
        AmbiguousOffset::Gap { before, after } => {
            let (from, to) = gap(zone, shown, before, after);
            Err(refused(
                format!(
                    "{words} does not exist: clocks are put forward from {from} to {to} that night"
                ),
                format!("write a time before {from} or from {to} on"),
            ))
        }
    }
}

/// A time with its offset as RFC 3339 writes it.
fn with_offset(shown: DateTime, offset: Offset) -> String {
    let (sign, all) = if offset.seconds() < 0 {
        ('-', -offset.seconds())
    } else {
        ('+', offset.seconds())
    };
    let words = shown.strftime("%Y-%m-%dT%H:%M");
    format!("{words}{sign}{:02}:{:02}", all / 3600, all / 60 % 60)
}

/// What clocks show when an hour begins that does not exist, and when it is over.
fn gap(zone: &TimeZone, shown: DateTime, before: Offset, after: Offset) -> (String, String) {
    let earlier = after.to_timestamp(shown).unwrap_or(Timestamp::UNIX_EPOCH);
    let change = zone
        .following(earlier)
        .next()
        .map_or(earlier, |change| change.timestamp());
    let show = |offset: Offset| offset.to_datetime(change).strftime("%H:%M").to_string();
    (show(before), show(after))
}

/// The moment from which clocks show a time or a later one: where it comes twice the first, where it does not
/// exist as long after the gap as it stands in it.
pub(crate) fn first_moment(zone: &TimeZone, shown: DateTime) -> Option<Timestamp> {
    zone.to_ambiguous_timestamp(shown).compatible().ok()
}

/// Seconds of a moment since the beginning.
pub(crate) fn since(clock: &Clock, at: Timestamp) -> f64 {
    (at.as_second() - clock.begins) as f64 + f64::from(at.subsec_nanosecond()) * 1e-9
}

/// The date on the clocks of a zone, and the day before, at a moment of a schedule.
pub(crate) fn date(clock: &Clock, zone: &TimeZone, seconds: f64) -> Date {
    zone.to_datetime(after(clock, seconds)).date()
}

/// Another day at a time of day; an end of 24 h is the midnight after it.
pub(crate) fn on(date: Date, later: i32, minutes: i32) -> Option<DateTime> {
    let start = date.to_datetime(Time::midnight());
    start.checked_add(later.days().minutes(minutes)).ok()
}

fn zone_or_utc(clock: &Clock) -> TimeZone {
    zone(&clock.zone).unwrap_or(TimeZone::UTC)
}

/// The moment some seconds after the beginning, to the second.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a cast of a float saturates, and such a moment is refused"
)]
fn after(clock: &Clock, seconds: f64) -> Timestamp {
    let at = clock.begins.saturating_add((seconds + 1e-3).floor() as i64);
    Timestamp::from_second(at).unwrap_or(Timestamp::UNIX_EPOCH)
}

#[cfg(test)]
mod tests;
