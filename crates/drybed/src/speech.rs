//! How numbers of an answer are said: in metric or US customary units, with the digits they deserve.

use quantity::{Meaning, Unit, Units, digits};

/// What a number of an answer measures. Answers count in the metric unit of each; a person reads
/// either.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Measure {
    /// degC or degF.
    Temperature,
    /// K or degF difference.
    Step,
    /// kg/h or lb/h.
    Rate,
    /// kg or lb.
    Mass,
    /// m3/h or cfm.
    Stream,
    /// l or ft3.
    Volume,
    /// mm or in.
    Width,
    /// m or ft.
    Height,
    /// kWh/kg or kWh/lb.
    Energy,
    /// g/kg or gr/lb.
    Humidity,
    /// Pa or inH2O.
    Drop,
    /// kPa or psi.
    Pressure,
    /// m/s or ft/min.
    Velocity,
    /// W/(m2 K) or Btu/(h ft2 degF).
    HeatTransfer,
    /// m/s or ft/h.
    MassTransfer,
    /// m2/s or ft2/h.
    Diffusivity,
    /// m2 or ft2.
    Area,
    /// J/(kg K) or Btu/(lb degF).
    HeatCapacity,
    /// J/(kg K2) or Btu/(lb degF2).
    HeatCapacitySlope,
    /// kJ/kg or Btu/lb.
    Heat,
    /// kg/m3 or lb/ft3.
    Density,
    /// g/m3 or gr/ft3.
    VapourDensity,
    /// Pa or inHg.
    VapourPressure,
    /// uPa s or lb/(ft h).
    Viscosity,
    /// W/(m K) or Btu/(h ft degF).
    Conductivity,
    /// W/K or Btu/(h degF).
    Conductance,
    /// mbar or inHg, absolute.
    Vacuum,
}

impl Measure {
    const fn units(self) -> (Meaning, &'static str, &'static str) {
        use Meaning as M;
        match self {
            Self::Temperature => (M::Temperature, "degC", "degF"),
            Self::Step => (M::TemperatureDifference, "K", "degF difference"),
            Self::Rate => (M::MassFlow, "kg/h", "lb/h"),
            Self::Mass => (M::Mass, "kg", "lb"),
            Self::Stream => (M::ActualVolumeFlow, "m3/h", "cfm"),
            Self::Volume => (M::Volume, "l", "ft3"),
            Self::Width => (M::Length, "mm", "in"),
            Self::Height => (M::Length, "m", "ft"),
            Self::Energy => (M::SpecificEnergy, "kWh/kg", "kWh/lb"),
            Self::Humidity => (M::HumidityRatio, "g/kg", "gr/lb"),
            Self::Drop => (M::PressureDifference, "Pa", "inH2O"),
            Self::Pressure => (M::AbsolutePressure, "kPa", "psi"),
            Self::Velocity => (M::Velocity, "m/s", "ft/min"),
            Self::HeatTransfer => (M::HeatTransferCoefficient, "W/(m2 K)", "Btu/(h ft2 degF)"),
            Self::MassTransfer => (M::MassTransferCoefficient, "m/s", "ft/h"),
            Self::Diffusivity => (M::Diffusivity, "m2/s", "ft2/h"),
            Self::Area => (M::Area, "m2", "ft2"),
            Self::HeatCapacity => (M::SpecificHeatCapacity, "J/(kg K)", "Btu/(lb degF)"),
            Self::HeatCapacitySlope => (M::HeatCapacitySlope, "J/(kg K2)", "Btu/(lb degF2)"),
            Self::Heat => (M::SpecificEnergy, "kJ/kg", "Btu/lb"),
            Self::Density => (M::Density, "kg/m3", "lb/ft3"),
            Self::VapourDensity => (M::AbsoluteHumidity, "g/m3", "gr/ft3"),
            Self::VapourPressure => (M::VapourPressure, "Pa", "inHg"),
            Self::Viscosity => (M::DynamicViscosity, "uPa s", "lb/(ft h)"),
            Self::Conductivity => (M::ThermalConductivity, "W/(m K)", "Btu/(h ft degF)"),
            Self::Conductance => (M::ThermalConductance, "W/K", "Btu/(h degF)"),
            Self::Vacuum => (M::AbsolutePressure, "mbar", "inHg"),
        }
    }

