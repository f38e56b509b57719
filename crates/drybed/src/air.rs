//! Humid air: any measure of it from any other, and what it becomes at another pressure.

mod answer;
mod page;

pub use answer::{AirAnswer, AirState};

pub(crate) use answer::celsius;

use air::{AirError, HumidAir, at_dew_point, at_frost_point, standard_pressure};
use quantity::{
    AbsolutePressure, Altitude, Fault, FaultKind, Faults, Humidity, Meaning, Misread, Place,
    Quantity, StatedPressure, Temperature, Units, show, show_si,
};
use serde::{Deserialize, Serialize};

/// What is known of some air.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct AirQuestion {
    /// Its temperature.
    pub temperature: Temperature,
    /// Its humidity, in any of the forms people use.
    pub humidity: Humidity,
    /// Its pressure.
    pub pressure: StatedPressure,
    /// Height of the place above the sea: the standard atmosphere there is what gauge pressures
    /// count from.
    pub altitude: Altitude,
    /// Pressure to which it is let down, or compressed, at the same temperature.
    pub expand_to: Option<StatedPressure>,
}

/// The same as people write it, each with its unit and basis.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct AirWords {
    /// Temperature: `80 degC`.
    pub temperature: String,
    /// Humidity: `-40 degC frost`, `8 g/kg`, `50 %RH`.
    pub humidity: String,
    /// Pressure: `8 bar(a)`, `7 bar(g)`; the atmosphere of the place when absent.
    pub pressure: Option<String>,
    /// Height above the sea: `1500 m`; none when absent.
    pub altitude: Option<String>,
    /// Pressure after expansion: `1 atm(a)`, `site`.
    pub expand_to: Option<String>,
}

impl AirQuestion {
    /// What was written, read.
    ///
    /// # Errors
    /// Every mistake in it, each at the name of its field.
    pub fn read(words: &AirWords) -> Result<Self, Faults> {
        let mut faults = Faults::none();
        let temperature = field("temperature", &words.temperature, &mut faults);
        let humidity = field("humidity", &words.humidity, &mut faults);
        let pressure = match &words.pressure {
            Some(written) => field("pressure", written, &mut faults),
            None => Some(StatedPressure::Site),
        };
        let altitude = match &words.altitude {
            Some(written) => field("altitude", written, &mut faults),
            None => Some(Altitude::from_metres(0.0)),
        };
        let expand_to: Option<StatedPressure> = words
            .expand_to
            .as_ref()
            .and_then(|written| field("expand_to", written, &mut faults));
        match (temperature, humidity, pressure, altitude) {
            (Some(temperature), Some(humidity), Some(pressure), Some(altitude)) => {
                faults.or(Self {
                    temperature,
                    humidity,
                    pressure,
                    altitude,
                    expand_to,
                })
            }
            _ => Err(faults),
        }
    }
}

/// Any measure of the air.
///
/// # Errors
/// Every value that lies outside the range in which air is known, and a humidity that air of this
/// temperature and pressure cannot hold.
pub fn air(question: &AirQuestion) -> Result<AirAnswer, Faults> {
    let site = standard_pressure(question.altitude)
        .map_err(|error| fault(&error, question, "altitude"))?;
    let pressure = question.pressure.absolute(site);
    let humid = resolved(question, pressure, site)?;
    let expanded = match question.expand_to {
        None => None,
        Some(stated) => {
            let after = humid.at_pressure(stated.absolute(site));
            Some(AirState::of(
                &after.map_err(|e| fault(&e, question, "expand_to"))?,
            ))
        }
    };
    Ok(AirAnswer {
        question: *question,
        site_pressure_pa: site.pascal(),
        state: AirState::of(&humid),
        expanded,
    })
}

/// The air, its humidity stated in whatever way.
fn resolved(
    question: &AirQuestion,
    pressure: AbsolutePressure,
    site: AbsolutePressure,
) -> Result<HumidAir, Faults> {
    let at = |stated: Option<StatedPressure>| stated.map_or(pressure, |p| p.absolute(site));
    let temperature = question.temperature;
    let new = |said: air::Humidity| HumidAir::new(temperature, pressure, said);
    // Pressure and temperature are judged first, so that a fault stands where it belongs.
    HumidAir::new(
        temperature,
        pressure,
        air::Humidity::VapourPressure(quantity::VapourPressure::from_pascal(0.0)),
    )
    .map_err(|error| match error {
        AirError::OutOfRange(out) if out.range == air::PRESSURE_HOLDS => {
            fault(&error, question, "pressure")
        }
        _ => fault(&error, question, "temperature"),
    })?;
    let found = match question.humidity {
        Humidity::Dew(dew, None) => new(dew.into()),
        Humidity::Frost(frost, None) => new(frost.into()),
        Humidity::Dew(dew, there) => at_dew_point(dew, at(there)).and_then(|y| new(y.into())),
        Humidity::Frost(frost, there) => {
            at_frost_point(frost, at(there)).and_then(|y| new(y.into()))
        }
        Humidity::Relative(relative, there) => {
            HumidAir::new(there.unwrap_or(temperature), pressure, relative)
                .and_then(|air| air.at_temperature(temperature))
        }
        Humidity::Ratio(ratio) => new(ratio.into()),
        Humidity::Share(share) => new(share.into()),
        Humidity::Density(density) => new(density.into()),
        Humidity::Pressure(vapour) => new(vapour.into()),
    };
    found.map_err(|error| fault(&error, question, "humidity"))
}

