//! From a curve file to a question, or to every mistake in it at once.

use super::{CURVE, CurveQuestion};
use air::saturation;
use files::{Bag, Entry, Library, Text, read_whole};
use material::Behaviour;
use pellet::contact::Exchange;
use pellet::history::{AirState, Segment, Surround};
use quantity::constants::STANDARD_ATMOSPHERE;
use quantity::{
    AbsolutePressure, Area, Faults, Humidity, Mass, MoistureDryBasis, Quantity, StatedPressure,
    Temperature,
};
use std::path::Path;

/// Vapour pressure over which the transmission of a film is stated: 90 % of saturation at 38 degC
/// (the usual tropical condition of film data sheets; from memory).
const FILM_TEMPERATURE: f64 = 311.15;
const FILM_HUMIDITY: f64 = 0.9;
/// Heat from a bag to still air, W/(m2 K) (common practice, no source).
const BAG_HEAT: f64 = 8.0;
/// Seconds in a day.
const DAY: f64 = 86_400.0;

/// Reads the question of a curve: `text` is what the file says, `file` its name.
///
/// # Errors
/// Every mistake in it.
pub fn read_curve(text: &str, file: &str, library: &Library) -> Result<CurveQuestion, Faults> {
    let text = Text::new(file, text);
    let (bag, mut faults) = read_whole(&text, &CURVE);
    let resin = match bag.get("resin", Entry::table) {
        None => None,
        Some(given) => match library.resolve(&given) {
            Ok(resin) => Some(resin),
            Err(mistakes) => {
                for mistake in mistakes {
                    if !faults.0.contains(&mistake) {
                        faults.push(mistake);
                    }
                }
                None
            }
        },
    };
    let Some(resin) = resin else {
        return match faults.or(()) {
            Err(faults) => Err(faults),
            Ok(()) => Err(bag.lacks("resin").into()),
        };
    };
    faults.or(())?;
    let start = bag.need("start", Entry::table)?;
    let title = bag.get("title", Entry::text).unwrap_or_else(|| {
        let stem = Path::new(file).file_stem();
        stem.map_or_else(String::new, |s| s.to_string_lossy().into_owned())
    });
    let pressure = pressure(&bag);
    let mut segments = Vec::new();
    for (index, stretch) in bag.need("air", Entry::tables)?.iter().enumerate() {
        segments.push(segment(stretch, index, pressure)?);
    }
    let opened = resin.received.opened.value;
    let surface: MoistureDryBasis = start.need("surface_water", Entry::quantity)?;
    // Where no moisture is stated, it is that of an opened package; a resin that takes up no water
    // carries it on its surface.
    let (moisture, surface_water) = match start.get("moisture", Entry::moisture) {
        Some(stated) => (stated.dry_basis(), surface),
        None if resin.behaviour == Behaviour::Hygroscopic => (opened, surface),
        None => (
            MoistureDryBasis::from_si(0.0),
            MoistureDryBasis::from_si(surface.si() + opened.si()),
        ),
    };
    let limit = bag.get("limit", Entry::moisture);
    Ok(CurveQuestion {
        title,
        moisture,
        surface_water,
        temperature: start.need("temperature", Entry::quantity)?,
        limit: Some(limit.map_or(resin.limit.moulding.value, quantity::Moisture::dry_basis)),
        pressure,
        segments,
        resin,
    })
}

/// Reads the question of a curve from a file.
///
/// # Errors
/// As [`read_curve`], and a file that cannot be read.
pub fn read_curve_file(path: &Path, library: &Library) -> Result<CurveQuestion, Faults> {
    let text = Text::open(path)?;
    read_curve(&text.content, &text.name, library)
}

fn pressure(bag: &Bag) -> AbsolutePressure {
    let altitude = bag.get("altitude", Entry::quantity);
    bag.get("pressure", Entry::quantity)
        .or_else(|| altitude.and_then(|height| air::standard_pressure(height).ok()))
        .unwrap_or(AbsolutePressure::from_si(STANDARD_ATMOSPHERE))
}