    fn unit(self, system: Units) -> &'static Unit {
        let (meaning, metric, us) = self.units();
        let symbol = match system {
            Units::Metric => metric,
            Units::UsCustomary => us,
        };
        let first = || &meaning.dimension().units[0];
        meaning.unit_named(symbol).unwrap_or_else(first)
    }
}

/// The units a person reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Speech(pub(crate) Units);

impl Speech {
    /// The unit as printed.
    pub(crate) fn unit(self, measure: Measure) -> &'static str {
        let shown = measure.unit(self.0).shown;
        // In a head or beside an axis a difference of temperature is plain from its name.
        shown.strip_suffix(" difference").unwrap_or(shown)
    }

    /// A number counted in the metric unit, in the unit a person reads.
    pub(crate) fn number(self, measure: Measure, metric: f64) -> f64 {
        if self.0 == Units::Metric {
            return metric;
        }
        let si = measure.unit(Units::Metric).to_si(metric);
        measure.unit(self.0).number(si)
    }

    /// A number counted in the metric unit, with at most three digits and its unit.
    pub(crate) fn say(self, measure: Measure, metric: f64) -> String {
        let number = self.number(measure, metric);
        let figures = match measure {
            // Half a degree is the most anybody sets.
            Measure::Temperature if number.abs() >= 1.0 => digits(number.round(), 6),
            Measure::Temperature => digits(number, 1),
            Measure::Step => digits(number, 2),
            _ => digits(number, 3),
        };
        format!("{figures} {}", self.unit(measure))
    }
}

/// A text that begins with a capital letter.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// A text whose temperatures are written in degC (`at 120 degC`, `of 60 to 80 degC`, `within 8 K`),
/// in the units a person reads.
pub(crate) fn localised(text: &str, speech: Speech) -> String {
    let words: Vec<&str> = text.split(' ').collect();
    let mut said: Vec<String> = words.iter().map(|word| (*word).to_owned()).collect();
    for (index, word) in words.iter().enumerate() {
        let (measure, unit) = match word.trim_end_matches(|c: char| !c.is_alphanumeric()) {
            "degC" => (Measure::Temperature, "degC"),
            "K" => (Measure::Step, "K"),
            _ => continue,
        };
        let Some(before) = index.checked_sub(1) else {
            continue;
        };
        let mut numbers = vec![before];
        let range = before >= 2 && words[before - 1] == "to";
        if range {
            numbers.push(before - 2);
        }
        let mut known = false;
        for at in numbers {
            if let Ok(metric) = words[at].parse::<f64>() {
                let number = speech.number(measure, metric);
                said[at] = digits(number.round(), 6);
                known = true;
            }
        }
        if known {
            said[index] = word.replacen(unit, speech.unit(measure), 1);
        }
    }
    said.join(" ")
}

/// Hours in words: seconds below a minute, minutes below one and a half, days above two.
pub(crate) fn hours(value: f64) -> String {
    if value == 0.0 {
        "0 min".to_owned()
    } else if value.abs() < 1.0 / 60.0 {
        format!("{} s", digits(value * 3600.0, 2))
    } else if value < 1.5 {
        format!("{} min", digits((value * 60.0).round(), 3))
    } else if value <= 48.0 {
        format!("{} h", digits(value, 2))
    } else {
        format!("{} days", digits(value / 24.0, 2))
    }
}

