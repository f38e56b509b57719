//! Text to a flow of air.

use super::read::{at_clause, before};
use super::{AirFlow, StatedPressure};
use crate::Quantity;
use crate::constants::STANDARD_ATMOSPHERE;
use crate::kinds::{AbsolutePressure, ActualVolumeFlow, HumidityRatio, MassFlow, Temperature};
use crate::meaning::Meaning;
use crate::misread::{Candidate, Misread};
use crate::parse::{Lexed, candidate, finite, lex, lookup, squash, stranger, without};
use crate::print::{digits, show_si};
use crate::units::{self, Unit, Units};
use std::str::FromStr;

impl FromStr for AirFlow {
    type Err = Misread;

    fn from_str(text: &str) -> Result<Self, Misread> {
        air_flow(text, None)
    }
}

/// Reads a flow of air; `set` is the temperature at which a volume "as it is" would be taken, so
/// that the candidates of a missing state can say what each would change.
pub fn air_flow(text: &str, set: Option<Temperature>) -> Result<AirFlow, Misread> {
    let (head, state) = at_clause(text);
    let lexed = lex(head, Meaning::AirFlow)?;
    let key = squash(lexed.unit);
    let number = |unit: &Unit| finite(unit.to_si(lexed.number));
    let dry = without(&key, &["dryair"]);
    let moist = without(&key, &["moistair", "humidair", "wetair"]);
    if let Some(unit) = lookup(dry.or(moist).unwrap_or(&key), &units::MASS_FLOW) {
        let flow = MassFlow::from_si(number(unit)?);
        return match (dry, moist, state) {
            (_, _, Some(_)) => Err(Misread::Impossible {
                why: "a mass flow has no state it is counted at",
                mend: "leave out \"at ...\"",
            }),
            (Some(_), _, _) => Ok(AirFlow::DryAir(flow)),
            (_, Some(_), _) => Ok(AirFlow::MoistAir(flow)),
            _ => Err(Misread::MissingBasis {
                question: "of the dry part of the air, or of moist air?",
                candidates: dry_or_moist(&lexed, unit, flow),
            }),
        };
    }
    let bare = without(&key, &["air"]).unwrap_or(&key);
    if let Some(unit) = lookup(bare, &units::VOLUME_FLOW) {
        let flow = ActualVolumeFlow::from_si(number(unit)?);
        let open = |question| Misread::MissingBasis {
            question,
            candidates: states(&lexed, unit, set),
        };
        let Some(state) = state else {
            return Err(open("at which state is this volume counted?"));
        };
        return match state_of(head, state)? {
            (Some(temperature), Some(pressure)) => Ok(AirFlow::Volume {
                flow,
                temperature,
                pressure,
            }),
            (None, _) => Err(open("the state lacks its temperature")),
            (_, None) => Err(open("the state lacks its pressure")),
        };
    }
    Err(air_flow_stranger(&lexed, &key, set))
}

/// The temperature and the pressure of a state, in either order.
fn state_of(
    head: &str,
    state: &str,
) -> Result<(Option<Temperature>, Option<StatedPressure>), Misread> {
    let spelt = state.replace(" and ", ",").replace('&', ",");
    let (mut temperature, mut pressure) = (None, None);
    for part in spelt.split(',').map(str::trim).filter(|p| !p.is_empty()) {
        match part.parse::<Temperature>() {
            Ok(read) if temperature.is_none() => temperature = Some(read),
            Err(Misread::WrongDimension { .. } | Misread::NotANumber { .. }) | Ok(_) => {
                let read = part.parse::<StatedPressure>();
                let other = temperature
                    .map(|t: Temperature| format!("{} degC and ", digits(t.celsius(), 6)));
                let whole = format!("{head} at {}", other.unwrap_or_default());
                pressure = Some(read.map_err(|misread| before(whole.trim_end(), misread))?);
            }
            Err(misread) => return Err(misread),
        }
    }
    Ok((temperature, pressure))
}