fn segment(bag: &Bag, index: usize, pressure: AbsolutePressure) -> Result<Segment, Faults> {
    let temperature: Temperature = bag.need("temperature", Entry::quantity)?;
    let humidity = bag.need("humidity", Entry::humidity)?;
    let from = state(bag, temperature, humidity, "humidity", pressure)?;
    let end: Option<Temperature> = bag.get("to_temperature", Entry::quantity);
    let damp = bag.get("to_humidity", Entry::humidity);
    let to = if end.is_some() || damp.is_some() {
        let name = if damp.is_some() {
            "to_humidity"
        } else {
            "humidity"
        };
        state(
            bag,
            end.unwrap_or(temperature),
            damp.unwrap_or(humidity),
            name,
            pressure,
        )?
    } else {
        from
    };
    let name = bag.get("name", Entry::text);
    let cover = match bag.get("bag", Entry::table) {
        Some(around) => Some(cover(&around)?),
        None => None,
    };
    Ok(Segment {
        name: name.unwrap_or_else(|| format!("stretch {}", index + 1)),
        duration: bag.need("duration", Entry::quantity)?,
        from,
        to,
        surround: Surround::Stream(bag.need("velocity", Entry::quantity)?),
        cover,
    })
}

/// Conductances of a bag per kilogram of resin.
fn cover(bag: &Bag) -> Result<Exchange, Faults> {
    let holds: Mass = bag.need("holds", Entry::quantity)?;
    let area: Area = bag.need("area", Entry::quantity)?;
    let daily: Mass = bag.need("transmission", Entry::quantity)?;
    let across = FILM_HUMIDITY * saturation::over_liquid(FILM_TEMPERATURE);
    let per_kg = area.si() / holds.si();
    Ok(Exchange {
        heat: BAG_HEAT * per_kg,
        vapour: daily.si() / (DAY * across) * per_kg,
    })
}

/// The air as stated, at its own pressure.
fn state(
    bag: &Bag,
    temperature: Temperature,
    humidity: Humidity,
    name: &str,
    pressure: AbsolutePressure,
) -> Result<AirState, Faults> {
    let question = crate::AirQuestion {
        temperature,
        humidity,
        pressure: StatedPressure::Absolute(pressure),
        altitude: quantity::Altitude::from_metres(0.0),
        expand_to: None,
    };
    // Whether such air can be, told at the field that states it.
    crate::air(&question).map_err(|mut faults| {
        for fault in &mut faults.0 {
            let field = if fault.place.path == "humidity" {
                name
            } else {
                "temperature"
            };
            fault.place = bag.place_of(field);
            if let Some(entry) = bag.entry(field) {
                fault.value = format!("{:?}", entry.written);
            }
        }
        faults
    })?;
    let said = match humidity {
        Humidity::Dew(dew, None) => dew.into(),
        Humidity::Frost(frost, None) => frost.into(),
        Humidity::Relative(relative, None) => relative.into(),
        Humidity::Ratio(ratio) => ratio.into(),
        _ => {
            let answer = crate::air(&question)?;
            quantity::HumidityRatio::from_g_per_kg(answer.state.humidity_ratio_g_kg).into()
        }
    };
    Ok(AirState {
        temperature,
        humidity: said,
    })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    #[test]
    fn holds_the_description_is_sound() {
        assert_eq!(files::flaws(&CURVE), Faults::none());
    }

    #[test]
    fn holds_every_mistake_is_told_at_once() {
        let text = "format = 1\n[resin]\nname = \"PX\"\n[start]\nmoisture = \"0.2 %\"\n\
                    [[air]]\nduration = \"4 h\"\ntemperature = \"120\"\nhumidity = \"-40 degC\"\n";
        let library = Library::shipped().unwrap();
        let faults = read_curve(text, "oven.toml", &library).unwrap_err();
        let paths: Vec<&str> = faults.iter().map(|f| f.place.path.as_str()).collect();
        assert_eq!(
            paths,
            [
                "resin.name",
                "start.moisture",
                "air[1].temperature",
                "air[1].humidity"
            ],
            "{faults}"
        );
    }

    #[test]
    fn holds_air_that_cannot_be_is_told_where_it_is_stated() {
        let text = "format = 1\n[resin]\nname = \"PC\"\n[[air]]\nduration = \"4 h\"\n\
                    temperature = \"20 degC\"\nhumidity = \"30 degC dew\"\n";
        let library = Library::shipped().unwrap();
        let faults = read_curve(text, "oven.toml", &library).unwrap_err();
        assert_eq!(faults.0[0].place.line, 7, "{faults}");
    }
}