/// A count and what is counted, in one or many.
pub(crate) fn counted(count: usize, one: &str, many: &str) -> String {
    match count {
        0 => format!("no {one}"),
        1 => format!("one {one}"),
        _ => format!("{count} {many}"),
    }
}

/// A moisture in ppm with two digits.
pub(crate) fn ppm(value: f64) -> String {
    if value < 0.1 {
        return "0 ppm".to_owned();
    }
    format!("{} ppm", digits(value, 2))
}

/// A share as a percentage.
pub(crate) fn percent(share: f64) -> String {
    let value = 100.0 * share;
    if value > 0.0 && value < 0.1 {
        "below 0.1 %".to_owned()
    } else if value < 100.0 && value > 99.9 {
        "above 99.9 %".to_owned()
    } else {
        format!("{} %", digits(value, 2))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const EVERY: [Measure; 27] = [
        Measure::Temperature,
        Measure::Step,
        Measure::Rate,
        Measure::Mass,
        Measure::Stream,
        Measure::Volume,
        Measure::Width,
        Measure::Height,
        Measure::Energy,
        Measure::Humidity,
        Measure::Drop,
        Measure::Pressure,
        Measure::Velocity,
        Measure::HeatTransfer,
        Measure::MassTransfer,
        Measure::Diffusivity,
        Measure::Area,
        Measure::HeatCapacity,
        Measure::HeatCapacitySlope,
        Measure::Heat,
        Measure::Density,
        Measure::VapourDensity,
        Measure::VapourPressure,
        Measure::Viscosity,
        Measure::Conductivity,
        Measure::Conductance,
        Measure::Vacuum,
    ];

    #[test]
    fn holds_every_measure_has_its_units() {
        for measure in EVERY {
            let (meaning, metric, us) = measure.units();
            assert!(meaning.unit_named(metric).is_some(), "{measure:?} {metric}");
            assert!(meaning.unit_named(us).is_some(), "{measure:?} {us}");
        }
    }

    #[test]
    fn exact_numbers_in_both_systems() {
        let (metric, us) = (Speech(Units::Metric), Speech(Units::UsCustomary));
        assert_eq!(metric.say(Measure::Temperature, 120.0), "120 °C");
        assert_eq!(us.say(Measure::Temperature, 120.0), "248 °F");
        assert_eq!(us.say(Measure::Temperature, -40.0), "-40 °F");
        assert_eq!(us.say(Measure::Step, 10.0), "18 °F");
        assert_eq!(us.say(Measure::Rate, 10.0), "22 lb/h");
        assert_eq!(us.say(Measure::Stream, 22.0), "12.9 cfm");
        assert_eq!(us.say(Measure::Energy, 0.1), "0.0454 kWh/lb");
        assert_eq!(us.say(Measure::Humidity, 8.0), "56 gr/lb");
        assert_eq!(us.say(Measure::Drop, 249.088_91), "1 inH2O");
    }

    #[test]
    fn exact_texts_change_their_temperatures() {
        let text = "air at 130 degC, within 8 K of 60 to 80 degC; 3 K. And K alone";
        assert_eq!(
            localised(text, Speech(Units::UsCustomary)),
            "air at 266 °F, within 14 °F of 140 to 176 °F; 5 °F. And K alone"
        );
        assert_eq!(
            localised("above 55 degC burns", Speech(Units::Metric)),
            "above 55 °C burns"
        );
    }

    #[test]
    fn exact_times_and_shares() {
        assert_eq!(hours(0.25), "15 min");
        assert_eq!(hours(0.001), "3.6 s");
        assert_eq!(hours(3.46), "3.5 h");
        assert_eq!(hours(240.0), "10 days");
        assert_eq!(ppm(93.4), "93 ppm");
        assert_eq!(percent(0.0), "0 %");
        assert_eq!(percent(2e-4), "below 0.1 %");
        assert_eq!(percent(0.9995), "above 99.9 %");
        assert_eq!(percent(0.126), "13 %");
    }
}
