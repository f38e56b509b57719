//! Text to quantity: a number, a unit, and the basis where one is needed.
//!
//! The decimal sign is a point. Units are compared without spaces, parentheses and raised dots, so
//! `W/(m2 K)`, `W/m2K` and `W/(m²·K)` are one unit. No text yields a number that is not finite.

use crate::Quantity;
use crate::meaning::Meaning;
use crate::misread::{Candidate, Misread};
use crate::nearest::nearest;
use crate::print::{digits, show_si};
use crate::stated::{AirFlow, Humidity, Moisture, StatedPressure};
use crate::units::{self, DIMENSIONS, Dimension, Unit, Units};

/// What a text said: a plain SI number where the meaning fixes the basis, otherwise the basis too.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// A plain number in SI units.
    Si(f64),
    /// A pressure that says what it is counted from.
    Pressure(StatedPressure),
    /// A moisture that says its basis.
    Moisture(Moisture),
    /// A humidity in one of the forms people use.
    Humidity(Humidity),
    /// A flow of air.
    AirFlow(AirFlow),
}

/// Reads any meaning.
pub fn value(text: &str, meaning: Meaning) -> Result<Value, Misread> {
    match meaning {
        Meaning::Pressure => text.parse().map(Value::Pressure),
        Meaning::Moisture => text.parse().map(Value::Moisture),
        Meaning::Humidity => text.parse().map(Value::Humidity),
        Meaning::AirFlow => text.parse().map(Value::AirFlow),
        _ => si(text, meaning).map(Value::Si),
    }
}

/// Reads a meaning whose basis is fixed, as a plain number in SI units.
///
/// A moisture may be written on either basis and is converted. A stated meaning (pressure,
/// moisture, humidity, flow of air) is refused as being of another dimension: use [`value`].
pub fn si(text: &str, meaning: Meaning) -> Result<f64, Misread> {
    match meaning {
        Meaning::AbsolutePressure | Meaning::GaugePressure => {
            pressure_of_fixed_basis(text, meaning)
        }
        Meaning::MoistureDryBasis => Ok(text.parse::<Moisture>()?.dry_basis().si()),
        Meaning::MoistureWetBasis => Ok(text.parse::<Moisture>()?.wet_basis().si()),
        Meaning::DewPoint => match text.parse::<Humidity>()? {
            Humidity::Dew(point, None) => Ok(point.si()),
            other => Err(other.is_not(meaning)),
        },
        Meaning::FrostPoint => match text.parse::<Humidity>()? {
            Humidity::Frost(point, None) => Ok(point.si()),
            other => Err(other.is_not(meaning)),
        },
        Meaning::Pressure | Meaning::Moisture | Meaning::Humidity | Meaning::AirFlow => {
            Err(Misread::WrongDimension {
                is: "a meaning that carries its basis",
                wanted: meaning,
            })
        }
        _ => plain(text, meaning),
    }
}

/// Reads `<from> .. <to>` as two plain SI numbers, the first not above the second.
pub fn span(text: &str, meaning: Meaning) -> Result<(f64, f64), Misread> {
    let Some((low, high)) = text.split_once("..") else {
        return Err(Misread::Impossible {
            why: "a range is written with two points between its ends",
            mend: "write for example \"20 degC .. 120 degC\"",
        });
    };
    let (low, high) = (si(low, meaning)?, si(high, meaning)?);
    if low > high {
        return Err(Misread::Impossible {
            why: "the first end of the range is above the second",
            mend: "exchange the two ends",
        });
    }
    Ok((low, high))
}

/// The system of units a text is written in; metric when both or neither use its unit.
pub fn system_of(text: &str) -> Units {
    let Ok(lexed) = lex(text, Meaning::Number) else {
        return Units::Metric;
    };
    let key = squash(lexed.unit);
    let known = |dimension: &&'static Dimension| lookup(&key, dimension);
    let first = DIMENSIONS.iter().find_map(known);
    let qualified = key.starts_with("degF") || key.starts_with("psi") || key.starts_with("cfm");
    match first.and_then(|unit| unit.system) {
        Some(system) => system,
        None if qualified => Units::UsCustomary,
        None => Units::Metric,
    }
}

