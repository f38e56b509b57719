//! Local dates and times as RFC 3339 writes them, on the Gregorian calendar.

/// Seconds on the calendar of a local time.
pub(super) fn seconds(written: &str) -> Result<i64, (String, &'static str)> {
    const MEND: &str = "write for example 2025-07-01T14:00:00";
    const LOCAL: &str = "leave the offset out and write local time, the same all through the file";
    let refuse = || (format!("{written:?} is no date and time"), MEND);
    let (date, clock) = written.split_once(['T', 't', ' ']).ok_or_else(refuse)?;
    if clock.ends_with(['Z', 'z']) || clock.contains(['+', '-']) {
        return Err(("this time carries an offset from UTC".to_owned(), LOCAL));
    }
    let number = |text: &str, digits: usize| -> Option<i64> {
        let plain = text.len() == digits && text.bytes().all(|b| b.is_ascii_digit());
        plain.then(|| text.parse().ok()).flatten()
    };
    let parts =
        |text: &str, mark: char| -> Vec<String> { text.split(mark).map(str::to_owned).collect() };
    let read = || -> Option<i64> {
        let date = parts(date, '-');
        let [year, month, day] = date.as_slice() else {
            return None;
        };
        let clock = parts(clock, ':');
        let (hour, minute, second) = match clock.as_slice() {
            [hour, minute] => (hour, minute, "00"),
            [hour, minute, second] => (hour, minute, second.split('.').next()?),
            _ => return None,
        };
        let (year, month, day) = (number(year, 4)?, number(month, 2)?, number(day, 2)?);
        let (hour, minute, second) = (number(hour, 2)?, number(minute, 2)?, number(second, 2)?);
        let sound = (1..=12).contains(&month)
            && (1..=days_of(year, month)).contains(&day)
            && hour < 24
            && minute < 60
            && second < 61;
        sound.then(|| ((day_number(year, month, day) * 24 + hour) * 60 + minute) * 60 + second)
    };
    read().ok_or_else(refuse)
}

fn days_of(year: i64, month: i64) -> i64 {
    let leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

/// Days on the Gregorian calendar, counted from a day before any file.
pub(super) fn day_number(year: i64, month: i64, day: i64) -> i64 {
    // Years that begin in March have their leap day last.
    let (year, month) = if month > 2 {
        (year, month - 3)
    } else {
        (year - 1, month + 9)
    };
    365 * year + year / 4 - year / 100 + year / 400 + (153 * month + 2) / 5 + day
}
