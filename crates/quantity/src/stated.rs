//! Quantities whose basis the user chooses: they keep what was said until someone can resolve it.
//!
//! A dew point needs a pressure to become a humidity ratio, a gauge pressure the atmosphere of the
//! site, a volume flow the state it was counted at. Whoever knows those resolves the value; until
//! then the basis stays with it.

use crate::Quantity;
use crate::constants::{DRY_AIR_MOLAR_MASS, MOLAR_GAS, STANDARD_ATMOSPHERE, WATER_MOLAR_MASS};
use crate::kinds::*;
use crate::meaning::Meaning;
use crate::misread::{Candidate, Misread};
use crate::parse::{
    Basis, Lexed, candidate, finite, lex, lookup, possible, pressure_unit, squash, stranger,
    without,
};
use crate::print::{Show, digits, show_si};
use crate::units::{self, Unit, Units};
use serde::{Deserialize, Serialize};
use std::str::FromStr;

/// A pressure and what it is counted from.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StatedPressure {
    /// Above vacuum.
    Absolute(AbsolutePressure),
    /// Above the atmosphere of the site.
    Gauge(GaugePressure),
    /// The atmosphere of the site itself.
    Site,
}

/// A moisture and its basis.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Moisture {
    /// Water over wet resin.
    Wet(MoistureWetBasis),
    /// Water over dry resin.
    Dry(MoistureDryBasis),
}

/// The humidity of air in one of the forms people use.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Humidity {
    /// Dew point over (supercooled) water, and the pressure it is stated at; where none is said,
    /// that of the air where it is used.
    Dew(DewPoint, Option<StatedPressure>),
    /// Frost point over ice, and the pressure it is stated at; where none is said, that of the air
    /// where it is used.
    Frost(FrostPoint, Option<StatedPressure>),
    /// Vapour per dry air.
    Ratio(HumidityRatio),
    /// Relative humidity over liquid water, and the temperature it is stated at; where none is
    /// said, that of the air.
    Relative(RelativeHumidity, Option<Temperature>),
    /// Share of the molecules.
    Share(VapourMoleFraction),
    /// Mass of vapour in a volume of the air as it is.
    Density(AbsoluteHumidity),
    /// Partial pressure of the vapour.
    Pressure(VapourPressure),
}

/// A flow of air and how it is counted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum AirFlow {
    /// Mass of the dry part.
    DryAir(MassFlow),
    /// Mass with its vapour.
    MoistAir(MassFlow),
    /// Volume counted at a stated temperature and pressure.
    Volume {
        /// Volume flow at that state.
        flow: ActualVolumeFlow,
        /// Temperature of the state.
        temperature: Temperature,
        /// Pressure of the state.
        pressure: StatedPressure,
    },
}

impl StatedPressure {
    /// Above vacuum, on a site whose atmosphere is `site`.
    pub fn absolute(self, site: AbsolutePressure) -> AbsolutePressure {
        match self {
            Self::Absolute(pressure) => pressure,
            Self::Gauge(pressure) => AbsolutePressure::from_si(pressure.si() + site.si()),
            Self::Site => site,
        }
    }
}

impl Moisture {
    /// Counted per dry resin.
    pub fn dry_basis(self) -> MoistureDryBasis {
        match self {
            Self::Wet(wet) => wet.dry_basis(),
            Self::Dry(dry) => dry,
        }
    }

    /// Counted per wet resin.
    pub fn wet_basis(self) -> MoistureWetBasis {
        match self {
            Self::Wet(wet) => wet,
            Self::Dry(dry) => dry.wet_basis(),
        }
    }
}

impl AirFlow {
    /// Mass flow of the dry part, taking air as an ideal gas mixture.
    ///
    /// `V p / (R T) * M_air / (1 + w M_air / M_water)` for a volume, `m / (1 + w)` for moist mass;
    /// `w` is the humidity ratio of the air that flows, `site` the atmosphere that gauge pressures
    /// are counted from. Real air departs from it by less than 0.1 % at 1 atm above 0 degC and by
    /// less than 0.5 % up to 1.2 MPa.
    pub fn dry_air(self, site: AbsolutePressure, humidity: HumidityRatio) -> MassFlow {
        let ratio = humidity.si();
        match self {
            Self::DryAir(flow) => flow,
            Self::MoistAir(flow) => MassFlow::from_si(flow.si() / (1.0 + ratio)),
            Self::Volume {
                flow,
                temperature,
                pressure,
            } => {
                let moles =
                    pressure.absolute(site).si() * flow.si() / (MOLAR_GAS * temperature.si());
                let vapour = ratio * DRY_AIR_MOLAR_MASS / WATER_MOLAR_MASS;
                MassFlow::from_si(moles * DRY_AIR_MOLAR_MASS / (1.0 + vapour))
            }
        }
    }
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
        .map_or(lexed.number, |unit| unit.to_si(lexed.number) - 273.15);
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

/// The text before and after its "at".
fn at_clause(text: &str) -> (&str, Option<&str>) {
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
fn stated_pressure(head: &str, state: Option<&str>) -> Result<Option<StatedPressure>, Misread> {
    let read = state.map(str::parse).transpose();
    read.map_err(|misread| before(&format!("{head} at"), misread))
}

/// The same refusal with every candidate written out whole.
fn before(head: &str, misread: Misread) -> Misread {
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
        ", as it is where the air is, say, so hot"
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

impl Show for StatedPressure {
    fn show(&self, system: Units, digits: usize) -> String {
        match self {
            Self::Absolute(pressure) => pressure.show(system, digits),
            Self::Gauge(pressure) => pressure.show(system, digits),
            Self::Site => "site pressure".to_owned(),
        }
    }
}

impl Show for Moisture {
    fn show(&self, system: Units, digits: usize) -> String {
        match self {
            Self::Wet(wet) => wet.show(system, digits),
            Self::Dry(dry) => dry.show(system, digits),
        }
    }
}

impl Show for Humidity {
    fn show(&self, system: Units, digits: usize) -> String {
        let at = |what: String, pressure: &Option<StatedPressure>| match pressure {
            Some(pressure) => format!("{what} at {}", pressure.show(system, digits)),
            None => what,
        };
        match self {
            Self::Dew(point, pressure) => at(point.show(system, digits), pressure),
            Self::Frost(point, pressure) => at(point.show(system, digits), pressure),
            Self::Ratio(ratio) => ratio.show(system, digits),
            Self::Relative(relative, Some(temperature)) => {
                let relative = relative.show(system, digits);
                format!("{relative} at {}", temperature.show(system, digits))
            }
            Self::Relative(relative, None) => relative.show(system, digits),
            Self::Share(share) => share.show(system, digits),
            Self::Density(density) => density.show(system, digits),
            Self::Pressure(pressure) => pressure.show(system, digits) + " vapour",
        }
    }
}

impl Show for AirFlow {
    fn show(&self, system: Units, digits: usize) -> String {
        match self {
            Self::DryAir(flow) => flow.show(system, digits) + " dry air",
            Self::MoistAir(flow) => flow.show(system, digits) + " moist air",
            Self::Volume {
                flow,
                temperature,
                pressure,
            } => format!(
                "{} at {} and {}",
                flow.show(system, digits),
                temperature.show(system, digits),
                pressure.show(system, digits)
            ),
        }
    }
}