fn plain(text: &str, meaning: Meaning) -> Result<f64, Misread> {
    let lexed = lex(text, meaning)?;
    let dimension = meaning.dimension();
    if lexed.unit.is_empty() {
        return if meaning == Meaning::Number {
            Ok(lexed.number)
        } else {
            Err(missing_unit(&lexed, meaning))
        };
    }
    let mut key = squash(lexed.unit);
    match meaning {
        Meaning::TemperatureDifference => {
            key = difference_key(&key);
            if lookup(&key, dimension).is_none() && lookup(&key, &units::TEMPERATURE).is_some() {
                return Err(point_or_difference(&lexed));
            }
        }
        Meaning::RelativeHumidity if key == "%" => key.push_str("RH"),
        Meaning::VapourPressure => {
            if let (Some(unit), Basis::Absolute) = pressure_unit(&key) {
                return finite(unit.to_si(lexed.number));
            }
        }
        _ => {}
    }
    let unit = lookup(&key, dimension).ok_or_else(|| stranger(&lexed, meaning))?;
    let si = finite(unit.to_si(lexed.number))?;
    possible(si, meaning)?;
    Ok(si)
}

/// What no number of this meaning can be, whatever the field allows.
pub(crate) fn possible(si: f64, meaning: Meaning) -> Result<(), Misread> {
    let (impossible, why, mend) = match meaning {
        Meaning::Temperature | Meaning::DewPoint | Meaning::FrostPoint => (
            si <= 0.0,
            "this lies at or below absolute zero",
            "write a temperature above -273.15 degC",
        ),
        Meaning::AbsolutePressure => (
            si <= 0.0,
            "an absolute pressure is above zero",
            "write the pressure above vacuum, for example \"1.013 bar(a)\"",
        ),
        Meaning::RelativeHumidity => (
            !(0.0..=1.0).contains(&si),
            "a relative humidity lies between 0 and 100 %",
            "write for example \"65 %RH\"",
        ),
        Meaning::VapourMoleFraction => (
            !(0.0..1.0).contains(&si),
            "a share of vapour by volume lies between 0 and below 100 %",
            "write for example \"130 ppm by volume\"",
        ),
        Meaning::HumidityRatio | Meaning::AbsoluteHumidity | Meaning::VapourPressure => (
            si < 0.0,
            "air cannot hold less than no water",
            "write a number of zero or above",
        ),
        _ => (false, "", ""),
    };
    if impossible {
        Err(Misread::Impossible { why, mend })
    } else {
        Ok(())
    }
}

/// A number and what follows it.
pub(crate) struct Lexed<'a> {
    /// The number.
    pub(crate) number: f64,
    /// The number as it can be written back.
    pub(crate) figures: String,
    /// The unit and its qualifiers, trimmed.
    pub(crate) unit: &'a str,
}

/// Splits off the number.
pub(crate) fn lex(text: &str, wanted: Meaning) -> Result<Lexed<'_>, Misread> {
    let text = text.trim();
    if text.is_empty() {
        return Err(Misread::Empty { wanted });
    }
    let mut figures = String::new();
    let mut end = 0;
    let mut seen_digit = false;
    let mut seen_point = false;
    let mut letters = text.char_indices().peekable();
    while let Some((at, letter)) = letters.next() {
        match letter {
            '+' if at == 0 => {}
            '-' | '\u{2212}' if at == 0 => figures.push('-'),
            '0'..='9' => {
                seen_digit = true;
                figures.push(letter);
            }
            '.' if !seen_point && !text[at..].starts_with("..") => {
                seen_point = true;
                figures.push('.');
            }
            ',' if seen_digit && letters.peek().is_some_and(|(_, c)| c.is_ascii_digit()) => {
                return Err(comma(text));
            }
            'e' | 'E' if seen_digit => match exponent(&text[at + 1..]) {
                Some((power, length)) => {
                    figures.push('e');
                    figures.push_str(&power);
                    end = at + 1 + length;
                    break;
                }
                None => break,
            },
            _ => break,
        }
        end = at + letter.len_utf8();
    }
    if !seen_digit {
        return Err(Misread::NotANumber { wanted });
    }
    let number: f64 = figures
        .parse()
        .map_err(|_| Misread::NotANumber { wanted })?;
    let unit = text[end..].trim_start();
    if let Some(joined) = grouped(&figures, unit) {
        return Err(Misread::GroupedDigits { joined });
    }
    let power = unit.trim_start_matches(['x', 'X', '*', '\u{d7}', '\u{b7}']);
    if power.len() < unit.len() && power.trim_start().starts_with("10") {
        return Err(Misread::WrittenPower);
    }
    Ok(Lexed {
        number: finite(number)?,
        figures,
        unit,
    })
}

/// The exponent after `e`, and how many bytes it takes.
fn exponent(rest: &str) -> Option<(String, usize)> {
    let mut power = String::new();
    let mut length = 0;
    for letter in rest.chars() {
        match letter {
            '+' | '-' | '\u{2212}' if length == 0 => {
                power.push(if letter == '+' { '+' } else { '-' });
            }
            '0'..='9' => power.push(letter),
            _ => break,
        }
        length += letter.len_utf8();
    }
    power
        .ends_with(|c: char| c.is_ascii_digit())
        .then_some((power, length))
}

