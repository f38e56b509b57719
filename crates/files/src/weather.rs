//! A weather file: hour by hour the air of a store, as a table of comma-separated values.
//!
//! # What stands in it
//! The first line names the columns, each with its unit in brackets: `time`, a local date and time as
//! RFC 3339 writes them; `temperature (degC)`; and either `relative humidity (%RH)`, counted over
//! liquid water, or `dew point (degC)`. Other columns are passed over. A comma, a semicolon or a
//! tabulator stands between columns, a point before decimals; a line that begins with `#` says
//! nothing.
//!
//! # What is bridged and what is not
//! Where rows are missing for at most [`gaps::BRIDGED`] the air goes in a straight line, and a note says so.
//! A longer gap is a mistake. Where only the last days of a file are asked for, mistakes before them
//! are told in a note and harm nothing.

mod clock;
mod gaps;

use crate::text::Text;
use air::HumidAir;
use clock::seconds;
use gaps::gaps;
use job::{Weather, WeatherRow};
use quantity::constants::ZERO_CELSIUS;
use quantity::{
    AbsolutePressure, DewPoint, Duration, Fault, FaultKind, Faults, Meaning, Place, Quantity,
    RelativeHumidity, Temperature, Unit, did_you_mean, digits,
};

/// Mistakes of a file that are told one by one; the others are counted.
const TOLD: usize = 40;
/// The coldest and the warmest air of a store, K.
const COLDEST: f64 = -40.0 + ZERO_CELSIUS;
const WARMEST: f64 = 80.0 + ZERO_CELSIUS;
/// The columns that are read.
const COLUMNS: [&str; 4] = ["time", "temperature", "relative humidity", "dew point"];
/// How a column is written.
const EXAMPLE: &str = "time, temperature (degC), relative humidity (%RH)";

/// The weather of a file, or of its last `wanted`, at the pressure of the store.
///
/// # Errors
/// Every mistake that the job needs mended, with its line.
pub(crate) fn read(
    text: &Text,
    wanted: Option<Duration>,
    pressure: AbsolutePressure,
) -> Result<Weather, Faults> {
    let sheet = Sheet::of(text)?;
    let mut found = Vec::new();
    let mut faults: Vec<Fault> = Vec::new();
    for (number, line) in &sheet.lines {
        match sheet.row(*number, line, pressure) {
            Ok(row) => found.push(row),
            Err((time, mistakes)) => {
                faults.extend(mistakes);
                // A row whose numbers cannot be used still says that it was there.
                found.extend(time.map(|(time, written)| Row {
                    line: *number,
                    time,
                    written,
                    air: None,
                }));
            }
        }
    }
    faults.extend(order(&mut found, text));
    let from = begin(&found, wanted, text, &mut faults)?;
    let mut notes = Vec::new();
    faults.extend(gaps(&found, from, text, &mut notes));
    let first = found.iter().find(|row| row.time >= from);
    let needed_from = first.map_or(0, |row| row.line);
    let (needed, spared): (Vec<Fault>, Vec<Fault>) = faults
        .into_iter()
        .partition(|fault| fault.place.line >= needed_from);
    if !needed.is_empty() {
        return Err(shortened(needed, text));
    }
    if !spared.is_empty() {
        let stand = match spared.len() {
            1 => "one mistake stands".to_owned(),
            count => format!("{count} mistakes stand"),
        };
        notes.push(format!(
            "{stand} before line {needed_from} of {}, in days that are not needed",
            text.name
        ));
    }
    let kept: Vec<&Row> = found.iter().filter(|row| row.time >= from).collect();
    let (Some(first), Some(last)) = (kept.first(), kept.last()) else {
        return Err(empty(text).into());
    };
    let rows = kept.iter().filter_map(|row| {
        let (temperature, relative_humidity) = row.air?;
        Some(WeatherRow {
            time: Duration::from_seconds((row.time - first.time) as f64),
            temperature,
            relative_humidity,
        })
    });
    Ok(Weather {
        file: text.name.clone(),
        span: (first.written.clone(), last.written.clone()),
        rows: rows.collect(),
        notes,
    })
}

/// One line that could be read.
#[derive(Clone, Debug)]
struct Row {
    line: usize,
    /// Seconds on the calendar.
    time: i64,
    /// The time as written.
    written: String,
    air: Option<(Temperature, RelativeHumidity)>,
}

