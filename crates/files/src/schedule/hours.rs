//! Hours of work, week after week, on clocks that are put forward and back.

use super::fields::DAYS;
use super::times::{Span, Times, told};
use crate::bag::{Bag, Entry};
use crate::clock;
use jiff::civil::Date;
use quantity::{FaultKind, Faults};

/// The spans in which people work, in the order of time and apart from each other; all of the days where no hours
/// are stated.
///
/// # Errors
/// What is no time of day.
pub(super) fn work(bag: &Bag, times: &Times) -> Result<Vec<Span>, Faults> {
    let length = times.length.unwrap_or(0.0);
    let tables = bag.get("hours", Entry::tables).unwrap_or_default();
    if tables.is_empty() {
        return Ok(vec![Span {
            from: 0.0,
            to: length,
        }]);
    }
    let mut faults = Faults::none();
    let mut weekly = Vec::new();
    for table in &tables {
        match (minutes(table, "from"), minutes(table, "to")) {
            (Ok(from), Ok(to)) => weekly.push((days(table), from, to)),
            (from, to) => {
                for read in [from, to] {
                    let _ = read.map_err(|mistakes| faults.extend(mistakes));
                }
            }
        }
    }
    faults.or(())?;
    let date = |at: f64| clock::date(&times.clock, &times.zone, at);
    let (Ok(mut day), last) = (date(0.0).yesterday(), date(length)) else {
        return Ok(Vec::new());
    };
    let mut spans = Vec::new();
    while day <= last {
        for (days, from, to) in &weekly {
            if days[usize::from(day.weekday().to_monday_zero_offset().unsigned_abs())] {
                spans.extend(on(times, day, *from, *to, length));
            }
        }
        match day.tomorrow() {
            Ok(next) => day = next,
            Err(_) => break,
        }
    }
    Ok(together(spans))
}

/// The hours that begin on a day, as far as they lie within the schedule.
fn on(times: &Times, day: Date, from: i32, to: i32, length: f64) -> Option<Span> {
    let at = |minutes: i32, later: i32| -> Option<f64> {
        let shown = clock::on(day, later, minutes)?;
        let moment = clock::first_moment(&times.zone, shown)?;
        Some(clock::since(&times.clock, moment))
    };
    let from_at = at(from, 0)?.max(0.0);
    let to_at = at(to, i32::from(to <= from))?.min(length);
    (to_at > from_at).then_some(Span {
        from: from_at,
        to: to_at,
    })
}

/// Spans in the order of time, those that meet as one.
fn together(mut spans: Vec<Span>) -> Vec<Span> {
    spans.sort_by(|a, b| a.from.total_cmp(&b.from));
    let mut all: Vec<Span> = Vec::new();
    for span in spans {
        match all.last_mut() {
            Some(last) if span.from <= last.to => last.to = last.to.max(span.to),
            _ => all.push(span),
        }
    }
    all
}

/// Whether the hours begin on each day of the week, Monday first.
fn days(table: &Bag) -> [bool; 7] {
    let Some(listed) = table.get("days", Entry::list) else {
        return [true; 7];
    };
    let mut found = [false; 7];
    for (day, word) in found.iter_mut().zip(DAYS) {
        *day = listed.iter().any(|entry| entry.choice() == Some(word));
    }
    found
}

/// A time of day in minutes since midnight.
fn minutes(table: &Bag, name: &str) -> Result<i32, Faults> {
    let written = table.need(name, Entry::text)?;
    let read = || -> Option<i32> {
        let (hours, minutes) = written.trim().split_once(':')?;
        let number = |text: &str| -> Option<i32> {
            let plain = (1..=2).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
            plain.then(|| text.parse().ok()).flatten()
        };
        let (hours, minutes) = (number(hours)?, number(minutes)?);
        let midnight = hours == 24 && minutes == 0 && name == "to";
        (midnight || (hours < 24 && minutes < 60)).then_some(60 * hours + minutes)
    };
    let refused = || {
        let why = clock::Untimely {
            kind: FaultKind::NotANumber,
            cause: format!("{written:?} is no time of day"),
            mend: "write hours and minutes as a clock shows them, as in \"06:00\" or \"22:30\""
                .to_owned(),
        };
        Faults::from(told(table, name, why))
    };
    read().ok_or_else(refused)
}