fn comma(text: &str) -> Misread {
    let point = text.replacen(',', ".", 1);
    let without = text.replacen(',', "", 1);
    Misread::DecimalComma {
        candidates: vec![
            candidate(point, "if the comma is the decimal sign"),
            candidate(without, "if it marks thousands"),
        ],
    }
}

/// Digits that follow the number after a space, an apostrophe or an underscore.
fn grouped(figures: &str, rest: &str) -> Option<String> {
    let rest = rest.trim_start_matches(['\'', '_', '\u{2019}']);
    let length = rest.bytes().take_while(u8::is_ascii_digit).count();
    let after = rest[length..].chars().next();
    if length == 3 && !matches!(after, Some('/' | '.')) {
        Some(format!("{figures}{rest}"))
    } else {
        None
    }
}

pub(crate) fn finite(si: f64) -> Result<f64, Misread> {
    if si.is_finite() {
        Ok(si)
    } else {
        Err(Misread::TooLarge)
    }
}

/// A unit without anything that does not tell it from another.
pub(crate) fn squash(unit: &str) -> String {
    let mut key = String::with_capacity(unit.len());
    let mut divided = false;
    let spelt = unit.replace(" per ", "/");
    for letter in spelt.chars() {
        match letter {
            '(' | ')' | '.' | '*' | '^' | '\u{b7}' | '\u{22c5}' | '\u{d7}' => {}
            c if c.is_whitespace() => {}
            '/' if divided => {}
            '/' => {
                divided = true;
                key.push('/');
            }
            '\u{b0}' | '\u{ba}' | '\u{2da}' => key.push_str("deg"),
            '\u{2103}' => key.push_str("degC"),
            '\u{2109}' => key.push_str("degF"),
            '\u{b5}' | '\u{3bc}' => key.push('u'),
            '\u{b9}' => key.push('1'),
            '\u{b2}' => key.push('2'),
            '\u{b3}' => key.push('3'),
            '\u{2212}' | '\u{207b}' => key.push('-'),
            c => key.push(c),
        }
    }
    key
}

/// The unit of a table with this symbol or alias.
pub(crate) fn lookup(written: &str, dimension: &'static Dimension) -> Option<&'static Unit> {
    let key = squash(written);
    let spelt = |spelling: &&str| {
        if is_squashed(spelling) {
            *spelling == key
        } else {
            squash(spelling) == key
        }
    };
    dimension
        .units
        .iter()
        .find(|unit| spelt(&unit.symbol) || unit.aliases.iter().any(spelt))
}

/// Whether squashing would leave a spelling as it is, as it does nearly all in the tables.
fn is_squashed(spelling: &str) -> bool {
    let plain = |byte: u8| byte.is_ascii() && !b" ().*^/".contains(&byte);
    let mut slashes = 0;
    spelling.bytes().all(|byte| {
        slashes += usize::from(byte == b'/');
        plain(byte) || (byte == b'/' && slashes == 1)
    })
}

/// The key without a word at its end, letter case aside.
pub(crate) fn without<'a>(key: &'a str, words: &[&str]) -> Option<&'a str> {
    words.iter().find_map(|word| {
        let cut = key.len().checked_sub(word.len())?;
        let (head, tail) = key.split_at_checked(cut)?;
        tail.eq_ignore_ascii_case(word).then_some(head)
    })
}

/// Whether a pressure unit says what it is counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Basis {
    Absolute,
    Gauge,
    Unsaid,
}

/// A pressure unit and its basis.
pub(crate) fn pressure_unit(key: &str) -> (Option<&'static Unit>, Basis) {
    let table = &units::PRESSURE;
    if let Some(unit) = lookup(key, table) {
        let basis = if unit.symbol == "atm" {
            Basis::Absolute
        } else {
            Basis::Unsaid
        };
        return (Some(unit), basis);
    }
    for (words, basis) in [
        (["absolute", "abs", "a"], Basis::Absolute),
        (["gauge", "gage", "g"], Basis::Gauge),
    ] {
        if let Some(unit) = without(key, &words).and_then(|bare| lookup(bare, table)) {
            return (Some(unit), basis);
        }
    }
    (None, Basis::Unsaid)
}

fn pressure_of_fixed_basis(text: &str, meaning: Meaning) -> Result<f64, Misread> {
    let (pressure, is) = match (text.parse::<StatedPressure>()?, meaning) {
        (StatedPressure::Absolute(p), Meaning::AbsolutePressure) => (p.si(), ""),
        (StatedPressure::Gauge(p), Meaning::GaugePressure) => (p.si(), ""),
        (StatedPressure::Absolute(_), _) => (0.0, "an absolute pressure"),
        (StatedPressure::Gauge(_), _) => (0.0, "a gauge pressure"),
        (StatedPressure::Site, _) => (0.0, "the pressure of the site"),
    };
    if is.is_empty() {
        Ok(pressure)
    } else {
        Err(Misread::WrongDimension {
            is,
            wanted: meaning,
        })
    }
}