/// Which columns hold what.
struct Sheet<'a> {
    text: &'a Text,
    between: char,
    time: usize,
    temperature: (usize, &'static Unit),
    humidity: (usize, &'static Unit, bool),
    columns: usize,
    lines: Vec<(usize, &'a str)>,
}

/// A row that cannot be used: its time, where that could be read, and its mistakes.
type Unusable = (Option<(i64, String)>, Vec<Fault>);

impl<'a> Sheet<'a> {
    /// The head of a file, and the lines below it.
    fn of(text: &'a Text) -> Result<Self, Faults> {
        let content = text
            .content
            .strip_prefix('\u{feff}')
            .unwrap_or(&text.content);
        let mut lines = content
            .lines()
            .enumerate()
            .map(|(index, line)| (index + 1, line.trim()))
            .filter(|(_, line)| !line.is_empty() && !line.starts_with('#'));
        let Some((number, head)) = lines.next() else {
            return Err(empty(text).into());
        };
        let between = [';', '\t', ',']
            .into_iter()
            .find(|mark| head.contains(*mark))
            .unwrap_or(',');
        let mut faults = Faults::none();
        let mut columns: [Option<(usize, &'static Unit)>; 4] = [None; 4];
        let mut time = None;
        for (index, cell) in cells(head, between).enumerate() {
            let (name, unit) = named(cell);
            let Some(which) = COLUMNS.iter().position(|known| *known == name) else {
                continue;
            };
            let again = columns[which].is_some() || (which == 0 && time.is_some());
            if again {
                faults.push(fault(
                    text,
                    number,
                    FaultKind::RepeatedField,
                    cell,
                    format!("the column {name} stands twice"),
                    "keep one of them".to_owned(),
                ));
            } else if which == 0 {
                time = Some(index);
            } else {
                match unit_of(which, unit) {
                    Ok(unit) => columns[which] = Some((index, unit)),
                    Err((kind, cause, mend)) => {
                        faults.push(fault(text, number, kind, cell, cause, mend));
                        columns[which] = Some((index, &Meaning::Number.dimension().units[0]));
                    }
                }
            }
        }
        let mut missing = |what: &str| {
            faults.push(fault(
                text,
                number,
                FaultKind::MissingField,
                head,
                format!("no column is called {what}"),
                format!("write a head like \"{EXAMPLE}\""),
            ));
        };
        if time.is_none() {
            missing("time");
        }
        if columns[1].is_none() {
            missing("temperature");
        }
        let humidity = match (columns[2], columns[3]) {
            (Some((index, unit)), None) => Some((index, unit, false)),
            (None, Some((index, unit))) => Some((index, unit, true)),
            (None, None) => {
                missing("relative humidity or dew point");
                None
            }
            (Some(_), Some(_)) => {
                faults.push(fault(
                    text,
                    number,
                    FaultKind::Alternatives,
                    head,
                    "relative humidity and dew point are both given, and only one may be".into(),
                    "keep the one that was measured".into(),
                ));
                None
            }
        };
        match (time, columns[1], humidity) {
            (Some(time), Some(temperature), Some(humidity)) if faults.is_empty() => Ok(Self {
                text,
                between,
                time,
                temperature,
                humidity,
                columns: cells(head, between).count(),
                lines: lines.collect(),
            }),
            _ => Err(faults),
        }
    }

    /// One line.
    fn row(&self, number: usize, line: &str, pressure: AbsolutePressure) -> Result<Row, Unusable> {
        let all: Vec<&str> = cells(line, self.between).collect();
        let mut mistakes = Vec::new();
        let mut told = |kind, value: &str, cause: String, mend: &str| {
            mistakes.push(fault(
                self.text,
                number,
                kind,
                value,
                cause,
                mend.to_owned(),
            ));
        };
        if all.len() > self.columns {
            told(
                FaultKind::Inconsistent,
                line,
                format!(
                    "this row has {} cells under {} columns",
                    all.len(),
                    self.columns
                ),
                "write decimals with a point, and nothing beyond the last column",
            );
        }
        let cell = |index: usize| all.get(index).copied().unwrap_or("");
        let written = cell(self.time);
        let time = seconds(written);
        if let Err((cause, mend)) = &time {
            told(FaultKind::NotANumber, written, cause.clone(), mend);
        }
        let mut number_in = |(index, unit): (usize, &Unit), what: &str| -> Option<f64> {
            let written = cell(index);
            match written.replace('\u{2212}', "-").parse::<f64>() {
                Ok(value) if value.is_finite() => Some(unit.to_si(value)),
                _ if written.is_empty() => {
                    told(
                        FaultKind::MissingField,
                        line,
                        format!("no {what} stands in this row"),
                        "write it, or leave the row out: a short gap is bridged",
                    );
                    None
                }
                _ => {
                    told(
                        FaultKind::NotANumber,
                        written,
                        format!("this is no number for the {what}"),
                        "write a plain number with a decimal point",
                    );
                    None
                }
            }
        };
        let warm = number_in(self.temperature, "temperature");
        let (index, unit, is_dew) = self.humidity;
        let what = if is_dew {
            "dew point"
        } else {
            "relative humidity"
        };
        let damp = number_in((index, unit), what);
        let warm = warm.filter(|t| {
            let inside = *t >= COLDEST && *t <= WARMEST;
            if !inside {
                told(
                    FaultKind::OutOfRange,
                    cell(self.temperature.0),
                    format!("a store of {} degC is none", digits(t - ZERO_CELSIUS, 3)),
                    "write a temperature from -40 to 80 degC, and look at the unit of the column",
                );
            }
            inside
        });
        let mut relative = None;
        if let (Some(t), Some(damp)) = (warm, damp) {
            match relative_humidity(t, damp, is_dew, pressure) {
                Ok(found) => relative = Some((Temperature::from_si(t), found)),
                Err((cause, mend)) => told(FaultKind::OutOfRange, cell(index), cause, mend),
            }
        } else if let (None, Some(damp), false) = (warm, damp, is_dew)
            && !(0.0..=1.0).contains(&damp)
        {
            told(FaultKind::OutOfRange, cell(index), beyond(damp), RELATIVE);
        }
        match time {
            Ok(time) if mistakes.is_empty() => Ok(Row {
                line: number,
                time,
                written: written.to_owned(),
                air: relative,
            }),
            Ok(time) => Err((Some((time, written.to_owned())), mistakes)),
            Err(_) => Err((None, mistakes)),
        }
    }
}

const RELATIVE: &str = "write a relative humidity from 0 to 100 %RH";

fn beyond(damp: f64) -> String {
    format!("air of {} %RH cannot be", digits(100.0 * damp, 3))
}

/// Relative humidity over liquid, from what a row states.
fn relative_humidity(
    t: f64,
    damp: f64,
    is_dew: bool,
    pressure: AbsolutePressure,
) -> Result<RelativeHumidity, (String, &'static str)> {
    if !is_dew {
        return if (0.0..=1.0).contains(&damp) {
            Ok(RelativeHumidity::from_si(damp))
        } else {
            Err((beyond(damp), RELATIVE))
        };
    }
    HumidAir::new(Temperature::from_si(t), pressure, DewPoint::from_si(damp))
        .map(|air| air.relative_humidity())
        .map_err(|error| {
            (
                format!(
                    "a dew point of {} degC in air of {} degC: {error}",
                    digits(damp - ZERO_CELSIUS, 3),
                    digits(t - ZERO_CELSIUS, 3)
                ),
                "write a dew point below the temperature of the air",
            )
        })
}

/// The cells of a line, without quotes and blanks about them.
fn cells(line: &str, between: char) -> impl Iterator<Item = &str> {
    line.split(between)
        .map(|cell| cell.trim().trim_matches('"').trim())
}

/// The name of a column, in small letters with single blanks, and its unit in brackets.
fn named(cell: &str) -> (String, Option<&str>) {
    let (name, unit) = match cell.split_once(['(', '[']) {
        Some((name, unit)) => (name, Some(unit.trim_end_matches([')', ']']).trim())),
        None => (cell, None),
    };
    let name = name.to_lowercase().replace('_', " ");
    let words: Vec<&str> = name.split_whitespace().collect();
    (words.join(" "), unit)
}

/// The unit of a column.
fn unit_of(which: usize, unit: Option<&str>) -> Result<&'static Unit, (FaultKind, String, String)> {
    let name = COLUMNS[which];
    let (meaning, usual) = match which {
        2 => (Meaning::RelativeHumidity, "%RH"),
        _ => (Meaning::Temperature, "degC"),
    };
    let known: Vec<&str> = meaning.dimension().units.iter().map(|u| u.symbol).collect();
    let Some(unit) = unit.filter(|unit| !unit.is_empty()) else {
        return Err((
            FaultKind::MissingUnit,
            format!("the column {name} has no unit"),
            format!("write {name} ({usual})"),
        ));
    };
    // A head has no room for a basis that its name gives already.
    let unit = if which == 2 && unit == "%" {
        "%RH"
    } else {
        unit
    };
    meaning.unit_named(unit).ok_or_else(|| {
        (
            FaultKind::UnknownUnit,
            format!("{unit:?} is no unit of {}", meaning.words()),
            did_you_mean(unit, &known),
        )
    })
}

/// Rows whose time does not rise; they are taken out.
fn order(rows: &mut Vec<Row>, text: &Text) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut last: Option<Row> = None;
    rows.retain(|row| {
        if let Some(before) = &last
            && row.time <= before.time
        {
            let (cause, mend) = if row.time == before.time {
                (
                    format!("this time stands in line {} already", before.line),
                    "keep one of the rows; where clocks are set back in autumn, write standard time",
                )
            } else {
                (
                    format!(
                        "this time lies before the {} of line {}",
                        before.written, before.line
                    ),
                    "put the rows in the order of their times",
                )
            };
            faults.push(fault(
                text,
                row.line,
                FaultKind::Inconsistent,
                &row.written,
                cause,
                mend.to_owned(),
            ));
            return false;
        }
        last = Some(row.clone());
        true
    });
    faults
}

/// The time from which rows are needed.
fn begin(
    rows: &[Row],
    wanted: Option<Duration>,
    text: &Text,
    faults: &mut Vec<Fault>,
) -> Result<i64, Faults> {
    let (Some(first), Some(last)) = (rows.first(), rows.last()) else {
        if faults.is_empty() {
            return Err(empty(text).into());
        }
        return Err(shortened(std::mem::take(faults), text));
    };
    let Some(wanted) = wanted else {
        return Ok(first.time);
    };
    #[expect(
        clippy::cast_possible_truncation,
        reason = "the longest storage is ten years, in seconds"
    )]
    let from = last.time - wanted.seconds().round() as i64;
    if from < first.time {
        let mut short = fault(
            text,
            first.line,
            FaultKind::Inconsistent,
            &first.written,
            format!(
                "the file begins {} h before its end, and the pellets lay there for {} h",
                digits((last.time - first.time) as f64 / 3600.0, 4),
                digits(wanted.hours(), 4)
            ),
            "write a shorter time, or give a file that covers it".to_owned(),
        );
        "time".clone_into(&mut short.place.path);
        faults.push(short);
        return Ok(first.time);
    }
    // The row at or before the beginning, so that nothing of the time is left out.
    let at = rows.partition_point(|row| row.time <= from);
    Ok(rows[at.saturating_sub(1)].time)
}

