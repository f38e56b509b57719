//! Whether a value lies where its field allows, said in the units it was written in.

use crate::bag::Held;
use quantity::constants::STANDARD_ATMOSPHERE;
use quantity::{
    AbsolutePressure, Field, Humidity, HumidityRatio, Meaning, Quantity, Units, Value, digits,
    parse, show_si,
};

/// Cause and mend of a value that lies outside the range of its field.
pub(crate) fn outside(held: &Held, field: &Field, written: &str) -> Option<(String, String)> {
    let (low, high) = field.range?;
    let number = match held {
        Held::Quantity(value, meaning) => comparable(*value, *meaning)?.0,
        Held::Count(count) => *count as f64,
        Held::Tables(tables) => tables.len() as f64,
        _ => return None,
    };
    if number >= low && number <= high {
        return None;
    }
    let show: Box<dyn Fn(f64) -> String> = match held {
        Held::Quantity(value, meaning) => {
            let (_, meaning, words) = comparable(*value, *meaning)?;
            let system = parse::system_of(written);
            Box::new(move |si| format!("{}{words}", show_si(si, meaning, system, 4)))
        }
        Held::Tables(_) => Box::new(|n| format!("{} tables", digits(n, 15))),
        _ => Box::new(|n| digits(n, 15)),
    };
    let allowed = between(low, high, show.as_ref());
    Some((
        format!("{} lies outside {allowed}", show(number)),
        format!("write a value of {allowed}"),
    ))
}

/// The number that a range is compared with, the meaning it is shown in, and words after it.
fn comparable(value: Value, meaning: Meaning) -> Option<(f64, Meaning, &'static str)> {
    let sea_level = AbsolutePressure::from_pascal(STANDARD_ATMOSPHERE);
    match value {
        Value::Si(si) => Some((si, meaning, "")),
        Value::Pressure(pressure) => {
            let absolute = pressure.absolute(sea_level).si();
            Some((absolute, Meaning::AbsolutePressure, ""))
        }
        Value::Moisture(moisture) => {
            Some((moisture.dry_basis().si(), Meaning::MoistureDryBasis, ""))
        }
        Value::Humidity(Humidity::Dew(point, _)) => Some((point.si(), Meaning::DewPoint, "")),
        Value::Humidity(Humidity::Frost(point, _)) => Some((point.si(), Meaning::FrostPoint, "")),
        Value::Humidity(_) => None,
        Value::AirFlow(flow) => {
            let dry = flow.dry_air(sea_level, HumidityRatio::from_si(0.0)).si();
            Some((dry, Meaning::MassFlow, " dry air"))
        }
    }
}

/// A range as it is printed in a reference, in metric units.
pub(crate) fn in_words(field: &Field, meaning: Option<Meaning>) -> String {
    let Some((low, high)) = field.range else {
        return String::new();
    };
    let (meaning, words) = match meaning {
        Some(Meaning::Pressure) => (Some(Meaning::AbsolutePressure), ""),
        Some(Meaning::Moisture) => (Some(Meaning::MoistureDryBasis), ""),
        Some(Meaning::Humidity) => (Some(Meaning::Temperature), " dew or frost point"),
        Some(Meaning::AirFlow) => (Some(Meaning::MassFlow), " dry air"),
        other => (other, ""),
    };
    let show = |number: f64| match meaning {
        Some(meaning) => format!("{}{words}", show_si(number, meaning, Units::Metric, 4)),
        None => digits(number, 15),
    };
    between(low, high, &show)
}

/// Two ends in words; an end may be infinite, or stand for "above zero".
fn between(low: f64, high: f64, show: &dyn Fn(f64) -> String) -> String {
    let above_zero = low > 0.0 && low <= f64::MIN_POSITIVE;
    match (above_zero, high.is_finite()) {
        (true, true) => format!("above zero, up to {}", show(high)),
        (true, false) => "above zero".to_owned(),
        (false, true) if low.is_finite() => format!("{} to {}", show(low), show(high)),
        (false, true) => format!("{} or below", show(high)),
        (false, false) => format!("{} or above", show(low)),
    }
}
