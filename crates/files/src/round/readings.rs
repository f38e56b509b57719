//! The readings of a round: each in the meaning of its kind, possible by itself and beside the others.

use crate::bag::{Bag, Entry};
use job::{DryerKind, Reading, ReadingKind, RoundDryer};
use quantity::constants::ZERO_CELSIUS;
use quantity::{
    AbsolutePressure, FaultKind, Faults, Humidity, HumidityRatio, Meaning, Quantity, Units, Value,
    parse, show_si,
};

/// Readings, and each as the user wrote it.
#[derive(Clone, Debug, Default)]
pub(super) struct Written {
    pub(super) readings: Vec<Reading>,
    pub(super) texts: Vec<String>,
}

/// Every reading; what the dryer cannot have is told where the dryer is known.
///
/// # Errors
/// Every mistake in them.
pub(super) fn of(bag: &Bag, dryer: Option<&RoundDryer>) -> Result<Written, Faults> {
    let mut faults = Faults::none();
    let mut found: Vec<(Reading, Bag)> = Vec::new();
    for table in bag.get("reading", Entry::tables).unwrap_or_default() {
        match one(&table, dryer) {
            Ok(Some(reading)) => {
                if found.iter().any(|(known, _)| known.of == reading.of) {
                    faults.push(table.fault(
                        "of",
                        FaultKind::RepeatedField,
                        format!("the {} is read twice", reading.of.words()),
                        "keep one of the two, or their mean",
                    ));
                }
                found.push((reading, table));
            }
            // The reader has told of it.
            Ok(None) => {}
            Err(mistakes) => faults.extend(mistakes),
        }
    }
    for (reading, table) in &found {
        faults.extend(saturated(reading, table, &found));
    }
    if faults.is_empty() && !found.iter().any(|(reading, _)| tells(reading.of)) {
        faults.push(bag.fault(
            "reading",
            FaultKind::MissingField,
            "only the hall was read, and nothing of the dryer",
            "read something of the dryer, first of all the return temperature and the supply dew point",
        ));
    }
    let texts = found.iter().map(|(_, table)| {
        let text = table.get("value", Entry::text).unwrap_or_default();
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    });
    let texts = texts.collect();
    let readings = found.into_iter().map(|(reading, _)| reading).collect();
    faults.or(Written { readings, texts })
}

/// Whether a kind says something of the dryer.
fn tells(kind: ReadingKind) -> bool {
    !matches!(
        kind,
        ReadingKind::HallTemperature | ReadingKind::HallHumidity
    )
}

/// One reading; none where the reader has told of a mistake.
fn one(table: &Bag, dryer: Option<&RoundDryer>) -> Result<Option<Reading>, Faults> {
    let of = table
        .get("of", Entry::choice)
        .and_then(ReadingKind::of_words);
    let (Some(of), Some(written)) = (of, table.get("value", Entry::text)) else {
        return Ok(None);
    };
    let mut faults = Faults::none();
    if let Some((cause, mend)) = dryer.and_then(|dryer| foreign(of, dryer)) {
        faults.push(table.fault("of", FaultKind::Inconsistent, cause, mend));
    }
    let value = match parse::value(&written, of.meaning()) {
        Ok(value) => {
            if let Some((cause, mend)) = impossible(of, value) {
                faults.push(table.fault("value", FaultKind::OutOfRange, cause, mend));
            }
            Some(value)
        }
        Err(_) if in_ampere(of, &written) => {
            faults.push(table.fault(
                "value",
                FaultKind::WrongDimension,
                format!("a {} is wanted as a share, not in ampere", of.words()),
                "divide it by what the same phase draws in good order (the plate, or an earlier measurement) and write \
                 that: 12 A of 18 A is \"67 %\"",
            ));
            None
        }
        Err(misread) => {
            faults.push(misread.at(table.place_of("value"), &written));
            None
        }
    };
    let error = match table.get("error", Entry::text) {
        None => None,
        Some(written) => match parse::si(&written, of.error_meaning()) {
            Ok(error) if error > 0.0 && error <= most_error(of) => Some(error),
            Ok(_) => {
                let most = show_si(most_error(of), of.error_meaning(), Units::Metric, 3);
                faults.push(table.fault(
                    "error",
                    FaultKind::OutOfRange,
                    format!("an error lies above zero, up to {most}"),
                    "write one standard deviation, or leave it out for the usual one",
                ));
                None
            }
            Err(misread) => {
                faults.push(misread.at(table.place_of("error"), &written));
                None
            }
        },
    };
    faults.or(())?;
    Ok(value.map(|value| Reading { of, value, error }))
}

/// Whether a current is written as it is measured.
fn in_ampere(of: ReadingKind, written: &str) -> bool {
    use ReadingKind as R;
    let current = matches!(of, R::RegenerationHeaterCurrent | R::ProcessHeaterCurrent);
    current && written.trim_end().ends_with(['A', 'a'])
}

/// The largest error a reading may have and still tell something.
fn most_error(of: ReadingKind) -> f64 {
    match of.error_meaning() {
        Meaning::TemperatureDifference => 30.0,
        _ => 0.5,
    }
}