/// The first of many mistakes, and how many more there are.
fn shortened(mut faults: Vec<Fault>, text: &Text) -> Faults {
    faults.sort_by_key(|fault| fault.place.line);
    let more = faults.len().saturating_sub(TOLD);
    faults.truncate(TOLD);
    if more > 0 {
        let line = faults.last().map_or(0, |fault| fault.place.line);
        faults.push(fault(
            text,
            line,
            FaultKind::Unreadable,
            "",
            format!("{more} more mistakes follow"),
            "mend these first; what repeats itself is often one slip in the head".to_owned(),
        ));
    }
    Faults(faults)
}

fn empty(text: &Text) -> Fault {
    fault(
        text,
        1,
        FaultKind::Unreadable,
        "",
        "no row of weather stands in this file".to_owned(),
        format!("write a head like \"{EXAMPLE}\", and a row for each hour"),
    )
}

fn fault(
    text: &Text,
    line: usize,
    kind: FaultKind,
    value: &str,
    cause: String,
    mend: String,
) -> Fault {
    let place = Place {
        line,
        ..Place::of(text.name.clone(), "")
    };
    let value = if value.is_empty() {
        String::new()
    } else {
        format!("{:?}", value.chars().take(60).collect::<String>())
    };
    Fault::new(kind, place, value, cause, mend)
}

#[cfg(test)]
mod tests;