fn dry_or_moist(lexed: &Lexed<'_>, unit: &Unit, flow: MassFlow) -> Vec<Candidate> {
    let write = |basis: &str| format!("{} {} {basis} air", lexed.figures, unit.symbol);
    let moist = MassFlow::from_si(flow.si() / 1.01);
    let moist = show_si(moist.si(), Meaning::MassFlow, Units::Metric, 3);
    vec![
        candidate(
            write("dry"),
            show_si(flow.si(), Meaning::MassFlow, Units::Metric, 3) + " dry air",
        ),
        candidate(write("moist"), moist + " dry air where it carries 10 g/kg"),
    ]
}

/// A volume flow counted at each state people use, as dry air.
fn states(lexed: &Lexed<'_>, unit: &Unit, set: Option<Temperature>) -> Vec<Candidate> {
    let flow = ActualVolumeFlow::from_si(unit.to_si(lexed.number));
    let us = unit.system == Some(Units::UsCustomary);
    let named = if us {
        [("32 degF", 32.0), ("60 degF", 60.0), ("70 degF", 70.0)]
    } else {
        [("0 degC", 0.0), ("20 degC", 20.0), ("25 degC", 25.0)]
    };
    let mut all: Vec<(String, Temperature, &str)> = named
        .iter()
        .map(|&(written, number)| {
            let read = if us {
                Temperature::from_fahrenheit
            } else {
                Temperature::from_celsius
            };
            (written.to_owned(), read(number), "")
        })
        .collect();
    if !us {
        all.truncate(2);
    }
    let hot = set.unwrap_or(Temperature::from_celsius(120.0));
    let (number, scale) = if us {
        (hot.fahrenheit(), "degF")
    } else {
        (hot.celsius(), "degC")
    };
    let why = if set.is_some() {
        ", as it is at the set temperature"
    } else {
        ", as it is in air of, say, that temperature"
    };
    all.push((format!("{} {scale}", digits(number, 4)), hot, why));
    let site = AbsolutePressure::from_pascal(STANDARD_ATMOSPHERE);
    let mut candidates = Vec::new();
    for (written, temperature, why) in all {
        let stated = AirFlow::Volume {
            flow,
            temperature,
            pressure: StatedPressure::Absolute(site),
        };
        let dry = stated.dry_air(site, HumidityRatio::from_si(0.0));
        let means = show_si(dry.si(), Meaning::MassFlow, Units::Metric, 3);
        candidates.push(candidate(
            format!("{} {} at {written} and 1 atm", lexed.figures, unit.symbol),
            format!("{means} dry air{why}"),
        ));
    }
    candidates
}

/// Why a unit is no flow of air: a habit word for a state nobody agrees on, or something else.
fn air_flow_stranger(lexed: &Lexed<'_>, key: &str, set: Option<Temperature>) -> Misread {
    if key.is_empty() {
        let mut candidates = Vec::new();
        for symbol in ["kg/h", "lb/h"] {
            if let Some(unit) = lookup(symbol, &units::MASS_FLOW) {
                let flow = MassFlow::from_si(unit.to_si(lexed.number));
                candidates.extend(dry_or_moist(lexed, unit, flow).into_iter().take(1));
            }
        }
        for symbol in ["m3/h", "cfm"] {
            if let Some(unit) = lookup(symbol, &units::VOLUME_FLOW) {
                candidates.extend(states(lexed, unit, set).into_iter().skip(1).take(1));
            }
        }
        return Misread::MissingUnit {
            wanted: Meaning::AirFlow,
            candidates,
        };
    }
    let habit = key
        .strip_prefix(['N', 'n', 'S', 's', 'A', 'a', 'I', 'i'])
        .or_else(|| without(key, &["normal", "standard", "actual", "free"]));
    match habit.and_then(|bare| lookup(bare, &units::VOLUME_FLOW)) {
        Some(unit) => Misread::MissingBasis {
            question: "a \"normal\" or \"standard\" volume is counted at different states in \
                       different trades; which one is meant?",
            candidates: states(lexed, unit, set),
        },
        None => stranger(lexed, Meaning::AirFlow),
    }
}