/// What a cold mirror shows in air of a temperature (K), pressure (Pa) and humidity ratio: frost
/// point up to 0.01 degC, dew point above, in degC; none in air drier or more humid than is known.
pub(crate) fn mirror_c(temperature: f64, pressure: f64, humidity: f64) -> Option<f64> {
    let humid = HumidAir::new(
        Temperature::from_si(temperature),
        AbsolutePressure::from_si(pressure),
        quantity::HumidityRatio::from_si(humidity),
    );
    humid
        .and_then(|air| air.condensation_point())
        .ok()
        .map(celsius)
}

/// A field read, or the mistake in it.
pub(crate) fn field<T>(path: &str, written: &str, faults: &mut Faults) -> Option<T>
where
    T: std::str::FromStr<Err = Misread>,
{
    match written.parse() {
        Ok(value) => Some(value),
        Err(misread) => {
            let misread: Misread = misread;
            faults.push(misread.at(Place::of("", path), written));
            None
        }
    }
}

/// What is wrong with the air, at the field that says so.
fn fault(error: &AirError, question: &AirQuestion, path: &str) -> Faults {
    let warm = show(question.temperature, Units::Metric);
    let (cause, mend) = match error {
        AirError::OutOfRange(out) => {
            let end = |value| quantity::digits(value, 6);
            let range = out.range;
            let mend = format!(
                "write a {} from {} to {} {}",
                range.name,
                end(range.low),
                end(range.high),
                range.unit
            );
            (error.to_string(), mend.trim_end().to_owned())
        }
        AirError::DewPointAboveTemperature { .. } => (
            error.to_string(),
            format!("write a dew point below {warm}, or warmer air"),
        ),
        AirError::Supersaturated {
            saturated_pa,
            pressure_pa,
            ..
        } => {
            let share = saturated_pa / pressure_pa;
            let most = show_si(share, Meaning::VapourMoleFraction, Units::Metric, 4);
            (
                error.to_string(),
                format!("write at most {most}, or warmer air"),
            )
        }
        AirError::NoAirLeft { .. } | AirError::DewPointTooHigh { .. } => (
            error.to_string(),
            "write less vapour: this is steam rather than air".to_owned(),
        ),
        AirError::NoVapour | AirError::NoFrostPoint { .. } => (
            error.to_string(),
            "write another measure of humidity".to_owned(),
        ),
    };
    let value = match path {
        "temperature" => warm,
        "pressure" => quantity::Show::show(&question.pressure, Units::Metric, 6),
        "altitude" => show(question.altitude, Units::Metric),
        "expand_to" => question
            .expand_to
            .map(|p| quantity::Show::show(&p, Units::Metric, 6))
            .unwrap_or_default(),
        _ => quantity::Show::show(&question.humidity, Units::Metric, 6),
    };
    Fault::new(
        FaultKind::OutOfRange,
        Place::of("", path),
        value,
        cause,
        mend,
    )
    .into()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    fn words(temperature: &str, humidity: &str) -> AirWords {
        AirWords {
            temperature: temperature.into(),
            humidity: humidity.into(),
            ..AirWords::default()
        }
    }

    fn asked(words: &AirWords) -> AirAnswer {
        air(&AirQuestion::read(words).unwrap()).unwrap()
    }

    #[test]
    fn holds_every_form_of_humidity_leads_to_the_same_air() {
        let reference = asked(&words("80 degC", "-40 degC frost")).state;
        let dew = reference.dew_point_c.unwrap();
        let forms = [
            format!("{dew} degC dew"),
            format!("{} g/kg", reference.humidity_ratio_g_kg),
            format!("{} %RH", reference.relative_humidity_percent),
            format!("{} ppm by volume", reference.vapour_ppm_volume),
            format!("{} g/m3", reference.absolute_humidity_g_m3),
            format!("{} Pa vapour", reference.vapour_pressure_pa),
        ];
        for form in forms {
            let state = asked(&words("80 degC", &form)).state;
            let off = state.humidity_ratio_g_kg / reference.humidity_ratio_g_kg - 1.0;
            assert!(off.abs() < 1e-6, "{form}: {off}");
        }
    }

    #[test]
    fn holds_a_pressure_dew_point_falls_on_expansion() {
        let mut asked_for = words("20 degC", "3 degC dew");
        asked_for.pressure = Some("7 bar(g)".into());
        asked_for.expand_to = Some("site".into());
        let answer = asked(&asked_for);
        let after = answer.expanded.unwrap();
        assert!((after.frost_point_c.unwrap() + 20.5).abs() < 0.1);
        let stated = asked(&words("20 degC", "3 degC dew at 7 bar(g)")).state;
        assert!((stated.humidity_ratio_g_kg - after.humidity_ratio_g_kg).abs() < 1e-9);
    }

    #[test]
    fn holds_every_mistake_is_told_at_once() {
        let mut wrong = words("80", "-40 degC");
        wrong.altitude = Some("high".into());
        let faults = AirQuestion::read(&wrong).unwrap_err();
        let paths: Vec<&str> = faults.iter().map(|f| f.place.path.as_str()).collect();
        assert_eq!(paths, ["temperature", "humidity", "altitude"]);
    }

    #[test]
    fn holds_a_fault_stands_where_it_belongs() {
        let place = |words: &AirWords| {
            let question = AirQuestion::read(words).unwrap();
            air(&question).unwrap_err().0[0].place.path.clone()
        };
        assert_eq!(place(&words("20 degC", "30 degC dew")), "humidity");
        assert_eq!(place(&words("400 degC", "-40 degC frost")), "temperature");
        let mut high = words("80 degC", "-40 degC frost");
        high.pressure = Some("30 bar(a)".into());
        assert_eq!(place(&high), "pressure");
        high.pressure = None;
        high.expand_to = Some("0.1 bar(a)".into());
        assert_eq!(place(&high), "expand_to");
    }
}