/// Why a dryer has nothing to read of a kind.
fn foreign(of: ReadingKind, dryer: &RoundDryer) -> Option<(String, String)> {
    use ReadingKind as R;
    let desiccant = matches!(dryer.kind, DryerKind::Wheel | DryerKind::Towers);
    let has = match of {
        R::DesiccantInletTemperature
        | R::RegenerationInletTemperature
        | R::RegenerationOutletTemperature
        | R::RegenerationHeaterCurrent
        | R::RegenerationHeaterOutput => desiccant,
        R::CoolingWaterIn | R::CoolingWaterOut => desiccant && dryer.cooler,
        R::WheelSpeed => dryer.kind == DryerKind::Wheel,
        R::FilterDrop => dryer.kind != DryerKind::CompressedAir,
        _ => true,
    };
    (!has).then(|| {
        (
            format!("the dryer stated has no {}", of.words()),
            "take this reading out, or change what [dryer] or its record says".to_owned(),
        )
    })
}

/// Why a reading cannot be.
fn impossible(of: ReadingKind, value: Value) -> Option<(String, String)> {
    use ReadingKind as R;
    /// Slowest and fastest turning that is no slip of unit, 1/s.
    const TURNING: (f64, f64) = (0.0, 1.0 / 60.0);
    let (low, high) = match of {
        R::HallTemperature => (celsius(-30.0), celsius(60.0)),
        R::CoolingWaterIn | R::CoolingWaterOut => (celsius(-10.0), celsius(95.0)),
        R::RegenerationInletTemperature | R::RegenerationOutletTemperature => {
            (celsius(-20.0), celsius(350.0))
        }
        R::FilterDrop => (f64::MIN_POSITIVE, 3e4),
        R::RegenerationHeaterCurrent
        | R::RegenerationHeaterOutput
        | R::ProcessHeaterCurrent
        | R::ProcessHeaterOutput
        | R::HopperLevel => (0.0, 1.2),
        R::WheelSpeed => TURNING,
        R::Rate => (f64::MIN_POSITIVE, 30.0),
        R::ProcessFlow => (f64::MIN_POSITIVE, 50.0),
        R::LotMoisture | R::OutletMoisture | R::ThroatMoisture => (1e-7, 0.3),
        R::HallHumidity | R::SupplyDewPoint | R::ReturnDewPoint => (celsius(-80.0), celsius(90.0)),
        _ => (celsius(-20.0), celsius(250.0)),
    };
    let (number, meaning) = match value {
        Value::Si(si) => (si, of.meaning()),
        Value::Moisture(moisture) => (moisture.dry_basis().si(), Meaning::MoistureDryBasis),
        Value::AirFlow(flow) => {
            let site = AbsolutePressure::from_pascal(101_325.0);
            let dry = flow.dry_air(site, HumidityRatio::from_si(0.0));
            (dry.si(), Meaning::MassFlow)
        }
        Value::Humidity(Humidity::Dew(point, _)) => (point.si(), Meaning::DewPoint),
        Value::Humidity(Humidity::Frost(point, _)) => (point.si(), Meaning::FrostPoint),
        Value::Humidity(_) | Value::Pressure(_) => return None,
    };
    if number >= low && number <= high {
        return None;
    }
    let show = |si: f64| show_si(si, meaning, Units::Metric, 3);
    let range = if low > 0.0 && low <= f64::MIN_POSITIVE {
        format!("above zero, up to {}", show(high))
    } else {
        format!("{} to {}", show(low), show(high))
    };
    let mend = if of == R::FilterDrop && number == 0.0 {
        "see whether the blower runs and both hoses of the gauge are open; where they are, take this reading out"
    } else {
        "look at the unit, and read it again"
    };
    Some((
        format!("a {} of {} lies outside {range}", of.words(), show(number)),
        mend.to_owned(),
    ))
}

fn celsius(number: f64) -> f64 {
    number + ZERO_CELSIUS
}

/// Air that would be wetter than saturated at the temperature read beside it.
fn saturated(reading: &Reading, table: &Bag, all: &[(Reading, Bag)]) -> Faults {
    use ReadingKind as R;
    let beside: &[R] = match reading.of {
        R::HallHumidity => &[R::HallTemperature],
        R::SupplyDewPoint => &[R::HopperInletTemperature, R::DryerOutletTemperature],
        R::ReturnDewPoint => &[R::ReturnTemperature],
        _ => return Faults::none(),
    };
    let point = match reading.value {
        Value::Humidity(Humidity::Dew(point, None)) => point.si(),
        Value::Humidity(Humidity::Frost(point, None)) => point.si(),
        _ => return Faults::none(),
    };
    let mut faults = Faults::none();
    for (other, _) in all.iter().filter(|(other, _)| beside.contains(&other.of)) {
        if let Value::Si(temperature) = other.value
            && point > temperature
        {
            let cause = format!(
                "the {} lies above the {}, and no air is wetter than saturated",
                reading.of.words(),
                other.of.words()
            );
            let mend = "read both again; a dew point is at most the temperature of the air";
            faults.push(table.fault("value", FaultKind::Inconsistent, cause, mend));
        }
    }
    faults
}
