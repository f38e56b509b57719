//! Text to a stated pressure, moisture or humidity.

use super::{Humidity, Moisture, StatedPressure};
use crate::Quantity;
use crate::constants::{DRY_AIR_MOLAR_MASS, STANDARD_ATMOSPHERE, WATER_MOLAR_MASS, ZERO_CELSIUS};
use crate::kinds::{
    AbsoluteHumidity, AbsolutePressure, DewPoint, FrostPoint, GaugePressure, HumidityRatio,
    MoistureDryBasis, MoistureWetBasis, RelativeHumidity, VapourMoleFraction, VapourPressure,
};
use crate::meaning::Meaning;
use crate::misread::{Candidate, Misread};
use crate::parse::{
    Basis, Lexed, candidate, finite, lex, lookup, possible, pressure_unit, squash, stranger,
    without,
};
use crate::print::{digits, show_si};
use crate::units::{self, Unit, Units};
use std::str::FromStr;

const SITE: &[&str] = &[
    "site",
    "sitepressure",
    "localpressure",
    "thelocalpressure",
    "thesitepressure",
];

impl FromStr for StatedPressure {
    type Err = Misread;

    fn from_str(text: &str) -> Result<Self, Misread> {
        if SITE.contains(&squash(&text.to_ascii_lowercase()).as_str()) {
            return Ok(Self::Site);
        }
        let lexed = lex(text, Meaning::Pressure)?;
        if lexed.unit.is_empty() {
            let both = ["bar", "psi"]
                .iter()
                .filter_map(|s| lookup(s, &units::PRESSURE));
            return Err(Misread::MissingUnit {
                wanted: Meaning::Pressure,
                candidates: both.flat_map(|unit| above(&lexed, unit)).collect(),
            });
        }
        let (unit, basis) = pressure_unit(&squash(lexed.unit));
        let unit = unit.ok_or_else(|| stranger(&lexed, Meaning::Pressure))?;
        let si = finite(unit.to_si(lexed.number))?;
        match basis {
            Basis::Absolute => {
                possible(si, Meaning::AbsolutePressure)?;
                Ok(Self::Absolute(AbsolutePressure::from_si(si)))
            }
            Basis::Gauge => Ok(Self::Gauge(GaugePressure::from_si(si))),
            Basis::Unsaid => Err(Misread::MissingBasis {
                question: "absolute, above vacuum, or gauge, above the atmosphere of the site?",
                candidates: above(&lexed, unit),
            }),
        }
    }
}

/// A pressure counted from vacuum and from a standard atmosphere.
fn above(lexed: &Lexed<'_>, unit: &Unit) -> Vec<Candidate> {
    let si = unit.to_si(lexed.number);
    let means = |p: f64| show_si(p, Meaning::AbsolutePressure, Units::Metric, 4);
    let write = |basis: &str| format!("{} {}({basis})", lexed.figures, unit.symbol);
    let gauge = format!("{} at sea level", means(si + STANDARD_ATMOSPHERE));
    vec![
        candidate(write("a"), means(si)),
        candidate(write("g"), gauge),
    ]
}

impl FromStr for Moisture {
    type Err = Misread;

    fn from_str(text: &str) -> Result<Self, Misread> {
        let lexed = lex(text, Meaning::Moisture)?;
        let table = &units::MOISTURE;
        let key = squash(lexed.unit);
        let dry = without(&key, &["drybasis", "dry", "db"]);
        let wet = without(&key, &["wetbasis", "wet", "wb"]);
        let bare = dry.or(wet).unwrap_or(&key);
        if bare.is_empty() {
            let both = ["%", "ppm"].iter().filter_map(|s| lookup(s, table));
            let all = both.flat_map(|unit| Self::candidates(&lexed, unit));
            let fits = |c: &Candidate| match (dry, wet) {
                (Some(_), _) => c.write.ends_with("dry"),
                (_, Some(_)) => c.write.ends_with("wet"),
                _ => true,
            };
            return Err(Misread::MissingUnit {
                wanted: Meaning::Moisture,
                candidates: all.filter(fits).collect(),
            });
        }
        let unit = lookup(bare, table).ok_or_else(|| stranger(&lexed, Meaning::Moisture))?;
        let si = finite(unit.to_si(lexed.number))?;
        if dry.is_none() && wet.is_none() {
            return Err(Misread::MissingBasis {
                question: "water over wet resin, or over dry resin?",
                candidates: Self::candidates(&lexed, unit),
            });
        }
        if si < 0.0 {
            return Err(Misread::Impossible {
                why: "a resin cannot hold less than no water",
                mend: "write a moisture of zero or above",
            });
        }
        if dry.is_some() {
            Ok(Self::Dry(MoistureDryBasis::from_si(si)))
        } else if si < 1.0 {
            Ok(Self::Wet(MoistureWetBasis::from_si(si)))
        } else {
            Err(Misread::Impossible {
                why: "on wet basis a moisture of 100 % or more leaves no resin",
                mend: "write a moisture below 100 % wet, or on dry basis",
            })
        }
    }
}