/// `degC diff` and its like as `Cdifference`.
fn difference_key(key: &str) -> String {
    match without(key, &["difference", "diff", "delta"]) {
        Some(bare) if !bare.is_empty() => {
            format!("{}difference", bare.strip_prefix("deg").unwrap_or(bare))
        }
        _ => key.to_owned(),
    }
}

fn point_or_difference(lexed: &Lexed<'_>) -> Misread {
    let key = squash(lexed.unit);
    let fahrenheit = lookup(&key, &units::TEMPERATURE).is_some_and(|u| u.symbol == "degF");
    let (unit, kelvin) = if fahrenheit {
        ("degF", lexed.number / 1.8)
    } else {
        ("degC", lexed.number)
    };
    Misread::MissingBasis {
        question: "a difference of temperature is wanted, and this reads as a point on the scale",
        candidates: vec![candidate(
            format!("{} {unit} difference", lexed.figures),
            format!("{} K apart", digits(kelvin, 4)),
        )],
    }
}

pub(crate) fn candidate(write: impl Into<String>, means: impl Into<String>) -> Candidate {
    Candidate {
        write: write.into(),
        means: means.into(),
    }
}

fn missing_unit(lexed: &Lexed<'_>, meaning: Meaning) -> Misread {
    let mut candidates = Vec::new();
    for system in [Units::Metric, Units::UsCustomary] {
        let fitting = |u: &&Unit| u.system.is_none_or(|s| s == system) && !u.symbol.is_empty();
        for unit in meaning.dimension().units.iter().filter(fitting).take(2) {
            let write = format!("{} {}", lexed.figures, unit.symbol);
            if candidates.iter().any(|c: &Candidate| c.write == write) {
                continue;
            }
            let means = show_si(unit.to_si(lexed.number), meaning, Units::Metric, 4);
            candidates.push(candidate(write, means));
        }
    }
    Misread::MissingUnit {
        wanted: meaning,
        candidates,
    }
}

/// A unit that the wanted table lacks: another quantity, or nothing known.
pub(crate) fn stranger(lexed: &Lexed<'_>, wanted: Meaning) -> Misread {
    let key = squash(lexed.unit);
    if let Some(is) = sort_of(&key, wanted) {
        return Misread::WrongDimension { is, wanted };
    }
    let own = wanted.dimension().units.iter().map(|u| u.symbol);
    let others = DIMENSIONS.iter().flat_map(|d| d.units).map(|u| u.symbol);
    let mut near = nearest(&key, own);
    if near.is_empty() {
        near = nearest(&key, others);
        near.dedup();
        near.truncate(1);
    }
    near.retain(|symbol| !symbol.is_empty());
    Misread::UnknownUnit {
        unit: lexed.unit.chars().take(40).collect(),
        wanted,
        near,
    }
}

/// What a unit measures, in words, looked up in every table but that of `wanted`.
fn sort_of(key: &str, wanted: Meaning) -> Option<&'static str> {
    const QUALIFIED: &[(&[&str], &Dimension, &str)] = &[
        (
            &["frost", "frostpoint"],
            &units::TEMPERATURE,
            "a frost point",
        ),
        (&["dew", "dewpoint"], &units::TEMPERATURE, "a dew point"),
        (
            &["wet", "wetbasis", "wb"],
            &units::MOISTURE,
            "a moisture on wet basis",
        ),
        (
            &["dry", "drybasis", "db"],
            &units::MOISTURE,
            "a moisture on dry basis",
        ),
        (&["dryair", "moistair"], &units::MASS_FLOW, "a flow of air"),
        (&["vapour", "vapor"], &units::PRESSURE, "a vapour pressure"),
    ];
    let key = key.split_once('@').map_or(key, |(head, _)| head);
    for (words, dimension, is) in QUALIFIED {
        if without(key, words).is_some_and(|bare| lookup(bare, dimension).is_some()) {
            return Some(is);
        }
    }
    if lookup(&difference_key(key), &units::DIFFERENCE).is_some()
        && lookup(key, &units::TEMPERATURE).is_none()
    {
        return Some(units::DIFFERENCE.name);
    }
    match pressure_unit(key) {
        (Some(_), Basis::Absolute) => return Some("an absolute pressure"),
        (Some(_), Basis::Gauge) => return Some("a gauge pressure"),
        _ => {}
    }
    DIMENSIONS
        .iter()
        .filter(|d| d.units != wanted.dimension().units)
        .find(|d| lookup(key, d).is_some())
        .map(|d| d.name)
}

#[cfg(test)]
mod tests;