impl Moisture {
    /// Both readings of a moisture whose basis is not said.
    fn candidates(lexed: &Lexed<'_>, unit: &Unit) -> Vec<Candidate> {
        let si = unit.to_si(lexed.number);
        let wet = MoistureWetBasis::from_si(si).dry_basis();
        let means = |dry: MoistureDryBasis| {
            if dry.si().is_finite() && dry.si() >= 0.0 {
                format!("{} ppm dry", digits(dry.ppm(), 6))
            } else {
                "not possible".to_owned()
            }
        };
        let write = |basis: &str| format!("{} {} {basis}", lexed.figures, unit.symbol);
        vec![
            candidate(write("wet"), means(wet)),
            candidate(write("dry"), means(MoistureDryBasis::from_si(si))),
        ]
    }
}

impl FromStr for Humidity {
    type Err = Misread;

    fn from_str(text: &str) -> Result<Self, Misread> {
        let (head, state) = at_clause(text);
        let lexed = lex(head, Meaning::Humidity)?;
        let key = squash(lexed.unit);
        if key.is_empty() {
            return Err(Misread::MissingUnit {
                wanted: Meaning::Humidity,
                candidates: dew_or_frost(&lexed, "degC"),
            });
        }
        let number = |unit: &Unit, meaning| {
            let si = finite(unit.to_si(lexed.number))?;
            possible(si, meaning).map(|()| si)
        };
        let point =
            |words: &[&str]| without(&key, words).and_then(|k| lookup(k, &units::TEMPERATURE));
        if let Some(unit) = point(&["dewpoint", "dew"]) {
            let dew = DewPoint::from_si(number(unit, Meaning::DewPoint)?);
            return Ok(Self::Dew(dew, stated_pressure(head, state)?));
        }
        if let Some(unit) = point(&["frostpoint", "frost"]) {
            let si = number(unit, Meaning::FrostPoint)?;
            if si > TRIPLE_POINT {
                return Err(Misread::Impossible {
                    why: "there is no ice, and so no frost point, above 0.01 degC",
                    mend: "write a dew point, for example \"12 degC dew\"",
                });
            }
            return Ok(Self::Frost(
                FrostPoint::from_si(si),
                stated_pressure(head, state)?,
            ));
        }
        if let Some(unit) = lookup(&key, &units::RELATIVE_HUMIDITY) {
            let relative = RelativeHumidity::from_si(number(unit, Meaning::RelativeHumidity)?);
            let at = state.map(str::parse).transpose()?;
            return Ok(Self::Relative(relative, at));
        }
        let read = if let Some(unit) = lookup(&key, &units::VAPOUR_SHARE) {
            let si = number(unit, Meaning::VapourMoleFraction)?;
            Self::Share(VapourMoleFraction::from_si(si))
        } else if let Some(unit) = lookup(&key, &units::HUMIDITY_RATIO) {
            Self::Ratio(HumidityRatio::from_si(number(
                unit,
                Meaning::HumidityRatio,
            )?))
        } else if let Some(unit) = lookup(&key, &units::VAPOUR_DENSITY) {
            Self::Density(AbsoluteHumidity::from_si(number(
                unit,
                Meaning::AbsoluteHumidity,
            )?))
        } else if let Some(unit) = without(&key, &["vapourpressure", "vapour", "vapor"])
            .and_then(|bare| lookup(bare, &units::PRESSURE))
        {
            Self::Pressure(VapourPressure::from_si(number(
                unit,
                Meaning::VapourPressure,
            )?))
        } else {
            return Err(humidity_stranger(&lexed, &key));
        };
        if state.is_some() {
            return Err(Misread::Impossible {
                why: "only dew point, frost point and relative humidity are stated \"at\" something",
                mend: "leave out \"at ...\"",
            });
        }
        Ok(read)
    }
}

/// Triple point of water, K. IAPWS R6-95(2018), section 2.
const TRIPLE_POINT: f64 = 273.16;

/// Why a unit is not a humidity: its basis is missing, or it is something else.
fn humidity_stranger(lexed: &Lexed<'_>, key: &str) -> Misread {
    let bare = without(key, &["pdp", "tdp", "dp", "point"]).unwrap_or(key);
    let question = "which humidity is meant?";
    if let Some(unit) = lookup(bare, &units::TEMPERATURE) {
        return Misread::MissingBasis {
            question: "dew point, over liquid water, or frost point, over ice?",
            candidates: dew_or_frost(lexed, unit.symbol),
        };
    }
    let write = |unit: &str| format!("{} {unit}", lexed.figures);
    let candidates = match key {
        "ppm" | "PPM" => {
            let mass = lexed.number * DRY_AIR_MOLAR_MASS / WATER_MOLAR_MASS;
            let by_mass = format!("{} ppm by volume", digits(mass, 3));
            vec![
                candidate(
                    write("ppm by volume"),
                    "molecules of vapour in all molecules",
                ),
                candidate(write("ppm by mass"), by_mass),
            ]
        }
        "%" => vec![
            candidate(write("%RH"), "of saturation at the temperature of the air"),
            candidate(write("% by volume"), "molecules of vapour in all molecules"),
        ],
        _ => match lookup(key, &units::PRESSURE) {
            Some(unit) => {
                let text = format!("{} {} vapour", lexed.figures, unit.symbol);
                vec![candidate(text, "partial pressure of the vapour")]
            }
            None => return stranger(lexed, Meaning::Humidity),
        },
    };
    Misread::MissingBasis {
        question,
        candidates,
    }
}

/// A temperature read as dew point and as frost point, each with its vapour at 1 atm.
fn dew_or_frost(lexed: &Lexed<'_>, symbol: &str) -> Vec<Candidate> {
    let celsius = lookup(symbol, &units::TEMPERATURE)
        .map_or(lexed.number, |unit| unit.to_si(lexed.number) - ZERO_CELSIUS);
    let means = |pressure: f64| {
        let ppm = pressure / STANDARD_ATMOSPHERE * 1e6;
        format!("about {} ppm by volume at 1 atm", digits(ppm, 2))
    };
    let mut candidates = Vec::new();
    let write = |basis: &str| format!("{} {symbol} {basis}", lexed.figures);
    if (-100.0..=0.01).contains(&celsius) {
        candidates.push(candidate(write("frost"), means(over_ice(celsius))));
        candidates.push(candidate(write("dew"), means(over_water(celsius))));
    } else if (0.01..=100.0).contains(&celsius) {
        candidates.push(candidate(write("dew"), means(over_water(celsius))));
    } else {
        candidates.push(candidate(write("frost"), "over ice"));
        candidates.push(candidate(write("dew"), "over liquid water"));
    }
    candidates
}

/// Saturation pressure over water, Pa, at degC; two digits, for messages only. Alduchov and
/// Eskridge (1996), J. Appl. Meteorol. 35, 601, eq. 21 (from memory).
fn over_water(celsius: f64) -> f64 {
    610.94 * (17.625 * celsius / (243.04 + celsius)).exp()
}

/// Saturation pressure over ice, Pa, at degC; two digits, for messages only. Alduchov and
/// Eskridge (1996), J. Appl. Meteorol. 35, 601, eq. 23 (from memory).
fn over_ice(celsius: f64) -> f64 {
    611.21 * (22.587 * celsius / (273.86 + celsius)).exp()
}

impl Humidity {
    /// The refusal of this form where a bare dew or frost point is wanted.
    pub(crate) fn is_not(self, wanted: Meaning) -> Misread {
        let is = match self {
            Self::Dew(_, None) => "a dew point, over liquid water",
            Self::Frost(_, None) => "a frost point, over ice",
            Self::Dew(..) => "a dew point at a stated pressure",
            Self::Frost(..) => "a frost point at a stated pressure",
            Self::Ratio(_) => units::HUMIDITY_RATIO.name,
            Self::Relative(..) => units::RELATIVE_HUMIDITY.name,
            Self::Share(_) => units::VAPOUR_SHARE.name,
            Self::Density(_) => units::VAPOUR_DENSITY.name,
            Self::Pressure(_) => "a vapour pressure",
        };
        Misread::WrongDimension { is, wanted }
    }
}

/// The text before and after its "at".
pub(super) fn at_clause(text: &str) -> (&str, Option<&str>) {
    let lower = text.to_ascii_lowercase();
    let found = lower
        .find(" at ")
        .map(|i| (i, 4))
        .or_else(|| lower.find('@').map(|i| (i, 1)));
    match found {
        Some((at, length)) => (text[..at].trim(), Some(text[at + length..].trim())),
        None => (text, None),
    }
}

/// The pressure a dew or frost point is stated at.
pub(super) fn stated_pressure(
    head: &str,
    state: Option<&str>,
) -> Result<Option<StatedPressure>, Misread> {
    let read = state.map(str::parse).transpose();
    read.map_err(|misread| before(&format!("{head} at"), misread))
}

/// The same refusal with every candidate written out whole.
pub(super) fn before(head: &str, misread: Misread) -> Misread {
    let whole = |candidates: Vec<Candidate>| {
        let write = |c: Candidate| candidate(format!("{head} {}", c.write), c.means);
        candidates.into_iter().map(write).collect()
    };
    match misread {
        Misread::MissingBasis {
            question,
            candidates,
        } => Misread::MissingBasis {
            question,
            candidates: whole(candidates),
        },
        Misread::MissingUnit { wanted, candidates } => Misread::MissingUnit {
            wanted,
            candidates: whole(candidates),
        },
        other => other,
    }
}
